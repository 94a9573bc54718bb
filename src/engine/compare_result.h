/* compare_result.h - before and after: the same plan on one boat and on changed ones, side by side.
 * Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_COMPARE_RESULT_H
#define BD_COMPARE_RESULT_H

#include <stddef.h>

struct balance;
struct circuit;
struct size;
struct week;

/* A figure on one changed side. */
struct compare_value {
    const char *change; /* name of the side */
    double value;
    double delta;    /* less the one before */
    int known;       /* 0: this side has no such figure */
    int delta_known; /* 0: this side or the one before has none */
    int better;      /* 1: better than before, -1: worse, 0: as good, or neither is better */
};

struct compare_figure {
    const char *part;  /* "Energy over the plan" */
    const char *item;  /* a day kind, a load, a cable; NULL: the boat's only one */
    const char *name;  /* for machines; ends in its unit */
    const char *label; /* for people */
    const char *unit;
    int decimals;
    int better; /* 1: more is better, -1: less is, 0: neither */
    double before;
    int before_known;
    const struct compare_value *after; /* one per change */
    size_t after_count;
};

/* Something that a boat must carry, and whether it does. */
struct compare_check {
    const char *name;   /* for machines: "inverter" */
    const char *thing;  /* in a sentence: "the inverter" */
    const char *says;   /* "3030 W at once of 4500 W" */
    double used, limit; /* in unit; limit 0: not one number */
    const char *unit;
    double share; /* [-] used of the limit; over 1 where it fails; 0: not known */
    int holds;
    int detail; /* 1: of another check; the sentence does not praise it */
};

/* A cable, or its fuse, that does not pass on that side. */
struct compare_cable {
    const char *name, *from, *to;
    const char *installed; /* as printed on it */
    const char *needed;    /* "95 mm2"; "": the conductor will do */
    double fuse_a;         /* [A] as installed; 0: none */
    const char *fuse;      /* what would do on that conductor: "200 to 300 A"; "": the one it has */
    const char *why;
    const char *passed_before; /* yes, no; "" where it was not there */
};

/* One boat of the comparison with all that was run on it. */
struct compare_side {
    const char *name;       /* "before", then the names of the changes */
    const char *verdict;    /* one sentence, naming what limits */
    const char *limited_by; /* name of the check that fails, or comes nearest to its limit; NULL: none */
    int passes;             /* 1: every check holds */
    const struct compare_check *checks;
    size_t check_count;
    const struct compare_cable *cables; /* only those that do not pass */
    size_t cable_count;
    const struct circuit *circuit; /* NULL: the profile has no cables */
    const struct week *week;
    const struct balance *balance;
    const struct size *size;
};

/* The comparison: engine.h, compare_run. */
struct compare {
    const char *boat, *place;
    const struct compare_side *sides; /* the first is the one before */
    size_t side_count;
    const struct compare_figure *figures; /* those of a part stand together */
    size_t figure_count;
};

#endif

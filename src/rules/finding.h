/* finding.h - what a survey finds: plain structs, owned by the arena of the run.  Layer: rules.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_FINDING_H
#define BD_FINDING_H

#include <stddef.h>

/* How one rule came out at one thing. A case starts as not applicable. */
enum survey_status { SURVEY_FAILS, SURVEY_NOT_VERIFIED, SURVEY_COMPLIES, SURVEY_NOT_APPLICABLE };

/* One rule held against one thing of the boat. Texts never NULL; they live in the
 * arena of the run or are static. */
struct finding {
    const char *id;        /* of our own numbering: "FUS-03" */
    const char *priority;  /* A before use, B soon, C advice */
    const char *area;      /* "DC protection" */
    const char *place;     /* "cable inverter-feed" */
    const char *fact;      /* what was seen, measured or computed, with the limit */
    const char *risk;      /* why it matters */
    const char *action;    /* what to achieve, not how */
    const char *reference; /* publication, clause and edition, and how it is known */
    const char *status;    /* complies, does not comply, not verified */
    const char *need;      /* the one fact that would settle it; "" where it is settled */
    const char *ask;      /* need without the place: what to look at everywhere */
    const char *title;    /* of the rule */
    enum survey_status verdict;
    size_t rule; /* number of the rule in the table */
};

/* How many rules times things came out how, by priority. All of them, also those that an
 * underwriter's view leaves out. */
struct survey_count {
    const char *priority, *meaning;
    size_t fails, not_verified, complies;
};

/* Findings that say the same of several places: a fact that nobody gave, or a rule that is met. */
struct survey_group {
    const char *priority; /* the highest of them */
    const char *ids;      /* "BAT-01, BAT-04" */
    const char *text;     /* what would settle it; or what the rule is about */
    const char *places;   /* "bank house, bank start" */
};

/* A rule that found nothing on this boat that it could be about. */
struct survey_absent {
    const char *id, *title, *why;
};

enum { SURVEY_PRIORITIES = 3 };

/* A whole survey by one set. Arrays are sorted: what does not comply first, then what is not verified, each
 * from A to C, within a priority in the order of the rules and then of the profile. */
struct survey {
    const char *boat;
    const char *rules, *title, *edition, *scope; /* of the rule set that judged */
    const struct survey_count *counts;           /* A, B, C */
    size_t count_count;
    const struct finding *findings; /* those that do not comply, A first, then those not verified, A first */
    size_t finding_count;
    size_t standing; /* how many of them do not comply */
    const struct finding *complied;
    size_t complied_count;
    const struct survey_group *gaps; /* what was not inspected or is not known */
    size_t gap_count;
    const struct survey_group *met; /* the complied ones by rule */
    size_t met_count;
    const struct survey_absent *absents;
    size_t absent_count;
    int underwriter;          /* 1: A and B only */
    int passes;               /* 1: no A stands */
    const char *verdict;      /* one line */
    int lead, lithium, mains; /* which cautions apply */
};

enum { SURVEY_SETS = 4 };

/* What each rule set says of the same thing, where they differ. */
struct survey_contrast_row {
    const char *id, *place, *title;
    const char *priority;
    const char *verdicts[SURVEY_SETS]; /* "does not comply: 0.25 m, at most 0.2 m" */
};

/* The same boat by several sets: rows only where their verdicts differ. */
struct survey_contrast {
    const char *boat;
    const char *sets[SURVEY_SETS], *editions[SURVEY_SETS];
    size_t set_count;
    const struct survey_contrast_row *rows;
    size_t row_count;
    size_t alike;                   /* how many verdicts all sets share */
    size_t standing_a[SURVEY_SETS]; /* findings of priority A that stand */
    int passes;                     /* 1: no A stands in any set */
};

/* A rule as the reference lists it. */
struct survey_rule_row {
    const char *id, *priority, *area, *title;
    const char *of;    /* what it is applied to: "each bank" */
    const char *needs; /* the facts it waits for */
    const char *risk, *action;
    const char *reference;
};

#endif

/* wiring.h - what a rule set says of cables and fuses, and how to read it.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rows stand in rules/, one file per rule set; nothing here holds a number of any rule set. Sets are
 * never blended: every function takes one set and answers from that set alone.
 */
#ifndef BD_WIRING_H
#define BD_WIRING_H

#include <stddef.h>

#include "parts/cite.h"
#include "parts/conductor.h"

enum { WIRING_RATINGS = 8, WIRING_DISTANCES = 4 };

/* Currents of one size under the set's insulation ratings; 0: the table has none there. */
struct ampacity_row {
    const char *label;
    double area_m2;
    double amps[WIRING_RATINGS];
};

struct bundle_row {
    double from, to; /* [-] current-carrying conductors together, both included; to 0: and more */
    double factor;
};

/* How far a fuse rating may go above what the conductor carries. */
enum fuse_rule {
    FUSE_NOT_ABOVE,      /* never above */
    FUSE_NEXT_STANDARD,  /* the next standard rating above it, within the multiple */
    FUSE_WITHIN_MULTIPLE /* anything within the multiple */
};

/* One allowed place of a device: so far from the source along the conductor, on what condition. */
struct fuse_distance {
    double limit_m;   /* [m]; 0: row not used */
    int needs_sheath; /* 1: only where the conductor is sheathed or enclosed all the way */
    int at_battery;   /* 1: only where the conductor starts at a battery post */
    const char *condition;
};

/* Interrupt ratings asked for by cranking amps of the bank. */
struct interrupt_row {
    double cranking_to_a;    /* [A] up to and including; 0: and more */
    double main_a, branch_a; /* [A] */
};

struct wiring_rules {
    const char *name;  /* as typed: "cfr183" */
    const char *title; /* of the publication */
    const char *edition;
    const char *scope; /* whom it binds, in one line */

    enum area_series series;          /* the sizes it speaks in; sizing picks from these */
    double ratings_c[WIRING_RATINGS]; /* [C] insulation ratings of the columns, rising */
    size_t rating_count;
    const struct ampacity_row *ampacity; /* rising area */
    size_t ampacity_count;
    struct cite ampacity_cite;
    double ambient_c, engine_ambient_c;   /* [C] */
    double engine_factor[WIRING_RATINGS]; /* [-] per column; 0: not allowed there */
    struct cite engine_cite;
    const struct bundle_row *bundles;
    size_t bundle_count;
    double bundle_from_v; /* [V] the factors are the rule from this voltage up; 0: always */
    struct cite bundle_cite;

    double drop_constant;     /* [ohm mm2/m] of length out and back; 0: the set has no formula */
    const char *drop_formula; /* as the set writes it */
    struct cite drop_cite;
    double drop_normal, drop_critical; /* [-] of nominal voltage; 0: the set has no limit */
    struct cite drop_normal_cite, drop_critical_cite;
    int feeders_critical;       /* 1: panel and switchboard feeders are critical */
    const char *critical_words; /* names of critical circuits, separated by '|' */

    double smallest_single_m2, smallest_sheathed_m2;
    struct cite smallest_cite;

    enum fuse_rule fuse_low, fuse_high; /* below 50 V, from 50 V up */
    double fuse_multiple;               /* [-] 1.5 */
    struct cite fuse_cite;
    struct fuse_distance distances[WIRING_DISTANCES];
    struct cite distance_cite;
    double charge_distance_m; /* [m] from a charging source to its device; 0: the set has none */
    struct cite charge_cite;
    const struct interrupt_row *interrupts; /* NULL: only "not below the fault current" */
    size_t interrupt_count;
    struct cite interrupt_cite;
};

/* Where a conductor lies, for its correction factors. */
struct wiring_place {
    double insulation_c; /* [C] rating of the insulation */
    int engine;          /* 1: in an engine space */
    double bundle;       /* [-] current-carrying conductors run together */
    double volts;        /* [V] nominal, of the circuit */
};

/* What one conductor may carry, with each step of it. */
struct ampacity {
    double column_c;      /* [C] rating of the column used: the highest not above the insulation's */
    double base_a;        /* [A] of the table; between two rows interpolated */
    int interpolated;     /* 1: the table has no such size */
    double engine_factor; /* [-] 1 outside */
    double bundle_factor; /* [-] */
    double amps;          /* [A] the product; 0: the set does not allow such a conductor there */
};

/* The limit that the laws of boats draw between low and other voltages [V]: 33 CFR 183.455(c). */
extern const double wiring_high_from_v;

/*
 * Where the size lies between two rows the current is interpolated on the logarithms of both (our own step;
 * no set prints it). Sizes under the first row or over the last carry nothing: no table has them.
 */
struct ampacity wiring_ampacity(const struct wiring_rules *rules, double area_m2,
                                const struct wiring_place *place);

/* Column for an insulation rating [C]; negative where it is under the first. */
int wiring_column(const struct wiring_rules *rules, double insulation_c);

/* Factor for a bundle, before asking whether the voltage makes it a rule. */
double wiring_bundle_factor(const struct wiring_rules *rules, double conductors);

/* Drop by the set's own formula [V]: constant x I x L / S; length_m is out and back. Negative: it has none.
 */
double wiring_drop(const struct wiring_rules *rules, double current, double length_m, double area_m2);

/* Area [m2] that the formula asks for; negative: it has none. */
double wiring_drop_area(const struct wiring_rules *rules, double current, double length_m, double drop_v);

/* Drop limit [-] of a circuit; 0: the set has none. */
double wiring_drop_limit(const struct wiring_rules *rules, int critical);

/* The word of the set's list of critical circuits that a name holds ("bilge pump"), as length characters from
 * the returned place; NULL: none. Case and punctuation aside. */
const char *wiring_critical_word(const struct wiring_rules *rules, const char *name, size_t *length);

/* Smallest area the set allows [m2]. */
double wiring_smallest(const struct wiring_rules *rules, int sheathed);

/* Largest standard rating [A] allowed on a conductor that carries ampacity_a; 0: none. */
double wiring_fuse_limit(const struct wiring_rules *rules, double ampacity_a, double volts);

/* 1 where a device of that rating [A], standard or not, is allowed on such a conductor. */
int wiring_fuse_allowed(const struct wiring_rules *rules, double rating, double ampacity_a, double volts);

/* Greatest allowed distance [m] from the source to the device; negative: the set says nothing. */
double wiring_fuse_distance(const struct wiring_rules *rules, int sheathed, int at_battery);

/* Interrupt rating [A] asked for by the cranking amps of a bank; 0: the set has no table. */
double wiring_interrupt_a(const struct wiring_rules *rules, double cranking_a, int main_device);

/* The sizes that cables without an area are chosen from: those of the series that the table covers. */
const struct conductor_size *wiring_sizes(const struct wiring_rules *rules, size_t *count);

#endif

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

/* Factor for so many conductors run together. */
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

/* What is asked of a device that cannot break the short circuit at its own place. */
enum breaking_rule {
    BREAKING_BACKED_UP, /* allowed where an installed device before it breaks that; else it fails */
    BREAKING_AT_PLACE,  /* it fails, whatever stands before it */
    BREAKING_NOT_RULED  /* as BREAKING_BACKED_UP, but without one it is a remark: the set asks nothing */
};

/*
 * A rule set, as data: what it says of conductors, drop and protection, each with the clause it
 * stands on. 0 or NULL: the set says nothing of it, which is not the same as allowing anything; the
 * functions below say what then.
 */
struct wiring_rules {
    const char *name;  /* as typed: "cfr183" */
    const char *title; /* of the publication */
    const char *edition;
    const char *scope; /* whom it binds, in one line */
    double below_v;    /* [V] nominal that it goes no further than; 0: it covers AC too */

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
    enum breaking_rule breaking;
    struct cite breaking_cite;
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
 * Current that one conductor may carry, with the factors that led to it: table x engine x bundle.
 *
 *   area_m2  [m2] of one conductor
 *   place    insulation, engine space, bundle and nominal volts
 *
 * Where the size lies between two rows the current is interpolated on the logarithms of both (our own step;
 * no set prints it). Sizes under the first row or over the last, and insulation under the first column,
 * carry nothing: amps 0. Checked: tests/rules/test_ruleset.c.
 */
struct ampacity wiring_ampacity(const struct wiring_rules *rules, double area_m2,
                                const struct wiring_place *place);

/* Index of the column for an insulation rating [C]: the highest not above it;
 * negative where it is under the first. */
int wiring_column(const struct wiring_rules *rules, double insulation_c);

/* Factor [-] for so many conductors together, before asking whether the voltage
 * makes it a rule; 1 where no row fits. */
double wiring_bundle_factor(const struct wiring_rules *rules, double conductors);

/*
 * Drop by the set's own formula [V]: constant x I x L / S.
 *
 *   current   I [A]
 *   length_m  L [m] out and back
 *   area_m2   S [m2] > 0
 *
 * Negative: it has none; the physical drop decides then.
 */
double wiring_drop(const struct wiring_rules *rules, double current, double length_m, double area_m2);

/* Area [m2] that the formula asks for so that no more than drop_v [V] > 0 is lost;
 * negative: the set has no formula. */
double wiring_drop_area(const struct wiring_rules *rules, double current, double length_m, double drop_v);

/* Drop limit [-] of nominal voltage for a circuit, critical or not; 0: the set has
 * none, and common practice stands in. */
double wiring_drop_limit(const struct wiring_rules *rules, int critical);

/* The word of the set's list of critical circuits that a name holds ("bilge pump"), as length characters
 * from the returned place; NULL: none. Whole words, case and punctuation aside, a plural counts. */
const char *wiring_critical_word(const struct wiring_rules *rules, const char *name, size_t *length);

/* Smallest area [m2] the set allows, for a single or a sheathed conductor; 0: it says nothing. */
double wiring_smallest(const struct wiring_rules *rules, int sheathed);

/* Largest standard rating [A] allowed on a conductor that carries ampacity_a [A], at nominal volts [V]:
 * below 50 V and from 50 V up rules may differ. 0: none, also where the conductor itself carries nothing. */
double wiring_fuse_limit(const struct wiring_rules *rules, double ampacity_a, double volts);

/* 1 where a device of that rating [A], standard or not, is allowed on such a conductor. */
int wiring_fuse_allowed(const struct wiring_rules *rules, double rating, double ampacity_a, double volts);

/* Greatest allowed distance [m] from the source to the device along the conductor, by the best of the
 * conditions that hold; negative: the set says nothing. */
double wiring_fuse_distance(const struct wiring_rules *rules, int sheathed, int at_battery);

/* Interrupt rating [A] asked for by the cranking amps [A] of a bank, of its main device or of a
 * branch's; 0: the set has no table. */
double wiring_interrupt_a(const struct wiring_rules *rules, double cranking_a, int main_device);

/* The sizes that cables without an area are chosen from: those of the set's series that its table covers,
 * rising. *count 0 where there are none. */
const struct conductor_size *wiring_sizes(const struct wiring_rules *rules, size_t *count);

#endif

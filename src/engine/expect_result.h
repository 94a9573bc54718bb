/* expect_result.h - what a meter should read, and the sheet that is ticked off.  Layer: engine.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_EXPECT_RESULT_H
#define BD_EXPECT_RESULT_H

#include <stddef.h>

/* What one load draws while it runs. */
struct expected_load {
    const char *name;
    const char *system;             /* dc, converter, ac: what its breaker carries */
    const char *bank;               /* the amps below are drawn from; NULL: shore or generator only */
    double low_a, high_a;           /* [A] at its own breaker */
    double bank_low_a, bank_high_a; /* [A] at the bank's posts; 0: not from a bank */
    double path_mohm;     /* [mohm] of its path out and back; negative: not all of it is in the profile */
    const char *path_gap; /* what is not known of it, of a cable without area too; NULL: nothing */
    double bank_v;        /* [V] open, at the charge the expectation is for */
    double bank_mohm;     /* [mohm] of the bank */
    double volts_v;       /* [V] at the load when it runs alone; 0: path not known, or AC */
};

struct expectation {
    double charge_percent;             /* [%] of the banks, the volts are for */
    double low_v, high_v;              /* [V] of the house bus the bands are for */
    double tolerance_percent;          /* [%] either way, where the profile gives one number */
    const struct expected_load *loads; /* one per load of the boat, in the boat's order */
    size_t load_count;
};

/* One line of the sheet. Amps below zero: not measured in this step. */
struct handover_step {
    double number;
    const char *phase; /* leaving the dock, coming back */
    const char *action;
    const char *expect;                       /* in words; "" where the amps say it */
    const char *where;                        /* where the amps are read: "house", "shore inlet" */
    double low_a, high_a;                     /* [A] of this step alone */
    double total_low_a, total_high_a;         /* [A] of all that is on by then */
    double volts_v;                           /* [V] at the load; 0: not asked */
    const char *wrong;                        /* what a wrong reading means */
    double measured_a;                        /* [A] from the profile; below zero: not measured yet */
    const char *verdict;                      /* of the measured value: "within", "low", "high"; "" */
    const char *blank_value, *blank_initials; /* to write on */
};

/* What may run together on one source. */
struct together {
    const char *source; /* "shore 16 A" */
    double limit_a, limit_va;
    double wanted_va;   /* everything at once */
    int all;            /* 1: everything fits */
    const char *greedy; /* switched on in order of priority, skipping what does not fit */
    double greedy_va;
    const char *best; /* of all sets that fit, the one that serves most, vital loads first */
    double best_va;
    const char *left_out; /* by the best set */
};

struct live_thing {
    const char *name, *why;
    double low_a, high_a; /* [A] at its bank; below zero: nothing flows while it is left alone */
};

struct handover {
    const char *boat, *place, *day;
    const struct expectation *expected;
    const struct handover_step *steps;
    size_t step_count;
    const struct together *together;
    size_t together_count;
    const struct live_thing *live;
    size_t live_count;
    int lithium, lead, mains;
};

#endif

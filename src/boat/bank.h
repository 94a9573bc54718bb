/* bank.h - a bank of batteries as its label and its owner describe it.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_BANK_H
#define BD_BANK_H

#include "base/range.h"

/* What a bank is for. The house bank carries the loads and is the one that week and size
 * look at; there is one at most. */
enum bank_role { BANK_HOUSE, BANK_START, BANK_BOW };

/* The kinds that parts/chemistry.c has facts of. */
enum chemistry { CHEMISTRY_FLOODED, CHEMISTRY_AGM, CHEMISTRY_GEL, CHEMISTRY_LFP };

/* How parallel strings are joined: equal tails to bars, or links from string to string with both leads on
 * the first, or with the leads on opposite ends. */
enum bank_wiring { WIRING_BARS, WIRING_SAME_END, WIRING_DIAGONAL };

/* What the label's number counts: ampere-hours, minutes at 25 A, or cranking amperes. */
enum capacity_rating { RATED_AH, RATED_RESERVE_MINUTES, RATED_CRANKING_AMPS };

/*
 * Blocks in series make a string, equal strings lie in parallel. Fields of a block are for
 * one block, all others for the whole bank. A range that is unknown after reading gets the
 * chemistry's usual value in parts/.
 */
struct bank {
    const char *name;
    int line;
    enum bank_role role;
    enum chemistry chemistry;
    /* [Ah] of one block at rated_hours; converted openly from the two other ratings */
    struct range block_capacity;
    enum capacity_rating rated_as;
    double rated_hours;          /* [h] the block_capacity is for, 20 by default */
    double rated_value;          /* the number on the label: Ah, minutes or amps */
    struct range second_capacity; /* [Ah] of one block at another rate; optional */
    double second_hours;          /* [h] */
    struct range block_voltage; /* [V] nominal: 2, 6, 12, 24, 48 (12.8 and the like count as 12) */
    struct range series, parallel; /* [-] whole blocks */
    struct range health;        /* [-] capacity left, share of new */
    struct range floor;         /* [-] charge not to go below */
    struct range ceiling;       /* [-] charge not to go above */
    struct range internal_resistance; /* [ohm] of one block, full, 25 C */
    enum bank_wiring wiring;
    struct range link_resistance; /* [ohm] between neighbouring strings, each pole */
    struct range peukert;       /* [-] exponent */
    struct range max_charge;    /* [A] whole bank */
    struct range max_discharge; /* [A] whole bank */
    struct range absorption_voltage, float_voltage; /* [V] whole bank, at 25 C; float 0 V: none */
    struct range temperature;   /* [C] unknown: the air's */
    struct range mass;          /* [kg] one block */
    struct range price;         /* [user's money] one block */
};

#endif

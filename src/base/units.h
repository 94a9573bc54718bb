/* units.h - what may be written behind a number, and what it is worth.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_UNITS_H
#define BD_UNITS_H

#include <stddef.h>

#include "base/text.h"

enum quantity {
    QUANTITY_NUMBER,      /* [-] bare */
    QUANTITY_MONEY,       /* the user's money, bare */
    QUANTITY_SHARE,       /* [-] typed in % */
    QUANTITY_VOLTAGE,     /* [V] */
    QUANTITY_CURRENT,     /* [A] */
    QUANTITY_POWER,       /* [W] */
    QUANTITY_CHARGE,      /* [Ah] */
    QUANTITY_RESISTANCE,  /* [ohm] */
    QUANTITY_FREQUENCY,   /* [Hz] */
    QUANTITY_LENGTH,      /* [m] */
    QUANTITY_AREA,        /* [m2] */
    QUANTITY_MASS,        /* [kg] */
    QUANTITY_DURATION,    /* [s] */
    QUANTITY_TEMPERATURE, /* [C] */
    QUANTITY_ANGLE,       /* [deg] */
    QUANTITY_SPEED,       /* [rpm] */
    QUANTITY_PER_KELVIN,  /* [1/K] */
    QUANTITY_IRRADIATION, /* [kWh/m2 day] */
    QUANTITY_FUEL_FLOW,   /* [l/h] */
    QUANTITY_FUEL_IDLE,   /* [l/h per kW of rating] */
    QUANTITY_FUEL_ENERGY, /* [l/kWh] */
    QUANTITY_DAYS,        /* [d] */
    QUANTITIES
};

/* One spelling of a unit. Temperatures have an offset; all other quantities a factor only. */
struct unit {
    const char *symbol;
    enum quantity quantity;
    double factor, offset; /* stored value = typed value * factor + offset */
    int suggested;         /* 1: named in hints */
    const char *source;    /* of the factor */
};

/*
 * The unit of that quantity with that symbol, spelt exactly, for "mW" is no "MW"; NULL where there is none.
 */
const struct unit *unit_find(enum quantity quantity, struct span symbol);

/* The unit with that symbol whatever the quantity, to tell the user what he typed: "s" and "V" mean one
 * thing only. NULL where there is none. */
const struct unit *unit_find_any(struct span symbol);

/* The unit results of that quantity are typed in, the first of its rows; NULL for bare numbers. */
const struct unit *unit_main(enum quantity quantity);

/* What diagnostics call it: "voltage", "current". Static, never NULL. */
const char *quantity_name(enum quantity quantity);

/* 1 where a bare number is complete: counts and money. */
int quantity_is_bare(enum quantity quantity);

/* All rows, those of a quantity together and its main unit first; *count is set. */
const struct unit *unit_table(size_t *count);

#endif

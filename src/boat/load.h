/* load.h - a consumer: what it draws, from where, and when.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_LOAD_H
#define BD_LOAD_H

#include <stddef.h>

#include "boat/plan.h"

struct bank;
struct dcdc;

/* From where it is fed: a bank; the AC panel, whoever feeds that; or shore and
 * generator only, never the inverter. */
enum supply { SUPPLY_DC, SUPPLY_AC, SUPPLY_MAINS };

/* How it answers to lower volts: as typed (amps stay amps, watts stay watts), or as said. */
enum load_behaviour { BEHAVES_AS_TYPED, BEHAVES_POWER, BEHAVES_CURRENT, BEHAVES_RESISTANCE };

/* Who goes without first when there is not enough: shed ones, then normal, then vital. */
enum load_priority { LOAD_VITAL, LOAD_NORMAL, LOAD_SHED, LOAD_PRIORITIES };

/* "3 x 4 min" (untimed) or "07:30 for 4 min" (timed). */
struct use {
    double count;       /* times a day; 1 where timed */
    struct range length; /* [s] of one use */
    int timed;
    struct day_time at;
};

/* Which form its use has. USAGE_NONE in an override: as on any day. */
enum usage_kind { USAGE_NONE, USAGE_HOURS, USAGE_TIMES, USAGE_USES };

/* How long a load is on in one day; exactly one of the three forms. */
struct usage {
    enum usage_kind kind;
    int line;
    struct range hours; /* [h] a day */
    const struct time_span *times;
    size_t time_count;
    const struct use *uses;
    size_t use_count;
};

/* count equal appliances on one circuit. Powers are of one while it runs;
 * duty thins them out over its on-time. */
struct load {
    const char *name;
    int line;
    enum supply supply;
    struct range power;   /* [W] of one while running; derived from current where that was given */
    struct range current; /* [A] as typed; unknown where power was given */
    struct range count;   /* [-] */
    struct range duty;    /* [-] share of its on-time it runs (a thermostat) */
    struct usage usage;   /* any day kind without its own; USAGE_NONE: never */
    const struct usage *by_day; /* one per day kind of the boat, in the boat's order; USAGE_NONE: as usage */
    const struct range *duty_by_day; /* one per day kind; unknown: as duty; NULL: none given */
    enum load_behaviour behaves;
    struct range diversity;  /* [-] share counted where everything may run at once; unknown: all of it */
    struct range surge;      /* [-] starting power as a multiple of running power */
    struct range surge_time; /* [s] */
    struct range power_factor; /* [-] AC loads */
    struct range standby;    /* [W] drawn whenever its bus is live and it does not run */
    enum load_priority priority;
    int critical;            /* 1: a 3 % circuit by the user's word */
    struct range breaker;    /* [A] */
    const char *node;        /* node of the cable graph it hangs on; NULL: its own name */
    const struct bank *bank; /* bank that feeds a DC load; never NULL after linking */
    const struct dcdc *converter; /* between bank and load; NULL: none */
};

#endif

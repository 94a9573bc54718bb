/* size_parts.h - the pieces of the sizing.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SIZE_PARTS_H
#define BD_SIZE_PARTS_H

#include "engine/result.h"
#include "engine/sim.h"
#include "engine/work.h"

/* What came of running the plan twice over. */
struct trial {
    int run, passes;
    double generator_h; /* [h] of both plans; of a run that passes */
};

/* One sizing: the plan as it stands, its means and its heaviest day, from which
 * every part takes what it needs. */
struct sizer {
    const struct boat *boat;
    const struct bank *house;
    const struct balance *balance;
    struct arena *arena;
    struct work work;
    struct sim plain;     /* the plan as it stands, run once */
    struct timelines *timelines; /* of the sizing runs */
    struct trial built;   /* of the boat as it stands, the same for every knob; not run yet: all 0 */
    double volts;         /* [V] for amp-hours */
    double mean_load_wh, mean_solar_wh, mean_alternator_wh, mean_charger_wh; /* [Wh/day] over the plan */
    /* [Wh] largest daily load of a kind in the plan, on a day without shore where there is one */
    double worst_load_wh;
    const char *worst_kind;
    double engine_h_day;  /* [h] */
    int failed;           /* out of memory somewhere */
};

/* What a run of the plan may scale; all else stays as it is installed. */
enum { WEEK_D = 7 };

enum size_knob { KNOB_BANK, KNOB_SOLAR, KNOB_CHARGER };

/* The smallest size of one thing that passes the simulated plan. */
struct smallest {
    double size;      /* installed x scale, to 1 %; 0: passes with nothing; negative: nothing passes */
    const char *says; /* the same in words */
    double generator_h_week; /* [h] a week that the generator runs at that size */
};

/*
 * By doubling and bisection over the simulated plan, run twice over. A line of working is noted.
 *
 *   installed  of that thing, in unit; 0 or less: there is nothing to scale, and no answer
 */
struct smallest size_smallest(struct sizer *sizer, enum size_knob knob, const char *topic, const char *unit,
                              double installed);

/* Each fills its part of the result and notes its working. size_generator takes the charger's answer where
 * none is installed. Failures are kept in the sizer. */
void size_alternators(struct sizer *sizer, struct size *out);
void size_charger(struct sizer *sizer, struct charger_size *out);
void size_inverter(struct sizer *sizer, struct inverter_size *out);
void size_generator(struct sizer *sizer, const struct charger_size *charger, struct generator_size *out);

#endif

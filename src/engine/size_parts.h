/* size_parts.h - the pieces of the sizing.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SIZE_PARTS_H
#define BD_SIZE_PARTS_H

#include "engine/result.h"
#include "engine/sim.h"
#include "engine/work.h"

struct sizer {
    const struct boat *boat;
    const struct bank *house;
    const struct balance *balance;
    struct arena *arena;
    struct work work;
    struct sim plain;     /* the plan as it stands, run once */
    double volts;         /* [V] for amp-hours */
    double mean_load_wh, mean_solar_wh, mean_alternator_wh, mean_charger_wh; /* [Wh/day] over the plan */
    double worst_load_wh; /* [Wh] largest daily load of a kind in the plan, on a day without shore where there is one */
    const char *worst_kind;
    double engine_h_day;  /* [h] */
    int failed;           /* out of memory somewhere */
};

enum size_knob { KNOB_BANK, KNOB_SOLAR, KNOB_CHARGER };

/* The smallest size of one thing that passes the simulated plan. */
struct smallest {
    double size;      /* installed x scale, to 1 %; 0: passes with nothing; negative: nothing passes */
    const char *says; /* the same in words */
};
struct smallest size_smallest(struct sizer *sizer, enum size_knob knob, const char *topic, const char *unit,
                              double installed);

void size_alternators(struct sizer *sizer, struct size *out);
void size_charger(struct sizer *sizer, struct charger_size *out);
void size_inverter(struct sizer *sizer, struct inverter_size *out);
void size_generator(struct sizer *sizer, const struct charger_size *charger, struct generator_size *out);

#endif

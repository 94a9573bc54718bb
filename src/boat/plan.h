/* plan.h - which kind of day follows which, and what runs when.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PLAN_H
#define BD_PLAN_H

#include <stddef.h>

#include "base/range.h"

/* What a moment is counted from. */
enum clock_anchor { CLOCK_TIME, CLOCK_SUNRISE, CLOCK_SUNSET };

/* A moment of a day: a clock time, or so long after sunrise or sunset. */
struct day_time {
    enum clock_anchor anchor;
    int seconds; /* [s] after midnight, or after the anchor (may be negative there) */
};

/* From one moment to another; where `to` is not after `from` the span runs past midnight. */
struct time_span {
    struct day_time from, to;
};

struct engine;

/* An engine turning at a speed for a stretch of the day. */
struct engine_run {
    const struct engine *engine; /* NULL: every engine of the boat */
    struct time_span span;
    struct range speed; /* [rpm]; unknown: the engine's own idle_speed */
};

/* When the generator may run: never, by the charge of the house bank, or at times. */
enum generator_mode { GENERATOR_OFF, GENERATOR_AUTOMATIC, GENERATOR_TIMES };

/* A kind of day ("anchor", "passage") is complete in itself: 00:00 to 24:00,
 * spans past midnight fold into it. */
struct day_kind {
    const char *name;
    int line;
    const struct engine_run *runs;
    size_t run_count;
    const struct time_span *shore; /* when the shore lead is in */
    size_t shore_count;
    enum generator_mode generator;
    const struct time_span *generator_times; /* with GENERATOR_TIMES */
    size_t generator_count;
    const struct time_span *quiet; /* automatic generator must not start or run */
    size_t quiet_count;
    struct range shading; /* [-] share of array output lost on such a day, 0..1 */
    struct range sun;     /* [-] share of the site's mean irradiation on such a day: 0.4 is dull */
};

/* The days that are simulated, one after the other, the first on the site's start date. */
struct plan {
    const struct day_kind **days; /* one pointer per day of the plan, in order */
    size_t day_count;
    struct range start_charge; /* [-] 0..1 */
    struct range step;         /* [s] */
    struct range autonomy;     /* [d] days without any source the handbook sum is made for */
};

#endif

/* timeline.h - one day of the plan as steps: what wants power, what could give it.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Loads, engine runs, shore and generator hours are turned into intervals once a day and added, exactly
 * weighted by overlap, onto the steps they touch; the simulation then only reads numbers. A span that runs
 * past midnight counts for the early hours of the same day, so that a kind of day is complete in itself and a
 * day repeats.
 *
 * Use without clock times is spread over the waking day (07:00 to 22:00), at full power:
 *   hours = 3 h      a part of every hour
 *   3 x 4 min        one use in each third of the waking day
 * Each load has a place of its own within that, drawn from its name, so that the order of sections in the
 * profile changes nothing and not everything starts on the hour.
 */
#ifndef BD_TIMELINE_H
#define BD_TIMELINE_H

#include <stddef.h>

#include "base/calendar.h"
#include "boat/boat.h"
#include "parts/sky.h"

struct arena;

enum { DAY_S = 86400, HOUR_S = 3600 };

/* What hangs on one bank's bus during one step; all means over the step. */
struct bus_step {
    double dc_w[LOAD_PRIORITIES]; /* [W] DC loads, converter losses included */
    double solar_w;      /* [W] of mppt arrays */
    double solar_a;      /* [A] of pwm arrays */
    double alternator_a; /* [A] all alternators on this bus, hot */
};

struct ac_step {
    double ac_w[LOAD_PRIORITIES];    /* [W] inverter, shore or generator */
    double mains_w[LOAD_PRIORITIES]; /* [W] shore or generator only */
    double ac_va, mains_va;          /* [VA] */
    double shore, generator, quiet;  /* [-] share of the step */
    double engine;                   /* [-] share of the step with an engine running */
};

struct timeline {
    const struct boat *boat;
    size_t steps;   /* in a day */
    double step_s;  /* [s]; steps x step_s = 86400 */
    struct bus_step *buses; /* [bank][step], bank-major */
    struct ac_step *ac;     /* [step] */
    int *bus_used;          /* [bank] 1: something is on that bus in some step; else its steps are all 0 */
    /* [bank] what is the same in every step of the day, while it is added up */
    struct bus_step *bus_whole_day;
    struct ac_step ac_whole_day;
    int ac_used;            /* as bus_used */
    const struct load **loads; /* the boat's, sorted by name */
    double sunrise_s, sunset_s, noon_s; /* [s] after local midnight of the compiled day */
    int polar;              /* as sun_times */
    double engine_h;        /* [h] engine running, all engines */
    double irradiation_kwh; /* [kWh/m2] horizontal, that day */
    double air_c;           /* [C] mean of that day */
    int dark;               /* 1: panels are left out, where nothing charges anyway */
};

/* Ten minutes between the sun's computed places; linear between them. */
enum { SOLAR_NODE_S = DAY_S / SKY_SLOTS };

/* 0, or -1 without memory. step_s must divide a day. */
int timeline_new(struct timeline *timeline, struct arena *arena, const struct boat *boat, double step_s);

/* Fills the steps for day number day_offset after the plan's first day, as a day of that kind. */
void timeline_compile(struct timeline *timeline, const struct day_kind *kind, long day_offset);

/* Days of a plan, compiled when first asked for and kept for other runs; as many as there is room for. */
struct timelines {
    struct arena *arena;
    const struct boat *boat;
    double step_s;
    int dark;             /* of days yet to be compiled */
    size_t room;
    struct timeline *days; /* room of them, and one more that every later day is compiled into anew */
};

/* NULL without memory. */
struct timelines *timelines_new(struct arena *arena, const struct boat *boat, double step_s, size_t room);

/* A day as by timeline_compile; valid until the next call. NULL without memory. */
const struct timeline *timelines_day(struct timelines *timelines, const struct day_kind *kind,
                                     long day_offset);

/* Daily total on the horizontal [kWh/m2] and mean air temperature [C] of a day of that kind. */
double timeline_irradiation(const struct boat *boat, const struct day_kind *kind, long day_offset);
double timeline_air(const struct boat *boat, long day_offset);

/* Called for each stretch of a day's use; start < end, both within 0..86400. */
typedef void interval_visit(void *context, double start_s, double end_s);

/* Visits every stretch a load is on (duty not counted) on a day with that sunrise and sunset. */
void timeline_load_intervals(const struct load *load, size_t day_index, double sunrise_s, double sunset_s,
                             interval_visit *visit, void *context);

/* Visits a list of spans, each cut at midnight and wrapped. */
void timeline_spans(const struct time_span *spans, size_t count, double sunrise_s, double sunset_s,
                    interval_visit *visit, void *context);

/* Power one load's running draws at its bus [W]: all of its count, converter loss included, duty not. */
double load_running_w(const struct load *load);

/* Seconds since 1970 UTC at the local midnight of that day. */
double timeline_midnight_utc(const struct boat *boat, long day_offset);

/* Calendar day day_offset days after the plan's first. */
struct date timeline_date(const struct boat *boat, long day_offset);

#endif

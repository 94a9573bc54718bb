/* timeline.c - use and running hours onto the steps of one day.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/timeline.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "engine/timeline_sun.h"
#include "parts/machine.h"

/*
 * A day is compiled by painting: each load, run or span becomes intervals, and each interval adds its value
 * to the steps it touches, weighted by the overlap.
 *
 *     interval            |-----------------------|
 *     steps         |    0    |    1    |    2    |    3    |
 *     share              0.5       1         1         0
 *
 * So the energy of a day does not depend on the step: a step of an hour has what its sixty minutes have, and
 * only power at a moment is coarser. Loads are painted in the order of their names, so that the sums are the
 * same to the last bit whatever the order of the profile.
 *
 * What lasts from midnight to midnight (standby, idle draws, a fridge by its duty) is summed apart and laid
 * onto the steps once for all of it. "Timeline" in models.md; held by tests/engine/test_timeline.c, which
 * works out every step by itself.
 */

enum { WAKING_FROM_S = 7 * HOUR_S, WAKING_TO_S = 22 * HOUR_S };

/* A number in 0..1 from a name (FNV-1a), so that loads do not all start together and order does not
 * matter. */
static double name_phase(const char *name)
{
    unsigned hash = 2166136261u;

    for (; *name; name++)
        hash = (hash ^ (unsigned char)*name) * 16777619u;
    return (double)(hash >> 8) / 16777216.0;
}

/* Seconds after local midnight, given the day's sunrise and sunset; 0..86400. */
static double timeline_moment(const struct day_time *time, double sunrise_s, double sunset_s)
{
    double s = time->seconds;

    if (time->anchor == CLOCK_SUNRISE)
        s += sunrise_s;
    else if (time->anchor == CLOCK_SUNSET)
        s += sunset_s;
    return fmin(fmax(s, 0), DAY_S);
}

void timeline_spans(const struct time_span *spans, size_t count, double sunrise_s, double sunset_s,
                    interval_visit *visit, void *context)
{
    for (size_t i = 0; i < count; i++) {
        double from = timeline_moment(&spans[i].from, sunrise_s, sunset_s);
        double to = timeline_moment(&spans[i].to, sunrise_s, sunset_s);

        if (from < to) {
            visit(context, from, to);
            continue;
        }
        if (to > 0)
            visit(context, 0, to);
        if (from < DAY_S)
            visit(context, from, DAY_S);
    }
}

/*
 * Spread use begins on whole minutes and lasts whole minutes, as far as the total allows: a heavy load then
 * fills its minutes instead of being averaged over parts of them, and a step of a minute loses nothing
 * against a second.
 */
static double whole_minutes(double seconds)
{
    return floor(seconds / 60 + 1e-9) * 60;
}

/* hours a day as one part of every waking hour, or of every hour where the waking day is too short. */
static void spread_hours(const char *name, double hours, interval_visit *visit, void *context)
{
    double window = (WAKING_TO_S - WAKING_FROM_S) / (double)HOUR_S, done = 0, total = hours * HOUR_S;
    int first = hours <= window ? WAKING_FROM_S / HOUR_S : 0;
    int parts = hours <= window ? (int)window : DAY_S / HOUR_S;
    double wait = whole_minutes(name_phase(name) * fmax(HOUR_S - total / parts - 60, 0));

    for (int i = 0; i < parts; i++) {
        double until = i + 1 < parts ? whole_minutes(total * (i + 1) / parts) : total;
        double start = (first + i) * HOUR_S + wait;

        if (until > done)
            visit(context, start, fmin(start + until - done, DAY_S));
        done = until;
    }
}

/* count uses (the last one cut where count is not whole), one in each equal part of the waking day. */
static void spread_uses(const char *name, const struct use *use, interval_visit *visit, void *context)
{
    double window = WAKING_TO_S - WAKING_FROM_S, from = WAKING_FROM_S;
    int parts = (int)ceil(use->count);
    double part, wait;

    if (use->count * use->length.value > window) {
        window = DAY_S;
        from = 0;
    }
    part = window / parts;
    wait = name_phase(name) * fmax(part - use->length.value, 0);
    for (int i = 0; i < parts; i++) {
        double share = fmin(use->count - i, 1), length = fmin(use->length.value, part) * share;
        double start = length < part ? whole_minutes(from + i * part + wait) : from + i * part;

        visit(context, start, fmin(start + length, DAY_S));
    }
}

/* A use at a clock time; past midnight it goes on in the early hours of the same day. */
static void timed_use(const struct use *use, double sunrise_s, double sunset_s, interval_visit *visit,
                      void *context)
{
    double start = timeline_moment(&use->at, sunrise_s, sunset_s);
    double end = start + fmin(use->length.value, DAY_S);

    visit(context, start, fmin(end, DAY_S));
    if (end > DAY_S)
        visit(context, 0, end - DAY_S);
}

void timeline_load_intervals(const struct load *load, size_t day_index, double sunrise_s, double sunset_s,
                             interval_visit *visit, void *context)
{
    const struct usage *usage = load_usage(load, day_index);

    switch (usage->kind) {
    case USAGE_NONE:
        break;
    case USAGE_HOURS:
        if (usage->hours.value >= 24)
            visit(context, 0, DAY_S);
        else
            spread_hours(load->name, usage->hours.value, visit, context);
        break;
    case USAGE_TIMES:
        timeline_spans(usage->times, usage->time_count, sunrise_s, sunset_s, visit, context);
        break;
    case USAGE_USES:
        for (size_t i = 0; i < usage->use_count; i++) {
            if (usage->uses[i].timed)
                timed_use(&usage->uses[i], sunrise_s, sunset_s, visit, context);
            else if (usage->uses[i].count > 0)
                spread_uses(load->name, &usage->uses[i], visit, context);
        }
        break;
    }
}

/*
 * Where an interval goes: value x share of each touched step is added to a double found stride bytes apart.
 * What lasts the whole day is only added up, and laid onto the steps once for all that does: whole_days_lay.
 */
struct painter {
    unsigned char *first;
    double *whole_day;
    int *used; /* set to 1 */
    size_t stride, steps;
    double step_s, value;
    double seconds; /* [s] painted so far */
};

/*
 * An interval_visit. Adds value x overlap to the touched steps, and the interval to the seconds in any case.
 */
static void paint(void *context, double start_s, double end_s)
{
    struct painter *p = context;
    size_t from = (size_t)(start_s / p->step_s), to = (size_t)(end_s / p->step_s);
    double *cell;

    if (end_s <= start_s)
        return;
    p->seconds += end_s - start_s;
    if (p->value <= 0)
        return;
    *p->used = 1;
    if (start_s <= 0 && end_s >= DAY_S) {
        *p->whole_day += p->value;
        return;
    }
    if (from == to) {
        cell = (double *)(void *)(p->first + from * p->stride);
        *cell += p->value * (end_s - start_s) / p->step_s;
        return;
    }
    cell = (double *)(void *)(p->first + from * p->stride);
    *cell += p->value * ((double)(from + 1) - start_s / p->step_s);
    for (size_t i = from + 1; i < to; i++)
        *(double *)(void *)(p->first + i * p->stride) += p->value;
    if (to < p->steps) {
        cell = (double *)(void *)(p->first + to * p->stride);
        *cell += p->value * (end_s / p->step_s - (double)to);
    }
}

/* On the field of that offset in the steps of a bank's bus. */
static struct painter bus_painter(struct timeline *t, const struct bank *bank, size_t offset, double value)
{
    size_t b = (size_t)(bank - t->boat->banks);
    unsigned char *whole_day = (unsigned char *)(t->bus_whole_day + b) + offset;

    return (struct painter){ (unsigned char *)(t->buses + b * t->steps) + offset, (double *)(void *)whole_day,
                             t->bus_used + b, sizeof *t->buses, t->steps, t->step_s, value, 0 };
}

/* The same in the steps of the AC panel. */
static struct painter ac_painter(struct timeline *t, size_t offset, double value)
{
    unsigned char *whole_day = (unsigned char *)&t->ac_whole_day + offset;

    return (struct painter){ (unsigned char *)t->ac + offset, (double *)(void *)whole_day,
                             &t->ac_used, sizeof *t->ac, t->steps, t->step_s, value, 0 };
}

/* Rows of so many doubles each. */
static void whole_day_lay(double *rows, const double *whole_day, size_t doubles, size_t steps)
{
    for (size_t f = 0; f < doubles; f++)
        if (whole_day[f] != 0)
            for (size_t i = 0; i < steps; i++)
                rows[i * doubles + f] += whole_day[f];
}

/* After all loads, before the sun, which never lasts all day. */
static void whole_days_lay(struct timeline *t)
{
    for (size_t b = 0; b < t->boat->bank_count; b++)
        whole_day_lay((double *)(void *)(t->buses + b * t->steps),
                      (const double *)(const void *)(t->bus_whole_day + b), sizeof *t->buses / sizeof(double),
                      t->steps);
    whole_day_lay((double *)(void *)t->ac, (const double *)(const void *)&t->ac_whole_day,
                  sizeof *t->ac / sizeof(double), t->steps);
}

double load_running_w(const struct load *load)
{
    double w = load->power.value * load->count.value;

    if (load->supply == SUPPLY_DC && load->converter)
        w /= load->converter->efficiency.value;
    return w;
}

/* Standby draws whenever the load does not run: its power all day, less its share of the running time. */
static void paint_load(const struct timeline *t, const struct load *load, size_t day_index, struct painter p,
                       double standby)
{
    timeline_load_intervals(load, day_index, t->sunrise_s, t->sunset_s, paint, &p);
    p.value = standby;
    paint(&p, 0, DAY_S);
}

/* Watts over standby while it runs, standby all day; AC loads their volt-amperes too, by power factor. */
static void compile_load(struct timeline *t, const struct load *load, size_t day_index)
{
    const size_t ac[] = { offsetof(struct ac_step, ac_w), offsetof(struct ac_step, ac_va) };
    const size_t mains[] = { offsetof(struct ac_step, mains_w), offsetof(struct ac_step, mains_va) };
    const size_t *fields = load->supply == SUPPLY_AC ? ac : mains,
                 of_priority = load->priority * sizeof(double);
    double power = load_running_w(load) * load_duty(load, day_index);
    double standby = load->standby.value * load->count.value, va = 1 / load->power_factor.value;
    double over_standby = fmax(power - standby, 0);

    if (load->supply == SUPPLY_DC) {
        paint_load(t, load, day_index,
                   bus_painter(t, load->bank, offsetof(struct bus_step, dc_w) + of_priority, over_standby),
                   standby);
        return;
    }
    paint_load(t, load, day_index, ac_painter(t, fields[0] + of_priority, over_standby), standby);
    paint_load(t, load, day_index, ac_painter(t, fields[1], over_standby * va), standby * va);
}

/* Amperes at the speed of that run, else at the engine's idle speed: charging at anchor is idling. */
static void compile_alternator(struct timeline *t, const struct alternator *a, const struct engine_run *run)
{
    double rpm = range_or(&run->speed, a->engine->idle_speed.value);
    struct painter p =
        bus_painter(t, a->bank, offsetof(struct bus_step, alternator_a), alternator_current(a, rpm));

    timeline_spans(&run->span, 1, t->sunrise_s, t->sunset_s, paint, &p);
}

/* A run without an engine's name is a run of all of them, and counts the hours of each. */
static void compile_engines(struct timeline *t, const struct day_kind *kind)
{
    const struct boat *boat = t->boat;

    t->engine_h = 0;
    for (size_t r = 0; r < kind->run_count; r++) {
        const struct engine_run *run = &kind->runs[r];
        struct painter p = ac_painter(t, offsetof(struct ac_step, engine), 1);

        timeline_spans(&run->span, 1, t->sunrise_s, t->sunset_s, paint, &p);
        t->engine_h += p.seconds / HOUR_S * (double)(run->engine ? 1 : boat->engine_count);
        for (size_t i = 0; i < boat->alternator_count; i++)
            if (!run->engine || boat->alternators[i].engine == run->engine)
                compile_alternator(t, &boat->alternators[i], run);
    }
}

/* Shares of each step with shore, timed generator and quiet; an automatic
 * generator decides while simulating. */
static void compile_hours(struct timeline *t, const struct day_kind *kind)
{
    struct painter shore = ac_painter(t, offsetof(struct ac_step, shore), 1);
    struct painter generator = ac_painter(t, offsetof(struct ac_step, generator), 1);
    struct painter quiet = ac_painter(t, offsetof(struct ac_step, quiet), 1);

    if (t->boat->shore.fitted)
        timeline_spans(kind->shore, kind->shore_count, t->sunrise_s, t->sunset_s, paint, &shore);
    if (kind->generator == GENERATOR_TIMES)
        timeline_spans(kind->generator_times, kind->generator_count, t->sunrise_s, t->sunset_s, paint,
                       &generator);
    timeline_spans(kind->quiet, kind->quiet_count, t->sunrise_s, t->sunset_s, paint, &quiet);
}

/* Converters that feed loads draw their own idle power all day. */
static void compile_converters(struct timeline *t)
{
    for (size_t i = 0; i < t->boat->dcdc_count; i++) {
        const struct dcdc *d = &t->boat->dcdcs[i];
        struct painter p;

        if (d->to)
            continue;
        p = bus_painter(t, d->from, offsetof(struct bus_step, dc_w[LOAD_NORMAL]), d->idle_power.value);
        paint(&p, 0, DAY_S);
    }
}

/* Names are unique in a profile, so the order is complete. */
static int by_name(const void *a, const void *b)
{
    const struct load *const *x = a, *const *y = b;

    return strcmp((*x)->name, (*y)->name);
}

int timeline_new(struct timeline *t, struct arena *arena, const struct boat *boat, double step_s)
{
    size_t banks = boat->bank_count ? boat->bank_count : 1;

    *t = (struct timeline){ .boat = boat, .step_s = step_s };
    t->steps = (size_t)llround(DAY_S / step_s);
    t->buses = arena_array(arena, banks * t->steps, sizeof *t->buses);
    t->ac = arena_array(arena, t->steps, sizeof *t->ac);
    t->bus_whole_day = arena_array(arena, banks, sizeof *t->bus_whole_day);
    t->loads = arena_array(arena, boat->load_count, sizeof *t->loads);
    t->bus_used = arena_array(arena, banks, sizeof *t->bus_used);
    if (!t->buses || !t->ac || !t->bus_whole_day || !t->bus_used || !t->loads)
        return -1;
    for (size_t i = 0; i < boat->load_count; i++)
        t->loads[i] = &boat->loads[i];
    if (boat->load_count)
        qsort(t->loads, boat->load_count, sizeof *t->loads, by_name);
    return 0;
}

/*
 * Only what the last day has used: most banks have nothing on them, and a day of seconds is 86400 rows each.
 */
static void wipe(struct timeline *t)
{
    for (size_t b = 0; b < t->boat->bank_count; b++) {
        if (t->bus_used[b])
            memset(t->buses + b * t->steps, 0, t->steps * sizeof *t->buses);
        t->bus_used[b] = 0;
        t->bus_whole_day[b] = (struct bus_step){ .solar_w = 0 };
    }
    if (t->ac_used)
        memset(t->ac, 0, t->steps * sizeof *t->ac);
    t->ac_used = 0;
    t->ac_whole_day = (struct ac_step){ .shore = 0 };
}

void timeline_compile(struct timeline *t, const struct day_kind *kind, long day_offset)
{
    size_t day_index = boat_day_index(t->boat, kind);

    wipe(t);
    timeline_sun_times(t, day_offset);
    compile_hours(t, kind);
    compile_engines(t, kind);
    compile_converters(t);
    for (size_t i = 0; i < t->boat->load_count; i++)
        compile_load(t, t->loads[i], day_index);
    whole_days_lay(t);
    timeline_sun_power(t, kind, day_offset);
}

struct timelines *timelines_new(struct arena *arena, const struct boat *boat, double step_s, size_t room)
{
    struct timelines *t = arena_zero(arena, sizeof *t);
    struct timeline *days = arena_array(arena, room + 1, sizeof *days);

    if (!t || !days)
        return NULL;
    *t = (struct timelines){ .arena = arena, .boat = boat, .step_s = step_s, .room = room, .days = days };
    return t;
}

const struct timeline *timelines_day(struct timelines *all, const struct day_kind *kind, long day_offset)
{
    size_t at = (size_t)day_offset < all->room ? (size_t)day_offset : all->room;
    struct timeline *t = &all->days[at];

    if (t->buses && at < all->room)
        return t;
    if (!t->buses && timeline_new(t, all->arena, all->boat, all->step_s) != 0)
        return NULL;
    t->dark = all->dark;
    timeline_compile(t, kind, day_offset);
    return t;
}

struct date timeline_date(const struct boat *boat, long day_offset)
{
    struct date first = { boat->site.start_year, boat->site.start_month, boat->site.start_day };

    return date_of_number(date_number(first) + day_offset);
}

double timeline_midnight_utc(const struct boat *boat, long day_offset)
{
    return (double)date_number(timeline_date(boat, day_offset)) * DAY_S
           - boat->site.utc_offset.value * HOUR_S;
}

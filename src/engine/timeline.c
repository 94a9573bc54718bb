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

enum { WAKING_FROM_S = 7 * HOUR_S, WAKING_TO_S = 22 * HOUR_S };

/* A number in 0..1 from a name (FNV-1a), so that loads do not all start together and order does not matter. */
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
 * Spread use begins on whole minutes and lasts whole minutes, as far as the total allows: a heavy load then fills
 * its minutes instead of being averaged over parts of them, and a step of a minute loses nothing against a second.
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

static void timed_use(const struct use *use, double sunrise_s, double sunset_s, interval_visit *visit, void *context)
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

/* Where an interval goes: value x share of each touched step is added to a double found stride bytes apart. */
struct painter {
    unsigned char *first;
    size_t stride, steps;
    double step_s, value;
    double seconds; /* [s] painted so far */
};

static void paint(void *context, double start_s, double end_s)
{
    struct painter *p = context;
    size_t from = (size_t)(start_s / p->step_s), to = (size_t)(end_s / p->step_s);
    double *cell;

    if (end_s <= start_s)
        return;
    p->seconds += end_s - start_s;
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

static struct painter painter_on(double *first, size_t stride, const struct timeline *t, double value)
{
    return (struct painter){ (unsigned char *)first, stride, t->steps, t->step_s, value, 0 };
}

double load_running_w(const struct load *load)
{
    double w = load->power.value * load->count.value;

    if (load->supply == SUPPLY_DC && load->converter)
        w /= load->converter->efficiency.value;
    return w;
}

/* Standby draws whenever the load does not run: its power all day, less its share of the running time. */
static void compile_load(struct timeline *t, const struct load *load, size_t day_index)
{
    double power = load_running_w(load) * load_duty(load, day_index);
    double standby = load->standby.value * load->count.value;
    double over_standby = fmax(power - standby, 0);
    struct bus_step *bus = NULL;
    struct painter p;

    if (load->supply == SUPPLY_DC) {
        bus = t->buses + (size_t)(load->bank - t->boat->banks) * t->steps;
        p = painter_on(&bus->dc_w[load->priority], sizeof *bus, t, over_standby);
    } else if (load->supply == SUPPLY_AC) {
        p = painter_on(&t->ac->ac_w[load->priority], sizeof *t->ac, t, over_standby);
    } else {
        p = painter_on(&t->ac->mains_w[load->priority], sizeof *t->ac, t, over_standby);
    }
    timeline_load_intervals(load, day_index, t->sunrise_s, t->sunset_s, paint, &p);
    if (standby > 0) {
        p.value = standby;
        paint(&p, 0, DAY_S);
    }
    if (load->supply == SUPPLY_DC)
        return;
    p = painter_on(load->supply == SUPPLY_AC ? &t->ac->ac_va : &t->ac->mains_va, sizeof *t->ac, t,
                   over_standby / load->power_factor.value);
    timeline_load_intervals(load, day_index, t->sunrise_s, t->sunset_s, paint, &p);
    p.value = standby / load->power_factor.value;
    paint(&p, 0, DAY_S);
}

static void compile_alternator(struct timeline *t, const struct alternator *a, const struct engine_run *run)
{
    double rpm = range_or(&run->speed, a->engine->idle_speed.value);
    struct bus_step *bus = t->buses + (size_t)(a->bank - t->boat->banks) * t->steps;
    struct painter p = painter_on(&bus->alternator_a, sizeof *bus, t, alternator_current(a, rpm));

    timeline_spans(&run->span, 1, t->sunrise_s, t->sunset_s, paint, &p);
}

static void compile_engines(struct timeline *t, const struct day_kind *kind)
{
    const struct boat *boat = t->boat;

    t->engine_h = 0;
    for (size_t r = 0; r < kind->run_count; r++) {
        const struct engine_run *run = &kind->runs[r];
        struct painter p = painter_on(&t->ac->engine, sizeof *t->ac, t, 1);

        timeline_spans(&run->span, 1, t->sunrise_s, t->sunset_s, paint, &p);
        t->engine_h += p.seconds / HOUR_S * (double)(run->engine ? 1 : boat->engine_count);
        for (size_t i = 0; i < boat->alternator_count; i++)
            if (!run->engine || boat->alternators[i].engine == run->engine)
                compile_alternator(t, &boat->alternators[i], run);
    }
}

static void compile_hours(struct timeline *t, const struct day_kind *kind)
{
    struct painter p = painter_on(&t->ac->shore, sizeof *t->ac, t, 1);

    if (t->boat->shore.fitted)
        timeline_spans(kind->shore, kind->shore_count, t->sunrise_s, t->sunset_s, paint, &p);
    p.first = (unsigned char *)&t->ac->generator;
    if (kind->generator == GENERATOR_TIMES)
        timeline_spans(kind->generator_times, kind->generator_count, t->sunrise_s, t->sunset_s, paint, &p);
    p.first = (unsigned char *)&t->ac->quiet;
    timeline_spans(kind->quiet, kind->quiet_count, t->sunrise_s, t->sunset_s, paint, &p);
}

/* Converters that feed loads draw their own idle power all day. */
static void compile_converters(struct timeline *t)
{
    for (size_t i = 0; i < t->boat->dcdc_count; i++) {
        const struct dcdc *d = &t->boat->dcdcs[i];
        struct bus_step *bus;
        struct painter p;

        if (d->to || d->idle_power.value <= 0)
            continue;
        bus = t->buses + (size_t)(d->from - t->boat->banks) * t->steps;
        p = painter_on(&bus->dc_w[LOAD_NORMAL], sizeof *bus, t, d->idle_power.value);
        paint(&p, 0, DAY_S);
    }
}

static int by_name(const void *a, const void *b)
{
    const struct load *const *x = a, *const *y = b;

    return strcmp((*x)->name, (*y)->name);
}

int timeline_new(struct timeline *t, struct arena *arena, const struct boat *boat, double step_s)
{
    size_t banks = boat->bank_count ? boat->bank_count : 1;

    *t = (struct timeline){ .boat = boat, .step_s = step_s, .solar_scale = 1 };
    t->steps = (size_t)llround(DAY_S / step_s);
    t->buses = arena_array(arena, banks * t->steps, sizeof *t->buses);
    t->ac = arena_array(arena, t->steps, sizeof *t->ac);
    t->loads = arena_array(arena, boat->load_count, sizeof *t->loads);
    t->solar_slots = arena_array(arena, SKY_SLOTS, sizeof *t->solar_slots);
    if (!t->buses || !t->ac || !t->loads || !t->solar_slots)
        return -1;
    for (size_t i = 0; i < boat->load_count; i++)
        t->loads[i] = &boat->loads[i];
    if (boat->load_count)
        qsort(t->loads, boat->load_count, sizeof *t->loads, by_name);
    return 0;
}

void timeline_compile(struct timeline *t, const struct day_kind *kind, long day_offset)
{
    size_t day_index = boat_day_index(t->boat, kind);

    memset(t->buses, 0, t->boat->bank_count * t->steps * sizeof *t->buses);
    memset(t->ac, 0, t->steps * sizeof *t->ac);
    timeline_sun_times(t, day_offset);
    compile_hours(t, kind);
    compile_engines(t, kind);
    compile_converters(t);
    for (size_t i = 0; i < t->boat->load_count; i++)
        compile_load(t, t->loads[i], day_index);
    timeline_sun_power(t, kind, day_offset);
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

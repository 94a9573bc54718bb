/* test_timeline.c - a compiled day against one worked out step by step, load by load.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "boat/boat.h"
#include "engine/timeline_sun.h"
#include "parts/array.h"
#include "parts/machine.h"
#include "support/random_boat.h"
#include "support/test.h"

/* ---- the reference: seconds of one step in which something is so ---- */

/* [s] of from..to that lie in one step. */
static double overlap(double from, double to, double step_from, double step_to)
{
    return fmax(fmin(to, step_to) - fmax(from, step_from), 0);
}

static double moment_s(const struct day_time *time, const struct timeline *t)
{
    double anchor = time->anchor == CLOCK_SUNRISE ? t->sunrise_s : time->anchor == CLOCK_SUNSET ? t->sunset_s : 0;

    return fmin(fmax(anchor + time->seconds, 0), DAY_S);
}

/* A span whose end is not after its beginning is the rest of the day and its early hours. */
static double span_s(const struct time_span *span, const struct timeline *t, double step_from, double step_to)
{
    double from = moment_s(&span->from, t), to = moment_s(&span->to, t);

    if (from < to)
        return overlap(from, to, step_from, step_to);
    return overlap(0, to, step_from, step_to) + overlap(from, DAY_S, step_from, step_to);
}

static double spans_s(const struct time_span *spans, size_t count, const struct timeline *t, double step_from,
                      double step_to)
{
    double seconds = 0;

    for (size_t i = 0; i < count; i++)
        seconds += span_s(&spans[i], t, step_from, step_to);
    return seconds;
}

struct window {
    double from, to, seconds;
};

static void visit(void *context, double from, double to)
{
    struct window *w = context;

    w->seconds += overlap(from, to, w->from, w->to);
}

/* On-time of a load in one step; where use is spread over the day the program's own places are taken. */
static double load_s(const struct load *load, const struct timeline *t, double step_from, double step_to)
{
    const struct usage *usage = &load->usage;
    struct window w = { step_from, step_to, 0 };

    if (usage->kind == USAGE_HOURS && usage->hours.value >= 24)
        return step_to - step_from;
    if (usage->kind == USAGE_TIMES)
        return spans_s(usage->times, usage->time_count, t, step_from, step_to);
    if (usage->kind == USAGE_USES && usage->uses[0].timed) {
        double from = moment_s(&usage->uses[0].at, t), to = from + usage->uses[0].length.value;

        return overlap(from, to, step_from, step_to) + overlap(0, to - DAY_S, step_from, step_to);
    }
    timeline_load_intervals(load, 0, t->sunrise_s, t->sunset_s, visit, &w);
    return w.seconds;
}

/* Mean power of one load in one step [W]: running, else standby. */
static double load_w(const struct load *load, const struct timeline *t, double step_from, double step_to)
{
    double on = load_s(load, t, step_from, step_to) / (step_to - step_from);
    double running = load->power.value * load->duty.value;

    return on * fmax(running, load->standby.value) + (1 - on) * load->standby.value;
}

/* The largest difference of any figure of one step. */
static double step_difference(const struct timeline *t, const struct day_kind *kind, size_t step)
{
    const struct boat *boat = t->boat;
    const struct ac_step *ac = &t->ac[step];
    double from = (double)step * t->step_s, to = from + t->step_s;
    double dc[3][LOAD_PRIORITIES] = { 0 }, ac_w[LOAD_PRIORITIES] = { 0 }, mains_w[LOAD_PRIORITIES] = { 0 };
    double ac_va = 0, mains_va = 0, amps[3] = { 0 };
    double worst = 0;

    for (size_t i = 0; i < boat->load_count; i++) {
        const struct load *load = &boat->loads[i];
        double w = load_w(load, t, from, to);

        if (load->supply == SUPPLY_DC)
            dc[load->bank - boat->banks][load->priority] += w;
        else
            (load->supply == SUPPLY_AC ? ac_w : mains_w)[load->priority] += w;
        if (load->supply == SUPPLY_AC)
            ac_va += w / load->power_factor.value;
        else if (load->supply == SUPPLY_MAINS)
            mains_va += w / load->power_factor.value;
    }
    if (boat->engine_count)
        amps[boat->alternators[0].bank - boat->banks] =
            alternator_current(&boat->alternators[0], kind->runs[0].speed.value) *
            span_s(&kind->runs[0].span, t, from, to) / t->step_s;
    for (size_t b = 0; b < boat->bank_count; b++) {
        const struct bus_step *bus = &t->buses[b * t->steps + step];

        for (int p = 0; p < LOAD_PRIORITIES; p++)
            worst = fmax(worst, fabs(bus->dc_w[p] - dc[b][p]));
        worst = fmax(worst, fabs(bus->alternator_a - amps[b]));
        if (!t->bus_used[b])
            assert_true(dc[b][0] + dc[b][1] + dc[b][2] + amps[b] + bus->solar_w + bus->solar_a <= 0);
    }
    for (int p = 0; p < LOAD_PRIORITIES; p++)
        worst = fmax(worst, fabs(ac->ac_w[p] - ac_w[p]) + fabs(ac->mains_w[p] - mains_w[p]));
    worst = fmax(worst, fabs(ac->ac_va - ac_va) + fabs(ac->mains_va - mains_va));
    worst = fmax(worst, fabs(ac->shore - spans_s(kind->shore, kind->shore_count, t, from, to) / t->step_s));
    worst = fmax(worst, fabs(ac->quiet - spans_s(kind->quiet, kind->quiet_count, t, from, to) / t->step_s));
    if (kind->generator == GENERATOR_TIMES)
        worst = fmax(worst, fabs(ac->generator - spans_s(kind->generator_times, 1, t, from, to) / t->step_s));
    return worst;
}

TEST(a_day_is_compiled_as_it_is_worked_out_step_by_step)
{
    static const double steps[] = { 60, 600, 3600 };

    for (uint64_t seed = 1; seed <= 30; seed++) {
        struct arena *arena = arena_new();
        struct random_boat r;
        struct timeline t;
        char label[40];

        random_boat_make(&r, seed, RANDOM_ALL);
        snprintf(label, sizeof label, "boat %u", (unsigned)seed);
        assert_int_equal(timeline_new(&t, arena, &r.test.boat, steps[seed % 3]), 0);
        for (long day = 0; day < 3; day++) { /* into the same arrays, so that nothing of yesterday may stay */
            const struct day_kind *kind = &r.test.days[day % 2];

            double worst = 0;

            timeline_compile(&t, kind, day);
            for (size_t step = 0; step < t.steps; step++)
                worst = fmax(worst, step_difference(&t, kind, step));
            row_check(label, worst, 0, 1e-6, "property: compiled as worked out step by step");
        }
        arena_free(arena);
    }
    row_done();
}

/* At ten minutes a step the middle of a step is a place where the sun is known: every array's output, summed. */
TEST(panels_give_in_a_step_what_each_gives_at_its_middle)
{
    for (uint64_t seed = 40; seed < 60; seed++) {
        struct arena *arena = arena_new();
        struct random_boat r;
        struct sun_sky sky;
        struct timeline t;
        double worst = 0;

        random_boat_make(&r, seed, RANDOM_SOLAR);
        assert_int_equal(timeline_new(&t, arena, &r.test.boat, 600), 0);
        timeline_compile(&t, &r.test.days[1], 1);
        sun_sky_make(&sky, &r.test.boat, 1, timeline_irradiation(&r.test.boat, &r.test.days[1], 1));
        for (size_t step = 0; step < t.steps; step++) {
            const struct bus_step *bus = &t.buses[step];
            struct sun_moment moment = sun_sky_at(&sky, ((double)step + 0.5) * 600);
            double watts = 0, amps = 0;

            for (size_t i = 0; i < r.test.boat.solar_count; i++) {
                struct array_output out = sun_array(&sky, &moment, &r.test.solars[i], 0);

                if (r.test.solars[i].controller == CONTROLLER_PWM)
                    amps += out.current;
                else
                    watts += out.power;
            }
            worst = fmax(worst, fabs(bus->solar_w - watts) + fabs(bus->solar_a - amps));
        }
        row_check("panels", worst, 0, 1e-6, "property: the sum of the arrays");
        arena_free(arena);
    }
    row_done();
}

/* However long the step, a day's energy is the same. */
TEST(a_coarser_step_has_the_same_energy)
{
    for (uint64_t seed = 60; seed < 90; seed++) {
        struct arena *arena = arena_new();
        double wh[2] = { 0 };
        struct random_boat r;

        random_boat_make(&r, seed, RANDOM_ALL);
        for (int coarse = 0; coarse < 2; coarse++) {
            struct timeline t;

            assert_int_equal(timeline_new(&t, arena, &r.test.boat, coarse ? 3600 : 10), 0);
            timeline_compile(&t, &r.test.days[0], 0);
            for (size_t i = 0; i < t.steps; i++)
                for (int p = 0; p < LOAD_PRIORITIES; p++)
                    wh[coarse] += (t.buses[i].dc_w[p] + t.ac[i].ac_w[p] + t.ac[i].mains_w[p]) * t.step_s / HOUR_S;
        }
        row_check("energy of a day", wh[1], wh[0], 1e-6 * (1 + wh[0]), "property: exact weights");
        arena_free(arena);
    }
    row_done();
}

/* test_random_boats.c - laws of the simulation and the sizing that hold on any boat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "engine/sim.h"
#include "support/random_boat.h"
#include "support/test.h"

/* Everything that may go wrong. */
static const unsigned any_event = (1u << EVENT_KINDS) - 1;

static const struct week *week_of(struct arena *arena, const struct boat *boat, double step_s, double row_s)
{
    struct diag_list *diags = diag_list_new();
    struct week_options options = { step_s, row_s };
    const struct week *week = NULL;

    assert_int_equal(week_run(&week, arena, boat, &options, diags), STATUS_OK);
    diag_list_free(diags);
    return week;
}

static const struct size *size_of(struct arena *arena, const struct boat *boat)
{
    struct diag_list *diags = diag_list_new();
    const struct size *size = NULL;

    assert_int_equal(size_run(&size, arena, boat, diags), STATUS_OK);
    diag_list_free(diags);
    return size;
}

/* ---- the account ---- */

TEST(energy_closes_on_any_boat)
{
    static const double steps[] = { 20, 60, 600, 3600 };
    size_t short_of = 0, full = 0, generated = 0;

    for (uint64_t seed = 1; seed <= 120; seed++) {
        struct arena *arena = arena_new();
        const struct week_summary *s;
        struct random_boat r;
        char label[60];

        random_boat_make(&r, seed, RANDOM_ALL);
        s = &week_of(arena, &r.test.boat, steps[seed % 4], -1)->summary;
        snprintf(label, sizeof label, "boat %u, step %.0f s", (unsigned)seed, steps[seed % 4]);
        row_check(label, s->energy_error_wh / (1 + s->load_wh + s->solar_wh + s->charger_wh), 0, 1e-9,
                  "property: energy is conserved");
        assert_true(s->battery_loss_wh >= -1e-6 * (1 + s->load_wh));
        assert_true(s->inverter_loss_wh >= -1e-9 && s->unserved_wh >= -1e-6 && s->unserved_wh <= s->load_wh + 1e-6);
        short_of += s->unserved_wh > 1;
        full += s->solar_spilled_wh > 1;
        generated += s->generator_h > 0;
        arena_free(arena);
    }
    row_done();
    assert_true(short_of > 10 && full > 10 && generated > 10); /* the boats reach into every corner */
}

/* Rows of a step each, summed, are the summary: nothing is counted twice or left out. */
TEST(rows_add_up_to_the_summary)
{
    for (uint64_t seed = 200; seed < 230; seed++) {
        struct arena *arena = arena_new();
        double solar = 0, spilled = 0, alternator = 0, charger = 0, load = 0, unserved = 0, lowest = 1;
        const struct week *week;
        struct random_boat r;

        random_boat_make(&r, seed, RANDOM_ALL);
        week = week_of(arena, &r.test.boat, 300, 0);
        for (size_t i = 0; i < week->row_count; i++) {
            const struct week_row *row = &week->rows[i];

            solar += row->solar_w / 12;
            spilled += row->solar_spilled_w / 12;
            alternator += row->alternator_w / 12;
            charger += row->charger_w / 12;
            load += row->load_w / 12;
            unserved += row->unserved_w / 12;
            lowest = fmin(lowest, row->charge);
            assert_true(row->unserved_w >= -1e-9 && row->unserved_w <= row->load_w + 1e-9);
            assert_true(row->bank_a == 0 || fabs(row->bank_a) > 1e-12); /* rounding is not a current */
        }
        row_check("solar", solar, week->summary.solar_wh, 1e-6, "property: sums agree");
        row_check("spilled", spilled, week->summary.solar_spilled_wh, 1e-6, "property: sums agree");
        row_check("alternators", alternator, week->summary.alternator_wh, 1e-6, "property: sums agree");
        row_check("chargers", charger, week->summary.charger_wh, 1e-6, "property: sums agree");
        row_check("loads", load, week->summary.load_wh, 1e-6, "property: sums agree");
        row_check("unserved", unserved, week->summary.unserved_wh, 1e-6, "property: sums agree");
        row_check("lowest", fmin(lowest, r.test.boat.plan.start_charge.value), week->summary.min_charge, 1e-9,
                  "property: sums agree");
        arena_free(arena);
    }
    row_done();
}

/* What a boat has besides and never uses changes nothing. */
TEST(an_idle_bank_changes_nothing)
{
    for (uint64_t seed = 300; seed < 320; seed++) {
        struct arena *arena = arena_new();
        const struct week_summary *with, *without;
        struct random_boat r;

        random_boat_make(&r, seed, RANDOM_ALL & ~(unsigned)RANDOM_BANKS);
        without = &week_of(arena, &r.test.boat, 60, -1)->summary;
        r.test.banks[1] = r.test.banks[0];
        r.test.banks[1].role = BANK_START;
        r.test.boat.bank_count = 2;
        with = &week_of(arena, &r.test.boat, 60, -1)->summary;
        row_check("lowest charge", with->min_charge, without->min_charge, 0, "property: an idle bank");
        row_check("loads", with->load_wh, without->load_wh, 0, "property: an idle bank");
        row_check("solar", with->solar_wh, without->solar_wh, 0, "property: an idle bank");
        arena_free(arena);
    }
    row_done();
}

/* ---- runs that stop early, and days that are shared ---- */

struct outcome {
    int passes, ran_to_the_end;
    double end_charge, min_charge, load_wh;
};

static struct outcome outcome_of(const struct boat *boat, struct timelines *timelines, unsigned stop_on, double scale)
{
    struct sim_options options = sim_plain(boat);
    struct arena *arena = arena_new();
    struct outcome out;
    struct sim sim;

    options.step_s = 300;
    options.days *= 2;
    options.bank_scale = options.solar_scale = options.charger_scale = scale;
    options.stop_on = stop_on;
    options.timelines = timelines;
    assert_int_equal(sim_new(&sim, arena, boat, &options), 0);
    assert_int_equal(sim_run(&sim), 0);
    out = (struct outcome){ sim_passes(&sim), !sim.stopped, sim.days[sim.day_count - 1].end_charge, sim.min_charge,
                            sim.total.load_wh };
    arena_free(arena);
    return out;
}

TEST(a_run_that_stops_at_its_first_breach_says_what_a_whole_one_says)
{
    size_t passed = 0, stopped = 0;

    for (uint64_t seed = 400; seed < 520; seed++) {
        struct outcome whole, early;
        struct random_boat r;

        random_boat_make(&r, seed, RANDOM_ALL);
        whole = outcome_of(&r.test.boat, NULL, 0, 1);
        early = outcome_of(&r.test.boat, NULL, any_event, 1);
        assert_int_equal(early.passes, whole.passes);
        assert_int_equal(early.ran_to_the_end, whole.passes);
        assert_true(whole.ran_to_the_end && early.load_wh <= whole.load_wh);
        if (early.passes)
            row_check("end of a run that passes", early.end_charge, whole.end_charge, 0, "property: the same run");
        passed += (size_t)early.passes;
        stopped += !early.ran_to_the_end;
    }
    row_done();
    assert_true(passed > 5 && stopped > 5);
}

/* Days kept from other runs, all of them or only the first few, give the same as days compiled anew. */
TEST(shared_days_are_the_same_days)
{
    for (uint64_t seed = 600; seed < 630; seed++) {
        struct arena *arena = arena_new();
        struct timelines *all, *few;
        struct random_boat r;

        random_boat_make(&r, seed, RANDOM_ALL);
        all = timelines_new(arena, &r.test.boat, 300, 2 * r.test.boat.plan.day_count);
        few = timelines_new(arena, &r.test.boat, 300, 2);
        for (double scale = 0; scale < 3; scale += 0.7) {
            struct outcome alone = outcome_of(&r.test.boat, NULL, 0, scale + 0.1);
            struct outcome shared = outcome_of(&r.test.boat, all, 0, scale + 0.1);
            struct outcome partly = outcome_of(&r.test.boat, few, 0, scale + 0.1);

            assert_memory_equal(&shared, &alone, sizeof alone);
            assert_memory_equal(&partly, &alone, sizeof alone);
        }
        arena_free(arena);
    }
}

/* ---- sizes ---- */

enum knob { BANK, SOLAR, CHARGER };

/* Whether a size passes, by whole runs of their own: the plan twice over, a minute a step or the plan's own. */
static int whole_run_passes(const struct boat *boat, enum knob knob, double scale)
{
    struct sim_options options = sim_plain(boat);
    struct arena *arena = arena_new();
    struct sim sim;
    int passes;

    *(knob == BANK ? &options.bank_scale : knob == SOLAR ? &options.solar_scale : &options.charger_scale) = scale;
    options.days *= 2;
    options.step_s = fmax(options.step_s, 60);
    assert_int_equal(sim_new(&sim, arena, boat, &options), 0);
    assert_int_equal(sim_run(&sim), 0);
    passes = !sim.event_steps[EVENT_UNSERVED] && !sim.event_steps[EVENT_FLOOR] && !sim.event_steps[EVENT_CUT_OUT] &&
             !sim.event_steps[EVENT_SHED] &&
             sim.days[sim.day_count - 1].end_charge >= sim.days[sim.day_count / 2 - 1].end_charge - 0.01;
    arena_free(arena);
    return passes;
}

/* Share of what is installed, to 1 %, by halving; 0: passes without; -1: nothing up to 32 times as much passes. */
static double whole_run_smallest(const struct boat *boat, enum knob knob)
{
    double fails = 0, passes = 1;

    if (knob != BANK && whole_run_passes(boat, knob, 0))
        return 0;
    for (; !whole_run_passes(boat, knob, passes); passes *= 2) {
        fails = passes;
        if (passes >= 32)
            return -1;
    }
    while (passes - fails > 0.01 * passes) {
        double half = (fails + passes) / 2;

        *(whole_run_passes(boat, knob, half) ? &passes : &fails) = half;
    }
    return passes;
}

static void check_smallest(const char *label, const struct boat *boat, enum knob knob, double installed, double said)
{
    double share = whole_run_smallest(boat, knob);

    row_check(label, said, installed > 0 && share >= 0 ? share * installed : -1, 0, "property: the same by whole runs");
}

TEST(sizes_are_those_that_whole_runs_find)
{
    size_t found = 0, none = 0, without = 0, overloaded = 0;

    for (uint64_t seed = 700; seed < 780; seed++) {
        struct arena *arena = arena_new();
        const struct size *s;
        struct random_boat r;

        random_boat_make(&r, seed, RANDOM_ALL);
        r.test.boat.plan.step = test_given(900);
        if (seed % 2)
            r.test.inverters[0].power = test_given(20); /* overloaded, which no bank mends and no size counts */
        s = size_of(arena, &r.test.boat);
        check_smallest("bank", &r.test.boat, BANK, s->bank.installed_ah, s->bank.simulated_ah);
        check_smallest("solar", &r.test.boat, SOLAR, s->solar.installed_w, s->solar.simulated_w);
        check_smallest("charger", &r.test.boat, CHARGER, s->charger.installed_a, s->charger.simulated_a);
        found += s->bank.simulated_ah > 0;
        overloaded += s->bank.simulated_ah > 0 && s->bank.simulated_ah <= s->bank.installed_ah && !s->installed_passes;
        none += s->bank.simulated_ah < 0;
        without += s->solar.simulated_w == 0 || s->charger.simulated_a == 0;
        arena_free(arena);
    }
    row_done();
    assert_true(found > 10 && none > 10 && without > 5 && overloaded > 2);
}

/* One input of a boat made harder on it. */
struct strain {
    const char *what;
    void (*apply)(struct random_boat *);
};

static void more_load(struct random_boat *r)
{
    for (size_t i = 0; i < r->test.boat.load_count; i++)
        r->test.loads[i].power = test_given(r->test.loads[i].power.value * 1.3);
}

static void less_sun(struct random_boat *r)
{
    for (int m = 0; m < MONTHS; m++)
        r->test.boat.site.irradiation[m] = test_given(r->test.boat.site.irradiation[m].value * 0.7);
}

static void higher_floor(struct random_boat *r)
{
    r->test.banks[0].floor = test_given(r->test.banks[0].floor.value + 0.1);
}

static void hungrier_inverter(struct random_boat *r)
{
    r->test.inverters[0].idle_power = test_given(40);
}

static void more_shading(struct random_boat *r)
{
    for (size_t i = 0; i < r->test.boat.solar_count; i++)
        r->test.solars[i].shading = test_given(0.3);
}

static const struct strain strains[] = {
    { "more load", more_load },       { "less sun", less_sun },         { "a higher floor", higher_floor },
    { "more idle draw", hungrier_inverter }, { "more shading", more_shading },
};

/*
 * What the searches rest on: a plan that runs without a breach does so with a larger bank or array, and on an easier
 * boat. Nothing that starts and stops by the charge or the volts is on board: an automatic generator or an inverter
 * that trips may put off a breach by acting earlier. That the bank ends no lower the second time than the first is
 * left out too: a boat that does better in the first plan has more to lose in the second.
 */
static int unbroken(const struct boat *boat, enum knob knob, double scale)
{
    struct sim_options options = sim_plain(boat);
    struct arena *arena = arena_new();
    struct sim sim;
    int whole;

    *(knob == BANK ? &options.bank_scale : knob == SOLAR ? &options.solar_scale : &options.charger_scale) = scale;
    options.step_s = 900;
    options.stop_on = any_event & ~(1u << EVENT_INVERTER_OVERLOAD | 1u << EVENT_SHORE_OVERLOAD | 1u << EVENT_NO_AC |
                                    1u << EVENT_GENERATOR_OVERLOAD);
    assert_int_equal(sim_new(&sim, arena, boat, &options), 0);
    assert_int_equal(sim_run(&sim), 0);
    whole = !sim.stopped;
    arena_free(arena);
    return whole;
}

static void steady_boat(struct random_boat *r, uint64_t seed)
{
    random_boat_make(r, seed, RANDOM_SOLAR | RANDOM_ENGINE | RANDOM_SHORE | RANDOM_GENERATOR_HOURS | RANDOM_INVERTER);
    r->test.inverters[0].cut_out = test_given(0);
}

TEST(more_never_breaks_what_less_carries)
{
    size_t broken = 0, whole = 0;

    for (uint64_t seed = 800; seed < 900; seed++)
        for (enum knob knob = BANK; knob <= CHARGER; knob++) {
            struct random_boat r;
            int before = 0;

            steady_boat(&r, seed);
            for (double scale = 0.1; scale < 20; scale *= 1.7) {
                int now = unbroken(&r.test.boat, knob, scale);

                if (before && !now)
                    fail_msg("boat %u, knob %d: breaks at %g, not below", (unsigned)seed, (int)knob, scale);
                before = now;
                broken += !now;
                whole += (size_t)now;
            }
        }
    assert_true(broken > 100 && whole > 100);
}

TEST(what_a_harder_boat_carries_an_easier_one_does)
{
    size_t told_apart = 0;

    for (uint64_t seed = 900; seed < 1000; seed++)
        for (size_t i = 0; i < sizeof strains / sizeof *strains; i++) {
            struct random_boat easy, hard;

            steady_boat(&easy, seed);
            steady_boat(&hard, seed);
            strains[i].apply(&hard);
            for (double scale = 0.2; scale < 8; scale *= 2) {
                int easy_whole = unbroken(&easy.test.boat, BANK, scale);
                int hard_whole = unbroken(&hard.test.boat, BANK, scale);

                if (hard_whole && !easy_whole)
                    fail_msg("boat %u carries its plan with %s, not without", (unsigned)seed, strains[i].what);
                told_apart += easy_whole != hard_whole;
            }
        }
    assert_true(told_apart > 20);
}

/* test_dispatch.c - the simulation against its order of dispatch, written down once more step by step.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/sim.h"
#include "support/random_boat.h"
#include "support/test.h"

/*
 * The order that sim.h states, with nothing but the bank's own questions (what do you take, what do you give) and without
 * the short cuts of the simulation: no bound, no rest made up for later, no bus left out. It ends with the first breach,
 * so that nothing is ever cut. House bank first, at most three banks.
 */
enum { BANKS = 3 };
enum { LINK, SOLAR, ALTERNATOR, CHARGER, SOURCES };

struct sums {
    double solar, spilled, alternator, charger, load, generator_h, mains;
};

struct book {
    const struct boat *boat;
    struct timeline timeline;
    struct bank_model model[BANKS];
    struct bank_state state[BANKS];
    double volts[BANKS], step_h;
    int generator_on;
    struct sums sums, at_midnight;
    /* of the step */
    double offer[BANKS][SOURCES], need[BANKS], wanted[BANKS], link_out[BANKS], link_loss[BANKS], inverter_out;
};

static const struct ac_step *ac_of(const struct book *b, size_t step)
{
    return &b->timeline.ac[step];
}

static void book_offers(struct book *b, size_t step)
{
    memset(b->offer, 0, sizeof b->offer);
    for (size_t i = 0; i < b->boat->bank_count; i++) {
        const struct bus_step *in = &b->timeline.buses[i * b->timeline.steps + step];

        b->offer[i][SOLAR] = in->solar_w + in->solar_a * b->volts[i];
        b->offer[i][ALTERNATOR] = in->alternator_a * b->volts[i];
        b->need[i] = b->wanted[i] = in->dc_w[0] + in->dc_w[1] + in->dc_w[2];
        b->link_out[i] = b->link_loss[i] = 0;
    }
    b->inverter_out = 0;
}

static int generator_wanted(const struct book *b, const struct day_kind *kind, const struct ac_step *ac)
{
    double charge = bank_charge(&b->model[0], &b->state[0]);
    const struct generator *g = b->boat->generators;

    if (!b->boat->generator_count || ac->shore >= 0.5 || kind->generator == GENERATOR_OFF)
        return 0;
    if (kind->generator == GENERATOR_TIMES)
        return ac->generator >= 0.5;
    return ac->quiet < 0.5 && (b->generator_on ? charge < g->stop_charge.value : charge <= g->start_charge.value);
}

/* Loads first, then chargers in the order of the profile; 1: more is wanted than it carries. */
static int book_mains(struct book *b, const struct ac_step *ac, double limit_va, unsigned feed)
{
    double left = limit_va - ac->ac_va - ac->mains_va;

    for (size_t i = 0; i < b->boat->charger_count && left > 0; i++) {
        const struct charger *c = &b->boat->chargers[i];
        size_t bank = (size_t)(c->bank - b->boat->banks);
        double per_va = c->efficiency.value * c->power_factor.value;
        double dc = c->fed_by & feed ? fmin(c->current.value * b->volts[bank], left * per_va) : 0;

        b->offer[bank][CHARGER] += dc;
        left -= dc / per_va;
    }
    for (int p = 0; p < LOAD_PRIORITIES; p++)
        b->sums.mains += (ac->ac_w[p] + ac->mains_w[p]) * b->step_h;
    return ac->ac_va + ac->mains_va > limit_va * (1 + 1e-9);
}

static int book_inverter(struct book *b, const struct ac_step *ac)
{
    double want = ac->ac_w[0] + ac->ac_w[1] + ac->ac_w[2];
    const struct inverter *inverter = b->boat->inverters;
    struct inverter_model model;

    if (!b->boat->inverter_count)
        return want > 0;
    model = inverter_model(inverter);
    b->inverter_out = want;
    b->wanted[0] += want;
    b->need[0] += inverter_input_w(&model, want);
    return fmax(want, ac->ac_va * inverter->power_factor.value) > inverter->power.value * (1 + 1e-9);
}

static int book_ac(struct book *b, const struct day_kind *kind, size_t step)
{
    const struct ac_step *ac = ac_of(b, step);
    const struct shore *shore = &b->boat->shore;

    b->generator_on = generator_wanted(b, kind, ac);
    if (shore->fitted && ac->shore >= 0.5)
        return book_mains(b, ac, shore->current.value * shore->voltage.value, FED_BY_SHORE);
    if (!b->generator_on)
        return book_inverter(b, ac);
    b->sums.generator_h += b->step_h;
    return book_mains(b, ac, b->boat->generators[0].power.value, FED_BY_GENERATOR);
}

static double book_spare(const struct book *b, size_t bank)
{
    double offered = b->offer[bank][SOLAR] + b->offer[bank][ALTERNATOR] + b->offer[bank][CHARGER] - b->link_out[bank];

    return offered > 0 ? offered - b->need[bank] : 0;
}

static void book_link(struct book *b, const struct dcdc *d, size_t from, size_t to)
{
    double efficiency = d->kind == LINK_RELAY ? 1 : d->efficiency.value;
    double idle = d->kind == LINK_RELAY ? 0 : d->idle_power.value;
    double set_v = bank_set_voltage(&b->model[to], &b->state[to]);
    double give = bank_accept_w(&b->model[to], &b->state[to], set_v) - b->offer[to][LINK];

    give = fmin(give, (book_spare(b, from) - idle) * efficiency);
    if (range_known(&d->current))
        give = fmin(give, d->current.value * b->volts[to]);
    if (give <= 0)
        return;
    b->link_out[from] += give / efficiency + idle;
    b->link_loss[from] += give / efficiency + idle - give;
    b->offer[to][LINK] += give;
}

static void book_links(struct book *b)
{
    for (size_t i = 0; i < b->boat->dcdc_count; i++) {
        const struct dcdc *d = &b->boat->dcdcs[i];
        size_t from = (size_t)(d->from - b->boat->banks), to = (size_t)(d->to - b->boat->banks);

        if (book_spare(b, from) > 0)
            book_link(b, d, from, to);
        else if (d->kind == LINK_RELAY && book_spare(b, to) > 0)
            book_link(b, d, to, from);
    }
}

/* Volts that the regulator of a source holds. */
static double book_set_v(const struct book *b, size_t bank, int source)
{
    double set_v = bank_set_voltage(&b->model[bank], &b->state[bank]);

    for (size_t i = 0; source == ALTERNATOR && i < b->boat->alternator_count; i++)
        if (b->boat->alternators[i].bank == b->boat->banks + bank)
            set_v = fmin(set_v, range_or(&b->boat->alternators[i].regulated_voltage, set_v));
    return set_v;
}

/* Sources serve in order, what they have left charges in order; 1: the bank cannot give the rest. */
static int book_bus(struct book *b, size_t bank)
{
    double need = b->need[bank] + b->link_out[bank], into = 0, offered = 0, left[SOURCES];
    struct bank_flow flow;

    for (int i = 0; i < SOURCES; i++) {
        left[i] = b->offer[bank][i] - fmin(need, b->offer[bank][i]);
        need -= b->offer[bank][i] - left[i];
        offered += b->offer[bank][i];
    }
    if (bank && b->need[bank] + b->link_out[bank] + offered <= 0) {
        bank_step(&b->model[bank], &b->state[bank], 0, 0);
        return 0;
    }
    if (need > 1e-9 && need > bank_deliver_w(&b->model[bank], &b->state[bank]) + 1e-9)
        return 1;
    for (int i = 0; i < SOURCES && need <= 1e-9; i++) {
        double set_v = book_set_v(b, bank, i), takes = bank_accept_w(&b->model[bank], &b->state[bank], set_v) - into;
        double taken = fmax(fmin(left[i], takes), 0);

        left[i] -= taken;
        into += taken;
    }
    flow = bank_step(&b->model[bank], &b->state[bank], need > 1e-9 ? -need : into > 1e-9 ? into : 0, offered > 0);
    b->volts[bank] = flow.volts_v;
    b->sums.solar += (b->offer[bank][SOLAR] - left[SOLAR]) * b->step_h;
    b->sums.spilled += left[SOLAR] * b->step_h;
    b->sums.alternator += (b->offer[bank][ALTERNATOR] - left[ALTERNATOR]) * b->step_h;
    b->sums.charger += (b->offer[bank][CHARGER] - left[CHARGER]) * b->step_h;
    b->sums.load += (b->wanted[bank] + b->link_loss[bank]) * b->step_h;
    return 0;
}

/* 1: something is not as it should be in this step. */
static int book_step(struct book *b, const struct day_kind *kind, size_t step)
{
    const struct bank_model *house = &b->model[0];
    int breach, sheds = bank_charge(house, &b->state[0]) <= house->floor;

    book_offers(b, step);
    breach = book_ac(b, kind, step);
    if (sheds && b->timeline.buses[step].dc_w[LOAD_SHED] + (b->inverter_out > 0 ? ac_of(b, step)->ac_w[LOAD_SHED] : 0) > 0)
        breach = 1;
    if (!breach)
        book_links(b);
    for (size_t i = 0; i < b->boat->bank_count && !breach; i++)
        breach = book_bus(b, i);
    return breach || bank_charge(house, &b->state[0]) < house->floor - 1e-9 ||
           (b->inverter_out > 0 && b->volts[0] < b->boat->inverters[0].cut_out.value);
}

static void book_open(struct book *b, struct arena *arena, const struct boat *boat, double step_s)
{
    *b = (struct book){ .boat = boat, .step_h = step_s / HOUR_S };
    assert_int_equal(timeline_new(&b->timeline, arena, boat, step_s), 0);
    for (size_t i = 0; i < boat->bank_count; i++) {
        bank_model_make(&b->model[i], &boat->banks[i], boat->banks[i].temperature.value, b->step_h);
        bank_state_rested(&b->model[i], i ? 1 : boat->plan.start_charge.value, &b->state[i]);
        b->volts[i] = bank_emf(&b->model[i], &b->state[i]);
    }
}

/* Steps until the breach, or all of the plan. */
static size_t book_run(struct book *b)
{
    const struct plan *plan = &b->boat->plan;

    for (size_t day = 0; day < plan->day_count; day++) {
        timeline_compile(&b->timeline, plan->days[day], (long)day);
        b->at_midnight = b->sums;
        for (size_t step = 0; step < b->timeline.steps; step++)
            if (book_step(b, plan->days[day], step))
                return day * b->timeline.steps + step;
    }
    b->at_midnight = b->sums;
    return plan->day_count * b->timeline.steps;
}

static void check_sums(unsigned seed, const struct totals *t, const struct sums *s)
{
    const struct {
        const char *what;
        double got, want;
    } rows[] = {
        { "solar", t->solar_wh, s->solar },       { "spilled", t->spilled_wh, s->spilled },
        { "alternator", t->alternator_wh, s->alternator }, { "charger", t->charger_wh, s->charger },
        { "loads", t->load_wh, s->load },         { "mains", t->mains_wh, s->mains },
        { "generator", t->generator_h, s->generator_h },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char label[40];

        snprintf(label, sizeof label, "boat %u, %s", seed, rows[i].what);
        row_check(label, rows[i].got, rows[i].want, 1e-6 * (1 + fabs(rows[i].want)), "property: as by the order of dispatch");
    }
}

/* Larger banks than usual, so that most plans get far before something breaches. */
static void enlarge(struct random_boat *r)
{
    for (size_t i = 0; i < r->test.boat.bank_count; i++) {
        struct bank *bank = &r->test.banks[i];

        bank->parallel = test_given(4);
        bank->max_charge = test_given(4 * bank->max_charge.value);
        bank->max_discharge = test_given(4 * bank->max_discharge.value);
    }
}

TEST(the_simulation_is_its_order_of_dispatch)
{
    static const double steps[] = { 60, 300, 600, 1800 };
    size_t whole = 0, broken = 0, linked = 0;

    for (unsigned seed = 2000; seed < 2300; seed++) {
        struct arena *arena = arena_new();
        struct sim_options options;
        struct random_boat r;
        struct book book;
        struct sim sim;
        size_t until;

        random_boat_make(&r, seed, RANDOM_ALL);
        enlarge(&r);
        options = sim_plain(&r.test.boat);
        options.step_s = steps[seed % 4];
        options.stop_on = (1u << EVENT_KINDS) - 1;
        book_open(&book, arena, &r.test.boat, options.step_s);
        until = book_run(&book);
        assert_int_equal(sim_new(&sim, arena, &r.test.boat, &options), 0);
        assert_int_equal(sim_run(&sim), 0);
        if (until < r.test.boat.plan.day_count * book.timeline.steps) {
            assert_true(sim.stopped);
            row_check("step of the breach", sim.running_s / options.step_s, (double)until, 0, "property: the same step");
            check_sums(seed, &sim.at_midnight, &book.at_midnight);
            broken++;
        } else {
            assert_false(sim.stopped);
            check_sums(seed, &sim.total, &book.sums);
            for (size_t i = 0; i < r.test.boat.bank_count; i++)
                row_check("charge at the end", bank_charge(sim.buses[i].model, &sim.buses[i].state),
                          bank_charge(&book.model[i], &book.state[i]), 1e-9, "property: as by the order of dispatch");
            whole++;
            linked += r.test.boat.dcdc_count > 0;
        }
        arena_free(arena);
    }
    row_done();
    assert_true(whole > 50 && broken > 50 && linked > 15);
}

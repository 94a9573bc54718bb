/* test_bank.c - laws a bank keeps whatever it is asked: limits, energy, size, step, stages.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>

#include "support/test.h"

#include "bank_samples.h"

/* Banks of every kind a walk is made with. */
struct walk {
    enum chemistry chemistry;
    double ah, temperature, step_h, ceiling;
};

static const struct walk walks[] = {
    { CHEMISTRY_FLOODED, 225, 25, 1 / 60.0, 1 },
    { CHEMISTRY_FLOODED, 440, 2, 0.25, 0.95 },
    { CHEMISTRY_AGM, 100, 35, 1 / 60.0, 1 },
    { CHEMISTRY_AGM, 300, 25, 1, 1 },
    { CHEMISTRY_GEL, 210, 15, 5 / 60.0, 1 },
    { CHEMISTRY_GEL, 70, -10, 1 / 3600.0, 1 },
    { CHEMISTRY_LFP, 280, 25, 1 / 60.0, 0.9 },
    { CHEMISTRY_LFP, 100, 8, 0.25, 1 },
    { CHEMISTRY_LFP, 560, 25, 1, 1 },
    { CHEMISTRY_LFP, 200, -5, 1 / 60.0, 1 },
};
static const size_t walk_count = sizeof walks / sizeof *walks;

static struct bank_model walk_model(const struct walk *w)
{
    struct bank bank = sample_bank(w->chemistry, w->ah);
    struct bank_model model;

    bank.ceiling = given(w->ceiling);
    bank_model_make(&model, &bank, w->temperature, w->step_h);
    return model;
}

/* A power for the next step: mostly ordinary, often just the limit, at times far beyond it. */
static double walk_power(const struct bank_model *model, const struct bank_state *now, uint64_t *seed,
                         double set_v)
{
    double kind = next_random(seed), part = next_random(seed), usual = model->capacity_ah * model->empty_v;

    if (kind < 0.30)
        return (part - 0.5) * 0.4 * usual;
    if (kind < 0.50)
        return bank_accept_w(model, now, set_v);
    if (kind < 0.70)
        return -bank_deliver_w(model, now);
    if (kind < 0.80)
        return part * part * bank_accept_w(model, now, set_v);
    if (kind < 0.90)
        return -part * part * bank_deliver_w(model, now);
    if (kind < 0.95)
        return (part - 0.5) * 1e3 * usual;
    return 0;
}

/* The laws of one step. set_v > 0: the power was within the limits at that set voltage. */
static void check_step(const struct bank_model *m, const struct bank_state *before,
                       const struct bank_state *after, const struct bank_flow *f, double power, double set_v)
{
    const double hair = 1e-9;
    double start = bank_stored_wh(m, before), end = bank_stored_wh(m, after);
    double moved = f->current_a * f->volts_v * m->step_h;
    double limit_v = set_v > 0 ? set_v : m->limit_v;

    assert_true(isfinite(f->current_a) && isfinite(f->volts_v));
    assert_true(moved - (end - start) >= -hair * (1 + fabs(moved)) - 1e-12 * start);
    assert_true(after->available_ah >= -hair && after->available_ah <= m->share * m->total_ah * (1 + hair));
    assert_true(after->bound_ah >= -hair &&
                after->bound_ah <= (1 - m->share) * m->total_ah * (1 + hair) + hair);
    assert_true(bank_charge(m, after) <= fmax(m->ceiling, bank_charge(m, before)) + hair);
    assert_true(f->current_a <= m->max_charge_a * (1 + hair) &&
                -f->current_a <= m->max_discharge_a * (1 + hair));
    if (f->current_a < 0)
        assert_true(f->volts_v >= m->empty_v * (1 - hair));
    if (f->current_a > 0)
        assert_true(f->volts_v <= limit_v * (1 + hair));
    assert_true(fabs(f->current_a * f->volts_v) <= fabs(power) * (1 + hair));
    assert_true(f->current_a * power >= 0);
}

TEST(random_walks_keep_the_laws)
{
    for (size_t w = 0; w < walk_count; w++) {
        struct bank_model model = walk_model(&walks[w]);
        struct bank_state now;
        uint64_t seed = 11 + w;

        bank_state_rested(&model, fmin(0.6, walks[w].ceiling), &now);
        for (int i = 0; i < 60000; i++) {
            struct bank_state before = now;
            double set_v = next_random(&seed) < 0.5 ? model.absorption_v
                                                    : bank_emf(&model, &now) + 3 * next_random(&seed);
            double power = walk_power(&model, &now, &seed, set_v);
            int within =
                power <= bank_accept_w(&model, &now, set_v) && -power <= bank_deliver_w(&model, &now);
            struct bank_flow flow = bank_step(&model, &now, power, power > 0);

            check_step(&model, &before, &now, &flow, power, within ? set_v : 0);
            if (within)
                assert_true(fabs(flow.current_a * flow.volts_v - power) <= 1e-9 * fabs(power));
        }
    }
}

static void check_same(const struct bank_state *a, const struct bank_state *b, const struct bank_flow *f,
                       const struct bank_flow *g)
{
    const double hair = 1e-12;

    assert_true(fabs(a->available_ah - b->available_ah) <= hair * (1 + a->available_ah));
    assert_true(fabs(a->bound_ah - b->bound_ah) <= hair * (1 + a->bound_ah));
    assert_int_equal(a->stage, b->stage);
    assert_true(fabs(f->current_a - g->current_a) <= hair * (1 + fabs(g->current_a)));
    assert_true(fabs(f->volts_v - g->volts_v) <= hair * g->volts_v);
}

/*
 * The short ways are the long way: where a bound says that the bank gives or takes it all, it is within what the
 * limits say, and the step is that of bank_step; where it does not, nothing has moved.
 */
TEST(a_step_by_bounds_is_the_step_by_limits)
{
    size_t drawn = 0, filled = 0, refused = 0;

    for (size_t w = 0; w < walk_count; w++) {
        struct bank_model model = walk_model(&walks[w]);
        struct bank_state now;
        uint64_t seed = 311 + w;

        bank_state_rested(&model, fmin(0.6, walks[w].ceiling), &now);
        for (int i = 0; i < 60000; i++) {
            double set_v = bank_set_voltage(&model, &now), power = walk_power(&model, &now, &seed, set_v);
            double can = power > 0 ? bank_accept_w(&model, &now, set_v) : bank_deliver_w(&model, &now);
            struct bank_state before = now, quick = now;
            struct bank_flow flow = { 0, 0 }, long_way = bank_step(&model, &now, power, power > 0);
            int known = power > 0 ? bank_try_fill(&flow, &model, &quick, power, set_v)
                                  : bank_try_draw(&flow, &model, &quick, -power, 0);

            if (known) {
                assert_true(fabs(power) <= can * (1 + 1e-12));
                check_same(&quick, &now, &flow, &long_way);
            } else {
                assert_true(quick.available_ah == before.available_ah && quick.bound_ah == before.bound_ah);
                assert_true(quick.stage == before.stage && quick.stage_h == before.stage_h);
            }
            drawn += known && power < 0;
            filled += known && power > 0;
            refused += !known;
        }
    }
    assert_true(drawn > 10000 && filled > 10000 && refused > 10000);
}

TEST(an_intake_is_the_acceptance_and_its_step)
{
    for (size_t w = 0; w < walk_count; w++) {
        struct bank_model model = walk_model(&walks[w]);
        struct bank_state now;
        uint64_t seed = 511 + w;

        bank_state_rested(&model, fmin(0.6, walks[w].ceiling), &now);
        for (int i = 0; i < 20000; i++) {
            double set_v = bank_emf(&model, &now) + 3 * next_random(&seed);
            struct bank_state other = now;
            struct bank_intake intake;
            struct bank_flow flow, long_way;

            bank_intake(&intake, &model, &now, set_v);
            if (intake.power_w > 0) {
                double power = intake.power_w * (i % 3 ? 1 : next_random(&seed));

                bank_take(&flow, &model, &other, &intake, power);
                long_way = bank_step(&model, &now, power, 1);
                check_same(&other, &now, &flow, &long_way);
                assert_true(flow.volts_v <= fmin(set_v, model.limit_v) * (1 + 1e-9));
            }
            bank_step(&model, &now, -fmin(bank_deliver_w(&model, &now), 2 * intake.power_w * next_random(&seed)), 0);
        }
    }
}

/* However it is walked about, less comes out than went in and was stored. */
TEST(a_bank_is_passive)
{
    for (size_t w = 0; w < walk_count; w++) {
        struct bank_model model = walk_model(&walks[w]);
        struct bank_state now;
        uint64_t seed = 99 + w;
        double in = 0, lost = 0;

        bank_state_rested(&model, 0.5, &now);
        for (int hop = 0; hop < 40; hop++) {
            double start = bank_stored_wh(&model, &now);

            in = 0;
            for (int i = 0; i < 500; i++) {
                struct bank_flow f =
                    bank_step(&model, &now, walk_power(&model, &now, &seed, model.absorption_v), 1);

                in += f.current_a * f.volts_v * model.step_h;
            }
            lost = in - (bank_stored_wh(&model, &now) - start);
            assert_true(lost > 0);
        }
    }
}

/* The formulas of the header hold to what the header says: volts against emf, resistance and acceptance. */
TEST(volts_are_as_the_formulas_say)
{
    double worst = 0;

    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model model = sample_model(c, 100, 1 / 3600.0);

        for (double charge = 0.1; charge < 0.96; charge += 0.05)
            for (double rate = -1.0; rate <= 0.5; rate += 0.05) {
                struct bank_state now;
                struct bank_flow f;
                double emf, ohm = model.resistance_ohm, accept = chemistry_acceptance(c, charge) * 100;

                bank_state_rested(&model, charge, &now);
                emf = bank_emf(&model, &now);
                if (rate > 0) {
                    ohm = (model.absorption_v - emf) / accept;
                    if (100 * rate > accept)
                        break;
                }
                f = bank_step(&model, &now, 100 * rate * emf, 1);
                worst = fmax(worst, fabs(f.volts_v / (emf + f.current_a * ohm) - 1));
            }
    }
    row_check("largest relative miss of the volts", worst, 0, 1.2e-3, "property: one Newton step");
    row_done();
}

TEST(acceptance_is_the_table_at_the_set_volts)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank bank = sample_bank(c, 100);
        struct bank_model model;
        struct bank_state now;

        bank.max_charge = given(1000);
        bank_model_make(&model, &bank, 25, 1 / 3600.0);
        for (double charge = 0.3; charge < 0.96; charge += 0.1) {
            double amps, half, middle;

            bank_state_rested(&model, charge, &now);
            middle = (bank_emf(&model, &now) + model.absorption_v) / 2;
            amps = bank_accept_w(&model, &now, model.absorption_v) / model.absorption_v;
            half = bank_accept_w(&model, &now, middle) / middle;
            row_check(chemistry_facts(c)->name, amps, 100 * chemistry_acceptance(c, charge), 0.02 * amps,
                      "by hand");
            row_check("half the drive, half the current", half, amps / 2, 0.01 * amps, "by hand");
        }
    }
    row_done();
}

/* At the same charge history the larger bank takes and gives more, with more of everything but volts. */
TEST(a_larger_bank_takes_and_gives_more)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model small = sample_model(c, 200, 1 / 60.0), large = sample_model(c, 206, 1 / 60.0);
        struct bank_state a, b;
        uint64_t seed = 5;

        bank_state_rested(&small, 0.8, &a);
        bank_state_rested(&large, 0.8, &b);
        for (int i = 0; i < 20000; i++) {
            double power = walk_power(&small, &a, &seed, small.absorption_v);
            double set_v = small.empty_v + 5 * next_random(&seed);

            bank_step(&small, &a, power, 1);
            b.available_ah = a.available_ah * 206 / 200;
            b.bound_ah = a.bound_ah * 206 / 200;
            b.stage = a.stage;
            assert_true(bank_accept_w(&large, &b, set_v) >= bank_accept_w(&small, &a, set_v));
            assert_true(bank_deliver_w(&large, &b) >= bank_deliver_w(&small, &a));
        }
    }
}

/* The same plan in the same house: never less charge in the larger bank, in ampere-hours missing never more.
 */
TEST(a_larger_bank_serves_the_same_plan)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model small = sample_model(c, 200, 1 / 60.0), large = sample_model(c, 260, 1 / 60.0);
        struct bank_state a, b;

        bank_state_rested(&small, 1, &a);
        bank_state_rested(&large, 1, &b);
        for (int i = 0; i < 7 * 1440; i++) {
            double sun = fmax(0, 300 * sin(2 * M_PI * (i % 1440) / 1440.0 - M_PI / 2)),
                   load = 60 + 40 * (i % 97 < 20);
            double pa = fmin(sun - load, bank_accept_w(&small, &a, bank_set_voltage(&small, &a)));
            double pb = fmin(sun - load, bank_accept_w(&large, &b, bank_set_voltage(&large, &b)));

            bank_step(&small, &a, fmax(pa, -bank_deliver_w(&small, &a)), sun > 0);
            bank_step(&large, &b, fmax(pb, -bank_deliver_w(&large, &b)), sun > 0);
            assert_true(bank_charge(&large, &b) >= bank_charge(&small, &a) - 2e-3);
        }
    }
}

/* Charge after a day of swinging power, by step length. */
static double charge_after_a_day(enum chemistry chemistry, double step_h)
{
    struct bank_model model = sample_model(chemistry, 200, step_h);
    struct bank_state now;
    int steps = (int)lround(24 / step_h);

    bank_state_rested(&model, 0.7, &now);
    for (int i = 0; i < steps; i++) {
        double power = -30 - 250 * sin(2 * M_PI * (i + 0.5) * step_h / 12);

        bank_step(&model, &now, power, power > 0);
    }
    return bank_charge(&model, &now);
}

TEST(a_minute_is_short_enough)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        double second = charge_after_a_day(c, 1 / 3600.0), minute = charge_after_a_day(c, 1 / 60.0);
        double minutes = charge_after_a_day(c, 2 / 60.0);

        row_check(chemistry_facts(c)->name, minute, second, 5e-4, "property: 1 s against 1 min");
        row_check("first order: half the step, half the error", (minute - second) / (minutes - second), 0.5,
                  0.12, "property: order of the step");
    }
    row_done();
}

struct ode {
    const struct bank_model *model;
    struct bank_state now; /* only to look volts up */
    double power;
};

/* The same bank written as differential equations: constant power out, emf of the available head, resistance.
 */
static int slopes(double hours, const double q[], double dq[], void *context)
{
    struct ode *ode = context;
    const struct bank_model *m = ode->model;
    double k = m->rate_per_h, c = m->share, flow = k * c * q[1] - k * (1 - c) * q[0], emf, current;

    (void)hours;
    ode->now.available_ah = q[0];
    ode->now.bound_ah = q[1];
    emf = bank_emf(m, &ode->now);
    current = 2 * ode->power / (emf + sqrt(emf * emf - 4 * ode->power * m->resistance_ohm));
    dq[0] = flow - current;
    dq[1] = -flow;
    return GSL_SUCCESS;
}

TEST(a_discharge_is_what_an_integrator_finds)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model model = sample_model(c, 200, 10 / 3600.0);
        struct bank_state now;
        struct ode ode = { .model = &model, .power = 350 };
        gsl_odeiv2_system system = { slopes, NULL, 2, &ode };
        gsl_odeiv2_driver *driver =
            gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rkf45, 1e-4, 1e-8, 0);
        double q[2], t = 0;

        bank_state_rested(&model, 0.9, &now);
        q[0] = now.available_ah;
        q[1] = now.bound_ah;
        assert_int_equal(gsl_odeiv2_driver_apply(driver, &t, 2, q), GSL_SUCCESS);
        for (int i = 0; i < 720; i++)
            bank_step(&model, &now, -350, 0);
        /* the integrator knows no self-discharge */
        row_check("available well after 2 h at 350 W", now.available_ah, q[0], 0.05, "property: GSL rkf45");
        row_check("bound well", now.bound_ah, q[1], 0.05, "property: GSL rkf45");
        gsl_odeiv2_driver_free(driver);
    }
    row_done();
}

TEST(charge_counts_from_the_end_of_a_20_h_discharge)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model model = sample_model(c, 100, 1 / 60.0);
        struct bank_state now;

        bank_state_rested(&model, 1, &now);
        row_check("full: both wells", now.available_ah + now.bound_ah, model.total_ah, 1e-9, "by hand");
        row_check("full", bank_charge(&model, &now), 1, 1e-12, "by hand");
        row_check("rested volts, full", bank_emf(&model, &now),
                  chemistry_open_circuit(c, 1) * (c == CHEMISTRY_LFP ? 4 : 6), 1e-9, "by hand");
        bank_state_rested(&model, 0.25, &now);
        row_check("a quarter", bank_charge(&model, &now), 0.25, 1e-12, "by hand");
        row_check("rested volts, a quarter", bank_emf(&model, &now),
                  chemistry_open_circuit(c, 0.25) * (c == CHEMISTRY_LFP ? 4 : 6), 0.02, "by hand");
        while (bank_deliver_w(&model, &now) > 60)
            bank_step(&model, &now, -60, 0);
        row_check("the end of a slow discharge", bank_charge(&model, &now), 0, 0.005, "by hand");
    }
    row_done();
}

TEST(size_scales_everything)
{
    struct bank bank = sample_bank(CHEMISTRY_AGM, 100);
    struct bank_model one, six;
    struct bank_state a, b;

    bank_model_make(&one, &bank, 25, 1 / 60.0);
    bank.series = given(2);
    bank.parallel = given(3);
    bank_model_make(&six, &bank, 25, 1 / 60.0);
    bank_state_rested(&one, 0.7, &a);
    bank_state_rested(&six, 0.7, &b);
    row_check("ampere-hours", six.capacity_ah, 3 * one.capacity_ah, 1e-9, "by hand");
    row_check("volts", bank_emf(&six, &b), 2 * bank_emf(&one, &a), 1e-9, "by hand");
    row_check("ohms", six.resistance_ohm, one.resistance_ohm * 2 / 3, 1e-12, "by hand");
    row_check("stored", bank_stored_wh(&six, &b), 6 * bank_stored_wh(&one, &a), 1e-6, "by hand");
    row_check("takes", bank_accept_w(&six, &b, six.absorption_v),
              6 * bank_accept_w(&one, &a, one.absorption_v), 1e-6, "by hand");
    row_check("gives", bank_deliver_w(&six, &b), 6 * bank_deliver_w(&one, &a), 1e-6, "by hand");
    bank.internal_resistance = given(0.009);
    row_check("ohms of a label", bank_resistance(&bank), 0.006, 1e-12, "by hand: 9 mohm x 2 / 3");
    row_done();
}

TEST(age_and_cold_take_capacity)
{
    struct bank bank = sample_bank(CHEMISTRY_FLOODED, 200);
    struct bank_model model;

    bank.health = given(0.8);
    bank_model_make(&model, &bank, 10, 1 / 60.0);
    row_check("80 % health at 10 C", model.capacity_ah, 200 * 0.8 / 1.19, 1e-9,
              "IEEE 485 size factor 1.190, from memory");
    row_check("absorption is raised in the cold", model.absorption_v, 14.6 + 15 * 0.027, 1e-9,
              "-24 to -30 mV/K of 12 V flooded, from memory");
    row_done();
}

TEST(no_cold_charging_of_lfp)
{
    struct bank bank = sample_bank(CHEMISTRY_LFP, 100);
    struct bank_model model;
    struct bank_state now;
    struct bank_flow flow;

    bank_model_make(&model, &bank, -2, 1 / 60.0);
    bank_state_rested(&model, 0.5, &now);
    row_check("takes nothing at -2 C", bank_accept_w(&model, &now, 14.2), 0, 0, "by hand");
    flow = bank_step(&model, &now, 500, 1);
    row_check("not even when told to", flow.current_a, 0, 0, "by hand");
    assert_true(bank_deliver_w(&model, &now) > 500);
    bank_model_make(&model, &bank, 7, 1 / 60.0);
    row_check("0.2 C at 7 C", model.max_charge_a, 20, 1e-9,
              "LFP charge derating by cell temperature, from memory");
    row_done();
}

TEST(self_discharge)
{
    struct bank_model model = sample_model(CHEMISTRY_FLOODED, 100, 1);
    struct bank_state now;
    double before;

    bank_state_rested(&model, 1, &now);
    before = now.available_ah + now.bound_ah;
    for (int i = 0; i < 730; i++)
        bank_step(&model, &now, 0, 0);
    row_check("a month at 25 C", (now.available_ah + now.bound_ah) / before, 0.951, 0.002,
              "3 to 6 % a month, from memory");
    row_done();
}

static struct bank_flow hold(const struct bank_model *model, struct bank_state *now, double most_w)
{
    return bank_step(model, now, fmin(most_w, bank_accept_w(model, now, bank_set_voltage(model, now))), 1);
}

TEST(stages_follow_each_other)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model model = sample_model(c, 100, 1 / 60.0);
        struct bank_state now;
        enum charge_stage last = STAGE_BULK;
        int changes = 0;

        bank_state_rested(&model, 0.5, &now);
        for (int i = 0; i < 24 * 60; i++) {
            hold(&model, &now, 250);
            if (now.stage != last) {
                assert_int_equal(now.stage, last + 1);
                last = now.stage;
                changes++;
            }
        }
        assert_int_equal(changes, 2);
        row_check("float volts", bank_set_voltage(&model, &now), model.float_v, 0, "by hand");
        assert_true(bank_charge(&model, &now) > 0.95);
        for (int i = 0; i < 60 && now.stage == STAGE_FLOAT; i++)
            bank_step(&model, &now, -150, 0);
        assert_int_equal(now.stage, STAGE_BULK);
        row_check("absorption volts again", bank_set_voltage(&model, &now), model.absorption_v, 0, "by hand");
    }
    row_done();
}

TEST(a_ceiling_ends_the_charge)
{
    struct bank bank = sample_bank(CHEMISTRY_LFP, 100);
    struct bank_model model;
    struct bank_state now;

    bank.ceiling = given(0.8);
    bank.float_voltage = given(0);
    bank_model_make(&model, &bank, 25, 1 / 60.0);
    bank_state_rested(&model, 0.5, &now);
    for (int i = 0; i < 10 * 60; i++)
        hold(&model, &now, 500);
    row_check("charge", bank_charge(&model, &now), 0.8, 1e-3, "by hand");
    assert_int_equal(now.stage, STAGE_FLOAT);
    row_check("no float: nothing is held", bank_set_voltage(&model, &now), 0, 0, "by hand");
    row_check("and nothing taken", bank_accept_w(&model, &now, bank_set_voltage(&model, &now)), 0, 0,
              "by hand");
    bank_state_rested(&model, 0.95, &now);
    row_check("over the ceiling it takes nothing", bank_accept_w(&model, &now, model.absorption_v), 0, 0,
              "by hand");
    row_done();
}

/* A weak source never lifts the volts to the set ones, so absorption does not begin, nor its clock run. */
TEST(absorption_needs_the_volts)
{
    struct bank_model model = sample_model(CHEMISTRY_AGM, 400, 1 / 60.0);
    struct bank_state now;

    bank_state_rested(&model, 0.5, &now);
    for (int i = 0; i < 8 * 60; i++) {
        hold(&model, &now, 60);
        assert_int_equal(now.stage, STAGE_BULK);
    }
}

TEST(empty_and_full_are_walls)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model model = sample_model(c, 100, 1 / 60.0);
        struct bank_state now;
        double charge;

        bank_state_rested(&model, 1, &now);
        row_check("full takes what self-discharge lost", bank_accept_w(&model, &now, model.limit_v), 0, 0.3,
                  "by hand");
        for (int i = 0; i < 100 * 60; i++)
            bank_step(&model, &now, -200, 0);
        charge = bank_charge(&model, &now);
        assert_true(charge > -0.2 && charge < 0.05);
        assert_true(bank_deliver_w(&model, &now) < 60);
        for (int i = 0; i < 100 * 60; i++)
            bank_step(&model, &now, 0, 0);
        assert_true(bank_emf(&model, &now) >= model.empty_v);
    }
    row_done();
}

TEST(given_limits_hold)
{
    struct bank bank = sample_bank(CHEMISTRY_LFP, 200);
    struct bank_model model;
    struct bank_state now;
    struct bank_flow flow;

    bank.max_charge = given(40);
    bank.max_discharge = given(90);
    bank_model_make(&model, &bank, 25, 1 / 60.0);
    bank_state_rested(&model, 0.5, &now);
    flow = bank_step(&model, &now, bank_accept_w(&model, &now, 14.2), 1);
    row_check("charging amperes", flow.current_a, 40, 0.05, "by hand");
    flow = bank_step(&model, &now, -bank_deliver_w(&model, &now), 0);
    row_check("discharging amperes", flow.current_a, -90, 0.05, "by hand");
    flow = bank_step(&model, &now, -1e6, 0);
    row_check("and when asked for more", flow.current_a, -90, 0.05, "by hand");
    row_done();
}

/* 100 Ah flooded, 6 mohm, at half charge 12.24 V: down to 10.5 V it gives (12.24 - 10.5)/0.006 = 290 A for an
 * instant. */
TEST(volts_limit_a_surge)
{
    struct bank_model model = sample_model(CHEMISTRY_FLOODED, 100, 0.01 / 3600);
    struct bank_state now;

    bank_state_rested(&model, 0.5, &now);
    row_check("watts", bank_deliver_w(&model, &now), 290 * 10.5, 6, "by hand");
    row_done();
}

/* Around E^2/4R the current for a power stops existing; any power over the limit must give what the limit
 * gives, or the hair more that the limit, found from below, leaves. */
TEST(asked_for_too_much_it_gives_what_it_can)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank bank = sample_bank(c, 100);
        struct bank_model model;

        bank.max_discharge = given(1e6);
        bank_model_make(&model, &bank, 25, 1 / 60.0);
        for (double charge = 0.05; charge < 1; charge += 0.05)
            for (double over = 1.0001; over < 20; over *= 1.0001) {
                struct bank_state now;
                struct bank_flow flow;
                double most, given_w, before;

                bank_state_rested(&model, charge, &now);
                before = bank_stored_wh(&model, &now);
                most = bank_deliver_w(&model, &now);
                flow = bank_step(&model, &now, -over * most, 0);
                given_w = -flow.current_a * flow.volts_v;
                assert_true(before - bank_stored_wh(&model, &now) >= given_w * model.step_h * (1 - 1e-9));
                assert_true(flow.volts_v >= model.empty_v * (1 - 1e-9));
                assert_true(given_w >= most * (1 - 1e-9) && given_w <= most * 1.002);
            }
    }
}

/* A charger leaves float when the bank has lost 2 %, however the rest is counted. */
TEST(a_long_rest_ends_float)
{
    struct bank_model model = sample_model(CHEMISTRY_FLOODED, 200, 1);
    struct bank_state now, slept;
    long hours = 0;

    bank_state_rested(&model, 1, &now);
    now.stage = STAGE_FLOAT;
    slept = now;
    while (now.stage == STAGE_FLOAT) {
        bank_rest(&model, &now, 1);
        hours++;
    }
    assert_true(bank_charge(&model, &now) < 0.98 && bank_charge(&model, &now) > 0.979);
    bank_rest(&model, &slept, hours - 1);
    assert_int_equal(slept.stage, STAGE_FLOAT);
    bank_rest(&model, &slept, 1);
    assert_int_equal(slept.stage, STAGE_BULK);
}

TEST(a_rest_is_steps_without_power)
{
    static const char source[] = "property: three ways to rest";

    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++) {
        struct bank_model model = sample_model(c, 200, 1 / 60.0);
        struct bank_state stepped, rested, slept;

        bank_state_rested(&model, 0.7, &stepped);
        bank_step(&model, &stepped, -300, 0);
        rested = slept = stepped;
        for (int i = 0; i < 600; i++) {
            bank_step(&model, &stepped, 0, 0);
            bank_rest(&model, &rested, 1);
        }
        bank_rest(&model, &slept, 600);
        row_check("available", rested.available_ah, stepped.available_ah, 1e-10, source);
        row_check("bound", rested.bound_ah, stepped.bound_ah, 1e-10, source);
        row_check("available, in one go", slept.available_ah, stepped.available_ah, 1e-10, source);
        row_check("bound, in one go", slept.bound_ah, stepped.bound_ah, 1e-10, source);
        assert_int_equal(rested.stage, stepped.stage);
        assert_int_equal(slept.stage, stepped.stage);
    }
    row_done();
}

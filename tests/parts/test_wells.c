/* test_wells.c - the two-well model alone: printed vectors, an ODE integrator, its fit.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/wells.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>

#include "support/test.h"

#define MM93 "Manwell & McGowan 1993, vector from SciPy DOP853"

static const struct wells example = { 400, 0.3, 0.5 };

/* Largest current that leaves the available well empty, or (negative) full, after so many hours: the step is linear. */
static double current_until(const struct wells *wells, double end_ah, struct wells_level level, double hours)
{
    double rested = wells_step(wells, level, 0, hours).available_ah;

    return (rested - end_ah) / (rested - wells_step(wells, level, 1, hours).available_ah);
}

TEST(step_vectors)
{
    static const struct {
        const char *label;
        double q1, q2, current, hours, q1_after, q2_after;
    } rows[] = {
        { "20 A for 1 h from full", 120, 280, 20, 1, 102.982858, 277.017142 },
        { "100 A for 15 min from full", 120, 280, 100, 0.25, 96.049566, 278.950434 },
        { "charging 40 A for 1 h", 60, 200, -40, 1, 101.116731, 198.883269 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct wells_level level = wells_step(&example, (struct wells_level){ rows[i].q1, rows[i].q2 },
                                              rows[i].current, rows[i].hours);

        row_check(rows[i].label, level.available_ah, rows[i].q1_after, 5e-7, MM93);
        row_check(rows[i].label, level.bound_ah, rows[i].q2_after, 5e-7, MM93);
    }
    row_done();
}

TEST(limit_vectors)
{
    static const struct {
        const char *label;
        double q1, q2, hours, discharge, charge;
    } rows[] = {
        { "full, 1 h", 120, 280, 1, 141.034262, 0 },
        { "full, 15 min", 120, 280, 0.25, 501.034770, 0 },
        { "half, 1 h", 60, 200, 1, 78.841030, -62.193232 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct wells_level level = { rows[i].q1, rows[i].q2 };

        row_check(rows[i].label, current_until(&example, 0, level, rows[i].hours), rows[i].discharge, 5e-7, MM93);
        row_check(rows[i].label, current_until(&example, 120, level, rows[i].hours), rows[i].charge, 5e-7, MM93);
    }
    row_done();
}

TEST(capacity_against_time)
{
    static const double rows[][2] = {
        { 1, 141.0343 },  { 3, 181.1213 },  { 5, 215.4336 },   { 8, 254.3479 },
        { 10, 273.3132 }, { 20, 324.3271 }, { 100, 382.1656 },
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "%g h", rows[i][0]);
        row_check(label, 400 * wells_capacity_share(0.3, 0.5, rows[i][0]), rows[i][1], 5e-5, MM93);
    }
    row_check("no time at all: the available well", wells_capacity_share(0.3, 0.5, 1e-7), 0.3, 1e-6,
              "by hand");
    row_check("any time: both wells", wells_capacity_share(0.3, 0.5, 1e7), 1, 1e-6, "by hand");
    row_done();
}

/* Time [same unit as 1/rate] until the available well is empty, by halving on the discharge limit. */
static double life(const struct wells *wells, double current)
{
    struct wells_level full = { wells->share * wells->total_ah, (1 - wells->share) * wells->total_ah };
    double low = 0, high = wells->total_ah / current;

    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;

        if (current_until(wells, 0, full, middle) > current)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* In ampere-minutes and per minute. The papers print k' = k/(c(1-c)), the exponent that this file calls the
 * rate. */
TEST(computer_cell_lives)
{
    const struct wells cell = { 5.5, 0.166, 0.122 };
    const char *source = "Jongerden & Haverkort 2008, cell B1, steady load, from memory";

    row_check("0.25 A", life(&cell, 0.25), 4.53, 0.005, source);
    row_check("0.5 A", life(&cell, 0.5), 2.02, 0.005, source);
    row_done();
}

TEST(typical_rate_tables)
{
    static const struct {
        const char *label;
        double share, total, hours, ah;
    } rows[] = {
        { "flooded 20 h", 0.40, 106.6, 20, 100 }, { "flooded 10 h", 0.40, 106.6, 10, 91 },
        { "flooded 5 h", 0.40, 106.6, 5, 82.5 },  { "flooded 1 h", 0.40, 106.6, 1, 55 },
        { "AGM 20 h", 0.48, 105.0, 20, 100 },     { "AGM 10 h", 0.48, 105.0, 10, 94 },
        { "AGM 5 h", 0.48, 105.0, 5, 86.5 },      { "AGM 1 h", 0.48, 105.0, 1, 62.5 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        row_check(rows[i].label, rows[i].total * wells_capacity_share(rows[i].share, 1.0, rows[i].hours),
                  rows[i].ah, 0.02 * rows[i].ah,
                  "typical rate tables of lead-acid, from memory, with k 1.0 /h; within 2 %");
    row_done();
}

/* Capacities of a Peukert line, back out of the fitted wells. */
TEST(fit_holds_the_peukert_line)
{
    static const double exponents[] = { 1.01, 1.05, 1.10, 1.15, 1.20, 1.25, 1.30, 1.40 };
    char label[48];

    for (size_t i = 0; i < sizeof exponents / sizeof *exponents; i++) {
        double power = (exponents[i] - 1) / exponents[i];
        struct wells_target five = { 5, pow(5 / 20.0, power) }, one = { 1, pow(1 / 20.0, power) };
        struct wells w = wells_fit(100, 20, five, one);

        snprintf(label, sizeof label, "exponent %.2f, 20 h", exponents[i]);
        row_check(label, w.total_ah * wells_capacity_share(w.share, w.rate_per_h, 20), 100, 1e-9, "by hand");
        snprintf(label, sizeof label, "exponent %.2f, 5 h", exponents[i]);
        row_check(label, w.total_ah * wells_capacity_share(w.share, w.rate_per_h, 5), 100 * five.ratio, 1e-4,
                  "by hand");
        snprintf(label, sizeof label, "exponent %.2f, 1 h", exponents[i]);
        row_check(label, w.total_ah * wells_capacity_share(w.share, w.rate_per_h, 1), 100 * one.ratio, 1e-3,
                  "by hand");
    }
    row_done();
}

TEST(fit_finds_known_wells)
{
    const double share = 0.35, rate = 0.9, c20 = wells_capacity_share(share, rate, 20);
    struct wells w =
        wells_fit(250 * c20, 20, (struct wells_target){ 10, wells_capacity_share(share, rate, 10) / c20 },
                  (struct wells_target){ 2, wells_capacity_share(share, rate, 2) / c20 });

    row_check("share", w.share, share, 1e-4, "by hand");
    row_check("rate", w.rate_per_h, rate, 1e-3, "by hand");
    row_check("total", w.total_ah, 250, 0.01, "by hand");
    row_done();
}

TEST(fit_of_a_rate_that_does_not_matter_is_one_well)
{
    struct wells w = wells_fit(100, 20, (struct wells_target){ 5, 1 }, (struct wells_target){ 1, 1 });

    row_check("share", w.share, 1, 1e-9, "by hand");
    row_check("total", w.total_ah, 100, 1e-6, "by hand");
    row_done();
}

struct ode {
    struct wells wells;
    double current;
};

static int slopes(double hours, const double q[], double dq[], void *context)
{
    const struct ode *ode = context;
    double k = ode->wells.rate_per_h, c = ode->wells.share, flow = k * c * q[1] - k * (1 - c) * q[0];

    (void)hours;
    dq[0] = flow - ode->current;
    dq[1] = -flow;
    return GSL_SUCCESS;
}

TEST(closed_form_is_what_an_integrator_finds)
{
    uint32_t seed = 7;
    double random[5];

    for (int i = 0; i < 40; i++) {
        for (int j = 0; j < 5; j++) {
            seed = seed * 1664525u + 1013904223u;
            random[j] = seed / 4294967296.0;
        }
        struct ode ode = { { 400, 0.1 + 0.85 * random[0], 0.1 + 3 * random[1] }, 80 * random[2] - 40 };
        gsl_odeiv2_system system = { slopes, NULL, 2, &ode };
        gsl_odeiv2_driver *driver =
            gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-3, 1e-10, 0);
        double q[2] = { 400 * ode.wells.share * random[3], 400 * (1 - ode.wells.share) * random[4] }, t = 0;
        struct wells_level level = wells_step(&ode.wells, (struct wells_level){ q[0], q[1] }, ode.current, 3);

        assert_int_equal(gsl_odeiv2_driver_apply(driver, &t, 3, q), GSL_SUCCESS);
        row_check("available well after 3 h", level.available_ah, q[0], 1e-7, "property: GSL rk8pd");
        row_check("bound well after 3 h", level.bound_ah, q[1], 1e-7, "property: GSL rk8pd");
        gsl_odeiv2_driver_free(driver);
    }
    row_done();
}

TEST(steps_add_up_and_keep_the_charge)
{
    struct wells_level once = { 70, 200 }, often = once;

    once = wells_step(&example, once, 25, 2);
    for (int i = 0; i < 120; i++)
        often = wells_step(&example, often, 25, 2 / 120.0);
    row_check("120 steps are one", often.available_ah, once.available_ah, 1e-9, "property: semigroup");
    row_check("charge", once.available_ah + once.bound_ah, 270 - 50, 1e-12, "by hand");
    row_done();
}

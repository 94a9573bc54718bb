/* test_feed.c - volts lost and power brought by one run, against published drops and against the network.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>

#include "base/arena.h"
#include "engine/network.h"
#include "parts/conductor.h"
#include "parts/feed.h"

/* Loop of a metre of run at a conductor temperature. */
static struct feed_loop loop_per_m(enum area_series series, enum conductor_build build, double area_m2, double temperature)
{
    return (struct feed_loop){ 2 * conductor_ohm_per_m(series, build, area_m2) * copper_temperature_factor(temperature),
                               2 * conductor_reactance_per_m(50) };
}

/* Two-core 70 C PVC at 70 C, single phase, mV/A/m: the length of r + jx; smaller sizes have next to no x. */
TEST(bs7671_millivolts)
{
    static const double printed[][3] = { { 25, 1.75, 0.02 },  { 35, 1.25, 0.02 },  { 50, 0.94, 0.02 },
                                         { 70, 0.65, 0.015 }, { 95, 0.50, 0.015 }, { 120, 0.41, 0.015 } };

    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        struct feed_loop loop = loop_per_m(AREA_METRIC, CLASS2_PLAIN, printed[i][0] * 1e-6, 70);
        double z = hypot(loop.ohm, loop.reactance_ohm);

        row_check("mV/A/m", 1e3 * z, printed[i][1], printed[i][2], "BS 7671 table 4D2B, two-core 70 C PVC (from memory)");
        /* the load that loses most has the angle of the cable */
        row_check("worst angle", feed_drop(1, loop, loop.ohm / z), z, 1e-12, "by hand: R2/Z + X2/Z");
    }
    row_done();
}

/* K = 12.9 ohm circular mil per foot is plain stranded copper at 75 C: 20 A over 100 ft one way at 120 V. */
TEST(nec_examples_at_75_c)
{
    static const struct {
        int awg;
        double volts, tolerance;
    } printed[] = { { 12, 7.9, 0.05 }, { 8, 3.1, 0.05 }, { 10, 4.97, 0.02 } };

    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        struct feed_loop loop = loop_per_m(AREA_AWG, CLASS5_PLAIN, awg_area(printed[i].awg), 75);

        loop.ohm *= 100 * 0.3048;
        row_check("20 A, 100 ft, 120 V", feed_drop(20, loop, 1), printed[i].volts, printed[i].tolerance,
                  "NEC practice example, K = 12.9");
    }
    row_done();
}

/* Motors and lamps at the end of 25 mm2: the formula of the annex, by hand. */
TEST(drop_with_a_power_factor)
{
    struct feed_loop loop = { 0.0184, 0.0016 };

    row_check("cos phi 0.8", feed_drop(50, loop, 0.8), 50 * (0.0184 * 0.8 + 0.0016 * 0.6), 1e-12, "by hand");
    row_check("cos phi 1", feed_drop(50, loop, 1), 50 * 0.0184, 1e-12, "by hand");
    row_done();
}

/* Half the volts at the load is the most that DC can bring: E2/4R. */
TEST(the_most_power)
{
    struct feed f = feed_power(12, (struct feed_loop){ 0.1, 0 }, 400, 1);

    assert_false(f.holds);
    row_check("most", f.most_w, 360, 1e-9, "by hand: 144/0.4");
    row_check("volts there", f.volts_v, 6, 1e-6, "by hand: half");
    row_check("current there", f.current_a, 60, 1e-5, "by hand: 6/0.1");
    f = feed_power(12, (struct feed_loop){ 0.1, 0 }, 200, 1);
    assert_true(f.holds);
    row_check("power", f.volts_v * f.current_a, 200, 1e-9, "property: what was asked");
    row_check("volts", 12 - f.current_a * 0.1, f.volts_v, 1e-9, "property: Ohm");
    f = feed_current(12, (struct feed_loop){ 0.1, 0 }, 130, 1);
    assert_false(f.holds);
    f = feed_power(12, (struct feed_loop){ 0, 0 }, 1200, 1);
    row_check("nothing in the way", f.current_a, 100, 1e-9, "by hand");
    assert_true(f.holds);
    row_done();
}

/* Volts and amps of the one load behind one run, by the solver of whole networks. */
static struct feed by_network(enum net_system system, double emf, struct feed_loop loop, double value, double cosine,
                              enum net_behaviour behaves)
{
    struct arena *arena = arena_new();
    struct net_run run = system == NET_DC ? net_run_dc(0, 1, loop.ohm / 2, loop.ohm / 2)
                                          : net_run_ac(0, 1, loop.ohm, loop.reactance_ohm);
    struct net_source source = { .node = 0, .emf_v = emf };
    struct net_load load = { 1, behaves, value, sqrt(1 - cosine * cosine) / cosine };
    struct net net = { system, 2, &run, 1, &source, 1, &load, 1 };
    double state[4];
    struct feed f = { 0 };

    f.holds = net_solve(net_plan_new(arena, &net), &net, state, 0) == STATUS_OK;
    f.volts_v = net_volts(&net, state, 1);
    f.current_a = net_load_current(&net, state, &load);
    arena_free(arena);
    return f;
}

TEST(as_the_network_solves_it)
{
    static const struct {
        enum net_system system;
        double emf, ohm, reactance, watts, amps, cosine;
    } rows[] = {
        { NET_DC, 12, 0.004, 0, 2000, 160, 1 },      { NET_DC, 12, 0.028, 0, 360, 30, 1 },
        { NET_DC, 24, 0.1, 0, 1400, 80, 1 },         { NET_AC, 230, 0.22, 0.002, 3680, 16, 1 },
        { NET_AC, 230, 0.8, 0.01, 9000, 60, 0.7 },   { NET_AC, 120, 0.4, 0.2, 3000, 30, 0.5 },
        { NET_AC, 230, 0.02, 0.03, 20000, 100, 0.8 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct feed_loop loop = { rows[i].ohm, rows[i].reactance };
        struct feed power = feed_power(rows[i].emf, loop, rows[i].watts, rows[i].cosine);
        struct feed current = feed_current(rows[i].emf, loop, rows[i].amps, rows[i].cosine);
        struct feed net = by_network(rows[i].system, rows[i].emf, loop, rows[i].watts, rows[i].cosine, NET_POWER);

        assert_true(power.holds && net.holds);
        row_check("volts, power", power.volts_v, net.volts_v, 1e-5, "property: the network solver");
        row_check("amps, power", power.current_a, net.current_a, 1e-4, "property: the network solver");
        net = by_network(rows[i].system, rows[i].emf, loop, rows[i].amps, rows[i].cosine, NET_CURRENT);
        row_check("volts, current", current.volts_v, net.volts_v, 1e-5, "property: the network solver");
        net = by_network(rows[i].system, rows[i].emf, loop, power.most_w * 0.999, rows[i].cosine, NET_POWER);
        assert_true(net.holds);
        net = by_network(rows[i].system, rows[i].emf, loop, power.most_w * 1.001, rows[i].cosine, NET_POWER);
        assert_false(net.holds);
    }
    row_done();
}

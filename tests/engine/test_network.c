/* test_network.c - the network solver against closed forms and properties.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <complex.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "engine/network.h"
#include "support/random_net.h"

/* Solves into fresh state. */
static enum status solve(struct arena *arena, const struct net *net, double **x)
{
    struct net_plan *plan = net_plan_new(arena, net);

    *x = arena_array(arena, 2 * net->node_count + 2, sizeof **x);
    assert_non_null(plan);
    return net_solve(plan, net, *x, 0);
}

/*
 * n equal blocks of ohm in parallel between two bars of links of link ohm; 100 A leave at the first block, or
 * from the first on the positive and the last on the negative bar.
 */
static void share(double *amps, size_t n, double ohm, double link, int diagonal)
{
    struct arena *arena = arena_new();
    struct net_run *runs = arena_array(arena, n + 2, sizeof *runs);
    struct net_source *blocks = arena_array(arena, n, sizeof *blocks);
    struct net_load load = { n, NET_CURRENT, 100, 0 };
    struct net net = { NET_DC, n + 1, runs, n + 1, blocks, n, &load, 1 };
    double *x;

    for (size_t i = 0; i < n; i++)
        blocks[i] = (struct net_source){ i, 12.8, ohm, 0 };
    for (size_t i = 0; i + 1 < n; i++)
        runs[i] = net_run_dc(i, i + 1, link, link);
    runs[n - 1] = net_run_dc(0, n, 0, diagonal ? HUGE_VAL : 0);
    runs[n] = net_run_dc(n - 1, n, HUGE_VAL, diagonal ? 0 : HUGE_VAL);
    assert_int_equal(solve(arena, &net, &x), STATUS_OK);
    for (size_t i = 0; i < n; i++)
        amps[i] = net_source_current(&net, x, &blocks[i]);
    arena_free(arena);
}

TEST(blocks_share)
{
    static const struct {
        size_t n;
        int diagonal;
        double amps[4];
    } rows[] = {
        { 2, 0, { 53.49, 46.51 } },
        { 2, 1, { 50.00, 50.00 } },
        { 4, 0, { 35.75, 26.12, 20.40, 17.74 } },
        { 4, 1, { 26.74, 23.26, 23.26, 26.74 } },
    };
    double amps[4];

    for (size_t r = 0; r < 4; r++) {
        share(amps, rows[r].n, 0.02, 0.0015, rows[r].diagonal);
        for (size_t i = 0; i < rows[r].n; i++)
            row_check("block", amps[i], rows[r].amps[i], 0.0051,
                      "node analysis of the widely printed example");
        /* only the ratio of link to block matters */
        share(amps, rows[r].n, 0.004, 0.0003, rows[r].diagonal);
        for (size_t i = 0; i < rows[r].n; i++)
            row_check("block at a fifth", amps[i], rows[r].amps[i], 0.0051, "node analysis, ratio kept");
    }
    row_done();
}

/* The printed article's own figures, within the 0.4 % by which it rounds. */
TEST(blocks_share_as_printed)
{
    static const double printed[] = { 35.9, 26.2, 20.4, 17.8 };
    double amps[4];

    share(amps, 4, 0.02, 0.0015, 0);
    for (size_t i = 0; i < 4; i++)
        row_check("block", amps[i], printed[i], 0.005 * printed[i],
                  "widely printed article on parallel batteries");
    row_done();
}

/* Four units of 3 milliohm with lugged 50 mm2 links (0.11 + 2 x 0.1 milliohm): 39/26/19/16 and 27/23/23/27
 * percent. */
TEST(blocks_share_lithium)
{
    static const double same[] = { 39, 26, 19, 16 }, diagonal[] = { 27, 23, 23, 27 };
    double amps[4];

    share(amps, 4, 0.003, 0.00031, 0);
    for (size_t i = 0; i < 4; i++)
        row_check("same end", amps[i], same[i], 0.6, "parallel battery example of practice");
    share(amps, 4, 0.003, 0.00031, 1);
    for (size_t i = 0; i < 4; i++)
        row_check("diagonal", amps[i], diagonal[i], 0.6, "parallel battery example of practice");
    row_done();
}

/* Larger banks by the same rule: shares fall away from the leads, diagonal ones mirror; the sum is the load.
 */
TEST(property_larger_banks)
{
    for (size_t n = 3; n <= 8; n++) {
        double amps[8], sum = 0;

        share(amps, n, 0.02, 0.0015, 0);
        for (size_t i = 0; i < n; i++) {
            sum += amps[i];
            assert_true(i == 0 || amps[i] < amps[i - 1]);
        }
        row_check("sum", sum, 100, 1e-6, "property: Kirchhoff");
        share(amps, n, 0.02, 0.0015, 1);
        for (size_t i = 0; i < n; i++)
            row_check("mirror", amps[i], amps[n - 1 - i], 1e-6, "property: symmetry");
    }
    row_done();
}

/* One source, one run, one load of constant power: V = (E + sqrt(E^2 - 4 R P))/2. */
TEST(constant_power)
{
    static const struct {
        const char *label;
        double emf, ohm, watts;
    } rows[] = {
        { "3 kW at 90 %, lead at 12.2 V", 12.2, 4.81e-3, 3000 / 0.9 },
        { "the same, lithium at 13.1 V", 13.1, 3.47e-3, 3000 / 0.9 },
        { "near the nose", 12, 0.01, 3599.9 },
        { "small", 24, 0.1, 1 },
    };

    for (size_t i = 0; i < 4; i++) {
        struct arena *arena = arena_new();
        struct net_source bank = { 0, rows[i].emf, rows[i].ohm / 3, 0 };
        struct net_run run = net_run_dc(0, 1, rows[i].ohm / 3, rows[i].ohm / 3);
        struct net_load load = { 1, NET_POWER, rows[i].watts, 0 };
        struct net net = { NET_DC, 2, &run, 1, &bank, 1, &load, 1 };
        double *x, e = rows[i].emf;

        assert_int_equal(solve(arena, &net, &x), STATUS_OK);
        row_check(rows[i].label, net_volts(&net, x, 1),
                  (e + sqrt(e * e - 4 * rows[i].ohm * rows[i].watts)) / 2, 1e-7, "by hand: quadratic");
        row_check(rows[i].label, net_run_current(&net, x, &run).out_a, rows[i].watts / net_volts(&net, x, 1),
                  1e-5, "by hand: P/V");
        row_check(rows[i].label, net_run_current(&net, x, &run).back_a, net_run_current(&net, x, &run).out_a,
                  1e-6, "property: back = out");
        arena_free(arena);
    }
    row_done();
}

/* The published inverter case: 3 kW at 90 %, 6 m loop of 70 mm2 at 50 C and 1 milliohm of joints. */
TEST(inverter_on_a_sagging_bank)
{
    double loop = 0.017241 * 6 / 70 * (1 + 0.00393 * 30) + 1e-3;
    static const double cases[][4] = { { 12.2, 2.15e-3, 10.7, 312 }, { 13.1, 0.82e-3, 12.15, 274 } };

    for (size_t i = 0; i < 2; i++) {
        struct arena *arena = arena_new();
        struct net_source bank = { 0, cases[i][0], cases[i][1], 0 };
        struct net_run run = net_run_dc(0, 1, loop / 2, loop / 2);
        struct net_load load = { 1, NET_POWER, 3000 / 0.9, 0 };
        struct net net = { NET_DC, 2, &run, 1, &bank, 1, &load, 1 };
        double *x;

        assert_int_equal(solve(arena, &net, &x), STATUS_OK);
        row_check("volts", net_volts(&net, x, 1), cases[i][2], 0.05,
                  "inverter example of practice (12 V, 3 kW)");
        row_check("amps", net_load_current(&net, x, &load), cases[i][3], 1.5,
                  "inverter example of practice (12 V, 3 kW)");
        arena_free(arena);
    }
    row_done();
}

/* No more than E^2/4R can be drawn: the factor found is that, and the volts there are half. */
TEST(collapse)
{
    struct arena *arena = arena_new();
    struct net_source bank = { 0, 12, 0.004, 0 };
    struct net_run run = net_run_dc(0, 1, 0.003, 0.003);
    struct net_load loads[] = { { 1, NET_POWER, 9000, 0 }, { 1, NET_CURRENT, 0, 0 } };
    struct net net = { NET_DC, 2, &run, 1, &bank, 1, loads, 2 };
    struct net_plan *plan = net_plan_new(arena, &net);
    double x[4];

    assert_int_equal(net_solve(plan, &net, x, 0), STATUS_NO_SOLUTION);
    row_check("most", 9000 * net_most(plan, &net, 0, x), 3600, 0.01, "by hand: E^2/4R");
    row_check("volts", net_volts(&net, x, 1), 6, 0.01, "by hand: E/2");
    loads[0].value = 3000;
    row_check("has a solution", net_most(plan, &net, 0, x), 1, 0, "by hand");
    loads[1].value = 600; /* takes 6 of the 12 volts: E' = 6, E'^2/4R = 900 */
    row_check("beside a current", 3000 * net_most(plan, &net, 0, x), 900, 0.01, "by hand: (E - RI)^2/4R");
    loads[1].value = 1300;
    assert_true(net_most(plan, &net, 0, x) < 0);
    row_done();
    arena_free(arena);
}

/* Out and back differ between two ways in parallel: each pole shares by its own resistance. */
TEST(poles_share_apart)
{
    struct arena *arena = arena_new();
    struct net_source bank = { 0, 12, 0.01, 0 };
    struct net_run runs[] = { net_run_dc(0, 1, 0.01, 0.03), net_run_dc(0, 1, 0.03, 0.01) };
    struct net_load load = { 1, NET_CURRENT, 100, 0 };
    struct net net = { NET_DC, 2, runs, 2, &bank, 1, &load, 1 };
    double *x;

    assert_int_equal(solve(arena, &net, &x), STATUS_OK);
    row_check("out 1", net_run_current(&net, x, &runs[0]).out_a, 75, 1e-9, "by hand");
    row_check("back 1", net_run_current(&net, x, &runs[0]).back_a, 25, 1e-9, "by hand");
    row_check("out 2", net_run_current(&net, x, &runs[1]).out_a, 25, 1e-9, "by hand");
    row_check("volts", net_volts(&net, x, 1), 12 - 1 - 1.5, 1e-9, "by hand: 0.0075 ohm twice");
    row_done();
    arena_free(arena);
}

TEST(node_in_the_air)
{
    struct arena *arena = arena_new();
    struct net_source bank = { 0, 12, 0.01, 0 };
    struct net_run runs[] = { net_run_dc(0, 1, 0.01, HUGE_VAL) };
    struct net_load load = { 1, NET_CURRENT, 1, 0 };
    struct net net = { NET_DC, 2, runs, 1, &bank, 1, &load, 1 };
    double *x;

    assert_int_equal(solve(arena, &net, &x), STATUS_NO_SOLUTION);
    arena_free(arena);
}

/* Currents balance at every node and both poles, whatever the shape. */
TEST(property_kirchhoff)
{
    for (unsigned long seed = 1; seed <= 60; seed++) {
        struct arena *arena = arena_new();
        size_t nodes = 5 + seed * 3, more = seed % 4 == 0 ? 0 : seed * (seed % 4);
        struct net net = random_net(arena, nodes, more, 1 + seed % 3, seed);
        double *x, *sum = arena_array(arena, 2 * nodes, sizeof *sum);

        assert_int_equal(solve(arena, &net, &x), STATUS_OK);
        for (size_t r = 0; r < net.run_count; r++) {
            struct net_current c = net_run_current(&net, x, &net.runs[r]);

            sum[2 * net.runs[r].a] += c.out_a;
            sum[2 * net.runs[r].b] -= c.out_a;
            sum[2 * net.runs[r].a + 1] -= c.back_a;
            sum[2 * net.runs[r].b + 1] += c.back_a;
        }
        for (size_t i = 0; i < net.load_count; i++) {
            sum[2 * net.loads[i].node] += net_load_current(&net, x, &net.loads[i]);
            sum[2 * net.loads[i].node + 1] -= net_load_current(&net, x, &net.loads[i]);
        }
        for (size_t i = 0; i < net.source_count; i++) {
            sum[2 * net.sources[i].node] -= net_source_current(&net, x, &net.sources[i]);
            sum[2 * net.sources[i].node + 1] += net_source_current(&net, x, &net.sources[i]);
        }
        for (size_t i = 0; i < 2 * nodes; i++)
            assert_true(fabs(sum[i]) < 1e-7);
        arena_free(arena);
    }
}

/* Fault resistance of every node at once equals the drop that one ampere more makes, node by node. */
TEST(property_fault_resistance)
{
    for (unsigned long seed = 1; seed <= 24; seed++) {
        struct arena *arena = arena_new();
        size_t nodes = 4 + seed * 2;
        struct net net = random_net(arena, nodes, seed % 3 * seed, 1, seed * 77);
        struct net_plan *plan = net_plan_new(arena, &net);
        struct net_load one = { 0, NET_CURRENT, 1, 0 };
        double *x = arena_array(arena, 2 * nodes, sizeof *x), *ohm = arena_array(arena, nodes, sizeof *ohm);

        net.loads = &one;
        net.load_count = 1;
        assert_int_equal(net_fault_ohm(plan, &net, ohm), STATUS_OK);
        for (size_t i = 0; i < nodes; i++) {
            one.node = i;
            assert_int_equal(net_solve(plan, &net, x, 0), STATUS_OK);
            row_check("ohm", ohm[i], 12.6 - net_volts(&net, x, i), 1e-9, "property: Thevenin");
        }
        arena_free(arena);
    }
    row_done();
}

TEST(fault_on_a_path)
{
    struct arena *arena = arena_new();
    struct net_source bank = { 0, 12.8, 0.002, 0 };
    struct net_run runs[] = { net_run_dc(0, 1, 0.0005, 0.0005), net_run_dc(1, 2, 0.004, 0.006) };
    struct net net = { NET_DC, 3, runs, 2, &bank, 1, NULL, 0 };
    double ohm[3];

    assert_int_equal(net_fault_ohm(net_plan_new(arena, &net), &net, ohm), STATUS_OK);
    row_check("bank", 12.8 / ohm[0], 6400, 1e-6, "by hand");
    row_check("bar", 12.8 / ohm[1], 12.8 / 0.003, 1e-6, "by hand");
    row_check("load", 12.8 / ohm[2], 12.8 / 0.013, 1e-6, "by hand");
    row_done();
    arena_free(arena);
}

/* Four 100 Ah lithium units of 2.5 milliohm behind 0.3 milliohm: about 14 kA; three strings of 2400 A: 7200
 * A. */
TEST(published_faults)
{
    struct arena *arena = arena_new();
    struct net_source units[4];
    struct net net = { NET_DC, 2, NULL, 0, units, 4, NULL, 0 };
    struct net_run run = net_run_dc(0, 1, 0.00015, 0.00015);
    double ohm[2];

    for (int i = 0; i < 4; i++)
        units[i] = (struct net_source){ 0, 13.2, 0.0025, 0 };
    net.runs = &run;
    net.run_count = 1;
    assert_int_equal(net_fault_ohm(net_plan_new(arena, &net), &net, ohm), STATUS_OK);
    row_check("lithium", 13.2 / ohm[1], 14000, 300, "fault current example of practice: about 14 kA");
    for (int i = 0; i < 3; i++)
        units[i] = (struct net_source){ 0, 12, 12 / 2400.0, 0 };
    net.source_count = 3;
    net.run_count = 0;
    net.node_count = 1;
    assert_int_equal(net_fault_ohm(net_plan_new(arena, &net), &net, ohm), STATUS_OK);
    row_check("three strings", 12 / ohm[0], 7200, 1e-6, "fuse guide quoted in public: 3 x 2400 A = 7200 A");
    row_done();
    arena_free(arena);
}

/* AC: a phasor load behind R + jX; and a current at a power factor drops about I (R cos + X sin). */
TEST(ac_runs)
{
    struct arena *arena = arena_new();
    struct net_source shore = { 0, 230, 0.05, 0.02 };
    struct net_run run = net_run_ac(0, 1, 0.2, 0.1);
    struct net_load load = { 1, NET_RESISTANCE, 20, 0 };
    struct net net = { NET_AC, 2, &run, 1, &shore, 1, &load, 1 };
    double *x, volts;
    double complex z = 0.25 + 0.12 * I;

    assert_int_equal(solve(arena, &net, &x), STATUS_OK);
    row_check("resistance", net_volts(&net, x, 1), 230 * cabs(20 / (20 + z)), 1e-9, "by hand: divider");
    load = (struct net_load){ 1, NET_POWER, 3000, 0.75 }; /* cos phi 0.8 */
    assert_int_equal(solve(arena, &net, &x), STATUS_OK);
    volts = net_volts(&net, x, 1);
    row_check("apparent current", net_load_current(&net, x, &load), 3000 / 0.8 / volts, 1e-9, "by hand: S/V");
    row_check("planning formula", 230 - volts, 3000 / 0.8 / volts * (0.25 * 0.8 + 0.12 * 0.6), 0.02,
              "IEC 60364-5-52 annex G: u = (R cos phi + X sin phi) I");
    load = (struct net_load){ 1, NET_CURRENT, 16, 0.75 };
    assert_int_equal(solve(arena, &net, &x), STATUS_OK);
    row_check("current", net_run_current(&net, x, &run).out_a, 16, 1e-9, "by hand");
    row_done();
    arena_free(arena);
}

/* The same AC shape in random meshes balances too. */
TEST(property_ac_mesh)
{
    for (unsigned long seed = 3; seed < 20; seed++) {
        struct arena *arena = arena_new();
        struct net net = random_net(arena, 30, seed, 1, seed);
        struct net_run *runs = arena_array(arena, net.run_count, sizeof *runs);
        struct net_load *loads = arena_array(arena, net.load_count, sizeof *loads);
        double *x, given = 0, taken = 0;

        memcpy(loads, net.loads, net.load_count * sizeof *loads);
        for (size_t i = 0; i < net.run_count; i++)
            runs[i] = net_run_ac(net.runs[i].a, net.runs[i].b, 0.01, 0.02);
        for (size_t i = 0; i < net.load_count; i++)
            loads[i].reactive_share = 0.5;
        net.system = NET_AC;
        net.runs = runs;
        net.loads = loads;
        assert_int_equal(solve(arena, &net, &x), STATUS_OK);
        given = net_source_current(&net, x, net.sources);
        for (size_t i = 0; i < net.load_count; i++)
            taken += net_load_current(&net, x, &net.loads[i]);
        assert_true(given > 0 && given < taken * 1.001);
        arena_free(arena);
    }
}

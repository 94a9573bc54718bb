/* test_ngspice_ac.c - AC networks against ngspice: its own phasors, and constant power in two real networks.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/network.h"
#include "support/ngspice.h"
#include "support/random_net.h"

static const double PI = 3.14159265358979323846;

/* Resistance and reactance behind an admittance block. */
static void series_of(const struct net_run *run, double *ohm, double *reactance)
{
    double square = run->y[0] * run->y[0] + run->y[2] * run->y[2];

    *ohm = run->y[0] / square;
    *reactance = -run->y[2] / square;
}

/* ---- phasors of the simulator: coils at 50 Hz, loads that are resistors ---- */

static void write_phasors(FILE *out, const struct net *net)
{
    double ohm, reactance;

    fprintf(out, "boat\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 gmin=1e-15\n");
    for (size_t i = 0; i < net->source_count; i++)
        fprintf(out, "vs%zu s%zu 0 dc 0 ac %.15g\nrs%zu s%zu t%zu %.15g\nls%zu t%zu p%zu %.15g\n", i, i,
                net->sources[i].emf_v, i, i, i, net->sources[i].ohm, i, i, net->sources[i].node,
                net->sources[i].reactance_ohm / (100 * PI));
    for (size_t i = 0; i < net->run_count; i++) {
        series_of(&net->runs[i], &ohm, &reactance);
        fprintf(out, "rr%zu p%zu m%zu %.15g\nlr%zu m%zu x%zu %.15g\nvp%zu x%zu p%zu 0\n", i, net->runs[i].a, i, ohm, i, i,
                i, reactance / (100 * PI), i, i, net->runs[i].b);
    }
    for (size_t i = 0; i < net->load_count; i++)
        fprintf(out, "rl%zu p%zu 0 %.15g\n", i, net->loads[i].node, net->loads[i].value);
    fprintf(out, ".control\nset numdgt=12\nac lin 1 50 50\nprint all\n.endc\n.end\n");
}

/* ---- real and imaginary part each as a network of its own, coupled by susceptances and by the loads ---- */

/* An admittance between two nodes, each a pair "p" and "q". */
static void write_pair(FILE *out, const char *name, size_t i, const char *a, const char *b, const double y[4])
{
    fprintf(out, "rp%s%zu p%s p%s %.15g\nrq%s%zu q%s q%s %.15g\n", name, i, a, b, 1 / y[0], name, i, a, b, 1 / y[3]);
    fprintf(out, "gp%s%zu p%s p%s q%s q%s %.15g\ngq%s%zu q%s q%s p%s p%s %.15g\n", name, i, a, b, a, b, y[1], name, i, a, b,
            a, b, y[2]);
}

/* (P - jQ)(x + jy)/|V|2, or of a current its share by |V|. */
static void write_drawn(FILE *out, const struct net_load *load)
{
    double p = load->value, q;
    size_t n = load->node;
    const char *by = load->behaves == NET_CURRENT ? "sqrt" : "";

    if (load->behaves == NET_RESISTANCE) {
        fprintf(out, "rlp%zu p%zu 0 %.15g\nrlq%zu q%zu 0 %.15g\n", n, n, p, n, n, p);
        return;
    }
    if (load->behaves == NET_CURRENT)
        p /= hypot(1, load->reactive_share);
    q = p * load->reactive_share;
    fprintf(out, "bp%zu p%zu 0 i = (%.15g*v(p%zu)+%.15g*v(q%zu))/%s(v(p%zu)*v(p%zu)+v(q%zu)*v(q%zu))\n", n, n, p, n,
            q, n, by, n, n, n, n);
    fprintf(out, "bq%zu q%zu 0 i = (%.15g*v(q%zu)-%.15g*v(p%zu))/%s(v(p%zu)*v(p%zu)+v(q%zu)*v(q%zu))\n", n, n, p, n,
            q, n, by, n, n, n, n);
}

static void write_two(FILE *out, const struct net *net)
{
    char from[32], to[32];

    fprintf(out, "boat\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 gmin=1e-15 itl1=500\n");
    for (size_t i = 0; i < net->source_count; i++) {
        const struct net_source *source = &net->sources[i];

        snprintf(from, sizeof from, "e%zu", i);
        snprintf(to, sizeof to, "%zu", source->node);
        fprintf(out, "vep%zu pe%zu 0 %.15g\nveq%zu qe%zu 0 0\n", i, i, source->emf_v, i, i);
        write_pair(out, "s", i, from, to, net_run_ac(0, 0, source->ohm, source->reactance_ohm).y);
    }
    for (size_t i = 0; i < net->run_count; i++) {
        snprintf(from, sizeof from, "%zu", net->runs[i].a);
        snprintf(to, sizeof to, "%zu", net->runs[i].b);
        write_pair(out, "r", i, from, to, net->runs[i].y);
    }
    for (size_t i = 0; i < net->node_count; i++)
        fprintf(out, ".nodeset v(p%zu)=%.15g\n", i, net->sources[0].emf_v);
    for (size_t i = 0; i < net->load_count; i++)
        write_drawn(out, &net->loads[i]);
    fprintf(out, ".control\nset numdgt=12\nop\nprint all\n.endc\n.end\n");
}

/* ---- comparing ---- */

/* Two numbers a node, two a run; where the simulator has no ammeters, of its volts. */
struct found {
    double *state, *current;
    size_t values;
};

static void take_line(void *into, const char *line)
{
    struct found *found = into;
    char part;
    size_t number;
    double re, im = 0;
    int got;

    if ((got = sscanf(line, "v%c%zu#branch = %lf,%lf", &part, &number, &re, &im)) >= 3 && (part == 'p' || part == 'q')) {
        found->current[2 * number + (part == 'q')] = re;
        if (got == 4)
            found->current[2 * number + 1] = im;
        found->values++;
    } else if ((got = sscanf(line, "%c%zu = %lf,%lf", &part, &number, &re, &im)) >= 3 && (part == 'p' || part == 'q')) {
        found->state[2 * number + (part == 'q')] = re;
        if (got == 4)
            found->state[2 * number + 1] = im;
        found->values++;
    }
}

static void compare(size_t nodes, size_t more, unsigned long seed, int resistors)
{
    struct arena *arena = arena_new();
    struct net net = random_ac_net(arena, nodes, more, seed);
    struct found found = { arena_array(arena, 2 * nodes, sizeof(double)), arena_array(arena, 2 * net.run_count, sizeof(double)),
                           0 };
    double *x = arena_array(arena, 2 * nodes, sizeof *x), lowest = 230;

    for (size_t i = 0; resistors && i < net.load_count; i++)
        ((struct net_load *)net.loads)[i] = (struct net_load){ net.loads[i].node, NET_RESISTANCE, 20 + 7 * (double)i, 0 };
    assert_int_equal(net_solve(net_plan_new(arena, &net), &net, x, 0), STATUS_OK);
    assert_true(ngspice_run(resistors ? write_phasors : write_two, &net, take_line, &found));
    for (size_t i = 0; i < nodes; i++) {
        row_check("real", x[2 * i], found.state[2 * i], 0.001, "ngspice");
        row_check("imaginary", x[2 * i + 1], found.state[2 * i + 1], 0.001, "ngspice");
        lowest = fmin(lowest, net_volts(&net, x, i));
    }
    for (size_t i = 0; i < net.run_count; i++) {
        double amps = resistors ? hypot(found.current[2 * i], found.current[2 * i + 1])
                                : net_run_current(&net, found.state, &net.runs[i]).out_a;

        row_check("run", net_run_current(&net, x, &net.runs[i]).out_a, amps, 1e-6 + 0.001 * amps, "ngspice");
    }
    assert_true(found.values >= (resistors ? nodes + net.run_count : 2 * nodes));
    assert_true(lowest < 229.5); /* or nothing was lost and nothing tested */
    arena_free(arena);
}

TEST(phasors)
{
    if (!has_ngspice())
        skip();
    for (unsigned long seed = 1; seed <= 4; seed++)
        compare(5 + 65 * (seed - 1), (seed % 2) * 20 * seed, 300 + seed, 1);
    row_done();
}

TEST(constant_power_and_current_with_an_angle)
{
    if (!has_ngspice())
        skip();
    for (unsigned long seed = 1; seed <= 6; seed++)
        compare(5 + 39 * (seed - 1), (seed % 2) * 12 * seed, 400 + seed, 0);
    row_done();
}

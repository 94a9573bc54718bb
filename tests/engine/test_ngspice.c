/* test_ngspice.c - the network solver against ngspice on random trees and meshes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/network.h"
#include "support/ngspice.h"
#include "support/random_net.h"

/* A resistor with an ammeter behind it; conductance 0 leaves the pole open. */
static void write_run(FILE *out, size_t number, char pole, const struct net_run *run, double siemens)
{
    if (siemens <= 0)
        return;
    fprintf(out, "r%c%zu %c%zu x%c%zu %.15g\n", pole, number, pole, run->a, pole, number, 1 / siemens);
    fprintf(out, "v%c%zu x%c%zu %c%zu 0\n", pole, number, pole, number, pole, run->b);
}

static void write_load(FILE *out, size_t number, const struct net_load *load)
{
    static const char *const forms[] = { "i = %.15g / max(v(p%zu, n%zu), 0.5)\n", "i = %.15g\n", NULL };

    if (load->behaves == NET_RESISTANCE) {
        fprintf(out, "rl%zu p%zu n%zu %.15g\n", number, load->node, load->node, load->value);
        return;
    }
    fprintf(out, "bl%zu p%zu n%zu ", number, load->node, load->node);
    if (load->behaves == NET_POWER)
        fprintf(out, forms[0], load->value, load->node, load->node);
    else
        fprintf(out, forms[1], load->value);
}

static void write_netlist(FILE *out, const struct net *net)
{
    fprintf(out, "boat\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 gmin=1e-15\n");
    for (size_t i = 0; i < net->source_count; i++)
        fprintf(out, "vs%zu s%zu n%zu %.15g\nrs%zu s%zu p%zu %.15g\n", i, i, net->sources[i].node,
                net->sources[i].emf_v, i, i, net->sources[i].node, net->sources[i].ohm);
    fprintf(out, "vearth n%zu 0 0\n", net->sources[0].node);
    for (size_t i = 0; i < net->run_count; i++) {
        write_run(out, i, 'p', &net->runs[i], net->runs[i].y[0]);
        write_run(out, i, 'n', &net->runs[i], net->runs[i].y[3]);
    }
    for (size_t i = 0; i < net->load_count; i++)
        write_load(out, i, &net->loads[i]);
    fprintf(out, ".control\nset numdgt=12\nop\nprint all\n.endc\n.end\n");
}

/* What ngspice found: volts of both sides of each node, currents of both poles of each run. */
struct found {
    double *state, *out, *back;
    size_t values;
};

static void take_line(void *into, const char *line)
{
    struct found *found = into;
    char pole, kind;
    size_t number;
    double value;

    if (sscanf(line, "v%c%zu#branch = %lf", &pole, &number, &value) == 3 && (pole == 'p' || pole == 'n')) {
        (pole == 'p' ? found->out : found->back)[number] = pole == 'p' ? value : -value;
        found->values++;
    } else if (sscanf(line, "%c%zu = %lf", &kind, &number, &value) == 3 && (kind == 'p' || kind == 'n')) {
        found->state[2 * number + (kind == 'n')] = value;
        found->values++;
    }
}

/* One net both ways; returns how many numbers were compared. */
static size_t compare(size_t nodes, size_t more, size_t blocks, unsigned long seed)
{
    struct arena *arena = arena_new();
    struct net net = random_net(arena, nodes, more, blocks, seed);
    struct found found = { arena_array(arena, 2 * nodes, sizeof(double)),
                           arena_array(arena, net.run_count, sizeof(double)),
                           arena_array(arena, net.run_count, sizeof(double)), 0 };
    double *x = arena_array(arena, 2 * nodes, sizeof *x);
    size_t values;

    assert_int_equal(net_solve(net_plan_new(arena, &net), &net, x, 0), STATUS_OK);
    assert_true(ngspice_run(write_netlist, &net, take_line, &found));
    for (size_t i = 0; i < nodes; i++)
        row_check("node", net_volts(&net, x, i), net_volts(&net, found.state, i), 0.001, "ngspice");
    for (size_t i = 0; i < net.run_count; i++) {
        struct net_current c = net_run_current(&net, x, &net.runs[i]);
        row_check("out", c.out_a, found.out[i], 1e-6 + 0.001 * fabs(found.out[i]), "ngspice");
        row_check("back", c.back_a, found.back[i], 1e-6 + 0.001 * fabs(found.back[i]), "ngspice");
    }
    values = found.values;
    assert_true(values >= 2 * nodes + net.run_count);
    arena_free(arena);
    return values;
}

TEST(trees)
{
    if (!has_ngspice())
        skip();
    for (unsigned long seed = 1; seed <= 6; seed++)
        compare(5 + 39 * (seed - 1), 0, 1, seed);
    row_done();
}

TEST(meshes)
{
    if (!has_ngspice())
        skip();
    for (unsigned long seed = 1; seed <= 6; seed++)
        compare(5 + 39 * (seed - 1), 2 + 12 * seed, 1, 100 + seed);
    row_done();
}

TEST(paralleled_blocks)
{
    if (!has_ngspice())
        skip();
    for (size_t blocks = 2; blocks <= 8; blocks += 2)
        compare(10 + blocks * 12, blocks % 4 * 5, blocks, 200 + blocks);
    compare(200, 90, 6, 209);
    row_done();
}

/* random_net.c - reproducible random networks for tests of the circuit solver.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/random_net.h"

#include <math.h>

#include "base/arena.h"

double uniform(unsigned long *seed)
{
    *seed = *seed * 6364136223846793005UL + 1442695040888963407UL;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

static size_t below(unsigned long *seed, size_t limit)
{
    return (size_t)(uniform(seed) * (double)limit);
}

static void add_run(struct net *net, struct net_run run)
{
    ((struct net_run *)net->runs)[net->run_count++] = run;
}

static void add_load(struct net *net, size_t node, double share, unsigned long *seed)
{
    enum net_behaviour behaves = (enum net_behaviour)(node % 3);
    double value = behaves == NET_RESISTANCE ? 20 + 50 * uniform(seed) : 300 * uniform(seed) * share;

    ((struct net_load *)net->loads)[net->load_count++] = (struct net_load){ node, behaves, value, 0 };
}

struct net random_net(struct arena *arena, size_t nodes, size_t more, size_t blocks, unsigned long seed)
{
    struct net_source *sources = arena_array(arena, blocks, sizeof *sources);
    struct net net = { NET_DC,  nodes,  arena_array(arena, nodes + more + 1, sizeof *net.runs), 0,
                       sources, blocks, arena_array(arena, nodes, sizeof *net.loads),           0 };

    for (size_t i = 0; i < blocks; i++) {
        sources[i] = (struct net_source){ i, 12.6, 0.004 + 0.002 * uniform(&seed), 0 };
        if (i > 0)
            add_run(&net, net_run_dc(i - 1, i, 0.0004, 0.0005));
    }
    /* the leads: plus of the first block, minus of the last */
    add_run(&net, net_run_dc(0, blocks, 0.0005, blocks > 1 ? HUGE_VAL : 0.0005));
    if (blocks > 1)
        add_run(&net, net_run_dc(blocks - 1, blocks, HUGE_VAL, 0.0005));
    for (size_t i = blocks + 1; i < nodes; i++) {
        add_run(&net, net_run_dc(blocks + below(&seed, i - blocks), i, 0.001 + 0.01 * uniform(&seed),
                                 0.001 + 0.01 * uniform(&seed)));
        add_load(&net, i, 1 / (double)nodes, &seed);
    }
    for (size_t i = 0; i < more; i++) {
        size_t a = blocks + below(&seed, nodes - blocks), b = blocks + below(&seed, nodes - blocks);

        if (a != b)
            add_run(&net, net_run_dc(a, b, 0.002 + 0.01 * uniform(&seed), 0.002 + 0.01 * uniform(&seed)));
    }
    return net;
}

struct net random_ac_net(struct arena *arena, size_t nodes, size_t more, unsigned long seed)
{
    struct net_source *source = arena_array(arena, 1, sizeof *source);
    struct net net = { NET_AC, nodes, arena_array(arena, nodes + more, sizeof *net.runs), 0,
                       source, 1,     arena_array(arena, nodes, sizeof *net.loads),       0 };

    *source = (struct net_source){ 0, 230, 0.05, 0.08 };
    for (size_t i = 1; i < nodes; i++) {
        add_run(&net, net_run_ac(below(&seed, i), i, 0.02 + 0.2 * uniform(&seed), 0.001 + 0.05 * uniform(&seed)));
        add_load(&net, i, 20 / (double)nodes, &seed);
        ((struct net_load *)net.loads)[net.load_count - 1].reactive_share = uniform(&seed);
        if (net.loads[net.load_count - 1].behaves == NET_CURRENT)
            ((struct net_load *)net.loads)[net.load_count - 1].value /= 100;
    }
    for (size_t i = 0; i < more; i++) {
        size_t a = below(&seed, nodes), b = below(&seed, nodes);

        if (a != b)
            add_run(&net, net_run_ac(a, b, 0.05 + 0.2 * uniform(&seed), 0.002 + 0.05 * uniform(&seed)));
    }
    return net;
}

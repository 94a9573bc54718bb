/* test_cable_size.c - least copper on trees: against every other choice, and against each cable for itself.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>

#include "base/arena.h"
#include "engine/cable_size.h"
#include "support/random_net.h"

enum { MOST = 2000, SIZES = 15 };

static const double mm2[SIZES] = { 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150 };

struct problem {
    size_t parent[MOST], count[MOST];
    const struct size_option *options[MOST];
    double limit[MOST];
    struct size_tree tree;
};

/* Random tree: currents add towards the source; limits of 3 or 10 % at the ends. */
static struct problem *random_problem(struct arena *arena, size_t nodes, size_t sizes, unsigned long seed)
{
    struct problem *p = arena_zero(arena, sizeof *p);
    double *amps = arena_array(arena, nodes, sizeof *amps);
    size_t first = seed % (SIZES - sizes + 1);

    for (size_t i = 1; i < nodes; i++)
        p->parent[i] = (size_t)(uniform(&seed) * (double)i);
    for (size_t i = nodes; i-- > 1;) {
        amps[i] += 1 + 10 * uniform(&seed);
        amps[p->parent[i]] += amps[i];
    }
    for (size_t i = 0; i < nodes; i++) {
        struct size_option *o = arena_array(arena, sizes, sizeof *o);
        double length = 1 + 8 * uniform(&seed);

        for (size_t k = 0; k < sizes; k++)
            o[k] = (struct size_option){ 0.0164 * amps[i] * 2 * length / mm2[first + k],
                                         mm2[first + k] * 2 * length * 8.89e-3 };
        p->options[i] = o;
        p->count[i] = sizes;
        p->limit[i] = uniform(&seed) < 0.3 ? 0.36 : 1.2;
    }
    p->tree = (struct size_tree){ nodes, p->parent, p->options, p->count, p->limit };
    return p;
}

/* Cost of a choice; negative where a limit is broken. */
static double cost_of(const struct problem *p, const size_t *choice)
{
    double lost[MOST] = { 0 }, cost = 0;

    for (size_t i = 1; i < p->tree.node_count; i++) {
        lost[i] = lost[p->parent[i]] + p->options[i][choice[i]].drop_v;
        cost += p->options[i][choice[i]].cost;
        if (lost[i] > p->limit[i] + 1e-8)
            return -1;
    }
    return cost;
}

/* Every choice there is; negative where none holds. */
static double exhaustive(const struct problem *p, size_t sizes)
{
    size_t choice[MOST] = { 0 }, n = p->tree.node_count, i = 1;
    double best = -1;

    while (i < n) {
        double cost = cost_of(p, choice);

        if (cost >= 0 && (best < 0 || cost < best))
            best = cost;
        for (i = 1; i < n && ++choice[i] == sizes; i++)
            choice[i] = 0;
    }
    return best;
}

TEST(property_least_of_all_choices)
{
    size_t solvable = 0;

    for (unsigned long seed = 1; seed <= 150; seed++) {
        struct arena *arena = arena_new();
        size_t nodes = 2 + seed % 6, sizes = nodes > 5 ? 5 : 7, choice[MOST], eased;
        struct problem *p = random_problem(arena, nodes, sizes, seed);
        double best = exhaustive(p, sizes);

        assert_int_equal(size_tree_choose(arena, &p->tree, choice, &eased), STATUS_OK);
        if (best < 0) {
            assert_true(eased > 0);
        } else {
            solvable++;
            assert_int_equal(eased, 0);
            row_check("least copper", cost_of(p, choice), best, 1e-9, "property: exhaustive search");
        }
        arena_free(arena);
    }
    row_done();
    assert_true(solvable > 60);
}

/* Each cable alone: its share of the budget by its length of path, equal per cable; never cheaper. */
TEST(property_never_above_each_alone)
{
    for (unsigned long seed = 1; seed <= 60; seed++) {
        struct arena *arena = arena_new();
        size_t nodes = 5 + seed, choice[MOST], alone[MOST] = { 0 }, eased;
        struct problem *p = random_problem(arena, nodes, SIZES, seed * 15);
        double share[MOST];
        size_t depth[MOST] = { 0 }, deepest[MOST] = { 0 };
        double cost, total = 0;
        int holds = 1;

        for (size_t i = 1; i < nodes; i++)
            depth[i] = depth[p->parent[i]] + 1;
        for (size_t i = 0; i < nodes; i++)
            share[i] = p->limit[i];
        for (size_t i = nodes; i-- > 0;) {
            deepest[i] = deepest[i] > depth[i] ? deepest[i] : depth[i];
            if (i > 0) {
                size_t up = p->parent[i];

                deepest[up] = deepest[up] > deepest[i] ? deepest[up] : deepest[i];
                share[up] = fmin(share[up], share[i]);
            }
        }
        for (size_t i = 1; i < nodes; i++) {
            while (alone[i] + 1 < SIZES && p->options[i][alone[i]].drop_v > share[i] / (double)deepest[i])
                alone[i]++;
            holds &= p->options[i][alone[i]].drop_v <= share[i] / (double)deepest[i];
            total += p->options[i][alone[i]].cost;
        }
        assert_int_equal(size_tree_choose(arena, &p->tree, choice, &eased), STATUS_OK);
        cost = cost_of(p, choice);
        if (holds)
            assert_true(cost > 0 && cost <= total * (1 + 1e-12));
        arena_free(arena);
    }
}

TEST(by_hand)
{
    /* a feeder and two ends: 0.3 V to share; thick feeder and thin ends, or the other way */
    static const struct size_option feeder[] = { { 0.2, 1 }, { 0.1, 2 } }, end[] = { { 0.2, 1 }, { 0.1, 3 } };
    const struct size_option *options[] = { NULL, feeder, end, end };
    size_t parent[] = { 0, 0, 1, 1 }, count[] = { 0, 2, 2, 2 }, choice[4], eased;
    double limit[] = { HUGE_VAL, HUGE_VAL, 0.3, 0.3 };
    struct size_tree tree = { 4, parent, options, count, limit };
    struct arena *arena = arena_new();

    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 1 && choice[2] == 0 && choice[3] == 0);
    limit[2] = 0.25; /* one end is strict: now both its cables are thick */
    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 1 && choice[2] == 1 && choice[3] == 0 && eased == 0);
    limit[2] = 0.15; /* out of reach: as good as it gets, and said so */
    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 1 && choice[2] == 1 && eased == 1);
    limit[2] = limit[3] = HUGE_VAL; /* nothing asked: thinnest everywhere */
    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 0 && choice[2] == 0 && choice[3] == 0);
    arena_free(arena);
}

/* An installed cable that breaks its limit alone is to be replaced first: no copper is spent above it. */
TEST(no_copper_for_a_lost_limit)
{
    static const struct size_option feeder[] = { { 0.2, 1 }, { 0.1, 2 } }, installed[] = { { 0.5, 4 } };
    const struct size_option *options[] = { NULL, feeder, installed };
    size_t parent[] = { 0, 0, 1 }, count[] = { 0, 2, 1 }, choice[3], eased;
    double limit[] = { HUGE_VAL, HUGE_VAL, 0.4 };
    struct size_tree tree = { 3, parent, options, count, limit };
    struct arena *arena = arena_new();

    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 0 && eased == 1);
    limit[2] = 0.55; /* the feeder can still not save it, but comes nearest */
    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 1 && eased == 1);
    limit[2] = 0.6; /* now it can */
    assert_int_equal(size_tree_choose(arena, &tree, choice, &eased), STATUS_OK);
    assert_true(choice[1] == 1 && eased == 0);
    arena_free(arena);
}

/* Long chains and wide hubs hold their limits too. */
TEST(large_trees)
{
    for (unsigned long seed = 1; seed <= 4; seed++) {
        struct arena *arena = arena_new();
        size_t nodes = 400 * seed, choice[MOST], eased;
        struct problem *p = random_problem(arena, nodes, SIZES, seed * 45);

        for (size_t i = 0; i < nodes; i++)
            p->limit[i] = 1000;
        assert_int_equal(size_tree_choose(arena, &p->tree, choice, &eased), STATUS_OK);
        assert_true(cost_of(p, choice) > 0);
        arena_free(arena);
    }
}

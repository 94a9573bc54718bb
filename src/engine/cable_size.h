/* cable_size.h - sizes for a tree of cables, total copper least, every limit on the whole path held.
 * Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_SIZE_H
#define BD_CABLE_SIZE_H

#include <stddef.h>

#include "base/status.h"

struct arena;

/* What one cable may be: rising cost, falling drop. */
struct size_option {
    double drop_v; /* [V] lost in it */
    double cost;   /* [kg] of copper, or any other measure */
};

/* Node 0 is the source; node i > 0 hangs on parent[i] < i by a cable with options[i]. */
struct size_tree {
    size_t node_count;
    const size_t *parent;
    const struct size_option *const *options;
    const size_t *option_count; /* at least 1 for i > 0 */
    const double *limit_v;      /* [V] most that may be lost from node 0 to i; HUGE_VAL: no limit */
};

/*
 * choice[i] becomes the option of the cable into node i such that the sum of costs is least while every
 * node's limit holds. A limit that even the thickest cables break is eased to what they reach, and lifted
 * where cables with a single option break it alone: these are to be replaced first (eased counts both).
 *
 * For each node the cheapest cost below it is kept as a stair over the volts lost above it, and the stairs
 * are merged from the ends to the source: exact, as long as no stair has more steps than SIZE_STEPS. Longer
 * stairs are thinned: the limits still hold, the cost may then lie a little above the least.
 */
enum { SIZE_STEPS = 600 };
enum status size_tree_choose(struct arena *arena, const struct size_tree *tree, size_t *choice,
                             size_t *eased);

#endif

/* network_plan.h - 2 x 2 block elimination in a good order, with a dense core.
 * Layer: engine, private to network.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_NETWORK_PLAN_H
#define BD_NETWORK_PLAN_H

#include <stddef.h>

#include "engine/network.h"

/* A neighbour of an eliminated node: the edge to it and which end of the edge it is. */
struct net_link {
    size_t node, edge;
};

/* One node taken out, and what it was joined to at that moment. */
struct net_step {
    size_t node;
    size_t first_link, link_count; /* into links */
    size_t first_pair;             /* into pairs: the edges between link i and j, i < j, row by row */
};

/* The order, and room for the numbers of one net at a time. Block arrays
 * have four numbers an entry, row by row. */
struct net_plan {
    size_t node_count, edge_count, load_count;
    size_t *edge_of_run;
    size_t *edge_low; /* per edge: the end that comes first; upper is its row, lower its column */
    int *earthed;
    struct net_step *steps;
    size_t step_count;
    struct net_link *links;
    size_t *pairs;
    size_t *core; /* nodes left over */
    size_t core_count;
    /* edges between core nodes: their number, and place of both ends in core */
    size_t *core_edges, *core_rows, *core_columns;
    size_t core_edge_count;

    /* numbers, blocks of four */
    double *diagonal, *upper, *lower;
    double *pivot;   /* per step: the inverse of its diagonal block */
    double *weight;  /* per link: A[neighbour, node] x pivot */
    double *rhs;     /* per node 2 */
    double *state;   /* per node 2, scratch */
    double *inverse, *inverse_upper, *inverse_lower; /* of the factored matrix, where it has blocks */
    double *dense, *dense_inverse, *dense_rhs;
    size_t *permutation;
    struct net_load *scaled;
};

/* All numbers of the matrix and the right side to 0. */
void net_plan_clear(struct net_plan *plan);

/* Factors diagonal, upper and lower in place; 0 where a node hangs in the
 * air, that is where a pivot is singular. */
int net_plan_factor(struct net_plan *plan);

/* Solves in place; rhs has two numbers per node. */
void net_plan_substitute(const struct net_plan *plan, double *rhs);

/*
 * The blocks of the inverse on the diagonal and on the edges (Takahashi's recurrence, 1973), of the matrix
 * factored last. The whole inverse would be dense; these blocks are all that faults and sensitivities need.
 */
int net_plan_invert(struct net_plan *plan);

#endif

/* network_factor.c - block elimination, substitution and the sparse inverse, in the order of the plan.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include <gsl/gsl_linalg.h>

#include "engine/network_plan.h"

/*
 * The matrix is kept as 2 x 2 blocks: one on the diagonal for each node, two (upper, lower) for each edge,
 * since it is not symmetric: the slope of an AC load is not.
 *
 * With D the diagonal block of the node n of a step, and i, j its neighbours at that moment:
 *
 *   W[i] = A[i,n] D-1          A[i,i] -= W[i] A[n,i]          A[i,j] -= W[i] A[n,j]
 *   forward                    b[i] -= W[i] b[n]
 *   backward                   x[n] = D-1 (b[n] - sum A[n,i] x[i])
 *
 * D-1 and W are kept, so that one factoring serves many right sides and the inverse.
 */

void net_plan_clear(struct net_plan *plan)
{
    memset(plan->diagonal, 0, 4 * plan->node_count * sizeof *plan->diagonal);
    memset(plan->upper, 0, 4 * plan->edge_count * sizeof *plan->upper);
    memset(plan->lower, 0, 4 * plan->edge_count * sizeof *plan->lower);
    memset(plan->rhs, 0, 2 * plan->node_count * sizeof *plan->rhs);
}

/* out = sign x (a b) + out, all 2 x 2. */
static void multiply_add(double *out, const double *a, const double *b, double sign)
{
    out[0] += sign * (a[0] * b[0] + a[1] * b[2]);
    out[1] += sign * (a[0] * b[1] + a[1] * b[3]);
    out[2] += sign * (a[2] * b[0] + a[3] * b[2]);
    out[3] += sign * (a[2] * b[1] + a[3] * b[3]);
}

/* out = inverse of a 2 x 2 block; 0 where it is singular. */
static int invert(double *out, const double *a)
{
    double determinant = a[0] * a[3] - a[1] * a[2];

    /* a node that no conductor holds leaves a determinant of rounding errors only */
    if (!(fabs(determinant) > 1e-13 * (fabs(a[0] * a[3]) + fabs(a[1] * a[2]))))
        return 0;
    out[0] = a[3] / determinant;
    out[1] = -a[1] / determinant;
    out[2] = -a[2] / determinant;
    out[3] = a[0] / determinant;
    return 1;
}

/* The block in row `row` of an edge; the edge's other end is the column. */
static double *block(const struct net_plan *plan, double *upper, double *lower, size_t edge, size_t row)
{
    return (plan->edge_low[edge] == row ? upper : lower) + 4 * edge;
}

/* Takes one node out of the matrix: with D its block, every neighbour i gets the weight A[i,n] D-1, and
 * every pair of neighbours loses weight x A[n,j]. */
static int factor_step(struct net_plan *plan, const struct net_step *step)
{
    const struct net_link *links = plan->links + step->first_link;
    double *pivot = plan->pivot + 4 * step->node;
    size_t pair = step->first_pair;

    if (!invert(pivot, plan->diagonal + 4 * step->node))
        return 0;
    for (size_t i = 0; i < step->link_count; i++) {
        double *weight = plan->weight + 4 * (step->first_link + i);

        memset(weight, 0, 4 * sizeof *weight);
        multiply_add(weight, block(plan, plan->upper, plan->lower, links[i].edge, links[i].node), pivot, 1);
        multiply_add(plan->diagonal + 4 * links[i].node, weight,
                     block(plan, plan->upper, plan->lower, links[i].edge, step->node), -1);
    }
    for (size_t i = 0; i < step->link_count; i++)
        for (size_t j = i + 1; j < step->link_count; j++, pair++) {
            size_t edge = plan->pairs[pair], a = links[i].node, b = links[j].node;

            multiply_add(block(plan, plan->upper, plan->lower, edge, a),
                         plan->weight + 4 * (step->first_link + i),
                         block(plan, plan->upper, plan->lower, links[j].edge, step->node), -1);
            multiply_add(block(plan, plan->upper, plan->lower, edge, b),
                         plan->weight + 4 * (step->first_link + j),
                         block(plan, plan->upper, plan->lower, links[i].edge, step->node), -1);
        }
    return 1;
}

/* Copies a block into rows and columns of two of the dense matrix. */
static void put(double *dense, size_t width, size_t row, size_t column, const double *b)
{
    dense[2 * row * width + 2 * column] = b[0];
    dense[2 * row * width + 2 * column + 1] = b[1];
    dense[(2 * row + 1) * width + 2 * column] = b[2];
    dense[(2 * row + 1) * width + 2 * column + 1] = b[3];
}

/* What no elimination thins out, as a dense matrix through GSL. */
static int factor_core(struct net_plan *plan)
{
    size_t m = 2 * plan->core_count;
    gsl_permutation permutation = { m, plan->permutation };
    gsl_matrix_view view;
    int sign;

    if (m == 0)
        return 1;
    memset(plan->dense, 0, m * m * sizeof *plan->dense);
    for (size_t i = 0; i < plan->core_count; i++)
        put(plan->dense, m, i, i, plan->diagonal + 4 * plan->core[i]);
    for (size_t i = 0; i < plan->core_edge_count; i++) {
        size_t edge = plan->core_edges[i], row = plan->core_rows[i], column = plan->core_columns[i];

        put(plan->dense, m, row, column, block(plan, plan->upper, plan->lower, edge, plan->core[row]));
        put(plan->dense, m, column, row, block(plan, plan->upper, plan->lower, edge, plan->core[column]));
    }
    view = gsl_matrix_view_array(plan->dense, m, m);
    gsl_linalg_LU_decomp(&view.matrix, &permutation, &sign);
    for (size_t i = 0; i < m; i++) /* GSL stops the program on a zero here */
        if (!(fabs(plan->dense[i * m + i]) > 0) || !isfinite(plan->dense[i * m + i]))
            return 0;
    return 1;
}

int net_plan_factor(struct net_plan *plan)
{
    for (size_t i = 0; i < plan->step_count; i++)
        if (!factor_step(plan, &plan->steps[i]))
            return 0;
    return factor_core(plan);
}

/* The unknowns of the core, in place. */
static void solve_core(const struct net_plan *plan, double *rhs)
{
    size_t m = 2 * plan->core_count;
    gsl_permutation permutation = { m, plan->permutation };
    gsl_matrix_view view;
    gsl_vector_view x;

    if (m == 0)
        return;
    for (size_t i = 0; i < m; i++)
        plan->dense_rhs[i] = rhs[2 * plan->core[i / 2] + i % 2];
    view = gsl_matrix_view_array(plan->dense, m, m);
    x = gsl_vector_view_array(plan->dense_rhs, m);
    gsl_linalg_LU_svx(&view.matrix, &permutation, &x.vector);
    for (size_t i = 0; i < m; i++)
        rhs[2 * plan->core[i / 2] + i % 2] = plan->dense_rhs[i];
}

/* out -= a v, pairs. */
static void subtract(double *out, const double *a, const double *v)
{
    out[0] -= a[0] * v[0] + a[1] * v[1];
    out[1] -= a[2] * v[0] + a[3] * v[1];
}

void net_plan_substitute(const struct net_plan *plan, double *rhs)
{
    for (size_t s = 0; s < plan->step_count; s++) {
        const struct net_step *step = &plan->steps[s];

        for (size_t i = step->first_link; i < step->first_link + step->link_count; i++)
            subtract(rhs + 2 * plan->links[i].node, plan->weight + 4 * i, rhs + 2 * step->node);
    }
    solve_core(plan, rhs);
    for (size_t s = plan->step_count; s-- > 0;) {
        const struct net_step *step = &plan->steps[s];
        const double *pivot = plan->pivot + 4 * step->node;
        double *x = rhs + 2 * step->node, first;

        for (size_t i = step->first_link; i < step->first_link + step->link_count; i++)
            subtract(x, block(plan, plan->upper, plan->lower, plan->links[i].edge, step->node),
                     rhs + 2 * plan->links[i].node);
        first = pivot[0] * x[0] + pivot[1] * x[1];
        x[1] = pivot[2] * x[0] + pivot[3] * x[1];
        x[0] = first;
    }
}

/* The block of the inverse between links i and j of a step. */
static const double *inverse_between(struct net_plan *plan, const struct net_step *step, size_t i, size_t j)
{
    const struct net_link *links = plan->links + step->first_link;
    size_t low = i < j ? i : j, high = i < j ? j : i, n = step->link_count;

    if (i == j)
        return plan->inverse + 4 * links[i].node;
    /* pairs are kept row by row: (0,1) (0,2) .. (1,2) .. */
    return block(plan, plan->inverse_upper, plan->inverse_lower,
                 plan->pairs[step->first_pair + low * (2 * n - low - 1) / 2 + high - low - 1], links[i].node);
}

/*
 * Blocks of the inverse Z at a node n from those among its neighbours, in reverse order of elimination:
 *
 *   Z[n,i] = -D-1 sum_j A[n,j] Z[j,i],   Z[n,n] = D-1 - D-1 sum_j A[n,j] Z[j,n]
 */
static void invert_step(struct net_plan *plan, const struct net_step *step)
{
    const struct net_link *links = plan->links + step->first_link;
    const double *pivot = plan->pivot + 4 * step->node;
    double *own = plan->inverse + 4 * step->node;

    memcpy(own, pivot, 4 * sizeof *own);
    for (size_t i = 0; i < step->link_count; i++) {
        double *row = block(plan, plan->inverse_upper, plan->inverse_lower, links[i].edge, step->node);
        double *column = block(plan, plan->inverse_upper, plan->inverse_lower, links[i].edge, links[i].node);

        memset(row, 0, 4 * sizeof *row);
        memset(column, 0, 4 * sizeof *column);
        for (size_t j = 0; j < step->link_count; j++) {
            double reach[4] = { 0 };

            multiply_add(reach, pivot, block(plan, plan->upper, plan->lower, links[j].edge, step->node), 1);
            multiply_add(row, reach, inverse_between(plan, step, j, i), -1);
            multiply_add(column, inverse_between(plan, step, i, j), plan->weight + 4 * (step->first_link + j),
                         -1);
        }
    }
    for (size_t i = 0; i < step->link_count; i++) {
        double reach[4] = { 0 };

        multiply_add(reach, pivot, block(plan, plan->upper, plan->lower, links[i].edge, step->node), 1);
        multiply_add(own, reach,
                     block(plan, plan->inverse_upper, plan->inverse_lower, links[i].edge, links[i].node), -1);
    }
}

/* Copies rows and columns of two of the dense matrix into a block. */
static void get(double *b, const double *dense, size_t width, size_t row, size_t column)
{
    b[0] = dense[2 * row * width + 2 * column];
    b[1] = dense[2 * row * width + 2 * column + 1];
    b[2] = dense[(2 * row + 1) * width + 2 * column];
    b[3] = dense[(2 * row + 1) * width + 2 * column + 1];
}

/* What is left when all tree-like nodes are eliminated is inverted densely; only the diagonal and the blocks
 * along its edges are kept, for nothing else is asked of the inverse. */
static void invert_core(struct net_plan *plan)
{
    size_t m = 2 * plan->core_count;
    gsl_permutation permutation = { m, plan->permutation };
    gsl_matrix_view lu, out;

    if (m == 0)
        return;
    lu = gsl_matrix_view_array(plan->dense, m, m);
    out = gsl_matrix_view_array(plan->dense_inverse, m, m);
    gsl_linalg_LU_invert(&lu.matrix, &permutation, &out.matrix);
    for (size_t i = 0; i < plan->core_count; i++)
        get(plan->inverse + 4 * plan->core[i], plan->dense_inverse, m, i, i);
    for (size_t i = 0; i < plan->core_edge_count; i++) {
        size_t edge = plan->core_edges[i], row = plan->core_rows[i], column = plan->core_columns[i];

        get(block(plan, plan->inverse_upper, plan->inverse_lower, edge, plan->core[row]), plan->dense_inverse,
            m, row, column);
        get(block(plan, plan->inverse_upper, plan->inverse_lower, edge, plan->core[column]),
            plan->dense_inverse, m, column, row);
    }
}

int net_plan_invert(struct net_plan *plan)
{
    invert_core(plan);
    for (size_t s = plan->step_count; s-- > 0;)
        invert_step(plan, &plan->steps[s]);
    return 1;
}

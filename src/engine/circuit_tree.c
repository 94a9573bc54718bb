/* circuit_tree.c - the nodes as a tree with twigs, for the terminal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/circuit_report.h"

/*
 * The same rows for machines and people; only the column `twig` is for the eye:
 *
 *   house
 *   +- main-bus
 *   |  +- panel
 *   |  +- inverter
 *   +- windlass
 */

struct tree {
    const struct report *r;
    size_t *first, *next; /* children in the profile's order */
    struct circuit_branch *rows;
    size_t count;
};

/* Children in the order of the cables: walked backwards, each put in front. */
static int link_children(struct tree *t)
{
    const struct graph *g = t->r->m->graph;

    t->first = arena_array(t->r->m->arena, g->node_count, sizeof *t->first);
    t->next = arena_array(t->r->m->arena, g->node_count, sizeof *t->next);
    t->rows = arena_array(t->r->m->arena, g->node_count, sizeof *t->rows);
    if (!t->first || !t->next || !t->rows)
        return 0;
    for (size_t i = 0; i < g->node_count; i++)
        t->first[i] = GRAPH_NONE;
    for (size_t e = g->edge_count; e-- > 0;)
        if (!g->edges[e].chord) {
            t->next[g->edges[e].to] = t->first[g->edges[e].from];
            t->first[g->edges[e].from] = g->edges[e].to;
        }
    return 1;
}

/* Everything a source gives: what leaves it through its cables. */
static double leaving(const struct tree *t, size_t node)
{
    const struct graph *g = t->r->m->graph;
    double sum = 0;

    for (size_t c = t->first[node]; c != GRAPH_NONE; c = t->next[c])
        sum += t->r->shown.current[g->nodes[c].parent];
    return fabs(sum);
}

/* One node with what stands left of it. 0 without memory. */
static int add_row(struct tree *t, size_t node, const char *before, const char *twig, double depth)
{
    const struct graph *g = t->r->m->graph;
    size_t edge = g->nodes[node].parent;
    const struct graph_part *part = &g->parts[g->nodes[node].part];
    struct circuit_branch *row = &t->rows[t->count++];

    *row = (struct circuit_branch){
        .twig = arena_print(t->r->m->arena, "%s%s%s", before, twig, g->nodes[node].name),
        .name = g->nodes[node].name,
        .depth = depth,
        .cable = edge == GRAPH_NONE ? "" : g->edges[edge].cable->name,
        .current_a = edge == GRAPH_NONE ? leaving(t, node) : fabs(t->r->shown.current[edge]),
        .volts_v = t->r->shown.volts[node],
        .drop_percent = 100 * (t->r->shown.volts[part->source] - t->r->shown.volts[node]) / part->nominal_v,
    };
    return row->twig != NULL;
}

/* The children of a node, each with its own below it; before: what stands left of them. Recursion as
 * deep as the tree. 0 without memory. */
static int grow(struct tree *t, size_t node, const char *before, double depth)
{
    for (size_t c = t->first[node]; c != GRAPH_NONE; c = t->next[c]) {
        int last = t->next[c] == GRAPH_NONE;
        const char *deeper = t->first[c] == GRAPH_NONE
                                 ? before
                                 : arena_print(t->r->m->arena, "%s%s", before, last ? "   " : "\u2502  ");

        if (!deeper || !add_row(t, c, before, last ? "\u2514\u2500 " : "\u251c\u2500 ", depth) ||
            !grow(t, c, deeper, depth + 1))
            return 0;
    }
    return 1;
}

enum status report_tree(struct circuit *out, const struct report *r)
{
    struct tree t = { .r = r };

    if (!link_children(&t))
        return STATUS_NO_MEMORY;
    for (size_t p = 0; p < r->m->graph->part_count; p++)
        if (!add_row(&t, r->m->graph->parts[p].source, "", "", 0) ||
            !grow(&t, r->m->graph->parts[p].source, "", 1))
            return STATUS_NO_MEMORY;
    out->tree = t.rows;
    out->tree_count = t.count;
    return STATUS_OK;
}

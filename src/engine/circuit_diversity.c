/* circuit_diversity.c - loads that never all run at once: a share on shared cables, all of it on their own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/circuit_model.h"

/*
 * [load] diversity: the share of a load that counts where everything may run at once. A cable that serves it
 * alone must carry all of it, a cable that serves many only the share. One network cannot draw two currents
 * at one node, so the load draws in full, and where its own cables meet others the rest is given back:
 *
 *       bank ---------- panel ---------- load
 *              share            all of it
 *                      ^ (1 - share) I fed in here
 *
 * The part given back is a current, taken anew from each round of the solve. Volts at the load are those
 * with all of it in its own cables and the share of every load in the shared ones.
 */

double load_diversity(const struct load *load)
{
    return fmin(1, fmax(0, range_or(&load->diversity, 1)));
}

/* ---- where own cables end ---- */

const struct load *draw_load(const struct boat *boat, const struct draw *d)
{
    const struct load *only = NULL;

    if (d->kind == DRAW_LOAD)
        return &boat->loads[d->index];
    for (size_t i = 0; d->kind == DRAW_DCDC && i < boat->load_count; i++)
        if (boat->loads[i].converter == &boat->dcdcs[d->index]) {
            if (only)
                return NULL;
            only = &boat->loads[i];
        }
    return only;
}

/* Draws at a node and beyond; a node of a loop counts as shared. */
static size_t *count_beyond(const struct model *m)
{
    const struct graph *g = m->graph;
    size_t *beyond = arena_array(m->arena, g->node_count, sizeof *beyond);

    if (!beyond)
        return NULL;
    for (size_t p = 0; p < g->part_count; p++)
        for (size_t i = 0; i < m->parts[p].net.load_count; i++)
            beyond[m->parts[p].draws[i].node]++;
    for (size_t e = 0; e < g->edge_count; e++)
        if (g->edges[e].chord) {
            beyond[g->edges[e].from] += 2;
            beyond[g->edges[e].to] += 2;
        }
    for (size_t i = g->node_count; i-- > 0;) {
        const struct graph_node *n = &g->nodes[g->order[i]];

        if (n->parent != GRAPH_NONE)
            beyond[g->edges[n->parent].from] += beyond[g->order[i]];
    }
    return beyond;
}

/* Up from a draw to the node where its cable meets others, or to the source. */
static size_t end_of_own(const struct graph *g, const size_t *beyond, size_t node)
{
    while (g->nodes[node].parent != GRAPH_NONE && beyond[node] == 1)
        node = g->edges[g->nodes[node].parent].from;
    return node;
}

int model_spare(struct model *m)
{
    const size_t *beyond = count_beyond(m);

    for (size_t p = 0; beyond && p < m->graph->part_count; p++) {
        struct part_net *part = &m->parts[p];
        size_t count = part->net.load_count;

        for (size_t i = 0; i < count; i++) {
            struct draw *d = &part->draws[i];
            const struct load *load = draw_load(m->boat, d);
            size_t end = end_of_own(m->graph, beyond, d->node);

            d->spared = GRAPH_NONE;
            if (!load || load_diversity(load) >= 1 || end == d->node)
                continue;
            d->spared = part->net.load_count++;
            part->draws[d->spared] =
                (struct draw){ .kind = DRAW_SPARED, .index = i, .node = end, .spared = GRAPH_NONE };
            part->loads[d->spared] = (struct net_load){ .node = m->local[end], .behaves = NET_CURRENT };
        }
    }
    return beyond != NULL;
}

/* ---- in a scenario ---- */

/* Current [A] of a draw in full at given volts. */
static double amps_at(const struct part_net *part, const struct net_load *load, double volts)
{
    double swing = part->net.system == NET_AC ? hypot(1, load->reactive_share) : 1;

    if (load->behaves == NET_CURRENT)
        return load->value;
    return load->behaves == NET_POWER ? load->value * swing / volts : volts / load->value;
}

void model_share(struct part_net *part, double nominal_v)
{
    for (size_t i = 0; i < part->net.load_count; i++) {
        struct draw *d = &part->draws[i];
        struct net_load *load = &part->loads[i];

        if (d->kind == DRAW_SPARED)
            continue;
        d->full = load->value;
        if (d->spared != GRAPH_NONE) {
            struct net_load *spared = &part->loads[d->spared];

            spared->behaves = NET_CURRENT;
            spared->reactive_share = load->reactive_share;
            spared->value = load->value > 0 ? -(1 - d->share) * amps_at(part, load, nominal_v) : 0;
        } else if (d->share < 1) {
            load->value = load->behaves != NET_RESISTANCE ? load->value * d->share
                          : d->share > 0                  ? load->value / d->share
                                                          : 0;
        }
    }
}

void model_respare(struct part_net *part)
{
    for (size_t i = 0; i < part->net.load_count; i++) {
        const struct draw *d = &part->draws[i];

        if (d->kind != DRAW_SPARED && d->spared != GRAPH_NONE && d->full > 0)
            part->loads[d->spared].value =
                -(1 - d->share) * net_load_current(&part->net, part->state, &part->loads[i]);
    }
}

/* ---- one load alone ---- */

/* From the ends to the source: the largest full current beyond each edge. A loop splits it: none there. */
void model_alone(struct model *m)
{
    const struct graph *g = m->graph;

    for (size_t e = 0; e < g->edge_count; e++)
        m->alone[e] = (struct alone){ 0, NULL };
    for (size_t p = 0; p < g->part_count; p++)
        for (size_t i = 0; i < m->parts[p].net.load_count && !g->parts[p].loops; i++) {
            const struct part_net *part = &m->parts[p];
            const struct draw *d = &part->draws[i];
            const struct load *load = draw_load(m->boat, d);
            size_t edge = g->nodes[d->node].parent;
            struct net_load whole = part->loads[i];

            whole.value = d->full;
            if (!load || load_diversity(load) >= 1 || whole.value <= 0 || edge == GRAPH_NONE)
                continue;
            whole.value = net_load_current(&part->net, part->state, &whole);
            if (whole.value > m->alone[edge].amps)
                m->alone[edge] = (struct alone){ whole.value, load->name };
        }
    for (size_t i = g->node_count; i-- > 0;) {
        size_t edge = g->nodes[g->order[i]].parent, above;

        if (edge == GRAPH_NONE || (above = g->nodes[g->edges[edge].from].parent) == GRAPH_NONE)
            continue;
        if (m->alone[edge].amps > m->alone[above].amps)
            m->alone[above] = m->alone[edge];
    }
}

double model_steady_a(const struct model *m, size_t edge)
{
    return fmax(fabs(m->current[edge]), m->alone[edge].amps);
}

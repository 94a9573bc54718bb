/* circuit_tables.c - nodes, banks and their strings, loads, and the path that loses most.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/circuit_report.h"
#include "parts/bank.h"

/* Volts of a node in the scenario it is judged by. */
static const struct snapshot *node_snapshot(const struct report *r, size_t node)
{
    size_t edge = r->m->graph->nodes[node].parent;

    return edge == GRAPH_NONE ? &r->shown : report_snapshot(r, edge);
}

/* Drop from the source's terminals [%]. */
static double drop_percent(const struct report *r, size_t node, const struct snapshot *s)
{
    const struct graph_part *part = &r->m->graph->parts[r->m->graph->nodes[node].part];

    return 100 * fabs(s->volts[part->source] - s->volts[node]) / part->nominal_v;
}

enum status report_nodes(struct circuit *out, const struct report *r)
{
    const struct graph *g = r->m->graph;
    struct circuit_node *rows = arena_array(r->m->arena, g->node_count, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < g->node_count; i++)
        rows[i] = (struct circuit_node){
            .name = g->nodes[i].name,
            .kind = graph_kind_text(g->nodes[i].kind),
            .system = g->parts[g->nodes[i].part].system == NET_DC ? "dc" : "ac",
            .volts_v = r->shown.volts[i],
            .drop_percent = drop_percent(r, i, &r->shown),
            .fault_a = r->fault_a[i],
        };
    out->nodes = rows;
    out->node_count = g->node_count;
    return STATUS_OK;
}

/* How its strings are joined, in words. */
static const char *wiring_text(const struct bank *bank)
{
    static const char *const texts[] = { "equal tails", "links, both leads at one end",
                                         "links, leads at opposite ends" };

    return bank->parallel.value > 1 ? texts[bank->wiring] : "one string";
}

/* Cranking amperes of a bank [A] by its labels; 0: they say something else. */
static double cranking_amps(const struct bank *bank)
{
    return bank->rated_as == RATED_CRANKING_AMPS ? bank->rated_value * bank->parallel.value : 0;
}

/* What its label and its owner say of it. */
static void describe_bank(const struct bank *bank, struct circuit_bank *row)
{
    double series = bank->series.value, parallel = bank->parallel.value;

    row->chemistry = chemistry_facts(bank->chemistry)->name;
    row->block_ah = bank->block_capacity.value;
    row->block_hours = bank->rated_hours;
    row->block_v = bank->block_voltage.value;
    row->series = series;
    row->parallel = parallel;
    row->capacity_ah = bank->block_capacity.value * parallel;
    row->health_percent = 100 * range_or(&bank->health, 1);
    row->max_charge_a = range_or(&bank->max_charge, 0);
    row->max_discharge_a = range_or(&bank->max_discharge, 0);
    row->limits_from = bank->max_charge.origin == ORIGIN_GIVEN ? "given" : "by chemistry";
    row->link_mohm = parallel > 1 ? range_or(&bank->link_resistance, 0) * 1e3 : 0;
    row->mass_kg = range_or(&bank->mass, 0) * series * parallel;
}

/* What the bank gives in the shown scenario, and how it looks from its posts. */
static void fill_bank(const struct report *r, size_t part, struct circuit_bank *row)
{
    const struct part_net *p = &r->m->parts[part];
    size_t posts = r->m->graph->parts[part].source;
    const struct bank *bank = r->m->graph->parts[part].bank;
    double ohm = p->sources[0].ohm / (double)p->blocks;

    *row = (struct circuit_bank){
        .name = bank->name,
        .charge_percent = 100 * r->m->charge,
        .open_circuit_v = p->sources[0].emf_v,
        .volts_v = r->shown.volts[posts],
        .fault_a = r->fault_a[posts],
        .wiring = wiring_text(bank),
    };
    describe_bank(bank, row);
    for (size_t k = 0; k < p->blocks; k++)
        row->current_a += net_source_current(&p->net, p->state, &p->sources[k]);
    if (p->blocks > 1) { /* seen from the posts, links included */
        double emf = p->sources[0].emf_v;

        ohm = fabs(row->current_a) > 1e-6 ? (emf - row->volts_v) / row->current_a : ohm;
    }
    row->resistance_mohm = ohm * 1e3;
    row->interrupt_asked_a =
        cranking_amps(bank) > 0 ? wiring_interrupt_a(r->m->rules, cranking_amps(bank), 1) : 0;
}

/* What each string gives, and its share; equal ones where nothing flows. */
static void fill_blocks(const struct report *r, size_t part, struct circuit_block *rows, size_t *count)
{
    const struct part_net *p = &r->m->parts[part];
    double sum = 0;

    for (size_t k = 0; k < p->blocks; k++)
        sum += net_source_current(&p->net, p->state, &p->sources[k]);
    for (size_t k = 0; k < p->blocks; k++) {
        double amps = net_source_current(&p->net, p->state, &p->sources[k]);

        rows[(*count)++] =
            (struct circuit_block){ r->m->graph->parts[part].bank->name, (double)(k + 1), amps,
                                    fabs(sum) > 1e-9 ? 100 * amps / sum : 100 / (double)p->blocks };
    }
}

enum status report_banks(struct circuit *out, const struct report *r)
{
    const struct graph *g = r->m->graph;
    struct circuit_bank *rows = arena_array(r->m->arena, g->part_count, sizeof *rows);
    struct circuit_block *blocks;
    size_t strings = 0;

    for (size_t p = 0; p < g->part_count; p++)
        strings += r->m->parts[p].blocks;
    blocks = arena_array(r->m->arena, strings, sizeof *blocks);
    if (!rows || !blocks)
        return STATUS_NO_MEMORY;
    for (size_t p = 0; p < g->part_count; p++) {
        if (!g->parts[p].bank)
            continue;
        fill_bank(r, p, &rows[out->bank_count++]);
        if (r->m->parts[p].blocks > 1)
            fill_blocks(r, p, blocks, &out->block_count);
    }
    out->banks = rows;
    out->blocks = blocks;
    return STATUS_OK;
}

const char *draw_name(const struct report *r, const struct draw *d)
{
    switch (d->kind) {
    case DRAW_LOAD:
        return r->m->boat->loads[d->index].name;
    case DRAW_INVERTER:
        return r->m->boat->inverters[d->index].name;
    case DRAW_DCDC:
        return r->m->boat->dcdcs[d->index].name;
    case DRAW_CHARGER_INPUT:
        return r->m->boat->chargers[d->index].name;
    case DRAW_CHARGE:
    case DRAW_SPARED:
        break;
    }
    return r->m->graph->nodes[d->node].name;
}

/* What a draw takes in the shown scenario, with its volts. AC power is the real part: |V||I| cos phi. */
static void fill_load(const struct report *r, const struct part_net *p, size_t i, struct circuit_load *row)
{
    const struct draw *d = &p->draws[i];
    double amps = net_load_current(&p->net, p->state, &p->loads[i]);

    *row = (struct circuit_load){
        .name = draw_name(r, d),
        .node = r->m->graph->nodes[d->node].name,
        .behaves = behaviour_text(p->loads[i].behaves),
        .system = p->net.system == NET_DC ? "dc" : "ac",
        .diversity_percent = 100 * (d->kind == DRAW_LOAD ? load_diversity(&r->m->boat->loads[d->index]) : 1),
        .current_a = amps,
        .volts_v = r->shown.volts[d->node],
        .drop_percent = drop_percent(r, d->node, &r->shown),
    };
    row->power_w = amps * row->volts_v / sqrt(1 + p->loads[i].reactive_share * p->loads[i].reactive_share);
    row->critical = d->kind == DRAW_LOAD && model_load_critical(r->m, &r->m->boat->loads[d->index]);
}

enum status report_loads(struct circuit *out, const struct report *r)
{
    struct circuit_load *rows;
    size_t most = 0;

    for (size_t p = 0; p < r->m->graph->part_count; p++)
        most += r->m->parts[p].net.load_count;
    rows = arena_array(r->m->arena, most, sizeof *rows);
    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t p = 0; p < r->m->graph->part_count; p++)
        for (size_t i = 0; i < r->m->parts[p].net.load_count; i++)
            if (r->m->parts[p].draws[i].kind != DRAW_CHARGE && r->m->parts[p].draws[i].kind != DRAW_SPARED)
                fill_load(r, &r->m->parts[p], i, &rows[out->load_count++]);
    out->loads = rows;
    return STATUS_OK;
}

/* The node that has used most of its limit in the shown scenario; GRAPH_NONE: none has one. */
static size_t worst_node(const struct report *r)
{
    const struct graph *g = r->m->graph;
    size_t worst = GRAPH_NONE;
    double most = -1;

    for (size_t i = 0; i < g->node_count; i++) {
        double limit = model_node_limit(r->m, i);
        const struct snapshot *s = node_snapshot(r, i);

        if (s != &r->shown || limit == HUGE_VAL || g->nodes[i].parent == GRAPH_NONE)
            continue;
        if (s->rule_total[i] / limit > most) {
            most = s->rule_total[i] / limit;
            worst = i;
        }
    }
    return worst;
}

/* The way to the node that has used most of its limit, from the source on, for the plot. */
enum status report_path(struct circuit *out, const struct report *r)
{
    const struct graph *g = r->m->graph;
    size_t node = worst_node(r), length = 0, source;
    struct circuit_path_step *steps;

    if (node == GRAPH_NONE)
        return STATUS_OK;
    source = g->parts[g->nodes[node].part].source;
    for (size_t i = node; g->nodes[i].parent != GRAPH_NONE; i = g->edges[g->nodes[i].parent].from)
        length++;
    steps = arena_array(r->m->arena, length, sizeof *steps);
    if (!steps)
        return STATUS_NO_MEMORY;
    out->path_load = g->nodes[node].name;
    out->path_source = g->nodes[source].name;
    out->path_source_v = r->shown.volts[source];
    out->path_count = length;
    out->path = steps;
    for (; g->nodes[node].parent != GRAPH_NONE; node = g->edges[g->nodes[node].parent].from) {
        const struct graph_edge *e = &g->edges[g->nodes[node].parent];
        double limit = model_node_limit(r->m, node);

        steps[--length] =
            (struct circuit_path_step){ e->cable->name, g->nodes[node].name, r->shown.volts[node],
                                        r->shown.volts[e->from] - r->shown.volts[node],
                                        limit < HUGE_VAL ? out->path_source_v - limit : 0 };
    }
    return STATUS_OK;
}

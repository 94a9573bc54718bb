/* circuit_work.c - what the working of the cables needs is kept while the model stands; lines are made later.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/circuit_work.h"

#include <math.h>

#include "base/arena.h"
#include "engine/cable_work.h"
#include "engine/circuit_report.h"

/*
 * --working of cables is asked for after the run, when the model has moved on to the inverters. So
 * what a calculation needs of the shown state is kept while it stands (report_ground), and the lines
 * are written only when somebody asks.
 */

/* One thing that draws, as it came out in the shown scenario. */
struct drawn {
    const char *name;
    size_t node;
    enum net_behaviour behaves;
    double value; /* [W], [A] or [ohm] */
    double power_factor, volts_v, amps;
    int spared; /* 1: the part of it that shared cables do not carry, negative */
};

struct circuit_ground {
    const struct graph *graph;
    const struct wire *wires;
    const struct wiring_rules *rules;
    const double *limits; /* [V] per node; HUGE_VAL: none */
    const double *volts;  /* [V] per edge, in the scenario that judges it: at its near end, at its source */
    const double *amps;   /* [A] per edge, signed, shown */
    const double *rule_total[2]; /* [V] per node: lost from the source by the rule, shown and charging */
    const double *power_factor;  /* [-] per edge, at its far end; DC: 1 */
    const int *only_charges;
    const struct drawn *drawn;
    size_t drawn_count;
};

/* ---- while the model stands ---- */

/* Every draw of the shown scenario with its volts and amperes; charging sources are not drawn. */
static void keep_drawn(struct circuit_ground *ground, const struct report *r, struct drawn *drawn)
{
    for (size_t p = 0; p < r->m->graph->part_count; p++) {
        const struct part_net *part = &r->m->parts[p];

        for (size_t i = 0; i < part->net.load_count; i++) {
            const struct draw *d = &part->draws[i];
            const struct net_load *load = &part->loads[i];
            const struct draw *of = d->kind == DRAW_SPARED ? &part->draws[d->index] : d;

            if (load->value == 0 || d->kind == DRAW_CHARGE)
                continue;
            drawn[ground->drawn_count++] =
                (struct drawn){ r->m->graph->nodes[of->node].loads > 1 && of->kind == DRAW_LOAD
                                    ? r->m->boat->loads[of->index].name
                                    : r->m->graph->nodes[of->node].name,
                                d->node,
                                load->behaves,
                                load->value,
                                1 / hypot(1, load->reactive_share),
                                r->shown.volts[d->node],
                                copysign(net_load_current(&part->net, part->state, load), load->value),
                                d->kind == DRAW_SPARED };
        }
    }
}

/* Volts at the near end of every cable and at its source, amperes and power factor,
 * in the scenario that judges it. */
static void keep_edges(const struct report *r, double *volts, double *amps, double *factor, int *only_charges)
{
    const struct graph *g = r->m->graph;

    for (size_t p = 0; p < g->part_count; p++)
        for (size_t k = 0; k < r->m->parts[p].net.run_count; k++) {
            const struct part_net *part = &r->m->parts[p];

            if (part->run_edge[k] != GRAPH_NONE)
                factor[part->run_edge[k]] = net_run_power_factor(&part->net, part->state, &part->runs[k]);
        }
    for (size_t e = 0; e < g->edge_count; e++) {
        const struct snapshot *s = report_snapshot(r, e);

        only_charges[e] = report_only_charges(r, e);
        amps[e] = r->shown.current[e];
        volts[2 * e] = s->volts[g->edges[e].from];
        volts[2 * e + 1] = s->volts[g->parts[g->nodes[g->edges[e].from].part].source];
    }
}

enum status report_ground(struct circuit *out, const struct report *r)
{
    struct arena *arena = r->m->arena;
    const struct graph *g = r->m->graph;
    struct circuit_ground *ground = arena_zero(arena, sizeof *ground);
    double *volts = arena_array(arena, 2 * g->edge_count, sizeof *volts);
    double *amps = arena_array(arena, g->edge_count, sizeof *amps);
    double *factor = arena_array(arena, g->edge_count, sizeof *factor);
    double *limits = arena_array(arena, g->node_count, sizeof *limits);
    int *only_charges = arena_array(arena, g->edge_count, sizeof *only_charges);
    struct drawn *drawn;
    size_t draws = 0;

    for (size_t p = 0; p < g->part_count; p++)
        draws += r->m->parts[p].net.load_count;
    drawn = arena_array(arena, draws, sizeof *drawn);
    if (!ground || !volts || !amps || !factor || !limits || !only_charges || !drawn)
        return STATUS_NO_MEMORY;
    *ground = (struct circuit_ground){ .graph = g,
                                       .wires = r->m->wires,
                                       .rules = r->m->rules,
                                       .limits = limits,
                                       .volts = volts,
                                       .amps = amps,
                                       .power_factor = factor,
                                       .only_charges = only_charges,
                                       .drawn = drawn,
                                       .rule_total = { r->shown.rule_total, r->charging.rule_total } };
    for (size_t i = 0; i < g->node_count; i++)
        limits[i] = model_node_limit(r->m, i);
    keep_drawn(ground, r, drawn);
    keep_edges(r, volts, amps, factor, only_charges);
    out->ground = ground;
    return STATUS_OK;
}

/* ---- when it is asked for ---- */

/* A sum while it is written down: "12.3 + 4.5 - 1.2", the later terms in one. */
struct sum {
    struct work *work;
    const char *text;
    size_t terms, more;
    double rest;
};

enum { SUM_TERMS = 20 };

/* One more term; beyond SUM_TERMS terms only their sum is kept. */
static void sum_add(struct sum *sum, double term)
{
    if (fabs(term) < 1e-9)
        return;
    if (sum->terms == SUM_TERMS) {
        sum->more++;
        sum->rest += term;
    } else if (sum->text) {
        sum->text = sum->terms++ == 0 ? arena_print(sum->work->arena, "%.4g", term)
                                      : arena_print(sum->work->arena, "%s %c %.4g", sum->text,
                                                    term < 0 ? '-' : '+', fabs(term));
    }
}

static const char *sum_text(struct sum *sum)
{
    if (sum->more > 0 && sum->text)
        sum->text = arena_print(sum->work->arena, "%s + %zu more: %.4g", sum->text, sum->more, sum->rest);
    sum->work->failed |= !sum->text;
    return sum->text ? sum->text : "";
}

/* What hangs at a node and is one sum: watts on DC or without an angle, or amps. */
static int is_summed(const struct drawn *d)
{
    return !d->spared && (d->behaves == NET_CURRENT || (d->behaves == NET_POWER && d->power_factor == 1));
}

/* Several of one kind in one line: a panel has dozens. */
static double note_summed(struct work *w, const struct cable_shown *s, const struct circuit_ground *ground,
                          size_t node, enum net_behaviour behaves)
{
    struct sum sum = { .work = w, .text = "" };
    double amps = 0, volts = 0;
    const char *figure;

    for (size_t i = 0; i < ground->drawn_count; i++) {
        const struct drawn *d = &ground->drawn[i];

        if (d->node != node || d->behaves != behaves || !is_summed(d))
            continue;
        sum_add(&sum, d->value);
        amps += d->amps;
        volts = d->volts_v;
    }
    figure = arena_print(w->arena, "%zu loads at %s", sum.terms + sum.more, s->row->to);
    if (behaves == NET_CURRENT)
        return work_note(w, cable_topic(w, s, "current"), figure, amps, "A", "given: constant current",
                         "sum of them", "%s", sum_text(&sum));
    return work_note(w, cable_topic(w, s, "current"), figure, amps, "A",
                     "solved: constant power at the volts there", "sum of P / V", "(%s) / %.5g",
                     sum_text(&sum), volts);
}

/* One draw in a line of its own; returns its amperes. */
static double note_draw(struct work *w, const struct cable_shown *s, const struct drawn *d)
{
    const char *topic = cable_topic(w, s, "current");

    if (d->spared)
        return work_note(w, topic, arena_print(w->arena, "%s, not counted", d->name), d->amps, "A",
                         "diversity of the load", "the share of it that does not run when the rest does",
                         NULL);
    if (d->behaves == NET_CURRENT)
        return work_note(w, topic, d->name, d->amps, "A", "given: constant current", NULL, NULL);
    if (d->behaves == NET_RESISTANCE)
        return work_note(w, topic, d->name, d->amps, "A", "solved with the volts there", "V / R",
                         "%.5g / %.5g", d->volts_v, d->value);
    if (d->power_factor < 1)
        return work_note(w, topic, d->name, d->amps, "A", "solved: constant power at the volts there",
                         "P / (V cos phi)", "%.5g / (%.5g x %.3g)", d->value, d->volts_v, d->power_factor);
    return work_note(w, topic, d->name, d->amps, "A", "solved: constant power at the volts there", "P / V",
                     "%.5g / %.5g", d->value, d->volts_v);
}

/* All that hangs at a node, added to the sum as it is written. */
static void note_draws(struct work *w, const struct cable_shown *s, const struct circuit_ground *ground,
                       size_t node, struct sum *sum)
{
    size_t summed[] = { [NET_POWER] = 0, [NET_CURRENT] = 0, [NET_RESISTANCE] = 0 };

    for (size_t i = 0; i < ground->drawn_count; i++)
        summed[ground->drawn[i].behaves] += ground->drawn[i].node == node && is_summed(&ground->drawn[i]);
    for (size_t i = 0; i < ground->drawn_count; i++)
        if (ground->drawn[i].node == node &&
            !(is_summed(&ground->drawn[i]) && summed[ground->drawn[i].behaves] > 1))
            sum_add(sum, note_draw(w, s, &ground->drawn[i]));
    if (summed[NET_POWER] > 1)
        sum_add(sum, note_summed(w, s, ground, node, NET_POWER));
    if (summed[NET_CURRENT] > 1)
        sum_add(sum, note_summed(w, s, ground, node, NET_CURRENT));
}

/* What leaves the far node of a cable: by cables, then by what hangs there. */
static void note_current(struct work *w, const struct cable_shown *s, const struct circuit_ground *ground,
                         size_t edge)
{
    const struct graph *g = ground->graph;
    size_t node = g->edges[edge].to;
    const struct graph_part *part = &g->parts[g->nodes[node].part];
    struct sum sum = { .work = w, .text = "" };

    if (ground->only_charges[edge]) {
        work_note(w, cable_topic(w, s, "current"), "while charging", s->row->current_a, "A",
                  "scenario charging: each source at its largest current", NULL, NULL);
        return;
    }
    for (size_t e = 0; e < g->edge_count; e++)
        if (e != edge && (g->edges[e].from == node || (g->edges[e].to == node && g->edges[e].chord)))
            sum_add(&sum, g->edges[e].from == node ? ground->amps[e] : -ground->amps[e]);
    note_draws(w, s, ground, node, &sum);
    if (sum.terms > 1 || part->loops)
        work_note(w, cable_topic(w, s, "current"), "in the cable", s->row->current_a, "A", "solved",
                  part->loops              ? "by the network: the currents of a loop share"
                  : part->system == NET_AC ? "all that hangs beyond it, as phasors"
                                           : "all that hangs beyond it",
                  part->loops ? NULL : "%s", sum_text(&sum));
    if (s->row->design_a > s->row->current_a * 1.001)
        work_note(w, cable_topic(w, s, "current"), "largest", s->row->design_a, "A", s->row->design_scenario,
                  "what ampacity and fuse are judged by", NULL);
}

/* Volts lost on the whole way from the source. */
static void note_way(struct work *w, const struct cable_shown *s, const struct circuit *c, size_t edge)
{
    const struct circuit_ground *ground = c->ground;
    const struct graph *g = ground->graph;
    const char *topic = cable_topic(w, s, "drop from the source");
    double share = s->row->nominal_v / 100, source = ground->volts[2 * edge + 1];
    const double *lost = ground->rule_total[ground->only_charges[edge]];
    size_t way[SUM_TERMS], length = 0, above = edge;
    struct sum sum = { .work = w, .text = "" };

    for (; above != GRAPH_NONE && length < SUM_TERMS; above = g->nodes[g->edges[above].from].parent)
        way[length++] = above;
    while (length-- > 0)
        sum_add(&sum, copysign(1, lost[g->edges[edge].to]) *
                          (lost[g->edges[way[length]].to] - lost[g->edges[way[length]].from]));
    if (ground->rules->drop_constant > 0 && above == GRAPH_NONE && !g->edges[edge].chord)
        work_note(w, topic, "by the rule", s->row->rule_total_drop_percent * share, "V",
                  "limits count from the terminals of the source", "sum of the way", "%s", sum_text(&sum));
    work_note(w, topic, "as it will be measured", s->row->total_drop_percent * share, "V", "solved",
              "volts at the source less volts at the far end", "%.5g - %.5g", source,
              source - s->row->total_drop_percent * share);
    if (s->row->drop_limit_percent > 0)
        work_note(w, topic, "limit", s->row->drop_limit_percent * share, "V", s->row->limit_why,
                  "share x nominal volts", "%.4g %% x %.4g", s->row->drop_limit_percent, s->row->nominal_v);
}

const struct working *circuit_working(struct arena *arena, const struct circuit *c)
{
    struct work w = { .arena = arena };
    struct working *out = arena_zero(arena, sizeof *out);
    const struct graph *g = c->ground->graph;

    for (size_t e = 0; e < c->cable_count; e++) {
        int first = g->parts[g->nodes[g->edges[e].from].part].source == g->edges[e].from;
        double limit = c->ground->limits[g->edges[e].to];
        const struct cable_shown shown = { .name = c->cables[e].name,
                                           .row = &c->cables[e],
                                           .wire = &c->ground->wires[e],
                                           .rules = c->ground->rules,
                                           .power_factor = c->ground->power_factor[e],
                                           .near_v = c->ground->volts[2 * e],
                                           .limit_v = first && limit < HUGE_VAL ? limit : 0 };

        note_current(&w, &shown, c->ground, e);
        cable_work(&w, &shown);
        note_way(&w, &shown, c, e);
    }
    if (!out || w.failed)
        return NULL;
    *out = work_done(&w);
    return out;
}

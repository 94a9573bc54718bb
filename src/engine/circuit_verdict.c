/* circuit_verdict.c - one row per cable: currents, drops, ampacity, fuse, and whether all of it passes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/cable_fuse.h"
#include "engine/circuit_report.h"
#include "parts/fuse.h"
#include "parts/rounding.h"

/*
 * Four things must hold for a cable: current within ampacity, drop within its limit, size not under the
 * smallest, and a device that protects it. Rows are made from the source outwards, so that each knows the
 * device before it: a run needs one of its own where it begins at a source or is thinner than what the
 * device before it protects.
 *
 * A device must not open at the design current, must not exceed what the set allows on the conductor, must
 * be near enough to the source, must break the short circuit at its place (or lean on one before it that
 * does), and must be opened by a short at the far end.
 */

/* ---- the fuse ---- */

/* Conductors that turn a starter are left out of every set's rules of overcurrent protection. */
static int feeds_starter(const struct report *r, size_t edge)
{
    const char *name = r->m->graph->nodes[r->m->graph->edges[edge].to].name;

    for (; *name; name++)
        if (strncmp(name, "starter", 7) == 0 || strncmp(name, "cranking", 8) == 0)
            return 1;
    return 0;
}

/* 1 where a motor that draws more to start hangs at the far end. */
static int starts_hard(const struct report *r, size_t edge)
{
    const struct graph *g = r->m->graph;
    size_t node = g->edges[edge].to;
    const struct part_net *p = &r->m->parts[g->nodes[node].part];

    for (size_t i = 0; g->nodes[node].loads > 0 && i < p->net.load_count; i++)
        if (p->draws[i].node == node && p->draws[i].kind == DRAW_LOAD &&
            range_or(&r->m->boat->loads[p->draws[i].index].surge, 1) > 1)
            return 1;
    return 0;
}

/* A breaker that a load names serves the cable to it, and not the feeder of a node where others hang too. */
static double load_breaker(const struct report *r, size_t edge)
{
    const struct graph *g = r->m->graph;
    size_t node = g->edges[edge].to;

    for (size_t i = 0; i < r->m->boat->load_count; i++)
        if (g->load_node[i] == node && g->nodes[node].loads == 1 && g->nodes[node].degree == 1 &&
            range_known(&r->m->boat->loads[i].breaker))
            return r->m->boat->loads[i].breaker.value;
    return 0;
}

/* What stands before a node: rating of the last device, largest interrupt rating of all, 0: none; whose it
 * is. */
struct guard {
    double rating_a, breaks_a;
    const char *breaker; /* cable */
};

/* Only a distance that was said, and a set that has a rule of it. */
static void judge_distance(struct arena *arena, struct circuit_cable *row)
{
    if (row->fuse_distance_m > 0 && row->fuse_distance_limit_m >= 0 &&
        !at_most(row->fuse_distance_m, row->fuse_distance_limit_m))
        cable_fuse_fail(arena, row, FUSE_TOO_FAR,
                        arena_print(arena, "%.2f m from the source, %.2f m allowed", row->fuse_distance_m,
                                    row->fuse_distance_limit_m));
}

/* Over its volts a device arcs instead of opening. On AC the families say nothing. */
static void judge_volts(struct arena *arena, struct circuit_cable *row)
{
    const struct fuse_family *family = row->system[0] == 'd' ? fuse_family_find(row->fuse_class) : NULL;

    if (family && fuse_family_volts(family) < row->nominal_v)
        cable_fuse_fail(arena, row, FUSE_OVER_VOLTS,
                        arena_print(arena, "made for up to %.0f V, the circuit has %.0f V",
                                    fuse_family_volts(family), row->nominal_v));
}

/* A short at its own place that the device cannot break: a device before it may, where the set allows that.
 * That both are coordinated, so that what is let through is bearable, only their makers' tables can say. */
static void judge_breaking(const struct report *r, struct circuit_cable *row, struct guard before)
{
    struct arena *arena = r->m->arena;
    enum breaking_rule rule = r->m->rules->breaking;

    if (rule != BREAKING_AT_PLACE && at_least(before.breaks_a, row->fault_a))
        cable_fuse_note(arena, row, FUSE_LEANS,
                        arena_print(arena, "breaks %.0f A of %.0f A: leans on the fuse of %s",
                                    row->fuse_interrupt_a, row->fault_a, before.breaker));
    else if (rule == BREAKING_NOT_RULED)
        cable_fuse_note(arena, row, FUSE_WEAK_UNRULED,
                        arena_print(arena, "breaks %.0f A, a short gives %.0f A: not ruled by this set",
                                    row->fuse_interrupt_a, row->fault_a));
    else
        cable_fuse_fail(
            arena, row, FUSE_TOO_WEAK,
            arena_print(arena, "breaks %.0f A, a short gives %.0f A", row->fuse_interrupt_a, row->fault_a));
}

/* Both ends: what the device must break where it stands, and whether a short at the far end opens it.
 * Nothing without a bank's fault. */
static void judge_faults(const struct report *r, struct circuit_cable *row, struct guard before)
{
    struct arena *arena = r->m->arena;

    if (row->fault_a <= 0)
        return;
    if (row->fuse_interrupt_a <= 0 && !(row->fuse_remarks & FUSE_OVER_VOLTS))
        cable_fuse_note(arena, row, FUSE_BREAKING_UNKNOWN, "interrupt rating not known");
    else if (row->fuse_interrupt_a > 0 && !at_least(row->fuse_interrupt_a, row->fault_a))
        judge_breaking(r, row, before);
    if (!at_least(row->fault_far_a, fuse_sure_multiple * row->fuse_a))
        cable_fuse_fail(arena, row, FUSE_FAR_END,
                        arena_print(arena, "a short at the far end gives %.0f A: too little to open it soon",
                                    row->fault_far_a));
}

/* Rating against current and conductor, place, and both ends of the fault. Each failure adds its remark. */
static void judge_installed(const struct report *r, struct circuit_cable *row, struct guard before)
{
    struct arena *arena = r->m->arena;

    if (!at_least(row->fuse_a, row->design_a))
        cable_fuse_fail(
            arena, row, FUSE_TOO_SMALL,
            arena_print(arena, "%.4g A opens at the %.4g A it has to carry", row->fuse_a, row->design_a));
    if (!wiring_fuse_allowed(r->m->rules, row->fuse_a, row->ampacity_a, row->nominal_v))
        cable_fuse_fail(arena, row, FUSE_TOO_LARGE,
                        row->fuse_max_a > 0 ? arena_print(arena, "%.4g A on a cable that allows %.4g A",
                                                          row->fuse_a, row->fuse_max_a)
                                            : "no fuse protects this cable: no table has it");
    judge_distance(arena, row);
    judge_volts(arena, row);
    judge_faults(r, row, before);
}

/* The fuse that the profile names, or the breaker of the load behind; its class tells what it breaks. */
static void installed_device(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct cable *c = r->m->graph->edges[edge].cable;
    const struct fuse_family *family;

    row->fuse_a = range_or(&c->fuse, 0);
    row->fuse_class = row->fuse_a > 0 ? c->fuse_class : NULL;
    if (row->fuse_a <= 0 && (row->fuse_a = load_breaker(r, edge)) > 0)
        row->fuse_class = "breaker";
    row->fuse_installed = row->fuse_a > 0;
    row->fuse_distance_m = range_or(&c->fuse_distance, 0);
    family = fuse_family_find(row->fuse_class);
    row->fuse_interrupt_a =
        range_or(&c->fuse_interrupt, family ? fuse_breaking_a(family, row->nominal_v) : 0);
}

/* The other end of a charging run, where the set wants a device near the charging source too. */
static void judge_charging_end(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct range *distance = &r->m->graph->edges[edge].cable->charge_distance;
    double limit = r->m->rules->charge_distance_m;
    struct arena *arena = r->m->arena;

    if (limit <= 0)
        return;
    if (!range_known(distance))
        cable_fuse_note(arena, row, FUSE_CHARGING_END,
                        arena_print(arena, "the charging end too, within %.1f m of the source", limit));
    else if (!at_most(distance->value, limit))
        cable_fuse_fail(arena, row, FUSE_TOO_FAR,
                        arena_print(arena, "%.2f m from the charging source, %.2f m allowed", distance->value,
                                    limit));
}

/* The device at the beginning of a run. It is needed where nothing before it protects this conductor; where
 * none is installed one is chosen, and that it is missing is a failure only of an installed cable. */
static void judge_fuse(const struct report *r, size_t edge, struct circuit_cable *row, struct guard before)
{
    const struct graph *g = r->m->graph;
    int at_bank = g->nodes[g->edges[edge].from].kind == GRAPH_BANK;
    int both_ends = graph_is_charger(&g->nodes[g->edges[edge].to]);

    row->fuse_ok = 1;
    row->fuse_note = "";
    row->fuse_remarks = 0;
    row->fuse_min_a = fuse_rating_up(row->design_a, row->nominal_v);
    row->fuse_max_a = wiring_fuse_limit(r->m->rules, row->ampacity_a, row->nominal_v);
    row->fuse_distance_limit_m = wiring_fuse_distance(r->m->rules, g->edges[edge].cable->sheathed, at_bank);
    installed_device(r, edge, row);
    row->fuse_needed = before.rating_a <= 0 ||
                       !wiring_fuse_allowed(r->m->rules, before.rating_a, row->ampacity_a, row->nominal_v);
    if (feeds_starter(r, edge) && !row->fuse_installed) {
        row->fuse_needed = 0;
        cable_fuse_note(r->m->arena, row, FUSE_OF_STARTER, "turns a starter: no device asked for");
        return;
    }
    if (row->fuse_installed) {
        judge_installed(r, row, before);
    } else {
        cable_fuse_choose(r->m->arena, row, starts_hard(r, edge));
        if (row->fuse_needed && row->installed_mm2 > 0)
            cable_fuse_fail(r->m->arena, row, FUSE_MISSING, "no device said: this is the one to fit");
    }
    if (both_ends)
        judge_charging_end(r, edge, row);
}

/* ---- current and volts ---- */

/* As printed on the jacket, else the standard size with its series. */
static const char *size_text(struct arena *arena, const struct wire *w)
{
    static const char *const units[] = { "mm2", "AWG", "SAE", "" };

    if (!w->fixed)
        return arena_print(arena, "%s %s", w->label, units[w->series]);
    return w->cable->area_text ? w->cable->area_text : arena_print(arena, "%.4g mm2", w->area_m2 * 1e6);
}

/* Current, temperature, resistance and drop in the snapshot of the edge. */
static void fill_current(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct graph_edge *e = &r->m->graph->edges[edge];
    const struct wire *w = &r->m->wires[edge];
    const struct snapshot *s = report_snapshot(r, edge);
    struct wire_ohm ohm = wire_ohm(w, s->conductor_c[edge]);

    row->current_a = fabs(s->current[edge]);
    row->design_a = r->design_a[edge];
    row->design_scenario = r->design_scenario[edge] ? r->design_scenario[edge] : "";
    row->conductor_c = s->conductor_c[edge];
    row->resistance_mohm = (ohm.out + ohm.back) * 1e3;
    /* with reactance and an angle I x R is not what a meter shows */
    row->drop_v = r->m->graph->parts[r->m->graph->nodes[e->from].part].system == NET_DC
                      ? row->current_a * (ohm.out + ohm.back)
                      : fabs(s->volts[e->from] - s->volts[e->to]);
    row->rule_drop_v =
        r->m->rules->drop_constant > 0 ? model_rule_drop(r->m, w, row->current_a, w->area_m2) : -1;
}

/* Drops from the source to the far end, shown and judged. What is judged is the
 * largest over all steady scenarios. */
static void fill_volts(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct graph *g = r->m->graph;
    const struct graph_edge *e = &g->edges[edge];
    const struct graph_part *part = &g->parts[g->nodes[e->from].part];
    const struct snapshot *s = report_snapshot(r, edge);
    double limit = model_node_limit(r->m, e->to);
    double percent = 100 / part->nominal_v;
    int charges = report_only_charges(r, edge);

    row->limit_why = r->m->limits[e->to].why;
    row->critical = r->m->limits[e->to].critical;
    row->drop_percent = row->drop_v * percent;
    row->total_drop_percent = fabs(s->volts[part->source] - s->volts[e->to]) * percent;
    row->rule_total_drop_percent = r->m->rules->drop_constant > 0 ? fabs(s->rule_total[e->to]) * percent : -1;
    row->judged_drop_percent =
        (charges ? fabs(r->charging.rule_total[e->to]) : r->most_lost[e->to]) * percent;
    row->drop_scenario = charges ? "charging" : r->most_lost_when[e->to] ? r->most_lost_when[e->to] : "";
    row->drop_limit_percent = limit < HUGE_VAL ? limit * percent : 0;
    row->drop_ok = limit == HUGE_VAL || at_most(row->judged_drop_percent, row->drop_limit_percent);
    row->drop_margin_percent =
        limit < HUGE_VAL ? row->drop_limit_percent - row->judged_drop_percent : HUGE_VAL;
}

/* What the conductors may carry, with each step, and what is left of it. */
static void fill_ampacity(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct wire *w = &r->m->wires[edge];

    row->ampacity_a = w->ampacity.amps * w->runs;
    row->base_ampacity_a = w->ampacity.base_a;
    row->column_c = w->ampacity.column_c;
    row->interpolated = w->ampacity.interpolated;
    row->engine_factor = w->ampacity.engine_factor;
    row->bundle_factor = w->ampacity.bundle_factor;
    row->ampacity_ok = at_least(row->ampacity_a, row->design_a);
    row->used_percent = row->ampacity_a > 0 ? 100 * row->design_a / row->ampacity_a : 0;
    row->ampacity_margin_percent = row->design_a > 0 ? 100 * (row->ampacity_a / row->design_a - 1) : 0;
    row->smallest_ok = w->area_m2 >= wiring_smallest(r->m->rules, w->cable->sheathed) * (1 - 1e-4);
}

/* Short circuits at both ends, and what the conductor bears of the larger, from its rating to the highest
 * temperature of its insulation in a short. */
static void fill_faults(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct wire *w = &r->m->wires[edge];
    const struct graph_edge *e = &r->m->graph->edges[edge];
    double rated = w->place.insulation_c, limit = insulation_fault_temperature(rated);

    row->fault_a = r->fault_a[e->from];
    row->fault_far_a = r->fault_hot_a[e->to];
    row->i2t_a2s = conductor_i2t(w->area_m2 * w->runs, rated, fmax(limit, rated + 1));
    row->withstand_s = conductor_withstand_s(row->i2t_a2s, row->fault_a);
}

/* What fails first. */
static const char *status_of(const struct report *r, size_t edge, const struct circuit_cable *row)
{
    const struct graph *g = r->m->graph;

    return cable_status(row, r->collapses[g->nodes[g->edges[edge].from].part],
                        row->fuse_installed ? "fuse wrong" : "fuse missing");
}

/* What a cable is: names, sizes, lengths, copper. */
static void name_row(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct graph *g = r->m->graph;
    const struct graph_edge *e = &g->edges[edge];
    const struct wire *w = &r->m->wires[edge];
    const struct conductor_size *awg = conductor_nearest_awg(w->area_m2);

    row->name = e->cable->name;
    row->line = e->cable->line;
    row->from = g->nodes[e->from].name;
    row->to = g->nodes[e->to].name;
    row->system = g->parts[g->nodes[e->from].part].system == NET_DC ? "dc" : "ac";
    row->nominal_v = g->parts[g->nodes[e->from].part].nominal_v;
    row->length_m = w->length_m;
    row->return_m = w->back_m;
    row->runs = w->runs;
    row->installed_mm2 = w->fixed ? w->area_m2 * 1e6 : 0;
    row->size = size_text(r->m->arena, w);
    row->awg = awg ? awg->label : NULL;
    row->printed = w->fixed ? w->cable->area_text : NULL;
    row->copper_kg =
        copper_mass(w->area_m2, w->length_m * w->runs) + copper_mass(w->back_area_m2, w->back_m * w->runs);
    row->limited_by = w->fixed || !r->limited_by[edge] ? "" : r->limited_by[edge];
    if (row->system[0] == 'a') {
        row->protective_mm2 = protective_area(w->area_m2) * 1e6;
        row->reactance_mohm = wire_reactance(w) * 1e3;
    }
}

/* In this order, for each judges by what the ones before have filled in. */
static void fill_row(const struct report *r, size_t edge, struct circuit_cable *row, struct guard before)
{
    name_row(r, edge, row);
    cable_describe(r, edge, row);
    fill_current(r, edge, row);
    fill_volts(r, edge, row);
    fill_ampacity(r, edge, row);
    fill_faults(r, edge, row);
    judge_fuse(r, edge, row, before);
    row->area_mm2 = r->m->wires[edge].area_m2 * 1e6;
    row->area_runs = row->runs;
    row->status = status_of(r, edge, row);
    row->passes = strcmp(row->status, "ok") == 0 || strcmp(row->status, "sized") == 0;
}

/* What stands before the nodes beyond a run: its own device where it has one, else what stood before it. A
 * device that is proposed on a cable that is installed does not stand there yet. */
static struct guard guard_after(struct guard before, const struct circuit_cable *row)
{
    if (!row->fuse_installed && (!row->fuse_needed || row->installed_mm2 > 0))
        return before;
    if (row->fuse_interrupt_a > before.breaks_a)
        return (struct guard){ row->fuse_a, row->fuse_interrupt_a, row->name };
    return (struct guard){ row->fuse_a, before.breaks_a, before.breaker };
}

/* Rows from the source outwards, so that each knows the device before it; the rows stand in the profile's
 * order. */
enum status report_cables(struct circuit *out, const struct report *r)
{
    const struct graph *g = r->m->graph;
    struct circuit_cable *rows = arena_array(r->m->arena, g->edge_count, sizeof *rows);
    struct guard *guard = arena_array(r->m->arena, g->node_count, sizeof *guard);

    if (!rows || !guard)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < g->node_count; i++) {
        size_t node = g->order[i], edge = g->nodes[node].parent;

        if (edge == GRAPH_NONE)
            continue;
        fill_row(r, edge, &rows[edge], guard[g->edges[edge].from]);
        guard[node] = guard_after(guard[g->edges[edge].from], &rows[edge]);
    }
    for (size_t e = 0; e < g->edge_count; e++) {
        if (g->edges[e].chord)
            fill_row(r, e, &rows[e], guard[g->edges[e].from]);
        if (!rows[e].fuse_note)
            return STATUS_NO_MEMORY;
        out->copper_kg += rows[e].copper_kg;
    }
    out->cables = rows;
    out->cable_count = g->edge_count;
    return report_size_again(out, r, rows);
}

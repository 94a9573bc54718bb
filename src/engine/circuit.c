/* circuit.c - the whole run: graph, sizes, scenarios, faults, tables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/circuit.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "engine/circuit_report.h"

/*
 * The whole run:
 *
 *   graph      names to nodes, nonsense refused                                        graph.c
 *   model      conductors, networks, draws, limits circuit_model.c, circuit_size.c
 *   sizes      for cables without an area, least copper that holds every limit circuit_size.c, cable_size.c
 *   faults     short circuits at every node, largest and smallest                      here
 *   scenarios  every state of the boat solved; the hardest kept for each cable         here, circuit_draw.c
 *   tables     one row a cable with its verdict, and everything else that is listed circuit_verdict.c and
 *              the others
 *
 * Scenarios: everything that may run at once; the same with the one start that adds most; sources alone at
 * their largest; and for each kind of day all that is used on it. Cables and fuses are judged by the largest
 * steady current of all of them, drops by the largest steady drop, whichever scenario is shown.
 */

const double circuit_charge = 0.5;

/* The one whose start adds most: an inverter at surge power or a motor on DC. */
static void choose_starter(const struct model *m, struct scenario *s)
{
    double most = 0;

    for (size_t p = 0; p < m->graph->part_count; p++)
        for (size_t i = 0; i < m->parts[p].net.load_count; i++) {
            const struct draw *d = &m->parts[p].draws[i];
            double running = 0, times = 1;

            if (m->parts[p].net.system != NET_DC)
                continue;
            if (d->kind == DRAW_INVERTER) {
                const struct inverter *inverter = &m->boat->inverters[d->index];

                running = inverter->power.value;
                times = range_or(&inverter->surge_power, running) / running;
            } else if (d->kind == DRAW_LOAD) {
                running = load_watts(&m->boat->loads[d->index]);
                times = range_or(&m->boat->loads[d->index].surge, 1);
            }
            if (times > 1 && running * (times - 1) > most) {
                most = running * (times - 1);
                s->starter_kind = d->kind;
                s->starter = d->index;
                s->starter_times = times;
            }
        }
}

/* largest, surge, charging, then one for each kind of day. 0 without memory. */
static int list_scenarios(struct model *m)
{
    m->scenarios = arena_array(m->arena, 3 + m->boat->day_count, sizeof *m->scenarios);
    if (!m->scenarios)
        return 0;
    m->scenarios[0] = (struct scenario){ .name = "largest", .kind = SCENARIO_LARGEST };
    m->scenarios[1] = (struct scenario){ .name = "surge", .kind = SCENARIO_SURGE };
    m->scenarios[2] = (struct scenario){ .name = "charging", .kind = SCENARIO_CHARGING };
    choose_starter(m, &m->scenarios[1]);
    for (size_t i = 0; i < m->boat->day_count; i++)
        m->scenarios[3 + i] =
            (struct scenario){ .name = m->boat->days[i].name, .kind = SCENARIO_DAY, .day = i };
    m->scenario_count = 3 + m->boat->day_count;
    return 1;
}

/* The scenario of that name; NULL: none. */
static const struct scenario *find_scenario(const struct model *m, const char *name)
{
    for (size_t i = 0; i < m->scenario_count; i++)
        if (strcmp(m->scenarios[i].name, name) == 0)
            return &m->scenarios[i];
    return NULL;
}

/* Room for one. 0 without memory. */
static int make_snapshot(struct snapshot *s, const struct model *m)
{
    s->volts = arena_array(m->arena, m->graph->node_count, sizeof *s->volts);
    s->rule_total = arena_array(m->arena, m->graph->node_count, sizeof *s->rule_total);
    s->current = arena_array(m->arena, m->graph->edge_count, sizeof *s->current);
    s->conductor_c = arena_array(m->arena, m->graph->edge_count, sizeof *s->conductor_c);
    return s->volts && s->rule_total && s->current && s->conductor_c;
}

/* Volts lost from the source to each node, negative where current flows towards the source. */
static void add_up(const struct model *m, double *totals)
{
    const struct graph *g = m->graph;

    for (size_t i = 0; i < g->node_count; i++) {
        size_t node = g->order[i], edge = g->nodes[node].parent;

        totals[node] = 0;
        if (edge != GRAPH_NONE)
            totals[node] =
                totals[g->edges[edge].from] +
                copysign(model_rule_drop(m, &m->wires[edge], fabs(m->current[edge]), m->wires[edge].area_m2),
                         m->current[edge]);
    }
}

/* Keeps the state the model is in. */
static void take_snapshot(struct snapshot *s, const struct model *m)
{
    const struct graph *g = m->graph;

    memcpy(s->volts, m->volts, g->node_count * sizeof *s->volts);
    memcpy(s->current, m->current, g->edge_count * sizeof *s->current);
    for (size_t e = 0; e < g->edge_count; e++)
        s->conductor_c[e] = m->wires[e].temperature_c;
    add_up(m, s->rule_total);
}

int report_only_charges(const struct report *r, size_t edge)
{
    return r->load_a[edge] < 1e-3 && fabs(r->charging.current[edge]) >= 1e-3;
}

const struct snapshot *report_snapshot(const struct report *r, size_t edge)
{
    return report_only_charges(r, edge) ? &r->charging : &r->shown;
}

/* One line of the table of scenarios, from the state the model is in. */
static struct circuit_scenario scenario_row(const struct model *m, const struct scenario *s)
{
    struct circuit_scenario row = { .name = s->name, .solved = 1 };
    double lowest = HUGE_VAL;

    for (size_t p = 0; p < m->graph->part_count; p++) {
        const struct part_net *part = &m->parts[p];

        if (part->net.system != NET_DC)
            continue;
        for (size_t k = 0; k < part->blocks && m->graph->parts[p].bank; k++)
            row.bank_a += net_source_current(&part->net, part->state, &part->sources[k]);
        for (size_t i = 0; i < part->net.load_count; i++) {
            size_t node = part->draws[i].node;
            double share = m->volts[node] / m->graph->parts[p].nominal_v;

            if (part->loads[i].value > 0 && share < lowest) {
                lowest = share;
                row.lowest_v = m->volts[node];
                row.lowest_node = m->graph->nodes[node].name;
            }
        }
        if (!part->solved && row.solved) {
            int one = part->fails < part->net.load_count;

            row.solved = 0;
            row.collapse = one ? m->graph->nodes[part->draws[part->fails].node].name : "all loads together";
            for (size_t i = 0; i < part->net.load_count; i++)
                if ((!one || i == part->fails) && part->loads[i].behaves == NET_POWER)
                    row.wanted_w += part->loads[i].value;
            row.most_w = row.wanted_w * part->most_share;
        }
    }
    return row;
}

/* The largest steady current of every edge so far, and which scenario it came from. 0.1 % more than flows
 * says that one load alone asks for it. */
static void note_currents(struct report *r, const struct scenario *s)
{
    for (size_t e = 0; e < r->m->graph->edge_count; e++) {
        double amps = model_steady_a(r->m, e);

        if (s->kind != SCENARIO_CHARGING)
            r->load_a[e] = fmax(r->load_a[e], fabs(r->m->current[e]));
        if (amps <= r->design_a[e])
            continue;
        r->design_a[e] = amps;
        r->design_scenario[e] = amps > fabs(r->m->current[e]) * 1.001
                                    ? arena_print(r->m->arena, "%s alone", r->m->alone[e].load)
                                    : s->name;
    }
}

/* The most that was lost to every node so far, and where the volts collapsed. */
static void note_volts(struct report *r, const struct scenario *s)
{
    add_up(r->m, r->totals);
    for (size_t i = 0; i < r->m->graph->node_count; i++)
        if (r->totals[i] > r->most_lost[i] * (1 + 1e-9)) {
            r->most_lost[i] = r->totals[i];
            r->most_lost_when[i] = s->name;
        }
    for (size_t p = 0; p < r->m->graph->part_count; p++)
        r->collapses[p] |= !r->m->parts[p].solved;
}

/* Every scenario once. A surge is too short for ampacity and drop, so it only has its row. */
static enum status run_scenarios(struct circuit *out, struct report *r, const struct scenario *shown)
{
    struct model *m = r->m;
    struct circuit_scenario *rows = arena_array(m->arena, m->scenario_count, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < m->scenario_count; i++) {
        model_scenario(m, &m->scenarios[i]);
        rows[i] = scenario_row(m, &m->scenarios[i]);
        if (m->scenarios[i].kind != SCENARIO_SURGE) {
            note_currents(r, &m->scenarios[i]);
            note_volts(r, &m->scenarios[i]);
        }
        if (m->scenarios[i].kind == SCENARIO_CHARGING)
            take_snapshot(&r->charging, m);
        if (&m->scenarios[i] == shown)
            take_snapshot(&r->shown, m);
    }
    out->scenarios = rows;
    out->scenario_count = m->scenario_count;
    return STATUS_OK;
}

/* Short-circuit currents of all nodes [A] in the state the model is in: bank emf over the resistance seen
 * from there. AC sources limit theirs by themselves: not reckoned, 0. */
static enum status find_faults(struct model *m, double *fault_a)
{
    double *ohm;
    size_t most = 1;

    for (size_t p = 0; p < m->graph->part_count; p++)
        most = m->parts[p].net.node_count > most ? m->parts[p].net.node_count : most;
    if (!(ohm = arena_array(m->arena, most, sizeof *ohm)))
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < m->graph->node_count; i++)
        fault_a[i] = 0;
    for (size_t p = 0; p < m->graph->part_count; p++) {
        const struct part_net *part = &m->parts[p];

        if (!m->graph->parts[p].bank || net_fault_ohm(part->plan, &part->net, ohm) != STATUS_OK)
            continue;
        for (size_t i = 0; i < m->graph->node_count; i++)
            if (m->graph->nodes[i].part == p)
                fault_a[i] = part->sources[0].emf_v / ohm[m->local[i]];
    }
    return STATUS_OK;
}

/* The largest, for what a device must break: banks full, conductors at 20 C. The smallest, for whether it
 * opens: banks as asked, conductors at their rating. The banks are left at what was asked. */
static enum status run_faults(struct report *r)
{
    struct model *m = r->m;
    enum status status;

    model_set_banks(m, (struct bank_state_of){ 1, 0 });
    model_set_runs(m, RUNS_COLD);
    if ((status = find_faults(m, r->fault_a)) != STATUS_OK)
        return status;
    model_set_banks(m, (struct bank_state_of){ m->charge, 0 });
    model_set_runs(m, RUNS_HOT);
    return find_faults(m, r->fault_hot_a);
}

/* Room for what is gathered over all steady scenarios. 0 without memory. */
static int make_steady(struct report *r, const struct model *m)
{
    r->load_a = arena_array(m->arena, m->graph->edge_count, sizeof *r->load_a);
    r->most_lost = arena_array(m->arena, m->graph->node_count, sizeof *r->most_lost);
    r->most_lost_when = arena_array(m->arena, m->graph->node_count, sizeof *r->most_lost_when);
    r->collapses = arena_array(m->arena, m->graph->part_count, sizeof *r->collapses);
    r->totals = arena_array(m->arena, m->graph->node_count, sizeof *r->totals);
    return r->load_a && r->most_lost && r->most_lost_when && r->collapses && r->totals;
}

static int make_report(struct report *r, struct model *m)
{
    *r = (struct report){ .m = m };
    r->design_a = arena_array(m->arena, m->graph->edge_count, sizeof *r->design_a);
    r->design_scenario = arena_array(m->arena, m->graph->edge_count, sizeof *r->design_scenario);
    r->limited_by = arena_array(m->arena, m->graph->edge_count, sizeof *r->limited_by);
    r->fault_a = arena_array(m->arena, m->graph->node_count, sizeof *r->fault_a);
    r->fault_hot_a = arena_array(m->arena, m->graph->node_count, sizeof *r->fault_hot_a);
    return r->design_a && r->design_scenario && r->limited_by && r->fault_a && r->fault_hot_a &&
           make_steady(r, m) && make_snapshot(&r->shown, m) && make_snapshot(&r->charging, m);
}

/* The one line that says how the boat stands: volts that collapse first, then cables, else copper. */
static void write_finding(struct circuit *c, struct arena *arena)
{
    size_t failing = 0, fuses = 0;
    int elsewhere; /* 1: what fails is seen in another scenario than the one shown */
    const struct circuit_cable *worst = NULL;

    c->passes = 1;
    for (size_t i = 0; i < c->cable_count; i++) {
        const struct circuit_cable *row = &c->cables[i];

        failing += !row->passes;
        fuses += !row->fuse_ok;
        if (!row->passes && !worst)
            worst = row;
    }
    for (size_t i = 0; i < c->scenario_count; i++)
        if (!c->scenarios[i].solved && strcmp(c->scenarios[i].name, "surge") != 0)
            c->passes = 0;
    c->passes = c->passes && failing == 0;
    elsewhere =
        worst && !worst->drop_ok && worst->ampacity_ok && strcmp(worst->drop_scenario, c->scenario) != 0;
    if (!c->scenarios[0].solved)
        c->finding = arena_print(arena, "The volts collapse: %s asks for %.0f W, %.0f W is the most",
                                 c->scenarios[0].collapse, c->scenarios[0].wanted_w, c->scenarios[0].most_w);
    else if (worst)
        c->finding = arena_print(arena, "%zu of %zu cables %s (%zu for %s fuse), first %s: %s%s%s", failing,
                                 c->cable_count, failing == 1 ? "does not pass" : "do not pass", fuses,
                                 failing == 1 ? "its" : "their", worst->name, worst->status,
                                 elsewhere ? " in scenario " : "", elsewhere ? worst->drop_scenario : "");
    else
        c->finding =
            arena_print(arena, "All %zu cables pass, %.1f kg of copper", c->cable_count, c->copper_kg);
}

static enum status make_tables(struct circuit *out, struct report *r)
{
    static enum status (*const makers[])(struct circuit *, const struct report *) = {
        report_cables, report_fuses,  report_conventions, report_panels, report_nodes,
        report_banks,  report_loads,  report_tree,        report_path,   report_ac,
        report_bill,   report_ground, report_inverters,
    };

    for (size_t i = 0; i < sizeof makers / sizeof *makers; i++) {
        enum status status = makers[i](out, r);

        if (status != STATUS_OK)
            return status;
    }
    return STATUS_OK;
}

/* Installed conductors that the rule set's table does not have: they cannot be judged, and that is said by
 * line. */
static void warn_unlisted(const struct circuit *c, struct arena *arena, struct diag_list *diags)
{
    for (size_t i = 0; i < c->cable_count; i++)
        if (c->cables[i].ampacity_a <= 0)
            diag_add(diags, &(struct diag){
                                .severity = DIAG_WARNING,
                                .line = c->cables[i].line,
                                .section = arena_print(arena, "cable %s", c->cables[i].name),
                                .key = "area",
                                .message = arena_print(arena, "the table of %s has no current for %s there",
                                                       c->rules, c->cables[i].size),
                                .hint = "another rule set, another insulation, or a size of the table" });
}

/* Says which there are. Always STATUS_REFUSED. */
static enum status unknown_scenario(const struct model *m, const char *name, struct diag_list *diags)
{
    struct text_near near = { .word = span_of(name) };

    for (size_t i = 0; i < m->scenario_count; i++)
        text_near_offer(&near, m->scenarios[i].name);
    diag_add(diags,
             &(struct diag){ .severity = DIAG_ERROR,
                             .message = arena_print(m->arena, "no scenario is called %s", name),
                             .hint = near.best ? arena_print(m->arena, "did you mean %s?", near.best)
                                               : "largest, surge, charging, or a day kind of the profile" });
    return STATUS_REFUSED;
}

/* Size, then faults, then scenarios: faults need the sizes, and the tables read the last scenario solved. */
static enum status run(struct circuit *out, struct model *m, const char *name, struct diag_list *diags)
{
    struct report report;
    const struct scenario *shown;
    enum status status;

    if (!list_scenarios(m) || !make_report(&report, m))
        return STATUS_NO_MEMORY;
    if (!(shown = find_scenario(m, name)))
        return unknown_scenario(m, name, diags);
    model_set_banks(m, (struct bank_state_of){ m->charge, 0 });
    if ((status = model_size(m, report.limited_by)) != STATUS_OK)
        return status;
    if ((status = run_faults(&report)) != STATUS_OK)
        return status;
    model_set_banks(m, (struct bank_state_of){ m->charge, 0 });
    if ((status = run_scenarios(out, &report, shown)) != STATUS_OK)
        return status;
    model_scenario(m, shown); /* the tables read the shown state */
    out->scenario = shown->name;
    if ((status = make_tables(out, &report)) != STATUS_OK)
        return status;
    write_finding(out, m->arena);
    warn_unlisted(out, m->arena, diags);
    return STATUS_OK;
}

/* Installed cables typed in mm2 less those typed in AWG or SAE. */
static long metric_lead(const struct boat *boat)
{
    long lead = 0;

    for (size_t i = 0; i < boat->cable_count; i++)
        if (range_known(&boat->cables[i].area) && boat->cables[i].area_series != AREA_STRANDS)
            lead += boat->cables[i].area_series == AREA_METRIC ? 1 : -1;
    return lead;
}

/* Choosing among the sizes that the boat is wired in: nobody mixes two drums of cable for a rule book. */
static const struct wiring_rules *as_wired(struct arena *arena, const struct boat *boat,
                                           const struct wiring_rules *rules)
{
    long lead = boat->rules.sizes == SIZES_METRIC ? 1
                : boat->rules.sizes == SIZES_US   ? -1
                                                  : metric_lead(boat);

    return lead == 0 ? rules : rules_in_series(arena, rules, lead > 0 ? AREA_METRIC : AREA_AWG);
}

enum status circuit_run(const struct circuit **out, struct arena *arena, const struct boat *boat,
                        const struct wiring_rules *rules, const struct circuit_options *options,
                        struct diag_list *diags)
{
    struct circuit *circuit = arena_zero(arena, sizeof *circuit);
    const struct graph *graph;
    struct model model;
    enum status status;
    double charge = options && options->charge > 0 ? options->charge : circuit_charge;

    if (!circuit)
        return STATUS_NO_MEMORY;
    if ((status = graph_build(&graph, arena, boat, diags)) != STATUS_OK)
        return status;
    if ((status = model_make(&model, arena, graph, as_wired(arena, boat, rules), charge)) != STATUS_OK)
        return status;
    circuit->boat = boat->name;
    circuit->rules = rules->name;
    circuit->rules_title = rules->title;
    circuit->edition = rules->edition;
    circuit->rules_scope = rules->scope;
    circuit->nominal_v = boat->dc_voltage.value;
    circuit->unwired_loads = (double)graph->unwired;
    status = run(circuit, &model, options && options->scenario ? options->scenario : "largest", diags);
    if (status == STATUS_OK)
        *out = circuit;
    return status;
}

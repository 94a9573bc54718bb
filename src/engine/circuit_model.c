/* circuit_model.c - wires and networks of a graph, and their state in a scenario.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/circuit_model.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "parts/bank.h"
#include "parts/machine.h"

/*
 * Conductors: R = r L (1 + 0.00393 (T - 20)) for each way, runs in parallel, joints on the way out. T
 * depends on the current and the current, through the volts, on R, so a scenario is solved, the wires are
 * warmed by (I/Iz)2 of the rise they are rated for, and it is solved again: three rounds.
 *
 * Banks: rested open-circuit volts at the charge asked for, behind the resistance of the bank. Strings that
 * are joined from one to the next by links, instead of each to busbars, are nodes of their own, so that how
 * they share comes out of the same solve:
 *
 *   same end   + and - of the boat on the first string: it works hardest
 *   diagonal   + on the first, - on the last: the outer ones alike, the middle ones less
 *
 * AC sources hold their nominal volts; what limits them is told by report_ac.
 */

/* Resistance of a joint between neighbouring strings where none is said [ohm]: 0.3 m of 50 mm2 and two lugs.
 */
static const double USUAL_LINK = 0.3e-3;

/* An aged bank: end of life at 80 % of capacity, resistance doubled; common practice. */
static const double AGED_HEALTH = 0.8, AGED_RESISTANCE = 2;

/* Boat cable is taken as flexible and tinned; common practice. */
static const enum conductor_build BUILD = CLASS5_TINNED;

static const int TEMPERATURE_ROUNDS = 3;

struct wire_ohm wire_ohm(const struct wire *w, double temperature)
{
    double factor = copper_temperature_factor(temperature);

    return (struct wire_ohm){
        conductor_ohm_per_m(w->series, BUILD, w->area_m2) * w->length_m / w->runs * factor + w->joints_ohm,
        conductor_ohm_per_m(w->series, BUILD, w->back_area_m2) * w->back_m / w->runs * factor,
    };
}

double wire_reactance(const struct wire *w)
{
    return w->reactance_per_m * (w->length_m + w->back_m) / w->runs;
}

/* Ampacity of the thinner of both conductors. */
static void rate(struct model *m, struct wire *w)
{
    w->ampacity = wiring_ampacity(m->rules, fmin(w->area_m2, w->back_area_m2), &w->place);
}

void model_set_size(struct model *m, size_t edge, const struct conductor_size *size)
{
    struct wire *w = &m->wires[edge];

    w->series = m->rules->series;
    w->area_m2 = size->area_m2;
    w->back_area_m2 = range_or(&w->cable->return_area, size->area_m2);
    w->label = size->label;
    rate(m, w);
}

void model_free_wire(struct model *m, size_t edge)
{
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);

    m->wires[edge].fixed = 0;
    m->wires[edge].fuse_a = 0;
    model_set_size(m, edge, &sizes[count - 1]);
}

void model_installed_size(struct model *m, size_t edge)
{
    struct wire *w = &m->wires[edge];

    w->series = w->cable->area_series;
    w->label = NULL;
    w->area_m2 = w->cable->area.value;
    w->back_area_m2 = range_or(&w->cable->return_area, w->cable->area.value);
    rate(m, w);
}

/* A cable as conductors, installed or at the thickest size. 75 C insulation where nobody
 * said, as the profile takes it. */
static void make_wire(struct model *m, size_t edge)
{
    const struct cable *c = m->graph->edges[edge].cable;
    const struct graph_part *part = &m->graph->parts[m->graph->nodes[m->graph->edges[edge].from].part];
    struct wire *w = &m->wires[edge];
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);

    *w = (struct wire){
        .cable = c,
        .length_m = c->length.value,
        .back_m = range_or(&c->return_length, c->length.value),
        .runs = fmax(1, range_or(&c->runs, 1)),
        .joints_ohm = range_or(&c->joints, 0),
        .place = { range_or(&c->insulation, 75), c->place == PLACE_ENGINE, range_or(&c->bundle, 2),
                   part->nominal_v },
        .ambient_c = c->place == PLACE_ENGINE ? m->rules->engine_ambient_c : m->rules->ambient_c,
        .reactance_per_m =
            part->system == NET_AC ? conductor_reactance_per_m(m->boat->ac_frequency.value) : 0,
        .power_factor = 1,
        .fixed = range_known(&c->area),
        .fuse_a = range_or(&c->fuse, 0),
    };
    w->temperature_c = w->ambient_c;
    if (!w->fixed) {
        model_set_size(m, edge, &sizes[count - 1]);
        return;
    }
    model_installed_size(m, edge);
}

/* ---- networks ---- */

/* The bank of a part where its strings share unequally; NULL: they do not. */
static const struct bank *wired_bank(const struct graph_part *part)
{
    const struct bank *bank = part->bank;

    return bank && bank->wiring != WIRING_BARS && bank->parallel.value > 1 ? bank : NULL;
}

/* One more load of a network, its value to be set by the scenario. */
static void add_draw(struct model *m, struct part_net *p, enum draw_kind kind, size_t index, size_t node)
{
    p->draws[p->net.load_count] =
        (struct draw){ .kind = kind, .index = index, .node = node, .spared = GRAPH_NONE, .share = 1 };
    p->loads[p->net.load_count++] = (struct net_load){ .node = m->local[node], .behaves = NET_POWER };
}

/* What a device at a node draws or feeds in. */
static void add_device(struct model *m, struct part_net *p, size_t node)
{
    const struct graph_node *n = &m->graph->nodes[node];
    int source = m->graph->parts[n->part].source == node;

    if (n->kind == GRAPH_INVERTER && !n->far_side)
        add_draw(m, p, DRAW_INVERTER, n->index, node);
    else if (n->kind == GRAPH_DCDC && !n->far_side)
        add_draw(m, p, DRAW_DCDC, n->index, node);
    else if (n->kind == GRAPH_CHARGER && n->far_side)
        add_draw(m, p, DRAW_CHARGER_INPUT, n->index, node);
    else if (graph_is_charger(n) || (n->kind == GRAPH_DCDC && n->far_side && !source))
        add_draw(m, p, DRAW_CHARGE, n->index, node);
}

/* Strings in a row behind the bank's posts: plus on the first, minus on the first or the last. */
static void add_strings(struct part_net *p, const struct bank *bank, size_t posts)
{
    size_t first = p->net.node_count, n = p->blocks;
    double link = range_or(&bank->link_resistance, USUAL_LINK);
    int diagonal = bank->wiring == WIRING_DIAGONAL;

    p->net.node_count += n;
    for (size_t i = 0; i < n; i++) {
        p->sources[i].node = first + i;
        if (i > 0)
            p->runs[p->net.run_count++] = net_run_dc(first + i - 1, first + i, link, link);
    }
    p->runs[p->net.run_count++] = net_run_dc(first, posts, 0, diagonal ? HUGE_VAL : 0);
    if (diagonal)
        p->runs[p->net.run_count++] = net_run_dc(first + n - 1, posts, HUGE_VAL, 0);
}

/* Room for the arrays of one network. 0 without memory. */
static int part_room(struct model *m, struct part_net *p, size_t edges, size_t nodes, size_t loads)
{
    p->runs = arena_array(m->arena, edges + p->blocks + 1, sizeof *p->runs);
    p->run_edge = arena_array(m->arena, edges + p->blocks + 1, sizeof *p->run_edge);
    p->sources = arena_array(m->arena, p->blocks, sizeof *p->sources);
    p->loads = arena_array(m->arena, 2 * (loads + nodes), sizeof *p->loads); /* each may have one spared */
    p->draws = arena_array(m->arena, 2 * (loads + nodes), sizeof *p->draws);
    p->state = arena_array(m->arena, 2 * (nodes + p->blocks), sizeof *p->state);
    return p->runs && p->run_edge && p->sources && p->loads && p->draws && p->state;
}

static int part_start(struct model *m, size_t index, size_t edges, size_t nodes, size_t loads)
{
    struct part_net *p = &m->parts[index];
    const struct graph_part *part = &m->graph->parts[index];
    const struct bank *bank = wired_bank(part);

    p->blocks = bank ? (size_t)bank->parallel.value : 1;
    if (!part_room(m, p, edges, nodes, loads))
        return 0;
    p->net = (struct net){ .system = part->system,
                           .runs = p->runs,
                           .sources = p->sources,
                           .source_count = p->blocks,
                           .loads = p->loads };
    return 1;
}

/* Numbers of the nodes within their networks, then what draws and what joins them; strings of a bank last,
 * for they add nodes of their own. */
static void fill_parts(struct model *m)
{
    const struct graph *g = m->graph;

    for (size_t i = 0; i < g->node_count; i++)
        m->local[i] = m->parts[g->nodes[i].part].net.node_count++;
    for (size_t i = 0; i < g->node_count; i++)
        add_device(m, &m->parts[g->nodes[i].part], i);
    for (size_t i = 0; i < m->boat->load_count; i++)
        if (g->load_node[i] != GRAPH_NONE)
            add_draw(m, &m->parts[g->nodes[g->load_node[i]].part], DRAW_LOAD, i, g->load_node[i]);
    for (size_t i = 0; i < g->edge_count; i++) {
        struct part_net *p = &m->parts[g->nodes[g->edges[i].from].part];

        p->run_edge[p->net.run_count] = i;
        p->runs[p->net.run_count++] =
            (struct net_run){ .a = m->local[g->edges[i].from], .b = m->local[g->edges[i].to] };
    }
    for (size_t i = 0; i < g->part_count; i++) {
        struct part_net *p = &m->parts[i];
        size_t posts = m->local[g->parts[i].source];

        for (size_t r = p->net.run_count; r < p->net.run_count + p->blocks + 1 && p->blocks > 1; r++)
            p->run_edge[r] = GRAPH_NONE;
        p->sources[0].node = posts;
        if (p->blocks > 1)
            add_strings(p, g->parts[i].bank, posts);
    }
}

/* Counts, makes room, fills, and plans the elimination of every network. 0 without memory. */
static int make_parts(struct model *m)
{
    const struct graph *g = m->graph;
    size_t *nodes = arena_array(m->arena, g->part_count, sizeof *nodes);
    size_t *edges = arena_array(m->arena, g->part_count, sizeof *edges);
    size_t *loads = arena_array(m->arena, g->part_count, sizeof *loads);

    if (!nodes || !edges || !loads)
        return 0;
    for (size_t i = 0; i < g->node_count; i++) {
        nodes[g->nodes[i].part]++;
        loads[g->nodes[i].part] += g->nodes[i].loads;
    }
    for (size_t i = 0; i < g->edge_count; i++)
        edges[g->nodes[g->edges[i].from].part]++;
    for (size_t i = 0; i < g->part_count; i++)
        if (!part_start(m, i, edges[i], nodes[i], loads[i]))
            return 0;
    fill_parts(m);
    if (!model_spare(m))
        return 0;
    model_set_runs(m, RUNS_COLD);
    for (size_t i = 0; i < g->part_count; i++)
        if (!(m->parts[i].plan = net_plan_new(m->arena, &m->parts[i].net)))
            return 0;
    return 1;
}

const struct wiring_rules *rules_in_series(struct arena *arena, const struct wiring_rules *rules,
                                           enum area_series series)
{
    struct wiring_rules *copy = arena_zero(arena, sizeof *copy);

    if (!copy)
        return rules;
    *copy = *rules;
    copy->series = series;
    return copy;
}

enum status model_make(struct model *m, struct arena *arena, const struct graph *graph,
                       const struct wiring_rules *rules, double charge)
{
    *m = (struct model){
        .arena = arena, .boat = graph->boat, .graph = graph, .rules = rules, .charge = charge
    };
    m->wires = arena_array(arena, graph->edge_count, sizeof *m->wires);
    m->parts = arena_array(arena, graph->part_count, sizeof *m->parts);
    m->local = arena_array(arena, graph->node_count, sizeof *m->local);
    m->volts = arena_array(arena, graph->node_count, sizeof *m->volts);
    m->current = arena_array(arena, graph->edge_count, sizeof *m->current);
    m->alone = arena_array(arena, graph->edge_count, sizeof *m->alone);
    if (!m->wires || !m->parts || !m->local || !m->volts || !m->current || !m->alone)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < graph->edge_count; i++)
        make_wire(m, i);
    return make_parts(m) && model_limits(m) ? STATUS_OK : STATUS_NO_MEMORY;
}

static double mode_temperature(const struct wire *w, enum temperature_mode mode)
{
    if (mode == RUNS_COLD)
        return 20;
    return mode == RUNS_HOT ? w->place.insulation_c : w->temperature_c;
}

void model_set_runs(struct model *m, enum temperature_mode mode)
{
    for (size_t i = 0; i < m->graph->part_count; i++) {
        struct part_net *p = &m->parts[i];

        for (size_t r = 0; r < p->net.run_count; r++) {
            const struct wire *w = p->run_edge[r] == GRAPH_NONE ? NULL : &m->wires[p->run_edge[r]];
            struct wire_ohm ohm;

            if (!w)
                continue;
            ohm = wire_ohm(w, mode_temperature(w, mode));
            p->runs[r] = p->net.system == NET_DC
                             ? net_run_dc(p->runs[r].a, p->runs[r].b, ohm.out, ohm.back)
                             : net_run_ac(p->runs[r].a, p->runs[r].b, ohm.out + ohm.back,
                                          wire_reactance(w));
        }
    }
}

/*
 * Strings that are told apart each get the bank's resistance times their number: together they are the bank.
 */
void model_set_banks(struct model *m, struct bank_state_of how)
{
    for (size_t i = 0; i < m->graph->part_count; i++) {
        const struct graph_part *part = &m->graph->parts[i];
        struct part_net *p = &m->parts[i];
        double emf = part->nominal_v, ohm = 0;

        if (part->bank) {
            struct bank bank = *part->bank;
            struct bank_model physics;
            struct bank_state state;

            if (how.aged)
                bank.health.value = fmin(bank.health.value, AGED_HEALTH);
            bank_model_make(&physics, &bank, range_or(&bank.temperature, 25), 1.0 / 60);
            bank_state_rested(&physics, how.charge, &state);
            emf = bank_emf(&physics, &state);
            ohm = physics.resistance_ohm * (how.aged ? AGED_RESISTANCE : 1);
        }
        for (size_t k = 0; k < p->blocks; k++) {
            p->sources[k].emf_v = emf;
            p->sources[k].ohm = ohm * (double)p->blocks;
        }
    }
}

/* Solves one part; where the volts collapse the largest power is cut down until they stand. */
static void solve_part(struct part_net *p)
{
    size_t largest = p->net.load_count;

    p->solved = net_solve(p->plan, &p->net, p->state, 0) == STATUS_OK;
    p->fails = p->net.load_count;
    p->most_share = 1;
    if (p->solved)
        return;
    for (size_t i = 0; i < p->net.load_count; i++)
        if (p->loads[i].behaves == NET_POWER &&
            (largest == p->net.load_count || p->loads[i].value > p->loads[largest].value))
            largest = i;
    p->fails = largest;
    p->most_share = net_most(p->plan, &p->net, largest, p->state);
    if (p->most_share < 0) { /* not even without it: all of them have to give way */
        p->fails = p->net.load_count;
        p->most_share = fmax(0, net_most(p->plan, &p->net, p->net.load_count, p->state));
    }
}

/* Volts of nodes and currents of edges from the solved networks; of a pole the larger, for
 * out and back may differ in a loop. */
static void take_results(struct model *m)
{
    const struct graph *g = m->graph;

    for (size_t i = 0; i < g->node_count; i++) {
        const struct part_net *p = &m->parts[g->nodes[i].part];

        m->volts[i] = net_volts(&p->net, p->state, m->local[i]);
    }
    for (size_t i = 0; i < g->part_count; i++)
        for (size_t r = 0; r < m->parts[i].net.run_count; r++) {
            const struct part_net *p = &m->parts[i];
            struct net_current c = net_run_current(&p->net, p->state, &p->runs[r]);
            size_t edge = p->run_edge[r];

            if (edge == GRAPH_NONE)
                continue;
            m->current[edge] = fabs(c.out_a) >= fabs(c.back_a) ? c.out_a : c.back_a;
            if (p->net.system == NET_AC && c.out_a > 1e-6)
                m->wires[edge].power_factor = net_run_power_factor(&p->net, p->state, &p->runs[r]);
        }
}

/* Temperatures for the next round, Ta + (Tmax - Ta)(I/Iz)^2, held between the surroundings and the rating. */
static void warm_wires(struct model *m)
{
    for (size_t i = 0; i < m->graph->edge_count; i++) {
        struct wire *w = &m->wires[i];
        double t = conductor_temperature(w->ambient_c, w->place.insulation_c, fabs(m->current[i]) / w->runs,
                                         w->ampacity.amps);

        w->temperature_c = fmin(fmax(t, w->ambient_c), fmax(w->place.insulation_c, w->ambient_c));
    }
}

/* Resistance depends on temperature, temperature on current, current on resistance:
 * after three rounds nothing moves. */
void model_scenario(struct model *m, const struct scenario *scenario)
{
    model_set_draws(m, scenario);
    for (size_t i = 0; i < m->graph->edge_count; i++)
        m->wires[i].temperature_c = m->wires[i].ambient_c;
    for (int round = 0; round <= TEMPERATURE_ROUNDS; round++) {
        model_set_runs(m, RUNS_WORKING);
        for (size_t i = 0; i < m->graph->part_count; i++)
            solve_part(&m->parts[i]);
        take_results(m);
        if (round == TEMPERATURE_ROUNDS)
            break;
        warm_wires(m);
        for (size_t i = 0; i < m->graph->part_count; i++)
            model_respare(&m->parts[i]);
    }
    model_alone(m);
}

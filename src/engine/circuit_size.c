/* circuit_size.c - limits of the nodes, and sizes for the cables that have none.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/cable_size.h"
#include "engine/circuit_model.h"
#include "parts/feed.h"
#include "parts/fuse.h"
#include "parts/rounding.h"

/*
 * Limits first: every node has a share of nominal volts that may be lost on the way to it, by what hangs
 * there: strict for critical circuits and feeders, ordinary else, the profile's own word before all.
 *
 * Then sizes: each cable may have any standard size that carries its current, is no thinner than the set
 * allows, and can be protected by a standard fuse. Among these the sizes of a whole tree are chosen
 * together, so that total copper is least while every limit holds on its whole path (cable_size.h). A feeder
 * that is made thicker may save more in its branches.
 *
 * Currents depend on volts and volts on sizes, so it is solved again with the sizes chosen, until no current
 * grows.
 */

const double circuit_usual_drop = 0.10, circuit_usual_strict_drop = 0.03;

/* Rounds of sizing, solving and sizing again with the currents met; three are the most that was seen. */
static const int SIZE_ROUNDS = 6;
static const double GROWN = 1.001; /* a current that grew by less asks for no new round */

/* ---- limits ---- */

/* [-] the set's limit, or common practice where it has none. */
static double limit_share(const struct model *m, int critical)
{
    double share = wiring_drop_limit(m->rules, critical);

    if (share > 0)
        return share;
    return critical ? circuit_usual_strict_drop : circuit_usual_drop;
}

/* The strictest demand on a node wins, and its reason with it. */
static void tighten(struct node_limit *limit, double share, int critical, const char *why)
{
    if (share < limit->share)
        *limit = (struct node_limit){ share, why, critical };
}

int model_load_critical(const struct model *m, const struct load *load)
{
    size_t length;

    return load->critical || wiring_critical_word(m->rules, load->name, &length) != NULL;
}

/* What a load at the node asks for: the profile's word, the set's list, else an ordinary circuit. */
static void limit_by_load(const struct model *m, struct node_limit *limit, const struct load *load)
{
    size_t length;
    const char *word = wiring_critical_word(m->rules, load->name, &length);

    if (load->critical)
        tighten(limit, limit_share(m, 1), 1, "critical by the profile");
    else if (word)
        tighten(limit, limit_share(m, 1), 1,
                arena_print(m->arena, "%s is in the list of the rule set (\"%.*s\")", load->name, (int)length,
                            word));
    else
        tighten(limit, limit_share(m, 0), 0, "ordinary circuit");
}

/* What the node itself asks for: devices are ordinary circuits, feeders of several circuits are strict where
 * the set says so or has no limits of its own. */
static void limit_by_kind(const struct model *m, struct node_limit *limit, const struct graph_node *n)
{
    if (n->kind != GRAPH_PLAIN && n->kind != GRAPH_LOAD)
        tighten(limit, limit_share(m, 0), 0, "ordinary circuit");
    else if (n->parent != GRAPH_NONE && n->feeds > 1 &&
             (m->rules->feeders_critical || wiring_drop_limit(m->rules, 1) <= 0))
        tighten(limit, limit_share(m, 1), 1, "feeder of several circuits");
}

/* The profile's own word comes before the rule set's; where the set has no limit, that is said. */
static void limit_by_word(const struct model *m, struct node_limit *limit, const struct graph_node *n)
{
    const struct cable *cable = n->parent == GRAPH_NONE ? NULL : m->graph->edges[n->parent].cable;

    if (cable && range_known(&cable->drop_limit))
        *limit = (struct node_limit){ cable->drop_limit.value, "as the profile asks", limit->critical };
    else if (wiring_drop_limit(m->rules, 0) <= 0 && limit->share < HUGE_VAL)
        limit->why = arena_print(m->arena, "%s; common practice, the rule set has no limit", limit->why);
}

int model_limits(struct model *m)
{
    const struct graph *g = m->graph;

    m->limits = arena_array(m->arena, g->node_count, sizeof *m->limits);
    if (!m->limits)
        return 0;
    for (size_t i = 0; i < g->node_count; i++) {
        m->limits[i] = (struct node_limit){ HUGE_VAL, "none", 0 };
        limit_by_kind(m, &m->limits[i], &g->nodes[i]);
    }
    for (size_t i = 0; i < m->boat->load_count; i++)
        if (g->load_node[i] != GRAPH_NONE)
            limit_by_load(m, &m->limits[g->load_node[i]], &m->boat->loads[i]);
    for (size_t i = 0; i < g->node_count; i++)
        limit_by_word(m, &m->limits[i], &g->nodes[i]);
    return 1;
}

double model_node_limit(const struct model *m, size_t node)
{
    return m->limits[node].share * m->graph->parts[m->graph->nodes[node].part].nominal_v;
}

/* A resistance-like area: the formula reckons with one area, the mean by length where the way back differs.
 */
double model_rule_drop(const struct model *m, const struct wire *w, double current, double area_m2)
{
    double back = w->back_area_m2 == w->area_m2 ? area_m2 : w->back_area_m2;
    double drop = wiring_drop(m->rules, current / w->runs, w->length_m, area_m2);

    if (drop >= 0)
        return drop + wiring_drop(m->rules, current / w->runs, w->back_m, back) + current * w->joints_ohm;
    {
        struct wire thought = *w;
        struct wire_ohm ohm;
        double t;

        thought.area_m2 = area_m2;
        thought.back_area_m2 = back;
        thought.ampacity = wiring_ampacity(m->rules, fmin(area_m2, back), &w->place);
        t = conductor_temperature(w->ambient_c, w->place.insulation_c, current / w->runs,
                                  thought.ampacity.amps);
        ohm = wire_ohm(&thought, fmin(fmax(t, w->ambient_c), fmax(w->place.insulation_c, w->ambient_c)));
        if (w->reactance_per_m <= 0)
            return current * (ohm.out + ohm.back);
        return w->place.volts - feed_current(w->place.volts,
                                             (struct feed_loop){ ohm.out + ohm.back, wire_reactance(w) },
                                             current, w->power_factor)
                                    .volts_v;
    }
}

/* ---- sizes that a cable may have at all ---- */

/* 0 passes; else which requirement does not: 1 current, 2 smallest conductor, 3 fuse. */
static int size_fails(const struct model *m, const struct wire *w, double area_m2)
{
    struct ampacity a = wiring_ampacity(m->rules, area_m2, &w->place);
    double rating = w->fuse_a > 0 ? w->fuse_a : fuse_rating_up(w->plan_a, w->place.volts);

    if (area_m2 < wiring_smallest(m->rules, w->cable->sheathed) * (1 - 1e-4))
        return 2;
    if (!at_least(a.amps * w->runs, w->plan_a))
        return 1;
    if (w->plan_a > 0 &&
        (rating <= 0 || !wiring_fuse_allowed(m->rules, rating, a.amps * w->runs, w->place.volts)))
        return 3;
    return 0;
}

int model_size_fails(const struct model *m, size_t edge)
{
    return size_fails(m, &m->wires[edge], m->wires[edge].area_m2) != 0;
}

/* Index of the first standard size that passes everything but drop; the last where none does. */
static size_t first_size(const struct model *m, const struct wire *w, const char **why)
{
    static const char *const reasons[] = { "", "current", "smallest conductor", "fuse" };
    size_t count, i = 0;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);
    int failed = 0, now;

    while (i + 1 < count && (now = size_fails(m, w, sizes[i].area_m2)) != 0) {
        failed = now;
        i++;
    }
    *why = failed ? reasons[failed] : "smallest size";
    return i;
}

/* Where a wire lies and what it may be, for one part's tree. */
struct part_tree {
    size_t *node; /* of the graph, in tree order; node[0] is the source */
    size_t *parent;
    const struct size_option **options;
    size_t *counts, *first;
    double *limits;
    struct size_tree tree;
};

/* Volts that the charging path above a node loses, sizes as they stand. */
static double charging_loss(const struct model *m, size_t node, const double *charging)
{
    double lost = 0;

    for (size_t edge = m->graph->nodes[node].parent; edge != GRAPH_NONE;
         edge = m->graph->nodes[m->graph->edges[edge].from].parent)
        lost += model_rule_drop(m, &m->wires[edge], fabs(charging[edge]), m->wires[edge].area_m2);
    return lost;
}

/* First size of a charging run whose own drop fits into what its path leaves. */
static size_t charging_size(const struct model *m, size_t edge, size_t first, const double *charging)
{
    const struct wire *w = &m->wires[edge];
    const struct graph_edge *e = &m->graph->edges[edge];
    double limit = model_node_limit(m, e->to) - charging_loss(m, e->from, charging);
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);

    while (first + 1 < count && model_rule_drop(m, w, fabs(charging[edge]), sizes[first].area_m2) > limit)
        first++;
    return first;
}

/* Drop [V] by the rule and copper [kg] of each size that may be chosen, from the first that carries the
 * current; one for an installed cable. 0 without memory. */
/* What the cable into a node of the tree may be. An installed one is only itself, and costs nothing to leave;
 * one that may grow has the standard sizes above it behind that. */
static int fill_options(const struct model *m, struct arena *scratch, struct part_tree *t, size_t i,
                        size_t edge, size_t first)
{
    const struct wire *w = &m->wires[edge];
    size_t count, installed = w->fixed != 0;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);
    double length = (w->length_m + w->back_m) * w->runs;
    struct size_option *options;

    t->first[i] = first;
    t->counts[i] = installed && !w->may_grow ? 1 : installed + count - first;
    options = arena_array(scratch, t->counts[i], sizeof *options);
    t->options[i] = options;
    for (size_t k = 0; options && k < t->counts[i]; k++) {
        int stays = installed && k == 0;
        double area = stays ? w->cable->area.value : sizes[first + k - installed].area_m2;

        options[k] = (struct size_option){ model_rule_drop(m, w, w->plan_a, area),
                                           stays ? 0 : copper_mass(area, length) };
    }
    return options != NULL;
}

/* The first standard size thicker than what is installed. */
static size_t size_above(const struct model *m, const struct wire *w)
{
    size_t count, i = 0;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);

    while (i < count && sizes[i].area_m2 <= w->cable->area.value * 1.001)
        i++;
    return i;
}

/* Current of a run that only charges: its limit is judged by the charging scenario. */
static int only_charges(const double *charging, const double *largest, size_t edge)
{
    return fabs(largest[edge]) < 1e-3 && fabs(charging[edge]) >= 1e-3;
}

struct sizing {
    struct model *m;
    struct arena *scratch;      /* of one part: the stairs can be large */
    double *charging, *largest; /* [A] per edge */
    const char **limited_by;
    size_t *place; /* per graph node: its place in the tree of its part */
};

/* Puts a node of the graph into the tree of its part, with the sizes that the cable into it may have. A run
 * that only charges is sized by itself and sets no limit to what flows the other way. */
static int add_node(struct sizing *s, struct part_tree *t, size_t node)
{
    struct model *m = s->m;
    size_t i = t->tree.node_count++, edge = m->graph->nodes[node].parent, first;

    s->place[node] = i;
    t->node[i] = node;
    t->limits[i] = HUGE_VAL;
    if (edge == GRAPH_NONE)
        return 1;
    t->parent[i] = s->place[m->graph->edges[edge].from];
    first = m->wires[edge].may_grow ? size_above(m, &m->wires[edge])
                                    : first_size(m, &m->wires[edge], &s->limited_by[edge]);
    if (only_charges(s->charging, s->largest, edge)) {
        size_t wanted = charging_size(m, edge, first, s->charging);

        if (wanted > first)
            s->limited_by[edge] = "drop";
        first = wanted;
    } else {
        t->limits[i] = model_node_limit(m, node);
    }
    return fill_options(m, s->scratch, t, i, edge, first);
}

/* Room for a tree of n nodes. 0 without memory. */
static int tree_room(struct part_tree *t, struct arena *arena, size_t n)
{
    t->node = arena_array(arena, n, sizeof *t->node);
    t->parent = arena_array(arena, n, sizeof *t->parent);
    t->options = arena_array(arena, n, sizeof *t->options);
    t->counts = arena_array(arena, n, sizeof *t->counts);
    t->first = arena_array(arena, n, sizeof *t->first);
    t->limits = arena_array(arena, n, sizeof *t->limits);
    t->tree = (struct size_tree){ 0, t->parent, t->options, t->counts, t->limits };
    return t->node && t->parent && t->options && t->counts && t->first && t->limits;
}

/* Gives the cable into a node of the tree the size that was chosen for it. */
static void set_chosen(struct sizing *s, const struct part_tree *t, size_t i, size_t chosen)
{
    struct model *m = s->m;
    size_t edge = m->graph->nodes[t->node[i]].parent, count;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);

    if (!m->wires[edge].fixed) {
        if (chosen > 0)
            s->limited_by[edge] = "drop";
        model_set_size(m, edge, &sizes[t->first[i] + chosen]);
    } else if (m->wires[edge].may_grow && chosen > 0) {
        model_set_size(m, edge, &sizes[t->first[i] + chosen - 1]);
    } else if (m->wires[edge].may_grow) {
        model_installed_size(m, edge);
    }
}

/* One part as a tree: options, least copper, sizes set. Chords are no part of the tree. */
static enum status size_part(struct sizing *s, size_t part)
{
    struct model *m = s->m;
    struct part_tree t = { 0 };
    size_t n = m->parts[part].net.node_count, eased, *choice = arena_array(s->scratch, n, sizeof *choice);

    if (!choice || !tree_room(&t, s->scratch, n))
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < m->graph->node_count; i++)
        if (m->graph->nodes[m->graph->order[i]].part == part && !add_node(s, &t, m->graph->order[i]))
            return STATUS_NO_MEMORY;
    if (size_tree_choose(s->scratch, &t.tree, choice, &eased) != STATUS_OK)
        return STATUS_NO_MEMORY;
    for (size_t i = 1; i < t.tree.node_count; i++)
        set_chosen(s, &t, i, choice[i]);
    return STATUS_OK;
}

/* With memory that is given back after each part. */
static enum status size_in_scratch(struct sizing *s, size_t part)
{
    enum status status;

    s->scratch = arena_new();
    status = s->scratch ? size_part(s, part) : STATUS_NO_MEMORY;
    arena_free(s->scratch);
    return status;
}

/* Cables that close a loop: what their current asks for; the volts are looked after by the tree. */
static void size_chords(struct sizing *s)
{
    struct model *m = s->m;
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(m->rules, &count);

    for (size_t e = 0; e < m->graph->edge_count; e++)
        if (m->graph->edges[e].chord && !m->wires[e].fixed)
            model_set_size(m, e, &sizes[first_size(m, &m->wires[e], &s->limited_by[e])]);
}

/* Raises the planned currents to those of every steady scenario; 1 where one grew. */
static int plan_currents(struct sizing *s)
{
    struct model *m = s->m;
    int grew = 0;

    for (size_t k = 0; k < m->scenario_count; k++) {
        const struct scenario *scenario = &m->scenarios[k];

        if (scenario->kind == SCENARIO_SURGE || scenario->kind == SCENARIO_DAY)
            continue; /* a surge is short; a day runs no more than everything at once */
        model_scenario(m, scenario);
        for (size_t e = 0; e < m->graph->edge_count; e++) {
            double amps = model_steady_a(m, e);

            if (scenario->kind == SCENARIO_LARGEST)
                s->largest[e] = amps;
            else
                s->charging[e] = amps;
            if (amps > m->wires[e].plan_a * GROWN) {
                grew |= !m->wires[e].fixed;
                m->wires[e].plan_a = amps;
            }
        }
    }
    return grew;
}

/* Draws at nominal volts where the bank stands higher: handbooks and labels reckon so. */
static void plan_nominal(struct sizing *s)
{
    struct model *m = s->m;

    for (size_t i = 0; i < m->graph->part_count; i++)
        for (size_t k = 0; k < m->parts[i].blocks; k++)
            m->parts[i].sources[k].emf_v = fmin(m->parts[i].sources[k].emf_v, m->graph->parts[i].nominal_v);
    plan_currents(s);
}

/* 1 where some cable is to be sized. */
static int any_open(const struct model *m)
{
    for (size_t e = 0; e < m->graph->edge_count; e++)
        if (!m->wires[e].fixed)
            return 1;
    return 0;
}

/* First with draws at nominal volts, then with the volts that the chosen sizes give,
 * until no current grows by 0.1 %. */
enum status model_size(struct model *m, const char **limited_by)
{
    struct sizing s = { .m = m, .limited_by = limited_by };

    s.charging = arena_array(m->arena, m->graph->edge_count, sizeof *s.charging);
    s.largest = arena_array(m->arena, m->graph->edge_count, sizeof *s.largest);
    s.place = arena_array(m->arena, m->graph->node_count, sizeof *s.place);
    if (!s.charging || !s.largest || !s.place)
        return STATUS_NO_MEMORY;
    if (!any_open(m)) {
        plan_currents(&s);
        return STATUS_OK;
    }
    plan_nominal(&s);
    model_set_banks(m, (struct bank_state_of){ m->charge, 0 });
    for (int round = 0; round < SIZE_ROUNDS; round++) {
        size_chords(&s);
        for (size_t p = 0; p < m->graph->part_count; p++)
            if (size_in_scratch(&s, p) != STATUS_OK)
                return STATUS_NO_MEMORY;
        if (!plan_currents(&s))
            break;
    }
    return STATUS_OK;
}

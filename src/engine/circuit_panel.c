/* circuit_panel.c - the circuits one by one, and the panels they leave from.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit_report.h"
#include "parts/fuse.h"
#include "parts/machine.h"
#include "parts/rounding.h"

/*
 * A circuit is one draw: what it wants at nominal volts, what it gets in the network, and the way to it. A
 * panel is a node where several things part, its ways what leaves it:
 *
 *     bank -- C1 -- [panel] -- C2 -- fridge     way 1: cable C2 with its own device, or the one before it
 *                      |
 *                      +------ C3 -- [aft]      way 2: cable C3, to a panel again
 *                      lights                   way 3: hangs on the node; breaker given, or proposed
 *
 * A draw counts in every panel between it and the source, in full and by its diversity; what charges counts
 * apart. Equations under "Schedules" in models.md; held by tests/engine/test_schedule.c.
 */

/* ---- one circuit ---- */

/* What a draw takes at nominal volts [W], and the most it takes to start; factor: power factor [-]. */
struct wish {
    double power_w, peak_w, duty, factor;
};

/* By the labels: power and starting power of a load, input of an inverter for its rating and its surge.
 * Other things are known by what they draw in the network alone: [W], or [A] at nominal volts. */
static struct wish wish_of(const struct report *r, const struct draw *d, enum net_behaviour behaves,
                           double nominal_v)
{
    const struct boat *boat = r->m->boat;

    if (d->kind == DRAW_LOAD) {
        const struct load *load = &boat->loads[d->index];
        double watts = load_watts(load);

        return (struct wish){ watts, watts * fmax(1, range_or(&load->surge, 1)), range_or(&load->duty, 1),
                              load->supply == SUPPLY_DC ? 1 : range_or(&load->power_factor, 1) };
    }
    if (d->kind == DRAW_INVERTER) {
        const struct inverter *inverter = &boat->inverters[d->index];
        struct inverter_model model = inverter_model(inverter);
        double watts = inverter->power.value;

        return (struct wish){ inverter_input_w(&model, watts),
                              inverter_input_w(&model, fmax(watts, range_or(&inverter->surge_power, watts))),
                              1, 1 };
    }
    if (behaves == NET_POWER)
        return (struct wish){ d->full, d->full, 1, 1 };
    return (struct wish){ fabs(d->full) * nominal_v, fabs(d->full) * nominal_v, 1, 1 };
}

/* Words with commas between; NULL, without memory, stays NULL. */
static const char *add_word(struct arena *arena, const char *text, const char *word)
{
    return text ? arena_print(arena, "%s%s%s", text, *text ? ", " : "", word) : NULL;
}

/*
 * What a reader of a panel schedule looks for: source, vital, strict limit of the drop, motor; "other" else.
 */
static const char *category_of(const struct report *r, const struct draw *d, const struct wish *wish)
{
    const struct load *load = d->kind == DRAW_LOAD ? &r->m->boat->loads[d->index] : NULL;
    const char *text = "";

    if (d->kind == DRAW_CHARGE)
        return "source";
    if (load && load->priority == LOAD_VITAL)
        text = add_word(r->m->arena, text, "vital");
    if (load && model_load_critical(r->m, load))
        text = add_word(r->m->arena, text, "strict limit");
    if (load && wish->peak_w > wish->power_w)
        text = add_word(r->m->arena, text, "motor");
    return text && !*text ? "other" : text;
}

/* "C1, C3": the cables from the source to a node. */
static const char *way_to(const struct circuit *out, const struct report *r, size_t node)
{
    const struct graph *g = r->m->graph;
    const char *text = "";

    for (; g->nodes[node].parent != GRAPH_NONE && text; node = g->edges[g->nodes[node].parent].from) {
        const char *number = out->cables[g->nodes[node].parent].number;

        text = arena_print(r->m->arena, "%s%s%s", number, *text ? ", " : "", text);
    }
    return text;
}

/* The cable that serves this draw alone; GRAPH_NONE: it shares its node. */
static size_t own_cable(const struct graph *g, size_t node)
{
    const struct graph_node *n = &g->nodes[node];

    return n->kind != GRAPH_PLAIN && n->loads <= 1 ? n->parent : GRAPH_NONE;
}

struct breaker {
    double rating_a; /* 0: none */
    const char *from;
};

/* The smallest breaker with a quarter to spare over what a way carries; nothing is known of its conductor. */
static struct breaker propose(double amps)
{
    const struct fuse_family *family = fuse_family_find("breaker");

    for (size_t i = 0; family && i < family->rating_count; i++)
        if (family->ratings_a[i] >= amps / fuse_continuous_share * (1 - 1e-9))
            return (struct breaker){ family->ratings_a[i], "proposed" };
    return (struct breaker){ 0, "none is made" };
}

/* What is said of a breaker by the current that it has to carry. */
static const char *breaker_remark(struct breaker breaker, double amps)
{
    return breaker.rating_a > 0 && !at_most(amps, breaker.rating_a) ? "carries more than its rating" : "";
}

/* How many share the row: of several alike each may have its own breaker, so one is asked for one. */
static double count_of(const struct report *r, const struct draw *d)
{
    return d->kind == DRAW_LOAD ? fmax(1, range_or(&r->m->boat->loads[d->index].count, 1)) : 1;
}

/* The device at the beginning of a cable. Where it needs none of its own the one before it protects it. */
static struct breaker breaker_of_cable(const struct circuit_cable *c)
{
    if (c->fuse_remarks & FUSE_OF_STARTER)
        return (struct breaker){ 0, "none asked for" };
    return cable_has_device(c) ? (struct breaker){ c->fuse_a, c->fuse_installed ? "given" : "proposed" }
                               : (struct breaker){ 0, "the one before it" };
}

/* Who is believed, in this order: a device fitted on its own cable, the breaker of the load in the profile,
 * the one chosen for its own cable, a proposal by its current. */
static struct breaker breaker_of(const struct circuit *out, const struct report *r, const struct draw *d,
                                 const struct circuit_service *row)
{
    size_t edge = own_cable(r->m->graph, d->node);

    if (edge != GRAPH_NONE && out->cables[edge].fuse_installed)
        return breaker_of_cable(&out->cables[edge]);
    if (d->kind == DRAW_LOAD && range_known(&r->m->boat->loads[d->index].breaker))
        return (struct breaker){ r->m->boat->loads[d->index].breaker.value, "given" };
    return edge != GRAPH_NONE ? breaker_of_cable(&out->cables[edge]) : propose(row->nominal_a);
}

/* One draw. Volts and drop as its cable is judged (at a node without one, as shown); current as the network
 * solves it with this draw in full. */
static void fill_service(const struct circuit *out, const struct report *r, size_t part, size_t i,
                         struct circuit_service *row)
{
    const struct graph *g = r->m->graph;
    const struct part_net *p = &r->m->parts[part];
    const struct draw *d = &p->draws[i];
    double nominal = g->parts[part].nominal_v;
    struct wish wish = wish_of(r, d, p->loads[i].behaves, nominal);
    struct net_load whole = p->loads[i];
    size_t edge = g->nodes[d->node].parent, own = own_cable(g, d->node);
    const struct snapshot *s = edge != GRAPH_NONE ? report_snapshot(r, edge) : &r->shown;

    whole.value = d->full; /* all of it, whatever share the others count with */
    *row = (struct circuit_service){
        .name = draw_name(r, d),
        .category = category_of(r, d, &wish),
        .system = p->net.system == NET_DC ? "dc" : "ac",
        .supply = own != GRAPH_NONE ? g->nodes[g->edges[own].from].name : g->nodes[d->node].name,
        .cables = way_to(out, r, d->node),
        .nominal_v = nominal,
        .power_w = wish.power_w,
        .nominal_a = wish.power_w / wish.factor / nominal,
        .peak_a = wish.peak_w / wish.factor / nominal,
        .duty_percent = 100 * wish.duty,
        .volts_v = s->volts[d->node],
        .drop_percent = 100 * fabs(s->volts[g->parts[part].source] - s->volts[d->node]) / nominal,
        .current_a = fabs(net_load_current(&p->net, p->state, &whole)),
    };
    if (edge != GRAPH_NONE &&
        (d->kind == DRAW_CHARGE || (d->kind == DRAW_DCDC && report_only_charges(r, edge)))) {
        /* what it brings or passes on while something charges */
        row->current_a = fabs(r->charging.current[edge]);
        row->nominal_a = row->peak_a = row->current_a;
        row->power_w = row->nominal_a * nominal;
    }
    struct breaker b = breaker_of(out, r, d, row);
    row->breaker_a = b.rating_a;
    row->breaker_from = b.from;
    row->remark = breaker_remark(b, row->current_a / count_of(r, d));
}

/* The circuits, and for the panels what draws in each of them. */
struct services {
    struct circuit_service *rows;
    const struct draw **draws;
    size_t count;
};

/* Every draw that a cable reaches, part by part. */
static enum status make_services(struct services *all, const struct circuit *out, const struct report *r)
{
    size_t most = 0;

    for (size_t p = 0; p < r->m->graph->part_count; p++)
        most += r->m->parts[p].net.load_count;
    *all = (struct services){ arena_array(r->m->arena, most, sizeof *all->rows),
                              arena_array(r->m->arena, most, sizeof *all->draws), 0 };
    if (!all->rows || !all->draws)
        return STATUS_NO_MEMORY;
    for (size_t p = 0; p < r->m->graph->part_count; p++)
        for (size_t i = 0; i < r->m->parts[p].net.load_count; i++) {
            struct circuit_service *row = &all->rows[all->count];

            if (r->m->parts[p].draws[i].kind == DRAW_SPARED)
                continue;
            fill_service(out, r, p, i, row);
            all->draws[all->count++] = &r->m->parts[p].draws[i];
            row->number = (double)all->count;
            if (!row->category || !row->cables)
                return STATUS_NO_MEMORY;
        }
    return STATUS_OK;
}

/* ---- panels ---- */

/* 1 where several things leave a node that is neither a bank nor a thing itself. */
static int is_panel(const struct graph_node *node)
{
    return node->feeds >= 2 && node->kind != GRAPH_BANK && node->kind != GRAPH_LOAD;
}

/* A cable that leaves the node: to one thing, or on to the next panel. */
static struct circuit_way way_of_cable(const struct circuit *out, const struct report *r, size_t edge)
{
    const struct circuit_cable *c = &out->cables[edge];
    struct breaker b = breaker_of_cable(c);

    return (struct circuit_way){
        .legend = c->to,
        .flow = report_only_charges(r, edge) && r->charging.current[edge] < 0 ? "in" : "out",
        .breaker_a = b.rating_a,
        .breaker_from = b.from,
        .remark = breaker_remark(b, c->current_a),
        .served_by = c->number,
        .expected_a = c->current_a,
        .poles = range_or(&r->m->wires[edge].cable->poles, 0),
    };
}

/* A draw that hangs on the panel itself. */
static struct circuit_way way_of_service(struct arena *arena, const struct circuit_service *s)
{
    return (struct circuit_way){
        .legend = s->name,
        .flow = "out",
        .breaker_a = s->breaker_a,
        .breaker_from = s->breaker_from,
        .remark = s->remark,
        .served_by = arena_print(arena, "circuit %.0f", s->number),
        .expected_a = s->current_a,
    };
}

/* Ways of a node, in the order of the profile: the cables, then what hangs on the node itself. */
static int fill_ways(const struct circuit *out, const struct report *r, const struct services *all,
                     size_t node, struct circuit_panel *panel, struct circuit_way *ways)
{
    const struct graph *g = r->m->graph;
    size_t count = 0;

    for (size_t e = 0; e < g->edge_count; e++)
        if (g->edges[e].from == node)
            ways[count++] = way_of_cable(out, r, e);
    for (size_t i = 0; i < all->count; i++)
        if (all->draws[i]->node == node)
            ways[count++] = way_of_service(r->m->arena, &all->rows[i]);
    for (size_t i = 0; i < count; i++) {
        ways[i].panel = panel->name;
        ways[i].number = (double)(i + 1);
        if (!ways[i].served_by)
            return 0;
    }
    panel->ways = ways;
    panel->way_count = count;
    return 1;
}

/* Adds what a circuit takes or brings to every panel on its way; a relay that closes while something charges
 * passes on what is brought. */
static void add_to_panels(const struct report *r, const struct circuit_service *s, const struct draw *d,
                          struct circuit_panel *const *panel_of)
{
    const struct graph *g = r->m->graph;
    const struct load *load = draw_load(r->m->boat, d);
    double share = load ? load_diversity(load) : 1;

    if (d->kind == DRAW_DCDC && g->nodes[d->node].parent != GRAPH_NONE &&
        report_only_charges(r, g->nodes[d->node].parent))
        return;
    for (size_t node = d->node;; node = g->edges[g->nodes[node].parent].from) {
        struct circuit_panel *panel = panel_of[node];

        if (panel && d->kind == DRAW_CHARGE) {
            panel->charging_a += s->nominal_a;
        } else if (panel) {
            panel->connected_a += s->nominal_a;
            panel->diversified_a += s->nominal_a * share;
        }
        if (g->nodes[node].parent == GRAPH_NONE)
            return;
    }
}

/*
 * The panel itself, with the cable that feeds it; "" and 0 at the source. Its sums come from add_to_panels.
 */
static struct circuit_panel panel_at(const struct circuit *out, const struct report *r, size_t node)
{
    const struct graph_node *n = &r->m->graph->nodes[node];
    const struct circuit_cable *feeder = n->parent != GRAPH_NONE ? &out->cables[n->parent] : NULL;

    return (struct circuit_panel){
        .name = n->name,
        .system = r->m->graph->parts[n->part].system == NET_DC ? "dc" : "ac",
        .feeder = feeder ? feeder->number : "",
        .feeder_fuse_a = feeder && cable_has_device(feeder) ? feeder->fuse_a : 0,
        .feeder_ampacity_a = feeder ? feeder->ampacity_a : 0,
        .expected_a = feeder ? feeder->current_a : 0,
        .volts_v = r->shown.volts[node],
    };
}

enum status report_panels(struct circuit *out, const struct report *r)
{
    const struct graph *g = r->m->graph;
    struct circuit_panel *rows = arena_array(r->m->arena, g->node_count, sizeof *rows);
    struct circuit_panel **panel_of = arena_array(r->m->arena, g->node_count, sizeof *panel_of);
    struct circuit_way *ways;
    struct services all;
    enum status status = make_services(&all, out, r);

    if (status != STATUS_OK)
        return status;
    ways = arena_array(r->m->arena, g->edge_count + all.count, sizeof *ways);
    if (!rows || !panel_of || !ways)
        return STATUS_NO_MEMORY;
    out->ways = ways;
    for (size_t i = 0; i < g->node_count; i++) {
        struct circuit_panel *panel = &rows[out->panel_count];

        if (!is_panel(&g->nodes[i]))
            continue;
        *panel = panel_at(out, r, i);
        if (!fill_ways(out, r, &all, i, panel, ways + out->way_count))
            return STATUS_NO_MEMORY;
        out->way_count += panel->way_count;
        panel_of[i] = panel;
        out->panel_count++;
    }
    for (size_t i = 0; i < all.count; i++)
        add_to_panels(r, &all.rows[i], all.draws[i], panel_of);
    out->services = all.rows;
    out->service_count = all.count;
    out->panels = rows;
    return STATUS_OK;
}

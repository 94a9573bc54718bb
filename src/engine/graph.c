/* graph.c - from cables and names to a graph that makes sense, or to what is wrong with it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/graph.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/name_table.h"
#include "base/text.h"
#include "engine/joined.h"
#include "parts/conductor.h"

/*
 * From names to a graph, in passes:
 *
 *   1  things of the boat and names at cable ends get numbers
 *   2  each cable is looked at by itself; loops without any resistance are refused
 *   3  what hangs together without the devices of two circuits (inverter, charger, converter) is united, and
 *      marked by what lies on it: AC, DC, a bank
 *   4  by these marks each cable at such a device finds the side it meets; a side becomes a node where a
 *      cable meets it
 *   5  loads are hung on their nodes
 *   6  everything that hangs together is a part: it has one system, one source, one nominal voltage
 *   7  breadth first from every source: which end of a cable is nearer, which cables close loops, in which
 *      order nodes come
 *
 * A cable that leads straight to the posts of a second bank, where a converter or relay is said to stand
 * between the two banks, ends at that device: people draw it so.
 *
 * Passes 2 to 6 refuse what makes no sense, each with the line of the cable; pass 7 can rely on a sound
 * graph.
 */

/* A thing of the boat that a cable's end may name. */
struct thing {
    const char *name;
    enum graph_kind kind;
    size_t index;
};

/* A cable onto the posts of another bank with a converter or relay said to be between the two: the device
 * stands at those posts, and the cable ends at it. */
struct bank_link {
    size_t device; /* name of the device; GRAPH_NONE: an ordinary cable */
    int at_to;     /* 1: in place of `to` */
    int side;      /* of the device that the cable meets */
};

struct builder {
    struct arena *arena;
    const struct boat *boat;
    struct diag_list *diags;
    size_t refused; /* errors said here */
    struct thing *things;
    size_t thing_count;
    struct name_table thing_table, name_table;
    /* names at cable ends, and before devices are split: union of what hangs together without them */
    const char **names;
    const struct thing **name_thing;
    size_t name_count;
    size_t *parent;
    int *has_ac, *has_dc;
    const struct bank **has_bank;
    size_t *node_of[2];      /* per name: its node, near and far side; GRAPH_NONE: not made */
    struct bank_link *links; /* per cable */
    struct graph *graph;
};

const char *graph_kind_text(enum graph_kind kind)
{
    static const char *const texts[] = { "node",      "bank",       "load",  "inverter",  "charger",
                                         "converter", "alternator", "solar", "generator", "shore" };

    return texts[kind];
}

int graph_is_source(const struct graph_node *node)
{
    return node->kind == GRAPH_BANK || node->kind == GRAPH_GENERATOR || node->kind == GRAPH_SHORE ||
           (node->far_side && (node->kind == GRAPH_INVERTER || node->kind == GRAPH_DCDC));
}

int graph_is_charger(const struct graph_node *node)
{
    return node->kind == GRAPH_ALTERNATOR || node->kind == GRAPH_SOLAR ||
           (node->kind == GRAPH_CHARGER && !node->far_side);
}

/* Devices that stand between two circuits. */
static int two_sided(enum graph_kind kind)
{
    return kind == GRAPH_INVERTER || kind == GRAPH_CHARGER || kind == GRAPH_DCDC;
}

/* An error at a line of the profile; it is counted, for diags may hold others. */
static void refuse(struct builder *b, int line, const char *section, const char *key, const char *message,
                   const char *hint)
{
    b->refused++;
    diag_add(b->diags, &(struct diag){ .severity = DIAG_ERROR,
                                       .line = line,
                                       .section = section,
                                       .key = key,
                                       .message = message,
                                       .hint = hint });
}

static void refuse_cable(struct builder *b, const struct cable *cable, const char *key, int line,
                         const char *message, const char *hint)
{
    refuse(b, line > 0 ? line : cable->line, arena_print(b->arena, "cable %s", cable->name), key, message,
           hint);
}

/* ---- names ---- */

/* The first of a name wins: the profile has refused a second one. */
static void add_thing(struct builder *b, const char *name, enum graph_kind kind, size_t index)
{
    b->things[b->thing_count] = (struct thing){ name, kind, index };
    name_table_put(&b->thing_table, name, b->thing_count++);
}

/* Everything that a cable's end may name; kinds share one set of names, which the profile has checked. */
static int list_things(struct builder *b)
{
    const struct boat *boat = b->boat;
    size_t most = boat->bank_count + boat->inverter_count + boat->charger_count + boat->dcdc_count +
                  boat->alternator_count + boat->solar_count + boat->generator_count + boat->load_count + 1;

    b->things = arena_array(b->arena, most, sizeof *b->things);
    if (!b->things || !name_table_make(&b->thing_table, b->arena, most))
        return 0;
#define LIST(list, kind)                                                                                     \
    for (size_t i = 0; i < boat->list##_count; i++)                                                          \
    add_thing(b, boat->list##s[i].name, kind, i)
    LIST(bank, GRAPH_BANK);
    LIST(inverter, GRAPH_INVERTER);
    LIST(charger, GRAPH_CHARGER);
    LIST(dcdc, GRAPH_DCDC);
    LIST(alternator, GRAPH_ALTERNATOR);
    LIST(solar, GRAPH_SOLAR);
    LIST(generator, GRAPH_GENERATOR);
    LIST(load, GRAPH_LOAD);
#undef LIST
    if (boat->shore.fitted)
        add_thing(b, "shore", GRAPH_SHORE, 0);
    return 1;
}

/* The number of a name, made where it is new. There is room for every name of the cables and links. */
static size_t intern(struct builder *b, const char *name)
{
    size_t id = name_table_get(&b->name_table, name, GRAPH_NONE), thing;

    if (id != GRAPH_NONE)
        return id;
    id = b->name_count++;
    name_table_put(&b->name_table, name, id);
    b->names[id] = name;
    thing = name_table_get(&b->thing_table, name, GRAPH_NONE);
    b->name_thing[id] = thing == GRAPH_NONE ? NULL : &b->things[thing];
    b->parent[id] = id;
    b->node_of[0][id] = b->node_of[1][id] = GRAPH_NONE;
    return id;
}

/* Room for the names, and their numbers in the order of the cables. 0 without memory. */
static int list_names(struct builder *b)
{
    size_t most = 2 * b->boat->cable_count + b->boat->dcdc_count;

    b->links = arena_array(b->arena, b->boat->cable_count, sizeof *b->links);
    b->names = arena_array(b->arena, most, sizeof *b->names);
    b->name_thing = arena_array(b->arena, most, sizeof *b->name_thing);
    b->parent = arena_array(b->arena, 2 * most, sizeof *b->parent);
    b->has_ac = arena_array(b->arena, 2 * most, sizeof *b->has_ac);
    b->has_dc = arena_array(b->arena, 2 * most, sizeof *b->has_dc);
    b->has_bank = arena_array(b->arena, 2 * most, sizeof *b->has_bank);
    b->node_of[0] = arena_array(b->arena, most, sizeof *b->node_of[0]);
    b->node_of[1] = arena_array(b->arena, most, sizeof *b->node_of[1]);
    if (!b->links || !b->names || !b->name_thing || !b->parent || !b->has_ac || !b->has_dc || !b->has_bank ||
        !b->node_of[0] || !b->node_of[1] || !name_table_make(&b->name_table, b->arena, most))
        return 0;
    for (size_t i = 0; i < b->boat->cable_count; i++) {
        intern(b, b->boat->cables[i].from);
        intern(b, b->boat->cables[i].to);
    }
    return 1;
}

/* A name that is nothing else in the profile is a junction. */
static enum graph_kind kind_of(const struct builder *b, size_t name)
{
    return b->name_thing[name] ? b->name_thing[name]->kind : GRAPH_PLAIN;
}

/* ---- one cable for itself ---- */

/* A hint for a name that leads nowhere: the things and nodes most like it. */
static const char *nearest_name(struct builder *b, const char *word)
{
    struct text_near near = { .word = span_of(word) };

    for (size_t i = 0; i < b->thing_count; i++)
        text_near_offer(&near, b->things[i].name);
    for (size_t i = 0; i < b->name_count; i++)
        if (strcmp(b->names[i], word) != 0)
            text_near_offer(&near, b->names[i]);
    return near.best ? arena_print(b->arena, "did you mean %s?", near.best) : NULL;
}

/* What a cable must have by itself. The profile has bounds of its own; a boat made by a program has not. */
static void check_cable(struct builder *b, const struct cable *c)
{
    if (strcmp(c->from, c->to) == 0)
        refuse_cable(b, c, "to", 0, arena_print(b->arena, "it runs from %s back to %s", c->from, c->to),
                     "name two different ends");
    if (c->length.value < 0 || (range_known(&c->return_length) && c->return_length.value < 0))
        refuse_cable(b, c, "length", c->length.line, "a length cannot be negative",
                     "give the length one way along the route");
    if (range_known(&c->area) && !conductor_area_known(c->area.value))
        refuse_cable(b, c, "area", c->area.line,
                     arena_print(b->arena, "no table of conductors has %s (%.4g mm2)",
                                 c->area_text ? c->area_text : "such an area", c->area.value * 1e6),
                     "from 0.5 mm2 to 240 mm2, or 18 to 4/0 AWG; for more use runs");
    if (range_known(&c->return_area) && !conductor_area_known(c->return_area.value))
        refuse_cable(b, c, "return_area", c->return_area.line, "no table of conductors has such an area",
                     "from 0.5 mm2 to 240 mm2, or 18 to 4/0 AWG");
    if (range_known(&c->runs) && c->runs.value < 1)
        refuse_cable(b, c, "runs", c->runs.line, "a cable has at least one conductor per pole",
                     "write runs = 1");
}

/* Neither length nor joints. */
static int no_resistance(const struct cable *c)
{
    return c->length.value <= 0 && range_or(&c->return_length, c->length.value) <= 0 &&
           range_or(&c->joints, 0) <= 0;
}

/* Loops of runs without resistance: nothing says how current would share. Uses the union over names. */
static void check_free_loops(struct builder *b)
{
    for (size_t i = 0; i < b->boat->cable_count; i++) {
        const struct cable *c = &b->boat->cables[i];
        size_t from, to;

        if (!no_resistance(c) || strcmp(c->from, c->to) == 0)
            continue;
        from = root_of(b->parent, intern(b, c->from));
        to = root_of(b->parent, intern(b, c->to));
        if (from == to)
            refuse_cable(b, c, "length", c->length.line, "it closes a loop of no resistance at all",
                         "give the cables of the loop their lengths, or joints");
        b->parent[from] = to;
    }
    for (size_t i = 0; i < b->name_count; i++)
        b->parent[i] = i;
}

/* ---- the sides of devices ---- */

/* What a thing says of the circuit it hangs on: AC, DC, or which bank feeds it. */
static void mark_name(struct builder *b, size_t name, size_t root)
{
    const struct thing *thing = b->name_thing[name];

    if (!thing)
        return;
    switch (thing->kind) {
    case GRAPH_BANK:
        b->has_bank[root] = &b->boat->banks[thing->index];
        break;
    case GRAPH_LOAD:
        (b->boat->loads[thing->index].supply == SUPPLY_DC ? b->has_dc : b->has_ac)[root] = 1;
        break;
    case GRAPH_SHORE:
    case GRAPH_GENERATOR:
        b->has_ac[root] = 1;
        break;
    case GRAPH_ALTERNATOR:
    case GRAPH_SOLAR:
        b->has_dc[root] = 1;
        break;
    default:
        break;
    }
}

/* A bank that a converter or relay charges or is charged from, other than the house bank. */
static int is_linked_bank(const struct builder *b, size_t name)
{
    const struct bank *bank;

    if (kind_of(b, name) != GRAPH_BANK)
        return 0;
    bank = &b->boat->banks[b->name_thing[name]->index];
    for (size_t i = 0; i < b->boat->dcdc_count; i++)
        if (bank->role != BANK_HOUSE && (b->boat->dcdcs[i].to == bank || b->boat->dcdcs[i].from == bank))
            return 1;
    return 0;
}

/* The device between two banks; GRAPH_NONE: none is said. */
static size_t device_between(const struct builder *b, const struct bank *one, const struct bank *other)
{
    for (size_t i = 0; i < b->boat->dcdc_count; i++) {
        const struct dcdc *d = &b->boat->dcdcs[i];

        if ((d->from == one && d->to == other) || (d->from == other && d->to == one))
            return i;
    }
    return GRAPH_NONE;
}

/* Unites the ends of a cable, or finds that it is the lead of the device between two banks. */
static void unite_or_link(struct builder *b, size_t cable)
{
    size_t ends[2] = { intern(b, b->boat->cables[cable].from), intern(b, b->boat->cables[cable].to) };
    size_t from = root_of(b->parent, ends[0]), to = root_of(b->parent, ends[1]);
    const struct bank *one = b->has_bank[from], *other = b->has_bank[to];
    size_t device = one && other && one != other ? device_between(b, one, other) : GRAPH_NONE;
    int at_to = is_linked_bank(b, ends[1]);

    if (device != GRAPH_NONE && (at_to || is_linked_bank(b, ends[0]))) {
        const struct dcdc *d = &b->boat->dcdcs[device];

        b->links[cable] = (struct bank_link){ intern(b, d->name), at_to, d->from != (at_to ? one : other) };
        return;
    }
    b->parent[from] = to;
    if (one && !other)
        b->has_bank[to] = one;
}

/* What hangs together when the devices of two circuits are taken out. */
static void unite_without_devices(struct builder *b)
{
    for (size_t i = 0; i < b->name_count; i++)
        mark_name(b, i, i);
    for (int links = 0; links < 2; links++)
        for (size_t i = 0; i < b->boat->cable_count; i++) {
            size_t from = intern(b, b->boat->cables[i].from), to = intern(b, b->boat->cables[i].to);

            b->links[i].device = links ? b->links[i].device : GRAPH_NONE;
            if (!two_sided(kind_of(b, from)) && !two_sided(kind_of(b, to)) &&
                (is_linked_bank(b, from) || is_linked_bank(b, to)) == links)
                unite_or_link(b, i);
        }
    for (size_t i = 0; i < b->name_count; i++)
        mark_name(b, i, root_of(b->parent, i));
    for (size_t i = 0; i < b->boat->load_count; i++) {
        const struct load *load = &b->boat->loads[i];
        size_t name = load->node ? name_table_get(&b->name_table, load->node, GRAPH_NONE) : GRAPH_NONE;

        if (name != GRAPH_NONE)
            (load->supply == SUPPLY_DC ? b->has_dc : b->has_ac)[root_of(b->parent, name)] = 1;
    }
}

/* Which side of device `name` a cable from `other` meets: 1 is the far one. */
static int side_of(struct builder *b, size_t name, size_t other)
{
    size_t root = root_of(b->parent, other);
    const struct bank *bank = b->has_bank[root];
    enum graph_kind kind = kind_of(b, name), facing = kind_of(b, other);

    if (!two_sided(kind))
        return 0;
    if (kind == GRAPH_DCDC)
        return !bank || bank != b->boat->dcdcs[b->name_thing[name]->index].from;
    if (two_sided(facing))
        return facing != GRAPH_DCDC && facing != kind;
    return !bank && (b->has_ac[root] || !b->has_dc[root]);
}

/* The node of a side of a name, made where it is new. */
static size_t node_for(struct builder *b, size_t name, int side)
{
    struct graph *g = b->graph;
    const struct thing *thing = b->name_thing[name];

    if (b->node_of[side][name] == GRAPH_NONE) {
        g->nodes[g->node_count] = (struct graph_node){ .name = b->names[name],
                                                       .kind = kind_of(b, name),
                                                       .index = thing ? thing->index : 0,
                                                       .far_side = side,
                                                       .part = GRAPH_NONE,
                                                       .parent = GRAPH_NONE };
        b->node_of[side][name] = g->node_count++;
    }
    return b->node_of[side][name];
}

/* Nodes and edges of all cables. 0 without memory. */
static int make_nodes(struct builder *b)
{
    struct graph *g = b->graph;
    size_t most = 2 * b->name_count + b->boat->load_count + 1;

    g->nodes = arena_array(b->arena, most, sizeof *g->nodes);
    g->edges = arena_array(b->arena, b->boat->cable_count, sizeof *g->edges);
    g->parts = arena_array(b->arena, most, sizeof *g->parts);
    g->order = arena_array(b->arena, most, sizeof *g->order);
    g->load_node = arena_array(b->arena, b->boat->load_count, sizeof *g->load_node);
    if (!g->nodes || !g->edges || !g->parts || !g->order || !g->load_node)
        return 0;
    for (size_t i = 0; i < b->boat->cable_count; i++) {
        const struct cable *c = &b->boat->cables[i];
        size_t from = intern(b, c->from), to = intern(b, c->to);

        const struct bank_link *link = &b->links[i];

        g->edges[i] = (struct graph_edge){ .cable = c };
        g->edges[i].from = link->device != GRAPH_NONE && !link->at_to
                               ? node_for(b, link->device, link->side)
                               : node_for(b, from, side_of(b, from, to));
        g->edges[i].to = link->device != GRAPH_NONE && link->at_to ? node_for(b, link->device, link->side)
                                                                   : node_for(b, to, side_of(b, to, from));
        g->nodes[g->edges[i].from].degree++;
        g->nodes[g->edges[i].to].degree++;
    }
    g->edge_count = b->boat->cable_count;
    return 1;
}

/* Loads hang on the node they name, else on one of their own name; those that no cable reaches are counted,
 * not refused: a profile may know only part of its wiring. */
static void place_loads(struct builder *b)
{
    struct graph *g = b->graph;

    for (size_t i = 0; i < b->boat->load_count; i++) {
        const struct load *load = &b->boat->loads[i];
        const char *at = load->node ? load->node : load->name;
        size_t name = name_table_get(&b->name_table, at, GRAPH_NONE);
        enum graph_kind kind = name == GRAPH_NONE ? GRAPH_PLAIN : kind_of(b, name);

        g->load_node[i] = GRAPH_NONE;
        if (name != GRAPH_NONE) {
            int far = two_sided(kind) && (load->supply != SUPPLY_DC || kind == GRAPH_DCDC);

            g->load_node[i] = node_for(b, name, far);
            g->nodes[g->load_node[i]].loads++;
        } else if (load->node) {
            const char *hint = nearest_name(b, load->node);

            refuse(b, load->line, arena_print(b->arena, "load %s", load->name), "node",
                   arena_print(b->arena, "no cable reaches a node %s", load->node),
                   hint ? hint : "name an end of a cable, or leave it out");
        } else {
            g->unwired++;
        }
    }
}

/* ---- parts ---- */

/* A node of the user's own that nothing else meets is a slip of the pen. */
static void check_ends(struct builder *b)
{
    const struct graph *g = b->graph;

    for (size_t i = 0; i < g->edge_count; i++)
        for (int end = 0; end < 2; end++) {
            const struct graph_node *node = &g->nodes[end ? g->edges[i].to : g->edges[i].from];
            const char *hint;

            if (node->kind != GRAPH_PLAIN || node->degree > 1 || node->loads > 0)
                continue;
            hint = nearest_name(b, node->name);
            refuse_cable(b, g->edges[i].cable, end ? "to" : "from", 0,
                         arena_print(b->arena,
                                     "%s is nothing: no bank, device or load, and no other cable meets it",
                                     node->name),
                         hint ? hint : "name what stands there, or give a load node = that name");
        }
}

/* Unites the ends of every cable, and says where that joins two banks. */
static void unite_parts(struct builder *b)
{
    struct graph *g = b->graph;

    for (size_t i = 0; i < g->node_count; i++) {
        b->parent[i] = i;
        b->has_bank[i] = g->nodes[i].kind == GRAPH_BANK ? &b->boat->banks[g->nodes[i].index] : NULL;
    }
    for (size_t i = 0; i < g->edge_count; i++) {
        size_t from = root_of(b->parent, g->edges[i].from), to = root_of(b->parent, g->edges[i].to);
        const struct bank *one = b->has_bank[from], *other = b->has_bank[to];

        if (one && other && from != to)
            refuse_cable(b, g->edges[i].cable, "to", 0,
                         arena_print(b->arena, "everything on it is fed by two banks, %s and %s", one->name,
                                     other->name),
                         "put a [dcdc] between them, or let each load hang on one bank");
        b->parent[from] = to;
        if (one && !other)
            b->has_bank[to] = one;
    }
}

/* The part of a node, made where it is new. */
static struct graph_part *part_of(struct builder *b, size_t node)
{
    struct graph *g = b->graph;
    size_t root = root_of(b->parent, node);

    if (g->nodes[root].part == GRAPH_NONE) {
        g->nodes[root].part = g->part_count;
        g->parts[g->part_count++] = (struct graph_part){ .source = GRAPH_NONE, .bank = b->has_bank[root] };
    }
    g->nodes[node].part = g->nodes[root].part;
    return &g->parts[g->nodes[node].part];
}

/* A bank comes before any other source; among AC sources the inverter, which works alone at sea. */
static int better_source(const struct graph_node *nodes, size_t old, size_t new)
{
    if (old == GRAPH_NONE || nodes[new].kind == GRAPH_BANK)
        return 1;
    return nodes[old].kind != GRAPH_BANK && nodes[new].kind == GRAPH_INVERTER &&
           nodes[old].kind != GRAPH_INVERTER;
}

/*
 * Nominal volts of a part [V] by what feeds it; a converter without volts of its own is taken at the boat's.
 */
static double nominal_of(const struct graph *g, const struct graph_part *part)
{
    const struct graph_node *source = &g->nodes[part->source];

    if (part->system == NET_AC)
        return source->kind == GRAPH_SHORE ? range_or(&g->boat->shore.voltage, g->boat->ac_voltage.value)
                                           : g->boat->ac_voltage.value;
    if (source->kind == GRAPH_BANK)
        return bank_nominal_voltage(&g->boat->banks[source->index]);
    return range_or(&g->boat->dcdcs[source->index].voltage, g->boat->dc_voltage.value);
}

/* Nodes that make their part an AC one. */
static int is_ac(const struct graph_node *node)
{
    return node->kind == GRAPH_SHORE || node->kind == GRAPH_GENERATOR ||
           (node->far_side && node->kind != GRAPH_DCDC);
}

/* Parts, their systems and sources; a part without a source is refused once. */
static void find_parts(struct builder *b)
{
    struct graph *g = b->graph;

    for (size_t i = 0; i < g->node_count; i++) {
        struct graph_part *part = part_of(b, i);

        if (is_ac(&g->nodes[i]))
            part->system = NET_AC;
        if (graph_is_source(&g->nodes[i]) && better_source(g->nodes, part->source, i))
            part->source = i;
    }
    for (size_t i = 0; i < g->edge_count; i++) {
        struct graph_part *part = &g->parts[g->nodes[g->edges[i].from].part];

        if (part->source != GRAPH_NONE || part->loops)
            continue;
        part->loops = 1; /* said once for the part */
        refuse_cable(b, g->edges[i].cable, "from", 0,
                     "nothing feeds it: no bank, shore, generator or inverter is near",
                     "run it from a bank or from a node that a cable feeds");
    }
    for (size_t i = 0; i < g->part_count; i++)
        if (g->parts[i].source != GRAPH_NONE)
            g->parts[i].nominal_v = nominal_of(g, &g->parts[i]);
}

/* A load on wires of the other kind, or one that names another bank than the wires lead to. */
static void check_loads(struct builder *b)
{
    const struct graph *g = b->graph;

    for (size_t i = 0; i < b->boat->load_count; i++) {
        const struct load *load = &b->boat->loads[i];
        const struct graph_part *part;

        if (g->load_node[i] == GRAPH_NONE)
            continue;
        part = &g->parts[g->nodes[g->load_node[i]].part];
        if ((load->supply == SUPPLY_DC) != (part->system == NET_DC))
            refuse(b, load->line, arena_print(b->arena, "load %s", load->name), "supply",
                   arena_print(b->arena, "its supply is %s but its cable carries %s",
                               load->supply == SUPPLY_DC ? "dc" : "ac", part->system == NET_DC ? "dc" : "ac"),
                   "change the supply, or run the cable from the other side");
    }
}

/* ---- the way from the source ---- */

/* Lists of edges per node, as ranges of one array. */
struct incidence {
    size_t *first, *edges;
};

/* Which edges meet at each node, by counting. 0 without memory. */
static int make_incidence(struct incidence *in, struct arena *arena, const struct graph *g)
{
    size_t *fill = arena_array(arena, g->node_count + 1, sizeof *fill);

    in->first = arena_array(arena, g->node_count + 1, sizeof *in->first);
    in->edges = arena_array(arena, 2 * g->edge_count, sizeof *in->edges);
    if (!fill || !in->first || !in->edges)
        return 0;
    for (size_t i = 0; i < g->node_count; i++)
        in->first[i + 1] = in->first[i] + g->nodes[i].degree;
    memcpy(fill, in->first, g->node_count * sizeof *fill);
    for (size_t i = 0; i < g->edge_count; i++) {
        in->edges[fill[g->edges[i].from]++] = i;
        in->edges[fill[g->edges[i].to]++] = i;
    }
    return 1;
}

/* Breadth first from every source: order, parents, which end of an edge is nearer, which edges close loops.
 */
static int walk(struct builder *b)
{
    struct graph *g = b->graph;
    struct incidence in;
    int *seen = arena_array(b->arena, g->node_count, sizeof *seen);
    int *done = arena_array(b->arena, g->edge_count, sizeof *done);
    size_t count = 0;

    if (!seen || !done || !make_incidence(&in, b->arena, g))
        return 0;
    for (size_t p = 0; p < g->part_count; p++) {
        seen[g->parts[p].source] = 1;
        g->order[count++] = g->parts[p].source;
    }
    for (size_t at = 0; at < count; at++) {
        size_t node = g->order[at];

        for (size_t k = in.first[node]; k < in.first[node + 1]; k++) {
            struct graph_edge *edge = &g->edges[in.edges[k]];

            if (done[in.edges[k]])
                continue;
            done[in.edges[k]] = 1;
            if (edge->from != node) {
                edge->to = edge->from;
                edge->from = node;
            }
            edge->chord = seen[edge->to];
            if (edge->chord) {
                g->parts[g->nodes[node].part].loops = 1;
                continue;
            }
            seen[edge->to] = 1;
            g->nodes[edge->to].parent = in.edges[k];
            g->nodes[node].feeds++;
            g->order[count++] = edge->to;
        }
    }
    for (size_t i = 0; i < g->node_count; i++)
        g->nodes[i].feeds += g->nodes[i].loads;
    return 1;
}

size_t graph_find(const struct graph *graph, const char *name)
{
    for (size_t i = 0; i < graph->node_count; i++)
        if (strcmp(graph->nodes[i].name, name) == 0)
            return i;
    return GRAPH_NONE;
}

/* In this order, because each step relies on what the one before has refused or found. */
static enum status build(struct builder *b)
{
    if (!list_things(b) || !list_names(b))
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < b->boat->cable_count; i++)
        check_cable(b, &b->boat->cables[i]);
    check_free_loops(b);
    unite_without_devices(b);
    if (!make_nodes(b))
        return STATUS_NO_MEMORY;
    place_loads(b);
    check_ends(b);
    unite_parts(b);
    find_parts(b);
    check_loads(b);
    if (b->refused)
        return STATUS_REFUSED;
    return walk(b) ? STATUS_OK : STATUS_NO_MEMORY;
}

enum status graph_build(const struct graph **out, struct arena *arena, const struct boat *boat,
                        struct diag_list *diags)
{
    struct builder b = {
        .arena = arena, .boat = boat, .diags = diags, .graph = arena_zero(arena, sizeof *b.graph)
    };
    enum status status;

    if (!b.graph)
        return STATUS_NO_MEMORY;
    if (boat->cable_count == 0) {
        diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                        .message = "the profile has no cable",
                                        .hint = "add a section [cable NAME] with from, to and length" });
        return STATUS_INCOMPLETE;
    }
    b.graph->boat = boat;
    status = build(&b);
    if (status == STATUS_OK)
        *out = b.graph;
    return status;
}

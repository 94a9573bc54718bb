/* network_plan.c - the order of elimination, worked out once for a shape of network.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/network_plan.h"

#include <stdint.h>
#include <string.h>

#include "base/arena.h"
#include "engine/joined.h"

/*
 * Minimum-degree ordering.
 *
 * Taking a node out of the equations joins its neighbours to each other. Always the node with the fewest
 * neighbours goes next: ends of a tree go first, so a tree of any size is solved in linear time and makes no
 * new blocks at all. What is left when every node has more than MOST_NEIGHBOURS is the core, a mesh that
 * goes to a dense solver.
 *
 * Every run, every block made on the way, and every pair of neighbours of a step has its number before the
 * first figure is known: net_plan_factor only walks over arrays. The order depends on the shape alone, and a
 * boat's shape never changes while her sizes are chosen, her scenarios solved and her inverters tried.
 */

/* Nodes with more neighbours than this are left to the dense core: fill would cost more than it saves. */
enum { MOST_NEIGHBOURS = 6 };

static const size_t NONE = SIZE_MAX;

/* One end of an edge in the list of a node. */
struct half {
    size_t to, edge, next;
};

/* The graph while it is taken apart. */
struct sorter {
    struct arena *arena;
    struct half *halves;
    size_t half_count, half_room;
    size_t *edge_ends; /* low end per edge */
    size_t edge_count, edge_room;
    size_t *first;     /* per node: its list */
    size_t *degree;
    int *gone;
    size_t *stack[MOST_NEIGHBOURS + 1];
    size_t height[MOST_NEIGHBOURS + 1], room[MOST_NEIGHBOURS + 1];
    size_t link_count, link_room, pair_count, pair_room, step_count;
    int failed;
};

/* arena_push remembers failure instead of returning it. */
static void *push(struct sorter *s, void **items, size_t *count, size_t *room, size_t size)
{
    void *item = s->failed ? NULL : arena_push(s->arena, items, count, room, size);

    if (!item)
        s->failed = 1;
    return item;
}

/* Puts an edge into the list of one of its ends. */
static void add_half(struct sorter *s, size_t from, size_t to, size_t edge)
{
    struct half *half = push(s, (void **)&s->halves, &s->half_count, &s->half_room, sizeof *half);

    if (!half)
        return;
    *half = (struct half){ to, edge, s->first[from] };
    s->first[from] = s->half_count - 1;
    s->degree[from]++;
}

/* The edge between two nodes, from the list of the one with fewer neighbours; NONE: there is none. */
static size_t find_edge(const struct sorter *s, size_t a, size_t b)
{
    size_t from = s->degree[a] < s->degree[b] ? a : b, to = from == a ? b : a;

    for (size_t h = s->first[from]; h != NONE; h = s->halves[h].next)
        if (s->halves[h].to == to)
            return s->halves[h].edge;
    return NONE;
}

/* The edge between two nodes, made where it is new: fill of the elimination too. */
static size_t join(struct sorter *s, size_t a, size_t b)
{
    size_t edge = find_edge(s, a, b);
    size_t *end;

    if (edge != NONE)
        return edge;
    edge = s->edge_count;
    end = push(s, (void **)&s->edge_ends, &s->edge_count, &s->edge_room, sizeof *end);
    if (!end)
        return 0;
    *end = a < b ? a : b;
    add_half(s, a, b, edge);
    add_half(s, b, a, edge);
    return edge;
}

/* Puts a node on the stack of its degree; old entries are passed over when they come up. */
static void offer(struct sorter *s, size_t node)
{
    size_t d = s->degree[node];
    size_t *place;

    if (s->gone[node] || d > MOST_NEIGHBOURS)
        return;
    place = push(s, (void **)&s->stack[d], &s->height[d], &s->room[d], sizeof *place);
    if (place)
        *place = node;
}

/* The next node with the fewest neighbours; NONE: only the core is left. */
static size_t take(struct sorter *s)
{
    for (size_t d = 0; d <= MOST_NEIGHBOURS; d++)
        while (s->height[d] > 0) {
            size_t node = s->stack[d][--s->height[d]];

            if (!s->gone[node] && s->degree[node] == d)
                return node;
        }
    return NONE;
}

/* Drops the dead from a node's list, so that long lists are walked once. */
static void prune(struct sorter *s, size_t node)
{
    size_t *at = &s->first[node];

    while (*at != NONE) {
        if (s->gone[s->halves[*at].to])
            *at = s->halves[*at].next;
        else
            at = &s->halves[*at].next;
    }
}

/* Takes a node out: its neighbours become joined to each other, as in the block
 * elimination that will follow this order. */
static void eliminate(struct sorter *s, struct net_plan *plan, size_t node)
{
    size_t first = s->link_count, count;

    prune(s, node);
    plan->steps[s->step_count] = (struct net_step){ node, first, 0, s->pair_count };
    for (size_t h = s->first[node]; h != NONE; h = s->halves[h].next) {
        struct net_link *link = push(s, (void **)&plan->links, &s->link_count, &s->link_room, sizeof *link);

        if (!link)
            return;
        *link = (struct net_link){ s->halves[h].to, s->halves[h].edge };
        s->degree[link->node]--;
    }
    count = s->link_count - first;
    s->gone[node] = 1;
    plan->steps[s->step_count++].link_count = count;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            size_t edge = join(s, plan->links[first + i].node, plan->links[first + j].node);
            size_t *pair = push(s, (void **)&plan->pairs, &s->pair_count, &s->pair_room, sizeof *pair);

            if (!pair)
                return;
            *pair = edge;
        }
    for (size_t i = 0; i < count; i++)
        offer(s, plan->links[first + i].node);
}

/* Lists, degrees and stacks of the network as given. 0 without memory. */
static int sorter_start(struct sorter *s, struct net_plan *plan, const struct net *net)
{
    size_t n = net->node_count;

    s->first = arena_array(s->arena, n, sizeof *s->first);
    s->degree = arena_array(s->arena, n, sizeof *s->degree);
    s->gone = arena_array(s->arena, n, sizeof *s->gone);
    plan->edge_of_run = arena_array(s->arena, net->run_count, sizeof *plan->edge_of_run);
    plan->steps = arena_array(s->arena, n, sizeof *plan->steps);
    plan->core = arena_array(s->arena, n, sizeof *plan->core);
    plan->earthed = arena_array(s->arena, n, sizeof *plan->earthed);
    if (!s->first || !s->degree || !s->gone || !plan->edge_of_run || !plan->steps || !plan->core ||
        !plan->earthed)
        return 0;
    for (size_t i = 0; i < n; i++)
        s->first[i] = NONE;
    for (size_t r = 0; r < net->run_count; r++)
        if (net->runs[r].a != net->runs[r].b)
            plan->edge_of_run[r] = join(s, net->runs[r].a, net->runs[r].b);
    for (size_t i = 0; i < n; i++)
        offer(s, i);
    return !s->failed;
}

/* The nodes that stay, and the edges between them. */
static int collect_core(struct sorter *s, struct net_plan *plan)
{
    size_t *place = arena_array(s->arena, plan->node_count, sizeof *place);
    size_t count = 0;

    plan->core_edges = arena_array(s->arena, s->edge_count, sizeof *plan->core_edges);
    plan->core_rows = arena_array(s->arena, s->edge_count, sizeof *plan->core_rows);
    plan->core_columns = arena_array(s->arena, s->edge_count, sizeof *plan->core_columns);
    if (!place || !plan->core_edges || !plan->core_rows || !plan->core_columns)
        return 0;
    for (size_t i = 0; i < plan->node_count; i++)
        if (!s->gone[i]) {
            place[i] = plan->core_count;
            plan->core[plan->core_count++] = i;
        }
    for (size_t i = 0; i < plan->core_count; i++)
        for (size_t h = s->first[plan->core[i]]; h != NONE; h = s->halves[h].next) {
            size_t to = s->halves[h].to;

            if (s->gone[to] || to < plan->core[i])
                continue;
            plan->core_edges[count] = s->halves[h].edge;
            plan->core_rows[count] = i;
            plan->core_columns[count++] = place[to];
        }
    plan->core_edge_count = count;
    return 1;
}

/* Room for all numbers at once, so that solving needs none. 0 without memory. */
static int make_room(struct net_plan *plan, struct arena *arena, size_t links)
{
    size_t n = plan->node_count, e = plan->edge_count, m = 2 * plan->core_count;
    struct {
        double **at;
        size_t count;
    } wanted[] = {
        { &plan->diagonal, 4 * n },      { &plan->upper, 4 * e },         { &plan->lower, 4 * e },
        { &plan->pivot, 4 * n },         { &plan->weight, 4 * links },    { &plan->rhs, 2 * n },
        { &plan->state, 2 * n },         { &plan->inverse, 4 * n },       { &plan->inverse_upper, 4 * e },
        { &plan->inverse_lower, 4 * e }, { &plan->dense, m * m },         { &plan->dense_inverse, m * m },
        { &plan->dense_rhs, m },
    };

    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (!(*wanted[i].at = arena_array(arena, wanted[i].count, sizeof(double))))
            return 0;
    plan->permutation = arena_array(arena, m, sizeof *plan->permutation);
    plan->scaled = arena_array(arena, plan->load_count, sizeof *plan->scaled);
    return plan->permutation && plan->scaled;
}

/* Earths the first source of every part that hangs together, or its first node. */
static int choose_earths(struct net_plan *plan, struct arena *arena, const struct net *net)
{
    size_t n = net->node_count;
    size_t *parent = arena_array(arena, n, sizeof *parent);
    int *done = arena_array(arena, n, sizeof *done);

    if (!parent || !done)
        return 0;
    for (size_t i = 0; i < n; i++)
        parent[i] = i;
    for (size_t r = 0; r < net->run_count; r++)
        parent[root_of(parent, net->runs[r].a)] = root_of(parent, net->runs[r].b);
    for (size_t i = 0; i < net->source_count + n; i++) {
        size_t node = i < net->source_count ? net->sources[i].node : i - net->source_count;
        size_t root = root_of(parent, node);

        if (!done[root])
            done[root] = plan->earthed[node] = 1;
    }
    return 1;
}

/* Minimum degree: always the node with the fewest neighbours left, so that a tree needs no fill at all. */
struct net_plan *net_plan_new(struct arena *arena, const struct net *net)
{
    struct net_plan *plan = arena_zero(arena, sizeof *plan);
    struct sorter s = { .arena = arena };
    size_t node;

    if (!plan)
        return NULL;
    plan->node_count = net->node_count;
    plan->load_count = net->load_count;
    if (!sorter_start(&s, plan, net))
        return NULL;
    while (!s.failed && (node = take(&s)) != NONE)
        eliminate(&s, plan, node);
    if (s.failed || !collect_core(&s, plan))
        return NULL;
    plan->step_count = s.step_count;
    plan->edge_count = s.edge_count;
    plan->edge_low = s.edge_ends;
    if (!make_room(plan, arena, s.link_count) || !choose_earths(plan, arena, net))
        return NULL;
    return plan;
}

/* cable_size.c - least copper on a tree by merging stairs of cost over allowed loss.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/cable_size.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"

/*
 * For each node, the cheapest cost of everything below it depends only on how many volts are lost above it:
 * the more is lost above, the thicker and dearer must be what lies below. That function is a stair, kept as
 * its steps: "with up to spare_v lost above, the part below costs so much".
 *
 *   a cable     shifts the stair of its node by the drop of each option and adds that option's cost; of all
 *               the shifted stairs only the steps that no other beats are kept
 *   a node      adds the stairs of its cables, and cuts them off at its own limit
 *   the source  has lost nothing: the step at 0 is the answer; walking back down tells the option of every
 *               cable
 *
 * Exact as long as no stair needs more than SIZE_STEPS steps. Checked: tests/engine/test_cable_size.c,
 * against trying every combination.
 */

/* Volts of slack in comparisons: sums of the same drops in another order must not differ. */
static const double SLACK = 1e-9;

/* A step of a stair: with up to spare_v lost above, the part below costs so much. */
struct step {
    double spare_v, cost;
    size_t option; /* of the cable into the node */
    size_t below;  /* step of the node's own stair */
};

/* Steps in falling spare_v and falling cost. */
struct stair {
    struct step *steps;
    size_t count;
};

struct sizer {
    struct arena *arena;
    const struct size_tree *tree;
    double *limit;        /* eased */
    double *least, *most; /* [V] lost above a node with the thickest and the thinnest cables */
    struct stair *node;   /* below a node, cable into it not counted */
    struct stair *cable;  /* with the cable into it */
    size_t *first, *next; /* children as linked lists */
    size_t *pick;         /* step of the node's stair that was chosen */
};

static const size_t NONE = (size_t)-1;

/* The last option: most copper, least drop. */
static const struct size_option *thickest(const struct size_tree *t, size_t i)
{
    return &t->options[i][t->option_count[i] - 1];
}

/* [V] lost in the cable into node i whatever is chosen: those of an installed one, which has one option. */
static double unchangeable(const struct size_tree *t, size_t i)
{
    return t->option_count[i] == 1 ? t->options[i][0].drop_v : 0;
}

/* The limit that is sized to. One that cables without a choice break alone is lifted: they are to be replaced
 * first, and no copper above them helps. One that the thickest cables break is eased to what they reach. */
static double ease(double limit, double installed, double least)
{
    if (limit < installed - SLACK)
        return HUGE_VAL;
    return fmax(limit, least);
}

/* Children as lists, limits eased, and for each node what may be lost above it at least and at most. 0
 * without memory. */
static int prepare(struct sizer *s, size_t *eased)
{
    const struct size_tree *t = s->tree;
    size_t n = t->node_count;
    double *installed = arena_array(s->arena, n, sizeof *installed);

    s->limit = arena_array(s->arena, n, sizeof *s->limit);
    s->least = arena_array(s->arena, n, sizeof *s->least);
    s->most = arena_array(s->arena, n, sizeof *s->most);
    s->node = arena_array(s->arena, n, sizeof *s->node);
    s->cable = arena_array(s->arena, n, sizeof *s->cable);
    s->first = arena_array(s->arena, n, sizeof *s->first);
    s->next = arena_array(s->arena, n, sizeof *s->next);
    s->pick = arena_array(s->arena, n, sizeof *s->pick);
    if (!installed || !s->limit || !s->least || !s->most || !s->node || !s->cable || !s->first || !s->next ||
        !s->pick)
        return 0;
    *eased = 0;
    for (size_t i = 0; i < n; i++) {
        s->first[i] = NONE;
        if (i > 0) {
            s->least[i] = s->least[t->parent[i]] + thickest(t, i)->drop_v;
            s->most[i] = s->most[t->parent[i]] + t->options[i][0].drop_v;
            installed[i] = installed[t->parent[i]] + unchangeable(t, i);
        }
        if (t->limit_v[i] < s->least[i] - SLACK)
            ++*eased;
        s->limit[i] = ease(t->limit_v[i], installed[i], s->least[i]);
    }
    for (size_t i = n; i-- > 1;) {
        s->next[i] = s->first[t->parent[i]];
        s->first[t->parent[i]] = i;
    }
    return 1;
}

/* Falling spare volts; of equal ones the cheaper first, so that prune keeps it. */
static int falling(const void *a, const void *b)
{
    const struct step *x = a, *y = b;

    if (x->spare_v != y->spare_v)
        return x->spare_v < y->spare_v ? 1 : -1;
    return (x->cost > y->cost) - (x->cost < y->cost);
}

/* Keeps the steps that no other beats; those above `most` count alike, those under `least` are of no use. */
static void prune(struct stair *stair, double least, double most)
{
    size_t kept = 0;

    qsort(stair->steps, stair->count, sizeof *stair->steps, falling);
    for (size_t i = 0; i < stair->count; i++) {
        struct step step = stair->steps[i];

        if (step.spare_v < least - SLACK)
            break;
        if (kept > 0 && step.cost >= stair->steps[kept - 1].cost)
            continue;
        if (kept > 0 && step.spare_v >= most)
            kept--; /* cheaper, and still enough whatever is lost above */
        stair->steps[kept++] = step;
    }
    stair->count = kept;
}

/* Takes evenly spread steps, both ends kept. */
static void thin(struct stair *stair)
{
    if (stair->count <= SIZE_STEPS)
        return;
    for (size_t i = 0; i < SIZE_STEPS; i++)
        stair->steps[i] = stair->steps[i * (stair->count - 1) / (SIZE_STEPS - 1)];
    stair->count = SIZE_STEPS;
}

/* The stair of a node with the cable into it. */
static int add_cable(struct sizer *s, size_t i)
{
    const struct size_tree *t = s->tree;
    struct stair *out = &s->cable[i], *in = &s->node[i];

    out->steps = arena_array(s->arena, in->count * t->option_count[i], sizeof *out->steps);
    if (!out->steps)
        return 0;
    for (size_t k = 0; k < t->option_count[i]; k++)
        for (size_t j = 0; j < in->count; j++)
            out->steps[out->count++] = (struct step){ in->steps[j].spare_v - t->options[i][k].drop_v,
                                                      in->steps[j].cost + t->options[i][k].cost, k, j };
    prune(out, s->least[t->parent[i]], s->most[t->parent[i]]);
    thin(out);
    return 1;
}

/* A step of a child's stair while the children's stairs are merged. */
struct event {
    double spare_v;
    size_t child;
    double cost;
};

static int falling_event(const void *a, const void *b)
{
    const struct event *x = a, *y = b;

    if (x->spare_v != y->spare_v)
        return x->spare_v < y->spare_v ? 1 : -1;
    return (x->child > y->child) - (x->child < y->child);
}

/* All steps of all children in falling spare volts. */
static struct event *list_events(struct sizer *s, size_t i, size_t *count, size_t *children)
{
    struct event *events;

    *count = *children = 0;
    for (size_t c = s->first[i]; c != NONE; c = s->next[c]) {
        *count += s->cable[c].count;
        ++*children;
    }
    events = arena_array(s->arena, *count, sizeof *events);
    *count = 0;
    for (size_t c = s->first[i]; events && c != NONE; c = s->next[c])
        for (size_t j = 0; j < s->cable[c].count; j++)
            events[(*count)++] = (struct event){ s->cable[c].steps[j].spare_v, c, s->cable[c].steps[j].cost };
    if (events)
        qsort(events, *count, sizeof *events, falling_event);
    return events;
}

/* The stair below a node: its own limit, and the sum over its children at each height. */
static int merge_children(struct sizer *s, size_t i)
{
    size_t count, children, seen = 0;
    struct event *events = list_events(s, i, &count, &children);
    struct stair *out = &s->node[i];
    double sum = 0;

    out->steps = arena_array(s->arena, count + 1, sizeof *out->steps);
    if (!events || !out->steps)
        return 0;
    if (children == 0) {
        out->steps[out->count++] = (struct step){ .spare_v = fmin(s->limit[i], s->most[i] + 1) };
        return 1;
    }
    for (size_t c = s->first[i]; c != NONE; c = s->next[c])
        s->pick[c] = NONE; /* here: what the child costs at the present height, by event */
    for (size_t e = 0; e < count; e++) {
        size_t child = events[e].child;

        if (s->pick[child] == NONE)
            seen++;
        else
            sum -= events[s->pick[child]].cost;
        s->pick[child] = e;
        sum += events[e].cost;
        if (seen == children)
            out->steps[out->count++] =
                (struct step){ .spare_v = fmin(events[e].spare_v, s->limit[i]), .cost = sum };
    }
    prune(out, s->least[i], s->most[i]);
    thin(out);
    return 1;
}

/* The cheapest step of a child's stair that still has so much spare; the last where rounding left none. */
static size_t cheapest(const struct stair *stair, double spare_v)
{
    size_t best = 0;

    for (size_t j = 0; j < stair->count && stair->steps[j].spare_v >= spare_v - SLACK; j++)
        best = j;
    return best;
}

/* From the source outwards: what each cable is to be, given what was lost above it. */
static void pick_all(struct sizer *s, size_t *choice)
{
    const struct size_tree *t = s->tree;

    s->pick[0] = cheapest(&s->node[0], 0);
    for (size_t i = 0; i < t->node_count; i++) {
        double spare = i == 0 ? 0 : s->node[i].steps[s->pick[i]].spare_v;

        for (size_t c = s->first[i]; c != NONE; c = s->next[c]) {
            const struct step *step = &s->cable[c].steps[cheapest(&s->cable[c], spare)];

            choice[c] = step->option;
            s->pick[c] = step->below;
        }
    }
}

enum status size_tree_choose(struct arena *arena, const struct size_tree *tree, size_t *choice, size_t *eased)
{
    struct sizer s = { .arena = arena, .tree = tree };

    if (!prepare(&s, eased))
        return STATUS_NO_MEMORY;
    for (size_t i = tree->node_count; i-- > 0;)
        if (!merge_children(&s, i) || (i > 0 && !add_cable(&s, i)))
            return STATUS_NO_MEMORY;
    pick_all(&s, choice);
    return STATUS_OK;
}

/* circuit_again.c - what the cables that fail should be, found by sizing the whole boat again.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/cable_fuse.h"
#include "engine/circuit_report.h"
#include "parts/conductor.h"
#include "parts/fuse.h"

/*
 * The answer with the least copper to buy: what is installed costs nothing to leave, and a cable that passes
 * is replaced only where that saves more in those beyond it. All cables that fail are freed at once and the
 * whole boat is sized again, so that the answer is one set that works together. Where not even the thickest
 * standard size carries the current or can be protected, a run gets one more conductor per pole, and it is
 * sized again.
 */

/* Conductors in parallel per pole that are still proposed: a post takes four lugs, ABYC E-11 as quoted and
 * common practice. */
static const double MOST_RUNS = 4;

/* 1 where some cable is to be sized again, installed or sized. */
static int any_fails(const struct circuit_cable *rows, size_t count)
{
    for (size_t e = 0; e < count; e++)
        if (cable_copper_fails(&rows[e]))
            return 1;
    return 0;
}

static void free_failing(struct model *again, const struct circuit_cable *rows)
{
    for (size_t e = 0; e < again->graph->edge_count; e++)
        if (cable_copper_fails(&rows[e]))
            model_free_wire(again, e);
}

/* Lets the installed cables grow that stand before a run whose drop fails. */
static void let_grow(struct model *again, const struct circuit_cable *rows)
{
    const struct graph *g = again->graph;

    for (size_t e = 0; e < g->edge_count; e++)
        for (size_t up = g->nodes[g->edges[e].from].parent; !rows[e].drop_ok && up != GRAPH_NONE;
             up = g->nodes[g->edges[up].from].parent)
            again->wires[up].may_grow = again->wires[up].fixed;
}

int cable_grows(const struct circuit_cable *row)
{
    return !cable_copper_fails(row) && row->installed_mm2 > 0 && row->area_mm2 > row->installed_mm2 * 1.001;
}

const char *cable_size_wanted(struct arena *arena, const struct circuit_cable *cable)
{
    const struct conductor_size *gauge = conductor_nearest_awg(cable->area_mm2 * 1e-6);
    int exact = gauge && fabs(gauge->area_m2 * 1e6 / cable->area_mm2 - 1) < 0.005;
    const char *more = cable->area_short ? "more than " : "";
    const char *times = cable->area_runs > 1 ? arena_print(arena, "%.0f x ", cable->area_runs) : "";

    if (!times)
        return NULL;
    return exact ? arena_print(arena, "%s%s%s AWG (%.4g mm2)", more, times, gauge->label, cable->area_mm2)
                 : arena_print(arena, "%s%s%.4g mm2", more, times, cable->area_mm2);
}

/* "C3 50 mm2, C10 2 x 6 mm2": what to buy; NULL without memory. */
static const char *remedy_of(struct arena *arena, const struct circuit_cable *rows, size_t count)
{
    const char *text = "";

    for (size_t e = 0; e < count && text; e++)
        if (cable_copper_fails(&rows[e]) || cable_grows(&rows[e])) {
            const char *size = cable_size_wanted(arena, &rows[e]);

            text = size ? arena_print(arena, "%s%s%s %s", text, *text ? ", " : "", rows[e].number, size)
                        : NULL;
        }
    return text;
}

/* One more conductor for every failing run whose size does not do; 1 where one was added. */
static int add_runs(struct model *again, const struct circuit_cable *rows)
{
    int added = 0;

    for (size_t e = 0; e < again->graph->edge_count; e++) {
        struct wire *w = &again->wires[e];

        if (!cable_copper_fails(&rows[e]) || w->runs >= MOST_RUNS || !model_size_fails(again, e))
            continue;
        w->runs += 1;
        model_free_wire(again, e); /* thickest again, so that the next solve has a solution */
        added = 1;
    }
    return added;
}

/* The size and number that would do, and the fuses that suit them. */
static void note_needed(const struct report *r, const struct model *again, struct circuit_cable *row,
                        size_t e)
{
    const struct wire *w = &again->wires[e];

    row->area_mm2 = w->area_m2 * 1e6;
    row->area_runs = w->runs;
    if (!cable_copper_fails(row))
        return;
    row->area_short = model_size_fails(again, e);
    row->area_fuse_min_a = fuse_rating_up(w->plan_a, w->place.volts);
    row->area_fuse_max_a = wiring_fuse_limit(r->m->rules, w->ampacity.amps * w->runs, row->nominal_v);
}

enum status report_size_again(struct circuit *out, const struct report *r, struct circuit_cable *rows)
{
    size_t count = r->m->graph->edge_count;
    const char **limited_by;
    struct model again;
    enum status status;

    if (!any_fails(rows, count))
        return STATUS_OK;
    if (!(limited_by = arena_array(r->m->arena, count, sizeof *limited_by)))
        return STATUS_NO_MEMORY;
    if ((status = model_make(&again, r->m->arena, r->m->graph, r->m->rules, r->m->charge)) != STATUS_OK)
        return status;
    again.scenarios = r->m->scenarios;
    again.scenario_count = r->m->scenario_count;
    free_failing(&again, rows);
    let_grow(&again, rows);
    do {
        model_set_banks(&again, (struct bank_state_of){ again.charge, 0 });
        if ((status = model_size(&again, limited_by)) != STATUS_OK)
            return status;
    } while (add_runs(&again, rows));
    for (size_t e = 0; e < count; e++)
        note_needed(r, &again, &rows[e], e);
    out->remedy = remedy_of(r->m->arena, rows, count);
    return out->remedy ? STATUS_OK : STATUS_NO_MEMORY;
}

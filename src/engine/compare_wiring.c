/* compare_wiring.c - what the wiring of each side comes to, and what of it must change.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/cable_fuse.h"
#include "engine/compare_parts.h"

/*
 * Each side's circuit was solved by its own: here it is only counted. For a cable that does
 * not pass the circuit has sized the whole boat again (circuit_again.c), so what is needed
 * is one set of sizes that works together.
 */

enum { UNKNOWN = -1 };

const struct circuit_inverter *compare_worst_inverter(const struct circuit *circuit, const char *draw)
{
    const struct circuit_inverter *found = NULL;

    for (size_t i = 0; i < circuit->inverter_count; i++) {
        const struct circuit_inverter *v = circuit->inverters + i;

        if (strcmp(v->draw, draw) == 0 && (!found || v->margin_v < found->margin_v))
            found = v;
    }
    return found;
}

/* [V] lowest at any inverter's terminals for that draw; unknown where none was tried. */
static double volts_of(const struct circuit *circuit, const char *draw)
{
    const struct circuit_inverter *v = compare_worst_inverter(circuit, draw);

    return v ? v->volts_v : UNKNOWN;
}

void compare_wired_find(struct compare_made *made)
{
    const struct circuit *c = made->side.circuit;
    struct compare_wired w = { UNKNOWN, UNKNOWN, UNKNOWN, UNKNOWN, UNKNOWN };

    if (c) {
        w = (struct compare_wired){ volts_of(c, "continuous"), volts_of(c, "surge"), 0, 0, c->copper_kg };
        for (size_t i = 0; i < c->cable_count; i++) {
            w.cables_failing += cable_copper_fails(c->cables + i);
            w.fuses_failing += !c->cables[i].fuse_ok;
        }
    }
    made->wired = w;
}

/* ---- what must change ---- */

const struct circuit_cable *compare_cable_named(const struct circuit *circuit, const char *name)
{
    for (size_t i = 0; circuit && i < circuit->cable_count; i++)
        if (strcmp(circuit->cables[i].name, name) == 0)
            return circuit->cables + i;
    return NULL;
}

/* With the size that would do where the copper must change, else with what is there. */
const char *compare_fuse_range(struct arena *arena, const struct circuit_cable *cable)
{
    int other = cable_copper_fails(cable);
    double least = other ? cable->area_fuse_min_a : cable->fuse_min_a;
    double most = other ? cable->area_fuse_max_a : cable->fuse_max_a;

    if (cable->fuse_ok || most <= 0 || least > most)
        return "";
    if (most - least < 0.5)
        return arena_print(arena, "%.4g A", least);
    return arena_print(arena, "%.4g to %.4g A", least, most);
}

static const char *fuse_wanted(struct arena *arena, const struct circuit_cable *cable)
{
    const char *range = compare_fuse_range(arena, cable);

    return cable->fuse_ok || !range || *range ? range : "none suits it as it is";
}

/* What of a cable must change; texts may be NULL for want of memory. */
static struct compare_cable cable_change(struct arena *arena, const struct circuit_cable *c,
                                         const struct circuit *before)
{
    const struct circuit_cable *b = compare_cable_named(before, c->name);
    const char *note = !c->fuse_ok && c->fuse_note && *c->fuse_note ? c->fuse_note : NULL;

    return (struct compare_cable){ .name = c->name,
                                   .from = c->from,
                                   .to = c->to,
                                   .installed = c->printed ? c->printed : "",
                                   .needed = cable_copper_fails(c) || cable_grows(c)
                                                 ? cable_size_wanted(arena, c)
                                                 : "",
                                   .fuse_a = c->fuse_installed ? c->fuse_a : 0,
                                   .fuse = fuse_wanted(arena, c),
                                   .why = cable_grows(c) && c->passes
                                              ? "passes; thicker, it saves copper beyond it"
                                          : note ? arena_print(arena, "%s: %s", c->status, note) : c->status,
                                   .passed_before = !b          ? ""
                                                    : b->passes ? "yes"
                                                                : "no" };
}

/* The cables of one side that do not pass, in the order of the profile. 0 without memory. */
static int side_cables(struct compare_side *side, const struct circuit *before, struct arena *arena)
{
    const struct circuit *circuit = side->circuit;
    struct compare_cable *list = arena_array(arena, circuit->cable_count, sizeof *list);

    if (!list)
        return 0;
    for (size_t i = 0; i < circuit->cable_count; i++) {
        if (circuit->cables[i].passes && !cable_grows(circuit->cables + i))
            continue;
        list[side->cable_count] = cable_change(arena, circuit->cables + i, before);
        if (!list[side->cable_count].fuse || !list[side->cable_count].needed || !list[side->cable_count].why)
            return 0;
        side->cable_count++;
    }
    side->cables = list;
    return 1;
}

int compare_cables(struct compare_made *made, size_t count, struct arena *arena)
{
    for (size_t s = 0; s < count; s++)
        if (made[s].side.circuit && !side_cables(&made[s].side, made[0].side.circuit, arena))
            return 0;
    return 1;
}

/* circuit_schedule.c - what schedules list beside figures: numbers, sizes both ways, devices, conventions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit_report.h"
#include "parts/fuse.h"

/*
 * What a reader of a schedule wants beside the figures, all of it words and counts from rows that stand
 * already:
 *
 *     C1, C2 ...        cables in the order of the profile; F1, F2 ... the device at the beginning of each
 *     sizes             metric and AWG, either first, as printed on the jacket where the profile says so
 *     remarks           a word for each bit of enum fuse_remark, and once for the sheet what it means
 *     conventions       temperature of the conductors, whether sizes are as built or proposed, loads without
 *                       a cable
 *
 * "Schedules" in models.md; held by tests/engine/test_schedule.c.
 */

/* Conductors thinner than this end in small crimps, which nobody counts; common practice [mm2]. */
static const double LUGS_FROM_MM2 = 6;

/* Colours of conductors. DC: common practice; AC: IEC 60446, from memory. */
static const struct pole dc_poles[] = { { "+", "red" }, { "-", "black" } };
static const struct pole ac_poles[] = { { "L", "brown" }, { "N", "light blue" }, { "PE", "green/yellow" } };

size_t cable_poles(const struct circuit_cable *c, const struct pole **poles)
{
    *poles = c->system[0] == 'd' ? dc_poles : ac_poles;
    return c->system[0] == 'd' ? 2 : 3;
}

/* ---- cables ---- */

/* As the conductor calls itself, where that is no metric size: "2 AWG", "8 SAE", "19 x 1.35 mm"; NULL:
 * metric. */
static const char *other_name(struct arena *arena, const struct wire *w)
{
    if (w->series == AREA_METRIC)
        return NULL;
    if (w->fixed && w->cable->area_text)
        return w->cable->area_text;
    return w->label ? arena_print(arena, "%s %s", w->label, w->series == AREA_SAE ? "SAE" : "AWG") : NULL;
}

const char *awg_name(struct arena *arena, double area_m2)
{
    const struct conductor_size *near = conductor_nearest_awg(area_m2);

    if (!near || fabs(area_m2 / near->area_m2 - 1) > 1e-6)
        return NULL;
    return arena_print(arena, "%s AWG", near->label);
}

/* The way back by itself, metric or AWG first where it is an AWG: a metric size is no other by any name. */
static const char *back_size(struct arena *arena, double area_m2, int us)
{
    const char *awg = awg_name(arena, area_m2);
    const char *metric = arena_print(arena, "%.3g mm2", area_m2 * 1e6);

    if (!awg || !metric)
        return metric;
    return us ? arena_print(arena, "%s (%s)", awg, metric) : arena_print(arena, "%s (%s)", metric, awg);
}

/* "2 x 95 mm2 (3/0 AWG), back 50 mm2": the first name with all runs, the second in brackets where there is
 * one. */
static const char *full_size(struct arena *arena, const struct wire *w, const char *first, const char *second,
                             int us)
{
    const char *times = w->runs > 1 ? arena_print(arena, "%.0f x ", w->runs) : "";
    const char *text = second ? arena_print(arena, "%s%s (%s)", times, first, second)
                              : arena_print(arena, "%s%s", times, first);

    if (text && fabs(w->back_area_m2 / w->area_m2 - 1) > 1e-6)
        text = arena_print(arena, "%s, back %s", text, back_size(arena, w->back_area_m2, us));
    return text;
}

/* Metric first with the other name in brackets, and the other way round. Strands have no
 * name of their own in AWG and stay metric first. */
static void name_sizes(struct arena *arena, const struct wire *w, struct circuit_cable *row)
{
    const struct conductor_size *near = conductor_nearest_awg(w->area_m2);
    const char *metric =
        arena_print(arena, w->series == AREA_METRIC ? "%.4g mm2" : "%.3g mm2", w->area_m2 * 1e6);
    const char *awg = near ? arena_print(arena, "%s AWG", near->label) : NULL;
    const char *other = other_name(arena, w);
    const char *us = w->series == AREA_STRANDS ? NULL : other ? other : awg;

    row->size_metric = full_size(arena, w, metric, other ? other : awg, 0);
    row->size_us = us ? full_size(arena, w, us, metric, 1) : row->size_metric;
}

/* Colours of its conductors, in the order of cable_poles. */
static const char *colours_of(struct arena *arena, const struct pole *poles, size_t count)
{
    const char *text = poles[0].colour;

    for (size_t p = 1; p < count && text; p++)
        text = arena_print(arena, "%s, %s", text, poles[p].colour);
    return text;
}

void cable_describe(const struct report *r, size_t edge, struct circuit_cable *row)
{
    const struct wire *w = &r->m->wires[edge];
    const struct range *length = &w->cable->length;
    int guess = length->high > length->low;
    const struct pole *poles;
    size_t pole_count = cable_poles(row, &poles);

    row->number = arena_print(r->m->arena, "C%zu", edge + 1);
    name_sizes(r->m->arena, w, row);
    row->length_known = guess ? "guess" : "given";
    row->length_low_m = guess ? length->low : 0;
    row->length_high_m = guess ? length->high : 0;
    row->insulation_c = w->place.insulation_c;
    row->place = w->place.engine ? "engine" : "cabin";
    row->bundle = w->place.bundle;
    row->sheathed = w->cable->sheathed;
    row->joints_mohm = w->joints_ohm * 1e3;
    row->colours = colours_of(r->m->arena, poles, pole_count);
    row->lugs = w->area_m2 * 1e6 >= LUGS_FROM_MM2 * (1 - 1e-9) ? 2 * (double)pole_count * w->runs : 0;
}

/* ---- devices ---- */

struct remark_row {
    enum fuse_remark bit;
    const char *remark, *meaning;
};

static const struct remark_row remark_rows[] = {
    { FUSE_MISSING, "to be fitted", "the profile says of no device there: this is the one to fit" },
    { FUSE_NONE_FITS, "none fits",
      "no standard rating or family will do on this conductor: see what is wrong" },
    { FUSE_TOO_SMALL, "too small", "opens at the current it has to carry" },
    { FUSE_TOO_LARGE, "too large", "over what the rule set allows on this conductor" },
    { FUSE_TOO_FAR, "too far", "farther from the source than the rule set allows" },
    { FUSE_OVER_VOLTS, "volts", "made for fewer volts than its circuit has: it arcs instead of opening" },
    { FUSE_TOO_WEAK, "too weak", "cannot break the current that a short there draws" },
    { FUSE_FAR_END, "opens late", "a short at the far end draws too little to open it soon" },
    { FUSE_LEANS, "backed up", "breaks less than a short there draws; the device before it breaks that" },
    { FUSE_WEAK_UNRULED, "weak, not ruled", "cannot break a short there; this rule set asks nothing of it" },
    { FUSE_BREAKING_UNKNOWN, "breaking unknown", "its interrupt rating is not known: read it on the device" },
    { FUSE_CHARGING_END, "both ends", "the charging end wants a device too, close to the charging source" },
};

enum { REMARKS = sizeof remark_rows / sizeof remark_rows[0] };

/* "too large, opens late"; "" where all is well. NULL without memory. */
static const char *remark_text(struct arena *arena, unsigned bits)
{
    const char *text = "";

    for (size_t i = 0; i < REMARKS && text; i++)
        if (bits & remark_rows[i].bit)
            text = arena_print(arena, "%s%s%s", text, *text ? ", " : "", remark_rows[i].remark);
    return text;
}

/* By the family that the word means; an unknown word is itself. */
static int is_breaker(const char *class_name)
{
    const struct fuse_family *family = fuse_family_find(class_name);

    return strcmp(family ? family->name : class_name ? class_name : "", "breaker") == 0;
}

/* A row from the cable that the device protects. Least and most are left out
 * where no rating lies between them. */
static void fill_fuse(struct arena *arena, struct circuit_fuse *row, const struct circuit_cable *c)
{
    const struct fuse_family *family = fuse_family_find(c->fuse_class);

    *row = (struct circuit_fuse){
        .number = arena_print(arena, "F%s", c->number + 1),
        .cable_number = c->number,
        .cable = c->name,
        .location = c->from,
        .class_name = c->fuse_class,
        .device = arena_print(arena, "%.4g A%s%s", c->fuse_a, c->fuse_class ? " " : "",
                              c->fuse_class ? c->fuse_class : ""),
        .fitted = c->fuse_installed ? "as built" : "proposed",
        .rating_a = c->fuse_a,
        .design_a = c->design_a,
        .least_a = c->fuse_min_a <= c->fuse_max_a ? c->fuse_min_a : 0,
        .most_a = c->fuse_min_a <= c->fuse_max_a ? c->fuse_max_a : 0,
        .nominal_v = c->nominal_v,
        .rated_v = c->system[0] == 'd' && family ? fuse_family_volts(family) : 0,
        .breaking_a = c->fuse_interrupt_a,
        .fault_a = c->fault_a,
        .distance_m = c->fuse_distance_m,
        .distance_limit_m = c->fuse_distance_limit_m,
        .sheathed = c->sheathed,
        .right = c->fuse_ok,
        .remark = remark_text(arena, c->fuse_remarks),
        .note = c->fuse_note,
        .spare = is_breaker(c->fuse_class) ? 0 : 1,
    };
}

/* What is wrong, of each remark that some row makes. */
static enum status explain_remarks(struct circuit *out, const struct report *r, unsigned made)
{
    struct circuit_remark *rows = arena_array(r->m->arena, REMARKS, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < REMARKS; i++)
        if (made & remark_rows[i].bit)
            rows[out->remark_count++] =
                (struct circuit_remark){ remark_rows[i].remark, remark_rows[i].meaning };
    out->remarks = rows;
    return STATUS_OK;
}

enum status report_fuses(struct circuit *out, const struct report *r)
{
    struct circuit_fuse *rows = arena_array(r->m->arena, out->cable_count, sizeof *rows);
    const char *none = "";
    unsigned made = 0;

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < out->cable_count && none; i++) {
        const struct circuit_cable *c = &out->cables[i];

        if (cable_has_device(c)) {
            fill_fuse(r->m->arena, &rows[out->fuse_count++], c);
            made |= c->fuse_remarks;
        } else {
            none = arena_print(r->m->arena, "%s%s%s%s", none, *none ? ", " : "", c->number,
                               c->fuse_remarks & FUSE_OF_STARTER ? " (turns a starter)" : "");
        }
    }
    out->fuses = rows;
    out->without_device = none;
    return none ? explain_remarks(out, r, made) : STATUS_NO_MEMORY;
}

int cable_has_device(const struct circuit_cable *c)
{
    return c->fuse_a > 0 && (c->fuse_installed || c->fuse_needed);
}

/* ---- what holds for the whole sheet ---- */

/* Names of the loads that no cable reaches, with commas between; NULL without memory. */
static const char *unwired_names(const struct report *r)
{
    const struct boat *boat = r->m->boat;
    const char *text = "";

    for (size_t i = 0; i < boat->load_count && text; i++)
        if (r->m->graph->load_node[i] == GRAPH_NONE)
            text = arena_print(r->m->arena, "%s%s%s", text, *text ? ", " : "", boat->loads[i].name);
    return text;
}

enum status report_conventions(struct circuit *out, const struct report *r)
{
    size_t built = 0;

    out->coolest_c = HUGE_VAL;
    out->hottest_c = -HUGE_VAL;
    for (size_t i = 0; i < out->cable_count; i++) {
        built += out->cables[i].installed_mm2 > 0;
        out->coolest_c = fmin(out->coolest_c, out->cables[i].conductor_c);
        out->hottest_c = fmax(out->hottest_c, out->cables[i].conductor_c);
    }
    out->us_sizes = r->m->rules->series == AREA_AWG;
    out->state = built == out->cable_count ? "as built"
                 : built == 0              ? "proposed"
                                           : "as built; cables whose verdict is \"sized\" are proposed";
    out->unwired = unwired_names(r);
    return out->unwired ? STATUS_OK : STATUS_NO_MEMORY;
}

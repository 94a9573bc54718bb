/* circuit_bill.c - labels for both ends of every conductor, and the bill of materials.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/cable_fuse.h"
#include "engine/circuit_report.h"
#include "parts/fuse.h"

/*
 * What has to be bought or is there, line by line, and what is written at each end of a conductor.
 *
 *     cable          metres of each size and colour: a way back or protective conductor of its own size apart
 *     lug            2 for each conductor, from LUGS_FROM_MM2 up (circuit_schedule.c); studs nobody has said
 *     heat-shrink    one for each lug, in the colour of its conductor
 *     fuse           one for each place and a spare for each line; breakers have no spare
 *     holder         one for each fuse
 *     busbar, panel  for what the device before it lets through
 *
 * Lines of one kind, size, colour and state become one. Price is that of the copper alone. "Schedules" in
 * models.md; held by tests/engine/test_schedule.c and tests/cli/test_cables.c.
 */

/* Cable bought over the measured run, for tails and mistakes [-]; common practice. */
static const double ALLOWANCE = 0.10;

struct bill {
    const struct report *r;
    struct arena *arena;
    struct circuit_item *items;
    size_t count, room;
    double copper_price; /* per kg; 0: not given */
    int failed;
};

/* The line of the same thing, or a new one; NULL without memory. */
static struct circuit_item *item_of(struct bill *b, const struct circuit_item *like)
{
    struct circuit_item *item;

    if (!like->size)
        return NULL;
    for (size_t i = 0; i < b->count; i++)
        if (strcmp(b->items[i].kind, like->kind) == 0 && strcmp(b->items[i].size, like->size) == 0 &&
            strcmp(b->items[i].colour, like->colour) == 0 && strcmp(b->items[i].state, like->state) == 0)
            return &b->items[i];
    item = arena_push(b->arena, (void **)&b->items, &b->count, &b->room, sizeof *item);
    if (!item)
        return NULL;
    *item = *like;
    item->quantity = item->copper_kg = 0;
    item->what =
        arena_print(b->arena, "%s %s%s%s", like->kind, like->size, *like->colour ? " " : "", like->colour);
    return item;
}

/* like: kind, size, colour, state and unit of it, and how much. */
static void add_item(struct bill *b, const struct circuit_item *like)
{
    struct circuit_item *item = item_of(b, like);

    if (!item || !item->what) {
        b->failed = 1;
        return;
    }
    item->quantity += like->quantity;
    item->copper_kg += like->copper_kg;
    item->price = item->copper_kg * b->copper_price;
}

/* A conductor as it is to be: what is there where that will do, else what the sizing asks for. */
struct conductor {
    const char *size;
    double area_mm2, runs; /* runs: of them in parallel per pole */
    const char *state;
};

/* An installed conductor that passes is as built; one that does not is proposed in the size that
 * would do, provided the series has it. */
static struct conductor conductor_of(struct bill *b, const struct circuit_cable *c)
{
    const char *series = b->r->m->rules->series == AREA_AWG ? "AWG" : "mm2";
    const struct conductor_size *sizes;
    size_t count;

    if (c->installed_mm2 <= 0)
        return (struct conductor){ c->size, c->area_mm2, c->area_runs, "proposed" };
    if (!cable_copper_fails(c) && !cable_grows(c))
        return (struct conductor){ c->size, c->installed_mm2, c->runs, "as built" };
    sizes = wiring_sizes(b->r->m->rules, &count);
    for (size_t i = 0; i < count; i++)
        if (fabs(sizes[i].area_m2 * 1e6 / c->area_mm2 - 1) < 1e-6)
            return (struct conductor){ arena_print(b->arena, "%s %s", sizes[i].label, series), c->area_mm2,
                                       c->area_runs, "proposed" };
    return (struct conductor){ c->size, c->installed_mm2, c->runs, "as built" };
}

/* Lugs, and heat-shrink over each of them in the colour of its conductor. Stud sizes nobody has said. */
static void add_ends(struct bill *b, const struct circuit_cable *c, const struct conductor *as)
{
    const struct pole *poles;
    size_t count = cable_poles(c, &poles);
    double lugs = c->lugs * as->runs / c->runs;

    if (lugs <= 0)
        return;
    add_item(b, &(struct circuit_item){ .kind = "lug",
                                        .size = as->size,
                                        .colour = "",
                                        .state = as->state,
                                        .unit = "pcs",
                                        .quantity = lugs,
                                        .stud = "not known" });
    for (size_t p = 0; p < count; p++)
        add_item(b, &(struct circuit_item){ .kind = "heat-shrink",
                                            .size = as->size,
                                            .colour = poles[p].colour,
                                            .state = as->state,
                                            .unit = "pcs",
                                            .quantity = lugs / (double)count });
}

/* The device, a spare where it is a fuse, and what holds it. */
static void add_device(struct bill *b, const struct circuit_fuse *f)
{
    const char *class_name = f->class_name ? f->class_name : "fuse of unknown class";
    struct circuit_item item = { .kind = f->spare > 0 ? "fuse" : "breaker",
                                 .colour = "",
                                 .state = f->fitted,
                                 .unit = "pcs",
                                 .quantity = 1 };

    item.size = f->spare > 0 ? f->device : arena_print(b->arena, "%.4g A", f->rating_a);
    if (!item.size) {
        b->failed = 1;
        return;
    }
    add_item(b, &item);
    if (f->spare > 0)
        add_item(b, &(struct circuit_item){ .kind = "holder",
                                            .size = class_name,
                                            .colour = "",
                                            .state = f->fitted,
                                            .unit = "pcs",
                                            .quantity = 1 });
}

/* A conductor beside the first: a way back or a protective conductor that has a size of its own. */
static struct conductor sized(struct bill *b, struct conductor first, double mm2)
{
    const char *awg = awg_name(b->arena, mm2 * 1e-6);

    if (fabs(mm2 / first.area_mm2 - 1) < 1e-6)
        return first;
    return (struct conductor){ awg ? awg : arena_print(b->arena, "%.4g mm2", mm2), mm2, first.runs,
                               first.state };
}

/* Out, back and protective conductor of a cable, each in its size and colour, in metres with the allowance.
 * What is installed keeps the ratio of its way back to its way out. */
static void add_cable(struct bill *b, const struct circuit_cable *c, const struct wire *w)
{
    const struct pole *poles;
    size_t count = cable_poles(c, &poles);
    struct conductor as = conductor_of(b, c);

    for (size_t p = 0; p < count && as.size; p++) {
        double mm2 = p == 0   ? as.area_mm2
                     : p == 1 ? w->back_area_m2 / w->area_m2 * as.area_mm2
                              : c->protective_mm2;
        struct conductor one = sized(b, as, mm2);
        double length = (p == 1 ? c->return_m : c->length_m) * as.runs * (1 + ALLOWANCE);

        if (!one.size)
            break;
        add_item(b, &(struct circuit_item){ .kind = "cable",
                                            .size = one.size,
                                            .colour = poles[p].colour,
                                            .state = one.state,
                                            .unit = "m",
                                            .quantity = length,
                                            .allowance_percent = 100 * ALLOWANCE,
                                            .copper_kg = copper_mass(one.area_mm2 * 1e-6, length) });
    }
    add_ends(b, c, &as);
}

/* What a busbar or panel has to carry [A]: as much as the device before it lets through, else all
 * beyond it. */
static double bar_amps(const struct circuit_panel *panel)
{
    if (panel->feeder_fuse_a > 0)
        return panel->feeder_fuse_a;
    return ceil(fmax(panel->diversified_a, panel->charging_a));
}

/* Where only cables leave it is a pair of bars, else a panel with a way for each circuit. */
static void add_panel(struct bill *b, const struct circuit *c, const struct circuit_panel *panel)
{
    struct circuit_item item = {
        .kind = "busbar", .colour = "", .state = "as built", .unit = "pcs", .quantity = 2
    };

    for (size_t i = 0; i < panel->way_count; i++)
        if (panel->ways[i].served_by[0] != 'C')
            item.kind = "panel";
    for (size_t i = 0; i < c->cable_count; i++)
        if (strcmp(c->cables[i].number, panel->feeder) == 0 && c->cables[i].installed_mm2 <= 0)
            item.state = "proposed";
    item.size = arena_print(b->arena, "%s, %.4g A", panel->name, bar_amps(panel));
    if (strcmp(item.kind, "panel") == 0) {
        item.size =
            arena_print(b->arena, "%s, %zu ways, %.4g A", panel->name, panel->way_count, bar_amps(panel));
        item.quantity = 1;
    }
    add_item(b, &item);
}

/* Kinds in the order of a shopping list. */
static enum status sort_items(struct circuit *out, struct bill *b)
{
    static const char *const kinds[] = { "cable",   "lug",    "heat-shrink", "fuse",
                                         "breaker", "holder", "busbar",      "panel" };
    struct circuit_item *sorted = arena_array(b->arena, b->count + 1, sizeof *sorted);

    if (!sorted)
        return STATUS_NO_MEMORY;
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
        for (size_t i = 0; i < b->count; i++)
            if (strcmp(b->items[i].kind, kinds[k]) == 0)
                sorted[out->item_count++] = b->items[i];
    out->items = sorted;
    return STATUS_OK;
}

/* All cables and devices; spares when the quantities stand, so that one line has one spare. */
static enum status make_bill(struct circuit *out, const struct report *r)
{
    struct bill b = { .r = r,
                      .arena = r->m->arena,
                      .copper_price = range_or(&r->m->boat->prices.copper_per_kg, 0) };

    for (size_t i = 0; i < out->cable_count; i++)
        add_cable(&b, &out->cables[i], &r->m->wires[i]);
    for (size_t i = 0; i < out->fuse_count; i++)
        add_device(&b, &out->fuses[i]);
    for (size_t i = 0; i < out->panel_count; i++)
        add_panel(&b, out, &out->panels[i]);
    for (size_t i = 0; i < b.count; i++)
        if (strcmp(b.items[i].kind, "fuse") == 0) { /* one spare of each rating and class */
            b.items[i].spare = 1;
            b.items[i].quantity += 1;
        }
    return b.failed ? STATUS_NO_MEMORY : sort_items(out, &b);
}

/* ---- labels ---- */

/* The same words at both ends: what it is, where it goes; and the end at which this one is put on. */
static struct circuit_label label_of(struct arena *arena, const struct circuit_cable *c,
                                     const struct pole *pole, int fused, const char *end)
{
    struct circuit_label label = {
        .text1 = arena_print(arena, "%s %s %s", c->number, pole->sign, c->name),
        .text2 = arena_print(arena, "%s > %s, %s", c->from, c->to, c->size),
        .size = c->size,
        .colour = pole->colour,
        .quantity = c->runs,
        .cable = c->number,
        .end = end,
        .from = c->from,
        .to = c->to,
        .fuse_a = fused ? c->fuse_a : 0,
    };

    if (fused && label.text2)
        label.text2 = arena_print(arena, "%s, %.4g A", label.text2, c->fuse_a);
    return label;
}

/* Every conductor at both of its ends. The fuse stands on the first pole, the one that is broken. */
static enum status make_labels(struct circuit *out, const struct report *r)
{
    /* 3 poles, 2 ends */
    struct circuit_label *rows = arena_array(r->m->arena, 6 * out->cable_count, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < out->cable_count; i++) {
        const struct circuit_cable *c = &out->cables[i];
        const struct pole *poles;
        size_t count = cable_poles(c, &poles);

        for (size_t p = 0; p < count; p++)
            for (int end = 0; end < 2; end++) {
                struct circuit_label *row = &rows[out->label_count++];

                *row = label_of(r->m->arena, c, &poles[p], p == 0 && cable_has_device(c),
                                end ? c->to : c->from);
                if (!row->text1 || !row->text2)
                    return STATUS_NO_MEMORY;
            }
    }
    out->labels = rows;
    return STATUS_OK;
}

enum status report_bill(struct circuit *out, const struct report *r)
{
    enum status status = make_bill(out, r);

    return status == STATUS_OK ? make_labels(out, r) : status;
}

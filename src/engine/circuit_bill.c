/* circuit_bill.c - labels for both ends of every cable, and the bill of materials.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit_report.h"

/* Cable bought over the measured run, for tails and mistakes; common practice. */
static const double ALLOWANCE = 1.10;

struct bill {
    struct arena *arena;
    struct circuit_item *items;
    size_t count, room;
    double copper_price; /* per kg; 0: not given */
    int failed;
};

/* Adds to the line of the same thing, or starts one. */
static void add_item(struct bill *b, const char *kind, const char *size, const char *colour, const char *unit,
                     double quantity, double copper_kg)
{
    struct circuit_item *item = NULL;

    for (size_t i = 0; i < b->count && !item; i++)
        if (strcmp(b->items[i].kind, kind) == 0 && strcmp(b->items[i].size, size) == 0 &&
            strcmp(b->items[i].colour, colour) == 0)
            item = &b->items[i];
    if (!item) {
        item = arena_push(b->arena, (void **)&b->items, &b->count, &b->room, sizeof *item);
        if (!item) {
            b->failed = 1;
            return;
        }
        *item = (struct circuit_item){ .kind = kind, .size = size, .colour = colour, .unit = unit };
        item->what = arena_print(b->arena, "%s %s%s%s", kind, size, *colour ? " " : "", colour);
    }
    item->quantity += quantity;
    item->copper_kg += copper_kg;
    item->price = item->copper_kg * b->copper_price;
}

static void add_cable(struct bill *b, const struct circuit_cable *c)
{
    const struct pole *poles;
    size_t count = cable_poles(c, &poles);
    double mm2 = c->installed_mm2 > 0 ? c->installed_mm2 : c->area_mm2;

    for (size_t p = 0; p < count; p++) {
        double length = (p == 1 ? c->return_m : c->length_m) * c->runs * ALLOWANCE;

        add_item(b, "cable", c->size, poles[p].colour, "m", length, copper_mass(mm2 * 1e-6, length));
    }
    if (c->lugs > 0)
        add_item(b, "lug", c->size, "", "pcs", c->lugs, 0);
    if (cable_has_device(c))
        add_item(b, "fuse",
                 arena_print(b->arena, "%.4g A%s%s", c->fuse_a, c->fuse_class ? " " : "",
                             c->fuse_class ? c->fuse_class : ""),
                 "", "pcs", 1, 0);
}

static enum status make_labels(struct circuit *out, const struct report *r)
{
    struct circuit_label *rows = arena_array(r->m->arena, 3 * out->cable_count, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < out->cable_count; i++) {
        const struct circuit_cable *c = &out->cables[i];
        const struct pole *poles;
        size_t count = cable_poles(c, &poles);

        for (size_t p = 0; p < count; p++)
            rows[out->label_count++] = (struct circuit_label){
                .text1 = arena_print(r->m->arena, "%s %s", c->name, poles[p].sign),
                .text2 =
                    c->fuse_a > 0 && p == 0
                        ? arena_print(r->m->arena, "%s > %s  %s  %.4g A", c->from, c->to, c->size, c->fuse_a)
                        : arena_print(r->m->arena, "%s > %s  %s", c->from, c->to, c->size),
                .size = c->size,
                .colour = poles[p].colour,
                .quantity = 2 * c->runs,
            };
    }
    out->labels = rows;
    return STATUS_OK;
}

enum status report_bill(struct circuit *out, const struct report *r)
{
    struct bill b = { .arena = r->m->arena, .copper_price = range_or(&r->m->boat->prices.copper_per_kg, 0) };

    for (size_t i = 0; i < out->cable_count; i++)
        add_cable(&b, &out->cables[i]);
    for (size_t i = 0; i < b.count; i++)
        if (strcmp(b.items[i].kind, "fuse") == 0)
            b.items[i].quantity += 1; /* one spare of each */
    if (b.failed)
        return STATUS_NO_MEMORY;
    out->items = b.items;
    out->item_count = b.count;
    return make_labels(out, r);
}

/* sheets_cables_stock.c - what to have in hand: the bill of materials and the labels.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

static const struct column item_columns[] = {
    { TEXT(circuit_item, what, "what", "Item") },
    { TEXT(circuit_item, state, "state", "State") },
    { REAL(circuit_item, quantity, "quantity", "Quantity", NULL), .decimals = 1, .trim = 1 },
    { TEXT(circuit_item, unit, "unit", "Unit") },
    { REAL(circuit_item, allowance_percent, "allowance_percent", "Allowance in it", "%"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { WHOLE(circuit_item, spare, "spare", "Spares in it", NULL), .none = NONE_AT_ZERO },
    { TEXT(circuit_item, stud, "stud", "Stud") },
    { REAL(circuit_item, copper_kg, "copper_kg", "Copper", "kg"), .decimals = 2, .none = NONE_AT_ZERO },
    { REAL(circuit_item, price, "price", "Price", NULL), .decimals = 2, .none = NONE_AT_ZERO, .quiet = 1 },
    { TEXT(circuit_item, kind, "kind", "Kind"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(circuit_item, size, "size", "Size"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(circuit_item, colour, "colour", "Colour"), .where = SHOW_CSV | SHOW_JSON },
};
static const struct row_kind item_kind = ROW_KIND("Bill of materials", item_columns, circuit_item);

/* Lengths in feet: the unit is a column of its own, so every format follows. NULL without memory. */
static const struct circuit_item *items_in_feet(struct arena *arena, const struct circuit *c)
{
    struct circuit_item *rows = arena_array(arena, c->item_count + 1, sizeof *rows);

    for (size_t i = 0; rows && i < c->item_count; i++) {
        rows[i] = c->items[i];
        if (strcmp(rows[i].unit, "m") == 0) {
            rows[i].unit = "ft";
            rows[i].quantity /= 0.3048;
        }
    }
    return rows;
}

void schedule_bill(struct schedule *s)
{
    const struct circuit *c = s->circuit;
    const struct circuit_item *rows = s->us ? items_in_feet(s->maker->arena, c) : c->items;

    if (!rows && c->item_count > 0)
        s->maker->failed = 1;
    else
        schedule_all(s, "items", &item_kind, rows, c->item_count, 1);
}

static const struct column label_columns[] = {
    { TEXT(circuit_label, text1, "text1", "Line 1") },
    { TEXT(circuit_label, text2, "text2", "Line 2") },
    { TEXT(circuit_label, size, "size", "Size") },
    { TEXT(circuit_label, colour, "colour", "Colour") },
    { WHOLE(circuit_label, quantity, "quantity", "Quantity", NULL) },
    { TEXT(circuit_label, cable, "cable", "Cable") },
    { TEXT(circuit_label, end, "end", "End") },
    { TEXT(circuit_label, from, "from", "From") },
    { TEXT(circuit_label, to, "to", "To") },
    { REAL(circuit_label, fuse_a, "fuse_a", "Fuse", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
};
static const struct row_kind label_kind = ROW_KIND("Labels, one at each end", label_columns, circuit_label);

void schedule_labels(struct schedule *s)
{
    const struct circuit_label *rows = s->circuit->labels;
    size_t count = s->circuit->label_count;

    schedule_rows(s, "labels", &label_kind, rows, count, 1);
    schedule_show(s, "Labels, one at each end of every conductor", &label_kind, rows, count,
                  "text1 text2 colour=Wire end=Put_on_at quantity");
}

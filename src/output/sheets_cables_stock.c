/* sheets_cables_stock.c - what to have in hand: the bill of materials and the labels.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

static const struct column item_columns[] = {
    { TEXT(circuit_item, what, "what", "To buy") },
    { REAL(circuit_item, quantity, "quantity", "Quantity", NULL), .decimals = 1 },
    { TEXT(circuit_item, unit, "unit", "Unit") },
    { REAL(circuit_item, copper_kg, "copper_kg", "Copper", "kg"), .decimals = 2, .none = NONE_AT_ZERO },
    { REAL(circuit_item, price, "price", "Price", NULL), .decimals = 2, .none = NONE_AT_ZERO },
};
static const struct row_kind item_kind = ROW_KIND("Bill of materials", item_columns, circuit_item);

void schedule_bill(struct schedule *s)
{
    schedule_all(s, "items", &item_kind, s->circuit->items, s->circuit->item_count, 1);
}

static const struct column label_columns[] = {
    { TEXT(circuit_label, text1, "text1", "Line 1") },
    { TEXT(circuit_label, text2, "text2", "Line 2") },
    { TEXT(circuit_label, size, "size", "Size") },
    { TEXT(circuit_label, colour, "colour", "Colour") },
    { WHOLE(circuit_label, quantity, "quantity", "Quantity", NULL) },
};
static const struct row_kind label_kind = ROW_KIND("Labels, one at each end", label_columns, circuit_label);

void schedule_labels(struct schedule *s)
{
    schedule_all(s, "labels", &label_kind, s->circuit->labels, s->circuit->label_count, 1);
}

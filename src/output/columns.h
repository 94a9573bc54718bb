/* columns.h - how the tables of columns are written: the type of each field is checked by the compiler.
 * Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 *     static const struct column row_columns[] = {
 *         { REAL(week_row, charge, "charge_percent", "Charge", "%"), PERCENT, .decimals = 1 },
 *     };
 *     static const struct row_kind row_kind = ROW_KIND("Rows", row_columns, week_row);
 */
#ifndef BD_COLUMNS_H
#define BD_COLUMNS_H

#include "output/sheet.h"

#define FIELD(row, field, type, cell) \
    .kind = _Generic(((struct row *)0)->field, type : cell), .offset = offsetof(struct row, field)
#define NAMED(machine, people, of) .name = machine, .heading = people, .unit = of

#define REAL(row, field, name, heading, unit) \
    NAMED(name, heading, unit), FIELD(row, field, double, CELL_REAL)
#define WHOLE(row, field, name, heading, unit) \
    NAMED(name, heading, unit), FIELD(row, field, double, CELL_WHOLE)
#define TIME(row, field, name, heading) \
    NAMED(name, heading, NULL), FIELD(row, field, double, CELL_TIME)
#define CLOCK(row, field, name, heading) \
    NAMED(name, heading, NULL), FIELD(row, field, double, CELL_CLOCK)
#define COUNT(row, field, name, heading) \
    NAMED(name, heading, NULL), FIELD(row, field, size_t, CELL_COUNT)
#define FLAG(row, field, name, heading) \
    NAMED(name, heading, NULL), FIELD(row, field, int, CELL_FLAG)
#define TEXT(row, field, name, heading) \
    NAMED(name, heading, NULL), FIELD(row, field, const char *, CELL_TEXT)
#define ROWS(row, field, count, name, heading, kind_of) \
    NAMED(name, heading, NULL), .kind = CELL_ROWS, .offset = offsetof(struct row, field), \
    .count_offset = offsetof(struct row, count), .child = &(kind_of)
#define PERCENT .scale = 100

#define ROW_KIND(title, columns, row) \
    { title, columns, sizeof(columns) / sizeof *(columns), sizeof(struct row) }

#endif

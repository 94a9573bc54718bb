/* cell.h - one value of a row: where it stands, and how machines write it.  Layer: output, for its walkers.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CELL_H
#define BD_CELL_H

#include "base/text.h"
#include "output/sheet.h"

struct arena;

/* Room for any cell that is not text. */
enum { CELL_SIZE = TEXT_FIXED_SIZE };

/* A column with the records above it folded in: what a flat table has. */
struct flat_column {
    const struct column *column;
    size_t offset;    /* from the start of the row */
    const char *name; /* "bank_needed_ah" where the column stands in a record called bank */
};

struct flat_kind {
    struct flat_column *columns;
    size_t count;
};

/* 1 where something with these SHOW_ bits is meant for that output. */
static inline int shown(unsigned where, unsigned bit)
{
    return where == 0 || (where & bit);
}

/* The columns of a kind that one output shows, records folded in, nested rows left out; names of folded ones
 * begin with that of their record. In the arena. 0 without memory. */
int kind_flatten(struct arena *arena, struct flat_kind *flat, const struct row_kind *kind, unsigned bit);

/*
 * The same without those that say nothing: texts without a single entry, quiet numbers that are all 0.
 *
 *   rows, count  what they are to be used for: the same kind may show other columns with other rows
 */
int kind_used(struct arena *arena, struct flat_kind *flat, const struct row_kind *kind, const void *rows,
              size_t count, unsigned bit);

/* What tells one row from the next in a title: its first text; NULL where it has none. */
const char *row_name(const struct row_kind *kind, const void *row);

/* 1: stands at the right of its column, as numbers do. */
int column_right(const struct column *column);

/* How a cell is meant; TINT_NONE where its column has no tint. Only for columns that stand in the row
 * itself, not in a record of it. */
enum tint cell_tint(const struct column *column, const void *row);

/* As people read it: "12.5", "yes", "Mon 2026-07-06 06:40", "-" for a number that is none. NULL without
 * memory. */
const char *cell_shown(struct arena *arena, const struct column *column, const void *value, long midnight);

/* A number as shown: scaled. For CELL_REAL, CELL_WHOLE, CELL_TIME and CELL_CLOCK. */
double cell_real(const struct column *column, const void *value);

/* The text behind a CELL_TEXT, NULL where there is none. */
const char *cell_string(const void *value);

/* 1: nothing to show: no text, not finite, a number that means none, a time before the first midnight. */
int cell_empty(const struct column *column, const void *value);

/*
 * Anything but text, rows and records: "12.5", "0", "2026-07-06T06:40", "06:40"; "" where empty. midnight is
 * the day number (base/calendar.h) that times count from. Returns the length; out has room for CELL_SIZE.
 */
size_t cell_plain(char *out, const struct column *column, const void *value, long midnight);

/* Day number of the sheet's midnight. */
long sheet_midnight(const struct sheet *sheet);

/* "06:40", with the seconds where they are not 0; counted round the clock. Returns the length. */
size_t clock_write(char *out, double seconds);

/* "2026-07-06", length 10. */
size_t date_write(char *out, long day_number);

#endif

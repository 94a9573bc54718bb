/* cell.c - offsets, scales, times.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/cell.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"

/*
 * The one place that turns a field into characters. Text and HTML show it for people (cell_shown),
 * CSV and JSON for machines (cell_plain); both start from the same column, so formats cannot
 * disagree on which field a figure is.
 */

enum { DAY_SECONDS = 86400 };

/* How many columns flat_fill will make. */
static size_t flat_count(const struct row_kind *kind, unsigned bit)
{
    size_t count = 0;

    for (size_t i = 0; i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;

        if (shown(c->where, bit) && c->kind != CELL_ROWS)
            count += c->kind == CELL_RECORD ? flat_count(c->child, bit) : 1;
    }
    return count;
}

/* Appends to *flat, which has room; prefix is "" or ends in an underscore. 0 without memory. */
static int flat_fill(struct arena *arena, struct flat_kind *flat, const struct row_kind *kind, unsigned bit,
                     size_t offset, const char *prefix)
{
    for (size_t i = 0; i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;
        const char *name = *prefix ? arena_print(arena, "%s%s", prefix, c->name) : c->name;

        if (!name)
            return 0;
        if (!shown(c->where, bit) || c->kind == CELL_ROWS)
            continue;
        if (c->kind != CELL_RECORD) {
            flat->columns[flat->count++] = (struct flat_column){ c, offset + c->offset, name };
            continue;
        }
        name = arena_print(arena, "%s_", name);
        if (!name || !flat_fill(arena, flat, c->child, bit, offset + c->offset, name))
            return 0;
    }
    return 1;
}

int kind_flatten(struct arena *arena, struct flat_kind *flat, const struct row_kind *kind, unsigned bit)
{
    flat->count = 0;
    flat->columns = arena_array(arena, flat_count(kind, bit) + 1, sizeof *flat->columns);
    return flat->columns && flat_fill(arena, flat, kind, bit, 0, "");
}

/* Kinds that are written as numbers. A time is none. */
static int is_number(enum cell_kind kind)
{
    return kind == CELL_REAL || kind == CELL_WHOLE || kind == CELL_COUNT;
}

int column_right(const struct column *column)
{
    return is_number(column->kind) || column->right;
}

/* A quiet number that is 0 has nothing to say. */
static int has_news(const struct column *column, const void *value)
{
    if (cell_empty(column, value))
        return 0;
    return !column->quiet || column->kind == CELL_COUNT || cell_real(column, value) != 0;
}

/* 1 where a column has anything to say in some row; plain numbers always
 * have, so that tables keep their shape. */
static int column_used(const struct flat_column *flat, const struct row_kind *kind, const char *rows,
                       size_t count)
{
    if (is_number(flat->column->kind) && !flat->column->quiet)
        return 1;
    for (size_t r = 0; r < count; r++)
        if (has_news(flat->column, rows + r * kind->size + flat->offset))
            return 1;
    return 0;
}

int kind_used(struct arena *arena, struct flat_kind *flat, const struct row_kind *kind, const void *rows,
              size_t count, unsigned bit)
{
    size_t kept = 0;

    if (!kind_flatten(arena, flat, kind, bit))
        return 0;
    for (size_t i = 0; i < flat->count; i++)
        if (column_used(flat->columns + i, kind, rows, count))
            flat->columns[kept++] = flat->columns[i];
    flat->count = kept;
    return 1;
}

const char *row_name(const struct row_kind *kind, const void *row)
{
    for (size_t i = 0; i < kind->column_count; i++)
        if (kind->columns[i].kind == CELL_TEXT)
            return cell_string((const char *)row + kind->columns[i].offset);
    return NULL;
}

enum tint cell_tint(const struct column *column, const void *row)
{
    return column->tint_offset ? *(const enum tint *)(const void *)((const char *)row + column->tint_offset)
                               : TINT_NONE;
}

double cell_real(const struct column *column, const void *value)
{
    double kept = *(const double *)value;

    return column->scale != 0 ? kept * column->scale : kept;
}

const char *cell_string(const void *value)
{
    return *(const char *const *)value;
}

/* Not a number and infinite are never written, whatever the column allows: no format has them. */
static int number_empty(const struct column *column, double value)
{
    return !isfinite(value) || (column->none == NONE_BELOW_ZERO && value < 0) ||
           (column->none == NONE_AT_ZERO && value == 0);
}

int cell_empty(const struct column *column, const void *value)
{
    switch (column->kind) {
    case CELL_REAL:
    case CELL_WHOLE:
        return number_empty(column, cell_real(column, value));
    case CELL_TIME:
    case CELL_CLOCK:
        return !(cell_real(column, value) >= 0 && cell_real(column, value) < 1e12);
    case CELL_TEXT:
        return !cell_string(value) || !*cell_string(value);
    case CELL_COUNT:
    case CELL_FLAG:
    case CELL_ROWS:
    case CELL_RECORD:
        break;
    }
    return 0;
}

static void two_digits(char *out, int n)
{
    out[0] = (char)('0' + n / 10 % 10);
    out[1] = (char)('0' + n % 10);
}

/* "06:40", or "06:40:15" where there are seconds; out has room for 9 bytes. Wraps round the day. */
size_t clock_write(char *out, double seconds)
{
    long whole = lround(seconds) % DAY_SECONDS;
    int s = (int)(whole < 0 ? whole + DAY_SECONDS : whole);
    size_t length = s % 60 ? 8 : 5;

    two_digits(out, s / 3600);
    out[2] = ':';
    two_digits(out + 3, s / 60 % 60);
    out[5] = ':';
    two_digits(out + 6, s % 60);
    out[length] = '\0';
    return length;
}

/* "2026-07-06"; out has room for 11 bytes. Years of four digits, as the reader of profiles allows. */
size_t date_write(char *out, long day_number)
{
    struct date date = date_of_number(day_number);

    two_digits(out, date.year / 100);
    two_digits(out + 2, date.year % 100);
    out[4] = out[7] = '-';
    two_digits(out + 5, date.month);
    two_digits(out + 8, date.day);
    out[10] = '\0';
    return 10;
}

/* ISO 8601 without a zone: local time of the boat. */
static size_t time_write(char *out, double seconds, long midnight)
{
    long whole = lround(seconds);
    size_t length = date_write(out, midnight + whole / DAY_SECONDS);

    out[length++] = 'T';
    return length + clock_write(out + length, (double)(whole % DAY_SECONDS));
}

/* A column that trims shows whole numbers without decimals; within 1e-6, for
 * sums are seldom whole to the bit. */
static size_t real_write(char *out, const struct column *column, double value)
{
    int whole = column->trim && fabs(value - rint(value)) < 1e-6;

    return text_fixed(out, value, whole ? 0 : column->decimals);
}

size_t cell_plain(char *out, const struct column *column, const void *value, long midnight)
{
    out[0] = '\0';
    if (cell_empty(column, value))
        return 0;
    switch (column->kind) {
    case CELL_REAL:
        return real_write(out, column, cell_real(column, value));
    case CELL_WHOLE:
        return text_fixed(out, cell_real(column, value), 0);
    case CELL_COUNT:
        return text_fixed(out, (double)*(const size_t *)value, 0);
    case CELL_FLAG:
        out[0] = *(const int *)value ? '1' : '0';
        out[1] = '\0';
        return 1;
    case CELL_TIME:
        return time_write(out, cell_real(column, value), midnight);
    case CELL_CLOCK:
        return clock_write(out, cell_real(column, value));
    case CELL_TEXT:
    case CELL_ROWS:
    case CELL_RECORD:
        break;
    }
    return 0;
}

/* "Mon 2026-07-06 06:40": minutes are what people want of a week. */
static const char *time_shown(struct arena *arena, double seconds, long midnight)
{
    char date[16], clock[16];
    long day = midnight + (long)(seconds / DAY_SECONDS);

    date_write(date, day);
    clock_write(clock, seconds);
    return arena_print(arena, "%s %s %.5s", weekday_short(date_weekday(date_of_number(day))), date, clock);
}

const char *cell_shown(struct arena *arena, const struct column *column, const void *value, long midnight)
{
    char plain[CELL_SIZE];

    if (cell_empty(column, value))
        return is_number(column->kind) ? "-" : "";
    if (column->kind == CELL_TEXT)
        return cell_string(value);
    if (column->kind == CELL_FLAG)
        return *(const int *)value ? "yes" : "no";
    if (column->kind == CELL_TIME)
        return time_shown(arena, cell_real(column, value), midnight);
    if (column->kind == CELL_CLOCK) /* people read minutes */
        return arena_copy(arena, plain, clock_write(plain, rint(cell_real(column, value) / 60) * 60));
    return arena_copy(arena, plain, cell_plain(plain, column, value, midnight));
}

long sheet_midnight(const struct sheet *sheet)
{
    if (sheet->month == 0)
        return 0;
    return date_number((struct date){ sheet->year, sheet->month, sheet->day });
}

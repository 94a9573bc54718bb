/* as_json.c - a sheet as one JSON object (RFC 8259), keys in the order of the columns.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <jansson.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "output/cell.h"
#include "output/walkers.h"

/*
 *   {
 *     "boat": "Example",                a table without a name: its fields stand at the top
 *     "summary": { ... },               a single row
 *     "rows": [ { ... }, ... ]          many rows; nested rows are arrays within
 *   }
 *
 * Names are those of CSV. What is not known, or never happens, is null, so no number ever stands for it.
 * Numbers have up to 9 significant digits: the sums of the engine are good to more, the models to far less.
 */

/* Longer flat tables are written row by row, one line each: a week would be 131,040 values in memory. */
enum { ROWS_IN_MEMORY = 256, SIGNIFICANT = 9 };

static json_t *rows_value(const struct row_kind *kind, const void *rows, size_t count, long midnight);
static json_t *row_value(const struct row_kind *kind, const void *row, long midnight);

/* Whole numbers as integers, as far as a double holds them exactly. */
static json_t *number_value(const struct column *column, double value)
{
    if (column->kind == CELL_WHOLE && fabs(value) < 1e15)
        return json_integer(llround(value));
    return json_real(value == 0 ? 0 : value); /* never "-0.0" */
}

static json_t *plain_value(const struct column *column, const void *value, long midnight)
{
    char text[CELL_SIZE];

    cell_plain(text, column, value, midnight);
    return json_string(text);
}

static json_t *text_value(const char *text)
{
    json_t *value = json_string(text);

    return value ? value : json_null(); /* not UTF-8: cannot be said in JSON */
}

/* Any value; NULL without memory. What is empty is null, so that no number ever stands for "not known". */
static json_t *cell_value(const struct column *column, const char *row, long midnight)
{
    const void *value = row + column->offset;

    if (column->kind != CELL_TEXT && cell_empty(column, value))
        return json_null();
    switch (column->kind) {
    case CELL_REAL:
    case CELL_WHOLE:
        return number_value(column, cell_real(column, value));
    case CELL_COUNT:
        return json_integer((json_int_t) * (const size_t *)value);
    case CELL_FLAG:
        return json_boolean(*(const int *)value);
    case CELL_TEXT:
        return cell_string(value) ? text_value(cell_string(value)) : json_null();
    case CELL_ROWS:
        return rows_value(column->child, *(const void *const *)value,
                          *(const size_t *)(const void *)(row + column->count_offset), midnight);
    case CELL_RECORD:
        return row_value(column->child, value, midnight);
    case CELL_TIME:
    case CELL_CLOCK:
        break;
    }
    return plain_value(column, value, midnight);
}

/* Object of a row; its children are arrays within, by cell_value. NULL without memory. */
static json_t *row_value(const struct row_kind *kind, const void *row, long midnight)
{
    json_t *object = json_object();

    for (size_t i = 0; object && i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;

        if (shown(c->where, SHOW_JSON) &&
            json_object_set_new(object, c->name, cell_value(c, row, midnight))) {
            json_decref(object);
            return NULL;
        }
    }
    return object;
}

static json_t *rows_value(const struct row_kind *kind, const void *rows, size_t count, long midnight)
{
    json_t *array = json_array();

    for (size_t i = 0; array && i < count; i++) {
        if (json_array_append_new(array, row_value(kind, (const char *)rows + i * kind->size, midnight))) {
            json_decref(array);
            return NULL;
        }
    }
    return array;
}

/* jansson indents from column 0; the value stands one level deeper. Line breaks occur between tokens only. */
static int write_deeper(const char *text, size_t length, void *file)
{
    const char *end = text + length;

    while (text < end) {
        const char *stop = memchr(text, '\n', (size_t)(end - text));
        size_t n = (size_t)((stop ? stop + 1 : end) - text);

        fwrite(text, 1, n, file);
        if (stop)
            fputs("  ", file);
        text += n;
    }
    return 0;
}

/* Takes the value. 0 without memory. */
static int write_value(FILE *out, json_t *value)
{
    int failed;

    if (!value)
        return 0;
    failed = json_dump_callback(value, write_deeper, out,
                                JSON_INDENT(2) | JSON_ENCODE_ANY | JSON_REAL_PRECISION(SIGNIFICANT));
    json_decref(value);
    return !failed;
}

/* A key with its colon; the first of the document opens the object. */
static int write_key(FILE *out, const char *name, size_t *written)
{
    fputs((*written)++ ? ",\n  " : "{\n  ", out);
    if (!write_value(out, json_string(name)))
        return 0;
    fputs(": ", out);
    return 1;
}

/* Nested rows and records need jansson; a table without them can be written as it goes. */
static int is_flat(const struct row_kind *kind)
{
    for (size_t i = 0; i < kind->column_count; i++) {
        if (kind->columns[i].kind == CELL_ROWS || kind->columns[i].kind == CELL_RECORD)
            return 0;
    }
    return 1;
}

/* Up to 9 significant digits, as short as that allows. */
static size_t short_number(char *out, double value)
{
    double size = fabs(value);
    int decimals = SIGNIFICANT - 1;

    for (; size >= 10 && decimals > 0; size /= 10)
        decimals--;
    for (; size < 1 && size > 0 && decimals < TEXT_FIXED_DECIMALS; size *= 10)
        decimals++;
    return text_fixed_short(out, value, decimals);
}

/* As cell_value, but straight on to the stream; the two must write the same. */
static int stream_cell(FILE *out, const struct flat_column *flat, const char *row, long midnight)
{
    const struct column *column = flat->column;
    const void *value = row + flat->offset;
    char text[CELL_SIZE];

    if (column->kind == CELL_TEXT)
        return write_value(out, cell_value(column, row, midnight));
    if (cell_empty(column, value))
        fputs("null", out);
    else if (column->kind == CELL_REAL)
        fwrite(text, 1, short_number(text, cell_real(column, value)), out);
    else if (column->kind == CELL_FLAG)
        fputs(*(const int *)value ? "true" : "false", out);
    else if (column->kind == CELL_TIME || column->kind == CELL_CLOCK) {
        size_t length = cell_plain(text + 1, column, value, midnight);

        text[0] = text[length + 1] = '"';
        fwrite(text, 1, length + 2, out);
    } else
        fwrite(text, 1, cell_plain(text, column, value, midnight), out);
    return 1;
}

/* Names of columns are ours: letters, digits and underscores, so they need no escapes. */
static int stream_row(FILE *out, const struct flat_kind *flat, const char *row, long midnight)
{
    for (size_t i = 0; i < flat->count; i++) {
        fputs(i ? ", \"" : "{\"", out);
        fputs(flat->columns[i].name, out);
        fputs("\": ", out);
        if (!stream_cell(out, flat->columns + i, row, midnight))
            return 0;
    }
    fputs("}", out);
    return 1;
}

/* Rows straight to the file, one a line: a week in minutes does not fit as a tree of objects. */
static int stream_rows(FILE *out, struct arena *arena, const struct table *table, long midnight)
{
    struct flat_kind flat;

    if (!kind_flatten(arena, &flat, table->kind, SHOW_JSON))
        return 0;
    fputs("[", out);
    for (size_t r = 0; r < table->row_count; r++) {
        fputs(r ? ",\n    " : "\n    ", out);
        if (!stream_row(out, &flat, (const char *)table->rows + r * table->kind->size, midnight))
            return 0;
    }
    fputs("\n  ]", out);
    return 1;
}

/* The single row's fields as members of the document itself. */
static int write_fields(FILE *out, const struct table *table, long midnight, size_t *written)
{
    const struct row_kind *kind = table->kind;

    for (size_t i = 0; i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;

        if (shown(c->where, SHOW_JSON) &&
            (!write_key(out, c->name, written) || !write_value(out, cell_value(c, table->rows, midnight))))
            return 0;
    }
    return 1;
}

/* One member of the top object; written counts them for the commas. 0 without memory. */
static int write_table(FILE *out, struct arena *arena, const struct table *t, long midnight, size_t *written)
{
    if (!t->name)
        return write_fields(out, t, midnight, written);
    if (!write_key(out, t->name, written))
        return 0;
    if (!t->single && t->row_count > ROWS_IN_MEMORY && is_flat(t->kind))
        return stream_rows(out, arena, t, midnight);
    return write_value(out, t->single ? row_value(t->kind, t->rows, midnight)
                                      : rows_value(t->kind, t->rows, t->row_count, midnight));
}

enum status sheet_as_json(FILE *out, struct arena *arena, const struct sheet *sheet)
{
    long midnight = sheet_midnight(sheet);
    size_t written = 0;

    for (size_t i = 0; i < sheet->table_count; i++) {
        const struct table *t = sheet->tables + i;

        if (shown(t->where, SHOW_JSON) && !write_table(out, arena, t, midnight, &written))
            return STATUS_NO_MEMORY;
    }
    fputs(written ? "\n}\n" : "{}\n", out);
    return STATUS_OK;
}

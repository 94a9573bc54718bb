/* as_csv.c - a sheet as RFC 4180: one line of machine names, then the rows; lines end in CR LF as it says.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <csv.h>
#include <string.h>

#include "base/arena.h"
#include "output/cell.h"
#include "output/walkers.h"

/*
 * One table a file, as readers of CSV expect: the tables that the sheet marks for it, a blank line between
 * where it is several. The first line holds machine names, which do not change without a major version;
 * values are numbers with a point, ISO 8601 local times, 0 and 1, or text. What is not known is empty.
 *
 *   time,charge_percent,bank_v
 *   2026-06-15T00:00,99.993,12.648
 */

/* A week has 131,040 cells: they are gathered here, not sent through stdio one by one. */
struct csv_out {
    FILE *file;
    size_t used;
    char bytes[32 * 1024];
};

/* Errors of writing are looked at once, when the file is closed. */
static void csv_flush(struct csv_out *out)
{
    fwrite(out->bytes, 1, out->used, out->file);
    out->used = 0;
}

/* Where need bytes may be written, at most the size of the buffer; what was
 * gathered goes out first if it must. */
static char *csv_room(struct csv_out *out, size_t need)
{
    if (sizeof out->bytes - out->used < need)
        csv_flush(out);
    return out->bytes + out->used;
}

/* RFC 4180 wants quotes around commas, quotes and line breaks; blanks at the ends are kept by readers inside
 * them. */
static int needs_quotes(const char *text, size_t length)
{
    return length > 0 && (strpbrk(text, ",\"\r\n") || text[0] == ' ' || text[length - 1] == ' ');
}

/* A text of any length. Quoted ones go through libcsv, which doubles the quotes within. */
static void csv_text(struct csv_out *out, const char *text)
{
    size_t length = text ? strlen(text) : 0;

    if (!length)
        return;
    if (needs_quotes(text, length)) {
        csv_flush(out);
        csv_fwrite(out->file, text, length);
    } else if (length >= sizeof out->bytes) {
        csv_flush(out);
        fwrite(text, 1, length, out->file);
    } else {
        memcpy(csv_room(out, length), text, length);
        out->used += length;
    }
}

static void csv_bytes(struct csv_out *out, const char *bytes, size_t length)
{
    memcpy(csv_room(out, length), bytes, length);
    out->used += length;
}

/* One record; CRLF ends it, RFC 4180, as the record of names. */
static void csv_row(struct csv_out *out, const struct flat_kind *flat, const char *row, long midnight)
{
    for (size_t i = 0; i < flat->count; i++) {
        const struct flat_column *c = flat->columns + i;

        if (i)
            csv_bytes(out, ",", 1);
        if (c->column->kind == CELL_TEXT)
            csv_text(out, cell_string(row + c->offset));
        else
            out->used += cell_plain(csv_room(out, CELL_SIZE), c->column, row + c->offset, midnight);
    }
    csv_bytes(out, "\r\n", 2);
}

static void csv_names(struct csv_out *out, const struct flat_kind *flat)
{
    for (size_t i = 0; i < flat->count; i++) {
        if (i)
            csv_bytes(out, ",", 1);
        csv_text(out, flat->columns[i].name);
    }
    csv_bytes(out, "\r\n", 2);
}

enum status sheet_as_csv(FILE *file, struct arena *arena, const struct sheet *sheet)
{
    struct csv_out *out = arena_zero(arena, sizeof *out);
    long midnight = sheet_midnight(sheet);
    size_t written = 0;

    if (!out)
        return STATUS_NO_MEMORY;
    out->file = file;
    for (size_t i = 0; i < sheet->table_count; i++) {
        const struct table *t = sheet->tables + i;
        struct flat_kind flat;

        if (!t->csv || !shown(t->where, SHOW_CSV))
            continue;
        if (!kind_flatten(arena, &flat, t->kind, SHOW_CSV))
            return STATUS_NO_MEMORY;
        if (written++)
            csv_bytes(out, "\r\n", 2);
        csv_names(out, &flat);
        for (size_t r = 0; r < t->row_count; r++)
            csv_row(out, &flat, (const char *)t->rows + r * t->kind->size, midnight);
    }
    csv_flush(out);
    return STATUS_OK;
}

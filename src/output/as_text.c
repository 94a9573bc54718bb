/* as_text.c - a sheet for people at a terminal: titles, lists of name and value, tables, notes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <locale.h>
#include <string.h>

#include "base/arena.h"
#include "output/cell.h"
#include "output/grid.h"
#include "output/walkers.h"

/*
 * What it looks like, of a single row, of many rows, and of rows with long texts:
 *
 *   Energy at the DC bus                            title of the table
 *     Solar            4176 Wh                      headings, numbers right-aligned among themselves, units
 *     Alternators       939 Wh
 *
 *   Kinds of day
 *             Loads  Sources   Net                  headings, in as many lines as their words need
 *                Wh       Wh    Wh                  units, where any column has one
 *     ----------------------------
 *     anchor    879      742  -136
 *
 *   Findings
 *     FUS-01 cable windlass                         the first two columns
 *         Fact    25 mm2 from bus to windlass       the others, each with its heading, wrapped
 *         Risk    A short sets it alight.
 *
 * Lines are as wide as the style says where anything can be wrapped to that. Colour repeats what words or
 * signs say.
 */

enum { MAX_COLUMNS = 32 }; /* of a table set in paragraphs */

struct text_out {
    FILE *file;
    struct arena *arena;
    long midnight;
    size_t width;
    int colour;
};

/* As people read it; NULL without memory. */
static const char *cell_text(const struct text_out *out, const struct column *column, const void *value)
{
    return cell_shown(out->arena, column, value, out->midnight);
}

/* Text in lines of the width; first stands before the first line, later before the others. */
static void print_wrapped(const struct text_out *out, const char *text, const char *first, const char *later)
{
    size_t width = out->width > strlen(first) + 1 ? out->width - strlen(first) : 1, skip;

    for (const char *lead = first;; lead = later) {
        size_t length = line_length(text, width, &skip);

        fprintf(out->file, "%s%.*s\n", lead, (int)length, text);
        if (!skip)
            return;
        text += skip;
    }
}

static void print_title(const struct text_out *out, const char *title, const char *of)
{
    if (!title)
        return;
    fprintf(out->file, "\n%s%s%s%s%s\n", out->colour ? "\033[1m" : "", title, of ? ", " : "", of ? of : "",
            out->colour ? "\033[0m" : "");
}

/* ---- a single row: one line per field ---- */

/* Widest heading and widest number of the list. */
static int list_widths(const struct text_out *out, const struct flat_kind *flat, const char *row,
                       size_t *heads, size_t *numbers)
{
    *heads = *numbers = 0;
    for (size_t i = 0; i < flat->count; i++) {
        const struct column *c = flat->columns[i].column;
        const char *text = cell_text(out, c, row + flat->columns[i].offset);
        size_t head = text_columns(c->heading, strlen(c->heading));

        if (!text)
            return 0;
        if (head > *heads)
            *heads = head;
        if (column_right(c) && strlen(text) > *numbers)
            *numbers = strlen(text);
    }
    return 1;
}

/* heads and numbers [columns]: width of the widest heading and number of the
 * list. Texts wrap under themselves. */
static void list_line(const struct text_out *out, const struct column *c, const char *text, size_t heads,
                      size_t numbers)
{
    size_t pad = heads - text_columns(c->heading, strlen(c->heading));
    const char *unit = c->unit && strcmp(text, "-") != 0 ? c->unit : "";

    if (column_right(c)) {
        fprintf(out->file, "  %s%*s%*s%s%s\n", c->heading, (int)pad + 2, "", (int)numbers, text,
                *unit ? " " : "", unit);
        return;
    }
    print_wrapped(out, text, arena_print(out->arena, "  %s%*s", c->heading, (int)pad + 2, ""),
                  arena_print(out->arena, "  %*s", (int)heads + 2, ""));
}

/* A single row: headings in one column, numbers right-aligned among themselves, texts wrapped. */
static int print_list(const struct text_out *out, const struct row_kind *kind, const char *row)
{
    struct flat_kind flat;
    size_t heads, numbers;

    if (!kind_used(out->arena, &flat, kind, row, 1, SHOW_TEXT) ||
        !list_widths(out, &flat, row, &heads, &numbers))
        return 0;
    for (size_t i = 0; i < flat.count; i++) {
        const char *text = cell_text(out, flat.columns[i].column, row + flat.columns[i].offset);

        if (!text)
            return 0;
        list_line(out, flat.columns[i].column, text, heads, numbers);
    }
    return 1;
}

/* ---- many rows: a grid ---- */

/* 1 where some column may be coloured: only then is room for the tints made. */
static int tinted(const struct flat_kind *flat)
{
    for (size_t i = 0; i < flat->count; i++)
        if (flat->columns[i].column->tint_offset)
            return 1;
    return 0;
}

/* Rows as a table; grid.c does the widths. 0 without memory. */
static int print_grid(const struct text_out *out, const struct row_kind *kind, const char *rows, size_t count)
{
    struct grid grid = { .row_count = count, .colour = out->colour };
    struct flat_kind flat;
    enum tint *tints;

    if (!kind_used(out->arena, &flat, kind, rows, count, SHOW_TEXT))
        return 0;
    grid.column_count = flat.count;
    grid.columns = arena_array(out->arena, flat.count, sizeof *grid.columns);
    grid.cells = arena_array(out->arena, flat.count * count, sizeof *grid.cells);
    tints = tinted(&flat) ? arena_array(out->arena, flat.count * count, sizeof *tints) : NULL;
    if (!grid.columns || !grid.cells || (tinted(&flat) && !tints))
        return 0;
    grid.tints = tints;
    for (size_t c = 0; c < flat.count; c++) {
        const struct column *column = flat.columns[c].column;

        grid.columns[c] = (struct grid_column){ column->heading, column->unit, column_right(column),
                                                 column->kind != CELL_TEXT, 0, 0 };
        for (size_t r = 0; r < count; r++) {
            const char *text = cell_text(out, column, rows + r * kind->size + flat.columns[c].offset);

            if (!text)
                return 0;
            grid.cells[r * flat.count + c] = text;
            if (tints)
                tints[r * flat.count + c] = cell_tint(column, rows + r * kind->size);
        }
    }
    return flat.count == 0 || grid_print(out->file, out->arena, &grid, out->width);
}

/* ---- many rows with long texts: a paragraph each ---- */

enum { PARAGRAPH_HEAD = 2 };

/* A row under a head of its first two columns, the others below, each with its
 * heading, those without text left out. */
static int print_paragraph(const struct text_out *out, const struct flat_kind *flat, const char *row)
{
    const char *texts[MAX_COLUMNS];
    size_t heads = 0;

    for (size_t i = 0; i < flat->count; i++) {
        const char *heading = flat->columns[i].column->heading;

        if (!(texts[i] = cell_text(out, flat->columns[i].column, row + flat->columns[i].offset)))
            return 0;
        if (i >= PARAGRAPH_HEAD && text_columns(heading, strlen(heading)) > heads)
            heads = text_columns(heading, strlen(heading));
    }
    fprintf(out->file, "  %s%s%s\n", texts[0], flat->count > 1 ? ": " : "", flat->count > 1 ? texts[1] : "");
    for (size_t i = PARAGRAPH_HEAD; i < flat->count; i++) {
        const char *heading = flat->columns[i].column->heading;
        int pad = (int)(heads - text_columns(heading, strlen(heading))) + 2;

        if (*texts[i])
            print_wrapped(out, texts[i], arena_print(out->arena, "      %s%*s", heading, pad, ""),
                          arena_print(out->arena, "      %*s", (int)heads + 2, ""));
    }
    return 1;
}

/* Many rows of long texts: columns that are empty in all of them are left out. 0 without
 * memory or with too many columns. */
static int print_paragraphs(const struct text_out *out, const struct row_kind *kind, const char *rows,
                            size_t count)
{
    struct flat_kind flat;

    if (!kind_used(out->arena, &flat, kind, rows, count, SHOW_TEXT) || flat.count > MAX_COLUMNS)
        return 0;
    for (size_t r = 0; r < count; r++)
        if (!print_paragraph(out, &flat, rows + r * kind->size))
            return 0;
    return 1;
}

/* ---- rows within rows ---- */

/* Rows within a row, with the row's name in the title where there are several rows. */
static int print_children(const struct text_out *out, const struct row_kind *kind, const char *row,
                          int name_them)
{
    for (size_t i = 0; i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;
        size_t count;

        if (c->kind != CELL_ROWS || !shown(c->where, SHOW_TEXT))
            continue;
        count = *(const size_t *)(const void *)(row + c->count_offset);
        if (!count)
            continue;
        print_title(out, c->heading, name_them ? row_name(kind, row) : NULL);
        if (!print_grid(out, c->child, *(const void *const *)(const void *)(row + c->offset), count))
            return 0;
    }
    return 1;
}

/* Title, then paragraphs, list or grid, then what the rows hold. 0 without memory. */
static int print_table(const struct text_out *out, const struct table *table)
{
    const char *rows = table->rows;
    size_t count = table->single ? 1 : table->row_count;

    if (!count)
        return 1;
    print_title(out, table->title ? table->title : table->kind->title, NULL);
    if (table->paragraphs)
        return print_paragraphs(out, table->kind, rows, count);
    if (table->single ? !print_list(out, table->kind, rows) : !print_grid(out, table->kind, rows, count))
        return 0;
    for (size_t r = 0; r < count; r++) {
        if (!print_children(out, table->kind, rows + r * table->kind->size, !table->single))
            return 0;
    }
    return 1;
}

static int print_sheet(const struct text_out *out, const struct sheet *sheet)
{
    if (sheet->title)
        fprintf(out->file, "%s%s%s\n", out->colour ? "\033[1m" : "", sheet->title,
                out->colour ? "\033[0m" : "");
    if (sheet->subtitle)
        print_wrapped(out, sheet->subtitle, "", "");
    for (size_t i = 0; i < sheet->table_count; i++) {
        if (shown(sheet->tables[i].where, SHOW_TEXT) && !print_table(out, sheet->tables + i))
            return 0;
    }
    if (sheet->note_count)
        fputs("\n", out->file);
    for (size_t i = 0; i < sheet->note_count; i++)
        print_wrapped(out, sheet->notes[i], "- ", "  ");
    return 1;
}

/*
 * Widths of UTF-8 need a UTF-8 locale, whatever the program's is; this one is the thread's own and is put
 * back. Numbers are written without any locale.
 */
enum status sheet_as_text(FILE *file, struct arena *arena, const struct sheet *sheet,
                          const struct text_style *style)
{
    struct text_out out = { file, arena, sheet_midnight(sheet), style->width > 0 ? (size_t)style->width : 100,
                            style->colour };
    locale_t utf8 = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
    locale_t before = utf8 ? uselocale(utf8) : (locale_t)0;
    int done = print_sheet(&out, sheet);

    if (utf8) {
        uselocale(before);
        freelocale(utf8);
    }
    return done ? STATUS_OK : STATUS_NO_MEMORY;
}

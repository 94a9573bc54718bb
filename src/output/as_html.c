/* as_html.c - a sheet as HTML: captions, heads of rows and columns, notes; alone on a page or part of one.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "output/cautions.h"
#include "output/cell.h"
#include "output/html.h"
#include "output/walkers.h"

/*
 * Tables with captions, heads for every row and column (scope), and data-name attributes that carry the
 * machine names, so that a figure on a page can be found again by a test or a script. Nothing is fetched
 * from anywhere: a page can be kept and mailed as one file.
 */

struct html_out {
    FILE *file;
    struct arena *arena;
    long midnight;
    const char *caption; /* of the next table instead of its own; NULL: its own */
};

void html_text(FILE *out, const char *text)
{
    int first = 1;

    for (; text && *text; text++, first = 0) {
        switch (*text) {
        case ' ': /* the branches of a tree stand under each other: runs of blanks must not become one */
            fputs(first || text[1] == ' ' ? "&#160;" : " ", out);
            break;
        case '&':
            fputs("&amp;", out);
            break;
        case '<':
            fputs("&lt;", out);
            break;
        case '>':
            fputs("&gt;", out);
            break;
        case '"':
            fputs("&quot;", out);
            break;
        default: /* other control characters may stand in neither HTML nor XML */
            fputc((unsigned char)*text < 0x20 || *text == 0x7F ? ' ' : *text, out);
        }
    }
}

/* ---- cells ---- */

/* How much room the texts of a column want. */
enum width { WIDTH_PLAIN, WIDTH_SHORT, WIDTH_LONG };

/* [byte] never broken up to here; wants room to be read in from here */
enum { SHORT_TEXT = 14, LONG_TEXT = 36 };

/* By its longest text: short ones do not wrap, long ones get room from the others; numbers never wrap. */
static enum width column_width(const struct flat_column *flat, const char *rows, size_t size, size_t count)
{
    size_t longest = 0;

    if (flat->column->kind != CELL_TEXT)
        return WIDTH_PLAIN;
    for (size_t i = 0; i < count; i++) {
        const char *text = cell_string(rows + i * size + flat->offset);
        size_t length = text ? strlen(text) : 0;

        longest = length > longest ? length : longest;
    }
    return longest > LONG_TEXT ? WIDTH_LONG : longest > SHORT_TEXT ? WIDTH_PLAIN : WIDTH_SHORT;
}

static enum width *column_widths(struct arena *arena, const struct flat_kind *flat, const char *rows,
                                 size_t size, size_t count)
{
    enum width *widths = arena_array(arena, flat->count, sizeof *widths);

    for (size_t i = 0; widths && i < flat->count; i++)
        widths[i] = column_width(flat->columns + i, rows, size, count);
    return widths;
}

/* "n" stands like a number, "s" is never broken; good and bad only colour what words say as well. */
static const char *cell_class(const struct column *column, const void *row, enum width width)
{
    static const char *const numbers[] = { [TINT_NONE] = "n", [TINT_GOOD] = "n good", [TINT_BAD] = "n bad" };
    static const char *const texts[] = { [TINT_NONE] = "", [TINT_GOOD] = "good", [TINT_BAD] = "bad" };
    static const char *const shorts[] = { [TINT_NONE] = "s", [TINT_GOOD] = "s good", [TINT_BAD] = "s bad" };

    return (column_right(column) ? numbers : width == WIDTH_SHORT ? shorts : texts)[cell_tint(column, row)];
}

/* The machine name lets a reader, or a test, find a figure again. */
static void open_cell(const struct html_out *out, const char *tag, const struct column *column,
                      const char *class)
{
    fprintf(out->file, "<%s", tag);
    if (*class)
        fprintf(out->file, " class=\"%s\"", class);
    if (column->name && *column->name)
        fprintf(out->file, " data-name=\"%s\"", column->name);
    fputs(">", out->file);
}

/* One cell, as head of its row or not, with its unit behind it or not (tables have
 * it in the heading). 0 without memory. */
static int write_cell(const struct html_out *out, const struct flat_column *flat, const char *row, int head,
                      int unit, enum width width)
{
    const struct column *column = flat->column;
    const char *text = cell_shown(out->arena, column, row + flat->offset, out->midnight);

    if (!text)
        return 0;
    if (head)
        fputs(width == WIDTH_SHORT ? "<th scope=\"row\" class=\"s\">" : "<th scope=\"row\">", out->file);
    else
        open_cell(out, "td", column, cell_class(column, row, width));
    html_text(out->file, text);
    if (unit && column->unit && *column->unit && strcmp(text, "-") != 0) {
        fputs(" <span class=\"unit\">", out->file);
        html_text(out->file, column->unit);
        fputs("</span>", out->file);
    }
    fputs(head ? "</th>" : "</td>", out->file);
    return 1;
}

/* ---- tables ---- */

/* The frame that lets a wide table scroll by itself, the table and its caption.
 * `of`: whose nested rows they are. */
static void open_table(struct html_out *out, const char *class, const char *name, const char *caption,
                       const char *of)
{
    const char *title = out->caption ? out->caption : caption ? caption : "";

    out->caption = NULL;
    fprintf(out->file, "<div class=\"wide%s%s\">\n<table", *class ? " " : "", class);
    if (*class)
        fprintf(out->file, " class=\"%s\"", class);
    if (name)
        fprintf(out->file, " data-table=\"%s\"", name);
    fputs(">\n", out->file);
    if (*title) {
        fputs("<caption>", out->file);
        html_text(out->file, title);
        fputs(of ? ", " : "", out->file);
        html_text(out->file, of);
        fputs("</caption>\n", out->file);
    }
}

static void close_table(const struct html_out *out)
{
    fputs("</tbody>\n</table>\n</div>\n", out->file);
}

/* A single row as name and value, one a line. 0 without memory. */
static int write_list(struct html_out *out, const struct table *table, const char *title)
{
    struct flat_kind flat;

    if (!kind_used(out->arena, &flat, table->kind, table->rows, 1, SHOW_HTML))
        return 0;
    if (!flat.count)
        return 1;
    open_table(out, "list", table->name, title, NULL);
    fputs("<tbody>\n", out->file);
    for (size_t i = 0; i < flat.count; i++) {
        fputs("<tr><th scope=\"row\">", out->file);
        html_text(out->file, flat.columns[i].column->heading);
        fputs("</th>", out->file);
        if (!write_cell(out, flat.columns + i, table->rows, 0, 1, WIDTH_PLAIN))
            return 0;
        fputs("</tr>\n", out->file);
    }
    close_table(out);
    return 1;
}

/* A head of nothing but empty cells tells a listener nothing. */
static int has_headings(const struct flat_kind *flat)
{
    for (size_t i = 0; i < flat->count; i++)
        if (*flat->columns[i].column->heading)
            return 1;
    return 0;
}

/* Headings with their units behind them; a table whose columns have none gets no head. */
static void write_heads(const struct html_out *out, const struct flat_kind *flat, const enum width *widths)
{
    if (!has_headings(flat)) {
        fputs("<tbody>\n", out->file);
        return;
    }
    fputs("<thead><tr>", out->file);
    for (size_t i = 0; i < flat->count; i++) {
        const struct column *c = flat->columns[i].column;

        fprintf(out->file, "<th scope=\"col\"%s>",
                column_right(c) ? " class=\"n\"" : widths[i] == WIDTH_LONG ? " class=\"long\"" : "");
        html_text(out->file, c->heading);
        if (c->unit && *c->unit) {
            fputs(" <span class=\"unit\">", out->file);
            html_text(out->file, c->unit);
            fputs("</span>", out->file);
        }
        fputs("</th>", out->file);
    }
    fputs("</tr></thead>\n<tbody>\n", out->file);
}

/* Rows as a table; with more than six columns it is marked as one that needs room. 0 without memory. */
static int write_rows(struct html_out *out, const struct row_kind *kind, const char *name, const char *title,
                      const char *of, const char *rows, size_t count)
{
    struct flat_kind flat;
    enum width *widths;

    if (!kind_used(out->arena, &flat, kind, rows, count, SHOW_HTML))
        return 0;
    if (!flat.count)
        return 1;
    if (!(widths = column_widths(out->arena, &flat, rows, kind->size, count)))
        return 0;
    open_table(out, flat.count > 6 ? "many" : "", name, title, of);
    write_heads(out, &flat, widths);
    for (size_t r = 0; r < count; r++) {
        fputs("<tr>", out->file);
        for (size_t c = 0; c < flat.count; c++) {
            int head = c == 0 && !column_right(flat.columns[c].column);

            if (!write_cell(out, flat.columns + c, rows + r * kind->size, head, 0, widths[c]))
                return 0;
        }
        fputs("</tr>\n", out->file);
    }
    close_table(out);
    return 1;
}

/* Rows within a row, each kind as a table of its own behind it. */
static int write_children(struct html_out *out, const struct row_kind *kind, const char *row, int name_them)
{
    for (size_t i = 0; i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;
        size_t count;

        if (c->kind != CELL_ROWS || !shown(c->where, SHOW_HTML))
            continue;
        count = *(const size_t *)(const void *)(row + c->count_offset);
        if (count && !write_rows(out, c->child, c->name, c->heading, name_them ? row_name(kind, row) : NULL,
                                 *(const char *const *)(const void *)(row + c->offset), count))
            return 0;
    }
    return 1;
}

/* A list or a grid, then what its rows hold. 0 without memory. */
static int write_table(struct html_out *out, const struct table *table)
{
    const char *title = table->title ? table->title : table->kind->title, *rows = table->rows;
    size_t count = table->single ? 1 : table->row_count;

    if (!count)
        return 1;
    if (table->single ? !write_list(out, table, title)
                      : !write_rows(out, table->kind, table->name, title, NULL, rows, count))
        return 0;
    for (size_t r = 0; r < count && !table->no_children; r++)
        if (!write_children(out, table->kind, rows + r * table->kind->size, !table->single))
            return 0;
    return 1;
}

/* ---- the sheet ---- */

/* Whether a part of a page shows that table. */
static int wanted(const struct html_part *part, const struct table *table)
{
    struct span rest, name;

    if (!shown(table->where, SHOW_HTML))
        return 0;
    if (!part->tables)
        return 1;
    rest = span_of(part->tables);
    while (table->name && span_split(&rest, ' ', &name))
        if (span_is(name, table->name))
            return 1;
    return 0;
}

/* Whether a note is one of the cautions that a page prints once for all its sheets. */
static int is_caution(const char *note)
{
    for (int c = 0; c < CAUTIONS; c++)
        if (strcmp(note, caution_text((enum caution)c)) == 0)
            return 1;
    return 0;
}

/* no_cautions 1: the page has them already. No empty list is written. */
static void write_notes(const struct html_out *out, const struct sheet *sheet, int no_cautions)
{
    size_t written = 0;

    for (size_t i = 0; i < sheet->note_count; i++) {
        if (no_cautions && is_caution(sheet->notes[i]))
            continue;
        fputs(written++ ? "<li>" : "<ul class=\"notes\">\n<li>", out->file);
        html_text(out->file, sheet->notes[i]);
        fputs("</li>\n", out->file);
    }
    fputs(written ? "</ul>\n" : "", out->file);
}

static void write_paragraph(FILE *out, const char *class, const char *text)
{
    if (!text || !*text)
        return;
    fprintf(out, "<p class=\"%s\">", class);
    html_text(out, text);
    fputs("</p>\n", out);
}

enum status html_sheet(FILE *file, struct arena *arena, const struct sheet *sheet,
                       const struct html_part *part)
{
    struct html_out out = { file, arena, sheet_midnight(sheet), part->caption };

    if (!part->no_lead) {
        if (!part->no_title)
            write_paragraph(file, "lead", sheet->title);
        write_paragraph(file, "of", sheet->subtitle);
    }
    for (size_t i = 0; i < sheet->table_count; i++)
        if (wanted(part, sheet->tables + i) && !write_table(&out, sheet->tables + i))
            return STATUS_NO_MEMORY;
    if (!part->tables)
        write_notes(&out, sheet, part->no_cautions);
    return STATUS_OK;
}

enum status sheet_as_html(FILE *out, struct arena *arena, const struct sheet *sheet)
{
    static const struct html_part whole = { .no_lead = 1 };
    enum status status;

    html_begin(out, sheet->title);
    fputs("<main>\n<h1>", out);
    html_text(out, sheet->title);
    fputs("</h1>\n", out);
    write_paragraph(out, "of", sheet->subtitle);
    status = html_sheet(out, arena, sheet, &whole);
    fputs("</main>\n", out);
    html_end(out);
    return status;
}

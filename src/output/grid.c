/* grid.c - column widths, wrapped words, headings of several lines; libsmartcols does the padding.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/grid.h"

#include <libsmartcols/libsmartcols.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#include "base/arena.h"

/*
 * Widths are worked out here, because libsmartcols would cut what does not fit: first each column
 * gets what its longest cell and the words of its heading need; where that is too wide, columns of
 * text give way, one terminal column at a time, always the widest first, down to their longest word;
 * only then may words break. Numbers are never cut.
 */

enum { INDENT = 2, GAP = 2, NARROWEST = 12, HEADING_LINES = 2 };

size_t text_columns(const char *text, size_t length)
{
    mbstate_t state = { 0 };
    size_t columns = 0;

    while (length) {
        wchar_t c;
        size_t n = mbrtowc(&c, text, length, &state);
        int wide;

        if (n == 0 || n > length)
            return columns + length; /* not in the locale's encoding: one column a byte */
        wide = wcwidth(c);
        columns += wide > 0 ? (size_t)wide : 0;
        text += n;
        length -= n;
    }
    return columns;
}

/* Bytes of the character at text, which is not empty. */
static size_t character_bytes(const char *text)
{
    size_t n = 1;

    while (((unsigned char)text[n] & 0xC0) == 0x80)
        n++;
    return n;
}

/* A blank behind a digit most likely parts a number from its unit, so it is the second choice. */
size_t line_length(const char *text, size_t width, size_t *skip)
{
    size_t at = 0, blank = 0, any_blank = 0, hyphen = 0, columns = 0;

    *skip = 0;
    while (text[at]) {
        size_t n = character_bytes(text + at);

        columns += text_columns(text + at, n);
        if (text[at] == ' ') {
            any_blank = at;
            blank = at > 0 && text[at - 1] >= '0' && text[at - 1] <= '9' ? blank : at;
        }
        if (at > 0 && columns > width && text[at] != ' ')
            break;
        if (text[at] == '-' && at > 0)
            hyphen = at + 1;
        at += n;
    }
    if (!text[at])
        return at;
    blank = blank ? blank : any_blank;
    if (!blank && hyphen)
        return *skip = hyphen;
    *skip = blank ? blank + 1 : at;
    while (blank > 1 && text[blank - 1] == ' ') /* of several blanks none is left at the end */
        blank--;
    return blank ? blank : at;
}

/* The longest word of a heading or a cell: a column is not made narrower if that can be helped. */
static size_t widest_word(const char *text)
{
    size_t widest = 0;

    while (*text) {
        size_t n = strcspn(text, " "), columns = text_columns(text, n);

        widest = columns > widest ? columns : widest;
        text += n;
        text += strspn(text, " ");
    }
    return widest;
}

static size_t max_size(size_t a, size_t b)
{
    return a > b ? a : b;
}

static size_t line_count(const char *text, size_t width);

/* Numbers never wrap, but their headings do, to so many lines if their words allow; text takes what it
 * needs. */
static void set_widths(struct grid *grid, size_t heading_lines)
{
    for (size_t c = 0; c < grid->column_count; c++) {
        struct grid_column *column = grid->columns + c;

        column->width = column->right ? widest_word(column->heading)
                                      : text_columns(column->heading, strlen(column->heading));
        while (line_count(column->heading, column->width) > heading_lines)
            column->width++;
        if (column->unit)
            column->width = max_size(column->width, text_columns(column->unit, strlen(column->unit)));
        for (size_t r = 0; r < grid->row_count; r++) {
            const char *cell = grid->cells[r * grid->column_count + c];

            column->width = max_size(column->width, text_columns(cell, strlen(cell)));
        }
    }
}

static size_t total_width(const struct grid *grid)
{
    size_t total = GAP * (grid->column_count - 1);

    for (size_t c = 0; c < grid->column_count; c++)
        total += grid->columns[c].width;
    return total;
}

/* How narrow a text column may get: so that no word breaks, or at last not at all. */
static void set_least(struct grid *grid, int break_words)
{
    for (size_t c = 0; c < grid->column_count; c++) {
        struct grid_column *column = grid->columns + c;

        column->least = NARROWEST;
        for (size_t r = 0; !break_words && r < grid->row_count; r++)
            column->least = max_size(column->least, widest_word(grid->cells[r * grid->column_count + c]));
    }
}

/* Takes a column at a time from the widest text until the table fits, or nothing more can be taken. */
static void fit_widths(struct grid *grid, size_t width)
{
    while (total_width(grid) > width) {
        struct grid_column *widest = NULL;

        for (size_t c = 0; c < grid->column_count; c++) {
            struct grid_column *column = grid->columns + c;

            if (!column->right && !column->whole && column->width > column->least &&
                (!widest || column->width > widest->width))
                widest = column;
        }
        if (!widest)
            return;
        widest->width--;
    }
}

/* Line `which` of a wrapped text, "" past its end. NULL without memory. */
static const char *wrapped_line(struct arena *arena, const char *text, size_t width, size_t which)
{
    size_t skip, length = line_length(text, width, &skip);

    for (; which > 0; which--) {
        if (!skip)
            return "";
        text += skip;
        length = line_length(text, width, &skip);
    }
    return skip ? arena_copy(arena, text, length) : text;
}

/* Lines a text takes when wrapped to that many columns. */
static size_t line_count(const char *text, size_t width)
{
    size_t count = 1, skip;

    for (line_length(text, width, &skip); skip; count++) {
        text += skip;
        line_length(text, width, &skip);
    }
    return count;
}

/* Adds one table row, as many lines as its longest cell; `down` puts short cells at the bottom (headings). */
static int add_row(struct libscols_table *table, struct arena *arena, const struct grid *grid,
                   const char *const *cells, const enum tint *tints, int down)
{
    static const char *const colours[] = {
        [TINT_NONE] = "", [TINT_GOOD] = "\033[32m", [TINT_BAD] = "\033[31m"
    };
    size_t lines = 1;

    for (size_t c = 0; c < grid->column_count; c++)
        lines = max_size(lines, line_count(cells[c], grid->columns[c].width));
    for (size_t l = 0; l < lines; l++) {
        struct libscols_line *line = scols_table_new_line(table, NULL);

        for (size_t c = 0; line && c < grid->column_count; c++) {
            size_t width = grid->columns[c].width;
            size_t lead = down ? lines - line_count(cells[c], width) : 0;
            const char *text = l < lead ? "" : wrapped_line(arena, cells[c], width, l - lead);

            if (!text || scols_line_set_data(line, c, text) != 0)
                return 0;
            if (tints && tints[c] != TINT_NONE && *text &&
                scols_cell_set_color(scols_line_get_cell(line, c), colours[tints[c]]))
                return 0;
        }
        if (!line)
            return 0;
    }
    return 1;
}

/* A row of headings, and one of units where any column has one. */
static int add_headings(struct libscols_table *table, struct arena *arena, const struct grid *grid)
{
    const char **texts = arena_array(arena, grid->column_count, sizeof *texts);
    int units = 0;

    if (!texts)
        return 0;
    for (size_t c = 0; c < grid->column_count; c++)
        texts[c] = grid->columns[c].heading;
    if (!add_row(table, arena, grid, texts, NULL, 1))
        return 0;
    for (size_t c = 0; c < grid->column_count; c++) {
        texts[c] = grid->columns[c].unit ? grid->columns[c].unit : "";
        units += *texts[c] != '\0';
    }
    return !units || add_row(table, arena, grid, texts, NULL, 0);
}

/* Widths were chosen before; libsmartcols must not choose again. */
static int add_columns(struct libscols_table *table, const struct grid *grid)
{
    for (size_t c = 0; c < grid->column_count; c++) {
        if (!scols_table_new_column(table, grid->columns[c].heading, (double)grid->columns[c].width,
                                    SCOLS_FL_STRICTWIDTH | SCOLS_FL_NOEXTREMES |
                                        (grid->columns[c].right ? SCOLS_FL_RIGHT : 0)))
            return 0;
    }
    return 1;
}

/* Indents, and takes off the blanks that padding leaves at line ends. rule: after so many lines a
 * thin line. */
static void print_lines(FILE *out, const char *text, size_t rule_after, size_t rule_width, int colour)
{
    for (size_t n = 0; *text; n++) {
        size_t length = strcspn(text, "\n"), inked = length;

        if (n == rule_after) {
            fputs(colour ? "  \033[2m" : "  ", out);
            for (size_t i = 0; i < rule_width; i++)
                fputs("\u2500", out);
            fputs(colour ? "\033[0m\n" : "\n", out);
        }
        while (inked && text[inked - 1] == ' ')
            inked--;
        fprintf(out, "%*s%.*s\n", inked ? INDENT : 0, "", (int)inked, text);
        text += length + (text[length] == '\n');
    }
}

/* head_lines: where the rule under the headings goes. 0 without memory. */
static int fill(struct libscols_table *table, struct arena *arena, struct grid *grid, size_t *head_lines)
{
    if (!add_columns(table, grid) || !add_headings(table, arena, grid))
        return 0;
    *head_lines = scols_table_get_nlines(table);
    for (size_t r = 0; r < grid->row_count; r++) {
        const enum tint *tints = grid->tints ? grid->tints + r * grid->column_count : NULL;

        if (!add_row(table, arena, grid, grid->cells + r * grid->column_count, tints, 0))
            return 0;
    }
    return 1;
}

/* First headings of two lines; if that is too wide, of as many as their words allow; then words may break. */
int grid_print(FILE *out, struct arena *arena, struct grid *grid, size_t width)
{
    struct libscols_table *table = scols_new_table();
    char *text = NULL;
    size_t head_lines = 0;
    int done = 0;

    if (!table)
        return 0;
    width = width > INDENT ? width - INDENT : 1;
    set_widths(grid, HEADING_LINES);
    if (total_width(grid) > width)
        set_widths(grid, SIZE_MAX);
    for (int break_words = 0; break_words <= 1 && total_width(grid) > width; break_words++) {
        set_least(grid, break_words);
        fit_widths(grid, width);
    }
    scols_table_enable_noheadings(table, 1);
    scols_table_enable_colors(table, grid->colour && grid->tints);
    scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
    if (scols_table_set_column_separator(table, "  ") == 0 && fill(table, arena, grid, &head_lines) &&
        scols_print_table_to_string(table, &text) == 0 && text) {
        print_lines(out, text, head_lines, total_width(grid), grid->colour);
        done = 1;
    }
    free(text);
    scols_unref_table(table);
    return done;
}

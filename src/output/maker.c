/* maker.c - putting a sheet together.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/maker.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "output/cell.h"
#include "output/columns.h"
#include "output/words.h"

/*
 * Sheets are assembled here from parts that are the same everywhere: tables, lists of a few fields under a
 * title, working, notes. A failure for want of memory is kept until sheet_made, so that the functions that
 * describe a sheet have no error paths of their own.
 */

struct sheet_maker sheet_begin(struct arena *arena, const char *title, const char *subtitle)
{
    return (struct sheet_maker){ .arena = arena,
                                 .sheet = { .title = title, .subtitle = subtitle },
                                 .failed = !title || !subtitle };
}

void add_table(struct sheet_maker *maker, struct table table)
{
    if (maker->sheet.table_count == SHEET_TABLES) {
        maker->failed = 1;
        return;
    }
    if (table.single)
        table.row_count = 1;
    maker->tables[maker->sheet.table_count++] = table;
}

void add_note(struct sheet_maker *maker, const char *note)
{
    if (!note || maker->sheet.note_count == SHEET_NOTES)
        maker->failed = 1;
    else if (*note)
        maker->notes[maker->sheet.note_count++] = note;
}

void add_caution(struct sheet_maker *maker, enum caution caution)
{
    add_note(maker, caution_text(caution));
}

/* A column of the kind by its machine name, as long as text shows it. */
static const struct column *column_named(const struct row_kind *kind, struct span name)
{
    for (size_t i = 0; i < kind->column_count; i++) {
        if (span_is(name, kind->columns[i].name) && shown(kind->columns[i].where, SHOW_TEXT))
            return kind->columns + i;
    }
    return NULL;
}

void add_list(struct sheet_maker *maker, const char *title, const struct row_kind *kind, const void *row,
              const char *names)
{
    struct row_kind *picked = arena_zero(maker->arena, sizeof *picked);
    struct column *columns = arena_array(maker->arena, kind->column_count, sizeof *columns);
    struct span rest = span_of(names), name;
    size_t count = 0;

    if (!picked || !columns) {
        maker->failed = 1;
        return;
    }
    while (count < kind->column_count && span_split(&rest, ' ', &name)) {
        const struct column *column = column_named(kind, name);

        if (column)
            columns[count++] = *column;
        else
            maker->failed = 1; /* a name misspelt here: the tests find it */
    }
    *picked = (struct row_kind){ title, columns, count, kind->size };
    add_table(maker,
              (struct table){
                  .title = title, .kind = picked, .rows = row, .single = 1, .where = SHOW_TEXT | SHOW_HTML });
}

/* ---- working ---- */

/* Four significant digits are what a reader can check by hand. */
struct working_row {
    struct work_line line;
    const char *shown;
};

static const struct column working_columns[] = {
    { TEXT(working_row, line.topic, "topic", "Of") },
    { TEXT(working_row, line.figure, "figure", "Figure") },
    { TEXT(working_row, line.formula, "formula", "Formula") },
    { TEXT(working_row, line.numbers, "numbers", "With numbers") },
    { TEXT(working_row, shown, "shown", "Value"), .where = SHOW_TEXT | SHOW_HTML },
    { REAL(working_row, line.value, "value", "Value", NULL), .decimals = 6, .where = SHOW_CSV | SHOW_JSON },
    { TEXT(working_row, line.unit, "unit", "Unit"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(working_row, line.source, "source", "Source") },
};
static const struct row_kind working_kind = ROW_KIND("How it was worked out", working_columns, working_row);

/* The value with four significant digits and its unit; whole numbers and thousands without decimals. */
static const char *value_shown(struct arena *arena, const struct work_line *line)
{
    double size = fabs(line->value);
    int decimals = size >= 1000 || size == rint(size) ? 0 : 3;
    const char *number;

    for (double s = size; decimals > 0 && s >= 10; s /= 10)
        decimals--;
    for (double s = size; size > 0 && size < 1 && s < 1 && decimals < 9; s *= 10)
        decimals++;
    number = number_text(arena, line->value, decimals);
    return number && line->unit && *line->unit ? arena_print(arena, "%s %s", number, line->unit) : number;
}

void add_working(struct sheet_maker *maker, const struct working *working)
{
    struct working_row *rows = arena_array(maker->arena, working->count, sizeof *rows);

    for (size_t i = 0; rows && i < working->count; i++) {
        rows[i].line = working->lines[i];
        rows[i].shown = value_shown(maker->arena, working->lines + i);
        if (!rows[i].shown)
            rows = NULL;
    }
    if (!rows)
        maker->failed = 1;
    add_table(maker, (struct table){ .name = "working",
                                     .kind = &working_kind,
                                     .rows = rows,
                                     .row_count = rows ? working->count : 0,
                                     .paragraphs = 1,
                                     .csv = working->count > 0 });
}

/* ---- figures ---- */

struct figure_row {
    const char *part, *name, *value;
};

static const struct column figure_columns[] = {
    { TEXT(figure_row, part, "part", "Part") },
    { TEXT(figure_row, name, "figure", "Figure") },
    { TEXT(figure_row, value, "value", "Value") },
};
static const struct row_kind figure_kind = ROW_KIND("Figures", figure_columns, figure_row);

/* The rows of "part, figure, value" as they come. */
struct figure_list {
    struct arena *arena;
    struct figure_row *rows;
    size_t count, room;
    long midnight;
};

static int add_figures(struct figure_list *list, const char *part, const struct row_kind *kind,
                       const char *row);

/* Nested rows by their number: "alternator 1". */
static int add_nested(struct figure_list *list, const char *part, const struct column *column,
                      const char *row)
{
    const char *rows = *(const char *const *)(const void *)(row + column->offset);
    size_t count = *(const size_t *)(const void *)(row + column->count_offset);

    for (size_t r = 0; r < count; r++) {
        const char *name = arena_print(list->arena, "%s %zu", part, r + 1);

        if (!name || !add_figures(list, name, column->child, rows + r * column->child->size))
            return 0;
    }
    return 1;
}

/* One value as CSV would write it, but as a text: the column holds values of all kinds. */
static int add_figure(struct figure_list *list, const char *part, const struct column *column,
                      const void *value)
{
    void *items = list->rows;
    struct figure_row *figure = arena_push(list->arena, &items, &list->count, &list->room, sizeof *figure);
    char plain[CELL_SIZE];

    if (!figure)
        return 0;
    list->rows = items;
    *figure = (struct figure_row){ part, column->name, NULL };
    if (column->kind == CELL_TEXT)
        figure->value = cell_string(value);
    else
        figure->value = arena_copy(list->arena, plain, cell_plain(plain, column, value, list->midnight));
    return column->kind == CELL_TEXT || figure->value;
}

/* The fields of one row. 0 without memory. */
static int add_figures(struct figure_list *list, const char *part, const struct row_kind *kind,
                       const char *row)
{
    for (size_t i = 0; i < kind->column_count; i++) {
        const struct column *c = kind->columns + i;

        if (!shown(c->where, SHOW_CSV) || c->kind == CELL_RECORD)
            continue;
        if (c->kind == CELL_ROWS ? !add_nested(list, part, c, row)
                                 : !add_figure(list, part, c, row + c->offset))
            return 0;
    }
    return 1;
}

void add_figures_for_csv(struct sheet_maker *maker)
{
    struct figure_list list = { .arena = maker->arena, .midnight = sheet_midnight(&maker->sheet) };

    for (size_t i = 0; i < maker->sheet.table_count; i++) {
        const struct table *t = maker->tables + i;

        if (t->single && shown(t->where, SHOW_JSON) &&
            !add_figures(&list, t->name ? t->name : "", t->kind, t->rows))
            maker->failed = 1;
    }
    add_table(
        maker,
        (struct table){
            .kind = &figure_kind, .rows = list.rows, .row_count = list.count, .csv = 1, .where = SHOW_CSV });
}

const struct sheet *sheet_made(struct sheet_maker *maker)
{
    struct sheet *sheet = arena_zero(maker->arena, sizeof *sheet);
    struct table *tables = arena_array(maker->arena, SHEET_TABLES, sizeof *tables);
    const char **notes = arena_array(maker->arena, SHEET_NOTES, sizeof *notes);

    if (maker->failed || !sheet || !tables || !notes)
        return NULL;
    memcpy(tables, maker->tables, maker->sheet.table_count * sizeof *tables);
    memcpy(notes, maker->notes, maker->sheet.note_count * sizeof *notes);
    *sheet = maker->sheet;
    sheet->tables = tables;
    sheet->notes = notes;
    return sheet;
}

/* sheets_compare.c - before and after as tables: verdicts, what must hold, figures with their differences.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "output/cell.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"
#include "rules/survey_changes.h"

/*
 *     before, changes    JSON: each side with its checks and cables
 *     verdicts           people: a row for each side
 *     does it hold?      people: a row for each check, a column for each side
 *     cables             people: what must change, a table for each side
 *     figures            people: a table for each part, two columns for each change: value, difference
 *                        JSON: nested by figure; CSV: a line for each figure under each change
 *     findings           of the survey that appear or vanish
 *
 * Tables with a column for each side have as many columns as there are sides, so their kinds are made while
 * running (cells_kind) and their cells are texts.
 */

/* ---- for machines ---- */

static const struct column check_columns[] = {
    { TEXT(compare_check, name, "check", "Check") },
    { FLAG(compare_check, holds, "holds", "Holds") },
    { TEXT(compare_check, says, "says", "Says") },
    { REAL(compare_check, used, "used", "Used", NULL), .decimals = 3 },
    { REAL(compare_check, limit, "limit", "Limit", NULL), .decimals = 3, .none = NONE_AT_ZERO },
    { TEXT(compare_check, unit, "unit", "Unit") },
};
static const struct row_kind check_kind = ROW_KIND("Checks", check_columns, compare_check);

static const struct column cable_columns[] = {
    { TEXT(compare_cable, name, "name", "Cable") },
    { TEXT(compare_cable, from, "from", "From"), .where = SHOW_JSON | SHOW_HTML },
    { TEXT(compare_cable, to, "to", "To"), .where = SHOW_JSON | SHOW_HTML },
    { TEXT(compare_cable, installed, "installed", "Installed") },
    { TEXT(compare_cable, needed, "needed", "It takes") },
    { REAL(compare_cable, fuse_a, "fuse_a", "Fuse", "A"), .none = NONE_AT_ZERO },
    { TEXT(compare_cable, fuse, "fuse_wanted", "Fuse that would do") },
    { TEXT(compare_cable, why, "why", "Because") },
    { TEXT(compare_cable, passed_before, "passed_before", "Passed before") },
};
static const struct row_kind cable_kind = ROW_KIND("Cables and fuses", cable_columns, compare_cable);

/* A side with its lowest point as it is said and written. */
struct side_row {
    struct compare_side side;
    const char *lowest_time, *holds;
    double lowest;
};

static const struct column side_columns[] = {
    { TEXT(side_row, side.name, "name", "Of") },
    { TEXT(side_row, side.verdict, "verdict", "Verdict") },
    { TEXT(side_row, holds, "holds", "Holds"), .where = SHOW_TEXT | SHOW_HTML },
    { FLAG(side_row, side.passes, "passes", "Holds"), .where = SHOW_JSON },
    { TEXT(side_row, side.limited_by, "limited_by", "Limited by"), .where = SHOW_JSON },
    { REAL(side_row, lowest, "min_charge_percent", "Lowest charge", "%"), PERCENT, .decimals = 1 },
    { TEXT(side_row, lowest_time, "min_charge_time", "on"), .where = SHOW_JSON },
    { ROWS(side_row, side.checks, side.check_count, "checks", "Checks", check_kind), .where = SHOW_JSON },
    { ROWS(side_row, side.cables, side.cable_count, "cables", "Cables and fuses that must change",
           cable_kind),
      .where = SHOW_JSON },
};
static const struct row_kind side_kind = ROW_KIND("Verdict", side_columns, side_row);

/* Numbers that are not known are not finite in it: cells show those as none. */
struct value_row {
    const char *change;
    double value, delta, better;
};

static const struct column value_row_columns[] = {
    { TEXT(value_row, change, "change", "Change") },
    { REAL(value_row, value, "value", "Value", NULL), .decimals = 3 },
    { REAL(value_row, delta, "delta", "Difference", NULL), .decimals = 3 },
    { WHOLE(value_row, better, "better", "Better", NULL) },
};
static const struct row_kind value_kind = ROW_KIND("Changes", value_row_columns, value_row);

struct figure_row {
    struct compare_figure figure;
    double before;
    const struct value_row *changes;
    size_t change_count;
};

static const struct column figure_columns[] = {
    { TEXT(figure_row, figure.part, "part", "Part") },
    { TEXT(figure_row, figure.item, "item", "Of") },
    { TEXT(figure_row, figure.name, "figure", "Figure") },
    { TEXT(figure_row, figure.unit, "unit", "Unit") },
    { REAL(figure_row, before, "before", "Before", NULL), .decimals = 3 },
    { ROWS(figure_row, changes, change_count, "changes", "Changes", value_kind) },
};
static const struct row_kind figure_kind = ROW_KIND("Figures", figure_columns, figure_row);

/* One line of the CSV: a figure under one change. */
struct figure_line {
    const char *part, *item, *figure, *unit;
    double before;
    struct value_row value;
};

static const struct column line_columns[] = {
    { TEXT(figure_line, value.change, "change", "Change") },
    { TEXT(figure_line, part, "part", "Part") },
    { TEXT(figure_line, item, "item", "Of") },
    { TEXT(figure_line, figure, "figure", "Figure") },
    { TEXT(figure_line, unit, "unit", "Unit") },
    { REAL(figure_line, before, "before", "Before", NULL), .decimals = 3 },
    { REAL(figure_line, value.value, "value", "Value", NULL), .decimals = 3 },
    { REAL(figure_line, value.delta, "delta", "Difference", NULL), .decimals = 3 },
    { WHOLE(figure_line, value.better, "better", "Better", NULL) },
};
static const struct row_kind line_kind = ROW_KIND("Figures", line_columns, figure_line);

/* What is not known is infinite for the cells, which write nothing for it; 0 would be a figure. */
static double if_known(int known, double value)
{
    return known ? value : (double)INFINITY;
}

static const struct value_row *value_rows(struct arena *arena, const struct compare_figure *figure)
{
    struct value_row *rows = arena_array(arena, figure->after_count, sizeof *rows);

    for (size_t i = 0; rows && i < figure->after_count; i++) {
        const struct compare_value *v = figure->after + i;

        rows[i] =
            (struct value_row){ v->change, if_known(v->known, v->value), if_known(v->delta_known, v->delta),
                                if_known(v->delta_known, v->better) };
    }
    return rows;
}

static void add_figure_list(struct sheet_maker *maker, const struct compare *compare)
{
    struct figure_row *rows = arena_array(maker->arena, compare->figure_count, sizeof *rows);

    for (size_t i = 0; rows && i < compare->figure_count; i++) {
        const struct compare_figure *f = compare->figures + i;

        rows[i] = (struct figure_row){ *f, if_known(f->before_known, f->before), value_rows(maker->arena, f),
                                       f->after_count };
        if (!rows[i].changes)
            rows = NULL;
    }
    maker->failed |= !rows;
    add_table(maker, (struct table){ .name = "figures",
                                     .kind = &figure_kind,
                                     .rows = rows,
                                     .row_count = rows ? compare->figure_count : 0,
                                     .where = SHOW_JSON });
}

static void add_figure_lines(struct sheet_maker *maker, const struct compare *compare)
{
    size_t changes = compare->side_count - 1, count = 0;
    struct figure_line *lines = arena_array(maker->arena, changes * compare->figure_count, sizeof *lines);

    maker->failed |= !lines;
    for (size_t c = 0; lines && c < changes; c++)
        for (size_t i = 0; i < compare->figure_count; i++) {
            const struct compare_figure *f = compare->figures + i;
            const struct value_row *values = value_rows(maker->arena, f);

            maker->failed |= !values;
            if (values)
                lines[count++] = (struct figure_line){
                    f->part, f->item, f->name, f->unit, if_known(f->before_known, f->before), values[c]
                };
        }
    add_table(
        maker,
        (struct table){ .kind = &line_kind, .rows = lines, .row_count = count, .csv = 1, .where = SHOW_CSV });
}

/* ---- sides ---- */

/* ISO 8601 local time of a moment of the plan. */
static const char *time_of(struct arena *arena, const struct week *week, double seconds)
{
    char date[16], clock[16];
    const struct day_mark *first = week->days;

    if (!week->day_count)
        return "";
    date_write(date,
               date_number((struct date){ first->year, first->month, first->day }) + (long)(seconds / 86400));
    clock_write(clock, seconds);
    return arena_print(arena, "%sT%s", date, clock);
}

/* All sides, the plain one first. */
static const struct side_row *side_rows(struct sheet_maker *maker, const struct compare *compare)
{
    struct side_row *rows = arena_array(maker->arena, compare->side_count, sizeof *rows);

    for (size_t i = 0; rows && i < compare->side_count; i++) {
        const struct compare_side *side = compare->sides + i;
        const struct week_summary *w = &side->week->summary;

        rows[i] = (struct side_row){ *side, time_of(maker->arena, side->week, w->min_time_s),
                                     side->passes ? "yes" : "no", w->min_charge };
        maker->failed |= !rows[i].lowest_time;
    }
    maker->failed |= !rows;
    return rows;
}

static void add_sides(struct sheet_maker *maker, const struct compare *compare)
{
    const struct side_row *rows = side_rows(maker, compare);
    size_t count = rows ? compare->side_count : 0;

    if (!count)
        return;
    add_table(maker,
              (struct table){
                  .name = "before", .kind = &side_kind, .rows = rows, .single = 1, .where = SHOW_JSON });
    add_table(maker, (struct table){ .name = "changes",
                                     .kind = &side_kind,
                                     .rows = rows + 1,
                                     .row_count = count - 1,
                                     .where = SHOW_JSON });
    add_table(maker,
              (struct table){
                  .kind = &side_kind, .rows = rows, .row_count = count, .where = SHOW_TEXT | SHOW_HTML });
}

/* ---- for people: one column for each side, one for each difference ---- */

struct side_cell {
    const char *text;
    enum tint tint;
};

/* A kind of row made of so many such cells; the texts of the headings are borrowed. NULL without memory. */
static struct row_kind *cells_kind(struct sheet_maker *maker, const char *title, size_t count)
{
    struct row_kind *kind = arena_zero(maker->arena, sizeof *kind);
    struct column *columns = arena_array(maker->arena, count, sizeof *columns);

    if (!kind || !columns) {
        maker->failed = 1;
        return NULL;
    }
    for (size_t i = 0; i < count; i++)
        columns[i] =
            (struct column){ .name = "",
                             .kind = CELL_TEXT,
                             .offset = i * sizeof(struct side_cell),
                             .tint_offset = i * sizeof(struct side_cell) + offsetof(struct side_cell, tint) };
    *kind = (struct row_kind){ title, columns, count, count * sizeof(struct side_cell) };
    return kind;
}

/* The kinds of these tables are our own and were made writable; only their type says const. */
static struct column *head(struct row_kind *kind, size_t column, const char *heading, int right)
{
    struct column *c = (struct column *)(uintptr_t)(kind->columns + column);

    c->heading = heading;
    c->right = right;
    return c;
}

/* With the figure's decimals; sign 1: a plus before what grows, a plain 0 for no change. */
static const char *amount(struct arena *arena, const struct compare_figure *figure, int known, double value,
                          int sign)
{
    const char *number = known ? number_text(arena, value, figure->decimals) : "-";
    int zero = known && number && strspn(number, "0.") == strlen(number);

    if (sign && zero)
        return "0";
    return number && sign && known && value > 0 ? arena_print(arena, "+%s", number) : number;
}

/* "anchor, loads" where the figure is of something. */
static const char *figure_label(struct arena *arena, const struct compare_figure *f)
{
    if (!f->item)
        return f->label;
    return *f->label ? arena_print(arena, "%s, %s", f->item, f->label) : f->item;
}

/* Changes bear the names of their files, as typed; the one word that is ours begins like "Before". */
static const char *side_heading(const struct compare *compare, size_t side)
{
    const char *name = compare->sides[side].name;

    return side == 0 ? "Before" : strcmp(name, "after") == 0 ? "After" : name;
}

enum { FIGURE_LABEL, FIGURE_UNIT, FIGURE_BEFORE, FIGURE_CHANGES };

static void figure_cells(struct sheet_maker *maker, struct side_cell *cells, const struct compare_figure *f)
{
    static const enum tint tints[] = { TINT_BAD, TINT_NONE, TINT_GOOD };
    struct arena *arena = maker->arena;

    cells[FIGURE_LABEL].text = figure_label(arena, f);
    cells[FIGURE_UNIT].text = f->unit;
    cells[FIGURE_BEFORE].text = amount(arena, f, f->before_known, f->before, 0);
    maker->failed |= !cells[FIGURE_LABEL].text || !cells[FIGURE_BEFORE].text;
    for (size_t i = 0; i < f->after_count; i++) {
        struct side_cell *value = cells + FIGURE_CHANGES + 2 * i, *delta = value + 1;

        value->text = amount(arena, f, f->after[i].known, f->after[i].value, 0);
        delta->text = amount(arena, f, f->after[i].delta_known, f->after[i].delta, 1);
        delta->tint = tints[f->after[i].better + 1];
        maker->failed |= !value->text || !delta->text;
    }
}

/* The figures of one part, which stand together; returns how many. */
static size_t add_part(struct sheet_maker *maker, const struct compare *compare, size_t from)
{
    const char *part = compare->figures[from].part;
    size_t changes = compare->side_count - 1, columns = FIGURE_CHANGES + 2 * changes, count = 0;
    struct row_kind *kind = cells_kind(maker, part, columns);
    struct side_cell *cells;

    while (from + count < compare->figure_count && strcmp(compare->figures[from + count].part, part) == 0)
        count++;
    cells = arena_array(maker->arena, count * columns, sizeof *cells);
    if (!kind || !cells) {
        maker->failed = 1;
        return count;
    }
    head(kind, FIGURE_LABEL, "Figure", 0);
    head(kind, FIGURE_UNIT, "Unit", 0);
    head(kind, FIGURE_BEFORE, side_heading(compare, 0), 1)->name = "before";
    for (size_t i = 0; i < changes; i++) {
        head(kind, FIGURE_CHANGES + 2 * i, side_heading(compare, i + 1), 1)->name = "value";
        head(kind, FIGURE_CHANGES + 2 * i + 1, "Difference", 1)->name = "delta";
    }
    for (size_t i = 0; i < count; i++)
        figure_cells(maker, cells + i * columns, compare->figures + from + i);
    add_table(maker, (struct table){
                         .kind = kind, .rows = cells, .row_count = count, .where = SHOW_TEXT | SHOW_HTML });
    return count;
}

/* ---- what must hold, a line per check ---- */

static const struct compare_check *check_named(const struct compare_side *side, const char *name)
{
    for (size_t i = 0; i < side->check_count; i++)
        if (strcmp(side->checks[i].name, name) == 0)
            return side->checks + i;
    return NULL;
}

/* 1 where a side further left has such a check: its row stands there already. */
static int check_seen(const struct compare *compare, size_t side, const char *name)
{
    for (size_t i = 0; i < side; i++)
        if (check_named(compare->sides + i, name))
            return 1;
    return 0;
}

/* Empty where a side has no such check: it had nothing to hold. */
static void check_cells(struct sheet_maker *maker, struct side_cell *cells, const struct compare *compare,
                        const struct compare_check *check)
{
    cells[0].text = check->thing;
    for (size_t s = 0; s < compare->side_count; s++) {
        const struct compare_check *c = check_named(compare->sides + s, check->name);

        cells[s + 1].text = c ? arena_print(maker->arena, "%s, %s", c->holds ? "yes" : "NO", c->says) : "";
        cells[s + 1].tint = c && !c->holds ? TINT_BAD : TINT_NONE;
        maker->failed |= !cells[s + 1].text;
    }
}

static void add_checks(struct sheet_maker *maker, const struct compare *compare)
{
    size_t columns = compare->side_count + 1, most = 0, count = 0;
    struct row_kind *kind = cells_kind(maker, "Does it hold?", columns);
    struct side_cell *cells;

    for (size_t s = 0; s < compare->side_count; s++)
        most += compare->sides[s].check_count;
    cells = arena_array(maker->arena, most * columns, sizeof *cells);
    if (!kind || !cells) {
        maker->failed = 1;
        return;
    }
    head(kind, 0, "What", 0);
    for (size_t s = 0; s < compare->side_count; s++)
        head(kind, s + 1, side_heading(compare, s), 0);
    for (size_t s = 0; s < compare->side_count; s++)
        for (size_t i = 0; i < compare->sides[s].check_count; i++)
            if (!check_seen(compare, s, compare->sides[s].checks[i].name))
                check_cells(maker, cells + count++ * columns, compare, compare->sides[s].checks + i);
    add_table(maker, (struct table){
                         .kind = kind, .rows = cells, .row_count = count, .where = SHOW_TEXT | SHOW_HTML });
}

/* ---- the wiring ---- */

static void add_cables(struct sheet_maker *maker, const struct compare *compare)
{
    for (size_t s = 0; s < compare->side_count; s++) {
        const struct compare_side *side = compare->sides + s;
        const char *title = arena_print(maker->arena, "Cables and fuses that must change, %s", side->name);

        maker->failed |= !title;
        add_table(maker, (struct table){ .title = title,
                                         .kind = &cable_kind,
                                         .rows = side->cables,
                                         .row_count = side->cable_count,
                                         .where = SHOW_TEXT | SHOW_HTML });
    }
}

/* ---- findings that appear and vanish ---- */

static const struct column finding_columns[] = {
    { TEXT(survey_change, change, "change", "Change") },
    { TEXT(survey_change, what, "what", "Finding") },
    { TEXT(survey_change, finding.id, "id", "Rule") },
    { TEXT(survey_change, finding.priority, "priority", "Priority") },
    { TEXT(survey_change, finding.place, "place", "Place") },
    { TEXT(survey_change, finding.fact, "fact", "Fact") },
    { TEXT(survey_change, finding.action, "action", "To achieve"), .where = SHOW_JSON | SHOW_HTML },
    { TEXT(survey_change, finding.reference, "reference", "Reference"), .where = SHOW_JSON },
};
static const struct row_kind finding_kind =
    ROW_KIND("Survey findings that appear or vanish", finding_columns, survey_change);

static void add_findings(struct sheet_maker *maker, const struct survey_changes *findings)
{
    if (!findings)
        return;
    add_table(maker, (struct table){ .name = "findings",
                                     .kind = &finding_kind,
                                     .rows = findings->rows,
                                     .row_count = findings->count,
                                     .where = SHOW_TEXT | SHOW_JSON | SHOW_HTML });
    if (!findings->count)
        add_note(maker, "No survey finding appears or vanishes.");
}

/* ---- the sheet ---- */

static const struct column top_columns[] = {
    { TEXT(compare, boat, "boat", "Boat") },
    { TEXT(compare, place, "place", "Place") },
};
static const struct row_kind top_kind = ROW_KIND("Comparison", top_columns, compare);

const struct sheet *sheet_compare(struct arena *arena, const struct compare *compare,
                                  const struct survey_changes *findings)
{
    struct sheet_maker maker =
        sheet_begin(arena, "Before and after", listed(arena, compare->boat, compare->place, NULL, NULL));

    add_table(&maker, (struct table){ .kind = &top_kind, .rows = compare, .single = 1, .where = SHOW_JSON });
    add_sides(&maker, compare);
    add_checks(&maker, compare);
    add_cables(&maker, compare);
    for (size_t i = 0; i < compare->figure_count;)
        i += add_part(&maker, compare, i);
    add_findings(&maker, findings);
    add_figure_list(&maker, compare);
    add_figure_lines(&maker, compare);
    add_caution(&maker, CAUTION_PLANNING);
    add_caution(&maker, CAUTION_ISOLATE);
    add_caution(&maker, CAUTION_SHORT_CIRCUIT);
    return sheet_made(&maker);
}

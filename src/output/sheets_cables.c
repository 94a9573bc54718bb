/* sheets_cables.c - the sheet of cables: its head, the schedules by name, which of them are shown.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stddef.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

static const struct column top_columns[] = {
    { TEXT(circuit, finding, "finding", "Finding") },
    { TEXT(circuit, remedy, "remedy", "Would do, least copper") },
    { TEXT(circuit, rules, "rules", "Rule set") },
    { TEXT(circuit, rules_title, "rules_title", "Title") },
    { TEXT(circuit, edition, "edition", "Edition") },
    { TEXT(circuit, rules_scope, "scope", "Scope") },
    { TEXT(circuit, scenario, "scenario", "Scenario shown") },
    { REAL(circuit, nominal_v, "nominal_v", "Percent are of", "V"), .decimals = 0 },
    { REAL(circuit, copper_kg, "copper_kg", "Copper in all", "kg"), .decimals = 1 },
    { WHOLE(circuit, unwired_loads, "unwired_loads", "Loads that no cable reaches", NULL) },
    { TEXT(circuit, unwired, "unwired", "These") },
    { FLAG(circuit, passes, "passes", "Everything passes") },
};
static const struct row_kind top_kind = ROW_KIND("Circuits", top_columns, circuit);

/* ---- what holds for every schedule ---- */

struct convention {
    const char *lengths, *sizes, *percent, *drop, *conductors, *rules, *colours, *state, *date;
};

static const struct column convention_columns[] = {
    { TEXT(convention, lengths, "lengths", "Lengths") },
    { TEXT(convention, sizes, "sizes", "Sizes") },
    { TEXT(convention, percent, "percent_of", "Percent") },
    { TEXT(convention, drop, "drop", "Drop") },
    { TEXT(convention, conductors, "conductors", "Conductors") },
    { TEXT(convention, rules, "judged_by", "Judged by") },
    { TEXT(convention, colours, "colours", "Colours") },
    { TEXT(convention, state, "state", "State") },
    { TEXT(convention, date, "date", "Date") },
};
static const struct row_kind convention_kind = ROW_KIND("Conventions", convention_columns, convention);

/* A rule set without a formula judges what a meter shows. */
static const char *drop_words(const struct circuit *c)
{
    return c->cable_count > 0 && c->cables[0].rule_drop_v < 0
               ? "measured: what a meter shows; judged: the same at its most, the set has no formula"
               : "measured: what a meter shows; judged: by the rule's formula, at its most";
}

/* What a reader must know before any figure: from where lengths, drops and colours are
 * meant; room for date and revision. */
static void add_conventions(struct sheet_maker *maker, const struct circuit *c, int us)
{
    struct convention *row = arena_zero(maker->arena, sizeof *row);

    if (!row) {
        maker->failed = 1;
        return;
    }
    *row = (struct convention){
        .lengths = "one way, along the route; the way back has a column of its own",
        .sizes = us ? "AWG first, mm2 in brackets; of a metric conductor the nearest AWG, which is not the "
                      "same copper"
                    : "mm2 first, in brackets as printed or the nearest AWG, which is not the same copper",
        .percent = arena_print(maker->arena, "of the nominal volts of the circuit; of the boat %.0f V",
                               c->nominal_v),
        .drop = drop_words(c),
        .conductors = arena_print(
            maker->arena, "measured drops are at their own temperature, %.0f to %.0f C, in scenario %s",
            c->coolest_c, c->hottest_c, c->scenario),
        .rules = arena_print(maker->arena, "%s, %s", c->rules_title, c->edition),
        .colours = "DC positive red, negative black; AC brown, light blue, green/yellow; common practice: "
                   "verify in the standard",
        .state = c->state,
        .date = "____________  revision ______  by ____________",
    };
    add_table(
        maker,
        (struct table){ .kind = &convention_kind, .rows = row, .single = 1, .where = SHOW_TEXT | SHOW_HTML });
}

/* ---- the schedules by name ---- */

struct schedule_row {
    const char *name;
    void (*add)(struct schedule *);
    int on_demand; /* 1: long, or the same in other words: people get it when they name it */
};

static const struct schedule_row schedule_table[] = {
    { "cables", schedule_cables, 0 },     { "fuses", schedule_fuses, 0 },
    { "circuits", schedule_circuits, 0 }, { "panels", schedule_panels, 0 },
    { "tree", schedule_tree, 0 },         { "nodes", schedule_nodes, 0 },
    { "loads", schedule_loads, 1 },       { "banks", schedule_banks, 0 },
    { "inverter", schedule_inverter, 0 }, { "scenarios", schedule_scenarios, 0 },
    { "sources", schedule_sources, 0 },   { "bill", schedule_bill, 0 },
    { "labels", schedule_labels, 1 },
};

enum { SCHEDULES = sizeof schedule_table / sizeof schedule_table[0] };

const char *sheet_cables_name(size_t index)
{
    return index < SCHEDULES ? schedule_table[index].name : NULL;
}

/* 1 where the name stands in a list with commas. */
static int named_in(const char *list, const char *name)
{
    struct span rest = span_of(list), one;

    while (span_split(&rest, ',', &one))
        if (span_is(span_trim(one), name))
            return 1;
    return 0;
}

static const struct column *column_of(const struct row_kind *kind, struct span name)
{
    for (size_t i = 0; i < kind->column_count; i++)
        if (span_is(name, kind->columns[i].name))
            return &kind->columns[i];
    return NULL;
}

/* Lengths in feet, the short ways to a device in inches; both exact by the international foot. */
static void to_us(struct column *c)
{
    int inches = strncmp(c->name, "distance", 8) == 0;

    c->unit = inches ? "in" : "ft";
    c->scale = (c->scale == 0 ? 1 : c->scale) / (inches ? 0.0254 : 0.3048);
    c->decimals = 1;
}

/* One column as people get it: "name" or "name=Another_heading". 0: no such name, or no memory. */
static int pick(struct schedule *s, struct column *out, const struct row_kind *kind, struct span wish)
{
    struct span name;
    const struct column *from;
    char *heading;

    span_split(&wish, '=', &name);
    if (!(from = column_of(kind, name)))
        return 0;
    *out = *from;
    if (s->us && out->unit && strcmp(out->unit, "m") == 0)
        to_us(out);
    if (wish.length == 0)
        return 1;
    if (!(heading = arena_copy(s->maker->arena, wish.at, wish.length)))
        return 0;
    for (char *at = heading; (at = strchr(at, '_'));)
        *at = ' ';
    out->heading = heading;
    return 1;
}

/* A row kind with only those columns of another that are named, in that order; NULL without memory, or where
 * a name is misspelt here: the tests find it. */
static const struct row_kind *picked(struct schedule *s, const struct row_kind *kind, const char *title,
                                     const char *names)
{
    struct row_kind *out = arena_zero(s->maker->arena, sizeof *out);
    struct column *columns = arena_array(s->maker->arena, kind->column_count, sizeof *columns);
    struct span rest = span_of(names), wish;
    size_t count = 0;

    if (!out || !columns)
        return NULL;
    while (span_split(&rest, ' ', &wish))
        if (wish.length > 0 && !pick(s, &columns[count++], kind, wish))
            return NULL;
    *out = (struct row_kind){ title, columns, count, kind->size };
    return out;
}

/* A table of machine names, and for people too where `people` says so. */
static void add_rows(struct schedule *s, unsigned people, struct table table, int main)
{
    table.csv = main && s->csv;
    table.where = people | SHOW_JSON | (table.csv ? SHOW_CSV : 0u);
    add_table(s->maker, table);
}

void schedule_rows(struct schedule *s, const char *name, const struct row_kind *kind, const void *rows,
                   size_t count, int main)
{
    add_rows(s, 0, (struct table){ .name = name, .kind = kind, .rows = rows, .row_count = count }, main);
}

void schedule_show(struct schedule *s, const char *title, const struct row_kind *kind, const void *rows,
                   size_t count, const char *names)
{
    const struct row_kind *shown_kind = picked(s, kind, title, names);

    if (!shown_kind)
        s->maker->failed = 1;
    else if (!s->only_json)
        add_table(s->maker, (struct table){ .kind = shown_kind, .rows = rows, .row_count = count,
                                            .where = SHOW_TEXT | SHOW_HTML });
}

/* The rows with a tint behind each. */
struct judged_rows {
    char *rows;
    size_t size, tint; /* [byte] of a row, and where its tint stands */
};

/* Rows with a tint behind each: copies, for the rows of the result have no room for it. */
static struct judged_rows judged(struct arena *arena, const struct row_kind *kind, const void *rows,
                                 size_t count, int (*holds)(const void *row))
{
    size_t step = _Alignof(max_align_t), tint = (kind->size + step - 1) / step * step;
    struct judged_rows out = { .size = tint + step, .tint = tint };

    out.rows = arena_array(arena, count + 1, out.size);
    for (size_t i = 0; out.rows && i < count; i++) {
        const char *row = (const char *)rows + i * kind->size;
        enum tint meant = holds(row) ? TINT_GOOD : TINT_BAD;

        memcpy(out.rows + i * out.size, row, kind->size);
        memcpy(out.rows + i * out.size + tint, &meant, sizeof meant);
    }
    return out;
}

void schedule_judge(struct schedule *s, const char *title, const struct row_kind *kind, const void *rows,
                    size_t count, const char *names, const char *verdict, int (*holds)(const void *row))
{
    struct judged_rows with = judged(s->maker->arena, kind, rows, count, holds);
    struct row_kind *wide = arena_zero(s->maker->arena, sizeof *wide);
    struct column *columns = arena_array(s->maker->arena, kind->column_count, sizeof *columns);

    if (!with.rows || !wide || !columns) {
        s->maker->failed = 1;
        return;
    }
    memcpy(columns, kind->columns, kind->column_count * sizeof *columns);
    for (size_t i = 0; i < kind->column_count; i++)
        if (strcmp(columns[i].name, verdict) == 0)
            columns[i].tint_offset = with.tint;
    *wide = (struct row_kind){ kind->title, columns, kind->column_count, with.size };
    schedule_show(s, title, wide, with.rows, count, names);
}

void schedule_all(struct schedule *s, const char *name, const struct row_kind *kind, const void *rows,
                  size_t count, int main)
{
    add_rows(s, s->only_json ? 0 : SHOW_TEXT | SHOW_HTML,
             (struct table){ .name = name, .kind = kind, .rows = rows, .row_count = count }, main);
}

/* Those asked for by name, else all but the long ones; the first of them is what CSV writes. */
static void add_schedules(struct sheet_maker *maker, const struct circuit *circuit,
                          const struct cables_view *view)
{
    int csv = 0;

    for (size_t i = 0; i < SCHEDULES; i++) {
        const struct schedule_row *row = &schedule_table[i];
        struct schedule s = { .maker = maker, .circuit = circuit, .us = view->units == CABLES_US };

        if (view->sheets && !named_in(view->sheets, row->name))
            continue;
        s.only_json = !view->sheets && row->on_demand;
        s.csv = !csv++;
        row->add(&s);
    }
}

const struct sheet *sheet_cables(struct arena *arena, const struct circuit *circuit,
                                 const struct cables_view *view)
{
    struct cables_view asked = view ? *view : (struct cables_view){ 0 };
    struct sheet_maker maker = sheet_begin(
        arena, "Cables, fuses and volts",
        arena_print(arena, "%s, by %s, %s", circuit->boat, circuit->rules_title, circuit->edition));

    if (asked.units == CABLES_OWN)
        asked.units = circuit->us_sizes ? CABLES_US : CABLES_METRIC;
    add_list(&maker, "Result", &top_kind, circuit,
             "finding remedy scope scenario nominal_v copper_kg unwired_loads passes");
    add_conventions(&maker, circuit, asked.units == CABLES_US);
    add_table(
        &maker,
        (struct table){ .name = NULL, .kind = &top_kind, .rows = circuit, .single = 1, .where = SHOW_JSON });
    add_schedules(&maker, circuit, &asked);
    if (asked.working)
        add_working(&maker, asked.working);
    for (int c = 0; c < CAUTIONS; c++)
        add_caution(&maker, (enum caution)c);
    return sheet_made(&maker);
}

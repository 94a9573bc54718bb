/* sheets_report.c - sheets that stand in a report alone: the verdict, what was assumed, the sources.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/sheets_report.h"

#include <string.h>

#include "base/arena.h"
#include "base/publications.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"

/* ---- the verdict ---- */

struct check_row {
    const char *thing, *holds, *says;
    enum tint tint;
};

static const struct column check_columns[] = {
    { TEXT(check_row, thing, "thing", "What") },
    { TEXT(check_row, holds, "holds", "Holds"), .tint_offset = offsetof(struct check_row, tint) },
    { TEXT(check_row, says, "says", "How it stands") },
};
static const struct row_kind check_kind = ROW_KIND("Does it hold?", check_columns, check_row);

/* Figures of two results in one list. */
struct glance {
    struct week_summary week;
    struct size size;
};

static const struct column glance_columns[] = {
    { REAL(glance, week.min_charge, "min_charge_percent", "Lowest charge", "%"), PERCENT, .decimals = 1 },
    { TIME(glance, week.min_time_s, "min_charge_time", "on") },
    { REAL(glance, week.floor, "floor_percent", "Floor", "%"), PERCENT, .decimals = 1 },
    { REAL(glance, week.unserved_wh, "unserved_wh", "Wanted but not delivered", "Wh"), .quiet = 1 },
    { REAL(glance, week.autonomy_h, "autonomy_h", "From full to the floor without any source", "h"),
      .decimals = 1 },
    { REAL(glance, week.load_wh, "load_wh", "Loads over the plan", "Wh") },
    { REAL(glance, week.solar_wh, "solar_wh", "Solar over the plan", "Wh"), .quiet = 1 },
    { REAL(glance, week.solar_spilled_wh, "solar_spilled_wh", "Solar that found no home", "Wh"), .quiet = 1 },
    { REAL(glance, week.engine_h, "engine_h", "Engine", "h"), .decimals = 1, .quiet = 1 },
    { REAL(glance, week.generator_h, "generator_h", "Generator", "h"), .decimals = 1, .quiet = 1 },
    { REAL(glance, size.bank.installed_ah, "bank_installed_ah", "Bank, installed", "Ah") },
    { REAL(glance, size.bank.needed_ah, "bank_needed_ah", "Bank, needed", "Ah") },
    { REAL(glance, size.inverter.installed_w, "inverter_installed_w", "Inverter, installed", "W"),
      .quiet = 1 },
    { REAL(glance, size.inverter.continuous_w, "inverter_needed_w", "Inverter, needed with reserve", "W"),
      .quiet = 1 },
};
static const struct row_kind glance_kind = ROW_KIND("At a glance", glance_columns, glance);

static const struct check_row *check_rows(struct sheet_maker *maker, const struct compare_side *side)
{
    struct check_row *rows = arena_array(maker->arena, side->check_count, sizeof *rows);

    for (size_t i = 0; rows && i < side->check_count; i++) {
        const struct compare_check *c = side->checks + i;

        rows[i] =
            (struct check_row){ c->thing, c->holds ? "yes" : "NO", c->says, c->holds ? TINT_GOOD : TINT_BAD };
    }
    maker->failed |= !rows;
    return rows;
}

const struct sheet *sheet_verdict(struct arena *arena, const struct compare_side *side)
{
    struct sheet_maker maker = sheet_begin(arena, side->verdict, "");
    struct glance *glance = arena_zero(arena, sizeof *glance);
    const struct week *week = side->week;

    if (!glance)
        return NULL;
    *glance = (struct glance){ week->summary, *side->size };
    if (week->day_count) {
        maker.sheet.year = week->days[0].year;
        maker.sheet.month = week->days[0].month;
        maker.sheet.day = week->days[0].day;
    }
    add_table(&maker, (struct table){ .name = "checks",
                                      .kind = &check_kind,
                                      .rows = check_rows(&maker, side),
                                      .row_count = side->check_count });
    add_table(&maker, (struct table){ .name = "glance", .kind = &glance_kind, .rows = glance, .single = 1 });
    add_caution(&maker, CAUTION_PLANNING);
    return sheet_made(&maker);
}

/* ---- the balance, kinds of day side by side ---- */

/* What every row begins with; behind it stands [Wh] of each kind of day. */
struct daily_row {
    const char *name, *supply, *number_from;
    double running_w;
};

static const struct column daily_columns[] = {
    { TEXT(daily_row, name, "name", "Name") },
    { TEXT(daily_row, supply, "supply", "Supply") },
    { REAL(daily_row, running_w, "running_w", "Running", "W"), .none = NONE_AT_ZERO },
    { TEXT(daily_row, number_from, "number_from", "Figure is") },
};

/* The last of them stands behind the days. */
enum { DAILY_COLUMNS = sizeof daily_columns / sizeof *daily_columns, DAILY_FIRST = DAILY_COLUMNS - 1 };

struct daily {
    struct sheet_maker *maker;
    const struct balance *balance;
    int sources; /* 1: those, 0: loads */
    char *rows;
    size_t size, count, room;
};

static const struct balance_item *items_of(const struct daily *daily, size_t day, size_t *count)
{
    const struct balance_day *d = daily->balance->days + day;

    *count = daily->sources ? d->source_count : d->load_count;
    return daily->sources ? d->sources : d->loads;
}

/* The row of that name, new where there is none; NULL without memory. */
static char *daily_row_of(struct daily *daily, const struct balance_item *item)
{
    void *items = daily->rows;
    char *row;

    for (size_t i = 0; i < daily->count; i++) {
        row = daily->rows + i * daily->size;
        if (strcmp(((struct daily_row *)(void *)row)->name, item->name) == 0)
            return row;
    }
    row = arena_push(daily->maker->arena, &items, &daily->count, &daily->room, daily->size);
    daily->rows = items;
    if (row)
        *(struct daily_row *)(void *)row =
            (struct daily_row){ item->name, item->supply, item->number_from, item->running_w };
    return row;
}

static void daily_fill(struct daily *daily)
{
    for (size_t d = 0; d < daily->balance->day_count; d++) {
        size_t count;
        const struct balance_item *items = items_of(daily, d, &count);

        for (size_t i = 0; i < count; i++) {
            char *row = daily_row_of(daily, items + i);

            if (row)
                ((double *)(void *)(row + sizeof(struct daily_row)))[d] = items[i].wh;
            daily->maker->failed |= !row;
        }
    }
}

static const struct row_kind *daily_kind(const struct daily *daily, const char *title)
{
    size_t days = daily->balance->day_count;
    struct row_kind *kind = arena_zero(daily->maker->arena, sizeof *kind);
    struct column *columns = arena_array(daily->maker->arena, DAILY_COLUMNS + days, sizeof *columns);

    if (!kind || !columns)
        return NULL;
    memcpy(columns, daily_columns, DAILY_FIRST * sizeof *columns);
    columns[DAILY_FIRST + days] = daily_columns[DAILY_FIRST];
    for (size_t d = 0; d < days; d++)
        columns[DAILY_FIRST + d] = (struct column){ .name = "wh",
                                                    .heading = daily->balance->days[d].kind,
                                                    .unit = "Wh",
                                                    .kind = CELL_REAL,
                                                    .offset = sizeof(struct daily_row) + d * sizeof(double) };
    *kind = (struct row_kind){ title, columns, DAILY_COLUMNS + days, daily->size };
    return kind;
}

static void add_daily(struct sheet_maker *maker, const struct balance *balance, int sources)
{
    struct daily daily = { .maker = maker, .balance = balance, .sources = sources };
    const struct row_kind *kind;

    daily.size = sizeof(struct daily_row) + balance->day_count * sizeof(double);
    daily_fill(&daily);
    kind = daily_kind(&daily, sources ? "Sources, a day of each kind" : "Loads, a day of each kind");
    maker->failed |= !kind;
    add_table(maker, (struct table){ .name = sources ? "sources" : "loads",
                                     .kind = kind,
                                     .rows = daily.rows,
                                     .row_count = kind ? daily.count : 0 });
}

const struct sheet *sheet_daily(struct arena *arena, const struct balance *balance)
{
    const struct sheet *whole = sheet_balance(arena, balance, 0);
    struct sheet_maker maker = sheet_begin(arena, "Daily energy balance", "");

    if (!whole)
        return NULL;
    for (size_t i = 0; i < whole->table_count;
         i++) { /* its summary and its kinds of day, without their items */
        struct table table = whole->tables[i];

        if (table.csv)
            continue;
        table.no_children = 1;
        add_table(&maker, table);
    }
    add_daily(&maker, balance, 0);
    add_daily(&maker, balance, 1);
    for (size_t i = 0; i < whole->note_count; i++)
        add_note(&maker, whole->notes[i]);
    return sheet_made(&maker);
}

/* ---- what was assumed ---- */

enum { NAMES_SHOWN = 3 };

struct assumed_row {
    const char *kind, *key, *value, *why, *names;
    size_t count;
};

static const struct column assumed_columns[] = {
    { TEXT(assumed_row, kind, "section", "Section") }, { TEXT(assumed_row, key, "key", "Key") },
    { TEXT(assumed_row, value, "value", "Taken as") }, { TEXT(assumed_row, why, "why", "Because") },
    { TEXT(assumed_row, names, "names", "For") },
};
static const struct row_kind assumed_kind =
    ROW_KIND("Assumed, because the profile does not say", assumed_columns, assumed_row);

/* "load fridge" is of the kind "load". */
static int same_kind(const char *kind, const char *section)
{
    size_t length = strlen(kind);

    return strncmp(section, kind, length) == 0 && (section[length] == ' ' || !section[length]);
}

static int same(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

static struct assumed_row *row_like(struct assumed_row *rows, size_t count, const struct assumption *a)
{
    for (size_t i = 0; i < count; i++)
        if (same_kind(rows[i].kind, a->section) && same(rows[i].key, a->key) &&
            same(rows[i].value, a->value) && same(rows[i].why, a->why))
            return rows + i;
    return NULL;
}

/* Adds one more name to those of a row, as long as they are few. 0 without memory. */
static int name_add(struct arena *arena, struct assumed_row *row, const char *section)
{
    const char *name = strchr(section, ' ');

    row->count++;
    if (!name || row->count > NAMES_SHOWN)
        return 1;
    row->names = arena_print(arena, "%s%s%s", row->names, *row->names ? ", " : "", name + 1);
    return row->names != NULL;
}

static int names_close(struct arena *arena, struct assumed_row *row)
{
    if (row->count > NAMES_SHOWN)
        row->names = arena_print(arena, "%s and %zu more", row->names, row->count - NAMES_SHOWN);
    return row->names != NULL;
}

const struct sheet *sheet_assumed(struct arena *arena, const struct boat *boat)
{
    struct sheet_maker maker = sheet_begin(arena, "What was assumed", "");
    struct assumed_row *rows = arena_array(arena, boat->assumption_count, sizeof *rows), *row;
    size_t count = 0;

    for (size_t i = 0; rows && i < boat->assumption_count; i++) {
        const struct assumption *a = boat->assumptions + i;

        if (!(row = row_like(rows, count, a))) {
            row = rows + count++;
            *row = (struct assumed_row){
                arena_copy(arena, a->section, strcspn(a->section, " ")), a->key, a->value, a->why, "", 0
            };
        }
        maker.failed |= !row->kind || !name_add(arena, row, a->section);
        if (maker.failed)
            break;
    }
    for (size_t i = 0; i < count && !maker.failed; i++)
        maker.failed |= !names_close(arena, rows + i);
    maker.failed |= !rows;
    add_table(&maker,
              (struct table){ .name = "assumed", .kind = &assumed_kind, .rows = rows, .row_count = count });
    return sheet_made(&maker);
}

/* ---- sources ---- */

struct source_row {
    const char *what, *source, *known;
};

static const struct column source_columns[] = {
    { TEXT(source_row, what, "what", "Used for") },
    { TEXT(source_row, source, "source", "Publication") },
    { TEXT(source_row, known, "known", "How it is known") },
};
static const struct row_kind source_kind = ROW_KIND("Publications", source_columns, source_row);

/* Those that the report's own parts lean on. */
static void add_publications(struct sheet_maker *maker, unsigned of)
{
    struct source_row *rows;
    size_t count = 0;

    for (const struct publication *p = publications; p->key; p++)
        count += (p->of & of) != 0;
    rows = arena_array(maker->arena, count, sizeof *rows);
    maker->failed |= !rows;
    count = 0;
    for (const struct publication *p = publications; rows && p->key; p++)
        if (p->of & of)
            rows[count++] = (struct source_row){ p->used_for, p->title, p->known };
    add_table(maker, (struct table){
                         .name = "publications", .kind = &source_kind, .rows = rows, .row_count = count });
}

struct sources {
    struct arena *arena;
    struct source_row *rows;
    size_t count, room;
    int failed;
};

/* Inputs and results of other sums have no publication behind them. */
static int is_source(const char *source)
{
    static const char *const none[] = { "given",
                                        "guessed",
                                        "converted",
                                        "derived",
                                        "default",
                                        "simulation",
                                        "daily balance",
                                        "simulated plan",
                                        "site and plan",
                                        "rounded up",
                                        "the largest of the three",
                                        "handbook sum" };

    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        if (strcmp(source, none[i]) == 0)
            return 0;
    return *source != '\0';
}

static void source_add(struct sources *s, const char *topic, const char *figure, const char *source)
{
    void *items = s->rows;
    struct source_row *row;

    for (size_t i = 0; i < s->count; i++)
        if (same(s->rows[i].source, source))
            return;
    row = arena_push(s->arena, &items, &s->count, &s->room, sizeof *row);
    s->rows = items;
    if (row)
        *row = (struct source_row){ arena_print(s->arena, "%s, %s", topic, figure), source, NULL };
    s->failed |= !row || !row->what;
}

static void sources_of(struct sources *s, const struct working *working, const char *topic)
{
    for (size_t i = 0; i < working->count && !s->failed; i++) {
        const struct work_line *line = working->lines + i;

        if (line->source && is_source(line->source))
            source_add(s, topic ? topic : line->topic, line->figure, line->source);
    }
}

const struct sheet *sheet_sources(struct arena *arena, const struct report *report)
{
    static const struct row_kind figure_kind = ROW_KIND("Figures", source_columns, source_row);
    const struct compare_side *side = report->compare->sides + report->compare->side_count - 1;
    struct sheet_maker maker = sheet_begin(arena, "Sources", "");
    struct sources s = { .arena = arena };

    sources_of(&s, &side->size->working, NULL);
    sources_of(&s, &side->balance->working, "balance");
    maker.failed |= s.failed;
    add_publications(&maker, PUBLICATION_ENERGY | (side->circuit ? PUBLICATION_CABLES : 0) |
                                 (report->survey ? PUBLICATION_SURVEY : 0));
    add_table(&maker,
              (struct table){
                  .name = "figure_sources", .kind = &figure_kind, .rows = s.rows, .row_count = s.count });
    add_note(&maker, "Values the profile does not give have their sources under \"What was assumed\".");
    add_note(&maker, "From memory: recalled, not read again; check it before you rely on it. Quoted: read in "
                     "another public work. Common practice: a habit of the trade, no publication.");
    return sheet_made(&maker);
}

/* test_report_numbers.c - the numbers of the report are those of the JSON of the commands that show the same.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/json.h"
#include "support/page.h"

static const char boat[] = "profiles/induction-24v-lfp.ini";
static const char bigger[] = "profiles/changes/induction-24v-lfp.bigger-inverter.ini";
static const char *const profiles[] = { "profiles/induction-24v-lfp.ini", "profiles/cruiser-12v-agm.ini",
                                        "profiles/simple-12v-flooded.ini", "profiles/starter.ini",
                                        "profiles/as-found.ini" };

enum { PROFILES = sizeof profiles / sizeof profiles[0] };

/* A figure as the page shows it is the one of the JSON, to the digits shown. */
static void same_number(const struct page_seen *seen, const char *table, const char *name, double want)
{
    const char *text = page_text(seen, table, name), *point = strchr(text, '.');
    int decimals = point ? (int)strspn(point + 1, "0123456789") : 0;
    char label[160];
    char *end;
    double got = strtod(text, &end);

    assert_true(end > text && !end[strspn(end, " ")]);
    snprintf(label, sizeof label, "%s.%s", table, name);
    row_check(label, got, want, 0.5 * pow(10, -decimals) + 1e-6 * fabs(want) + 1e-9, "by hand: the same run");
}

static void same_members(const struct page_seen *seen, const char *table, json_t *object)
{
    const char *name;
    json_t *value;
    size_t found = 0;

    json_object_foreach(object, name, value)
    {
        for (size_t i = 0; i < seen->cell_count; i++) {
            const struct page_cell *c = seen->cells + i;

            if (strcmp(c->name, name) || strcmp(c->table, table) || !json_is_number(value))
                continue;
            same_number(seen, table, name, json_number_value(value));
            found++;
            break;
        }
    }
    if (!found)
        fail_msg("no number of the table \"%s\" was found", table);
}

TEST(the_numbers_of_the_week_are_those_of_the_json)
{
    for (size_t i = 0; i < PROFILES; i++) {
        struct page_seen seen;
        json_t *week = JSON_RUN("week", profiles[i]);
        size_t day = 0;

        page_of_report(&seen, profiles[i], NULL);
        same_members(&seen, "", json_at(week, "summary"));
        same_members(&seen, "glance", json_at(week, "summary"));
        for (size_t c = 0; c < seen.cell_count; c++) {
            char path[64];

            if (strcmp(seen.cells[c].table, "days") || strcmp(seen.cells[c].name, "min_charge_percent"))
                continue;
            snprintf(path, sizeof path, "days.%zu.min_charge_percent", day++);
            row_check(path, strtod(seen.cells[c].text, NULL), number_at(week, path), 0.0501,
                      "by hand: the same run");
        }
        assert_int_equal(day, json_array_size(json_at(week, "days")));
        page_free(&seen);
        json_decref(week);
    }
    row_done();
}

/* The member of the item of that name on that day; NULL where it does not run. */
static json_t *of_item(json_t *balance, size_t day, const char *table, const char *item, const char *member)
{
    char path[64];
    json_t *items, *found = NULL;

    snprintf(path, sizeof path, "days.%zu.%s", day, table);
    items = json_at(balance, path);
    for (size_t i = 0; i < json_array_size(items) && !found; i++)
        if (strcmp(text_at(json_array_get(items, i), "name"), item) == 0)
            found = json_object_get(json_array_get(items, i), member);
    return found;
}

static void balance_table_holds(const struct page_seen *seen, const char *table, json_t *balance, size_t kinds)
{
    size_t cells = 0, rows = 0, day = 0;

    for (size_t i = 0; i < seen->cell_count; i++) {
        const struct page_cell *c = seen->cells + i;
        int energy = strcmp(c->name, "wh") == 0;
        json_t *want;

        if (strcmp(c->part, "balance") || strcmp(c->table, table) || (!energy && strcmp(c->name, "running_w")))
            continue;
        day = energy ? cells++ % kinds : 0;
        rows += !energy;
        want = of_item(balance, day, table, c->row, c->name);
        if (energy || want) /* what it draws is said once, of the first day that has it */
            row_check(c->row, strtod(c->text, NULL), want ? json_number_value(want) : 0, 0.501, "by hand: the same run");
    }
    assert_true(rows > 0);
    assert_int_equal(cells, rows * kinds);
}

TEST(the_numbers_of_balance_and_size_are_those_of_the_json)
{
    for (size_t i = 0; i < PROFILES; i++) {
        struct page_seen seen;
        json_t *balance = JSON_RUN("balance", profiles[i]), *days = json_at(balance, "days");
        json_t *size = JSON_RUN("size", profiles[i]);
        size_t kinds = json_array_size(days);

        page_of_report(&seen, profiles[i], NULL);
        same_number(&seen, "glance", "bank_needed_ah", number_at(size, "bank.needed_ah"));
        same_number(&seen, "glance", "inverter_needed_w", number_at(size, "inverter.continuous_w"));
        for (size_t t = 0; t < 2; t++) /* the page has one column for each kind of day */
            balance_table_holds(&seen, t ? "sources" : "loads", balance, kinds);
        page_free(&seen);
        json_decref(balance);
        json_decref(size);
    }
    row_done();
}

/* ---- every number of every part ---- */

/* Rows of the JSON: an array of objects, or one object. */
struct records {
    json_t **lists;
    size_t count, room;
};

static void records_find(struct records *r, json_t *value)
{
    const char *name;
    json_t *member;
    size_t i;

    if (json_is_object(value) || (json_is_array(value) && json_is_object(json_array_get(value, 0)))) {
        if (r->count == r->room)
            assert_non_null(r->lists = realloc(r->lists, (r->room = 2 * r->room + 64) * sizeof *r->lists));
        r->lists[r->count++] = value;
    }
    if (json_is_object(value))
        json_object_foreach(value, name, member) records_find(r, member);
    else
        json_array_foreach(value, i, member) if (json_is_array(member) || json_is_object(member))
            records_find(r, member);
}

/* 1 where the cell shows that member: the same number to the digits shown, or nothing for null. */
static int shows(const struct page_cell *cell, json_t *member)
{
    const char *point = strchr(cell->text, '.');
    int decimals = point ? (int)strspn(point + 1, "0123456789") : 0;
    double want = json_number_value(member), got;
    char *end;

    if (strcmp(cell->text, "-") == 0)
        return json_is_null(member) || (json_is_number(member) && want == 0);
    got = strtod(cell->text, &end);
    return end > cell->text && json_is_number(member) &&
           fabs(got - want) <= 0.5 * pow(10, -decimals) + 1e-6 * fabs(want) + 1e-9;
}

/* 1 where that list has this column of the page, number for number: all of it, or rows that follow each other. */
static int is_column(json_t *list, const struct page_seen *seen, const size_t *cells, size_t count)
{
    size_t rows = json_is_array(list) ? json_array_size(list) : 1;

    for (size_t from = 0; from + count <= rows; from++) {
        size_t same = 0;

        while (same < count) {
            const struct page_cell *cell = seen->cells + cells[same];
            json_t *row = json_is_array(list) ? json_array_get(list, from + same) : list;

            if (!shows(cell, json_object_get(row, cell->name)))
                break;
            same++;
        }
        if (same == count)
            return 1;
    }
    return 0;
}

/* The cells of the column that begins at `from`, and 1 as long as it was not begun before. */
static size_t column_of(const struct page_seen *seen, size_t from, size_t *cells)
{
    const struct page_cell *first = seen->cells + from;
    size_t count = 0;

    for (size_t i = 0; i < seen->cell_count; i++) {
        const struct page_cell *c = seen->cells + i;

        if (c->number != first->number || strcmp(c->name, first->name) != 0)
            continue;
        if (i < from)
            return 0;
        cells[count++] = i;
    }
    return count;
}

/* Columns that the page lays out anew; tests of their own hold them against the JSON. */
static int laid_out_anew(const struct page_cell *c)
{
    static const struct { const char *part, *name; } columns[] = {
        { "sizes", "handbook" },  { "sizes", "simulated" }, { "sizes", "needed" },
        { "sizes", "installed" }, { "balance", "wh" },      { "balance", "running_w" },
    };

    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        if (strcmp(c->name, columns[i].name) == 0 && strcmp(c->part, columns[i].part) == 0)
            return 1;
    return 0;
}

/* Every column of numbers of one part of the page stands in the JSON of the command that shows the same. Returns how many. */
static size_t part_holds(const struct page_seen *seen, const char *part, json_t *json, const char *profile)
{
    size_t *cells = calloc(seen->cell_count + 1, sizeof *cells), columns = 0;
    struct records records = { 0 };

    assert_non_null(cells);
    records_find(&records, json);
    for (size_t i = 0; i < seen->cell_count; i++) {
        const struct page_cell *c = seen->cells + i;
        size_t count = 0, found = 0;

        if (strcmp(c->part, part) || !c->right || laid_out_anew(c) || !(count = column_of(seen, i, cells)))
            continue;
        for (size_t r = 0; r < records.count && !found; r++)
            found = (size_t)is_column(records.lists[r], seen, cells, count);
        if (!found)
            fail_msg("%s: %s: the column %s of table %zu \"%s\" (%zu rows, first \"%s\") is not in the JSON", profile, part,
                     c->name, c->number, c->table, count, c->text);
        columns++;
    }
    free(records.lists);
    free(cells);
    return columns;
}

TEST(every_number_of_every_part_is_in_the_json)
{
    static const struct { const char *part, *command, *option; size_t least; } parts[] = {
        { "balance", "balance", "--quiet", 10 }, { "week", "week", "--quiet", 30 },
        { "sizes", "size", "--working", 5 },      { "cables", "cables", "--quiet", 40 },
        { "survey", "survey", "--quiet", 3 },     { "handover", "handover", "--quiet", 4 },
        { "profile", "check", "--quiet", 1 },
    };

    for (size_t p = 0; p < PROFILES; p++) {
        struct page_seen seen;

        page_of_report(&seen, profiles[p], NULL);
        for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
            json_t *json = JSON_RUN(parts[i].command, profiles[p], parts[i].option);
            size_t columns = part_holds(&seen, parts[i].part, json, profiles[p]);

            if (columns < parts[i].least)
                fail_msg("%s: %s: only %zu columns of numbers", profiles[p], parts[i].part, columns);
            json_decref(json);
        }
        page_free(&seen);
    }
}

/* The table of what is needed and installed has a row for each part of the boat; its figures stand in objects of their own. */
TEST(sizes_needed_and_installed_are_those_of_the_json)
{
    static const struct { const char *row, *column, *path; } cells[] = {
        { "Bank, at 20 h", "handbook", "bank.handbook_ah" },   { "Bank, at 20 h", "simulated", "bank.simulated_ah" },
        { "Bank, at 20 h", "needed", "bank.needed_ah" },       { "Bank, at 20 h", "installed", "bank.installed_ah" },
        { "Panels", "handbook", "solar.handbook_w" },          { "Panels", "simulated", "solar.simulated_w" },
        { "Panels", "needed", "solar.needed_w" },              { "Panels", "installed", "solar.installed_w" },
        { "Charger", "handbook", "charger.handbook_a" },       { "Charger", "simulated", "charger.simulated_a" },
        { "Charger", "needed", "charger.needed_a" },           { "Charger", "installed", "charger.installed_a" },
        { "Inverter", "needed", "inverter.continuous_w" },     { "Inverter", "installed", "inverter.installed_w" },
        { "Inverter surge", "needed", "inverter.surge_w" },    { "Inverter surge", "installed", "inverter.installed_surge_w" },
        { "Generator", "needed", "generator.needed_w" },       { "Generator", "installed", "generator.installed_w" },
    };

    for (size_t p = 0; p < PROFILES; p++) {
        json_t *size = JSON_RUN("size", profiles[p]);
        struct page_seen seen;
        size_t held = 0, rows = 0;

        page_of_report(&seen, profiles[p], NULL);
        for (size_t i = 0; i < seen.cell_count; i++) {
            const struct page_cell *c = seen.cells + i;

            if (strcmp(c->part, "sizes") || !laid_out_anew(c))
                continue;
            rows += strcmp(c->name, "needed") == 0;
            for (size_t k = 0; k < sizeof cells / sizeof cells[0]; k++)
                if (strcmp(c->row, cells[k].row) == 0 && strcmp(c->name, cells[k].column) == 0) {
                    if (!shows(c, json_at(size, cells[k].path)))
                        fail_msg("%s: %s: the page says %s", profiles[p], cells[k].path, c->text);
                    held++;
                }
        }
        assert_true(rows >= 4 && held >= 3 * rows);
        page_free(&seen);
        json_decref(size);
    }
}

/* Before, after and the difference of each figure compared, in the order of the JSON. */
TEST(the_numbers_compared_are_those_of_the_json)
{
    json_t *compare = JSON_RUN("compare", boat, bigger), *figures = json_at(compare, "figures");
    struct page_seen seen;
    size_t at = 0;

    page_of_report(&seen, boat, bigger);
    for (size_t i = 0; i + 2 < seen.cell_count; i++) {
        const struct page_cell *c = seen.cells + i;
        json_t *f = json_array_get(figures, at);

        if (strcmp(c->part, "compare") || strcmp(c->name, "before"))
            continue;
        assert_true(at < json_array_size(figures));
        assert_string_equal(c[1].name, "value");
        assert_string_equal(c[2].name, "delta");
        if (!shows(c, json_at(f, "before")) || !shows(c + 1, json_at(f, "changes.0.value")) ||
            !shows(c + 2, json_at(f, "changes.0.delta")))
            fail_msg("%s: the page says %s, %s, %s", text_at(f, "figure"), c->text, c[1].text, c[2].text);
        at++;
    }
    assert_int_equal(at, json_array_size(figures));
    page_free(&seen);
    json_decref(compare);
}

TEST(with_a_change_the_glance_is_that_of_the_changed_boat)
{
    struct page_seen changed;
    json_t *json = JSON_RUN("week", boat, "--change", bigger);

    page_of_report(&changed, boat, bigger);
    same_number(&changed, "glance", "min_charge_percent", number_at(json, "summary.min_charge_percent"));
    page_free(&changed);
    json_decref(json);
    row_done();
}

/* test_sheets_cables.c - the schedules: chosen alone, in each format, metric and US, names kept whole.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "output/sheets.h"
#include "rules/ruleset.h"
#include "support/circuits.h"

static const char boat[] =
    "[boat]\nname = Test, with a comma\ndc_voltage = 12 V\n[bank house]\nchemistry = lfp\nblock_capacity = 200 Ah\n"
    "block_voltage = 12 V\nparallel = 2\nwiring = same-end\n[shore]\n[engine port]\n[alternator port-engine-alternator]\n"
    "engine = port\nrated_current = 60 A\n[inverter mains]\npower = 1000 W\n"
    "[load lamp-in-the-starboard-hull]\npower = 24 W\nnode = board\n[load pump]\npower = 60 W\n"
    "[cable feed]\nfrom = house\nto = board\nlength = 3.048 m\narea = 35 mm2\ninsulation = 105 C\nfuse = 100 A class-t\n"
    "[cable alternator-in-the-port-hull]\nfrom = board\nto = port-engine-alternator\nlength = 4 m +/- 10 %\narea = 2 AWG\n"
    "[cable pump-run]\nfrom = board\nto = pump\nlength = 5 m\nfuse = 7.5 A blade\nfuse_distance = 0.5 m\n"
    "[cable inverter-run]\nfrom = board\nto = mains\nlength = 1 m\narea = 50 mm2\ninsulation = 105 C\nruns = 2\n";

static char *written(struct arena *arena, const struct cables_view *view, enum sheet_format format)
{
    const struct sheet *sheet = sheet_cables(arena, circuit_of(arena, &rules_iso13297, boat), view);
    char *text = NULL;
    size_t length;
    FILE *f = open_memstream(&text, &length);

    assert_non_null(sheet);
    assert_int_equal(sheet_write(f, sheet, format, NULL), STATUS_OK);
    fclose(f);
    return text;
}

/* What JSON calls the rows of each sheet, and the columns that CSV begins with. */
struct sheet_case {
    const char *name, *key, *head;
};

static const struct sheet_case cases[] = {
    { "cables", "cables", "name,from,to,current_a,length_m,area_mm2,installed_mm2,awg," },
    { "fuses", "fuses", "number,cable_number,cable,location,device,class,fitted,rating_a," },
    { "circuits", "circuits", "number,name,category,supply,system,nominal_v,power_w,nominal_a,peak_a,duty_percent," },
    { "panels", "panels", "panel,way,legend,breaker_a,breaker_from,served_by,flow,expected_a,poles,remark\r\n" },
    { "tree", "tree", "node,depth,volts_v,current_a,drop_percent,cable\r\n" },
    { "nodes", "nodes", "name,volts_v,kind,system,drop_percent,fault_a\r\n" },
    { "loads", "loads", "name,node,behaves,power_w," },
    { "banks", "banks", "name,open_circuit_v,resistance_mohm,charge_percent," },
    { "inverter", "inverters", "name,bank_age,charge_percent,draw,ac_w," },
    { "scenarios", "scenarios", "name,solved,bank_a,lowest_v,lowest_node," },
    { "sources", "ac_sources", "name,kind,limit_w,load_w,carries," },
    { "bill", "items", "what,state,quantity,unit,allowance_percent,spare,stud,copper_kg,price,kind,size,colour\r\n" },
    { "labels", "labels", "text1,text2,size,colour,quantity,cable,end,from,to,fuse_a\r\n" },
};

enum { CASES = sizeof cases / sizeof cases[0] };

TEST(every_sheet_is_tried_here)
{
    size_t count = 0;

    while (sheet_cables_name(count)) {
        assert_true(count < CASES);
        assert_string_equal(sheet_cables_name(count), cases[count].name);
        count++;
    }
    assert_int_equal(count, CASES);
}

/* Fields of the line of RFC 4180 that begins at *at, which is moved to the next. */
static size_t fields(const char **at)
{
    size_t count = 1;
    int quoted = 0;
    const char *p = *at;

    for (; *p && (quoted || *p != '\r'); p++) {
        quoted ^= *p == '"';
        count += !quoted && *p == ',';
    }
    assert_int_equal(quoted, 0);
    assert_memory_equal(p, "\r\n", 2);
    *at = p + 2;
    return count;
}

TEST(csv_is_one_table_of_even_rows)
{
    for (size_t i = 0; i < CASES; i++) {
        struct arena *arena = arena_new();
        char *text = written(arena, &(struct cables_view){ .sheets = cases[i].name }, FORMAT_CSV);
        const char *at = text;
        size_t columns, rows = 0;

        if (strncmp(text, cases[i].head, strlen(cases[i].head)) != 0)
            fail_msg("%s begins with %.120s", cases[i].name, text);
        columns = fields(&at);
        for (; *at; rows++)
            if (fields(&at) != columns)
                fail_msg("%s: row %zu is uneven", cases[i].name, rows + 1);
        if (rows == 0)
            fail_msg("%s has no row", cases[i].name);
        free(text);
        arena_free(arena);
    }
}

TEST(json_has_the_head_and_what_was_chosen)
{
    for (size_t i = 0; i < CASES; i++) {
        struct arena *arena = arena_new();
        char *text = written(arena, &(struct cables_view){ .sheets = cases[i].name }, FORMAT_JSON);
        json_error_t error;
        json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, &error);

        if (!json)
            fail_msg("%s: %s at line %d", cases[i].name, error.text, error.line);
        assert_non_null(json_object_get(json, "edition"));
        for (size_t k = 0; k < CASES; k++)
            if ((json_array_size(json_object_get(json, cases[k].key)) > 0) != (k == i))
                fail_msg("--sheet %s: rows of %s", cases[i].name, cases[k].key);
        json_decref(json);
        free(text);
        arena_free(arena);
    }
}

TEST(json_holds_everything_where_nothing_is_chosen)
{
    struct arena *arena = arena_new();
    char *text = written(arena, NULL, FORMAT_JSON);
    json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, NULL);

    assert_non_null(json);
    for (size_t i = 0; i < CASES; i++)
        if (json_array_size(json_object_get(json, cases[i].key)) == 0)
            fail_msg("no %s", cases[i].key);
    assert_true(json_array_size(json_object_get(json_array_get(json_object_get(json, "panels"), 0), "ways")) > 1);
    json_decref(json);
    free(text);
    arena_free(arena);
}

/* No line wider than the page, long names in one piece, and all of it in HTML too. */
TEST(text_fits_and_breaks_no_name)
{
    struct arena *arena = arena_new();
    char *text = written(arena, &(struct cables_view){ .sheets = "cables,fuses,circuits,panels,tree,labels" }, FORMAT_TEXT);
    char *html = written(arena, &(struct cables_view){ .sheets = "cables,fuses,circuits,panels,tree,labels" }, FORMAT_HTML);
    static const char *const names[] = { "Cable schedule", "How the cables run", "Volts lost", "Currents a cable may carry",
                                         "Fuse schedule", "Fuses judged", "What the remarks mean", "Circuit schedule",
                                         "Panel schedule", "Ways, board", "The tree", "Labels", "2 x 50 mm2 (1/0 AWG)",
                                         "alternator-in-the-port-hull", "lamp-in-the-starboard-hull" };

    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (!strstr(text, names[i]) || !(strstr(html, names[i]) || i == 9))
            fail_msg("\"%s\" is missing", names[i]);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        size_t columns = 0;

        for (const char *p = line; *p; p++)
            columns += (*p & 0xC0) != 0x80;
        if (columns > 100)
            fail_msg("%zu columns: %s", columns, line);
    }
    free(text);
    free(html);
    arena_free(arena);
}

TEST(long_sheets_only_on_demand)
{
    struct arena *arena = arena_new();
    char *text = written(arena, NULL, FORMAT_TEXT), *asked = written(arena, &(struct cables_view){ .sheets = "labels" }, FORMAT_TEXT);

    assert_null(strstr(text, "Labels, one"));
    assert_non_null(strstr(text, "Bill of materials"));
    assert_non_null(strstr(asked, "Labels, one"));
    assert_null(strstr(asked, "Bill of materials"));
    free(text);
    free(asked);
    arena_free(arena);
}

/* Feet and AWG first where people read; machine names keep their metres, and the bill says its unit. */
TEST(us_units)
{
    struct arena *arena = arena_new();
    const struct cables_view us = { .sheets = "cables,bill", .units = CABLES_US };
    char *text = written(arena, &us, FORMAT_TEXT), *json_text = written(arena, &us, FORMAT_JSON);
    json_t *json = json_loads(json_text, 0, NULL), *first;

    assert_non_null(strstr(text, "2 AWG (35 mm2)"));
    assert_non_null(strstr(text, "2 x 1/0 AWG (50 mm2)"));
    assert_non_null(strstr(text, "C1   feed                         10.0  10.0"));
    assert_null(strstr(text, "35 mm2 (2 AWG)"));
    first = json_array_get(json_object_get(json, "cables"), 0);
    row_check("metres", json_number_value(json_object_get(first, "length_m")), 3.048, 1e-9, "as given");
    first = json_array_get(json_object_get(json, "items"), 0);
    assert_string_equal(json_string_value(json_object_get(first, "unit")), "ft");
    row_check("feet to buy", json_number_value(json_object_get(first, "quantity")), 11, 1e-6, "by hand: 3.048 m is 10 ft, x 1.1");
    row_done();
    json_decref(json);
    free(text);
    free(json_text);
    arena_free(arena);
}

/* What passes and what does not differ in colour, on a terminal that shows it and in HTML, and in words always. */
TEST(verdicts_have_a_colour)
{
    struct arena *arena = arena_new();
    const struct cables_view view = { .sheets = "cables,fuses" };
    const struct sheet *sheet = sheet_cables(arena, circuit_of(arena, &rules_iso13297, boat), &view);
    char *text = NULL, *html = written(arena, &view, FORMAT_HTML);
    size_t length;
    FILE *f = open_memstream(&text, &length);

    assert_int_equal(sheet_write(f, sheet, FORMAT_TEXT, &(struct text_style){ .colour = 1 }), STATUS_OK);
    fclose(f);
    assert_non_null(strstr(text, "\033[32mok"));
    assert_non_null(strstr(text, "\033[31m"));
    assert_non_null(strstr(text, "\033[31mno"));
    assert_non_null(strstr(html, "bad\" data-name=\"status\">"));
    assert_non_null(strstr(html, "good\" data-name=\"right\">yes"));
    free(text);
    free(html);
    arena_free(arena);
}

/* Half amps are kept, whole ones go without a point. */
TEST(ratings_as_printed_on_the_device)
{
    struct arena *arena = arena_new();
    char *text = written(arena, &(struct cables_view){ .sheets = "fuses" }, FORMAT_CSV);
    char *text2 = written(arena, &(struct cables_view){ .sheets = "fuses" }, FORMAT_TEXT);

    assert_non_null(strstr(text, ",7.5 A blade,blade,as built,7.5,"));
    assert_non_null(strstr(text, ",100 A class-t,class-t,as built,100,"));
    assert_non_null(strstr(text2, "  7.5  "));
    free(text);
    free(text2);
    arena_free(arena);
}

/* 33 CFR 183 has no formula of the drop: no column is empty for that, and the head says what is judged. */
TEST(a_set_without_a_formula)
{
    struct arena *arena = arena_new();
    const struct sheet *sheet = sheet_cables(arena, circuit_of(arena, &rules_cfr183, boat), &(struct cables_view){ 0 });
    char *text = NULL;
    size_t length;
    FILE *f = open_memstream(&text, &length);

    assert_int_equal(sheet_write(f, sheet, FORMAT_TEXT, NULL), STATUS_OK);
    fclose(f);
    assert_non_null(strstr(text, "Judged"));
    assert_non_null(strstr(text, "set has no formula"));
    free(text);
    arena_free(arena);
}

TEST(the_head_says_what_holds_for_all)
{
    struct arena *arena = arena_new();
    char *text = written(arena, &(struct cables_view){ .sheets = "nodes" }, FORMAT_TEXT);
    static const char *const words[] = { "one way, along the route", "of the boat 12 V", "judged: by the rule's formula",
                                         "ISO 13297", "DC positive red, negative black", "as built; cables whose verdict",
                                         "revision ___" };

    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (!strstr(text, words[i]))
            fail_msg("\"%s\" is missing", words[i]);
    free(text);
    arena_free(arena);
}

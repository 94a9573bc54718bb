/* test_walkers.c - text, CSV and JSON of small invented sheets, byte by byte.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "output/grid.h"
#include "output/sheet.h"

struct leaf {
    const char *name;
    double wh;
};

struct extra {
    double kg;
};

struct thing {
    const char *name;
    double charge, watts, when;
    size_t count;
    int on;
    struct extra extra;
    const struct leaf *leaves;
    size_t leaf_count;
};

static const struct column leaf_columns[] = {
    { .name = "name", .heading = "Part", .kind = CELL_TEXT, .offset = offsetof(struct leaf, name) },
    { .name = "wh", .heading = "Energy", .unit = "Wh", .kind = CELL_REAL, .offset = offsetof(struct leaf, wh) },
};
static const struct row_kind leaf_kind = { "Parts", leaf_columns, 2, sizeof(struct leaf) };

static const struct column extra_columns[] = {
    { .name = "mass_kg", .heading = "Mass", .unit = "kg", .kind = CELL_REAL, .offset = offsetof(struct extra, kg),
      .decimals = 1 },
};
static const struct row_kind extra_kind = { "Extra", extra_columns, 1, sizeof(struct extra) };

static const struct column thing_columns[] = {
    { .name = "name", .heading = "Name", .kind = CELL_TEXT, .offset = offsetof(struct thing, name) },
    { .name = "charge_percent", .heading = "Charge left", .unit = "%", .kind = CELL_REAL,
      .offset = offsetof(struct thing, charge), .scale = 100, .decimals = 1 },
    { .name = "load_w", .heading = "Load", .unit = "W", .kind = CELL_WHOLE, .offset = offsetof(struct thing, watts) },
    { .name = "time", .heading = "When", .kind = CELL_TIME, .offset = offsetof(struct thing, when) },
    { .name = "count", .heading = "Count", .kind = CELL_COUNT, .offset = offsetof(struct thing, count) },
    { .name = "on", .heading = "On", .kind = CELL_FLAG, .offset = offsetof(struct thing, on) },
    { .name = "extra", .heading = "Extra", .kind = CELL_RECORD, .offset = offsetof(struct thing, extra),
      .child = &extra_kind },
    { .name = "leaves", .heading = "Parts", .kind = CELL_ROWS, .offset = offsetof(struct thing, leaves),
      .count_offset = offsetof(struct thing, leaf_count), .child = &leaf_kind },
};
static const struct row_kind thing_kind = { "Things", thing_columns, 8, sizeof(struct thing) };

static const struct leaf leaves[] = { { "compressor", 480 }, { "lamp", 12.25 } };
static const struct thing things[] = {
    { "fridge, \"big\"", 0.46, 45.4, 24000, 2, 1, { 12.5 }, leaves, 2 },
    { "Kühlbox", 1, -0.2, 86400 + 3661, 1, 0, { 3 }, NULL, 0 },
    { NULL, NAN, INFINITY, -1, 0, 0, { 0 }, NULL, 0 },
};

static char *written(const struct sheet *sheet, enum sheet_format format, const struct text_style *style)
{
    char *text = NULL;
    size_t length;
    FILE *f = open_memstream(&text, &length);

    assert_non_null(f);
    assert_int_equal(sheet_write(f, sheet, format, style), STATUS_OK);
    fclose(f);
    return text;
}

static struct sheet sheet_of(const struct table *tables, size_t count)
{
    return (struct sheet){ .title = "Things of the Example", .subtitle = "invented", .tables = tables,
                           .table_count = count, .year = 2026, .month = 7, .day = 6 };
}

static void check(const struct sheet *sheet, enum sheet_format format, int width, const char *want)
{
    char *got = written(sheet, format, &(struct text_style){ .width = width });

    assert_string_equal(got, want);
    free(got);
}

TEST(csv_follows_rfc_4180)
{
    const struct table t = { .name = "things", .kind = &thing_kind, .rows = things, .row_count = 3, .csv = 1 };
    const struct sheet s = sheet_of(&t, 1);

    check(&s, FORMAT_CSV, 0,
          "name,charge_percent,load_w,time,count,on,extra_mass_kg\r\n"
          "\"fridge, \"\"big\"\"\",46.0,45,2026-07-06T06:40,2,1,12.5\r\n"
          "Kühlbox,100.0,0,2026-07-07T01:01:01,1,0,3.0\r\n"
          ",,,,0,0,0.0\r\n");
}

TEST(csv_puts_a_blank_line_between_tables_and_skips_the_rest)
{
    const struct table t[] = {
        { .name = "a", .kind = &leaf_kind, .rows = leaves, .row_count = 1, .csv = 1 },
        { .name = "b", .kind = &leaf_kind, .rows = leaves, .row_count = 2 },
        { .name = "c", .kind = &leaf_kind, .rows = leaves + 1, .row_count = 1, .csv = 1 },
    };
    const struct sheet s = sheet_of(t, 3);

    check(&s, FORMAT_CSV, 0, "name,wh\r\ncompressor,480\r\n\r\nname,wh\r\nlamp,12\r\n");
}

TEST(csv_quotes_what_a_reader_would_take_apart)
{
    static const struct { const char *text, *want; } rows[] = {
        { "plain", "plain" },         { "a,b", "\"a,b\"" },         { "say \"so\"", "\"say \"\"so\"\"\"" },
        { "two\nlines", "\"two\nlines\"" }, { " ahead", "\" ahead\"" }, { "behind ", "\"behind \"" },
        { "", "" },                   { "a\rb", "\"a\rb\"" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct leaf leaf = { rows[i].text, 1 };
        const struct table t = { .kind = &leaf_kind, .rows = &leaf, .row_count = 1, .csv = 1 };
        const struct sheet s = sheet_of(&t, 1);
        char want[64];

        snprintf(want, sizeof want, "name,wh\r\n%s,1\r\n", rows[i].want);
        check(&s, FORMAT_CSV, 0, want);
    }
}

TEST(csv_carries_names_longer_than_its_buffer)
{
    char *name = malloc(70001), *got;
    const struct leaf leaf = { name, 1 };
    const struct table t = { .kind = &leaf_kind, .rows = &leaf, .row_count = 1, .csv = 1 };
    const struct sheet s = sheet_of(&t, 1);

    memset(name, 'x', 70000);
    name[70000] = '\0';
    got = written(&s, FORMAT_CSV, NULL);
    assert_int_equal(strlen(got), strlen("name,wh\r\n") + 70000 + strlen(",1\r\n"));
    assert_memory_equal(got + 9, name, 70000);
    free(got);
    free(name);
}

TEST(json_nests_rows_and_records_in_column_order)
{
    const struct table t[] = {
        { .kind = &extra_kind, .rows = &things[0].extra, .row_count = 1, .single = 1 },
        { .name = "things", .kind = &thing_kind, .rows = things, .row_count = 3 },
    };
    const struct sheet s = sheet_of(t, 2);

    check(&s, FORMAT_JSON, 0,
          "{\n"
          "  \"mass_kg\": 12.5,\n"
          "  \"things\": [\n"
          "    {\n"
          "      \"name\": \"fridge, \\\"big\\\"\",\n"
          "      \"charge_percent\": 46.0,\n"
          "      \"load_w\": 45,\n"
          "      \"time\": \"2026-07-06T06:40\",\n"
          "      \"count\": 2,\n"
          "      \"on\": true,\n"
          "      \"extra\": {\n"
          "        \"mass_kg\": 12.5\n"
          "      },\n"
          "      \"leaves\": [\n"
          "        {\n"
          "          \"name\": \"compressor\",\n"
          "          \"wh\": 480.0\n"
          "        },\n"
          "        {\n"
          "          \"name\": \"lamp\",\n"
          "          \"wh\": 12.25\n"
          "        }\n"
          "      ]\n"
          "    },\n"
          "    {\n"
          "      \"name\": \"Kühlbox\",\n"
          "      \"charge_percent\": 100.0,\n"
          "      \"load_w\": 0,\n"
          "      \"time\": \"2026-07-07T01:01:01\",\n"
          "      \"count\": 1,\n"
          "      \"on\": false,\n"
          "      \"extra\": {\n"
          "        \"mass_kg\": 3.0\n"
          "      },\n"
          "      \"leaves\": []\n"
          "    },\n"
          "    {\n"
          "      \"name\": null,\n"
          "      \"charge_percent\": null,\n"
          "      \"load_w\": null,\n"
          "      \"time\": null,\n"
          "      \"count\": 0,\n"
          "      \"on\": false,\n"
          "      \"extra\": {\n"
          "        \"mass_kg\": 0.0\n"
          "      },\n"
          "      \"leaves\": []\n"
          "    }\n"
          "  ]\n"
          "}\n");
}

enum { MANY = 300 };

static const double odd_numbers[] = { 0, -0.0, 1.0 / 3.0, 12345.678901234, 1e-12, -2.5e7, 123456789012.0, NAN, 5e-324 };

/* Long tables take another path than short ones: both must say the same. */
TEST(json_of_a_long_table_reads_back_as_the_short_one)
{
    struct leaf rows[MANY];
    struct table t = { .name = "rows", .kind = &leaf_kind, .rows = rows, .row_count = MANY };
    struct sheet s = sheet_of(&t, 1);
    char *text;
    json_t *longer, *shorter;

    for (size_t i = 0; i < MANY; i++)
        rows[i] = (struct leaf){ i % 7 ? "a \"name\"" : NULL, odd_numbers[i % 9] };
    text = written(&s, FORMAT_JSON, NULL);
    longer = json_loads(text, JSON_DECODE_INT_AS_REAL, NULL);
    free(text);
    t.row_count = 250;
    text = written(&s, FORMAT_JSON, NULL);
    shorter = json_loads(text, JSON_DECODE_INT_AS_REAL, NULL);
    free(text);
    assert_non_null(longer);
    assert_non_null(shorter);
    assert_int_equal(json_array_size(json_object_get(longer, "rows")), MANY);
    for (size_t i = 0; i < 250; i++) {
        const json_t *a = json_array_get(json_object_get(longer, "rows"), i);
        const json_t *b = json_array_get(json_object_get(shorter, "rows"), i);
        double want = json_number_value(json_object_get(b, "wh"));

        assert_true(json_equal(json_object_get(a, "name"), json_object_get(b, "name")));
        assert_int_equal(json_is_null(json_object_get(a, "wh")), json_is_null(json_object_get(b, "wh")));
        row_check("the two ways to write a number", json_number_value(json_object_get(a, "wh")), want,
                  fabs(want) * 5e-9 + 1e-16, "property");
    }
    json_decref(longer);
    json_decref(shorter);
    row_done();
}

TEST(json_of_nothing_is_an_empty_object)
{
    const struct sheet s = sheet_of(NULL, 0);

    check(&s, FORMAT_JSON, 0, "{}\n");
}

TEST(text_aligns_numbers_right_and_puts_units_under_headings)
{
    const struct table t = { .name = "things", .kind = &thing_kind, .rows = things, .row_count = 2 };
    const char *const notes[] = { "A note." };
    struct sheet s = sheet_of(&t, 1);

    s.notes = notes;
    s.note_count = 1;
    check(&s, FORMAT_TEXT, 100,
          "Things of the Example\n"
          "invented\n"
          "\n"
          "Things\n"
          "                 Charge\n"
          "  Name             left  Load  When                  Count  On   Mass\n"
          "                      %     W                                      kg\n"
          "  ───────────────────────────────────────────────────────────────────\n"
          "  fridge, \"big\"    46.0    45  Mon 2026-07-06 06:40      2  yes  12.5\n"
          "  Kühlbox         100.0     0  Tue 2026-07-07 01:01      1  no    3.0\n"
          "\n"
          "Parts, fridge, \"big\"\n"
          "  Part        Energy\n"
          "                  Wh\n"
          "  ──────────────────\n"
          "  compressor     480\n"
          "  lamp            12\n"
          "\n"
          "- A note.\n");
}

TEST(text_of_a_single_row_is_a_list)
{
    const struct table t = { .title = "One thing", .kind = &thing_kind, .rows = things, .row_count = 1, .single = 1 };
    const struct sheet s = sheet_of(&t, 1);

    check(&s, FORMAT_TEXT, 100,
          "Things of the Example\n"
          "invented\n"
          "\n"
          "One thing\n"
          "  Name         fridge, \"big\"\n"
          "  Charge left  46.0 %\n"
          "  Load           45 W\n"
          "  When         Mon 2026-07-06 06:40\n"
          "  Count           2\n"
          "  On           yes\n"
          "  Mass         12.5 kg\n"
          "\n"
          "Parts\n"
          "  Part        Energy\n"
          "                  Wh\n"
          "  ──────────────────\n"
          "  compressor     480\n"
          "  lamp            12\n");
}

TEST(text_wraps_long_names_at_words_and_keeps_to_the_width)
{
    const struct leaf rows[] = {
        { "water maker on the port side, run only while the engine runs", 1200 },
        { "überlangerZusammengesetzterNameOhneLücke", 7 },
    };
    const struct table t = { .name = "rows", .kind = &leaf_kind, .rows = rows, .row_count = 2 };
    const struct sheet s = { .tables = &t, .table_count = 1 };

    check(&s, FORMAT_TEXT, 34,
          "\n"
          "Parts\n"
          "  Part                      Energy\n"
          "                                Wh\n"
          "  ────────────────────────────────\n"
          "  water maker on the port     1200\n"
          "  side, run only while the\n"
          "  engine runs\n"
          "  überlangerZusammengesetz       7\n"
          "  terNameOhneLücke\n");
}

TEST(text_does_not_part_a_number_from_its_unit)
{
    const struct leaf rows[] = { { "freezer beside the fridge, 55 W", 3 } };
    const struct table t = { .name = "rows", .kind = &leaf_kind, .rows = rows, .row_count = 1 };
    const struct sheet s = { .tables = &t, .table_count = 1 };

    check(&s, FORMAT_TEXT, 40,
          "\n"
          "Parts\n"
          "  Part                            Energy\n"
          "                                      Wh\n"
          "  ──────────────────────────────────────\n"
          "  freezer beside the fridge,           3\n"
          "  55 W\n");
}

TEST(text_leaves_out_columns_without_an_entry_and_tables_without_rows)
{
    const struct leaf rows[] = { { NULL, 3 } };
    const struct table t[] = {
        { .name = "none", .kind = &thing_kind, .rows = things, .row_count = 0 },
        { .name = "rows", .kind = &leaf_kind, .rows = rows, .row_count = 1 },
    };
    const struct sheet s = { .tables = t, .table_count = 2 };

    check(&s, FORMAT_TEXT, 60, "\nParts\n  Energy\n      Wh\n  ──────\n       3\n");
}

struct step {
    const char *of, *figure, *formula;
    double at;
};

TEST(text_sets_paragraphs_where_texts_are_long_and_clocks_to_the_minute)
{
    static const struct column columns[] = {
        { .name = "of", .heading = "Of", .kind = CELL_TEXT, .offset = offsetof(struct step, of) },
        { .name = "figure", .heading = "Figure", .kind = CELL_TEXT, .offset = offsetof(struct step, figure) },
        { .name = "formula", .heading = "Formula", .kind = CELL_TEXT, .offset = offsetof(struct step, formula) },
        { .name = "at", .heading = "At", .kind = CELL_CLOCK, .offset = offsetof(struct step, at) },
    };
    static const struct row_kind kind = { "Steps", columns, 4, sizeof(struct step) };
    static const struct step steps[] = {
        { "bank", "for autonomy", "load / volts x days / usable share of a bank", 24031 },
        { "bank", "ageing", NULL, 24029 },
    };
    const struct table table = { .name = "steps", .kind = &kind, .rows = steps, .row_count = 2, .paragraphs = 1 };
    struct sheet sheet = sheet_of(&table, 1);
    char *text;

    sheet.title = sheet.subtitle = NULL;
    sheet.note_count = 0;
    text = written(&sheet, FORMAT_TEXT, &(struct text_style){ .width = 44 });
    assert_string_equal(text, "\nSteps\n"
                              "  bank: for autonomy\n"
                              "      Formula  load / volts x days / usable\n"
                              "               share of a bank\n"
                              "      At       06:41\n"
                              "  bank: ageing\n"
                              "      At       06:40\n");
    free(text);
}

TEST(a_full_disk_is_noticed)
{
    const struct table t = { .name = "rows", .kind = &leaf_kind, .rows = leaves, .row_count = 2, .csv = 1 };
    const struct sheet s = sheet_of(&t, 1);

    for (int format = FORMAT_TEXT; format <= FORMAT_JSON; format++) {
        FILE *full = fopen("/dev/full", "w");

        assert_non_null(full);
        assert_int_equal(sheet_write(full, &s, (enum sheet_format)format, NULL), STATUS_UNWRITABLE);
        fclose(full);
    }
}

struct wrap_row {
    const char *text;
    size_t width;
    const char *lines[4];
};

static const struct wrap_row wraps[] = {
    { "house bank", 20, { "house bank" } },
    { "house bank", 6, { "house", "bank" } },
    { "fuse of 20 A fits", 11, { "fuse of", "20 A fits" } },
    { "alternator-port-run", 12, { "alternator-", "port-run" } },
    { "alternator-port-run", 30, { "alternator-port-run" } },
    { "a long-name", 7, { "a", "long-", "name" } },
    { "watermaker", 4, { "wate", "rmak", "er" } },
    { "one  two", 4, { "one", "two" } },
    { "-5.5", 2, { "-5", ".5" } },
};

/* Lines break at blanks, else behind hyphens, else anywhere; nothing is lost and no line is too long. */
TEST(names_break_behind_their_hyphens)
{
    for (size_t i = 0; i < sizeof wraps / sizeof *wraps; i++) {
        const char *text = wraps[i].text;
        size_t skip = 1;

        for (size_t l = 0; skip; l++) {
            size_t length = line_length(text, wraps[i].width, &skip);

            if (!wraps[i].lines[l] || strlen(wraps[i].lines[l]) != length || memcmp(text, wraps[i].lines[l], length) != 0)
                fail_msg("\"%s\" in %zu: line %zu is \"%.*s\"", wraps[i].text, wraps[i].width, l, (int)length, text);
            text += skip;
            if (!skip)
                assert_true(l == 3 || !wraps[i].lines[l + 1]);
        }
    }
}

/* test_results.c - balance, size, sun, check and keys on the shipped boats: fixed names and figures that must hold.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/json.h"
#include "support/run.h"
#include "support/test.h"

static const char *const boats[] = { "profiles/cruiser-12v-agm.ini", "profiles/induction-24v-lfp.ini",
                                     "profiles/simple-12v-flooded.ini", "profiles/starter.ini" };
enum { BOATS = sizeof boats / sizeof boats[0] };

static double sum_of(json_t *items, const char *name)
{
    double sum = 0;

    for (size_t i = 0; i < json_array_size(items); i++)
        sum += number_at(json_array_get(items, i), name);
    return sum;
}

TEST(balance_names_and_sums)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *root = JSON_RUN("balance", boats[i]), *days = json_at(root, "days");

        assert_true(json_array_size(days) > 0);
        for (size_t d = 0; d < json_array_size(days); d++) {
            json_t *day = json_array_get(days, d);

            json_has(day, "", "kind loads sources load_wh source_wh net_wh");
            json_has(day, "loads.0", "name wh ah");
            json_has(day, "sources.0", "name wh ah");
            row_check("net", number_at(day, "net_wh"), number_at(day, "source_wh") - number_at(day, "load_wh"), 0.01,
                      "property: net is the difference");
            row_check("sources", sum_of(json_at(day, "sources"), "wh"), number_at(day, "source_wh"), 0.01,
                      "property: the sum of its parts");
        }
        json_decref(root);
    }
    row_done();
}

TEST(size_names)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *root = JSON_RUN("size", boats[i]);
        double simulated;

        json_has(root, "", "bank solar charger inverter generator");
        json_has(root, "bank", "needed_ah handbook_ah simulated_ah limited_by blocks");
        json_has(root, "solar", "needed_w");
        json_has(root, "inverter", "continuous_w surge_w");
        json_has(root, "generator", "hours_per_week");
        assert_true(number_at(root, "bank.needed_ah") > 0);
        /* null: no size passes the simulated plan, or the plan passes without any */
        simulated = json_number_value(json_at(root, "bank.simulated_ah"));
        row_check("the larger of the two", number_at(root, "bank.needed_ah"),
                  fmax(number_at(root, "bank.handbook_ah"), simulated), 0.01, "property: needed is the larger answer");
        json_decref(root);
    }
    row_done();
}

TEST(working_shows_sources)
{
    struct run plain, working;

    RUN(&plain, "size", boats[0]);
    RUN(&working, "size", boats[0], "--working");
    assert_int_equal(working.code, 0);
    assert_true(working.out_length > plain.out_length + 500);
    run_free(&plain);
    run_free(&working);
}

TEST(sun_names_and_figures)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *root = JSON_RUN("sun", boats[i]), *hours = json_at(root, "hours");
        double highest = -90;

        json_has(root, "", "hours sunrise sunset");
        assert_int_equal(json_array_size(hours), 24);
        for (size_t h = 0; h < 24; h++) {
            json_t *hour = json_array_get(hours, h);
            double elevation = number_at(hour, "elevation_deg");

            json_has(hour, "", "time elevation_deg azimuth_deg clear_sky_w_m2 panel_w");
            highest = fmax(highest, elevation);
            if (elevation < -1)
                assert_true(number_at(hour, "panel_w") == 0 && number_at(hour, "clear_sky_w_m2") == 0);
        }
        assert_true(highest > 0 && highest <= 90);
        json_decref(root);
    }
}

/* Midsummer's day is longer than midwinter's, whichever the hemisphere: June against December. */
TEST(sun_date)
{
    json_t *june = JSON_RUN("sun", boats[3], "--date", "2026-06-21");
    json_t *december = JSON_RUN("sun", boats[3], "--date", "2026-12-21");

    assert_string_not_equal(text_at(june, "sunrise"), text_at(december, "sunrise"));
    assert_non_null(strstr(text_at(june, "hours.12.time"), "2026-06-21T12:00"));
    assert_true(number_at(june, "hours.12.elevation_deg") > number_at(december, "hours.12.elevation_deg") + 30);
    json_decref(june);
    json_decref(december);
}

TEST(check_lists_assumptions)
{
    struct run run;

    RUN(&run, "check", "profiles/simple-12v-flooded.ini", "--format", "json");
    assert_int_equal(run.code, 0);
    json_decref(json_of(run.out));
    assert_non_null(strstr(run.out, "assum"));
    run_free(&run);
}

TEST(keys_of_a_section)
{
    struct run all, bank, climate;

    RUN(&all, "keys");
    RUN(&bank, "keys", "bank");
    RUN(&climate, "keys", "climate");
    assert_int_equal(all.code | bank.code | climate.code, 0);
    assert_non_null(strstr(all.out, "pulley_ratio"));
    assert_non_null(strstr(bank.out, "block_capacity"));
    assert_null(strstr(bank.out, "pulley_ratio"));
    assert_true(all.out_length > 2 * bank.out_length);
    assert_true(climate.out_length > 1000);
    run_free(&all);
    run_free(&bank);
    run_free(&climate);
}

/* Each command in each format, and CSV that is a table: every line of a block has as many commas outside quotes. */
static size_t cells_of(const char *line, size_t length)
{
    size_t count = 1;
    int quoted = 0;

    for (size_t i = 0; i < length; i++) {
        quoted ^= line[i] == '"';
        count += line[i] == ',' && !quoted;
    }
    return count;
}

static void expect_table(const char *command, const char *csv)
{
    size_t cells = 0, lines = 0;

    for (const char *line = csv, *end; *line; line = end + (*end != '\0')) {
        size_t n = strcspn(line, "\r\n"), here = cells_of(line, n);

        end = line + strcspn(line, "\n");
        if (n == 0) {
            cells = 0;
            continue;
        }
        if (cells && here != cells)
            fail_msg("%s: %zu cells, then %zu in: %.*s", command, cells, here, (int)n, line);
        cells = here;
        lines++;
    }
    if (lines < 2)
        fail_msg("%s: a CSV of %zu lines", command, lines);
}

TEST(every_format)
{
    static const char *const commands[] = { "check", "balance", "size", "week", "sun" };

    for (size_t c = 0; c < sizeof commands / sizeof commands[0]; c++) {
        struct run csv, text;

        json_decref(JSON_RUN(commands[c], boats[0]));
        RUN(&csv, commands[c], boats[0], "--format", "csv");
        RUN(&text, commands[c], boats[0], "--format", "text");
        assert_int_equal(csv.code | text.code, 0);
        expect_table(commands[c], csv.out);
        assert_true(text.out_length > 200);
        run_free(&csv);
        run_free(&text);
    }
}

/* test_week.c - bridgedeck week on the shipped boats: fixed names, sane figures, closed accounts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/json.h"
#include "support/run.h"
#include "support/test.h"

static const char *const boats[] = { "profiles/cruiser-12v-agm.ini", "profiles/induction-24v-lfp.ini",
                                     "profiles/simple-12v-flooded.ini", "profiles/starter.ini" };
enum { BOATS = sizeof boats / sizeof boats[0], DAY_STEPS = 1440 };

#define CSV_HEAD                                                                                                  \
    "time,charge_percent,bank_v,bank_a,load_w,inverter_w,solar_w,solar_spilled_w,alternator_w,charger_w,"         \
    "unserved_w,generator_on,engine_on"

TEST(fixed_names)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *week = JSON_RUN("week", boats[i]);

        json_has(week, "summary",
                 "min_charge_percent min_charge_time end_charge_percent unserved_wh solar_wh solar_spilled_wh "
                 "alternator_wh charger_wh load_wh mains_wh battery_loss_wh inverter_loss_wh stored_change_wh "
                 "generator_h engine_h energy_error_wh");
        json_decref(week);
    }
}

/* Solar + alternator + charger = load + inverter loss + change of store + battery loss, from the printed figures. */
TEST(printed_account_closes)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *root = JSON_RUN("week", boats[i]), *s = json_at(root, "summary");
        double in = number_at(s, "solar_wh") + number_at(s, "alternator_wh") + number_at(s, "charger_wh");
        double out = number_at(s, "load_wh") - number_at(s, "unserved_wh") + number_at(s, "inverter_loss_wh") +
                     number_at(s, "stored_change_wh") + number_at(s, "battery_loss_wh");

        row_check(boats[i], in - out, 0, 1e-6 * in, "property: energy is conserved");
        row_check(boats[i], number_at(s, "energy_error_wh"), 0, 1e-9 * in, "property: energy is conserved");
        json_decref(root);
    }
    row_done();
}

TEST(sane_figures)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *root = JSON_RUN("week", boats[i]), *s = json_at(root, "summary");
        double lowest = number_at(s, "min_charge_percent"), end = number_at(s, "end_charge_percent");

        /* 0 % is the end of a 20 h discharge: a slower one goes on below it */
        assert_true(lowest > -25 && lowest <= end && end <= 100);
        assert_true(number_at(s, "load_wh") > 1000);
        assert_true(number_at(s, "solar_wh") > 0);
        assert_true(number_at(s, "solar_spilled_wh") >= 0);
        assert_true(number_at(s, "battery_loss_wh") > 0);
        assert_true(number_at(s, "inverter_loss_wh") >= 0);
        assert_true(number_at(s, "unserved_wh") >= 0 && number_at(s, "unserved_wh") <= number_at(s, "load_wh"));
        assert_int_equal(strlen(text_at(s, "min_charge_time")), strlen("2026-07-06T06:40"));
        json_decref(root);
    }
}

/* One pass over the CSV against the JSON of the same run. */
struct csv_sums {
    size_t rows;
    double lowest, last, solar_wh, engine_h, generator_h;
};

static void csv_row(struct csv_sums *sums, char *line)
{
    double value[13] = { 0 };
    size_t n = 0;

    for (char *cell; (cell = strsep(&line, ",")); n++) {
        assert_true(n < 13);
        value[n] = n ? strtod(cell, NULL) : 0;
    }
    assert_int_equal(n, 13);
    sums->rows++;
    sums->lowest = fmin(sums->lowest, value[1]);
    sums->last = value[1];
    sums->solar_wh += value[6] / 60;
    sums->generator_h += value[11] / 60;
    sums->engine_h += value[12] / 60;
}

static struct csv_sums csv_read(char *text)
{
    struct csv_sums sums = { .lowest = 1000 };
    char *line = strsep(&text, "\n");

    line[strcspn(line, "\r")] = '\0';
    assert_string_equal(line, CSV_HEAD);
    while ((line = strsep(&text, "\n")) && *line)
        csv_row(&sums, line);
    return sums;
}

TEST(csv_and_json_agree)
{
    for (size_t i = 0; i < BOATS; i++) {
        json_t *root = JSON_RUN("week", boats[i]), *s = json_at(root, "summary");
        size_t days = json_array_size(json_at(root, "days"));
        struct csv_sums sums;
        struct run run;

        RUN(&run, "week", boats[i], "--format", "csv");
        assert_int_equal(run.code, 0);
        sums = csv_read(run.out);
        assert_int_equal(sums.rows, days * DAY_STEPS);
        row_check("lowest charge", sums.lowest, number_at(s, "min_charge_percent"), 0.06, "property: one result");
        row_check("last charge", sums.last, number_at(s, "end_charge_percent"), 0.06, "property: one result");
        row_check("solar", sums.solar_wh, number_at(s, "solar_wh"), 0.002 * number_at(s, "solar_wh") + 5,
                  "property: one result");
        row_check("generator", sums.generator_h, number_at(s, "generator_h"), 0.02, "property: one result");
        /* The flag says that any engine runs, the summary adds the hours of each: one to two times as many. */
        assert_true(number_at(s, "engine_h") > sums.engine_h - 0.02);
        assert_true(number_at(s, "engine_h") < 2 * sums.engine_h + 0.02);
        run_free(&run);
        json_decref(root);
    }
    row_done();
}

static size_t lines_of(const char *text)
{
    size_t count = 0;

    for (; *text; text++)
        count += *text == '\n';
    return count;
}

/* --step and --rows: so many rows, and the same week. */
TEST(step_and_rows)
{
    static const struct {
        const char *step, *rows;
        size_t count; /* for seven days */
    } cases[] = { { "1min", "1min", 10080 }, { "30s", "30s", 20160 }, { "1 min", "15min", 672 },
                  { "5min", "1h", 168 } };
    json_t *plain = JSON_RUN("week", boats[0]);

    assert_int_equal(json_array_size(json_at(plain, "days")), 7);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        json_t *root = JSON_RUN("week", boats[0], "--step", cases[i].step, "--rows", cases[i].rows);
        struct run run;

        RUN(&run, "week", boats[0], "--format", "csv", "--step", cases[i].step, "--rows", cases[i].rows);
        assert_int_equal(run.code, 0);
        assert_int_equal(lines_of(run.out), cases[i].count + 1);
        row_check(cases[i].step, number_at(root, "summary.min_charge_percent"),
                  number_at(plain, "summary.min_charge_percent"), 1.0, "property: the step hardly matters");
        run_free(&run);
        json_decref(root);
    }
    json_decref(plain);
    row_done();
}

/* A boat with half the bank does worse; --strict says so with 4, and without it the exit is 0. */
TEST(strict)
{
    char *folder = folder_new(), path[512];
    struct run plain, strict;

    file_put(path_in(path, folder, "weak.ini"), "[bank house]\nparallel = 1\n");
    RUN(&plain, "week", boats[0], "--change", path);
    RUN(&strict, "week", boats[0], "--change", path, "--strict");
    assert_int_equal(plain.code, 0);
    assert_int_equal(strict.code, 4);
    assert_string_equal(plain.out, strict.out);
    run_free(&plain);
    run_free(&strict);
    folder_remove(folder);
}

TEST(output_to_file_is_what_stdout_gets)
{
    char *folder = folder_new(), path[512], *written;
    struct run run, quiet;

    RUN(&run, "week", boats[0], "--format", "csv");
    RUN(&quiet, "week", boats[0], "--format", "csv", "--output", path_in(path, folder, "week.csv"));
    assert_int_equal(quiet.code, 0);
    assert_int_equal(quiet.out_length, 0);
    written = file_contents(path, NULL);
    assert_string_equal(written, run.out);
    assert_int_equal(folder_count(folder), 1);
    free(written);
    run_free(&run);
    run_free(&quiet);
    folder_remove(folder);
}

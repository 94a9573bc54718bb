/* test_working_cables.c - the numbers that the working of cables shows come to the values it shows.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/json.h"
#include "support/run.h"

/* ---- a calculator for what stands in a line: + - x / ^2, brackets, "3 % x 12", "7 more: 61.2" ---- */

static double expression(const char **at);

static void blanks(const char **at)
{
    while (isspace((unsigned char)**at))
        ++*at;
}

static double factor(const char **at)
{
    double value;

    blanks(at);
    if (**at == '(') {
        ++*at;
        value = expression(at);
        assert_int_equal(**at, ')');
        ++*at;
    } else {
        char *end;

        value = strtod(*at, &end);
        assert_true(end > *at);
        *at = end;
        if (strncmp(*at, " more: ", 7) == 0) {
            *at += 7;
            return factor(at);
        }
        if (strncmp(*at, " %", 2) == 0) {
            *at += 2;
            value /= 100;
        }
    }
    if (strncmp(*at, "^2", 2) == 0) {
        *at += 2;
        value *= value;
    }
    return value;
}

static double term(const char **at)
{
    double value = factor(at);

    for (;;) {
        blanks(at);
        if (**at == 'x')
            value *= (++*at, factor(at));
        else if (**at == '/')
            value /= (++*at, factor(at));
        else if (**at == '(')
            value *= factor(at);
        else
            return value;
    }
}

static double expression(const char **at)
{
    double value = term(at);

    for (;;) {
        blanks(at);
        if (**at == '+')
            value += (++*at, term(at));
        else if (**at == '-')
            value -= (++*at, term(at));
        else
            return value;
    }
}

static double calculated(const char *numbers)
{
    const char *at = numbers;
    double value = expression(&at);

    if (*at)
        fail_msg("what does \"%s\" mean in \"%s\"?", at, numbers);
    return value;
}

TEST(the_calculator)
{
    row_check("brackets", calculated("30 + (105 - 30)(244/780)^2"), 30 + 75 * pow(244.0 / 780, 2), 1e-9, "by hand");
    row_check("more", calculated("(1 + 2 + 7 more: 3) / 2"), 3, 1e-9, "by hand");
    row_check("percent", calculated("3 % x 12"), 0.36, 1e-9, "by hand");
    row_check("minus", calculated("12.3 - 1 - 2 x 3"), 5.3, 1e-9, "by hand");
    row_done();
}

/* ---- the lines ---- */

/* Four digits are printed; a difference of volts loses some of them. */
static void line_check(json_t *line)
{
    const char *numbers = json_string_value(json_object_get(line, "numbers"));
    const char *topic = text_at(line, "topic"), *formula = json_string_value(json_object_get(line, "formula"));
    double value = number_at(line, "value"), shown;

    char label[600];

    if (!numbers)
        return;
    snprintf(label, sizeof label, "%s: %s", topic, numbers);
    shown = calculated(numbers);
    if (strstr(topic, "fuse") && strstr(text_at(line, "figure"), "at most"))
        assert_true(value <= 1.5 * shown);
    else if (strstr(topic, "fuse"))
        assert_true(value >= shown * (1 - 1e-3) || strstr(text_at(line, "figure"), "chosen"));
    else if (!strstr(topic, "protective") && !(formula && strstr(formula, "phasors")))
        row_check(label, shown, value,
                  2e-3 * fabs(value) + (strstr(numbers, " - ") ? 1e-2 : 1e-6), "property: the numbers as shown");
}

static size_t lines_check(json_t *root)
{
    json_t *line;
    size_t i;

    json_array_foreach(json_at(root, "working"), i, line)
        line_check(line);
    return i;
}

TEST(numbers_come_to_the_value)
{
    static const char *const runs[][14] = {
        { "cable", "--current", "30A", "--length", "6m", "--working", "--rules", "abyc-e11" },
        { "cable", "--power", "2kW", "--length", "3m", "--working", "--rules", "iso10133", "--runs", "2" },
        { "cable", "--power", "3kW", "--length", "30m", "--working", "--volts", "230V", "--power-factor", "0.8", "--rules",
          "iso13297" },
        { "cables", "profiles/cruiser-12v-agm.ini", "--working" },
        { "cables", "profiles/induction-24v-lfp.ini", "--working", "--rules", "abyc-e11" },
        { "cables", "profiles/as-found.ini", "--working", "--rules", "cfr183" },
    };

    for (size_t i = 0; i < sizeof runs / sizeof *runs; i++) {
        const char *arguments[16] = { 0 };
        json_t *root;

        memcpy(arguments, runs[i], sizeof runs[i]);
        root = json_run(arguments);
        assert_true(lines_check(root) >= 10);
        json_decref(root);
    }
    row_done();
}

/* A current is what hangs beyond the cable: each tree of the shipped boat adds up to its first cable. */
TEST(currents_are_those_of_the_schedule)
{
    json_t *root = JSON_RUN("cables", "profiles/cruiser-12v-agm.ini", "--working"), *cable, *line;
    size_t i, k, found = 0;

    json_array_foreach(json_at(root, "cables"), i, cable)
    {
        char topic[100];

        snprintf(topic, sizeof topic, "%s, current", text_at(cable, "name"));
        json_array_foreach(json_at(root, "working"), k, line)
            if (strcmp(text_at(line, "topic"), topic) == 0 && strcmp(text_at(line, "figure"), "in the cable") == 0) {
                row_check(topic, calculated(text_at(line, "numbers")), number_at(cable, "current_a"),
                          1e-3 * number_at(cable, "current_a"), "by hand: Kirchhoff");
                found++;
            }
    }
    assert_true(found >= 2);
    json_decref(root);
    row_done();
}

/* The same run by both commands: every line of the one stands in the other, word for word. */
TEST(both_commands_write_the_same)
{
    char *folder = folder_new(), space[512], fault[40];
    json_t *boat, *run, *line, *other;
    size_t i, k, same = 0;

    file_put(path_in(space, folder, "boat.ini"),
             "[boat]\nname = T\ndc_voltage = 12 V\n[bank house]\nrole = house\nchemistry = agm\nblock_capacity = 400 Ah\n"
             "block_voltage = 12 V\n[load lamp]\ncurrent = 30 A\nbehaves = current\n[cable run]\nfrom = house\nto = lamp\n"
             "length = 6 m\ninsulation = 105 C\nplace = engine\n");
    boat = JSON_RUN("cables", space, "--rules", "iso10133", "--working");
    snprintf(fault, sizeof fault, "%.6fA", number_at(boat, "cables.0.fault_a"));
    run = JSON_RUN("cable", "--current", "30A", "--length", "6m", "--insulation", "105C", "--place", "engine", "--rules",
                   "iso10133", "--fault", fault, "--working");
    json_array_foreach(json_at(run, "working"), i, line)
    {
        int found = 0;

        json_array_foreach(json_at(boat, "working"), k, other)
            found |= strncmp(text_at(other, "topic"), "run, ", 5) == 0 &&
                     strcmp(text_at(other, "topic") + 5, text_at(line, "topic")) == 0 &&
                     strcmp(text_at(other, "figure"), text_at(line, "figure")) == 0 &&
                     json_equal(json_object_get(other, "formula"), json_object_get(line, "formula")) &&
                     json_equal(json_object_get(other, "numbers"), json_object_get(line, "numbers")) &&
                     strcmp(text_at(other, "source"), text_at(line, "source")) == 0;
        if (!found)
            fail_msg("%s, %s stands in one only", text_at(line, "topic"), text_at(line, "figure"));
        same += (size_t)found;
    }
    assert_true(same >= 11);
    json_decref(run);
    json_decref(boat);
    folder_remove(folder);
}

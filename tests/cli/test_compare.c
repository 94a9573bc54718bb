/* test_compare.c - the command compare, on shipped profiles and small changes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support/json.h"
#include "support/run.h"

static const char boat[] = "profiles/induction-24v-lfp.ini";
static const char bigger[] = "profiles/changes/induction-24v-lfp.bigger-inverter.ini";

static const char *file(char space[512], const char *folder, const char *name, const char *text)
{
    path_in(space, folder, name);
    file_put(space, text);
    return space;
}

TEST(an_empty_change_is_all_zeros)
{
    static const char *const profiles[] = { boat, "profiles/cruiser-12v-agm.ini",
                                            "profiles/simple-12v-flooded.ini" };
    char *folder = folder_new(), space[512];
    const char *empty = file(space, folder, "empty.ini", "[boat]\n");

    for (size_t p = 0; p < sizeof profiles / sizeof profiles[0]; p++) {
        json_t *json = JSON_RUN("compare", profiles[p], empty), *figures = json_at(json, "figures");

        assert_true(json_array_size(figures) > 20);
        for (size_t i = 0; i < json_array_size(figures); i++)
            row_check(text_at(json_array_get(figures, i), "figure"),
                      number_at(json_array_get(figures, i), "changes.0.delta"), 0, 0,
                      "property: nothing changed");
        assert_true(json_equal(json_at(json, "before.checks"), json_at(json, "changes.0.checks")));
        assert_true(json_equal(json_at(json, "before.cables"), json_at(json, "changes.0.cables")));
        assert_string_equal(text_at(json, "before.verdict"), text_at(json, "changes.0.verdict"));
        assert_int_equal(json_array_size(json_at(json, "findings")), 0);
        json_decref(json);
    }
    folder_remove(folder);
    row_done();
}

/* What appears one way vanishes the other, with the same rule, place and fact. */
static void findings_mirror(json_t *one, json_t *other)
{
    assert_int_equal(json_array_size(one), json_array_size(other));
    for (size_t i = 0; i < json_array_size(one); i++) {
        json_t *f = json_array_get(one, i);
        size_t found = 0;

        for (size_t k = 0; k < json_array_size(other); k++) {
            json_t *g = json_array_get(other, k);

            found += strcmp(text_at(f, "id"), text_at(g, "id")) == 0 &&
                     strcmp(text_at(f, "place"), text_at(g, "place")) == 0 &&
                     strcmp(text_at(f, "fact"), text_at(g, "fact")) == 0 &&
                     strcmp(text_at(f, "what"), text_at(g, "what")) != 0;
        }
        if (found != 1)
            fail_msg("%s at %s is mirrored %zu times", text_at(f, "id"), text_at(f, "place"), found);
    }
}

static void figures_mirror(json_t *figures, json_t *others)
{
    assert_true(json_array_size(figures) > 20);
    assert_int_equal(json_array_size(figures), json_array_size(others));
    for (size_t i = 0; i < json_array_size(figures); i++) {
        json_t *f = json_array_get(figures, i), *g = json_array_get(others, i);

        assert_string_equal(text_at(f, "figure"), text_at(g, "figure"));
        assert_true(json_equal(json_at(f, "item"), json_at(g, "item")));
        assert_true(json_equal(json_at(f, "before"), json_at(g, "changes.0.value")));
        row_check(text_at(f, "figure"), number_at(f, "changes.0.delta"), -number_at(g, "changes.0.delta"), 0,
                  "property: mirrored");
        row_check(text_at(f, "figure"), number_at(f, "changes.0.better"), -number_at(g, "changes.0.better"),
                  0, "property: mirrored");
    }
}

/* The same sentence, but that a side which holds may end with what could not before. */
static void verdicts_agree(const char *as_before, const char *as_after)
{
    const char *news = strstr(as_after, "; before, ");
    size_t length = news ? (size_t)(news - as_after) : strlen(as_after) - 1;

    assert_int_equal(length, strlen(as_before) - 1);
    assert_int_equal(strncmp(as_before, as_after, length), 0);
}

/* A against B and B against A: each side says of itself what it says on the other side of the table. */
TEST(there_and_back_through_files)
{
    static const struct { const char *there, *back; } rows[] = {
        { "[bank house]\nparallel = 4\n[inverter inverter]\npower = 6 kW\n",
          "[bank house]\nparallel = 3\n[inverter inverter]\npower = 4500 W\n" },
        { "[inverter inverter]\npower = 10 kW\nsurge_power = 16 kW\nidle_power = 45 W\n[load kettle]\npower = 1 kW\n",
          "[inverter inverter]\npower = 4500 W\nsurge_power = 9000 W\nidle_power = 28 W\n[load kettle]\npower = 2 kW\n" },
    };
    char *folder = folder_new(), space[512], other[512];

    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        const char *there = file(space, folder, "there.ini", rows[r].there),
                   *back = file(other, folder, "back.ini", rows[r].back);
        json_t *a = JSON_RUN("compare", boat, there, "--change", back);
        json_t *b = JSON_RUN("compare", boat, back, "--change", there);

        figures_mirror(json_at(a, "figures"), json_at(b, "figures"));
        findings_mirror(json_at(a, "findings"), json_at(b, "findings"));
        assert_true(r == 0 || json_array_size(json_at(a, "findings")) > 0);
        verdicts_agree(text_at(a, "before.verdict"), text_at(b, "changes.0.verdict"));
        verdicts_agree(text_at(b, "before.verdict"), text_at(a, "changes.0.verdict"));
        assert_true(json_equal(json_at(a, "before.checks"), json_at(b, "changes.0.checks")));
        assert_true(json_equal(json_at(b, "before.checks"), json_at(a, "changes.0.checks")));
        json_decref(a);
        json_decref(b);
    }
    folder_remove(folder);
    row_done();
}

TEST(compare_agrees_with_week_and_balance)
{
    json_t *compare = JSON_RUN("compare", boat, bigger), *figures = json_at(compare, "figures");
    json_t *before = JSON_RUN("week", boat), *after = JSON_RUN("week", boat, "--change", bigger);

    for (size_t i = 0; i < json_array_size(figures); i++) {
        json_t *f = json_array_get(figures, i);
        const char *name = text_at(f, "figure");

        if (strcmp(name, "generator_h") && strcmp(name, "min_charge_percent") &&
            strcmp(name, "solar_spilled_wh"))
            continue;
        row_check(name, number_at(f, "before"), number_at(json_at(before, "summary"), name), 1e-6,
                  "by hand: same run");
        row_check(name, number_at(f, "changes.0.value"), number_at(json_at(after, "summary"), name), 1e-6,
                  "by hand: same run");
    }
    assert_string_equal(text_at(compare, "changes.0.min_charge_time"),
                        text_at(after, "summary.min_charge_time"));
    assert_string_equal(text_at(compare, "changes.0.name"), "bigger-inverter");
    json_decref(compare);
    json_decref(before);
    json_decref(after);
    row_done();
}

TEST(several_changes_stand_side_by_side)
{
    char *folder = folder_new(), space[512];
    const char *more = file(space, folder, "more-panels.ini", "[solar targa]\ncount = 5\n");
    json_t *json = JSON_RUN("compare", boat, bigger, more);
    struct run run;

    assert_int_equal(json_array_size(json_at(json, "changes")), 2);
    assert_string_equal(text_at(json, "changes.1.name"), "more-panels");
    assert_int_equal(json_array_size(json_at(json, "figures.0.changes")), 2);
    RUN(&run, "compare", boat, bigger, more);
    assert_int_equal(run.code, 0);
    assert_non_null(strstr(run.out, "bigger-inverter"));
    assert_non_null(strstr(run.out, "more-panels"));
    assert_null(strchr(run.out, '\033')); /* colour is for terminals */
    run_free(&run);
    json_decref(json);
    folder_remove(folder);
}

TEST(what_is_wrong_is_said_once_and_by_its_file)
{
    char *folder = folder_new(), space[512];
    const char *wrong = file(space, folder, "wrong.ini", "[bank house]\nparallel = many\n");
    struct run run;

    RUN(&run, "compare", boat);
    assert_int_equal(run.code, 2);
    assert_non_null(strstr(run.err, "CHANGE... is missing"));
    run_free(&run);
    RUN(&run, "compare", boat, wrong);
    assert_int_equal(run.code, 1);
    assert_non_null(strstr(run.err, "wrong.ini:2"));
    assert_int_equal(run.out_length, 0);
    run_free(&run);
    folder_remove(folder);
}

TEST(strict_asks_every_change_to_hold)
{
    static const char *const changes[] = { "[boat]\n", "[load hob-front]\npower = 9 kW\n" };
    char *folder = folder_new(), space[512];

    for (size_t i = 0; i < sizeof changes / sizeof changes[0]; i++) {
        const char *change = file(space, folder, "change.ini", changes[i]);
        json_t *json = JSON_RUN("compare", boat, change);
        struct run run;

        RUN(&run, "compare", boat, change, "--strict");
        assert_int_equal(run.code, json_is_true(json_at(json, "changes.0.passes")) ? 0 : 4);
        run_free(&run);
        json_decref(json);
    }
    folder_remove(folder);
}

/* Only the inverter is changed: its feed is what cannot carry it, and the survey says so too. */
TEST(a_larger_inverter_alone_overloads_its_feed)
{
    json_t *json = JSON_RUN("compare", boat, "profiles/changes/induction-24v-lfp.inverter-only.ini");
    json_t *cables = json_at(json, "changes.0.cables"), *findings = json_at(json, "findings");
    int named = 0, found = 0;

    assert_non_null(strstr(text_at(json, "changes.0.verdict"), "the 95 mm2 inverter-feed"));
    for (size_t i = 0; i < json_array_size(cables); i++)
        if (strcmp(text_at(json_array_get(cables, i), "name"), "inverter-feed") == 0) {
            assert_true(*text_at(json_array_get(cables, i), "needed"));
            named = 1;
        }
    for (size_t i = 0; i < json_array_size(findings); i++)
        found |= strcmp(text_at(json_array_get(findings, i), "what"), "appears") == 0 &&
                 strstr(text_at(json_array_get(findings, i), "place"), "inverter") != NULL;
    assert_true(named && found);
    json_decref(json);
}

/* What compare shows of a change on a terminal, with one more variable in its environment. Free it. */
static char *on_a_terminal(const char *variable)
{
    char program[512], *text = calloc(1, 1 << 18);
    ssize_t n = readlink("/proc/self/exe", program, sizeof program - 1);
    size_t used = 0;
    int terminal, status;
    pid_t child;

    assert_non_null(text);
    assert_true(n > 0);
    program[n] = '\0';
    strcpy(strrchr(program, '/') + 1, "bridgedeck");
    assert_true((child = forkpty(&terminal, NULL, NULL, NULL)) >= 0);
    if (child == 0) {
        execle(program, program, "compare", boat, bigger, "--quiet", NULL,
               (char *const[]){ "TERM=xterm", (char *)(uintptr_t)variable, NULL });
        _exit(127);
    }
    while (used < (1 << 18) - 1 && (n = read(terminal, text + used, (1 << 18) - 1 - used)) > 0)
        used += (size_t)n;
    close(terminal);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    return text;
}

/* Green where a difference is for the better, red where it is for the worse, and its sign says it as well; on a terminal only. */
TEST(differences_are_coloured_on_a_terminal_only)
{
    char *shown = on_a_terminal("LANG=C"), *plain = on_a_terminal("NO_COLOR=1");
    struct run run;

    assert_non_null(strstr(shown, "\033[32m      +6.8\033[0m")); /* lowest charge */
    assert_non_null(strstr(shown, "\033[31m      +2.7\033[0m")); /* hours of the generator */
    assert_null(strchr(plain, '\033'));
    assert_non_null(strstr(plain, "+6.8"));
    RUN(&run, "compare", boat, bigger);
    assert_null(strchr(run.out, '\033'));
    run_free(&run);
    free(shown);
    free(plain);
}

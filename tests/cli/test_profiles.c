/* test_profiles.c - the shipped profiles are right, and files that are no profiles are refused with a reason.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/run.h"
#include "support/test.h"

#define BOAT "profiles/cruiser-12v-agm.ini"

/* Every shipped boat passes through every command without a word on standard error but notes. */
TEST(shipped_profiles)
{
    static const char *const commands[] = { "check", "balance", "size", "week", "sun", "survey", "handover" };
    glob_t found;

    assert_int_equal(glob("profiles/*.ini", 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 4);
    for (size_t i = 0; i < found.gl_pathc; i++)
        for (size_t c = 0; c < sizeof commands / sizeof commands[0]; c++) {
            struct run run;

            RUN(&run, commands[c], found.gl_pathv[i]);
            if (run.code != 0 || !run.out_length || strstr(run.err, ": error: ") || strstr(run.err, ": warning: "))
                fail_msg("%s %s: exit %d: %s", commands[c], found.gl_pathv[i], run.code, run.err);
            run_free(&run);
        }
    globfree(&found);
}

TEST(shipped_changes)
{
    glob_t found;

    assert_int_equal(glob("profiles/changes/*.ini", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        char base[256];
        const char *name = strrchr(found.gl_pathv[i], '/') + 1;
        struct run plain, changed;

        /* BOAT.WHAT.ini belongs to BOAT.ini */
        snprintf(base, sizeof base, "profiles/%.*s.ini", (int)strcspn(name, "."), name);
        RUN(&plain, "week", base, "--format", "json");
        RUN(&changed, "week", base, "--change", found.gl_pathv[i], "--format", "json");
        if (changed.code != 0)
            fail_msg("%s: exit %d: %s", name, changed.code, changed.err);
        assert_int_equal(plain.code, 0);
        assert_string_not_equal(plain.out, changed.out);
        run_free(&plain);
        run_free(&changed);
    }
    globfree(&found);
}

/* No profile: exit 1, nothing on standard output, the file's name and the reason on standard error. */
static void expect_refused(const char *path, const char *said)
{
    static const char *const commands[] = { "check", "balance", "size", "week", "sun", "survey", "handover" };

    for (size_t c = 0; c < sizeof commands / sizeof commands[0]; c++) {
        struct run run;

        RUN(&run, commands[c], path);
        if (run.code != 1 || run.out_length || !strstr(run.err, path) || !strstr(run.err, said))
            fail_msg("%s %s: exit %d, wanted 1 and \"%s\": %s%s", commands[c], path, run.code, said, run.out,
                     run.err);
        run_free(&run);
    }
}

TEST(files_that_are_no_profiles)
{
    char *folder = folder_new(), path[512];

    expect_refused("none/such.ini", "No such file");
    expect_refused(folder, "directory");
    expect_refused("/dev/null", "empty");
    file_put(path_in(path, folder, "empty.ini"), "");
    expect_refused(path, "empty");
    file_put(path_in(path, folder, "text.ini"), "Dear diary, today we sailed.\n");
    expect_refused(path, ":1: error: ");
    if (geteuid() != 0) { /* root reads everything */
        assert_int_equal(chmod(path, 0), 0);
        expect_refused(path, "Permission denied");
    }
    folder_remove(folder);
}

/* A file of 1 GB (a hole, no real bytes) is refused by its size, at once. */
TEST(huge_file)
{
    char *folder = folder_new(), path[512];

    file_put(path_in(path, folder, "huge.ini"), "[boat]\n");
    assert_int_equal(truncate(path, 1024L * 1024 * 1024), 0);
    expect_refused(path, "larger than");
    folder_remove(folder);
}

TEST(change_that_is_missing)
{
    struct run run;

    RUN(&run, "week", BOAT, "--change", "none/such.ini");
    assert_int_equal(run.code, 1);
    assert_non_null(strstr(run.err, "none/such.ini"));
    run_free(&run);
}

/* All faults in one run, with line, section and what would do; --quiet does not hide them. */
TEST(all_errors_in_one_run)
{
    char *folder = folder_new(), path[512];
    struct run run;

    file_put(path_in(path, folder, "bad.ini"), "[boat]\nname = Bad\ndc_voltage = 12\n\n[laod fridge]\npower = 45 W\n\n"
                                               "[load light]\nsupply = dc\npower = 1,5 W\nhours = 4 h\n");
    RUN(&run, "check", path, "--quiet");
    assert_int_equal(run.code, 1);
    assert_non_null(strstr(run.err, "bad.ini:3: error: "));
    assert_non_null(strstr(run.err, "bad.ini:5: error: "));
    assert_non_null(strstr(run.err, "bad.ini:10: error: "));
    run_free(&run);
    folder_remove(folder);
}

/* What only the cables put together show, check shows as well: cables would refuse such a boat. */
TEST(check_puts_the_cables_together)
{
    char *folder = folder_new(), path[512];
    struct run run;

    file_put(path_in(path, folder, "two.ini"),
             "[bank house]\nchemistry = agm\nblock_capacity = 200 Ah\n"
             "[bank start]\nrole = start\nchemistry = agm\nblock_capacity = 90 Ah\n"
             "[day day]\n[plan]\ndays = day\n[load pump]\ncurrent = 7 A\n"
             "[cable feed]\nfrom = house\nto = pump\nlength = 2 m\n"
             "[cable link]\nfrom = start\nto = pump\nlength = 2 m\n");
    RUN(&run, "check", path);
    assert_int_equal(run.code, 1);
    assert_non_null(strstr(run.err, "two.ini:19: error: [cable link] to: everything on it is fed by two banks"));
    run_free(&run);
    folder_remove(folder);
}

/* Colour goes to a terminal that shows it and to nothing else, and nowhere where NO_COLOR is set. */
TEST(colour_on_a_terminal)
{
    static const char *const shows[] = { "TERM=xterm", NULL };
    static const char *const refused[] = { "TERM=xterm", "NO_COLOR=1", NULL };
    static const char *const dumb[] = { "TERM=dumb", NULL };
    static const struct {
        struct run_world world;
        int coloured;
    } rows[] = {
        { { .terminal = 1, .environment = shows }, 1 },
        { { .terminal = 1, .environment = refused }, 0 },
        { { .terminal = 1, .environment = dumb }, 0 },
        { { .terminal = 1 }, 0 },
        { { .environment = shows }, 0 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct run run;

        run_program(&run, &rows[i].world, (const char *const[]){ "check", "none/such.ini", NULL });
        assert_int_equal(run.code, 1);
        assert_non_null(strstr(run.err, "none/such.ini: error: "));
        if ((strstr(run.err, "\033[31m") != NULL) != rows[i].coloured)
            fail_msg("row %zu: %s", i, run.err);
        run_free(&run);
    }
}

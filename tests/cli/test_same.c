/* test_same.c - the same input gives the same bytes: twice, in any locale, in a hostile environment.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "support/run.h"
#include "support/test.h"

#define BOAT "profiles/cruiser-12v-agm.ini"

static const char *const calls[][6] = {
    { "check", BOAT },
    { "balance", BOAT, "--working" },
    { "size", BOAT, "--format", "json" },
    { "week", BOAT, "--format", "csv" },
    { "week", BOAT, "--format", "json" },
    { "sun", BOAT },
    { "keys" },
    { "--help" },
    { "week", "--help" },
};
enum { CALLS = sizeof calls / sizeof calls[0] };

static void expect_same(const struct run_world *world, const char *what)
{
    for (size_t i = 0; i < CALLS; i++) {
        struct run one, two;

        run_program(&one, NULL, calls[i]);
        run_program(&two, world, calls[i]);
        if (one.code != 0 || two.code != 0 || strcmp(one.out, two.out) != 0 || strcmp(one.err, two.err) != 0)
            fail_msg("%s: %s %s differs", what, calls[i][0], calls[i][1] ? calls[i][1] : "");
        run_free(&one);
        run_free(&two);
    }
}

TEST(twice)
{
    expect_same(NULL, "a second run");
}

/* Variables that libraries or the C library listen to; a decimal comma must appear nowhere. */
TEST(hostile_environment)
{
    static const char *const german[] = { "LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8", NULL };
    static const char *const plain[] = { "LC_ALL=C", NULL };
    static const char *const listened[] = { "ARGP_HELP_FMT=rmargin=40,dup-args", "POSIXLY_CORRECT=1", "COLUMNS=30",
                                            "LINES=5", "TERM=xterm-256color", "TZ=Pacific/Kiritimati",
                                            "BITMAPSIZE=10x10", "BG_COLOR=red", "ROTATION=90", "PAGESIZE=a4",
                                            "FORCE_COLOR=1", "CLICOLOR_FORCE=1", "LIBSMARTCOLS_DEBUG_PADDING=on",
                                            "TMPDIR=/nonexistent/none", "GSL_RNG_SEED=7", NULL };

    expect_same(&(struct run_world){ .environment = german }, "German locale");
    expect_same(&(struct run_world){ .environment = plain }, "C locale");
    expect_same(&(struct run_world){ .environment = listened }, "hostile environment");
}

/* Plots too, and their bytes do not hang on the environment that libplot reads its defaults from. */
TEST(plots)
{
    static const char *const endings[] = { "a.svg", "a.png", "a.ps" };
    static const char *const listened[] = { "BITMAPSIZE=10x10", "BG_COLOR=red", "ROTATION=90", "PAGESIZE=a4",
                                            "MAX_LINE_LENGTH=10", "EMULATE_COLOR=yes", "LC_ALL=de_DE.UTF-8",
                                            "INTERLACE=yes", "TRANSPARENT_COLOR=white", NULL };
    struct run_world hostile = { .environment = listened };

    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        char *one = folder_new(), *two = folder_new(), path1[512], path2[512], *bytes1, *bytes2;
        size_t length1, length2;
        struct run run;

        RUN(&run, "week", BOAT, "--plot", path_in(path1, one, endings[i]));
        assert_int_equal(run.code, 0);
        run_free(&run);
        run_program(&run, &hostile,
                    (const char *const[]){ "week", BOAT, "--plot", path_in(path2, two, endings[i]), NULL });
        assert_int_equal(run.code, 0);
        run_free(&run);
        bytes1 = file_contents(path1, &length1);
        bytes2 = file_contents(path2, &length2);
        if (length1 != length2 || length1 < 1000 || memcmp(bytes1, bytes2, length1) != 0)
            fail_msg("%s differs with the environment: %zu and %zu bytes", endings[i], length1, length2);
        free(bytes1);
        free(bytes2);
        folder_remove(one);
        folder_remove(two);
    }
}

/* A date of making inside would tell two runs a second apart from each other. */
TEST(plots_hold_no_date)
{
    static const char *const endings[] = { "a.svg", "a.png", "a.ps" };

    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        char *folder = folder_new(), path[512], *bytes;
        size_t length;
        struct run run;

        RUN(&run, "sun", BOAT, "--plot", path_in(path, folder, endings[i]));
        assert_int_equal(run.code, 0);
        bytes = file_contents(path, &length);
        assert_non_null(bytes);
        if (memmem(bytes, length, "Creation", 8) || memmem(bytes, length, "tIME", 4))
            fail_msg("%s says when it was made", endings[i]);
        free(bytes);
        run_free(&run);
        folder_remove(folder);
    }
}

/* Where a profile is read from does not change what is computed. */
TEST(another_folder)
{
    struct run_world world = { .folder = "profiles" };
    struct run here, there;

    RUN(&here, "week", BOAT, "--format", "json");
    run_program(&there, &world,
                (const char *const[]){ "week", "cruiser-12v-agm.ini", "--format", "json", NULL });
    assert_int_equal(there.code, 0);
    assert_string_equal(here.out, there.out);
    run_free(&here);
    run_free(&there);
}

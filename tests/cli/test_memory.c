/* test_memory.c - memory that runs out at any allocation is an error with exit 1, never a crash, never a wrong result.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/run.h"
#include "support/test.h"


/* A sanitizer has an allocator of its own, which must not be taken from it: these tests are for plain builds. */
#ifndef __has_feature
#define __has_feature(x) 0
#endif
#if !defined __SANITIZE_ADDRESS__ && !defined __SANITIZE_THREAD__ && !__has_feature(address_sanitizer)

#define BOAT "profiles/starter.ini"

/* Runs with the Nth allocation failing; 1 where that many are not made, and then the output must be the usual one. */
static int survives(const char *const *arguments, const char *usual, long nth)
{
    char fault[32];
    struct run_world world = { .fault = fault };
    struct run run;
    int done;

    snprintf(fault, sizeof fault, "malloc:%ld", nth);
    run_program(&run, &world, arguments);
    if (run.code != 0 && run.code != 1)
        fail_msg("%s, allocation %ld: exit %d: %s", arguments[0], nth, run.code, run.err);
    if (run.code == 1 && !run.err_length)
        fail_msg("%s, allocation %ld: exit 1 without a word", arguments[0], nth);
    if (run.code == 0 && strcmp(run.out, usual) != 0)
        fail_msg("%s, allocation %ld: exit 0 with another output", arguments[0], nth);
    done = run.code == 0;
    run_free(&run);
    return done;
}

TEST(memory_runs_out)
{
    static const char *const calls[][10] = {
        { "check", BOAT, "--format", "json" },
        { "balance", BOAT },
        { "size", BOAT, "--working" },
        { "week", BOAT, "--format", "csv" },
        { "sun", BOAT },
        { "survey", BOAT },
        { "survey", BOAT, "--rules", "all" },
        { "cables", BOAT, "--sheet", "panels,bill" },
        { "cables", BOAT, "--format", "json" },
        { "cables", BOAT, "--working" },
        { "cable", "--power", "400W", "--length", "9ft", "--table", "--working" },
        { "cable", "--current", "16A", "--length", "90m", "--volts", "230V", "--rules", "all" },
        { "handover", BOAT, "--format", "json" },
        { "keys", "bank" },
        { "keys", "rules" },
    };

    for (size_t i = 0; i < sizeof calls / sizeof calls[0]; i++) {
        struct run usual;
        long nth = 1;

        run_program(&usual, NULL, calls[i]);
        assert_int_equal(usual.code, 0);
        /* every one at first, then ever fewer: a run makes some hundreds to thousands */
        while (!survives(calls[i], usual.out, nth))
            nth += 1 + nth / 20;
        assert_true(nth > 20);
        run_free(&usual);
    }
}

/* The same for files: no half file, the old one stays. */
TEST(memory_runs_out_while_saving)
{
    static const char *const names[] = { "week.svg", "week.png", "week.ps" };

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        for (long nth = 1, code = 1; code != 0; nth += 1 + nth / 8) {
            char *folder = folder_new(), path[512], fault[32], *left;
            struct run_world world = { .fault = fault };
            struct run run;

            snprintf(fault, sizeof fault, "malloc:%ld", nth);
            file_put(path_in(path, folder, names[i]), "old");
            run_program(&run, &world, (const char *const[]){ "week", BOAT, "--plot", path, NULL });
            code = run.code;
            if (code != 0 && code != 1 && code != 3)
                fail_msg("%s, allocation %ld: exit %d: %s", names[i], nth, run.code, run.err);
            left = file_contents(path, NULL);
            assert_non_null(left);
            assert_int_equal(strcmp(left, "old") == 0, code != 0);
            assert_int_equal(folder_count(folder), 1);
            free(left);
            run_free(&run);
            folder_remove(folder);
        }
}

#endif

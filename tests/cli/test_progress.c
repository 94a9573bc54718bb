/* test_progress.c - work that takes over a second gives a sign of life, on a terminal and nowhere else.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "support/run.h"
#include "support/test.h"

static void expect(const struct run_world *world, const char *last, int said)
{
    char *folder = folder_new(), path[512];
    struct run run;

    run_program(&run, world,
                (const char *const[]){ "balance", "profiles/starter.ini", "--output",
                                       path_in(path, folder, "balance.txt"), last, NULL });
    assert_int_equal(run.code, 0);
    assert_int_equal(strstr(run.err, "working, 1 s") != NULL, said);
    if (said) /* and wipes it out again */
        assert_int_equal(run.err[run.err_length - 1], '\r');
    run_free(&run);
    folder_remove(folder);
}

TEST(sign_of_life)
{
    expect(&(struct run_world){ .terminal = 1, .fault = "slow" }, NULL, 1);
    expect(&(struct run_world){ .terminal = 1, .fault = "slow" }, "--quiet", 0);
    expect(&(struct run_world){ .fault = "slow" }, NULL, 0);
    expect(&(struct run_world){ .terminal = 1 }, NULL, 0);
}

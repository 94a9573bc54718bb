/* test_unwritable.c - outputs that cannot be written: exit 3, a reason, no half file, the old file untouched.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/run.h"
#include "support/test.h"

#define BOAT "profiles/cruiser-12v-agm.ini"

static void expect_3(const struct run_world *world, const char *const *arguments, const char *said)
{
    struct run run;

    run_program(&run, world, arguments);
    if (run.code != 3 || !strstr(run.err, said))
        fail_msg("%s: exit %d, wanted 3 and \"%s\", said: %s", arguments[0], run.code, said, run.err);
    run_free(&run);
}

TEST(full_standard_output)
{
    static const struct run_world full = { .stdout_path = "/dev/full" };

    expect_3(&full, (const char *const[]){ "week", BOAT, "--format", "csv", NULL }, "No space left");
    expect_3(&full, (const char *const[]){ "week", BOAT, NULL }, "No space left");
    expect_3(&full, (const char *const[]){ "balance", BOAT, "--format", "json", NULL }, "No space left");
    expect_3(&full, (const char *const[]){ "--help", NULL }, "No space left");
    expect_3(&full, (const char *const[]){ "week", "--help", NULL }, "No space left");
    expect_3(&full, (const char *const[]){ "--version", NULL }, "No space left");
    expect_3(&full, (const char *const[]){ NULL }, "No space left");
}

/* With standard output closed, results must not land in the next file that is opened. */
TEST(closed_standard_output)
{
    static const struct run_world closed = { .stdout_path = "-" };
    char *folder = folder_new(), path[512];

    expect_3(&closed, (const char *const[]){ "week", BOAT, NULL }, "standard output");
    expect_3(&closed, (const char *const[]){ "week", BOAT, "--plot", path_in(path, folder, "week.svg"), NULL },
             "standard output");
    assert_int_equal(folder_count(folder), 0);
    folder_remove(folder);
}

/* Nobody is left without output who did not ask for any there. */
TEST(closed_standard_output_unused)
{
    static const struct run_world closed = { .stdout_path = "-" };
    char *folder = folder_new(), path[512];
    struct run run;

    run_program(&run, &closed,
                (const char *const[]){ "week", BOAT, "--output", path_in(path, folder, "week.txt"), NULL });
    assert_int_equal(run.code, 0);
    assert_int_equal(folder_count(folder), 1);
    run_free(&run);
    folder_remove(folder);
}

TEST(full_device_as_file)
{
    char *folder = folder_new(), path[512];

    expect_3(NULL, (const char *const[]){ "week", BOAT, "--output", "/dev/full", NULL }, "No space left");
    assert_int_equal(symlink("/dev/full", path_in(path, folder, "week.svg")), 0);
    expect_3(NULL, (const char *const[]){ "week", BOAT, "--plot", path, NULL }, "No space left");
    folder_remove(folder);
}

/* Each fault, on the results and on each kind of plot: the old file stays, nothing else appears. */
TEST(faults_leave_the_old_file)
{
    static const char *const faults[] = { "fflush", "fclose", "rename", "linkat" };
    static const char *const names[] = { "week.txt", "week.svg", "week.png", "week.ps" };

    for (size_t f = 0; f < sizeof faults / sizeof faults[0]; f++)
        for (size_t n = 0; n < sizeof names / sizeof names[0]; n++) {
            struct run_world world = { .fault = faults[f] };
            char *folder = folder_new(), path[512], *left;

            file_put(path_in(path, folder, names[n]), "old");
            expect_3(&world,
                     (const char *const[]){ "week", BOAT, n ? "--plot" : "--output", path, NULL }, "No space left");
            assert_int_equal(folder_count(folder), 1);
            left = file_contents(path, NULL);
            assert_string_equal(left, "old");
            free(left);
            folder_remove(folder);
        }
}

/* A file that may not grow beyond a few pages: real writes that really fail part of the way. */
TEST(limit_of_file_size)
{
    static const char *const names[] = { "week.csv", "week.svg", "week.png", "week.ps" };
    static const struct run_world small = { .file_limit = 8192 };

    for (size_t n = 0; n < sizeof names / sizeof names[0]; n++) {
        char *folder = folder_new(), path[512], *left;

        file_put(path_in(path, folder, names[n]), "old");
        if (n == 0)
            expect_3(&small,
                     (const char *const[]){ "week", BOAT, "--format", "csv", "--output", path, NULL },
                     "File too large");
        else
            expect_3(&small,
                     (const char *const[]){ "week", BOAT, "--output", "/dev/null", "--plot", path, NULL },
                     "File too large");
        assert_int_equal(folder_count(folder), 1);
        left = file_contents(path, NULL);
        assert_string_equal(left, "old");
        free(left);
        folder_remove(folder);
    }
}

TEST(places_that_are_none)
{
    char *folder = folder_new(), path[512];

    expect_3(NULL, (const char *const[]){ "week", BOAT, "--output", folder, NULL }, "directory");
    expect_3(NULL,
             (const char *const[]){ "week", BOAT, "--output", path_in(path, folder, "none/week.txt"), NULL },
             "No such file");
    expect_3(NULL, (const char *const[]){ "week", BOAT, "--plot", path_in(path, folder, "none/week.svg"), NULL },
             "No such file");
    assert_int_equal(folder_count(folder), 0);
    folder_remove(folder);
}

/* A wrong profile writes nothing, touches nothing. */
TEST(refused_profile_leaves_the_old_file)
{
    char *folder = folder_new(), profile[512], path[512], *left;
    struct run run;

    file_put(path_in(profile, folder, "bad.ini"), "[boat]\nname = Bad\ndc_voltage = twelve\n");
    file_put(path_in(path, folder, "week.svg"), "old");
    RUN(&run, "week", profile, "--plot", path);
    assert_int_equal(run.code, 1);
    left = file_contents(path, NULL);
    assert_string_equal(left, "old");
    assert_int_equal(folder_count(folder), 2);
    free(left);
    run_free(&run);
    folder_remove(folder);
}

/* A new file gets the mode the user's mask asks for; a file that is replaced keeps its own. */
TEST(mode_of_files)
{
    char *folder = folder_new(), path[512];
    struct stat about;
    struct run run;
    mode_t mask = umask(0027);

    RUN(&run, "balance", BOAT, "--output", path_in(path, folder, "new.txt"));
    umask(mask);
    assert_int_equal(run.code, 0);
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_mode & 0777, 0640);
    run_free(&run);
    assert_int_equal(chmod(path, 0600), 0);
    RUN(&run, "balance", BOAT, "--output", path);
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_mode & 0777, 0600);
    run_free(&run);
    folder_remove(folder);
}

/* A slip of the hand must not cost the user the profile: wrong usage, and the file is as it was. */
TEST(profile_is_not_overwritten)
{
    static const char text[] = "[boat]\nname = Precious\n";
    char *folder = folder_new(), profile[512], link[512], fresh[512], *left;
    const char *const calls[][8] = {
        { "check", profile, "--output", profile },
        { "check", profile, "--output", link },
        { "week", BOAT, "--change", profile, "--output", profile },
        { "week", BOAT, "--change", link, "--plot", profile },
        { "compare", BOAT, link, "--output", profile },
        { "week", BOAT, "--output", fresh, "--plot", fresh },
    };

    file_put(path_in(profile, folder, "precious.svg"), text); /* an ending that --plot accepts */
    assert_int_equal(symlink(profile, path_in(link, folder, "link.svg")), 0);
    path_in(fresh, folder, "fresh.svg");
    for (size_t i = 0; i < sizeof calls / sizeof calls[0]; i++) {
        struct run run;

        run_program(&run, NULL, calls[i]);
        assert_int_equal(run.code, 2);
        assert_non_null(strstr(run.err, "Usage: "));
        run_free(&run);
    }
    left = file_contents(profile, NULL);
    assert_string_equal(left, text);
    assert_int_equal(folder_count(folder), 2);
    free(left);
    folder_remove(folder);
}

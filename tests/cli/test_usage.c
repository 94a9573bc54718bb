/* test_usage.c - help, version, wrong usage: what is said, where, and with which exit code.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support/run.h"
#include "support/test.h"

#define BOAT "profiles/cruiser-12v-agm.ini"

/* Runs a script of the shell with a folder as argument and the program as PROGRAM; fails the test where it fails. */
static void run_shell(const char *script, const char *folder)
{
    char program[512], command[2048];
    ssize_t n = readlink("/proc/self/exe", program, sizeof program - 1);

    assert_true(n > 0);
    program[n] = '\0';
    strcpy(strrchr(program, '/') + 1, "bridgedeck");
    snprintf(command, sizeof command, "PROGRAM='%s' sh '%s' '%s'", program, script, folder);
    assert_int_equal(system(command), 0);
}

TEST(bare_call_says_what_it_is)
{
    struct run run;

    run_program(&run, NULL, (const char *const[]){ NULL });
    assert_int_equal(run.code, 0);
    assert_string_equal(run.err, "");
    assert_non_null(strstr(run.out, "catamaran"));
    run_free(&run);
}

/* The three things to try work as they stand, one after the other, in an empty folder. */
TEST(what_the_bare_call_proposes_works)
{
    char *folder = folder_new(), path[512],
         script[2048] = "set -e; bridgedeck() { \"$PROGRAM\" \"$@\" 2>/dev/null; }; cd \"$1\"; exec >out\n";
    size_t tried = 0;
    struct run run;

    run_program(&run, NULL, (const char *const[]){ NULL });
    for (char *rest = run.out, *line; (line = strsep(&rest, "\n"));) {
        char *end = strncmp(line, "  bridgedeck ", 13) == 0 ? strstr(line + 2, "   ") : NULL;

        if (!end)
            continue;
        snprintf(script + strlen(script), sizeof script - strlen(script), "%.*s\n", (int)(end - line), line);
        tried++;
    }
    assert_int_equal(tried, 3);
    file_put(path_in(path, folder, "try"), script);
    run_shell(path, folder);
    assert_int_equal(folder_count(folder), 5); /* the script, what the lines say, and what each line makes */
    run_free(&run);
    folder_remove(folder);
}

/* Asked for, help and version go to standard output with exit 0. */
TEST(help_that_was_asked_for)
{
    static const struct {
        const char *arguments[4], *said;
    } rows[] = {
        { { "--help" }, "balance" },
        { { "-h" }, "Exit status" },
        { { "help" }, "Exit status" },
        { { "--version" }, "bridgedeck " },
        { { "week", "--help" }, "--step" },
        { { "help", "week" }, "--step" },
        { { "sun", "-h" }, "--date" },
        { { "keys", "--help" }, "SECTION" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct run run;

        run_program(&run, NULL, rows[i].arguments);
        if (run.code != 0 || run.err_length || !strstr(run.out, rows[i].said))
            fail_msg("%s: exit %d, said: %s%s", rows[i].arguments[0], run.code, run.out, run.err);
        run_free(&run);
    }
}

/* The list of commands in --help is the table: each command answers to --help. */
TEST(every_command_has_help)
{
    static const char *const names[] = { "check", "balance", "size", "week", "sun", "compare", "keys" };
    struct run all;

    RUN(&all, "--help");
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char line[32];
        struct run run;

        snprintf(line, sizeof line, "\n  %s ", names[i]);
        assert_non_null(strstr(all.out, line));
        RUN(&run, names[i], "--help");
        assert_int_equal(run.code, 0);
        assert_non_null(strstr(run.out, "Usage: bridgedeck "));
        run_free(&run);
    }
    run_free(&all);
}

/* What is typed most has a short name: with every command that writes, the same text as without it. */
TEST(output_has_a_short_name)
{
    static const char *const rows[][4] = {
        { "check", BOAT }, { "balance", BOAT }, { "size", BOAT }, { "week", BOAT }, { "sun", BOAT }, { "cables", BOAT },
        { "survey", BOAT }, { "handover", BOAT }, { "report", BOAT }, { "keys", "solar" }, { "cable", "--current=30A", "--length=6m" },
        { "compare", "profiles/induction-24v-lfp.ini", "profiles/changes/induction-24v-lfp.inverter-only.ini" },
    };
    char *folder = folder_new(), path[512];

    path_in(path, folder, "out");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *const *r = rows[i];
        struct run plain, shorter;
        size_t length;
        char *written;

        RUN(&plain, r[0], "--quiet", r[1], r[2] ? r[2] : "--quiet", r[3] ? r[3] : "--quiet");
        RUN(&shorter, r[0], "-o", path, "--quiet", r[1], r[2] ? r[2] : "--quiet", r[3] ? r[3] : "--quiet");
        assert_int_equal(shorter.code, 0);
        assert_int_equal(shorter.out_length, 0);
        assert_non_null(written = file_contents(path, &length));
        assert_string_equal(written, plain.out);
        free(written);
        run_free(&plain);
        run_free(&shorter);
    }
    folder_remove(folder);
}

/* Misused, the program says why and how on standard error, nothing on standard output, and exits with 2. */
TEST(wrong_usage)
{
    static const struct {
        const char *arguments[6], *said;
    } rows[] = {
        { { "weak", BOAT }, "did you mean week?" },
        { { "xyzzy" }, "no command \"xyzzy\"" },
        { { "--nonsense" }, "no command \"--nonsense\"" },
        { { "help", "xyzzy" }, "help" },
        { { "week" }, "PROFILE is missing" },
        { { "week", BOAT, "second.ini" }, "one PROFILE at a time" },
        { { "week", BOAT, "--nonsense" }, "nonsense" },
        { { "week", BOAT, "--step" }, "step" },
        { { "week", BOAT, "--step", "5" }, "--step 5" },
        { { "week", BOAT, "--step", "0s" }, "--step 0s" },
        { { "week", BOAT, "--step", "-1min" }, "--step -1min" },
        { { "week", BOAT, "--step", "1 A" }, "--step 1 A" },
        { { "week", BOAT, "--rows", "nan s" }, "--rows nan s" },
        { { "week", BOAT, "--format", "yaml" }, "text, csv, json or html" },
        { { "week", BOAT, "--plot", "week.gif" }, ".svg, .png or .ps" },
        { { "week", BOAT, "--plot", "week" }, ".svg, .png or .ps" },
        { { "size", BOAT, "--plot", "size.svg" }, "plot" },
        { { "check", BOAT, "--strict" }, "strict" },
        { { "sun", BOAT, "--date", "2026-02-29" }, "no such day" },
        { { "sun", BOAT, "--date", "6 July" }, "no such day" },
        { { "sun", BOAT, "--date", "2026-7-6" }, "no such day" },
        { { "keys", "bank", "load" }, "one [SECTION] at a time" },
        { { "keys", "loda" }, "load" },
        { { "keys", "qqqqqqqq" }, "qqqqqqqq" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct run run;

        run_program(&run, NULL, rows[i].arguments);
        if (run.code != 2 || run.out_length || !strstr(run.err, rows[i].said) || !strstr(run.err, "Usage: "))
            fail_msg("%s %s %s: exit %d, said: %s%s", rows[i].arguments[0],
                     rows[i].arguments[1] ? rows[i].arguments[1] : "",
                     rows[i].arguments[2] ? rows[i].arguments[2] : "", run.code, run.out, run.err);
        run_free(&run);
    }
}

/* Options may stand before or behind the profile, and what follows -- is no option. */
TEST(order_of_options)
{
    struct run before, behind, fenced;

    RUN(&before, "balance", "--format", "json", BOAT);
    RUN(&behind, "balance", BOAT, "--format=json");
    RUN(&fenced, "balance", "--format", "json", "--", BOAT);
    assert_int_equal(before.code, 0);
    assert_string_equal(before.out, behind.out);
    assert_string_equal(before.out, fenced.out);
    run_free(&before);
    run_free(&behind);
    run_free(&fenced);
}

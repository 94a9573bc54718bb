/* test_new.c - the command new: the shipped starter, and the one that answers were put into.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support/json.h"
#include "support/run.h"

/* Runs new --ask with these answers and keeps the profile in folder/boat.ini, what was asked in folder/asked.
 */
static void ask(const char *folder, const char *answers)
{
    char program[512], command[2048], path[512];
    ssize_t n = readlink("/proc/self/exe", program, sizeof program - 1);

    assert_true(n > 0);
    program[n] = '\0';
    strcpy(strrchr(program, '/') + 1, "bridgedeck");
    file_put(path_in(path, folder, "answers"), answers);
    snprintf(command, sizeof command, "'%s' new --ask < '%s/answers' > '%s/boat.ini' 2> '%s/asked'", program,
             folder, folder, folder);
    assert_int_equal(system(command), 0);
}

TEST(the_starter_is_the_shipped_one_and_passes_check)
{
    size_t length;
    char *shipped = file_contents("profiles/starter.ini", &length), *folder = folder_new(), path[512];
    struct run run;

    RUN(&run, "new");
    assert_int_equal(run.code, 0);
    assert_string_equal(run.out, shipped);
    file_put(path_in(path, folder, "boat.ini"), run.out);
    run_free(&run);
    RUN(&run, "check", path);
    assert_int_equal(run.code, 0);
    run_free(&run);
    free(shipped);
    folder_remove(folder);
}

TEST(answers_stand_in_the_profile)
{
    char *folder = folder_new(), path[512];
    const char *boat = path_in(path, folder, "boat.ini");
    json_t *size;

    ask(folder, "Grebe (invented)\n24\n2\n\n12.5 N\n61.2 W\n-4\nlfp\n200\n2\n410\n3\n110\n3000\n");
    size = JSON_RUN("size", boat);
    assert_string_equal(text_at(size, "boat"), "Grebe (invented)");
    row_check("bank", number_at(size, "bank.installed_ah"), 400, 1e-6, "by hand: 2 x 200 Ah");
    row_check("panels", number_at(size, "solar.installed_w"), 1230, 1e-6, "by hand: 3 x 410 W");
    row_check("inverter", number_at(size, "inverter.installed_w"), 3000, 1e-6, "as answered");
    row_check("surge", number_at(size, "inverter.installed_surge_w"), 6000, 1e-6, "by hand: twice");
    json_decref(size);
    folder_remove(folder);
    row_done();
}

/* As on a terminal: every question stands there before its answer is typed, what is wrong with one, and what to do next. */
TEST(it_asks_on_a_terminal)
{
    static const struct { const char *wait, *type; } talk[] = {
        { "What is she called [My boat (invented)]: ", "Grebe\n" },
        { "12, 24 or 48 [12 V]: ", "13\n" },
        { "error: [boat] dc_voltage", "24\n" },
        { "live on board [3]: ", "\n" },
    };
    char program[512], seen[65536] = "", *from = seen;
    ssize_t n = readlink("/proc/self/exe", program, sizeof program - 1);
    size_t used = 0;
    int terminal, status;
    pid_t child;

    assert_true(n > 0);
    program[n] = '\0';
    strcpy(strrchr(program, '/') + 1, "bridgedeck");
    assert_true((child = forkpty(&terminal, NULL, NULL, NULL)) >= 0);
    if (child == 0) {
        execl(program, program, "new", "--ask", NULL);
        _exit(127);
    }
    for (size_t i = 0; i < sizeof talk / sizeof talk[0]; i++) {
        while (!strstr(from, talk[i].wait)) {
            assert_true((n = read(terminal, seen + used, sizeof seen - 1 - used)) > 0);
            seen[used += (size_t)n] = '\0';
        }
        from = strstr(from, talk[i].wait) + strlen(talk[i].wait);
        assert_int_equal(write(terminal, talk[i].type, strlen(talk[i].type)), (ssize_t)strlen(talk[i].type));
    }
    assert_int_equal(write(terminal, "\004", 1), 1); /* no more answers: the rest stays as it is */
    while (used < sizeof seen - 1 && (n = read(terminal, seen + used, sizeof seen - 1 - used)) > 0)
        seen[used += (size_t)n] = '\0';
    close(terminal);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    assert_non_null(strstr(seen, "bridgedeck check FILE"));
    assert_non_null(strstr(seen, "bridgedeck new --ask > boat.ini"));
    assert_non_null(strstr(seen, "name = Grebe\r\n"));
    assert_non_null(strstr(seen, "dc_voltage = 24 V\r\n"));
    assert_non_null(strstr(seen, "crew = 3\r\n"));
}

TEST(a_wrong_answer_is_asked_again)
{
    char *folder = folder_new(), path[512], other[512], *asked, *profile;
    size_t length;

    ask(folder, "Grebe\n13\n12\nmany\n4\n");
    profile = file_contents(path_in(path, folder, "boat.ini"), &length);
    asked = file_contents(path_in(other, folder, "asked"), &length);
    assert_non_null(strstr(profile, "dc_voltage = 12 V"));
    assert_non_null(strstr(profile, "crew = 4\n"));
    assert_non_null(strstr(asked, "error: [boat] crew"));
    free(profile);
    free(asked);
    folder_remove(folder);
}

TEST(every_volts_and_chemistry_passes_check_and_week)
{
    static const char *const volts[] = { "12", "24", "48" }, *const chemistries[] = { "flooded", "agm", "gel",
                                                                                      "lfp" };

    for (int v = 0; v < 3; v++)
        for (int c = 0; c < 4; c++) {
            char *folder = folder_new(), path[512], answers[256];
            const char *boat = path_in(path, folder, "boat.ini");
            struct run run;

            snprintf(answers, sizeof answers, "\n%s\n\n\n\n\n\n%s\n", volts[v], chemistries[c]);
            ask(folder, answers);
            RUN(&run, "week", boat);
            if (run.code != 0)
                fail_msg("%s V %s: %s", volts[v], chemistries[c], run.err);
            run_free(&run);
            folder_remove(folder);
        }
}

TEST(new_takes_no_argument_and_notices_a_full_disk)
{
    const struct run_world full = { .stdout_path = "/dev/full" };
    const char *const arguments[] = { "new", NULL };
    struct run run;

    RUN(&run, "new", "boat.ini");
    assert_int_equal(run.code, 2);
    assert_non_null(strstr(run.err, "takes no argument"));
    run_free(&run);
    run_program(&run, &full, arguments);
    assert_int_equal(run.code, 3);
    run_free(&run);
}

/* bench.c - how long the program takes as a whole process, and the simulation per step; each against a
 * yardstick of the same run, so that the figures of two machines can be compared.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <fcntl.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "bridgedeck.h"
#include "tree.h"

enum { RUNS = 40, TREE_RUNS = 15, WEEKS = 60, ARGUMENTS = 12 };

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

/* ---- whole processes ---- */

struct process {
    double least, middle; /* [ms] of CPU, user and system */
    long memory;          /* [kB] largest resident set */
};

static int process_once(char *const *argv, double *cpu, long *memory)
{
    struct rusage used;
    int state;
    pid_t child = fork();

    if (child == 0) {
        int null = open("/dev/null", O_WRONLY);

        dup2(null, 1);
        execv(argv[0], argv);
        _exit(127);
    }
    if (child < 0 || wait4(child, &state, 0, &used) != child || !WIFEXITED(state) || WEXITSTATUS(state) != 0)
        return -1;
    *cpu = 1e3 * (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-3 * (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
    *memory = used.ru_maxrss;
    return 0;
}

/* At most RUNS times. */
static int process_measure(struct process *result, char *const *argv, size_t runs)
{
    double cpu[RUNS];

    *result = (struct process){ 0 };
    for (size_t i = 0; i < runs; i++) {
        long memory;

        if (process_once(argv, &cpu[i], &memory) != 0)
            return -1;
        result->memory = memory > result->memory ? memory : result->memory;
    }
    qsort(cpu, runs, sizeof cpu[0], by_size);
    result->least = cpu[0];
    result->middle = cpu[runs / 2];
    return 0;
}

struct task {
    const char *what;
    const char *arguments[ARGUMENTS]; /* PROFILE and FILE stand for the paths */
    const char *ending;               /* of FILE */
    double reach;                     /* [ms] the design's figure; 0: none */
};

static const struct task tasks[] = {
    { "nothing (--version)", { "--version" }, "", 0 },
    { "check", { "check", "PROFILE" }, "", 0 },
    { "balance", { "balance", "PROFILE" }, "", 0 },
    { "size", { "size", "PROFILE" }, "", 0 },
    { "week, text", { "week", "PROFILE" }, "", 0 },
    { "week, CSV to a file", { "week", "PROFILE", "--format", "csv", "--output", "FILE" }, ".csv", 20 },
    { "week, SVG plot", { "week", "PROFILE", "--plot", "FILE" }, ".svg", 25 },
    { "week, PNG plot", { "week", "PROFILE", "--plot", "FILE" }, ".png", 0 },
    { "cables", { "cables", "PROFILE" }, "", 0 },
    { "survey", { "survey", "PROFILE" }, "", 0 },
    { "compare, one change", { "compare", "PROFILE", "profiles/changes/induction-24v-lfp.bigger-inverter.ini" }, "", 0 },
    { "report, HTML", { "report", "PROFILE", "--output", "FILE" }, ".html", 80 },
};

static int task_run(const struct task *task, char *program, char *profile, const char *folder, double *yardstick)
{
    char file[512], *argv[ARGUMENTS + 1] = { program };
    struct process result;

    snprintf(file, sizeof file, "%s/out%s", folder, task->ending);
    for (size_t i = 0; i < ARGUMENTS - 1 && task->arguments[i]; i++)
        argv[i + 1] = strcmp(task->arguments[i], "PROFILE") == 0 ? profile
                      : strcmp(task->arguments[i], "FILE") == 0  ? file
                                                                 : (char *)(uintptr_t)task->arguments[i];
    if (process_measure(&result, argv, RUNS) != 0) {
        printf("%-24s failed\n", task->what);
        return -1;
    }
    unlink(file);
    *yardstick = *yardstick > 0 ? *yardstick : result.middle;
    printf("%-24s %7.2f %7.2f %8.1f %8.1f", task->what, result.least, result.middle, result.middle / *yardstick,
           (double)result.memory / 1024);
    if (task->reach > 0)
        printf("   reach %.0f ms: %s", task->reach, result.middle <= task->reach ? "yes" : "no");
    putchar('\n');
    return 0;
}

static int processes(char *program, char *profile, const char *folder, double *nothing)
{
    double yardstick = 0;
    int failed = 0;

    printf("whole process, %d runs%11s %7s %8s %8s\n", RUNS, "least", "median", "times", "largest");
    printf("%-24s %7s %7s %8s %8s\n", "", "CPU ms", "CPU ms", "nothing", "MB");
    for (size_t i = 0; i < sizeof tasks / sizeof tasks[0]; i++)
        failed |= task_run(&tasks[i], program, profile, folder, &yardstick);
    *nothing = yardstick;
    return failed;
}

/* ---- growth of cables with the boat ---- */

static const size_t tree_nodes[] = { 25, 50, 100, 200, 400, 800 };

enum { TREES = sizeof tree_nodes / sizeof tree_nodes[0] };

/* Exponent of the power law that lies nearest, from EXPONENT_FROM on, where the fixed part counts for little: the
 * slope of logarithm over logarithm. */
enum { EXPONENT_FROM = 100 };

static double exponent(const double *cpu, double nothing)
{
    double x = 0, y = 0, xx = 0, xy = 0, n = 0;

    for (size_t i = 0; i < TREES; i++) {
        double a = log((double)tree_nodes[i]), b = log(cpu[i] - nothing);

        if (tree_nodes[i] < EXPONENT_FROM)
            continue;
        n++;
        x += a;
        y += b;
        xx += a * a;
        xy += a * b;
    }
    return (n * xy - x * y) / (n * xx - x * x);
}

/* One tree: what reading it takes, and what cables takes. */
static int tree_measure(char *program, char *path, size_t nodes, double *read, double *sized)
{
    char *check[] = { program, (char[]){ "check" }, path, NULL };
    char *cables[] = { program, (char[]){ "cables" }, path, (char[]){ "--format" }, (char[]){ "csv" }, NULL };
    struct process result;

    if (!tree_write(path, nodes) || process_measure(&result, check, TREE_RUNS) != 0)
        return -1;
    *read = result.middle;
    if (process_measure(&result, cables, TREE_RUNS) != 0)
        return -1;
    *sized = result.middle;
    return 0;
}

static int growth(char *program, const char *folder, double nothing)
{
    double read[TREES], sized[TREES];
    char path[512];
    int failed = 0;

    snprintf(path, sizeof path, "%s/tree.ini", folder);
    printf("\ncables on generated trees, every cable sized, CSV, whole process (median of %d):\n", TREE_RUNS);
    printf("  nodes   check ms  cables ms  times the row before\n");
    for (size_t i = 0; i < TREES && !failed; i++) {
        failed = tree_measure(program, path, tree_nodes[i], &read[i], &sized[i]);
        if (failed)
            break;
        printf("  %5zu   %8.2f  %9.2f  ", tree_nodes[i], read[i], sized[i]);
        if (i > 0)
            printf("%10.2f", sized[i] / sized[i - 1]);
        if (tree_nodes[i] == 200)
            printf("   reach 50 ms: %s", sized[i] <= 50 ? "yes" : "no");
        putchar('\n');
    }
    unlink(path);
    if (!failed)
        printf("  from %d nodes on it grows with their number to the power of %.2f (1: linear), the empty process taken off\n",
               EXPONENT_FROM, exponent(sized, nothing));
    return failed;
}

/* ---- the simulation alone ---- */

static double now(void)
{
    struct timespec t;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* [ns] of one step of x = a x + b, each waiting for the one before: what a machine's arithmetic is worth. */
static double yardstick_ns(void)
{
    enum { STEPS = 100000000 };
    volatile double factor = 0.999999, added = 1e-6;
    double a = factor, b = added, x = 1, start = now();

    for (long i = 0; i < STEPS; i++)
        x = a * x + b;
    factor = x;
    return (now() - start) * 1e9 / STEPS;
}

/* Least CPU time [s] of one week at that step, no rows kept; negative where it fails. */
static double week_seconds(const struct bd_profile *profile, double step)
{
    struct bd_week_options options = { step, -1 };
    struct diag_list *diags = bd_diags_new();
    double least = 1e9;

    for (int i = 0; i < WEEKS; i++) {
        struct bd_run *run;
        double start = now(), took;

        if (bd_week_run(&run, profile, &options, diags) != STATUS_OK) {
            least = -1;
            break;
        }
        took = now() - start;
        least = took < least ? took : least;
        bd_run_free(run);
    }
    bd_diags_free(diags);
    return least;
}

static int simulation(const char *path)
{
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile;
    double minute, fine, steps, yardstick = yardstick_ns(), step_ns;

    if (bd_profile_read(&profile, path, NULL, 0, diags) != STATUS_OK) {
        bd_diags_print(stdout, diags, NULL);
        bd_diags_free(diags);
        return -1;
    }
    steps = 1440.0 * (double)bd_profile_boat(profile)->plan.day_count;
    minute = week_seconds(profile, 60);
    fine = week_seconds(profile, 10);
    step_ns = (fine - minute) * 1e9 / (5 * steps);
    printf("\nsimulation alone, %zu loads, %.0f steps of a minute (least of %d):\n",
           bd_profile_boat(profile)->load_count, steps, WEEKS);
    printf("  one week, set-up and summary included   %.3f ms, %.1f ns a step\n", minute * 1e3, minute * 1e9 / steps);
    printf("  one step more (10 s against 1 min)      %.1f ns   reach 60 ns: %s\n", step_ns,
           step_ns <= 60 ? "yes" : "no");
    printf("  one dependent multiply and add          %.2f ns: a step is worth %.0f of them\n", yardstick,
           step_ns / yardstick);
    bd_profile_free(profile);
    bd_diags_free(diags);
    return minute < 0 || fine < 0 ? -1 : 0;
}

int main(int argc, char **argv)
{
    char *profile = argc > 2 ? argv[2] : (char[]){ "profiles/induction-24v-lfp.ini" };
    char folder[] = "/tmp/bridgedeck-bench-XXXXXX";
    double nothing;
    int failed;

    if (argc < 2) {
        fputs("usage: bench PROGRAM [PROFILE]\n", stderr);
        return 2;
    }
    if (!mkdtemp(folder))
        return 1;
    failed = processes(argv[1], profile, folder, &nothing) != 0;
    failed |= growth(argv[1], folder, nothing) != 0;
    rmdir(folder);
    return failed || simulation(profile) != 0;
}

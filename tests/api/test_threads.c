/* test_threads.c - two boats computed, shown and plotted in several threads at once give what one thread gives.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bridgedeck.h"
#include "support/run.h"
#include "support/test.h"

enum { THREADS = 4, ROUNDS = 3, STAGES = 4 };

/* What one thread is told to do and what came of it. */
struct work {
    const char *path;
    const char *folder; /* for its plots */
    size_t number;      /* its own, for the plots' names */
    char *shown[STAGES], *plotted[STAGES];
    int failed;
};

static struct bd_run *stage_run(size_t stage, const struct bd_profile *profile, struct diag_list *diags)
{
    struct bd_run *run = NULL;
    enum status status = stage == 0   ? bd_balance_run(&run, profile, diags)
                         : stage == 1 ? bd_size_run(&run, profile, diags)
                         : stage == 2 ? bd_week_run(&run, profile, NULL, diags)
                                      : bd_sun_run(&run, profile, NULL, diags);

    return status == STATUS_OK ? run : NULL;
}

/* Results as JSON text; 1 where it worked. */
static int stage_show(char **shown, const struct bd_run *run)
{
    static const struct bd_style json = { .format = BD_JSON };
    size_t size;
    FILE *out = open_memstream(shown, &size);
    int done = out && bd_run_write(out, run, &json) == STATUS_OK;

    return out && fclose(out) == 0 && done;
}

static int stage_plot(struct work *work, size_t stage, const struct bd_run *run, struct diag_list *diags)
{
    char path[512];

    if (!bd_run_has_plot(run))
        return 1;
    snprintf(path, sizeof path, "%s/%zu-%zu.svg", work->folder, work->number, stage);
    if (bd_run_save_plot(path, run, diags) != STATUS_OK)
        return 0;
    work->plotted[stage] = file_contents(path, NULL);
    return work->plotted[stage] != NULL;
}

static void *work_do(void *argument)
{
    struct work *work = argument;
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;

    work->failed = bd_profile_read(&profile, work->path, NULL, 0, diags) != STATUS_OK;
    for (size_t stage = 0; stage < STAGES && !work->failed; stage++) {
        struct bd_run *run = stage_run(stage, profile, diags);

        work->failed = !run || !stage_show(&work->shown[stage], run) || !stage_plot(work, stage, run, diags);
        bd_run_free(run);
    }
    bd_profile_free(profile);
    bd_diags_free(diags);
    return NULL;
}

static void work_free(struct work *work)
{
    for (size_t i = 0; i < STAGES; i++) {
        free(work->shown[i]);
        free(work->plotted[i]);
    }
    *work = (struct work){ 0 };
}

static void expect_equal(const struct work *one, const struct work *other)
{
    assert_int_equal(other->failed, 0);
    for (size_t i = 0; i < STAGES; i++) {
        assert_string_equal(one->shown[i], other->shown[i]);
        assert_int_equal(one->plotted[i] == NULL, other->plotted[i] == NULL);
        if (one->plotted[i])
            assert_string_equal(one->plotted[i], other->plotted[i]);
    }
}

static void round_of_threads(const struct work alone[2], const char *folder)
{
    struct work works[THREADS] = { 0 };
    pthread_t threads[THREADS];

    for (size_t i = 0; i < THREADS; i++) {
        works[i] = (struct work){ .path = alone[i % 2].path, .folder = folder, .number = i + 2 };
        assert_int_equal(pthread_create(&threads[i], NULL, work_do, &works[i]), 0);
    }
    for (size_t i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_join(threads[i], NULL), 0);
        expect_equal(&alone[i % 2], &works[i]);
        work_free(&works[i]);
    }
}

TEST(two_boats_in_threads)
{
    char *folder = folder_new();
    struct work alone[2] = { { .path = "profiles/cruiser-12v-agm.ini", .folder = folder, .number = 0 },
                             { .path = "profiles/induction-24v-lfp.ini", .folder = folder, .number = 1 } };

    work_do(&alone[0]);
    work_do(&alone[1]);
    assert_int_equal(alone[0].failed | alone[1].failed, 0);
    assert_string_not_equal(alone[0].shown[2], alone[1].shown[2]);
    for (int round = 0; round < ROUNDS; round++)
        round_of_threads(alone, folder);
    work_free(&alone[0]);
    work_free(&alone[1]);
    folder_remove(folder);
}

/* Lowest charge of one profile's week; -1 where it fails. */
static void *week_of(void *argument)
{
    struct bd_run *run = NULL;
    struct diag_list *diags = bd_diags_new();
    double *lowest = malloc(sizeof *lowest);

    if (lowest)
        *lowest = bd_week_run(&run, argument, NULL, diags) == STATUS_OK ? bd_run_week(run)->summary.min_charge : -1;
    bd_run_free(run);
    bd_diags_free(diags);
    return lowest;
}

/* One profile read by several runs at once: it is only looked at. */
TEST(one_profile_in_threads)
{
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;
    pthread_t threads[THREADS];
    double *lowest[THREADS];

    assert_int_equal(bd_profile_read(&profile, "profiles/starter.ini", NULL, 0, diags), STATUS_OK);
    for (size_t i = 0; i < THREADS; i++)
        assert_int_equal(pthread_create(&threads[i], NULL, week_of, profile), 0);
    for (size_t i = 0; i < THREADS; i++)
        assert_int_equal(pthread_join(threads[i], (void **)&lowest[i]), 0);
    for (size_t i = 0; i < THREADS; i++) {
        assert_non_null(lowest[i]);
        assert_true(*lowest[i] > 0 && *lowest[i] <= 1 && memcmp(lowest[i], lowest[0], sizeof(double)) == 0);
    }
    for (size_t i = 0; i < THREADS; i++)
        free(lowest[i]);
    bd_profile_free(profile);
    bd_diags_free(diags);
}

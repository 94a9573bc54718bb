/* command.c - the table of commands, and what all of them do alike: read, run, show, save.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/progress.h"
#include "cli/terminal.h"

/*
 * Every command goes the same way: read the profile with its changes, run, show on standard
 * output or save to --output, draw the plot, print the diagnostics on standard error, and
 * say with the exit code what became of it.
 */

const struct command *const command_table[] = {
    &command_new, &command_check, &command_balance, &command_size, &command_week, &command_sun,
    &command_cables, &command_cable, &command_compare, &command_survey, &command_handover, &command_report,
    &command_keys, NULL
};

const struct exit_row exit_table[] = {
    { EXIT_DONE, "done" },
    { EXIT_PROFILE, "the profile is wrong, cannot be read, or lacks what the command needs" },
    { EXIT_USAGE, "wrong usage: an unknown command or option, or a value that is none" },
    { EXIT_OUTPUT, "an output could not be written" },
    { EXIT_NOT_MET, "with --strict: done, but a requirement is not met" },
    { 0, NULL }
};

const struct command *command_find(const char *name)
{
    for (const struct command *const *row = command_table; *row; row++)
        if (strcmp((*row)->name, name) == 0)
            return *row;
    return NULL;
}

enum status job_read(struct job *job)
{
    const struct options *options = job->options;

    return bd_profile_read(&job->profile, options->argument, options->changes, options->change_count,
                           job->diags);
}

/* One more profile, with these changes. */
static enum status other_add(struct job *job, const char *const *changes, size_t count)
{
    struct bd_profile **others = realloc(job->others, (job->other_count + 1) * sizeof *others);
    enum status status;

    if (!others)
        return STATUS_NO_MEMORY;
    job->others = others;
    status = bd_profile_read(others + job->other_count, job->options->argument, changes, count, job->diags);
    job->other_count += status == STATUS_OK;
    return status;
}

enum status job_read_other(struct job *job, const char *change)
{
    const struct options *options = job->options;
    size_t count = options->change_count;
    const char **changes = calloc(count + 1, sizeof *changes);
    enum status status;

    if (!changes)
        return STATUS_NO_MEMORY;
    memcpy(changes, options->changes, count * sizeof *changes);
    changes[count] = change;
    status = other_add(job, changes, count + 1);
    free(changes);
    return status;
}

enum status job_read_plain(struct job *job, struct bd_profile **profile)
{
    enum status status = other_add(job, NULL, 0);

    if (status == STATUS_OK)
        *profile = job->others[job->other_count - 1];
    return status;
}

/* The result on standard output, or in the file that was asked for. */
static enum status show(struct job *job)
{
    const struct options *options = job->options;
    struct bd_style style = { .format = options->format,
                              .width = terminal_width(stdout),
                              .colour = terminal_colour(stdout),
                              .working = options->working,
                              .sheets = options->sheets,
                              .units = options->run.units };
    enum status status;

    if (options->output) {
        style.width = style.colour = 0;
        return bd_run_save(options->output, job->run, &style, job->diags);
    }
    errno = 0;
    if (job->text)
        status = fputs(job->text, stdout) == EOF ? STATUS_UNWRITABLE : STATUS_OK;
    else
        status = bd_run_write(stdout, job->run, &style);
    /* Written but not yet on its way: a full disk shows only now. */
    if (status == STATUS_OK && fflush(stdout) != 0)
        status = STATUS_UNWRITABLE;
    job->output_error = status == STATUS_UNWRITABLE ? errno : 0;
    return status;
}

/* Run, show, save: the first that fails ends it. */
static enum status work(struct job *job, const struct command *command)
{
    enum status status = command->run(job);

    if (status == STATUS_OK)
        status = show(job);
    if (status == STATUS_OK && job->options->plot)
        status = bd_run_save_plot(job->options->plot, job->run, job->diags);
    return status;
}

/*
 * Diagnostics last, so that they stand below what was shown; the status only where no diagnostic says more.
 */
static void tell(const struct job *job, const struct command *command, enum status status)
{
    struct bd_diag_style style = { job->options->quiet ? DIAG_ERROR : DIAG_NOTE, terminal_colour(stderr) };

    if (job->diags)
        bd_diags_print(stderr, job->diags, &style);
    if (job->wrong_usage)
        fprintf(stderr, "Usage: bridgedeck %s [OPTION...] %s\nTry: bridgedeck %s --help\n", command->name,
                command->argument, command->name);
    if (job->output_error)
        fprintf(stderr, "bridgedeck: standard output: %s\n", strerror(job->output_error));
    else if (status != STATUS_OK && !(job->diags && job->diags->errors))
        fprintf(stderr, "bridgedeck: %s\n", status_text(status));
}

/* The exit code of a command that has run: wrong usage before anything else, --strict last. */
static int exit_of(const struct job *job, enum status status)
{
    if (job->wrong_usage)
        return EXIT_USAGE;
    if (status == STATUS_UNWRITABLE)
        return EXIT_OUTPUT;
    if (status != STATUS_OK)
        return EXIT_PROFILE;
    return job->options->strict && !bd_run_passes(job->run) ? EXIT_NOT_MET : EXIT_DONE;
}

int command_run(const struct command *command, const struct options *options)
{
    struct job job = { .options = options, .diags = bd_diags_new() };
    struct progress progress;
    enum status status = STATUS_NO_MEMORY;
    int code;

    progress_start(&progress, !options->quiet && !options->ask && terminal_is(stderr));
    if (job.diags)
        status = work(&job, command);
    progress_stop(&progress);
    tell(&job, command, status);
    code = exit_of(&job, status);
    bd_run_free(job.run);
    for (size_t i = 0; i < job.other_count; i++)
        bd_profile_free(job.others[i]);
    free(job.others);
    for (size_t i = 0; i < job.name_count; i++)
        free(job.names[i]);
    free(job.names);
    free(job.text);
    bd_profile_free(job.profile);
    bd_diags_free(job.diags);
    return code;
}

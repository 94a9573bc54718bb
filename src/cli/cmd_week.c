/* cmd_week.c - week: simulate the plan; plot the state of charge.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    const struct options *options = job->options;
    struct bd_week_options week = { options->step, options->rows };
    enum status status = job_read(job);

    return status == STATUS_OK ? bd_week_run(&job->run, job->profile, &week, job->diags) : status;
}

const struct command command_week = {
    .name = "week",
    .argument = "PROFILE",
    .summary = "simulate the plan; plot the state of charge",
    .text = "Simulate the plan step by step: state of charge, what came in, what went out, what could "
            "not be served. csv has one row a step. --strict: never below the floor, nothing unserved, "
            "no overload.",
    .takes = TAKES_PROFILE | TAKES_PLOT | TAKES_STRICT | TAKES_STEP,
    .run = run
};

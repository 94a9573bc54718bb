/* cmd_sun.c - sun: sun and panel output, hour by hour, for one day.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    enum status status = job_read(job);

    return status == STATUS_OK ? bd_sun_run(&job->run, job->profile, job->options->date, job->diags) : status;
}

const struct command command_sun = {
    .name = "sun",
    .argument = "PROFILE",
    .summary = "sun and panel output, hour by hour, for one day",
    .text = "The sun's height and bearing, clear-sky irradiance and what the panels give through one "
            "day, with sunrise and sunset.",
    .takes = TAKES_PROFILE | TAKES_PLOT | TAKES_DATE,
    .run = run
};

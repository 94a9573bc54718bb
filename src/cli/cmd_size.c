/* cmd_size.c - size: bank, solar, alternators, charger, generator and inverter.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    enum status status = job_read(job);

    return status == STATUS_OK ? bd_size_run(&job->run, job->profile, job->diags) : status;
}

const struct command command_size = {
    .name = "size",
    .argument = "PROFILE",
    .summary = "bank, solar, alternators, charger, generator and inverter",
    .text = "How large each part has to be: by the handbook sum and by the smallest size that passes "
            "the simulated plan, side by side, with the reason they differ, rounded up to whole blocks "
            "and panels. --strict: the boat as installed must pass.",
    .takes = TAKES_PROFILE | TAKES_WORKING | TAKES_STRICT,
    .run = run
};

/* cmd_balance.c - balance: daily energy balance for every kind of day.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    enum status status = job_read(job);

    return status == STATUS_OK ? bd_balance_run(&job->run, job->profile, job->diags) : status;
}

const struct command command_balance = {
    .name = "balance",
    .argument = "PROFILE",
    .summary = "daily energy balance for every kind of day",
    .text = "What the boat uses and what its sources could bring on each kind of day, load by load and "
            "source by source, in Wh and in Ah at bank volts. --strict: the plan must not use more than "
            "it brings.",
    .takes = TAKES_PROFILE | TAKES_PLOT | TAKES_WORKING | TAKES_STRICT,
    .run = run
};

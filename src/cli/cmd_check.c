/* cmd_check.c - check: read a profile; say what is wrong and what was assumed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

/* Two banks on one node and the like show only when the network is put together: it is, and thrown away. */
static enum status cables_try(struct job *job)
{
    struct bd_run *tried = NULL;
    enum status status = STATUS_OK;

    if (bd_profile_boat(job->profile)->cable_count > 0)
        status = bd_cables_run(&tried, job->profile, NULL, NULL, job->diags);
    bd_run_free(tried);
    return status;
}

static enum status run(struct job *job)
{
    enum status status = job_read(job);

    if (status == STATUS_OK)
        status = cables_try(job);
    return status == STATUS_OK ? bd_check_run(&job->run, job->profile) : status;
}

const struct command command_check = {
    .name = "check",
    .argument = "PROFILE",
    .summary = "read a profile; say what is wrong and what was assumed",
    .text = "Read the profile and say everything that is wrong with it, in one go, on standard error. "
            "Where it is right, list what it holds and every value it does not give, with what is taken "
            "instead and why.",
    .takes = TAKES_PROFILE,
    .run = run
};

/* cmd_check.c - check: read a profile; say what is wrong and what was assumed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    enum status status = job_read(job);

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

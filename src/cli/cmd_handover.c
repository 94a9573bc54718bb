/* cmd_handover.c - handover: the switch-on sheet with expected amps and volts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "cli/command.h"

/* A kind of day that is none is wrong usage, for it was typed as an option. */
static int day_known(const struct bd_profile *profile, const char *day)
{
    const struct boat *boat = bd_profile_boat(profile);

    for (size_t i = 0; i < boat->day_count; i++)
        if (strcmp(boat->days[i].name, day) == 0)
            return 1;
    return 0;
}

static enum status run(struct job *job)
{
    const char *day = job->options->day;
    enum status status = job_read(job);

    if (status != STATUS_OK)
        return status;
    job->wrong_usage = day && !day_known(job->profile, day);
    return bd_handover_run(&job->run, job->profile, day, job->diags);
}

const struct command command_handover = {
    .name = "handover",
    .argument = "PROFILE",
    .summary = "switch-on sheet with expected amps and volts",
    .text = "The electrical steps of leaving the dock and of coming back on one kind of day, made from the "
            "profile: what to do, the amps each step should add, the total by then, the volts at the load, "
            "what a wrong reading means, and blanks for the measured value and initials. With it what may "
            "run together on 6, 10, 16 and 32 A of shore, on the generator and on the inverter, and what "
            "stays live with everything off.",
    .takes = TAKES_PROFILE | TAKES_DAY,
    .run = run
};

/* cmd_cables.c - cables: cable and fuse schedules, volts at every node.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "cli/command.h"

static enum status run(struct job *job)
{
    const struct options *options = job->options;
    enum status status = job_read(job);

    job->wrong_usage = options->rules && strcmp(options->rules, "all") == 0;
    return status == STATUS_OK
               ? bd_cables_run(&job->run, job->profile, options->rules, options->day, job->diags)
               : status;
}

const struct command command_cables = {
    .name = "cables",
    .argument = "PROFILE",
    .summary = "cable and fuse schedules, volts at every node",
    .text =
        "Solves the network of cables from battery post to load: current, drop and volts everywhere, what "
        "each cable may carry and which fuse it takes by the rule set, fault currents, the inverter against "
        "its cut-out, how paralleled strings share. Cables without an area are sized for the least copper. "
        "--day shows a kind of day, or largest (the default), surge, charging. --strict: every cable, fuse "
        "and inverter must pass. --sheet prints some of the schedules; labels and loads only come when they "
        "are named, csv is one sheet at a time, by default the cables. --working writes out the calculation "
        "of every cable. --plot draws the volts along the path that loses most of what it may.",
    .takes =
        TAKES_PROFILE | TAKES_PLOT | TAKES_STRICT | TAKES_WORKING | TAKES_RULES | TAKES_DAY | TAKES_SHEET,
    .run = run
};

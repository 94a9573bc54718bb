/* cmd_cable.c - cable: one run, without a profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

/* No profile is read; so whatever is refused was typed on the command line. */
static enum status run(struct job *job)
{
    struct bd_cable_request request = job->options->run;
    enum status status;

    request.rules = job->options->rules;
    status = bd_cable_run(&job->run, &request, job->diags);
    job->wrong_usage = status == STATUS_REFUSED; /* every value was an option */
    return status;
}

const struct command command_cable = {
    .name = "cable",
    .argument = "",
    .summary = "one run of cable, without a profile: size, drop, current, fuse",
    .text =
        "bridgedeck cable --current 30A --length 6m: the smallest standard size that carries the current "
        "where it lies, loses no more than allowed by the rule set's formula, and can be protected by a "
        "standard fuse; what is lost by the rule and as it will be measured; what the cable may carry with "
        "each factor; the range of fuses. With --area that size is judged; --rules all sets the rule sets "
        "side by side. --working shows formulas with the numbers in. --strict: the run must pass.",
    .takes = TAKES_SHOWING | TAKES_STRICT | TAKES_WORKING | TAKES_RULES | TAKES_RUN,
    .run = run
};

/* cmd_report.c - report: all of it in one HTML file that prints well.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

/* With changes the plain profile is read too: the report says what they change. */
static enum status run(struct job *job)
{
    const struct options *options = job->options;
    struct bd_profile *before = NULL;
    enum status status = job_read(job);

    if (status == STATUS_OK && options->change_count)
        status = job_read_plain(job, &before);
    return status == STATUS_OK ? bd_report_run(&job->run, job->profile, before, job->diags) : status;
}

const struct command command_report = {
    .name = "report",
    .argument = "PROFILE",
    .summary = "all of it in one HTML file that prints well",
    .text =
        "One page that needs no network and no scripts: the verdict, what was assumed, the daily balance, "
        "the simulated plan, sizes with their working, cables and fuses, the survey, the sheet to switch on "
        "by, sources and cautions. It prints on A4 and Letter and reads on a phone. With --change it begins "
        "with before and after. --strict: everything checked must hold, and no finding of priority A may "
        "stand.",
    .takes = TAKES_HELP | TAKES_CHANGE | TAKES_OUTPUT | TAKES_STRICT,
    .format = BD_HTML,
    .run = run
};

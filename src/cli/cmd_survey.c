/* cmd_survey.c - survey: findings against a rule set.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    const struct bd_survey_options survey = { job->options->rules, job->options->underwriter };
    enum status status = job_read(job);

    return status == STATUS_OK ? bd_survey_run(&job->run, job->profile, &survey, job->diags) : status;
}

const struct command command_survey = { .name = "survey",
                                        .argument = "PROFILE",
                                        .summary = "findings against a rule set",
                                        .text = "Holds the boat as the profile has her, with what was seen "
                                                "([seen NAME]) and measured ([measured NAME]), against "
                                                "the rules of the survey: what does not comply, why it "
                                                "matters, what to achieve, by which clause; what could "
                                                "not be verified and the one fact that would settle it. "
                                                "\"bridgedeck keys rules\" lists the rules. --strict: "
                                                "no finding of priority A may stand.",
                                        .takes =
                                            TAKES_PROFILE | TAKES_STRICT | TAKES_RULES | TAKES_UNDERWRITER,
                                        .run = run };

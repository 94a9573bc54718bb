/* cmd_keys.c - keys: every profile key, its unit, default, meaning and source.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/command.h"

static enum status run(struct job *job)
{
    enum status status = bd_keys_run(&job->run, job->options->argument, job->diags);

    job->wrong_usage = status == STATUS_REFUSED; /* the section was an argument, not part of a profile */
    return status;
}

const struct command command_keys = {
    .name = "keys",
    .argument = "[SECTION]",
    .summary = "every profile key: unit, default, meaning, source",
    .text = "The keys that a profile may hold, of one section (bank, solar, load, ...) or of all. \"keys "
            "climate\" lists the shipped cruising areas, whose names may stand behind climate = in [site]; "
            "\"keys rules\" the rules of the survey.",
    .takes = TAKES_SHOWING,
    .run = run
};

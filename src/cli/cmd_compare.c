/* cmd_compare.c - compare: the same plan before and after, side by side.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "cli/command.h"

/* The name without its folders. */
static const char *base_of(const char *path)
{
    const char *slash = strrchr(path, '/');

    return slash ? slash + 1 : path;
}

/* "changes/boat.bigger-inverter.ini" over "boat.ini" is "bigger-inverter". NULL without memory. */
static char *side_name(const char *profile, const char *change)
{
    const char *boat = base_of(profile), *name = base_of(change);
    size_t stem = strcspn(boat, "."), length;

    if (strncmp(name, boat, stem) == 0 && name[stem] == '.' && strcmp(name + stem, ".ini") != 0)
        name += stem + 1;
    length = strlen(name);
    if (length > 4 && strcmp(name + length - 4, ".ini") == 0)
        length -= 4;
    return strndup(name, length);
}

/* Each change over the same profile, its --change files included. */
static enum status sides_run(struct job *job, struct bd_side *sides)
{
    const struct options *options = job->options;
    enum status status = job_read(job);

    if (status != STATUS_OK)
        return status;
    sides[0] = (struct bd_side){ "before", job->profile };
    for (size_t i = 0; i < options->more_count; i++) {
        if ((status = job_read_other(job, options->more[i])) != STATUS_OK)
            return status;
        sides[i + 1] = (struct bd_side){ job->names[i], job->others[i] };
    }
    return bd_compare_run(&job->run, sides, options->more_count + 1, job->diags);
}

/* The plain profile first, then a side for each change or further profile, named by what differs. */
static enum status run(struct job *job)
{
    size_t count = job->options->more_count;
    struct bd_side *sides = calloc(count + 1, sizeof *sides);
    enum status status = STATUS_NO_MEMORY;

    job->names = calloc(count, sizeof *job->names);
    while (job->names && job->name_count < count &&
           (job->names[job->name_count] =
                side_name(job->options->argument, job->options->more[job->name_count])))
        job->name_count++;
    if (sides && job->name_count == count)
        status = sides_run(job, sides);
    free(sides);
    return status;
}

const struct command command_compare = {
    .name = "compare",
    .argument = "PROFILE CHANGE...",
    .summary = "before and after, side by side",
    .text =
        "The same plan on the boat as she is and with each CHANGE, a file that holds only the sections and "
        "keys that differ: charge, energy, hours, volts at the inverter, cables and fuses that must change, "
        "survey findings that appear or vanish, sizes, mass and price with their differences, and a "
        "sentence for each that says whether the boat can carry it and what limits it. Changes that "
        "--change lays over are part of both sides. --strict: everything checked must hold after each "
        "change.",
    .takes = TAKES_PROFILE | TAKES_STRICT | TAKES_PLOT,
    .run = run
};

/* options.h - what was typed behind the command, and the one table of options.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_OPTIONS_H
#define BD_OPTIONS_H

#include <argp.h>
#include <stddef.h>

#include "bridgedeck.h"

struct command;

/* Which options a command takes. */
enum {
    TAKES_HELP = 1,
    TAKES_CHANGE = 2,
    TAKES_FORMAT = 4, /* --format and --output */
    TAKES_PLOT = 8,
    TAKES_WORKING = 16,
    TAKES_STRICT = 32,
    TAKES_STEP = 64, /* --step and --rows */
    TAKES_DATE = 128,
    TAKES_ASK = 512,
    TAKES_OUTPUT = 256, /* --output alone: there is one format */
    TAKES_RULES = 1 << 16,
    TAKES_UNDERWRITER = 1 << 17,
    TAKES_DAY = 1 << 18,
    TAKES_RUN = 1 << 19, /* what one run of cable is asked for with */
    TAKES_SHEET = 1 << 20, /* --sheet and --units */
    TAKES_SHOWING = TAKES_HELP | TAKES_FORMAT,
    TAKES_PROFILE = TAKES_SHOWING | TAKES_CHANGE
};

/* One option: what argp is told, and who takes it. */
struct option_row {
    struct argp_option option;
    unsigned taken_by; /* TAKES_ bits, any of which is enough */
};

/* Ended by a row whose option has no name. */
extern const struct option_row option_table[];

/* All of it borrowed from argv, but for the arrays. */
struct options {
    const char *argument; /* the PROFILE or SECTION; NULL where none was typed */
    const char **more;    /* what follows it, where a command takes more than one */
    size_t more_count;
    const char **changes;
    size_t change_count;
    enum bd_format format;
    const char *output; /* NULL: standard output */
    const char *plot;   /* NULL: none */
    const char *date;   /* YYYY-MM-DD; NULL: the plan's first day */
    const char *rules;  /* name of a rule set, or all; NULL: the profile's */
    const char *sheets; /* of cables, with commas between; NULL: the usual ones */
    const char *day;    /* kind of day; NULL: the plan's first */
    int underwriter;
    double step;        /* [s] 0: the plan's */
    double rows;        /* [s] between the rows of CSV; 0: every step */
    struct bd_cable_request run; /* of cable; its rules are above; units: of cables too */
    int working, quiet, strict, ask, help;
};

/* What options_read says: go on, stop (the help was asked for and printed), or wrong usage (said on
 * stderr). */
enum options_outcome { OPTIONS_READ, OPTIONS_HELP, OPTIONS_WRONG, OPTIONS_NO_MEMORY };

/* argv[0] is the command's name as help should show it: "bridgedeck week". Free with options_free in any
 * case. */
enum options_outcome options_read(struct options *options, const struct command *command, int argc,
                                  char **argv);
void options_free(struct options *options);

#endif

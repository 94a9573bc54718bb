/* command.h - what a command is: a row of the table and a file of its own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_COMMAND_H
#define BD_COMMAND_H

#include "bridgedeck.h"
#include "cli/options.h"

/* One run of one command, from the options to the result. */
struct job {
    const struct options *options;
    struct diag_list *diags;
    struct bd_profile *profile; /* NULL: not read (yet) */
    struct bd_profile **others; /* further ones, each with one more change; NULL: none */
    size_t other_count;
    char **names; /* of the others, as shown */
    size_t name_count;
    struct bd_run *run;         /* NULL: nothing to show */
    char *text;                 /* to show instead of a run; NULL: none */
    int output_error;           /* errno of writing to standard output; 0: none */
    int wrong_usage;            /* 1: the argument was wrong, says a diagnostic */
};

struct command {
    const char *name;
    const char *argument; /* "PROFILE"; in brackets where it may be left out */
    const char *summary;  /* one line for the list of commands */
    const char *text;     /* what --help says about it */
    unsigned takes;       /* TAKES_ bits */
    enum bd_format format; /* unless --format says otherwise */
    /* Fills job->run. STATUS_REFUSED and the like go with diagnostics in job->diags. */
    enum status (*run)(struct job *job);
};

/* Ended by NULL, in the order of the help. */
extern const struct command *const command_table[];

/* The command of that name; NULL where there is none. */
const struct command *command_find(const char *name);

/* Reads the profile and its changes into job->profile, which command_run frees. The
 * status is that of bd_profile_read. */
enum status job_read(struct job *job);

/* Reads it with one more change laid over, into job->others. */
enum status job_read_other(struct job *job, const char *change);

/* Reads it without any change, into job->others and *profile. */
enum status job_read_plain(struct job *job, struct bd_profile **profile);

/* Runs the command, shows what came out and says what was wrong; the exit code. The only place where a
 * command's results reach a stream. */
int command_run(const struct command *command, const struct options *options);

extern const struct command command_new, command_check, command_balance, command_size, command_week,
    command_sun, command_cables, command_cable, command_compare, command_survey, command_handover,
    command_report, command_keys;

/* What the program tells the shell. */
enum exit_code { EXIT_DONE = 0, EXIT_PROFILE = 1, EXIT_USAGE = 2, EXIT_OUTPUT = 3, EXIT_NOT_MET = 4 };

struct exit_row {
    enum exit_code code;
    const char *meaning;
};

/* Ended by a row without meaning. */
extern const struct exit_row exit_table[];

#endif

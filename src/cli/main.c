/* main.c - the command line: picks the command and says what there is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/command.h"

static const char welcome[] =
    "Bridgedeck sizes and checks the electrical system of a cruising catamaran, from one profile of the "
    "boat.\n"
    "\n"
    "Three things to try:\n"
    "  bridgedeck new > boat.ini                  a profile to start from; --ask asks a dozen questions\n"
    "  bridgedeck week boat.ini --plot week.svg   her week, simulated and drawn\n"
    "  bridgedeck report boat.ini -o boat.html    all on one page: sizes, cables, survey, switch-on sheet\n"
    "\n"
    "bridgedeck --help lists all commands, bridgedeck COMMAND --help the options of one.\n";

static void print_help(FILE *out)
{
    fputs("Usage: bridgedeck COMMAND [OPTION...] [ARGUMENT]\n"
          "Sizes and checks the electrical system of a cruising catamaran, from one profile of the boat.\n\n",
          out);
    for (const struct command *const *row = command_table; *row; row++)
        fprintf(out, "  %-8s %-17s %s\n", (*row)->name, (*row)->argument, (*row)->summary);
    fputs("\n  bridgedeck COMMAND --help     the options of one command\n"
          "  bridgedeck --version          the version\n\nExit status:\n",
          out);
    for (const struct exit_row *row = exit_table; row->meaning; row++)
        fprintf(out, "  %d  %s\n", (int)row->code, row->meaning);
    fputs("\nA planning aid: local codes, the makers' instructions and a licensed electrician come first.\n",
          out);
}

/* Says so, with the likeliest command. */
static int unknown_command(const char *word)
{
    const char *names[32], *meant;
    size_t count = 0;

    for (const struct command *const *row = command_table; *row && count < sizeof names / sizeof names[0];
         row++)
        names[count++] = (*row)->name;
    meant = bd_nearest(word, names, count);
    fprintf(stderr, "bridgedeck: no command \"%s\"%s%s%s\n", word, meant ? "; did you mean " : "",
            meant ? meant : "", meant ? "?" : "");
    fputs("Usage: bridgedeck COMMAND [OPTION...] [ARGUMENT]\nTry: bridgedeck --help\n", stderr);
    return EXIT_USAGE;
}

/* From the words behind the command to the exit code. */
static int run_named(const struct command *command, int argc, char **argv)
{
    char name[64];
    struct options options;
    int code;

    snprintf(name, sizeof name, "bridgedeck %s", command->name);
    argv[0] = name; /* what argp and getopt call the program in help and complaints */
    switch (options_read(&options, command, argc, argv)) {
    case OPTIONS_READ:
        code = command_run(command, &options);
        break;
    case OPTIONS_HELP:
        code = EXIT_DONE;
        break;
    case OPTIONS_NO_MEMORY:
        fprintf(stderr, "bridgedeck: %s\n", status_text(STATUS_NO_MEMORY));
        code = EXIT_PROFILE;
        break;
    default:
        code = EXIT_USAGE;
    }
    options_free(&options);
    return code;
}

/* What needs no command: nothing at all, --version, --help, help. */
static int run(int argc, char **argv)
{
    const char *word = argc > 1 ? argv[1] : NULL;
    const struct command *command;

    if (!word) {
        fputs(welcome, stdout);
        return EXIT_DONE;
    }
    if (strcmp(word, "--version") == 0) {
        printf("bridgedeck %s\n", bd_version());
        return EXIT_DONE;
    }
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || (strcmp(word, "help") == 0 && argc == 2)) {
        print_help(stdout);
        return EXIT_DONE;
    }
    if (strcmp(word, "help") == 0 && argc == 3 && (command = command_find(argv[2]))) {
        char *asked[] = { argv[0], "--help", NULL };

        return run_named(command, 2, asked);
    }
    if (!(command = command_find(word)))
        return unknown_command(word);
    return run_named(command, argc - 1, argv + 1);
}

/*
 * A closed standard stream would hand its number to the next file that is opened, and results would land in
 * the plot: keep all three taken. Standard output is opened for reading, so that writing to it fails as it
 * should.
 */
static void streams_keep(void)
{
    for (int fd = 0; fd <= 2; fd++)
        if (fcntl(fd, F_GETFD) == -1 && errno == EBADF &&
            open("/dev/null", fd == 2 ? O_WRONLY : O_RDONLY) != fd)
            _exit(EXIT_OUTPUT);
}

/* Output that never arrived is a failure like any other. */
static int streams_close(int code)
{
    int lost = ferror(stdout);

    errno = 0;
    if (fclose(stdout) != 0 || lost) {
        if (code != EXIT_OUTPUT)
            fprintf(stderr, "bridgedeck: standard output: %s\n",
                    errno ? strerror(errno) : "cannot be written");
        return EXIT_OUTPUT;
    }
    return code;
}

int main(int argc, char **argv)
{
    streams_keep();
    signal(SIGXFSZ, SIG_IGN);         /* a file that may not grow is an error to report, not a death */
    setenv("ARGP_HELP_FMT", "no-dup-args-note", 1); /* the help looks the same for everybody */
    /* text is UTF-8 whatever the terminal's language; numbers stay as in C */
    setlocale(LC_CTYPE, "C.UTF-8");
    return streams_close(run(argc, argv));
}

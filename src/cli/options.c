/* options.c - the options, read with argp.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/options.h"

#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "cli/command.h"

/*
 * argp reads; this file says what is wrong in one line and which values would do, because argp's own
 * words name neither. Each option is a row that says which commands take it: help, completion and
 * manual pages are made from the same rows.
 */

enum key {
    KEY_HELP = 'h', /* a letter is the short name as well */
    KEY_OUTPUT = 'o',
    KEY_CHANGE = 256,
    KEY_FORMAT,
    KEY_PLOT,
    KEY_WORKING,
    KEY_QUIET,
    KEY_STRICT,
    KEY_STEP,
    KEY_ROWS,
    KEY_DATE,
    KEY_ASK,
    KEY_RULES,
    KEY_UNDERWRITER,
    KEY_DAY,
    KEY_TABLE,
    KEY_SHEET,
    KEY_RUN /* and on: a place in run_texts */
};

/* The options of one run of cable that are kept as typed, in the order of their rows. */
static const size_t run_texts[] = {
#define AT(field) offsetof(struct options, run.field)
    AT(current), AT(power), AT(volts), AT(length), AT(drop),         AT(insulation), AT(place),
    AT(bundle),  AT(runs),  AT(area),  AT(units),  AT(power_factor), AT(fault),
#undef AT
};

enum { RUN_TEXTS = sizeof run_texts / sizeof run_texts[0] };

const struct option_row option_table[] = {
    { { "change", KEY_CHANGE, "FILE", 0, "lay the sections and keys of FILE over the profile (repeatable)",
        0 },
      TAKES_CHANGE },
    { { "format", KEY_FORMAT, "FORMAT", 0, "text (the default), csv, json or html", 0 }, TAKES_FORMAT },
    { { "output", KEY_OUTPUT, "FILE", 0, "write to FILE, not to standard output", 0 },
      TAKES_FORMAT | TAKES_OUTPUT },
    { { "plot", KEY_PLOT, "FILE", 0, "draw the result as well; FILE ends in .svg, .png or .ps", 0 },
      TAKES_PLOT },
    { { "working", KEY_WORKING, NULL, 0, "show formula, numbers and source of each figure", 0 },
      TAKES_WORKING },
    { { "step", KEY_STEP, "TIME", 0, "step of the simulation, such as 1min or 10s (default: the plan's)", 0 },
      TAKES_STEP },
    { { "rows", KEY_ROWS, "TIME", 0, "time between the rows of csv, such as 15min (default: every step)", 0 },
      TAKES_STEP },
    { { "date", KEY_DATE, "DATE", 0, "the day, as 2026-07-06 (default: the first of the plan)", 0 },
      TAKES_DATE },
    { { "ask", KEY_ASK, NULL, 0, "ask for the main figures; results go to standard output all the same", 0 },
      TAKES_ASK },
    { { "rules", KEY_RULES, "SET", 0,
        "judge by cfr183, abyc-e11, iso10133, iso13297 or own; cable and survey also by all, side by "
        "side", 0 },
      TAKES_RULES },
    { { "underwriter", KEY_UNDERWRITER, NULL, 0, "priorities A and B only, without what complies", 0 },
      TAKES_UNDERWRITER },
    { { "day", KEY_DAY, "KIND", 0, "the kind of day (default: the first of the plan; of cables: largest)",
        0 },
      TAKES_DAY },
    { { "current", KEY_RUN + 0, "AMPS", 0, "what it carries, such as 30A", 0 }, TAKES_RUN },
    { { "power", KEY_RUN + 1, "WATTS", 0,
        "what the load takes whatever its volts, such as 360W, in place of --current: it draws more as volts "
        "are lost",
        0 },
      TAKES_RUN },
    { { "power-factor", KEY_RUN + 11, "NUMBER", 0, "of an AC load, such as 0.8 (default: 1)", 0 },
      TAKES_RUN },
    { { "volts", KEY_RUN + 2, "VOLTS", 0,
        "at the source, such as 24V (default: 12V); from 50V up it counts as AC", 0 },
      TAKES_RUN },
    { { "fault", KEY_RUN + 12, "AMPS", 0,
        "short circuit where it begins, such as 5kA: which fuse breaks that", 0 },
      TAKES_RUN },
    { { "length", KEY_RUN + 3, "LENGTH", 0, "one way along the route, such as 6m or 20ft", 0 }, TAKES_RUN },
    { { "drop", KEY_RUN + 4, "PERCENT", 0,
        "most that may be lost, such as 3% (default: the rule set's, else 10%)", 0 },
      TAKES_RUN },
    { { "insulation", KEY_RUN + 5, "DEGREES", 0, "rating of the insulation, such as 105C (default: 75C)", 0 },
      TAKES_RUN },
    { { "place", KEY_RUN + 6, "PLACE", 0, "cabin (the default), or engine for an engine space", 0 },
      TAKES_RUN },
    { { "bundle", KEY_RUN + 7, "NUMBER", 0, "current-carrying conductors run together (default: 2)", 0 },
      TAKES_RUN },
    { { "runs", KEY_RUN + 8, "NUMBER", 0, "conductors in parallel on each pole (default: 1)", 0 },
      TAKES_RUN },
    { { "area", KEY_RUN + 9, "SIZE", 0,
        "judge this size, such as 35mm2, '2 AWG', '8 SAE' (default: find one)", 0 },
      TAKES_RUN },
    { { "units", KEY_RUN + 10, "WHICH", 0, "choose among metric or us sizes (default: the rule set's)", 0 },
      TAKES_RUN },
    { { "sheet", KEY_SHEET, "NAME,...", 0,
        "only these: cables, fuses, circuits, panels, tree, nodes, loads, banks, inverter, scenarios, "
        "sources, bill, labels",
        0 },
      TAKES_SHEET },
    { { "units", KEY_RUN + 10, "WHICH", 0,
        "lengths and sizes in metric or us (default: as the boat is wired)", 0 },
      TAKES_SHEET },
    { { "table", KEY_TABLE, NULL, 0, "also sizes by length and current, for these volts and this drop", 0 },
      TAKES_RUN },
    { { "strict", KEY_STRICT, NULL, 0, "exit with 4 where a requirement is not met", 0 }, TAKES_STRICT },
    { { "quiet", KEY_QUIET, NULL, 0, "no warnings, notes or progress on standard error", 0 }, TAKES_HELP },
    { { "help", KEY_HELP, NULL, 0, "this text", 0 }, TAKES_HELP },
    { { 0 }, 0 }
};

enum { OPTION_COUNT = sizeof option_table / sizeof option_table[0] };

/* What the parser works on. */
struct parse {
    struct options *options;
    const struct command *command;
    const char *name; /* "bridgedeck week" */
};

/* Says what is wrong. Always EINVAL, which ends the parsing. */
static error_t usage_error(struct parse *parse, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static error_t usage_error(struct parse *parse, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    fprintf(stderr, "%s: ", parse->name);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    return EINVAL;
}

/* A format by its name. */
static error_t format_read(struct parse *parse, const char *text)
{
    static const char *const names[] = { [BD_TEXT] = "text", [BD_CSV] = "csv", [BD_JSON] = "json",
                                         [BD_HTML] = "html" };

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(text, names[i]) == 0) {
            parse->options->format = (enum bd_format)i;
            return 0;
        }
    return usage_error(parse, "--format %s: it is text, csv, json or html", text);
}

/* A length of time [s], positive. */
static error_t time_read(struct parse *parse, double *seconds, const char *option, const char *text)
{
    if ((*seconds = bd_seconds_of(text)) > 0)
        return 0;
    return usage_error(parse, "--%s %s: a length of time is wanted, such as 1min or 10s", option, text);
}

/* 1 for "PROFILE CHANGE...": one and then any number more. */
static int takes_more(const struct command *command)
{
    return strstr(command->argument, "...") != NULL;
}

/* Each name is one of the sheets. */
static error_t sheets_read(struct parse *parse, const char *text)
{
    const char *names[32], *meant;
    size_t count = 0;
    char word[32];

    while (count < sizeof names / sizeof names[0] && (names[count] = bd_cables_sheet(count)))
        count++;
    for (const char *at = text;; at++) {
        size_t length = strcspn(at, ","), known = 0;

        snprintf(word, sizeof word, "%.*s", (int)length, at);
        while (known < count && strcmp(names[known], word) != 0)
            known++;
        if (known == count) {
            meant = bd_nearest(word, names, count);
            return usage_error(parse, "--sheet %s: there is no sheet \"%s\"; %s%s%s", text, word,
                               meant ? "did you mean " : "--help lists them", meant ? meant : "",
                               meant ? "?" : "");
        }
        at += length;
        if (!*at)
            break;
    }
    parse->options->sheets = text;
    return 0;
}

/* The argument of the command, and what follows it where it takes more. */
static error_t argument_read(struct parse *parse, const char *text)
{
    struct options *options = parse->options;

    if (options->argument && takes_more(parse->command)) {
        options->more[options->more_count++] = text;
        return 0;
    }
    if (!*parse->command->argument)
        return usage_error(parse, "takes no argument: what is \"%s\" for?", text);
    if (options->argument)
        return usage_error(parse, "one %s at a time: what is \"%s\" for?", parse->command->argument, text);
    parse->options->argument = text;
    return 0;
}

/* 1 where both names stand for the same ordinary file; names of what does not exist yet are compared as
 * typed. */
static int same_file(const char *one, const char *other)
{
    struct stat a, b;

    if (!one || !other)
        return 0;
    if (stat(one, &a) != 0 || stat(other, &b) != 0)
        return strcmp(one, other) == 0;
    return S_ISREG(a.st_mode) && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

/* A slip of the hand must not cost the user the profile. */
static error_t output_check(struct parse *parse, const char *path)
{
    const struct options *options = parse->options;
    int read = same_file(path, options->argument);

    for (size_t i = 0; i < options->change_count; i++)
        read |= same_file(path, options->changes[i]);
    for (size_t i = 0; i < options->more_count; i++)
        read |= same_file(path, options->more[i]);
    return read ? usage_error(parse, "%s is read: it would be overwritten", path) : 0;
}

/* What can be said only when everything has been read. */
static error_t end_read(struct parse *parse)
{
    const struct options *options = parse->options;
    const char *argument = parse->command->argument;
    error_t code;

    if (options->help)
        return 0;
    if (options->format == BD_CSV && options->sheets && strchr(options->sheets, ','))
        return usage_error(parse, "--sheet %s: csv is one table, so name one sheet", options->sheets);
    if (parse->command->takes & TAKES_SHEET && options->run.units &&
        strcmp(options->run.units, "metric") != 0 && strcmp(options->run.units, "us") != 0)
        return usage_error(parse, "--units %s: it is metric or us", options->run.units);
    if (!options->argument && argument[0] && argument[0] != '[')
        return usage_error(parse, "%s is missing", argument);
    if (takes_more(parse->command) && !options->more_count)
        return usage_error(parse, "%s is missing", strchr(argument, ' ') + 1);
    if ((code = output_check(parse, options->output)) != 0 ||
        (code = output_check(parse, options->plot)) != 0)
        return code;
    return same_file(options->output, options->plot)
               ? usage_error(parse, "--output and --plot are the same file: %s", options->plot)
               : 0;
}

static error_t parse_one(int key, char *text, struct argp_state *state)
{
    struct parse *parse = state->input;
    struct options *options = parse->options;

    switch (key) {
    case ARGP_KEY_INIT:
        state->err_stream = NULL; /* usage_error speaks instead */
        return 0;
    case ARGP_KEY_ARG:
        return argument_read(parse, text);
    case ARGP_KEY_END:
        return end_read(parse);
    case KEY_CHANGE:
        options->changes[options->change_count++] = text;
        return 0;
    case KEY_FORMAT:
        return format_read(parse, text);
    case KEY_OUTPUT:
        options->output = text;
        return 0;
    case KEY_PLOT:
        options->plot = text;
        return bd_plot_ending(text) ? 0 : usage_error(parse, "--plot %s: it ends in .svg, .png or .ps", text);
    case KEY_WORKING:
        options->working = 1;
        return 0;
    case KEY_QUIET:
        options->quiet = 1;
        return 0;
    case KEY_STRICT:
        options->strict = 1;
        return 0;
    case KEY_ASK:
        options->ask = 1;
        return 0;
    case KEY_STEP:
        return time_read(parse, &options->step, "step", text);
    case KEY_ROWS:
        return time_read(parse, &options->rows, "rows", text);
    case KEY_DATE:
        options->date = text;
        return bd_date_valid(text)
                   ? 0
                   : usage_error(parse, "--date %s: no such day; write it as 2026-07-06", text);
    case KEY_RULES:
        options->rules = text;
        return bd_rules_known(text)
                   ? 0
                   : usage_error(parse, "--rules %s: it is cfr183, abyc-e11, iso10133, iso13297%s", text,
                                 parse->command->takes & TAKES_SHEET ? " or own" : ", own or all");
    case KEY_UNDERWRITER:
        options->underwriter = 1;
        return 0;
    case KEY_DAY:
        options->day = text;
        return 0;
    case KEY_HELP:
        options->help = 1;
        return 0;
    case KEY_SHEET:
        return sheets_read(parse, text);
    case KEY_TABLE:
        options->run.table = 1;
        return 0;
    default:
        if (key < KEY_RUN || key >= KEY_RUN + RUN_TEXTS)
            return ARGP_ERR_UNKNOWN;
        *(const char **)(void *)((char *)options + run_texts[key - KEY_RUN]) = text;
        return 0;
    }
}

/* Only the options that the command takes. */
static void options_of(struct argp_option into[OPTION_COUNT], const struct command *command)
{
    size_t n = 0;

    memset(into, 0, OPTION_COUNT * sizeof into[0]);
    for (const struct option_row *row = option_table; row->option.name; row++)
        if (row->taken_by & command->takes)
            into[n++] = row->option;
}

enum options_outcome options_read(struct options *options, const struct command *command, int argc,
                                  char **argv)
{
    struct argp_option table[OPTION_COUNT];
    struct argp argp = { table, parse_one, command->argument, command->text, NULL, NULL, NULL };
    struct parse parse = { options, command, argv[0] };
    error_t code;

    *options = (struct options){ .format = command->format,
                                 .changes = calloc((size_t)argc, sizeof *options->changes),
                                 .more = calloc((size_t)argc, sizeof *options->more) };
    if (!options->changes || !options->more)
        return OPTIONS_NO_MEMORY;
    options_of(table, command);
    code = argp_parse(&argp, argc, argv, ARGP_NO_HELP | ARGP_NO_EXIT | ARGP_IN_ORDER, NULL, &parse);
    if (code == ENOMEM)
        return OPTIONS_NO_MEMORY;
    if (code != 0) {
        argp_help(&argp, stderr, ARGP_HELP_SHORT_USAGE, argv[0]);
        fprintf(stderr, "Try: %s --help\n", argv[0]);
        return OPTIONS_WRONG;
    }
    if (!options->help)
        return OPTIONS_READ;
    argp_help(&argp, stdout, ARGP_HELP_SHORT_USAGE | ARGP_HELP_DOC | ARGP_HELP_LONG, argv[0]);
    return OPTIONS_HELP;
}

void options_free(struct options *options)
{
    free(options->changes);
    free(options->more);
}

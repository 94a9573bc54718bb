/* pages_man.c - the manual pages, in the man macros, from the tables that drive the program.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "check/pages.h"

/* Text for roff: hyphens that are typed, backslashes, and nothing at the start of a line that is a request. */
static void roff(const char *text)
{
    if (text && (*text == '.' || *text == '\''))
        fputs("\\&", stdout);
    for (; text && *text; text++) {
        if (*text == '\\')
            fputs("\\e", stdout);
        else if (*text == '-')
            fputs("\\-", stdout);
        else
            putchar(*text == '\n' ? ' ' : *text);
    }
}

static void line(const char *text)
{
    roff(text);
    putchar('\n');
}

static void head(const char *name, const char *section, const char *what)
{
    printf(".\\\" Written by make docs from the tables of the program; edit there.\n.TH %s %s \"\" \"Bridgedeck %s\"\n"
           ".SH NAME\n",
           name, section, bd_version());
    line(what);
}

static void option_item(const struct argp_option *option)
{
    puts(".TP");
    if (page_letter(option))
        printf("\\fB\\-%c\\fR, ", page_letter(option));
    fputs("\\fB\\-\\-", stdout);
    roff(option->name);
    fputs("\\fR", stdout);
    if (option->arg)
        printf(" \\fI%s\\fR", option->arg);
    putchar('\n');
    line(option->doc);
}

static void command_part(const struct command *command)
{
    fputs(".SS ", stdout);
    line(command->name);
    printf(".B bridgedeck %s\n", command->name);
    printf("[\\fIOPTION\\fR...]%s%s\n.PP\n", *command->argument ? " " : "", command->argument);
    line(command->text);
    page_options(command, option_item);
}

static void exits(void)
{
    puts(".SH \"EXIT STATUS\"");
    for (const struct exit_row *row = exit_table; row->meaning; row++) {
        printf(".TP\n.B %d\n", (int)row->code);
        line(row->meaning);
    }
}

int page_of_man_command(void)
{
    head("BRIDGEDECK", "1", "bridgedeck - size and check the electrical system of a cruising catamaran");
    puts(".SH SYNOPSIS\n.B bridgedeck\n\\fICOMMAND\\fR [\\fIOPTION\\fR...] [\\fIARGUMENT\\fR...]\n.SH DESCRIPTION");
    line("Bridgedeck reads one profile of the boat and says what she uses in a day, whether bank, panels, "
         "alternators, generator and inverter carry her through the plan, and how large each has to be, with the "
         "working and the sources shown. Results go to standard output or --output, diagnostics to standard error. "
         "Files are written beside their name and renamed into place: a failed run leaves no half file and never "
         "touches an old one.");
    puts(".PP");
    line("It is a planning aid: local codes, the makers' instructions and a licensed electrician come first.");
    puts(".SH COMMANDS");
    for (const struct command *const *row = command_table; *row; row++)
        command_part(*row);
    exits();
    puts(".SH ENVIRONMENT\n.TP\n.B NO_COLOR");
    line("Set to anything: no colours, not on a terminal either.");
    puts(".SH EXAMPLES\n.nf\nbridgedeck new \\-\\-ask > boat.ini\nbridgedeck check boat.ini\n"
         "bridgedeck week boat.ini \\-\\-plot week.svg\nbridgedeck report boat.ini \\-o boat.html\n.fi\n"
         ".SH \"SEE ALSO\"\n.BR bridgedeck\\-profile (5)");
    return 0;
}

static void key_item(const struct key_row *row)
{
    printf(".TP\n.B ");
    line(row->key);
    line(row->meaning);
    fputs(".br\n", stdout);
    roff(row->form);
    if (row->fallback && *row->fallback && strcmp(row->fallback, "-") != 0) {
        fputs(strcmp(row->fallback, "required") == 0 ? "; " : "; default ", stdout);
        roff(row->fallback);
    }
    if (row->bounds && *row->bounds && strcmp(row->bounds, "-") != 0) {
        fputs("; ", stdout);
        roff(row->bounds);
    }
    putchar('\n');
}

int page_of_man_profile(void)
{
    const struct key_row *rows;
    struct bd_run *run;
    size_t count;

    if (bd_keys_run(&run, NULL, NULL) != STATUS_OK)
        return 1;
    rows = bd_run_keys(run, &count);
    head("BRIDGEDECK-PROFILE", "5", "bridgedeck-profile - the profile of a boat that bridgedeck reads");
    puts(".SH DESCRIPTION");
    line("A profile is a text file of sections, [kind] or [kind NAME], with one key = value a line. NAME and KIND are "
         "your own words. Every value carries its unit: 55 W, 4.6 A, 6 m, 35 mm2, 2 AWG, 90 %. It may be a range or a "
         "guess: 40..60 W, 5.5 m +/- 20 %. The decimal mark is a point; commas separate the items of a list. A line "
         "that begins with # is a comment. A change file holds only the sections and keys that differ; remove = yes "
         "takes a section out.");
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || strcmp(rows[i].section, rows[i - 1].section) != 0) {
            fputs(".SH \"[", stdout);
            roff(rows[i].section);
            puts("]\"");
        }
        key_item(rows + i);
    }
    puts(".SH \"SEE ALSO\"\n.BR bridgedeck (1)");
    bd_run_free(run);
    return 0;
}

/* pages.c - writes the reference pages from the tables that drive the program: pages keys, pages man1, ...
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "base/publications.h"
#include "check/pages.h"

/* Text in a Markdown table: a bar would end the cell. */
static void cell(const char *text)
{
    fputs("| ", stdout);
    for (; text && *text; text++) {
        if (*text == '|')
            putchar('\\');
        putchar(*text == '\n' ? ' ' : *text);
    }
    putchar(' ');
}

static void head(const char *title, const char *made_by)
{
    printf("# %s\n\nWritten by `make docs` from %s; edit there.\n", title, made_by);
}

static void section_head(const char *section)
{
    printf("\n## [%s]\n\n", section);
    puts("| key | what may be typed | default | bounds | meaning | source of the default |");
    puts("| --- | --- | --- | --- | --- | --- |");
}

static void key_line(const struct key_row *row)
{
    const char *const cells[] = { row->form, row->fallback, row->bounds, row->meaning, row->source };

    printf("| `%s` ", row->key);
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        cell(cells[i]);
    puts("|");
}

static int page_of_keys(void)
{
    const struct key_row *rows;
    struct bd_run *run;
    size_t count;

    if (bd_keys_run(&run, NULL, NULL) != STATUS_OK)
        return 1;
    rows = bd_run_keys(run, &count);
    head("The profile's keys", "the table that reads profiles");
    puts("\n`bridgedeck keys [SECTION]` prints the same. NAME and KIND are your own words. A value may be a range or a\n"
         "guess: `40..60 W`, `5.5 m +/- 20 %`.");
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || strcmp(rows[i].section, rows[i - 1].section) != 0)
            section_head(rows[i].section);
        key_line(&rows[i]);
    }
    bd_run_free(run);
    return 0;
}

static void option_line(const struct argp_option *option)
{
    fputs("| ", stdout);
    if (page_letter(option))
        printf("`-%c`, ", page_letter(option));
    printf("`--%s%s%s` ", option->name, option->arg ? " " : "", option->arg ? option->arg : "");
    cell(option->doc);
    puts("|");
}

static void command_part(const struct command *command)
{
    printf("\n## %s\n\n    bridgedeck %s [OPTION...]%s%s\n\n%s\n\n", command->name, command->name,
           *command->argument ? " " : "", command->argument, command->text);
    puts("| option | meaning |\n| --- | --- |");
    page_options(command, option_line);
}

static int page_of_commands(void)
{
    head("The commands", "the tables of commands and options");
    puts("\n| command | does |\n| --- | --- |");
    for (const struct command *const *row = command_table; *row; row++) {
        printf("| [%s](#%s) ", (*row)->name, (*row)->name);
        cell((*row)->summary);
        puts("|");
    }
    for (const struct command *const *row = command_table; *row; row++)
        command_part(*row);
    puts("\n## Exit status\n\n| code | meaning |\n| --- | --- |");
    for (const struct exit_row *row = exit_table; row->meaning; row++)
        printf("| %d | %s |\n", (int)row->code, row->meaning);
    puts("\nResults go to standard output or `--output`, diagnostics to standard error. Files are written beside their\n"
         "name and renamed into place: a failed run leaves no half file and never touches an old one.");
    return 0;
}

size_t page_sections(const char *names[], size_t room, struct bd_run **keys)
{
    const struct key_row *rows;
    size_t count = 0, kept = 0;

    if (bd_keys_run(keys, NULL, NULL) != STATUS_OK)
        return 0;
    rows = bd_run_keys(*keys, &count);
    for (size_t i = 0; i < count && kept < room; i++)
        if (i == 0 || strcmp(rows[i].section, rows[i - 1].section) != 0)
            names[kept++] = rows[i].section;
    return kept;
}

char page_letter(const struct argp_option *option)
{
    return option->key > ' ' && option->key < 0x7F ? (char)option->key : '\0';
}

void page_options(const struct command *command, void (*each)(const struct argp_option *option))
{
    for (const struct option_row *row = option_table; row->option.name; row++)
        if (row->taken_by & command->takes)
            each(&row->option);
}

static void rule_line(const struct survey_rule_row *row)
{
    const char *const cells[] = { row->priority, row->title, row->of,  row->needs,
                                  row->risk,     row->action, row->reference };

    printf("| %s ", row->id);
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        cell(cells[i]);
    puts("|");
}

static int page_of_rules(void)
{
    const struct survey_rule_row *rows;
    struct bd_run *run;
    size_t count;

    if (bd_keys_run(&run, "rules", NULL) != STATUS_OK)
        return 1;
    rows = bd_run_rules(run, &count);
    head("The rules of the survey", "the tables of rules");
    printf("\n`bridgedeck keys rules` prints the same. %zu rules; how they are used is in [survey.md](handbook/survey.md). Priorities: A\n"
           "before use, B soon, C advice. Behind each reference stands how it is known: read, quoted, from memory.\n",
           count);
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || strcmp(rows[i].area, rows[i - 1].area) != 0)
            printf("\n## %s\n\n| rule | | about | held against | facts it waits for | risk | to achieve | reference |\n"
                   "| --- | --- | --- | --- | --- | --- | --- | --- |\n",
                   rows[i].area);
        rule_line(&rows[i]);
    }
    bd_run_free(run);
    return 0;
}

static int page_of_sources(void)
{
    head("Sources", "the table of publications, `src/base/publications.c`");
    puts("\nThe publications behind the equations and figures. The key is used in [models.md](models.md); the code names the\n"
         "publication itself where the figure stands. A report lists those that its own parts lean on.\n\n"
         "How each is known:\n\n"
         "- **read**: the text, or a public copy of it, was read.\n"
         "- **quoted**: its formulas or figures were read in another public work that quotes it.\n"
         "- **from memory**: recalled, not read again. Check it before you rely on it.\n"
         "- **common practice**: a habit of the trade, no publication.\n\n"
         "Published test values stand in `tests/`, each row with its source.\n\n"
         "| key | publication | used for | known |\n| --- | --- | --- | --- |");
    for (const struct publication *p = publications; p->key; p++)
        printf("| %s | %s | %s | %s |\n", p->key, p->title, p->used_for, p->known);
    return 0;
}

int main(int argc, char **argv)
{
    static const struct { const char *name; int (*write)(void); } pages[] = {
        { "keys", page_of_keys },          { "commands", page_of_commands }, { "man1", page_of_man_command },
        { "man5", page_of_man_profile },   { "bash", page_of_bash },         { "zsh", page_of_zsh },
        { "fish", page_of_fish },            { "rules", page_of_rules },      { "sources", page_of_sources },
    };

    for (size_t i = 0; argc == 2 && i < sizeof pages / sizeof pages[0]; i++)
        if (strcmp(argv[1], pages[i].name) == 0)
            return pages[i].write();
    fputs("usage: pages keys|commands|man1|man5|bash|zsh|fish|rules|sources\n", stderr);
    return 2;
}

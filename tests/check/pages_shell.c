/* pages_shell.c - completion for bash, zsh and fish, from the tables that drive the program.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "check/pages.h"

enum { SECTIONS = 64 };

static const char made_by[] = "# Written by make from the tables of the program.\n";

/* What an option's value may be, for all three shells. */
static int is_file(const struct argp_option *option)
{
    return option->arg && strcmp(option->arg, "FILE") == 0;
}

/* The words that may stand there, blank-separated; NULL where they are the user's own. installs tries them. */
static const char *choices(const struct argp_option *option)
{
    static const struct { const char *value, *words; } known[] = {
        { "FORMAT", "text csv json html" },
        { "SET", "cfr183 abyc-e11 iso10133 iso13297 own all" },
        { "PLACE", "cabin engine" },
        { "WHICH", "metric us" },
    };

    for (size_t i = 0; option->arg && i < sizeof known / sizeof known[0]; i++)
        if (strcmp(option->arg, known[i].value) == 0)
            return known[i].words;
    return NULL;
}

static void sections(const char *separator)
{
    const char *names[SECTIONS];
    struct bd_run *keys = NULL;
    size_t count = page_sections(names, SECTIONS, &keys);

    for (size_t i = 0; i < count; i++)
        printf("%.*s%s", (int)strcspn(names[i], " "), names[i], separator);
    fputs("climate", stdout);
    bd_run_free(keys);
}

static void commands(void)
{
    for (const struct command *const *row = command_table; *row; row++)
        printf("%s%s", row == command_table ? "" : " ", (*row)->name);
}

static int takes_sections(const struct command *command)
{
    return strcmp(command->argument, "[SECTION]") == 0;
}

/* ---- bash ---- */

static void bash_option(const struct argp_option *option)
{
    printf(" --%s", option->name);
    if (page_letter(option))
        printf(" -%c", page_letter(option));
}

/* What may follow an option that wants a value, unless that is a file. */
static void bash_values(void)
{
    for (const struct option_row *row = option_table; row->option.name; row++) {
        const char *words = choices(&row->option);

        if (!row->option.arg || is_file(&row->option))
            continue;
        if (words)
            printf("        --%s) COMPREPLY=( $(compgen -W \"%s\" -- \"$word\") ); return ;;\n", row->option.name, words);
        else
            printf("        --%s) return ;;\n", row->option.name);
    }
}

int page_of_bash(void)
{
    printf("%s_bridgedeck()\n{\n    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} options=\n"
           "    COMPREPLY=()\n    if [ \"$COMP_CWORD\" -eq 1 ]; then\n        COMPREPLY=( $(compgen -W \"",
           made_by);
    commands();
    puts(" help --help --version\" -- \"$word\") )\n        return\n    fi\n    case $before in");
    bash_values();
    puts("    esac\n    case ${COMP_WORDS[1]} in");
    for (const struct command *const *row = command_table; *row; row++) {
        printf("        %s) options=\"", (*row)->name);
        page_options(*row, bash_option);
        puts("\" ;;");
    }
    fputs("    esac\n    case ${COMP_WORDS[1]}:$word in\n        *:-*) COMPREPLY=( $(compgen -W \"$options\" -- \"$word\") ) ;;\n"
          "        keys:*) COMPREPLY=( $(compgen -W \"",
          stdout);
    sections(" ");
    puts("\" -- \"$word\") ) ;;\n        *) COMPREPLY=( $(compgen -f -- \"$word\") ) ;;\n    esac\n}\n"
         "complete -o filenames -F _bridgedeck bridgedeck");
    return 0;
}

/* ---- zsh ---- */

/* Text within single quotes, where brackets and colons mean something. */
static void zsh_text(const char *text)
{
    for (; *text; text++) {
        if (*text == '[' || *text == ']' || *text == ':' || *text == '\\')
            putchar('\\');
        fputs(*text == '\'' ? "'\\''" : (const char[]){ *text, '\0' }, stdout);
    }
}

static void zsh_option(const struct argp_option *option)
{
    fputs(" \\\n            ", stdout);
    if (page_letter(option)) /* one of the two is enough */
        printf("'(-%c --%s)'{-%c,--%s}'[", page_letter(option), option->name, page_letter(option), option->name);
    else
        printf("'--%s[", option->name);
    zsh_text(option->doc);
    fputs("]", stdout);
    if (option->arg)
        printf(":%s:%s%s%s", option->arg, choices(option) ? "(" : "",
               is_file(option) ? "_files" : choices(option) ? choices(option) : " ", choices(option) ? ")" : "");
    fputs("'", stdout);
}

int page_of_zsh(void)
{
    printf("#compdef bridgedeck\n%slocal -a commands\ncommands=(\n", made_by);
    for (const struct command *const *row = command_table; *row; row++) {
        printf("    '%s:", (*row)->name);
        zsh_text((*row)->summary);
        puts("'");
    }
    puts(")\nif (( CURRENT == 2 )); then\n    _describe command commands\n    return\nfi\nshift words\n(( CURRENT-- ))\n"
         "case $words[1] in");
    for (const struct command *const *row = command_table; *row; row++) {
        printf("    %s)\n        _arguments", (*row)->name);
        page_options(*row, zsh_option);
        if (takes_sections(*row)) {
            fputs(" \\\n            '*:section:(", stdout);
            sections(" ");
            fputs(")'", stdout);
        } else if (*(*row)->argument) {
            fputs(" \\\n            '*:file:_files'", stdout);
        }
        puts(" ;;");
    }
    puts("esac");
    return 0;
}

/* ---- fish ---- */

static void fish_text(const char *text)
{
    putchar('\'');
    for (; *text; text++) {
        if (*text == '\'' || *text == '\\')
            putchar('\\');
        putchar(*text);
    }
    putchar('\'');
}

static void fish_option(const struct argp_option *option)
{
    if (page_letter(option))
        printf(" -s %c", page_letter(option));
    printf(" -l %s", option->name);
    if (choices(option))
        printf(" -x -a '%s'", choices(option));
    else if (option->arg)
        fputs(is_file(option) ? " -r -F" : " -x", stdout);
    fputs(" -d ", stdout);
    fish_text(option->doc);
    putchar('\n');
}

int page_of_fish(void)
{
    fputs(made_by, stdout);
    for (const struct command *const *row = command_table; *row; row++) {
        printf("complete -c bridgedeck -n __fish_use_subcommand -f -a %s -d ", (*row)->name);
        fish_text((*row)->summary);
        putchar('\n');
    }
    for (const struct option_row *row = option_table; row->option.name; row++) {
        fputs("complete -c bridgedeck -n '__fish_seen_subcommand_from", stdout);
        for (const struct command *const *command = command_table; *command; command++)
            if (row->taken_by & (*command)->takes)
                printf(" %s", (*command)->name);
        fputs("'", stdout);
        fish_option(&row->option);
    }
    fputs("complete -c bridgedeck -n '__fish_seen_subcommand_from keys' -f -a '", stdout);
    sections(" ");
    puts("'");
    return 0;
}

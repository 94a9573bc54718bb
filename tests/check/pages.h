/* pages.h - what pages.c can write.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PAGES_H
#define BD_PAGES_H

#include <stddef.h>

#include "cli/command.h"

/* Each writes one page to standard output; 0, or 1 where it cannot. */
int page_of_man_command(void);
int page_of_man_profile(void);
int page_of_bash(void);
int page_of_zsh(void);
int page_of_fish(void);

/* The kinds of section of a profile, each once, in order; returns how many, at most `room`. */
size_t page_sections(const char *names[], size_t room, struct bd_run **keys);

/* The short name of an option; 0: it has none. */
char page_letter(const struct argp_option *option);

/* Calls `each` for every option of a command. */
void page_options(const struct command *command, void (*each)(const struct argp_option *option));

#endif

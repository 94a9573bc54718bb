/* profile_text.h - boats from a few lines of profile, for tests.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_PROFILE_TEXT_H
#define BD_TEST_PROFILE_TEXT_H

#include "base/diag.h"
#include "boat/boat.h"

struct arena;

/* Reads the text; fails the test, printing the remarks, where it is refused. */
const struct boat *boat_of(struct arena *arena, const char *text);

/* 1 where a remark of the list is an error whose message holds `message` and whose line is `line` (0: any).
 */
int has_error(const struct diag_list *diags, int line, const char *message);

/* Prints every remark to stderr. */
void print_remarks(const struct diag_list *diags);

#endif

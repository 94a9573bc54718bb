/* latin1.h - text as libplot can write it: ISO 8859-1, with the nearest letters for what does not fit.
 * Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_LATIN1_H
#define BD_LATIN1_H

struct arena;

/*
 * UTF-8 to Latin-1. Letters of other Latin, Greek and Cyrillic alphabets become their usual romanisation, dashes and
 * quotes their plain forms, anything else "?". Control characters and backslashes (libplot's escape) become blanks
 * and slashes. NULL without memory.
 */
char *latin1_text(struct arena *arena, const char *utf8);

#endif

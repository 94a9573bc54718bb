/* latin1.h - text as libplot can write it: ISO 8859-1, with the nearest letters for what does not fit.
 * Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_LATIN1_H
#define BD_LATIN1_H

struct arena;

/*
 * UTF-8 to Latin-1, what libplot's fonts hold.
 *
 * Letters of other Latin, Greek and Cyrillic alphabets become their usual romanisation, dashes and quotes
 * their plain forms, anything else "?". Control characters and backslashes (libplot's escape) become blanks
 * and slashes. Bytes that are no UTF-8 become themselves. NULL without memory. Checked:
 * tests/output/test_latin1.c.
 */
char *latin1_text(struct arena *arena, const char *utf8);

#endif

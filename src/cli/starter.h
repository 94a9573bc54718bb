/* starter.h - the profile to start from, and putting other values into it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_STARTER_H
#define BD_STARTER_H

/* profiles/starter.ini, word for word: the Makefile makes this text of it. */
extern const char starter_text[];

/* The value of a key as it stands in a profile's text; in `space`, empty where there is none. */
const char *starter_value(const char *text, const char *section, const char *key, char space[128]);

/*
 * A copy of the text with that value behind the key; a key that is not there is put right below the head of
 * the section, which must be there. Free it. NULL without memory.
 */
char *starter_with(const char *text, const char *section, const char *key, const char *value);

#endif

/* starter.c - finding and replacing single values in the text of a profile that is known to be well-formed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/starter.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *next_line(const char *line)
{
    const char *end = strchr(line, '\n');

    return end ? end + 1 : line + strlen(line);
}

/* The line below the head of the section; NULL where there is no such section. */
static const char *section_body(const char *text, const char *section)
{
    size_t length = strlen(section);

    for (const char *line = text; *line; line = next_line(line))
        if (line[0] == '[' && strncmp(line + 1, section, length) == 0 && line[1 + length] == ']')
            return next_line(line);
    return NULL;
}

/* Where the value begins; NULL where the section does not give the key. */
static const char *value_of(const char *text, const char *section, const char *key)
{
    const char *line = section_body(text, section);
    size_t length = strlen(key);

    for (; line && *line && *line != '['; line = next_line(line))
        if (strncmp(line, key, length) == 0 && strncmp(line + length, " = ", 3) == 0)
            return line + length + 3;
    return NULL;
}

const char *starter_value(const char *text, const char *section, const char *key, char space[128])
{
    const char *value = value_of(text, section, key);

    snprintf(space, 128, "%.*s", value ? (int)strcspn(value, "\n") : 0, value ? value : "");
    return space;
}

char *starter_with(const char *text, const char *section, const char *key, const char *value)
{
    const char *at = value_of(text, section, key), *below = section_body(text, section), *rest;
    char *with = NULL;

    if (at) {
        rest = at + strcspn(at, "\n");
        return asprintf(&with, "%.*s%s%s", (int)(at - text), text, value, rest) < 0 ? NULL : with;
    }
    if (!below)
        return strdup(text);
    return asprintf(&with, "%.*s%s = %s\n%s", (int)(below - text), text, key, value, below) < 0 ? NULL : with;
}

/* diag_text.c - one remark as a person reads it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/diag_text.h"

#include <string.h>

#include "base/arena.h"
#include "base/text.h"

enum { MARGIN = 4, SHOWN = 160 }; /* characters of a source line worth showing */

/* As compilers say it, so that editors find the place. */
static const char *severity_word(enum diag_severity severity)
{
    return severity == DIAG_ERROR ? "error" : severity == DIAG_WARNING ? "warning" : "note";
}

/* "[load fridge] power: ", or as much of it as there is. */
static const char *whereabouts(struct arena *arena, const struct diag *diag)
{
    if (diag->section && diag->key)
        return arena_print(arena, "[%s] %s: ", diag->section, diag->key);
    if (diag->section)
        return arena_print(arena, "[%s]: ", diag->section);
    return diag->key ? arena_print(arena, "%s: ", diag->key) : "";
}

/* Bytes of the first n characters. */
static size_t bytes_of_characters(const char *text, size_t n)
{
    size_t i = 0;

    while (text[i] && (n > 0 || ((unsigned char)text[i] & 0xC0) == 0x80)) {
        n -= ((unsigned char)text[i] & 0xC0) != 0x80;
        i++;
    }
    return i;
}

/*
 * The source line as shown, cut after 160 characters, and the carets under it; column and
 * width count characters, not bytes. A column behind the cut, or none, gets no carets: the
 * hint then has a line of its own.
 */
static const char *source_lines(struct arena *arena, const struct diag *diag)
{
    size_t length = bytes_of_characters(diag->source, SHOWN), shown, pad, width;
    const char *more = diag->source[length] ? " ..." : "";
    char *line = arena_copy(arena, diag->source, length), *carets;

    if (!line)
        return NULL;
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)line[i] < ' ' || line[i] == 0x7F)
            line[i] = ' ';
    shown = text_characters(line, length);
    pad = diag->column > 0 ? (size_t)diag->column - 1 : 0;
    width = diag->width > 0 ? (size_t)diag->width : 1;
    if (diag->column <= 0 || pad > shown)
        return arena_print(arena, "%*s%s%s\n%s%s%s", MARGIN, "", line, more, diag->hint ? "    " : "",
                           diag->hint ? diag->hint : "", diag->hint ? "\n" : "");
    width = pad == shown ? 1 : width > shown - pad ? shown - pad : width;
    if (!(carets = arena_zero(arena, width + 1)))
        return NULL;
    memset(carets, '^', width);
    return arena_print(arena, "%*s%s%s\n%*s%s%s%s\n", MARGIN, "", line, more, (int)(MARGIN + pad), "", carets,
                       diag->hint ? " " : "", diag->hint ? diag->hint : "");
}

const char *diag_text(struct arena *arena, const struct diag *diag)
{
    const char *where = whereabouts(arena, diag), *source = "\n", *head;

    if (diag->source)
        source = source_lines(arena, diag);
    head = diag->file && diag->line > 0 ? arena_print(arena, "%s:%d: ", diag->file, diag->line)
           : diag->file                 ? arena_print(arena, "%s: ", diag->file)
                                        : "";
    if (!where || !source || !head)
        return NULL;
    return arena_print(arena, "%s%s: %s%s%s%s%s%s", head, severity_word(diag->severity), where,
                       diag->message ? diag->message : "", !diag->source && diag->hint ? "; " : "",
                       !diag->source && diag->hint ? diag->hint : "", diag->source ? "\n" : "", source);
}

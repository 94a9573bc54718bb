/* sheet.c - picks the walker and looks after the stream.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/sheet.h"

#include "base/arena.h"
#include "output/walkers.h"

/*
 * The arena is the walker's scratch and dies with the call; nothing of a sheet is kept.
 */

static enum status walk(FILE *out, struct arena *arena, const struct sheet *sheet, enum sheet_format format,
                        const struct text_style *style)
{
    static const struct text_style plain = { 0 };

    switch (format) {
    case FORMAT_CSV:
        return sheet_as_csv(out, arena, sheet);
    case FORMAT_JSON:
        return sheet_as_json(out, arena, sheet);
    case FORMAT_HTML:
        return sheet_as_html(out, arena, sheet);
    case FORMAT_TEXT:
        break;
    }
    return sheet_as_text(out, arena, sheet, style ? style : &plain);
}

enum status sheet_write(FILE *out, const struct sheet *sheet, enum sheet_format format,
                        const struct text_style *style)
{
    struct arena *arena = arena_new();
    enum status status = arena ? walk(out, arena, sheet, format, style) : STATUS_NO_MEMORY;

    arena_free(arena);
    if (status == STATUS_OK && (fflush(out) != 0 || ferror(out)))
        status = STATUS_UNWRITABLE;
    return status;
}

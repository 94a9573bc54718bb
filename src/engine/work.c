/* work.c - lines of working.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/work.h"

#include <stdarg.h>
#include <stdio.h>

#include "base/arena.h"

enum { NUMBERS_ROOM = 400 };

double work_note(struct work *work, const char *topic, const char *figure, double value, const char *unit,
                 const char *source, const char *formula, const char *numbers, ...)
{
    char text[NUMBERS_ROOM];
    struct work_line *line = arena_push(work->arena, &work->lines, &work->count, &work->room, sizeof *line);
    va_list args;

    if (!line || !topic || !figure) {
        work->failed = 1;
        return value;
    }
    *line = (struct work_line){ .topic = topic,
                                .figure = figure,
                                .formula = formula,
                                .value = value,
                                .unit = unit,
                                .source = source };
    if (numbers) {
        va_start(args, numbers);
        vsnprintf(text, sizeof text, numbers, args);
        va_end(args);
        line->numbers = arena_print(work->arena, "%s", text);
        work->failed |= !line->numbers;
    }
    return value;
}

struct working work_done(const struct work *work)
{
    return (struct working){ work->lines, work->count };
}

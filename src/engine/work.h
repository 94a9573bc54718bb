/* work.h - writing down a calculation while it is made, for --working.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_WORK_H
#define BD_WORK_H

#include "engine/result.h"

struct arena;

struct work {
    struct arena *arena;
    void *lines;
    size_t count, room;
    int failed; /* 1: out of memory */
};

/* Adds a line and returns its value, so that a sum can be written where it is made. numbers is printf text or NULL. */
double work_note(struct work *work, const char *topic, const char *figure, double value, const char *unit,
                 const char *source, const char *formula, const char *numbers, ...)
    __attribute__((format(printf, 8, 9)));

struct working work_done(const struct work *work);

#endif

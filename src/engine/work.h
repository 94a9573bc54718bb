/* work.h - writing down a calculation while it is made, for --working.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_WORK_H
#define BD_WORK_H

#include "engine/result.h"

struct arena;

/* Lines in the order of the calculation; a zeroed struct with an arena is ready. */
struct work {
    struct arena *arena;
    void *lines;
    size_t count, room;
    int failed; /* 1: out of memory */
};

/*
 * Adds a line and returns its value, so that a sum can be written where it is made.
 *
 *   topic, figure  what it is about, and which figure of it
 *   unit           of value, as it is to be shown
 *   source         where value or formula comes from
 *   formula        in words; NULL: a plain input
 *   numbers        printf text with the same formula in numbers, at most 400 characters; NULL: none
 *
 * Without memory failed is set and the value returned all the same.
 */
double work_note(struct work *work, const char *topic, const char *figure, double value, const char *unit,
                 const char *source, const char *formula, const char *numbers, ...)
    __attribute__((format(printf, 8, 9)));

/* The lines noted so far, for a result; they stay the arena's. */
struct working work_done(const struct work *work);

#endif

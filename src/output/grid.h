/* grid.h - a table of strings laid out for the terminal, through libsmartcols.  Layer: output, for as_text.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_GRID_H
#define BD_GRID_H

#include <stddef.h>
#include <stdio.h>

#include "output/sheet.h"

struct arena;

/* How a column stands; its width is worked out. */
struct grid_column {
    const char *heading, *unit; /* unit NULL: none */
    int right;                  /* numbers */
    int whole;                  /* 1: never wrapped, as numbers never are */
    /* [columns of the terminal] set by grid_print; it gets no narrower than least */
    size_t width, least;
};

struct grid {
    struct grid_column *columns;
    size_t column_count;
    const char **cells; /* row after row; never NULL */
    size_t row_count;
    const enum tint *tints; /* one per cell; NULL: none is tinted */
    int colour;
};

/* Prints it indented by two, in lines of at most `width` where text columns can be wrapped to that; a table
 * of numbers that is wider stays wider. 0: no memory. Checked: tests/output/test_walkers.c. */
int grid_print(FILE *out, struct arena *arena, struct grid *grid, size_t width);

/* Columns of the terminal that a piece of UTF-8 takes; under a UTF-8 locale of the thread (see as_text.c). */
size_t text_columns(const char *text, size_t length);

/*
 * How many bytes of text stand on its first line of `width` columns: broken at a blank where there is one,
 * not between a number and its unit if that can be helped, else behind a hyphen, else where it is full, at
 * least one character; blanks at the break are left out. *skip: bytes to the next line's start, 0 at the
 * end.
 */
size_t line_length(const char *text, size_t width, size_t *skip);

#endif

/* terminal.h - whether somebody looks at a stream, and how wide it is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TERMINAL_H
#define BD_TERMINAL_H

#include <stdio.h>

/* 1: somebody looks at it. */
int terminal_is(FILE *stream);

/* 1: a terminal that shows colour and nobody asked it not to (NO_COLOR set to anything, TERM=dumb). */
int terminal_colour(FILE *stream);

/* [characters] 0: not a terminal, or one that does not say. */
int terminal_width(FILE *stream);

#endif

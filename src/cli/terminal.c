/* terminal.c - whether somebody looks at a stream, and how wide it is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/terminal.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

int terminal_is(FILE *stream)
{
    return isatty(fileno(stream)) == 1;
}

int terminal_colour(FILE *stream)
{
    const char *refused = getenv("NO_COLOR"), *kind = getenv("TERM");

    return terminal_is(stream) && !(refused && *refused) && kind && *kind && strcmp(kind, "dumb") != 0;
}

int terminal_width(FILE *stream)
{
    struct winsize size;

    return terminal_is(stream) && ioctl(fileno(stream), TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}

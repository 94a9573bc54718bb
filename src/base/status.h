/* status.h - what a call that could fail says about itself.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_STATUS_H
#define BD_STATUS_H

/*
 * Status is about the call; diagnostics (diag.h) are about the user's file. The two are never mixed:
 * a profile with ten mistakes gives ten diagnostics and one STATUS_REFUSED.
 */
#define STATUS_LIST(X)                                            \
    X(OK, "done")                                                 \
    X(REFUSED, "the profile has errors")                          \
    X(NO_MEMORY, "out of memory")                                 \
    X(UNREADABLE, "the file could not be read")                   \
    X(UNWRITABLE, "the output could not be written")              \
    X(INCOMPLETE, "the profile lacks something this work needs")  \
    X(NO_SOLUTION, "the numbers have no solution")

enum status {
#define X(name, text) STATUS_##name,
    STATUS_LIST(X)
#undef X
};

/* One English phrase for a status; never NULL. */
const char *status_text(enum status status);

#endif

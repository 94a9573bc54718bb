/* cautions.h - what every document says about danger and about its own limits.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CAUTIONS_H
#define BD_CAUTIONS_H

/* Which one; a sheet takes those that its boat gives reason for. */
enum caution {
    CAUTION_PLANNING,
    CAUTION_ISOLATE,
    CAUTION_SHORT_CIRCUIT,
    CAUTION_MAINS,
    CAUTION_HYDROGEN,
    CAUTION_LITHIUM,
    CAUTIONS /* how many */
};

/* One or two sentences; never NULL. */
const char *caution_text(enum caution caution);

#endif

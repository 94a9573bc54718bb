/* change.h - lays a change file over a profile.  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CHANGE_H
#define BD_CHANGE_H

#include "profile/lines.h"

/*
 * Lays the sections and keys of a change over the base, in place: a key that is there is replaced, and with
 * it those of its group (power, current); a key or section that is not there is added; a section that says
 * "remove = yes" goes. Every entry keeps its own place, so that a fault in it is shown where it was written.
 * Faults become diagnostics; STATUS_NO_MEMORY is the only failure.
 */
enum status change_lay(struct document *base, struct arena *arena, const struct document *change,
                       struct diag_list *diags);

#endif

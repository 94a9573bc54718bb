/* diag_text.h - one remark as a person reads it.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_DIAG_TEXT_H
#define BD_DIAG_TEXT_H

#include "base/diag.h"

struct arena;

/*
 * The remark in up to three lines, each ended by a newline; NULL without memory:
 *
 *     passage.ini:41: error: [load fridge] power: "45" has no unit
 *         power = 45
 *                 ^^ write 45 W, or 3.8 A
 *
 * Without a source line the hint follows the message behind "; ". Control characters in the source line are
 * shown as blanks, so that a profile cannot drive the terminal.
 */
const char *diag_text(struct arena *arena, const struct diag *diag);

#endif

/* walkers.h - the four ways to write a sheet.  Layer: output, called by sheet.c alone.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_WALKERS_H
#define BD_WALKERS_H

#include "output/sheet.h"

struct arena;

/* Each writes the whole sheet. The arena is for scratch. A failed stream is left for sheet_write to
 * notice; STATUS_NO_MEMORY is theirs. */
enum status sheet_as_text(FILE *out, struct arena *arena, const struct sheet *sheet,
                          const struct text_style *style);
enum status sheet_as_csv(FILE *out, struct arena *arena, const struct sheet *sheet);
enum status sheet_as_html(FILE *out, struct arena *arena, const struct sheet *sheet);
enum status sheet_as_json(FILE *out, struct arena *arena, const struct sheet *sheet);

#endif

/* plot_days.h - parts of a picture that has the days of a plan along its axis.
 * Layer: output, for the plot_*.c files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PLOT_DAYS_H
#define BD_PLOT_DAYS_H

#include "engine/result.h"
#include "output/plot_kit.h"

/* From the first midnight to the last, 0 to 100 %. */
struct frame week_frame(const struct week *week, struct box box);

/* Before sunrise and after sunset of every day; returns how many. */
size_t week_nights(struct page *page, struct night **nights, const struct week *week);

/* Date and kind of day over the middle of each. */
void week_days_draw(struct page *page, const struct frame *frame, const struct week *week);

/* The charge, no extreme lost. */
void week_charge_draw(struct page *page, const struct frame *frame, const struct week *week, double width,
                      struct ink ink);

/* A dashed limit, named in the right margin. */
void week_limit_draw(struct page *page, const struct frame *frame, const char *name, double share,
                     struct ink ink);

/* A dot at the lowest point and, where there is room near by, name and figures. */
void week_lowest_draw(struct page *page, const struct frame *frame, const struct week *week, const char *name,
                      struct ink ink);

#endif

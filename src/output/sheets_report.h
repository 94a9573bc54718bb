/* sheets_report.h - sheets that stand in a report alone.  Layer: output, for report.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SHEETS_REPORT_H
#define BD_SHEETS_REPORT_H

#include "output/report.h"
#include "output/sheet.h"

struct arena;

/* What holds and what does not, and the few figures one looks for first. */
const struct sheet *sheet_verdict(struct arena *arena, const struct compare_side *side);

/* The balance with one column for each kind of day. */
const struct sheet *sheet_daily(struct arena *arena, const struct balance *balance);

/* The assumptions, those alike put together. */
const struct sheet *sheet_assumed(struct arena *arena, const struct boat *boat);

/* Where figures and models come from. */
const struct sheet *sheet_sources(struct arena *arena, const struct report *report);

#endif

/* report.h - everything about one boat on one page of HTML.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_REPORT_H
#define BD_REPORT_H

#include <stdio.h>

#include "base/status.h"
#include "engine/result.h"

struct survey;
struct survey_changes;

/* All borrowed. */
struct report {
    const struct boat *boat;               /* the one reported, changes laid over */
    const struct compare *compare;         /* its last side is that boat; one before it: before and after */
    const struct survey_changes *findings; /* of that comparison; NULL: none */
    const struct survey *survey;           /* of that boat; NULL: not worked out */
    const struct handover *handover;       /* for the first day of her plan; NULL: she has none */
    const char *version;                   /* of the program */
};

/* One self-contained page: no scripts, nothing fetched. */
enum status report_write(FILE *out, const struct report *report);

#endif

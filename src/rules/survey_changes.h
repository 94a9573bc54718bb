/* survey_changes.h - which findings a change brings and which it takes away.  Layer: rules.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SURVEY_CHANGES_H
#define BD_SURVEY_CHANGES_H

#include "rules/finding.h"

struct arena;

struct survey_change {
    const char *change; /* name of the changed side */
    const char *what;   /* appears, vanishes */
    struct finding finding;
};

/* Rows change by change, for each first what appears, then what vanishes. */
struct survey_changes {
    const struct survey_change *rows;
    size_t count;
};

/*
 * surveys[0] is the one before, names[i] the name of each side; only findings that do not comply count. The
 * same rule at the same place is the same finding, whatever its figures. NULL without memory.
 */
const struct survey_changes *survey_changes_find(struct arena *arena, const struct survey *const *surveys,
                                                 const char *const *names, size_t count);

#endif

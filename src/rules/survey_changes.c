/* survey_changes.c - findings of one survey that another does not have.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/survey_changes.h"

#include <string.h>

#include "base/arena.h"

/* Figures may differ: the same rule at the same place is the same finding. */
static int has(const struct survey *survey, const struct finding *finding)
{
    for (size_t i = 0; i < survey->standing; i++)
        if (strcmp(survey->findings[i].id, finding->id) == 0 &&
            strcmp(survey->findings[i].place, finding->place) == 0)
            return 1;
    return 0;
}

/* What `of` has and `other` has not. */
static size_t add(struct survey_change *rows, const struct survey *of, const struct survey *other,
                  const char *change, const char *what)
{
    size_t count = 0;

    for (size_t i = 0; i < of->standing; i++)
        if (!has(other, of->findings + i))
            rows[count++] = (struct survey_change){ change, what, of->findings[i] };
    return count;
}

const struct survey_changes *survey_changes_find(struct arena *arena, const struct survey *const *surveys,
                                                 const char *const *names, size_t count)
{
    struct survey_changes *changes = arena_zero(arena, sizeof *changes);
    struct survey_change *rows;
    size_t most = 0;

    for (size_t i = 1; i < count; i++)
        most += surveys[0]->standing + surveys[i]->standing;
    rows = arena_array(arena, most, sizeof *rows);
    if (!changes || !rows)
        return NULL;
    changes->rows = rows;
    for (size_t i = 1; i < count; i++) {
        changes->count += add(rows + changes->count, surveys[i], surveys[0], names[i], "appears");
        changes->count += add(rows + changes->count, surveys[0], surveys[i], names[i], "vanishes");
    }
    return changes;
}

/* sheets.h - which tables and columns show which result: one function per result.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each returns a sheet in the arena that borrows the result, or NULL without memory; sheet_write shows it.
 * working = 1 adds the lines of the calculation, with their numbers and sources, as a table at the end.
 */
#ifndef BD_SHEETS_H
#define BD_SHEETS_H

#include "base/keyrow.h"
#include "engine/result.h"
#include "output/sheet.h"
#include "rules/finding.h"

struct arena;
struct survey_changes;

const struct sheet *sheet_balance(struct arena *arena, const struct balance *balance, int working);
const struct sheet *sheet_week(struct arena *arena, const struct week *week);
const struct sheet *sheet_size(struct arena *arena, const struct size *size, int working);
const struct sheet *sheet_sun(struct arena *arena, const struct sun_day *day);

/* findings: that a change brings or takes away; NULL: not worked out. */
const struct sheet *sheet_compare(struct arena *arena, const struct compare *compare,
                                  const struct survey_changes *findings);

/* What was read from a profile, section by section, and what was assumed. */
const struct sheet *sheet_check(struct arena *arena, const struct boat *boat);

/* How the sheet of cables is asked for; a zeroed struct: the usual schedules in the circuit's own units. */
enum cables_units { CABLES_OWN, CABLES_METRIC, CABLES_US };
struct cables_view {
    /* of sheet_cables_name, with commas between; NULL: the usual ones, JSON all; CSV is the first */
    const char *sheets;
    enum cables_units units; /* of lengths and sizes where people read; machine names keep theirs */
    const struct working *working; /* a table of its own at the end; NULL: none */
};

/* Cables and all that hangs on them; view NULL: the usual one. */
const struct sheet *sheet_cables(struct arena *arena, const struct circuit *circuit,
                                 const struct cables_view *view);

/* Name of a schedule, in the order of the sheet; NULL: there are no more. */
const char *sheet_cables_name(size_t index);

/* Findings; the same by all rule sets, where they differ; the sheet to tick off. */
const struct sheet *sheet_cable(struct arena *arena, const struct cable_answer *answer, int working);
const struct sheet *sheet_survey(struct arena *arena, const struct survey *survey);
const struct sheet *sheet_survey_contrast(struct arena *arena, const struct survey_contrast *contrast);
const struct sheet *sheet_handover(struct arena *arena, const struct handover *handover);

/* The rules of the survey, and the keys of [rules]. */
const struct sheet *sheet_rules(struct arena *arena, const struct survey_rule_row *rows, size_t count,
                                const struct key_row *keys, size_t key_count);

/* How a run of cable is listed. */
extern const struct row_kind *const cable_row_kind;

/* How a key of the profile is listed. */
extern const struct row_kind key_row_kind;

/* The profile's keys, and the shipped cruising areas. */
const struct sheet *sheet_keys(struct arena *arena, const struct key_row *rows, size_t count);
const struct sheet *sheet_climate(struct arena *arena, const struct climate *rows, size_t count);

#endif

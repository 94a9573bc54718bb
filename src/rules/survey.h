/* survey.h - rules times things of the boat: the findings.  Layer: rules.  No printing.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rules are rows of data (survey_rules_*.c). A rule is held against every thing of its kind: each bank,
 * each cable, the shore inlet, the boat. The verdict is complies, does not comply, or not verified; the last
 * names the one fact that would settle it. What nobody said is never taken as good, and neither is a default.
 */
#ifndef BD_SURVEY_H
#define BD_SURVEY_H

#include "base/status.h"
#include "boat/boat.h"
#include "engine/result.h"
#include "parts/wiring.h"
#include "rules/finding.h"

struct arena;

/* What a survey looks at. All borrowed; must outlive the findings, whose texts may point into it. */
struct survey_input {
    const struct boat *boat;
    const struct wiring_rules *rules;   /* the set that judges */
    const struct circuit *circuit;      /* by that set; NULL: the profile has no cables */
    const struct expectation *expected; /* NULL: not worked out; measured values are then not judged */
    int underwriter;                    /* 1: leave C out */
};

/* Holds every rule against every thing of its kind. *out lives in arena and is set on STATUS_OK only;
 * STATUS_NO_MEMORY is the only failure. Texts of rules are static. Checked: tests/rules/test_survey.c. */
enum status survey_run(const struct survey **out, struct arena *arena, const struct survey_input *input);

/*
 * The same boat by up to SURVEY_SETS sets: only what they judge differently. Each input
 * names its set and the circuit by that set; all must be of one boat. Sets are never
 * blended: a row shows each verdict for itself.
 */
enum status survey_contrast_run(const struct survey_contrast **out, struct arena *arena,
                                const struct survey_input *inputs, size_t count);

/* The table of rules for the reference; NULL without memory. */
const struct survey_rule_row *survey_rule_rows(struct arena *arena, size_t *count);

#endif

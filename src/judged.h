/* judged.h - a boat held against a rule set: what the public functions of surveys and hand-overs are made of.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_JUDGED_H
#define BD_JUDGED_H

#include "base/diag.h"
#include "base/status.h"
#include "engine/result.h"
#include "rules/finding.h"

struct arena;

/* 1 for the name of a shipped rule set, "own", or "all". */
int judged_rules_known(const char *name);

/*
 * The wiring by the profile's set, in arena; *out NULL, and that is no fault, where the boat has no cables.
 *
 * Each function of this file sets *out on STATUS_OK only, and returns STATUS_REFUSED where the rule set
 * cannot be had: no such name, or a table of the user's own that is missing or wrong, which a diagnostic
 * says.
 */
enum status judged_circuit(const struct circuit **out, struct arena *arena, const struct boat *boat,
                           struct diag_list *diags);

/* Findings by the set of that name; NULL: the profile's. The circuit is solved here, by that set. */
enum status judged_survey(const struct survey **out, struct arena *arena, const struct boat *boat,
                          const char *rules, int underwriter, struct diag_list *diags);

/* The same two by the profile's set, on what judged_circuit found, so that it is solved once. */
enum status judged_survey_on(const struct survey **out, struct arena *arena, const struct boat *boat,
                             const struct circuit *circuit, struct diag_list *diags);
enum status judged_handover_on(const struct handover **out, struct arena *arena, const struct boat *boat,
                               const struct circuit *circuit, const char *day, struct diag_list *diags);

/* Findings by all shipped sets, the circuit solved by each. */
enum status judged_contrast(const struct survey_contrast **out, struct arena *arena, const struct boat *boat,
                            int underwriter, struct diag_list *diags);

/* Cables, fuses and volts by the set of that name (NULL: the profile's), shown for a scenario or kind of day
 * by name (NULL: the largest). STATUS_INCOMPLETE where the profile has no cable. */
enum status judged_cables(const struct circuit **out, struct arena *arena, const struct boat *boat,
                          const char *rules, const char *scenario, struct diag_list *diags);

/* The sheet for a kind of day by name; NULL: the first of the plan. STATUS_REFUSED and a
 * diagnostic where there is no such kind. */
enum status judged_handover(const struct handover **out, struct arena *arena, const struct boat *boat,
                            const char *day, struct diag_list *diags);

#endif

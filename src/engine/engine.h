/* engine.h - the stages: boat in, results out.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every function takes a boat it only reads, puts its result into the arena it is given and sets *out only on
 * success. STATUS_INCOMPLETE with a diagnostic where the profile lacks a section the work needs.
 */
#ifndef BD_ENGINE_H
#define BD_ENGINE_H

#include "base/diag.h"
#include "base/status.h"
#include "engine/result.h"

struct arena;

/* How finely a week is simulated and kept; zeros are the usual. */
struct week_options {
    double step_s; /* [s] 0: the plan's */
    double row_s;  /* [s] time between kept rows; 0: every step; negative: keep no rows */
};

/*
 * The daily energy account of each kind of day (balance.c). Needs a house bank, and a site
 * where anything asks for the sun. Every figure is at the DC bus [Wh]; sources count what
 * they could give if the bank took it.
 */
enum status balance_run(const struct balance **out, struct arena *arena, const struct boat *boat,
                        struct diag_list *diags);

/* The plan step by step (week.c on sim.c). Needs what balance_run needs, a plan with days, and a step that
 * divides a day into whole steps of 1 s to 1 h. Checked: tests/engine/test_week.c. */
enum status week_run(const struct week **out, struct arena *arena, const struct boat *boat,
                     const struct week_options *options, struct diag_list *diags);

/* Sizes by handbook sum and by simulation (size.c, size_sources.c). Needs what week_run needs. Checked:
 * tests/engine/test_size.c, tests/engine/test_handbook.c. */
enum status size_run(const struct size **out, struct arena *arena, const struct boat *boat,
                     struct diag_list *diags);

/* One boat of a comparison and the name it goes by. */
struct compare_input {
    const char *name;
    const struct boat *boat;
    const struct circuit *circuit; /* of that boat; NULL: its wiring is left out */
};

/*
 * Runs every stage on every side and lays the results side by side: balance, week and size
 * are run here, the circuits are the caller's. The first input is the one before; at least
 * one. Checked: tests/engine/test_compare.c.
 */
enum status compare_run(const struct compare **out, struct arena *arena, const struct compare_input *inputs,
                        size_t count, struct diag_list *diags);

/*
 * One day of sun. day_offset: days after the plan's first day, may lie outside the plan: the
 * kind of day is then the usual one, without shading. Needs a site. The clearness is the
 * day's total over that outside the air.
 */
enum status sun_run(const struct sun_day **out, struct arena *arena, const struct boat *boat, long day_offset,
                    struct diag_list *diags);

#endif

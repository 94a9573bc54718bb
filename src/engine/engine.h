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

struct week_options {
    double step_s; /* [s] 0: the plan's */
    double row_s;  /* [s] time between kept rows; 0: every step; negative: keep no rows */
};

enum status balance_run(const struct balance **out, struct arena *arena, const struct boat *boat,
                        struct diag_list *diags);
enum status week_run(const struct week **out, struct arena *arena, const struct boat *boat,
                     const struct week_options *options, struct diag_list *diags);
enum status size_run(const struct size **out, struct arena *arena, const struct boat *boat,
                     struct diag_list *diags);

/* One boat of a comparison and the name it goes by. */
struct compare_input {
    const char *name;
    const struct boat *boat;
    const struct circuit *circuit; /* of that boat; NULL: its wiring is left out */
};

/* The first is the one before; at least one. */
enum status compare_run(const struct compare **out, struct arena *arena, const struct compare_input *inputs,
                        size_t count, struct diag_list *diags);

/* day_offset: days after the plan's first day. */
enum status sun_run(const struct sun_day **out, struct arena *arena, const struct boat *boat, long day_offset,
                    struct diag_list *diags);

#endif

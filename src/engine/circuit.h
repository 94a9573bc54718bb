/* circuit.h - cables, fuses and volts of a whole boat.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CIRCUIT_H
#define BD_CIRCUIT_H

#include "base/diag.h"
#include "base/status.h"
#include "boat/boat.h"
#include "engine/circuit_result.h"
#include "parts/wiring.h"

struct arena;

/* Which state of the boat is shown. A zeroed struct is the usual. */
struct circuit_options {
    double charge;        /* [-] of the banks, for their volts; 0: circuit_charge */
    const char *scenario; /* shown: "largest", "surge", "charging" or a day kind; NULL: largest */
};

/* Charge of the banks where none is asked for [-]: half, between full and floor; common practice. */
extern const double circuit_charge;

/* Drop limits where the rule set has none [-]: 10 % and 3 % by common practice, and said so on each row. */
extern const double circuit_usual_drop, circuit_usual_strict_drop;

/* What every AC circuit on a boat is asked to have, ISO 13297, from memory. */
extern const char *const circuit_residual_current_device;

/*
 * Sizes every cable without an area, solves every scenario, judges every cable and fuse by the rules.
 *
 *   boat     with cables
 *   rules    the one set that judges; never blended with another
 *   options  NULL: banks at circuit_charge, the scenario "largest" shown
 *
 * Sizes are chosen from the series that the boat is wired in, or that [rules] sizes names, the set's where
 * neither says. Whichever scenario is shown, verdicts stand on the hardest of all steady ones. STATUS_REFUSED
 * with diagnostics where the cables make no sense (graph.h) or the scenario is none; STATUS_INCOMPLETE
 * without cables. Volts that collapse are a result. *out lives in arena and borrows boat and rules. Checked:
 * tests/engine/test_circuit.c, test_verdict.c.
 */
enum status circuit_run(const struct circuit **out, struct arena *arena, const struct boat *boat,
                        const struct wiring_rules *rules, const struct circuit_options *options,
                        struct diag_list *diags);

#endif

/* expect.h - what a meter should read, for surveys and for handing the boat over.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_EXPECT_H
#define BD_EXPECT_H

#include "base/diag.h"
#include "base/status.h"
#include "engine/result.h"

struct arena;

/*
 * Where the profile gives one number for a draw, plates and meters are trusted to this share either way:
 * common practice. A range is taken as it stands.
 */
extern const double expect_tolerance;

/* Volts [V] between which a bank may stand while a draw is read: rested at its
 * floor, V1, to charging at absorption, V2. */
struct volts_band {
    double low, high;
};
struct volts_band expect_bank_volts(const struct bank *bank);

/* Resistance of a bank [mohm] as the circuit found it, links, temperature and age counted; without a circuit
 * (NULL) as labelled or usual, new. */
double expect_bank_mohm(const struct circuit *circuit, const struct bank *bank);

/*
 * What every load should draw and, where its cables are known, which volts it should have.
 *
 *   circuit  NULL: nothing is known of the paths; path_mohm is negative then
 *   charge   [-] of the banks, for the volts at the loads
 *
 * With P.low and P.high the power as typed, or 10 % either way of one number:
 *
 *   constant power    P.low / V2 to P.high / V1
 *   constant current  as typed
 *   resistance        P V / Vn2 at V1 and V2, Vn the nominal volts
 *
 * Through a converter or inverter its losses are added at the bank. *out is set on STATUS_OK;
 * STATUS_NO_MEMORY is the only failure. Checked: tests/engine/test_together.c, "bands_come_from_the_ranges".
 */
enum status expect_run(const struct expectation **out, struct arena *arena, const struct boat *boat,
                       const struct circuit *circuit, double charge);

/*
 * The sheet for one kind of day: steps of leaving the dock and coming back, in the order a careful skipper
 * takes them, with the amperes and volts to expect after each.
 *
 *   circuit  NULL: no volts at loads
 *   day      of the boat; decides which loads are switched on
 *
 * STATUS_INCOMPLETE and a diagnostic without a house bank. Checked: tests/engine/test_handover.c.
 */
enum status handover_run(const struct handover **out, struct arena *arena, const struct boat *boat,
                         const struct circuit *circuit, const struct day_kind *day, struct diag_list *diags);

/* One thing that may be switched on. */
struct together_item {
    const char *name;
    double va;
    int rank; /* 0 served first (enum load_priority) */
};

/*
 * Chooses items whose sum stays within limit_va [VA].
 *
 * greedy: in order of rank as they come, skipping what does not fit: what happens if everyone switches on by
 * priority. best: of all sets that fit, the one that serves most VA of rank 0, then most of rank 1, then
 * most of rank 2; a 0/1 knapsack solved exactly by dynamic programming, to a whole VA, each item rounded up.
 *
 * chosen[i] becomes 1 for what is chosen, 0 else; returns their sum [VA]. together_best is negative without
 * memory, and takes (limit x items) bytes of the arena. Checked: tests/engine/test_together.c, against
 * trying all sets.
 */
double together_greedy(const struct together_item *items, size_t count, double limit_va, int *chosen);
double together_best(struct arena *arena, const struct together_item *items, size_t count, double limit_va,
                     int *chosen);

/* The card for 6, 10, 16 and 32 A of shore (never more than the inlet), each generator and each inverter.
 * Starting currents are not in it. 0 without memory. */
int together_make(struct handover *out, struct arena *arena, const struct boat *boat);

#endif

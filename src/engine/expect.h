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

/* Volts [V] between which a bank may stand while a draw is read: rested at its floor to charging at
 * absorption. */
struct volts_band {
    double low, high;
};
struct volts_band expect_bank_volts(const struct bank *bank);

/*
 * For every load. circuit may be NULL: then nothing is known of the paths.
 * charge [-] of the banks, for the volts at the loads.
 */
enum status expect_run(const struct expectation **out, struct arena *arena, const struct boat *boat,
                       const struct circuit *circuit, double charge);

/* The sheet for one kind of day. STATUS_INCOMPLETE and a diagnostic without a house bank. */
enum status handover_run(const struct handover **out, struct arena *arena, const struct boat *boat,
                         const struct circuit *circuit, const struct day_kind *day, struct diag_list *diags);

/* One thing that may be switched on. */
struct together_item {
    const char *name;
    double va;
    int rank; /* 0 served first (enum load_priority) */
};

/*
 * Chooses items whose sum stays within limit_va. greedy: in order of rank as they come, skipping what does
 * not fit. Best: of all sets that fit, the one that serves most VA of rank 0, then most of rank 1, then most
 * of rank 2; exact to a whole VA, each item rounded up. chosen[i] becomes 1; returns their sum [VA]. Negative
 * without memory.
 */
double together_greedy(const struct together_item *items, size_t count, double limit_va, int *chosen);
double together_best(struct arena *arena, const struct together_item *items, size_t count, double limit_va,
                     int *chosen);

/* The card for 6, 10, 16 and 32 A of shore, each generator and each inverter (together.c). 0 without memory.
 */
int together_make(struct handover *out, struct arena *arena, const struct boat *boat);

#endif

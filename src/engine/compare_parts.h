/* compare_parts.h - the pieces of a comparison.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_COMPARE_PARTS_H
#define BD_COMPARE_PARTS_H

#include "engine/result.h"

struct arena;

/* What is on board; negative: not known. */
struct compare_fitted {
    double bank_ah, bank_usable_wh, blocks;
    double solar_w, alternator_a, charger_a, inverter_w, inverter_surge_w, generator_w;
    double bank_kg, solar_kg, inverter_kg, mass_kg;
    double bank_price, solar_price, inverter_price, price, fuel_price;
};

/* What the wiring comes to; negative: not known. */
struct compare_wired {
    double full_v,
        surge_v; /* [V] lowest at an inverter's terminals, all states of the bank; 0: the volts collapse */
    double cables_failing, fuses_failing;
    double copper_kg;
};

/* One side while it is compared: its results, and what they come to. */
struct compare_made {
    const struct boat *boat;
    struct compare_side side;
    struct compare_fitted fitted;
    struct compare_wired wired;
};

/* Sums up what is on board, with mass and price as far as every part of a kind has one.
 * Needs made->boat and the week. */
void compare_fitted_find(struct compare_made *made);

/* Sums up the circuit; all unknown where there is none. */
void compare_wired_find(struct compare_made *made);

/* The condition in which an inverter has least to spare, for "continuous" or "surge"; NULL: none was tried.
 */
const struct circuit_inverter *compare_worst_inverter(const struct circuit *circuit, const char *draw);

/* "200 to 300 A": on the conductor as it is; "" where the fuse passes or none would. NULL without memory. */
const char *compare_fuse_range(struct arena *arena, const struct circuit_cable *cable);

/* The cable of that name; NULL where there is none, or no circuit. */
const struct circuit_cable *compare_cable_named(const struct circuit *circuit, const char *name);

/* The cables of every side that must change. 0 without memory. */
int compare_cables(struct compare_made *made, size_t count, struct arena *arena);

/* What must hold on that side, into made->side; before: the wiring before, NULL: none. 0 without memory. */
int compare_checks(struct compare_made *made, const struct circuit *before, struct arena *arena);

/* The sentence of each side, the checks of all being known. 0 without memory. */
int compare_verdicts(struct compare_made *made, size_t count, struct arena *arena);

/* All figures that any side has. 0 without memory. */
int compare_figures(struct compare *out, const struct compare_made *made, size_t count, struct arena *arena);

#endif

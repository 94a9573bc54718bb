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

struct compare_made {
    const struct boat *boat;
    struct compare_side side;
    struct compare_fitted fitted;
};

void compare_fitted_find(struct compare_made *made);

/* What must hold on that side, into made->side. 0 without memory. */
int compare_checks(struct compare_made *made, struct arena *arena);

/* The sentence of each side, the checks of all being known. 0 without memory. */
int compare_verdicts(struct compare_made *made, size_t count, struct arena *arena);

/* All figures that any side has. 0 without memory. */
int compare_figures(struct compare *out, const struct compare_made *made, size_t count, struct arena *arena);

#endif

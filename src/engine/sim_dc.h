/* sim_dc.h - one bus in one step: sources, loads, bank.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SIM_DC_H
#define BD_SIM_DC_H

#include "engine/sim.h"

/* What happened on all buses in one step; every power is a mean over the step [W]. */
struct flows {
    double solar, spilled, alternator, charger; /* used from each; solar that found no home */
    double load, unserved, inverter_out, inverter_loss;
};

/* Puts solar and alternators of the step on offer at each bus; before sim_ac, which adds the chargers. */
void sim_offer(struct sim *sim, size_t step);

/* Works out what the links between banks move; after sim_ac. */
void sim_link(struct sim *sim, size_t step);

/* Runs one bus; adds to flows. */
void sim_bus(struct sim *sim, size_t index, size_t step, double time_s, struct flows *flows);

#endif

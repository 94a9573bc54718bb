/* sim_dc.h - one bus in one step: sources, loads, bank.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SIM_DC_H
#define BD_SIM_DC_H

#include "engine/sim.h"

/*
 * What happened on all buses in one step; every power is a mean over the step [W]. The order differs from
 * that of struct totals on purpose: read in pairs, as a compiler likes to, they would wait for the single
 * stores before.
 */
struct flows {
    double solar, load, alternator, unserved, spilled, inverter_loss, charger, inverter_out;
};

/* Puts loads, solar and alternators of the step on each bus; before sim_ac, which adds the chargers. */
void sim_offer(struct sim *sim, size_t step);

/* Adds what the inverter takes to the house bus; after sim_ac. */
void sim_need(struct sim *sim);

/* Works out what the links between banks move; after sim_need. */
void sim_link(struct sim *sim);

/* Brings every bank up to a moment [s]: those at rest are left behind while nothing asks for them. */
void sim_wake(struct sim *sim, double time_s);

/* Runs every bus; adds to flows. */
void sim_buses(struct sim *sim, size_t step, double time_s, struct flows *flows);

#endif

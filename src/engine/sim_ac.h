/* sim_ac.h - who feeds the AC panel in a step, and how much.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SIM_AC_H
#define BD_SIM_AC_H

#include "engine/sim.h"

/* Decides source, carried loads and charger offers of the step that begins at time_s. */
void sim_ac(struct sim *sim, const struct ac_step *ac, double time_s);

/* DC power [W] one charger can give at bus volts out of the apparent power left, which is lowered by its
 * share. */
double charger_share(const struct charger *charger, double volts, double scale, double *left_va);

/* Notes that something was so during the step at time_s; neighbouring steps join to one event. */
void sim_event(struct sim *sim, enum week_event_kind kind, double time_s, double excess_w, double limit_w);

/* Closes every open event. 0, or -1 without memory. */
int sim_events_close(struct sim *sim);

#endif

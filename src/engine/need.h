/* need.h - what a piece of work needs from the profile, said as diagnostics.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_NEED_H
#define BD_NEED_H

#include "base/diag.h"
#include "base/status.h"
#include "boat/boat.h"

struct arena;

/* STATUS_OK, or STATUS_INCOMPLETE with one error per missing thing, so that all are told at once. Each asks
 * for what the next one asks for too: the site; a house bank; a plan and a step [s] that divides the day. */
enum status need_simulation(const struct boat *boat, double step_s, struct diag_list *diags);
enum status need_balance(const struct boat *boat, struct diag_list *diags);
enum status need_site(const struct boat *boat, struct diag_list *diags);

/* Volts by which the bank's ampere-hours are turned into watt-hours [V]: cells x nominal cell volts, 12.0
 * for six of lead, 12.8 for four of LFP. For sums only; the simulation has volts of its own. */
double bank_working_voltage(const struct bank *bank);

/* "400 Ah 12 V agm", as labelled; in arena, "" without memory. */
const char *bank_text(struct arena *arena, const struct bank *bank);

/* Site name or its coordinates; in arena; "no site" without one, "" without memory. */
const char *place_text(struct arena *arena, const struct boat *boat);

#endif

/* need.h - what a piece of work needs from the profile, said as diagnostics.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_NEED_H
#define BD_NEED_H

#include "base/diag.h"
#include "base/status.h"
#include "boat/boat.h"

struct arena;

/* STATUS_OK, or STATUS_INCOMPLETE with one error per missing thing. */
enum status need_simulation(const struct boat *boat, double step_s, struct diag_list *diags);
enum status need_balance(const struct boat *boat, struct diag_list *diags);
enum status need_site(const struct boat *boat, struct diag_list *diags);

/* Volts by which the bank's amp-hours are turned into watt-hours [V]: cells x nominal cell volts (12.0, 12.8, ...). */
double bank_working_voltage(const struct bank *bank);

/* "400 Ah 12 V agm"; in arena. */
const char *bank_text(struct arena *arena, const struct bank *bank);

/* Site name or its coordinates; in arena; "no site" without one. */
const char *place_text(struct arena *arena, const struct boat *boat);

#endif

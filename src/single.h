/* single.h - one run of cable from what was typed on a command line.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SINGLE_H
#define BD_SINGLE_H

#include "base/diag.h"
#include "base/status.h"
#include "engine/result.h"

struct arena;
struct bd_cable_request;

/*
 * Reads every value of the request with the units and bounds of the profile's keys, and sizes or judges the
 * run. STATUS_REFUSED with a diagnostic for each value that does not read, its key the name of the option.
 * Checked: tests/cli/test_cable.c.
 */
enum status single_cable(const struct cable_answer **out, struct arena *arena,
                         const struct bd_cable_request *request, struct diag_list *diags);

#endif

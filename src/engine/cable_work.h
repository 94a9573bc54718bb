/* cable_work.h - the calculation of one run of cable, written out for --working.
 * Layer: engine, private to cables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_WORK_H
#define BD_CABLE_WORK_H

#include "engine/circuit_model.h"
#include "engine/circuit_result.h"
#include "engine/work.h"

struct cable_shown {
    const char *name; /* put before each topic; NULL: there is only this run */
    const struct circuit_cable *row;
    const struct wire *wire;
    const struct wiring_rules *rules;
    double power_factor; /* [-] of the current; DC: 1 */
    double near_v;       /* [V] at the end nearer to the source */
    double limit_v;      /* [V] the limit where it is this run's alone; 0: other runs use it up too */
};

/* "drop", or "panel-feed, drop". */
const char *cable_topic(struct work *work, const struct cable_shown *shown, const char *topic);

/* Resistance, drop by the rule and as measured, ampacity with each factor, fuse, protective conductor. */
void cable_work(struct work *work, const struct cable_shown *shown);

#endif

/* cable_run.h - one run of cable by itself: size, drop, ampacity, fuse.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_RUN_H
#define BD_CABLE_RUN_H

#include "base/status.h"
#include "engine/result.h"
#include "parts/wiring.h"

struct arena;

enum cable_units { UNITS_OF_RULES, UNITS_METRIC, UNITS_US };

struct cable_request {
    double current_a, power_w; /* one of the two; 0: not given. Power is constant, drawn at the load */
    double power_factor;       /* [-] of an AC load; 0: 1 */
    double volts_v;            /* [V] > 0, at the source */
    double fault_a;            /* [A] short circuit at the source; 0: not known */
    double length_m;           /* [m] one way, > 0 */
    const char *length_text;   /* as typed */
    double drop;               /* [-] limit; 0: the rule set's ordinary one, else circuit_usual_drop */
    double insulation_c;       /* [C] */
    int engine;                /* 1: through an engine space */
    double bundle;             /* [-] current-carrying conductors together */
    double runs;               /* [-] conductors in parallel per pole */
    double area_m2;            /* [m2] 0: to be sized */
    enum area_series series;   /* of area_m2 */
    const char *area_text;     /* as typed; NULL: to be sized */
    enum cable_units units;    /* which sizes to choose from */
    int table;                 /* 1: also a table of sizes by length and current */
};

/* The currents of the table [A]. */
extern const double cable_table_a[CABLE_TABLE_CURRENTS];

/* Always an answer: what does not pass says so. From 50 V up the run counts as AC. STATUS_NO_MEMORY else. */
enum status cable_run(const struct cable_answer **out, struct arena *arena,
                      const struct cable_request *request, const struct wiring_rules *rules);

/*
 * The same by several sets side by side, each answering for itself: *out is the first, its sets all of them,
 * its finding how far they lie apart. Passes where it passes by every set.
 */
enum status cable_run_sets(const struct cable_answer **out, struct arena *arena,
                           const struct cable_request *request, const struct wiring_rules *const *rules,
                           size_t count);

#endif

/* cable_single.h - a run under work, and the sentences on it.  Layer: engine, private to cable_run.c and
 * cable_words.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_SINGLE_H
#define BD_CABLE_SINGLE_H

#include "engine/cable_run.h"
#include "engine/circuit_model.h"
#include "parts/feed.h"

/* A run under work: the model lends its rules and its formulas. */
struct run {
    const struct cable_request *request;
    struct model model;
    struct cable cable;
    struct wire wire;
    double limit;          /* [-] */
    double amps, watts;    /* what hangs on it: one of the two, the other 0 */
    int found;             /* 1: the size in hand passes, the short circuit aside */
    struct feed_loop loop; /* at the conductors' temperature */
    struct feed feed;
};

extern const char *const cable_units_text[]; /* per enum area_series: "mm2", "AWG" */

/* The smallest standard size that passes, left in the wire; 0: none does, and the largest is left there.
 * *decided says what the one before failed: 0 nothing, 1 current, 2 smallest conductor, 3 fuse, 4 drop. */
int run_choose_size(struct run *run, int *decided);

/* All in the arena, NULL without memory. */

/* In the words of its own series first, then for those who think in the other: "8 AWG (8.37 mm2)". */
const char *words_size(struct arena *arena, const char *size, const struct wire *wire);

/* "20 ft (6.10 m)": as typed, and in metres where that is not. */
const char *words_length(struct arena *arena, const struct cable_request *request);

/* The protective conductor of an AC run: the smallest standard size that is thick enough. */
const char *words_protective(struct arena *arena, const struct run *run);

/* What is to be minded: a set that does not cover such volts, SAE against AWG, a limit that the rule's
 * formula holds and a meter will not find held; "": nothing. */
const char *words_caution(struct arena *arena, const struct run *run, const struct circuit_cable *row);

/* One sentence that says it all; of what fails also what would do. */
const char *words_finding(struct arena *arena, const struct cable_answer *answer, const struct run *run);

/* How far several sets lie apart: the thinnest and the thickest size, or by which a given one passes. */
const char *words_of_sets(struct arena *arena, const struct cable_request *request,
                          const struct cable_answer *sets, size_t count);

#endif

/* boats.h - small boats built in memory, for hand sums on the engine.  All invented.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_BOATS_H
#define BD_TEST_BOATS_H

#include "boat/boat.h"

/* Storage for everything a small boat may have; boat points into it. Set counts in boat as things are added. */
struct test_boat {
    struct boat boat;
    struct bank banks[3];
    struct load loads[12];
    struct solar solars[2];
    struct engine engines[2];
    struct alternator alternators[2];
    struct charger chargers[2];
    struct generator generators[1];
    struct inverter inverters[1];
    struct dcdc dcdcs[2];
    struct day_kind days[2];
    const struct day_kind *plan[60];
    struct time_span spans[16];
    struct engine_run runs[4];
    size_t span_count;
};

/* One number, given. */
struct range test_given(double value);

/* A 200 Ah 12 V lithium house bank, full, at 25 C; one day kind "anchor", seven days of it; no site, no sources. */
void test_boat_lfp(struct test_boat *t);

/* The same with a lead-acid chemistry. */
void test_boat_lead(struct test_boat *t, enum chemistry chemistry, double ah);

/* Adds a DC load on the house bank that runs all day; AC and others by changing what is returned. */
struct load *test_add_load(struct test_boat *t, const char *name, double watts);

/* Adds a clock span [h] to the store and returns it. */
struct time_span *test_span(struct test_boat *t, double from_h, double to_h);

/* A shore lead in on [from_h, to_h) each day, with a charger of that many amps on the house bank. */
void test_add_shore(struct test_boat *t, double amps, double from_h, double to_h);

/* An engine with an alternator on the house bank, run on [from_h, to_h) at rpm. */
void test_add_engine(struct test_boat *t, double rated_a, double rpm, double from_h, double to_h);

/* A 2 kW inverter with 15 W idle draw. */
void test_add_inverter(struct test_boat *t, double power);

/* Flat panels of that power and a site in the Ionian (38.6 N, 20.7 E) in July with that daily irradiation. */
void test_add_solar(struct test_boat *t, double watts, double kwh);

#endif

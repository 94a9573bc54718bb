/* random_boat.h - boats with a chance of everything on board, for laws that hold on any.  All invented.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_RANDOM_BOAT_H
#define BD_TEST_RANDOM_BOAT_H

#include <stdint.h>

#include "support/boats.h"

/* What may be on board besides loads and the house bank; each with a chance of its own. */
enum random_device {
    RANDOM_SOLAR = 1,
    RANDOM_ENGINE = 2,
    RANDOM_SHORE = 4,
    RANDOM_GENERATOR_HOURS = 8,
    RANDOM_GENERATOR_AUTOMATIC = 16, /* starts and stops by the charge, which breaks monotony */
    RANDOM_INVERTER = 32,
    RANDOM_BANKS = 64, /* a start and a bow bank, with a converter or relay between each and the house bank */
    RANDOM_ALL = 127
};

/* Storage for one; test.boat is the boat. Usages point into it. */
struct random_boat {
    struct test_boat test;
    struct time_span times[12];
    struct use uses[12];
    uint64_t seed;
};

/* The same seed makes the same boat, three to six days of two kinds, every load and source on the clock. */
void random_boat_make(struct random_boat *boat, uint64_t seed, unsigned devices);

/* 0 <= x < 1, and a number between two. */
double random_share(struct random_boat *boat);
double random_between(struct random_boat *boat, double low, double high);

#endif

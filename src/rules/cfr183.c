/* cfr183.c - 33 CFR part 183 subpart I, public domain.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/ruleset.h"
#include "rules/tables.h"

/*
 * 33 CFR 183 subpart I. Of all shipped sets the only one whose text is public, so it is the default. It
 * limits neither drop nor interrupt rating, and its bundle factors are the rule from 50 V up only (183.435).
 */
const struct wiring_rules rules_cfr183 = {
    .name = "cfr183",
    .title = "33 CFR part 183 subpart I, electrical systems",
    .edition = "as codified; table read in public reprints",
    .scope = "binds boats with gasoline engines other than outboards; for others a yardstick",

    .series = AREA_AWG,
    .ratings_c = { 60, 75, 80, 90, 105, 125, 200 },
    .rating_count = 7,
    .ampacity = us_currents,
    .ampacity_count = US_CURRENTS,
    .ampacity_cite = { "33 CFR 183.425", "Table 5", KNOWN_READ },
    .ambient_c = 30,
    .engine_ambient_c = 50,
    /* the figure for 105 C read, the others from memory */
    .engine_factor = { 0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00 },
    .engine_cite = { "33 CFR 183.425", "Table 5, note 1 (105 C read, the others from memory)", KNOWN_MEMORY },
    .bundles = us_bundles,
    .bundle_count = US_BUNDLES,
    .bundle_from_v = 50,
    .bundle_cite = { "33 CFR 183.435(b)", "Table 5, note 2", KNOWN_READ },

    /* no drop formula and no drop limit */

    .smallest_single_m2 = 1.308696e-6,
    .smallest_sheathed_m2 = 8.230468e-7,
    .smallest_cite = { "33 CFR 183.425(d), (e)", "AWG 16 alone, AWG 18 in a sheath", KNOWN_READ },

    .fuse_low = FUSE_WITHIN_MULTIPLE,
    .fuse_high = FUSE_NEXT_STANDARD,
    .fuse_multiple = 1.5,
    .fuse_cite = { "33 CFR 183.455(c)", NULL, KNOWN_READ },
    .distances = {
        { 0.1778, 0, 0, "7 inches, where at the source is impractical" },
        { 1.016, 1, 0, "40 inches, in a sheath or enclosure all the way" },
        /* 72 inches from a battery: 183.460(a), from memory */
        { 1.8288, 0, 1, "72 inches from a battery" },
    },
    .distance_cite = { "33 CFR 183.455(b), 183.460(a)", "the 72 inches from memory", KNOWN_READ },
    .breaking = BREAKING_NOT_RULED,
    .breaking_cite = { "33 CFR 183.455", "no clause on breaking capacity", KNOWN_READ },
};

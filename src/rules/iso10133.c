/* iso10133.c - ISO 10133:2012, extra-low-voltage DC in small craft, as publicly quoted.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/ruleset.h"
#include "rules/tables.h"

/*
 * ISO 10133:2012. Insulation under 70 C is not allowed in engine spaces at all: factor 0. 0.0164 ohm
 * mm2/m is the standard's own constant, less than the 0.01724 of copper at 20 C (IEC 60028), so its
 * drops come out lower than a meter shows.
 */
const struct wiring_rules rules_iso10133 = {
    .name = "iso10133",
    .title = "ISO 10133, small craft, extra-low-voltage DC installations",
    .edition = "2012, as publicly quoted; merged into ISO 13297:2020",
    .scope = "small craft up to 24 m; DC under 50 V alone",
    .below_v = 50,

    .series = AREA_METRIC,
    .ratings_c = { 60, 70, 85, 105, 125, 200 },
    .rating_count = 6,
    .ampacity = iso_currents,
    .ampacity_count = ISO_CURRENTS,
    .ampacity_cite = { "ISO 10133:2012", "Table A.2", KNOWN_MEMORY },
    .ambient_c = 30,
    /* the text speaks of 60 C; the factors are numerically those of 50 C */
    .engine_ambient_c = 60,
    .engine_factor = { 0, 0.75, 0.82, 0.86, 0.89, 1.00 },
    .engine_cite = { "ISO 10133:2012",
                     "Table A.2, note (insulation below 70 C not used there)", KNOWN_MEMORY },
    .bundles = iso_bundles,
    .bundle_count = ISO_BUNDLES,
    .bundle_from_v = 0,
    .bundle_cite = { "ISO 13297", "annex A", KNOWN_MEMORY },

    .drop_constant = 0.0164,
    .drop_formula = "E = 0.0164 x I x L / S, L in metres out and back",
    .drop_cite = { "ISO 10133:2012", "annex A", KNOWN_QUOTED },
    .drop_normal = 0.10,
    .drop_critical = 0.03,
    .drop_normal_cite = { "ISO 10133:2012", "10 %", KNOWN_MEMORY },
    .drop_critical_cite = { "ISO 10133:2012",
                            "clause 4.8, note: panel feeders, "
                            "navigation lights, blowers, bilge pumps, safety equipment",
                            KNOWN_QUOTED },
    .feeders_critical = 1,
    .critical_words = "navigation light|nav light|anchor light|masthead light|steaming light|stern light|"
                      "blower|bilge pump|bilge",

    .smallest_single_m2 = 1e-6,
    .smallest_sheathed_m2 = 0.75e-6,
    .smallest_cite = { "ISO 10133:2012", "clause 7.7", KNOWN_QUOTED },

    .fuse_low = FUSE_NOT_ABOVE,
    .fuse_high = FUSE_NOT_ABOVE,
    .fuse_multiple = 1,
    .fuse_cite = { "ISO 10133:2012", "clause 8", KNOWN_MEMORY },
    .distances = {
        { 0.2, 0, 0, "200 mm from the source" },
        /* further only in a sheath all the way; the clause sets no other figure */
        { 1e3, 1, 0, "any distance in a sheath, conduit or trunking all the way" },
    },
    .distance_cite = { "ISO 10133:2012", "clause 8.1", KNOWN_MEMORY },
    .breaking = BREAKING_BACKED_UP,
    .breaking_cite = { "IEC 60364-4-43", "clause 434.5.1 (coordinated back-up; the set only asks for enough)",
                       KNOWN_MEMORY },
};

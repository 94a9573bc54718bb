/* iso13297.c - ISO 13297:2020 with amendment 1:2022, AC and DC in small craft, as publicly quoted.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/ruleset.h"
#include "rules/tables.h"

/* ISO 13297:2020, which took ISO 10133 in: where its DC text was not seen, that of
 * the older standard stands and says so. */
const struct wiring_rules rules_iso13297 = {
    .name = "iso13297",
    .title = "ISO 13297, small craft, AC and DC installations",
    .edition = "2020 + A1:2022, as publicly quoted",
    .scope = "small craft up to 24 m",

    .series = AREA_METRIC,
    .ratings_c = { 60, 70, 85, 105, 125, 200 },
    .rating_count = 6,
    .ampacity = iso_currents,
    .ampacity_count = ISO_CURRENTS,
    .ampacity_cite = { "ISO 13297:2020", "Table A.1", KNOWN_MEMORY },
    .ambient_c = 30,
    /* the text speaks of 60 C; the factors are numerically those of 50 C */
    .engine_ambient_c = 60,
    .engine_factor = { 0, 0.75, 0.82, 0.86, 0.89, 1.00 },
    .engine_cite = { "ISO 13297:2020",
                     "Table A.1, note (insulation below 70 C not used there)", KNOWN_MEMORY },
    .bundles = iso_bundles,
    .bundle_count = ISO_BUNDLES,
    .bundle_from_v = 0,
    .bundle_cite = { "ISO 13297", "annex A", KNOWN_MEMORY },

    .drop_constant = 0.0164,
    .drop_formula = "E = 0.0164 x I x L / S, L in metres out and back",
    .drop_cite = { "ISO 13297:2020", "annex A", KNOWN_MEMORY },
    .drop_normal = 0.10,
    .drop_critical = 0.03,
    .drop_normal_cite = { "ISO 13297:2020", "10 %", KNOWN_MEMORY },
    .drop_critical_cite = { "ISO 13297:2020", "DC text carried over from ISO 10133:2012 4.8", KNOWN_MEMORY },
    .feeders_critical = 1,
    .critical_words = "navigation light|nav light|anchor light|masthead light|steaming light|stern light|"
                      "blower|bilge pump|bilge",

    .smallest_single_m2 = 1e-6,
    .smallest_sheathed_m2 = 0.75e-6,
    .smallest_cite = { "ISO 13297:2020", "clause 7.7 of ISO 10133:2012 carried over", KNOWN_QUOTED },

    .fuse_low = FUSE_NOT_ABOVE,
    .fuse_high = FUSE_NOT_ABOVE,
    .fuse_multiple = 1,
    .fuse_cite = { "ISO 13297:2020", "clause 13.1.5, which speaks of AC; DC below 50 V alike", KNOWN_MEMORY },
    .distances = {
        { 0.2, 0, 0, "200 mm from the source" },
        /* further only in a sheath all the way; the clause sets no other figure */
        { 1e3, 1, 0, "any distance in a sheath, conduit or trunking all the way" },
    },
    .distance_cite = { "ISO 13297:2020", "clause 12.1", KNOWN_MEMORY },
    .charge_distance_m = 1.8,
    .charge_cite = { "ISO 13297:2020", "clause 12.3", KNOWN_QUOTED },
    .breaking = BREAKING_BACKED_UP,
    .breaking_cite = { "IEC 60364-4-43", "clause 434.5.1 (coordinated back-up; the set only asks for enough)",
                       KNOWN_MEMORY },
};

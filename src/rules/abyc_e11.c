/* abyc_e11.c - ABYC E-11 as publicly quoted; the standard itself was not seen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/ruleset.h"
#include "rules/tables.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* By the cranking amps connected, 12 V and 24 V; quoted on a wire dealer's page. */
static const struct interrupt_row interrupts[] = { { 650, 1500, 750 },
                                                   { 1100, 3000, 1500 },
                                                   { 0, 5000, 2500 } };

/* ABYC E-11. Distances of 7, 40 and 72 inches and sizes by AWG number are kept as metres and square metres.
 * A set that is voluntary, and quoted: where a figure matters, the standard itself decides. */
const struct wiring_rules rules_abyc_e11 = {
    .name = "abyc-e11",
    .title = "ABYC E-11, AC and DC electrical systems on boats",
    .edition = "as publicly quoted; current text not seen",
    .scope = "voluntary standard of United States practice",

    .series = AREA_AWG,
    .ratings_c = { 60, 75, 80, 90, 105, 125, 200 },
    .rating_count = 7,
    .ampacity = us_currents,
    .ampacity_count = US_CURRENTS,
    .ampacity_cite = { "ABYC E-11", "Table VI-A (numbering from memory)", KNOWN_QUOTED },
    .ambient_c = 30,
    .engine_ambient_c = 50,
    .engine_factor = { 0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00 },
    .engine_cite = { "ABYC E-11",
                     "inside engine spaces (105 C quoted, the others from memory)", KNOWN_MEMORY },
    .bundles = us_bundles,
    .bundle_count = US_BUNDLES,
    .bundle_from_v = 0,
    .bundle_cite = { "ABYC E-11", "Tables VI-A to VI-E", KNOWN_QUOTED },

    /* K = 10.75 ohm circular mil per foot, in SI */
    .drop_constant = 10.75 * 5.067074790974977e-4 / 0.3048,
    .drop_formula = "CM = 10.75 x I x L / E, L in feet out and back",
    .drop_cite = { "ABYC E-11", "K = 10.75", KNOWN_QUOTED },
    .drop_normal = 0.10,
    .drop_critical = 0.03,
    .drop_normal_cite = { "ABYC E-11",
                          "10 %: lighting and other circuits where drop is not critical", KNOWN_QUOTED },
    .drop_critical_cite = { "ABYC E-11", "3 %: panel feeders, bilge blowers, electronics, navigation lights",
                            KNOWN_QUOTED },
    .feeders_critical = 1,
    .critical_words = "navigation light|nav light|anchor light|masthead light|steaming light|stern light|"
                      "blower|electronics|instrument|chart plotter|plotter|radar|vhf|radio|ais|gps|autopilot",

    .smallest_single_m2 = 1.308696e-6,
    .smallest_sheathed_m2 = 8.230468e-7,
    .smallest_cite = { "ABYC E-11", "AWG 16 alone, AWG 18 in a sheath", KNOWN_QUOTED },

    .fuse_low = FUSE_NEXT_STANDARD,
    .fuse_high = FUSE_NEXT_STANDARD,
    .fuse_multiple = 1.5,
    .fuse_cite = { "ABYC E-11", "at or below the ampacity, else the next standard rating up to 150 %",
                   KNOWN_MEMORY },
    .distances = {
        { 0.1778, 0, 0, "7 inches from the source" },
        { 1.016, 1, 0, "40 inches, in a sheath or enclosure all the way" },
        { 1.8288, 1, 1, "72 inches from a battery post, in a sheath all the way" },
    },
    .distance_cite = { "ABYC E-11", "7, 40 and 72 inches", KNOWN_QUOTED },
    .interrupts = interrupts,
    .interrupt_count = COUNT(interrupts),
    .interrupt_cite = { "ABYC E-11", "Table V-A", KNOWN_QUOTED },
    .breaking = BREAKING_BACKED_UP,
    .breaking_cite = { "ABYC E-11", "main devices of enough breaking capacity ahead of branch devices",
                       KNOWN_QUOTED },
};

/* test_ruleset.c - the rule sets against what was printed of them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "rules/ruleset.h"

struct table_row {
    const char *awg;
    double amps[7];
};

struct bundle_rows {
    const char *awg;
    double amps[8];
};

struct chart_row {
    double feet;
    const char *awg[13];
};

static const struct table_row table5[] = {
    /* AWG, [A] at 60, 75, 80, 90, 105, 125, 200 C */
    { "18", { 10, 10, 15, 20, 20, 25, 25 } },         { "16", { 15, 15, 20, 25, 25, 30, 35 } },
    { "14", { 20, 20, 25, 30, 35, 40, 45 } },         { "12", { 25, 25, 35, 40, 45, 50, 55 } },
    { "10", { 40, 40, 50, 55, 60, 70, 70 } },         { "8", { 55, 65, 70, 70, 80, 90, 100 } },
    { "6", { 80, 95, 100, 100, 120, 125, 135 } },     { "4", { 105, 125, 130, 135, 160, 170, 180 } },
    { "3", { 120, 145, 150, 155, 180, 195, 210 } },   { "2", { 140, 170, 175, 180, 210, 225, 240 } },
    { "1", { 165, 195, 210, 210, 245, 265, 280 } },   { "1/0", { 195, 230, 245, 245, 285, 305, 325 } },
    { "2/0", { 225, 265, 285, 285, 330, 355, 370 } }, { "3/0", { 260, 310, 330, 330, 385, 410, 430 } },
    { "4/0", { 300, 360, 385, 385, 445, 475, 510 } },
};

/* Outside and inside the engine space with 1-2, 3, 4-6 and 7-24 conductors, 105 C. */
static const struct bundle_rows printed[] = {
    { "18", { 20, 17, 14, 11.9, 12, 10.2, 10, 8.5 } },
    { "16", { 25, 21.3, 17.5, 14.9, 15, 12.8, 12.5, 10.6 } },
    { "14", { 35, 29.8, 24.5, 20.8, 21, 17.9, 17.5, 14.9 } },
    { "12", { 45, 38.3, 31.5, 26.8, 27, 23, 22.5, 19.1 } },
    { "10", { 60, 51, 42, 35.7, 36, 30.6, 30, 25.5 } },
    { "8", { 80, 68, 56, 47.6, 48, 40.8, 40, 34 } },
    { "6", { 120, 102, 84, 71.4, 72, 61.2, 60, 51 } },
    { "4", { 160, 136, 112, 95.2, 96, 81.6, 80, 68 } },
    { "2", { 210, 178.5, 147, 125, 126, 107.1, 105, 89.3 } },
    { "1", { 245, 208.3, 171.5, 145.8, 147, 125, 122.5, 104.1 } },
    { "1/0", { 285, 242.3, 199.5, 169.6, 171, 145.4, 142.5, 121.1 } },
    { "2/0", { 330, 280.5, 231, 196.4, 198, 168.3, 165, 140.3 } },
    { "3/0", { 385, 327.3, 269.5, 229.1, 231, 196.4, 192.5, 163.6 } },
    { "4/0", { 445, 378.3, 311.5, 264.8, 267, 227, 222.5, 189.1 } },
};

static const struct chart_row chart[] = {
    /* circuit length [ft], AWG for 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100 A; NULL: not printed */
    { 10, { "18", "14", "12", "12", "10", "10", "8", "8", "6", "6", "6", "4", "4" } },
    { 15, { "16", "12", "10", "10", "8", "8", "6", "6", "4", "4", "4", "2", "2" } },
    { 20, { "14", "12", "10", "8", "8", "6", "6", "4", "4", "4", "2", "2", "2" } },
    { 25, { "14", "10", "8", "8", "6", "6", "4", "4", "2", "2", "2", "1", "1" } },
    { 30, { "12", "10", "8", "6", "6", "4", "4", "2", "2", "2", "1", "1/0", "1/0" } },
    { 40, { "12", "8", "6", "6", "4", "4", "2", "2", "1", "1/0", "1/0", "2/0", "2/0" } },
    { 50, { "10", "8", "6", "4", "4", "2", "2", "1", "1/0", "1/0", "2/0", "3/0", "3/0" } },
    { 60, { "10", "6", "6", "4", "2", "2", "1", "1/0", "2/0", "2/0", "3/0", "3/0", "4/0" } },
    { 70, { "10", "6", "4", "2", "2", "2", "1/0", "2/0", "2/0", "3/0", "3/0", "4/0", "4/0" } },
    { 80, { "8", "6", "4", "2", "2", "1", "1/0", "2/0", "3/0", "3/0", "4/0", NULL, NULL } },
    { 90, { "8", "4", "4", "2", "1", "1/0", "2/0", "3/0", "3/0", "4/0", NULL, NULL, NULL } },
    { 100, { "8", "4", "2", "2", "1", "1/0", "2/0", "3/0", "4/0", "4/0", NULL, NULL, NULL } },
    { 110, { "8", "4", "2", "2", "1", "1/0", "2/0", "3/0", "4/0", NULL, NULL, NULL, NULL } },
    { 120, { "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0", "4/0", NULL, NULL, NULL, NULL } },
};

static double awg(const char *label)
{
    return conductor_size_find(AREA_AWG, label)->area_m2;
}

static struct wiring_place place(double insulation, int engine, double bundle, double volts)
{
    return (struct wiring_place){ insulation, engine, bundle, volts };
}

TEST(cfr183_table_5)
{
    static const double ratings[] = { 60, 75, 80, 90, 105, 125, 200 };
    char label[40];

    for (size_t i = 0; i < sizeof table5 / sizeof *table5; i++)
        for (int c = 0; c < 7; c++) {
            struct wiring_place p = place(ratings[c], 0, 2, 12);

            snprintf(label, sizeof label, "AWG %s at %g C", table5[i].awg, ratings[c]);
            row_check(label, wiring_ampacity(&rules_cfr183, awg(table5[i].awg), &p).amps, table5[i].amps[c],
                      0.01, "33 CFR 183.425 Table 5");
        }
    row_done();
}

/* Table times engine-space factor times bundle factor: whole table as a cable maker prints it, to half a
 * tenth. */
TEST(factors_multiply_as_printed)
{
    static const double bundles[] = { 2, 3, 5, 7 };
    char label[60];

    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++)
        for (int c = 0; c < 8; c++) {
            struct wiring_place p = place(105, c % 2, bundles[c / 2], 12);

            snprintf(label, sizeof label, "AWG %s, %g conductors, engine %d", printed[i].awg, bundles[c / 2],
                     c % 2);
            row_check(label, wiring_ampacity(&rules_abyc_e11, awg(printed[i].awg), &p).amps,
                      printed[i].amps[c], 0.0551, "UL 1426 boat cable, currents by bundle (maker's table)");
        }
    row_done();
}

TEST(cfr183_note_1)
{
    static const double ratings[] = { 60, 75, 80, 90, 105, 125, 200 };
    static const double factors[] = { 0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00 };

    for (int c = 0; c < 7; c++) {
        struct wiring_place in = place(ratings[c], 1, 1, 12), out = place(ratings[c], 0, 1, 12);

        row_check("engine space", wiring_ampacity(&rules_cfr183, awg("2"), &in).amps,
                  factors[c] * wiring_ampacity(&rules_cfr183, awg("2"), &out).amps, 1e-9,
                  "33 CFR 183.425 Table 5 note 1");
    }
    row_done();
}

/* 183.435(b) speaks of 50 V and more; ABYC bundles at any voltage. */
TEST(bundles_by_voltage)
{
    struct wiring_place low = place(105, 0, 5, 12), high = place(105, 0, 5, 120),
                        engine = place(105, 1, 5, 120);

    row_check("cfr183 12 V", wiring_ampacity(&rules_cfr183, awg("8"), &low).amps, 80, 1e-9,
              "33 CFR 183.435(b)");
    row_check("cfr183 120 V", wiring_ampacity(&rules_cfr183, awg("8"), &high).amps, 48, 1e-9,
              "33 CFR 183.435(b)");
    row_check("80 x 0.60 x 0.85", wiring_ampacity(&rules_cfr183, awg("8"), &engine).amps, 40.8, 1e-9,
              "33 CFR 183.425 Table 5 notes 1 and 2");
    row_check("abyc 12 V", wiring_ampacity(&rules_abyc_e11, awg("8"), &low).amps, 48, 1e-9, "ABYC E-11 VI-C");
    row_done();
}

TEST(iso_currents_and_columns)
{
    struct wiring_place p90 = place(90, 0, 1, 12), p105 = place(105, 1, 4, 12), p60 = place(60, 1, 1, 12),
                        p50 = place(50, 0, 1, 12);

    row_check("35 mm2 at 90 C uses 85..90", wiring_ampacity(&rules_iso10133, 35e-6, &p90).amps, 185, 1e-9,
              "ISO 10133:2012 Table A.2 (from memory)");
    row_check("70 mm2, engine, 4 together", wiring_ampacity(&rules_iso13297, 70e-6, &p105).amps,
              330 * 0.86 * 0.7, 1e-9, "ISO 13297:2020 annex A (from memory)");
    row_check("60 C not in engine spaces", wiring_ampacity(&rules_iso10133, 35e-6, &p60).amps, 0, 0,
              "ISO 10133:2012 (from memory)");
    row_check("50 C: no column", wiring_ampacity(&rules_iso10133, 35e-6, &p50).amps, 0, 0, "by hand");
    row_check("300 mm2: no row", wiring_ampacity(&rules_iso10133, 300e-6, &p90).amps, 0, 0, "by hand");
    row_check("0.5 mm2: no row", wiring_ampacity(&rules_iso10133, 0.5e-6, &p90).amps, 0, 0, "by hand");
    row_done();
    assert_true(wiring_ampacity(&rules_iso10133, awg("2/0"), &p90).interpolated);
    assert_false(wiring_ampacity(&rules_iso10133, 70e-6, &p90).interpolated);
}

TEST(drop_formulas)
{
    double k = 10.75 * area_from_cmil(1) * 1e6 / 0.3048;

    row_check("K in SI", rules_abyc_e11.drop_constant, 0.017872, 1e-6, "ABYC E-11 K = 10.75");
    row_check("K again", rules_abyc_e11.drop_constant, k, 1e-12, "property: cmil and feet");
    row_check("10 A, 21 ft, 0.36 V", area_to_cmil(wiring_drop_area(&rules_abyc_e11, 10, 21 * 0.3048, 0.36)),
              6271, 1, "worked marine wire sizing example");
    row_check("10 A, 21 ft, 1.2 V", area_to_cmil(wiring_drop_area(&rules_abyc_e11, 10, 21 * 0.3048, 1.2)),
              1881, 1, "worked marine wire sizing example");
    row_check("1.6 A, 22 m, 1.5 mm2", wiring_drop(&rules_iso10133, 1.6, 22, 1.5e-6), 0.385, 0.0006,
              "worked volt drop example, extra low voltage DC (0.38 V printed)");
    row_check("no formula", wiring_drop(&rules_cfr183, 10, 10, 1e-6), -1, 0, "33 CFR 183: sets none");
    row_done();
}

/* Drop with the resistance printed beside the conductor. */
TEST(drops_from_printed_resistance)
{
    static const struct {
        const char *label;
        double ohm, current, want, tolerance;
        const char *source;
    } rows[] = {
        { "No. 6, 107 ft, 20 A", 0.00044 * 107, 20, 0.942, 0.001, "FAA AC 43.13-1B table 11-7" },
        { "No. 4, 90 ft, 20 A", 0.00028 * 90, 20, 0.504, 0.001, "FAA AC 43.13-1B table 11-7" },
        { "No. 12, 88 ft, 20 A", 0.00202 * 88, 20, 3.60, 0.05,
          "FAA AC 43.13-1B table 11-7 (rounded up there)" },
        { "No. 10, 39 ft, 20 A", 0.00126 * 39, 20, 0.98, 0.004, "FAA AC 43.13-1B table 11-8" },
        { "No. 10, 156 ft, 20 A", 0.00126 * 156, 20, 3.93, 0.002, "FAA AC 43.13-1B table 11-8" },
        { "AWG 14, 2 x 4200 ft, 0.25 A", 2.525e-3 * 8400, 0.25, 5.3025, 1e-6, "wire table example" },
        { "K 12.9, AWG 12, 200 ft, 20 A", 12.9 * 200 / 6530, 20, 7.902, 0.001, "NEC practice example" },
        { "K 12.9, AWG 8, 200 ft, 20 A", 12.9 * 200 / 16510, 20, 3.125, 0.001, "NEC practice example" },
        { "K 12.9, AWG 10, 200 ft, 20 A", 12.9 * 200 / 10380, 20, 4.971, 0.001, "NEC practice example" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        row_check(rows[i].label, rows[i].ohm * rows[i].current, rows[i].want, rows[i].tolerance,
                  rows[i].source);
    row_done();
}

/* Smallest stocked AWG by the formula, a thousandth of slack as the chart rounds. */
static const char *by_formula(double amps, double feet)
{
    size_t count;
    const struct conductor_size *sizes = conductor_sizes(AREA_AWG, &count);
    double need = wiring_drop_area(&rules_abyc_e11, amps, feet * 0.3048, 0.36);

    for (size_t i = 0; i < count; i++)
        if (sizes[i].area_m2 * 1.001 >= need)
            return sizes[i].label;
    return NULL;
}

/* The 3 % chart at 12 V: 166 cells, of which ten are known to lie off the formula by rounding. */
TEST(chart_of_sizes)
{
    static const double amps[] = { 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100 };
    double agree = 0, cells = 0;

    for (size_t i = 0; i < sizeof chart / sizeof *chart; i++)
        for (int c = 0; c < 13; c++) {
            const char *got = chart[i].awg[c] ? by_formula(amps[c], chart[i].feet) : NULL;

            if (!chart[i].awg[c])
                continue;
            cells++;
            agree += got && strcmp(got, chart[i].awg[c]) == 0;
        }
    row_check("cells", cells, 166, 0, "by hand");
    row_check("cells that agree", agree, 156, 0,
              "3 % wire chart at 12 V, second printing; ten cells off by rounding");
    row_done();
}

TEST(worked_sizes)
{
    assert_string_equal(by_formula(10, 21), "12");
    /* the same job in SAE wire asks for a 10, for SAE 12 has only 5833 circular mils */
    assert_true(area_to_cmil(conductor_size_find(AREA_SAE, "12")->area_m2) < 6271);
    assert_true(area_to_cmil(conductor_size_find(AREA_SAE, "10")->area_m2) > 6271);
}

TEST(fuse_against_conductor)
{
    row_check("cfr183 below 50 V: 150 %", wiring_fuse_limit(&rules_cfr183, 100, 12), 150, 0,
              "33 CFR 183.455(c)(1)");
    row_check("cfr183 at 120 V: next size", wiring_fuse_limit(&rules_cfr183, 120, 120), 125, 0,
              "33 CFR 183.455(c)(2)");
    row_check("cfr183 at 120 V: a size there is", wiring_fuse_limit(&rules_cfr183, 110, 120), 110, 0,
              "33 CFR 183.455(c)(2), NEC 240.6(A): 110 A");
    row_check("abyc: next size", wiring_fuse_limit(&rules_abyc_e11, 110, 12), 125, 0,
              "ABYC E-11 (from memory)");
    row_check("abyc: at the rating", wiring_fuse_limit(&rules_abyc_e11, 100, 12), 100, 0,
              "ABYC E-11 (from memory)");
    row_check("abyc: next beyond 150 %", wiring_fuse_limit(&rules_abyc_e11, 0.6, 12), 0, 0,
              "by hand: 1 A is 167 %");
    row_check("iso: never above", wiring_fuse_limit(&rules_iso13297, 110, 12), 100, 0,
              "ISO 13297:2020 13.1.5");
    row_check("nothing carries nothing", wiring_fuse_limit(&rules_iso13297, 0, 12), 0, 0, "by hand");
    row_done();
    assert_true(wiring_fuse_allowed(&rules_cfr183, 150, 100, 12));
    assert_false(wiring_fuse_allowed(&rules_cfr183, 151, 100, 12));
    assert_true(wiring_fuse_allowed(&rules_abyc_e11, 125, 110, 12));
    assert_false(wiring_fuse_allowed(&rules_abyc_e11, 150, 110, 12));
    assert_true(wiring_fuse_allowed(&rules_iso10133, 110, 110, 12));
    assert_false(wiring_fuse_allowed(&rules_iso10133, 111, 110, 12));
}

TEST(fuse_distances)
{
    row_check("7 in", wiring_fuse_distance(&rules_cfr183, 0, 0), 0.178, 0.0005, "33 CFR 183.455(b)");
    row_check("40 in", wiring_fuse_distance(&rules_cfr183, 1, 0), 1.016, 1e-9, "33 CFR 183.455(b)");
    row_check("72 in", wiring_fuse_distance(&rules_cfr183, 0, 1), 1.829, 0.0005,
              "33 CFR 183.460(a) (from memory)");
    row_check("72 in sheathed only", wiring_fuse_distance(&rules_abyc_e11, 0, 1), 0.178, 0.0005, "ABYC E-11");
    row_check("72 in sheathed", wiring_fuse_distance(&rules_abyc_e11, 1, 1), 1.829, 0.0005, "ABYC E-11");
    row_check("200 mm", wiring_fuse_distance(&rules_iso10133, 0, 1), 0.2, 0,
              "ISO 10133:2012 8.1 (from memory)");
    row_check("charging source", rules_iso13297.charge_distance_m, 1.8, 0, "ISO 13297:2020 12.3");
    row_done();
}

TEST(interrupt_table)
{
    static const double want[][3] = {
        { 650, 1500, 750 }, { 651, 3000, 1500 }, { 1100, 3000, 1500 }, { 1101, 5000, 2500 }
    };

    for (size_t i = 0; i < 4; i++) {
        row_check("main", wiring_interrupt_a(&rules_abyc_e11, want[i][0], 1), want[i][1], 0,
                  "ABYC E-11 table V-A");
        row_check("branch", wiring_interrupt_a(&rules_abyc_e11, want[i][0], 0), want[i][2], 0,
                  "ABYC E-11 table V-A");
    }
    row_check("iso has none", wiring_interrupt_a(&rules_iso10133, 900, 1), 0, 0, "by hand");
    row_done();
}

static int critical(const struct wiring_rules *rules, const char *name)
{
    size_t length;

    return wiring_critical_word(rules, name, &length) != NULL;
}

/* The sets differ on the bilge pump: that is why they are never blended. */
TEST(critical_circuits)
{
    assert_true(critical(&rules_iso10133, "bilge pump port"));
    assert_false(critical(&rules_abyc_e11, "bilge pump port"));
    assert_true(critical(&rules_abyc_e11, "Bilge-Blower"));
    assert_true(critical(&rules_abyc_e11, "navigation_lights"));
    assert_true(critical(&rules_iso13297, "Nav Light bow"));
    assert_false(critical(&rules_abyc_e11, "aisle lamp"));
    assert_false(critical(&rules_cfr183, "navigation lights"));
    row_check("cfr183 has no limit", wiring_drop_limit(&rules_cfr183, 1), 0, 0, "33 CFR 183: sets none");
    row_check("3 %", wiring_drop_limit(&rules_iso10133, 1), 0.03, 0, "ISO 10133:2012 4.8");
    row_check("10 %", wiring_drop_limit(&rules_abyc_e11, 0), 0.10, 0, "ABYC E-11");
    row_done();
}

TEST(smallest_and_sizes)
{
    size_t count;
    const struct conductor_size *sizes;

    row_check("alone", wiring_smallest(&rules_cfr183, 0), awg("16"), 1e-12, "33 CFR 183.425(e)");
    row_check("in a sheath", wiring_smallest(&rules_cfr183, 1), awg("18"), 1e-12, "33 CFR 183.425(d)");
    row_check("iso alone", wiring_smallest(&rules_iso10133, 0), 1e-6, 0, "ISO 10133:2012 7.7");
    row_check("iso in a sheath", wiring_smallest(&rules_iso10133, 1), 0.75e-6, 0, "ISO 10133:2012 7.7");
    row_done();
    sizes = wiring_sizes(&rules_iso10133, &count);
    assert_int_equal(count, 15);
    assert_string_equal(sizes[0].label, "0.75");
    assert_string_equal(sizes[count - 1].label, "150");
    sizes = wiring_sizes(&rules_abyc_e11, &count);
    assert_int_equal(count, 14);
    assert_string_equal(sizes[count - 1].label, "4/0");
}

/* Every set: more copper, more insulation, cooler place, fewer neighbours never carry less. */
TEST(property_monotone)
{
    static const struct wiring_rules *const sets[] = { &rules_cfr183, &rules_abyc_e11, &rules_iso10133,
                                                       &rules_iso13297 };

    for (size_t s = 0; s < 4; s++)
        for (double c = 60; c <= 200; c += 5) {
            double last = 0;

            for (double mm2 = 0.85; mm2 < 107; mm2 *= 1.03) {
                struct wiring_place out = place(c, 0, 1, 60), in = place(c, 1, 5, 60),
                                    more = place(c + 5, 0, 1, 60);
                double amps = wiring_ampacity(sets[s], mm2 * 1e-6, &out).amps;

                assert_true(amps > 0 && amps >= last * (1 - 1e-12));
                assert_true(wiring_ampacity(sets[s], mm2 * 1e-6, &in).amps <= amps);
                assert_true(wiring_ampacity(sets[s], mm2 * 1e-6, &more).amps >= amps);
                last = amps;
            }
        }
}

TEST(names)
{
    int own;

    for (int i = 0; i < RULES_OWN; i++)
        assert_ptr_equal(ruleset_find(ruleset_get((enum rule_set_id)i)->name, &own),
                         ruleset_get((enum rule_set_id)i));
    assert_null(ruleset_find("own", &own));
    assert_true(own);
    assert_null(ruleset_find("iso", &own));
    assert_false(own);
    assert_null(ruleset_get(RULES_OWN));
}

struct line {
    const char *section, *key, *value;
};

/* Feeds lines; returns the set or NULL, and how many errors were said. */
static const struct wiring_rules *feed(struct arena *arena, const struct line *lines, size_t count,
                                       size_t *errors)
{
    struct diag_list *diags = diag_list_new();
    struct own_rules *own = own_rules_new(arena, "own.ini", diags);
    const struct wiring_rules *rules;

    for (size_t i = 0; i < count; i++)
        own_rules_line(own, lines[i].section, lines[i].key, lines[i].value, (int)i + 1);
    rules = own_rules_finish(own);
    *errors = diags->errors;
    diag_list_free(diags);
    return rules;
}

TEST(own_table)
{
    static const struct line lines[] = {
        { "set", "name", "Yard table" },       { "set", "drop_constant", "0.02 ohm mm2/m" },
        { "set", "drop_limit", "5 %" },        { "set", "fuse_rule", "next standard" },
        { "set", "fuse_multiple", "120 %" },   { "set", "critical", "bilge pump|horn" },
        { "ampacity 70", "35 mm2", "160 A" },  { "ampacity 70", "16 mm2", "90 A" },
        { "ampacity 105", "35 mm2", "210 A" }, { "ampacity 105", "16 mm2", "130 A" },
        { "engine", "105", "80 %" },           { "bundle", "4..6", "50 %" },
        { "bundle", "7..", "40 %" },           { "set", "fuse_distance", "0.3 m" },
        { "set", "smallest", "1.5 mm2" },       { "set", "breaking", "at place" },
    };
    struct arena *arena = arena_new();
    size_t errors;
    const struct wiring_rules *r = feed(arena, lines, sizeof lines / sizeof *lines, &errors);
    struct wiring_place p = place(105, 1, 5, 12), many = place(70, 0, 30, 12);

    assert_non_null(r);
    assert_int_equal(errors, 0);
    row_check("210 x 0.8 x 0.5", wiring_ampacity(r, 35e-6, &p).amps, 84, 1e-9, "by hand");
    row_check("160 x 0.4", wiring_ampacity(r, 35e-6, &many).amps, 64, 1e-9, "by hand");
    row_check("rows are put in order", wiring_ampacity(r, 16e-6, &many).amps, 36, 1e-9, "by hand");
    row_check("drop", wiring_drop(r, 10, 10, 10e-6), 0.2, 1e-12, "by hand");
    row_check("limit", wiring_drop_limit(r, 0), 0.05, 1e-12, "by hand");
    row_check("fuse", wiring_fuse_limit(r, 90, 12), 100, 0, "by hand: 100 is within 120 % of 90");
    row_check("distance", wiring_fuse_distance(r, 0, 1), 0.3, 1e-12, "by hand");
    row_check("smallest", wiring_smallest(r, 0), 1.5e-6, 1e-15, "by hand");
    row_done();
    assert_true(critical(r, "Horn"));
    assert_int_equal(r->breaking, BREAKING_AT_PLACE);
    arena_free(arena);
}

TEST(own_table_mistakes)
{
    static const struct line bad[] = {
        { "set", "drop_limit", "5" },        { "set", "fuse_rule", "perhaps" },
        { "set", "breaking", "maybe" },      { "set", "colour", "red" },
        { "ampacity 70", "35", "160 A" },
        { "ampacity hot", "35 mm2", "9 A" }, { "ampacity 70", "35 mm2", "-3 A" },
        { "ampacity 70", "5 AWG", "100 A" }, { "engine", "105", "0.8" },
        { "bundle", "many", "50 %" },        { "cables", "x", "y" },
    };

    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct arena *arena = arena_new();
        size_t errors;

        assert_null(feed(arena, &bad[i], 1, &errors));
        assert_int_equal(errors, 1);
        arena_free(arena);
    }
}

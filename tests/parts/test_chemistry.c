/* test_chemistry.c - capacity against rate and temperature, open-circuit tables, usual figures by chemistry.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "parts/bank.h"
#include "support/test.h"

static struct range given(double value)
{
    return (struct range){ value, value, value, ORIGIN_GIVEN, 0, NULL };
}

/* Ampere-hours at 20 h that a label of so many hours stands for. */
static double at_20h(double ah, double hours, double exponent)
{
    struct bank bank = { .chemistry = CHEMISTRY_FLOODED, .block_capacity = given(ah), .rated_hours = hours,
                         .block_voltage = given(12), .series = given(1), .parallel = given(1),
                         .peukert = given(exponent) };

    return bank_capacity_20h(&bank);
}

/* Two points of one Peukert line are labels of the same bank. */
TEST(peukert_rows)
{
    static const struct {
        double ah, hours, exponent, lasts, delivers;
        const char *source;
    } rows[] = {
        { 100, 20, 1.30, 20.0000, 100.000, "by hand: the rated point" },
        { 100, 20, 1.20, 8.7055, 87.055,
          "encyclopedia example of 10 A, 8.7 h, 87 Ah, from memory; digits computed" },
        { 100, 20, 1.30, 8.1225, 81.225, "by hand: 10 A" },
        { 100, 20, 1.25, 3.5355, 70.711, "by hand: 20 A" },
        { 400, 20, 1.20, 8.7055, 348.220, "by hand: 40 A" },
        { 200, 10, 1.10, 10.0000, 200.000, "by hand: the rated point" },
        { 120, 20, 1.20, 10.8346, 108.346, "by hand: 10 A" },
        { 250, 20, 1.30, 10.8561, 217.122, "by hand: 20 A" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        row_check("ampere-hours at 20 h", at_20h(rows[i].delivers, rows[i].lasts, rows[i].exponent),
                  at_20h(rows[i].ah, rows[i].hours, rows[i].exponent), 2e-3, rows[i].source);
    row_check("a label at 20 h", at_20h(100, 20, 1.3), 100, 1e-9, "by hand");
    row_done();
}

/* C / I^n is only right for a rating at 1 A: a public page prints 5.0886 h for 250 Ah at 20 h, 20 A, 1.30. */
TEST(peukert_is_not_the_bare_form)
{
    double bare = at_20h(20 * 5.0886, 5.0886, 1.30);

    row_check("rated at 1 A for 250 h", at_20h(250, 250, 1.30), bare, 2e-3, "public page with the bare form");
    assert_true(bare < 0.6 * 250);
    row_done();
}

TEST(peukert_exponent_from_two_ratings)
{
    row_check("the inverse of a life", peukert_exponent(5, 20, 10, 20 * pow(5.0 / 10, 1.2)), 1.2,
              1e-12, "by hand");
    row_check("flooded 100 Ah at 20 h, 55 Ah at 1 h", peukert_exponent(5, 20, 55, 1), 1.249, 5e-4,
              "typical rate table of flooded batteries, from memory");
    row_check("AGM 100 Ah at 20 h, 62.5 Ah at 1 h", peukert_exponent(5, 20, 62.5, 1), 1.186, 5e-4,
              "typical rate table of AGM batteries, from memory");
    row_done();
}

TEST(other_labels)
{
    row_check("180 min is 75 Ah at 25 A", bank_ah_from_reserve(180, 1), 75, 1e-9,
              "BCI reserve capacity, trade sum");
    row_check("and about 90 Ah at 20 h", bank_ah_from_reserve(180, 1.10), 90, 1.5,
              "trade sum: half the minutes");
    row_check("20 h of reserve is the 20 h rating", bank_ah_from_reserve(1200, 1.25), 500, 1e-9, "by hand");
    row_check("725 A of cranking", bank_ah_from_cranking(725, CHEMISTRY_FLOODED), 100, 1e-9, "by hand");
    row_done();
}

TEST(ieee485_size_factors)
{
    static const double rows[][2] = {
        { -3.9, 1.520 }, { -1.1, 1.430 }, { 1.7, 1.350 },  { 4.4, 1.300 },  { 7.2, 1.250 },
        { 10.0, 1.190 }, { 12.8, 1.150 }, { 15.6, 1.110 }, { 18.3, 1.080 }, { 20.0, 1.056 },
        { 21.1, 1.040 }, { 22.2, 1.029 }, { 23.9, 1.011 }, { 25.0, 1.000 },
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double x = rows[i][0] / 100, cubic = ((-2.8117 * x + 4.1916) * x - 2.4941) * x + 1.405;

        snprintf(label, sizeof label, "%g C", rows[i][0]);
        row_check(label, 1 / bank_capacity_factor(CHEMISTRY_FLOODED, rows[i][0]), rows[i][1], 1e-9,
                  "IEEE 485 cell size correction, from memory");
        row_check(label, 1 / bank_capacity_factor(CHEMISTRY_AGM, rows[i][0]), cubic, 0.014,
                  "published cubic for the IEEE 485 table, within 0.014");
    }
    row_done();
}

/* The worksheet that starts at 80 F prints nearly the same factors. */
TEST(worksheet_size_factors)
{
    static const double rows[][2] = {
        { 15.6, 1.11 }, { 10.0, 1.19 }, { 4.4, 1.30 }, { -1.1, 1.40 }, { -6.7, 1.59 }
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "%g C", rows[i][0]);
        row_check(label, 1 / bank_capacity_factor(CHEMISTRY_GEL, rows[i][0]), rows[i][1], 0.032,
                  "dealers' sizing worksheet; its two coldest rows differ from IEEE 485 by 0.03");
    }
    row_done();
}

TEST(capacity_at_temperature)
{
    static const double lfp[][2] = { { 25, 1 }, { 10, 0.95 }, { 0, 0.88 }, { -10, 0.78 }, { -20, 0.65 } };

    for (size_t i = 0; i < sizeof lfp / sizeof *lfp; i++)
        row_check("lfp", bank_capacity_factor(CHEMISTRY_LFP, lfp[i][0]), lfp[i][1], 1e-12,
                  "LFP cell data sheets, from memory");
    row_check("lead, no credit for heat", bank_capacity_factor(CHEMISTRY_FLOODED, 45), 1, 0,
              "IEEE 1013, from memory");
    row_check("lfp, no credit for heat", bank_capacity_factor(CHEMISTRY_LFP, 45), 1, 0, "by hand");
    row_check("lead at -30 C", bank_capacity_factor(CHEMISTRY_FLOODED, -30), 0.5, 0.06,
              "battery education article: about 50 % at -30 C");
    for (double t = -40; t < 60; t += 0.1)
        for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++)
            assert_true(bank_capacity_factor(c, t) <= bank_capacity_factor(c, t + 0.1));
    row_done();
}

TEST(open_circuit_tables)
{
    static const struct {
        enum chemistry chemistry;
        double charge, volts, cells;
        const char *source;
    } rows[] = {
        { CHEMISTRY_FLOODED, 1.00, 12.65, 6, "BCI open-circuit table, 80 F" },
        { CHEMISTRY_FLOODED, 0.75, 12.45, 6, "BCI open-circuit table, 80 F" },
        { CHEMISTRY_FLOODED, 0.50, 12.24, 6, "BCI open-circuit table, 80 F" },
        { CHEMISTRY_FLOODED, 0.25, 12.06, 6, "BCI open-circuit table, 80 F" },
        { CHEMISTRY_FLOODED, 0.00, 11.89, 6, "BCI open-circuit table, 80 F" },
        { CHEMISTRY_AGM, 1.00, 12.85, 6, "typical AGM table, from memory" },
        { CHEMISTRY_AGM, 0.50, 12.25, 6, "typical AGM table, from memory" },
        { CHEMISTRY_AGM, 0.00, 11.65, 6, "typical AGM table, from memory" },
        { CHEMISTRY_GEL, 0.50, 12.35, 6, "typical gel table, from memory" },
        { CHEMISTRY_LFP, 0.98, 3.3481, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.90, 3.3411, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.70, 3.3163, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.50, 3.2991, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.30, 3.2778, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.20, 3.2413, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.10, 3.2029, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
        { CHEMISTRY_LFP, 0.05, 3.0721, 1, "C/32 pseudo open circuit of an LFP power cell, published data" },
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "%s at %g %%", chemistry_facts(rows[i].chemistry)->name,
                 100 * rows[i].charge);
        row_check(label, rows[i].cells * chemistry_open_circuit(rows[i].chemistry, rows[i].charge),
                  rows[i].volts, 1e-9, rows[i].source);
    }
    row_done();
}

/* Rows of other tables, which the chosen ones only have to come near. */
TEST(open_circuit_against_other_tables)
{
    static const struct {
        enum chemistry chemistry;
        double charge, volts, cells, within;
        const char *source;
    } rows[] = {
        { CHEMISTRY_FLOODED, 1.00, 12.6, 6, 0.11, "rounded rule of a mailing list" },
        { CHEMISTRY_FLOODED, 0.50, 12.2, 6, 0.11, "rounded rule of a mailing list" },
        { CHEMISTRY_FLOODED, 0.25, 12.0, 6, 0.11, "rounded rule of a mailing list" },
        { CHEMISTRY_AGM, 0.75, 12.60, 6, 0.10, "AGM user table" },
        { CHEMISTRY_AGM, 0.55, 12.40, 6, 0.10, "AGM user table" },
        { CHEMISTRY_AGM, 0.35, 12.20, 6, 0.15, "AGM user table" },
        { CHEMISTRY_AGM, 0.15, 12.00, 6, 0.20, "AGM user table" },
        { CHEMISTRY_GEL, 0.75, 12.65, 6, 0.05, "typical gel table of five points, from memory" },
        { CHEMISTRY_GEL, 0.25, 12.00, 6, 0.05, "typical gel table of five points, from memory" },
        { CHEMISTRY_LFP, 0.2972, 3.2772, 1, 0.002, "ten-point optimal table of the same LFP cell" },
        { CHEMISTRY_LFP, 0.0885, 3.1942, 1, 0.03, "ten-point optimal table of the same LFP cell" },
        { CHEMISTRY_LFP, 0.9833, 3.3511, 1, 0.01, "ten-point optimal table of the same LFP cell" },
        { CHEMISTRY_LFP, 0.90, 13.35, 4, 0.05, "LFP rested table, from memory" },
        { CHEMISTRY_LFP, 0.70, 13.2, 4, 0.08, "LFP rested table, from memory" },
        { CHEMISTRY_LFP, 0.40, 13.1, 4, 0.08, "LFP rested table, from memory" },
        { CHEMISTRY_LFP, 1.00, 13.6, 4, 0.05, "LFP rested table, from memory" },
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "%s at %g %%", chemistry_facts(rows[i].chemistry)->name,
                 100 * rows[i].charge);
        row_check(label, rows[i].cells * chemistry_open_circuit(rows[i].chemistry, rows[i].charge),
                  rows[i].volts, rows[i].within, rows[i].source);
    }
    row_done();
}

TEST(curves_are_monotone)
{
    for (enum chemistry c = CHEMISTRY_FLOODED; c <= CHEMISTRY_LFP; c++)
        for (int i = 0; i < 1000; i++) {
            double low = i / 1000.0, high = (i + 1) / 1000.0;

            assert_true(chemistry_open_circuit(c, low) < chemistry_open_circuit(c, high));
            assert_true(chemistry_acceptance(c, low) >= chemistry_acceptance(c, high));
            assert_true(chemistry_acceptance(c, high) > 0);
        }
}

TEST(facts_lie_in_the_published_ranges)
{
    static const struct {
        enum chemistry chemistry;
        double efficiency[2], absorption[2], floating[2], tail[2], milliohm[2], peukert[2];
    } rows[] = {
        { CHEMISTRY_FLOODED,
          { 0.70, 0.80 },
          { 14.4, 14.8 },
          { 13.2, 13.5 },
          { 0.01, 0.02 },
          { 4, 8 },
          { 1.20, 1.30 } },
        { CHEMISTRY_AGM,
          { 0.80, 0.88 },
          { 14.4, 14.7 },
          { 13.3, 13.8 },
          { 0.003, 0.01 },
          { 3, 5 },
          { 1.05, 1.15 } },
        { CHEMISTRY_GEL,
          { 0.80, 0.87 },
          { 14.1, 14.4 },
          { 13.5, 13.8 },
          { 0.005, 0.01 },
          { 4, 7 },
          { 1.10, 1.20 } },
        { CHEMISTRY_LFP,
          { 0.92, 0.97 },
          { 14.2, 14.6 },
          { 13.4, 13.6 },
          { 0.02, 0.05 },
          { 1.5, 4 },
          { 1.00, 1.05 } },
    };
    const char *source = "handbook and data-sheet ranges, from memory";

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct chemistry_facts *f = chemistry_facts(rows[i].chemistry);
        double cells = rows[i].chemistry == CHEMISTRY_LFP ? 4 : 6;
        const double *ranges[] = { rows[i].efficiency, rows[i].absorption, rows[i].floating,
                                   rows[i].tail,       rows[i].milliohm,   rows[i].peukert };
        const double values[] = { f->energy_efficiency,           f->absorption_cell_v * cells,
                                  f->float_cell_v * cells,        f->tail_c,
                                  f->resistance_100ah_12v * 1000, f->peukert };

        for (size_t r = 0; r < 6; r++)
            row_check(f->name, values[r], (ranges[r][0] + ranges[r][1]) / 2,
                      (ranges[r][1] - ranges[r][0]) / 2 + 1e-12, source);
        assert_true(f->charge_low_c < f->charge_high_c && f->charge_high_c <= f->max_charge_c);
        assert_true(f->recommended_charge_c <= f->max_charge_c);
        assert_true(strlen(f->source) > 0);
    }
    row_done();
}

TEST(lfp_charging_by_temperature)
{
    static const double rows[][2] = {
        { -5, 0 }, { 2, 0.05 }, { 7, 0.2 }, { 12, 0.3 }, { 50, 0.3 }, { 60, 0 },
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "lfp at %g C", rows[i][0]);
        row_check(label, chemistry_charge_limit(CHEMISTRY_LFP, rows[i][0]), rows[i][1], 0,
                  "LFP charge derating by cell temperature, from memory");
    }
    assert_true(isinf(chemistry_charge_limit(CHEMISTRY_LFP, 25)));
    assert_true(isinf(chemistry_charge_limit(CHEMISTRY_AGM, 0)));
    row_check("lead at -20 C", chemistry_charge_limit(CHEMISTRY_AGM, -20), 0, 0,
              "lead-acid charging limit -15 C, from memory");
    row_done();
}

TEST(cells_of_a_label)
{
    static const struct {
        enum chemistry chemistry;
        double volts, series, cells;
    } rows[] = {
        { CHEMISTRY_FLOODED, 2, 6, 6 }, { CHEMISTRY_FLOODED, 6, 2, 6 },   { CHEMISTRY_FLOODED, 8, 3, 12 },
        { CHEMISTRY_AGM, 12, 1, 6 },    { CHEMISTRY_AGM, 12, 2, 12 },     { CHEMISTRY_GEL, 24, 1, 12 },
        { CHEMISTRY_AGM, 12.8, 1, 6 },  { CHEMISTRY_FLOODED, 48, 1, 24 }, { CHEMISTRY_LFP, 3.2, 4, 4 },
        { CHEMISTRY_LFP, 12, 1, 4 },    { CHEMISTRY_LFP, 12.8, 2, 8 },    { CHEMISTRY_LFP, 24, 1, 8 },
        { CHEMISTRY_LFP, 25.6, 1, 8 },  { CHEMISTRY_LFP, 48, 1, 16 },     { CHEMISTRY_LFP, 51.2, 1, 16 },
    };
    char label[48];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct bank bank = { .chemistry = rows[i].chemistry,
                             .block_voltage = given(rows[i].volts),
                             .series = given(rows[i].series) };

        snprintf(label, sizeof label, "%s %g V x %g", chemistry_facts(rows[i].chemistry)->name, rows[i].volts,
                 rows[i].series);
        row_check(label, bank_cells(&bank), rows[i].cells, 0, "by hand");
    }
    row_done();
}

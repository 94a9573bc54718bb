/* test_conductor.c - sizes, resistance and heating of copper against published tables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>

#include "parts/conductor.h"

struct resistance_row {
    double mm2, ohm_per_km[CONDUCTOR_BUILDS];
};

struct awg_row {
    const char *label;
    int number;
    double mm, mm2, cmil, ohm_per_km;
};

struct sae_row {
    const char *label;
    double awg_cmil, sae_cmil;
};

static const struct resistance_row resistances[] = {
    /* mm2, [ohm/km] at 20 C: class 2 plain, tinned, class 5 plain, tinned */
    { 0.5, { 36.0, 36.7, 39.0, 40.1 } },      { 0.75, { 24.5, 24.8, 26.0, 26.7 } },
    { 1, { 18.1, 18.2, 19.5, 20.0 } },        { 1.5, { 12.1, 12.2, 13.3, 13.7 } },
    { 2.5, { 7.41, 7.56, 7.98, 8.21 } },      { 4, { 4.61, 4.70, 4.95, 5.09 } },
    { 6, { 3.08, 3.11, 3.30, 3.39 } },        { 10, { 1.83, 1.84, 1.91, 1.95 } },
    { 16, { 1.15, 1.16, 1.21, 1.24 } },       { 25, { 0.727, 0.734, 0.780, 0.795 } },
    { 35, { 0.524, 0.529, 0.554, 0.565 } },   { 50, { 0.387, 0.391, 0.386, 0.393 } },
    { 70, { 0.268, 0.270, 0.272, 0.277 } },   { 95, { 0.193, 0.195, 0.206, 0.210 } },
    { 120, { 0.153, 0.154, 0.161, 0.164 } },  { 150, { 0.124, 0.126, 0.129, 0.132 } },
    { 185, { 0.0991, 0.100, 0.106, 0.108 } }, { 240, { 0.0754, 0.0762, 0.0801, 0.0817 } },
};

static const double kt[][2] = {
    { 5, 1.064 },  { 10, 1.042 }, { 15, 1.020 }, { 20, 1.000 }, { 25, 0.980 }, { 30, 0.962 },  { 35, 0.943 },
    { 40, 0.926 }, { 45, 0.909 }, { 50, 0.893 }, { 55, 0.877 }, { 60, 0.862 }, { 65, 0.847 },  { 70, 0.833 },
    { 75, 0.820 }, { 80, 0.806 }, { 85, 0.794 }, { 90, 0.781 }, { 95, 0.769 }, { 100, 0.758 },
};

static const struct awg_row awgs[] = {
    /* label, number, [mm], [mm2], [cmil], [ohm/km] */
    { "18", 18, 1.0237, 0.8230, 1624, 20.948 },    { "16", 16, 1.2908, 1.3087, 2583, 13.174 },
    { "14", 14, 1.6277, 2.0809, 4107, 8.2853 },    { "12", 12, 2.0525, 3.3088, 6530, 5.2107 },
    { "10", 10, 2.5882, 5.2612, 10383, 3.2770 },   { "8", 8, 3.2636, 8.3656, 16510, 2.0609 },
    { "6", 6, 4.1154, 13.302, 26251, 1.2961 },     { "4", 4, 5.1894, 21.151, 41741, 0.8152 },
    { "3", 3, 5.8273, 26.671, 52635, 0.6464 },     { "2", 2, 6.5437, 33.631, 66371, 0.5127 },
    { "1", 1, 7.3481, 42.408, 83693, 0.4066 },     { "1/0", 0, 8.2515, 53.475, 105535, 0.3224 },
    { "2/0", -1, 9.2658, 67.431, 133077, 0.2557 }, { "3/0", -2, 10.405, 85.029, 167806, 0.2028 },
    { "4/0", -3, 11.684, 107.22, 211600, 0.1608 },
};

static const struct sae_row saes[] = {
    /* label, AWG and SAE [cmil] */
    { "18", 1600, 1537 },      { "16", 2600, 2336 },      { "14", 4100, 3702 },     { "12", 6500, 5833 },
    { "10", 10500, 9343 },     { "8", 16800, 14810 },     { "6", 26600, 24538 },    { "4", 42000, 37360 },
    { "2", 66500, 62450 },     { "1", 83690, 77790 },     { "1/0", 105600, 98980 }, { "2/0", 133100, 125100 },
    { "3/0", 167800, 158600 }, { "4/0", 211600, 205500 },
};

static const double ks[][3] = {
    { 70, 160, 115.0 },  { 90, 250, 143.1 }, { 90, 160, 99.9 },  { 60, 160, 122.2 },
    { 60, 200, 140.9 },  { 85, 220, 134.2 }, { 105, 160, 87.6 }, { 105, 200, 112.3 },
    { 105, 250, 134.8 }, { 30, 160, 142.9 }, { 50, 160, 129.2 },
};

static const char *text(char *buffer, size_t size, const char *what, double a)
{
    snprintf(buffer, size, "%s %g", what, a);
    return buffer;
}

TEST(iec60228_resistances)
{
    char label[60];

    for (size_t i = 0; i < sizeof resistances / sizeof *resistances; i++)
        for (int build = 0; build < CONDUCTOR_BUILDS; build++) {
            const struct resistance_row *r = &resistances[i];

            row_check(text(label, sizeof label, "mm2", r->mm2),
                      1000 * conductor_ohm_per_m(AREA_METRIC, (enum conductor_build)build, r->mm2 * 1e-6),
                      r->ohm_per_km[build], 1e-9 * r->ohm_per_km[build], "IEC 60228 tables 2 and 3");
        }
    row_done();
}

TEST(iec60228_wires_and_order)
{
    size_t count;
    const struct conductor_row *rows = conductor_rows(&count);

    assert_int_equal(count, 18);
    for (size_t i = 1; i < count; i++)
        assert_true(rows[i].mm2 > rows[i - 1].mm2 && rows[i].class2_wires >= rows[i - 1].class2_wires);
}

/* Kt turns a resistance at T into one at 20 C; the standard rounds and uses 0.004 /K, hence 0.6 %. */
TEST(temperature_factors)
{
    char label[60];

    for (size_t i = 0; i < sizeof kt / sizeof *kt; i++)
        row_check(text(label, sizeof label, "Kt at", kt[i][0]), 1 / copper_temperature_factor(kt[i][0]),
                  kt[i][1], 0.006, "IEC 60228 annex, correction factors Kt");
    row_check("L2 = L1 x 254.5/(234.5 + T) at 105 C", 1 / copper_temperature_factor(105), 254.5 / 339.5, 2e-4,
              "FAA AC 43.13-1B par. 11-66");
    row_check("the same at 60 C", 1 / copper_temperature_factor(60), 254.5 / 294.5, 2e-4,
              "FAA AC 43.13-1B par. 11-66");
    row_done();
}

TEST(awg_formula)
{
    for (size_t i = 0; i < sizeof awgs / sizeof *awgs; i++) {
        const struct awg_row *r = &awgs[i];
        const struct conductor_size *size = conductor_size_find(AREA_AWG, r->label);

        row_check(r->label, awg_diameter(r->number) * 1e3, r->mm, 6e-5 * r->mm, "ASTM B258");
        row_check(r->label, awg_area(r->number) * 1e6, r->mm2, 6e-5 * r->mm2, "ASTM B258");
        row_check(r->label, area_to_cmil(awg_area(r->number)), r->cmil, 0.6 + 2e-5 * r->cmil, "ASTM B258");
        row_check(r->label, 17.241 / (awg_area(r->number) * 1e6), r->ohm_per_km, 6e-4 * r->ohm_per_km,
                  "ASTM B258 and IEC 60028");
        assert_non_null(size);
        row_check(r->label, size->area_m2, awg_area(r->number), 1e-6 * size->area_m2,
                  "property: table = formula");
    }
    row_done();
}

/* A chart of solid AWG wire in micro-ohm per metre. */
TEST(awg_chart)
{
    static const double chart[] = { 161, 203, 256, 323, 407, 513, 647, 815 };

    for (int i = 0; i < 8; i++)
        row_check("4/0 .. 4", 17.241e-9 / awg_area(i - 3) * 1e6, chart[i], 1.0,
                  "AWG wire chart, 4/0 to 4, micro-ohm per metre");
    row_done();
}

TEST(sae_is_thinner)
{
    for (size_t i = 0; i < sizeof saes / sizeof *saes; i++) {
        const struct sae_row *r = &saes[i];
        const struct conductor_size *sae = conductor_size_find(AREA_SAE, r->label);
        const struct conductor_size *awg = conductor_size_find(AREA_AWG, r->label);

        assert_non_null(sae);
        assert_non_null(awg);
        row_check(r->label, area_to_cmil(sae->area_m2), r->sae_cmil, 0.5,
                  "SAE J1128 minimum areas (reprint)");
        row_check(r->label, area_to_cmil(awg->area_m2), r->awg_cmil, 0.018 * r->awg_cmil,
                  "UL 1426 minimum areas (reprint)");
        assert_true(sae_shortfall(r->label) > 0.02 && sae_shortfall(r->label) < 0.12);
    }
    row_done();
    assert_true(sae_shortfall("7") < 0);
}

TEST(labels)
{
    assert_string_equal(conductor_size_find(AREA_AWG, "00")->label, "2/0");
    assert_string_equal(conductor_size_find(AREA_SAE, "0")->label, "1/0");
    assert_null(conductor_size_find(AREA_AWG, "5"));
    assert_string_equal(conductor_nearest_awg(35e-6)->label, "2");
    assert_string_equal(conductor_nearest_awg(70e-6)->label, "2/0");
    assert_string_equal(conductor_nearest_awg(120e-6)->label, "4/0");
    assert_string_equal(conductor_nearest_awg(2.5e-6)->label, "14");
    assert_null(conductor_nearest_awg(150e-6));
    assert_null(conductor_nearest_awg(0));
    assert_true(conductor_area_known(0.75e-6) && !conductor_area_known(0.2e-6) &&
                !conductor_area_known(300e-6));
}

TEST(worked_resistances)
{
    row_check("70 mm2, 50 m", 50 * conductor_ohm_per_m(AREA_METRIC, CLASS2_PLAIN, 70e-6) * 1e3, 13.4, 0.05,
              "IEC 60228: 0.268 ohm/km; printed as 13 mohm in a trade table");
    row_check("AWG 1/0, 100 ft", 17.241e-9 / awg_area(0) * 30.48, 0.00983, 1e-5,
              "AWG table: 0.01 ohm printed");
    row_check("AWG 6 of 19 x 0.94 mm", area_from_strands(19, 0.94e-3) * 1e6, 13.186, 1e-3, "by hand");
    row_done();
}

/* mV per ampere and metre of two-core cable at 70 C: twice the 20 C resistance times 1 + 0.00393 x 50. */
TEST(millivolts_per_ampere_metre)
{
    static const double printed[][3] = { { 1.5, 29, 0.1 }, { 2.5, 18, 0.3 },  { 4, 11, 0.06 },
                                         { 6, 7.3, 0.08 }, { 10, 4.4, 0.05 }, { 16, 2.8, 0.06 } };

    for (size_t i = 0; i < 6; i++)
        row_check("mV/A/m",
                  2e3 * conductor_ohm_per_m(AREA_METRIC, CLASS2_PLAIN, printed[i][0] * 1e-6) *
                      copper_temperature_factor(70),
                  printed[i][1], printed[i][2], "BS 7671 appendix 4, two-core 70 C PVC");
    row_done();
}

TEST(adiabatic)
{
    for (size_t i = 0; i < sizeof ks / sizeof *ks; i++)
        row_check("k", adiabatic_k(ks[i][0], ks[i][1]), ks[i][2], 0.06, "IEC 60949 formula");
    row_check("PVC", adiabatic_k(70, 160), 115, 0.5, "IEC 60364-4-43");
    row_check("XLPE", adiabatic_k(90, 250), 143, 0.5, "IEC 60364-4-43");
    row_check("12 kA for 0.2 s", sqrt(12000.0 * 12000 * 0.2) / 143, 37.53, 0.01, "worked adiabatic example");
    row_check("12 kA on 37.53 mm2", conductor_withstand_s(conductor_i2t(37.53e-6, 90, 250), 12000), 0.2, 0.001,
              "worked adiabatic example");
    row_check("12 kA on 11.87 mm2", conductor_withstand_s(conductor_i2t(11.87e-6, 90, 250), 12000), 0.02, 1e-4,
              "worked adiabatic example");
    row_check("3 kA on 6.63 mm2", conductor_withstand_s(conductor_i2t(6.63e-6, 90, 250), 3000), 0.1, 4e-4,
              "worked adiabatic example");
    row_check("i2t is k2 S2", conductor_i2t(10e-6, 70, 160), 1.323e6, 3e3, "by hand: (115 x 10)^2");
    row_done();
}

/* The square-root form against printed ambient factors. */
TEST(ambient)
{
    static const double printed[][4] = {
        { 70, 35, 0.94, 0.005 }, { 70, 40, 0.87, 0.005 }, { 70, 45, 0.79, 0.005 }, { 70, 50, 0.71, 0.005 },
        { 70, 55, 0.61, 0.005 }, { 70, 60, 0.50, 0.005 }, { 90, 35, 0.96, 0.005 }, { 90, 40, 0.91, 0.005 },
        { 90, 45, 0.87, 0.005 }, { 90, 50, 0.82, 0.005 }, { 90, 55, 0.76, 0.005 }, { 90, 60, 0.71, 0.005 },
        { 90, 65, 0.65, 0.006 }, { 90, 70, 0.58, 0.005 }, { 90, 75, 0.50, 0.005 }, { 90, 80, 0.41, 0.005 },
    };

    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++)
        row_check("ambient factor", ambient_factor(printed[i][0], printed[i][1], 30), printed[i][2],
                  printed[i][3], "IEC 60364-5-52 table B.52.14");
    row_done();
    assert_true(ambient_factor(60, 60, 30) == 0);
    row_check("full current reaches the rating", conductor_temperature(30, 105, 100, 100), 105, 1e-9,
              "by hand");
    row_check("half current", conductor_temperature(30, 90, 50, 100), 45, 1e-9, "by hand: 30 + 60/4");
    row_done();
}

TEST(protective_conductor)
{
    static const double steps[][2] = { { 1.5, 1.5 }, { 2.5, 2.5 }, { 16, 16 },
                                       { 25, 16 },   { 35, 16 },   { 50, 25 } };

    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        row_check("protective conductor", protective_area(steps[i][0] * 1e-6) * 1e6, steps[i][1], 1e-9,
                  "BS 7671 table 54.7");
    row_done();
}

/* Of nominal sizes among themselves, and of real copper, more never has more resistance. */
TEST(monotone)
{
    size_t count;
    const struct conductor_row *rows = conductor_rows(&count);

    for (int build = 0; build < CONDUCTOR_BUILDS; build++) {
        double last = 1;

        for (size_t i = 0; i < count; i++) {
            double r = conductor_ohm_per_m(AREA_METRIC, (enum conductor_build)build, rows[i].mm2 * 1e-6);

            assert_true(r < last);
            last = r;
        }
        last = 1;
        for (double mm2 = 0.3; mm2 < 400; mm2 *= 1.01) {
            double r = conductor_ohm_per_m(AREA_STRANDS, (enum conductor_build)build, mm2 * 1e-6);

            assert_true(r < last);
            last = r;
        }
    }
}

/* Stranded wire as tables print it, plain and coated, at 75 C: the lay makes it some 2 % longer than its area says. */
TEST(stranded_gauges)
{
    static const struct {
        const char *label;
        double plain, coated; /* [ohm per 1000 ft] at 75 C */
    } printed[] = {
        { "18", 7.95, 8.45 },    { "16", 4.99, 5.29 },    { "14", 3.14, 3.26 },     { "12", 1.98, 2.05 },
        { "10", 1.24, 1.29 },    { "8", 0.778, 0.809 },   { "6", 0.491, 0.510 },    { "4", 0.308, 0.321 },
        { "3", 0.245, 0.254 },   { "2", 0.194, 0.201 },   { "1", 0.154, 0.160 },    { "1/0", 0.122, 0.127 },
        { "2/0", 0.0967, 0.101 }, { "3/0", 0.0766, 0.0797 }, { "4/0", 0.0608, 0.0626 },
    };

    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        double area = conductor_size_find(AREA_AWG, printed[i].label)->area_m2, warm = copper_temperature_factor(75);
        double plain = conductor_ohm_per_m(AREA_AWG, CLASS2_PLAIN, area) * 304.8 * warm;
        double coated = conductor_ohm_per_m(AREA_AWG, CLASS2_TINNED, area) * 304.8 * warm;

        row_check(printed[i].label, plain, printed[i].plain, 0.009 * printed[i].plain,
                  "NEC chapter 9 table 8, stranded, uncoated (from memory)");
        /* thin strands carry relatively more tin: 6 % at 18 and 16 AWG */
        row_check(printed[i].label, coated, printed[i].coated, (i < 2 ? 0.035 : 0.015) * printed[i].coated,
                  "NEC chapter 9 table 8, stranded, coated (from memory)");
    }
    row_done();
}

/* test_machine.c - alternators, generators, chargers, inverters against printed charts and plain sums.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/machine.h"

#include <math.h>
#include <stdio.h>

#include "support/test.h"

static struct range given(double value)
{
    return (struct range){ value, value, value, ORIGIN_GIVEN, 0, NULL };
}

TEST(alternator_curve_rows)
{
    static const double rows[][2] = {
        { 1200, 0.06 }, { 1600, 0.28 }, { 1800, 0.37 }, { 2000, 0.45 }, { 2400, 0.58 },
        { 3000, 0.72 }, { 4000, 0.86 }, { 5000, 0.93 }, { 6000, 0.96 },
    };
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "%g rpm", rows[i][0]);
        row_check(label, alternator_curve(rows[i][0]), rows[i][1], 0.006,
                  "claw-pole shape, ISO 8854 style, from memory");
    }
    row_check("below cut-in", alternator_curve(1000), 0, 0, "by hand");
    row_check("standing", alternator_curve(0), 0, 0, "by hand");
    row_done();
}

TEST(alternator_usual_points)
{
    const char *source = "usual modelling points of marine alternators, from memory";

    row_check("2000 rpm: 0.3 to 0.5 of rating", alternator_curve(2000), 0.4, 0.1, source);
    row_check("3000 rpm: 0.7 to 0.8", alternator_curve(3000), 0.75, 0.05, source);
    row_check("5000 rpm: 0.9 to 1.0", alternator_curve(5000), 0.95, 0.05, source);
    row_check("35 A machine at idle gives 12 A: 0.34 at about 1700 rpm", alternator_curve(1700), 0.34, 0.02,
              "published trade article, 35 A alternator at idle");
    row_done();
}

/* Another machine and another gear: only the shape is compared, with engine speed scaled to meet at half
 * output. */
TEST(alternator_curve_has_the_shape_of_a_printed_one)
{
    static const double rows[][2] = {
        { 600, 0.404 },  { 1000, 0.712 }, { 1500, 0.846 }, { 2000, 0.923 }, { 2500, 0.962 },
        { 3000, 0.981 }, { 3500, 0.981 }, { 4000, 1.0 },   { 5000, 1.0 },   { 5750, 1.0 },
    };
    const double gear = 3.1;
    char label[32];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(label, sizeof label, "outboard at %g rpm", rows[i][0]);
        row_check(label, alternator_curve(gear * rows[i][0]), rows[i][1], 0.10,
                  "service manual of an outboard, 60 A class; printed output varies 10 % with heat");
    }
    row_done();
}

static struct alternator alternator_100a(void)
{
    return (struct alternator){
        .rated_current = given(100),
        .pulley_ratio = given(2.0),
        .hot_factor = given(0.8),
        .efficiency = given(0.55),
    };
}

TEST(alternator_hot_output)
{
    struct alternator a = alternator_100a();
    const char *memory = "claw-pole shape with 0.80 hot, from memory";

    row_check("800 rpm x 2.0: 22 % hot", alternator_current(&a, 800), 22, 1, memory);
    a.pulley_ratio = given(2.5);
    row_check("800 rpm x 2.5: 36 % hot", alternator_current(&a, 800), 36, 1, memory);
    a.hot_factor = given(1);
    row_check("cold: 45 %", alternator_current(&a, 800), 45, 0.5, memory);
    a.hot_factor = given(0.8);
    a.current_limit = given(30);
    row_check("never over the belt", alternator_current(&a, 2000), 30, 0, "by hand");
    a.current_limit = (struct range){ 0 };
    row_check("at a stand", alternator_current(&a, 0), 0, 0, "by hand");
    row_done();
}

TEST(alternator_in_hot_air)
{
    struct alternator a = alternator_100a();
    double cool = alternator_current(&a, 1500);

    a.ambient = given(25);
    row_check("25 C is the rating", alternator_current(&a, 1500) / cool, 1, 1e-12, "by hand");
    a.ambient = given(5);
    row_check("no gift in the cold", alternator_current(&a, 1500) / cool, 1, 1e-12, "by hand");
    a.ambient = given(65);
    row_check("40 K over: -10 %", alternator_current(&a, 1500) / cool, 0.90, 1e-12, "by hand");
    a.ambient = given(1000);
    row_check("never negative", alternator_current(&a, 1500), 0, 0, "by hand");
    row_done();
}

TEST(alternator_shaft_and_fuel)
{
    struct alternator a = alternator_100a();

    row_check("100 A at 14.2 V, 0.55: 2.58 kW of shaft", alternator_shaft_w(&a, 1420), 2580, 5,
              "common engineering sum, from memory (3.5 hp)");
    row_check("0.58 l for each kWh", alternator_fuel_lph(&a, 1000), 0.58, 0.005,
              "small diesel 250-280 g/kWh, from memory");
    a.efficiency = given(1);
    row_check("a perfect machine: 54 A at 13.8 V per horsepower", 746 / alternator_shaft_w(&a, 13.8), 54, 0.1,
              "published discharge example, 746 W per hp");
    row_done();
}

/* Fuel charts printed in litres or US gallons an hour, and straight lines fitted to them. */
TEST(generator_charts)
{
    static const struct {
        double kw, idle, slope, share, lph;
    } rows[] = {
        { 8, 0.0440, 0.2825, 0.50, 1.48 },  { 8, 0.0440, 0.2825, 0.75, 2.05 },
        { 8, 0.0440, 0.2825, 1.00, 2.61 },  { 10, 0.0620, 0.2640, 0.50, 2.01 },
        { 10, 0.0620, 0.2640, 0.75, 2.46 }, { 10, 0.0620, 0.2640, 1.00, 3.33 },
        { 15, 0.0396, 0.2667, 0.50, 2.61 }, { 15, 0.0396, 0.2667, 0.75, 3.56 },
        { 15, 0.0396, 0.2667, 1.00, 4.61 }, { 20, 0.0475, 0.2580, 0.25, 2.3 },
        { 20, 0.0475, 0.2580, 0.50, 3.4 },  { 20, 0.0475, 0.2580, 0.75, 4.9 },
        { 20, 0.0475, 0.2580, 1.00, 6.1 },  { 30, 0.0933, 0.2747, 0.25, 4.9 },
        { 30, 0.0933, 0.2747, 0.50, 6.8 },  { 30, 0.0933, 0.2747, 0.75, 9.1 },
        { 30, 0.0933, 0.2747, 1.00, 11.0 }, { 40, 0.0725, 0.3040, 0.25, 6.1 },
        { 40, 0.0725, 0.3040, 0.50, 8.7 },  { 40, 0.0725, 0.3040, 0.75, 12.1 },
        { 40, 0.0725, 0.3040, 1.00, 15.1 },
    };
    char label[48];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct generator g = { .power = given(rows[i].kw * 1000),
                               .fuel_idle = given(rows[i].idle),
                               .fuel_slope = given(rows[i].slope) };

        snprintf(label, sizeof label, "%g kW at %g %%", rows[i].kw, 100 * rows[i].share);
        row_check(label, generator_fuel_lph(&g, rows[i].share * rows[i].kw * 1000), rows[i].lph,
                  0.06 * rows[i].lph,
                  "public approximate diesel generator fuel chart; straight line within 6 %");
    }
    row_done();
}

TEST(generator_small_marine)
{
    struct generator g = { .power = given(6000), .fuel_idle = given(0.06), .fuel_slope = given(0.29) };
    const char *source = "small marine sets, 4 to 8 kW, from memory";

    row_check("6 kW, full", generator_fuel_lph(&g, 6000), 2.10, 0.005, source);
    row_check("6 kW, a quarter", generator_fuel_lph(&g, 1500), 0.80, 0.006, source);
    g.fuel_idle = given(0.08145);
    g.fuel_slope = given(0.246);
    row_check("literature line, full, 1 kW", generator_fuel_lph(&g, 6000) / 6, 0.32745, 1e-9,
              "Skarstein & Uhlen 1989");
    row_check("no load", generator_fuel_lph(&g, 0), 0.4887, 1e-9, "by hand");
    row_done();
}

TEST(charger_currents)
{
    struct charger c = { .efficiency = given(0.88), .power_factor = given(0.7) };

    row_check("60 A at 14.4 V, 0.88, pf 0.7, on 230 V", charger_input_va(&c, 60 * 14.4) / 230, 6.1, 0.05,
              "common engineering sum, from memory");
    c.power_factor = given(0.98);
    row_check("pf 0.98", charger_input_va(&c, 60 * 14.4) / 230, 4.35, 0.01,
              "common engineering sum, from memory");
    row_check("watts", charger_input_w(&c, 60 * 14.4), 864 / 0.88, 1e-9, "by hand");
    row_done();
}

static struct inverter inverter_of(double power, double idle, double efficiency)
{
    return (
        struct inverter){ .power = given(power), .idle_power = given(idle), .efficiency = given(efficiency) };
}

TEST(inverter_efficiency_rows)
{
    static const double rows[][2] = {
        { 0.02, 0.751 }, { 0.05, 0.866 }, { 0.10, 0.910 }, { 0.20, 0.928 }, { 0.25, 0.929 },
        { 0.30, 0.929 }, { 0.50, 0.920 }, { 0.75, 0.905 }, { 1.00, 0.888 },
    };
    struct inverter i = inverter_of(2000, 12, 1 / 1.126);
    struct inverter_model m = inverter_model(&i);
    char label[32];

    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        double out = rows[r][0] * 2000;

        snprintf(label, sizeof label, "%g %% of rating", 100 * rows[r][0]);
        row_check(label, out / inverter_input_w(&m, out), rows[r][1], 6e-4,
                  "Schmidt & Sauer 1996, p0 0.006 m1 0.03 m2 0.09");
    }
    row_check("m1", m.slope, 0.03, 1e-9, "Schmidt & Sauer 1996");
    row_check("m2 of the rating", m.square_per_w * 2000, 0.09, 1e-9, "Schmidt & Sauer 1996");
    row_done();
}

TEST(inverter_is_as_its_label_says)
{
    struct inverter i = inverter_of(3000, 18, 0.90);
    struct inverter_model m = inverter_model(&i);
    double input = inverter_input_w(&m, 3000);
    const char *practice = "trade sum, why 300 A for a 3 kW inverter";

    row_check("full load", 3000 / input, 0.90, 1e-12, "by hand");
    row_check("3000 W, 0.90 at 12.8 V", input / 12.8, 260, 0.5, practice);
    row_check("the same at 11 V", input / 11, 303, 0.5, practice);
    i.efficiency = given(0.88);
    m = inverter_model(&i);
    row_check("3000 W, 0.88 at 10.5 V", inverter_input_w(&m, 3000) / 10.5, 325, 0.5,
              "common engineering sum, from memory");
    row_check("nothing on: idle", inverter_input_w(&m, 0), 18, 1e-12, "by hand");
    i.idle_power = given(10);
    m = inverter_model(&i);
    row_check("10 W idle over a day: 20 Ah of 12 V", inverter_input_w(&m, 0) * 24 / 12, 20, 1e-9,
              "published note on no-load draw");
    row_done();
}

TEST(inverter_output_undoes_input)
{
    struct inverter i = inverter_of(2500, 20, 0.89);
    struct inverter_model m = inverter_model(&i);

    for (double out = 0; out <= 5000; out += 125)
        row_check("there and back", inverter_output_w(&m, inverter_input_w(&m, out)), out, 1e-9 * (1 + out),
                  "property: inverse");
    row_check("less than idle", inverter_output_w(&m, 19), 0, 0, "by hand");
    row_check("nothing", inverter_output_w(&m, 0), 0, 0, "by hand");
    row_done();
}

/* A label that contradicts itself must not give gain: idle over all of the full-load loss, or no loss at all.
 */
TEST(inverter_never_gains)
{
    struct inverter odd = inverter_of(1000, 200, 0.95), ideal = inverter_of(1000, 0, 1);
    struct inverter_model m = inverter_model(&odd), one = inverter_model(&ideal);

    row_check("full load still holds", 1000 / inverter_input_w(&m, 1000), 0.95, 1e-12, "by hand");
    row_check("no square loss below 0", m.square_per_w, 0, 1e-12, "by hand");
    row_check("ideal", inverter_output_w(&one, 500), 500, 1e-9, "by hand");
    row_done();
}

/* test_array.c - panels in the sun: plane, cells, controllers.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/array.h"

#include <math.h>

#include "base/constants.h"
#include "support/test.h"

static struct range given(double value)
{
    return (struct range){ value, value, value, ORIGIN_GIVEN, 0, NULL };
}

/* 2 x 100 W, 36 cells, lossless controller, NOCT 45: each test changes what it needs. */
static struct solar two_panels(enum solar_controller controller)
{
    return (struct solar){
        .power = given(100.0),
        .count = given(2.0),
        .tilt = given(0.0),
        .azimuth = given(0.0),
        .shading = given(0.0),
        .controller = controller,
        .controller_efficiency = given(1.0),
        .voltage_at_power = given(18.0),
        .temperature_coefficient = given(-0.003),
        .nominal_cell_temperature = given(45.0),
    };
}

TEST(cell_temperature)
{
    row_check("800 W/m2, 20 C, NOCT 45", array_cell_temperature(800.0, 20.0, 45.0), 45.0, 1e-12,
              "IEC 61215: definition of the nominal temperature");
    row_check("1000 W/m2, 30 C, NOCT 47", array_cell_temperature(1000.0, 30.0, 47.0), 63.75, 1e-12, "by hand");
    row_check("night", array_cell_temperature(0.0, 12.0, 47.0), 12.0, 1e-12, "by hand");
    row_done();
}

/* The published row has the cells at 30 C: air that much colder gives them. */
TEST(power_of_the_cells)
{
    struct solar solar = two_panels(CONTROLLER_MPPT);
    double air = 30.0 - 900.0 * 25.0 / 800.0;

    solar.count = given(1.0);
    row_check("900 W/m2, cells 30 C, -0.3 %/K", array_power(&solar, 900.0, air, 13.0, 0.0).power, 88.65, 1e-9,
              "PVWatts v5 (NREL/TP-6A20-62641), value in the pvlib-python test suite");
    row_check("cells [C]", array_power(&solar, 900.0, air, 13.0, 0.0).cell_temperature, 30.0, 1e-9, "by hand");
    row_check("standard conditions", array_power(&solar, 1000.0, 25.0 - 31.25, 13.0, 0.0).power, 100.0, 1e-9,
              "IEC 60904-3: definition");
    row_done();
}

TEST(mppt_controller)
{
    struct solar solar = two_panels(CONTROLLER_MPPT);
    struct array_output output;
    double cold = 25.0 - 31.25;

    solar.controller_efficiency = given(0.96);
    output = array_power(&solar, 1000.0, cold, 13.0, 0.0);
    row_check("efficiency", output.power, 192.0, 1e-9, "by hand");
    row_check("no current of its own", output.current, 0.0, 0.0, "by hand");
    solar.controller_current = given(10.0);
    row_check("10 A at 13 V", array_power(&solar, 1000.0, cold, 13.0, 0.0).power, 130.0, 1e-9, "by hand");
    row_check("10 A at 14.4 V", array_power(&solar, 1000.0, cold, 14.4, 0.0).power, 144.0, 1e-9, "by hand");
    row_check("limit not reached", array_power(&solar, 500.0, 25.0 - 15.625, 13.0, 0.0).power, 96.0, 1e-9, "by hand");
    row_done();
}

TEST(pwm_controller)
{
    struct solar solar = two_panels(CONTROLLER_PWM);
    struct array_output output = array_power(&solar, 1000.0, 25.0 - 31.25, 13.4, 0.0);
    double current = 200.0 / 18.0;

    row_check("current", output.current, current, 1e-9, "by hand");
    row_check("power at 13.4 V", output.power, current * 13.4, 1e-9, "by hand");
    output = array_power(&solar, 500.0, 20.0, 12.0, 0.0);
    row_check("half the light", output.current, 0.5 * current, 1e-9, "by hand");
    solar.controller_current = given(8.0);
    row_check("8 A limit", array_power(&solar, 1000.0, 20.0, 13.4, 0.0).power, 8.0 * 13.4, 1e-9, "by hand");
    solar.controller_current = (struct range){ 0 };
    output = array_power(&solar, 1000.0, 80.0, 14.4, 0.0); /* cells at 111 C cannot hold 14.4 V */
    row_check("panels run out of volts", output.power, 200.0 * (1.0 - 0.003 * 86.25), 1e-9, "by hand");
    row_check("current at the bus", output.current, output.power / 14.4, 1e-9, "by hand");
    row_done();
}

/* 36 cells at 55 C, -0.35 %/K, against an mppt controller of 96 %: 0.87 of it at 13.4 V, and 0.78 at 25 C. */
TEST(pwm_against_mppt)
{
    static const char source[] = "by hand: 13.4 V / (Vmp 0.96)";
    static const double cells[][2] = { { 55.0, 13.4 / (18.0 * (1.0 - 0.0035 * 30.0) * 0.96) },
                                       { 25.0, 13.4 / (18.0 * 0.96) } };

    for (size_t i = 0; i < 2; i++) {
        struct solar pwm = two_panels(CONTROLLER_PWM), mppt = two_panels(CONTROLLER_MPPT);
        double air = cells[i][0] - 31.25;

        pwm.temperature_coefficient = mppt.temperature_coefficient = given(-0.0035);
        mppt.controller_efficiency = given(0.96);
        row_check("share", array_power(&pwm, 1000.0, air, 13.4, 0.0).power / array_power(&mppt, 1000.0, air, 13.4, 0.0).power,
                  cells[i][1], 1e-9, source);
    }
    row_done();
}

/* Panels too low for the bank go in series; one too high for it wastes the volts. */
TEST(pwm_strings)
{
    struct solar solar = two_panels(CONTROLLER_PWM);

    row_check("18 V panels on 24 V", array_power(&solar, 1000.0, -6.25, 26.0, 0.0).current, 200.0 / 36.0, 1e-9, "by hand");
    solar.voltage_at_power = given(36.0);
    row_check("36 V panels on 24 V", array_power(&solar, 1000.0, -6.25, 26.0, 0.0).current, 200.0 / 36.0, 1e-9, "by hand");
    solar.voltage_at_power = given(31.0);
    row_check("31 V panels on 12 V: share kept", array_power(&solar, 1000.0, -6.25, 13.0, 0.0).power / 200.0, 0.42, 0.001,
              "by hand: 13 V / 31 V");
    solar.voltage_at_power = (struct range){ 0 };
    row_check("unknown volts, 12 V", array_power(&solar, 1000.0, -6.25, 13.0, 0.0).current, 200.0 / 18.0, 1e-9, "by hand");
    row_check("unknown volts, 48 V", array_power(&solar, 1000.0, -6.25, 52.0, 0.0).current, 200.0 / 72.0, 1e-9, "by hand");
    row_done();
}

TEST(shading)
{
    struct solar solar = two_panels(CONTROLLER_MPPT);
    double open;

    open = array_power(&solar, 700.0, 25.0, 13.0, 0.0).power;
    solar.shading = given(0.1);
    row_check("own and day's", array_power(&solar, 700.0, 25.0, 13.0, 0.2).power, 0.72 * open, 1e-9, "by hand");
    row_check("all of it", array_power(&solar, 700.0, 25.0, 13.0, 1.0).power, 0.0, 0.0, "by hand");
    row_done();
}

/* A flat panel: beam with its loss, sky with its own; heading is nothing to it. */
TEST(flat_panels)
{
    struct solar solar = two_panels(CONTROLLER_MPPT);
    struct sky_beam sky = sky_split(700.0, 50.0, 100);
    double around = sky.diffuse * sky_anisotropy(sky.normal, sky_extraterrestrial_normal(100));
    double want = (sky.normal * sin(50.0 * DEGREE) + around) * sky_incidence_modifier(40.0) +
                  (sky.diffuse - around) * sky_incidence_modifier(59.7);
    double fixed = array_plane_irradiance(&solar, &sky, 50.0, 123.0, 100);

    row_check("flat, fixed [W/m2]", fixed, want, 1e-9, "by hand");
    solar.heading = given(77.0);
    row_check("flat, other heading", array_plane_irradiance(&solar, &sky, 50.0, 123.0, 100), fixed, 1e-9, "property");
    solar.any_heading = 1;
    row_check("flat, any heading", array_plane_irradiance(&solar, &sky, 50.0, 123.0, 100), fixed, 1e-9, "property");
    row_done();
}

/* Azimuth counts from the bow, the heading from north; both together face the sun or turn away from it. */
TEST(fixed_heading)
{
    struct solar solar = two_panels(CONTROLLER_MPPT);
    struct sky_beam beam = { 800.0 * 0.5, 0.0, 800.0 }, none = { 0.0, 0.0, 0.0 };
    double facing, sea = sky_ground(400.0, 60.0, 0.08) * sky_incidence_modifier(sky_ground_angle(60.0));

    solar.tilt = given(60.0);
    solar.azimuth = given(90.0);
    solar.heading = given(100.0);
    facing = array_plane_irradiance(&solar, &beam, 30.0, 190.0, 100);
    row_check("full beam on the plane", facing, 800.0 + sea, 1e-9, "by hand");
    row_check("sun behind the panel", array_plane_irradiance(&solar, &beam, 30.0, 10.0, 100), sea, 1e-9, "by hand");
    row_check("night", array_plane_irradiance(&solar, &none, -5.0, 190.0, 100), 0.0, 0.0, "by hand");
    solar.heading = (struct range){ 0 };
    row_check("no heading given: bow to north", array_plane_irradiance(&solar, &beam, 30.0, 90.0, 100), facing, 1e-9,
              "by hand");
    row_done();
}

/* The swinging boat gets the mean of what a fixed one gets on 3600 headings, with all losses. */
TEST(swinging_is_the_mean_of_fixed)
{
    double worst = 0.0;

    for (int tilt = 0; tilt <= 80; tilt += 20)
        for (int elevation = 3; elevation <= 90; elevation += 12) {
            struct solar fixed = two_panels(CONTROLLER_MPPT), swinging = fixed;
            struct sky_beam sky = sky_split(900.0 * sin(elevation * DEGREE), elevation, 200);
            double sum = 0.0;

            fixed.tilt = swinging.tilt = given(tilt);
            swinging.any_heading = 1;
            for (int i = 0; i < 3600; i++) {
                fixed.heading = given((i + 0.5) * 0.1);
                sum += array_plane_irradiance(&fixed, &sky, elevation, 250.0, 200);
            }
            worst = fmax(worst, fabs(sum / 3600.0 - array_plane_irradiance(&swinging, &sky, elevation, 250.0, 200)));
        }
    row_check("worst [W/m2]", worst, 0.0, 0.005, "property");
    row_done();
}

/* More light, more power; hotter air, less; never negative, even for absurd heat. */
TEST(power_is_monotone)
{
    for (int kind = 0; kind < 2; kind++) {
        struct solar solar = two_panels(kind ? CONTROLLER_PWM : CONTROLLER_MPPT);
        double last = 0.0;

        for (double light = 50.0; light <= 1100.0; light += 50.0) {
            double power = array_power(&solar, light, 25.0, 13.5, 0.1).power;

            assert_true(power > last);
            assert_true(power >= array_power(&solar, light, 35.0, 13.5, 0.1).power);
            last = power;
        }
        assert_true(array_power(&solar, 1000.0, 500.0, 13.5, 0.0).power >= 0.0);
    }
}

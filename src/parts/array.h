/* array.h - what a string of panels gives at the DC bus.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_ARRAY_H
#define BD_ARRAY_H

#include "boat/source.h"
#include "parts/sky.h"

/*
 * Irradiance in the plane of the panels [W/m2], incidence loss included: sky diffuse after Hay & Davies
 * (1980), light from the sea by an albedo of 0.08 (from memory), loss by angle of incidence after ASHRAE 93.
 * The equations are those of sky.h.
 *
 *   solar          tilt, azimuth, heading of the section; its size does not matter here
 *   sky            global, diffuse [W/m2] horizontal and beam [W/m2] normal of the moment
 *   sun_elevation  [deg] refraction included; at or below 0 only what is diffuse counts
 *   sun_azimuth    [deg] from true north, clockwise
 *   day_of_year    1..366, for the beam outside the air
 *
 * Fixed: panels face azimuth + heading. Swinging: the mean over all headings, closed form, with the
 * incidence loss taken at each heading and not at the mean angle (sky_collected_any_heading).
 *
 * Checked: tests/parts/test_array.c, "flat_panels", "fixed_heading", "swinging_is_the_mean_of_fixed".
 */
double array_plane_irradiance(const struct solar *solar, const struct sky_beam *sky, double sun_elevation,
                              double sun_azimuth, int day_of_year);

/*
 * Cell temperature [C] after the definition of the nominal cell temperature (NOCT) in IEC 61215 (from
 * memory):
 *
 *   Tc = air + (NOCT - 20)/800 G
 *
 *   irradiance                in the plane [W/m2], before shading
 *   air                       [C]
 *   nominal_cell_temperature  [C]
 *
 * Wind on the cells is left out. Checked: test_array.c, "cell_temperature".
 */
double array_cell_temperature(double irradiance, double air, double nominal_cell_temperature);

/* What the panels of one section give at one moment. */
struct array_output {
    double power; /* [W] into the bus at bus_voltage; controller and wiring loss, limit and shading applied */
    double current; /* [A] a pwm controller passes on whatever the bus voltage; 0 for mppt */
    double cell_temperature; /* [C] */
};

/*
 * Output of all the panels of one [solar] section.
 *
 *   P = power x count x G/1000 x (1 + temperature_coefficient (Tc - 25)) x controller_efficiency
 *
 * mppt: that power, held under the controller's current limit. pwm: the panels' current at maximum power,
 * whatever the bus volts, while the panels can hold those volts; panels lie in parallel, or in series where
 * one alone has not the volts to charge the bank. Shading scales the light.
 *
 *   irradiance   in the plane [W/m2] >= 0, as array_plane_irradiance gives it
 *   air          [C]
 *   bus_voltage  [V] of the bank being charged, > 0
 *   day_shading  [-] 0..1, of the day kind; the array's own is applied as well
 *
 * A hot cell never gives less than nothing: the factor of temperature ends at 0. Source: PVWatts v5,
 * NREL/TP-6A20-62641; standard conditions IEC 60904-3. Checked: test_array.c, "power_of_the_cells",
 * "mppt_controller", "pwm_controller".
 */
struct array_output array_power(const struct solar *solar, double irradiance, double air, double bus_voltage,
                                double day_shading);

#endif

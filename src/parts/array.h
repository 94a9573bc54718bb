/* array.h - what a string of panels gives at the DC bus.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_ARRAY_H
#define BD_ARRAY_H

#include "boat/source.h"
#include "parts/sky.h"

/*
 * Irradiance in the plane of the panels [W/m2], incidence loss included: Hay & Davies with light from the sea
 * (albedo 0.08). Elevation and azimuth of the sun in [deg].
 *
 * Fixed: panels face azimuth + heading. Swinging: the mean over all headings, closed form, with the incidence
 * loss taken at each heading and not at the mean angle (sky_collected_any_heading).
 */
double array_plane_irradiance(const struct solar *solar, const struct sky_beam *sky, double sun_elevation,
                              double sun_azimuth, int day_of_year);

/* Cell temperature [C] from plane irradiance [W/m2], air temperature [C], NOCT [C]. */
double array_cell_temperature(double irradiance, double air, double nominal_cell_temperature);

struct array_output {
    double power; /* [W] into the bus at bus_voltage; controller and wiring loss, limit and shading applied */
    double current; /* [A] a pwm controller passes on whatever the bus voltage; 0 for mppt */
    double cell_temperature; /* [C] */
};

/*
 * Output of all the panels of one [solar] section.
 *
 * mppt: the maximum power of the hot cells times the controller's efficiency, held under its current limit.
 * pwm: the panels' current at maximum power, whatever the bus volts, while the panels can hold those volts;
 * panels lie in parallel, or in series where one alone has not the volts to charge the bank. Shading scales
 * the light.
 *
 *   irradiance   in the plane [W/m2]
 *   air          [C]
 *   bus_voltage  [V] of the bank being charged
 *   day_shading  [-] of the day kind; the array's own is applied as well
 */
struct array_output array_power(const struct solar *solar, double irradiance, double air, double bus_voltage,
                                double day_shading);

#endif

/* array.c - panels: light in their plane, cell temperature, and what the controller makes of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/array.h"

#include <math.h>

#include "base/constants.h"

static const double SEA_ALBEDO = 0.08;             /* [-] open water, high sun: 0.06..0.10; from memory */
static const double NOCT_AIR = 20.0;               /* [C] air of the nominal cell temperature; IEC 61215 */
static const double NOCT_IRRADIANCE = 800.0;       /* [W/m2] IEC 61215 */
static const double CELLS_36_VOLTS = 18.0;         /* [V] at maximum power; common practice */
static const double BLOCK_VOLTS = 13.5;            /* [V] of a 12 V bank in use; common practice */
static const double BLOCK_ABSORPTION_VOLTS = 14.4; /* [V] needed to charge it full; common practice */

/*
 * Cosine of incidence times the loss by incidence, for the beam.
 *
 * Fixed: the modifier at the one angle. Swinging: the mean over all headings of the product, which is exact;
 * the modifier of the mean angle would not be, as the loss falls on the headings where the beam grazes.
 */
static double collected(const struct solar *solar, double sun_elevation, double sun_azimuth)
{
    double cosine;

    if (solar->any_heading)
        return sky_collected_any_heading(solar->tilt.value, sun_elevation);
    cosine = sky_incidence(solar->tilt.value, solar->azimuth.value + range_or(&solar->heading, 0.0),
                           sun_elevation, sun_azimuth);
    return cosine > 0.0 ? cosine * sky_incidence_modifier(acos(fmin(1.0, cosine)) / DEGREE) : 0.0;
}

/* Light from near the sun loses as the beam does; sky and sea light, which come from everywhere, lose as at
 * their mean angle (Brandemuehl & Beckman 1980). */
double array_plane_irradiance(const struct solar *solar, const struct sky_beam *sky, double sun_elevation,
                              double sun_azimuth, int day_of_year)
{
    double tilt = solar->tilt.value, outside = sky_extraterrestrial_normal(day_of_year);
    double toward = collected(solar, sun_elevation, sun_azimuth);
    double around = sky_circumsolar(sky->diffuse, sky->normal, outside, toward, sun_elevation);
    double dome = sky_isotropic(sky->diffuse * (1.0 - sky_anisotropy(sky->normal, outside)), tilt);
    double sea = sky_ground(sky->global, tilt, SEA_ALBEDO);

    return sky->normal * toward + around + dome * sky_incidence_modifier(sky_diffuse_angle(tilt)) +
           sea * sky_incidence_modifier(sky_ground_angle(tilt));
}

double array_cell_temperature(double irradiance, double air, double nominal_cell_temperature)
{
    return air + (nominal_cell_temperature - NOCT_AIR) / NOCT_IRRADIANCE * irradiance;
}

/*
 * Most the panels can give at that light [W], before the controller: PVWatts v5, NREL/TP-6A20-62641.
 * light is in the plane and shaded already [W/m2]; the factor of temperature is held at 0, so no
 * heat makes the power negative.
 */
static double maximum_power(const struct solar *solar, double light, double cell_temperature)
{
    double factor =
        1.0 + solar->temperature_coefficient.value * (cell_temperature - STANDARD_CELL_TEMPERATURE);

    return solar->power.value * solar->count.value * light / STANDARD_IRRADIANCE * fmax(0.0, factor);
}

/*
 * Volts at maximum power of the panels in series [V]. As many go in series as the bank needs
 * to be charged; where no figure is given, one panel of 36 cells for each 12 V of the bank.
 * blocks: how many times 12 V the bank is.
 */
static double string_volts(const struct solar *solar, double bus_voltage)
{
    double blocks = fmax(1.0, round(bus_voltage / BLOCK_VOLTS));

    if (!range_known(&solar->voltage_at_power))
        return CELLS_36_VOLTS * blocks;
    return solar->voltage_at_power.value *
           ceil(BLOCK_ABSORPTION_VOLTS * blocks / solar->voltage_at_power.value);
}

/*
 * A pwm controller ties the panels to the bank: their current at maximum power flows at the volts of the bus,
 * as long as the panels can hold that voltage. Its loss is a drop of volts, so it counts only where the
 * panels run out.
 */
static double pwm_current(const struct solar *solar, double light, double most_w, double bus_voltage)
{
    double current = solar->power.value * solar->count.value / string_volts(solar, bus_voltage) * light /
                     STANDARD_IRRADIANCE;

    current = fmin(current, most_w / bus_voltage);
    return fmin(current, range_or(&solar->controller_current, HUGE_VAL));
}

struct array_output array_power(const struct solar *solar, double irradiance, double air, double bus_voltage,
                                double day_shading)
{
    struct array_output output = { 0 };
    double light = irradiance * (1.0 - solar->shading.value) * (1.0 - day_shading);
    double most_w;

    output.cell_temperature = array_cell_temperature(irradiance, air, solar->nominal_cell_temperature.value);
    most_w = maximum_power(solar, light, output.cell_temperature) * solar->controller_efficiency.value;
    if (solar->controller == CONTROLLER_PWM) {
        output.current = pwm_current(solar, light, most_w, bus_voltage);
        output.power = output.current * bus_voltage;
    } else {
        output.power = fmin(most_w, range_or(&solar->controller_current, HUGE_VAL) * bus_voltage);
    }
    return output;
}

/* sky.c - irradiance models, each named after its publication; the spread of a day's total is in skyday.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/sky.h"

#include <math.h>

#include "base/constants.h"

/*
 * Each function is one published relation, so that a test can hold it against its paper; who uses them
 * together is skyday.c (a day's total over the day) and array.c (light on a panel):
 *
 *     outside the air       Spencer 1971; ASTM E490
 *     clear sky             Haurwitz 1945
 *     diffuse share         Erbs, Klein & Duffie 1982
 *     on a tilted plane     Hay & Davies 1980 with Liu & Jordan 1960
 *     loss by incidence     ASHRAE 93; mean angles Brandemuehl & Beckman 1980
 *
 * Angles in degrees but for the declination, which is in radians as in the paper; W/m2, and kWh/m2 for days.
 * "Light" in models.md; held by tests/parts/test_sky.c.
 */

static const double PI = 180.0 * DEGREE;
static const double MODIFIER_B0 = 0.05;     /* [-] ASHRAE 93, one flat cover */
static const double LEAST_SINE = 0.0174524; /* [-] sine of 1 deg: the lowest sun taken in ratios to it */

double sky_extraterrestrial_normal(int day_of_year)
{
    return SOLAR_CONSTANT * spencer_eccentricity(day_of_year);
}

double sky_day_sum(double latitude, double declination, double normal)
{
    double phi = latitude * DEGREE, ws = sunset_hour_angle(phi, declination);

    return 0.024 / PI * normal * (cos(phi) * cos(declination) * sin(ws) + ws * sin(phi) * sin(declination));
}

double sky_extraterrestrial_day(double latitude, int day_of_year)
{
    return sky_day_sum(latitude, spencer_declination(day_of_year), sky_extraterrestrial_normal(day_of_year));
}

double sky_haurwitz(double elevation)
{
    double sine = sin(elevation * DEGREE);

    return sine > 0.0 ? 1098.0 * sine * exp(-0.059 / sine) : 0.0;
}

double sky_diffuse_fraction(double clearness)
{
    double k = clearness;

    if (k <= 0.22)
        return 1.0 - 0.09 * k;
    if (k <= 0.80)
        return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
    return 0.165;
}

/* The beam is held to what stands outside the air; what that cuts off is diffuse, so
 * the sum stays the global light. */
struct sky_beam sky_split(double global, double elevation, int day_of_year)
{
    double sine = sin(elevation * DEGREE), outside = sky_extraterrestrial_normal(day_of_year);
    struct sky_beam sky = { global, global, 0.0 };

    if (global <= 0.0 || sine <= 0.0)
        return sky;
    sky.diffuse = global * sky_diffuse_fraction(global / (outside * sine));
    sky.normal = fmin((global - sky.diffuse) / sine, outside);
    sky.diffuse = global - sky.normal * sine;
    return sky;
}

double sky_incidence(double tilt, double azimuth, double sun_elevation, double sun_azimuth)
{
    return cos(tilt * DEGREE) * sin(sun_elevation * DEGREE) +
           sin(tilt * DEGREE) * cos(sun_elevation * DEGREE) * cos((sun_azimuth - azimuth) * DEGREE);
}

/* Mean over psi of max(0, a + b cos psi), b >= 0. */
static double mean_clipped(double a, double b)
{
    double psi;

    if (a >= b)
        return a;
    if (a <= -b)
        return 0.0;
    psi = acos(-a / b);
    return (a * psi + b * sin(psi)) / PI;
}

double sky_collected_any_heading(double tilt, double sun_elevation)
{
    double rise = 1.0 + MODIFIER_B0;

    return mean_clipped(rise * cos(tilt * DEGREE) * sin(sun_elevation * DEGREE) - MODIFIER_B0,
                        rise * fabs(sin(tilt * DEGREE) * cos(sun_elevation * DEGREE)));
}

double sky_isotropic(double diffuse, double tilt)
{
    return diffuse * 0.5 * (1.0 + cos(tilt * DEGREE));
}

double sky_ground(double global, double tilt, double albedo)
{
    return global * albedo * 0.5 * (1.0 - cos(tilt * DEGREE));
}

double sky_anisotropy(double normal, double extraterrestrial_normal)
{
    return fmin(1.0, fmax(0.0, normal / extraterrestrial_normal));
}

double sky_circumsolar(double diffuse, double normal, double extraterrestrial_normal, double cos_incidence,
                       double sun_elevation)
{
    double ratio = fmax(0.0, cos_incidence) / fmax(LEAST_SINE, sin(sun_elevation * DEGREE));

    return diffuse * sky_anisotropy(normal, extraterrestrial_normal) * ratio;
}

double sky_incidence_modifier(double incidence_deg)
{
    double cosine = cos(incidence_deg * DEGREE);

    return cosine > 0.0 ? fmax(0.0, 1.0 - MODIFIER_B0 * (1.0 / cosine - 1.0)) : 0.0;
}

/* Both polynomials as in Duffie & Beckman ch. 5, from memory. */
double sky_diffuse_angle(double tilt)
{
    return 59.7 + tilt * (-0.1388 + tilt * 0.001497);
}

double sky_ground_angle(double tilt)
{
    return 90.0 + tilt * (-0.5788 + tilt * 0.002693);
}

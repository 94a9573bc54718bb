/* sky.h - how much of the sun's power reaches a plane on deck.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SKY_H
#define BD_SKY_H

#include "parts/sun.h"

/*
 * Radiation of a day on the horizontal outside the air [kWh/m2 day]; latitude [deg], day_of_year 1..366.
 * Declination and distance after Spencer (1971). Checked: tests/parts/test_sky.c,
 * "daily_radiation_outside_the_air" (FAO 56).
 */
double sky_extraterrestrial_day(double latitude, int day_of_year);

/*
 * The same for a declination [rad] and an irradiance normal to the beam Gon [W/m2], of whatever origin:
 *
 *   H0 = (0.024/pi) Gon (cos phi cos delta sin ws + ws sin phi sin delta)
 *
 * Duffie & Beckman (2013). 0 in polar night, the whole day's in midnight sun.
 */
double sky_day_sum(double latitude, double declination, double normal);

/* Irradiance normal to the beam outside the air [W/m2]: 1366.1 W/m2 (ASTM E490) times Spencer's eccentricity
 * factor, 1321 to 1413 over the year. */
double sky_extraterrestrial_normal(int day_of_year);

/*
 * Global irradiance of a clear sky on the horizontal [W/m2] after Haurwitz (1945): 1098 sin e exp(-0.059/sin
 * e).
 *
 *   elevation  e [deg] apparent; 0 at and below the horizon
 *
 * Knows nothing of haze, height or season; over warm humid sea it may read some percent high. Checked:
 * test_sky.c, "haurwitz".
 */
double sky_haurwitz(double elevation);

/*
 * Diffuse share [-] of the hour from its clearness index k [-] (Erbs, Klein & Duffie 1982):
 *
 *   k <= 0.22         1 - 0.09 k
 *   0.22 < k <= 0.80  0.9511 - 0.1604 k + 4.388 k2 - 16.638 k3 + 12.336 k4
 *   k > 0.80          0.165
 *
 * k over 1, as clouds can make it for moments, counts as clear. Checked: test_sky.c, "diffuse_fractions".
 */
double sky_diffuse_fraction(double clearness);

/* The light of a moment, taken apart. global = diffuse + normal x sin(elevation). */
struct sky_beam {
    double global;  /* [W/m2] horizontal */
    double diffuse; /* [W/m2] horizontal */
    double normal;  /* [W/m2] beam, normal to the sun */
};

/*
 * Splits a horizontal irradiance into beam and diffuse (Erbs), with the beam held at what the
 * extraterrestrial normal allows; what is over becomes diffuse, so that the three always add up.
 *
 *   global       [W/m2] horizontal
 *   elevation    [deg] of the sun; at or below 0 all is diffuse
 *   day_of_year  1..366
 *
 * Checked: test_sky.c, "split_after_erbs".
 */
struct sky_beam sky_split(double global, double elevation, int day_of_year);

/*
 * Cosine of the angle between sun and panel normal [-]; all in [deg], azimuths from true north; negative
 * where the sun stands behind the panel. Duffie & Beckman (2013). Checked: test_sky.c, "angle_of_incidence".
 */
double sky_incidence(double tilt, double azimuth, double sun_elevation, double sun_azimuth);

/*
 * Mean over all headings of cos incidence times sky_incidence_modifier, for a plane of that tilt: closed
 * form.
 *
 * The ASHRAE modifier makes the product (1 + b0) cos - b0, clipped at 0. With a = (1 + b0) cos(tilt)
 * sin(elevation) - b0 and b = (1 + b0) sin(tilt) cos(elevation) the mean is a where a >= b, else (a psi + b
 * sin psi)/pi with psi = acos(-a/b). tilt, sun_elevation [deg]. Own derivation; checked against a sum over
 * headings: test_sky.c, "closed_form_is_the_mean_over_headings".
 */
double sky_collected_any_heading(double tilt, double sun_elevation);

/* Light on a plane of that tilt [deg] from a sky that is bright everywhere alike [W/m2]: diffuse (1
 * + cos tilt)/2, Liu & Jordan (1960). */
double sky_isotropic(double diffuse, double tilt);
/* Light thrown up by ground or sea [W/m2]: global x albedo (1 - cos tilt)/2, albedo [-]. */
double sky_ground(double global, double tilt, double albedo);

/*
 * Sky diffuse on a tilted plane that comes from around the sun, as the beam does [W/m2], after Hay & Davies
 * (1980):
 *
 *   diffuse A cos i/sin e,  A = normal/extraterrestrial_normal
 *
 *   cos_incidence  cos i [-]; below 0 counts as 0
 *   sun_elevation  e [deg]; its sine never under that of 1 deg, where the ratio would run away
 *
 * The rest, diffuse (1 - A), comes from everywhere: sky_isotropic. Checked: test_sky.c, "tilted_planes".
 */
double sky_circumsolar(double diffuse, double normal, double extraterrestrial_normal, double cos_incidence,
                       double sun_elevation);

/* Share of beam that crosses the air, the anisotropy index of Hay & Davies [-] 0..1. */
double sky_anisotropy(double normal, double extraterrestrial_normal);

/*
 * What a glass cover lets through against straight on [-]: 1 - b0 (1/cos i - 1) with b0 = 0.05, ASHRAE 93;
 * incidence i [deg]. 0 where that turns negative, from 87.3 deg. Checked: test_sky.c, "incidence_modifier".
 */
double sky_incidence_modifier(double incidence_deg);

/* Angle [deg] at which all sky or ground light together meets a plane of that tilt [deg] (Brandemuehl &
 * Beckman 1980), to be put into sky_incidence_modifier. Polynomials for 0 to 90 deg. */
double sky_diffuse_angle(double tilt);
double sky_ground_angle(double tilt);

/*
 * A day's total spread over the day.
 *
 * The course is the sun of one place and day in SKY_SLOTS slots of equal length from local midnight on, each
 * known at its middle; it does not depend on the weather, so one course serves every year that is simulated.
 * sky_day_fit turns it and a daily total into a struct sky_day, sky_day_at gives the light at any moment of
 * that day.
 *
 * Shape: a Collares-Pereira & Rabl day, that is (a + b cos w) times the sine of the sun's own elevation
 * (refraction included), held under the clear sky of Haurwitz; its height is set so that the mean over the
 * slots is the total. A total that no clear sky could give is kept all the same: the rest is laid on top in
 * the same shape. No sun, no light: a total given for a day without sun is lost.
 */
enum { SKY_SLOTS = 144 };

/* The two factors of Collares-Pereira & Rabl for one day. */
struct sky_shape {
    double a, b; /* [-] of the day */
};

struct sky_course {
    int day_of_year;
    struct sky_shape shape;
    struct sun_position sun[SKY_SLOTS];
    double share[SKY_SLOTS]; /* [-] the uncapped shape, any height */
    double clear[SKY_SLOTS]; /* [W/m2] */
};

struct sky_day {
    int day_of_year;
    struct sky_shape shape;
    double height; /* [W/m2] times the shape, where that is under the clear sky */
    double extra;  /* [W/m2] times the shape, on top; 0 unless the total is more than a clear sky gives */
};

/* day_of_year 1..366 of the local date; midnight_utc_s where that local day begins. Air of 1013 hPa, 15 C. */
void sky_course_make(struct sky_course *course, double midnight_utc_s, double latitude, double longitude,
                     int day_of_year);

/* total [kWh/m2] of the day on the horizontal. */
void sky_day_fit(struct sky_day *day, const struct sky_course *course, double total);

/* Light at a moment of that day; sun from sun_position for the same place. Split with sky_split. */
struct sky_beam sky_day_at(const struct sky_day *day, const struct sun_position *sun);

#endif

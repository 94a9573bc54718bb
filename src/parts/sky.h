/* sky.h - how much of the sun's power reaches a plane on deck.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SKY_H
#define BD_SKY_H

#include "parts/sun.h"

/* Daily extraterrestrial radiation on the horizontal [kWh/m2 day]; latitude [deg]. */
double sky_extraterrestrial_day(double latitude, int day_of_year);

/* The same for a declination [rad] and an irradiance normal to the beam [W/m2], of whatever origin. */
double sky_day_sum(double latitude, double declination, double normal);

/* Extraterrestrial irradiance normal to the beam [W/m2]. */
double sky_extraterrestrial_normal(int day_of_year);

/* Clear-sky global horizontal irradiance [W/m2] after Haurwitz (1945); elevation [deg] apparent. */
double sky_haurwitz(double elevation);

/* Share of the daily total that falls in an hour around hour angle w [1/h] (Collares-Pereira & Rabl 1979);
 * w and the sunset angle ws in [rad]; 0 outside the day. Its sum over a day is near 1, not 1: normalise. */
double sky_hour_share(double w, double ws);

/* Diffuse fraction of the hour from its clearness index (Erbs, Klein & Duffie 1982). */
double sky_diffuse_fraction(double clearness);

/* Daily diffuse fraction (Erbs), ws in [rad]. */
double sky_diffuse_fraction_day(double clearness, double ws);

struct sky_beam {
    double global;  /* [W/m2] horizontal */
    double diffuse; /* [W/m2] horizontal */
    double normal;  /* [W/m2] beam, normal to the sun */
};

/*
 * Splits a horizontal irradiance at a sun elevation [deg] on a day of the year into beam and diffuse (Erbs),
 * with the beam held at what the extraterrestrial normal allows.
 */
struct sky_beam sky_split(double global, double elevation, int day_of_year);

/* cosine of the angle between sun and panel normal; all in [deg]; may be negative */
double sky_incidence(double tilt, double azimuth, double sun_elevation, double sun_azimuth);

/*
 * Mean over all headings of max(0, cos incidence) for a plane of that tilt: closed form.
 * With a = cos(tilt) sin(elevation), b = sin(tilt) cos(elevation): a where a >= b, else
 * (a psi + b sin psi)/pi with psi = acos(-a/b).
 */
double sky_incidence_any_heading(double tilt, double sun_elevation);

/*
 * The same mean with the loss of sky_incidence_modifier inside: mean of cos incidence times modifier, closed
 * form. The ASHRAE modifier makes that product (1 + b0) cos - b0, clipped at 0, so only a and b change.
 */
double sky_collected_any_heading(double tilt, double sun_elevation);

/* Sky diffuse on a tilted plane: isotropic (Liu & Jordan), ground or sea reflected, Hay & Davies (1980).
 * cos_incidence is already clipped at 0 by the caller or here; elevation in [deg]. */
double sky_isotropic(double diffuse, double tilt);
double sky_ground(double global, double tilt, double albedo);
double sky_hay_davies(double diffuse, double normal, double extraterrestrial_normal, double tilt,
                      double cos_incidence, double sun_elevation);

/* The part of sky_hay_davies that comes from around the sun [W/m2]. */
double sky_circumsolar(double diffuse, double normal, double extraterrestrial_normal, double cos_incidence,
                       double sun_elevation);

/* Share of beam that crosses the air, the anisotropy index of Hay & Davies [-] 0..1. */
double sky_anisotropy(double normal, double extraterrestrial_normal);

/* Loss by the angle of incidence [-], ASHRAE with b0 = 0.05; 0 where that turns negative (from 87.3 deg). */
double sky_incidence_modifier(double incidence_deg);

/* Angle [deg] at which all sky or ground light together meets a tilted plane (Brandemuehl & Beckman 1980). */
double sky_diffuse_angle(double tilt);
double sky_ground_angle(double tilt);

/* Optical air mass [-] after Kasten & Young (1989); elevation apparent [deg]. */
double sky_air_mass(double elevation);

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

/* Both steps at once, for one day. */
void sky_day_prepare(struct sky_day *day, double midnight_utc_s, double latitude, double longitude,
                     int day_of_year, double total);

/* Light at a moment of that day; sun from sun_position for the same place. Split with sky_split. */
struct sky_beam sky_day_at(const struct sky_day *day, const struct sun_position *sun);

#endif

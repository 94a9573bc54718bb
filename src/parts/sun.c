/* sun.c - place of the sun from the low-accuracy series of Meeus, Astronomical Algorithms.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/sun.h"

#include <math.h>

#include "base/constants.h"

/*
 * The place of the sun at a moment (Meeus 1998, ch. 12, 22, 25 and 28), in this order:
 *
 *     universal time -> dynamical time        sun_delta_t, Espenak & Meeus 2006
 *     mean longitude and anomaly              polynomials in centuries from J2000
 *     + equation of centre, pulls, nutation   true apparent longitude
 *     obliquity                               declination, right ascension
 *     sidereal time - right ascension         hour angle at Greenwich; + longitude: here
 *
 * Good to 0.01 degree from 1900 to 2100. Rise, set and noon are searched on it rather than had from a
 * formula, so that they agree with the positions to the second. Held by tests/parts/test_sun.c.
 */

static const double DAY_S = 86400.0;
static const double J2000_DAY = 10957.5; /* [d] from 1970-01-01 0h to 2000-01-01 12h */
static const double HORIZON =
    -(34.0 + 16.0) / 60.0;                       /* [deg] refraction and semi-diameter; almanac convention */
static const double SEMI_DIAMETER = 0.26667;     /* [deg] NREL/TP-560-34302 */
static const double HORIZON_REFRACTION = 0.5667; /* [deg] NREL/TP-560-34302 */
static const double PARALLAX = 8.794 / 3600.0;   /* [deg] at 1 au; Meeus ch. 40 */

/* Apparent geocentric place. */
struct place {
    double sin_declination, cos_declination;
    double hour_angle; /* [deg] at Greenwich, not reduced */
    double distance;   /* [au] */
    double equation;   /* [deg] of time */
};

/* -180..180 */
static double turn_half(double deg)
{
    return remainder(deg, 360.0);
}

/* Rounding may leave a cosine a hair past 1, where acos has no answer. */
static double clamp_unit(double x)
{
    return fmin(1.0, fmax(-1.0, x));
}

double sun_delta_t(double year)
{
    double t = year - 2000.0, u = (year - 1820.0) / 100.0;

    if (year < 1961.0)
        return -20.0 + 32.0 * u * u;
    if (year < 1986.0) {
        t = year - 1975.0;
        return 45.45 + t * (1.067 - t * (1.0 / 260.0 + t / 718.0));
    }
    if (year < 2005.0)
        return 63.86 +
               t * (0.3345 + t * (-0.060374 + t * (0.0017275 + t * (0.000651814 + t * 0.00002373599))));
    if (year < 2050.0)
        return 62.92 + t * (0.32217 + t * 0.005589);
    if (year < 2150.0)
        return -20.0 + 32.0 * u * u - 0.5628 * (2150.0 - year);
    return -20.0 + 32.0 * u * u;
}

/*
 * Pull of Venus, Jupiter and the Moon on the sun's longitude [deg] and one term of 1783 years, 7 arc seconds
 * each; Meeus, Astronomical Formulae for Calculators, ch. 18. t counts from J2000, the book's time from 1900.
 */
static double pull(double t)
{
    double c = t + 1.0;

    return 0.00134 * cos((153.23 + 22518.7541 * c) * DEGREE) +
           0.00154 * cos((216.57 + 45037.5082 * c) * DEGREE) +
           0.00200 * cos((312.69 + 32964.3577 * c) * DEGREE) +
           0.00179 * sin((350.74 + 445267.1142 * c) * DEGREE) + 0.00178 * sin((231.19 + 20.20 * c) * DEGREE);
}

/* The chain above for one moment; angles in degrees until they meet a sine. */
static struct place place_at(double utc_s)
{
    double ut = utc_s / DAY_S - J2000_DAY;
    double t = (ut + sun_delta_t(2000.0 + ut / 365.25) / DAY_S) / 36525.0;
    double mean_longitude = 280.46646 + t * (36000.76983 + t * 0.0003032);
    double anomaly = (357.52911 + t * (35999.05029 - t * 0.0001537)) * DEGREE;
    double eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
    double centre = (1.914602 - t * (0.004817 + t * 0.000014)) * sin(anomaly) +
                    (0.019993 - t * 0.000101) * sin(2.0 * anomaly) + 0.000289 * sin(3.0 * anomaly);
    double node = (125.04 - 1934.136 * t) * DEGREE;
    double nutation = -0.00478 * sin(node); /* [deg] in longitude, largest term */
    double longitude = (mean_longitude + centre + pull(t) - 0.00569 + nutation) * DEGREE;
    double obliquity = (23.4392911 - 0.0130042 * t + 0.00256 * cos(node)) * DEGREE;
    double right_ascension = atan2(cos(obliquity) * sin(longitude), cos(longitude)) / DEGREE;
    double sidereal = 280.46061837 + 360.98564736629 * ut + 0.000387933 * t * t + nutation * cos(obliquity);
    struct place place;

    place.sin_declination = sin(obliquity) * sin(longitude);
    place.cos_declination = sqrt(1.0 - place.sin_declination * place.sin_declination);
    place.hour_angle = sidereal - right_ascension;
    place.distance = 1.000001018 * (1.0 - eccentricity * eccentricity) /
                     (1.0 + eccentricity * cos(anomaly + centre * DEGREE));
    place.equation = turn_half(mean_longitude - 0.0057183 - right_ascension + nutation * cos(obliquity));
    return place;
}

/* sine of the geocentric elevation */
static double place_sine(const struct place *place, double latitude, double hour_angle)
{
    return sin(latitude * DEGREE) * place->sin_declination +
           cos(latitude * DEGREE) * place->cos_declination * cos(hour_angle * DEGREE);
}

/* Bending of the light [deg], form of NREL/TP-560-34302; none once the whole disc is under the horizon. */
static double refraction(double elevation, double pressure, double temperature)
{
    if (elevation < -(SEMI_DIAMETER + HORIZON_REFRACTION))
        return 0.0;
    return pressure / 1010.0 * (283.0 / (273.0 + temperature)) * 1.02 /
           (60.0 * tan((elevation + 10.3 / (elevation + 5.11)) * DEGREE));
}

struct sun_position sun_position(double utc_s, double latitude, double longitude, double pressure,
                                 double temperature)
{
    struct place place = place_at(utc_s);
    double hour_angle = turn_half(place.hour_angle + longitude), h = hour_angle * DEGREE;
    double sine = clamp_unit(place_sine(&place, latitude, hour_angle));
    double azimuth =
        atan2(sin(h) * place.cos_declination, cos(h) * place.cos_declination * sin(latitude * DEGREE) -
                                                  place.sin_declination * cos(latitude * DEGREE));
    struct sun_position sun;

    sun.elevation_geometric = asin(sine) / DEGREE - PARALLAX / place.distance * sqrt(1.0 - sine * sine);
    sun.elevation = sun.elevation_geometric + refraction(sun.elevation_geometric, pressure, temperature);
    sun.azimuth = azimuth / DEGREE + 180.0;
    sun.declination = asin(place.sin_declination) / DEGREE;
    sun.distance = place.distance;
    sun.equation_of_time = 4.0 * place.equation;
    sun.hour_angle = hour_angle;
    return sun;
}

/* The moment near a guess when the sun passes that hour angle [deg]. */
static double when_hour_angle(double guess_s, double longitude, double wanted)
{
    for (int i = 0; i < 3; i++) {
        struct place place = place_at(guess_s);

        guess_s -= turn_half(place.hour_angle + longitude - wanted) / 360.0 * DAY_S;
    }
    return guess_s;
}

/* The upper limb as seen, refraction of the horizon included; sea level, eye at the water. */
static int above_horizon(double utc_s, double latitude, double longitude)
{
    struct place place = place_at(utc_s);

    return place_sine(&place, latitude, place.hour_angle + longitude) > sin(HORIZON * DEGREE);
}

/* Between a moment when the sun is down and one when it is up, either order; to 0.1 s. */
static double when_horizon(double down_s, double up_s, double latitude, double longitude)
{
    while (fabs(up_s - down_s) > 0.1) {
        double middle = 0.5 * (down_s + up_s);

        if (above_horizon(middle, latitude, longitude))
            up_s = middle;
        else
            down_s = middle;
    }
    return 0.5 * (down_s + up_s);
}

struct sun_times sun_times(double midnight_utc_s, double latitude, double longitude)
{
    double noon = when_hour_angle(midnight_utc_s + 0.5 * DAY_S, longitude, 0.0);
    double before = when_hour_angle(noon - 0.5 * DAY_S, longitude, 180.0);
    double after = when_hour_angle(noon + 0.5 * DAY_S, longitude, 180.0);
    int up_before = above_horizon(before, latitude, longitude);
    int up_after = above_horizon(after, latitude, longitude);
    struct sun_times times = { before, noon, after, 0 };

    if (!above_horizon(noon, latitude, longitude)) {
        times.polar = -1;
        return times;
    }
    if (!up_before)
        times.rise = when_horizon(before, noon, latitude, longitude);
    if (!up_after)
        times.set = when_horizon(after, noon, latitude, longitude);
    times.polar = up_before && up_after;
    return times;
}

/* [rad], 0 on 1 January; what daily formulas count by. */
static double day_angle(int day_of_year)
{
    return 360.0 * DEGREE * (day_of_year - 1) / 365.0;
}

double spencer_declination(int day_of_year)
{
    double b = day_angle(day_of_year);

    return 0.006918 - 0.399912 * cos(b) + 0.070257 * sin(b) - 0.006758 * cos(2.0 * b) +
           0.000907 * sin(2.0 * b) - 0.002697 * cos(3.0 * b) + 0.00148 * sin(3.0 * b);
}

double spencer_eccentricity(int day_of_year)
{
    double b = day_angle(day_of_year);

    return 1.00011 + 0.034221 * cos(b) + 0.00128 * sin(b) + 0.000719 * cos(2.0 * b) + 0.000077 * sin(2.0 * b);
}

double sunset_hour_angle(double latitude, double declination)
{
    return acos(clamp_unit(-tan(latitude) * tan(declination)));
}

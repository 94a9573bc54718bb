/* sun.h - where the sun stands, when it rises and sets.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SUN_H
#define BD_SUN_H

/* Time scale of all functions: seconds since 1970-01-01T00:00:00 UTC (no leap seconds), a double. */

struct sun_position {
    double elevation;           /* [deg] of the centre of the disc, refraction included */
    double elevation_geometric; /* [deg] without air */
    double azimuth;             /* [deg] from true north, clockwise, 0..360 */
    double declination;         /* [deg] */
    double distance;            /* [au] */
    double equation_of_time;    /* [min] apparent minus mean time */
    double hour_angle;          /* [deg] -180..180, 0 at noon, afternoon positive */
};

/*
 * Apparent place of the sun, within 0.01 deg between about 1900 and 2100: low-accuracy series of Meeus,
 * Astronomical Algorithms (ch. 25), with the pull of the planets and the Moon, nutation, parallax and
 * delta-T.
 *
 *   utc_s      [s] since 1970
 *   latitude   [deg] north positive;  longitude [deg] east positive
 *   pressure   [hPa];  temperature [C], both for refraction only
 *
 * Height of eye and the real refraction of the day are left out. Checked: tests/parts/test_sun.c against
 * NREL/TP-560-34302 table A5.1 and an astronomy library.
 */
struct sun_position sun_position(double utc_s, double latitude, double longitude, double pressure,
                                 double temperature);

/* When one day begins and ends. */
struct sun_times {
    double rise, noon, set; /* [s] since 1970 UTC; rise and set mean nothing where polar != 0 */
    int polar;              /* 0; 1: up all day; -1: down all day */
};

/*
 * Rise, transit and set of the local civil day that begins at midnight_utc_s (upper limb, 34' of refraction:
 * zenith 90.8333 deg). Found by bisection on the sun's own place, good to some seconds.
 * noon is the transit nearest to the middle of that day; rise and set are the ones before and after it, even
 * where one of them falls outside the civil day. On the first and last day of a midnight sun, where only one
 * of the two happens, the other is the moment the sun stands lowest.
 */
struct sun_times sun_times(double midnight_utc_s, double latitude, double longitude);

/* TT minus UT [s] in a decimal year, after the polynomials of Espenak & Meeus (2006); rough before 1961 and
 * a forecast after 2005. Checked: test_sun.c, "delta_t". */
double sun_delta_t(double year);

/*
 * Series of Spencer (1971) in B = 2 pi (n - 1)/365, for daily sums: declination [rad], eccentricity factor
 * [-] (the square of mean over present distance). n is the day of the year, 1..366.
 * Checked: test_sun.c, "formulas_of_the_day", "day_formulas_follow_the_sun".
 */
double spencer_declination(int day_of_year);
double spencer_eccentricity(int day_of_year);

/* Hour angle of sunset [rad] without refraction, acos(-tan phi tan delta): 0 for polar night, pi for
 * midnight sun; latitude phi and declination delta in [rad]. */
double sunset_hour_angle(double latitude, double declination);

#endif

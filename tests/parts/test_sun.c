/* test_sun.c - place of the sun, rise and set, the day formulas.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/sun.h"

#include <libnova/libnova.h>
#include <math.h>
#include <stdio.h>

#include "base/calendar.h"
#include "base/constants.h"
#include "support/test.h"

struct moment {
    struct date date;
    int hour, minute, second;
};

static double utc(struct moment m)
{
    return (double)date_number(m.date) * 86400.0 + m.hour * 3600.0 + m.minute * 60.0 + m.second;
}

static double turn_half(double deg)
{
    return remainder(deg, 360.0);
}

/* Golden, 2003-10-17 12:30:30 UTC-7: the worked example every implementation of that report is checked on. */
TEST(worked_example_of_the_nrel_report)
{
    static const char source[] = "NREL/TP-560-34302 table A5.1";
    double t = utc((struct moment){ { 2003, 10, 17 }, 19, 30, 30 });
    struct sun_position s = sun_position(t, 39.742476, -105.1786, 820.0, 11.0);

    row_check("distance [au]", s.distance, 0.9965422974, 3e-5, source);
    row_check("declination [deg], geocentric", s.declination, -9.31434, 0.003, source);
    row_check("hour angle [deg], geocentric", s.hour_angle, 11.10590, 0.003, source);
    row_check("elevation without refraction [deg]", s.elevation_geometric, 39.872046, 0.003, source);
    row_check("refraction [deg]", s.elevation - s.elevation_geometric, 0.016332, 1e-5, source);
    row_check("zenith angle [deg]", 90.0 - s.elevation, 50.11162, 0.003, source);
    row_check("azimuth [deg]", s.azimuth, 194.34024, 0.005, source);
    row_check("equation of time [min]", s.equation_of_time, 14.641503, 0.01, source);

    row_done();
}

/* The observer stands an earth radius from the centre: at the horizon the sun is 8.794 arc seconds lower for it. */
TEST(parallax)
{
    double t = utc((struct moment){ { 2003, 10, 17 }, 19, 30, 30 }), phi = 39.742476 * DEGREE;
    struct sun_position s = sun_position(t, 39.742476, -105.1786, 820.0, 11.0);
    double delta = s.declination * DEGREE, w = s.hour_angle * DEGREE;
    double geocentric = asin(sin(phi) * sin(delta) + cos(phi) * cos(delta) * cos(w)) / DEGREE;

    row_check("geocentric minus topocentric [deg]", geocentric - s.elevation_geometric,
              8.794 / 3600.0 / s.distance * cos(geocentric * DEGREE), 1e-6, "by hand");
    row_done();
}

TEST(more_values_of_the_spa_algorithm)
{
    static const char source[] = "SPA values in the pvlib-python test suite";
    double t = utc((struct moment){ { 2003, 10, 18 }, 19, 30, 30 });
    struct sun_position s = sun_position(t, 39.742476, -105.1786, 820.0, 11.0);

    row_check("18 Oct 2003: elevation without refraction", s.elevation_geometric, 39.505196, 0.005, source);
    row_check("18 Oct 2003: apparent zenith", 90.0 - s.elevation, 50.478260, 0.005, source);
    row_check("18 Oct 2003: azimuth", s.azimuth, 194.311132, 0.005, source);
    s = sun_position(t - 86400.0, 39.742476, -105.1786, 900.0, 11.0);
    row_check("17 Oct 2003 at 900 hPa: apparent zenith", 90.0 - s.elevation, 50.11003, 0.003, source);
    s = sun_position(utc((struct moment){ { 2015, 1, 2 }, 7, 0, 0 }), 39.7, -105.2, 1010.0, 10.0);
    row_check("2015-01-02 distance [au]", s.distance, 0.983289204601, 5e-5, source);
    s = sun_position(utc((struct moment){ { 2015, 8, 2 }, 7, 0, 0 }), 39.7, -105.2, 1010.0, 10.0);
    row_check("2015-08-02 distance [au]", s.distance, 1.01486146446, 5e-5, source);
    row_done();
}

TEST(equation_of_time_at_golden)
{
    static const char source[] = "NREL SPA site calculator, Golden 2015-01-02, as quoted by pvlib-python";
    static const struct {
        int hour, minute, second; /* UTC-7 */
        double minutes;
    } rows[] = { { 7, 21, 55, -3.935 }, { 12, 4, 45, -4.026 }, { 16, 47, 43, -4.117 } };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double t = utc((struct moment){ { 2015, 1, 2 }, rows[i].hour + 7, rows[i].minute, rows[i].second });

        row_check("equation of time [min]",
                  sun_position(t, 39.742476, -105.1786, 820.0, 11.0).equation_of_time, rows[i].minutes, 0.015,
                  source);
    }
    row_done();
}

TEST(delta_t)
{
    static const char source[] = "Espenak & Meeus 2006 polynomials, values in the pvlib-python test suite";

    row_check("February 1985", sun_delta_t(1985.0 + 1.5 / 12.0), 54.413442486, 1e-6, source);
    row_check("November 2000", sun_delta_t(2000.0 + 10.5 / 12.0), 64.108, 0.01, source);
    row_check("December 2005", sun_delta_t(2005.0 + 11.5 / 12.0), 65.038, 0.5, source);
    row_check("December 2050", sun_delta_t(2050.0 + 11.5 / 12.0), 94.953, 0.01, source);
    row_done();
}

/* Elevation without air and apparent at 1010 hPa and 15 C, azimuth, declination (topocentric here), distance. */
static const struct {
    struct moment when;
    double latitude, longitude, geometric, apparent, azimuth, declination, distance;
} positions[] = {
    { { { 2003, 10, 17 }, 19, 30, 30 }, 39.742476, -105.1786, 39.8720, 39.8910, 194.3402, -9.3162, 0.996515 },
    { { { 2025, 2, 14 }, 15, 0, 0 }, 17.0077, -61.7647, 54.0821, 54.0936, 144.7940, -12.7958, 0.987583 },
    { { { 2025, 12, 21 }, 22, 0, 0 }, -17.5350, -149.5696, 84.0456, 84.0473, 187.3818, -23.4382, 0.983739 },
    { { { 2025, 6, 21 }, 0, 30, 0 }, -36.8420, 174.7650, 29.6930, 29.7208, 358.0704, 23.4404, 1.016176 },
    { { { 2025, 1, 15 }, 7, 0, 0 }, -33.9050, 18.4200, 36.8789, 36.9000, 92.1240, -21.0613, 0.983612 },
    { { { 2025, 7, 20 }, 6, 0, 0 }, 39.5650, 2.6300, 13.7138, 13.7771, 74.4435, 20.6009, 1.016116 },
    { { { 2025, 9, 22 }, 13, 0, 0 }, 37.9300, 23.6800, 36.9028, 36.9239, 234.3492, 0.0848, 1.003662 },
    { { { 2025, 6, 21 }, 22, 0, 0 }, 69.6500, 18.9600, 3.4531, 3.6571, 349.4158, 23.4337, 1.016258 },
    { { { 2025, 6, 21 }, 15, 0, 0 }, -54.8000, -68.3000, 9.1458, 9.2390, 21.9992, 23.4397, 1.016234 },
    { { { 2025, 3, 20 }, 18, 0, 0 }, -0.7500, -90.3100, 87.6871, 87.6878, 67.1713, 0.1477, 0.995953 },
    { { { 2025, 4, 20 }, 3, 0, 0 }, 7.8200, 98.3000, 53.9211, 53.9326, 81.0623, 11.5724, 1.004568 },
    { { { 2025, 10, 5 }, 21, 0, 0 }, -27.4700, 153.0200, 20.9167, 20.9580, 84.7346, -5.0845, 0.999829 },
    { { { 2025, 12, 21 }, 12, 20, 0 }, 50.1500, -5.0700, 16.4087, 16.4623, 180.3655, -23.4406, 0.983797 },
    { { { 2025, 11, 3 }, 8, 0, 0 }, -4.6200, 55.4500, 79.4353, 79.4383, 177.6749, -15.1757, 0.991956 },
    { { { 2025, 3, 1 }, 9, 30, 0 }, 64.1500, -21.9500, 4.7732, 4.9353, 118.0204, -7.4256, 0.990927 },
    { { { 2024, 2, 29 }, 20, 0, 0 }, 21.3100, -157.8600, 40.5322, 40.5508, 121.2676, -7.5472, 0.990762 },
    { { { 2024, 12, 31 }, 23, 59, 30 }, -17.7500, 177.4000, 83.7683, 83.7700, 147.9692, -22.9984, 0.983311 },
    { { { 2000, 1, 1 }, 12, 0, 0 }, 0.0, 0.0, 66.9528, 66.9595, 178.0687, -23.0334, 0.983289 },
};

TEST(eighteen_positions)
{
    static const char source[] = "PyEphem 4.1.4 and astropy/ERFA, computed 2026-11-25";

    for (size_t i = 0; i < sizeof positions / sizeof positions[0]; i++) {
        double latitude = positions[i].latitude, level = cos(positions[i].geometric * DEGREE);
        struct sun_position s =
            sun_position(utc(positions[i].when), latitude, positions[i].longitude, 1010.0, 15.0);
        char label[64];

        snprintf(label, sizeof label, "position %zu: elevation without air", i);
        row_check(label, s.elevation_geometric, positions[i].geometric, 0.004, source);
        snprintf(label, sizeof label, "position %zu: apparent elevation", i);
        row_check(label, s.elevation, positions[i].apparent, 0.01, source);
        snprintf(label, sizeof label, "position %zu: azimuth", i);
        row_check(label, turn_half(s.azimuth - positions[i].azimuth) * level, 0.0, 0.004, source);
        snprintf(label, sizeof label, "position %zu: declination", i);
        row_check(label, s.declination, positions[i].declination, 0.004, source);
        snprintf(label, sizeof label, "position %zu: distance", i);
        row_check(label, s.distance, positions[i].distance, 5e-5, source);
    }
    row_done();
}

/* libnova's solar coordinates are for the equinox of J2000: brought to date, then with apparent sidereal time. */
static struct ln_hrz_posn nova_position(double utc_s, double latitude, double longitude)
{
    double julian = utc_s / 86400.0 + 2440587.5;
    struct ln_lnlat_posn observer = { longitude, latitude };
    struct ln_equ_posn j2000, date;
    struct ln_hrz_posn place;

    ln_get_solar_equ_coords(julian + sun_delta_t(2000.0 + (julian - 2451545.0) / 365.25) / 86400.0, &j2000);
    ln_get_equ_prec(&j2000, julian, &date);
    ln_get_hrz_from_equ_sidereal_time(&date, &observer, ln_get_apparent_sidereal_time(julian), &place);
    return place;
}

/* Every 11 days and 7 h over 30 years, from pole to pole and around the world. */
TEST(same_place_as_libnova)
{
    double start = utc((struct moment){ { 2010, 1, 1 }, 0, 0, 0 }), worst = 0.0, worst_azimuth = 0.0;

    for (int i = 0; i < 970; i++) {
        double t = start + i * (11.0 * 86400.0 + 7.0 * 3600.0);
        double latitude = -85.0 + (i * 37) % 171, longitude = -180.0 + (i * 73) % 360;
        struct sun_position s = sun_position(t, latitude, longitude, 1010.0, 10.0);
        struct ln_hrz_posn n = nova_position(t, latitude, longitude);

        worst = fmax(worst, fabs(s.elevation_geometric - n.alt));
        worst_azimuth = fmax(worst_azimuth, fabs(turn_half(s.azimuth - n.az - 180.0) * cos(n.alt * DEGREE)));
    }
    row_check("worst elevation", worst, 0.0, 0.015, "libnova 0.16, precessed to date");
    row_check("worst azimuth", worst_azimuth, 0.0, 0.015, "libnova 0.16, precessed to date");
    row_done();
}

static const char SPA[] = "NREL SPA calculator, quoted by pvlib-python";
static const char USNO[] = "US Naval Observatory, to the minute";

enum event { RISE, NOON, SET };

/* The calculator's set of 2 August is that of the UTC day, which at Golden is the evening of 1 August. */
static const struct {
    const char *label;
    double latitude, longitude;
    struct date date; /* local */
    int offset;       /* [h] local minus UTC */
    enum event event;
    int clock[3]; /* local */
    double tolerance; /* [s] */
    const char *source;
} almanac[] = {
    { "Golden 2015-01-02 rise", 39.742476, -105.1786, { 2015, 1, 2 }, -7, RISE, { 7, 21, 55 }, 5.0, SPA },
    { "Golden 2015-01-02 noon", 39.742476, -105.1786, { 2015, 1, 2 }, -7, NOON, { 12, 4, 45 }, 5.0, SPA },
    { "Golden 2015-01-02 set", 39.742476, -105.1786, { 2015, 1, 2 }, -7, SET, { 16, 47, 43 }, 5.0, SPA },
    { "Golden 2015-08-02 rise", 39.742476, -105.1786, { 2015, 8, 2 }, -7, RISE, { 5, 0, 27 }, 5.0, SPA },
    { "Golden 2015-08-02 noon", 39.742476, -105.1786, { 2015, 8, 2 }, -7, NOON, { 12, 6, 58 }, 5.0, SPA },
    { "Golden 2015-08-01 set", 39.742476, -105.1786, { 2015, 8, 1 }, -7, SET, { 19, 13, 58 }, 5.0, SPA },
    { "35 S 0 E 1996-07-05 rise", -35.0, 0.0, { 1996, 7, 5 }, 0, RISE, { 7, 8, 15 }, 5.0, SPA },
    { "35 S 0 E 1996-07-05 noon", -35.0, 0.0, { 1996, 7, 5 }, 0, NOON, { 12, 4, 36 }, 5.0, SPA },
    { "35 S 0 E 1996-07-05 set", -35.0, 0.0, { 1996, 7, 5 }, 0, SET, { 17, 1, 4 }, 5.0, SPA },
    { "35 S 0 E 2004-12-04 rise", -35.0, 0.0, { 2004, 12, 4 }, 0, RISE, { 4, 38, 57 }, 5.0, SPA },
    { "35 S 0 E 2004-12-04 noon", -35.0, 0.0, { 2004, 12, 4 }, 0, NOON, { 11, 50, 22 }, 5.0, SPA },
    { "35 S 0 E 2004-12-04 set", -35.0, 0.0, { 2004, 12, 4 }, 0, SET, { 19, 2, 3 }, 5.0, SPA },
    { "40 N 80 W 2000-01-01 rise", 40.0, -80.0, { 2000, 1, 1 }, -5, RISE, { 7, 41, 51 }, 5.0, SPA },
    { "40 N 80 W 2000-01-01 noon", 40.0, -80.0, { 2000, 1, 1 }, -5, NOON, { 12, 23, 23 }, 5.0, SPA },
    { "40 N 80 W 2000-01-01 set", 40.0, -80.0, { 2000, 1, 1 }, -5, SET, { 17, 5, 4 }, 5.0, SPA },
    { "Golden 2015-01-01 rise", 39.742476, -105.1786, { 2015, 1, 1 }, -7, RISE, { 7, 22, 0 }, 35.0, USNO },
    { "Golden 2015-01-01 noon", 39.742476, -105.1786, { 2015, 1, 1 }, -7, NOON, { 12, 4, 0 }, 35.0, USNO },
    { "Golden 2015-01-01 set", 39.742476, -105.1786, { 2015, 1, 1 }, -7, SET, { 16, 47, 0 }, 35.0, USNO },
    { "Golden 2015-01-03 rise", 39.742476, -105.1786, { 2015, 1, 3 }, -7, RISE, { 7, 22, 0 }, 35.0, USNO },
    { "Golden 2015-01-03 noon", 39.742476, -105.1786, { 2015, 1, 3 }, -7, NOON, { 12, 5, 0 }, 35.0, USNO },
    { "Golden 2015-01-03 set", 39.742476, -105.1786, { 2015, 1, 3 }, -7, SET, { 16, 49, 0 }, 35.0, USNO },
    { "Golden 2015-08-02 rise", 39.742476, -105.1786, { 2015, 8, 2 }, -7, RISE, { 5, 0, 0 }, 35.0, USNO },
    { "Golden 2015-08-02 noon", 39.742476, -105.1786, { 2015, 8, 2 }, -7, NOON, { 12, 7, 0 }, 35.0, USNO },
    { "Golden 2015-08-02 set", 39.742476, -105.1786, { 2015, 8, 2 }, -7, SET, { 19, 13, 0 }, 35.0, USNO },
};

TEST(rise_and_set_of_almanacs)
{
    for (size_t i = 0; i < sizeof almanac / sizeof almanac[0]; i++) {
        double midnight = utc((struct moment){ almanac[i].date, -almanac[i].offset, 0, 0 });
        struct sun_times t = sun_times(midnight, almanac[i].latitude, almanac[i].longitude);
        const int *clock = almanac[i].clock;
        double got = almanac[i].event == RISE ? t.rise : almanac[i].event == NOON ? t.noon : t.set;

        assert_int_equal(t.polar, 0);
        row_check(almanac[i].label, got - midnight, clock[0] * 3600.0 + clock[1] * 60.0 + clock[2],
                  almanac[i].tolerance, almanac[i].source);
    }
    row_done();
}

static const struct {
    const char *label;
    double latitude, longitude;
    struct date date; /* local */
    int offset;       /* [h] local minus UTC, by longitude */
    struct moment rise, noon, set;
    double day_h;
} computed[] = {
    { "English Harbour 2025-06-21", 17.0077, -61.7647, { 2025, 6, 21 }, -4,
      { { 2025, 6, 21 }, 9, 34, 36 }, { { 2025, 6, 21 }, 16, 8, 57 }, { { 2025, 6, 21 }, 22, 43, 17 }, 13.145 },
    { "English Harbour 2025-12-21", 17.0077, -61.7647, { 2025, 12, 21 }, -4,
      { { 2025, 12, 21 }, 10, 31, 51 }, { { 2025, 12, 21 }, 16, 5, 19 }, { { 2025, 12, 21 }, 21, 38, 48 }, 11.116 },
    { "Palma 2025-03-20", 39.565, 2.63, { 2025, 3, 20 }, 0,
      { { 2025, 3, 20 }, 5, 52, 46 }, { { 2025, 3, 20 }, 11, 56, 50 }, { { 2025, 3, 20 }, 18, 1, 34 }, 12.147 },
    { "Palma 2025-12-21", 39.565, 2.63, { 2025, 12, 21 }, 0,
      { { 2025, 12, 21 }, 7, 6, 28 }, { { 2025, 12, 21 }, 11, 47, 39 }, { { 2025, 12, 21 }, 16, 28, 50 }, 9.373 },
    { "Falmouth UK 2025-06-21", 50.15, -5.07, { 2025, 6, 21 }, 0,
      { { 2025, 6, 21 }, 4, 10, 15 }, { { 2025, 6, 21 }, 12, 22, 8 }, { { 2025, 6, 21 }, 20, 34, 0 }, 16.396 },
    { "Falmouth UK 2025-12-21", 50.15, -5.07, { 2025, 12, 21 }, 0,
      { { 2025, 12, 21 }, 8, 16, 57 }, { { 2025, 12, 21 }, 12, 18, 28 }, { { 2025, 12, 21 }, 16, 19, 58 }, 8.050 },
    { "Auckland 2025-06-21", -36.842, 174.765, { 2025, 6, 21 }, 12,
      { { 2025, 6, 20 }, 19, 33, 43 }, { { 2025, 6, 21 }, 0, 22, 41 }, { { 2025, 6, 21 }, 5, 11, 39 }, 9.632 },
    { "Auckland 2025-12-22", -36.842, 174.765, { 2025, 12, 22 }, 12,
      { { 2025, 12, 21 }, 16, 58, 34 }, { { 2025, 12, 22 }, 0, 19, 22 }, { { 2025, 12, 22 }, 7, 40, 10 }, 14.693 },
    { "Papeete 2025-09-23", -17.535, -149.5696, { 2025, 9, 23 }, -10,
      { { 2025, 9, 23 }, 15, 46, 35 }, { { 2025, 9, 23 }, 21, 50, 25 }, { { 2025, 9, 24 }, 3, 54, 30 }, 12.132 },
    { "Cape Town 2025-01-15", -33.905, 18.42, { 2025, 1, 15 }, 1,
      { { 2025, 1, 15 }, 3, 51, 7 }, { { 2025, 1, 15 }, 10, 55, 47 }, { { 2025, 1, 15 }, 18, 0, 5 }, 14.149 },
    { "Ushuaia 2025-06-21", -54.8, -68.3, { 2025, 6, 21 }, -5,
      { { 2025, 6, 21 }, 12, 58, 55 }, { { 2025, 6, 21 }, 16, 35, 5 }, { { 2025, 6, 21 }, 20, 11, 17 }, 7.206 },
    { "Reykjavik 2025-06-21", 64.15, -21.95, { 2025, 6, 21 }, -1,
      { { 2025, 6, 21 }, 2, 55, 17 }, { { 2025, 6, 21 }, 13, 29, 40 }, { { 2025, 6, 22 }, 0, 3, 58 }, 21.145 },
    { "Galapagos 2025-03-20", -0.75, -90.31, { 2025, 3, 20 }, -6,
      { { 2025, 3, 20 }, 12, 5, 16 }, { { 2025, 3, 20 }, 18, 8, 31 }, { { 2025, 3, 21 }, 0, 11, 45 }, 12.108 },
    { "Honolulu 2024-02-29", 21.31, -157.86, { 2024, 2, 29 }, -11,
      { { 2024, 2, 29 }, 16, 52, 6 }, { { 2024, 2, 29 }, 22, 43, 44 }, { { 2024, 3, 1 }, 4, 35, 40 }, 11.726 },
};

TEST(rise_and_set_round_the_world)
{
    static const char source[] = "PyEphem 4.1.4, upper limb and 34' of refraction, computed 2026-11-25";

    for (size_t i = 0; i < sizeof computed / sizeof computed[0]; i++) {
        double midnight = utc((struct moment){ computed[i].date, -computed[i].offset, 0, 0 });
        struct sun_times t = sun_times(midnight, computed[i].latitude, computed[i].longitude);

        row_check(computed[i].label, t.rise, utc(computed[i].rise), 30.0, source);
        row_check(computed[i].label, t.noon, utc(computed[i].noon), 5.0, source);
        row_check(computed[i].label, t.set, utc(computed[i].set), 30.0, source);
        row_check(computed[i].label, (t.set - t.rise) / 3600.0, computed[i].day_h, 0.015, source);
    }
    row_done();
}

TEST(no_rise_and_no_set_beyond_the_polar_circles)
{
    double tromso_june = utc((struct moment){ { 2025, 6, 21 }, -2, 0, 0 });
    double tromso_december = utc((struct moment){ { 2025, 12, 21 }, -1, 0, 0 });
    struct sun_times june = sun_times(tromso_june, 69.65, 18.96), december = sun_times(tromso_december, 69.65, 18.96);

    row_check("Tromso in June: up all day", june.polar, 1.0, 0.0, "PyEphem 4.1.4, computed 2026-11-25");
    row_check("Tromso in December: down all day", december.polar, -1.0, 0.0, "PyEphem 4.1.4, computed 2026-11-25");
    row_check("south pole in December", sun_times(tromso_december, -90.0, 0.0).polar, 1.0, 0.0, "by hand");
    row_check("south pole in June", sun_times(tromso_june, -90.0, 0.0).polar, -1.0, 0.0, "by hand");
    row_check("north pole in June", sun_times(tromso_june, 90.0, 0.0).polar, 1.0, 0.0, "by hand");
    row_done();
}

/* Where the sun rises or sets its upper limb stands on the horizon; the day's order always holds. */
TEST(sun_stands_on_the_horizon_at_rise_and_set)
{
    double first = utc((struct moment){ { 2026, 1, 1 }, 0, 0, 0 });
    int checked = 0;

    for (int i = 0; i < 2000; i++) {
        double midnight = first + i * 86400.0, latitude = -66.0 + (i * 29) % 133;
        double longitude = -180.0 + (i * 101) % 360;
        struct sun_times t = sun_times(midnight, latitude, longitude);

        if (t.polar)
            continue;
        assert_true(t.rise < t.noon && t.noon < t.set);
        assert_true(t.noon >= midnight - 1.0 && t.noon <= midnight + 86401.0);
        if (t.noon - t.rise > 11.9 * 3600.0 || t.set - t.noon > 11.9 * 3600.0)
            continue; /* midnight sun begins or ends: one of the two is the lowest point */
        assert_true(fabs(sun_position(t.rise, latitude, longitude, 0.0, 0.0).elevation + 0.8333) < 0.004);
        assert_true(fabs(sun_position(t.set, latitude, longitude, 0.0, 0.0).elevation + 0.8333) < 0.004);
        assert_true(fabs(sun_position(t.noon, latitude, longitude, 0.0, 0.0).hour_angle) < 1e-4);
        checked++;
    }
    assert_true(checked > 1800);
}

/* A day that begins at local midnight on either side of the date line is the same sun. */
TEST(date_line)
{
    double midnight = utc((struct moment){ { 2025, 6, 21 }, -12, 0, 0 });
    struct sun_times west = sun_times(midnight, -17.0, -179.999), east = sun_times(midnight, -17.0, 179.999);

    row_check("rise", west.rise, east.rise, 1.0, "property");
    row_check("noon", west.noon, east.noon, 1.0, "property");
    row_check("set", west.set, east.set, 1.0, "property");
    row_done();
}

TEST(formulas_of_the_day)
{
    double rio = -22.9 * DEGREE;

    row_check("distance factor 3 September", spencer_eccentricity(246), 0.985, 0.003, "FAO-56 example 8");
    row_check("sunset angle 20 S, declination 0.120 [rad]", sunset_hour_angle(-20.0 * DEGREE, 0.120), 1.527, 0.0005,
              "FAO-56 example 8");
    row_check("daylight 20 S, declination 0.120 [h]",
              sunset_hour_angle(-20.0 * DEGREE, 0.120) * 24.0 / (180.0 * DEGREE), 11.7, 0.05, "FAO-56 example 9");
    row_check("daylight Rio de Janeiro, 15 May [h]",
              sunset_hour_angle(rio, spencer_declination(135)) * 24.0 / (180.0 * DEGREE), 10.9, 0.05,
              "FAO-56 example 10");
    row_check("sunset angle 43 N, declination -2.4 [deg]",
              sunset_hour_angle(43.0 * DEGREE, -2.4 * DEGREE) / DEGREE, 87.8, 0.05,
              "Duffie & Beckman 4th ed. example 1.6.3");
    row_check("midnight sun", sunset_hour_angle(80.0 * DEGREE, 23.0 * DEGREE), 180.0 * DEGREE, 1e-12, "by hand");
    row_check("polar night", sunset_hour_angle(80.0 * DEGREE, -23.0 * DEGREE), 0.0, 1e-12, "by hand");
    row_done();
}

/* The day formulas repeat every 365 days and stand for the start of a day, so they may be a day's change off. */
TEST(day_formulas_follow_the_sun)
{
    for (int n = 1; n <= 365; n++) {
        double noon = utc((struct moment){ { 2026, 1, 1 }, 12, 0, 0 }) + (n - 1) * 86400.0;
        struct sun_position s = sun_position(noon, 0.0, 0.0, 1010.0, 10.0);

        assert_true(fabs(spencer_declination(n) / DEGREE - s.declination) < 0.45);
        assert_true(fabs(spencer_eccentricity(n) - 1.0 / (s.distance * s.distance)) < 1e-3);
    }
}

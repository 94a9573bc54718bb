/* test_sky.c - light outside and inside the air, its split, planes, and a day's total spread over the day.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/sky.h"

#include <math.h>
#include <stdio.h>

#include "base/calendar.h"
#include "base/constants.h"
#include "support/test.h"

static const double PI = 180.0 * DEGREE;
static const double MJ = 3.6; /* [MJ] in a kWh */

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])

static double midnight(struct date date, double longitude)
{
    return (double)date_number(date) * 86400.0 - longitude / 15.0 * 3600.0;
}

static double cooper(int n)
{
    return 23.45 * DEGREE * sin(360.0 * DEGREE * (284 + n) / 365.0);
}

static double short_normal(int n)
{
    return 1367.0 * (1.0 + 0.033 * cos(360.0 * DEGREE * n / 365.0));
}

/* Klein (1977): the day of each month whose radiation is the month's mean. */
static const int mean_days[12] = { 17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344 };

static const struct {
    double latitude;
    double mj[12];
} outside[] = {
    { 0, { 36.23, 37.47, 37.90, 36.80, 34.79, 33.51, 33.94, 35.71, 37.24, 37.37, 36.38, 35.66 } },
    { 20, { 26.93, 30.71, 34.76, 37.92, 39.30, 39.55, 39.28, 38.27, 35.77, 31.78, 27.75, 25.76 } },
    { 40, { 15.21, 20.54, 27.44, 34.63, 39.69, 41.76, 40.67, 36.53, 29.99, 22.53, 16.44, 13.76 } },
    { 60, { 3.42, 8.52, 16.83, 27.47, 36.62, 41.01, 38.85, 31.03, 20.62, 10.89, 4.54, 2.30 } },
    { -20, { 41.81, 39.97, 36.48, 31.37, 26.58, 24.20, 25.14, 29.09, 34.22, 38.57, 41.14, 42.07 } },
    { -40, { 43.17, 37.95, 30.67, 22.30, 15.79, 12.91, 14.11, 19.28, 27.08, 35.29, 41.61, 44.40 } },
};

/* The table stands on Cooper's declination, the short form of the distance and 1367 W/m2, so it is given these. */
TEST(daily_radiation_outside_the_air)
{
    for (size_t i = 0; i < COUNT(outside); i++)
        for (int m = 0; m < 12; m++) {
            double want = outside[i].mj[m];
            char label[64];

            snprintf(label, sizeof label, "H0 at %g deg, month %d [MJ/m2]", outside[i].latitude, m + 1);
            row_check(label, sky_day_sum(outside[i].latitude, cooper(mean_days[m]), short_normal(mean_days[m])) * MJ,
                      want, 0.011, "Duffie & Beckman 4th ed. table 1.10.1, second decimal recomputed");
        }
    row_done();
}

TEST(radiation_outside_the_air)
{
    row_check("normal, 26 October 2016 [W/m2]", sky_extraterrestrial_normal(300), 1383.636, 0.1,
              "Spencer 1971, value in the pvlib-python test suite");
    row_check("normal, 24 June [W/m2]", sky_extraterrestrial_normal(175), 1322.3, 1.5,
              "sun distance values in the pvlib-python test suite");
    row_check("20 S, 3 September [MJ/m2]", sky_day_sum(-20.0, 0.120, 1366.7 * 0.985) * MJ, 32.2, 0.05,
              "FAO-56 example 8");
    row_check("Rio de Janeiro, 15 May [MJ/m2]", sky_extraterrestrial_day(-22.9, 135) * MJ, 25.1, 0.15,
              "FAO-56 example 10");
    row_check("43 N, 15 April [MJ/m2]", sky_day_sum(43.0, 9.4 * DEGREE, short_normal(105)) * MJ, 33.8, 0.05,
              "Duffie & Beckman 4th ed. example 1.10.1");
    row_check("polar night", sky_extraterrestrial_day(80.0, 355), 0.0, 1e-12, "by hand");
    row_done();
}

/* FAO-56 example 10: the Angstrom sum with 7.1 h of sunshine, day length and H0 from here. */
TEST(sunshine_hours_of_rio)
{
    double ws = sunset_hour_angle(-22.9 * DEGREE, spencer_declination(135));
    double total = (0.25 + 0.50 * 7.1 / (ws * 24.0 / PI)) * sky_extraterrestrial_day(-22.9, 135);

    row_check("total [MJ/m2]", total * MJ, 14.5, 0.1, "FAO-56 example 10");
    row_done();
}

TEST(haurwitz)
{
    static const char source[] = "Haurwitz 1945, values in the pvlib-python test suite";
    static const double rows[][2] = { { 5, 48.6298687941956 },  { 10, 135.741748091813 },
                                      { 30, 487.894132885425 }, { 50, 778.766689344363 },
                                      { 90, 1035.09203253450 }, { -0.05, 0.0 },
                                      { -20, 0.0 } };

    for (size_t i = 0; i < COUNT(rows); i++)
        row_check("clear sky [W/m2]", sky_haurwitz(rows[i][0]), rows[i][1], 1e-6, source);
    row_done();
}

TEST(split_after_erbs)
{
    static const char source[] = "Erbs, Klein & Duffie 1982, values in the pvlib-python test suite";
    static const struct {
        double global, zenith;
        int day;
        double normal, diffuse, clearness;
    } rows[] = {
        { 50, 85, 1, 96.7, 41.6, 0.4057 },
        { 1000, 10, 1, 794.2, 217.9, 0.7181 },
        { 1000, 10, 171, 842.0, 170.8, 0.7682 },
        { 1000, 10, 180, 842.339, 170.458, 0.768882 },
    };

    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sky_beam sky = sky_split(rows[i].global, 90.0 - rows[i].zenith, rows[i].day);
        double clearness =
            rows[i].global / (sky_extraterrestrial_normal(rows[i].day) * cos(rows[i].zenith * DEGREE));

        row_check("normal [W/m2]", sky.normal, rows[i].normal, 0.06, source);
        row_check("diffuse [W/m2]", sky.diffuse, rows[i].diffuse, 0.06, source);
        row_check("clearness", clearness, rows[i].clearness, 6e-5, source);
    }
    row_done();
}

/* Duffie & Beckman example 2.15.1: kT 0.445 of an hour gives a diffuse fraction of 0.766. */
TEST(diffuse_fractions)
{
    row_check("hour, kT 0.445", sky_diffuse_fraction(0.445), 0.766, 0.002, "Duffie & Beckman 4th ed. example 2.15.1");
    row_check("hour, kT 0.22 meets", sky_diffuse_fraction(0.22), sky_diffuse_fraction(0.2200001), 0.002, "property");
    row_check("hour, kT 0.80 meets", sky_diffuse_fraction(0.80), 0.165, 0.002, "property");
    row_check("hour, kT 1.2", sky_diffuse_fraction(1.2), 0.165, 0.0, "Erbs, Klein & Duffie 1982");
    row_done();
}

struct place {
    double elevation, azimuth;
};

/* Sun of a latitude, declination and hour angle [deg], by the formulas of the textbook. */
static struct place textbook_sun(double latitude, double declination, double hour_angle)
{
    double phi = latitude * DEGREE, delta = declination * DEGREE, w = hour_angle * DEGREE;
    double sine = sin(phi) * sin(delta) + cos(phi) * cos(delta) * cos(w);

    return (struct place){ asin(sine) / DEGREE,
                           atan2(sin(w), cos(w) * sin(phi) - tan(delta) * cos(phi)) / DEGREE + 180.0 };
}

static double plane_cosine(double latitude, double declination, double hour_angle, double tilt, double azimuth)
{
    struct place sun = textbook_sun(latitude, declination, hour_angle);

    return sky_incidence(tilt, azimuth, sun.elevation, sun.azimuth);
}

TEST(angle_of_incidence)
{
    static const char source[] = "values in the pvlib-python test suite";
    static const double rows[][5] = {
        /* tilt, azimuth, sun zenith, sun azimuth, angle */
        { 0, 0, 0, 0, 0 },        { 30, 180, 30, 180, 0 },          { 30, 180, 150, 0, 180 },
        { 90, 0, 30, 60, 75.5224878 }, { 90, 0, 30, 170, 119.4987042 },
    };

    for (size_t i = 0; i < COUNT(rows); i++)
        row_check("cosine of the angle", sky_incidence(rows[i][0], rows[i][1], 90.0 - rows[i][2], rows[i][3]),
                  cos(rows[i][4] * DEGREE), 1e-8, source);
    row_check("NREL report example: slope 30, facing 170 [deg]",
              acos(sky_incidence(30.0, 170.0, 90.0 - 50.11162, 194.34024)) / DEGREE, 25.18700, 1e-4,
              "NREL/TP-560-34302 table A5.1");
    row_check("43 N, declination -14, 22.5 before noon, slope 45, 15 W of S",
              plane_cosine(43.0, -14.0, -22.5, 45.0, 195.0), 0.817, 0.0005, "Duffie & Beckman 4th ed. example 1.6.1");
    row_done();
}

TEST(tilted_planes)
{
    static const char source[] = "values in the pvlib-python test suite";
    static const struct {
        double zenith, sun_azimuth, diffuse, normal, isotropic, around;
    } rows[] = {
        { 82.85457044, 66.71410338, 40.46149818, 316.1949056, 27.1775, 0.0 },
        { 10.56413562, 144.76567754, 118.45831879, 939.95469881, 30.1818, 72.8130 },
        { 72.41687122, 287.04104128, 62.03376265, 646.22886049, 27.9837, 5.2071 },
    };
    const double gon = 1321.16558, tilt = 40.0, azimuth = 180.0;

    for (size_t i = 0; i < COUNT(rows); i++) {
        double elevation = 90.0 - rows[i].zenith;
        double cosine = sky_incidence(tilt, azimuth, elevation, rows[i].sun_azimuth);
        double dome = rows[i].diffuse * (1.0 - sky_anisotropy(rows[i].normal, gon));

        row_check("Hay & Davies: around the sun", sky_circumsolar(rows[i].diffuse, rows[i].normal, gon, cosine, elevation),
                  rows[i].around, 1e-3, source);
        row_check("Hay & Davies: dome", sky_isotropic(dome, tilt), rows[i].isotropic, 1e-3, source);
    }
    row_check("isotropic, tilt 40", sky_isotropic(100.0, 40.0), 88.30222215594891, 1e-9, source);
    row_check("ground, tilt 40, albedo 0.25", sky_ground(900.0, 40.0, 0.25), 26.32000014911496, 1e-9, source);
    row_done();
}

/* Duffie & Beckman example 2.15.1 in MJ/m2 of an hour: 40 N, tilt 60 S, 20 February, ground 0.60. */
TEST(hour_on_a_tilted_plane)
{
    double beam = 0.244, diffuse = 0.796, global = 1.04;
    double total = beam * 1.71 + sky_isotropic(diffuse, 60.0) + sky_ground(global, 60.0, 0.60);

    row_check("isotropic total [MJ/m2]", total, 1.17, 0.005, "Duffie & Beckman 4th ed. example 2.15.1");
    row_done();
}

TEST(beam_ratio)
{
    double morning = plane_cosine(40.0, -13.0, -37.5, 0.0, 0.0), later = plane_cosine(43.0, -14.0, -22.5, 0.0, 0.0);

    row_check("Rb, 40 N, tilt 30 S, 16 February 9-10 h", plane_cosine(40.0, -13.0, -37.5, 30.0, 180.0) / morning, 1.61,
              0.006, "Duffie & Beckman 4th ed. example 1.8.2");
    row_check("Rb, 43 N, 13 February 10:30", plane_cosine(43.0, -14.0, -22.5, 45.0, 195.0) / later, 1.66, 0.008,
              "Duffie & Beckman 4th ed. example 1.8.1");
    row_done();
}

TEST(incidence_modifier)
{
    static const char source[] = "ASHRAE modifier, values in the pvlib-python test suite";

    row_check("22.5 deg", sky_incidence_modifier(22.5), 0.99588039, 1e-8, source);
    row_check("45 deg", sky_incidence_modifier(45.0), 0.97928932, 1e-8, source);
    row_check("67.5 deg", sky_incidence_modifier(67.5), 0.9193437, 1e-7, source);
    row_check("89 deg", sky_incidence_modifier(89.0), 0.0, 0.0, source);
    row_check("0 deg", sky_incidence_modifier(0.0), 1.0, 1e-12, source);
    row_check("120 deg", sky_incidence_modifier(120.0), 0.0, 0.0, "by hand");
    row_check("sky light on a flat plane [deg]", sky_diffuse_angle(0.0), 59.7, 1e-12, "Brandemuehl & Beckman 1980");
    row_check("ground light on an upright plane [deg]", sky_ground_angle(90.0), 59.7, 0.1, "property: as the sky's");
    row_check("sky light on an upright plane [deg]", sky_diffuse_angle(90.0), 59.3, 0.1, "property: as the ground's");
    row_done();
}

/* Mean over 3600 headings at half steps, the incidence loss taken at each. */
static double numeric_mean(double tilt, double elevation)
{
    double sum = 0.0;

    for (int i = 0; i < 3600; i++) {
        double cosine = fmax(0.0, sky_incidence(tilt, (i + 0.5) * 0.1, elevation, 0.0));

        sum += cosine > 0.0 ? cosine * sky_incidence_modifier(acos(fmin(1.0, cosine)) / DEGREE) : 0.0;
    }
    return sum / 3600.0;
}

TEST(closed_form_is_the_mean_over_headings)
{
    double worst = 0.0;

    for (int tilt = 0; tilt <= 90; tilt += 6)
        for (int elevation = 1; elevation <= 90; elevation += 4)
            worst = fmax(worst, fabs(sky_collected_any_heading(tilt, elevation) - numeric_mean(tilt, elevation)));
    row_check("worst cosine with loss", worst, 0.0, 2e-6, "property");
    row_done();
}

/* Beam and diffuse put together again on a flat plane are the global irradiance they came from. */
TEST(tilt_0_is_the_horizontal)
{
    for (int elevation = 2; elevation <= 90; elevation += 4)
        for (double global = 5.0; global < 1300.0 * sin(elevation * DEGREE); global += 40.0) {
            struct sky_beam sky = sky_split(global, elevation, 100);
            double outside_normal = sky_extraterrestrial_normal(100), cosine = sky_incidence(0.0, 77.0, elevation, 200.0);
            double plane = sky.normal * cosine + sky_ground(global, 0.0, 0.08) +
                           sky_circumsolar(sky.diffuse, sky.normal, outside_normal, cosine, elevation) +
                           sky_isotropic(sky.diffuse * (1.0 - sky_anisotropy(sky.normal, outside_normal)), 0.0);

            assert_true(fabs(plane - global) <= 1e-9 * global && fabs(sky.global - global) <= 0.0);
            assert_true(sky.normal >= 0.0 && sky.normal <= outside_normal && sky.diffuse >= 0.0);
        }
}

/* Share of a day's total in an hour around w [1/h], sunset at ws, as Collares-Pereira & Rabl print it. */
static double hour_share(double w, double ws)
{
    double a = 0.409 + 0.5016 * sin(ws - 60.0 * DEGREE), b = 0.6609 - 0.4767 * sin(ws - 60.0 * DEGREE);

    return fabs(w) < ws ? PI / 24.0 * (a + b * cos(w)) * (cos(w) - cos(ws)) / (sin(ws) - ws * cos(ws)) : 0.0;
}

/* A clear enough day on the equator at equinox has the hours of the publication, but for the sun's own path. */
TEST(hours_of_a_day_are_those_of_the_publication)
{
    double from = midnight((struct date){ 2026, 3, 21 }, 0.0), ws = sunset_hour_angle(0.0, spencer_declination(80));
    struct sky_course course;
    struct sky_day day;

    sky_course_make(&course, from, 0.0, 0.0, 80);
    sky_day_fit(&day, &course, 0.45 * sky_extraterrestrial_day(0.0, 80));
    for (int h = 7; h < 17; h++) {
        double wh = 0.0, w = 0.0;
        char label[48];

        for (int i = 0; i < SKY_SLOTS / 24; i++) {
            wh += sky_day_at(&day, &course.sun[h * SKY_SLOTS / 24 + i]).global / (SKY_SLOTS / 24.0);
            w += course.sun[h * SKY_SLOTS / 24 + i].hour_angle * DEGREE / (SKY_SLOTS / 24.0);
        }
        snprintf(label, sizeof label, "share of the hour from %02d:00", h);
        row_check(label, wh / (450.0 * sky_extraterrestrial_day(0.0, 80)), hour_share(w, ws), 0.003,
                  "Collares-Pereira & Rabl 1979");
    }
    row_done();
}

/* A day spread over the sun's own path. */
static struct sky_day day_of(double from, double latitude, double longitude, int day_of_year, double total)
{
    struct sky_course course;
    struct sky_day day;

    sky_course_make(&course, from, latitude, longitude, day_of_year);
    sky_day_fit(&day, &course, total);
    return day;
}

static double day_integral(const struct sky_day *day, double from, double latitude, double longitude, int slots)
{
    double sum = 0.0;

    for (int i = 0; i < slots; i++) {
        struct sun_position sun =
            sun_position(from + (i + 0.5) * 86400.0 / slots, latitude, longitude, 1013.25, 15.0);
        struct sky_beam sky = sky_day_at(day, &sun);

        assert_true(sky.global >= 0.0 && sky.diffuse >= 0.0 && sky.normal >= 0.0);
        if (sun.elevation <= 0.0)
            assert_true(sky.global == 0.0 && sky.diffuse == 0.0 && sky.normal == 0.0);
        assert_true(fabs(sky.normal * sin(sun.elevation * DEGREE) + sky.diffuse - sky.global) <= 1e-9 * (1.0 + sky.global));
        sum += sky.global;
    }
    return sum * 24.0 / slots / 1000.0;
}

/* From dull to brighter than any clear sky, 75 S to 75 N, every season: on the slots to rounding, by the minute to
 * 0.1 %. */
TEST(a_day_adds_up_to_its_total)
{
    static const double clearness[] = { 0.02, 0.2, 0.5, 0.75, 1.1 };

    for (int latitude = -75; latitude <= 75; latitude += 15)
        for (int n = 5; n <= 365; n += 45) {
            struct date date = date_of_number(date_number((struct date){ 2026, 1, 1 }) + n - 1);
            double longitude = (n * 7) % 360 - 180.0, from = midnight(date, longitude);
            double most = sky_extraterrestrial_day(latitude, n);

            for (size_t i = 0; i < COUNT(clearness); i++) {
                double total = clearness[i] * most;
                struct sky_day day;
                char label[96];

                if (most < 0.05)
                    continue; /* the sun hardly rises */
                day = day_of(from, latitude, longitude, n, total);
                snprintf(label, sizeof label, "latitude %d, day %d, clearness %g", latitude, n, clearness[i]);
                row_check(label, day_integral(&day, from, latitude, longitude, SKY_SLOTS), total, 1e-8 * total,
                          "property");
                row_check(label, day_integral(&day, from, latitude, longitude, 1440), total, 1e-3 * total, "property");
            }
        }
    row_done();
}

TEST(no_light_without_sun)
{
    double from = midnight((struct date){ 2025, 12, 21 }, 18.96);
    struct sky_day day;

    day = day_of(from, 75.0, 18.96, 355, 0.3);
    row_check("polar night", day_integral(&day, from, 75.0, 18.96, SKY_SLOTS), 0.0, 0.0, "property");
    day = day_of(from, 38.0, 18.96, 355, 0.0);
    row_check("a day of no light", day_integral(&day, from, 38.0, 18.96, SKY_SLOTS), 0.0, 0.0, "property");
    row_done();
}

/* No moment of a day that a clear sky could give is brighter than that clear sky. */
TEST(days_stay_under_the_clear_sky)
{
    static const double clearness[] = { 0.2, 0.5, 0.65, 0.7 };

    for (size_t i = 0; i < COUNT(clearness); i++) {
        struct sky_course course;
        struct sky_day day;

        sky_course_make(&course, midnight((struct date){ 2026, 7, 6 }, 20.7), 38.6, 20.7, 187);
        sky_day_fit(&day, &course, clearness[i] * sky_extraterrestrial_day(38.6, 187));
        for (int s = 0; s < SKY_SLOTS; s++)
            assert_true(sky_day_at(&day, &course.sun[s]).global <= course.clear[s] * (1.0 + 1e-12));
    }
}

/* The daily form of the same publication, for a sunset angle over 81.4 deg. */
static double diffuse_fraction_day(double k)
{
    return k < 0.722 ? 1.0 + k * (0.2832 + k * (-2.5557 + k * 0.8448)) : 0.175;
}

/* The split gives a little more: a smooth day has no bright hours among dull ones. */
TEST(split_day_agrees_with_the_daily_correlation)
{
    static const double clearness[] = { 0.3, 0.45, 0.6 };

    for (size_t i = 0; i < COUNT(clearness); i++) {
        struct sky_course course;
        struct sky_day day;
        double diffuse = 0.0, global = 0.0;

        sky_course_make(&course, midnight((struct date){ 2026, 4, 15 }, 0.0), 35.0, 0.0, 105);
        sky_day_fit(&day, &course, clearness[i] * sky_extraterrestrial_day(35.0, 105));
        for (int s = 0; s < SKY_SLOTS; s++) {
            diffuse += sky_day_at(&day, &course.sun[s]).diffuse;
            global += sky_day_at(&day, &course.sun[s]).global;
        }
        row_check("diffuse fraction of the day", diffuse / global, diffuse_fraction_day(clearness[i]), 0.08,
                  "Erbs, Klein & Duffie 1982, daily form");
    }
    row_done();
}

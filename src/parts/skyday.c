/* skyday.c - spreads a day's irradiation over the day so that the sum comes out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/constants.h"
#include "parts/sky.h"

static const double SLOT_S = 86400.0 / SKY_SLOTS;
static const double SEA_PRESSURE = 1013.25; /* [hPa] ISO 2533 */
static const double SEA_TEMPERATURE = 15.0; /* [C] ISO 2533 */
static const double GENTLE_RISE = 2.0;      /* [deg] own choice */

/* Coefficients of Collares-Pereira & Rabl (1979) for a sunset angle ws [rad]. */
static struct sky_shape shape_of_day(double ws)
{
    double s = sin(ws - 60.0 * DEGREE);

    return (struct sky_shape){ 0.409 + 0.5016 * s, 0.6609 - 0.4767 * s };
}

/* The uncapped course [-], of any height; 0 below the horizon. The first degrees come up gently: a kink at
 * sunrise would cost the sum over slots 0.3 % on short days. */
static double shape_at(const struct sky_shape *shape, const struct sun_position *sun)
{
    double rise = fmin(1.0, sun->elevation / GENTLE_RISE);

    if (rise <= 0.0)
        return 0.0;
    return rise * sin(sun->elevation * DEGREE) *
           fmax(0.0, shape->a + shape->b * cos(sun->hour_angle * DEGREE));
}

void sky_course_make(struct sky_course *course, double midnight_utc_s, double latitude, double longitude,
                     int day_of_year)
{
    course->day_of_year = day_of_year;
    course->shape = shape_of_day(sunset_hour_angle(latitude * DEGREE, spencer_declination(day_of_year)));
    for (int i = 0; i < SKY_SLOTS; i++) {
        struct sun_position *sun = &course->sun[i];

        *sun = sun_position(midnight_utc_s + (i + 0.5) * SLOT_S, latitude, longitude, SEA_PRESSURE,
                            SEA_TEMPERATURE);
        course->share[i] = shape_at(&course->shape, sun);
        course->clear[i] = sky_haurwitz(sun->elevation);
    }
}

/* Sum of the capped course, and how fast it grows with the height. */
static double capped_sum(const struct sky_course *course, double height, double *growth)
{
    double sum = 0.0;

    *growth = 0.0;
    for (int i = 0; i < SKY_SLOTS; i++) {
        if (height * course->share[i] < course->clear[i]) {
            sum += height * course->share[i];
            *growth += course->share[i];
        } else {
            sum += course->clear[i];
        }
    }
    return sum;
}

/*
 * The capped sum is made of straight pieces that grow ever slower with the height, so Newton's steps from 0
 * never overshoot and end on the answer after a few pieces.
 */
static double height_for(const struct sky_course *course, double wanted)
{
    double height = 0.0, growth, sum = capped_sum(course, height, &growth);

    for (int i = 0; i < SKY_SLOTS && growth > 0.0 && wanted - sum > 1e-9 * wanted; i++) {
        height += (wanted - sum) / growth;
        sum = capped_sum(course, height, &growth);
    }
    return height;
}

void sky_day_fit(struct sky_day *day, const struct sky_course *course, double total)
{
    double wanted = total * 1000.0 / 24.0 * SKY_SLOTS, clear = 0.0, shares = 0.0;

    for (int i = 0; i < SKY_SLOTS; i++) {
        clear += course->clear[i];
        shares += course->share[i];
    }
    day->day_of_year = course->day_of_year;
    day->shape = course->shape;
    day->height = height_for(course, fmin(wanted, clear));
    day->extra = shares > 0.0 ? fmax(0.0, wanted - clear) / shares : 0.0;
}

struct sky_beam sky_day_at(const struct sky_day *day, const struct sun_position *sun)
{
    double share = shape_at(&day->shape, sun);
    double global = fmin(day->height * share, sky_haurwitz(sun->elevation)) + day->extra * share;

    return sky_split(global, sun->elevation, day->day_of_year);
}

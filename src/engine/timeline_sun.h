/* timeline_sun.h - the sun's half of a day's timeline.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TIMELINE_SUN_H
#define BD_TIMELINE_SUN_H

#include "engine/timeline.h"
#include "parts/sky.h"

/* Sunrise, sunset, noon of the day; without a [site], six, eighteen and twelve o'clock. */
void timeline_sun_times(struct timeline *timeline, long day_offset);

/* Array power of every [solar] section onto the steps of its bank. */
void timeline_sun_power(struct timeline *timeline, const struct day_kind *kind, long day_offset);

/* The sky of one day, made once: its total is spread over the sun's own path. */
struct sun_sky {
    struct sky_course course; /* the sun's places, one per slot */
    struct sky_day day;
    double midnight_utc;
    double latitude, longitude;
    double air_c;
    int day_of_year;
};
void sun_sky_make(struct sun_sky *sky, const struct boat *boat, long day_offset, double total_kwh);

/* What all arrays of a boat would give, and what stands behind it, at one moment of that day. */
struct sun_moment {
    double elevation, azimuth; /* [deg] */
    struct sky_beam beam;      /* [W/m2] */
};
struct sun_moment sun_sky_at(const struct sun_sky *sky, double second_of_day);

/* Output of one array then. */
struct array_output;
struct array_output sun_array(const struct sun_sky *sky, const struct sun_moment *moment,
                              const struct solar *solar, double day_shading);

#endif

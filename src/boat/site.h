/* site.h - where the boat lies and what weather it has there.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SITE_H
#define BD_SITE_H

#include <stddef.h>

#include "base/range.h"

enum { MONTHS = 12 };

/* A cruising area of the shipped table (parts/climate.c). */
struct climate {
    const char *name; /* as typed after climate = */
    double latitude;  /* [deg] north positive */
    double longitude; /* [deg] east positive */
    double irradiation[MONTHS];     /* [kWh/m2 day] horizontal, mean of the month */
    double air_temperature[MONTHS]; /* [C] mean of the month */
    double wind[MONTHS];            /* [m/s] mean of the month; 0 where unknown */
    double clearness_sd;  /* [-] spread of the daily clearness index within a month */
    double clearness_lag; /* [-] correlation of one day with the next */
    const char *source;   /* file or "memory" */
};

/* One day of a weather file. */
struct weather_day {
    int year, month, day;
    double irradiation;     /* [kWh/m2 day] horizontal */
    double air_temperature; /* [C] mean of the day; NAN is not used: has_temperature says */
    int has_temperature;
};

/* Where a day's irradiation comes from: the shipped table of areas, monthly figures
 * of the profile, or a file of days. */
enum sky_source { SKY_CLIMATE, SKY_IRRADIATION, SKY_CLEARNESS, SKY_WEATHER };

/* Place, date and weather. A boat without panels and without loads by the sun needs none. */
struct site {
    const char *name;
    struct range latitude;   /* [deg] north positive, -90..90 */
    struct range longitude;  /* [deg] east positive, -180..180 */
    struct range utc_offset; /* [h] local time minus UTC */
    int start_year, start_month, start_day; /* first day of the plan, local */
    enum sky_source sky;
    struct range irradiation[MONTHS]; /* [kWh/m2 day] horizontal; known where sky = SKY_IRRADIATION */
    struct range clearness[MONTHS];   /* [-] daily clearness index; known where sky = SKY_CLEARNESS */
    const struct weather_day *weather; /* where sky = SKY_WEATHER */
    size_t weather_count;
    const char *weather_file;
    struct range air_temperature[MONTHS]; /* [C] */
    const struct climate *climate; /* named or nearest; NULL where not needed */
    double climate_distance_km;    /* [km] from the site; 0 where the user named the area */
    int climate_assumed;           /* 1: nearest shipped area taken, an assumption */
    int given;                     /* 1: the profile has a [site] section */
};

#endif

/* climate.c - look-ups in the shipped table of cruising areas; its rows are in climate_data.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/climate.h"

#include <math.h>
#include <strings.h>

#include "base/constants.h"
#include "parts/climate_data.h"

static const double YEAR_D = 365.0;

const struct climate *climate_table(size_t *count)
{
    *count = climate_row_count;
    return climate_rows;
}

/* Distance [km] along a sphere; all in [deg]. Haversine form: good at any distance, where
 * the arc cosine loses short ones. */
static double great_circle_km(double latitude1, double longitude1, double latitude2, double longitude2)
{
    double u = sin(0.5 * (latitude2 - latitude1) * DEGREE), v = sin(0.5 * (longitude2 - longitude1) * DEGREE);
    double h = u * u + cos(latitude1 * DEGREE) * cos(latitude2 * DEGREE) * v * v;

    return 2.0 * EARTH_RADIUS_KM * asin(sqrt(fmin(1.0, h)));
}

const struct climate *climate_nearest(double latitude, double longitude, double *distance_km)
{
    const struct climate *nearest = &climate_rows[0];

    *distance_km = great_circle_km(latitude, longitude, nearest->latitude, nearest->longitude);
    for (size_t i = 1; i < climate_row_count; i++) {
        const struct climate *row = &climate_rows[i];
        double distance = great_circle_km(latitude, longitude, row->latitude, row->longitude);

        if (distance < *distance_km) {
            *distance_km = distance;
            nearest = row;
        }
    }
    return nearest;
}

const struct climate *climate_find(const char *name)
{
    for (size_t i = 0; i < climate_row_count; i++)
        if (strcasecmp(climate_rows[i].name, name) == 0)
            return &climate_rows[i];
    return NULL;
}

/* Month from -2 up, 0 for January: the year goes round. */
static double month_value(const double monthly[MONTHS], int month)
{
    return monthly[(month + MONTHS) % MONTHS];
}

/* Second difference of the table: monthly[m - 1] - 2 monthly[m] + monthly[m + 1]. */
static double month_bend(const double monthly[MONTHS], int month)
{
    return month_value(monthly, month - 1) - 2.0 * month_value(monthly, month) +
           month_value(monthly, month + 1);
}

/*
 * Value x at mid-month from which straight lines give the month its mean v back: (x' + 6 x + x'')/8 = v with
 * the neighbours x', x''. The series of the inverse is cut after the second term: under 1 % of the yearly
 * mean for a climate.
 */
static double month_anchor(const double monthly[MONTHS], int month)
{
    double bend = month_bend(monthly, month);
    double bend2 = month_bend(monthly, month - 1) - 2.0 * bend + month_bend(monthly, month + 1);

    return month_value(monthly, month) - bend / 8.0 + bend2 / 64.0;
}

double climate_on_day(const double monthly[MONTHS], int day_of_year)
{
    static const double middle[MONTHS + 1] = { 15.5,  45.0,  74.5,  105.0, 135.5, 166.0, 196.5,
                                               227.5, 258.0, 288.5, 319.0, 349.5, 380.5 };
    double day = fmin(YEAR_D, day_of_year) - 0.5;
    int month = 0;
    double share, from, value;

    if (day < middle[0])
        day += YEAR_D;
    while (day >= middle[month + 1])
        month++;
    share = (day - middle[month]) / (middle[month + 1] - middle[month]);
    from = month_anchor(monthly, month);
    value = from + share * (month_anchor(monthly, month + 1) - from);
    if (value < 0.0 && month_value(monthly, month) >= 0.0 && month_value(monthly, month + 1) >= 0.0)
        return 0.0;
    return value;
}

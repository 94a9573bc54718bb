/* climate.h - the shipped table of cruising areas.  Layer: parts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CLIMATE_H
#define BD_CLIMATE_H

#include "boat/site.h"

/* All rows, in the order of the table; *count is set. Static, never NULL. Where each row comes from stands
 * in the row itself and in climate_data.c. */
const struct climate *climate_table(size_t *count);

/*
 * The area nearest to a place by great circle on a sphere of 6371 km, with its distance.
 *
 *   latitude, longitude  [deg] north and east positive
 *   distance_km          [km], set
 *
 * Never NULL: how far is too far, the caller decides. Checked: tests/parts/test_climate.c, "nearest_area".
 */
const struct climate *climate_nearest(double latitude, double longitude, double *distance_km);

/* The area of that name, ASCII case ignored, else exactly; NULL where there is none. */
const struct climate *climate_find(const char *name);

/*
 * Value of a monthly table on a day, linear between mid-months [unit of the table].
 *
 *   monthly      one mean for each month, January first
 *   day_of_year  1..366; the 366th counts as the 365th
 *
 * The mid-month values are chosen so that the mean over a month is the table's; they differ a little from
 * the table at its peaks. Between two months that are not negative no day is. Own step; checked:
 * test_climate.c, "months_keep_their_means", "days_follow_smoothly".
 */
double climate_on_day(const double monthly[MONTHS], int day_of_year);

#endif

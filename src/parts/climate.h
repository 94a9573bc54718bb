/* climate.h - the shipped table of cruising areas.  Layer: parts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CLIMATE_H
#define BD_CLIMATE_H

#include "boat/site.h"

/* All rows, in the order of the table. */
const struct climate *climate_table(size_t *count);

/* The area nearest to a place (great circle), with its distance in [km]. */
const struct climate *climate_nearest(double latitude, double longitude, double *distance_km);

/* Exact name, case ignored; NULL where there is none. */
const struct climate *climate_find(const char *name);

/*
 * Value of a monthly table on a day, linear between mid-months [unit of the table]. day_of_year 1..366. The
 * mid-month values are chosen so that the mean over a month is the table's; they differ a little from the
 * table at its peaks. Between two months that are not negative no day is.
 */
double climate_on_day(const double monthly[MONTHS], int day_of_year);

#endif

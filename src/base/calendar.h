/* calendar.h - civil dates as day numbers.  Layer: base.  No time zones, no leap seconds.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CALENDAR_H
#define BD_CALENDAR_H

struct date {
    int year, month, day; /* Gregorian; month and day from 1 */
};

/* Days since 1970-01-01, exact for every Gregorian date; the reverse of date_of_number. */
long date_number(struct date date);
struct date date_of_number(long number);

/* 1 where such a day exists. */
int date_valid(struct date date);

/* 1..366. */
int date_day_of_year(struct date date);

/* 0 = Monday .. 6 = Sunday. */
int date_weekday(struct date date);

/* English day and month names; "Monday", "Mon". */
const char *weekday_name(int weekday);
const char *weekday_short(int weekday);

#endif

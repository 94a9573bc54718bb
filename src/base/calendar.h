/* calendar.h - civil dates as day numbers.  Layer: base.  No time zones, no leap seconds.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CALENDAR_H
#define BD_CALENDAR_H

struct date {
    int year, month, day; /* Gregorian; month and day from 1 */
};

/* Days since 1970-01-01, exact for every Gregorian date, before 1582 too; the reverse of date_of_number. A
 * month outside 1..12 or a day past its end is not asked for here: date_valid says. */
long date_number(struct date date);
struct date date_of_number(long number);

/* 1 where such a day exists: month 1..12, day 1 to the month's last, leap years as Gregory's. */
int date_valid(struct date date);

/* 1 for 1 January .. 365, or 366 in a leap year. */
int date_day_of_year(struct date date);

/* 0 = Monday .. 6 = Sunday; the date must be valid. */
int date_weekday(struct date date);

/* English names, "Monday" and "Mon", of 0 = Monday .. 6 and on from there; static, never NULL. */
const char *weekday_name(int weekday);
const char *weekday_short(int weekday);

#endif

/* calendar.c - proleptic Gregorian day numbers (400-year eras of 146097 days).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/calendar.h"

/* After 400 years weekdays and leap years repeat; 719468 days lie between 0000-03-01 and 1970-01-01. */
enum { ERA_YEARS = 400, ERA_DAYS = 146097, DAYS_TO_1970 = 719468 };

/* Counted in years that begin on 1 March, so that the leap day comes last. */
long date_number(struct date date)
{
    long y = date.year - (date.month <= 2);
    long era = (y >= 0 ? y : y - (ERA_YEARS - 1)) / ERA_YEARS;
    long year_of_era = y - era * ERA_YEARS;
    long month_from_march = (date.month + 9) % 12;
    long day_of_year = (153 * month_from_march + 2) / 5 + date.day - 1;
    long day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;

    return era * ERA_DAYS + day_of_era - DAYS_TO_1970;
}

/* The same arithmetic backwards: 1460, 36524 and 146096 take the leap days
 * of 4, 100 and 400 years out again. */
struct date date_of_number(long number)
{
    long n = number + DAYS_TO_1970;
    long era = (n >= 0 ? n : n - (ERA_DAYS - 1)) / ERA_DAYS;
    long day_of_era = n - era * ERA_DAYS;
    long year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    long day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    long month_from_march = (5 * day_of_year + 2) / 153;
    struct date date;

    date.day = (int)(day_of_year - (153 * month_from_march + 2) / 5 + 1);
    date.month = (int)(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
    date.year = (int)(year_of_era + era * ERA_YEARS) + (date.month <= 2);
    return date;
}

int date_valid(struct date date)
{
    struct date back;

    if (date.month < 1 || date.month > 12 || date.day < 1 || date.day > 31)
        return 0;
    back = date_of_number(date_number(date));
    return back.year == date.year && back.month == date.month && back.day == date.day;
}

int date_day_of_year(struct date date)
{
    return (int)(date_number(date) - date_number((struct date){ date.year, 1, 1 })) + 1;
}

int date_weekday(struct date date)
{
    long w = (date_number(date) + 3) % 7; /* 1970-01-01 was a Thursday */

    return (int)(w < 0 ? w + 7 : w);
}

static const char *const weekdays[] = { "Monday", "Tuesday",  "Wednesday", "Thursday",
                                        "Friday", "Saturday", "Sunday" };
static const char *const weekdays_short[] = { "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun" };

const char *weekday_name(int weekday)
{
    return weekdays[weekday % 7];
}

const char *weekday_short(int weekday)
{
    return weekdays_short[weekday % 7];
}

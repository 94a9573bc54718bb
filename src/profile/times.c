/* times.c - clock times, spans, dates, places and cable sizes as typed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "boat/cable.h"
#include "parts/conductor.h"
#include "profile/values.h"

/*
 * Moments and spans of a day, dates, places and sizes of cable, as people type them: "sunset-0:30-sunrise",
 * "38 36 N", "2/0 AWG". Each is tried from the cursor and leaves it in place where it is something else.
 */

static int is_digit(char ch)
{
    return ch >= '0' && ch <= '9';
}

static struct span remains(const struct cursor *c)
{
    struct span rest = cursor_rest(c);

    if (rest.length == 0)
        rest = (struct span){ c->end, 0 };
    return rest;
}

/* least to most digits and no more, as one number; 0 without moving where they are not there. */
static int digits_exactly(struct cursor *c, int least, int most, int *out)
{
    int n = 0, value = 0;

    while (c->at + n < c->end && is_digit(c->at[n]) && n <= most) {
        value = value * 10 + (c->at[n] - '0');
        n++;
    }
    if (n < least || n > most)
        return 0;
    c->at += n;
    *out = value;
    return 1;
}

/* "7:30" or "07:30" or "07:30:15", in seconds; 0 without moving or fault where none stands there. */
static int clock_here(struct cursor *c, int *seconds)
{
    const char *start;
    int h, m, s = 0;

    cursor_ended(c); /* skips blanks */
    start = c->at;
    if (!digits_exactly(c, 1, 2, &h) || c->at == c->end || *c->at++ != ':' || !digits_exactly(c, 2, 2, &m)) {
        c->at = start;
        return 0;
    }
    if (c->at < c->end && *c->at == ':') {
        c->at++;
        if (!digits_exactly(c, 2, 2, &s)) {
            c->at = start;
            return 0;
        }
    }
    *seconds = h * 3600 + m * 60 + s;
    return 1;
}

/* Shows what stands where a time was expected. */
static int fail_time(struct cursor *c, struct span where)
{
    return cursor_fail(
        c, where,
        where.length ? arena_print(c->arena, "\"%.*s\" is not a time of day", (int)where.length, where.at)
                     : "a time of day is missing",
        "write 07:30, or sunrise, sunset, sunset+0:30");
}

/* 24:00 is the end of the day and allowed; minutes and seconds go to 59. */
static int clock_valid(struct cursor *c, const char *start, int seconds)
{
    int minutes_ok = seconds / 3600 <= 24 && seconds <= 86400;
    const char *colon = memchr(start, ':', (size_t)(c->at - start));

    if (minutes_ok && colon && colon[1] <= '5' && (c->at - colon < 4 || colon[4] <= '5'))
        return 1;
    return fail_time(c, (struct span){ start, (size_t)(c->at - start) });
}

/* A hyphen, or the en dash that word processors put there. */
static int dash_here(struct cursor *c)
{
    return cursor_mark(c, "-") || cursor_mark(c, "\xE2\x80\x93");
}

/* "0:30" or "30 min" behind sunset+ or sunset-. */
static int offset_read(struct cursor *c, int sign, int *seconds)
{
    enum { MOST = 12 * 3600 };
    const char *start;
    struct range length;

    cursor_ended(c);
    start = c->at;
    if (clock_here(c, seconds)) {
        if (!clock_valid(c, start, *seconds))
            return 0;
    } else {
        if (!cursor_duration(c, &length))
            return 0;
        *seconds = length.value >= 0 && length.value <= MOST ? (int)lround(length.value) : MOST + 1;
    }
    if (*seconds > MOST)
        return cursor_fail(c, (struct span){ start, (size_t)(c->at - start) },
                           "is more than 12 h from sunrise or sunset", NULL);
    *seconds *= sign;
    return 1;
}

/*
 * "sunset-0:30-23:00" begins half an hour before sunset, "sunset-0:30" runs from sunset to half past
 * midnight: at the beginning of a span a minus is an offset only where another end follows it.
 */
static int minus_is_offset(const struct cursor *c)
{
    struct cursor probe = *c;
    int seconds;

    return dash_here(&probe) && clock_here(&probe, &seconds) &&
           (dash_here(&probe) || cursor_word(&probe, "to"));
}

/* A moment. begins_span: a minus behind sunrise or sunset may be the dash of the span. */
static int day_time_read(struct cursor *c, int begins_span, struct day_time *out)
{
    struct cursor ahead;
    const char *start;

    cursor_ended(c);
    start = c->at;
    *out = (struct day_time){ CLOCK_TIME, 0 };
    if (clock_here(c, &out->seconds))
        return clock_valid(c, start, out->seconds);
    if (cursor_word(c, "sunrise"))
        out->anchor = CLOCK_SUNRISE;
    else if (cursor_word(c, "sunset"))
        out->anchor = CLOCK_SUNSET;
    else {
        struct span rest = remains(c);
        size_t n = 0;

        while (n < rest.length && rest.at[n] != ' ' && rest.at[n] != '-' && rest.at[n] != ',')
            n++;
        return fail_time(c, (struct span){ rest.at, n ? n : rest.length });
    }
    if (cursor_mark(c, "+"))
        return offset_read(c, 1, &out->seconds);
    ahead = *c;
    if (begins_span ? minus_is_offset(c) : dash_here(&ahead)) {
        dash_here(c);
        return offset_read(c, -1, &out->seconds);
    }
    return 1;
}

int cursor_day_time(struct cursor *c, struct day_time *out)
{
    return day_time_read(c, 0, out);
}

int cursor_time_span(struct cursor *c, struct time_span *out)
{
    if (!day_time_read(c, 1, &out->from))
        return 0;
    if (!dash_here(c) && !cursor_word(c, "to"))
        return cursor_fail(c, c->whole, "has a beginning and no end", "write 18:00-23:00 or sunset-23:00");
    return day_time_read(c, 0, &out->to);
}

/* The years that the place of the sun is good for. */
int cursor_date(struct cursor *c, int *year, int *month, int *day)
{
    struct span rest = remains(c);
    int ok = digits_exactly(c, 4, 4, year) && c->at < c->end && *c->at++ == '-' &&
             digits_exactly(c, 2, 2, month) && c->at < c->end && *c->at++ == '-' &&
             digits_exactly(c, 2, 2, day);

    if (!ok)
        return cursor_fail(c, rest,
                           arena_print(c->arena, "\"%.*s\" is not a date", (int)rest.length, rest.at),
                           "write year-month-day: 2026-07-06");
    if (!date_valid((struct date){ *year, *month, *day }) || *year < 1900 || *year > 2099)
        return cursor_fail(c, rest, "there is no such day between 1900 and 2099",
                           "write year-month-day: 2026-07-06");
    return 1;
}

/* Minutes behind whole degrees: "38 36.5 N", "38\xC2\xB0 36' N". Added to *degrees; 0 where they are no
 * minutes. */
static int minutes_here(struct cursor *c, double *degrees)
{
    const char *start;
    double minutes = 0;

    if (cursor_ended(c) || !is_digit(*c->at))
        return 1;
    start = c->at;
    if (!cursor_number(c, &minutes, NULL))
        return 0;
    if (minutes >= 60 || *degrees != floor(*degrees))
        return cursor_fail(c, (struct span){ start, (size_t)(c->at - start) },
                           "does not read as minutes of arc", "write 38.6 N, or 38 36 N");
    cursor_mark(c, "'");
    *degrees += *degrees < 0 ? -minutes / 60 : minutes / 60;
    return 1;
}

/* Degrees, and minutes if there are any, up to the letter. */
static int degrees_read(struct cursor *c, const char *form, double *degrees)
{
    if (!cursor_number(c, degrees, form))
        return 0;
    if (!cursor_mark(c, "\xC2\xB0"))
        cursor_word(c, "deg");
    return minutes_here(c, degrees);
}

int cursor_place_angle(struct cursor *c, char plus, char minus, double limit, struct range *out)
{
    struct span rest = remains(c);
    const char words[2][2] = { { plus, 0 }, { minus, 0 } };
    const char *form = arena_print(c->arena, "write %s %c or %s %c", limit > 90 ? "20.7" : "38.6", plus,
                                   limit > 90 ? "61.8" : "17.5", minus);
    const int signed_typed = rest.length && (rest.at[0] == '-' || rest.at[0] == '+');
    double value;
    int sign = 0;

    if (!degrees_read(c, form, &value))
        return 0;
    sign = cursor_word(c, words[0]) ? 1 : cursor_word(c, words[1]) ? -1 : 0;
    if (sign && signed_typed)
        return cursor_fail(c, rest, "has both a sign and a letter", form);
    if (!sign && !signed_typed && value != 0)
        return cursor_fail(
            c, rest, arena_print(c->arena, "\"%.*s\" does not say which side", (int)rest.length, rest.at),
            form);
    if (fabs(value) > limit)
        return cursor_fail(c, rest, arena_print(c->arena, "is over %g deg", limit), form);
    out->value = out->low = out->high = sign < 0 ? -value : value;
    return 1;
}

/* --- cable sizes --- */

/* "2", "1/0", "2/0", "0", "00", "4/0": the gauge number as awg_area counts, -3 for 4/0. 0 where it is no
 * gauge; the cursor stays then, for it may be square millimetres. */
static int gauge_here(struct cursor *c, int *gauge)
{
    const char *start;
    int n, zeros = 0;

    cursor_ended(c);
    start = c->at;
    while (c->at + zeros < c->end && c->at[zeros] == '0')
        zeros++;
    if (zeros) {
        c->at += zeros;
        *gauge = 1 - zeros;
    } else if (digits_exactly(c, 1, 2, &n)) {
        *gauge = n;
        if (cursor_mark(c, "/0"))
            *gauge = n >= 1 && n <= 4 ? 1 - n : 99;
    } else
        return 0;
    if (cursor_ended(c) || *c->at == '.' || is_digit(*c->at)) {
        c->at = start;
        return 0;
    }
    return 1;
}

/* AWG by its formula for every number; SAE from the table, for it follows no formula. */
static int gauge_area(struct cursor *c, struct span all, int gauge, int sae, double *area)
{
    const struct conductor_size *size;
    const char *label;

    if (!sae && gauge >= -3 && gauge <= 30) {
        *area = awg_area(gauge);
        return 1;
    }
    if (sae && (label = arena_print(c->arena, gauge > 0 ? "%d" : "%d/0", gauge > 0 ? gauge : 1 - gauge)) &&
        (size = conductor_size_find(AREA_SAE, label))) {
        *area = size->area_m2;
        return 1;
    }
    return cursor_fail(
        c, all, arena_print(c->arena, "\"%.*s\" is not a size of that series", (int)all.length, all.at),
        sae ? "18 to 1, or 1/0 to 4/0 SAE" : "30 to 1, or 1/0 to 4/0 AWG");
}

/* "19 x 1.35 mm": so many strands of that diameter. */
static int strands_read(struct cursor *c, int strands, double *area)
{
    struct range diameter;

    if (!cursor_range(c, QUANTITY_LENGTH, &diameter))
        return 0;
    *area = area_from_strands(strands, diameter.value);
    return 1;
}

/* Gauge and strands begin like a plain number, so they are tried first and the cursor goes back. */
int cursor_area(struct cursor *c, struct range *out, int *series)
{
    struct span all = remains(c);
    struct cursor start = *c;
    int gauge, strands;
    double area = 0;

    if (gauge_here(c, &gauge)) {
        int awg = cursor_word(c, "AWG"), sae = !awg && cursor_word(c, "SAE");

        if (awg || sae) {
            *series = awg ? AREA_AWG : AREA_SAE;
            if (!gauge_area(c, all, gauge, sae, &area))
                return 0;
            out->value = out->low = out->high = area;
            return 1;
        }
    }
    *c = start;
    if (digits_exactly(c, 1, 5, &strands) && cursor_word(c, "x")) {
        *series = AREA_STRANDS;
        if (!strands_read(c, strands, &area))
            return 0;
        out->value = out->low = out->high = area;
        return 1;
    }
    *c = start;
    *series = AREA_METRIC;
    if (cursor_range(c, QUANTITY_AREA, out))
        return 1;
    c->fault.hint = "write 35 mm2, 2 AWG, 8 SAE or 19 x 1.35 mm";
    return 0;
}

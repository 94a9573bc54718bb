/* test_values.c - the small language behind the equals sign, row by row.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/values.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "boat/cable.h"
#include "support/test.h"

TEST(ranges)
{
    static const struct {
        const char *text;
        enum quantity quantity;
        double value, low, high;
    } rows[] = {
        { "45 W", QUANTITY_POWER, 45, 45, 45 },
        { "45W", QUANTITY_POWER, 45, 45, 45 },
        { "  1.5   kW ", QUANTITY_POWER, 1500, 1500, 1500 },
        { "1e3 W", QUANTITY_POWER, 1000, 1000, 1000 },
        { "2.5e-1 kW", QUANTITY_POWER, 250, 250, 250 },
        { "+7 W", QUANTITY_POWER, 7, 7, 7 },
        { "0 W", QUANTITY_POWER, 0, 0, 0 },
        { ".5 W", QUANTITY_POWER, 0.5, 0.5, 0.5 },
        { "5W\xC2\xB1"
          "1W",
          QUANTITY_POWER, 5, 4, 6 },
        { "40..60 W", QUANTITY_POWER, 50, 40, 60 },
        { "40 .. 60 W", QUANTITY_POWER, 50, 40, 60 },
        { "40 W..60 W", QUANTITY_POWER, 50, 40, 60 },
        { "800 W..1.2 kW", QUANTITY_POWER, 1000, 800, 1200 },
        { "0.5..1.5 kW", QUANTITY_POWER, 1000, 500, 1500 },
        { "40\xE2\x80\xA6"
          "60 W",
          QUANTITY_POWER, 50, 40, 60 },
        { "-10..-5 C", QUANTITY_TEMPERATURE, -7.5, -10, -5 },
        { "5.5 m +/- 20 %", QUANTITY_LENGTH, 5.5, 4.4, 6.6 },
        { "5 m +/- 1 m", QUANTITY_LENGTH, 5, 4, 6 },
        { "5 m +/- 10 cm", QUANTITY_LENGTH, 5, 4.9, 5.1 },
        { "5 m \xC2\xB1 1 m", QUANTITY_LENGTH, 5, 4, 6 },
        { "5m+/-20%", QUANTITY_LENGTH, 5, 4, 6 },
        { "45 % +/- 5 %", QUANTITY_SHARE, 0.45, 0.40, 0.50 }, /* points of a share, not a share of it */
        { "20 C +/- 9 F", QUANTITY_TEMPERATURE, 20, 15, 25 }, /* a difference has no offset */
        { "100 ft", QUANTITY_LENGTH, 30.48, 30.48, 30.48 },
        { "77 F", QUANTITY_TEMPERATURE, 25, 25, 25 },
        { "-40 F", QUANTITY_TEMPERATURE, -40, -40, -40 },
        { "25 \xC2\xB0"
          "C",
          QUANTITY_TEMPERATURE, 25, 25, 25 },
        { "0.3 m\xCE\xA9", QUANTITY_RESISTANCE, 3e-4, 3e-4, 3e-4 },
        { "0.3 mohm", QUANTITY_RESISTANCE, 3e-4, 3e-4, 3e-4 },
        { "-0.35 %/K", QUANTITY_PER_KELVIN, -0.0035, -0.0035, -0.0035 },
        { "1600 rpm", QUANTITY_SPEED, 1600, 1600, 1600 },
        { "1600 1/min", QUANTITY_SPEED, 1600, 1600, 1600 },
        { "18 MJ/m2", QUANTITY_IRRADIATION, 5, 5, 5 },
        { "1.06", QUANTITY_NUMBER, 1.06, 1.06, 1.06 },
        { "2..4", QUANTITY_NUMBER, 3, 2, 4 },
        { "90 min", QUANTITY_DURATION, 5400, 5400, 5400 },
        { "1 gal/h", QUANTITY_FUEL_FLOW, 3.785411784, 3.785411784, 3.785411784 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        struct range got = { .value = NAN };
        const double tolerance = 1e-12 * fmax(1, fabs(rows[i].value));

        if (!cursor_range(&c, rows[i].quantity, &got) || !cursor_close(&c, NULL))
            fail_msg("%s: %s", rows[i].text, c.fault.message);
        row_check(rows[i].text, got.value, rows[i].value, tolerance, "by hand");
        row_check(rows[i].text, got.low, rows[i].low, tolerance, "by hand: low");
        row_check(rows[i].text, got.high, rows[i].high, tolerance, "by hand: high");
        arena_free(arena);
    }
    row_done();
}

/* A number is the nearest double to what was typed: the compiler's own reading of it. */
TEST(numbers_are_correctly_rounded)
{
    static const struct {
        const char *text;
        double want;
    } rows[] = {
#define ROW(x) { #x, x }
        ROW(0.1),          ROW(0.3),         ROW(123.456),    ROW(0.000001234), ROW(999999999999999),
        ROW(1.7976931e22), ROW(5.06707e-10), ROW(0.45359237), ROW(3.785411784), ROW(2.2250738585),
        ROW(1e-22),        ROW(12.8),        ROW(0.05),       ROW(100.10),      ROW(007.5),
#undef ROW
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        double got = NAN;

        cursor_number(&c, &got, NULL);
        row_check(rows[i].text, got, rows[i].want, 0, "by hand: the compiler's reading");
        arena_free(arena);
    }
    row_done();
}

TEST(ranges_refused)
{
    static const struct {
        const char *text;
        enum quantity quantity;
        const char *message, *hint;
    } rows[] = {
        { "", QUANTITY_POWER, "a number is missing", "write 5 W or 5 kW" },
        { "45", QUANTITY_POWER, "\"45\" has no unit", "write 45 W or 45 kW" },
        { "45 ", QUANTITY_VOLTAGE, "\"45\" has no unit", "write 45 V" },
        { "6", QUANTITY_LENGTH, "\"6\" has no unit", "write 6 m or 6 ft" },
        { "0.4", QUANTITY_SHARE, "\"0.4\" has no unit", "write 40 %" },
        { "40", QUANTITY_SHARE, "\"40\" has no unit", "write 40 %" },
        { "40..60", QUANTITY_POWER, "\"60\" has no unit", "write 60 W or 60 kW" },
        { "1,5 m", QUANTITY_LENGTH, "\"1,5\" has a comma in a number",
          "the decimal mark is a point: write 1.5" },
        { "1,500 W", QUANTITY_POWER, "\"1,500\" has a comma in a number",
          "write 1500 without a comma, or 1.500 with a point" },
        { ". m", QUANTITY_LENGTH, "\".\" is not a number", "write 5 m or 5 ft" },
        { "5. m", QUANTITY_LENGTH, "\"5\" has no unit", "write 5 m or 5 ft" },
        { "- 5 m", QUANTITY_LENGTH, "\"-\" is not a number", "write 5 m or 5 ft" },
        { "4 m", QUANTITY_DURATION, "\"m\" is a unit of length, and a length of time is needed here",
          "write 4 s or 4 min or 4 h" },
        { "4 hrs", QUANTITY_DURATION, "\"hrs\" is not a known unit", "write 4 s or 4 min or 4 h" },
        { "3 kw", QUANTITY_POWER, "\"kw\" is not a known unit", "write 3 kW" },
        { "5 x", QUANTITY_POWER, "\"5\" has no unit", "write 5 W or 5 kW" },
        { "2 %", QUANTITY_NUMBER, "\"%\" is a unit of percentage, and a number is needed here",
          "write 2 alone" },
        { "60..40 W", QUANTITY_POWER, "the range runs from high to low", "write the smaller end first" },
        { "5 m +/- -1 m", QUANTITY_LENGTH, "a spread cannot be negative", NULL },
        { "5 m +/- 1", QUANTITY_LENGTH, "\"1\" has no unit", "write 1 m or 1 ft" },
        { "1234567890.12345678 W", QUANTITY_POWER, "has more digits than can be kept",
          "15 digits are the most" },
        { "1e400 W", QUANTITY_POWER, "has more digits than can be kept", "15 digits are the most" },
        { "nan W", QUANTITY_POWER, "\"nan\" is not a number", "write 5 W or 5 kW" },
        { "inf W", QUANTITY_POWER, "\"inf\" is not a number", "write 5 W or 5 kW" },
        { "0x10 W", QUANTITY_POWER, "\"x10\" is not a known unit", "write 0 W or 0 kW" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        struct range got;

        if (cursor_range(&c, rows[i].quantity, &got))
            fail_msg("\"%s\" was taken as %g", rows[i].text, got.value);
        assert_string_equal(c.fault.message, rows[i].message);
        if (rows[i].hint)
            assert_string_equal(c.fault.hint, rows[i].hint);
        else
            assert_null(c.fault.hint);
        arena_free(arena);
    }
}

TEST(either_of_two)
{
    struct arena *arena = arena_new();
    struct cursor c = cursor_make(arena, span_of("3..4 A"));
    enum quantity got;
    struct range range;

    assert_true(cursor_range_either(&c, QUANTITY_POWER, QUANTITY_CURRENT, &range, &got));
    assert_int_equal(got, QUANTITY_CURRENT);
    assert_true(range.low == 3 && range.high == 4);
    c = cursor_make(arena, span_of("3 A..4 W"));
    assert_false(cursor_range_either(&c, QUANTITY_POWER, QUANTITY_CURRENT, &range, &got));
    arena_free(arena);
}

enum { T = CLOCK_TIME, R = CLOCK_SUNRISE, S = CLOCK_SUNSET };

TEST(time_spans)
{
    static const struct {
        const char *text;
        int from_anchor, from, to_anchor, to; /* [s] */
    } rows[] = {
        { "18:00-08:00", T, 64800, T, 28800 },
        { "18:00 - 08:00", T, 64800, T, 28800 },
        { "7:05-24:00", T, 25500, T, 86400 },
        { "00:00-00:00", T, 0, T, 0 },
        { "12:00:30-12:01", T, 43230, T, 43260 },
        { "18:00 to sunrise", T, 64800, R, 0 },
        { "18:00\xE2\x80\x93"
          "19:00",
          T, 64800, T, 68400 },
        { "sunset-23:00", S, 0, T, 82800 },
        { "sunset-sunrise", S, 0, R, 0 },
        { "Sunset - Sunrise", S, 0, R, 0 },
        { "sunset-0:30", S, 0, T, 1800 },            /* to half past midnight */
        { "sunset-0:30-23:00", S, -1800, T, 82800 }, /* from half an hour before sunset */
        { "sunset+0:30-23:00", S, 1800, T, 82800 },
        { "sunset+30 min-23:00", S, 1800, T, 82800 },
        { "sunset-0:30-sunrise+0:15", S, -1800, R, 900 },
        { "20:00-sunrise-1:00", T, 72000, R, -3600 },
        { "sunset-1:00 to sunrise-1:00", S, -3600, R, -3600 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        struct time_span got = { 0 };

        if (!cursor_time_span(&c, &got) || !cursor_close(&c, NULL))
            fail_msg("%s: %s", rows[i].text, c.fault.message);
        if ((int)got.from.anchor != rows[i].from_anchor || (int)got.to.anchor != rows[i].to_anchor)
            fail_msg("%s: wrong anchor", rows[i].text);
        row_check(rows[i].text, got.from.seconds, rows[i].from, 0, "by hand");
        row_check(rows[i].text, got.to.seconds, rows[i].to, 0, "by hand: end");
        arena_free(arena);
    }
    row_done();
}

TEST(time_spans_refused)
{
    static const char *const rows[] = {
        "18:00",       "18-19",          "18:0-19:00",    "24:01-25:00",
        "18:60-19:00", "12:00:60-13:00", "noon-13:00",    "sunset",
        "-",           "18:00-",         "sunset+-23:00", "sunset+13:00-23:00",
        "1800-1900",   "118:00-19:00",   "18:000-19:00",  ""
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i]));
        struct time_span got;

        if (cursor_time_span(&c, &got) && cursor_close(&c, NULL))
            fail_msg("\"%s\" was taken as a span", rows[i]);
        assert_non_null(c.fault.message);
        arena_free(arena);
    }
}

TEST(dates)
{
    static const struct {
        const char *text;
        int ok;
    } rows[] = {
        { "2026-07-06", 1 }, { "2024-02-29", 1 }, { "2026-02-29", 0 }, { "2026-13-01", 0 },
        { "2026-7-6", 0 },   { "1899-12-31", 0 }, { "06.07.2026", 0 }, { "2026-07-06x", 0 },
        { "2026-07", 0 },    { "", 0 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        int y = 0, m = 0, d = 0;

        assert_int_equal(cursor_date(&c, &y, &m, &d) && cursor_close(&c, NULL), rows[i].ok);
        if (rows[i].ok)
            assert_true(y >= 2024 && m == rows[i].text[6] - '0');
        arena_free(arena);
    }
}

TEST(places)
{
    static const struct {
        const char *text;
        double want; /* 999: refused */
    } rows[] = {
        { "38.6 N", 38.6 },   { "38.6N", 38.6 },
        { "38.6 S", -38.6 },  { "-38.6 deg", -38.6 },
        { "+38.6", 38.6 },    { "38.6\xC2\xB0 N", 38.6 },
        { "0", 0 },           { "90 S", -90 },
        { "38.6", 999 },      { "-38.6 N", 999 },
        { "91 N", 999 },      { "38.6 E", 999 },
        { "38,6 N", 999 },    { "N", 999 },
        { "38 36 N", 38.6 },  { "38\xC2\xB0 36' S", -38.6 },
        { "-38 36", -38.6 },  { "38 60 N", 999 },
        { "38.5 30 N", 999 }, { "89 60 N", 999 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        struct range got = { 0 };
        int ok = cursor_place_angle(&c, 'N', 'S', 90, &got) && cursor_close(&c, NULL);

        row_check(rows[i].text, ok ? got.value : 999, rows[i].want, 1e-14 * 90, "by hand");
        arena_free(arena);
    }
    row_done();
}

/* AWG areas: ASTM B258 as printed in NEC chapter 9 table 8 (circular mils), 0.506707e-3 mm2 each. */
TEST(areas)
{
    static const struct {
        const char *text;
        int series;
        double mm2, tolerance;
        const char *source;
    } rows[] = {
        { "35 mm2", AREA_METRIC, 35, 1e-9, "by hand" },
        { "2.5 mm\xC2\xB2", AREA_METRIC, 2.5, 1e-9, "by hand" },
        { "10 AWG", AREA_AWG, 10380 * 0.506707e-3, 0.003, "ASTM B258, 10380 circular mils" },
        { "14 AWG", AREA_AWG, 4110 * 0.506707e-3, 0.002, "ASTM B258, 4110 circular mils" },
        { "2 AWG", AREA_AWG, 66360 * 0.506707e-3, 0.01, "ASTM B258, 66360 circular mils" },
        { "2AWG", AREA_AWG, 66360 * 0.506707e-3, 0.01, "ASTM B258, 66360 circular mils" },
        { "1/0 AWG", AREA_AWG, 105600 * 0.506707e-3, 0.04, "ASTM B258, 105600 circular mils" },
        { "0 awg", AREA_AWG, 105600 * 0.506707e-3, 0.04, "ASTM B258, 105600 circular mils" },
        { "00 AWG", AREA_AWG, 133100 * 0.506707e-3, 0.04, "ASTM B258, 133100 circular mils" },
        { "4/0 AWG", AREA_AWG, 211600 * 0.506707e-3, 0.04, "ASTM B258, 211600 circular mils" },
        { "8 SAE", AREA_SAE, 14810 * 0.506707e-3, 0.001, "SAE J1127, 14810 circular mils" },
        { "4/0 SAE", AREA_SAE, 205500 * 0.506707e-3, 0.001, "SAE J1127, 205500 circular mils" },
        { "19 x 1.35 mm", AREA_STRANDS, 27.196, 0.001, "by hand: 19 pi/4 1.35^2" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i].text));
        struct range got = { 0 };
        int series = -1;

        if (!cursor_area(&c, &got, &series) || !cursor_close(&c, NULL))
            fail_msg("%s: %s", rows[i].text, c.fault.message);
        row_check(rows[i].text, got.value * 1e6, rows[i].mm2, rows[i].tolerance, rows[i].source);
        assert_int_equal(series, rows[i].series);
        arena_free(arena);
    }
    row_done();
}

TEST(areas_refused)
{
    static const char *const rows[] = { "35",     "35 mm",  "2 AVG",   "5/0 AWG", "99 AWG", "9 SAE",
                                        "19 x 1", "x 1 mm", "2.5 AWG", "0/0 AWG", "",       "35 AWG mm2" };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena *arena = arena_new();
        struct cursor c = cursor_make(arena, span_of(rows[i]));
        struct range got;
        int series;

        if (cursor_area(&c, &got, &series) && cursor_close(&c, NULL))
            fail_msg("\"%s\" was taken as an area", rows[i]);
        assert_non_null(c.fault.message);
        arena_free(arena);
    }
}

TEST(values_as_typed)
{
    struct arena *arena = arena_new();

    assert_string_equal(value_text(arena, 0.5, QUANTITY_SHARE), "50 %");
    assert_string_equal(value_text(arena, 14.4, QUANTITY_VOLTAGE), "14.4 V");
    assert_string_equal(value_text(arena, 0.003636, QUANTITY_RESISTANCE), "3.636 mohm");
    assert_string_equal(value_text(arena, 1.15, QUANTITY_NUMBER), "1.15");
    assert_string_equal(value_text(arena, -0.0035, QUANTITY_PER_KELVIN), "-0.35 %/K");
    assert_string_equal(value_text(arena, 230, QUANTITY_CURRENT), "230 A");
    assert_string_equal(value_text(arena, 35e-6, QUANTITY_AREA), "35 mm2");
    arena_free(arena);
}

/* test_weather.c - records of daily sun: by days, and hourly summed to days.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/profiles.h"
#include "support/run.h"
#include "support/test.h"

/* A profile beside a weather file of that text. */
static struct test_reading with_weather(const char *weather)
{
    char *folder = folder_new(), path[512], beside[512];
    struct test_reading t;

    file_put(path_in(beside, folder, "sun.csv"), weather);
    file_put(path_in(path, folder, "boat.ini"),
             "[site]\nlatitude = 38.6 N\nlongitude = 20.7 E\nweather = sun.csv\n");
    t = test_read_file(path, NULL);
    folder_remove(folder);
    return t;
}

static void refused(const char *weather, const char *piece)
{
    struct test_reading t = with_weather(weather);

    assert_int_equal(t.status, STATUS_REFUSED);
    if (!strstr(test_remarks(&t), piece))
        fail_msg("\"%s\" is not among the remarks:\n%s", piece, test_remarks(&t));
    test_reading_free(&t);
}

TEST(days)
{
    struct test_reading t =
        with_weather("date,irradiation_kwh_m2,air_c\r\n2026-07-01,6.5,24\r\n2026-07-03, 2.25 ,21.5\r\n");
    const struct site *s = &t.boat->site;

    assert_int_equal(t.status, STATUS_OK);
    assert_int_equal(s->sky, SKY_WEATHER);
    assert_int_equal(s->weather_count, 2);
    row_check("first", s->weather[0].irradiation, 6.5, 0, "by hand");
    row_check("second", s->weather[1].irradiation, 2.25, 0, "by hand");
    row_check("air", s->weather[1].air_temperature, 21.5, 0, "by hand");
    row_done();
    assert_true(s->weather[1].year == 2026 && s->weather[1].month == 7 && s->weather[1].day == 3);
    assert_true(s->weather[0].has_temperature);
    assert_null(test_assumption(t.boat, "site", "air_temperature")); /* the record has it */
    test_reading_free(&t);
}

TEST(columns_in_any_order_and_air_missing)
{
    struct test_reading t =
        with_weather("air_c,note,irradiation_kwh_m2,date\n,x,6.5,2026-07-01\n20,y,6,2026-07-02\n");

    assert_int_equal(t.status, STATUS_OK);
    assert_false(t.boat->site.weather[0].has_temperature);
    assert_true(t.boat->site.weather[1].has_temperature);
    assert_non_null(test_assumption(t.boat, "site", "air_temperature"));
    test_reading_free(&t);
}

/* Two days of an hourly file: 500 Wh/m2 in each of 12 hours, then 250; air 10 at night and 20 by day. */
TEST(hours)
{
    char *text = malloc(20000), *p = text;
    struct test_reading t;

    assert_non_null(text);
    p += sprintf(p, "LOCATION,Somewhere,-,GRC,invented,0,38.6,20.7,2.0,5\nDESIGN CONDITIONS,0\n"
                    "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n");
    for (int day = 1; day <= 2; day++)
        for (int hour = 1; hour <= 24; hour++)
            p += sprintf(p, "1999,7,%d,%d,60,?9?9,%d,9,50,101300,0,0,300,%d,0,0\n", day, hour,
                         hour > 6 && hour <= 18 ? 20 : 10, hour > 6 && hour <= 18 ? 500 / day : 0);
    t = with_weather(text);
    if (t.status != STATUS_OK)
        fail_msg("%s", test_remarks(&t));
    assert_int_equal(t.boat->site.weather_count, 2);
    row_check("first day", t.boat->site.weather[0].irradiation, 6, 1e-12, "by hand");
    row_check("second day", t.boat->site.weather[1].irradiation, 3, 1e-12, "by hand");
    row_check("mean air", t.boat->site.weather[0].air_temperature, 15, 1e-12, "by hand");
    row_done();
    assert_true(t.boat->site.weather[1].month == 7 && t.boat->site.weather[1].day == 2);
    test_reading_free(&t);
    free(text);
}

TEST(faults)
{
    refused("day,sun\n", "/sun.csv:1: error: is no head of a weather file");
    refused("date,irradiation_kwh_m2\n", "holds no day");
    refused("", "/sun.csv: error: is empty");
    refused("date,irradiation_kwh_m2\n2026-07-01\n", "has 1 columns, and one is missing");
    refused("date,irradiation_kwh_m2\n2026-07-01,6,1\n1.7.2026,5\n",
            "/sun.csv:3: error: \"1.7.2026\" is not a date");
    refused("date,irradiation_kwh_m2\n2026-07-02,6\n2026-07-01,5\n",
            "/sun.csv:3: error: is not after the day above it");
    refused("date,irradiation_kwh_m2\n2026-07-02,60\n", "0..15 is allowed");
    refused("LOCATION,Somewhere\nnothing more\n", "ends before its DATA PERIODS line");
    refused("LOCATION,Somewhere\nDATA PERIODS,1\n1999,7,1,1,60,x,20,9,50,101300,0,0,300,9999,0\n",
            "the global radiation of this hour is missing");
}

/* A file of another kind altogether must not flood the user. */
TEST(faults_are_few)
{
    char *text = malloc(100000), *p = text;
    struct test_reading t;

    assert_non_null(text);
    p += sprintf(p, "date,irradiation_kwh_m2\n");
    for (int i = 0; i < 5000; i++)
        p += sprintf(p, "nonsense,%d\n", i);
    t = with_weather(text);
    assert_int_equal(t.diags->errors, 20);
    test_reading_free(&t);
    free(text);
}

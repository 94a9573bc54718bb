/* test_climate.c - the table of cruising areas and its look-ups.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/climate.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/calendar.h"
#include "parts/sky.h"
#include "support/test.h"

static const int month_days[MONTHS] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };

/* Annual means and daily clearness computed from the same files by another program. */
static const struct {
    const char *name;
    double annual;  /* [kWh/m2 day] */
    double january; /* [-] clearness */
    double july;
    const char *source;
} known[] = {
    { "Virgin Islands", 5.52, 0.544, 0.553, "VIR_Charlotte.Amalie-Harry.S.Truman.AP.785430_TMY3.epw" },
    { "Martinique", 5.52, 0.584, 0.567, "MTQ_Fort-de-France.789250_IWEC.epw" },
    { "Key West", 5.17, 0.533, 0.555, "USA_FL_Key.West.Intl.AP.722010_TMY3.epw" },
    { "San Diego", 5.14, 0.552, 0.638, "USA_CA_San.Diego-Lindbergh.Field.722900_TMY3.epw" },
    { "Hawaii", 5.35, 0.545, 0.595, "USA_HI_Honolulu.Intl.AP.911820_TMY3.epw" },
    { "Fiji", 5.38, 0.531, 0.581, "FJI_Nadi.916800_IWEC.epw" },
    { "Auckland", 4.11, 0.524, 0.483, "NZL_Auckland-Auckland.AK.931190_NIWA.epw" },
    { "Whitsundays", 5.85, 0.587, 0.657, "AUS_QLD.Mackay.943670_RMY.epw" },
    { "Singapore", 4.58, 0.457, 0.485, "SGP_Singapore.486980_IWEC.epw" },
    { "Mallorca", 4.52, 0.525, 0.622, "ESP_Palma.083060_SWEC.epw" },
    { "Sardinia", 3.56, 0.322, 0.563, "ITA_Olbia-Costa.Smeralda.165310_IGDG.epw; winter reads" },
    { "Sicily", 4.01, 0.348, 0.594, "ITA_Trapani-Birgi.164290_IGDG.epw; winter reads" },
    { "Athens", 4.57, 0.449, 0.666, "GRC_Athens.167160_IWEC.epw" },
    { "Ionian", 4.16, 0.387, 0.647, "GRC_Andravida.166820_IWEC.epw" },
    { "Canaries", 5.33, 0.592, 0.603, "ESP_Las.Palmas.600300_SWEC.epw" },
    { "Brest", 2.97, 0.288, 0.457, "FRA_Brest.071100_IWEC.epw" },
    { "Bergen", 2.05, 0.220, 0.374, "NOR_Bergen.013110_IWEC.epw" },
    { "Reykjavik", 2.14, 0.254, 0.401, "ISL_Reykjavik.040300_IWEC.epw" },
};

/* Mean of the extraterrestrial radiation over the days of a month [kWh/m2 day]. */
static double outside(double latitude, int month)
{
    int first = date_day_of_year((struct date){ 2026, month + 1, 1 });
    double sum = 0.0;

    for (int d = 0; d < month_days[month]; d++)
        sum += sky_extraterrestrial_day(latitude, first + d);
    return sum / month_days[month];
}

TEST(rows_agree_with_their_files)
{
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        const struct climate *row = climate_find(known[i].name);
        double annual = 0.0;

        assert_non_null(row);
        for (int m = 0; m < MONTHS; m++)
            annual += row->irradiation[m] * month_days[m] / 365.0;
        assert_int_equal(strncmp(row->source, known[i].source, strlen(known[i].source)), 0);
        row_check(known[i].name, annual, known[i].annual, 0.012, known[i].source);
        row_check(known[i].name, row->irradiation[0] / outside(row->latitude, 0), known[i].january, 0.012,
                  known[i].source);
        row_check(known[i].name, row->irradiation[6] / outside(row->latitude, 6), known[i].july, 0.012,
                  known[i].source);
    }
    row_done();
}

static void check_name(const char *name)
{
    assert_true(strlen(name) >= 3 && strlen(name) <= 20);
    for (const char *c = name; *c; c++)
        assert_true(isalpha((unsigned char)*c) || *c == ' ');
}

TEST(names_are_easy_to_type_and_unique)
{
    size_t count;
    const struct climate *rows = climate_table(&count);

    assert_true(count >= 60);
    for (size_t i = 0; i < count; i++) {
        check_name(rows[i].name);
        for (size_t k = 0; k < i; k++)
            assert_true(strcasecmp(rows[i].name, rows[k].name) != 0);
    }
}

TEST(values_are_possible)
{
    size_t count, remembered = 0;
    const struct climate *rows = climate_table(&count);

    for (size_t i = 0; i < count; i++) {
        const struct climate *row = &rows[i];
        int memory = strcmp(row->source, "from memory") == 0;

        remembered += (size_t)memory;
        assert_true(memory || strstr(row->source, ".epw"));
        assert_true(fabs(row->latitude) < 70.0 && fabs(row->longitude) <= 180.0);
        assert_true(row->clearness_sd > 0.05 && row->clearness_sd < 0.2);
        assert_true(row->clearness_lag > 0.05 && row->clearness_lag < 0.5);
        for (int m = 0; m < MONTHS; m++) {
            double clearness = row->irradiation[m] / outside(row->latitude, m);

            assert_true(clearness > 0.17 && clearness < 0.78);
            assert_true(row->air_temperature[m] > -5.0 && row->air_temperature[m] < 32.0);
            assert_true(row->wind[m] >= 0.0 && row->wind[m] < 9.0);
        }
    }
    assert_int_equal(remembered, 20);
}

TEST(find_by_name)
{
    assert_ptr_equal(climate_find("ionian"), climate_find("IONIAN"));
    assert_string_equal(climate_find("virgin islands")->name, "Virgin Islands");
    assert_null(climate_find("Ionia"));
    assert_null(climate_find(""));
}

TEST(nearest_area)
{
    double km;

    assert_string_equal(climate_nearest(38.6, 20.7, &km)->name, "Ionian"); /* Lefkada */
    row_check("Lefkada to Andravida [km]", km, 91.0, 1.0, "by hand");
    assert_string_equal(climate_nearest(18.4, -64.6, &km)->name, "Virgin Islands"); /* Tortola */
    assert_string_equal(climate_nearest(-17.0, -179.9, &km)->name, "Fiji");         /* across the date line */
    assert_true(km < 320.0);
    assert_string_equal(climate_nearest(14.60, -61.00, &km)->name, "Martinique");
    row_check("at the place itself [km]", km, 0.0, 1e-9, "by hand");
    climate_nearest(90.0, 0.0, &km);
    row_check("from the pole to Reykjavik [km]", km, (90.0 - 64.13) * 111.195, 1.0, "by hand");
    row_done();
}

static double month_mean(const double monthly[MONTHS], int month)
{
    int first = date_day_of_year((struct date){ 2026, month + 1, 1 });
    double sum = 0.0;

    for (int d = 0; d < month_days[month]; d++)
        sum += climate_on_day(monthly, first + d);
    return sum / month_days[month];
}

/* Irradiation within 1 % of the month and 0.02 kWh/m2, air within 0.15 K. */
TEST(months_keep_their_means)
{
    size_t count;
    const struct climate *rows = climate_table(&count);

    for (size_t i = 0; i < count; i++)
        for (int m = 0; m < MONTHS; m++) {
            double light = rows[i].irradiation[m];

            row_check(rows[i].name, month_mean(rows[i].irradiation, m), light, 0.01 * light + 0.02, "property");
            row_check(rows[i].name, month_mean(rows[i].air_temperature, m), rows[i].air_temperature[m], 0.15,
                      "property");
        }
    row_done();
}

TEST(days_follow_smoothly)
{
    static const double level[MONTHS] = { 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5 };
    static const double spike[MONTHS] = { 5.0, 0.0, 5.0, 0.0, 5.0, 0.0, 5.0, 0.0, 5.0, 0.0, 5.0, 0.0 };
    const struct climate *ionian = climate_find("Ionian");

    for (int n = 1; n <= 366; n++) {
        double today = climate_on_day(ionian->irradiation, n);
        double tomorrow = climate_on_day(ionian->irradiation, n >= 365 ? 1 : n + 1);

        assert_true(fabs(today - tomorrow) < 0.08);
        assert_true(fabs(climate_on_day(level, n) - 5.5) < 1e-12);
        assert_true(climate_on_day(spike, n) >= 0.0);
    }
}

/* sheets_sun.c - one day of sun and panels as tables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "base/calendar.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/*
 * One day: a single row of sums and times, and a row for each hour. Times are local: with a date for
 * machines, as clock times for people.
 */

/* The first five names are fixed. */
static const struct column hour_columns[] = {
    { TIME(sun_row, time_s, "time", "Time"), .where = SHOW_CSV | SHOW_JSON },
    { CLOCK(sun_row, time_s, "time", "Time"), .where = SHOW_TEXT | SHOW_HTML },
    { REAL(sun_row, elevation_deg, "elevation_deg", "Elevation", "\u00b0"), .decimals = 1 },
    { REAL(sun_row, azimuth_deg, "azimuth_deg", "Azimuth", "\u00b0"), .decimals = 1 },
    { REAL(sun_row, clear_sky_w_m2, "clear_sky_w_m2", "Clear sky", "W/m2"), .decimals = 0 },
    { REAL(sun_row, panel_w, "panel_w", "Panels", "W"), .decimals = 0 },
    { REAL(sun_row, horizontal_w_m2, "horizontal_w_m2", "Mean day", "W/m2"), .decimals = 0 },
    { REAL(sun_row, diffuse_w_m2, "diffuse_w_m2", "of it diffuse", "W/m2"), .decimals = 0 },
    { REAL(sun_row, cell_c, "cell_c", "Cells", "\u00b0C"), .decimals = 0 },
};
static const struct row_kind hour_kind = ROW_KIND("Hours", hour_columns, sun_row);

static const struct column top_columns[] = {
    { TEXT(sun_day, boat, "boat", "Boat"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(sun_day, place, "place", "Place"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(sun_day, kind, "kind", "Kind of day") },
    { REAL(sun_day, latitude_deg, "latitude_deg", "Latitude", "\u00b0"), .decimals = 2 },
    { REAL(sun_day, longitude_deg, "longitude_deg", "Longitude", "\u00b0"), .decimals = 2 },
    { REAL(sun_day, utc_offset_h, "utc_offset_h", "Clock ahead of UTC", "h"), .decimals = 1 },
    { TIME(sun_day, sunrise_s, "sunrise", "Sunrise"), .where = SHOW_CSV | SHOW_JSON },
    { TIME(sun_day, sunset_s, "sunset", "Sunset"), .where = SHOW_CSV | SHOW_JSON },
    { TIME(sun_day, noon_s, "noon", "Noon"), .where = SHOW_CSV | SHOW_JSON },
    { CLOCK(sun_day, sunrise_s, "sunrise", "Sunrise"), .where = SHOW_TEXT | SHOW_HTML },
    { CLOCK(sun_day, noon_s, "noon", "Sun highest"), .where = SHOW_TEXT | SHOW_HTML },
    { CLOCK(sun_day, sunset_s, "sunset", "Sunset"), .where = SHOW_TEXT | SHOW_HTML },
    { REAL(sun_day, day_length_h, "day_length_h", "Day length", "h"), .decimals = 2 },
    { REAL(sun_day, clear_sky_kwh_m2, "clear_sky_kwh_m2", "Clear sky, on the flat", "kWh/m2"),
      .decimals = 2 },
    { REAL(sun_day, irradiation_kwh_m2, "irradiation_kwh_m2", "Mean day, on the flat", "kWh/m2"),
      .decimals = 2 },
    { REAL(sun_day, clearness, "clearness", "Clearness of the mean day", NULL), .decimals = 3 },
    { REAL(sun_day, panel_rated_w, "panel_rated_w", "Panels, rated", "W"), .decimals = 0 },
    { REAL(sun_day, panel_wh, "panel_wh", "Panels, mean day", "Wh"), .decimals = 0 },
};
static const struct row_kind top_kind = ROW_KIND("The day", top_columns, sun_day);

const struct sheet *sheet_sun(struct arena *arena, const struct sun_day *day)
{
    long number = date_number((struct date){ day->year, day->month, day->day });
    const char *date = dates_text(arena, number, number);
    struct sheet_maker maker =
        sheet_begin(arena, date ? arena_print(arena, "Sun and panels on %s", date) : NULL,
                    listed(arena, day->boat, day->place, NULL, NULL));

    maker.sheet.year = day->year;
    maker.sheet.month = day->month;
    maker.sheet.day = day->day;
    add_table(&maker, (struct table){ .kind = &top_kind, .rows = day, .single = 1 });
    add_table(&maker, (struct table){ .name = "hours", .kind = &hour_kind, .rows = day->hours,
                                      .row_count = day->hour_count, .csv = 1 });
    if (day->polar)
        add_note(&maker,
                 day->polar > 0 ? "The sun does not set on this day." : "The sun does not rise on this day.");
    add_caution(&maker, CAUTION_PLANNING);
    return sheet_made(&maker);
}

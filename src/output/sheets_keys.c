/* sheets_keys.c - the key reference and the table of cruising areas.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"

static const struct column key_columns[] = {
    { TEXT(key_row, section, "section", "Section"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(key_row, key, "key", "Key") },
    { TEXT(key_row, form, "form", "What may be typed") },
    { TEXT(key_row, fallback, "default", "Default") },
    { TEXT(key_row, bounds, "bounds", "Bounds") },
    { TEXT(key_row, meaning, "meaning", "Meaning") },
    { TEXT(key_row, source, "source", "Source of the default") },
};
const struct row_kind key_row_kind = ROW_KIND("Keys", key_columns, key_row);

/* For people: one table per section, as the profile is written. */
static void add_sections(struct sheet_maker *maker, const struct key_row *rows, size_t count)
{
    for (size_t i = 0, n; i < count; i += n) {
        const char *title = arena_print(maker->arena, "[%s]", rows[i].section);

        for (n = 1; i + n < count && strcmp(rows[i + n].section, rows[i].section) == 0;)
            n++;
        maker->failed |= !title;
        add_table(maker, (struct table){ .title = title,
                                         .kind = &key_row_kind,
                                         .rows = rows + i,
                                         .row_count = n,
                                         .where = SHOW_TEXT | SHOW_HTML });
    }
}

const struct sheet *sheet_keys(struct arena *arena, const struct key_row *rows, size_t count)
{
    struct sheet_maker maker = sheet_begin(arena, "Profile keys", "");

    maker.sheet.subtitle = NULL;
    add_sections(&maker, rows, count);
    add_table(&maker, (struct table){ .name = "keys",
                                      .kind = &key_row_kind,
                                      .rows = rows,
                                      .row_count = count,
                                      .csv = 1,
                                      .where = SHOW_CSV | SHOW_JSON });
    return sheet_made(&maker);
}

/* ---- cruising areas ---- */

/* A wind of 0 is an unknown one. */
#define MONTH(field, n, stem, unit, name, places) \
    { REAL(climate, field[n], stem "_" name unit, name, NULL), .decimals = places, \
      .none = offsetof(struct climate, field) == offsetof(struct climate, wind) ? NONE_AT_ZERO : NONE_NEVER }
#define YEAR(field, stem, unit, places)                                                                     \
    MONTH(field, 0, stem, unit, "jan", places), MONTH(field, 1, stem, unit, "feb", places),                 \
        MONTH(field, 2, stem, unit, "mar", places), MONTH(field, 3, stem, unit, "apr", places),             \
        MONTH(field, 4, stem, unit, "may", places), MONTH(field, 5, stem, unit, "jun", places),             \
        MONTH(field, 6, stem, unit, "jul", places), MONTH(field, 7, stem, unit, "aug", places),             \
        MONTH(field, 8, stem, unit, "sep", places), MONTH(field, 9, stem, unit, "oct", places),             \
        MONTH(field, 10, stem, unit, "nov", places), MONTH(field, 11, stem, unit, "dec", places)

static const struct column irradiation_columns[] = {
    { TEXT(climate, name, "name", "Area") },
    { REAL(climate, latitude, "latitude_deg", "Lat", "\u00b0"), .decimals = 0 },
    { REAL(climate, longitude, "longitude_deg", "Lon", "\u00b0"), .decimals = 0 },
    YEAR(irradiation, "irradiation", "_kwh_m2", 1),
};
static const struct row_kind irradiation_kind =
    ROW_KIND("Irradiation on the flat, kWh/m2 a day", irradiation_columns, climate);

static const struct column air_columns[] = {
    { TEXT(climate, name, "name", "Area") },
    YEAR(air_temperature, "air", "_c", 0),
    { REAL(climate, clearness_sd, "clearness_sd", "Spread", NULL), .decimals = 2 },
    { TEXT(climate, source, "source", "Source") },
};
static const struct row_kind air_kind =
    ROW_KIND("Air temperature, \u00b0C; spread of the daily clearness index; source", air_columns, climate);

static const struct column climate_columns[] = {
    { TEXT(climate, name, "name", "Area") },
    { REAL(climate, latitude, "latitude_deg", "Latitude", "\u00b0"), .decimals = 2 },
    { REAL(climate, longitude, "longitude_deg", "Longitude", "\u00b0"), .decimals = 2 },
    YEAR(irradiation, "irradiation", "_kwh_m2", 2),
    YEAR(air_temperature, "air", "_c", 1),
    YEAR(wind, "wind", "_m_s", 1),
    { REAL(climate, clearness_sd, "clearness_sd", "Spread", NULL), .decimals = 3 },
    { REAL(climate, clearness_lag, "clearness_lag", "Lag", NULL), .decimals = 3 },
    { TEXT(climate, source, "source", "Source") },
};
static const struct row_kind climate_kind = ROW_KIND("Areas", climate_columns, climate);

const struct sheet *sheet_climate(struct arena *arena, const struct climate *rows, size_t count)
{
    const unsigned people = SHOW_TEXT | SHOW_HTML;
    struct sheet_maker maker = sheet_begin(arena, "Cruising areas", "for climate = NAME in [site]");

    add_table(&maker,
              (struct table){ .kind = &irradiation_kind, .rows = rows, .row_count = count, .where = people });
    add_table(&maker, (struct table){ .kind = &air_kind, .rows = rows, .row_count = count, .where = people });
    add_table(&maker, (struct table){ .name = "areas",
                                      .kind = &climate_kind,
                                      .rows = rows,
                                      .row_count = count,
                                      .csv = 1,
                                      .where = SHOW_CSV | SHOW_JSON });
    return sheet_made(&maker);
}

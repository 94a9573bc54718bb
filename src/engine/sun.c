/* sun.c - one day of sun and what the panels make of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "engine/engine.h"
#include "engine/need.h"
#include "engine/timeline_sun.h"
#include "parts/array.h"
#include "parts/sun.h"

/*
 * One day for the plot and the table: the sun every ten minutes and every hour, the light on the flat under
 * a clear sky and on the mean day, and what the panels make of it, bank willing. The same sky and array
 * models as in the simulation (timeline_sun.c), asked at moments instead of slots.
 */

enum { FINE_ROWS = DAY_S / SOLAR_NODE_S + 1, HOUR_ROWS = 24 };

/* The sun, the light and the panels at a moment [s] after midnight. A pwm controller's
 * current counts at working volts. */
static struct sun_row row_at(const struct boat *boat, const struct day_kind *kind, const struct sun_sky *sky,
                             double second)
{
    struct sun_moment m = sun_sky_at(sky, second);
    struct sun_row row = { .time_s = second, .elevation_deg = m.elevation, .azimuth_deg = m.azimuth,
                           .clear_sky_w_m2 = sky_haurwitz(m.elevation), .horizontal_w_m2 = m.beam.global,
                           .diffuse_w_m2 = m.beam.diffuse, .cell_c = sky->air_c };

    for (size_t i = 0; i < boat->solar_count; i++) {
        const struct solar *solar = &boat->solars[i];
        struct array_output out = sun_array(sky, &m, solar, range_or(&kind->shading, 0));

        if (i == 0)
            row.cell_c = out.cell_temperature;
        row.panel_w += solar->controller == CONTROLLER_PWM ? out.current * bank_working_voltage(solar->bank)
                                                           : out.power;
    }
    return row;
}

/* Trapezoids over the ten-minute rows. */
static void sum_rows(struct sun_day *day)
{
    const double hours = SOLAR_NODE_S / (double)HOUR_S;

    for (size_t i = 0; i + 1 < day->fine_count; i++) {
        const struct sun_row *a = &day->fine[i], *b = a + 1;

        day->clear_sky_kwh_m2 += (a->clear_sky_w_m2 + b->clear_sky_w_m2) / 2 * hours / 1000;
        day->panel_wh += (a->panel_w + b->panel_w) / 2 * hours;
    }
}

/* Date, place, rise and set; where the sun stays on one side rise and set are -1. */
static void place_and_times(struct sun_day *day, const struct boat *boat, long day_offset)
{
    struct date date = timeline_date(boat, day_offset);
    struct timeline t = { .boat = boat };

    timeline_sun_times(&t, day_offset);
    day->year = date.year;
    day->month = date.month;
    day->day = date.day;
    day->latitude_deg = boat->site.latitude.value;
    day->longitude_deg = boat->site.longitude.value;
    day->utc_offset_h = boat->site.utc_offset.value;
    day->polar = t.polar;
    day->noon_s = t.noon_s;
    day->sunrise_s = t.polar ? -1 : t.sunrise_s;
    day->sunset_s = t.polar ? -1 : t.sunset_s;
    day->day_length_h = (t.sunset_s - t.sunrise_s) / HOUR_S;
    for (size_t i = 0; i < boat->solar_count; i++)
        day->panel_rated_w += boat->solars[i].power.value * boat->solars[i].count.value;
}

enum status sun_run(const struct sun_day **out, struct arena *arena, const struct boat *boat, long day_offset,
                    struct diag_list *diags)
{
    enum status status = need_site(boat, diags);
    struct sun_day *day = arena_zero(arena, sizeof *day);
    struct sun_row *hours = arena_array(arena, HOUR_ROWS, sizeof *hours);
    struct sun_row *fine = arena_array(arena, FINE_ROWS, sizeof *fine);
    const struct day_kind usual = { .sun = { .value = 1 } }, *kind = &usual;
    struct sun_sky sky;
    double extraterrestrial;

    if (status != STATUS_OK)
        return status;
    if (!day || !hours || !fine)
        return STATUS_NO_MEMORY;
    if (day_offset >= 0 && (size_t)day_offset < boat->plan.day_count)
        kind = boat->plan.days[day_offset];
    *day = (struct sun_day){ .boat = boat->name ? boat->name : "unnamed boat",
                             .place = place_text(arena, boat),
                             .kind = kind->name,
                             .hours = hours,
                             .hour_count = HOUR_ROWS,
                             .fine = fine,
                             .fine_count = FINE_ROWS };
    place_and_times(day, boat, day_offset);
    day->irradiation_kwh_m2 = timeline_irradiation(boat, kind, day_offset);
    sun_sky_make(&sky, boat, day_offset, day->irradiation_kwh_m2);
    for (int i = 0; i < HOUR_ROWS; i++)
        hours[i] = row_at(boat, kind, &sky, i * HOUR_S);
    for (int i = 0; i < FINE_ROWS; i++)
        fine[i] = row_at(boat, kind, &sky, i * SOLAR_NODE_S);
    sum_rows(day);
    extraterrestrial = sky_extraterrestrial_day(day->latitude_deg, sky.day_of_year);
    day->clearness = extraterrestrial > 0 ? day->irradiation_kwh_m2 / extraterrestrial : 0;
    *out = day;
    return STATUS_OK;
}

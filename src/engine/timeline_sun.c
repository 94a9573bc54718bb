/* timeline_sun.c - sunrise, irradiation and array power of one day of the plan.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/timeline_sun.h"

#include <math.h>

#include "base/calendar.h"
#include "parts/array.h"
#include "parts/bank.h"
#include "parts/climate.h"
#include "parts/sun.h"

/*
 * The sun of a day, from its date, place and sky to watts on the buses:
 *
 *     daily total     [kWh/m2] of the weather file, the typed or the shipped climate, x sun of the day
 *     its course      spread over the sun's own path of that day (sky.h)
 *     each array      beam, diffuse and ground light on its plane, cell temperature, controller (array.h)
 *     its steps       worked out at the middle of SKY_SLOTS slots of ten minutes, straight between
 *
 * The total of a day is all that is known of its clouds, so they thin the light of every hour alike. "Sun",
 * "Light" and "Array" in models.md; steps are held by tests/engine/test_timeline.c, light by tests/parts.
 */

/* For loads by sunrise and sunset on a boat without a [site]. */
enum { NO_SITE_SUNRISE_S = 6 * HOUR_S, NO_SITE_SUNSET_S = 18 * HOUR_S };

/* Standard air for the sun's refraction: 1013.25 hPa and 15 C (ISO 2533). */
static const double standard_hpa = 1013.25, standard_c = 15;

/* Middles of the ranges: a balance's low and high do not reach into the sky. */
static void monthly_values(const struct range from[MONTHS], double out[MONTHS])
{
    for (int m = 0; m < MONTHS; m++)
        out[m] = from[m].value;
}

/* The row of a weather file for a date: the very date, else the same day of another year. */
static const struct weather_day *weather_on(const struct site *site, struct date date)
{
    const struct weather_day *same_day = NULL;

    for (size_t i = 0; i < site->weather_count; i++) {
        const struct weather_day *w = &site->weather[i];

        if (w->month != date.month || w->day != date.day)
            continue;
        if (w->year == date.year)
            return w;
        same_day = w;
    }
    return same_day;
}

/* Horizontal [kWh/m2] of a date by what the profile knows best; a date that a weather file lacks falls back
 * on the climate, and 0 where there is none. */
static double site_irradiation(const struct boat *boat, struct date date)
{
    const struct site *site = &boat->site;
    int n = date_day_of_year(date);
    const struct weather_day *w;
    double monthly[MONTHS];

    switch (site->sky) {
    case SKY_WEATHER:
        if ((w = weather_on(site, date)))
            return w->irradiation;
        break;
    case SKY_IRRADIATION:
        monthly_values(site->irradiation, monthly);
        return climate_on_day(monthly, n);
    case SKY_CLEARNESS:
        monthly_values(site->clearness, monthly);
        return climate_on_day(monthly, n) * sky_extraterrestrial_day(site->latitude.value, n);
    case SKY_CLIMATE:
        break;
    }
    return site->climate ? climate_on_day(site->climate->irradiation, n) : 0;
}

double timeline_irradiation(const struct boat *boat, const struct day_kind *kind, long day_offset)
{
    if (!boat->site.given)
        return 0;
    return site_irradiation(boat, timeline_date(boat, day_offset)) * range_or(&kind->sun, 1);
}

double timeline_air(const struct boat *boat, long day_offset)
{
    struct date date = timeline_date(boat, day_offset);
    const struct weather_day *w = boat->site.sky == SKY_WEATHER ? weather_on(&boat->site, date) : NULL;
    double monthly[MONTHS];

    if (w && w->has_temperature)
        return w->air_temperature;
    monthly_values(boat->site.air_temperature, monthly);
    return climate_on_day(monthly, date_day_of_year(date));
}

void timeline_sun_times(struct timeline *t, long day_offset)
{
    const struct site *site = &t->boat->site;
    double midnight = timeline_midnight_utc(t->boat, day_offset);
    struct sun_times times;

    t->polar = 0;
    t->sunrise_s = NO_SITE_SUNRISE_S;
    t->sunset_s = NO_SITE_SUNSET_S;
    t->noon_s = (NO_SITE_SUNRISE_S + NO_SITE_SUNSET_S) / 2.0;
    if (!site->given)
        return;
    times = sun_times(midnight, site->latitude.value, site->longitude.value);
    t->noon_s = times.noon - midnight;
    t->polar = times.polar;
    t->sunrise_s = times.polar ? (times.polar > 0 ? 0 : t->noon_s) : times.rise - midnight;
    t->sunset_s = times.polar ? (times.polar > 0 ? DAY_S : t->noon_s) : times.set - midnight;
}

void sun_sky_make(struct sun_sky *sky, const struct boat *boat, long day_offset, double total_kwh)
{
    *sky = (struct sun_sky){ .midnight_utc = timeline_midnight_utc(boat, day_offset),
                             .latitude = boat->site.latitude.value,
                             .longitude = boat->site.longitude.value,
                             .air_c = timeline_air(boat, day_offset),
                             .day_of_year = date_day_of_year(timeline_date(boat, day_offset)) };
    sky_course_make(&sky->course, sky->midnight_utc, sky->latitude, sky->longitude, sky->day_of_year);
    sky_day_fit(&sky->day, &sky->course, total_kwh);
}

/* As sun_sky_at, at the middle of slot i of SKY_SLOTS, from the places already known. */
static struct sun_moment sun_sky_slot(const struct sun_sky *sky, int i)
{
    const struct sun_position *sun = &sky->course.sun[i];

    return (struct sun_moment){ sun->elevation, sun->azimuth, sky_day_at(&sky->day, sun) };
}

struct sun_moment sun_sky_at(const struct sun_sky *sky, double second_of_day)
{
    struct sun_position sun = sun_position(sky->midnight_utc + second_of_day, sky->latitude, sky->longitude,
                                           standard_hpa, standard_c);

    return (struct sun_moment){ sun.elevation, sun.azimuth, sky_day_at(&sky->day, &sun) };
}

struct array_output sun_array(const struct sun_sky *sky, const struct sun_moment *moment,
                              const struct solar *solar, double day_shading)
{
    double plane =
        array_plane_irradiance(solar, &moment->beam, moment->elevation, moment->azimuth, sky->day_of_year);
    double cells =
        round(bank_nominal_voltage(solar->bank) / chemistry_facts(solar->bank->chemistry)->nominal_cell_v);
    double volts = range_or(&solar->bank->absorption_voltage,
                            cells * chemistry_facts(solar->bank->chemistry)->absorption_cell_v);

    return array_power(solar, plane, sky->air_c, volts, day_shading);
}

/* Output of a bus's arrays, known at the middle of each slot and linear between, onto its steps. */
static void spread_slots(const struct timeline *t, double *first, const double slots[SKY_SLOTS])
{
    const double slots_per_step = t->step_s / SOLAR_NODE_S;
    const size_t stride = sizeof *t->buses / sizeof *first;
    int from = 0, to = SKY_SLOTS;

    while (from < to && slots[from] <= 0)
        from++;
    while (to > from && slots[to - 1] <= 0)
        to--;
    for (size_t i = (size_t)(fmax(from - 1, 0) / slots_per_step); from < to && i < t->steps; i++) {
        double at = fmax(((double)i + 0.5) * slots_per_step - 0.5, 0);
        size_t k = (size_t)at;

        if (k >= (size_t)to)
            break;
        first[i * stride] = k + 1 < SKY_SLOTS ? slots[k] + (slots[k + 1] - slots[k]) * (at - (double)k)
                                              : slots[SKY_SLOTS - 1];
    }
}

/* Adds one array's output to the slots of its bus. */
static void array_slots(double slots[SKY_SLOTS], const struct sun_sky *sky, const struct sun_moment *moments,
                        const struct solar *solar, double shading)
{
    for (int k = 0; k < SKY_SLOTS; k++)
        if (moments[k].beam.global > 0) {
            struct array_output out = sun_array(sky, &moments[k], solar, shading);

            slots[k] += solar->controller == CONTROLLER_PWM ? out.current : out.power;
        }
}

/* Arrays that share a bus and a kind of controller are summed before they are spread. */
static void spread_bus(const struct timeline *t, size_t bank, enum solar_controller controller,
                       const struct sun_sky *sky, const struct sun_moment *moments, double shading)
{
    struct bus_step *first = t->buses + bank * t->steps;
    double slots[SKY_SLOTS] = { 0 };
    int any = 0;

    for (size_t s = 0; s < t->boat->solar_count; s++) {
        const struct solar *solar = &t->boat->solars[s];

        if (solar->bank != t->boat->banks + bank || solar->controller != controller)
            continue;
        array_slots(slots, sky, moments, solar, shading);
        any = 1;
    }
    if (!any)
        return;
    t->bus_used[bank] = 1;
    spread_slots(t, controller == CONTROLLER_PWM ? &first->solar_a : &first->solar_w, slots);
}

void timeline_sun_power(struct timeline *t, const struct day_kind *kind, long day_offset)
{
    const struct boat *boat = t->boat;
    struct sun_moment moments[SKY_SLOTS];
    struct sun_sky sky;

    t->irradiation_kwh = timeline_irradiation(boat, kind, day_offset);
    if (!boat->site.given || boat->solar_count == 0 || t->dark)
        return;
    sun_sky_make(&sky, boat, day_offset, t->irradiation_kwh);
    t->air_c = sky.air_c;
    for (int k = 0; k < SKY_SLOTS; k++)
        moments[k] = sun_sky_slot(&sky, k);
    for (size_t b = 0; b < boat->bank_count; b++) {
        spread_bus(t, b, CONTROLLER_MPPT, &sky, moments, range_or(&kind->shading, 0));
        spread_bus(t, b, CONTROLLER_PWM, &sky, moments, range_or(&kind->shading, 0));
    }
}

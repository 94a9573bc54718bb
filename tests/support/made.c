/* made.c - invented results: arithmetic just good enough to look like a boat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/made.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"

#define PI 3.14159265358979323846

static void *need(void *p)
{
    if (!p)
        abort();
    return p;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

/* Same numbers every time: a plain congruence. */
static double noise(unsigned *state)
{
    *state = *state * 1664525u + 1013904223u;
    return (double)(*state >> 8) / 16777216.0;
}

static double sun_shape(const struct made_week *how, double hour)
{
    if (how->latitude >= 90)
        return 0.3 - 0.1 * cos(PI * hour / 12);
    if (how->latitude <= -90)
        return 0;
    return larger(0, -cos(PI * hour / 12) - 0.05);
}

static double load_shape(double hour, long minute, double base, unsigned *state)
{
    double w = base * (0.55 + 0.15 * noise(state));

    if (minute % 40 < 16)
        w += base * 0.5; /* a compressor */
    if (hour > 19.5 && hour < 23.2)
        w += base * 0.8; /* lights */
    if (hour > 7.4 && hour < 7.6)
        w += base * 9; /* a kettle through the inverter */
    if (hour > 12.5 && hour < 12.9)
        w += base * 6;
    return w;
}

static void fill_row(struct week_row *r, const struct made_week *how, size_t kind, double charge,
                     unsigned *state)
{
    double hour = fmod(r->time_s, 86400) / 3600, room = (1 - charge) * 8 * 400 + 40;
    double cloud = kind == 0 ? 1 : kind == 1 ? 0.75 : 0.45;
    double solar = how->solar_w * cloud * sun_shape(how, hour) * (0.9 + 0.1 * noise(state));

    r->load_w = load_shape(hour, (long)(r->time_s / 60), how->load_w, state);
    r->inverter_w = hour > 7.4 && hour < 7.6 ? how->load_w * 8 : 0;
    r->engine_on = kind == 2 && hour >= 9 && hour < 11 && how->engine_w > 0;
    r->generator_on = kind == 1 && hour >= 18 && hour < 20 && how->charger_w > 0;
    r->alternator_w = r->engine_on ? how->engine_w * (1 - 0.5 * charge) : 0;
    r->charger_w = r->generator_on ? how->charger_w : 0;
    r->solar_w = solar < room + r->load_w ? solar : room + r->load_w;
    r->solar_spilled_w = solar - r->solar_w;
}

static double step_charge(struct week_row *r, const struct made_week *how, double charge, double step_h)
{
    double net = r->solar_w + r->alternator_w + r->charger_w - r->load_w;
    double after = charge + (net > 0 ? 0.93 * net : net) * step_h / how->bank_wh;

    if (after < 0.12) {
        r->unserved_w = net < 0 ? -net : 0;
        after = charge;
    }
    r->charge = after > 1 ? 1 : after;
    r->bank_v = 11.8 + 1.2 * r->charge + net / 2000;
    r->bank_a = net / 12.6;
    return r->charge;
}

static void sum_row(struct week_summary *s, struct day_mark *day, const struct week_row *r, double step_h)
{
    if (r->charge < s->min_charge) {
        s->min_charge = r->charge;
        s->min_time_s = r->time_s;
    }
    s->max_charge = larger(s->max_charge, r->charge);
    s->below_floor_h += r->charge < s->floor ? step_h : 0;
    s->unserved_wh += r->unserved_w * step_h;
    s->load_wh += r->load_w * step_h;
    s->solar_wh += r->solar_w * step_h;
    s->solar_spilled_wh += r->solar_spilled_w * step_h;
    s->alternator_wh += r->alternator_w * step_h;
    s->charger_wh += r->charger_w * step_h;
    s->engine_h += r->engine_on ? step_h : 0;
    s->generator_h += r->generator_on ? step_h : 0;
    s->largest_load_w = larger(s->largest_load_w, r->load_w);
    s->end_charge = r->charge;
    day->load_wh += r->load_w * step_h;
    day->solar_wh += r->solar_w * step_h;
    day->solar_spilled_wh += r->solar_spilled_w * step_h;
    day->alternator_wh += r->alternator_w * step_h;
    day->charger_wh += r->charger_w * step_h;
    day->min_charge = day->min_charge > r->charge ? r->charge : day->min_charge;
    day->end_charge = r->charge;
}

static struct day_mark *make_days(struct arena *arena, const struct made_week *how)
{
    static const char *const usual[] = { "sailing", "anchor", "motoring" };
    struct day_mark *days = need(arena_array(arena, how->days, sizeof *days));
    struct day_kind *kinds = need(arena_array(arena, 3, sizeof *kinds));
    long first = date_number((struct date){ 2026, 7, 6 });

    for (size_t i = 0; i < 3; i++)
        kinds[i].name = how->kinds[i] ? how->kinds[i] : usual[i];
    for (size_t i = 0; i < how->days; i++) {
        struct date date = date_of_number(first + (long)i);
        double rise = how->latitude >= 90 ? 0 : 5.2 * 3600, set = how->latitude >= 90 ? 86400 : 20.9 * 3600;

        if (how->latitude <= -90)
            rise = set = 0;
        days[i] = (struct day_mark){ kinds + i % 3,
                                     date.year,
                                     date.month,
                                     date.day,
                                     (int)(i % 7),
                                     86400.0 * (double)i + rise,
                                     86400.0 * (double)i + set,
                                     .min_charge = 1 };
    }
    return days;
}

static struct week_event *make_event(struct arena *arena, const struct week *week)
{
    struct week_event *event = need(arena_zero(arena, sizeof *event));

    event->kind = EVENT_UNSERVED;
    event->start_s = -1;
    event->who = "water maker, autopilot, fridge";
    for (size_t i = 0; i < week->row_count; i++) {
        const struct week_row *r = week->rows + i;

        if (r->unserved_w <= 0)
            continue;
        if (event->start_s < 0)
            event->start_s = r->time_s;
        event->end_s = r->time_s + week->step_s;
        if (r->unserved_w > event->worst_w)
            event->worst_s = r->time_s;
        event->worst_w = larger(event->worst_w, r->unserved_w);
        event->wh += r->unserved_w * week->step_s / 3600;
    }
    return event;
}

static const char *make_finding(struct arena *arena, const struct week_summary *s)
{
    int day = (int)(s->min_time_s / 86400), minute = (int)(s->min_time_s / 60) % 1440;

    return need(arena_print(arena, "Lowest charge %.0f %% on %s %02d:%02d", s->min_charge * 100,
                            weekday_name(day % 7), minute / 60, minute % 60));
}

static struct bank_outcome *make_outcome(struct arena *arena, const struct week_summary *s, double start)
{
    struct bank_outcome *bank = need(arena_zero(arena, sizeof *bank));

    *bank = (struct bank_outcome){ .name = "house",
                                   .start_charge = start,
                                   .end_charge = s->end_charge,
                                   .min_charge = s->min_charge,
                                   .min_time_s = s->min_time_s,
                                   .charge_ah = 812.4,
                                   .discharge_ah = 790.1,
                                   .full_cycles = 2.1 };
    return bank;
}

static void run_week(struct week *week, struct week_row *rows, struct day_mark *days,
                     const struct made_week *how)
{
    double charge = how->start;
    unsigned state = 7;

    for (size_t i = 0; i < week->row_count; i++) {
        size_t day = (size_t)(week->step_s * (double)i / 86400);

        rows[i].time_s = week->step_s * (double)i;
        fill_row(rows + i, how, day % 3, charge, &state);
        charge = step_charge(rows + i, how, charge, week->step_s / 3600);
        sum_row(&week->summary, days + day, rows + i, week->step_s / 3600);
    }
}

const struct week *made_week(struct arena *arena, const struct made_week *asked)
{
    struct week *week = need(arena_zero(arena, sizeof *week));
    struct made_week how = *asked;
    struct week_row *rows;
    struct day_mark *days;

    how.days = how.days ? how.days : 7;
    how.bank_wh = how.bank_wh > 0 ? how.bank_wh : 4800;
    week->boat = how.boat ? how.boat : "Example (invented)";
    week->place = how.place ? how.place : "Nowhere Bay";
    week->bank = "400 Ah 12 V AGM";
    week->step_s = week->row_step_s = how.step_s > 0 ? how.step_s : 60;
    week->row_count = (size_t)((double)how.days * 86400 / week->step_s);
    week->has_solar = how.solar_w > 0;
    week->has_alternator = how.engine_w > 0;
    week->has_charger = week->has_generator = how.charger_w > 0;
    week->summary = (struct week_summary){ .min_charge = 2,
                                           .floor = how.floor,
                                           .min_bank_v = 11.9,
                                           .recharge_h = -1,
                                           .autonomy_h = 31.5,
                                           .energy_error_wh = 2e-12 };
    week->rows = rows = need(arena_array(arena, week->row_count, sizeof *rows));
    week->days = days = make_days(arena, &how);
    week->day_count = how.days;
    run_week(week, rows, days, &how);
    week->finding = make_finding(arena, &week->summary);
    week->banks = make_outcome(arena, &week->summary, how.start);
    week->bank_count = 1;
    week->events = make_event(arena, week);
    week->event_count = week->events->start_s >= 0;
    return week;
}

const struct week *made_full_week(struct arena *arena)
{
    const struct made_week how = {
        .start = 1, .floor = 0.5, .solar_w = 520, .load_w = 125, .engine_w = 900, .charger_w = 500
    };

    return made_week(arena, &how);
}

/* ---- balance ---- */

static const struct balance_item loads_at_anchor[] = {
    { "fridge", 540, 42.2, 480, 600, 230, 45, 12, "dc", "guessed" },
    { "freezer", 620, 48.4, 560, 700, 280, 60, 10.3, "dc", "given" },
    { "lights, saloon", 96, 7.5, 96, 96, 90, 24, 4, "dc", "given" },
    { "water pump", 42, 3.3, 42, 42, 4, 84, 0.5, "dc", "default" },
    { "laptop", 180, 14.1, 150, 210, 60, 60, 3, "ac", "guessed" },
    { "kettle", 240, 18.8, 240, 240, 0, 1800, 0.13, "ac", "given" },
    { "water heater", 1200, 0, 1200, 1200, 0, 1200, 1, "mains", "given" },
};
static const struct balance_item loads_under_sail[] = {
    { "autopilot", 1440, 112.5, 1100, 1800, 520, 60, 24, "dc", "guessed" },
    { "instruments and plotter", 720, 56.3, 720, 720, 260, 30, 24, "dc", "given" },
    { "fridge", 540, 42.2, 480, 600, 230, 45, 12, "dc", "guessed" },
    { "navigation lights", 60, 4.7, 60, 60, 60, 8, 7.5, "dc", "given" },
};
static const struct balance_item sun_only[] = { { "solar roof", 1850, 144.5, 1850, 1850, 0, 520, 0, "solar",
                                                  "derived" } };
static const struct balance_item sun_and_engine[] = {
    { "solar roof", 1420, 110.9, 1420, 1420, 0, 520, 0, "solar", "derived" },
    { "alternator port", 980, 76.6, 980, 980, 0, 840, 1.2, "alternator", "derived" },
};

const struct balance *made_balance(struct arena *arena)
{
    struct balance *b = need(arena_zero(arena, sizeof *b));
    struct balance_day *days = need(arena_array(arena, 3, sizeof *days));

    days[0] = (struct balance_day){ .kind = "anchor",
                                    .days_in_plan = 4,
                                    .loads = loads_at_anchor,
                                    .load_count = 7,
                                    .sources = sun_only,
                                    .source_count = 1,
                                    .load_wh = 1790,
                                    .load_low_wh = 1600,
                                    .load_high_wh = 1970,
                                    .load_ah = 139.8,
                                    .night_wh = 700,
                                    .source_wh = 1850,
                                    .net_wh = 60,
                                    .net_ah = 4.7,
                                    .inverter_loss_wh = 72,
                                    .mains_wh = 1200,
                                    .sunrise_h = 5.2,
                                    .sunset_h = 20.9,
                                    .irradiation_kwh = 7.1 };
    days[1] = (struct balance_day){ .kind = "sailing",
                                    .days_in_plan = 2,
                                    .loads = loads_under_sail,
                                    .load_count = 4,
                                    .sources = sun_and_engine,
                                    .source_count = 2,
                                    .load_wh = 2760,
                                    .load_low_wh = 2400,
                                    .load_high_wh = 3180,
                                    .load_ah = 215.6,
                                    .night_wh = 1070,
                                    .source_wh = 2400,
                                    .net_wh = -360,
                                    .net_ah = -28.1,
                                    .engine_h = 1.2,
                                    .sunrise_h = 5.2,
                                    .sunset_h = 20.9,
                                    .irradiation_kwh = 7.1 };
    days[2] = (struct balance_day){ .kind = "laid up",
                                    .days_in_plan = 1,
                                    .sources = sun_only,
                                    .source_count = 1,
                                    .source_wh = 1850,
                                    .net_wh = 1850,
                                    .net_ah = 144.5,
                                    .sunrise_h = 5.2,
                                    .sunset_h = 20.9,
                                    .irradiation_kwh = 7.1 };
    b->boat = "Example (invented)";
    b->place = "Nowhere Bay";
    b->bank_v = 12.8;
    b->days = days;
    b->day_count = 3;
    b->week_load_wh = 12680;
    b->week_source_wh = 14050;
    b->week_net_wh = 1370;
    return b;
}

/* ---- size ---- */

const struct size *made_size(struct arena *arena)
{
    static const struct alternator_size machines[] = {
        { .name = "port",
          .rated_a = 80,
          .hot_a = 55,
          .delivered_a = 32,
          .accepted_a = 110,
          .needed_a = 60,
          .over_accepts = 1 },
        { .name = "starboard",
          .rated_a = 80,
          .hot_a = 55,
          .delivered_a = 30,
          .accepted_a = 110,
          .needed_a = 60,
          .over_accepts = 1 },
    };
    static const struct work_line lines[] = {
        { "bank", "daily load", NULL, NULL, 2113.4, "Wh", "the balance" },
        { "bank", "needed", "load x days / (volts x usable share)", "2113.4 x 2 / (12.8 x 0.5)", 660.4375,
          "Ah", "common practice" },
        { "bank", "loss in the cable", "I^2 R", "100^2 x 0.00035", 0.0035, "kW", "by hand" },
    };
    struct size *s = need(arena_zero(arena, sizeof *s));

    s->boat = "Example (invented)";
    s->place = "Nowhere Bay";
    s->bank = (struct bank_size){ .needed_ah = 660,
                                  .handbook_ah = 660,
                                  .simulated_ah = 590,
                                  .limited_by = "autonomy",
                                  .installed_ah = 440,
                                  .block_ah = 220,
                                  .blocks = 6,
                                  .series = 2,
                                  .parallel = 3,
                                  .mass_kg = 168,
                                  .usable_wh = 4224 };
    s->solar = (struct solar_size){ .needed_w = 780,
                                    .handbook_w = 780,
                                    .simulated_w = 640,
                                    .installed_w = 520,
                                    .panel_w = 260,
                                    .panels = 3,
                                    .sun_hours = 5.4,
                                    .limited_by = "handbook sum" };
    s->alternators = machines;
    s->alternator_count = 2;
    s->charger = (struct charger_size){ .needed_a = 60,
                                        .handbook_a = 60,
                                        .simulated_a = 40,
                                        .installed_a = 40,
                                        .low_a = 44,
                                        .high_a = 110,
                                        .limited_by = "charging hours" };
    s->inverter = (struct inverter_size){ .continuous_w = 2500,
                                          .surge_w = 5000,
                                          .running_w = 1980,
                                          .connected_w = 2640,
                                          .dc_current_a = 261,
                                          .installed_w = 2000,
                                          .installed_surge_w = 4000,
                                          .limited_by = "largest load at once" };
    s->generator = (struct generator_size){ .hours_per_week = 3.5,
                                            .deficit_hours = 4.1,
                                            .needed_w = 3000,
                                            .fuel_l_per_week = 5.2,
                                            .mean_load = 0.45 };
    s->autonomy_days = 2;
    s->difference = "The simulated week has sun every day, the handbook sum has none for two days.";
    s->installed_passes = 0;
    s->working = (struct working){ lines, 3 };
    return s;
}

/* ---- sun ---- */

static void sun_at(struct sun_row *r, double hour, int polar)
{
    double e = polar > 0   ? 12 - 8 * cos(PI * hour / 12)
               : polar < 0 ? -12 - 8 * cos(PI * hour / 12)
                           : 8 - 62 * cos(PI * (hour - 0.6) / 12);
    double up = larger(0, sin(e * PI / 180));

    *r = (struct sun_row){ .time_s = hour * 3600,
                           .elevation_deg = e,
                           .azimuth_deg = hour * 15,
                           .clear_sky_w_m2 = 1050 * pow(up, 1.15),
                           .horizontal_w_m2 = 720 * pow(up, 1.1),
                           .diffuse_w_m2 = 190 * up,
                           .cell_c = 24 + 25 * up,
                           .panel_w = 430 * pow(up, 1.08) };
}

const struct sun_day *made_sun_day(struct arena *arena, int polar)
{
    struct sun_day *day = need(arena_zero(arena, sizeof *day));
    struct sun_row *hours = need(arena_array(arena, 24, sizeof *hours));
    struct sun_row *fine = need(arena_array(arena, 144, sizeof *fine));

    for (int i = 0; i < 24; i++)
        sun_at(hours + i, i, polar);
    for (int i = 0; i < 144; i++)
        sun_at(fine + i, i / 6.0, polar);
    *day = (struct sun_day){ .boat = "Example (invented)",
                             .place = "Nowhere Bay",
                             .kind = "anchor",
                             .year = 2026,
                             .month = 7,
                             .day = 6,
                             .latitude_deg = 38.6,
                             .longitude_deg = 20.7,
                             .utc_offset_h = 3,
                             .hours = hours,
                             .hour_count = 24,
                             .fine = fine,
                             .fine_count = 144,
                             .sunrise_s = polar ? -1 : 6.1 * 3600,
                             .sunset_s = polar ? -1 : 19.1 * 3600 + 2400,
                             .noon_s = 12.6 * 3600,
                             .polar = polar,
                             .day_length_h = polar > 0 ? 24
                                             : polar   ? 0
                                                       : 13.7,
                             .clearness = 0.58,
                             .irradiation_kwh_m2 = 6.3,
                             .clear_sky_kwh_m2 = 8.1,
                             .panel_wh = 3710,
                             .panel_rated_w = 520 };
    return day;
}

/* sim.c - the plan, day by day and step by step.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/sim.h"

#include <math.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "engine/sim_ac.h"
#include "engine/sim_dc.h"

/*
 * What makes the plan, run from midnight of its first day to that after its last:
 *
 *     for each day      its timeline, compiled once and shared where days are alike (timeline.c)
 *       for each step   sim_offer   loads, sun and alternators on each bus                    sim_dc.c
 *                       sim_ac      source of the panel; chargers join the offers             sim_ac.c
 *                       sim_need    the inverter joins the loads of the house bus             sim_dc.c
 *                       sim_link    converters and relays between banks                       sim_dc.c
 *                       sim_buses   loads, banks; what came of it in struct flows             sim_dc.c
 *                       totals, fuel, lows and highs, the row                                 here
 *
 * Nothing is iterated: volts of a bus are those at the end of the step before, so that a current in a step
 * is watts over known volts. A step of a minute makes that error small; tests/engine/test_week.c holds what
 * it is against finer steps.
 *
 * Energy is counted in watt-hours at the DC bus, each power being a mean over its step. The account of
 * week.c closes because every flow is added here once and the bank's own by its posts. "Week" in models.md;
 * held by tests/engine/test_week.c and, on random boats, tests/engine/test_random_boats.c.
 */

/* A bank counts as recharged at this share of its ceiling [-]. */
static const double recharged = 0.95;

/* Temperature a bank has where the profile says nothing of it nor of the air [C]. */
static const double room_c = 20;

struct sim_options sim_plain(const struct boat *boat)
{
    return (struct sim_options){ .step_s = boat->plan.step.value,
                                 .days = (long)boat->plan.day_count,
                                 .start_charge = boat->plan.start_charge.value,
                                 .bank_scale = 1,
                                 .solar_scale = 1,
                                 .charger_scale = 1,
                                 .alternator_scale = 1,
                                 .row_s = -1 };
}

/* A bank rested at its charge of the first midnight: the house bank at the plan's, others full. Scales are
 * those of a sizing run; they make another bank of the same blocks, so current limits go with them. */
static void bus_new(struct sim *s, size_t index, struct bank_model *model)
{
    struct bus *bus = &s->buses[index];
    struct bank bank = s->boat->banks[index];
    double air = s->boat->site.given ? timeline_air(s->boat, 0) : room_c;

    if (index == s->house) {
        bank.parallel.value *= s->options.bank_scale;
        bank.max_charge.value *= s->options.bank_scale;
        bank.max_discharge.value *= s->options.bank_scale;
    }
    bus->bank = &s->boat->banks[index];
    bus->model = model;
    bus->temperature_c = range_or(&bank.temperature, air);
    bank_model_make(model, &bank, bus->temperature_c, s->step_h);
    bank_state_rested(bus->model, index == s->house ? s->options.start_charge : 1, &bus->state);
    bus->start_stored_wh = bank_stored_wh(bus->model, &bus->state);
    bus->charge = bus->start_charge = bus->min_charge = bank_charge(bus->model, &bus->state);
    bus->volts_v = bank_emf(bus->model, &bus->state);
    for (size_t i = 0; i < s->boat->alternator_count; i++)
        if (s->boat->alternators[i].bank == bus->bank)
            bus->alternator_v =
                larger(bus->alternator_v, range_or(&s->boat->alternators[i].regulated_voltage, 0));
}

/* Loss terms of one machine of the summed rating: the idle draws added, s and q so that the joint input is
 * that of the machines sharing the load by their ratings. The cut-out is the first that trips. */
struct inverters inverters_joined(const struct boat *boat)
{
    struct inverters all = { .va = 0 };

    for (size_t i = 0; i < boat->inverter_count; i++) {
        const struct inverter *inverter = &boat->inverters[i];
        struct inverter_model m = inverter_model(inverter), *sum = &all.model;
        double before = sum->power_w, after = before + m.power_w;

        sum->idle_w += m.idle_w;
        sum->slope = (sum->slope * before + m.slope * m.power_w) / after;
        sum->square_per_w = (sum->square_per_w * before * before + m.square_per_w * m.power_w * m.power_w)
                            / (after * after);
        sum->power_w = after;
        all.va += m.power_w / range_or(&inverter->power_factor, 1);
        all.cut_out_v = larger(all.cut_out_v, range_or(&inverter->cut_out, 0));
    }
    return all;
}

/* Converters between banks; those that feed loads are part of the timeline's loads. -1 without memory. */
static int links_new(struct sim *s)
{
    const struct boat *boat = s->boat;

    if (!(s->links = arena_array(s->arena, boat->dcdc_count, sizeof *s->links)))
        return -1;
    for (size_t i = 0; i < boat->dcdc_count; i++) {
        const struct dcdc *d = &boat->dcdcs[i];
        int relay = d->kind == LINK_RELAY;

        if (!d->to) /* it feeds loads */
            continue;
        s->links[s->link_count++] = (struct link){ .from = s->buses + (d->from - boat->banks),
                                                   .to = s->buses + (d->to - boat->banks),
                                                   .relay = relay,
                                                   .current_a = range_or(&d->current, INFINITY),
                                                   .idle_w = relay ? 0 : range_or(&d->idle_power, 0),
                                                   .efficiency = relay ? 1 : d->efficiency.value };
    }
    return 0;
}

int sim_new(struct sim *s, struct arena *arena, const struct boat *boat, const struct sim_options *options)
{
    struct bank_model *models = arena_array(arena, boat->bank_count, sizeof *models);
    size_t steps;

    *s = (struct sim){ .boat = boat, .arena = arena, .options = *options, .recharged_s = -1,
                       .floor_reached_s = -1, .lockout_s = -1, .step_h = options->step_s / HOUR_S };
    s->house = (size_t)(boat_house_bank(boat) - boat->banks);
    s->steps = (size_t)llround(DAY_S / options->step_s);
    s->timelines = options->timelines ? options->timelines : timelines_new(arena, boat, options->step_s, 0);
    if (!s->timelines)
        return -1;
    s->timelines->dark = options->no_sources;
    s->buses = arena_array(arena, boat->bank_count, sizeof *s->buses);
    s->days = arena_array(arena, (size_t)options->days, sizeof *s->days);
    if (!models || !s->buses || !s->days || links_new(s) != 0)
        return -1;
    if (options->row_s >= 0) {
        steps = options->row_s > options->step_s ? (size_t)(options->row_s / options->step_s) : 1;
        s->row_steps = steps;
        s->row_room = (s->steps * (size_t)options->days + steps - 1) / steps;
        if (!(s->rows = arena_array(arena, s->row_room, sizeof *s->rows)))
            return -1;
    }
    for (int k = 0; k < EVENT_KINDS; k++)
        s->open[k].end_s = -1;
    for (size_t b = 0; b < boat->bank_count; b++)
        bus_new(s, b, models + b);
    s->inverters = inverters_joined(boat);
    s->min_charge = s->max_charge = s->buses[s->house].start_charge;
    s->min_v = s->buses[s->house].volts_v;
    return 0;
}

/* Watts of the step become watt-hours. */
static void add_totals(struct sim *s, const struct flows *f)
{
    struct totals *t = &s->total;
    double h = s->step_h;

    t->solar_wh += f->solar * h;
    t->spilled_wh += f->spilled * h;
    t->alternator_wh += f->alternator * h;
    t->charger_wh += f->charger * h;
    t->load_wh += f->load * h;
    t->unserved_wh += f->unserved * h;
    t->inverter_loss_wh += f->inverter_loss * h;
}

/* Fuel: the generator's from what it carried, the alternators' share of the engines' from what they gave. */
static void add_fuel(struct sim *s, const struct flows *f)
{
    double drawn = s->ac.carried_w;

    if (f->alternator > 0 && s->boat->alternator_count)
        s->total.alternator_fuel_l +=
            alternator_fuel_lph(&s->boat->alternators[0], f->alternator) * s->step_h;
    if (s->ac.source != AC_GENERATOR)
        return;
    for (size_t i = 0; i < s->boat->charger_count; i++) {
        const struct charger *c = &s->boat->chargers[i];
        struct bus *bus = &s->buses[c->bank - s->boat->banks];
        double used = lesser(bus->charger_used_w, c->current.value * s->options.charger_scale * bus->volts_v);

        if (!(c->fed_by & FED_BY_GENERATOR))
            continue;
        bus->charger_used_w -= used;
        drawn += charger_input_w(c, used);
    }
    s->total.generator_wh += drawn * s->step_h;
    s->total.generator_fuel_l += generator_fuel_lph(&s->boat->generators[0], drawn) * s->step_h;
}

/* Lows, highs and their times, all of the house bank. Charge and volts hold at the end of a step, a load at
 * its beginning. Recharged begins anew with every new low, so it ends as the time after the lowest. */
static void watch_house(struct sim *s, const struct flows *f, double end_s)
{
    const struct bus *house = &s->buses[s->house];
    double charge = house->charge;

    if (charge < s->min_charge) {
        s->min_charge = charge;
        s->min_time_s = end_s;
        s->recharged_s = -1;
    }
    if (s->recharged_s < 0 && charge >= recharged * house->model->ceiling)
        s->recharged_s = end_s;
    s->max_charge = larger(s->max_charge, charge);
    if (house->volts_v < s->min_v) {
        s->min_v = house->volts_v;
        s->min_v_s = end_s;
    }
    if (f->load > s->largest_load_w) {
        s->largest_load_w = f->load;
        s->largest_load_s = end_s - s->options.step_s;
    }
    s->largest_charge_a = larger(s->largest_charge_a, house->current_a);
    s->largest_discharge_a = larger(s->largest_discharge_a, -house->current_a);
    if (charge < house->model->floor - 1e-9) {
        s->total.below_floor_h += s->step_h;
        if (s->floor_reached_s < 0)
            s->floor_reached_s = end_s;
        sim_event(s, EVENT_FLOOR, end_s - s->options.step_s, 0, 0);
    }
}

/* Adds a step to the row it belongs to; a row is the mean of its steps, states are those at its end. */
static void keep_row(struct sim *s, const struct flows *f, size_t step_number, double time_s, double engine)
{
    const struct bus *house = &s->buses[s->house];
    size_t at = step_number / s->row_steps;
    double w = 1.0 / (double)s->row_steps;
    struct week_row *r;

    if (at >= s->row_room)
        return;
    r = &s->rows[at];
    if (at == s->row_count) {
        s->row_count++;
        r->time_s = time_s;
    }
    r->charge = house->charge;
    r->bank_v = house->volts_v;
    r->bank_a += house->current_a * w;
    r->load_w += f->load * w;
    r->inverter_w += f->inverter_out * w;
    r->solar_w += f->solar * w;
    r->solar_spilled_w += f->spilled * w;
    r->alternator_w += f->alternator * w;
    r->charger_w += f->charger * w;
    r->unserved_w += f->unserved * w;
    r->generator_on |= s->ac.source == AC_GENERATOR;
    r->engine_on |= engine > 0;
}

/* The order of models.md; each call reads what the one before has left in the buses. */
static void run_step(struct sim *s, size_t step, size_t step_number)
{
    double time_s = (double)step_number * s->options.step_s;
    const struct ac_step *ac = &s->today->ac[step];
    struct flows f = { .solar = 0 };

    s->running_s = time_s;
    sim_offer(s, step);
    sim_ac(s, ac, time_s);
    sim_need(s);
    sim_link(s);
    sim_buses(s, step, time_s, &f);
    add_totals(s, &f);
    add_fuel(s, &f);
    watch_house(s, &f, time_s + s->options.step_s);
    if (s->rows)
        keep_row(s, &f, step_number, time_s, ac->engine);
}

/* Beyond the plan the days repeat, with dates that go on. -1 without memory. */
static int day_begin(struct sim *s, long day)
{
    struct day_mark *mark = &s->days[day];
    struct date date = timeline_date(s->boat, day);

    s->kind = s->boat->plan.days[(size_t)day % s->boat->plan.day_count];
    if (!(s->today = timelines_day(s->timelines, s->kind, day)))
        return -1;
    *mark = (struct day_mark){ .kind = s->kind, .year = date.year, .month = date.month, .day = date.day,
                               .weekday = date_weekday(date), .min_charge = 1 };
    mark->sunrise_s = s->today->sunrise_s + (double)day * DAY_S;
    mark->sunset_s = s->today->sunset_s + (double)day * DAY_S;
    s->at_midnight = s->total;
    s->day_count = (size_t)day + 1;
    return 0;
}

/* A day's sums are the totals less what they were at its midnight. */
static void day_end(struct sim *s, long day)
{
    struct day_mark *mark = &s->days[day];
    const struct bus *house = &s->buses[s->house];

    mark->load_wh = s->total.load_wh - s->at_midnight.load_wh;
    mark->solar_wh = s->total.solar_wh - s->at_midnight.solar_wh;
    mark->solar_spilled_wh = s->total.spilled_wh - s->at_midnight.spilled_wh;
    mark->alternator_wh = s->total.alternator_wh - s->at_midnight.alternator_wh;
    mark->charger_wh = s->total.charger_wh - s->at_midnight.charger_wh;
    mark->end_charge = house->charge;
    s->total.engine_h += s->options.no_sources ? 0 : s->today->engine_h;
}

int sim_run(struct sim *s)
{
    const struct bus *house = &s->buses[s->house];

    for (long day = 0; day < s->options.days && !s->stopped; day++) {
        if (day_begin(s, day) != 0)
            return -1;
        for (size_t step = 0; step < s->steps && !s->stopped; step++) {
            run_step(s, step, (size_t)day * s->steps + step);
            s->days[day].min_charge = lesser(s->days[day].min_charge, house->charge);
        }
        if (!s->stopped)
            day_end(s, day);
    }
    sim_wake(s, s->running_s + s->options.step_s);
    return sim_events_close(s);
}

/* Overloads count, unlike in sizing runs, which look at the events that a bank or panel can mend. */
int sim_passes(const struct sim *s)
{
    for (int kind = 0; kind < EVENT_KINDS; kind++) /* each of them is something gone wrong */
        if (s->event_steps[kind])
            return 0;
    return 1;
}

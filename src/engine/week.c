/* week.c - runs the plan and writes down what happened.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "engine/engine.h"
#include "engine/need.h"
#include "engine/sim.h"

/*
 * Runs the simulation of sim.c over the plan and turns what it kept into a result: rows, days, events with
 * the names of the loads concerned, outcomes of the banks, and the summary whose energy account closes:
 *
 *   solar + alternators + chargers =
 *       (loads - unserved) + inverter loss + change of stored energy + battery loss
 *
 * Battery loss is what went in at the posts less what is stored more, and not a sum of its own: so the
 * account closes to rounding, and energy_error_wh says that it does.
 *
 * Autonomy is a run of its own: from the ceiling to the floor on the plan's loads with no source at all, 60
 * days at most.
 */

enum { AUTONOMY_DAYS = 60, WHO_NAMES = 5 };

/* ---- which loads were on at a moment ---- */

/* A moment, and whether a load was on then. */
struct on_at {
    double second;
    int on;
};

/* Sets on where the stretch holds the moment; timeline_load_intervals calls it for each. */
static void mark_if_within(void *context, double start_s, double end_s)
{
    struct on_at *at = context;

    at->on |= start_s <= at->second && at->second < end_s;
}

/* Whether an event of that kind can concern a load of that supply. */
static int concerns(enum week_event_kind kind, const struct load *load)
{
    switch (kind) {
    case EVENT_SHORE_OVERLOAD:
    case EVENT_GENERATOR_OVERLOAD:
        return load->supply != SUPPLY_DC;
    case EVENT_INVERTER_OVERLOAD:
    case EVENT_CUT_OUT:
    case EVENT_NO_AC:
        return load->supply == SUPPLY_AC;
    case EVENT_SHED:
        return load->supply != SUPPLY_MAINS && load->priority == LOAD_SHED;
    default:
        return load->supply != SUPPLY_MAINS;
    }
}

/* By power, then by name, so that equal ones always stand in one order. */
static int larger_first(const void *a, const void *b)
{
    const struct load *const *x = a, *const *y = b;
    double wx = load_running_w(*x), wy = load_running_w(*y);

    return wx != wy ? (wx < wy ? 1 : -1) : strcmp((*x)->name, (*y)->name);
}

/* "kettle 1500 W, microwave 1250 W and 3 more"; in arena, NULL without memory. */
static const char *names_of(struct arena *arena, const struct load **on, size_t count)
{
    const char *text = "";

    for (size_t i = 0; i < count && i < WHO_NAMES && text; i++)
        text = arena_print(arena, "%s%s%s %.0f W", text, i ? ", " : "", on[i]->name, load_running_w(on[i]));
    if (count > WHO_NAMES && text)
        text = arena_print(arena, "%s and %zu more", text, count - WHO_NAMES);
    return text;
}

/* Names of the loads on at the worst minute of an event: those that it can concern,
 * largest first. NULL without memory. */
static const char *who(struct sim *s, const struct week_event *event)
{
    size_t day = (size_t)(event->worst_s / DAY_S), count = 0;
    const struct day_mark *mark = &s->days[day < s->day_count ? day : s->day_count - 1];
    double midnight = (double)day * DAY_S;
    const struct load **on = arena_array(s->arena, s->boat->load_count, sizeof *on);
    struct on_at at = { event->worst_s - midnight + s->options.step_s / 2, 0 };

    if (!on)
        return NULL;
    for (size_t i = 0; i < s->boat->load_count; i++) {
        const struct load *load = &s->boat->loads[i];

        at.on = 0;
        if (!concerns(event->kind, load))
            continue;
        timeline_load_intervals(load, boat_day_index(s->boat, mark->kind), mark->sunrise_s - midnight,
                                mark->sunset_s - midnight, mark_if_within, &at);
        if (at.on)
            on[count++] = load;
    }
    if (count)
        qsort(on, count, sizeof *on, larger_first);
    return names_of(s->arena, on, count);
}

/* ---- the result ---- */

/* By time, then by kind: one step may begin several. */
static int by_start(const void *a, const void *b)
{
    const struct week_event *x = a, *y = b;

    return x->start_s != y->start_s ? (x->start_s > y->start_s ? 1 : -1) : (int)x->kind - (int)y->kind;
}

/* Sorts by begin, and names who was on. Names are looked up here, not while
 * simulating: only a few events are kept. */
static int finish_events(struct sim *s)
{
    if (s->event_count)
        qsort(s->events, s->event_count, sizeof *s->events, by_start);
    for (size_t i = 0; i < s->event_count; i++)
        if (!(s->events[i].who = who(s, &s->events[i])))
            return -1;
    return 0;
}

/* What became of every bank; NULL without memory. */
static struct bank_outcome *outcomes(struct sim *s)
{
    struct bank_outcome *out = arena_array(s->arena, s->boat->bank_count, sizeof *out);

    for (size_t b = 0; out && b < s->boat->bank_count; b++) {
        const struct bus *bus = &s->buses[b];

        out[b] = (struct bank_outcome){ .name = bus->bank->name,
                                        .start_charge = bus->start_charge,
                                        .end_charge = bank_charge(bus->model, &bus->state),
                                        .min_charge = bus->min_charge,
                                        .min_time_s = bus->min_time_s,
                                        .charge_ah = bus->charge_ah,
                                        .discharge_ah = bus->discharge_ah,
                                        .full_cycles = bus->discharge_ah / bus->model->capacity_ah };
    }
    return out;
}

/* From full to the floor on the plan's loads with nothing charging [h]; capped. Negative without memory. */
static double autonomy_h(const struct boat *boat)
{
    struct sim_options options = sim_plain(boat);
    struct arena *arena = arena_new();
    struct sim sim;
    double hours = -1;

    options.no_sources = 1;
    options.stop_on = 1u << EVENT_FLOOR;
    options.days = AUTONOMY_DAYS;
    options.step_s = fmax(options.step_s, 60);
    options.start_charge = boat_house_bank(boat)->ceiling.value;
    if (arena && sim_new(&sim, arena, boat, &options) == 0 && sim_run(&sim) == 0)
        hours = sim.floor_reached_s < 0 ? AUTONOMY_DAYS * 24 : sim.floor_reached_s / HOUR_S;
    arena_free(arena);
    return hours;
}

/* Everything that may run at once [W] at the DC bus, the inverters' output held to their rating. */
static double connected_w(const struct boat *boat)
{
    double dc = 0, ac = 0, limit = 0;

    for (size_t i = 0; i < boat->inverter_count; i++)
        limit += boat->inverters[i].power.value / boat->inverters[i].efficiency.value;
    for (size_t i = 0; i < boat->load_count; i++) {
        if (boat->loads[i].supply == SUPPLY_DC)
            dc += load_running_w(&boat->loads[i]);
        else if (boat->loads[i].supply == SUPPLY_AC && boat->inverter_count)
            ac += load_running_w(&boat->loads[i]) / boat->inverters[0].efficiency.value;
    }
    return dc + fmin(ac, limit);
}

/* [Wh] more in the banks at the end than at the beginning. */
static double stored_change(const struct sim *s)
{
    double wh = 0;

    for (size_t b = 0; b < s->boat->bank_count; b++)
        wh += bank_stored_wh(s->buses[b].model, &s->buses[b].state) - s->buses[b].start_stored_wh;
    return wh;
}

/* What went into the banks at their posts, less what came out [Wh]. */
static double terminal_energy(const struct sim *s)
{
    double wh = 0;

    for (size_t b = 0; b < s->boat->bank_count; b++)
        wh += s->buses[b].terminal_wh;
    return wh;
}

/* The energy account over the whole plan, every figure at the DC bus. */
static void summarise_energy(const struct sim *s, struct week_summary *w)
{
    const struct totals *t = &s->total;

    w->solar_wh = t->solar_wh;
    w->solar_spilled_wh = t->spilled_wh;
    w->alternator_wh = t->alternator_wh;
    w->charger_wh = t->charger_wh;
    w->load_wh = t->load_wh;
    w->unserved_wh = t->unserved_wh;
    memcpy(w->unserved_by_priority_wh, t->unserved_priority_wh, sizeof w->unserved_by_priority_wh);
    w->mains_wh = t->mains_wh;
    w->mains_missed_wh = t->mains_missed_wh;
    w->inverter_loss_wh = t->inverter_loss_wh;
    w->stored_change_wh = stored_change(s);
    w->battery_loss_wh = terminal_energy(s) - w->stored_change_wh;
    w->energy_error_wh = w->solar_wh + w->alternator_wh + w->charger_wh - (w->load_wh - w->unserved_wh)
                         - w->inverter_loss_wh - w->stored_change_wh - w->battery_loss_wh;
}

/* The summary but for autonomy: charges as shares, times in seconds from the plan's first midnight,
 * -1 where something never happened. */
static void summarise(const struct sim *s, struct week_summary *w)
{
    const struct bus *house = &s->buses[s->house];

    *w = (struct week_summary){ .min_charge = s->min_charge,
                                .min_time_s = s->min_time_s,
                                .end_charge = bank_charge(house->model, &house->state),
                                .max_charge = s->max_charge,
                                .floor = house->model->floor,
                                .ceiling = house->model->ceiling,
                                .below_floor_h = s->total.below_floor_h,
                                .min_bank_v = s->min_v,
                                .min_bank_v_time_s = s->min_v_s,
                                .generator_h = s->total.generator_h,
                                .generator_fuel_l = s->total.generator_fuel_l,
                                .generator_starts = (double)s->total.generator_starts,
                                .engine_h = s->total.engine_h,
                                .alternator_fuel_l = s->total.alternator_fuel_l,
                                .shore_h = s->total.shore_h,
                                .recharge_h =
                                    s->recharged_s < 0 ? -1 : (s->recharged_s - s->min_time_s) / HOUR_S,
                                .largest_load_w = s->largest_load_w,
                                .largest_load_time_s = s->largest_load_s,
                                .connected_load_w = connected_w(s->boat),
                                .largest_charge_a = s->largest_charge_a,
                                .largest_discharge_a = s->largest_discharge_a,
                                .passes = sim_passes(s) };
    summarise_energy(s, w);
}

/* One line that says the finding of the week. */
static const char *finding(const struct sim *s, const struct week_summary *w)
{
    long day = (long)(w->min_time_s / DAY_S);
    int minute = (int)lround((w->min_time_s - (double)day * DAY_S) / 60);
    int weekday = date_weekday(timeline_date(s->boat, day));
    double unfed = w->unserved_by_priority_wh[LOAD_VITAL] + w->unserved_by_priority_wh[LOAD_NORMAL];
    const char *verdict = "";

    if (unfed > 0.5)
        verdict = arena_print(s->arena, "; %.1f kWh of load could not be fed", unfed / 1000);
    else if (w->below_floor_h > 0)
        verdict = arena_print(s->arena, "; %.1f h below the %.0f %% floor", w->below_floor_h, w->floor * 100);
    return arena_print(s->arena, "Lowest charge %.0f %% on %s %02d:%02d%s", w->min_charge * 100,
                       weekday_name(weekday), minute / 60, minute % 60, verdict ? verdict : "");
}

/* From the simulation to the result; runs the autonomy on the side. */
static enum status week_write(struct week *week, struct sim *s)
{
    const struct boat *boat = s->boat;
    double autonomy = autonomy_h(boat);

    *week = (struct week){ .boat = boat->name ? boat->name : "unnamed boat",
                           .place = place_text(s->arena, boat),
                           .bank = bank_text(s->arena, &boat->banks[s->house]),
                           .step_s = s->options.step_s,
                           .row_step_s = s->options.step_s * (double)(s->row_steps ? s->row_steps : 1),
                           .has_generator = boat->generator_count > 0,
                           .has_charger = boat->charger_count > 0,
                           .has_alternator = boat->alternator_count > 0,
                           .has_solar = boat->solar_count > 0,
                           .rows = s->rows,
                           .row_count = s->row_count,
                           .days = s->days,
                           .day_count = s->day_count };
    if (autonomy < 0 || finish_events(s) != 0)
        return STATUS_NO_MEMORY;
    week->events = s->events;
    week->event_count = s->event_count;
    week->banks = outcomes(s);
    week->bank_count = boat->bank_count;
    summarise(s, &week->summary);
    week->summary.autonomy_h = autonomy;
    week->finding = finding(s, &week->summary);
    return week->banks && week->finding ? STATUS_OK : STATUS_NO_MEMORY;
}

enum status week_run(const struct week **out, struct arena *arena, const struct boat *boat,
                     const struct week_options *options, struct diag_list *diags)
{
    struct sim_options plain = sim_plain(boat);
    struct week *week = arena_zero(arena, sizeof *week);
    struct sim *sim = arena_zero(arena, sizeof *sim);
    enum status status;

    if (options->step_s > 0)
        plain.step_s = options->step_s;
    plain.row_s = options->row_s;
    plain.keep_events = 1;
    if ((status = need_simulation(boat, plain.step_s, diags)) != STATUS_OK)
        return status;
    if (!week || !sim || sim_new(sim, arena, boat, &plain) != 0 || sim_run(sim) != 0)
        return STATUS_NO_MEMORY;
    if ((status = week_write(week, sim)) == STATUS_OK)
        *out = week;
    return status;
}

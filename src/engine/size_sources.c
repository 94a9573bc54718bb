/* size_sources.c - alternators, charger, inverter and generator: what the plan asks of them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/handbook.h"
#include "engine/size_parts.h"

/*
 * What the plan asks of each source. Deficits are means of the simulated plan as it stands, over its days:
 *
 *   alternators  load - solar - charger, put back in the plan's engine hours
 *   charger      a share of the bank's capacity, and the mean load on top
 *   inverter     the largest AC total of the plan, with a reserve, and one start on top
 *   generator    load - solar - alternators, through the charger
 */

/* An inverter should carry the largest total with this much in hand (common practice 1.25 to 1.3). */
static const double inverter_reserve = 1.25;

/* Current the bank would take in bulk, rested at its floor [A]. */
static double bulk_acceptance_a(const struct sizer *z)
{
    const struct bank_model *model = z->plain.buses[z->plain.house].model;
    struct bank_state state;
    double set_v;

    bank_state_rested(model, model->floor, &state);
    set_v = bank_set_voltage(model, &state);
    return bank_accept_w(model, &state, set_v) / set_v;
}

/* Highest speed the plan runs an engine at, else its idle speed [rpm]. */
static double planned_rpm(const struct boat *boat, const struct engine *engine)
{
    double rpm = 0;

    for (size_t d = 0; d < boat->plan.day_count; d++)
        for (size_t r = 0; r < boat->plan.days[d]->run_count; r++) {
            const struct engine_run *run = &boat->plan.days[d]->runs[r];

            if (!run->engine || run->engine == engine)
                rpm = fmax(rpm, range_or(&run->speed, engine->idle_speed.value));
        }
    return rpm > 0 ? rpm : engine->idle_speed.value;
}

/* [A] of all alternators, hot, at the speeds of the plan. */
static double hot_total_a(const struct boat *boat)
{
    double amps = 0;

    for (size_t i = 0; i < boat->alternator_count; i++)
        amps += alternator_current(&boat->alternators[i], planned_rpm(boat, boat->alternators[i].engine));
    return amps;
}

/* What it gives, what the bank would take, and the label that would cover load less solar and charger in the
 * plan's engine hours, each machine by its share of the hot output. */
static struct alternator_size size_alternator(struct sizer *z, const struct alternator *a, double total_hot)
{
    const struct boat *boat = z->boat;
    double engines = boat->engine_count ? (double)boat->engine_count : 1;
    double hours = z->engine_h_day / engines, rpm = planned_rpm(boat, a->engine);
    double deficit = fmax(z->mean_load_wh - z->mean_solar_wh - z->mean_charger_wh, 0);
    struct alternator_size out = { .name = a->name, .rated_a = a->rated_current.value,
                                   .hot_a = alternator_current(a, rpm), .accepted_a = bulk_acceptance_a(z) };
    double share = total_hot > 0 ? out.hot_a / total_hot : 0;
    double per_label = out.rated_a > 0 ? out.hot_a / out.rated_a : 0;

    if (hours > 0)
        out.delivered_a = z->mean_alternator_wh / z->volts / hours * share;
    if (hours > 0 && per_label > 0)
        out.needed_a = deficit / z->volts / hours * share / per_label;
    out.over_accepts = a->bank == z->house && out.accepted_a > out.hot_a && !range_known(&a->current_limit);
    work_note(&z->work, "alternator", a->name, out.needed_a, "A",
              "hot output curve, see docs/handbook/models.md",
              "share of (load - solar - charger) / volts / engine hours / hot share of the label",
              "%.2g x %.0f Wh / %.3g V / %.3g h / %.2g", share, deficit, z->volts, hours, per_label);
    return out;
}

void size_alternators(struct sizer *z, struct size *out)
{
    struct alternator_size *all = arena_array(z->arena, z->boat->alternator_count, sizeof *all);
    double total = hot_total_a(z->boat);

    if (!all)
        return;
    for (size_t i = 0; i < z->boat->alternator_count; i++)
        all[i] = size_alternator(z, &z->boat->alternators[i], total);
    out->alternators = all;
    out->alternator_count = z->boat->alternator_count;
}

/* Handbook sum: low end of the chemistry's band times Ah, plus the mean load, which
 * the charger carries meanwhile. */
void size_charger(struct sizer *z, struct charger_size *out)
{
    const struct chemistry_facts *facts = chemistry_facts(z->house->chemistry);
    double ah = bank_rated_ah(z->house), running = z->mean_load_wh / 24 / z->volts;
    struct smallest s;

    for (size_t i = 0; i < z->boat->charger_count; i++)
        if (z->boat->chargers[i].bank == z->house)
            out->installed_a += z->boat->chargers[i].current.value;
    out->low_a = facts->charge_low_c * ah;
    out->high_a = facts->charge_high_c * ah;
    out->handbook_a = work_note(&z->work, "charger", "handbook answer", out->low_a + running, "A",
                                facts->source, "low end of the usual band x Ah + mean load",
                                "%.3g x %.0f Ah + %.3g A", facts->charge_low_c, ah, running);
    s = size_smallest(z, KNOB_CHARGER, "charger", "A", out->installed_a);
    out->simulated_a = s.size;
    out->simulation = s.says;
    out->generator_h_week = s.generator_h_week;
    out->needed_a = fmax(out->handbook_a, out->simulated_a);
    out->limited_by = out->simulated_a > out->handbook_a ? "simulated week" : "share of the bank";
}

/*
 * Continuous: largest AC total of the plan with a reserve. Surge: that total and the one
 * motor whose start is the largest above its running, for two do not start in one second.
 * Current: at cut-out volts, where it is largest. Where none is installed, 90 % efficient, cut out at 10.5 V
 * of each 12 V.
 */
void size_inverter(struct sizer *z, struct inverter_size *out)
{
    const struct boat *boat = z->boat;
    double start = 0, efficiency = boat->inverter_count ? boat->inverters[0].efficiency.value : 0.90;
    double cut_out = z->plain.inverters.cut_out_v > 0 ? z->plain.inverters.cut_out_v : z->volts * 0.875;

    for (size_t i = 0; i < boat->inverter_count; i++) {
        out->installed_w += boat->inverters[i].power.value;
        out->installed_surge_w += range_or(&boat->inverters[i].surge_power, boat->inverters[i].power.value);
    }
    for (size_t i = 0; i < boat->load_count; i++) {
        const struct load *load = &boat->loads[i];

        if (load->supply != SUPPLY_AC)
            continue;
        out->connected_w += load_running_w(load);
        start = fmax(start, load->power.value * (range_or(&load->surge, 1) - 1));
    }
    out->running_w = z->plain.largest_ac_w;
    out->continuous_w = work_note(&z->work, "inverter", "continuous", inverter_reserve * out->running_w, "W",
                                  "reserve: common practice", "reserve x largest AC total of the plan",
                                  "%.3g x %.0f W", inverter_reserve, out->running_w);
    out->surge_w = work_note(
        &z->work, "inverter", "surge", out->running_w + start, "W", "starting multiples of the loads",
        "largest AC total + largest start above running", "%.0f W + %.0f W", out->running_w, start);
    out->dc_current_a = work_note(&z->work, "inverter", "current at cut-out",
                                  handbook_dc_current(out->continuous_w, efficiency, cut_out), "A",
                                  "power balance", "continuous / (efficiency x cut-out volts)",
                                  "%.0f W / (%.3g x %.3g V)", out->continuous_w, efficiency, cut_out);
    out->limited_by = out->surge_w > 2 * out->continuous_w ? "starting power" : "running power";
}

/* Hours by the sum and as simulated. Power: all chargers it feeds at full output, at 1.15 times the working
 * volts for absorption, and the largest AC total at once. */
void size_generator(struct sizer *z, const struct charger_size *charger, struct generator_size *out)
{
    const struct boat *boat = z->boat;
    const struct totals *t = &z->plain.total;
    double weeks = (double)boat->plan.day_count / WEEK_D;
    double deficit = fmax(z->mean_load_wh - z->mean_solar_wh - z->mean_alternator_wh, 0) * WEEK_D;
    double amps = charger->installed_a > 0 ? charger->installed_a : charger->needed_a;
    double efficiency = chemistry_facts(z->house->chemistry)->coulombic_bulk, va = 0, power;

    for (size_t i = 0; i < boat->charger_count; i++)
        if (boat->chargers[i].fed_by & FED_BY_GENERATOR)
            va += charger_input_va(&boat->chargers[i], boat->chargers[i].current.value * z->volts * 1.15);
    out->hours_per_week = t->generator_h / weeks;
    out->fuel_l_per_week = t->generator_fuel_l / weeks;
    out->deficit_hours = work_note(
        &z->work, "generator", "hours by the sum", handbook_charge_h(deficit, amps, z->volts, efficiency),
        "h/week", "handbook sum", "7 x (load - solar - alternators) / (charger A x V x charge efficiency)",
        "%.0f Wh / (%.0f A x %.3g V x %.3g)", deficit, amps, z->volts, efficiency);
    power = va + z->plain.largest_ac_w;
    *(boat->generator_count ? &out->needed_w : &out->would_need_w) = power;
    work_note(&z->work, "generator", boat->generator_count ? "power" : "power, if there was one", power, "W",
              "chargers at full output and the largest AC total at once", "charger VA + AC total",
              "%.0f + %.0f", va, z->plain.largest_ac_w);
    if (boat->generator_count) {
        out->installed_w = boat->generators[0].power.value;
        if (t->generator_h > 0)
            out->mean_load = t->generator_wh / t->generator_h / out->installed_w;
    }
}

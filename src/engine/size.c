/* size.c - handbook sum and simulation side by side: bank and panels; the others are in size_sources.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "engine/handbook.h"
#include "engine/need.h"
#include "engine/size_parts.h"

/*
 * Two answers side by side, and the larger is taken.
 *
 * Handbook sum: the form of published worksheets (handbook.h), which asks for so many days without any
 * source.
 *
 * Simulated: the smallest scale of the bank, the panels or the chargers with which the plan, run twice over,
 * serves every load and puts none off, never goes below the floor, never cuts out, and ends no lower the
 * second time than the first. All else stays as it is installed. An overloaded inverter, lead or generator
 * does not count: no bank or panel mends it.
 *
 * They differ because the sum lets nothing charge and the simulation lets everything; the line `difference`
 * says by how much. Checked: tests/engine/test_size.c: a size that was found passes, and a little less does
 * not.
 */

/* Days a bank should last with no source, where the plan does not say (common practice with an engine on
 * board). */
static const double usual_autonomy_d = 1;

/* A bank is replaced at this share of its rating; the handbook sum sizes for that day (IEEE 485 ageing
 * factor 1.25). */
static const double aged = 0.80;

/* Array output over rating x sun hours: flat, ventilated, unshaded, mppt (common practice 0.65 to 0.80). */
static const double performance_ratio = 0.75;

/* A size passes when the second of two plans in a row ends no lower than the first by more than this [-]. */
static const double drift = 0.01;

/* Sizing runs use this step [s]: a minute, or the plan's own where that is longer. */
static const double size_step_s = 60;

/* What a size can mend, and a run ends with: an overloaded inverter, lead or generator does not
 * count here. */
static const unsigned mendable =
    1u << EVENT_UNSERVED | 1u << EVENT_FLOOR | 1u << EVENT_CUT_OUT | 1u << EVENT_SHED;

/* Days kept between runs take no more memory than this; longer plans have their later days compiled anew. */
static const size_t kept_bytes = 12 << 20;

/* Days of both runs of the plan, shared by all sizing runs, for no knob changes what a day
 * asks for. NULL without memory. */
static struct timelines *sizing_timelines(const struct sizer *z)
{
    double step_s = fmax(z->boat->plan.step.value, size_step_s);
    double day_bytes = DAY_S / step_s *
                       (double)(z->boat->bank_count * sizeof(struct bus_step) + sizeof(struct ac_step));
    size_t days = 2 * z->boat->plan.day_count, room = (size_t)((double)kept_bytes / day_bytes);

    return timelines_new(z->arena, z->boat, step_s, days < room ? days : room);
}

/*
 * Runs the plan twice over with that variation and says whether it passes what a size can mend: nothing
 * unserved or put off, never under the floor or the cut-out, and ending no lower the second time than the
 * first by more than drift. Twice, because a plan that eats a full bank up would pass once.
 */
static struct trial try_size(struct sizer *z, enum size_knob knob, double scale)
{
    struct sim_options options = sim_plain(z->boat);
    struct arena *arena = arena_new();
    double *const knobs[] = { [KNOB_BANK] = &options.bank_scale, [KNOB_SOLAR] = &options.solar_scale,
                              [KNOB_CHARGER] = &options.charger_scale };
    struct trial trial = { 1, 0, 0 };
    struct sim sim;

    *knobs[knob] = scale;
    options.days *= 2;
    options.step_s = fmax(options.step_s, size_step_s);
    options.stop_on = mendable;
    options.timelines = z->timelines;
    if (arena && sim_new(&sim, arena, z->boat, &options) == 0 && sim_run(&sim) == 0) {
        trial.passes = !sim.stopped && sim.days[sim.day_count - 1].end_charge >=
                                           sim.days[z->boat->plan.day_count - 1].end_charge - drift;
        trial.generator_h = sim.total.generator_h;
    } else {
        z->failed = 1;
    }
    arena_free(arena);
    return trial;
}

/* Runs a size, or says again what came of the boat as it stands; *passing is kept where it passes. */
static int size_passes(struct sizer *z, enum size_knob knob, double scale, struct trial *passing)
{
    struct trial trial = scale == 1 && z->built.run ? z->built : try_size(z, knob, scale);

    if (scale == 1)
        z->built = trial;
    if (trial.passes)
        *passing = trial;
    return trial.passes;
}

/*
 * Scale of the knob, to 1 %; 0: the plan passes without; negative: not even 32 times as much
 * passes. With an automatic generator a larger size need not do better, so what is found
 * passes, but may not be the smallest. *passing is its run.
 */
static double smallest_scale(struct sizer *z, enum size_knob knob, struct trial *passing)
{
    const double most = 32, near = 0.01;
    double low = 0, high = 1;

    if (knob != KNOB_BANK && size_passes(z, knob, 0, passing))
        return 0;
    while (!size_passes(z, knob, high, passing)) {
        low = high;
        high *= 2;
        if (high > most)
            return -1;
    }
    while (high - low > near * high) {
        double middle = (low + high) / 2;

        if (size_passes(z, knob, middle, passing))
            high = middle;
        else
            low = middle;
    }
    return high;
}

struct smallest size_smallest(struct sizer *z, enum size_knob knob, const char *topic, const char *unit,
                              double installed)
{
    double weeks = 2 * (double)z->boat->plan.day_count / WEEK_D;
    struct trial passing = { 0, 0, 0 };
    double scale = installed > 0 ? smallest_scale(z, knob, &passing) : -1;
    struct smallest s = { scale < 0 ? -1 : scale * installed, "smallest that passes",
                          passing.generator_h / weeks };

    if (installed <= 0)
        s.says = "none installed";
    else if (scale < 0)
        s.says = "no size passes";
    else if (scale == 0)
        s.says = "passes with none";
    if (s.size >= 0)
        work_note(&z->work, topic, "smallest that passes the plan, run twice over", s.size, unit,
                  "simulation", s.says, NULL);
    return s;
}

/* The largest daily load among the plan's kinds, those away from shore first: that is when the bank must
 * carry it. */
static void find_worst_day(struct sizer *z)
{
    const struct balance *b = z->balance;

    for (int ashore = 0; ashore < 2 && z->worst_load_wh <= 0; ashore++)
        for (size_t i = 0; i < b->day_count; i++) {
            const struct balance_day *d = &b->days[i];

            if (d->days_in_plan == 0 || (d->shore_h > 0) != ashore || d->load_wh <= z->worst_load_wh)
                continue;
            z->worst_load_wh = d->load_wh;
            z->worst_kind = d->kind;
        }
}

/* Mean day of the simulated plan, and the plan's engine hours. */
static void find_means(struct sizer *z)
{
    const struct totals *t = &z->plain.total;
    double days = (double)z->boat->plan.day_count;

    z->mean_load_wh = (t->load_wh + t->inverter_loss_wh) / days;
    z->mean_solar_wh = t->solar_wh / days;
    z->mean_alternator_wh = t->alternator_wh / days;
    z->mean_charger_wh = t->charger_wh / days;
    z->engine_h_day = t->engine_h / days;
}

/* Largest current the inverter draws at once in the plan [A]. */
static double inverter_peak_a(const struct sizer *z)
{
    double w = fmin(z->plain.largest_ac_w, z->plain.inverters.model.power_w);

    return w > 0 ? inverter_input_w(&z->plain.inverters.model, w) / z->volts : 0;
}

/* Everything that may charge at once [A]: hot alternators, panels at their rating, chargers. */
static double charge_peak_a(const struct sizer *z)
{
    double amps = 0;

    for (size_t i = 0; i < z->boat->alternator_count; i++) {
        const struct alternator *a = &z->boat->alternators[i];

        if (a->bank == z->house)
            amps += fmin(a->rated_current.value * a->hot_factor.value, range_or(&a->current_limit, INFINITY));
    }
    for (size_t i = 0; i < z->boat->charger_count; i++)
        amps += z->boat->chargers[i].bank == z->house ? z->boat->chargers[i].current.value : 0;
    for (size_t i = 0; i < z->boat->solar_count; i++)
        amps += z->boat->solars[i].power.value * z->boat->solars[i].count.value / z->volts;
    return amps;
}

/*
 * The largest of three demands (IEEE 1013, from memory):
 *
 *   autonomy   load of the heaviest day / volts x days / (usable x temperature x ageing)
 *   discharge  largest inverter current of the plan / continuous C-rate
 *   charge     all charge currents at once / highest C-rate
 *
 * *limited_by: which of them; returns [Ah] at 20 h.
 */
static double handbook_bank(struct sizer *z, double autonomy_d, const char **limited_by)
{
    const struct chemistry_facts *facts = chemistry_facts(z->house->chemistry);
    double usable = z->house->ceiling.value - z->house->floor.value;
    double temperature = z->plain.buses[z->plain.house].temperature_c;
    double warm = fmin(bank_capacity_factor(z->house->chemistry, temperature), 1);
    double by_load, by_discharge, by_charge, ah;
    struct work *w = &z->work;

    work_note(w, "bank", "load of the heaviest day", z->worst_load_wh, "Wh", "daily balance",
              "the largest daily load in the plan, away from shore where there is such a day", "%s",
              z->worst_kind ? z->worst_kind : "none");
    work_note(w, "bank", "days of autonomy", autonomy_d, "d",
              z->boat->plan.autonomy.origin == ORIGIN_GIVEN ? "given" : "common practice", NULL, NULL);
    work_note(w, "bank", "usable share", usable, "", "ceiling - floor", "ceiling - floor", "%.3g - %.3g",
              z->house->ceiling.value, z->house->floor.value);
    work_note(w, "bank", "capacity at its temperature", warm, "",
              "IEEE 485 for lead; cell data, from memory, for LFP", "share of that at 25 C, no credit above",
              "%.3g C", temperature);
    work_note(w, "bank", "ageing", aged, "", "IEEE 485: replaced at 80 %", NULL, NULL);
    by_load = work_note(w, "bank", "for autonomy",
                        handbook_bank_ah(z->worst_load_wh, z->volts, autonomy_d, usable, warm, aged), "Ah",
                        "handbook sum", "load / volts x days / (usable x temperature x ageing)",
                        "%.0f Wh / %.3g V x %.3g / (%.3g x %.3g x %.3g)", z->worst_load_wh, z->volts,
                        autonomy_d, usable, warm, aged);
    by_discharge = work_note(w, "bank", "for the largest inverter load",
                             inverter_peak_a(z) / facts->continuous_discharge_c, "Ah", facts->source,
                             "inverter current / continuous C-rate", "%.0f A / %.3g", inverter_peak_a(z),
                             facts->continuous_discharge_c);
    by_charge = work_note(w, "bank", "to take all charging at once", charge_peak_a(z) / facts->max_charge_c,
                          "Ah", facts->source, "sum of charge sources / highest C-rate", "%.0f A / %.3g",
                          charge_peak_a(z), facts->max_charge_c);
    ah = fmax(fmax(by_load, by_discharge), by_charge);
    *limited_by = ah == by_load ? "autonomy" : ah == by_discharge ? "discharge rate" : "charge rate";
    return work_note(w, "bank", "handbook answer", ah, "Ah", "the largest of the three", NULL, NULL);
}

/* Both answers, the larger counts; rounded up to whole strings of blocks. */
static void size_bank(struct sizer *z, struct bank_size *out)
{
    double autonomy_d = range_or(&z->boat->plan.autonomy, usual_autonomy_d);
    struct smallest s;

    out->installed_ah = bank_rated_ah(z->house);
    out->block_ah = z->house->block_capacity.value;
    out->series = z->house->series.value;
    out->handbook_ah = handbook_bank(z, autonomy_d, &out->limited_by);
    s = size_smallest(z, KNOB_BANK, "bank", "Ah", out->installed_ah);
    out->simulated_ah = s.size;
    out->simulation = s.says;
    out->generator_h_week = s.generator_h_week;
    out->needed_ah = fmax(out->handbook_ah, out->simulated_ah);
    if (out->simulated_ah > out->handbook_ah)
        out->limited_by = "simulated week";
    out->parallel = handbook_whole(out->needed_ah, out->block_ah);
    out->blocks = out->parallel * out->series;
    out->mass_kg = out->blocks * range_or(&z->house->mass, 0);
    out->usable_wh =
        out->parallel * out->block_ah * z->volts * (z->house->ceiling.value - z->house->floor.value);
    work_note(&z->work, "bank", "whole blocks", out->blocks, "", "rounded up", "series x strings",
              "%.0f x %.0f", out->series, out->parallel);
}

/* [kWh/m2 day] on the flat, mean over the days of the plan. */
static double mean_sun_hours(const struct sizer *z)
{
    double sum = 0;

    for (size_t i = 0; i < z->boat->plan.day_count; i++)
        sum += timeline_irradiation(z->boat, z->boat->plan.days[i], (long)i);
    return sum / (double)z->boat->plan.day_count;
}

/* [-] what the first array's own and the days' shading take together, mean over the plan. */
static double mean_shading(const struct sizer *z)
{
    double sum = 0, array = z->boat->solar_count ? range_or(&z->boat->solars[0].shading, 0) : 0;

    for (size_t i = 0; i < z->boat->plan.day_count; i++)
        sum += range_or(&z->boat->plan.days[i]->shading, 0);
    return 1 - (1 - array) * (1 - sum / (double)z->boat->plan.day_count);
}

/*
 * Both answers, the larger counts. Panels cover what alternators and chargers leave of the load:
 *
 *   W = daily Wh / (sun hours x 0.75 x (1 - shading) x coulombic efficiency)
 */
static void size_solar(struct sizer *z, struct solar_size *out)
{
    double efficiency = chemistry_facts(z->house->chemistry)->coulombic_bulk;
    double wanted = fmax(z->mean_load_wh - z->mean_alternator_wh - z->mean_charger_wh, 0);
    double shading = mean_shading(z);
    struct work *w = &z->work;
    struct smallest s;

    for (size_t i = 0; i < z->boat->solar_count; i++)
        out->installed_w += z->boat->solars[i].power.value * z->boat->solars[i].count.value;
    out->panel_w = z->boat->solar_count ? z->boat->solars[0].power.value : 0;
    out->sun_hours = work_note(w, "solar", "sun hours of the mean day", mean_sun_hours(z), "h",
                               "site and plan", "kWh/m2 on the horizontal", NULL);
    work_note(w, "solar", "to be covered by panels", wanted, "Wh/day", "simulated plan",
              "load - alternators - chargers", "%.0f - %.0f - %.0f", z->mean_load_wh, z->mean_alternator_wh,
              z->mean_charger_wh);
    out->handbook_w = handbook_array_w(wanted, out->sun_hours, performance_ratio * (1 - shading), efficiency);
    work_note(w, "solar", "handbook answer", out->handbook_w, "W", "performance ratio: common practice",
              "daily Wh / (sun hours x performance ratio x (1 - shading) x charge efficiency)",
              "%.0f / (%.3g x %.3g x %.3g x %.3g)", wanted, out->sun_hours, performance_ratio, 1 - shading,
              efficiency);
    s = size_smallest(z, KNOB_SOLAR, "solar", "W", out->installed_w);
    out->simulated_w = s.size;
    out->simulation = s.says;
    out->generator_h_week = s.generator_h_week;
    out->needed_w = fmax(out->handbook_w, out->simulated_w);
    out->limited_by = out->simulated_w > out->handbook_w ? "simulated week" : "daily energy";
    out->panels = handbook_whole(out->needed_w, out->panel_w);
}

/* Why the two answers for the bank differ: the sum lets nothing charge, the simulation lets everything. */
static const char *difference(const struct sizer *z, const struct size *size)
{
    const struct bank_size *b = &size->bank;

    if (b->simulated_ah < 0)
        return arena_print(
            z->arena,
            "No bank is large enough for this plan: it uses %.1f kWh a day and its sources bring %.1f "
            "kWh; more charging or less use comes first.",
            z->mean_load_wh / 1000, (z->mean_solar_wh + z->mean_alternator_wh + z->mean_charger_wh) / 1000);
    return arena_print(
        z->arena,
        "The handbook sum asks for %.3g day(s) of the heaviest day (%s, %.1f kWh) with no source at all, "
        "from a bank aged to %.0f %%; the simulation lets sun, engines and shore put back %.1f kWh a day "
        "while the loads run, on the bank at its present health of %.0f %%.",
        size->autonomy_days, z->worst_kind ? z->worst_kind : "none", z->worst_load_wh / 1000, aged * 100,
        (z->mean_solar_wh + z->mean_alternator_wh + z->mean_charger_wh) / 1000, z->house->health.value * 100);
}

/* The balance and one run of the plan as it stands. The sizer is large: it lives in the arena. */
static enum status sizer_new(struct sizer *z, struct diag_list *diags)
{
    struct sim_options options = sim_plain(z->boat);
    enum status status = need_simulation(z->boat, options.step_s, diags);

    if (status != STATUS_OK || (status = balance_run(&z->balance, z->arena, z->boat, diags)) != STATUS_OK)
        return status;
    z->house = boat_house_bank(z->boat);
    z->volts = bank_working_voltage(z->house);
    if (!(z->timelines = sizing_timelines(z)))
        return STATUS_NO_MEMORY;
    if (options.step_s == z->timelines->step_s)
        options.timelines = z->timelines;
    if (sim_new(&z->plain, z->arena, z->boat, &options) != 0 || sim_run(&z->plain) != 0)
        return STATUS_NO_MEMORY;
    find_worst_day(z);
    find_means(z);
    return STATUS_OK;
}

enum status size_run(const struct size **out, struct arena *arena, const struct boat *boat,
                     struct diag_list *diags)
{
    struct sizer *z = arena_zero(arena, sizeof *z);
    struct size *size = arena_zero(arena, sizeof *size);
    enum status status;

    if (!z || !size)
        return STATUS_NO_MEMORY;
    z->boat = boat;
    z->arena = z->work.arena = arena;
    if ((status = sizer_new(z, diags)) != STATUS_OK)
        return status;
    size->boat = z->balance->boat;
    size->place = z->balance->place;
    size->autonomy_days = range_or(&boat->plan.autonomy, usual_autonomy_d);
    size_bank(z, &size->bank);
    size_solar(z, &size->solar);
    size_alternators(z, size);
    size_charger(z, &size->charger);
    size_inverter(z, &size->inverter);
    size_generator(z, &size->charger, &size->generator);
    size->installed_passes = sim_passes(&z->plain);
    size->difference = difference(z, size);
    size->working = work_done(&z->work);
    if (z->failed || z->work.failed || !size->difference || (boat->alternator_count && !size->alternators))
        return STATUS_NO_MEMORY;
    *out = size;
    return STATUS_OK;
}

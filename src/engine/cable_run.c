/* cable_run.c - one run of cable by itself: size, drop, ampacity, fuse.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/cable_run.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/cable_fuse.h"
#include "engine/cable_single.h"
#include "engine/cable_work.h"
#include "parts/fuse.h"
#include "parts/rounding.h"

/*
 * The order of work, and why it is this one:
 *
 *     start        rules, sizes to choose from, surroundings
 *     limit_of     before any size is looked at, for the drop judges sizes
 *     set_size     the typed size, or the smallest that passes; each is fed by itself, as a load in watts
 *                  draws more through a thinner run
 *     fill_*       the row of the table that `cables` fills too, so one page shows both
 *     make_table   last, for it works on the same run and leaves it with other amps and lengths
 *
 * Equations in src/parts/feed.c and "One run by itself" in models.md; held by tests/parts/test_feed.c
 * (volts) and tests/cli/test_cable.c (the same run through `cables`).
 */

const double cable_table_a[CABLE_TABLE_CURRENTS] = { 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100 };

const char *const cable_units_text[] = { "mm2", "AWG", "SAE", "" };

/* Lengths of the table, one way; as trade charts have them. */
static const double table_metres[] = { 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20 };
static const double table_feet[] = { 2.5, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 35, 40, 50 };

static const double FOOT = 0.3048; /* [m] exactly */

/* Rounds in which the conductors warm and the current follows; four were the most that was seen. */
static const int WARM_ROUNDS = 20;

/* 1 from wiring_high_from_v up: volts alone tell the systems apart here, as no profile says it. */
static int is_ac(const struct run *run)
{
    return run->wire.place.volts >= wiring_high_from_v;
}

/* Volts and amps at the load, the conductors as warm as these amps make them. */
static void feed_run(struct run *run)
{
    struct wire *w = &run->wire;
    double volts = w->place.volts, hottest = fmax(w->place.insulation_c, w->ambient_c), before;

    run->loop.reactance_ohm = wire_reactance(w);
    w->temperature_c = w->ambient_c;
    for (int round = 0; round < WARM_ROUNDS; round++) {
        struct wire_ohm ohm = wire_ohm(w, w->temperature_c);

        run->loop.ohm = ohm.out + ohm.back;
        run->feed = run->watts > 0 ? feed_power(volts, run->loop, run->watts, run->wire.power_factor)
                                   : feed_current(volts, run->loop, run->amps, run->wire.power_factor);
        before = w->temperature_c;
        w->temperature_c =
            fmin(hottest, conductor_temperature(w->ambient_c, w->place.insulation_c,
                                                run->feed.current_a / w->runs, w->ampacity.amps));
        if (fabs(w->temperature_c - before) < 1e-9)
            break;
    }
}

/* Takes a size, asks the rules what it carries there, and feeds the run
 * through it. label: NULL for a typed size. */
static void set_area(struct run *run, enum area_series series, double area_m2, const char *label)
{
    run->wire.series = series;
    run->wire.area_m2 = run->wire.back_area_m2 = area_m2;
    run->wire.label = label;
    run->wire.ampacity = wiring_ampacity(run->model.rules, area_m2, &run->wire.place);
    feed_run(run);
}

/* What the limit judges [V]: by the formula of the set, else by resistance and reactance. */
static double judged_drop(const struct run *run)
{
    return model_rule_drop(&run->model, &run->wire, run->feed.current_a, run->wire.area_m2);
}

/* What fails at the present size: 0 nothing, 1 current, 2 smallest conductor, 3 fuse, 4 drop. */
static int fails(const struct run *run)
{
    const struct wiring_rules *rules = run->model.rules;
    const struct wire *w = &run->wire;
    double current = run->feed.current_a, carries = w->ampacity.amps * w->runs,
           fuse = fuse_rating_up(current, w->place.volts);

    if (!at_least(carries, current))
        return 1;
    if (w->area_m2 < wiring_smallest(rules, 0) * (1 - 1e-4))
        return 2;
    if (!run->feed.holds || !at_most(judged_drop(run), run->limit * w->place.volts))
        return 4;
    return fuse > 0 && wiring_fuse_allowed(rules, fuse, carries, w->place.volts) ? 0 : 3;
}

/* The smallest standard size that passes, left in the wire; 0: none does, and the largest is left there. */
int run_choose_size(struct run *run, int *decided)
{
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(run->model.rules, &count);

    *decided = 0;
    for (size_t i = 0; i < count; i++) {
        int failed;

        set_area(run, run->model.rules->series, sizes[i].area_m2, sizes[i].label);
        if ((failed = fails(run)) == 0)
            return 1;
        *decided = failed;
    }
    return 0;
}

/* The row's copper, current and volts. Area in mm2, resistances in mohm, shares in % of nominal volts; a
 * rule drop of -1 says that the set has no formula. */
static void fill_cable(const struct run *run, struct circuit_cable *row)
{
    const struct wire *w = &run->wire;
    const struct conductor_size *awg = conductor_nearest_awg(w->area_m2);
    double share = 100 / w->place.volts;

    row->conductor_c = w->temperature_c;
    row->name = "run";
    row->from = "source";
    row->to = "load";
    row->system = is_ac(run) ? "ac" : "dc";
    row->nominal_v = w->place.volts;
    row->current_a = row->design_a = run->feed.current_a;
    row->design_scenario = "";
    row->length_m = w->length_m;
    row->return_m = w->back_m;
    row->runs = w->runs;
    row->area_mm2 = w->area_m2 * 1e6;
    row->awg = awg ? awg->label : NULL;
    row->resistance_mohm = run->loop.ohm * 1e3;
    row->reactance_mohm = run->loop.reactance_ohm * 1e3;
    row->drop_v = w->place.volts - run->feed.volts_v;
    row->rule_drop_v = run->model.rules->drop_constant > 0 ? judged_drop(run) : -1;
    row->drop_percent = row->total_drop_percent = row->drop_v * share;
    row->rule_total_drop_percent = row->rule_drop_v < 0 ? -1 : row->rule_drop_v * share;
    row->judged_drop_percent = judged_drop(run) * share;
    row->drop_scenario = "";
    row->drop_limit_percent = 100 * run->limit;
    row->drop_margin_percent = row->drop_limit_percent - row->judged_drop_percent;
    row->copper_kg = copper_mass(w->area_m2, (w->length_m + w->back_m) * w->runs);
    row->protective_mm2 = is_ac(run) ? protective_area(w->area_m2) * 1e6 : 0;
}

/* What the tables let it carry, all its runs together, and whether it may; margins in % of the current. */
static void fill_limits(const struct run *run, struct circuit_cable *row)
{
    const struct wire *w = &run->wire;
    double current = run->feed.current_a;

    row->ampacity_a = w->ampacity.amps * w->runs;
    row->base_ampacity_a = w->ampacity.base_a;
    row->column_c = w->ampacity.column_c;
    row->interpolated = w->ampacity.interpolated;
    row->engine_factor = w->ampacity.engine_factor;
    row->bundle_factor = w->ampacity.bundle_factor;
    row->ampacity_margin_percent = current > 0 ? 100 * (row->ampacity_a / current - 1) : 0;
    row->ampacity_ok = at_least(row->ampacity_a, current);
    row->drop_ok = at_most(row->judged_drop_percent, row->drop_limit_percent);
    row->smallest_ok = w->area_m2 >= wiring_smallest(run->model.rules, 0) * (1 - 1e-4);
}

/* Short circuits: at the source as said, taken as resistance alone; at the far end with the run hot. */
static void fill_faults(const struct run *run, struct circuit_cable *row)
{
    const struct wire *w = &run->wire;
    double volts = w->place.volts, rated = w->place.insulation_c;
    struct wire_ohm hot = wire_ohm(w, rated);

    row->i2t_a2s =
        conductor_i2t(w->area_m2 * w->runs, rated, fmax(insulation_fault_temperature(rated), rated + 1));
    row->fault_a = run->request->fault_a;
    if (row->fault_a <= 0)
        return;
    row->fault_far_a = volts / hypot(volts / row->fault_a + hot.out + hot.back, run->loop.reactance_ohm);
    row->withstand_s = conductor_withstand_s(row->i2t_a2s, row->fault_a);
}

/* The device at the source. Without --fault a family cannot be named, for nobody knows what it must break. */
static void fill_fuse(const struct run *run, struct arena *arena, struct circuit_cable *row)
{
    const struct wiring_rules *rules = run->model.rules;

    row->fuse_ok = row->fuse_needed = 1;
    row->fuse_note = "";
    row->fuse_min_a = fuse_rating_up(run->feed.current_a, row->nominal_v);
    row->fuse_max_a = wiring_fuse_limit(rules, row->ampacity_a, row->nominal_v);
    row->fuse_distance_limit_m = wiring_fuse_distance(rules, 0, 0);
    cable_fuse_choose(arena, row, 0);
    if (row->fault_a <= 0 && row->fuse_ok) {
        row->fuse_class = NULL;
        row->fuse_interrupt_a = 0;
        cable_fuse_note(arena, row, FUSE_BREAKING_UNKNOWN,
                        "what it must break depends on what feeds the run: say --fault");
    }
}

/* The first thing wrong; a place that the insulation may not lie in before all. */
static const char *status_of(const struct run *run, const struct circuit_cable *row)
{
    if (run->wire.ampacity.engine_factor <= 0)
        return "insulation not allowed there";
    return cable_status(row, !run->feed.holds,
                        row->fuse_remarks & FUSE_FAR_END ? "a short opens the fuse late" : "no fuse fits");
}

/* ---- the table ---- */

/* Sizes by length (rows) and current (columns) under the limit and in the surroundings of the request; ""
 * where none is thick enough. The run is left with the last of them. NULL without memory. */
static const struct cable_table_row *make_table(struct run *run, struct arena *arena, size_t *count)
{
    int us = run->request->units == UNITS_US;
    const double *lengths = us ? table_feet : table_metres;
    struct cable_table_row *rows;

    *count = sizeof table_metres / sizeof *table_metres;
    rows = arena_array(arena, *count, sizeof *rows);
    run->watts = 0;
    for (size_t i = 0; rows && i < *count; i++) {
        rows[i].length_m = lengths[i] * (us ? FOOT : 1);
        rows[i].length = arena_print(arena, us ? "%g ft" : "%g m", lengths[i]);
        rows[i].series = cable_units_text[run->model.rules->series];
        rows[i].drop_limit = run->limit;
        rows[i].volts_v = run->request->volts_v;
        run->wire.length_m = run->wire.back_m = rows[i].length_m;
        for (size_t k = 0; k < CABLE_TABLE_CURRENTS; k++) {
            int decided;

            run->amps = cable_table_a[k];
            rows[i].size[k] = run_choose_size(run, &decided) ? run->wire.label : "";
        }
    }
    return rows;
}

/* ---- the working ---- */

/* How watts become amps: once at nominal volts, once at the volts that are left at the load. */
static void note_current(struct work *w, const struct run *run, const struct cable_answer *a)
{
    const struct circuit_cable *row = &a->cable;
    double cosine = run->wire.power_factor;

    if (run->watts <= 0)
        return;
    work_note(w, "current", "at nominal volts", run->watts / cosine / row->nominal_v, "A", "given",
              cosine < 1 ? "P / (V cos phi)" : "P / V", cosine < 1 ? "%.5g / (%.4g x %.3g)" : "%.5g / %.4g",
              run->watts, row->nominal_v, cosine);
    work_note(w, "current", "at the load", row->current_a, "A",
              "solved: less volts at the load, more current",
              cosine < 1 ? "P / (V cos phi), V at the load" : "P / V, V at the load",
              cosine < 1 ? "%.5g / (%.5g x %.3g)" : "%.5g / %.5g", run->watts, a->load_v, cosine);
}

/* Every figure of the row by its equation, numbers put in; NULL without memory. */
static const struct working *make_working(const struct run *run, struct arena *arena,
                                          const struct cable_answer *a)
{
    struct work w = { .arena = arena };
    const struct cable_shown shown = { .row = &a->cable,
                                       .wire = &run->wire,
                                       .rules = run->model.rules,
                                       .power_factor = run->wire.power_factor,
                                       .near_v = a->volts_v,
                                       .limit_v = run->limit * a->cable.nominal_v };
    struct working *out = arena_zero(arena, sizeof *out);

    note_current(&w, run, a);
    cable_work(&w, &shown);
    if (!out || w.failed)
        return NULL;
    *out = work_done(&w);
    return out;
}

/* ---- all of it ---- */

/* Limit of the drop [-] and who set it: asked for, of the set, or common practice. */
static double limit_of(const struct cable_request *request, const struct wiring_rules *rules,
                       const char **why)
{
    double limit = wiring_drop_limit(rules, 0);

    *why = request->drop > 0 ? "as asked"
           : limit > 0       ? "ordinary circuit"
                             : "common practice, the rule set has no limit";
    if (request->drop > 0)
        return request->drop;
    return limit > 0 ? limit : circuit_usual_drop;
}

/* The run before it has a size: as long back as out, in the set's surroundings, at power factor 1 on DC. */
static void start(struct run *run, struct arena *arena, const struct cable_request *request,
                  const struct wiring_rules *rules)
{
    *run = (struct run){ .request = request, .model = { .arena = arena, .rules = rules } };
    run->wire =
        (struct wire){ .cable = &run->cable,
                       .length_m = request->length_m,
                       .back_m = request->length_m,
                       .runs = fmax(1, request->runs),
                       .place = { request->insulation_c, request->engine, request->bundle, request->volts_v },
                       .ambient_c = request->engine ? rules->engine_ambient_c : rules->ambient_c };
    run->amps = request->current_a;
    run->watts = request->power_w;
    run->wire.power_factor = is_ac(run) && request->power_factor > 0 ? request->power_factor : 1;
    if (is_ac(run))
        run->wire.reactance_per_m = conductor_reactance_per_m(usual_frequency(request->volts_v));
}

/* The set, choosing among the sizes of the user's shop. */
static const struct wiring_rules *in_units(struct arena *arena, const struct wiring_rules *rules,
                                           enum cable_units units)
{
    return units == UNITS_OF_RULES
               ? rules
               : rules_in_series(arena, rules, units == UNITS_US ? AREA_AWG : AREA_METRIC);
}

/* The size that was typed, or the one that is found; what it is called and what decided it. */
static void set_size(struct run *run, struct arena *arena, struct circuit_cable *row)
{
    static const char *const reasons[] = { "smallest size", "current", "smallest conductor", "fuse", "drop" };
    const struct cable_request *request = run->request;
    int decided = 0;

    if (request->area_m2 > 0)
        set_area(run, request->series, request->area_m2, NULL);
    else
        run->found = run_choose_size(run, &decided);
    row->installed_mm2 = request->area_m2 * 1e6;
    row->printed = request->area_text;
    row->size = request->area_m2 > 0
                    ? request->area_text
                    : arena_print(arena, "%s %s", run->wire.label, cable_units_text[run->wire.series]);
    row->limited_by = request->area_m2 > 0 ? "" : reasons[decided];
}

enum status cable_run(const struct cable_answer **out, struct arena *arena,
                      const struct cable_request *request, const struct wiring_rules *rules)
{
    struct cable_answer *a = arena_zero(arena, sizeof *a);
    const char *caution;
    struct run run;

    if (!a)
        return STATUS_NO_MEMORY;
    start(&run, arena, request, in_units(arena, rules, request->units));
    run.limit = limit_of(request, rules, &a->cable.limit_why);
    set_size(&run, arena, &a->cable);
    fill_cable(&run, &a->cable);
    fill_limits(&run, &a->cable);
    fill_faults(&run, &a->cable);
    fill_fuse(&run, arena, &a->cable);
    a->cable.status = status_of(&run, &a->cable);
    a->cable.passes = strcmp(a->cable.status, "ok") == 0 || strcmp(a->cable.status, "sized") == 0;
    a->size = words_size(arena, a->cable.size, &run.wire);
    a->length = words_length(arena, request);
    a->protective = is_ac(&run) ? words_protective(arena, &run) : NULL;
    a->rules = rules->name;
    a->rules_title = rules->title;
    a->edition = rules->edition;
    a->rules_scope = rules->scope;
    a->volts_v = request->volts_v;
    a->load_v = run.feed.volts_v;
    a->power_w = run.feed.volts_v * run.feed.current_a * run.wire.power_factor;
    a->power_factor = is_ac(&run) ? run.wire.power_factor : 0;
    a->residual_current_device = is_ac(&run) ? circuit_residual_current_device : NULL;
    a->finding = words_finding(arena, a, &run);
    caution = words_caution(arena, &run, &a->cable);
    a->caution = caution && *caution ? caution : NULL;
    a->working = make_working(&run, arena, a);
    if (request->table) {
        a->table = make_table(&run, arena, &a->table_count);
        a->table_title =
            arena_print(arena, "By length and current: sizes in %s that lose at most %.4g %% of %.4g V",
                        cable_units_text[run.model.rules->series], 100 * run.limit, request->volts_v);
    }
    *out = a;
    return a->finding && a->working && caution && (a->protective || !is_ac(&run)) &&
                   (!request->table || (a->table && a->table_title))
               ? STATUS_OK
               : STATUS_NO_MEMORY;
}

enum status cable_run_sets(const struct cable_answer **out, struct arena *arena,
                           const struct cable_request *request, const struct wiring_rules *const *rules,
                           size_t count)
{
    struct cable_answer *sets = arena_array(arena, count, sizeof *sets);
    struct cable_answer *all = arena_zero(arena, sizeof *all);
    const struct cable_answer *one;

    if (!sets || !all)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < count; i++) {
        enum status status = cable_run(&one, arena, request, rules[i]);

        if (status != STATUS_OK)
            return status;
        sets[i] = *one;
    }
    *all = sets[0];
    all->sets = sets;
    all->set_count = count;
    for (size_t i = 0; i < count; i++)
        all->cable.passes &= sets[i].cable.passes;
    all->finding = words_of_sets(arena, request, sets, count);
    *out = all;
    return all->finding ? STATUS_OK : STATUS_NO_MEMORY;
}

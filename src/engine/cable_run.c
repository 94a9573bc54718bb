/* cable_run.c - one run of cable by itself: size, drop, ampacity, fuse.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/cable_run.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit_model.h"
#include "engine/work.h"
#include "parts/fuse.h"
#include "parts/rounding.h"

const double cable_table_a[CABLE_TABLE_CURRENTS] = { 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100 };

static const char *const unit_of_series[] = { "mm2", "AWG", "SAE", "" };

/* Lengths of the table, one way; as trade charts have them. */
static const double table_metres[] = { 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20 };
static const double table_feet[] = { 2.5, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 35, 40, 50 };

static const double AC_FROM_V = 50; /* the step between low and other voltages, 33 CFR 183.455(c) */
static const double FOOT = 0.3048;  /* [m] exactly */

/* A run under work: the model lends its rules and its formulas. */
struct run {
    const struct cable_request *request;
    struct model model;
    struct cable cable;
    struct wire wire;
    double limit; /* [-] */
};

static void set_area(struct run *run, enum area_series series, double area_m2, const char *label)
{
    run->wire.series = series;
    run->wire.area_m2 = run->wire.back_area_m2 = area_m2;
    run->wire.label = label;
    run->wire.ampacity = wiring_ampacity(run->model.rules, area_m2, &run->wire.place);
}

/* What fails at the present size: 0 nothing, 1 current, 2 smallest conductor, 3 fuse, 4 drop. */
static int fails(const struct run *run, double current)
{
    const struct wiring_rules *rules = run->model.rules;
    const struct wire *w = &run->wire;
    double carries = w->ampacity.amps * w->runs, fuse = fuse_rating_up(current);

    if (!at_least(carries, current))
        return 1;
    if (w->area_m2 < wiring_smallest(rules, 0) * (1 - 1e-4))
        return 2;
    if (!at_most(model_rule_drop(&run->model, w, current, w->area_m2), run->limit * w->place.volts))
        return 4;
    return fuse > 0 && wiring_fuse_allowed(rules, fuse, carries, w->place.volts) ? 0 : 3;
}

/* The smallest standard size that passes, left in the wire; 0: none does, and the largest is left there. */
static int choose_size(struct run *run, double current, int *decided)
{
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(run->model.rules, &count);

    *decided = 0;
    for (size_t i = 0; i < count; i++) {
        int failed;

        set_area(run, run->model.rules->series, sizes[i].area_m2, sizes[i].label);
        if ((failed = fails(run, current)) == 0)
            return 1;
        *decided = failed;
    }
    return 0;
}

static void fill_cable(const struct run *run, struct circuit_cable *row, double current)
{
    const struct wire *w = &run->wire;
    const struct conductor_size *awg = conductor_nearest_awg(w->area_m2);
    double warm =
        conductor_temperature(w->ambient_c, w->place.insulation_c, current / w->runs, w->ampacity.amps);
    struct wire_ohm ohm;
    double share = 100 / w->place.volts;

    row->conductor_c = fmin(fmax(warm, w->ambient_c), fmax(w->place.insulation_c, w->ambient_c));
    ohm = wire_ohm(w, row->conductor_c);
    row->name = "run";
    row->from = "source";
    row->to = "load";
    row->system = w->place.volts < AC_FROM_V ? "dc" : "ac";
    row->nominal_v = w->place.volts;
    row->current_a = row->design_a = current;
    row->design_scenario = "";
    row->length_m = w->length_m;
    row->return_m = w->back_m;
    row->runs = w->runs;
    row->area_mm2 = w->area_m2 * 1e6;
    row->awg = awg ? awg->label : NULL;
    row->resistance_mohm = (ohm.out + ohm.back) * 1e3;
    row->drop_v = current * (ohm.out + ohm.back);
    row->rule_drop_v = model_rule_drop(&run->model, w, current, w->area_m2);
    row->drop_percent = row->total_drop_percent = row->drop_v * share;
    row->rule_total_drop_percent = row->rule_drop_v * share;
    row->drop_limit_percent = 100 * run->limit;
    row->drop_margin_percent = row->drop_limit_percent - row->rule_total_drop_percent;
    row->copper_kg = copper_mass(w->area_m2, (w->length_m + w->back_m) * w->runs);
    row->protective_mm2 = row->system[0] == 'a' ? protective_area(w->area_m2) * 1e6 : 0;
}

static void fill_limits(const struct run *run, struct circuit_cable *row, double current)
{
    const struct wire *w = &run->wire;
    const struct wiring_rules *rules = run->model.rules;
    double wanted = fuse_rating_up(current / fuse_continuous_share), rated = w->place.insulation_c;

    row->ampacity_a = w->ampacity.amps * w->runs;
    row->base_ampacity_a = w->ampacity.base_a;
    row->column_c = w->ampacity.column_c;
    row->interpolated = w->ampacity.interpolated;
    row->engine_factor = w->ampacity.engine_factor;
    row->bundle_factor = w->ampacity.bundle_factor;
    row->ampacity_margin_percent = current > 0 ? 100 * (row->ampacity_a / current - 1) : 0;
    row->ampacity_ok = at_least(row->ampacity_a, current);
    row->drop_ok = row->drop_margin_percent >= -1e-7;
    row->smallest_ok = w->area_m2 >= wiring_smallest(rules, 0) * (1 - 1e-4);
    row->fuse_min_a = fuse_rating_up(current);
    row->fuse_max_a = wiring_fuse_limit(rules, row->ampacity_a, w->place.volts);
    row->fuse_ok = row->fuse_min_a > 0 && row->fuse_min_a <= row->fuse_max_a;
    row->fuse_a = row->fuse_ok ? (wanted > 0 && wanted <= row->fuse_max_a ? wanted : row->fuse_min_a) : 0;
    row->fuse_needed = 1;
    row->fuse_note = row->fuse_ok ? "what it must break depends on the bank"
                                  : "no standard rating carries the current and still protects the cable";
    row->fuse_distance_limit_m = wiring_fuse_distance(rules, 0, 0);
    row->i2t_a2s =
        conductor_i2t(w->area_m2 * w->runs, rated, fmax(insulation_fault_temperature(rated), rated + 1));
}

static const char *status_of(const struct circuit_cable *row)
{
    if (row->ampacity_a <= 0)
        return "no table has it";
    if (!row->ampacity_ok)
        return "too thin for the current";
    if (!row->drop_ok)
        return "drop over the limit";
    if (!row->smallest_ok)
        return "under the smallest conductor";
    if (!row->fuse_ok)
        return "fuse missing";
    return row->installed_mm2 > 0 ? "ok" : "sized";
}

/* ---- the table ---- */

static const struct cable_table_row *make_table(struct run *run, struct arena *arena, size_t *count)
{
    int us = run->request->units == UNITS_US;
    const double *lengths = us ? table_feet : table_metres;
    struct cable_table_row *rows;

    *count = sizeof table_metres / sizeof *table_metres;
    rows = arena_array(arena, *count, sizeof *rows);
    for (size_t i = 0; rows && i < *count; i++) {
        rows[i].length_m = lengths[i] * (us ? FOOT : 1);
        rows[i].length = arena_print(arena, us ? "%g ft" : "%g m", lengths[i]);
        rows[i].series = unit_of_series[run->model.rules->series];
        rows[i].drop_limit = run->limit;
        rows[i].volts_v = run->request->volts_v;
        run->wire.length_m = run->wire.back_m = rows[i].length_m;
        for (size_t k = 0; k < CABLE_TABLE_CURRENTS; k++) {
            int decided;

            rows[i].size[k] = choose_size(run, cable_table_a[k], &decided) ? run->wire.label : "";
        }
    }
    return rows;
}

/* ---- the working ---- */

static const char *cited(struct arena *arena, const struct cite *c)
{
    return arena_print(arena, "%s%s%s (%s)", c->publication, c->clause ? ", " : "",
                       c->clause ? c->clause : "", known_text(c->known));
}

static void note_drop(struct work *w, const struct run *run, const struct circuit_cable *row)
{
    const struct wiring_rules *rules = run->model.rules;
    double loop = row->length_m + row->return_m;

    if (rules->drop_constant > 0) {
        double limit = run->limit * row->nominal_v;

        work_note(w, "drop", "area for the limit",
                  rules->drop_constant * row->current_a / row->runs * loop / limit, "mm2",
                  cited(w->arena, &rules->drop_cite), "constant x I x L / E, L out and back",
                  "%.6g x %.4g x %.4g / %.4g", rules->drop_constant, row->current_a / row->runs, loop, limit);
        work_note(
            w, "drop", "by the rule", row->rule_drop_v, "V", cited(w->arena, &rules->drop_cite),
            arena_print(w->arena, "constant x I x L / S; as the set writes it: %s", rules->drop_formula),
            "%.6g x %.4g x %.4g / %.4g", rules->drop_constant, row->current_a / row->runs, loop,
            row->area_mm2);
    }
    work_note(w, "drop", "conductor temperature", row->conductor_c, "C", "IEC 60364, from memory",
              "Ta + (Tmax - Ta)(I/Iz)^2", "%.4g + (%.4g - %.4g)(%.4g/%.4g)^2", run->wire.ambient_c,
              run->wire.place.insulation_c, run->wire.ambient_c, row->current_a, row->ampacity_a);
    work_note(w, "drop", "loop resistance, warm", row->resistance_mohm, "mohm",
              "IEC 60228 class 5, tinned; AWG: ASTM B258 and copper at 17.241 ohm mm2/km",
              "R20 (1 + 0.00393 (T - 20))", NULL);
    work_note(w, "drop", "as it will be measured", row->drop_v, "V", "Ohm", "I x R", "%.4g x %.4g / 1000",
              row->current_a, row->resistance_mohm);
}

static const struct working *make_working(const struct run *run, struct arena *arena,
                                          const struct cable_answer *a)
{
    struct work w = { .arena = arena };
    const struct circuit_cable *row = &a->cable;
    const struct wiring_rules *rules = run->model.rules;
    struct working *out = arena_zero(arena, sizeof *out);

    if (run->request->power_w > 0)
        work_note(&w, "current", "drawn", row->current_a, "A", "given", "P / V", "%.5g / %.4g", a->power_w,
                  row->nominal_v);
    note_drop(&w, run, row);
    work_note(&w, "ampacity", "of the table", row->base_ampacity_a, "A", cited(arena, &rules->ampacity_cite),
              row->interpolated ? "between two sizes, on the logarithms" : NULL, NULL);
    work_note(
        &w, "ampacity", "corrected", row->ampacity_a, "A",
        arena_print(arena, "%s; %s", cited(arena, &rules->engine_cite), cited(arena, &rules->bundle_cite)),
        "table x engine space x bundle x runs", "%.4g x %.3g x %.3g x %.3g", row->base_ampacity_a,
        row->engine_factor, row->bundle_factor, row->runs);
    work_note(&w, "fuse", "at most", row->fuse_max_a, "A", cited(arena, &rules->fuse_cite), NULL, NULL);
    work_note(&w, "fuse", "chosen", row->fuse_a, "A", "NEC 210.19 (read): 80 % of the rating for hours",
              "next standard rating above I / 0.8", "%.4g / 0.8", row->current_a);
    if (!out || w.failed)
        return NULL;
    *out = work_done(&w);
    return out;
}

/* ---- all of it ---- */

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
}

/* The set as it is, but choosing among the sizes of the user's shop. */
static const struct wiring_rules *in_units(struct arena *arena, const struct wiring_rules *rules,
                                           enum cable_units units)
{
    struct wiring_rules *copy;

    if (units == UNITS_OF_RULES || !(copy = arena_zero(arena, sizeof *copy)))
        return rules;
    *copy = *rules;
    copy->series = units == UNITS_US ? AREA_AWG : AREA_METRIC;
    return copy;
}

/* In the words of its own series first, then for those who think in the other. */
static const char *both_series(struct arena *arena, const char *size, const struct wire *w)
{
    const struct conductor_size *awg = conductor_nearest_awg(w->area_m2);

    if (w->series != AREA_METRIC)
        return arena_print(arena, "%s (%.3g mm2)", size, w->area_m2 * 1e6);
    return awg ? arena_print(arena, "%s (near %s AWG)", size, awg->label) : size;
}

/* Two names for one thing that are not one thing. */
static const char *caution_of(struct arena *arena, const struct cable_request *request)
{
    const char *label = NULL;
    size_t count;
    const struct conductor_size *sae = conductor_sizes(AREA_SAE, &count);

    for (size_t i = 0; i < count && request->series == AREA_SAE && request->area_m2 > 0; i++)
        if (fabs(sae[i].area_m2 / request->area_m2 - 1) < 1e-3)
            label = sae[i].label;
    return label ? arena_print(arena, "%s SAE has %.0f %% less copper than %s AWG", label,
                               100 * sae_shortfall(label), label)
                 : NULL;
}

static const char *finding_of(struct arena *arena, const struct circuit_cable *row,
                              const struct wiring_rules *rules)
{
    if (!row->passes)
        return arena_print(arena, "%s does not pass: %s", row->size, row->status);
    if (rules->drop_constant <= 0)
        return arena_print(arena,
                           "%s carries %.4g A over %.4g m with %.2f %% of %.4g V lost, warm; this rule set has no "
                           "formula for it; fuse %.4g to %.4g A",
                           row->size, row->current_a, row->length_m, row->drop_percent, row->nominal_v,
                           row->fuse_min_a, row->fuse_max_a);
    return arena_print(arena,
                       "%s carries %.4g A over %.4g m with %.2f %% of %.4g V lost by the rule, %.2f %% as "
                       "measured; fuse %.4g to %.4g A",
                       row->size, row->current_a, row->length_m, row->rule_total_drop_percent, row->nominal_v,
                       row->drop_percent, row->fuse_min_a, row->fuse_max_a);
}

enum status cable_run(const struct cable_answer **out, struct arena *arena,
                      const struct cable_request *request, const struct wiring_rules *rules)
{
    static const char *const reasons[] = { "smallest size", "current", "smallest conductor", "fuse", "drop" };
    struct cable_answer *a = arena_zero(arena, sizeof *a);
    double current = request->current_a > 0 ? request->current_a : request->power_w / request->volts_v;
    struct run run;
    int decided = 0;

    if (!a)
        return STATUS_NO_MEMORY;
    start(&run, arena, request, in_units(arena, rules, request->units));
    run.limit = limit_of(request, rules, &a->cable.limit_why);
    if (request->area_m2 > 0)
        set_area(&run, request->series, request->area_m2, NULL);
    else
        choose_size(&run, current, &decided);
    a->cable.installed_mm2 = request->area_m2 * 1e6;
    a->cable.printed = request->area_text;
    a->cable.size = request->area_m2 > 0
                        ? request->area_text
                        : arena_print(arena, "%s %s", run.wire.label, unit_of_series[run.wire.series]);
    a->cable.limited_by = request->area_m2 > 0 ? "" : reasons[decided];
    fill_cable(&run, &a->cable, current);
    fill_limits(&run, &a->cable, current);
    a->cable.status = status_of(&a->cable);
    a->cable.passes = strcmp(a->cable.status, "ok") == 0 || strcmp(a->cable.status, "sized") == 0;
    a->size = both_series(arena, a->cable.size, &run.wire);
    a->rules = rules->name;
    a->rules_title = rules->title;
    a->edition = rules->edition;
    a->rules_scope = rules->scope;
    a->volts_v = request->volts_v;
    a->power_w = current * request->volts_v;
    a->finding = finding_of(arena, &a->cable, rules);
    a->caution = caution_of(arena, request);
    a->working = make_working(&run, arena, a);
    if (request->table) {
        a->table = make_table(&run, arena, &a->table_count);
        a->table_title =
            arena_print(arena, "By length and current: sizes in %s that lose at most %.4g %% of %.4g V",
                        unit_of_series[run.model.rules->series], 100 * run.limit, request->volts_v);
    }
    *out = a;
    return a->finding && a->working && a->cable.size && a->size && (!request->table || (a->table && a->table_title))
               ? STATUS_OK
               : STATUS_NO_MEMORY;
}

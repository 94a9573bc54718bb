/* cable_words.c - what is said of one run of cable: its size both ways, and a sentence that says it all.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/cable_single.h"
#include "parts/fuse.h"
#include "parts/rounding.h"

/* As many runs as a profile may have. */
static const double MOST_RUNS = 20;

const char *words_size(struct arena *arena, const char *size, const struct wire *w)
{
    const struct conductor_size *awg = conductor_nearest_awg(w->area_m2);

    if (!size)
        return NULL;
    if (w->series != AREA_METRIC)
        return arena_print(arena, "%s (%.3g mm2)", size, w->area_m2 * 1e6);
    return awg ? arena_print(arena, "%s (near %s AWG)", size, awg->label) : size;
}

/* Two names for one thing that are not one thing; "": none. */
static const char *sae_caution(struct arena *arena, const struct cable_request *request)
{
    const char *label = NULL;
    size_t count;
    const struct conductor_size *sae = conductor_sizes(AREA_SAE, &count);

    for (size_t i = 0; i < count && request->series == AREA_SAE && request->area_m2 > 0; i++)
        if (fabs(sae[i].area_m2 / request->area_m2 - 1) < 1e-3)
            label = sae[i].label;
    return label ? arena_print(arena, "%s SAE has %.0f %% less copper than %s AWG", label,
                               100 * sae_shortfall(label), label)
                 : "";
}

/* "one; other"; NULL without memory. */
static const char *joined(struct arena *arena, const char *one, const char *other)
{
    if (!one || !other)
        return NULL;
    return *one && *other ? arena_print(arena, "%s; %s", one, other) : *one ? one : other;
}

/* Only where the verdicts part: by the rule it passes, by a meter it does not. "" else. */
static const char *meter_caution(struct arena *arena, const struct circuit_cable *row)
{
    if (row->rule_drop_v < 0 || !row->drop_ok || at_most(row->drop_percent, row->drop_limit_percent))
        return "";
    return arena_print(
        arena,
        "by the rule it holds the %.4g %%, a meter will show %.2f %%: the formula reckons with "
        "cold, nominal copper",
        row->drop_limit_percent, row->drop_percent);
}

/* Of a set that ends below those volts; "" where it reaches them. */
static const char *scope_caution(struct arena *arena, const struct wiring_rules *rules, double volts)
{
    if (rules->below_v <= 0 || volts < rules->below_v)
        return "";
    return arena_print(arena, "the set ends below %.0f V: for AC name another", rules->below_v);
}

const char *words_caution(struct arena *arena, const struct run *run, const struct circuit_cable *row)
{
    const char *names = joined(arena, scope_caution(arena, run->model.rules, row->nominal_v),
                               sae_caution(arena, run->request));

    return joined(arena, names, meter_caution(arena, row));
}

/* "30 to 40 A", or the one rating where least and most are the same. */
static const char *fuse_range(struct arena *arena, const struct circuit_cable *row)
{
    if (row->fuse_min_a >= row->fuse_max_a)
        return arena_print(arena, "%.4g A", row->fuse_max_a);
    return arena_print(arena, "%.4g to %.4g A", row->fuse_min_a, row->fuse_max_a);
}

/* "; 4 x 2/0 AWG in parallel would do", where no single size does. */
static const char *way_out(struct arena *arena, const struct run *run)
{
    struct run more = *run;
    int decided;

    if (fuse_rating_up(run->feed.current_a, run->wire.place.volts) <= 0)
        return arena_print(arena, "; no standard fuse carries %.4g A: divide it into several circuits",
                           run->feed.current_a);
    for (double runs = run->wire.runs + 1; runs <= MOST_RUNS; runs++) {
        more.wire.runs = runs;
        if (run_choose_size(&more, &decided))
            return arena_print(arena, "; %.0f x %s %s in parallel would do", runs, more.wire.label,
                               cable_units_text[more.wire.series]);
    }
    return "; nor would any number in parallel";
}

/* What the size in hand does or does not, as a verb. */
static const char *wrong_with(struct arena *arena, const struct cable_answer *a, const struct run *run)
{
    const struct circuit_cable *row = &a->cable;

    if (run->wire.ampacity.engine_factor <= 0)
        return arena_print(arena,
                           "may not lie in an engine space: %s allows no insulation rated %.0f C there",
                           run->model.rules->name, run->wire.place.insulation_c);
    if (row->ampacity_a <= 0)
        return arena_print(arena, "stands in no table of %s", run->model.rules->name);
    if (!run->feed.holds)
        return arena_print(arena, "brings %.0f W over %s at most, then the volts collapse", run->feed.most_w,
                           a->length);
    if (!row->ampacity_ok)
        return arena_print(arena, "may carry %.4g A, not %.4g A", row->ampacity_a, row->current_a);
    if (!row->drop_ok)
        return arena_print(arena, "loses %.2f %% of %.4g V, and %.4g %% is the limit",
                           row->judged_drop_percent, row->nominal_v, row->drop_limit_percent);
    if (!row->smallest_ok)
        return arena_print(arena, "is under the smallest conductor of %s", run->model.rules->name);
    return arena_print(arena, "has no right fuse: %s", row->fuse_note);
}

/* Of a size that was typed or found, what is wrong with it; where none was found, what the
 * largest lacks and what would do. */
static const char *failing_of(struct arena *arena, const struct cable_answer *a, const struct run *run)
{
    const char *wrong = wrong_with(arena, a, run), *instead;

    if (!wrong)
        return NULL;
    if (run->request->area_m2 > 0 || run->found)
        return arena_print(arena, "%s does not pass: it %s", a->size, wrong);
    if (run->wire.ampacity.engine_factor <= 0)
        return arena_print(arena, "No size passes: it %s", wrong);
    instead = way_out(arena, run);
    return instead
               ? arena_print(arena, "No single size passes: %s, the largest, %s%s", a->size, wrong, instead)
               : NULL;
}

const char *words_finding(struct arena *arena, const struct cable_answer *a, const struct run *run)
{
    const struct circuit_cable *row = &a->cable;
    const char *drop, *fuse = fuse_range(arena, row);

    if (!fuse || !a->size || !a->length || !row->fuse_note)
        return NULL;
    if (!row->passes)
        return failing_of(arena, a, run);
    drop = row->rule_drop_v < 0
               ? arena_print(arena, "%.2f %% of %.4g V, conductors warm", row->drop_percent, row->nominal_v)
               : arena_print(arena, "%.2f %% of %.4g V by the rule, %.2f %% as measured",
                             row->rule_total_drop_percent, row->nominal_v, row->drop_percent);
    return drop ? arena_print(arena, "%s carries %.4g A over %s and loses %s; fuse %s", a->size,
                              row->current_a, a->length, drop, fuse)
                : NULL;
}

const char *words_length(struct arena *arena, const struct cable_request *request)
{
    const char *typed = request->length_text, *m = typed ? strchr(typed, 'm') : NULL, *unit;
    size_t number;

    if (!typed || (m && m[1] == 0 && m[-1] != 'm' && m[-1] != 'c' && m[-1] != 'k'))
        return arena_print(arena, "%.4g m", request->length_m);
    number = strspn(typed, "0123456789.+-");
    unit = typed + number + strspn(typed + number, " ");
    return arena_print(arena, "%.*s %s (%.2f m)", (int)number, typed, unit, request->length_m);
}

const char *words_protective(struct arena *arena, const struct run *run)
{
    struct wire w = run->wire;
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(run->model.rules, &count);
    double least = protective_area(w.area_m2);

    if (fabs(least / w.area_m2 - 1) < 1e-9)
        return "the same size";
    w.series = run->model.rules->series;
    for (size_t i = 0; i < count; i++)
        if (sizes[i].area_m2 >= least * (1 - 1e-4)) {
            w.area_m2 = sizes[i].area_m2;
            return words_size(arena, arena_print(arena, "%s %s", sizes[i].label, cable_units_text[w.series]),
                              &w);
        }
    return arena_print(arena, "%.4g mm2", least * 1e6);
}

const char *words_of_sets(struct arena *arena, const struct cable_request *request,
                          const struct cable_answer *sets, size_t count)
{
    const struct cable_answer *thin = NULL, *thick = NULL;
    const char *failing = "";
    size_t passing = 0;

    for (size_t i = 0; i < count && failing; i++) {
        if (!sets[i].cable.passes) {
            failing = arena_print(arena, "%s%s%s", failing, *failing ? ", " : "", sets[i].rules);
            continue;
        }
        passing++;
        thin = thin && thin->cable.area_mm2 <= sets[i].cable.area_mm2 ? thin : &sets[i];
        thick = thick && thick->cable.area_mm2 >= sets[i].cable.area_mm2 ? thick : &sets[i];
    }
    if (!failing)
        return NULL;
    if (passing == 0)
        return request->area_m2 > 0 ? arena_print(arena, "%s passes by none of %zu sets", sets[0].size, count)
                                    : arena_print(arena, "No single size passes by any of %zu sets", count);
    if (request->area_m2 > 0)
        return passing == count ? arena_print(arena, "%s passes by all %zu sets", sets[0].size, count)
                                : arena_print(arena, "%s does not pass by %s", sets[0].size, failing);
    return arena_print(arena, "From %s by %s to %s by %s%s%s", thin->size, thin->rules, thick->size,
                       thick->rules, *failing ? "; no single size by " : "", failing);
}

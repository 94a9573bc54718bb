/* compare_checks.c - what must hold on each side, and the sentence that says what limits it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#include "base/arena.h"
#include "base/range.h"
#include "engine/cable_fuse.h"
#include "engine/compare_parts.h"

/*
 * A side carries its plan where every check holds. Checks come from the simulated week (events), from the
 * sizes (surge) and from the solved wiring; the one that fails first, or comes nearest to its limit, is what
 * limits the boat, and a sentence says so:
 *
 *   "The bank can carry it, the inverter cannot: 5100 W of 4500 W; nor can the generator: ..."
 *
 * A check marked `detail` belongs to another one and is never praised: "the inverter's surge can carry it"
 * tells nobody anything.
 */

enum { CHECKS_MOST = 16, FAILS_TOLD = 3 };

/* Checks of one side in the making. */
struct checker {
    struct arena *arena;
    const struct boat *boat;
    const struct week *week;
    const struct size *size;
    const struct circuit *circuit, *before; /* NULL: not known */
    struct compare_check *checks;
    size_t count;
    int failed;
};

/* A check that holds or not; its words and numbers follow. There is room for every check that can be made. */
static struct compare_check *check_add(struct checker *c, const char *name, const char *thing, int holds)
{
    struct compare_check *check = c->checks + c->count++;

    *check = (struct compare_check){ .name = name, .thing = thing, .unit = "", .says = "", .holds = holds };
    return check;
}

static void check_says(struct checker *c, struct compare_check *check, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* At most 255 characters: names in a profile are short, and a longer sentence would be cut, not overrun. */
static void check_says(struct checker *c, struct compare_check *check, const char *format, ...)
{
    char text[256];
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    check->says = arena_print(c->arena, "%s", text);
    c->failed |= !check->says;
}

/* used of a limit, both in unit, and the words for it. Whether it holds was said
 * before: an event decides, not the ratio. */
static void check_amount(struct checker *c, struct compare_check *check, double used, double limit,
                         const char *unit)
{
    check->used = used;
    check->limit = limit;
    check->unit = unit;
    check->share = limit > 0 ? used / limit : 0;
    check_says(c, check, "%.0f %s of %.0f %s", used, unit, limit, unit);
}

/* A check within another: it may be what fails, but is never the one that is praised for holding. */
static void check_detail(struct checker *c, const char *name, const char *thing, double used, double limit,
                         const char *unit)
{
    struct compare_check *check = check_add(c, name, thing, used <= limit);

    check->detail = 1;
    check_amount(c, check, used, limit, unit);
}

/* The worst stretch of that kind; NULL: there was none. */
static const struct week_event *worst(const struct checker *c, enum week_event_kind kind)
{
    const struct week_event *found = NULL;

    for (size_t i = 0; i < c->week->event_count; i++) {
        const struct week_event *e = c->week->events + i;

        if (e->kind == kind && (!found || e->worst_w - e->limit_w > found->worst_w - found->limit_w))
            found = e;
    }
    return found;
}

/* ---- each check ---- */

/* Charge, and that nothing went unserved or was put off. The ratio is depth used of depth allowed. */
static void check_bank(struct checker *c)
{
    const struct week_summary *w = &c->week->summary;
    int holds = !worst(c, EVENT_FLOOR) && !worst(c, EVENT_UNSERVED) && !worst(c, EVENT_SHED);
    struct compare_check *check = check_add(c, "bank", "the bank", holds);

    check->used = (1 - w->min_charge) * 100;
    check->limit = (1 - w->floor) * 100;
    check->unit = "%";
    check->share = check->limit > 0 ? check->used / check->limit : 0;
    if (w->unserved_wh >= 0.5)
        check_says(c, check, "lowest charge %.0f %% over a floor of %.0f %%, and %.0f Wh not fed",
                   w->min_charge * 100, w->floor * 100, w->unserved_wh);
    else if (w->below_floor_h > 0)
        check_says(c, check, "lowest charge %.0f %%, %.1f h below the floor of %.0f %%", w->min_charge * 100,
                   w->below_floor_h, w->floor * 100);
    else
        check_says(c, check, "lowest charge %.0f %% over a floor of %.0f %%", w->min_charge * 100,
                   w->floor * 100);
}

/* Only where the profile or the chemistry has a limit. */
static void check_bank_current(struct checker *c)
{
    const struct bank *house = boat_house_bank(c->boat);
    double used = c->week->summary.largest_discharge_a;

    if (house && range_known(&house->max_discharge))
        check_detail(c, "bank_current", "the bank's current", used, house->max_discharge.value, "A");
}

/*
 * Largest total at once against its power; its surge; and whether the bank's volts ever fell to its cut-out.
 */
static void check_inverter(struct checker *c)
{
    const struct inverter_size *v = &c->size->inverter;

    if (v->running_w <= 0)
        return;
    check_amount(c, check_add(c, "inverter", "the inverter", !worst(c, EVENT_INVERTER_OVERLOAD)),
                 v->running_w, v->installed_w, "W");
    check_detail(c, "inverter_surge", "the inverter's surge", v->surge_w, v->installed_surge_w, "W");
    if (worst(c, EVENT_CUT_OUT))
        check_says(c, check_add(c, "cut_out", "the inverter's supply", 0),
                   "its volts fall below the cut-out, the bank's lowest are %.2f V",
                   c->week->summary.min_bank_v);
}

/* An AC source that the boat has: never overloaded, or by how much at worst. */
static void check_overload(struct checker *c, int fitted, enum week_event_kind kind, const char *name,
                           const char *thing)
{
    const struct week_event *event = worst(c, kind);

    if (!fitted)
        return;
    if (event)
        check_amount(c, check_add(c, name, thing, 0), event->worst_w, event->limit_w, "W");
    else
        check_says(c, check_add(c, name, thing, 1), "never overloaded");
}

/* Loads of the AC panel with no source at all: no size of anything mends that. */
static void check_mains(struct checker *c)
{
    double missed = c->week->summary.mains_missed_wh;

    if (worst(c, EVENT_NO_AC))
        check_says(c, check_add(c, "ac_source", "the AC panel", 0),
                   "%.1f kWh of AC loads find no source to run from", missed / 1000);
}

/* ---- the wiring ---- */

/*
 * Solved volts at the terminals against the cut-out: used and limit change places, for here more is better.
 */
static void check_inverter_volts(struct checker *c, const char *draw, const char *name, const char *thing)
{
    const struct circuit_inverter *v = c->circuit ? compare_worst_inverter(c->circuit, draw) : NULL;
    struct compare_check *check;

    if (!v)
        return;
    check = check_add(c, name, thing, v->holds);
    check->detail = 1;
    check->used = v->cut_out_v;
    check->limit = v->volts_v;
    check->unit = "V";
    check->share = v->volts_v > 0 ? v->cut_out_v / v->volts_v : 0;
    if (v->volts_v > 0)
        check_says(c, check, "%.2f V at %.0f W, cut-out %.2f V, %s bank, %.0f %% charged", v->volts_v,
                   v->ac_w, v->cut_out_v, v->bank_age, v->charge_percent);
    else
        check_says(c, check, "the volts collapse, at most %.0f W, %s bank, %.0f %% charged", v->most_w,
                   v->bank_age, v->charge_percent);
}

/* What passed before is news, and a conductor says more than its fuse. */
static int weight(const struct checker *c, const struct circuit_cable *cable)
{
    const struct circuit_cable *before = compare_cable_named(c->before, cable->name);
    int thin = cable_copper_fails(cable);

    return 4 * (thin && before && !cable_copper_fails(before)) + 2 * thin + (before && before->passes);
}

/* How many cables do not pass, and the one worth naming. */
static size_t cable_fails(const struct checker *c, const struct circuit_cable **first)
{
    size_t fails = 0;

    for (size_t i = 0; i < c->circuit->cable_count; i++) {
        const struct circuit_cable *cable = c->circuit->cables + i;

        if (!cable->passes && (!fails++ || weight(c, cable) > weight(c, *first)))
            *first = cable;
    }
    return fails;
}

/* ", it takes 95 mm2 and a fuse of 400 A"; NULL without memory. */
static const char *remedy(struct arena *arena, const struct circuit_cable *cable)
{
    const char *size = cable_copper_fails(cable) ? cable_size_wanted(arena, cable) : "";
    const char *fuse = cable->fuse_ok ? "" : compare_fuse_range(arena, cable);

    if (!size || !fuse)
        return NULL;
    if (!cable->fuse_ok && !*fuse)
        return arena_print(arena, "%s%s, no fuse suits it as it is", *size ? ", it takes " : "", size);
    if (!*size && !*fuse)
        return "";
    return arena_print(arena, ", it takes %s%s%s%s", size, *size && *fuse ? " and " : "",
                       *fuse ? "a fuse of " : "", fuse);
}

/* One cable by name with what would do, and how many more there are. */
static void check_failing_cable(struct checker *c, const struct circuit_cable *cable, size_t more)
{
    const char *what = remedy(c->arena, cable);
    const char *thing =
        cable_copper_fails(cable)
             ? arena_print(c->arena, "the %s %s", cable->printed ? cable->printed : "", cable->name)
             : arena_print(c->arena, "the fuse of %s", cable->name);
    const char *others =
        more ? arena_print(c->arena, " (%zu more %s not pass)", more, more > 1 ? "do" : "does") : "";
    struct compare_check *check;

    if (!what || !thing || !others) {
        c->failed = 1;
        return;
    }
    check = check_add(c, "cables", thing, 0);
    check_says(c, check, "%s%s%s", cable->status, what, others);
}

/* One check for all wiring: the cable most worth naming where one fails, praise where none does. */
static void check_cables(struct checker *c)
{
    const struct circuit_cable *first = NULL;
    size_t fails;

    if (!c->circuit || !c->circuit->cable_count)
        return;
    if ((fails = cable_fails(c, &first)) > 0)
        check_failing_cable(c, first, fails - 1);
    else
        check_says(c, check_add(c, "cables", "the wiring", 1), "all %zu cables and their fuses pass",
                   c->circuit->cable_count);
}

/* In the order in which a sentence should name them: what fails first is the first here. */
int compare_checks(struct compare_made *made, const struct circuit *before, struct arena *arena)
{
    struct checker c = { .arena = arena,
                         .boat = made->boat,
                         .week = made->side.week,
                         .size = made->side.size,
                         .circuit = made->side.circuit,
                         .before = before,
                         .checks = arena_array(arena, CHECKS_MOST, sizeof *c.checks) };

    if (!c.checks)
        return 0;
    check_bank(&c);
    check_bank_current(&c);
    check_inverter(&c);
    check_overload(&c, c.boat->shore.fitted, EVENT_SHORE_OVERLOAD, "shore", "the shore lead");
    check_overload(&c, c.boat->generator_count > 0, EVENT_GENERATOR_OVERLOAD, "generator", "the generator");
    check_mains(&c);
    check_inverter_volts(&c, "continuous", "inverter_full_v", "the inverter's supply at full load");
    check_inverter_volts(&c, "surge", "inverter_surge_v", "the inverter's supply at surge");
    check_cables(&c);
    made->side.checks = c.checks;
    made->side.check_count = c.count;
    return !c.failed;
}

/* ---- the sentence ---- */

/* The which-th check that holds, or that does not; NULL: there is none. */
static const struct compare_check *find(const struct compare_side *side, int holds, size_t which)
{
    for (size_t i = 0; i < side->check_count; i++)
        if (side->checks[i].holds == holds && which-- == 0)
            return side->checks + i;
    return NULL;
}

/* Details count too: the surge of an inverter fails like its power. */
static size_t fail_count(const struct compare_side *side)
{
    size_t count = 0;

    for (size_t i = 0; i < side->check_count; i++)
        count += !side->checks[i].holds;
    return count;
}

/* The one nearest to its limit, of those with a number. */
static const struct compare_check *tightest(const struct compare_side *side)
{
    const struct compare_check *found = NULL;

    for (size_t i = 0; i < side->check_count; i++)
        if (!found || side->checks[i].share > found->share)
            found = side->checks + i;
    return found;
}

/* For the head of a sentence; only an ASCII letter changes. */
static const char *capital(struct arena *arena, const char *text)
{
    return text && *text ? arena_print(arena, "%c%s",
                                       *text >= 'a' && *text <= 'z' ? *text - 'a' + 'A' : *text, text + 1)
                         : text;
}

/* What a reader would ask about first, and which holds. */
static const struct compare_check *held_of(const struct compare_side *side)
{
    for (size_t i = 0; i < side->check_count; i++)
        if (side->checks[i].holds && !side->checks[i].detail)
            return side->checks + i;
    return NULL;
}

/* "the bank can carry it, the inverter cannot: 5100 W of 4500 W; nor can the generator: ..." */
static const char *failure(struct arena *arena, const struct compare_side *side, size_t fails)
{
    const struct compare_check *held = held_of(side), *fail = find(side, 0, 0);
    const char *text =
        held ? arena_print(arena, "%s can carry it, %s cannot: %s", held->thing, fail->thing, fail->says)
             : arena_print(arena, "%s cannot carry it: %s", fail->thing, fail->says);

    for (size_t i = 1; text && i < fails && i < FAILS_TOLD; i++) {
        fail = find(side, 0, i);
        text = arena_print(arena, "%s; nor can %s: %s", text, fail->thing, fail->says);
    }
    return text && fails > FAILS_TOLD ? arena_print(arena, "%s; and %zu more", text, fails - FAILS_TOLD)
                                      : text;
}

/* near NULL: nothing was checked that has a number. */
static const char *success(struct arena *arena, const struct compare_check *near)
{
    if (!near)
        return "nothing here asks for anything";
    return arena_print(arena, "all that was checked can carry it; nearest to its limit is %s: %s",
                       near->thing, near->says);
}

/* What the one before said of the same thing, where that is news. */
static const char *news(struct arena *arena, const struct compare_side *side,
                        const struct compare_side *before)
{
    size_t fails = fail_count(before);

    if (!side->passes || before->passes || side == before)
        return ".";
    return fails > 1 ? arena_print(arena, "; before, %s and %zu more could not.", find(before, 0, 0)->thing,
                                   fails - 1)
                     : arena_print(arena, "; before, %s could not.", find(before, 0, 0)->thing);
}

/* The sentence: what cannot carry it, or what comes nearest to its limit; and what could not before. */
static int side_verdict(struct compare_side *side, const struct compare_side *before, struct arena *arena)
{
    size_t fails = fail_count(side);
    const struct compare_check *near = fails ? find(side, 0, 0) : tightest(side);
    const char *text = fails ? failure(arena, side, fails) : success(arena, near), *more;

    side->passes = fails == 0;
    side->limited_by = near ? near->name : NULL;
    more = news(arena, side, before);
    text = capital(arena, text);
    side->verdict = text && more ? arena_print(arena, "%s%s", text, more) : NULL;
    return side->verdict != NULL;
}

int compare_verdicts(struct compare_made *made, size_t count, struct arena *arena)
{
    for (size_t i = 0; i < count; i++)
        if (!side_verdict(&made[i].side, &made[0].side, arena))
            return 0;
    return 1;
}

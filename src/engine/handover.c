/* handover.c - the steps of leaving the dock and coming back, with what each meter should read.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "engine/expect.h"
#include "engine/paths.h"
#include "parts/bank.h"
#include "parts/machine.h"

/*
 * A sheet for two people: one reads the steps, one the meter. Steps come in the order that lets a fault show
 * while it is still alone: first what must be true with everything off, then one thing after another, each
 * with the amperes it should add, the total by then, and the volts at its end.
 *
 * Amperes are bands (expect.c). The running total counts what stays on; a thermostat may be off when the
 * meter is read, so it adds nothing to the low end. Volts are those with all that is on by then: currents
 * are added along the paths from the house bank (paths.c), and each cable loses its own share.
 *
 * Loads are told by their names into the kinds of the table below. A boat names her loads as she likes, so
 * the last kind takes whatever is left.
 */

/* Kinds of DC loads in the order in which they are switched on; the first whose words a name holds. */
struct switch_kind {
    const char *words;
    const char *action; /* of one name */
    const char *expect;
    const char *wrong;
    int moment; /* 1: tried and switched off again */
    int always; /* 1: tried whatever the day */
};

static const struct switch_kind kinds[] = {
    { "bilge", "Bilge pump %s: by hand for 1 to 3 s, then lift the float", "water moves, then off",
      "no amps: float or fuse; much more: jammed; amps but no water: blocked or dry", 1, 1 },
    { "cabin light|night light|cockpit light|deck light|saloon light", "Switch on %s", "lit",
      "no amps: breaker or lamp; flicker: a bad joint", 0, 0 },
    { "fridge|freezer|ice maker", "Switch on %s; the compressor may wait some minutes", "runs steadily",
      "starts again and again: low volts at its terminals", 0, 0 },
    { "fresh water|water pump|shower|sump|sea water|washdown", "Switch on %s: open a tap, then shut it",
      "runs, then stops", "runs on with taps shut: a leak or a tired pressure switch", 1, 0 },
    { "plotter|instrument|pilot|ais|radar|sounder|compass", "Switch on %s, pilot in standby",
      "starts, finds its sensors", "starts anew when another load comes on: low volts on its feed", 0, 0 },
    { "transmit", "%s: low power, then high, and ask for a reply", "a reply by radio",
      "volts at the set fall by more than 3 %: feed or joint", 1, 1 },
    { "vhf|radio|ssb", "Switch on %s: receive", "noise or traffic heard", "no amps: fuse in its own lead", 0,
      1 },
    { "navigation light|nav light|anchor light|masthead|steaming light|stern light|tricolo",
      "Switch on %s and see each lamp lit from outside", "lit",
      "amps as they should be but a lamp out: look at the others", 1, 1 },
    { "windlass|winch|thruster|hoist", "%s for some seconds, an engine running", "turns at its usual speed",
      "slow, or volts down by more than 10 %: joints, cable or a tired bank", 1, 0 },
    { "", "Switch on %s", "", "no amps: breaker or fuse; far more: a second load on the same breaker", 0, 0 },
};

enum { KINDS = sizeof kinds / sizeof kinds[0], HEAVY = KINDS - 2 };

/* A sheet while it is written. */
struct sheet_work {
    struct arena *arena;
    const struct boat *boat;
    const struct circuit *circuit; /* NULL: paths unknown */
    const struct expectation *expected;
    const struct bank *house;
    size_t day;
    struct paths paths;   /* from the house bank */
    double *cable_a;      /* [A] of what is on, per cable */
    double low_a, high_a; /* [A] running total at the house bank */
    const char *phase;
    struct handover_step *steps;
    size_t count, room;
    int failed;
};

/* A step without any reading: -1 says that nothing is to be read there. NULL without memory; w->failed then,
 * and where a text of it could not be made. */
static struct handover_step *step_add(struct sheet_work *w, const char *action, const char *expect,
                                      const char *wrong)
{
    void *items = w->steps;
    struct handover_step *s = arena_push(w->arena, &items, &w->count, &w->room, sizeof *s);

    w->steps = items;
    w->failed |= !s || !action || !expect || !wrong;
    if (!s)
        return NULL;
    *s = (struct handover_step){ .number = (double)w->count,
                                 .phase = w->phase,
                                 .action = action,
                                 .expect = expect,
                                 .where = "",
                                 .low_a = -1,
                                 .high_a = -1,
                                 .total_low_a = -1,
                                 .total_high_a = -1,
                                 .wrong = wrong,
                                 .measured_a = -1,
                                 .verdict = "",
                                 .blank_value = "........",
                                 .blank_initials = "....." };
    return s;
}

/* Reads a band of amps somewhere, and holds an earlier measurement against it. */
static void step_amps(struct handover_step *s, const char *where, double low, double high,
                      const struct measured *m)
{
    if (!s)
        return;
    s->where = where;
    s->low_a = low;
    s->high_a = high;
    if (!m || !range_known(&m->current))
        return;
    s->measured_a = m->current.value;
    s->verdict = s->measured_a < low ? "low" : s->measured_a > high ? "high" : "within";
}

/* --- words --- */

/* The first kind whose words the name holds; the last kind, without words, takes the rest. */
static size_t kind_of(const struct load *load)
{
    size_t k = 0;

    while (k + 1 < KINDS && !text_holds(load->name, kinds[k].words))
        k++;
    return k;
}

/* Starters have a step of their own, and never stay on. */
static int is_starter(const struct load *load)
{
    return text_holds(load->name, "starter|cranking|start motor");
}

/* --- what is on --- */

/* Whether the profile has it on at all on that kind of day. */
static int used_that_day(const struct sheet_work *w, const struct load *load)
{
    const struct usage *usage = load_usage(load, w->day);

    return usage->kind == USAGE_HOURS   ? usage->hours.value > 0
           : usage->kind == USAGE_TIMES ? usage->time_count > 0
           : usage->kind == USAGE_USES  ? usage->use_count > 0
                                        : 0;
}

/* A load of single uses is tried and switched off again, and so is what its kind says is only tried. */
static int stays_on(const struct sheet_work *w, const struct load *load, const struct switch_kind *kind)
{
    return !kind->moment && load_usage(load, w->day)->kind != USAGE_USES;
}

/* Adds amps along the way from the house bank to a node. */
static void current_add(struct sheet_work *w, const char *node, double amps)
{
    size_t place = w->circuit ? paths_find(&w->paths, node) : PATH_NONE;

    for (; place != PATH_NONE && w->paths.cable[place] != PATH_NONE; place = w->paths.parent[place])
        w->cable_a[w->paths.cable[place]] += amps;
}

/* Volts at a node with all that is on [V]; 0: no cable to it in the profile. */
static double volts_at(const struct sheet_work *w, const char *node)
{
    size_t place = w->circuit ? paths_find(&w->paths, node) : PATH_NONE;
    const double open =
        chemistry_open_circuit(w->house->chemistry, w->boat->plan.start_charge.value) * bank_cells(w->house);
    double lost = (w->low_a + w->high_a) / 2 * expect_bank_mohm(w->circuit, w->house);

    if (place == PATH_NONE)
        return 0;
    for (; w->paths.cable[place] != PATH_NONE; place = w->paths.parent[place])
        lost += w->cable_a[w->paths.cable[place]] * w->circuit->cables[w->paths.cable[place]].resistance_mohm;
    return open - lost * 1e-3;
}

/* Where its current leaves the paths of the house bank: at its converter, its node, or itself. */
static const char *node_of(const struct load *load)
{
    return load->converter ? load->converter->name : load->node ? load->node : load->name;
}

/* The running total after the step, for whoever reads the bank's meter. */
static void total_note(struct sheet_work *w, struct handover_step *s)
{
    if (!s)
        return;
    s->total_low_a = w->low_a;
    s->total_high_a = w->high_a;
}

/* One DC load of the house bank; a thermostat may be off when the meter is read, so its low total is 0. */
static void step_load(struct sheet_work *w, size_t i)
{
    const struct load *load = &w->boat->loads[i];
    const struct expected_load *e = &w->expected->loads[i];
    const struct switch_kind *kind = &kinds[kind_of(load)];
    struct handover_step *s;
    const char *named = arena_print(w->arena, kind->action, load->name); /* every action has one %s */
    const double middle = (e->bank_low_a + e->bank_high_a) / 2;

    s = step_add(w, named, kind->expect, kind->wrong);
    step_amps(s, w->house->name, e->bank_low_a, e->bank_high_a, boat_measured(w->boat, load->name));
    w->low_a += load_duty(load, w->day) < 1 ? 0 : e->bank_low_a;
    w->high_a += e->bank_high_a;
    current_add(w, node_of(load), middle);
    if (s)
        s->volts_v = volts_at(w, node_of(load));
    if (!stays_on(w, load, kind)) {
        w->low_a -= load_duty(load, w->day) < 1 ? 0 : e->bank_low_a;
        w->high_a -= e->bank_high_a;
        current_add(w, node_of(load), -middle);
    }
    total_note(w, s);
}

/* DC loads of the house bank: those that its meter sees. */
static int on_house(const struct sheet_work *w, const struct load *load)
{
    return load->supply == SUPPLY_DC && load->bank == w->house && !is_starter(load);
}

/* What somebody saw, and wrote into the profile. */
static int always_live(const struct sheet_work *w, const struct load *load)
{
    return boat_fact(w->boat, load->name, SEEN_ALWAYS_LIVE) == SEEN_YES;
}

/* All loads of that kind that are used, in the order of the profile. */
static void steps_of_kind(struct sheet_work *w, size_t kind)
{
    for (size_t i = 0; i < w->boat->load_count; i++) {
        const struct load *load = &w->boat->loads[i];

        if (on_house(w, load) && kind_of(load) == kind &&
            (used_that_day(w, load) || kinds[kind].always || load->priority == LOAD_VITAL))
            step_load(w, i);
    }
}

/* --- leaving the dock --- */

/* Rest volts of 80 % charge to full, by the chemistry's open-circuit table: before anything is switched on,
 * for no later reading tells as much. */
static void steps_rest(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->bank_count; i++) {
        const struct bank *bank = &w->boat->banks[i];
        const double cells = bank_cells(bank);

        step_add(w,
                 arena_print(w->arena, "Everything off, every isolator off: read the rest volts of bank %s",
                             bank->name),
                 arena_print(w->arena, "%.2f V to %.2f V (80 %% to full)",
                             chemistry_open_circuit(bank->chemistry, 0.8) * cells,
                             chemistry_open_circuit(bank->chemistry, 1) * cells),
                 bank_blocks(bank) > 1
                     ? "low: not charged, or tired; blocks more than 0.2 V apart: one of them is failing"
                     : "low: not charged, or tired");
    }
}

/* The dock's end first, else the loose end of the lead is live. */
static void steps_unplug(struct sheet_work *w)
{
    if (!w->boat->shore.fitted)
        return;
    step_add(w, "AC loads off one by one, then the AC main breaker of the boat", "charger stops",
             "something goes on running: it is not fed by this panel");
    step_add(
        w, "Pedestal breaker off; pull the dock end of the lead first, then the boat's end; close the inlet",
        "inlet pins dead", "volts at the pins: a source on board feeds the inlet; stop, and do not touch it");
    if (boat_ac_sources(w->boat) > 1)
        step_add(w, "AC selector to off", "sockets dead", "sockets live: a second source reaches the panel");
}

static struct band_of_amps {
    double low, high;
} standby_amps(const struct sheet_work *w)
{
    const struct volts_band volts = expect_bank_volts(w->house);
    struct band_of_amps amps = { 0, 0 };

    for (size_t i = 0; i < w->boat->load_count; i++) {
        const struct load *load = &w->boat->loads[i];

        if (!on_house(w, load))
            continue;
        amps.low += load->standby.low / volts.high;
        amps.high += load->standby.high / volts.low;
    }
    return amps;
}

/* What flows then is standby; it begins the running total. */
static void step_isolator(struct sheet_work *w)
{
    const struct band_of_amps amps = standby_amps(w);
    struct handover_step *s =
        step_add(w, arena_print(w->arena, "Isolator of bank %s on, panel breakers off", w->house->name),
                 "alarms, memories and what is fed ahead of the panel",
                 "more than 2 A that nobody can name: find it before you go on");

    w->low_a = amps.low;
    w->high_a = amps.high;
    step_amps(s, w->house->name, amps.low, amps.high, NULL);
    total_note(w, s);
}

/* Half an ampere at most: a starting bank feeds nothing but its engine. */
static void steps_start_isolators(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->bank_count; i++)
        if (w->boat->banks[i].role == BANK_START)
            step_amps(step_add(w,
                               arena_print(w->arena, "Isolator of bank %s on; emergency parallel switch off",
                                           w->boat->banks[i].name),
                               "", "house volts move: the banks are still joined"),
                      w->boat->banks[i].name, 0, 0.5, boat_measured(w->boat, w->boat->banks[i].name));
}

/* Every starter of the profile, from its own bank. */
static void steps_cranking(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->load_count; i++) {
        const struct load *load = &w->boat->loads[i];
        const struct expected_load *e = &w->expected->loads[i];
        struct handover_step *s;

        if (!is_starter(load) || load->supply != SUPPLY_DC)
            continue;
        s = step_add(w, arena_print(w->arena, "Start the engine: %s", load->name),
                     "turns briskly; house volts do not move",
                     "screens drop out: house and start banks are joined; slow: battery or joints");
        step_amps(s, e->bank, e->bank_low_a, e->bank_high_a, boat_measured(w->boat, load->name));
        if (s)
            s->volts_v = e->volts_v;
    }
}

/* From nothing, where the bank is full, to its label; never more than the bank takes. */
static void steps_alternators(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->alternator_count; i++) {
        const struct alternator *a = &w->boat->alternators[i];
        const double takes = a->bank ? a->bank->max_charge.value : a->rated_current.value;
        const double most = fmin(fmin(a->rated_current.value, range_or(&a->current_limit, HUGE_VAL)), takes);

        step_amps(
            step_add(w,
                     arena_print(w->arena, "Engine of %s at a fast idle: read what it charges with", a->name),
                     "amps into the bank; little where the bank is full",
                     "none: fuse, belt or regulator; volts high and no amps: a joint in its cable"),
            a->name, 0, most, boat_measured(w->boat, a->name));
    }
}

/* Its idle draw joins the running total: it stays on. */
static void step_inverter(struct sheet_work *w)
{
    const struct inverter *inverter = &w->boat->inverters[0];
    const struct volts_band volts = expect_bank_volts(w->house);
    struct handover_step *s =
        step_add(w,
                 arena_print(w->arena, "Inverter %s on, away from shore only, no load; selector to inverter",
                             inverter->name),
                 "idles", "far more: something is on at its output");
    const double low = inverter->idle_power.low * (1 - expect_tolerance) / volts.high;
    const double high = inverter->idle_power.high * (1 + expect_tolerance) / volts.low;

    step_amps(s, w->house->name, low, high, boat_measured(w->boat, inverter->name));
    w->low_a += low;
    w->high_a += high;
    current_add(w, inverter->name, (low + high) / 2);
    total_note(w, s);
}

/* The largest AC load that the inverter carries: one known load to try it with. */
static size_t trial_load(const struct sheet_work *w)
{
    const struct boat *boat = w->boat;
    size_t best = boat->load_count;

    for (size_t i = 0; i < boat->load_count; i++) {
        const struct load *load = &boat->loads[i];
        const double watts = load->power.value * load->count.value;

        if (load->supply == SUPPLY_AC && watts <= boat->inverters[0].power.value && used_that_day(w, load) &&
            (best == boat->load_count ||
             watts > boat->loads[best].power.value * boat->loads[best].count.value))
            best = i;
    }
    return best;
}

/* Its idle draw first, which stays on; then one load through it, whose amps are taken off the total again. */
static void steps_inverter(struct sheet_work *w)
{
    const struct expected_load *e;
    struct handover_step *s;
    size_t trial;

    if (!w->boat->inverter_count)
        return;
    step_inverter(w);
    trial = trial_load(w);
    if (trial == w->boat->load_count)
        return;
    e = &w->expected->loads[trial];
    s = step_add(w, arena_print(w->arena, "One known load on the inverter: %s, then off", e->name), "runs",
                 "alarm or cut-out: volts sag on the way to the inverter; feel its lugs");
    w->low_a += e->bank_low_a;
    w->high_a += e->bank_high_a;
    current_add(w, w->boat->inverters[0].name, (e->bank_low_a + e->bank_high_a) / 2);
    step_amps(s, w->house->name, e->bank_low_a, e->bank_high_a, NULL);
    if (s)
        s->volts_v = volts_at(w, w->boat->inverters[0].name);
    w->low_a -= e->bank_low_a;
    w->high_a -= e->bank_high_a;
    current_add(w, w->boat->inverters[0].name, -(e->bank_low_a + e->bank_high_a) / 2);
    total_note(w, s);
}

/* AC amperes [A] at full charging current and absorption volts. */
static double charger_amps(const struct boat *boat, const struct charger *charger)
{
    return charger->bank
               ? charger_input_va(charger, charger->current.value * charger->bank->absorption_voltage.value) /
                     boat->ac_voltage.value
               : 0;
}

/* At most what its chargers take; a full bank takes next to nothing, so the low end is 0. */
static void steps_generators(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->generator_count; i++) {
        const char *name = w->boat->generators[i].name;
        double amps = 0;

        for (size_t c = 0; c < w->boat->charger_count; c++)
            amps += w->boat->chargers[c].fed_by & FED_BY_GENERATOR
                        ? charger_amps(w->boat, &w->boat->chargers[c])
                        : 0;
        step_amps(
            step_add(w,
                     arena_print(w->arena, "Start %s, let it warm, selector to generator, chargers on", name),
                     "inlet pins stay dead", "a jolt, or two sources at once: the selector overlaps"),
            name, 0, amps * (1 + expect_tolerance), boat_measured(w->boat, name));
    }
}

/* From what must work to what is only wanted: rest volts, pumps, lights, instruments, radio; engines before
 * heavy loads, for their alternators carry them; the inverter and the generator last. */
static void leaving(struct sheet_work *w)
{
    static const size_t order[] = {
        0, 1, 2, 3, 4, 6, 5, 7
    }; /* of kinds: a radio is heard before it transmits */

    w->phase = "Leaving the dock";
    steps_rest(w);
    steps_unplug(w);
    step_isolator(w);
    steps_start_isolators(w);
    for (size_t k = 0; k < sizeof order / sizeof order[0]; k++)
        steps_of_kind(w, order[k]);
    steps_of_kind(w, KINDS - 1);
    steps_cranking(w);
    steps_alternators(w);
    steps_of_kind(w, HEAVY);
    steps_inverter(w);
    steps_generators(w);
}

/* --- coming back --- */

/* A thing on the AC panel; the total is that of the inlet. */
static void step_ac(struct sheet_work *w, const char *action, const char *expect, double low, double high,
                    const struct measured *m)
{
    struct handover_step *s =
        step_add(w, action, expect, "the pedestal trips: shed in the order of the card below");

    step_amps(s, "shore inlet", low, high, m);
    w->low_a += low;
    w->high_a += high;
    total_note(w, s);
}

/* Low end 0: a full bank takes nothing. */
static void steps_chargers(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->charger_count; i++) {
        const struct charger *charger = &w->boat->chargers[i];

        if (charger->fed_by & FED_BY_SHORE)
            step_ac(w, arena_print(w->arena, "Charger %s on", charger->name),
                    arena_print(w->arena, "up to %.0f A into the bank", charger->current.value), 0,
                    charger_amps(w->boat, charger) * (1 + expect_tolerance),
                    boat_measured(w->boat, charger->name));
    }
}

/* Mains loads one at a time as long as the inlet bears them all at once. */
static void steps_mains(struct sheet_work *w)
{
    for (size_t i = 0; i < w->boat->load_count; i++) {
        const struct load *load = &w->boat->loads[i];
        const struct expected_load *e = &w->expected->loads[i];

        if (load->supply != SUPPLY_MAINS)
            continue;
        if (w->high_a + e->high_a > w->boat->shore.current.value)
            step_add(w, arena_print(w->arena, "Leave %s off until something else is off", load->name),
                     arena_print(w->arena, "%.1f A more would make %.1f A of %.0f A", e->high_a,
                                 w->high_a + e->high_a, w->boat->shore.current.value),
                     "switched on all the same: the pedestal trips");
        else
            step_ac(w, arena_print(w->arena, "%s on", load->name), "runs", e->low_a, e->high_a,
                    boat_measured(w->boat, load->name));
    }
}

/* The running total starts anew: it is now that of the shore inlet. */
static void coming_back(struct sheet_work *w)
{
    w->phase = "Coming back";
    if (!w->boat->shore.fitted)
        return;
    w->low_a = w->high_a = 0;
    step_add(w, "Heavy DC loads and inverter off; AC selector to off, AC main off", "sockets dead",
             "sockets live: a source is still on the panel");
    step_add(
        w, "Lead: boat's end first, then the dock's end; pedestal breaker on last",
        arena_print(w->arena, "%.0f V at the inlet, polarity as it should be", w->boat->shore.voltage.value),
        "polarity reversed or volts far off: unplug the dock end again and use another socket");
    step_add(w, "AC selector to shore, AC main on", "nothing starts by itself",
             "the residual-current device trips: unplug loads, try them one by one; do not hold it in");
    steps_chargers(w);
    steps_mains(w);
}

/* --- what stays live --- */

static void live_add(struct handover *h, struct live_thing *things, const char *name, const char *why,
                     double low, double high)
{
    things[h->live_count++] = (struct live_thing){ name, why, low, high };
}

/* 1 where no node on its way is a panel: then no panel switch makes it dead. */
static int wired_ahead(const struct sheet_work *w, const struct load *load)
{
    size_t place = w->circuit ? paths_find(&w->paths, node_of(load)) : PATH_NONE;

    if (place == PATH_NONE)
        return 0;
    for (; place != PATH_NONE; place = w->paths.parent[place])
        if (text_holds(w->paths.nodes[place], "panel|switchboard"))
            return 0;
    return 1;
}

/* What may bite or drain with every switch off, seen or wired so. */
static int live_make(struct handover *h, struct sheet_work *w)
{
    const struct boat *b = w->boat;
    struct live_thing *things =
        arena_array(w->arena, b->bank_count + b->solar_count + b->load_count + 1, sizeof *things);

    if (!things)
        return 0;
    for (size_t i = 0; i < b->bank_count; i++)
        live_add(h, things, b->banks[i].name, "posts, and all copper from them to the isolator", -1, -1);
    for (size_t i = 0; i < b->solar_count; i++)
        live_add(h, things, b->solars[i].name, "panels and their cables, whenever there is light", -1, -1);
    if (b->shore.fitted)
        live_add(h, things, "shore inlet", "live up to the first breaker while the lead is in", -1, -1);
    for (size_t i = 0; i < b->load_count; i++) {
        const struct expected_load *e = &w->expected->loads[i];

        if (b->loads[i].supply != SUPPLY_DC)
            continue;
        if (always_live(w, &b->loads[i]))
            live_add(h, things, b->loads[i].name, "seen to be fed with every switch off", 0, e->bank_high_a);
        else if (wired_ahead(w, &b->loads[i]) &&
                 boat_fact(b, b->loads[i].name, SEEN_ALWAYS_LIVE) == SEEN_UNKNOWN)
            live_add(h, things, b->loads[i].name,
                     "wired ahead of the panel: dead only if a switch of its own is off", 0, e->bank_high_a);
    }
    h->live = things;
    return 1;
}

/* Which warnings the sheet prints at its head. */
static void hazards(struct handover *h, const struct boat *boat)
{
    for (size_t i = 0; i < boat->bank_count; i++) {
        h->lithium |= boat->banks[i].chemistry == CHEMISTRY_LFP;
        h->lead |= boat->banks[i].chemistry != CHEMISTRY_LFP;
    }
    h->mains = boat_ac_sources(boat) > 0;
}

enum status handover_run(const struct handover **out, struct arena *arena, const struct boat *boat,
                         const struct circuit *circuit, const struct day_kind *day, struct diag_list *diags)
{
    struct sheet_work w = { .arena = arena,
                            .boat = boat,
                            .circuit = circuit,
                            .house = boat_house_bank(boat),
                            .day = boat_day_index(boat, day) };
    struct handover *h = arena_zero(arena, sizeof *h);
    enum status status;

    if (!w.house) {
        diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                        .message = "the profile has no house bank",
                                        .hint = "write [bank NAME] with role = house" });
        return STATUS_INCOMPLETE;
    }
    status = expect_run(&w.expected, arena, boat, circuit, boat->plan.start_charge.value);
    w.cable_a = arena_array(arena, circuit ? circuit->cable_count : 0, sizeof *w.cable_a);
    if (!h || status != STATUS_OK || !w.cable_a ||
        (circuit && !paths_make(&w.paths, arena, circuit, w.house->name)))
        return STATUS_NO_MEMORY;
    *h = (struct handover){
        .boat = boat->name, .place = boat->site.name, .day = day->name, .expected = w.expected
    };
    leaving(&w);
    coming_back(&w);
    h->steps = w.steps;
    h->step_count = w.count;
    hazards(h, boat);
    if (w.failed || !together_make(h, arena, boat) || !live_make(h, &w))
        return STATUS_NO_MEMORY;
    *out = h;
    return STATUS_OK;
}

/* sim_ac.c - one AC source at a time: shore, generator, inverter, none.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/sim_ac.h"

#include "base/arena.h"
#include "parts/rounding.h"

/*
 * The panel has exactly one source in a step:
 *
 *     shore in                    carries AC and mains loads, then chargers       limit: inlet A x V
 *     else generator running      the same                                        limit: its W, taken as VA
 *     else inverter               carries AC loads alone, from the house bank     limit: W and VA
 *     else nothing                all of it is missed
 *
 * Shore goes first, so a generator does not even start beside it. An overload is an event, and loads are
 * carried up to the limit all the same: the planner wants to know by how much. "Week", 1 to 3, in models.md;
 * held by tests/engine/test_week.c.
 */

/* A source counts as there for a step when it is there for most of it. */
static const double present = 0.5;

/* Two stretches of the same event closer than this are one in the report [s]. */
enum { EVENT_GAP_S = 900 };

/* Moves an open event to the list; -1 without memory, 0 also where none is open. */
static int event_keep(struct sim *s, enum week_event_kind kind)
{
    struct open_event *open = &s->open[kind];
    void *items = s->events;
    struct week_event *event;

    if (open->end_s < open->start_s)
        return 0;
    event = arena_push(s->arena, &items, &s->event_count, &s->event_room, sizeof *event);
    s->events = items;
    if (!event)
        return -1;
    *event = (struct week_event){ .kind = kind, .start_s = open->start_s, .end_s = open->end_s,
                                  .worst_w = open->worst_w, .limit_w = open->limit_w, .wh = open->wh,
                                  .worst_s = open->worst_s };
    *open = (struct open_event){ .start_s = 0, .end_s = -1 };
    return 0;
}

/* Steps join while the gap between them is under EVENT_GAP_S. Counting comes before keeping: a sizing run
 * keeps no events but must know that there were some. */
void sim_event(struct sim *s, enum week_event_kind kind, double time_s, double excess_w, double limit_w)
{
    struct open_event *open = &s->open[kind];

    s->event_steps[kind]++;
    s->stopped |= (s->options.stop_on & 1u << kind) != 0;
    if (!s->options.keep_events)
        return;
    if (open->end_s >= open->start_s && time_s - open->end_s > EVENT_GAP_S && event_keep(s, kind) != 0)
        s->out_of_memory = 1;
    if (open->end_s < open->start_s)
        *open = (struct open_event){ .start_s = time_s, .worst_w = -1 };
    open->end_s = time_s + s->options.step_s;
    open->wh += excess_w * s->step_h;
    if (excess_w > open->worst_w) {
        open->worst_w = excess_w;
        open->limit_w = limit_w;
        open->worst_s = time_s;
    }
}

/* An event of the last step has nothing after it that would close it. */
int sim_events_close(struct sim *s)
{
    int failed = s->out_of_memory;

    for (int kind = 0; kind < EVENT_KINDS; kind++)
        failed |= event_keep(s, (enum week_event_kind)kind);
    return failed ? -1 : 0;
}

/* Automatic: from start_charge until stop_charge, never in quiet hours, never beside the shore lead. */
static int generator_runs(struct sim *s, const struct ac_step *ac)
{
    const struct generator *g = s->boat->generators;
    double charge;

    if (s->boat->generator_count == 0 || s->options.no_sources || ac->shore >= present)
        return 0;
    if (s->kind->generator != GENERATOR_AUTOMATIC)
        return s->kind->generator == GENERATOR_TIMES && ac->generator >= present;
    if (ac->quiet >= present)
        return 0;
    charge = s->buses[s->house].charge;
    return s->generator_on ? charge < g->stop_charge.value : charge <= g->start_charge.value;
}

/* Also switches the automatic generator, and counts its starts, once for each step. */
static enum ac_source source_now(struct sim *s, const struct ac_step *ac)
{
    int was_on = s->generator_on;

    s->generator_on = generator_runs(s, ac);
    s->total.generator_starts += s->generator_on && !was_on;
    if (s->boat->shore.fitted && ac->shore >= present && !s->options.no_sources)
        return AC_SHORE;
    if (s->generator_on)
        return AC_GENERATOR;
    return s->inverters.model.power_w > 0 ? AC_INVERTER : AC_NONE;
}

/*
 * Apparent power counts, for a breaker or a winding sees amperes; what is left lowers output in proportion.
 */
double charger_share(const struct charger *charger, double volts, double scale, double *left_va)
{
    double dc_w = charger->current.value * scale * volts;
    double va = charger_input_va(charger, dc_w), left = larger(*left_va, 0);

    if (va <= 0)
        return 0;
    if (va > left) {
        dc_w *= left / va;
        va = left;
    }
    *left_va -= va;
    return dc_w;
}

/* Chargers share the apparent power that AC loads leave, in the order of the profile. */
static void offer_chargers(struct sim *s, unsigned feed, double left_va)
{
    for (size_t i = 0; i < s->boat->charger_count; i++) {
        const struct charger *c = &s->boat->chargers[i];
        struct bus *bus = &s->buses[c->bank - s->boat->banks];

        if (c->fed_by & feed)
            bus->offer_w[FROM_CHARGER] += charger_share(c, bus->volts_v, s->options.charger_scale, &left_va);
    }
}

/* Loads first, vital before normal before shed, as far as the lead or machine carries; chargers take the
 * rest. */
static void carry(struct sim *s, const struct ac_step *ac, double time_s, double limit_va,
                  enum week_event_kind overload, unsigned feed)
{
    double want = 0, va = ac->ac_va + ac->mains_va, left, per_w;

    for (int p = 0; p < LOAD_PRIORITIES; p++)
        want += ac->ac_w[p] + ac->mains_w[p];
    per_w = want > 0 ? va / want : 1;
    left = limit_va;
    for (int p = 0; p < LOAD_PRIORITIES; p++) {
        double w = lesser(ac->ac_w[p] + ac->mains_w[p], larger(left, 0) / per_w);

        s->ac.carried_w += w;
        left -= w * per_w;
    }
    if (!at_most(va, limit_va))
        sim_event(s, overload, time_s, va - limit_va, limit_va);
    s->total.mains_wh += s->ac.carried_w * s->step_h;
    offer_chargers(s, feed, left);
}

/* What the inverter is asked for, cut to its rating. */
static void invert(struct sim *s, const struct ac_step *ac, double time_s)
{
    double want = ac->ac_w[0] + ac->ac_w[1] + ac->ac_w[2], limit = s->inverters.model.power_w;
    double missed = ac->mains_w[0] + ac->mains_w[1] + ac->mains_w[2];

    s->ac.want_w = want;
    s->largest_ac_w = larger(s->largest_ac_w, want);
    s->total.mains_missed_wh += missed * s->step_h;
    s->ac.inverting = s->ac.source == AC_INVERTER && time_s >= s->lockout_s;
    if (!s->ac.inverting) {
        if (want > 0)
            sim_event(s, s->ac.source == AC_NONE ? EVENT_NO_AC : EVENT_CUT_OUT, time_s, want, 0);
        return;
    }
    if (ac->ac_va > s->inverters.va && want > 0)
        limit = lesser(limit, want * s->inverters.va / ac->ac_va);
    if (!at_most(want, limit))
        sim_event(s, EVENT_INVERTER_OVERLOAD, time_s, want - limit, limit);
    s->ac.give_w = lesser(want, limit);
}

void sim_ac(struct sim *s, const struct ac_step *ac, double time_s)
{
    s->ac = (struct ac_now){ .source = source_now(s, ac) };
    switch (s->ac.source) {
    case AC_SHORE:
        carry(s, ac, time_s, s->boat->shore.current.value * s->boat->shore.voltage.value,
              EVENT_SHORE_OVERLOAD, FED_BY_SHORE);
        s->total.shore_h += s->step_h;
        break;
    case AC_GENERATOR:
        carry(s, ac, time_s, s->boat->generators[0].power.value, EVENT_GENERATOR_OVERLOAD, FED_BY_GENERATOR);
        s->total.generator_h += s->step_h;
        break;
    case AC_INVERTER:
    case AC_NONE:
        invert(s, ac, time_s);
        break;
    }
}

/* sim_dc.c - dispatch on the DC buses.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/sim_dc.h"

#include "engine/sim_ac.h"

/* Low-priority loads come back when the bank is this far above its floor [-]. */
static const double shed_return = 0.03;

/* After the inverter tripped on low volts it stays off this long [s]: nobody resets it at once. */
enum { LOCKOUT_S = 600 };

/* What a bus must feed before its bank gets anything: DC loads and the inverter. Only the house bus has one. */
struct need {
    double dc_w[LOAD_PRIORITIES];
    double ac_w[LOAD_PRIORITIES]; /* output of the inverter */
    double wanted_w; /* all of it, before anything is cut */
    int inverting;   /* 1: the inverter is on, its idle draw counts */
};

static double need_inverter_input(const struct sim *s, const struct need *n)
{
    double out = 0;

    if (!n->inverting)
        return 0;
    for (int p = 0; p < LOAD_PRIORITIES; p++)
        out += n->ac_w[p];
    return inverter_input_w(&s->inverters.model, out);
}

static double need_total(const struct sim *s, const struct need *n)
{
    double total = need_inverter_input(s, n);

    for (int p = 0; p < LOAD_PRIORITIES; p++)
        total += n->dc_w[p];
    return total;
}

static struct need need_of_bus(struct sim *s, size_t index, const struct bus_step *in)
{
    struct need n = { .wanted_w = 0 };

    for (int p = 0; p < LOAD_PRIORITIES; p++)
        n.wanted_w += n.dc_w[p] = in->dc_w[p];
    if (index != s->house)
        return n;
    n.inverting = s->ac.source == AC_INVERTER && s->running_s >= s->lockout_s;
    for (int p = 0; p < LOAD_PRIORITIES; p++) {
        n.wanted_w += s->ac.want_w[p];
        n.ac_w[p] = s->ac.give_w[p];
    }
    return n;
}

/* Puts off what the owner said may wait, from the floor until a little above it. */
static void shed_at_floor(struct sim *s, const struct bus *bus, struct need *n, double time_s)
{
    double charge = bank_charge(&bus->model, &bus->state), off;

    s->shedding = charge <= bus->model.floor + (s->shedding ? shed_return : 0);
    off = n->dc_w[LOAD_SHED] + n->ac_w[LOAD_SHED];
    if (!s->shedding || off <= 0)
        return;
    sim_event(s, EVENT_SHED, time_s, off, 0);
    n->dc_w[LOAD_SHED] = n->ac_w[LOAD_SHED] = 0;
}

/* Cuts the inverter's output of one priority until its bus side is down by `over`. */
static void cut_ac(const struct sim *s, struct need *n, int priority, double over)
{
    double others = 0, out;

    for (int q = 0; q < LOAD_PRIORITIES; q++)
        others += q == priority ? 0 : n->ac_w[q];
    out = inverter_output_w(&s->inverters.model, larger(need_inverter_input(s, n) - over, 0));
    n->ac_w[priority] = larger(lesser(out - others, n->ac_w[priority]), 0);
}

/* Cuts loads, least important first, until the bus side of them is down by `excess`. */
static void cut(const struct sim *s, struct need *n, double excess)
{
    double target = need_total(s, n) - excess;

    for (int p = LOAD_PRIORITIES - 1; p >= 0; p--) {
        double over = need_total(s, n) - target;
        double dc = lesser(larger(over, 0), n->dc_w[p]);

        n->dc_w[p] -= dc;
        if (over > dc && n->inverting && n->ac_w[p] > 0)
            cut_ac(s, n, p, over - dc);
    }
    if (n->inverting && need_total(s, n) > target + 1e-6)
        n->inverting = 0; /* not even its idle draw */
}

/* Sources of one bus, in the order they serve. A link comes first: its energy has already left the other bus. */
enum bus_source { FROM_LINK, FROM_SOLAR, FROM_ALTERNATOR, FROM_CHARGER, BUS_SOURCES };

struct offers {
    double left_w[BUS_SOURCES];
    double set_v[BUS_SOURCES]; /* what each regulator holds */
};

static struct offers offers_of(const struct bus *bus)
{
    double set_v = bank_set_voltage(&bus->model, &bus->state);
    double alternator_v = bus->alternator_v > 0 ? lesser(bus->alternator_v, set_v) : set_v;

    return (struct offers){ { bus->link_in_w, bus->solar_w, bus->alternator_w, bus->charger_w },
                            { set_v, set_v, alternator_v, set_v } };
}

static double offers_total(const struct offers *o)
{
    return o->left_w[FROM_LINK] + o->left_w[FROM_SOLAR] + o->left_w[FROM_ALTERNATOR] + o->left_w[FROM_CHARGER];
}

/* Serves the need from the sources in order; returns what is left for the bank to give. */
static double serve(struct offers *o, double need)
{
    for (int i = 0; i < BUS_SOURCES && need > 0; i++) {
        double taken = lesser(need, o->left_w[i]);

        o->left_w[i] -= taken;
        need -= taken;
    }
    return need;
}

/* Into the bank, each source only as far as the bank still takes power at that regulator's volts. */
static double charge_bank(const struct bus *bus, struct offers *o)
{
    double into = 0, room = 0, room_at = -1;

    for (int i = 0; i < BUS_SOURCES; i++) {
        double taken;

        if (o->left_w[i] <= 0)
            continue;
        if (o->set_v[i] != room_at) {
            room_at = o->set_v[i];
            room = bank_accept_w(&bus->model, &bus->state, room_at);
        }
        taken = larger(lesser(o->left_w[i], room - into), 0);
        o->left_w[i] -= taken;
        into += taken;
    }
    return into;
}

static void watch_lowest(struct bus *bus, double time_s)
{
    double charge = bank_charge(&bus->model, &bus->state);

    if (charge < bus->min_charge) {
        bus->min_charge = charge;
        bus->min_time_s = time_s;
    }
}

static void bus_remember(struct sim *s, struct bus *bus, const struct bank_flow *flow, double time_s)
{

    bus->volts_v = flow->volts_v;
    bus->current_a = flow->current_a;
    bus->terminal_wh += flow->current_a * flow->volts_v * s->step_h;
    if (flow->current_a > 0)
        bus->charge_ah += flow->current_a * s->step_h;
    else
        bus->discharge_ah -= flow->current_a * s->step_h;
    watch_lowest(bus, time_s + s->options.step_s);
}

/* The inverter trips when its own load drags the posts under its cut-out. */
static void watch_cut_out(struct sim *s, const struct bus *bus, const struct need *n, double time_s)
{
    double out = n->ac_w[0] + n->ac_w[1] + n->ac_w[2];

    if (!n->inverting || out <= 0 || bus->volts_v >= s->inverters.cut_out_v)
        return;
    s->lockout_s = time_s + s->options.step_s + LOCKOUT_S;
    sim_event(s, EVENT_CUT_OUT, time_s, 0, out);
}

/* Notes what was wanted and not given; only loads that were not put off on purpose count as unserved events. */
static double note_unserved(struct sim *s, const struct bus_step *in, const struct need *n, int house)
{
    double unserved = 0;

    for (int p = 0; p < LOAD_PRIORITIES; p++) {
        double w = in->dc_w[p] - n->dc_w[p] + (house ? s->ac.want_w[p] - n->ac_w[p] : 0);

        s->total.unserved_priority_wh[p] += w * s->step_h;
        unserved += w;
    }
    return unserved;
}

static void add_sources(struct bus *bus, const struct offers *o, struct flows *flows)
{
    flows->solar += bus->solar_w - o->left_w[FROM_SOLAR];
    flows->spilled += o->left_w[FROM_SOLAR];
    flows->alternator += bus->alternator_w - o->left_w[FROM_ALTERNATOR];
    flows->charger += bus->charger_used_w = bus->charger_w - o->left_w[FROM_CHARGER];
}

static void add_loads(struct sim *s, const struct bus *bus, const struct bus_step *in, const struct need *n,
                      struct flows *flows)
{
    double out = n->inverting ? n->ac_w[0] + n->ac_w[1] + n->ac_w[2] : 0;

    flows->load += n->wanted_w + bus->link_loss_w;
    flows->unserved += note_unserved(s, in, n, bus == &s->buses[s->house]);
    flows->inverter_out += out;
    flows->inverter_loss += need_inverter_input(s, n) - out;
}

/* 1 where nothing happens on a bus in a step but the bank's own rest. */
static int bus_idle(const struct bus *bus, const struct bus_step *in)
{
    return in->dc_w[0] + in->dc_w[1] + in->dc_w[2] + bus->solar_w + bus->alternator_w + bus->charger_w +
               bus->link_in_w + bus->link_out_w <=
           0;
}

void sim_bus(struct sim *s, size_t index, size_t step, double time_s, struct flows *flows)
{
    struct bus *bus = &s->buses[index];
    const struct bus_step *in = &s->timeline.buses[index * s->timeline.steps + step];
    struct offers offers;
    struct need n;
    double total, deficit;
    struct bank_flow flow;

    if (index != s->house && bus_idle(bus, in)) {
        bank_rest(&bus->model, &bus->state);
        bus->current_a = 0;
        return;
    }
    watch_lowest(bus, time_s); /* after steps that were idle */
    offers = offers_of(bus);
    n = need_of_bus(s, index, in);
    total = offers_total(&offers);
    if (index == s->house)
        shed_at_floor(s, bus, &n, time_s);
    deficit = need_total(s, &n) + bus->link_out_w - total;
    if (deficit > 0) {
        double can = bank_deliver_w(&bus->model, &bus->state);

        if (deficit > can * (1 + 1e-12)) {
            sim_event(s, EVENT_UNSERVED, time_s, deficit - can, can);
            cut(s, &n, deficit - can);
        }
    }
    deficit = serve(&offers, need_total(s, &n) + bus->link_out_w);
    flow = bank_move(&bus->model, &bus->state, deficit > 0 ? -deficit : charge_bank(bus, &offers), total > 0);
    bus_remember(s, bus, &flow, time_s);
    add_loads(s, bus, in, &n, flows);
    add_sources(bus, &offers, flows);
    if (index == s->house)
        watch_cut_out(s, bus, &n, time_s);
}

/* Power a bus has to spare after its own loads [W]. */
static double bus_spare(struct sim *s, size_t index, size_t step)
{
    struct bus *bus = &s->buses[index];
    const struct bus_step *in = &s->timeline.buses[index * s->timeline.steps + step];
    double offered = bus->solar_w + bus->alternator_w + bus->charger_w - bus->link_out_w;

    if (offered <= 0)
        return 0;
    if (bus->own_need_s != s->running_s) { /* the same for every link of a step */
        struct need n = need_of_bus(s, index, in);

        bus->own_need_w = need_total(s, &n);
        bus->own_need_s = s->running_s;
    }
    return offered - bus->own_need_w;
}

static void link_move(struct sim *s, const struct dcdc *d, size_t from, size_t to, double spare)
{
    struct bus *giver = &s->buses[from], *taker = &s->buses[to];
    double set_v = bank_set_voltage(&taker->model, &taker->state);
    double give = bank_accept_w(&taker->model, &taker->state, set_v) - taker->link_in_w;
    double idle = d->kind == LINK_RELAY ? 0 : range_or(&d->idle_power, 0);
    double efficiency = d->kind == LINK_RELAY ? 1 : d->efficiency.value;
    double drawn;

    if (range_known(&d->current))
        give = lesser(give, d->current.value * taker->volts_v);
    give = lesser(give, (spare - idle) * efficiency);
    if (give <= 0)
        return;
    drawn = give / efficiency + idle;
    giver->link_out_w += drawn;
    giver->link_loss_w += drawn - give;
    taker->link_in_w += give;
}

/* A converter moves what its giving bus has to spare; a relay joins two buses while either is being charged. */
static void offer_links(struct sim *s, size_t step)
{
    for (size_t i = 0; i < s->boat->dcdc_count; i++) {
        const struct dcdc *d = &s->boat->dcdcs[i];
        size_t from = (size_t)(d->from - s->boat->banks), to;
        double spare;

        if (!d->to)
            continue;
        to = (size_t)(d->to - s->boat->banks);
        spare = bus_spare(s, from, step);
        if (spare > 0)
            link_move(s, d, from, to, spare);
        else if (d->kind == LINK_RELAY && (spare = bus_spare(s, to, step)) > 0)
            link_move(s, d, to, from, spare);
    }
}

void sim_offer(struct sim *s, size_t step)
{
    for (size_t b = 0; b < s->boat->bank_count; b++) {
        struct bus *bus = &s->buses[b];
        const struct bus_step *in = &s->timeline.buses[b * s->timeline.steps + step];

        bus->link_in_w = bus->link_out_w = bus->link_loss_w = bus->charger_w = 0;
        bus->solar_w = bus->alternator_w = 0;
        if (s->options.no_sources)
            continue;
        bus->solar_w = in->solar_w + in->solar_a * bus->volts_v;
        bus->alternator_w = in->alternator_a * s->options.alternator_scale * bus->volts_v;
    }
}

void sim_link(struct sim *s, size_t step)
{
    if (s->boat->dcdc_count && !s->options.no_sources)
        offer_links(s, step);
}

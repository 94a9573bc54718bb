/* sim_dc.c - dispatch on the DC buses.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/sim_dc.h"

#include "engine/sim_ac.h"

/*
 * A bus is a bank with what hangs on it. In a step its loads are served by the sources in the order of enum
 * bus_source, then by the bank; what sources have left goes into the bank, each at the volts of its own
 * regulator:
 *
 *     house_short    something is to be put off, or the inverter gives less than is wanted?
 *       no   run_plain    all is given; the bank draws or fills, where that is known to be within its limits
 *       yes, or not known
 *            run_short    shed, ask the bank what it can deliver, cut by priority, then move
 *     bus_alone      nothing but a link, or rest: the usual case of a starting bank, left behind while it
 *                    rests and brought up to date (bus_wake) when something asks for it
 *
 * run_plain is what run_short would find where nothing is short, without its questions; it makes a week
 * cheap. That bank_try_draw and bank_try_fill do what bank_step does is held by tests/parts/test_bank.c, the
 * dispatch itself by tests/engine/test_week.c and, on random boats, tests/engine/test_random_boats.c.
 *
 * Powers [W] are means of a step at the bus, volts [V] those at the end of the step before.
 */

/* Low-priority loads come back when the bank is this far above its floor [-]. */
static const double shed_return = 0.03;

/* After the inverter tripped on low volts it stays off this long [s]: nobody resets it at once. */
enum { LOCKOUT_S = 600 };

/* Less than this is what rounding leaves where sources and loads are even [W]: it neither moves the bank nor
 * counts as a shortage. */
static const double dust_w = 1e-9;

/* What a bus must feed before its bank gets anything, where some of it must be cut: by priority. */
struct need {
    double dc_w[LOAD_PRIORITIES];
    double ac_w[LOAD_PRIORITIES]; /* output of the inverter */
    int inverting;                /* 1: the inverter is on, its idle draw counts */
};

/* [W] at the bus for what the loads get of it, idle draw included; 0 where it is off. */
static double need_inverter_input(const struct sim *s, const struct need *n)
{
    return n->inverting ? inverter_input_w(&s->inverters.model, n->ac_w[0] + n->ac_w[1] + n->ac_w[2]) : 0;
}

/* [W] at the bus of everything that is still to be fed. */
static double need_total(const struct sim *s, const struct need *n)
{
    return need_inverter_input(s, n) + n->dc_w[0] + n->dc_w[1] + n->dc_w[2];
}

/* An overloaded inverter gives to vital loads first. */
static struct need need_of_bus(const struct sim *s, const struct bus_step *in, const struct ac_step *ac,
                               int house)
{
    struct need n = { .inverting = house && s->ac.inverting };
    double left = s->ac.give_w;

    for (int p = 0; p < LOAD_PRIORITIES; p++) {
        n.dc_w[p] = in->dc_w[p];
        if (n.inverting)
            left -= n.ac_w[p] = lesser(ac->ac_w[p], left);
    }
    return n;
}

/* Puts off what the owner said may wait. */
static void shed(struct sim *s, struct need *n, double time_s)
{
    double off = n->dc_w[LOAD_SHED] + n->ac_w[LOAD_SHED];

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

/* Serves the need from the sources in order; returns what is left for the bank to give. */
static double serve(struct bus *bus, double need)
{
    for (int i = 0; i < BUS_SOURCES; i++) {
        double taken = lesser(need, bus->offer_w[i]);

        bus->left_w[i] = bus->offer_w[i] - taken;
        need -= taken;
    }
    return need;
}

/* Lowest charge of the bank and when; a rest is looked at when it ends, for nothing but self-discharge
 * happens in it. */
static inline void watch_lowest(struct bus *bus, double time_s)
{
    bus->charge = bank_charge(bus->model, &bus->state);
    if (bus->charge < bus->min_charge) {
        bus->min_charge = bus->charge;
        bus->min_time_s = time_s;
    }
}

/* Rest is made up for in one go when the bank is next asked for anything. */
static inline void bus_wake(struct bus *bus, double time_s)
{
    if (!bus->rested)
        return;
    bank_rest(bus->model, &bus->state, bus->rested);
    bus->rested = 0;
    watch_lowest(bus, time_s);
}

void sim_wake(struct sim *s, double time_s)
{
    for (size_t b = 0; b < s->boat->bank_count; b++)
        bus_wake(&s->buses[b], time_s);
}

/* What the bank takes at those set volts [W]; worked out once a step. */
static double bus_accepts(struct bus *bus, double set_v)
{
    if (bus->intake_v != set_v) {
        bus->intake_v = set_v;
        bank_intake(&bus->intake, bus->model, &bus->state, set_v);
    }
    return bus->intake.power_w;
}

/* What the regulator of a source holds [V]. */
static double source_v(const struct bus *bus, enum bus_source source)
{
    double set_v = bank_set_voltage(bus->model, &bus->state);

    return source == FROM_ALTERNATOR && bus->alternator_v > 0 ? lesser(bus->alternator_v, set_v) : set_v;
}

/* Into the bank, each source only as far as the bank still takes power at that regulator's volts. */
static double charge_bank(struct bus *bus)
{
    double into = 0;

    for (int i = 0; i < BUS_SOURCES; i++) {
        double taken;

        if (bus->left_w[i] <= 0)
            continue;
        taken = larger(lesser(bus->left_w[i], bus_accepts(bus, source_v(bus, (enum bus_source)i)) - into), 0);
        bus->left_w[i] -= taken;
        into += taken;
    }
    return into;
}

/* Something could charge, whether or not it does: the stage of charging depends on it. */
static int bus_charging(const struct bus *bus)
{
    const double *offer = bus->offer_w;

    return offer[FROM_LINK] > 0 || offer[FROM_SOLAR] > 0 || offer[FROM_ALTERNATOR] > 0 ||
           offer[FROM_CHARGER] > 0;
}

/* Volts for the next step; energy and ampere-hours through the posts, charging positive. */
static void bus_remember(struct sim *s, struct bus *bus, const struct bank_flow *flow, double time_s)
{
    double ah = flow->current_a * s->step_h;

    bus->volts_v = flow->volts_v;
    bus->current_a = flow->current_a;
    bus->terminal_wh += ah * flow->volts_v;
    if (ah > 0)
        bus->charge_ah += ah;
    else
        bus->discharge_ah -= ah;
    watch_lowest(bus, time_s + s->options.step_s);
}

/* The inverter trips when its own load drags the posts under its cut-out. */
static void watch_cut_out(struct sim *s, const struct bus *bus, double out_w, double time_s)
{
    if (out_w <= 0 || bus->volts_v >= s->inverters.cut_out_v)
        return;
    s->lockout_s = time_s + s->options.step_s + LOCKOUT_S;
    sim_event(s, EVENT_CUT_OUT, time_s, 0, out_w);
}

/* What was wanted and not given [W], and its energy by priority. AC loads count by their own watts, not by
 * what the inverter would have taken. */
static double note_unserved(struct sim *s, const struct bus_step *in, const struct ac_step *ac,
                            const struct need *n, int house)
{
    int wanted = house && s->ac.want_w > 0;
    double unserved = 0;

    for (int p = 0; p < LOAD_PRIORITIES; p++) {
        double w = in->dc_w[p] - n->dc_w[p] + (wanted ? ac->ac_w[p] - n->ac_w[p] : 0);

        s->total.unserved_priority_wh[p] += w * s->step_h;
        unserved += w;
    }
    return unserved;
}

/* What was used of each source; only of the sun what was not, for an
 * alternator or charger simply gives less. */
static void add_sources(struct bus *bus, struct flows *flows)
{
    const double *offer = bus->offer_w, *left = bus->left_w;

    flows->solar += offer[FROM_SOLAR] - left[FROM_SOLAR];
    flows->spilled += left[FROM_SOLAR];
    flows->alternator += offer[FROM_ALTERNATOR] - left[FROM_ALTERNATOR];
    flows->charger += bus->charger_used_w = offer[FROM_CHARGER] - left[FROM_CHARGER];
}

/* Into the bank what is left over, all of it where the bank is known to take that much. */
static void charge(struct bus *bus, struct bank_flow *flow)
{
    double *left = bus->left_w,
           all = left[FROM_LINK] + left[FROM_SOLAR] + left[FROM_ALTERNATOR] + left[FROM_CHARGER];
    double set_v = source_v(bus, left[FROM_ALTERNATOR] > 0 ? FROM_ALTERNATOR : FROM_CHARGER), into;

    if (all <= dust_w || bank_try_fill(flow, bus->model, &bus->state, all, set_v)) {
        left[FROM_LINK] = left[FROM_SOLAR] = left[FROM_ALTERNATOR] = left[FROM_CHARGER] = 0;
        if (all <= dust_w)
            *flow = bank_step(bus->model, &bus->state, 0, bus_charging(bus));
        return;
    }
    into = charge_bank(bus);
    if (into > 0)
        bank_take(flow, bus->model, &bus->state, &bus->intake, into);
    else
        *flow = bank_step(bus->model, &bus->state, 0, bus_charging(bus));
}

/* One bus whose loads the bank may not be able to carry, or whose inverter cannot: what can be given is
 * worked out first, then loads are cut to it. Returns the output of the inverter [W]. */
static double run_short(struct sim *s, struct bus *bus, size_t index, size_t step, double time_s,
                        struct flows *flows)
{
    const struct bus_step *in = &s->today->buses[index * s->steps + step];
    const struct ac_step *ac = &s->today->ac[step];
    int house = index == s->house;
    struct need n = need_of_bus(s, in, ac, house);
    double excess, out;
    struct bank_flow flow;

    if (house)
        shed(s, &n, time_s);
    excess = serve(bus, need_total(s, &n) + bus->link_out_w);
    if (excess > dust_w) {
        double can = bank_deliver_w(bus->model, &bus->state);

        if (excess > can * (1 + 1e-12) + dust_w) {
            sim_event(s, EVENT_UNSERVED, time_s, excess - can, can);
            cut(s, &n, excess - can);
            excess = serve(bus, need_total(s, &n) + bus->link_out_w);
        }
    }
    if (excess > dust_w)
        flow = bank_step(bus->model, &bus->state, -excess, bus_charging(bus));
    else
        charge(bus, &flow);
    bus_remember(s, bus, &flow, time_s);
    out = n.inverting ? n.ac_w[0] + n.ac_w[1] + n.ac_w[2] : 0;
    add_sources(bus, flows);
    flows->unserved += note_unserved(s, in, ac, &n, house);
    flows->inverter_loss += need_inverter_input(s, &n) - out;
    return out;
}

/* Every source is used up before the bank gives: nothing is spilled. */
static void add_all_sources(struct bus *bus, struct flows *flows)
{
    flows->solar += bus->offer_w[FROM_SOLAR];
    flows->alternator += bus->offer_w[FROM_ALTERNATOR];
    flows->charger += bus->charger_used_w = bus->offer_w[FROM_CHARGER];
}

/* The usual case: everything wanted is given, and the bank is known to carry the difference. 0: it is not
 * known. */
static int run_plain(struct sim *s, struct bus *bus, double time_s, struct flows *flows)
{
    const double *offer = bus->offer_w;
    double need = bus->need_w + bus->link_out_w;
    double excess =
        need - offer[FROM_LINK] - offer[FROM_SOLAR] - offer[FROM_ALTERNATOR] - offer[FROM_CHARGER];
    struct bank_flow flow;

    if (excess > dust_w) {
        if (!bank_try_draw(&flow, bus->model, &bus->state, excess, bus_charging(bus)))
            return 0;
        add_all_sources(bus, flows);
    } else {
        serve(bus, need);
        charge(bus, &flow);
        add_sources(bus, flows);
    }
    bus_remember(s, bus, &flow, time_s);
    return 1;
}

/* Sheds from the floor until a little above it; 1 where something is to be put off or the inverter gives
 * short. */
static int house_short(struct sim *s, const struct bus *bus, size_t step)
{
    const struct bus_step *in = &s->today->buses[s->house * s->steps + step];

    s->shedding = bus->charge <= bus->model->floor + (s->shedding ? shed_return : 0);
    return s->ac.give_w < s->ac.want_w ||
           (s->shedding &&
            (in->dc_w[LOAD_SHED] > 0 || (s->ac.inverting && s->today->ac[step].ac_w[LOAD_SHED] > 0)));
}

/* 1 where nothing happens on a bus in a step but the bank's own rest or what comes over a link. */
static inline int bus_alone(const struct bus *bus)
{
    const double *offer = bus->offer_w;

    return bus->need_w + offer[FROM_SOLAR] + offer[FROM_ALTERNATOR] + offer[FROM_CHARGER] + bus->link_out_w
           <= 0;
}

/* A link gives no more than the bank takes: link_move has asked it. */
static inline void run_alone(struct sim *s, struct bus *bus, double time_s)
{
    struct bank_flow flow;

    bus->charger_used_w = 0;
    if (bus->offer_w[FROM_LINK] > 0) {
        bank_take(&flow, bus->model, &bus->state, &bus->intake, bus->offer_w[FROM_LINK]);
        bus_remember(s, bus, &flow, time_s);
    } else {
        bus->current_a = 0;
        bus->intake_v = 0;
        bus->rested++;
    }
}

/* A bus with loads or sources in this step. */
static void run_bus(struct sim *s, struct bus *bus, size_t step, double time_s, struct flows *flows)
{
    size_t index = (size_t)(bus - s->buses);
    int house = index == s->house;
    double out;

    bus_wake(bus, time_s);
    if (!(house && house_short(s, bus, step)) && run_plain(s, bus, time_s, flows)) {
        out = house ? s->ac.give_w : 0;
        flows->inverter_loss += bus->need_w - bus->wanted_w;
    } else {
        out = run_short(s, bus, index, step, time_s, flows);
    }
    flows->load += bus->wanted_w + bus->link_loss_w;
    flows->inverter_out += out;
    if (house)
        watch_cut_out(s, bus, out, time_s);
}

void sim_buses(struct sim *s, size_t step, double time_s, struct flows *flows)
{
    for (size_t b = 0; b < s->boat->bank_count; b++) {
        struct bus *bus = &s->buses[b];

        if (b != s->house && bus_alone(bus))
            run_alone(s, bus, time_s);
        else
            run_bus(s, bus, step, time_s, flows);
    }
}

/* Power a bus has to spare after its own loads [W]. */
static double bus_spare(const struct bus *bus)
{
    double offered = bus->offer_w[FROM_SOLAR] + bus->offer_w[FROM_ALTERNATOR] + bus->offer_w[FROM_CHARGER] -
                     bus->link_out_w;

    return offered > 0 ? offered - bus->need_w : 0;
}

/* give [W] at the taker; the giver loses the link's losses too. Idle draw counts only while
 * something moves. */
static inline void link_give(const struct link *link, struct bus *giver, struct bus *taker, double give)
{
    double drawn = give / link->efficiency + link->idle_w;

    if (give <= 0)
        return;
    giver->link_out_w += drawn;
    giver->link_loss_w += drawn - give;
    taker->offer_w[FROM_LINK] += give;
}

/* The least of three bounds [W] at the taker: what its bank accepts, the current limit, and what the giver
 * spares after losses. A branch and not the smaller of two: a link does not wait for what the ones before it
 * drew. */
static void link_move(const struct link *link, struct bus *giver, struct bus *taker, double spare,
                      double time_s)
{
    double set_v, room;
    double most = lesser(link->current_a * taker->volts_v, (spare - link->idle_w) * link->efficiency);

    bus_wake(taker, time_s);
    set_v = bank_set_voltage(taker->model, &taker->state);
    room = bus_accepts(taker, set_v) - taker->offer_w[FROM_LINK];
    if (room < most)
        link_give(link, giver, taker, room);
    else
        link_give(link, giver, taker, most);
}

/* A converter moves what its giving bus has to spare; a relay joins two buses while either is being
 * charged. */
void sim_link(struct sim *s)
{
    if (s->options.no_sources)
        return;
    for (size_t i = 0; i < s->link_count; i++) {
        const struct link *link = &s->links[i];
        double spare = bus_spare(link->from);

        if (spare > 0)
            link_move(link, link->from, link->to, spare, s->running_s);
        else if (link->relay && (spare = bus_spare(link->to)) > 0)
            link_move(link, link->to, link->from, spare, s->running_s);
    }
}

/* A bus that nothing is on today stays as it was cleared until a link or a charger gives it something. */
static inline void bus_clear(struct bus *bus)
{
    for (int i = 0; i < BUS_SOURCES; i++)
        bus->offer_w[i] = 0;
    bus->link_out_w = bus->link_loss_w = bus->intake_v = bus->wanted_w = bus->need_w = 0;
}

/* No source: offers stay 0, loads remain. Amperes of an alternator or a PWM array become watts at the volts
 * of the step before. */
static inline void bus_offer(const struct sim *s, struct bus *bus, const struct bus_step *in)
{
    bus->wanted_w = bus->need_w = in->dc_w[0] + in->dc_w[1] + in->dc_w[2];
    if (s->options.no_sources)
        return;
    bus->offer_w[FROM_SOLAR] = in->solar_w * s->options.solar_scale;
    if (in->solar_a > 0)
        bus->offer_w[FROM_SOLAR] += in->solar_a * s->options.solar_scale * bus->volts_v;
    if (in->alternator_a > 0)
        bus->offer_w[FROM_ALTERNATOR] = in->alternator_a * s->options.alternator_scale * bus->volts_v;
}

void sim_offer(struct sim *s, size_t step)
{
    for (size_t b = 0; b < s->boat->bank_count; b++) {
        struct bus *bus = &s->buses[b];

        if (!bus->rested || s->today->bus_used[b])
            bus_clear(bus);
        if (s->today->bus_used[b])
            bus_offer(s, bus, &s->today->buses[b * s->steps + step]);
    }
}

void sim_need(struct sim *s)
{
    struct bus *house = &s->buses[s->house];

    house->wanted_w += s->ac.want_w;
    if (s->ac.inverting)
        house->need_w += inverter_input_w(&s->inverters.model, s->ac.give_w);
}

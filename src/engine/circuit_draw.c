/* circuit_draw.c - what draws and what feeds in each scenario.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "engine/circuit_model.h"
#include "parts/machine.h"

/*
 * What each thing draws or feeds in a scenario, at its node:
 *
 *   load           its watts, amperes or resistance, all of its count, duty not counted: cables carry it
 *                  while it runs
 *   inverter       input for its rating; on a kind of day for that day's AC loads, shared by rating
 *   converter      to a bank: its current; to loads: what they take, at most its rating, over its
 *                  efficiency, and its idle
 *   charger's AC   what its full DC current takes
 *   charging       the largest current of the source, fed in, in the scenario "charging" alone
 */

double load_watts(const struct load *load)
{
    return load->power.value * fmax(0, range_or(&load->count, 1));
}

const char *behaviour_text(enum net_behaviour behaves)
{
    static const char *const texts[] = { "power", "current", "resistance" };

    return texts[behaves];
}

/* As the user said; else a typed current is held and typed watts are held. */
static enum net_behaviour behaviour_of(const struct load *load)
{
    switch (load->behaves) {
    case BEHAVES_POWER:
        return NET_POWER;
    case BEHAVES_CURRENT:
        return NET_CURRENT;
    case BEHAVES_RESISTANCE:
        return NET_RESISTANCE;
    case BEHAVES_AS_TYPED:
        break;
    }
    /* behind a converter the bank sees power whatever the load is */
    return range_known(&load->current) && load->current.origin == ORIGIN_GIVEN && !load->converter
               ? NET_CURRENT
               : NET_POWER;
}

/* 1 where a load is on at all on a kind of day: "hours = 0 h" and "times = none" say that it is not. */
static int used_on(const struct load *load, size_t day)
{
    const struct usage *usage = load_usage(load, day);

    switch (usage->kind) {
    case USAGE_HOURS:
        return usage->hours.high > 0;
    case USAGE_TIMES:
        return usage->time_count > 0;
    case USAGE_USES:
        return usage->use_count > 0;
    case USAGE_NONE:
        break;
    }
    return 0;
}

/* 1 where a load may run in the scenario. */
static int runs_in(const struct load *load, const struct scenario *s)
{
    if (s->kind == SCENARIO_CHARGING)
        return 0;
    return s->kind != SCENARIO_DAY || used_on(load, s->day);
}

/* What the starting one draws of its running power; 1 for all others. */
static double times_of(const struct scenario *s, enum draw_kind kind, size_t index)
{
    return s->starter_times > 0 && s->starter_kind == kind && s->starter == index ? s->starter_times : 1;
}

/* A load in a scenario: [W], [A] or [ohm] by its behaviour, 0 where it does not run. On AC a power factor
 * under 0.05 counts as that, so that tan phi stays finite. */
static void set_load(struct net_load *out, const struct load *load, size_t index, double nominal_v,
                     enum net_system ac, const struct scenario *s)
{
    double watts = load_watts(load) * times_of(s, DRAW_LOAD, index);
    double factor = fmin(1, fmax(0.05, range_or(&load->power_factor, 1)));

    out->behaves = behaviour_of(load);
    out->reactive_share = ac == NET_AC ? sqrt(1 - factor * factor) / factor : 0;
    out->value = 0;
    if (!runs_in(load, s) || watts <= 0)
        return;
    if (out->behaves == NET_CURRENT)
        out->value = ac == NET_AC ? watts / factor / nominal_v
                                  : load->current.value * fmax(0, range_or(&load->count, 1)) *
                                        times_of(s, DRAW_LOAD, index);
    else
        out->value = out->behaves == NET_RESISTANCE ? nominal_v * nominal_v / watts : watts;
}

void add_share(const struct load *load, double *together_w, double *alone_w)
{
    *together_w += load_watts(load) * load_diversity(load);
    *alone_w = fmax(*alone_w, load_watts(load));
}

/* AC power [W] that the loads of a day put on the inverters, shared by rating. */
static double day_share_w(const struct boat *boat, const struct inverter *inverter, const struct scenario *s)
{
    double wanted = 0, most = 0, ratings = 0;

    for (size_t i = 0; i < boat->load_count; i++)
        if (boat->loads[i].supply == SUPPLY_AC && runs_in(&boat->loads[i], s))
            add_share(&boat->loads[i], &wanted, &most);
    for (size_t i = 0; i < boat->inverter_count; i++)
        ratings += boat->inverters[i].power.value;
    return fmin(fmax(wanted, most) * inverter->power.value / ratings, inverter->power.value);
}

/* An inverter may be asked for its rating by whatever is plugged in; on a day by that day's loads. */
static double inverter_draw(const struct boat *boat, size_t index, const struct scenario *s)
{
    const struct inverter *inverter = &boat->inverters[index];
    struct inverter_model model = inverter_model(inverter);
    double watts = inverter->power.value;

    if (s->kind == SCENARIO_CHARGING)
        return 0;
    if (s->kind == SCENARIO_DAY)
        watts = day_share_w(boat, inverter, s);
    return inverter_input_w(&model, watts * times_of(s, DRAW_INVERTER, index));
}

/* A converter that charges a bank gives its current; one that feeds loads gives what they take. */
static double converter_draw(const struct boat *boat, const struct dcdc *d, const struct scenario *s)
{
    double efficiency = fmax(0.1, range_or(&d->efficiency, 1)), watts = 0, most = 0;
    int named = 0;

    if (d->to)
        return s->kind == SCENARIO_DAY ? 0 : d->current.value * bank_nominal_voltage(d->to) / efficiency;
    for (size_t i = 0; i < boat->load_count; i++)
        if (boat->loads[i].converter == d) {
            named = 1;
            if (runs_in(&boat->loads[i], s))
                add_share(&boat->loads[i], &watts, &most);
        }
    watts = fmax(watts, most);
    if (!named)
        watts = d->current.value * range_or(&d->voltage, 12);
    return fmin(watts, d->current.value * range_or(&d->voltage, 12)) / efficiency +
           range_or(&d->idle_power, 0);
}

/* Seen from its input: constant power, for a converter holds its output; a relay passes its
 * current while something charges. */
static void set_converter(struct net_load *out, const struct boat *boat, const struct dcdc *d,
                          const struct scenario *s)
{
    if (d->kind == LINK_RELAY) { /* closes while something charges */
        out->behaves = NET_CURRENT;
        out->value = s->kind == SCENARIO_CHARGING ? d->current.value : 0;
        return;
    }
    out->behaves = NET_POWER;
    out->value = s->kind == SCENARIO_CHARGING && !d->to ? 0 : converter_draw(boat, d, s);
}

/* Largest current [A] of a charging source at the bank's nominal volts. */
static double charge_current(const struct boat *boat, const struct graph_node *node, double nominal_v)
{
    switch (node->kind) {
    case GRAPH_CHARGER:
        return boat->chargers[node->index].current.value;
    case GRAPH_DCDC:
        return boat->dcdcs[node->index].current.value;
    case GRAPH_ALTERNATOR: {
        const struct alternator *a = &boat->alternators[node->index];

        return fmin(a->rated_current.value, range_or(&a->current_limit, HUGE_VAL));
    }
    case GRAPH_SOLAR: {
        const struct solar *s = &boat->solars[node->index];

        return fmin(s->power.value * s->count.value / nominal_v, range_or(&s->controller_current, HUGE_VAL));
    }
    default:
        return 0;
    }
}

/* [-] what counts of a draw on shared cables; one that starts does so in full. */
static double share_of(const struct model *m, const struct draw *d, const struct scenario *s)
{
    const struct load *load = draw_load(m->boat, d);

    return load && times_of(s, d->kind, d->index) <= 1 ? load_diversity(load) : 1;
}

static void set_draw(struct model *m, const struct draw *d, struct net_load *out, double nominal_v,
                     enum net_system system, const struct scenario *s)
{
    const struct charger *charger;

    switch (d->kind) {
    case DRAW_LOAD:
        set_load(out, &m->boat->loads[d->index], d->index, nominal_v, system, s);
        break;
    case DRAW_INVERTER:
        out->behaves = NET_POWER;
        out->value = inverter_draw(m->boat, d->index, s);
        break;
    case DRAW_DCDC:
        set_converter(out, m->boat, &m->boat->dcdcs[d->index], s);
        break;
    case DRAW_CHARGER_INPUT:
        charger = &m->boat->chargers[d->index];
        out->behaves = NET_POWER;
        out->value = charger_input_w(charger, charger->current.value * bank_nominal_voltage(charger->bank));
        break;
    case DRAW_CHARGE:
        out->behaves = NET_CURRENT;
        out->value =
            s->kind == SCENARIO_CHARGING ? -charge_current(m->boat, &m->graph->nodes[d->node], nominal_v) : 0;
        break;
    case DRAW_SPARED: /* model_share sets it from its draw */
        break;
    }
}

void model_set_draws(struct model *m, const struct scenario *s)
{
    for (size_t i = 0; i < m->graph->part_count; i++) {
        struct part_net *p = &m->parts[i];

        for (size_t k = 0; k < p->net.load_count; k++) {
            p->draws[k].share = share_of(m, &p->draws[k], s);
            set_draw(m, &p->draws[k], &p->loads[k], m->graph->parts[i].nominal_v, p->net.system, s);
        }
        model_share(p, m->graph->parts[i].nominal_v);
    }
}

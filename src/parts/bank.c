/* bank.c - what a bank takes, gives and keeps in one step.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/bank.h"

#include <math.h>

/* Place on a curve of BANK_CURVE_POINTS, in points from 0; rounding may leave it a hair outside. */
struct place {
    int i;
    double part;
};

static inline struct place place_at(double points)
{
    int i = (int)points;

    i = i < 0 ? 0 : i;
    i = i > BANK_CURVE_POINTS - 2 ? BANK_CURVE_POINTS - 2 : i;
    return (struct place){ i, points - i };
}

static inline double curve_at(const double curve[BANK_CURVE_POINTS], double points)
{
    struct place p = place_at(points);

    return curve[p.i] + p.part * (curve[p.i + 1] - curve[p.i]);
}

/* Integral of emf over fill up to a place [V]; exact, as emf is straight between points. */
static inline double energy_at(const struct bank_model *model, double points)
{
    struct place p = place_at(points);
    double rise = model->emf[p.i + 1] - model->emf[p.i];

    return model->energy[p.i] + p.part * (model->emf[p.i] + p.part * rise / 2) * (1.0 / (BANK_CURVE_POINTS - 1));
}

void bank_state_rested(const struct bank_model *model, double charge, struct bank_state *state)
{
    double total = model->empty_ah + charge * model->capacity_ah;

    *state = (struct bank_state){
        .available_ah = model->share * total,
        .bound_ah = total - model->share * total,
        .stage = STAGE_BULK,
    };
}

static inline double total_ah(const struct bank_state *state)
{
    return state->available_ah + state->bound_ah;
}

double bank_charge(const struct bank_model *model, const struct bank_state *state)
{
    return (total_ah(state) - model->empty_ah) * model->charge_per_ah;
}

static inline double stored_wh(const struct bank_model *model, const struct bank_state *state)
{
    double available = model->share * model->total_ah;

    return available * energy_at(model, state->available_ah * model->available_per_ah) +
           (model->total_ah - available) * energy_at(model, state->bound_ah * model->bound_per_ah);
}

double bank_stored_wh(const struct bank_model *model, const struct bank_state *state)
{
    return stored_wh(model, state);
}

double bank_emf(const struct bank_model *model, const struct bank_state *state)
{
    return curve_at(model->emf, state->available_ah * model->available_per_ah);
}

double bank_set_voltage(const struct bank_model *model, const struct bank_state *state)
{
    return state->stage == STAGE_FLOAT ? model->float_v : model->absorption_v;
}

/* How far the available well stands from its even share [Ah]; below 0 after a discharge, never above. */
static inline double uneven_ah(const struct bank_model *model, const struct bank_state *state)
{
    return state->available_ah - model->share * total_ah(state);
}

/* Share of a charging current that is stored [-]. */
static inline double coulombic(const struct bank_model *model, double charge)
{
    const double bulk_end = 0.8;
    double near_full = (charge - bulk_end) * (1 / (1 - bulk_end));

    near_full = near_full < 0 ? 0 : near_full > 1 ? 1 : near_full;
    return model->charge_efficiency_bulk -
           near_full * (model->charge_efficiency_bulk - model->charge_efficiency_full);
}

/* What a charging step needs to know, of the state at its start. */
struct charging {
    double total, uneven; /* [Ah] */
    double efficiency;    /* [-] */
    double acceptance;    /* [A] at absorption_v */
    double hard_a;        /* [A] C-rate and temperature limit, ceiling and room in the wells */
};

static inline struct charging charging_from(const struct bank_model *model, const struct bank_state *state)
{
    double total = total_ah(state), uneven = uneven_ah(model, state);
    double charge = (total - model->empty_ah) * model->charge_per_ah;
    double points = charge * (BANK_CURVE_POINTS - 1);
    double room = model->total_ah + model->bound_room * uneven;
    struct charging c = { total, uneven, coulombic(model, charge), 0, 0 };

    c.acceptance = curve_at(model->acceptance, points < 0 ? 0 : points);
    room = (room < model->ceiling_ah ? room : model->ceiling_ah) - total;
    c.hard_a = room / (c.efficiency * model->step_h);
    c.hard_a = c.hard_a < model->max_charge_a ? c.hard_a : model->max_charge_a;
    c.hard_a = c.hard_a > 0 ? c.hard_a : 0;
    return c;
}

/*
 * Open-circuit volts at the end of a step that stores that much [V], each well by its share; of the bound well, which
 * may fall, the higher of start and end. No emf of the step is higher.
 */
static inline double charging_emf(const struct bank_model *model, const struct bank_state *state,
                                  const struct charging *c, double stored_ah)
{
    double end = c->total + stored_ah, total = end < model->total_ah ? end : model->total_ah;
    double available = model->share * total + model->decay * c->uneven;
    double bound = total - available;

    bound = bound > state->bound_ah ? bound : state->bound_ah;
    return model->share * curve_at(model->emf, available * model->available_per_ah) +
           (1 - model->share) * curve_at(model->emf, bound * model->bound_per_ah);
}

/* Volts per ampere of charging current [ohm]. A set voltage under the emf itself cannot be meant. */
static inline double charging_ohm(const struct bank_model *model, const struct charging *c, double emf)
{
    double drive = model->absorption_v - emf, least = 0.01 * model->absorption_v;

    return (drive > least ? drive : least) / c->acceptance;
}

/*
 * The two emfs that bound the step's own are tried, and the smaller current and power kept: then bank_step, which
 * reckons with an emf between them, stays within current, volts and wells when given exactly this power.
 */
double bank_accept_w(const struct bank_model *model, const struct bank_state *state, double set_v)
{
    struct charging c = charging_from(model, state);
    double set = set_v < model->limit_v ? set_v : model->limit_v;
    double low = charging_emf(model, state, &c, 0);
    double ohm = charging_ohm(model, &c, low), high, high_ohm, current, other;

    current = (set - low) / ohm;
    current = current < c.hard_a ? current : c.hard_a;
    if (!(current > 0))
        return 0;
    high = charging_emf(model, state, &c, current * set / model->empty_v * c.efficiency * model->step_h);
    high_ohm = charging_ohm(model, &c, high);
    other = (set - high) / high_ohm;
    current = current < other ? current : other;
    if (!(current > 0))
        return 0;
    low += current * ohm;
    high += current * high_ohm;
    return current * (low < high ? low : high);
}

/* The rested part of the available well at the end of a step without current [Ah]. */
static inline double available_unloaded(const struct bank_model *model, const struct bank_state *state)
{
    double even = model->share * total_ah(state);

    return even + model->decay * (state->available_ah - even);
}

/* Open-circuit volts of the available well at the lower end of a discharging step [V]. */
static inline double discharging_emf(const struct bank_model *model, const struct bank_state *state, double unloaded,
                                     double current)
{
    double end = unloaded - current * model->drain_h;

    end = end < state->available_ah ? end : state->available_ah;
    return curve_at(model->emf, (end > 0 ? end : 0) * model->available_per_ah);
}

static inline double discharge_hard_a(const struct bank_model *model, double unloaded)
{
    double dry = unloaded / model->drain_h;

    dry = dry > 0 ? dry : 0;
    return dry < model->max_discharge_a ? dry : model->max_discharge_a;
}

/*
 * Largest current at which the volts at the end of the step are no lower than empty_v, from below, by false position
 * (Illinois): low always holds, high never. Ends within slack volts, or with the best found.
 */
static double discharge_by_volts(const struct bank_model *model, const struct bank_state *state, double unloaded,
                                 double high, double spare_low, double spare_high)
{
    const double slack = 1e-4 * model->empty_v;
    double low = 0;

    for (int i = 0; i < 40; i++) {
        double current = low + (high - low) * spare_low / (spare_low - spare_high);
        double spare = discharging_emf(model, state, unloaded, current) - current * model->resistance_ohm -
                       model->empty_v;

        if (spare >= 0) {
            low = current;
            spare_low = spare;
            spare_high /= 2;
            if (spare < slack)
                break;
        } else {
            high = current;
            spare_high = spare;
            spare_low /= 2;
        }
    }
    return low;
}

/*
 * bank_step reckons the emf of a discharge with the current power/empty_v, never less than the true one. Where the
 * volts limit, that is the true one. Where the current limits, the volts are taken at the largest it can be.
 * Halving the power where volts fall to half of the emf (E^2/4R) is never met: empty_v is above that.
 */
double bank_deliver_w(const struct bank_model *model, const struct bank_state *state)
{
    double unloaded = available_unloaded(model, state), ohm = model->resistance_ohm, empty = model->empty_v;
    double highest = discharging_emf(model, state, unloaded, 0);
    double current = discharge_hard_a(model, unloaded), spare, volts;

    if (!(highest > empty && current > 0))
        return 0;
    if (current > (highest - empty) / ohm)
        current = (highest - empty) / ohm;
    spare = discharging_emf(model, state, unloaded, current) - current * ohm - empty;
    if (spare < 0)
        return empty * discharge_by_volts(model, state, unloaded, current, highest - empty, spare);
    volts = discharging_emf(model, state, unloaded, current * highest / empty) - current * ohm;
    return current * (volts > empty ? volts : empty);
}

/* Current that so much power drives into or, negative, out of an emf behind a resistance [A]: P = I (E + I R). */
static inline double current_for(double power, double emf, double ohm)
{
    return 2 * power / (emf + sqrt(emf * emf + 4 * power * ohm));
}

/* Moves the state by one charging step; power above 0 is clipped to what the wells and limit_v allow. */
static struct bank_flow step_charge(const struct bank_model *model, struct bank_state *state, double power)
{
    struct charging c = charging_from(model, state);
    double most_stored = power / model->empty_v * c.efficiency * model->step_h;
    double emf = charging_emf(model, state, &c, most_stored), ohm = charging_ohm(model, &c, emf);
    double current = current_for(power, emf, ohm), total;

    if (current > c.hard_a || emf + current * ohm > model->limit_v) {
        double top = (model->limit_v - emf) / ohm;

        current = top < c.hard_a ? top : c.hard_a;
        current = current > 0 ? current : 0;
    }
    total = c.total + current * c.efficiency * model->step_h;
    state->available_ah = model->share * total + model->decay * c.uneven;
    state->bound_ah = total - state->available_ah;
    return (struct bank_flow){ current, emf + current * ohm, 0 };
}

/*
 * Moves the state by one discharging step. A power that the bank cannot hold (the volts or the available well give
 * out, which shows in the current) is cut down to bank_deliver_w. 0: it rests.
 */
static struct bank_flow step_discharge(const struct bank_model *model, struct bank_state *state, double power)
{
    double unloaded = available_unloaded(model, state), total = total_ah(state), ohm = model->resistance_ohm;
    double emf = discharging_emf(model, state, unloaded, power / model->empty_v);
    double current = -current_for(-power, emf, ohm);

    if (!(current <= discharge_hard_a(model, unloaded) && emf - current * ohm >= model->empty_v) && power > 0) {
        power = fmin(power, bank_deliver_w(model, state));
        emf = discharging_emf(model, state, unloaded, power / model->empty_v);
        current = -current_for(-power, emf, ohm);
    }
    state->available_ah = unloaded - current * model->drain_h;
    state->bound_ah = total - current * model->step_h - state->available_ah;
    return (struct bank_flow){ -current, emf - current * ohm, 0 };
}

/* Charge [-] under the top at which a charger leaves float: at the next start, or while it is overloaded;
 * and how near the top counts as there. Common practice. */
static const double rebulk_idle = 0.02, rebulk_live = 0.05, at_top = 0.001;

/* Within half a percent of the set volts a regulator holds them. */
static const double holds_set = 0.995;

static enum charge_stage next_stage(const struct bank_model *model, const struct bank_state *state,
                                    const struct bank_flow *flow, int charging)
{
    double missing = model->ceiling - bank_charge(model, state);
    int held = flow->current_a > 0 && flow->volts_v >= holds_set * model->absorption_v;

    if (state->stage == STAGE_FLOAT)
        return missing > (charging ? rebulk_live : rebulk_idle) ? STAGE_BULK : STAGE_FLOAT;
    if (!charging || flow->current_a < 0)
        return STAGE_BULK;
    if (missing < at_top)
        return STAGE_FLOAT;
    if (state->stage == STAGE_ABSORPTION && held &&
        (flow->current_a < model->tail_a || state->stage_h >= model->absorption_cap_h))
        return STAGE_FLOAT;
    return held ? STAGE_ABSORPTION : state->stage;
}

/* The clock of absorption runs while the set volts are held, the others always. */
static void advance_stage(const struct bank_model *model, struct bank_state *state, const struct bank_flow *flow,
                          int charging)
{
    enum charge_stage next = next_stage(model, state, flow, charging);

    if (next != state->stage)
        state->stage_h = 0;
    else if (next != STAGE_ABSORPTION || flow->volts_v >= holds_set * model->absorption_v)
        state->stage_h += model->step_h;
    state->stage = next;
}

struct bank_flow bank_step(const struct bank_model *model, struct bank_state *state, double power_w, int charging)
{
    double before = stored_wh(model, state), kept = 1 - model->self_discharge_per_h * model->step_h;
    struct bank_flow flow;

    flow = power_w > 0 ? step_charge(model, state, power_w) : step_discharge(model, state, -power_w);
    state->available_ah *= kept;
    state->bound_ah *= kept;
    advance_stage(model, state, &flow, charging);
    flow.loss_wh = flow.current_a * flow.volts_v * model->step_h - (stored_wh(model, state) - before);
    return flow;
}

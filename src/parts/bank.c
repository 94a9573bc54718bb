/* bank.c - what a bank takes, gives and keeps in one step.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/bank.h"

#include <math.h>

/* The cell that x, never less than 0, lies in; rounding may leave x a hair past the last. */
static inline int cell_of(double x)
{
    int i = (int)x;

    return i < BANK_CURVE_CELLS - 1 ? i : BANK_CURVE_CELLS - 1;
}

static inline double emf_at(const struct bank_model *model, double x)
{
    const struct bank_line *line = &model->fill[cell_of(x)].emf;

    return line->base + x * line->slope;
}

/* Integral of emf up to x [V]; exact, as emf is straight in a cell. */
static inline double energy_at(const struct bank_model *model, double x)
{
    const struct bank_cell *cell = &model->fill[cell_of(x)];

    return cell->energy + x * (cell->emf.base + x * (0.5 * cell->emf.slope));
}

static inline double per_acceptance_at(const struct bank_model *model, double charge)
{
    double x = charge > 0 ? charge * BANK_CURVE_CELLS : 0;
    const struct bank_line *line = &model->per_acceptance[cell_of(x)];

    return line->base + x * line->slope;
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
    double wh =
        model->available_ah_per_cell * energy_at(model, state->available_ah * model->available_cells_per_ah);

    if (model->bound_ah_per_cell > 0)
        wh += model->bound_ah_per_cell * energy_at(model, state->bound_ah * model->bound_cells_per_ah);
    return wh;
}

double bank_stored_wh(const struct bank_model *model, const struct bank_state *state)
{
    return stored_wh(model, state);
}

double bank_emf(const struct bank_model *model, const struct bank_state *state)
{
    return emf_at(model, state->available_ah * model->available_cells_per_ah);
}

double bank_set_voltage(const struct bank_model *model, const struct bank_state *state)
{
    return state->stage == STAGE_FLOAT ? model->float_v : model->absorption_v;
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

/* The available well at the end of a step without current [Ah]. */
static inline double available_unloaded(const struct bank_model *model, const struct bank_state *state)
{
    return model->stays * state->available_ah + model->comes * state->bound_ah;
}

/* What a charging step needs to know, of the state at its start. */
struct charging {
    double unloaded, unloaded_bound; /* [Ah] in each well at the end of a step without current */
    double room;           /* [Ah] that may be stored: under the ceiling, and until the bound well is full */
    double stored_per_a;   /* [h] Ah stored per ampere in a step */
    double per_acceptance; /* [1/A] of the current at absorption_v */
};

static inline struct charging charging_from(const struct bank_model *model, const struct bank_state *state)
{
    double total = total_ah(state), kept = model->kept * total;
    double charge = (total - model->empty_ah) * model->charge_per_ah;
    double unloaded = available_unloaded(model, state), bound = kept - unloaded;
    double in_bound = model->total_ah - bound * model->per_bound_share, in_all = model->ceiling_ah - kept;

    return (struct charging){
        .unloaded = unloaded,
        .unloaded_bound = bound,
        .room = in_bound < in_all ? in_bound : in_all,
        .stored_per_a = coulombic(model, charge) * model->flow_h,
        .per_acceptance = per_acceptance_at(model, charge),
    };
}

/* Current [A] that neither C-rate, temperature, ceiling nor wells forbid. */
static inline double charge_hard_a(const struct bank_model *model, const struct charging *c)
{
    double current = c->room / c->stored_per_a;

    current = current > 0 ? current : 0;
    return current < model->max_charge_a ? current : model->max_charge_a;
}

/*
 * Open-circuit volts at the end of a step that stores no more than that [V], each well by its share. Where
 * the bound well falls in the step, its emf was higher before; what flows out of it then loses more than
 * that.
 */
static inline double charging_emf(const struct bank_model *model, const struct charging *c,
                                  double most_stored)
{
    const double all = BANK_CURVE_CELLS;
    double x = (c->unloaded + model->share * most_stored) * model->available_cells_per_ah, emf;

    emf = emf_at(model, x < all ? x : all);
    if (!(model->bound_ah_per_cell > 0))
        return emf;
    x = (c->unloaded_bound + (1 - model->share) * most_stored) * model->bound_cells_per_ah;
    return model->share * emf + (1 - model->share) * emf_at(model, x < all ? x : all);
}

/* Volts per ampere of charging current [ohm]. */
static inline double charging_ohm(const struct bank_model *model, const struct charging *c, double emf)
{
    return (model->acceptance_v - emf) * c->per_acceptance;
}

/*
 * The two emfs that bound the step's own are tried, and the smaller current and power kept: then bank_step,
 * which reckons with an emf between them, stays within current, volts and wells when given exactly this
 * power.
 */
double bank_accept_w(const struct bank_model *model, const struct bank_state *state, double set_v)
{
    struct charging c = charging_from(model, state);
    double set = set_v < model->limit_v ? set_v : model->limit_v;
    double low = charging_emf(model, &c, 0);
    double ohm = charging_ohm(model, &c, low), hard = charge_hard_a(model, &c);
    double high, high_ohm, current, other;

    current = (set - low) / ohm;
    current = current < hard ? current : hard;
    if (!(current > 0))
        return 0;
    high = charging_emf(model, &c, current * set * model->per_empty_v * model->step_h);
    high_ohm = charging_ohm(model, &c, high);
    other = (set - high) / high_ohm;
    current = current < other ? current : other;
    if (!(current > 0))
        return 0;
    low += current * ohm;
    high += current * high_ohm;
    return current * (low < high ? low : high);
}

/*
 * Open-circuit volts of the available well at the end of a discharging step [V]. Where it rises in the step,
 * recovering from what came before, its emf was lower; what flows into it then loses more than that.
 */
static inline double discharging_emf(const struct bank_model *model, double unloaded, double current)
{
    double x = unloaded * model->available_cells_per_ah - current * model->drain_cells_per_a;

    return emf_at(model, x > 0 ? x : 0);
}

/*
 * Largest current at which the volts at the end of the step are no lower than empty_v, from below, by false
 * position (Illinois): low always holds, high never. Ends within slack volts, or with the best found.
 */
static double discharge_by_volts(const struct bank_model *model, double unloaded, double high,
                                 double spare_low, double spare_high)
{
    const double slack = 1e-4 * model->empty_v;
    double low = 0;

    for (int i = 0; i < 40; i++) {
        double current = low + (high - low) * spare_low / (spare_low - spare_high);
        double spare =
            discharging_emf(model, unloaded, current) - current * model->resistance_ohm - model->empty_v;

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
 * What may still be drawn before charge is 0 [Ah]. A discharge slower than 20 h could go a little further; that is
 * left in the bank, so that 0 % is empty at every rate.
 */
static inline double above_empty_ah(const struct bank_model *model, const struct bank_state *state)
{
    return model->kept * total_ah(state) - model->empty_ah;
}

/*
 * bank_step reckons the emf of a discharge with the current power/empty_v, never less than the true one.
 * Where the volts limit, that is the true one. Where the current limits, the volts are taken at the largest
 * it can be. Halving the power where volts fall to half of the emf (E^2/4R) is never met: empty_v is above
 * that.
 */
double bank_deliver_w(const struct bank_model *model, const struct bank_state *state)
{
    double unloaded = available_unloaded(model, state), ohm = model->resistance_ohm, empty = model->empty_v;
    double highest = discharging_emf(model, unloaded, 0);
    double dry = fmin(unloaded / model->drain_h, above_empty_ah(model, state) / model->flow_h);
    double current = fmin(dry, model->max_discharge_a), spare, volts;
    const double least = 1e-9 * model->capacity_ah; /* [A] less is nothing; keeps away from denormals */

    if (!(highest > empty && current > least))
        return 0;
    if (current > (highest - empty) / ohm)
        current = (highest - empty) / ohm;
    spare = discharging_emf(model, unloaded, current) - current * ohm - empty;
    if (spare < 0)
        return empty * discharge_by_volts(model, unloaded, current, highest - empty, spare);
    volts = discharging_emf(model, unloaded, current * highest / empty) - current * ohm;
    return current * (volts > empty ? volts : empty);
}

/*
 * Current that a power drives into an emf behind a resistance, or draws out of it where negative [A]: P = I
 * (E + I R), by one Newton step from a guess. With the volts power/current the account stays exact, and as
 * the step overshoots when charging and falls short when discharging, those volts are never better than the
 * emf.
 */
static inline double current_for(double power, double emf, double ohm, double guess)
{
    return (power + ohm * guess * guess) / (emf + 2 * ohm * guess);
}

/* A guess that a large discharge needs: exact, but for the emf at half charge [A]. */
static inline double discharge_guess(const struct bank_model *model, double power)
{
    double square = model->open_v * model->open_v - 4 * power * model->resistance_ohm;

    return -2 * power / (model->open_v + sqrt(square > 0 ? square : 0));
}

/* Moves the state by one charging step. What wells, limits and limit_v do not allow shows in the current;
 * then power is cut to what they do. */
static struct bank_flow step_charge(const struct bank_model *model, struct bank_state *state, double power)
{
    struct charging c = charging_from(model, state);
    double emf = charging_emf(model, &c, power * model->per_empty_v * model->step_h);
    double ohm = charging_ohm(model, &c, emf);
    double current = current_for(power, emf, ohm, power * model->per_usual_v);
    double volts = power / current;

    if (!(current * c.stored_per_a <= c.room && current <= model->max_charge_a && volts <= model->limit_v)) {
        double hard = charge_hard_a(model, &c), top = fmax(0, (model->limit_v - emf) / ohm);

        current = fmin(current, fmin(hard, top));
        volts = current > 0 ? fmin(power / current, emf + current * ohm) : emf;
    }
    state->available_ah = c.unloaded + current * (model->share * c.stored_per_a);
    state->bound_ah = c.unloaded_bound + current * (c.stored_per_a - model->share * c.stored_per_a);
    return (struct bank_flow){ current, volts, 0 };
}

/*
 * Moves the state by one discharging step. A power that the bank cannot hold (the volts or the available well
 * give out, which shows in the current) is cut down to bank_deliver_w. 0: it rests.
 */
static struct bank_flow step_discharge(const struct bank_model *model, struct bank_state *state, double power)
{
    double unloaded = available_unloaded(model, state), ohm = model->resistance_ohm;
    double emf = discharging_emf(model, unloaded, power * model->per_empty_v);
    double current = -current_for(-power, emf, ohm, discharge_guess(model, power));
    double end = unloaded - current * model->drain_h, total = total_ah(state);

    if (power > 0 && !(current * emf >= power && end >= 0 &&
                       current * model->flow_h <= above_empty_ah(model, state) && current <= model->max_discharge_a &&
                       emf - current * ohm >= model->empty_v)) {
        power = fmin(power, bank_deliver_w(model, state));
        emf = discharging_emf(model, unloaded, power * model->per_empty_v);
        current = -current_for(-power, emf, ohm, discharge_guess(model, power));
        end = fmax(0, unloaded - current * model->drain_h);
    }
    state->available_ah = end;
    state->bound_ah = model->kept * total - current * model->flow_h - end;
    return (struct bank_flow){ -current, current > 0 ? power / current : emf, 0 };
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
static void advance_stage(const struct bank_model *model, struct bank_state *state,
                          const struct bank_flow *flow, int charging)
{
    enum charge_stage next = next_stage(model, state, flow, charging);

    if (next != state->stage)
        state->stage_h = 0;
    else if (next != STAGE_ABSORPTION || flow->volts_v >= holds_set * model->absorption_v)
        state->stage_h += model->step_h;
    state->stage = next;
}

void bank_rest(const struct bank_model *model, struct bank_state *state)
{
    double end = available_unloaded(model, state), total = total_ah(state);

    state->available_ah = end;
    state->bound_ah = model->kept * total - end;
    if (state->stage != STAGE_FLOAT || model->ceiling - bank_charge(model, state) > rebulk_idle)
        state->stage = STAGE_BULK;
}

struct bank_flow bank_move(const struct bank_model *model, struct bank_state *state, double power_w,
                           int charging)
{
    struct bank_flow flow;

    flow = power_w > 0 ? step_charge(model, state, power_w) : step_discharge(model, state, -power_w);
    advance_stage(model, state, &flow, charging);
    return flow;
}

struct bank_flow bank_step(const struct bank_model *model, struct bank_state *state, double power_w,
                           int charging)
{
    double before = stored_wh(model, state);
    struct bank_flow flow = bank_move(model, state, power_w, charging);

    flow.loss_wh = flow.current_a * flow.volts_v * model->step_h - (stored_wh(model, state) - before);
    return flow;
}

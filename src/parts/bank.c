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

static inline double lesser(double a, double b)
{
    return a < b ? a : b;
}

/* Open-circuit volts of a well [V]; x: its fill, in cells of the curve. */
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

/* 1/A of the current that the bank takes at absorption volts; below charge 0 as at 0. */
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

double bank_stored_wh(const struct bank_model *model, const struct bank_state *state)
{
    double wh =
        model->available_ah_per_cell * energy_at(model, state->available_ah * model->available_cells_per_ah);

    if (model->bound_ah_per_cell > 0)
        wh += model->bound_ah_per_cell * energy_at(model, state->bound_ah * model->bound_cells_per_ah);
    return wh;
}

double bank_emf(const struct bank_model *model, const struct bank_state *state)
{
    return emf_at(model, state->available_ah * model->available_cells_per_ah);
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

/* All of an intake but its power. */
static inline void intake_from(struct bank_intake *in, const struct bank_model *model,
                               const struct bank_state *state)
{
    double total = total_ah(state), kept = model->kept * total;
    double charge = (total - model->empty_ah) * model->charge_per_ah;
    double unloaded = available_unloaded(model, state), bound = kept - unloaded;
    double in_bound = model->total_ah - bound * model->per_bound_share, in_all = model->ceiling_ah - kept;

    in->unloaded = unloaded;
    in->unloaded_bound = bound;
    in->room = in_bound < in_all ? in_bound : in_all;
    in->stored_per_a = coulombic(model, charge) * model->flow_h;
    in->per_acceptance = per_acceptance_at(model, charge);
    in->most_a = model->max_charge_a;
    if (!(in->room > 0))
        in->most_a = 0;
    else if (in->room < in->most_a * in->stored_per_a)
        in->most_a = in->room / in->stored_per_a;
}

/*
 * Open-circuit volts at the end of a step that stores no more than that [V], each well by its share. Where
 * the bound well falls in the step, its emf was higher before; what flows out of it then loses more than
 * that.
 */
static inline double charging_emf(const struct bank_model *model, const struct bank_intake *c,
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
static inline double charging_ohm(const struct bank_model *model, const struct bank_intake *c, double emf)
{
    return (model->acceptance_v - emf) * c->per_acceptance;
}

/* The smaller of a current and what lifts an emf to set volts [A]; 0 where set is not above it. */
static inline double current_within(double current, double set, double emf, double ohm)
{
    if (current * ohm <= set - emf)
        return current;
    return set > emf ? (set - emf) / ohm : 0;
}

/*
 * The two emfs that bound the step's own are tried, and the smaller current and power kept: then bank_step,
 * which reckons with an emf between them, stays within current, volts and wells when given exactly this
 * power. Where even the emf of a full bank leaves the current to the other limits, the lower of the two is
 * the one that gives the smaller power.
 */
static double accept(const struct bank_model *model, const struct bank_intake *c, double set)
{
    double low = charging_emf(model, c, 0), ohm = charging_ohm(model, c, low), hard = c->most_a;
    double top = set < model->acceptance_v ? set : model->acceptance_v, current, high, high_ohm;

    if (top > model->full_v &&
        hard * c->per_acceptance * (model->acceptance_v - model->full_v) <= top - model->full_v)
        return hard * (low + hard * ohm);
    current = current_within(hard, set, low, ohm);
    if (!(current > 0))
        return 0;
    high = charging_emf(model, c, current * set * model->per_empty_v * model->step_h);
    high_ohm = charging_ohm(model, c, high);
    current = current_within(current, set, high, high_ohm);
    low += current * ohm;
    high += current * high_ohm;
    return current * (low < high ? low : high);
}

void bank_intake(struct bank_intake *intake, const struct bank_model *model, const struct bank_state *state,
                 double set_v)
{
    intake_from(intake, model, state);
    intake->power_w = accept(model, intake, set_v < model->limit_v ? set_v : model->limit_v);
}

double bank_accept_w(const struct bank_model *model, const struct bank_state *state, double set_v)
{
    struct bank_intake intake;

    bank_intake(&intake, model, state, set_v);
    return intake.power_w;
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
 * What may still be drawn before charge is 0 [Ah]. A discharge slower than 20 h could go a little further;
 * that is left in the bank, so that 0 % is empty at every rate.
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
static inline double newton_current(double power, double emf, double ohm, double guess)
{
    return (power + ohm * guess * guess) / (emf + 2 * ohm * guess);
}

/* A guess that a large discharge needs: exact, but for the emf at half charge [A]. */
static inline double discharge_guess(const struct bank_model *model, double power)
{
    double square = model->open_v * model->open_v - 4 * power * model->resistance_ohm;

    return -2 * power / (model->open_v + sqrt(square > 0 ? square : 0));
}

/*
 * Both wells take of the charge by their sizes, so that charging sets no heads apart; current [A] positive.
 */
static inline void store(const struct bank_model *model, struct bank_state *state,
                         const struct bank_intake *c, double current)
{
    state->available_ah = c->unloaded + current * (model->share * c->stored_per_a);
    state->bound_ah = c->unloaded_bound + current * (c->stored_per_a - model->share * c->stored_per_a);
}

/*
 * Moves the state by one charging step; power that wells, limits and limit_v do not allow is left out. At
 * the room's own limit rounding decides which current is the smaller, so that is no branch.
 */
static inline void step_charge(struct bank_flow *flow, const struct bank_model *model,
                               struct bank_state *state, const struct bank_intake *c, double power)
{
    double emf = charging_emf(model, c, power * model->per_empty_v * model->step_h);
    double ohm = charging_ohm(model, c, emf);
    double current = lesser(newton_current(power, emf, ohm, power * model->per_usual_v), c->most_a);

    if (current * ohm > model->limit_v - emf && power > current * model->limit_v)
        current = current_within(current, model->limit_v, emf, ohm);
    flow->current_a = current;
    flow->volts_v = lesser(power / current, emf + current * ohm);
    store(model, state, c, current);
}

/* Current [A], a positive number, that a discharging power draws from an emf. */
static inline double discharge_current(const struct bank_model *model, double power, double emf)
{
    return -newton_current(-power, emf, model->resistance_ohm, discharge_guess(model, power));
}

/*
 * Moves the state by one discharging step. A power that the bank cannot hold (the volts or the available well
 * give out, which shows in the current) is cut down to bank_deliver_w. 0: it rests.
 */
static struct bank_flow step_discharge(const struct bank_model *model, struct bank_state *state, double power)
{
    double unloaded = available_unloaded(model, state), ohm = model->resistance_ohm;
    double emf = discharging_emf(model, unloaded, power * model->per_empty_v);
    double current = discharge_current(model, power, emf);
    double end = unloaded - current * model->drain_h, total = total_ah(state);

    if (power > 0 &&
        !(current * emf >= power && end >= 0 && current * model->flow_h <= above_empty_ah(model, state) &&
          current <= model->max_discharge_a && emf - current * ohm >= model->empty_v)) {
        power = fmin(power, bank_deliver_w(model, state));
        emf = discharging_emf(model, unloaded, power * model->per_empty_v);
        current = discharge_current(model, power, emf);
        end = fmax(0, unloaded - current * model->drain_h);
    }
    state->available_ah = end;
    state->bound_ah = model->kept * total - current * model->flow_h - end;
    return (struct bank_flow){ -current, current > 0 ? power / current : emf };
}

/* Charge [-] under the top at which a charger leaves float while it is overloaded; and how near the top
 * counts as there. Common practice. */
static const double rebulk_idle = 0.02, rebulk_live = 0.05, at_top = 0.001;

/* Within half a percent of the set volts a regulator holds them. */
static const double holds_set = 0.995;

/* Where the step leaves the regulator: "Stages" in bank.h. charging: some source is live,
 * whether or not it gives anything. */
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

/* Both wells lose the same share; what sets them apart fades by exp(-k t) besides. */
void bank_rest(const struct bank_model *model, struct bank_state *state, long steps)
{
    double total = total_ah(state), apart = state->available_ah - model->share * total;

    total *= steps == 1 ? model->kept : pow(model->kept, (double)steps);
    apart *= steps == 1 ? model->fade : pow(model->fade, (double)steps);
    state->available_ah = model->share * total + apart;
    state->bound_ah = total - state->available_ah;
    if (state->stage != STAGE_FLOAT || model->ceiling - bank_charge(model, state) > rebulk_idle)
        state->stage = STAGE_BULK;
}

struct bank_flow bank_step(const struct bank_model *model, struct bank_state *state, double power_w,
                           int charging)
{
    struct bank_intake intake;
    struct bank_flow flow;

    if (power_w > 0) {
        intake_from(&intake, model, state);
        step_charge(&flow, model, state, &intake, power_w);
    } else {
        flow = step_discharge(model, state, -power_w);
    }
    advance_stage(model, state, &flow, charging);
    return flow;
}

/*
 * No more amperes than power/empty_v can flow. Where wells, rate and volts allow as many, bank_deliver_w is
 * at least that power. Its search ends within 1e-4 of the least volts, so that much is left to it.
 */
int bank_try_draw(struct bank_flow *flow, const struct bank_model *model, struct bank_state *state,
                  double power, int charging)
{
    const double clear = 1 + 2e-4;
    double unloaded = available_unloaded(model, state), kept = model->kept * total_ah(state);
    double most = power * model->per_empty_v, emf = discharging_emf(model, unloaded, most), current, end;

    if (!(power > 0 && emf - most * model->resistance_ohm >= clear * model->empty_v &&
          most * model->drain_h <= unloaded && most * model->flow_h <= kept - model->empty_ah &&
          most <= model->max_discharge_a))
        return 0;
    current = discharge_current(model, power, emf);
    end = unloaded - current * model->drain_h;
    state->available_ah = end;
    state->bound_ah = kept - current * model->flow_h - end;
    flow->current_a = -current;
    flow->volts_v = power / current;
    if (state->stage == STAGE_BULK) /* it stays so */
        state->stage_h += model->step_h;
    else
        advance_stage(model, state, flow, charging);
    return 1;
}

/*
 * The same for charging: at acceptance_v the bank takes the same amperes whatever its emf, so that only their
 * number is to be compared.
 */
int bank_try_fill(struct bank_flow *flow, const struct bank_model *model, struct bank_state *state,
                  double power, double set_v)
{
    const double clear = 1 - 1e-9;
    double most = power * model->per_empty_v;
    struct bank_intake in;

    if (!(power > 0 && set_v >= model->acceptance_v))
        return 0;
    intake_from(&in, model, state);
    if (!(most <= in.most_a && most * in.per_acceptance <= clear))
        return 0;
    bank_take(flow, model, state, &in, power);
    return 1;
}

void bank_take(struct bank_flow *flow, const struct bank_model *model, struct bank_state *state,
               const struct bank_intake *intake, double power)
{
    step_charge(flow, model, state, intake, power);
    advance_stage(model, state, flow, 1);
}

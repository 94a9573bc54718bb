/* bank.h - the physics of a bank of batteries.  Layer: parts.  No allocation: made once, stepped.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PARTS_BANK_H
#define BD_PARTS_BANK_H

#include "boat/bank.h"

enum { BANK_CURVE_CELLS = 256 };

/* A curve over 0..1 in cells of equal width, x counted in cells: in the cell that x lies in, base +
 * slope x. */
struct bank_line {
    double base, slope;
};

/* The emf of a fill in the same way, and the charge's energy: energy + x (emf.base + x emf.slope/2). */
struct bank_cell {
    struct bank_line emf; /* [V] */
    double energy;        /* [V]; times Ah per cell: Wh */
};

enum charge_stage { STAGE_BULK, STAGE_ABSORPTION, STAGE_FLOAT };

/*
 * The model, in one place.
 *
 * Wells     q1 available, q2 bound, q = q1 + q2, qmax when full (Manwell & McGowan 1993); heads h1 = q1/(c
 *           qmax), h2 = q2/((1-c) qmax). Discharging follows the two-well equations of wells.h. Charging
 *           fills both wells in proportion to their size, so that a difference of heads only decays: with
 *           a rate k that fits discharges, the two-well charge limit makes a published recharge (AGM, 50 to
 *           100 % in 5.5 h) last 8.6 h, so acceptance, not k, says how fast a bank charges. LFP is one
 *           well.
 * Charge    (q - (qmax - C20)) / C20: 0 where a 20 h discharge ends, 1 full. Nothing is drawn below 0: what a
 *           slower discharge could still take stays in the bank, so that 0 % is empty at every rate.
 * EMF       the chemistry's rested open-circuit table over charge, read at the head; below charge 0 it runs
 *           down in a straight line to what just holds empty_v at the 20 h current, so the 20 h rating
 *           holds exactly.
 * Energy    c qmax G(h1) + (1-c) qmax G(h2), G' = emf: a function of the state, so the account of a step
 *           closes to rounding and flow between the wells can only lose.
 * Discharge volts = emf(h1) - I R.
 * Charging  volts = E + I (absorption_v - E)/acceptance(charge), E = c emf(h1) + (1-c) emf(h2): the bank
 *           takes just acceptance(charge) at absorption_v, and proportionally less at a lower set voltage.
 *           Of the current a share coulombic(charge) is stored: charge_efficiency_bulk up to 80 %, falling
 *           in a straight line to charge_efficiency_full at 100 %.
 * Stages    bulk until the absorption volts are held; absorption until the current is under tail_a, or for
 *           absorption_cap_h, or the ceiling is reached; float until charge has fallen 2 % without a
 *           source, or 5 % with one; a step without charging goes back to bulk.
 * A step    takes the emf at its end, the unfavourable one, which keeps the heat >= 0 and the limits below
 *           safe at any step length; the error is of first order in the step. Power = current x volts is
 *           met to rounding; volts are within 0.12 % of the formulas above up to 1 C (one Newton step, no
 *           root in the chain).
 *
 * Not modelled: hysteresis of the LFP open-circuit volts, resistance against age and temperature, gassing
 * current of a full bank, acceptance in the cold other than by lost capacity.
 *
 * Checked: tests/parts/test_bank.c, test_bank_runs.c, test_chemistry.c, test_wells.c.
 */

/* Constants of one bank at one temperature, age and step. All currents positive when charging. */
struct bank_model {
    double capacity_ah; /* [Ah] at 20 h, health and temperature applied: what 100 % of charge means */
    double total_ah;    /* [Ah] both wells full (qmax of the two-well model) */
    double empty_ah;    /* [Ah] left in both wells at charge 0 */
    double ceiling_ah;  /* [Ah] in both wells at the ceiling */
    double share;       /* [-] c: share of the available well; 1 for LFP */
    double rate_per_h;  /* [1/h] k */
    double step_h;      /* [h] */
    double kept;        /* [-] what self-discharge leaves of the charge in a step; the next five contain it */
    double fade;        /* [-] what is left after a step of a difference between the wells' heads */
    double stays, comes; /* [-] of a step without current: available well = stays q1 + comes q2 */
    double drain_h;     /* [h] Ah the available well loses per discharging ampere in a step */
    double drain_cells_per_a; /* [1/A] the same in cells of the curves */
    double flow_h;      /* [h] Ah both wells lose per discharging ampere */
    double per_bound_share; /* [-] 1/(1-c); 0 for one well */
    double available_ah_per_cell, bound_ah_per_cell; /* [Ah] in a cell of the curves, of each well */
    double available_cells_per_ah, bound_cells_per_ah; /* [1/Ah] their reciprocals; 0 for a well of no size */
    double charge_per_ah; /* [1/Ah] 1/capacity_ah */
    double resistance_ohm;
    double charge_efficiency_bulk, charge_efficiency_full; /* [-] coulombic */
    double max_charge_a, max_discharge_a; /* [A] infinite where only the volts limit */
    double floor, ceiling;       /* [-] */
    double absorption_v, float_v; /* [V] temperature compensated; float 0: none */
    double acceptance_v;         /* [V] absorption_v, but at least one percent over the emf of a full bank */
    double full_v;               /* [V] emf of a full bank */
    double limit_v;              /* [V] never charged above this, whatever a regulator is set to */
    double tail_a;               /* [A] absorption ends under this */
    double absorption_cap_h;     /* [h] and at the latest after this long at the set volts */
    double empty_v, per_empty_v; /* [V] nothing more comes below this; [1/V] */
    double per_usual_v;          /* [1/V] of usual charging volts: where the search for a current starts */
    double open_v;               /* [V] emf at half charge: the same for discharging */
    struct bank_cell fill[BANK_CURVE_CELLS]; /* open-circuit volts and energy over fill of a well 0..1 */
    /* [1/A] of the current at absorption_v, over charge 0..1 */
    struct bank_line per_acceptance[BANK_CURVE_CELLS];
};

struct bank_state {
    double available_ah, bound_ah; /* the two wells */
    enum charge_stage stage;
    double stage_h; /* [h] in the present stage */
};

/*
 * Makes the constants. The wells are fitted so that the 20 h rating, and the Peukert line through it at 5 h
 * and 1 h, hold. A second rating replaces the Peukert exponent by that of the two; ratings
 * at other hours hold in their place.
 * LFP is one well. About 4 us.
 *   temperature [C] of the bank;  step_h [h] > 0
 */
void bank_model_make(struct bank_model *model, const struct bank *bank, double temperature, double step_h);

/* A rested bank at that charge [-] 0..1. */
void bank_state_rested(const struct bank_model *model, double charge, struct bank_state *state);

/* Charge [-]: 1 full, 0 where a 20 h discharge would end. Never more than self-discharge below 0. */
static inline double bank_charge(const struct bank_model *model, const struct bank_state *state)
{
    return (state->available_ah + state->bound_ah - model->empty_ah) * model->charge_per_ah;
}

/* Energy in both wells [Wh]: a function of the state alone. */
double bank_stored_wh(const struct bank_model *model, const struct bank_state *state);

/* Volts it would show at no current [V]. */
double bank_emf(const struct bank_model *model, const struct bank_state *state);

/* Volts the charge regulators hold in the present stage [V]; 0 in float where there is none: they give
 * nothing. */
static inline double bank_set_voltage(const struct bank_model *model, const struct bank_state *state)
{
    return state->stage == STAGE_FLOAT ? model->float_v : model->absorption_v;
}

/* Largest power [W] it takes for one step when the regulator holds set_v; 0 when it takes nothing.
 * The smallest of: C-rate limit, acceptance at set_v, room in the wells, ceiling, temperature limit. */
double bank_accept_w(const struct bank_model *model, const struct bank_state *state, double set_v);

/* What a charging step needs to know, of the state at its start. */
struct bank_intake {
    double unloaded, unloaded_bound; /* [Ah] in each well at the end of a step without current */
    double room;           /* [Ah] that may be stored: under the ceiling, and until the bound well is full */
    double stored_per_a;   /* [h] Ah stored per ampere in a step */
    double per_acceptance; /* [1/A] of the current at absorption_v */
    double most_a;         /* [A] that neither rate, temperature, ceiling nor wells forbid */
    double power_w;        /* [W] bank_accept_w */
};

/* The same as bank_accept_w, and what bank_take needs besides. */
void bank_intake(struct bank_intake *intake, const struct bank_model *model, const struct bank_state *state,
                 double set_v);

/* Largest power [W] (positive number) it gives for one whole step without falling under empty_v or running
 * dry. */
double bank_deliver_w(const struct bank_model *model, const struct bank_state *state);

struct bank_flow {
    double current_a; /* [A] charging positive */
    double volts_v;   /* [V] at the posts */
};

/*
 * Moves the state by one step at constant terminal power [W], charging positive, which must be within
 * -bank_deliver_w .. bank_accept_w (else it is clipped). charging: 1 while any charge source is live, for
 * the stages. What went in, current x volts x step, less the change of bank_stored_wh is heat, never
 * negative.
 */
struct bank_flow bank_step(const struct bank_model *model, struct bank_state *state, double power_w,
                           int charging);

/* So many steps without current: levels even out, self-discharge; what bank_step at 0 W and no charging does,
 * to rounding. */
void bank_rest(const struct bank_model *model, struct bank_state *state, long steps);

/* A charging step with a power of 0..intake.power_w [W], the intake being that of this state. */
void bank_take(struct bank_flow *flow, const struct bank_model *model, struct bank_state *state,
               const struct bank_intake *intake, double power_w);

/*
 * As bank_step with -power_w, or with power_w from a regulator that holds set_v [V], where a bound says that
 * the bank certainly gives or takes the whole of it; bank_deliver_w and bank_accept_w need not be worked out
 * then. 1; or 0 with nothing changed where the bound does not say so. Checked: test_bank.c,
 * "a_step_by_bounds_is_the_step_by_limits".
 */
int bank_try_draw(struct bank_flow *flow, const struct bank_model *model, struct bank_state *state,
                  double power_w, int charging);
int bank_try_fill(struct bank_flow *flow, const struct bank_model *model, struct bank_state *state,
                  double power_w, double set_v);

/* Conversions of other ratings, both rough and said so: reserve minutes at 25 A to 20 h Ah; cranking amps to
 * Ah. */
double bank_ah_from_reserve(double minutes, double peukert);
double bank_ah_from_cranking(double amps, enum chemistry chemistry);

/* Peukert exponent [-] of two ratings: currents [A] and the hours they last. */
double peukert_exponent(double current1, double hours1, double current2, double hours2);

/* Defaults by chemistry, each with its source, for the key table and the sizing rules. */
struct chemistry_facts {
    const char *name; /* as typed */
    double coulombic_bulk, coulombic_full; /* [-] */
    double energy_efficiency; /* [-] round trip, for handbook sums */
    double self_discharge_month; /* [-] at 25 C */
    double resistance_100ah_12v; /* [ohm] */
    double recommended_charge_c, max_charge_c; /* [1/h] */
    double charge_low_c, charge_high_c; /* [1/h] usual charger band */
    double continuous_discharge_c; /* [1/h] */
    double absorption_cell_v, float_cell_v; /* [V] per cell */
    double compensation_cell_v_k; /* [V/K] per cell */
    double tail_c; /* [1/h] */
    double usable; /* [-] design depth of discharge */
    double peukert;
    double charge_min_c; /* [C] coldest it may be charged */
    double nominal_cell_v;
    const char *source;
};
const struct chemistry_facts *chemistry_facts(enum chemistry chemistry);

/* Rested open-circuit volts of a cell [V] at a charge 0..1 (the wells' heads go below 0: see
 * bank_model_make). */
double chemistry_open_circuit(enum chemistry chemistry, double charge);

/* Volts of a cell [V]: where a 20 h discharge ends, and what it is never charged above. */
double chemistry_empty_cell_v(enum chemistry chemistry);
double chemistry_limit_cell_v(enum chemistry chemistry);

/* Current [1/h] of C20 a bank takes at its absorption voltage, at a charge 0..1. */
double chemistry_acceptance(enum chemistry chemistry, double charge);

/* Largest charging current [1/h] the temperature [C] allows; infinite where it does not limit. */
double chemistry_charge_limit(enum chemistry chemistry, double temperature);

/* Cells in series: 6 for each 12 V of lead-acid, 4 for each 12 V of LFP (12.8, 25.6, 51.2 V count as 12, 24,
 * 48). */
double bank_cells(const struct bank *bank);

/* Of the whole bank, new, at 25 C: C20 [Ah] whatever rate the label is for; resistance [ohm] as given or
 * usual. */
double bank_capacity_20h(const struct bank *bank);
double bank_resistance(const struct bank *bank);

/* Capacity at a temperature as a share of that at 25 C (lead: reciprocal of the IEEE 485 size factor). */
double bank_capacity_factor(enum chemistry chemistry, double temperature);

#endif

/* bank.h - the physics of a bank of batteries.  Layer: parts.  No allocation; a model is made once and stepped.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PARTS_BANK_H
#define BD_PARTS_BANK_H

#include "boat/bank.h"

enum { BANK_CURVE_POINTS = 257 };

enum charge_stage { STAGE_BULK, STAGE_ABSORPTION, STAGE_FLOAT };

/* Constants of one bank at one temperature, age and step. All currents positive when charging. */
struct bank_model {
    double capacity_ah; /* [Ah] at 20 h, health and temperature applied: what 100 % of charge means */
    double total_ah;    /* [Ah] both wells full (qmax of the two-well model) */
    double share;       /* [-] c: share of the available well; 1 for LFP */
    double rate_per_h;  /* [1/h] k */
    double step_h;      /* [h] */
    double decay;       /* [-] exp(-k step) */
    double resistance_ohm;
    double charge_efficiency_bulk, charge_efficiency_full; /* [-] coulombic */
    double max_charge_a, max_discharge_a;
    double floor, ceiling;       /* [-] */
    double absorption_v, float_v; /* [V] temperature compensated; float 0: none */
    double tail_a;               /* [A] absorption ends under this */
    double self_discharge_per_h; /* [1/h] of the stored charge */
    double empty_v;              /* [V] nothing more comes below this */
    double emf[BANK_CURVE_POINTS];        /* [V] open-circuit volts over fill of the wells 0..1 */
    double acceptance[BANK_CURVE_POINTS]; /* [A] at absorption_v over charge 0..1 */
    double energy[BANK_CURVE_POINTS];     /* [Wh] stored up to that fill, the integral of emf over charge */
};

struct bank_state {
    double available_ah, bound_ah; /* the two wells */
    enum charge_stage stage;
    double stage_h; /* [h] in the present stage */
};

/*
 * Makes the constants. The two wells are fitted so that the 20 h rating holds and the Peukert exponent (or the
 * second rating) holds at the 5 h current (Manwell & McGowan 1993); LFP is a single well.
 *   temperature [C] of the bank;  step_h [h] > 0
 */
void bank_model_make(struct bank_model *model, const struct bank *bank, double temperature, double step_h);

/* A rested bank at that charge [-] 0..1. */
void bank_state_rested(const struct bank_model *model, double charge, struct bank_state *state);

/* Charge [-]: 1 full, 0 where a 20 h discharge would end. May be slightly outside 0..1 at other rates. */
double bank_charge(const struct bank_model *model, const struct bank_state *state);

/* Energy in both wells [Wh]: a function of the state alone. */
double bank_stored_wh(const struct bank_model *model, const struct bank_state *state);

/* Volts it would show at no current [V]. */
double bank_emf(const struct bank_model *model, const struct bank_state *state);

/* Volts the charge regulators hold in the present stage [V]. */
double bank_set_voltage(const struct bank_model *model, const struct bank_state *state);

/* Largest power [W] it takes for one step when the regulator holds set_v; 0 when it takes nothing.
 * The smallest of: C-rate limit, acceptance at set_v, room in the wells, ceiling, temperature limit. */
double bank_accept_w(const struct bank_model *model, const struct bank_state *state, double set_v);

/* Largest power [W] (positive number) it gives for one whole step without falling under empty_v or running dry. */
double bank_deliver_w(const struct bank_model *model, const struct bank_state *state);

struct bank_flow {
    double current_a; /* [A] charging positive */
    double volts_v;   /* [V] at the posts */
    double loss_wh;   /* [Wh] heat of the step: power in less change of stored energy; never negative */
};

/*
 * Moves the state by one step at constant terminal power [W], charging positive, which must be within
 * -bank_deliver_w .. bank_accept_w (else it is clipped). charging: 1 while any charge source is live, for the stages.
 */
struct bank_flow bank_step(const struct bank_model *model, struct bank_state *state, double power_w, int charging);

/* Conversions of other ratings, both rough and said so: reserve minutes at 25 A to 20 h Ah; cranking amps to Ah. */
double bank_ah_from_reserve(double minutes, double peukert);
double bank_ah_from_cranking(double amps, enum chemistry chemistry);

/* Peukert: hours a bank of rated_ah at rated_h lasts at current [A]. */
double peukert_hours(double rated_ah, double rated_h, double current, double exponent);
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

/* Capacity at a temperature as a share of that at 25 C (lead: reciprocal of the IEEE 485 size factor). */
double bank_capacity_factor(enum chemistry chemistry, double temperature);

#endif

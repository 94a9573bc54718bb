/* wells.h - the two-well (kinetic) battery model by itself, closed form.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_WELLS_H
#define BD_WELLS_H

/*
 * Manwell & McGowan, Solar Energy 50(5), 1993. An available well of share c and a bound well of share 1 - c
 * stand side by side; charge runs from the higher to the lower at rate k. Discharging current is positive
 * throughout this file.
 *
 *   dq1/dt = -I - k(1-c) q1 + k c q2        dq2/dt = k(1-c) q1 - k c q2
 *
 * Checked: tests/parts/test_wells.c, printed vectors and an ODE integrator.
 */
struct wells {
    double total_ah;   /* [Ah] both wells full, qmax; infinite for wells_step alone is allowed */
    double share;      /* [-] c, 0 < c <= 1; 1: one well */
    double rate_per_h; /* [1/h] k > 0, the exponent of the closed form */
};

struct wells_level {
    double available_ah, bound_ah;
};

/* Levels after so many hours at a constant current [A]. Charge in both wells changes by exactly -current x
 * hours. */
struct wells_level wells_step(const struct wells *wells, struct wells_level level, double current,
                              double hours);

/* Largest current [A] that can be held for so many hours: the available well is empty at the end. */
double wells_discharge_limit(const struct wells *wells, struct wells_level level, double hours);

/* The same for charging, negative: the available well is full at the end. */
double wells_charge_limit(const struct wells *wells, struct wells_level level, double hours);

/* Share of total_ah [-] that a constant current from full gives when it lasts so many hours. */
double wells_capacity_share(double share, double rate_per_h, double hours);

/* Share c for which capacities at hours1 and hours2 stand in the ratio, at a given rate k; may fall outside
 * 0..1, which means that no such bank exists. */
double wells_share_for_ratio(double ratio, double rate_per_h, double hours1, double hours2);

/*
 * Wells whose capacity is ah at hours, and whose capacities at two other durations are ratio1 and ratio2 of
 * it. The first ratio is met exactly, the second as nearly as the model can (exactly, for Peukert
 * exponents 1.01 to 1.4 at 5 h and 1 h). Ratios that say "the same at any rate" give one well.
 */
struct wells_target {
    double hours, ratio;
};
struct wells wells_fit(double ah, double hours, struct wells_target first, struct wells_target second);

#endif

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

/* How much is in each well. */
struct wells_level {
    double available_ah, bound_ah;
};

/*
 * Levels after so many hours [h] at a constant current [A]. With r = exp(-k t), q0 = q1 + q2:
 *
 *   q1' = q1 r + (q0 k c - I)(1 - r)/k - I c (k t - 1 + r)/k        q2' = q0 - I t - q1'
 *
 * Charge in both wells changes by exactly -current x hours. Nothing is held at 0 or at full. It is linear in
 * levels and current, so three steps from one ampere-hour here, there, and one ampere are all a bank needs to
 * know (bank_fit.c).
 */
struct wells_level wells_step(const struct wells *wells, struct wells_level level, double current,
                              double hours);

/* Share of total_ah [-] that a constant current from full gives when it lasts so many hours. */
double wells_capacity_share(double share, double rate_per_h, double hours);

/* Share c for which capacities at hours1 and hours2 stand in the ratio, at a given rate k [1/h]; may fall
 * outside 0..1, which means that no such bank exists. The closed form of capacity, solved for c. */
double wells_share_for_ratio(double ratio, double rate_per_h, double hours1, double hours2);

/* A capacity to be met: that many hours of discharge give that part of the capacity at the hours of
 * the fit. */
struct wells_target {
    double hours, ratio;
};

/*
 * Wells whose capacity is ah at hours, and whose capacities at two other durations are ratio1 and ratio2 of
 * it.
 *
 * The first ratio is met exactly, the second as nearly as the model can (exactly, for Peukert exponents 1.01
 * to 1.4 at 5 h and 1 h). Ratios that say "the same at any rate" give one well. About 60 evaluations of the
 * closed form. Checked: test_wells.c, "fit_holds_the_peukert_line", "fit_finds_known_wells".
 */
struct wells wells_fit(double ah, double hours, struct wells_target first, struct wells_target second);

#endif

/* wells.c - closed form of the two-well model and its fit to capacities.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/wells.h"

#include <math.h>

/*
 * Charge in two wells, solved for a step of constant current (Manwell & McGowan 1993):
 *
 *     even = c (q1 + q2)                    where the available well would come to rest
 *     q1'  = even + (q1 - even) exp(-k t) - I d(t)
 *     d(t) = ((1 - r) + c (k t - 1 + r))/k, r = exp(-k t)
 *
 * The fit runs the other way: two capacities give c for a k in closed form, and the third is met by a search
 * for k. Held by tests/parts/test_wells.c.
 */

/* Ampere-hours the available well loses for each ampere over the hours [h]: (1 - r)/k + c (k t - 1 + r)/k, r
 * = exp(-k t). expm1, because 1 - r loses its digits in a short step. */
static double drain_hours(const struct wells *wells, double hours)
{
    double k = wells->rate_per_h, rest = -expm1(-k * hours);

    return (rest + wells->share * (k * hours - rest)) / k;
}

/* Where the available well would be without any current [Ah]: on its way to the even level, by exp(-k t). */
static double available_at_rest(const struct wells *wells, struct wells_level level, double hours)
{
    double even = wells->share * (level.available_ah + level.bound_ah);

    return level.available_ah - (even - level.available_ah) * expm1(-wells->rate_per_h * hours);
}

struct wells_level wells_step(const struct wells *wells, struct wells_level level, double current,
                              double hours)
{
    double total = level.available_ah + level.bound_ah - current * hours;
    double available = available_at_rest(wells, level, hours) - current * drain_hours(wells, hours);

    return (struct wells_level){ available, total - available };
}

double wells_capacity_share(double share, double rate_per_h, double hours)
{
    const struct wells wells = { 1, share, rate_per_h };

    return share * hours / drain_hours(&wells, hours);
}

double wells_share_for_ratio(double ratio, double rate_per_h, double hours1, double hours2)
{
    double k = rate_per_h;
    double up = ratio * -expm1(-k * hours1) * hours2 + expm1(-k * hours2) * hours1;

    return up / (up - k * (ratio - 1) * hours1 * hours2);
}

/* How far the second ratio is missed [-] at this rate, the first being met; NAN where no share meets it. */
static double fit_miss(double rate, double hours, struct wells_target first, struct wells_target second)
{
    double share = wells_share_for_ratio(first.ratio, rate, first.hours, hours);

    if (!(share > 0 && share < 1))
        return NAN;
    return wells_capacity_share(share, rate, second.hours) / wells_capacity_share(share, rate, hours) -
           second.ratio;
}

/* Rate between two that bracket a zero of the miss, by halving on the log scale: 24
 * times is 1e-8 of a ratio of 1.25. */
static double fit_halve(double low, double high, double hours, struct wells_target first,
                        struct wells_target second)
{
    double at_low = fit_miss(low, hours, first, second);

    for (int i = 0; i < 24; i++) {
        double middle = sqrt(low * high);
        double miss = fit_miss(middle, hours, first, second);

        if ((miss < 0) == (at_low < 0))
            low = middle;
        else
            high = middle;
    }
    return sqrt(low * high);
}

/* Walks the rates a lead-acid bank may have and stops at the first sign change, else keeps the smallest miss.
 */
static double fit_rate(double hours, struct wells_target first, struct wells_target second)
{
    const double slowest = 0.02, ratio = 1.25; /* [1/h]; up to 0.02 x 1.25^32 = 25 /h */
    double best = NAN, best_miss = INFINITY, before = NAN;

    for (int i = 0; i <= 32; i++) {
        double rate = slowest * pow(ratio, i);
        double miss = fit_miss(rate, hours, first, second);

        if (isfinite(before) && isfinite(miss) && (before < 0) != (miss < 0))
            return fit_halve(rate / ratio, rate, hours, first, second);
        if (fabs(miss) < best_miss) {
            best_miss = fabs(miss);
            best = rate;
        }
        before = miss;
    }
    return best;
}

struct wells wells_fit(double ah, double hours, struct wells_target first, struct wells_target second)
{
    double rate = fit_rate(hours, first, second);
    double share = wells_share_for_ratio(first.ratio, rate, first.hours, hours);

    if (!(share > 0 && share < 1))
        return (struct wells){ ah, 1, 1 };
    return (struct wells){ ah / wells_capacity_share(share, rate, hours), share, rate };
}

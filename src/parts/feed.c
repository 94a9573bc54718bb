/* feed.c - what arrives at the far end of one run of cable.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/feed.h"

#include <math.h>

/* Of the angle whose cosine is the power factor; a cosine a hair over 1 counts as 1. */
static double sine(double cosine)
{
    return sqrt(fmax(0, 1 - cosine * cosine));
}

double feed_drop(double current, struct feed_loop loop, double power_factor)
{
    return current * (loop.ohm * power_factor + loop.reactance_ohm * sine(power_factor));
}

/* Where the two roots meet: 2 S (R cos + X sin + Z) = E^2, S in VA. HUGE_VAL where nothing is in the way. */
static double most_va(double emf_v, struct feed_loop loop, double cosine)
{
    return emf_v * emf_v / (2 * (feed_drop(1, loop, cosine) + hypot(loop.ohm, loop.reactance_ohm)));
}

struct feed feed_power(double emf_v, struct feed_loop loop, double watts, double cosine)
{
    double most = most_va(emf_v, loop, cosine), va = fmin(watts / cosine, most);
    double b = emf_v * emf_v - 2 * feed_drop(va, loop, cosine);
    double c = va * va * (loop.ohm * loop.ohm + loop.reactance_ohm * loop.reactance_ohm);
    double volts = sqrt((b + sqrt(fmax(0, b * b - 4 * c))) / 2);

    return (struct feed){ volts, va / volts, most * cosine, watts / cosine <= most };
}

struct feed feed_current(double emf_v, struct feed_loop loop, double amps, double cosine)
{
    double across = amps * (loop.reactance_ohm * cosine - loop.ohm * sine(cosine));
    double volts = sqrt(fmax(0, emf_v * emf_v - across * across)) - feed_drop(amps, loop, cosine);

    return (struct feed){ fmax(0, volts), amps, most_va(emf_v, loop, cosine) * cosine, volts > 0 };
}

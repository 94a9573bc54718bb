/* feed.h - what arrives at the far end of one run of cable.  Layer: parts.  Pure functions, no allocation.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_FEED_H
#define BD_FEED_H

/* Out and back together [ohm]; reactance 0 for DC. */
struct feed_loop {
    double ohm, reactance_ohm;
};

struct feed {
    double volts_v, current_a; /* [V] and [A] at the load */
    double most_w;             /* [W] the largest constant power that the run can bring */
    /* 0: not what was asked; power is then at the most, volts of a current are 0 */
    int holds;
};

/*
 * A load of so many watts whatever its volts, power_factor 0 < cos phi <= 1 lagging (DC: 1), behind a source
 * of emf_v > 0. With P, Q = P tan phi and V the volts at the load, circuit theory gives
 *
 *   V^4 + (2 (P R + Q X) - E^2) V^2 + (P^2 + Q^2)(R^2 + X^2) = 0
 *
 * of which the larger root is the one that stands. Without such a root the volts collapse.
 */
struct feed feed_power(double emf_v, struct feed_loop loop, double watts, double power_factor);

/* A load of so many amperes whatever its volts. */
struct feed feed_current(double emf_v, struct feed_loop loop, double amps, double power_factor);

/* Volts lost: I (R cos phi + X sin phi), IEC 60364-5-52 annex G (from memory); what is at right angles to
 * them, some hundredths of a per cent, is left out. */
double feed_drop(double current, struct feed_loop loop, double power_factor);

#endif

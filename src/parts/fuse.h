/* fuse.h - ratings and families of fuses and breakers.  Layer: parts.  Pure functions, no allocation.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_FUSE_H
#define BD_FUSE_H

#include <stddef.h>

#include "parts/cite.h"

/* What a family of devices breaks at a DC voltage. */
struct fuse_breaking {
    double volts_v;   /* [V] DC, up to and including */
    double current_a; /* [A] interrupt rating there */
};

enum { FUSE_BREAKINGS = 3 };

/* A kind of fuse or breaker one can buy: its ratings and what it breaks. */
struct fuse_family {
    const char *name;        /* as typed behind the amps, and for people */
    const char *words;       /* other words that mean it, separated by '|' */
    const double *ratings_a; /* [A] rising */
    size_t rating_count;
    struct fuse_breaking breaking[FUSE_BREAKINGS]; /* rising volts; unused ones 0 */
    int slow;                                      /* 1: carries a motor's starting current */
    struct cite cite;
};

/* All families, in the order in which they are tried: the plainest first. Static; *count is set. */
const struct fuse_family *fuse_families(size_t *count);

/* The family a user's word means ("class t", "blade"), ASCII case ignored; NULL: none known, or word is
 * NULL. Checked: tests/parts/test_fuse.c, "families_are_found". */
const struct fuse_family *fuse_family_find(const char *word);

/* Interrupt rating [A] of a family at a nominal DC voltage [V]: the row of the lowest voltage that reaches
 * it. 0: not made for such a voltage. Checked: test_fuse.c, "breaking". */
double fuse_breaking_a(const struct fuse_family *family, double volts);

/* Highest nominal DC voltage [V] that a family is made for. */
double fuse_family_volts(const struct fuse_family *family);

/*
 * Preferred ratings [A] for circuits of so many nominal volts: low-voltage DC devices under 50 V; breakers of
 * NEC 240.6(A) under 150 V, of IEC 60898-1 (to 125 A) and fuses of IEC 60269 above. The smallest not below a
 * current [A], the largest not above it, to 1e-9 of it; 0: none is large, or small, enough.
 * Checked: test_fuse.c, "ratings_up_and_down", "ratings_of_mains".
 */
double fuse_rating_up(double current, double volts);
double fuse_rating_down(double current, double volts);

/*
 * First family that has the rating and can break the fault.
 *
 *   rating   [A] exactly one of its ratings
 *   volts    [V] nominal DC of the circuit
 *   fault_a  [A] short-circuit current where the device sits
 *   slow     1: it must carry the start of a motor
 *
 * NULL: none; the caller says so rather than choosing a weaker one. Glass cartridges and breakers are never
 * chosen: what they break is small, or stands on the label only. Checked: test_fuse.c,
 * "choice_breaks_the_fault".
 */
const struct fuse_family *fuse_family_choose(double rating, double volts, double fault_a, int slow);

/*
 * Share of its rating a device should carry for hours: 0.8 (a 16 A continuous load asks for 20 A), NEC 210.19
 * (read).
 */
extern const double fuse_continuous_share;

/* Multiple of the rating a fault must reach to open a fuse within 5 s: 2, ISO 8820-3 (from memory). */
extern const double fuse_sure_multiple;

#endif

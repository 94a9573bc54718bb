/* network.h - volts and amps of a network of two-wire nodes: Newton, sparse elimination, dense core.
 * Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A node of a DC network has two unknowns, the volts of its positive and of its negative side against earth,
 * because out and back conductors may differ and, in a loop, share current differently. A node of an AC
 * network has the real and the imaginary part of one phasor. Either way the unknowns of a node make a pair
 * and a run a 2 x 2 block.
 *
 * Nodes with few neighbours (all of a tree, the ladders of a bank) are eliminated one by one in linear time;
 * what is left of a mesh is solved densely by GSL.
 */
#ifndef BD_NETWORK_H
#define BD_NETWORK_H

#include <stddef.h>

#include "base/status.h"

struct arena;

enum net_system { NET_DC, NET_AC };

enum net_behaviour { NET_POWER, NET_CURRENT, NET_RESISTANCE };

/* A pair of conductors between two nodes, as an admittance block [S], row by row. */
struct net_run {
    size_t a, b;
    double y[4];
};

/* A voltage behind its resistance, between the two sides of a node (AC: at angle 0). */
struct net_source {
    size_t node;
    double emf_v;
    double ohm, reactance_ohm; /* reactance: AC only */
};

/* What hangs on a node. A negative current feeds the network. */
struct net_load {
    size_t node;
    enum net_behaviour behaves;
    double value;          /* [W], [A] or [ohm] */
    double reactive_share; /* [-] tan phi of an AC load, inductive positive */
};

/* A network of one system. All arrays are borrowed. Nodes are numbers below node_count. */
struct net {
    enum net_system system;
    size_t node_count;
    const struct net_run *runs;
    size_t run_count;
    const struct net_source *sources;
    size_t source_count;
    const struct net_load *loads;
    size_t load_count;
};

/* No resistance at all counts as this [ohm]: currents keep a meaning. Loops of such runs are refused before.
 */
extern const double net_least_ohm;

/* A run of two conductors, out and back [ohm], both at least net_least_ohm. HUGE_VAL: none (an open pole). */
struct net_run net_run_dc(size_t a, size_t b, double out_ohm, double back_ohm);

/* A run of an AC network: the loop of both conductors, resistance and reactance [ohm]. As a real block of
 * the complex admittance 1/(R + jX). */
struct net_run net_run_ac(size_t a, size_t b, double ohm, double reactance_ohm);

/*
 * Order of elimination and room for numbers: depends on which nodes the runs join and on
 * nothing else, so one plan serves every state of a network. In the arena, for one net of
 * that shape at a time; NULL without memory.
 */
struct net_plan;
struct net_plan *net_plan_new(struct arena *arena, const struct net *net);

/*
 * All node volts, by Newton's method on the currents into every node:
 *
 *   J dv = -(sum of currents leaving),  J = admittances + slopes of the loads
 *
 *   state   2 x node_count numbers, the result; start 1: begins from them, 0: from the sources' volts
 *   plan    of a net with the same runs between the same nodes
 *
 * STATUS_NO_SOLUTION: the volts collapse (more constant power than the runs can bring), or a node hangs in
 * the air. Volts are met to 1e-11 of the highest source. Checked: tests/engine/test_network.c, and against a
 * circuit simulator in tests/engine/test_ngspice.c.
 */
enum status net_solve(struct net_plan *plan, const struct net *net, double *state, int start);

/* Volts between the two sides of a node; of AC the length of the phasor. */
double net_volts(const struct net *net, const double *state, size_t node);

/* Current of a run from a to b; DC: of the out conductor and, from b to a, of the back one; AC: length, both
 * same. */
struct net_current {
    double out_a, back_a;
};
struct net_current net_run_current(const struct net *net, const double *state, const struct net_run *run);

/* Cosine of the angle between an AC run's current and the volts at its end b [-], 0..1; DC, and no current:
 * 1. */
double net_run_power_factor(const struct net *net, const double *state, const struct net_run *run);

/* Current [A] of a load as it behaves at the solved volts, and of a source, giving positive; AC: lengths. */
double net_load_current(const struct net *net, const double *state, const struct net_load *load);
double net_source_current(const struct net *net, const double *state, const struct net_source *source);

/*
 * Resistance (AC: length of the impedance) [ohm] of the sources and runs as seen from every node,
 * loads aside: a short there draws emf / ohm. The blocks of the inverse on the diagonal;
 * STATUS_NO_SOLUTION where a node hangs in the air.
 */
enum status net_fault_ohm(struct net_plan *plan, const struct net *net, double *ohm);

/*
 * Largest factor f in 0..1 for which the net still has a solution when the constant power of load `which`
 * (or, with which = load_count, of all of them) is multiplied by it. 1 where it has one as it is; negative
 * where not even 0 has. By bisection to 1e-9; state holds the solution at f.
 */
double net_most(struct net_plan *plan, const struct net *net, size_t which, double *state);

#endif

/* network.h - volts and amps of a network of two-wire nodes: Newton, sparse elimination, dense core.  Layer:
 * engine. SPDX-License-Identifier: GPL-3.0-or-later
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

/* Conductors out and back [ohm]; HUGE_VAL: none (an open pole). */
struct net_run net_run_dc(size_t a, size_t b, double out_ohm, double back_ohm);

/* The loop of both conductors [ohm]. */
struct net_run net_run_ac(size_t a, size_t b, double ohm, double reactance_ohm);

/* Order of elimination and room for numbers: depends on which nodes the runs join and on nothing else. */
struct net_plan;
struct net_plan *net_plan_new(struct arena *arena, const struct net *net);

/*
 * All node volts. state has 2 x node_count numbers and is the result; start: 1 begins from state as it is,
 * else from the sources' volts. STATUS_NO_SOLUTION: the volts collapse (more constant power than the runs can
 * bring), or a node hangs in the air. Needs the plan of a net with the same runs between the same nodes.
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

/* Current [A] of a load, and of a source (giving positive). */
double net_load_current(const struct net *net, const double *state, const struct net_load *load);
double net_source_current(const struct net *net, const double *state, const struct net_source *source);

/* Resistance (AC: length of the impedance) [ohm] of the sources and runs as seen from every node, loads
 * aside. */
enum status net_fault_ohm(struct net_plan *plan, const struct net *net, double *ohm);

/*
 * Largest factor f in 0..1 for which the net still has a solution when the constant power of load `which`
 * (or, with which = load_count, of all of them) is multiplied by it. 1 where it has one as it is; negative
 * where not even 0 has.
 */
double net_most(struct net_plan *plan, const struct net *net, size_t which, double *state);

#endif

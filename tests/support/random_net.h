/* random_net.h - reproducible random networks for tests of the circuit solver.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_RANDOM_NET_H
#define BD_RANDOM_NET_H

#include "engine/network.h"

/* Evenly spread over 0..1. */
double uniform(unsigned long *seed);

/*
 * A tree of nodes and `more` further runs between any two; a third each of power, current and resistance
 * loads, few hundred watts in all; `blocks` sources in parallel in a row of links, the tree hanging on the
 * first (or, with out and back apart, on the first and the last).
 */
struct net random_net(struct arena *arena, size_t nodes, size_t more, size_t blocks, unsigned long seed);

/* The same on AC, 230 V: one source with an inner impedance, runs with reactance, some kilowatts with an angle. */
struct net random_ac_net(struct arena *arena, size_t nodes, size_t more, unsigned long seed);

#endif

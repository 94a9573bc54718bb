/* circuit_work.h - the calculation of every cable, written out when it is asked for.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CIRCUIT_WORK_H
#define BD_CIRCUIT_WORK_H

struct arena;
struct circuit;
struct working;

/*
 * Of each cable: what flows and what makes it flow, resistance, drop by the rule and as measured, both also
 * from the source, ampacity, fuse, protective conductor, in the shown scenario. Lines borrow from the
 * circuit. NULL without memory.
 */
const struct working *circuit_working(struct arena *arena, const struct circuit *circuit);

#endif

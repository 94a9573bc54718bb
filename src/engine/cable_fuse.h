/* cable_fuse.h - the device of a run of cable, remarks on it, and what fails first.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CABLE_FUSE_H
#define BD_CABLE_FUSE_H

#include "engine/circuit_result.h"

struct arena;

/* Adds a remark to the row's; fail: the device does not do either. */
void cable_fuse_note(struct arena *arena, struct circuit_cable *row, enum fuse_remark remark,
                     const char *note);
void cable_fuse_fail(struct arena *arena, struct circuit_cable *row, enum fuse_remark remark,
                     const char *note);

/*
 * The smallest rating with a quarter to spare, or the smallest that carries the current; then the first
 * family that has it and breaks fault_a, a larger rating where none does. AC runs take a breaker of both
 * poles, whose interrupt rating its label says. Reads system, nominal_v, design_a, fuse_min_a, fuse_max_a,
 * fault_a (0: not known) and fault_far_a; sets fuse_a, fuse_class and fuse_interrupt_a, or fails the fuse.
 * slow: it feeds a motor.
 */
void cable_fuse_choose(struct arena *arena, struct circuit_cable *row, int slow);

/* 1: the conductor itself does not pass, whatever its fuse. */
int cable_copper_fails(const struct circuit_cable *row);

/* 1 where an installed cable that passes is to be thicker for the sake of those beyond it. */
int cable_grows(const struct circuit_cable *row);

/* The size that would do, in words: "2 x 50 mm2", "4/0 AWG (107.2 mm2)"; NULL without memory. */
const char *cable_size_wanted(struct arena *arena, const struct circuit_cable *row);

/* What of a run fails first, in the order of danger; fuse_fails is the word for its fuse. "ok" for an
 * installed cable that passes, "sized" for a proposed one. Reads the row alone. */
const char *cable_status(const struct circuit_cable *row, int collapses, const char *fuse_fails);

#endif

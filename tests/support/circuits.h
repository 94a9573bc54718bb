/* circuits.h - circuits of boats from a few lines of profile, for tests.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_CIRCUITS_H
#define BD_TEST_CIRCUITS_H

#include "engine/circuit.h"

/* The circuit of a profile's text by a rule set; fails the test, printing the remarks, where there is none. */
const struct circuit *circuit_of(struct arena *arena, const struct wiring_rules *rules, const char *text);
const struct circuit *circuit_with(struct arena *arena, const struct wiring_rules *rules, const char *text,
                                   const struct circuit_options *options);

#endif

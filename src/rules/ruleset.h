/* ruleset.h - the rule sets by name.  Layer: rules.  Data only.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_RULESET_H
#define BD_RULESET_H

#include "base/diag.h"
#include "base/status.h"
#include "boat/boat.h"
#include "parts/wiring.h"

struct arena;

extern const struct wiring_rules rules_cfr183, rules_abyc_e11, rules_iso10133, rules_iso13297;

/* The shipped set, static; NULL for RULES_OWN, which is read from the user's table (own_rules_new). */
const struct wiring_rules *ruleset_get(enum rule_set_id set);

/* The set a word means ("abyc-e11"), exactly; NULL: none, or the user's own, which *own tells (1: "own"). */
const struct wiring_rules *ruleset_find(const char *name, int *own);

/*
 * A user's own table, line by line as an INI reader meets it:
 *
 *   [set]           name, edition, ambient (30 C), engine_ambient (50 C), drop_constant (0.0178 ohm mm2/m),
 *                   drop_limit (10 %), critical_drop_limit (3 %), critical (bilge pump | navigation light),
 *                   feeders_critical (yes), smallest (1 mm2), smallest_sheathed (0.75 mm2),
 *                   fuse_rule (not above | next standard | within multiple), fuse_multiple (150 %),
 *                   breaking (backed up | at place | not ruled), fuse_distance (0.2 m),
 *                   fuse_distance_sheathed (1 m), charge_distance (1.8 m)
 *   [ampacity 105]  35 mm2 = 210 A     insulation rating in C behind the kind; at most eight, rising
 *   [engine]        105 = 85 %         one per rating
 *   [bundle]        3 = 70 %, 4..6 = 60 %, 25.. = 40 %
 *
 * Wrong lines become diagnostics with file and line. own_rules_new gives NULL without memory,
 * own_rules_finish NULL where errors stand or no current was given; the set it gives lives in the arena.
 * Checked: tests/rules/test_ruleset.c.
 */
struct own_rules;
struct own_rules *own_rules_new(struct arena *arena, const char *file, struct diag_list *diags);
enum status own_rules_line(struct own_rules *own, const char *section, const char *key, const char *value,
                           int line);
const struct wiring_rules *own_rules_finish(struct own_rules *own);

#endif

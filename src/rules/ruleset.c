/* ruleset.c - the shipped rule sets by name.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/ruleset.h"

#include <string.h>

const struct wiring_rules *ruleset_get(enum rule_set_id set)
{
    switch (set) {
    case RULES_CFR183:
        return &rules_cfr183;
    case RULES_ABYC_E11:
        return &rules_abyc_e11;
    case RULES_ISO10133:
        return &rules_iso10133;
    case RULES_ISO13297:
        return &rules_iso13297;
    case RULES_OWN:
        break;
    }
    return NULL;
}

const struct wiring_rules *ruleset_find(const char *name, int *own)
{
    static const enum rule_set_id all[] = { RULES_CFR183, RULES_ABYC_E11, RULES_ISO10133, RULES_ISO13297 };

    *own = strcmp(name, "own") == 0;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        if (strcmp(ruleset_get(all[i])->name, name) == 0)
            return ruleset_get(all[i]);
    return NULL;
}

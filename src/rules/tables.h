/* tables.h - rows that more than one rule set prints.  Layer: rules.  Data only.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_RULE_TABLES_H
#define BD_RULE_TABLES_H

#include "parts/wiring.h"

enum { US_CURRENTS = 15, US_BUNDLES = 5, ISO_CURRENTS = 15, ISO_BUNDLES = 4 };

extern const struct ampacity_row us_currents[US_CURRENTS], iso_currents[ISO_CURRENTS];
extern const struct bundle_row us_bundles[US_BUNDLES], iso_bundles[ISO_BUNDLES];

#endif

/* cautions.c - the one table of cautions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/cautions.h"

const char *caution_text(enum caution caution)
{
    static const char *const texts[CAUTIONS] = {
        [CAUTION_PLANNING] =
            "This is a planning aid, no better than the profile it was given. Local codes, the "
            "equipment makers' instructions and a licensed electrician come first.",
        [CAUTION_ISOLATE] =
            "Before work on any circuit: switch off and isolate bank, panels, shore, generator "
            "and inverter, and measure that it is dead.",
        [CAUTION_SHORT_CIRCUIT] =
            "A shorted battery drives thousands of amps: it burns and starts fires. Rings "
            "off, tools insulated, a fuse close to the bank.",
        [CAUTION_MAINS] = "120 V and 230 V kill, from an inverter as surely as from shore.",
        [CAUTION_HYDROGEN] =
            "Lead-acid cells give off hydrogen while they charge: ventilate, no sparks or flames.",
        [CAUTION_LITHIUM] = "Lithium cells need their management system, and charging sources that obey it.",
    };

    return (unsigned)caution < CAUTIONS ? texts[caution] : "";
}

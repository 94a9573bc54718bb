/* rounding.h - comparing what was solved with what stands in a table.  Layer: parts.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A solved current of 30 A is 30 A but for its last digits; they must not cost a fuse rating or a cable size.
 * Volts and currents are solved to 1e-11 of the source and added up along a path, so 1e-9 forgives every
 * rounding and no real excess. It is the one slack of all verdicts: of a cable in a boat, of one alone, and
 * of the survey.
 */
#ifndef BD_ROUNDING_H
#define BD_ROUNDING_H

/* have >= need and have <= limit, to 1e-9 of the second; for numbers not below 0. */
static inline int at_least(double have, double need)
{
    return have >= need * (1 - 1e-9);
}

static inline int at_most(double have, double limit)
{
    return have <= limit * (1 + 1e-9);
}

#endif

/* range.h - a number the user gave, guessed or left out: middle, low, high and its origin.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_RANGE_H
#define BD_RANGE_H

/* Where a number comes from: whether it may be called an assumption depends on it. */
enum origin {
    ORIGIN_NONE,    /* not given and no default: value means nothing */
    ORIGIN_DEFAULT, /* from the key table; "check" lists it as an assumption */
    ORIGIN_GIVEN,   /* the user's own */
    ORIGIN_DERIVED, /* converted from something else the user gave (reserve minutes, amps) */
};

/* low <= value <= high. The unit stands at the field that is one. */
struct range {
    double value;     /* where one number is needed: the middle */
    double low, high; /* equal to value where the user gave one number */
    enum origin origin;
    int line;         /* of the profile, 0 for a default */
    const char *text; /* as written, NULL for a default */
};

/* 1 where somebody gave it or a default stands in. */
static inline int range_known(const struct range *r)
{
    return r->origin != ORIGIN_NONE;
}

/* The value where it is known, else what the caller falls back on. */
static inline double range_or(const struct range *r, double fallback)
{
    return r->origin != ORIGIN_NONE ? r->value : fallback;
}

#endif

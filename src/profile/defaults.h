/* defaults.h - what is worked out where the profile says nothing, or says it another way.  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_DEFAULTS_H
#define BD_DEFAULTS_H

#include "profile/readers.h"

/*
 * Fills in all computed defaults and conversions, each with its assumption. Runs on faulty profiles too, for
 * the checks that follow: it takes nothing for granted but that document_apply has run.
 */
void defaults_fill(struct reading *r);

/* The house bank as far as it is known; NULL where there is none. */
const struct bank *defaults_house(const struct reading *r);

/* The mutable arrays of the boat under construction. */
struct bank *boat_banks(const struct reading *r);
struct load *boat_loads(const struct reading *r);

/* Each part of the work, by file. */
void defaults_boat(struct reading *r);     /* defaults_power.c: volts and banks */
void defaults_site(struct reading *r);     /* defaults.c */
void defaults_links(struct reading *r);    /* defaults.c: banks and engines nobody named */
void defaults_machines(struct reading *r); /* defaults_power.c */
void defaults_loads(struct reading *r);    /* defaults.c */

/*
 * Sets a range that the profile left out, and says so in the list of assumptions.
 *
 *   section, key  as they stand in the list
 *   value         [stored unit of quantity]; infinite or not a number: nothing is set
 *   origin        ORIGIN_DEFAULT, or ORIGIN_DERIVED where it follows from what the user gave
 *   why           source of the default or conversion made
 *
 * Nothing where the range is known already.
 */
void default_range(struct reading *r, const char *section, const char *key, struct range *range, double value,
                   enum quantity quantity, enum origin origin, const char *why);

/* "bank house" for the name of an object; "" without memory. */
const char *title_of(struct reading *r, const char *kind, const char *name);

#endif

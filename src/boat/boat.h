/* boat.h - the whole boat as read from a profile.  Layer: boat.  Plain data, SI units in brackets.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_BOAT_H
#define BD_BOAT_H

#include <stddef.h>

#include "boat/bank.h"
#include "boat/cable.h"
#include "boat/load.h"
#include "boat/plan.h"
#include "boat/seen.h"
#include "boat/site.h"
#include "boat/source.h"

/* The rule sets that one can choose; RULES_OWN is the user's own table. */
enum rule_set_id { RULES_CFR183, RULES_ABYC_E11, RULES_ISO10133, RULES_ISO13297, RULES_OWN };

/* The sizes that cables without an area are chosen from: those that most installed cables are typed in, else
 * the rule set's; metric; or AWG. */
enum size_choice { SIZES_AS_WIRED, SIZES_METRIC, SIZES_US };

/* By whose rules cables and findings are judged. */
struct rules_choice {
    enum rule_set_id set;
    enum origin origin;
    const char *own_file; /* with RULES_OWN */
    int strict;           /* 1: advice counts as requirement */
    int sizes;            /* which sizes to buy from: enum size_choice */
};

/* What a thing costs or weighs, only as the user gave it; unknown stays unknown. */
struct prices {
    const char *currency;
    struct range copper_per_kg;
    struct range bank_per_ah;
    struct range solar_per_w;
    struct range inverter_per_w;
    struct range fuel_per_l;
};

/* A value the profile did not give and what was taken instead; "check" prints them all. */
struct assumption {
    const char *section; /* "bank house" */
    const char *key;
    const char *value;   /* as it would be typed: "50 %" */
    const char *why;     /* source of the default, or the conversion made */
};

/*
 * Everything a profile says. Arrays are in the order of the profile, so that results come in an order the
 * user knows; a kind of thing the boat has none of has count 0 and a pointer that means nothing. Complete
 * after linking: pointers between things are set, defaults filled.
 */
struct boat {
    const char *name;
    struct range dc_voltage;   /* [V] nominal of the house bus */
    struct range ac_voltage;   /* [V] */
    struct range ac_frequency; /* [Hz] */
    struct range crew;         /* [-] */
    struct site site;
    struct plan plan;
    struct shore shore;
    struct rules_choice rules;
    struct prices prices;
    const struct day_kind *days;
    size_t day_count;
    const struct bank *banks;
    size_t bank_count;
    const struct solar *solars;
    size_t solar_count;
    const struct engine *engines;
    size_t engine_count;
    const struct alternator *alternators;
    size_t alternator_count;
    const struct generator *generators;
    size_t generator_count;
    const struct charger *chargers;
    size_t charger_count;
    const struct inverter *inverters;
    size_t inverter_count;
    const struct dcdc *dcdcs;
    size_t dcdc_count;
    const struct load *loads;
    size_t load_count;
    const struct cable *cables;
    size_t cable_count;
    const struct seen *seens;
    size_t seen_count;
    const struct measured *measureds;
    size_t measured_count;
    const struct assumption *assumptions;
    size_t assumption_count;
    const struct document *source; /* what it was read from, for places of remarks; NULL: made by a program */
};

/* The house bank, or NULL where the profile has none. Linking has refused a second one. */
const struct bank *boat_house_bank(const struct boat *boat);

/* How many different sources of AC she has: shore, inverter, generator; 0..3. From two on a selector must
 * keep them apart. */
int boat_ac_sources(const struct boat *boat);

/* What things of that name there are, as enum seen_thing bits; 0: none. A name may belong to several
 * ("windlass" as a load and its cable). */
unsigned boat_things(const struct boat *boat, const char *name);

/* What somebody said of a thing, by its exact name; NULL: nothing. */
const struct seen *boat_seen(const struct boat *boat, const char *name);
const struct measured *boat_measured(const struct boat *boat, const char *name);

/* The answer to a question about a thing; SEEN_UNKNOWN where nobody looked, which never counts as good. */
enum seen_word boat_fact(const struct boat *boat, const char *name, enum seen_fact fact);

/*
 * How a fact is typed, what it can be asked of (enum seen_thing bits), and what it asks. Static, never NULL.
 */
const char *seen_name(enum seen_fact fact);
unsigned seen_of(enum seen_fact fact);
const char *seen_meaning(enum seen_fact fact);

/* Index of a day kind in boat->days; day must point into it. */
size_t boat_day_index(const struct boat *boat, const struct day_kind *day);

/* How a load is used on a day kind: its own .KIND form, or the general one. Never
 * NULL; kind USAGE_NONE: not at all. */
const struct usage *load_usage(const struct load *load, size_t day_index);

/* Share [-] 0..1 of its on-time that the load runs on a day kind: its own, or the general one. */
double load_duty(const struct load *load, size_t day_index);

/* Of the whole bank as labelled: nominal volts [V], blocks [-], ampere-hours [Ah] at rated_hours, before
 * health and temperature. What it is worth in use: parts/bank.h. */
double bank_nominal_voltage(const struct bank *bank);
double bank_blocks(const struct bank *bank);
double bank_rated_ah(const struct bank *bank);

#endif

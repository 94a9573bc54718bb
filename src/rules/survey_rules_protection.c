/* survey_rules_protection.c - rules of fuses and breakers on DC cables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "parts/fuse.h"
#include "parts/rounding.h"
#include "rules/survey_rule.h"

/*
 * Each run is judged by one rule of presence only: a link between banks by FUS-08, the runs of chargers,
 * alternators and panels by FUS-09 to FUS-11, all others by FUS-01. Rating, place and breaking are then
 * asked of whatever device is known.
 */

static const struct cable *cable_of(const struct survey_case *c)
{
    return c->thing;
}

/* AC runs have breakers of their own, which the profile does not hold. */
static int is_dc(const struct survey_case *c)
{
    const struct circuit_cable *found = case_cable(c, c->name);

    return found && strcmp(found->system, "dc") == 0;
}

/* Runs of chargers, alternators and panels: FUS-09 to FUS-11 ask for their protection. */
static int charges(const struct survey_case *c)
{
    return cable_meets(c, cable_of(c), ON_CHARGER | ON_ALTERNATOR | ON_OTHER);
}

static int is_link(const struct survey_case *c);

/* A run that must be protected, and is not judged by another rule of this file. */
static int wants_fuse(const struct survey_case *c)
{
    const struct circuit_cable *found = case_cable(c, c->name);

    return is_dc(c) && !cable_cranks(c, cable_of(c)) && !charges(c) && !is_link(c) &&
           (found->fuse_needed || range_known(&cable_of(c)->fuse) || cable_of(c)->unfused);
}

static int has_rated_fuse(const struct survey_case *c)
{
    return is_dc(c) && !cable_cranks(c, cable_of(c)) &&
           cable_protection(c, cable_of(c)).how == PROTECTION_RATED;
}

static int has_own_fuse(const struct survey_case *c)
{
    return has_rated_fuse(c) && range_known(&cable_of(c)->fuse);
}

/* What feeds it can drive a short that is known: not so behind a converter, which limits itself. */
static int has_fault(const struct survey_case *c)
{
    return has_rated_fuse(c) && case_cable(c, c->name)->fault_a > 0;
}

static int has_own_fuse_and_fault(const struct survey_case *c)
{
    return has_own_fuse(c) && has_fault(c);
}

/* --- presence --- */

/*
 * A fuse whose rating nobody read is protection all the same; whether it is the right one, other rules ask.
 */
static void judge_presence(struct survey_case *c, const struct cable *cable, const char *what)
{
    const struct protected_by by = cable_protection(c, cable);

    switch (by.how) {
    case PROTECTION_RATED:
        case_complies(c, SAY(c, "%s protected by %.4g A%s", what, by.rating_a,
                             by.at_panel ? ", breaker at the panel" : ""));
        break;
    case PROTECTION_UNRATED:
        case_complies(c, SAY(c, "%s has a fuse, rating not read", what));
        break;
    case PROTECTION_NONE:
        case_fails(c, SAY(c, "%s has no fuse or breaker", what));
        break;
    case PROTECTION_UNKNOWN:
        case_not_verified(c, SAY(c, "whether %s has a fuse is not said", what),
                          SAY(c, "[cable %s] fuse = RATING or none", cable->name));
    }
}

/* FUS-01. Waits for a fuse, for "none", or for [seen] fused. */
static void test_fuse_present(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);

    judge_presence(c, cable,
                   range_known(&cable->area)
                       ? SAY(c, "%.4g mm2 from %s to %s", cable->area.value * 1e6, cable->from, cable->to)
                       : SAY(c, "run from %s to %s", cable->from, cable->to));
}

/* FUS-09, FUS-10, FUS-11. The first cable that has an end at the machine. */
static void test_output_protected(struct survey_case *c)
{
    const struct cable *cable = cable_touching(c->input->boat, c->name);
    const double limit = c->input->rules->charge_distance_m;

    if (cable && limit > 0 && range_known(&cable->charge_distance) &&
        !at_most(cable->charge_distance.value, limit)) {
        c->cite = &c->input->rules->charge_cite;
        case_fails(c, SAY(c, "device of output cable %s %.3g m from it; at most %.3g m", cable->name,
                          cable->charge_distance.value, limit));
    } else if (cable)
        judge_presence(c, cable, SAY(c, "output cable %s", cable->name));
    else
        case_not_verified(c, "its output cable is not in the profile",
                          SAY(c, "a [cable NAME] with an end at %s", c->name));
}

/* --- links between banks --- */

/* 1 where a bank other than `but` can be reached from a node without that cable, over
 * `depth` cables at most: so a loop ends. */
static int bank_behind(const struct boat *boat, const struct cable *without, const char *node,
                       const char *but, size_t depth)
{
    for (size_t i = 0; i < boat->bank_count; i++)
        if (strcmp(boat->banks[i].name, node) == 0)
            return strcmp(node, but) != 0;
    for (size_t i = 0; depth > 0 && i < boat->cable_count; i++) {
        const struct cable *cable = &boat->cables[i];

        if (cable == without)
            continue;
        if (strcmp(cable->from, node) == 0 && bank_behind(boat, cable, cable->to, but, depth - 1))
            return 1;
        if (strcmp(cable->to, node) == 0 && bank_behind(boat, cable, cable->from, but, depth - 1))
            return 1;
    }
    return 0;
}

/* How many cables a link may be away from the second bank: bank, bus, switch, bus. */
enum { LINK_DEPTH = 3 };

/* From one bank to another: its own cable where it is no house bank, or a cable straight from bank to bank.
 */
static int is_link(const struct survey_case *c)
{
    const struct boat *boat = c->input->boat;
    const struct cable *cable = cable_of(c);

    for (size_t i = 0; i < boat->bank_count && !cable_cranks(c, cable); i++) {
        const char *bank = boat->banks[i].name;
        const size_t depth = boat->banks[i].role == BANK_HOUSE ? 0 : LINK_DEPTH;

        if ((strcmp(cable->from, bank) == 0 && bank_behind(boat, cable, cable->to, bank, depth)) ||
            (strcmp(cable->to, bank) == 0 && bank_behind(boat, cable, cable->from, bank, depth)))
            return 1;
    }
    return 0;
}

/* FUS-08. One fuse typed in the cable is one end; only eyes tell of the other. */
static void test_link(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const enum seen_word both = case_seen(c, SEEN_FUSED_BOTH_ENDS);

    if (cable_protection(c, cable).how == PROTECTION_NONE || both == SEEN_NO)
        case_fails(c, SAY(c, "joins two sources and is %s",
                          both == SEEN_NO && range_known(&cable->fuse) ? "fused at one end only"
                                                                       : "not fused at both ends"));
    else if (both == SEEN_YES)
        case_complies(c, "fused at both ends");
    else
        case_not_verified(c, "joins two sources; fuses at both ends not reported",
                          SAY(c, "[seen %s] fused_both_ends: yes or no?", c->name));
}

/* --- place and rating --- */

static int at_battery(const struct survey_case *c)
{
    return cable_meets(c, cable_of(c), ON_BANK);
}

static int distance_ruled(const struct survey_case *c)
{
    const double limit = wiring_fuse_distance(c->input->rules, cable_of(c)->sheathed, at_battery(c));

    return has_own_fuse(c) && limit >= 0;
}

/* FUS-02. The best of the set's conditions that hold; waits for fuse_distance. */
static void test_distance(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const double limit = wiring_fuse_distance(c->input->rules, cable->sheathed, at_battery(c));
    const char *sheath = cable->sheathed ? "in a sheath" : "not in a sheath";

    c->cite = &c->input->rules->distance_cite;
    if (!range_known(&cable->fuse_distance))
        case_not_verified(c,
                          SAY(c,
                              "distance of the %.4g A fuse from its source not measured; at most %.3g m, %s",
                              cable->fuse.value, limit, sheath),
                          SAY(c, "[cable %s] fuse_distance", c->name));
    else if (limit > 100) /* any distance, so long as it is sheathed */
        case_complies(c, SAY(c, "fuse %.3g m from its source, %s: any distance is allowed so",
                             cable->fuse_distance.value, sheath));
    else
        case_judge(c, at_most(cable->fuse_distance.value, limit),
                   SAY(c, "fuse %.3g m from its source, %s; at most %.3g m", cable->fuse_distance.value,
                       sheath, limit));
}

/* FUS-03. Allowed by the set at the low and the high end of what the cable may
 * carry: not verified where they differ. */
static void test_rating(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const struct protected_by by = cable_protection(c, cable);
    const double volts = case_cable(c, c->name)->nominal_v;
    struct ampacity_band band;
    int at_low, at_high;
    const char *fact;

    c->cite = &c->input->rules->fuse_cite;
    if (!range_known(&cable->area)) {
        case_not_verified(c, SAY(c, "%.4g A device on a cable whose size is not known", by.rating_a),
                          SAY(c, "[cable %s] area, as printed on the jacket", c->name));
        return;
    }
    band = cable_ampacity_band(c, cable);
    at_low = wiring_fuse_allowed(c->input->rules, by.rating_a, band.low_a, volts);
    at_high = wiring_fuse_allowed(c->input->rules, by.rating_a, band.high_a, volts);
    fact = band.low_a == band.high_a
               ? SAY(c, "%.4g A device on a cable that carries %.0f A (%s); at most %.4g A", by.rating_a,
                     band.low_a, band.why, wiring_fuse_limit(c->input->rules, band.low_a, volts))
               : SAY(c, "%.4g A device on a cable that carries %.0f A to %.0f A (%s)", by.rating_a,
                     band.low_a, band.high_a, band.why);
    if (at_low != at_high)
        case_not_verified(c, fact, band.need);
    else
        case_judge(c, at_low, fact);
}

/* FUS-04. Steady current of the hardest scenario within the rating. */
static void test_carries_load(struct survey_case *c)
{
    const struct protected_by by = cable_protection(c, cable_of(c));
    const struct circuit_cable *found = case_cable(c, c->name);

    case_judge(c, at_least(by.rating_a, found->design_a),
               SAY(c, "%.4g A device for a steady %.1f A (%s)", by.rating_a, found->design_a,
                   scenario_words(found->design_scenario)));
}

/* --- breaking the fault --- */

/*
 * FUS-05. Breaking capacity against the short-circuit current at the end nearer to the
 * source. Priority A where the house bank is lithium. A set with a table of its own is
 * cited; the computed fault decides all the same.
 */
static void test_interrupt(struct survey_case *c)
{
    const struct circuit_cable *found = case_cable(c, c->name);
    const struct cable *cable = cable_of(c);
    const int lithium = c->input->boat->bank_count && boat_house_bank(c->input->boat) &&
                        boat_house_bank(c->input->boat)->chemistry == CHEMISTRY_LFP;

    c->priority = lithium ? 'A' : 'B';
    if (found->fuse_remarks & FUSE_LEANS)
        c->cite = &c->input->rules->breaking_cite;
    else if (c->input->rules->interrupts)
        c->cite = &c->input->rules->interrupt_cite;
    if (!(found->fuse_interrupt_a > 0))
        case_not_verified(
            c,
            SAY(c, "a short behind the fuse draws %.0f A; what the fuse can break is not known",
                found->fault_a),
            SAY(c, "[cable %s] fuse_interrupt, or the class behind the amps of fuse", cable->name));
    else if (found->fuse_remarks & FUSE_LEANS) /* what is let through, only the makers' tables can say */
        case_complies(c, SAY(c, "fuse %s", found->fuse_note));
    else
        case_judge(c, at_least(found->fuse_interrupt_a, found->fault_a),
                   SAY(c, "fuse breaks %.0f A; a short behind it draws %.0f A", found->fuse_interrupt_a,
                       found->fault_a));
}

static const struct fuse_family *family_of(const struct survey_case *c)
{
    const struct cable *cable = cable_of(c);

    return cable->fuse_class ? fuse_family_find(cable->fuse_class) : NULL;
}

/* FUS-06. Waits for the class behind the amperes: the family tells the volts. */
static void test_voltage(struct survey_case *c)
{
    const struct fuse_family *family = family_of(c);
    const double volts = case_cable(c, c->name)->nominal_v;

    if (!family)
        case_not_verified(
            c,
            SAY(c, "kind of the %.4g A fuse on a %.0f V circuit not known", cable_of(c)->fuse.value, volts),
            SAY(c, "[cable %s] fuse = %.4g A and its class", c->name, cable_of(c)->fuse.value));
    else
        case_judge(c, fuse_family_volts(family) >= volts,
                   SAY(c, "%s fuse, made for up to %.0f V DC, on a %.0f V circuit", family->name,
                       fuse_family_volts(family), volts));
}

/* FUS-07. Conductors hot, bank full: twice the rating opens a fuse within 5 s (ISO 8820-3, from memory). */
static void test_far_end(struct survey_case *c)
{
    const struct circuit_cable *found = case_cable(c, c->name);
    const double rating = cable_protection(c, cable_of(c)).rating_a;

    case_judge(c, at_least(found->fault_far_a, fuse_sure_multiple * rating),
               SAY(c,
                   "a short at the far end draws %.0f A; a %.4g A device opens for sure within 5 s at %.0f A",
                   found->fault_far_a, rating, fuse_sure_multiple * rating));
}

/* --- machines --- */

static int alternator_fuse_known(const struct survey_case *c)
{
    const struct cable *cable = cable_touching(c->input->boat, c->name);

    return cable && cable_protection(c, cable).how != PROTECTION_NONE;
}

/* FUS-12. Cold output, for that is what the first minutes give; under a current limit no more. */
static void test_alternator_fuse(struct survey_case *c)
{
    const struct alternator *a = c->thing;
    const struct cable *cable = cable_touching(c->input->boat, c->name);
    const struct protected_by by = cable_protection(c, cable);
    const double most = fmin(a->rated_current.value, range_or(&a->current_limit, a->rated_current.value));

    if (by.how != PROTECTION_RATED)
        case_not_verified(c, SAY(c, "fuse of an alternator that gives %.0f A not read", most),
                          SAY(c, "[cable %s] fuse", cable->name));
    else
        case_judge(c, by.rating_a >= most,
                   SAY(c, "%.4g A device on an alternator that gives %.0f A cold", by.rating_a, most));
}

static const char no_fuse[] = "no cable with a fuse whose rating was read";

/* Fuses and breakers FUS-. 33 CFR 183.455 (read) is the main basis; distances, ratings and interrupt tables
 * come from the set that judges (parts/wiring.h). */
const struct survey_rule rules_protection[] = {
    {
        .id = "FUS-01", .title = "conductor protected at its source", .area = AREA_PROTECTION,
            .priority = 'A', .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_fuse_present, .applies = wants_fuse,
        .needs = "[cable] fuse, or [seen] fused",
        .absent = "no cable that needs a fuse of its own",
        .risk = "A short on an unprotected conductor sets it alight.",
        .action = "Protection at the source, rated for the cable and for the fault current there.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.455", "(a), (b)", KNOWN_READ }, NULL },
            { BY_ABYC, { "ABYC E-11", "protection of every ungrounded conductor", KNOWN_QUOTED }, NULL },
            { BY_ISO, { "ISO 10133:2012 and ISO 13297:2020", "clauses 8.1 and 12.1", KNOWN_MEMORY }, NULL },
            { BY_NONE, { "46 CFR 183.350", "(g)", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "FUS-02", .title = "distance from the source", .area = AREA_PROTECTION, .priority = 'A',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_distance, .applies = distance_ruled,
        .needs = "[cable] fuse_distance, sheathed",
        .absent = no_fuse,
        .risk = "What lies between source and fuse is not protected.",
        .action = "Protection within the distance of the clause.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.455", "(b)", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "FUS-03", .title = "rating against the conductor", .area = AREA_PROTECTION,
            .priority = 'A', .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_rating, .applies = has_rated_fuse,
        .needs = "[cable] area, insulation, place, bundle",
        .absent = no_fuse,
        .risk = "The cable burns before the fuse opens.",
        .action = "Rating within what the set allows on this cable where it lies.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.455", "(c)", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "FUS-04", .title = "device carries its load", .area = AREA_PROTECTION, .priority = 'B',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_carries_load, .applies = has_rated_fuse,
        .needs = "cables and loads",
        .absent = no_fuse,
        .risk = "A device run over its rating opens when it is needed least, and ages.",
        .action = "Rating above the steady current, within what the cable allows.",
        .bases = {
            PRACTICE("steady current within the rating; 80 % of it for hours (NEC 210.19)"),
        },
    },
    {
        .id = "FUS-05", .title = "breaking capacity", .area = AREA_PROTECTION, .priority = 'B',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_interrupt, .applies = has_own_fuse_and_fault,
        .needs = "[cable] fuse with class, fuse_interrupt",
        .absent = no_fuse,
        .risk = "A fuse that cannot break the fault bursts or arcs on. Priority A on a lithium bank.",
        .action = "Breaking capacity above the fault current at its place.",
        .bases = {
            { BY_ABYC, { "ABYC E-11", "Table V-A", KNOWN_QUOTED }, NULL },
            { BY_ISO, { "ISO 10133:2012", "clause 8", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "FUS-06", .title = "voltage rating", .area = AREA_PROTECTION, .priority = 'B', .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_voltage, .applies = has_own_fuse,
        .needs = "[cable] fuse with class",
        .absent = no_fuse,
        .risk = "Over its voltage a fuse or breaker arcs instead of opening.",
        .action = "A device rated for DC at the circuit's voltage or more.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.455", "(d)", KNOWN_READ }, NULL },
            { BY_ISO, { "ISO 10133:2012", "clause 8", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "FUS-07", .title = "far end short opens it", .area = AREA_PROTECTION, .priority = 'B',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_far_end, .applies = has_fault,
        .needs = "cables",
        .absent = no_fuse,
        .risk = "A short at the end of a long thin run glows and is never cleared.",
        .action = "Rating low enough, or cable thick enough, that a short at the far end opens the device.",
        .bases = {
            { BY_NONE, { "ISO 8820-3", "opens within 5 s at twice its rating", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "FUS-08", .title = "link protected at both ends", .area = AREA_PROTECTION,
            .priority = 'A', .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_link, .applies = is_link,
        .needs = "[seen] fused_both_ends",
        .absent = "no cable that joins two banks",
        .risk = "Both ends feed a short: one fuse leaves the other bank to burn the cable.",
        .action = "Protection at each bank for the cable between them.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.455", "(b), each source", KNOWN_READ }, NULL },
            PRACTICE("both ends are sources"),
        },
    },
    {
        .id = "FUS-09", .title = "charger output protected", .area = AREA_PROTECTION, .priority = 'A',
            .of = EACH_CHARGER,
        .seen = NOT_SEEN, .test = test_output_protected,
        .needs = "[cable] fuse",
        .risk = "The bank feeds a short in the charger's cable; the charger cannot stop it.",
        .action = "Protection at the bank end, and at the charger within 1.8 m where it does not "
            "limit itself.",
        .bases = {
            { BY_ISO13297, { "ISO 13297:2020", "clause 12.3", KNOWN_QUOTED }, "in the source or "
                "within 1.8 m of it as well" },
            { BY_CFR183, { "33 CFR 183.455", "(b)", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "FUS-10", .title = "alternator output protected", .area = AREA_PROTECTION,
            .priority = 'A', .of = EACH_ALTERNATOR,
        .seen = NOT_SEEN, .test = test_output_protected,
        .needs = "[cable] fuse",
        .risk = "The bank feeds a short in the alternator or its cable, in a hot engine space.",
        .action = "Protection at the bank end of the alternator's cable.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.460", "(a), (b)", KNOWN_MEMORY }, NULL },
            { BY_ISO13297, { "ISO 13297:2020", "clause 12.3", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "FUS-11", .title = "solar output protected", .area = AREA_PROTECTION, .priority = 'B',
            .of = EACH_SOLAR,
        .seen = NOT_SEEN, .test = test_output_protected,
        .needs = "[cable] fuse",
        .risk = "The bank feeds a short in the controller or its cable.",
        .action = "Protection at the bank end of the controller's cable.",
        .bases = {
            { BY_ISO13297, { "ISO 13297:2020", "clause 12.3", KNOWN_QUOTED }, NULL },
            { BY_CFR183, { "33 CFR 183.455", "(b)", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "FUS-12", .title = "alternator fuse carries its output", .area = AREA_PROTECTION,
            .priority = 'B', .of = EACH_ALTERNATOR,
        .seen = NOT_SEEN, .test = test_alternator_fuse, .applies = alternator_fuse_known,
        .needs = "[cable] fuse",
        .absent = "no alternator with a fuse",
        .risk = "A fuse that opens under charge leaves the alternator without a battery: its diodes "
            "and what hangs on it go.",
        .action = "Rating above the cold output, within what the cable allows.",
        .bases = {
            PRACTICE("not below the cold rating"),
            { BY_CFR183, { "33 CFR 183.460", "(b), at most 120 % of its largest " "rated current "
                "where it does not limit itself", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "FUS-13", .title = "devices in the live pole", .area = AREA_PROTECTION, .priority = 'A',
            .of = THE_PANEL,
        .seen = SEEN_FUSES_IN_LIVE,
        .good = "fuses and single-pole breakers stand in the unearthed pole",
        .bad = "a fuse or single-pole breaker stands in the earthed pole",
        .risk = "When it opens, the circuit looks dead and is live.",
        .action = "Earthed pole never fused alone.",
        .bases = {
            { BY_NONE, { "46 CFR 183.380", "(b)", KNOWN_READ }, NULL },
            { BY_NONE, { "UK inland waters small passenger boat code", "8.2.2, 8.2.3", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "FUS-14", .title = "spare fuses on board", .area = AREA_PROTECTION, .priority = 'C',
            .of = THE_PANEL,
        .seen = SEEN_SPARE_FUSES,
        .good = "one spare of each fuse",
        .bad = "fuses without a spare",
        .risk = "A blown fuse at sea is bridged with whatever is to hand.",
        .action = "One spare of every kind and rating.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    { .id = NULL }
};

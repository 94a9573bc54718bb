/* survey_rules_ac.c - rules of the shore supply, generators and the AC panel.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "rules/survey_rule.h"

/*
 * Almost all of it is for eyes and instruments: [seen shore], [seen panel], [seen boat], [seen GENERATOR].
 * The program works out one figure alone, what the inlet may be asked to carry.
 */

/* Mains volts somewhere on board, from whatever source. */
static int has_ac(const struct survey_case *c)
{
    return boat_ac_sources(c->input->boat) > 0;
}

static int has_other_source(const struct survey_case *c)
{
    return c->input->boat->inverter_count > 0 || c->input->boat->generator_count > 0;
}

/* Shore, inverter, generator: more than one kind of them can meet. */
static int has_two_sources(const struct survey_case *c)
{
    return boat_ac_sources(c->input->boat) > 1;
}

/* --- what the inlet is asked to carry --- */

/* SHO-01. Everything on AC at once against the inlet's rating; from the
 * circuit, so not verified without cables. */
static void test_inlet_load(struct survey_case *c)
{
    const struct circuit *circuit = c->input->circuit;

    for (size_t i = 0; circuit && i < circuit->ac_source_count; i++) {
        const struct circuit_ac_source *s = &circuit->ac_sources[i];

        if (strcmp(s->kind, "shore") != 0)
            continue;
        case_judge(c, s->carries,
                   SAY(c, "everything on AC at once: %.0f W on an inlet of %.0f W (%.0f A)", s->load_w,
                       s->limit_w, c->input->boat->shore.current.value));
        return;
    }
    case_not_verified(c,
                      SAY(c, "load on the %.0f A inlet not worked out", c->input->boat->shore.current.value),
                      "[cable] sections, so that the circuit can be worked out");
}

/* --- the first breaker --- */

/* Greatest distance from inlet to breaker [m]: 0.5 by ISO; 10 ft by ABYC, from memory, and for cfr183 as a
 * yardstick. */
static double breaker_limit(const struct survey_case *c)
{
    return case_set(c) & BY_ISO ? 0.5 : 3.048;
}

/* SHO-02. Within the limit: complies. Beyond it up to 3 m where the cable lies in conduit or sheath, by ISO
 * 13297 13.2; so the second question is asked only where it decides. */
static void test_breaker_distance(struct survey_case *c)
{
    const struct seen *seen = boat_seen(c->input->boat, "shore");
    const double limit = breaker_limit(c);
    const enum seen_word sheathed = case_seen(c, SEEN_BREAKER_SHEATHED);

    if (!seen || !range_known(&seen->breaker_distance))
        case_not_verified(c,
                          SAY(c, "distance from inlet to first breaker not measured; at most %.3g m", limit),
                          "[seen shore] breaker_distance");
    else if (seen->breaker_distance.value <= limit + 1e-4)
        case_complies(c, SAY(c, "first breaker %.3g m from the inlet; at most %.3g m",
                             seen->breaker_distance.value, limit));
    else if (sheathed == SEEN_UNKNOWN)
        case_not_verified(c,
                          SAY(c, "first breaker %.3g m from the inlet; over %.3g m only in conduit or sheath",
                              seen->breaker_distance.value, limit),
                          "[seen shore] breaker_sheathed: yes or no?");
    else
        case_judge(
            c, sheathed == SEEN_YES && seen->breaker_distance.value <= 3.048,
            SAY(c, "first breaker %.3g m from the inlet, %s; at most %.3g m, or 3 m in conduit or sheath",
                seen->breaker_distance.value, sheathed == SEEN_YES ? "in conduit or sheath" : "open", limit));
}

/* --- polarity and galvanic current --- */

/* A transformer answers both questions below: nothing on board is joined to the shore's conductors. */
static int has_transformer(const struct survey_case *c)
{
    return case_seen(c, SEEN_ISOLATION_TRANSFORMER) == SEEN_YES;
}

/* SHO-05. Waits for [seen shore] polarity_lamp. */
static void test_polarity(struct survey_case *c)
{
    const enum seen_word lamp = case_seen(c, SEEN_POLARITY_LAMP);

    if (has_transformer(c))
        case_complies(c, "an isolation transformer sets the polarity on board");
    else if (lamp == SEEN_UNKNOWN)
        case_not_verified(c, "not reported whether reversed polarity shows",
                          "[seen shore] polarity_lamp: yes or no?");
    else
        case_judge(c, lamp == SEEN_YES,
                   lamp == SEEN_YES ? "reversed polarity shows, or every branch opens both poles"
                                    : "reversed polarity does not show, and branches open one pole only");
}

/* SHO-06. Waits for galvanic_isolator, unless a transformer is fitted. */
static void test_galvanic(struct survey_case *c)
{
    const enum seen_word fitted = case_seen(c, SEEN_GALVANIC_ISOLATOR);

    if (has_transformer(c))
        case_complies(c, "an isolation transformer is fitted");
    else if (fitted == SEEN_YES)
        case_complies(c, "a galvanic isolator is fitted");
    else if (fitted == SEEN_NO)
        case_fails(c, "neither galvanic isolator nor isolation transformer");
    else
        case_not_verified(c, "not reported whether the earth conductor is isolated",
                          "[seen shore] galvanic_isolator or isolation_transformer: yes or no?");
}

static int has_isolator(const struct survey_case *c)
{
    return case_seen(c, SEEN_GALVANIC_ISOLATOR) == SEEN_YES;
}

#define ISO(clause_, known_)                                                                                 \
    {                                                                                                        \
        BY_ISO13297, { "ISO 13297:2020", clause_, known_ }, NULL                                             \
    }
#define SCHEME(clause_)                                                                                      \
    {                                                                                                        \
        BY_NONE, { "UK inland boat safety scheme", clause_, KNOWN_READ }, NULL                               \
    }

static const char no_shore[] = "no shore supply", no_ac[] = "no AC on board",
                  one_source[] = "no second AC source";

/* Shore inlet SHO-, AC sources and panel ACS-. Mostly clauses of ISO 13297:2020, as quoted; no row stands on
 * 33 CFR 183, so by that set these rules name the book they come from. */
const struct survey_rule rules_ac[] = {
    {
        .id = "SHO-01", .title = "inlet against its loads", .area = AREA_AC, .priority = 'C', .of = THE_SHORE,
        .seen = NOT_SEEN, .test = test_inlet_load,
        .needs = "[shore] current; AC loads",
        .absent = no_shore,
        .risk = "The pedestal trips at breakfast, or the lead overheats without tripping.",
        .action = "A list of what may run together, and a charger limited to what the inlet leaves.",
        .bases = {
            PRACTICE("everything at once is the hardest case; see the hand-over sheet"),
        },
    },
    {
        .id = "SHO-02", .title = "first breaker near the inlet", .area = AREA_AC, .priority = 'A',
            .of = THE_SHORE,
        .seen = NOT_SEEN, .test = test_breaker_distance,
        .needs = "[seen shore] breaker_distance, breaker_sheathed",
        .absent = no_shore,
        .risk = "A short between inlet and breaker burns until the pedestal opens, if it does.",
        .action = "First breaker within the distance of the clause.",
        .bases = {
            ISO("clause 13.2, 0.5 m; the 3 m in conduit from memory", KNOWN_QUOTED),
            { BY_ABYC, { "ABYC E-11", "10 ft", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "SHO-03", .title = "first breaker opens both poles", .area = AREA_AC, .priority = 'A',
            .of = THE_SHORE,
        .seen = SEEN_DOUBLE_POLE,
        .good = "opens both poles",
        .bad = "opens one pole only",
        .absent = no_shore,
        .risk = "With reversed polarity the boat stays live behind an open breaker.",
        .action = "First breaker opens all current-carrying conductors at once.",
        .bases = {
            ISO("clause 13.2.1", KNOWN_QUOTED),
        },
    },
    {
        .id = "SHO-04", .title = "residual-current device on shore", .area = AREA_AC, .priority = 'A',
            .of = THE_SHORE,
        .seen = SEEN_RCD_TESTED,
        .good = "tripped by an instrument on shore",
        .bad = "did not trip by an instrument on shore",
        .absent = no_shore,
        .risk = "A live case kills, and leaking current kills swimmers; the button alone does not "
            "prove the path through earth.",
        .action = "Device trips on an instrument's fault current.",
        .bases = {
            { BY_ISO13297, { "ISO 13297:2020", "residual-current device, 30 mA within 100 ms",
                KNOWN_MEMORY }, "30 mA or less within 100 ms" },
        },
    },
    {
        .id = "SHO-05", .title = "reversed polarity shows", .area = AREA_AC, .priority = 'B', .of = THE_SHORE,
        .seen = NOT_SEEN, .test = test_polarity,
        .needs = "[seen shore] polarity_lamp, isolation_transformer",
        .absent = no_shore,
        .risk = "Switches open the neutral and leave the appliance live.",
        .action = "Reversed polarity shows at the panel, or does no harm.",
        .bases = {
            ISO("clause 6.10", KNOWN_QUOTED),
        },
    },
    {
        .id = "SHO-06", .title = "galvanic current kept out", .area = AREA_AC, .priority = 'B',
            .of = THE_SHORE,
        .seen = NOT_SEEN, .test = test_galvanic,
        .needs = "[seen shore] galvanic_isolator, isolation_transformer",
        .absent = no_shore,
        .risk = "The shore's earth joins the boat to her neighbours and eats drives and skin fittings.",
        .action = "Earth conductor isolated against galvanic current, never against a fault.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "SHO-07", .title = "isolator keeps the earth", .area = AREA_AC, .priority = 'B',
            .of = THE_SHORE,
        .seen = SEEN_ISOLATOR_FAIL_SAFE, .applies = has_isolator,
        .good = "in series, and keeps the earth when it fails",
        .bad = "bypassed, or may open the earth when it fails",
        .absent = "no galvanic isolator",
        .risk = "A failed isolator leaves the boat without earth; a bypassed one does nothing.",
        .action = "Isolator in series in the earth conductor, of a kind that fails closed.",
        .bases = {
            ISO("clause 6.9", KNOWN_QUOTED),
        },
    },
    {
        .id = "SHO-08", .title = "inlet pins dead off shore", .area = AREA_AC, .priority = 'A',
            .of = THE_SHORE,
        .seen = SEEN_PINS_DEAD, .applies = has_other_source,
        .good = "pins dead on generator and inverter",
        .bad = "pins live on generator or inverter",
        .absent = "no shore inlet beside another AC source",
        .risk = "Whoever touches the open inlet is killed.",
        .action = "No pin of the inlet live from a source on board.",
        .bases = {
            ISO("shore inlet", KNOWN_MEMORY),
            SCHEME("3.9.1"),
        },
    },
    {
        .id = "SHO-09", .title = "inlet and lead sound", .area = AREA_AC, .priority = 'A', .of = THE_SHORE,
        .seen = SEEN_INLET_SOUND,
        .good = "no mark of heat or corrosion",
        .bad = "marks of heat or corrosion",
        .absent = no_shore,
        .risk = "Most AC fires begin at the inlet.",
        .action = "Inlet, lead and adaptors without marks of heat, rated for the pedestal.",
        .bases = {
            SCHEME("3.8.1 to 3.8.3"),
        },
    },
    {
        .id = "ACS-01", .title = "sources cannot meet", .area = AREA_AC, .priority = 'A', .of = THE_BOAT,
        .seen = SEEN_SOURCES_INTERLOCKED, .applies = has_two_sources,
        .good = "a selector or interlock keeps them apart",
        .bad = "two AC sources can feed the panel at once",
        .absent = one_source,
        .risk = "Two sources out of step destroy each other and put the inlet's pins live.",
        .action = "Change-over that makes two sources at once impossible.",
        .bases = {
            ISO("change-over clause", KNOWN_MEMORY),
            SCHEME("3.9.1"),
        },
    },
    {
        .id = "ACS-02", .title = "neutral and earth joined at the generator", .area = AREA_AC,
            .priority = 'A', .of = EACH_GENERATOR,
        .seen = SEEN_NEUTRAL_BONDED,
        .good = "joined at the generator while it feeds, and only there",
        .bad = "not joined while it feeds, or joined in two places",
        .risk = "Without it a residual-current device does not act on a live case; with two, current "
            "runs in the earth.",
        .action = "One joint of neutral and earth, at the source in use.",
        .bases = {
            ISO("clause 6.8", KNOWN_QUOTED),
            { BY_ABYC, { "ABYC E-11", "bond at the source in use only", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "ACS-03", .title = "residual-current device on generator", .area = AREA_AC,
            .priority = 'A', .of = EACH_GENERATOR,
        .seen = SEEN_RCD_TESTED,
        .good = "tripped by an instrument on generator",
        .bad = "did not trip by an instrument on generator",
        .risk = "A live case kills; the test button alone does not prove the path through earth.",
        .action = "Device trips on an instrument's fault current in this mode.",
        .bases = {
            { BY_ISO13297, { "ISO 13297:2020", "residual-current device, 30 mA within 100 ms",
                KNOWN_MEMORY }, "30 mA or less within 100 ms" },
        },
    },
    {
        .id = "ACS-04", .title = "live parts out of reach", .area = AREA_AC, .priority = 'A', .of = THE_PANEL,
        .seen = SEEN_LIVE_PARTS_COVERED, .applies = has_ac,
        .good = "no live AC part within reach",
        .bad = "a live AC part can be touched",
        .absent = no_ac,
        .risk = "Whoever reaches behind the panel is killed.",
        .action = "Live parts behind covers that need a tool.",
        .bases = {
            ISO("enclosures, IP 2X", KNOWN_MEMORY),
        },
    },
    {
        .id = "ACS-05", .title = "AC and DC sockets differ", .area = AREA_AC, .priority = 'B',
            .of = THE_PANEL,
        .seen = SEEN_SOCKETS_DIFFER, .applies = has_ac,
        .good = "sockets of different pattern",
        .bad = "an AC plug fits a DC socket",
        .absent = no_ac,
        .risk = "A 12 V appliance on mains burns; a mains plug in a DC socket hides a live pair.",
        .action = "Patterns that do not take each other's plugs.",
        .bases = {
            SCHEME("system page"),
        },
    },
    {
        .id = "ACS-06", .title = "warning at the AC panel", .area = AREA_AC, .priority = 'C', .of = THE_PANEL,
        .seen = SEEN_WARNING_LABEL, .applies = has_ac,
        .good = "warning sign at the panel",
        .bad = "no warning sign",
        .absent = no_ac,
        .risk = "Who opens the panel for the DC side does not expect mains.",
        .action = "A sign that warns of mains at the panel.",
        .bases = {
            ISO("warning sign", KNOWN_MEMORY),
        },
    },
    { .id = NULL }
};

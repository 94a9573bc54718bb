/* survey_case.c - what the tests of rules may ask of the boat, the circuit and the rule set.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "rules/survey_rule.h"

/*
 * What tests may ask, so that they stay short and all read the boat in one way: what is a
 * default, what was seen, how a cable is protected, what it may carry at the least and at
 * the most while its jacket is not read.
 */

/* Words by which loads are known for what they are, in the names that users gave;
 * docs/handbook/survey.md tells them. */
const char words_navigation_light[] =
    "navigation light|nav light|anchor light|masthead light|steaming light|stern light|"
    "tricolour|tricolor|side light|sidelight";
const char words_bilge_pump[] = "bilge pump|bilge";
const char words_starter[] = "starter|start motor|cranking|crank";

/* --- outcomes --- */

/* A text that is NULL is one there was no memory for: the run fails, and the case still holds texts. */
static void case_set_outcome(struct survey_case *c, enum survey_status verdict, const char *fact,
                             const char *need)
{
    c->verdict = verdict;
    c->fact = fact ? fact : "";
    c->need = need ? need : "";
    c->failed |= !fact || !need;
}

void case_complies(struct survey_case *c, const char *fact)
{
    case_set_outcome(c, SURVEY_COMPLIES, fact, "");
}

void case_fails(struct survey_case *c, const char *fact)
{
    case_set_outcome(c, SURVEY_FAILS, fact, "");
}

void case_not_verified(struct survey_case *c, const char *fact, const char *need)
{
    case_set_outcome(c, SURVEY_NOT_VERIFIED, fact, need);
}

void case_judge(struct survey_case *c, int complies, const char *fact)
{
    if (complies)
        case_complies(c, fact);
    else
        case_fails(c, fact);
}

/* --- rule set --- */

/* By name, for a set of the user's own has no bit: only rules on its figures then name it. */
unsigned case_set(const struct survey_case *c)
{
    static const struct {
        const char *name;
        unsigned bit;
    } sets[] = { { "cfr183", BY_CFR183 },
                 { "abyc-e11", BY_ABYC },
                 { "iso10133", BY_ISO10133 },
                 { "iso13297", BY_ISO13297 } };

    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++)
        if (strcmp(c->input->rules->name, sets[i].name) == 0)
            return sets[i].bit;
    return 0;
}

const struct basis *case_basis(const struct survey_case *c)
{
    const struct basis *bases = c->rule->bases;
    const unsigned set = case_set(c);

    for (size_t i = 0; i < RULE_BASES && bases[i].cite.publication; i++)
        if (bases[i].sets & set)
            return &bases[i];
    return &bases[0];
}

const char *cite_text(struct arena *arena, const struct cite *cite)
{
    const char *clause = cite->clause ? cite->clause : "";

    if (cite->known == KNOWN_PRACTICE) /* the word is the whole of it */
        return arena_print(arena, "common practice%s%s", *clause ? ": " : "", clause);
    return arena_print(arena, "%s%s%s (%s)", cite->publication, *clause && *clause != '(' ? ", " : "", clause,
                       known_text(cite->known));
}

/* --- the profile --- */

/* The profile lists every default it took; what is on the list, nobody typed. */
int case_assumed(const struct survey_case *c, const char *kind, const char *name, const char *key)
{
    const struct boat *boat = c->input->boat;
    const size_t length = strlen(kind);

    for (size_t i = 0; i < boat->assumption_count; i++) {
        const struct assumption *a = &boat->assumptions[i];

        if (strcmp(a->key, key) == 0 && strncmp(a->section, kind, length) == 0 &&
            (*name ? a->section[length] == ' ' && strcmp(a->section + length + 1, name) == 0
                   : !a->section[length]))
            return 1;
    }
    return 0;
}

enum seen_word case_seen(const struct survey_case *c, enum seen_fact fact)
{
    return boat_fact(c->input->boat, c->name, fact);
}

/* Where a load hangs: at the node it names, else at one of its own name. */
static const char *load_node_name(const struct load *load)
{
    return load->node ? load->node : load->name;
}

const struct cable *cable_touching(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->cable_count; i++)
        if (strcmp(boat->cables[i].from, name) == 0 || strcmp(boat->cables[i].to, name) == 0)
            return &boat->cables[i];
    return NULL;
}

/* Panels are asked for apart: ON_OTHER holds nodes and converters too. */
int cable_meets(const struct survey_case *c, const struct cable *cable, unsigned things)
{
    const struct boat *boat = c->input->boat;
    const unsigned wanted = things & ~(unsigned)ON_OTHER;

    if ((boat_things(boat, cable->from) | boat_things(boat, cable->to)) & wanted)
        return 1;
    for (size_t i = 0; things & ON_OTHER && i < boat->solar_count; i++)
        if (strcmp(cable->from, boat->solars[i].name) == 0 || strcmp(cable->to, boat->solars[i].name) == 0)
            return 1;
    return 0;
}

/* Loads that hang at either end of the cable and nowhere else can be meant: by their own name or node. */
static const struct load *load_of(const struct boat *boat, const struct cable *cable)
{
    for (size_t i = 0; i < boat->load_count; i++) {
        const char *node = load_node_name(&boat->loads[i]);

        if (strcmp(node, cable->to) == 0 || strcmp(node, cable->from) == 0)
            return &boat->loads[i];
    }
    return NULL;
}

int cable_cranks(const struct survey_case *c, const struct cable *cable)
{
    const struct load *load = load_of(c->input->boat, cable);

    return load && text_holds(load->name, words_starter);
}

/* --- the circuit --- */

const struct circuit_cable *case_cable(const struct survey_case *c, const char *name)
{
    const struct circuit *circuit = c->input->circuit;

    for (size_t i = 0; circuit && i < circuit->cable_count; i++)
        if (strcmp(circuit->cables[i].name, name) == 0)
            return &circuit->cables[i];
    return NULL;
}

const struct circuit_bank *case_bank(const struct survey_case *c, const char *name)
{
    const struct circuit *circuit = c->input->circuit;

    for (size_t i = 0; circuit && i < circuit->bank_count; i++)
        if (strcmp(circuit->banks[i].name, name) == 0)
            return &circuit->banks[i];
    return NULL;
}

const struct expected_load *case_expected(const struct survey_case *c, const char *name)
{
    const struct expectation *e = c->input->expected;

    for (size_t i = 0; e && i < e->load_count; i++)
        if (strcmp(e->loads[i].name, name) == 0)
            return &e->loads[i];
    return NULL;
}

/* --- protection and ampacity --- */

/* The load that the cable leads to and nothing else: where other loads or cables meet there too, the breaker
 * of one of them guards its own way, not the feeder of all. NULL: none. */
static const struct load *only_load_of(const struct boat *boat, const struct cable *cable)
{
    const struct load *load = load_of(boat, cable);
    const char *node = load ? load_node_name(load) : NULL;
    size_t meet = 0;

    for (size_t i = 0; node && i < boat->load_count; i++)
        meet += strcmp(load_node_name(&boat->loads[i]), node) == 0;
    for (size_t i = 0; node && i < boat->cable_count; i++)
        meet += strcmp(boat->cables[i].from, node) == 0 || strcmp(boat->cables[i].to, node) == 0;
    return meet == 2 ? load : NULL;
}

/* A fuse typed in the cable goes before everything; then what was said of there being none; then the breaker
 * of the load behind it, which stands at the panel and so cannot protect a cable from a bank. */
struct protected_by cable_protection(const struct survey_case *c, const struct cable *cable)
{
    const enum seen_word fused = boat_fact(c->input->boat, cable->name, SEEN_FUSED);
    const struct load *load = only_load_of(c->input->boat, cable);

    if (range_known(&cable->fuse))
        return (struct protected_by){ PROTECTION_RATED, cable->fuse.value, 0 };
    if (cable->unfused || fused == SEEN_NO)
        return (struct protected_by){ PROTECTION_NONE, 0, 0 };
    if (load && range_known(&load->breaker) && !cable_meets(c, cable, ON_BANK))
        return (struct protected_by){ PROTECTION_RATED, load->breaker.value, 1 };
    return (struct protected_by){ fused == SEEN_YES ? PROTECTION_UNRATED : PROTECTION_UNKNOWN, 0, 0 };
}

/* The cable where it lies, by the table and factors of the set that judges; parallel conductors add up. */
double cable_ampacity(const struct survey_case *c, const struct cable *cable, double insulation_c)
{
    const struct circuit_cable *found = case_cable(c, cable->name);
    const struct wiring_place place = { .insulation_c = insulation_c,
                                        .engine = cable->place == PLACE_ENGINE,
                                        .bundle = range_or(&cable->bundle, 2),
                                        .volts =
                                            found ? found->nominal_v : c->input->boat->dc_voltage.value };

    return wiring_ampacity(c->input->rules, cable->area.value, &place).amps * range_or(&cable->runs, 1);
}

int cable_may_be_hot(const struct survey_case *c, const struct cable *cable)
{
    return case_assumed(c, "cable", cable->name, "place") &&
           (cable_meets(c, cable, ON_ALTERNATOR) || cable_cranks(c, cable));
}

/* A jacket nobody read counts as 60 C at the low end and as 105 C at the high; a place nobody said, that may
 * be the engine space, counts as one at the low end only. */
struct ampacity_band cable_ampacity_band(const struct survey_case *c, const struct cable *cable)
{
    const int jacket = case_assumed(c, "cable", cable->name, "insulation"), hot = cable_may_be_hot(c, cable);
    const double low = jacket ? 60 : cable->insulation.value, high = jacket ? 105 : low;
    struct cable worst = *cable;
    struct ampacity_band band;

    if (hot)
        worst.place = PLACE_ENGINE;
    band.low_a = cable_ampacity(c, &worst, low);
    band.high_a = cable_ampacity(c, cable, high);
    band.need = jacket ? SAY(c, "[cable %s] insulation, as printed on the jacket", cable->name)
                       : SAY(c, "[cable %s] place: cabin or engine", cable->name);
    band.why =
        SAY(c, "%s%s%s", jacket ? "insulation not read: 60 C to 105 C" : SAY(c, "%.0f C insulation", low),
            hot                            ? ", place not said"
            : cable->place == PLACE_ENGINE ? ", engine space"
                                           : "",
            cable->bundle.value > 2 ? SAY(c, ", %.0f conductors bundled", cable->bundle.value) : "");
    if (!band.why)
        band.why = "";
    return band;
}

/* At the low end of the band: it must hold whatever the jacket says. */
int cable_guarded(const struct survey_case *c, const struct cable *cable)
{
    const struct protected_by by = cable_protection(c, cable);
    const struct circuit_cable *found = case_cable(c, cable->name);

    return found && by.how == PROTECTION_RATED &&
           wiring_fuse_allowed(c->input->rules, by.rating_a, cable_ampacity_band(c, cable).low_a,
                               found->nominal_v);
}

const char *scenario_words(const char *scenario)
{
    if (strcmp(scenario, "largest") == 0)
        return "all that may run at once";
    return strcmp(scenario, "charging") == 0 ? "while charging" : scenario;
}

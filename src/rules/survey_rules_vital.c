/* survey_rules_vital.c - rules of starting, navigation lights, bilge pumps, ignition, labels and papers.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "parts/bank.h"
#include "rules/survey_rule.h"

/*
 * Volts that must arrive: at the starter while it cranks, at lights and pumps while they
 * run. Measured ones go before calculated ones, and where neither is known the finding says
 * which cable or reading would settle it.
 */

/* --- starting --- */

static int has_engines(const struct survey_case *c)
{
    return c->input->boat->engine_count > 0;
}

/* STA-01. One start bank is enough for both engines here: that the house cannot drain it is the point. */
static void test_separate(struct survey_case *c)
{
    const struct boat *boat = c->input->boat;
    size_t start = 0;

    for (size_t i = 0; i < boat->bank_count; i++)
        start += boat->banks[i].role == BANK_START;
    case_judge(c, start > 0,
               SAY(c, "%zu engine%s, %zu start bank%s", boat->engine_count,
                   boat->engine_count == 1 ? "" : "s", start, start == 1 ? "" : "s"));
}

static int is_start_bank(const struct survey_case *c)
{
    return ((const struct bank *)c->thing)->role == BANK_START;
}

/* STA-02. Any source that names the bank; of several the last is told. */
static void test_start_charged(struct survey_case *c)
{
    const struct boat *boat = c->input->boat;
    const struct bank *bank = c->thing;
    const char *by = NULL;

    for (size_t i = 0; i < boat->alternator_count; i++)
        by = boat->alternators[i].bank == bank ? boat->alternators[i].name : by;
    for (size_t i = 0; i < boat->charger_count; i++)
        by = boat->chargers[i].bank == bank ? boat->chargers[i].name : by;
    for (size_t i = 0; i < boat->dcdc_count; i++)
        by = boat->dcdcs[i].to == bank ? boat->dcdcs[i].name : by;
    for (size_t i = 0; i < boat->solar_count; i++)
        by = boat->solars[i].bank == bank ? boat->solars[i].name : by;
    case_judge(c, by != NULL,
               by ? SAY(c, "charged by %s", by) : "no alternator, charger, converter or array charges it");
}

static int is_starter(const struct survey_case *c)
{
    const struct load *load = c->thing;

    return text_holds(load->name, words_starter) && load->bank;
}

/* Least volts at a starter while it turns, for each 12 V: as in the cranking test of starting batteries. */
static const double cranking_volts = 9.6;

/* STA-03. A measured voltage goes before the calculated one. */
static void test_cranking(struct survey_case *c)
{
    const struct load *load = c->thing;
    const struct expected_load *e = case_expected(c, load->name);
    const struct measured *m = boat_measured(c->input->boat, load->name);
    const double least = cranking_volts * bank_nominal_voltage(load->bank) / 12;

    if (m && range_known(&m->volts))
        case_judge(c, m->volts.value >= least,
                   SAY(c, "measured %.2f V while cranking; at least %.1f V", m->volts.value, least));
    else if (!e || e->path_mohm < 0 || !(e->volts_v > 0))
        case_not_verified(c, SAY(c, "volts while cranking not known; at least %.1f V", least),
                          SAY(c, "[measured %s] volts, or the cables from %s", c->name, load->bank->name));
    else if (e->path_gap)
        case_not_verified(c, SAY(c, "volts while cranking not known; at least %.1f V", least),
                          SAY(c, "[measured %s] volts, or %s", c->name, e->path_gap));
    else
        case_judge(c, e->volts_v >= least,
                   SAY(c,
                       "%.0f A from %s leave %.2f V at the starter (cables %.2f mohm, bank %.2f mohm); at "
                       "least %.1f V",
                       e->bank_high_a, load->bank->name, e->volts_v, e->path_mohm, e->bank_mohm, least));
}

static int cranks_from_lithium(const struct survey_case *c)
{
    return is_starter(c) && ((const struct load *)c->thing)->bank->chemistry == CHEMISTRY_LFP;
}

/* STA-04. Nominal volts: while cranking they are lower and the current of a constant power higher, so a
 * close pass is none to lean on. */
static void test_cranking_lithium(struct survey_case *c)
{
    const struct load *load = c->thing;
    const struct bank *bank = load->bank;
    const double amps = load->power.value / bank_nominal_voltage(bank);
    const char *fact = SAY(c, "starter draws %.0f A; lithium bank %s gives %.0f A", amps, bank->name,
                           bank->max_discharge.value);

    if (case_assumed(c, "bank", bank->name, "max_discharge"))
        case_not_verified(c, fact,
                          SAY(c, "[bank %s] max_discharge, from the label or data sheet", bank->name));
    else
        case_judge(c, amps <= bank->max_discharge.value, fact);
}

/* --- lights and pumps --- */

static int is_light(const struct survey_case *c)
{
    const struct load *load = c->thing;

    return text_holds(load->name, words_navigation_light) && load->supply == SUPPLY_DC;
}

static int is_pump(const struct survey_case *c)
{
    const struct load *load = c->thing;

    return text_holds(load->name, words_bilge_pump) && load->supply == SUPPLY_DC;
}

/* Drop limit of a vital load [-]: the set's own for that name; where it has none, usual ones. */
static double vital_limit(const struct survey_case *c, double usual)
{
    size_t length;
    const double limit =
        wiring_drop_limit(c->input->rules, wiring_critical_word(c->input->rules, c->name, &length) != NULL);

    return limit > 0 ? limit : usual;
}

/* VIT-01, VIT-03. Loss from posts to load: measured at both ends where that was done, else the expected
 * current through the path. usual: the limit where the set has none. */
static void judge_volts(struct survey_case *c, double usual)
{
    const struct load *load = c->thing;
    const struct measured *m = boat_measured(c->input->boat, c->name);
    const struct expected_load *e = case_expected(c, c->name);
    const double nominal =
        load->converter ? load->converter->voltage.value : bank_nominal_voltage(load->bank);
    const double limit = vital_limit(c, usual);
    double percent;

    c->cite = wiring_drop_limit(c->input->rules, 1) > 0
                  ? (limit < 0.05 ? &c->input->rules->drop_critical_cite : &c->input->rules->drop_normal_cite)
                  : NULL;
    if (m && range_known(&m->volts) && range_known(&m->source_volts)) {
        percent = 100 * (m->source_volts.value - m->volts.value) / nominal;
        case_judge(c, percent <= 100 * limit + 1e-9,
                   SAY(c, "measured %.2f V with %.2f V at the bank: %.1f %% of %.0f V lost; at most %.0f %%",
                       m->volts.value, m->source_volts.value, percent, nominal, 100 * limit));
    } else if (!e || e->path_mohm < 0 || e->path_gap) {
        case_not_verified(c,
                          SAY(c, "volts while it runs not known; at most %.0f %% may be lost", 100 * limit),
                          SAY(c, "[measured %s] volts and source_volts, or %s", c->name,
                              e && e->path_gap ? e->path_gap : "the cables to it"));
    } else {
        percent = 100 * e->bank_high_a * e->path_mohm * 1e-3 / nominal;
        case_judge(c, percent <= 100 * limit + 1e-9,
                   SAY(c, "%.1f A through %.1f mohm of cable lose %.1f %% of %.0f V; at most %.0f %%",
                       e->bank_high_a, e->path_mohm, percent, nominal, 100 * limit));
    }
}

static void test_light_volts(struct survey_case *c)
{
    judge_volts(c, 0.03);
}

static void test_pump_volts(struct survey_case *c)
{
    judge_volts(c, 0.10);
}

/* VIT-06. A catamaran has two bilges; pumps are known by the names of loads. */
static void test_pump_count(struct survey_case *c)
{
    const struct boat *boat = c->input->boat;
    double pumps = 0;

    for (size_t i = 0; i < boat->load_count; i++)
        pumps += text_holds(boat->loads[i].name, words_bilge_pump) ? boat->loads[i].count.value : 0;
    case_judge(c, pumps >= 2,
               SAY(c, "%.0f bilge pump%s in the profile; two hulls", pumps, pumps == 1 ? "" : "s"));
}

/* --- petrol --- */

/* VIT-07. Petrol first, then the marks: without petrol the rule is not about this boat. */
static void test_ignition(struct survey_case *c)
{
    const enum seen_word marked = case_seen(c, SEEN_IGNITION_PROTECTED);

    if (case_seen(c, SEEN_PETROL) == SEEN_UNKNOWN)
        case_not_verified(c, "whether petrol is on board is not said", "[seen boat] petrol: yes or no?");
    else if (marked == SEEN_UNKNOWN)
        case_not_verified(c, "petrol on board; marks of ignition protection not looked for",
                          "[seen boat] ignition_protected: yes or no?");
    else
        case_judge(c, marked == SEEN_YES,
                   marked == SEEN_YES ? "electrics in petrol spaces are ignition protected"
                                      : "electrics without ignition protection where petrol may be");
}

static int may_have_petrol(const struct survey_case *c)
{
    return case_seen(c, SEEN_PETROL) != SEEN_NO;
}

static const char no_light[] = "no navigation light among the loads",
                  no_pump[] = "no bilge pump among the loads", no_starter[] = "no starter among the loads";

/* Starting STA-, lights, pumps and ignition VIT-, papers DOC-. 33 CFR 183.410 (read), COLREG 1972 (from
 * memory), the rest surveyors' practice. */
const struct survey_rule rules_vital[] = {
    {
        .id = "STA-01", .title = "house and start apart", .area = AREA_STARTING, .priority = 'B',
            .of = THE_BOAT,
        .seen = NOT_SEEN, .test = test_separate, .applies = has_engines,
        .needs = "[bank] role = start",
        .absent = "no engine",
        .risk = "A night of lights and fridge leaves no battery to start with.",
        .action = "A bank for starting that the house cannot drain.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "STA-02", .title = "start bank is charged", .area = AREA_STARTING, .priority = 'B',
            .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_start_charged, .applies = is_start_bank,
        .needs = "[alternator], [charger], [dcdc] or [solar] with that bank",
        .absent = "no start bank",
        .risk = "It goes flat by itself within months.",
        .action = "A source that charges the start bank.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "STA-03", .title = "volts while cranking", .area = AREA_STARTING, .priority = 'B',
            .of = EACH_LOAD,
        .seen = NOT_SEEN, .test = test_cranking, .applies = is_starter,
        .needs = "[load] current of the starter, its cables; or [measured] volts",
        .absent = no_starter,
        .risk = "The engine turns too slowly to start when cold.",
        .action = "Volts at the starter above the limit while it turns.",
        .bases = {
            PRACTICE("9.6 V for each 12 V, as in cranking tests of starting batteries; from memory"),
        },
    },
    {
        .id = "STA-04", .title = "starting from lithium", .area = AREA_STARTING, .priority = 'A',
            .of = EACH_LOAD,
        .seen = NOT_SEEN, .test = test_cranking_lithium, .applies = cranks_from_lithium,
        .needs = "[bank] max_discharge",
        .absent = "no starter on a lithium bank",
        .risk = "The starter's surge makes the bank disconnect itself, and everything with it.",
        .action = "Starter on a bank whose limits stand its surge.",
        .bases = {
            PRACTICE("makers' instructions"),
        },
    },
    {
        .id = "STA-05", .title = "engine isolator", .area = AREA_STARTING, .priority = 'B', .of = EACH_ENGINE,
        .seen = SEEN_ISOLATOR_REACHABLE,
        .good = "engine circuit isolated within reach",
        .bad = "engine circuit without an isolator within reach",
        .risk = "A stuck starter or a short on the engine cannot be stopped.",
        .action = "A marked isolator for each engine's circuit within reach.",
        .bases = {
            { BY_ISO, { "ISO 10133:2012", "isolator clause", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "VIT-01", .title = "volts at navigation lights", .area = AREA_VITAL, .priority = 'A',
            .of = EACH_LOAD,
        .seen = NOT_SEEN, .test = test_light_volts, .applies = is_light,
        .needs = "its cables; or [measured] volts and source_volts",
        .absent = no_light,
        .risk = "A dim light is not seen at its range.",
        .action = "Loss from posts to lamp within the limit.",
        .bases = {
            PRACTICE("3 % where the set has no limit"),
        },
    },
    {
        .id = "VIT-02", .title = "navigation lights seen lit", .area = AREA_VITAL, .priority = 'A',
            .of = EACH_LOAD,
        .seen = SEEN_WORKS, .applies = is_light,
        .good = "seen lit",
        .bad = "does not light",
        .absent = no_light,
        .risk = "A boat without lights at night is run down.",
        .action = "Every navigation light lit and seen from outside.",
        .bases = {
            { BY_NONE, { "COLREG 1972", "rules 20 and 23", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "VIT-03", .title = "volts at bilge pumps", .area = AREA_VITAL, .priority = 'A', .of = EACH_LOAD,
        .seen = NOT_SEEN, .test = test_pump_volts, .applies = is_pump,
        .needs = "its cables; or [measured] volts and source_volts",
        .absent = no_pump,
        .risk = "A pump that is short of volts moves a fraction of its rated flow.",
        .action = "Loss from posts to motor within the limit.",
        .bases = {
            PRACTICE("10 % where the set has no limit"),
        },
    },
    {
        .id = "VIT-04", .title = "bilge pumps work", .area = AREA_VITAL, .priority = 'A', .of = EACH_LOAD,
        .seen = SEEN_WORKS, .applies = is_pump,
        .good = "pumps by hand and by float",
        .bad = "does not pump by hand or by float",
        .absent = no_pump,
        .risk = "Water that nobody pumps sinks the boat.",
        .action = "Every pump moves water, by hand switch and by float.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "VIT-05", .title = "bilge pumps stay live", .area = AREA_VITAL, .priority = 'B',
            .of = EACH_LOAD,
        .seen = SEEN_ALWAYS_LIVE, .applies = is_pump,
        .good = "fed when every switch is off, by its own fuse",
        .bad = "dead when the isolator is off",
        .absent = no_pump,
        .risk = "A boat left with her switches off cannot pump herself.",
        .action = "Automatic pumps fed ahead of the isolator through a fuse of their own.",
        .bases = {
            { BY_ISO, { "ISO 10133:2012", "exceptions of the isolator clause", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "VIT-06", .title = "a pump in each hull", .area = AREA_VITAL, .priority = 'B', .of = THE_BOAT,
        .seen = NOT_SEEN, .test = test_pump_count,
        .needs = "[load] of each bilge pump",
        .risk = "Water in the hull without a pump is not found until she lists.",
        .action = "A working bilge pump in each hull.",
        .bases = {
            PRACTICE("two hulls, two bilges"),
        },
    },
    {
        .id = "VIT-07", .title = "ignition protection", .area = AREA_VITAL, .priority = 'A', .of = THE_BOAT,
        .seen = NOT_SEEN, .test = test_ignition, .applies = may_have_petrol,
        .needs = "[seen boat] petrol, ignition_protected",
        .absent = "no petrol on board",
        .risk = "A spark in petrol vapour destroys the boat.",
        .action = "Electrics in such spaces marked ignition protected.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.410", NULL, KNOWN_READ }, NULL },
        },
    },
    {
        .id = "DOC-01", .title = "wiring diagram", .area = AREA_DOCUMENTS, .priority = 'C', .of = THE_BOAT,
        .seen = SEEN_DIAGRAM,
        .good = "diagram as she is",
        .bad = "no diagram, or not as she is",
        .risk = "Faults take hours at sea, and changes are made blind.",
        .action = "A diagram of the boat as she is.",
        .bases = {
            { BY_ISO, { "ISO 10133:2012", "annex B", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "DOC-02", .title = "panel labelled", .area = AREA_DOCUMENTS, .priority = 'B', .of = THE_PANEL,
        .seen = SEEN_LABELLED,
        .good = "every way is labelled",
        .bad = "ways without a legend",
        .risk = "In trouble the wrong circuit is switched off.",
        .action = "A legend at every switch and breaker.",
        .bases = {
            { BY_ISO, { "ISO 10133:2012", "annex B", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "DOC-03", .title = "cables labelled", .area = AREA_DOCUMENTS, .priority = 'C', .of = THE_BOAT,
        .seen = SEEN_CABLES_LABELLED,
        .good = "named at both ends",
        .bad = "not named at their ends",
        .risk = "Nobody knows what a loose cable fed.",
        .action = "Conductors named at both ends, as on the diagram.",
        .bases = {
            PRACTICE("electricians' guidance"),
        },
    },
    {
        .id = "DOC-04", .title = "record of tests", .area = AREA_DOCUMENTS, .priority = 'C', .of = THE_BOAT,
        .seen = SEEN_INSULATION_RECORD,
        .good = "dated record on board",
        .bad = "no record of tests",
        .risk = "Insulation that falls from year to year is not noticed.",
        .action = "A dated record of insulation and protective devices.",
        .bases = {
            PRACTICE("periodical surveys ask for it; 1 megohm or more as a usual pass"),
        },
    },
    {
        .id = "DOC-05", .title = "settings written down", .area = AREA_DOCUMENTS, .priority = 'C',
            .of = THE_BOAT,
        .seen = SEEN_SETTINGS_RECORD,
        .good = "settings on record",
        .bad = "settings not on record",
        .risk = "After a reset the bank is charged by a factory setting.",
        .action = "Settings of chargers, regulators, inverter and monitor on record.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    { .id = NULL }
};

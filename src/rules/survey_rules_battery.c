/* survey_rules_battery.c - rules of battery banks, and of lithium ones.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "parts/bank.h"
#include "rules/survey_rule.h"

/*
 * Movement, cover, fuel, gas and isolators are for eyes: [seen BANK]. Ventilation, currents, sharing of
 * strings and rested volts are worked out from the profile, the circuit and [measured BANK].
 */

static const struct bank *bank_of(const struct survey_case *c)
{
    return c->thing;
}

static int is_lithium(const struct survey_case *c)
{
    return bank_of(c)->chemistry == CHEMISTRY_LFP;
}

static int is_lead(const struct survey_case *c)
{
    return !is_lithium(c);
}

static int is_flooded(const struct survey_case *c)
{
    return bank_of(c)->chemistry == CHEMISTRY_FLOODED;
}

static int has_blocks(const struct survey_case *c)
{
    return bank_blocks(bank_of(c)) > 1;
}

static int has_strings(const struct survey_case *c)
{
    return bank_of(c)->parallel.value > 1;
}

/* Energy over which lithium banks fall under the standard [Wh]: 500 (ISO 23625:2025; 600 in ISO/TS
 * 23625:2021). */
enum { LITHIUM_FROM_WH = 500 };

/* Rated energy [Wh]: the standard speaks of the label, so neither health nor temperature counts. */
static double bank_wh(const struct bank *bank)
{
    return bank_rated_ah(bank) * bank_nominal_voltage(bank);
}

static int is_large_lithium(const struct survey_case *c)
{
    return is_lithium(c) && bank_wh(bank_of(c)) > LITHIUM_FROM_WH;
}

/* --- ventilation --- */

/* Charging current at which the whole bank may gas [A]: everything that charges it. */
static double charging_amps(const struct boat *boat, const struct bank *bank)
{
    double amps = 0;

    for (size_t i = 0; i < boat->charger_count; i++)
        amps += boat->chargers[i].bank == bank ? boat->chargers[i].current.value : 0;
    for (size_t i = 0; i < boat->alternator_count; i++) {
        const struct alternator *a = &boat->alternators[i];
        const double hot = a->rated_current.value * a->hot_factor.value;

        amps += a->bank == bank ? fmin(hot, range_or(&a->current_limit, hot)) : 0;
    }
    for (size_t i = 0; i < boat->dcdc_count; i++)
        amps += boat->dcdcs[i].to == bank ? boat->dcdcs[i].current.value : 0;
    for (size_t i = 0; i < boat->solar_count; i++) {
        const struct solar *s = &boat->solars[i];
        const double most = s->power.value * s->count.value / bank_nominal_voltage(bank);

        amps += s->bank == bank ? fmin(most, range_or(&s->controller_current, most)) : 0;
    }
    return amps;
}

/*
 * Opening, inlet and outlet each [cm2]: A = 28 Q, Q = 0.05 n Igas C10 / 1000 [m3/h], IEC 62485-2, with Igas
 * at the boost voltage: 20 mA/Ah vented, 8 mA/Ah valve-regulated. The 20 h capacity stands for C10: a little
 * more, so the opening errs on the large side.
 */
static double vent_needed_cm2(const struct bank *bank)
{
    const double gassing = bank->chemistry == CHEMISTRY_FLOODED ? 20 : 8; /* [mA/Ah] */

    return 28 * 0.05 * bank_cells(bank) * gassing * bank_capacity_20h(bank) / 1000;
}

/* BAT-07. Waits for [seen] vent_area; the low end of a range decides. */
static void test_vent(struct survey_case *c)
{
    const struct seen *seen = boat_seen(c->input->boat, c->name);
    const double needed = vent_needed_cm2(bank_of(c));

    if (!seen || !range_known(&seen->vent_area))
        case_not_verified(
            c, SAY(c, "free opening not measured; wanted: %.0f cm2, inlet and outlet each", needed),
            SAY(c, "[seen %s] vent_area", c->name));
    else
        case_judge(c, seen->vent_area.low * 1e4 >= needed,
                   SAY(c, "free opening of %.0f cm2 for %.0f Ah; wanted: %.0f cm2, inlet and outlet each",
                       seen->vent_area.value * 1e4, bank_capacity_20h(bank_of(c)), needed));
}

/* --- currents --- */

/* BAT-13, only where the circuit knows what is drawn. What a start bank gives is
 * judged by the volts while cranking. */
static int feeds_loads(const struct survey_case *c)
{
    return bank_of(c)->role != BANK_START && case_bank(c, c->name) != NULL;
}

/*
 * BAT-13. The largest scenario against the bank's limit. The limit is the maker's where it
 * was typed; else the usual one of the chemistry, and then a draw over 80 % of it is not
 * verified: near a guess is no verdict.
 */
static void test_discharge(struct survey_case *c)
{
    const struct bank *bank = bank_of(c);
    const int assumed =
        case_assumed(c, "bank", c->name, "max_discharge") || !range_known(&bank->max_discharge);
    const double usual = chemistry_facts(bank->chemistry)->continuous_discharge_c * bank_capacity_20h(bank);
    const double limit = assumed ? usual : bank->max_discharge.value,
                 amps = fabs(case_bank(c, c->name)->current_a);
    const char *fact = SAY(c, "all that may run at once draws %.0f A; %s %.0f A", amps,
                           assumed ? "usual for the chemistry and size:" : "limit of the bank:", limit);

    if (assumed && amps > 0.8 * usual) /* near a guess is no verdict */
        case_not_verified(c, fact, SAY(c, "[bank %s] max_discharge, from the label or data sheet", c->name));
    else
        case_judge(c, amps <= limit, fact);
}

/* BAT-14. All charging sources at once. On a usual limit, a sum over half of it is not verified. */
static void test_charge(struct survey_case *c)
{
    const struct bank *bank = bank_of(c);
    const double amps = charging_amps(c->input->boat, bank);
    const char *fact =
        SAY(c, "sources can charge with %.0f A together; limit of the bank: %.0f A%s", amps,
            bank->max_charge.value,
            case_assumed(c, "bank", c->name, "max_charge") ? " (usual for the chemistry)" : "");

    if (case_assumed(c, "bank", c->name, "max_charge") && amps > 0.5 * bank->max_charge.value)
        case_not_verified(c, fact, SAY(c, "[bank %s] max_charge, from the label or data sheet", c->name));
    else
        case_judge(c, amps <= bank->max_charge.value, fact);
}

static int is_charged(const struct survey_case *c)
{
    return charging_amps(c->input->boat, bank_of(c)) > 0;
}

/* Share of the hardest worked string over an equal share; 1: all alike. *strings: how many the circuit told
 * apart, 0 where the bank was solved as one. */
static double worst_share(const struct survey_case *c, size_t *strings)
{
    const struct circuit *circuit = c->input->circuit;
    double largest = 0;

    *strings = 0;
    for (size_t i = 0; circuit && i < circuit->block_count; i++)
        if (strcmp(circuit->blocks[i].bank, c->name) == 0) {
            largest = fmax(largest, circuit->blocks[i].share_percent);
            ++*strings;
        }
    return largest * (double)*strings / 100;
}

/* BAT-15. How strings share follows from the network of the bank's links; equal tails need no working out. */
static void test_sharing(struct survey_case *c)
{
    static const char *const joined[] = { [WIRING_BARS] = "equal tails to busbars",
                                          [WIRING_SAME_END] = "both leads on one end",
                                          [WIRING_DIAGONAL] = "leads on opposite ends" };
    const struct bank *bank = bank_of(c);
    size_t strings;
    const double share = worst_share(c, &strings);

    if (case_assumed(c, "bank", c->name, "wiring"))
        case_not_verified(c, SAY(c, "how the %.0f strings are joined is not said", bank->parallel.value),
                          SAY(c, "[bank %s] wiring: bars, same-end or diagonal", c->name));
    else if (bank->wiring == WIRING_BARS)
        case_complies(c, SAY(c, "%.0f strings on equal tails to busbars: 100 %% of an equal share each",
                             bank->parallel.value));
    else if (!strings)
        case_not_verified(c, SAY(c, "sharing between %.0f strings not worked out", bank->parallel.value),
                          "a [cable] section from the bank");
    else
        case_judge(
            c, share <= 1.2,
            SAY(c, "the hardest worked of %zu strings carries %.0f %% of an equal share (%s); at most 120 %%",
                strings, 100 * share, joined[bank->wiring]));
}

/* --- state --- */

/* BAT-19. Only a tested figure counts, and a default is none. */
static void test_health(struct survey_case *c)
{
    const struct bank *bank = bank_of(c);

    if (case_assumed(c, "bank", c->name, "health"))
        case_not_verified(c, "capacity not tested", SAY(c, "[bank %s] health, from a load test", c->name));
    else
        case_judge(c, bank->health.value >= 0.8,
                   SAY(c, "%.0f %% of its rated capacity left; replaced as a habit near 80 %%",
                       100 * bank->health.value));
}

/* BAT-17. Waits for rested volts of two blocks at least. */
static void test_rest_spread(struct survey_case *c)
{
    const struct measured *m = boat_measured(c->input->boat, c->name);
    double low = HUGE_VAL, high = 0;

    if (!m || m->rest_count < 2) {
        case_not_verified(c, SAY(c, "rest volts of its %.0f blocks not measured", bank_blocks(bank_of(c))),
                          SAY(c, "[measured %s] rest_volts, of each block", c->name));
        return;
    }
    for (size_t i = 0; i < m->rest_count; i++) {
        low = fmin(low, m->rest_volts[i].value);
        high = fmax(high, m->rest_volts[i].value);
    }
    case_judge(
        c, high - low <= 0.2 + 1e-9,
        SAY(c, "rested blocks stand %.2f V apart (%.2f V to %.2f V); at most 0.2 V", high - low, low, high));
}

/* BAT-18. Open-circuit volts of a block at 60 % charge, by the chemistry's table: lower, rested and said to
 * be full, it is tired or not charged. */
static void test_rest_level(struct survey_case *c)
{
    const struct bank *bank = bank_of(c);
    const struct measured *m = boat_measured(c->input->boat, c->name);
    const double cells = bank_cells(bank) / bank->series.value;
    const double least = chemistry_open_circuit(bank->chemistry, 0.6) * cells;
    double low = HUGE_VAL;

    if (!m || !m->rest_count) {
        case_not_verified(c, "rest volts not measured",
                          SAY(c, "[measured %s] rest_volts, after charging", c->name));
        return;
    }
    for (size_t i = 0; i < m->rest_count; i++)
        low = fmin(low, m->rest_volts[i].value);
    case_judge(c, low >= least,
               SAY(c, "weakest block rests at %.2f V; %.2f V would be 60 %% charge", low, least));
}

/* --- the tables --- */

#define CFR(clause_)                                                                                         \
    {                                                                                                        \
        BY_CFR183, { "33 CFR 183.420", clause_, KNOWN_READ }, NULL                                           \
    }
#define CFR_LIMIT(clause_, limit_)                                                                           \
    {                                                                                                        \
        BY_CFR183, { "33 CFR 183.420", clause_, KNOWN_READ }, limit_                                         \
    }
#define ISO(clause_)                                                                                         \
    {                                                                                                        \
        BY_ISO, { "ISO 10133:2012", clause_, KNOWN_QUOTED }, NULL                                            \
    }
#define ISO_LIMIT(clause_, limit_)                                                                           \
    {                                                                                                        \
        BY_ISO, { "ISO 10133:2012", clause_, KNOWN_QUOTED }, limit_                                          \
    }
#define ISO_MEMORY(clause_)                                                                                  \
    {                                                                                                        \
        BY_ISO, { "ISO 10133:2012", clause_, KNOWN_MEMORY }, NULL                                            \
    }
#define LITHIUM(clause_, known_)                                                                             \
    {                                                                                                        \
        BY_NONE, { "ISO 23625:2025 and ISO/TS 23625:2021", clause_, known_ }, NULL                           \
    }

static const char no_lead[] = "no lead-acid bank", no_lithium[] = "no lithium bank over 500 Wh",
                  one_block[] = "no bank of more than one block";

/*
 * Banks BAT-, lithium banks LIT-. 33 CFR 183.420 (read) and ISO 10133:2012 clause 5 (quoted)
 * are the main bases; ISO 23625 for lithium is mostly from memory. Limits in figures stand
 * in the row of the book that sets them.
 */
const struct survey_rule rules_battery[] = {
    {
        .id = "BAT-01", .title = "battery held fast", .area = AREA_BATTERIES, .priority = 'A',
            .of = EACH_BANK,
        .seen = SEEN_SECURED,
        .good = "does not move when pushed and pulled",
        .bad = "moves when pushed and pulled",
        .risk = "A battery that shifts tears its cables, shorts and starts fires.",
        .action = "Battery held so that it stays put in any sea, to the limit of the clause.",
        .bases = {
            CFR_LIMIT("(a)", "at most 25 mm in any direction under 400 N or twice its weight, "
                "whichever is less"),
            ISO_LIMIT("clause 5.2", "at most 10 mm in any direction under twice its weight"),
        },
    },
    {
        .id = "BAT-02", .title = "terminals covered", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = SEEN_TERMINALS_COVERED,
        .good = "terminals are covered",
        .bad = "terminals are open to falling tools",
        .risk = "A tool across the posts draws thousands of amps, burns and starts fires.",
        .action = "No metal object can touch an unearthed terminal.",
        .bases = {
            CFR("(b)"),
            ISO("clause 5.4"),
        },
    },
    {
        .id = "BAT-03", .title = "connectors bolted or clamped", .area = AREA_BATTERIES,
            .priority = 'B', .of = EACH_BANK,
        .seen = SEEN_CLAMPS_SOUND,
        .good = "connectors are bolted or clamped",
        .bad = "held by spring clips or wing nuts",
        .risk = "Such joints loosen, heat and drop volts.",
        .action = "Connectors that hold without spring tension and stay tight.",
        .bases = {
            CFR("(g)"),
            PRACTICE("no wing nuts on posts that carry more than instruments"),
        },
    },
    {
        .id = "BAT-04", .title = "lugs on a post", .area = AREA_BATTERIES, .priority = 'C', .of = EACH_BANK,
        .seen = SEEN_LUGS_ORDERED,
        .good = "four lugs or fewer on each post, the largest lowest",
        .bad = "more than four lugs on a post, or small ones beneath large ones",
        .risk = "A stack of lugs loosens and heats, and the small feeds on top go unfused.",
        .action = "At most four lugs on a post, the largest against it.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "BAT-05", .title = "fuel parts away or shielded", .area = AREA_BATTERIES,
            .priority = 'A', .of = EACH_BANK,
        .seen = SEEN_FUEL_CLEAR,
        .good = "no fuel part near it unshielded",
        .bad = "fuel part above, below or close over it without shield",
        .risk = "An arc between post and fuel part lights the fuel.",
        .action = "Fuel parts shielded or out of reach of an arc.",
        .bases = {
            CFR_LIMIT("(c), (d)", "shield within 305 mm over its top; never directly above or below a "
                "tank, filter or fitting"),
            ISO_LIMIT("clauses 5.6, 5.7", "insulated within 300 mm over its top; no tank or filter "
                "directly above or below"),
        },
    },
    {
        .id = "BAT-06", .title = "gas can leave the boat", .area = AREA_BATTERIES, .priority = 'A',
            .of = EACH_BANK,
        .seen = SEEN_VENTILATED, .applies = is_lead,
        .good = "box or space is vented outside",
        .bad = "no way for hydrogen to leave",
        .absent = no_lead,
        .risk = "Hydrogen collects under a lid and explodes at a spark.",
        .action = "Gas given off in charging leads outside.",
        .bases = {
            CFR("(e)"),
            ISO("clause 5.1"),
        },
    },
    {
        .id = "BAT-07", .title = "vent opening large enough", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_vent, .applies = is_lead,
        .needs = "[seen] vent_area",
        .absent = no_lead,
        .risk = "Too small an opening lets hydrogen gather while the bank is charged hard.",
        .action = "Free opening, inlet and outlet each, for the gassing of this bank.",
        .bases = {
            { BY_NONE, { "IEC 62485-2", "Q = 0.05 n Igas C/1000, A = 28 Q", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "BAT-08", .title = "electrolyte contained", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = SEEN_CONTAINED, .applies = is_flooded,
        .good = "tray or box holds what spills",
        .bad = "spilt electrolyte runs free",
        .absent = "no flooded bank",
        .risk = "Acid in the bilge burns, eats metal and gives off gas with salt water.",
        .action = "Spilt electrolyte stays in an acid-proof tray.",
        .bases = {
            ISO_LIMIT("clause 5.3", "no leak up to 30 degrees"),
        },
    },
    {
        .id = "BAT-09", .title = "dry and above bilge water", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = SEEN_DRY,
        .good = "stands dry",
        .bad = "may stand in bilge water",
        .risk = "Flooded batteries leave the boat dark when the pumps are needed most.",
        .action = "Battery in a dry place above expected bilge water.",
        .bases = {
            ISO("clause 5.1"),
            PRACTICE("everywhere else"),
        },
    },
    {
        .id = "BAT-10", .title = "no sign of damage", .area = AREA_BATTERIES, .priority = 'A',
            .of = EACH_BANK,
        .seen = SEEN_SOUND,
        .good = "no swelling, heat, leak or smell",
        .bad = "swollen, hot, leaking or smelling",
        .risk = "A failing cell takes the current of its neighbours and of the charger, and may burst "
            "or burn.",
        .action = "Bank tested unit by unit; failing units out of service.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "BAT-11", .title = "isolator fitted", .area = AREA_BATTERIES, .priority = 'A', .of = EACH_BANK,
        .seen = SEEN_ISOLATOR,
        .good = "can be switched off near the bank",
        .bad = "cannot be switched off near the bank",
        .risk = "A fault cannot be stopped: the bank feeds it until it is empty.",
        .action = "Every bank can be isolated close to it.",
        .bases = {
            ISO_MEMORY("isolator clause"),
            { BY_ABYC, { "ABYC E-11", "battery switch", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "BAT-12", .title = "isolator reached and marked", .area = AREA_BATTERIES,
            .priority = 'B', .of = EACH_BANK,
        .seen = SEEN_ISOLATOR_REACHABLE,
        .good = "isolator is marked and within reach",
        .bad = "isolator unmarked or out of reach",
        .risk = "In smoke nobody finds a switch behind lockers.",
        .action = "Isolator reached without tools and marked with what it switches.",
        .bases = {
            ISO_MEMORY("isolator clause"),
            { BY_NONE, { "UK inland boat safety scheme", "part 3, requirements 9 and 10", KNOWN_READ },
                NULL },
        },
    },
    {
        .id = "BAT-13", .title = "discharge current", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_discharge, .applies = feeds_loads,
        .needs = "[bank] max_discharge, cables and loads",
        .absent = "no bank that cables lead from",
        .risk = "Beyond its limit a bank sags, heats, or disconnects itself.",
        .action = "Largest simultaneous draw within what the bank may give, or loads that cannot run "
            "together.",
        .bases = {
            PRACTICE("maker's limit where given, else the usual one of the chemistry"),
        },
    },
    {
        .id = "BAT-14", .title = "charge current", .area = AREA_BATTERIES, .priority = 'B', .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_charge, .applies = is_charged,
        .needs = "[bank] max_charge",
        .absent = "no bank with a charging source",
        .risk = "Too much current heats and gasses a bank, or trips its management.",
        .action = "All sources together within the bank's charging limit.",
        .bases = {
            PRACTICE("maker's limit where given, else the usual one of the chemistry"),
        },
    },
    {
        .id = "BAT-15", .title = "strings share alike", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_sharing, .applies = has_strings,
        .needs = "[bank] wiring, link_resistance",
        .absent = "no bank of parallel strings",
        .risk = "The string that carries most ages first and drags the others down.",
        .action = "Strings joined so that none carries more than 120 % of an equal share.",
        .bases = {
            PRACTICE("120 % is our own limit; shares from the network of the bank"),
        },
    },
    {
        .id = "BAT-16", .title = "blocks alike", .area = AREA_BATTERIES, .priority = 'B', .of = EACH_BANK,
        .seen = SEEN_SAME_BLOCKS, .applies = has_blocks,
        .good = "one make, type and age",
        .bad = "blocks of different make, type or age",
        .absent = one_block,
        .risk = "Unlike blocks charge and discharge unequally; the weak ones fail and heat.",
        .action = "All blocks of a bank of one make, type and age.",
        .bases = {
            PRACTICE("makers' instructions"),
        },
    },
    {
        .id = "BAT-17", .title = "rested blocks agree", .area = AREA_BATTERIES, .priority = 'B',
            .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_rest_spread, .applies = has_blocks,
        .needs = "[measured] rest_volts",
        .absent = one_block,
        .risk = "A block that rests lower than its neighbours has a failing cell.",
        .action = "Blocks within 0.2 V of each other at rest, or the odd one out of service.",
        .bases = {
            PRACTICE("0.2 V between paralleled 12 V units"),
        },
    },
    {
        .id = "BAT-18", .title = "rests at a healthy voltage", .area = AREA_BATTERIES, .priority = 'C',
            .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_rest_level, .applies = is_lead,
        .needs = "[measured] rest_volts",
        .absent = no_lead,
        .risk = "Left low, lead-acid batteries sulphate and do not come back.",
        .action = "Charged fully, rested and measured again; tested under load if it stays low.",
        .bases = {
            PRACTICE("volts from the open-circuit table of the chemistry"),
        },
    },
    {
        .id = "BAT-19", .title = "capacity left", .area = AREA_BATTERIES, .priority = 'C', .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_health,
        .needs = "[bank] health",
        .risk = "A worn bank leaves the night's energy short and sags under the inverter.",
        .action = "Capacity test; replacement planned near 80 %.",
        .bases = {
            PRACTICE("replaced near 80 %"),
        },
    },
    {
        .id = "LIT-01", .title = "papers of the bank", .area = AREA_LITHIUM, .priority = 'B', .of = EACH_BANK,
        .seen = SEEN_LITHIUM_PAPERS, .applies = is_large_lithium,
        .good = "cell standard, limits, installation and venting are documented",
        .bad = "no evidence of cell standard, limits or venting plan",
        .absent = no_lithium,
        .risk = "Without papers neither safety nor cover can be shown.",
        .action = "Evidence of cells to IEC 62619, limits, installer and a plan for venting cells on board.",
        .bases = {
            LITHIUM("scope above 500 Wh (2025), 600 Wh (2021)", KNOWN_READ),
        },
    },
    {
        .id = "LIT-02", .title = "warning before disconnect", .area = AREA_LITHIUM, .priority = 'B',
            .of = EACH_BANK,
        .seen = SEEN_DISCONNECT_ALARM, .applies = is_large_lithium,
        .good = "warns before it disconnects",
        .bad = "disconnects without a warning",
        .absent = no_lithium,
        .risk = "Everything may go dark in the middle of a manoeuvre.",
        .action = "A light or sound in time for the skipper to act.",
        .bases = {
            LITHIUM("alarm before disconnect", KNOWN_MEMORY),
        },
    },
    {
        .id = "LIT-03", .title = "vital loads after a disconnect", .area = AREA_LITHIUM,
            .priority = 'A', .of = EACH_BANK,
        .seen = SEEN_VITAL_SUPPLY, .applies = is_large_lithium,
        .good = "vital loads have a second supply",
        .bad = "a disconnect takes navigation lights, radio and pumps with it",
        .absent = no_lithium,
        .risk = "One management fault leaves no lights, radio or pumps.",
        .action = "Vital loads fed by a source that survives the disconnect.",
        .bases = {
            LITHIUM("supply of vital loads", KNOWN_MEMORY),
            { BY_ABYC, { "ABYC E-13", "critical loads", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "LIT-04", .title = "no charging in the cold", .area = AREA_LITHIUM, .priority = 'B',
            .of = EACH_BANK,
        .seen = SEEN_COLD_PROTECTED, .applies = is_lithium,
        .good = "charging stops in the cold",
        .bad = "charges below its lowest temperature",
        .absent = "no lithium bank",
        .risk = "Charging below 0 C plates lithium and ruins cells for good.",
        .action = "Charging stops by itself below the maker's limit.",
        .bases = {
            LITHIUM("temperature limits, 0 C to 45 C for charging LFP", KNOWN_MEMORY),
        },
    },
    { .id = NULL }
};

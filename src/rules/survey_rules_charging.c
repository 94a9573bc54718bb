/* survey_rules_charging.c - rules of alternators, chargers and inverters.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "parts/bank.h"
#include "parts/machine.h"
#include "rules/survey_rule.h"

/*
 * Limits by chemistry come from parts/bank.h, currents and volts from the profile; what the
 * inverter's feed and terminals do, from the circuit. A setting that nobody typed is never judged:
 * it would be held against itself.
 */

/* --- alternators --- */

static int charges_lithium(const struct survey_case *c)
{
    const struct alternator *a = c->thing;

    return a->bank && a->bank->chemistry == CHEMISTRY_LFP;
}

/* CHG-01. A lithium bank takes full current for hours, so what the machine gives hot is its limit: by its
 * regulator, or because the bank takes no more and somebody typed so. */
static void test_alternator_heat(struct survey_case *c)
{
    const struct alternator *a = c->thing;
    const double hot = a->rated_current.value * a->hot_factor.value, takes = a->bank->max_charge.value;

    if (range_known(&a->current_limit))
        case_judge(c, a->current_limit.value <= hot * (1 + 1e-9),
                   SAY(c, "limited to %.0f A; it gives %.0f A for hours when hot, the bank takes %.0f A",
                       a->current_limit.value, hot, takes));
    else if (takes <= hot && !case_assumed(c, "bank", a->bank->name, "max_charge"))
        case_complies(
            c, SAY(c, "the bank takes no more than %.0f A; it gives %.0f A for hours when hot", takes, hot));
    else
        case_not_verified(
            c,
            SAY(c, "the bank takes %.0f A; it gives %.0f A for hours when hot, and no limit is known", takes,
                hot),
            SAY(c, "[alternator %s] current_limit", c->name));
}

/* --- volts --- */

/* How far a setting may lie from the usual one [V] for each cell: 0.3 V (lead) or 0.4 V (LFP) for 12 V. */
static double volts_slack(const struct bank *bank)
{
    return bank_cells(bank) * (bank->chemistry == CHEMISTRY_LFP ? 0.1 : 0.05);
}

/* A charging voltage [V] against the usual one of the chemistry, within
 * volts_slack. what: how the fact begins. */
static void judge_volts(struct survey_case *c, const struct bank *bank, double volts, const char *what)
{
    const double usual = chemistry_facts(bank->chemistry)->absorption_cell_v * bank_cells(bank);
    const double low = usual - volts_slack(bank), high = usual + volts_slack(bank);

    case_judge(c, volts >= low - 1e-9 && volts <= high + 1e-9,
               SAY(c, "%s %.2f V on a %s bank; usual: %.2f V to %.2f V", what, volts,
                   chemistry_facts(bank->chemistry)->name, low, high));
}

/* CHG-03. A default is the usual figure itself, so it could never fail: only a typed one is judged. */
static void test_absorption(struct survey_case *c)
{
    const struct bank *bank = c->thing;

    if (case_assumed(c, "bank", c->name, "absorption_voltage"))
        case_not_verified(c, "absorption voltage set on its chargers not read",
                          SAY(c, "[bank %s] absorption_voltage, from the settings", c->name));
    else
        judge_volts(c, bank, bank->absorption_voltage.value, "charged to");
}

static int alternator_charges(const struct survey_case *c)
{
    return ((const struct alternator *)c->thing)->bank != NULL;
}

/* CHG-04. The alternator's own regulator, where its volts were read. */
static void test_regulated_volts(struct survey_case *c)
{
    const struct alternator *a = c->thing;

    if (!range_known(&a->regulated_voltage))
        case_not_verified(c, "voltage its regulator holds not read",
                          SAY(c, "[alternator %s] regulated_voltage", c->name));
    else
        judge_volts(c, a->bank, a->regulated_voltage.value, "regulated at");
}

static int is_charged_lead(const struct survey_case *c)
{
    return ((const struct bank *)c->thing)->chemistry != CHEMISTRY_LFP;
}

/* --- chargers --- */

/* CHG-05. Against the chemistry's band; up to half above it passes. */
static void test_charger_size(struct survey_case *c)
{
    const struct charger *charger = c->thing;
    const struct chemistry_facts *facts = chemistry_facts(charger->bank->chemistry);
    const double ah = bank_capacity_20h(charger->bank), low = facts->charge_low_c * ah,
                 high = facts->charge_high_c * ah;

    case_judge(c, charger->current.value >= low && charger->current.value <= 1.5 * high,
               SAY(c, "%.0f A on %.0f Ah of %s; usual: %.0f A to %.0f A", charger->current.value, ah,
                   facts->name, low, high));
}

static int has_bank(const struct survey_case *c)
{
    return ((const struct charger *)c->thing)->bank != NULL;
}

/* Share of the circuit's volts that a charging path may lose before the charger is misled [%]. */
enum { CHARGE_DROP_PERCENT = 3 };

/* CHG-06. I R / V of the charger's own cable at full current; from the first cable that has an end at it. */
static void test_charge_drop(struct survey_case *c)
{
    const struct charger *charger = c->thing;
    const struct cable *cable = cable_touching(c->input->boat, c->name);
    const struct circuit_cable *found = cable ? case_cable(c, cable->name) : NULL;
    double percent;

    if (!found || !range_known(&cable->area)) {
        case_not_verified(c, "loss between charger and bank not known",
                          cable ? SAY(c, "[cable %s] area", cable->name)
                                : SAY(c, "a [cable NAME] with an end at %s", c->name));
        return;
    }
    percent = 100 * charger->current.value * found->resistance_mohm * 1e-3 / found->nominal_v;
    case_judge(c, percent <= CHARGE_DROP_PERCENT,
               SAY(c, "%.1f %% of %.0f V lost in its cable at %.0f A; at most %d %%", percent,
                   found->nominal_v, charger->current.value, (int)CHARGE_DROP_PERCENT));
}

/* --- inverters --- */

static const struct inverter *inverter_of(const struct survey_case *c)
{
    return c->thing;
}

/* DC current at full power as the volts come down to the cut-out [A]: the most it draws. */
static double inverter_amps(const struct inverter *inverter)
{
    const struct inverter_model model = inverter_model(inverter);

    return inverter_input_w(&model, inverter->power.value) / inverter->cut_out.value;
}

/* The DC cable of the inverter: the one the circuit calls dc. */
static const struct cable *feed_of(const struct survey_case *c)
{
    const struct boat *boat = c->input->boat;

    for (size_t i = 0; i < boat->cable_count; i++) {
        const struct cable *cable = &boat->cables[i];
        const struct circuit_cable *found = case_cable(c, cable->name);

        if (found && strcmp(found->system, "dc") == 0 &&
            (strcmp(cable->to, c->name) == 0 || strcmp(cable->from, c->name) == 0))
            return cable;
    }
    return NULL;
}

/* INV-01. Current at full power and cut-out volts against the feed's ampacity band: not
 * verified where the band decides. */
static void test_feed(struct survey_case *c)
{
    const struct cable *feed = feed_of(c);
    const double amps = inverter_amps(inverter_of(c));
    struct ampacity_band band;
    const char *fact;

    c->cite = &c->input->rules->ampacity_cite;
    if (!feed || !range_known(&feed->area)) {
        case_not_verified(c, SAY(c, "draws up to %.0f A; its feed is not known", amps),
                          feed ? SAY(c, "[cable %s] area", feed->name)
                               : SAY(c, "a [cable NAME] with to = %s", c->name));
        return;
    }
    band = cable_ampacity_band(c, feed);
    fact = SAY(c, "draws up to %.0f A at full power and %.1f V; its feed carries %.0f A%s (%s)", amps,
               inverter_of(c)->cut_out.value, band.low_a,
               band.low_a == band.high_a ? "" : SAY(c, " to %.0f A", band.high_a), band.why);
    if (amps > band.low_a && amps <= band.high_a)
        case_not_verified(c, fact, band.need);
    else
        case_judge(c, amps <= band.low_a, fact);
}

/* INV-02. The device must carry that same current, else it opens under the largest load. */
static void test_feed_fuse(struct survey_case *c)
{
    const struct cable *feed = feed_of(c);
    const double amps = inverter_amps(inverter_of(c));
    const struct protected_by by =
        feed ? cable_protection(c, feed) : (struct protected_by){ PROTECTION_UNKNOWN, 0, 0 };

    if (by.how != PROTECTION_RATED)
        case_not_verified(c, SAY(c, "draws up to %.0f A; fuse of its feed not read", amps),
                          feed ? SAY(c, "[cable %s] fuse", feed->name)
                               : SAY(c, "a [cable NAME] with to = %s", c->name));
    else
        case_judge(c, by.rating_a >= amps,
                   SAY(c, "%.4g A device in a feed that draws up to %.0f A", by.rating_a, amps));
}

/* The worst that was tried of one kind of draw, with the bank new: it holds least often, and by the smallest
 * margin. NULL: none was tried, for there is no cable to it. */
static const struct circuit_inverter *worst_try(const struct survey_case *c, const char *draw)
{
    const struct circuit *circuit = c->input->circuit;
    const struct circuit_inverter *worst = NULL;

    for (size_t i = 0; circuit && i < circuit->inverter_count; i++) {
        const struct circuit_inverter *t = &circuit->inverters[i];

        if (strcmp(t->name, c->name) == 0 && strcmp(t->draw, draw) == 0 && strcmp(t->bank_age, "new") == 0 &&
            (!worst ||
             (t->holds < worst->holds || (t->holds == worst->holds && t->margin_v < worst->margin_v))))
            worst = t;
    }
    return worst;
}

/* The first cable on the way from the thing back to its bank whose size was not read; NULL: all were. Rows
 * run away from the source. */
static const struct circuit_cable *unread_before(const struct survey_case *c)
{
    const struct circuit *circuit = c->input->circuit;
    const char *node = c->name;

    for (size_t steps = 0; circuit && node && steps < circuit->cable_count; steps++) {
        const char *before = NULL;

        for (size_t i = 0; i < circuit->cable_count && !before; i++)
            if (strcmp(circuit->cables[i].to, node) == 0) {
                if (circuit->cables[i].installed_mm2 <= 0)
                    return &circuit->cables[i];
                before = circuit->cables[i].from;
            }
        node = before;
    }
    return NULL;
}

/* INV-03, INV-04. Within 5 % of a cut-out nobody typed is not verified, nor what a cable of unread size
 * loses. */
static void judge_cut_out(struct survey_case *c, const char *draw)
{
    const struct circuit_inverter *t = worst_try(c, draw);
    const struct circuit_cable *unread = unread_before(c);
    const char *fact;

    if (!t || unread) {
        case_not_verified(c, "volts at its terminals under load not known",
                          unread ? SAY(c, "[cable %s] area, as printed on the jacket", unread->name)
                                 : SAY(c, "a [cable NAME] with to = %s", c->name));
        return;
    }
    fact = t->volts_v > 0
               ? SAY(c, "%.2f V at its terminals at %s %.0f W and %.0f %% charge; gives up under %.2f V",
                     t->volts_v, draw, t->ac_w, t->charge_percent, t->cut_out_v)
               : SAY(c, "the volts collapse at %s %.0f W and %.0f %% charge; at most %.0f W can be drawn",
                     draw, t->ac_w, t->charge_percent, t->most_w);
    if (case_assumed(c, "inverter", c->name, "cut_out") && t->volts_v > 0 &&
        fabs(t->margin_v) < 0.05 * t->cut_out_v)
        case_not_verified(c, fact, SAY(c, "[inverter %s] cut_out, from its handbook", c->name));
    else
        case_judge(c, t->holds, fact);
}

static void test_cut_out(struct survey_case *c)
{
    judge_cut_out(c, "continuous");
}

static void test_surge(struct survey_case *c)
{
    judge_cut_out(c, "surge");
}

/* Share of the bank's usable energy that a day of idling may take. */
static const double idle_share = 0.10;

/* INV-05. A day of idling against the usable energy of the house bank: ceiling less floor of its rating. */
static void test_idle(struct survey_case *c)
{
    const struct bank *house = boat_house_bank(c->input->boat);
    const double day = inverter_of(c)->idle_power.value * 24;
    const double usable =
        bank_rated_ah(house) * bank_nominal_voltage(house) * (house->ceiling.value - house->floor.value);
    const char *fact =
        SAY(c, "idles at %.0f W: %.0f Wh a day, %.0f %% of the %.0f Wh the bank may give; at most %.0f %%",
            inverter_of(c)->idle_power.value, day, 100 * day / usable, usable, 100 * idle_share);

    if (case_assumed(c, "inverter", c->name, "idle_power"))
        case_not_verified(c, fact,
                          SAY(c, "[inverter %s] idle_power, measured or from its handbook", c->name));
    else
        case_judge(c, day <= idle_share * usable, fact);
}

static int has_house(const struct survey_case *c)
{
    return boat_house_bank(c->input->boat) != NULL;
}

static int has_charger(const struct survey_case *c)
{
    return c->input->boat->charger_count > 0;
}

static const char no_lithium_charging[] = "no alternator charges a lithium bank";

/* Charging CHG-, inverters INV-. Mostly common practice and the engine's figures; ISO 13297
 * clause 6.8 (quoted) for the neutral. */
const struct survey_rule rules_charging[] = {
    {
        .id = "CHG-01", .title = "alternator against lithium", .area = AREA_CHARGING, .priority = 'B',
            .of = EACH_ALTERNATOR,
        .seen = NOT_SEEN, .test = test_alternator_heat, .applies = charges_lithium,
        .needs = "[alternator] current_limit, hot_factor; [bank] max_charge",
        .absent = no_lithium_charging,
        .risk = "A lithium bank takes full current for hours; an alternator without a limit burns its "
            "windings.",
        .action = "Current held to what the machine gives hot, for as long as the bank takes it.",
        .bases = {
            PRACTICE("hot output 75 % to 80 % of the label"),
        },
    },
    {
        .id = "CHG-02", .title = "battery disconnected while charging", .area = AREA_CHARGING,
            .priority = 'A', .of = EACH_ALTERNATOR,
        .seen = SEEN_DISCONNECT_PROTECTED, .applies = charges_lithium,
        .good = "survives its battery being disconnected",
        .bad = "nothing holds the volts when the bank disconnects itself",
        .absent = no_lithium_charging,
        .risk = "The alternator's voltage leaps and destroys its diodes and what hangs on the bus.",
        .action = "Charging stops before the disconnect, or something else holds the bus.",
        .bases = {
            { BY_NONE, { "ISO 23625:2025", "loss of the battery", KNOWN_MEMORY }, NULL },
        },
    },
    {
        .id = "CHG-03", .title = "absorption voltage of the bank", .area = AREA_CHARGING,
            .priority = 'B', .of = EACH_BANK,
        .seen = NOT_SEEN, .test = test_absorption,
        .needs = "[bank] absorption_voltage",
        .risk = "Too low never fills the bank; too high gasses, dries or trips it.",
        .action = "Charging volts to the maker's figure for this chemistry.",
        .bases = {
            PRACTICE("usual volts of the chemistry"),
        },
    },
    {
        .id = "CHG-04", .title = "alternator voltage", .area = AREA_CHARGING, .priority = 'B',
            .of = EACH_ALTERNATOR,
        .seen = NOT_SEEN, .test = test_regulated_volts, .applies = alternator_charges,
        .needs = "[alternator] regulated_voltage",
        .absent = "no alternator charges a bank",
        .risk = "Too low never fills the bank; too high gasses, dries or trips it.",
        .action = "Regulated volts to the maker's figure for the bank's chemistry.",
        .bases = {
            PRACTICE("usual volts of the chemistry"),
        },
    },
    {
        .id = "CHG-05", .title = "charger against the bank", .area = AREA_CHARGING, .priority = 'C',
            .of = EACH_CHARGER,
        .seen = NOT_SEEN, .test = test_charger_size, .applies = has_bank,
        .needs = "[charger] current",
        .absent = "no charger on a bank",
        .risk = "Too small runs the generator for hours; too large heats the bank.",
        .action = "Charger in the usual band for the bank's chemistry and size.",
        .bases = {
            PRACTICE("bands by chemistry; up to half above the band passes"),
        },
    },
    {
        .id = "CHG-06", .title = "loss in the charging path", .area = AREA_CHARGING, .priority = 'B',
            .of = EACH_CHARGER,
        .seen = NOT_SEEN, .test = test_charge_drop,
        .needs = "[cable] area, length",
        .risk = "The charger reads its own terminals, thinks the bank is full and tapers early.",
        .action = "Loss from charger to posts within 3 %, or volts sensed at the posts.",
        .bases = {
            PRACTICE("3 %"),
        },
    },
    {
        .id = "CHG-07", .title = "temperature felt", .area = AREA_CHARGING, .priority = 'C', .of = EACH_BANK,
        .seen = SEEN_TEMPERATURE_SENSED, .applies = is_charged_lead,
        .good = "chargers feel its temperature",
        .bad = "chargers do not feel its temperature",
        .absent = "no lead-acid bank",
        .risk = "A hot bank is overcharged and dries out, a cold one is never full.",
        .action = "Charging volts follow the bank's temperature.",
        .bases = {
            PRACTICE("makers' instructions"),
        },
    },
    {
        .id = "INV-01", .title = "feed carries full power", .area = AREA_INVERTER, .priority = 'A',
            .of = EACH_INVERTER,
        .seen = NOT_SEEN, .test = test_feed,
        .needs = "[cable] area, insulation; [inverter] efficiency, cut_out",
        .risk = "Amps rise as volts fall: a feed sized for the nominal volts burns when the bank is low.",
        .action = "Feed that carries the current at full power and cut-out volts.",
        .bases = {
            { BY_CFR183, { "33 CFR 183.425", "(b)", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "INV-02", .title = "fuse carries full power", .area = AREA_INVERTER, .priority = 'B',
            .of = EACH_INVERTER,
        .seen = NOT_SEEN, .test = test_feed_fuse,
        .needs = "[cable] fuse",
        .risk = "The fuse opens under the largest load and takes everything on AC with it.",
        .action = "Rating above the current at full power and cut-out volts, within what the cable allows.",
        .bases = {
            PRACTICE("inverter handbooks"),
        },
    },
    {
        .id = "INV-03", .title = "holds at full power", .area = AREA_INVERTER, .priority = 'B',
            .of = EACH_INVERTER,
        .seen = NOT_SEEN, .test = test_cut_out,
        .needs = "[cable] length, area, joints; [bank] internal_resistance; [inverter] cut_out",
        .risk = "It trips on low voltage although the bank is not empty.",
        .action = "Volts at its terminals above cut-out at continuous power, bank half full.",
        .bases = {
            PRACTICE("volts solved from post to terminal at constant power"),
        },
    },
    {
        .id = "INV-04", .title = "holds at surge", .area = AREA_INVERTER, .priority = 'C',
            .of = EACH_INVERTER,
        .seen = NOT_SEEN, .test = test_surge,
        .needs = "[inverter] surge_power, cut_out; [cable]",
        .risk = "Motors do not start; it trips for some seconds.",
        .action = "Volts at its terminals above cut-out at surge power, bank half full.",
        .bases = {
            PRACTICE("volts solved from post to terminal at constant power"),
        },
    },
    {
        .id = "INV-05", .title = "idle draw", .area = AREA_INVERTER, .priority = 'C', .of = EACH_INVERTER,
        .seen = NOT_SEEN, .test = test_idle, .applies = has_house,
        .needs = "[inverter] idle_power",
        .absent = "no inverter on a house bank",
        .risk = "Left on, it eats a good part of the bank without doing anything.",
        .action = "Idle draw under a tenth of the usable energy a day, or switched off when not used.",
        .bases = {
            PRACTICE("a tenth a day is our own limit"),
        },
    },
    {
        .id = "INV-06", .title = "neutral and earth joined while it feeds", .area = AREA_INVERTER,
            .priority = 'A', .of = EACH_INVERTER,
        .seen = SEEN_NEUTRAL_BONDED,
        .good = "joined at the inverter while it feeds, and only there",
        .bad = "not joined while it feeds, or joined in two places",
        .risk = "Without it a residual-current device does not act on a live case; with two, current "
            "runs in the earth.",
        .action = "One joint of neutral and earth, at the source in use, opening before another closes.",
        .bases = {
            { BY_ISO13297, { "ISO 13297:2020", "clause 6.8", KNOWN_QUOTED }, NULL },
            { BY_ABYC, { "ABYC E-11", "bond at the source in use only", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "INV-07", .title = "residual-current device on inverter", .area = AREA_INVERTER,
            .priority = 'A', .of = EACH_INVERTER,
        .seen = SEEN_RCD_TESTED,
        .good = "tripped by an instrument on inverter",
        .bad = "did not trip by an instrument on inverter",
        .risk = "A live case kills; the test button alone does not prove the path through earth.",
        .action = "Device trips on an instrument's fault current in this mode.",
        .bases = {
            { BY_ISO13297, { "ISO 13297:2020", "residual-current device, 30 mA within 100 ms",
                KNOWN_MEMORY }, "30 mA or less within 100 ms" },
        },
    },
    {
        .id = "INV-08", .title = "case bonded", .area = AREA_INVERTER, .priority = 'B', .of = EACH_INVERTER,
        .seen = SEEN_CASE_EARTHED,
        .good = "case bonded for the DC fault current",
        .bad = "case not bonded, or by a thin wire",
        .risk = "A fault from the DC side to the case burns a thin earth wire.",
        .action = "Case bonded by a conductor that carries the DC fault until the fuse opens.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "INV-09", .title = "does not feed its own charger", .area = AREA_INVERTER,
            .priority = 'B', .of = EACH_INVERTER,
        .seen = SEEN_CHARGER_KEPT_OFF, .applies = has_charger,
        .good = "cannot feed the charger of its bank",
        .bad = "can feed the charger of its own bank",
        .absent = "no inverter beside a charger",
        .risk = "The bank charges itself in a circle until it is empty.",
        .action = "Charger dead while the inverter feeds the panel.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    { .id = NULL }
};

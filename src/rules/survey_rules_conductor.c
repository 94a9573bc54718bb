/* survey_rules_conductor.c - rules of conductors: size, current, insulation, route, drop.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "parts/rounding.h"
#include "rules/survey_rule.h"

/*
 * Sizes, currents and drops wait for [cable] area and insulation and for the circuit; what lies behind
 * panels waits for [seen CABLE]. Where a device would open before the cable burns, an overload is a
 * nuisance: priority B instead of A.
 */

static const struct cable *cable_of(const struct survey_case *c)
{
    return c->thing;
}

static int has_result(const struct survey_case *c)
{
    return case_cable(c, c->name) != NULL;
}

/* --- smallest size --- */

/* [m2] by the set that judges; 0: it has no such clause. */
static double smallest_of(const struct survey_case *c)
{
    return wiring_smallest(c->input->rules, cable_of(c)->sheathed);
}

/* CON-01. Waits for the size; SAE and strand sizes count by their metal. */
static void test_smallest(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const double least = smallest_of(c);

    c->cite = &c->input->rules->smallest_cite;
    if (!range_known(&cable->area))
        case_not_verified(c, SAY(c, "size not read; at least %.3g mm2", least * 1e6),
                          SAY(c, "[cable %s] area, as printed on the jacket", c->name));
    else
        case_judge(c, cable->area.value >= least * (1 - 1e-6),
                   SAY(c, "%.3g mm2 %s; at least %.3g mm2", cable->area.value * 1e6,
                       cable->sheathed ? "in a sheath" : "laid singly", least * 1e6));
}

/* A starter's cable is judged by the volts while cranking (STA-03). */
static int is_ruled(const struct survey_case *c)
{
    return smallest_of(c) > 0 && !cable_cranks(c, cable_of(c));
}

/* --- current --- */

/* What a conductor of the cable carries in the open, 30 C of air, [A] for a pole. */
static double table_amps(const struct survey_case *c, double insulation_c)
{
    struct cable open = *cable_of(c);

    open.place = PLACE_CABIN;
    open.bundle.value = 2;
    return cable_ampacity(c, &open, insulation_c);
}

/* The steady current against an ampacity band: under it complies, over it fails,
 * inside it waits for what narrows it. */
static void judge_current(struct survey_case *c, double low_a, double high_a, const char *need,
                          const char *fact)
{
    const double amps = case_cable(c, c->name)->design_a;

    if (cable_guarded(c, cable_of(c)))
        c->priority = 'B'; /* it is a nuisance: the device opens before the cable burns */
    if (amps > low_a && amps <= high_a)
        case_not_verified(c, fact, need);
    else
        case_judge(c, amps <= low_a, fact);
}

/* A size was read and the circuit has a current for it. Cranking is too
 * short for an ampacity, which is for hours. */
static int has_area(const struct survey_case *c)
{
    return has_result(c) && range_known(&cable_of(c)->area) && !cable_cranks(c, cable_of(c));
}

/* CON-02. The table alone, 30 C and two conductors, so that a finding says
 * which of table and surroundings it is. */
static void test_ampacity(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const int assumed = case_assumed(c, "cable", c->name, "insulation");
    const double low = table_amps(c, assumed ? 60 : cable->insulation.value);
    const double high = table_amps(c, assumed ? 105 : cable->insulation.value);
    const struct circuit_cable *found = case_cable(c, c->name);

    c->cite = &c->input->rules->ampacity_cite;
    judge_current(c, low, high, SAY(c, "[cable %s] insulation, as printed on the jacket", c->name),
                  assumed ? SAY(c, "steady %.0f A (%s) on a cable of %.0f A to %.0f A, insulation not read",
                                found->design_a, scenario_words(found->design_scenario), low, high)
                          : SAY(c, "steady %.0f A (%s) on a cable of %.0f A by the table, %.0f C insulation",
                                found->design_a, scenario_words(found->design_scenario), low,
                                cable->insulation.value));
}

static int is_corrected(const struct survey_case *c)
{
    return has_area(c) && (cable_of(c)->place == PLACE_ENGINE || cable_of(c)->bundle.value > 2 ||
                           cable_may_be_hot(c, cable_of(c)));
}

/* CON-03. With the factors of the place. The clause is that of the larger correction on
 * board: engine space before bundle. */
static void test_corrected(struct survey_case *c)
{
    const struct ampacity_band band = cable_ampacity_band(c, cable_of(c));
    const double amps = case_cable(c, c->name)->design_a;

    c->cite =
        cable_of(c)->place == PLACE_ENGINE ? &c->input->rules->engine_cite : &c->input->rules->bundle_cite;
    judge_current(c, band.low_a, band.high_a, band.need,
                  band.low_a == band.high_a
                      ? SAY(c, "steady %.0f A on a cable that carries %.0f A where it lies (%s)", amps,
                            band.low_a, band.why)
                      : SAY(c, "steady %.0f A on a cable that carries %.0f A to %.0f A where it lies (%s)",
                            amps, band.low_a, band.high_a, band.why));
}

/* --- insulation --- */

static int in_engine_space(const struct survey_case *c)
{
    return cable_of(c)->place == PLACE_ENGINE || cable_may_be_hot(c, cable_of(c));
}

/* CON-04. A column with factor 0 is not allowed in engine spaces by that set. */
static void test_engine_insulation(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const struct wiring_rules *rules = c->input->rules;
    const int column = wiring_column(rules, cable->insulation.value);

    c->cite = &rules->engine_cite;
    if (cable->place != PLACE_ENGINE)
        case_not_verified(c,
                          SAY(c, "%.0f C insulation; whether it lies in the engine space is not said",
                              cable->insulation.value),
                          SAY(c, "[cable %s] place: cabin or engine", c->name));
    else if (case_assumed(c, "cable", c->name, "insulation"))
        case_not_verified(
            c, SAY(c, "insulation not read; engine space taken as %.0f C", rules->engine_ambient_c),
            SAY(c, "[cable %s] insulation, as printed on the jacket", c->name));
    else
        case_judge(c, column >= 0 && rules->engine_factor[column] > 0,
                   SAY(c, "%.0f C insulation in an engine space taken as %.0f C", cable->insulation.value,
                       rules->engine_ambient_c));
}

/* --- drop --- */

/* Loads at its far end, or a node it feeds: where the limit is judged. */
static int drop_judged(const struct survey_case *c, int critical)
{
    const struct circuit_cable *found = case_cable(c, c->name);

    return found && found->critical == critical && wiring_drop_limit(c->input->rules, critical) > 0 &&
           found->drop_limit_percent > 0 && found->current_a > 0 && !cable_cranks(c, cable_of(c));
}

static int is_critical(const struct survey_case *c)
{
    return drop_judged(c, 1);
}

static int is_ordinary(const struct survey_case *c)
{
    return drop_judged(c, 0);
}

/* CON-05, CON-06. By the set's own formula where it has one, over the whole path
 * from the source: found->rule_*. */
static void test_drop(struct survey_case *c)
{
    const struct circuit_cable *found = case_cable(c, c->name);
    const struct wiring_rules *rules = c->input->rules;

    c->cite = found->critical ? &rules->drop_critical_cite : &rules->drop_normal_cite;
    if (!range_known(&cable_of(c)->area))
        case_not_verified(c,
                          SAY(c, "size not read; at most %.3g %% from the source to %s",
                              found->drop_limit_percent, found->to),
                          SAY(c, "[cable %s] area, as printed on the jacket", c->name));
    else
        case_judge(c, at_most(found->judged_drop_percent, found->drop_limit_percent),
                   SAY(c,
                       "%.*f %% lost from the source to %s at %.1f A (%.2f V of %.0f V in this cable); at "
                       "most %.3g %%, %s",
                       fabs(found->judged_drop_percent - found->drop_limit_percent) < 0.05 ? 2 : 1,
                       found->judged_drop_percent, found->to, found->current_a,
                       found->rule_drop_v < 0 ? found->drop_v : found->rule_drop_v,
                       found->nominal_v, found->drop_limit_percent, found->limit_why));
}

/* --- parallel and return conductors --- */

static int has_runs(const struct survey_case *c)
{
    return cable_of(c)->runs.value > 1;
}

static int has_thin_return(const struct survey_case *c)
{
    return has_area(c) && range_known(&cable_of(c)->return_area);
}

/* CON-13. A return conductor thinner than the positive, against the device that protects both. */
static void test_return(struct survey_case *c)
{
    const struct protected_by by = cable_protection(c, cable_of(c));
    const struct wiring_rules *rules = c->input->rules;
    const double volts = case_cable(c, c->name)->nominal_v;
    struct cable back = *cable_of(c);
    struct ampacity_band band;
    const char *fact;
    int low, high;

    back.area = back.return_area;
    band = cable_ampacity_band(c, &back);
    c->cite = &rules->ampacity_cite;
    if (by.how != PROTECTION_RATED) {
        judge_current(c, band.low_a, band.high_a, band.need,
                      SAY(c, "return conductor of %.3g mm2 carries %.0f A for a steady %.0f A",
                          back.area.value * 1e6, band.low_a, case_cable(c, c->name)->design_a));
        return;
    }
    low = wiring_fuse_allowed(rules, by.rating_a, band.low_a, volts);
    high = wiring_fuse_allowed(rules, by.rating_a, band.high_a, volts);
    fact = SAY(c, "return conductor of %.3g mm2 carries %.0f A behind a %.4g A device (%s)",
               back.area.value * 1e6, band.low_a, by.rating_a, band.why);
    if (low != high)
        case_not_verified(c, fact, band.need);
    else
        case_judge(c, low, fact);
}

static int has_sae_size(const struct survey_case *c)
{
    return cable_of(c)->area_series == AREA_SAE && range_known(&cable_of(c)->area);
}

/* CON-14. Always advice: the number on the jacket misleads whoever fuses by it. */
static void test_sae(struct survey_case *c)
{
    const struct cable *cable = cable_of(c);
    const struct conductor_size *awg = conductor_nearest_awg(cable->area.value);

    case_fails(
        c, SAY(c, "marked %s: %.3g mm2 of copper, where the AWG size of that number has up to 12 %% more%s%s",
               cable->area_text ? cable->area_text : "in SAE numbers", cable->area.value * 1e6,
               awg ? "; nearest AWG: " : "", awg ? awg->label : ""));
}

static int has_ac(const struct survey_case *c)
{
    return boat_ac_sources(c->input->boat) > 0;
}

#define CFR_LIMIT(section, clause_, limit_)                                                                  \
    {                                                                                                        \
        BY_CFR183, { "33 CFR " section, clause_, KNOWN_READ }, limit_                                        \
    }
#define ISO_LIMIT(clause_, limit_)                                                                           \
    {                                                                                                        \
        BY_ISO, { "ISO 10133:2012", clause_, KNOWN_QUOTED }, limit_                                          \
    }

static const char no_size[] = "no cable whose size was read";

/* Conductors CON-. Figures come from the set that judges (parts/wiring.h); the bases here
 * are for sets without the figure. */
const struct survey_rule rules_conductor[] = {
    {
        .id = "CON-01", .title = "smallest conductor", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_smallest, .applies = is_ruled,
        .needs = "[cable] area, sheathed",
        .absent = "no cable that the set gives a smallest size for",
        .risk = "Thin conductors break at vibration and pull out of their lugs.",
        .action = "Conductor at or above the smallest size of the set.",
        .bases = {
            CFR_LIMIT("183.425", "(d), (e)", NULL),
            ISO_LIMIT("clause 7.7", NULL),
        },
    },
    {
        .id = "CON-02", .title = "carries its current", .area = AREA_CONDUCTORS, .priority = 'A',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_ampacity, .applies = has_area,
        .needs = "[cable] area, insulation",
        .absent = no_size,
        .risk = "An overloaded cable softens its insulation and burns. "
            "Priority B where its device would open first.",
        .action = "Steady current within the table of the set.",
        .bases = {
            CFR_LIMIT("183.425", "(b), Table 5", NULL),
        },
    },
    {
        .id = "CON-03", .title = "carries its current where it lies", .area = AREA_CONDUCTORS,
            .priority = 'A', .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_corrected, .applies = is_corrected,
        .needs = "[cable] area, insulation, place, bundle",
        .absent = "no cable in an engine space or a bundle",
        .risk = "Heat of the engine or of neighbours takes what the table allows. "
            "Priority B where its device would open first.",
        .action = "Steady current within the table after its corrections.",
        .bases = {
            CFR_LIMIT("183.425", "(c), Table 5 note 1", NULL),
        },
    },
    {
        .id = "CON-04", .title = "insulation fit for the engine space", .area = AREA_CONDUCTORS,
            .priority = 'B', .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_engine_insulation, .applies = in_engine_space,
        .needs = "[cable] insulation",
        .absent = "no cable in an engine space",
        .risk = "Insulation hardens, cracks and bares the conductor beside hot metal and oil.",
        .action = "Insulation of a rating the set allows in engine spaces.",
        .bases = {
            CFR_LIMIT("183.425", "(c), Table 5 note 1", NULL),
        },
    },
    {
        .id = "CON-05", .title = "drop on critical circuits", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_drop, .applies = is_critical,
        .needs = "[cable] area, length; loads",
        .absent = "no critical circuit, or the set has no limit",
        .risk = "Lights dim, electronics reset, pumps slow down when the bank is low.",
        .action = "Loss on the whole path, out and back, within the strict limit.",
        .bases = {
            ISO_LIMIT("clause 4.8, note", NULL),
        },
    },
    {
        .id = "CON-06", .title = "drop on other circuits", .area = AREA_CONDUCTORS, .priority = 'C',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_drop, .applies = is_ordinary,
        .needs = "[cable] area, length; loads",
        .absent = "no ordinary circuit, or the set has no limit",
        .risk = "Motors run hot and weak, converters draw more current.",
        .action = "Loss on the whole path, out and back, within the limit.",
        .bases = {
            { BY_ABYC, { "ABYC E-11", "10 %", KNOWN_QUOTED }, NULL },
        },
    },
    {
        .id = "CON-07", .title = "stranded copper", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = SEEN_STRANDED_COPPER,
        .good = "insulated stranded copper",
        .bad = "solid wire, or not made for boats",
        .risk = "Solid wire breaks at vibration; welding cable soaks up oil and water.",
        .action = "Insulated stranded copper of a boat grade.",
        .bases = {
            CFR_LIMIT("183.425", "(a)", NULL),
            ISO_LIMIT("clause 7.1", NULL),
        },
    },
    {
        .id = "CON-08", .title = "supported along its run", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = SEEN_SUPPORTS,
        .good = "held along its run",
        .bad = "hangs between far supports",
        .risk = "A swinging cable chafes, pulls at its lugs and ends up against hot or wet parts.",
        .action = "Supports within the distance of the clause, or conduit.",
        .bases = {
            ISO_LIMIT("clauses 7.3, 7.4", "every 450 mm; battery cables to the isolator every 300 mm"),
            { BY_NONE, { "46 CFR 183.340", NULL, KNOWN_READ }, "every 610 mm" },
        },
    },
    {
        .id = "CON-09", .title = "protected against chafe", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = SEEN_CHAFE_PROTECTED,
        .good = "nothing rubs it",
        .bad = "rubs on an edge, bulkhead or moving part",
        .risk = "Bared copper shorts to the hull, the engine or its neighbour.",
        .action = "Protection wherever it passes an edge or bulkhead.",
        .bases = {
            CFR_LIMIT("183.445", NULL, NULL),
            { BY_NONE, { "UK inland boat safety scheme", "part 3", KNOWN_READ }, NULL },
        },
    },
    {
        .id = "CON-10", .title = "above bilge water", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = SEEN_ABOVE_BILGE,
        .good = "runs above bilge water",
        .bad = "lies in or near bilge water",
        .risk = "Wet joints corrode, leak current and take metal off the boat.",
        .action = "Cable and joints above the level that starts the pump.",
        .bases = {
            { BY_ISO, { "ISO 10133:2012", "25 mm above the level of the pump switch", KNOWN_MEMORY },
                "at least 25 mm above the level that starts the bilge pump" },
        },
    },
    {
        .id = "CON-11", .title = "joints sound", .area = AREA_CONDUCTORS, .priority = 'B', .of = EACH_CABLE,
        .seen = SEEN_JOINTS_SOUND,
        .good = "lugs crimped, tight and clean",
        .bad = "loose, corroded or heat-marked joint",
        .risk = "A bad joint drops volts, heats and lights what is around it.",
        .action = "Joints crimped, tight and clean, with no mark of heat.",
        .bases = {
            PRACTICE("surveyors' guidance"),
        },
    },
    {
        .id = "CON-12", .title = "parallel conductors alike", .area = AREA_CONDUCTORS, .priority = 'B',
            .of = EACH_CABLE,
        .seen = SEEN_RUNS_EQUAL, .applies = has_runs,
        .good = "parallel conductors alike",
        .bad = "parallel conductors differ in length, size or lugs",
        .absent = "no cable of parallel conductors",
        .risk = "The shorter or thicker one carries most, and all of it when a lug comes loose.",
        .action = "Alike in length, size and lugs, or each protected for itself.",
        .bases = {
            PRACTICE("conductors share by resistance"),
        },
    },
    {
        .id = "CON-13", .title = "return conductor", .area = AREA_CONDUCTORS, .priority = 'A',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_return, .applies = has_thin_return,
        .needs = "[cable] return_area",
        .absent = "no cable with a return conductor of its own size",
        .risk = "The thinner of the two burns; the fuse was chosen for the thicker.",
        .action = "Return conductor within the same limits as the positive.",
        .bases = {
            CFR_LIMIT("183.455", "(c)", NULL),
        },
    },
    {
        .id = "CON-14", .title = "numbers on the jacket", .area = AREA_CONDUCTORS, .priority = 'C',
            .of = EACH_CABLE,
        .seen = NOT_SEEN, .test = test_sae, .applies = has_sae_size,
        .needs = "[cable] area",
        .absent = "no cable marked in SAE numbers",
        .risk = "Replaced or fused by its number it is taken for more copper than it has.",
        .action = "Area in mm2 written on the schedule beside the number.",
        .bases = {
            PRACTICE("SAE J1128 sizes, from memory"),
        },
    },
    {
        .id = "CON-15", .title = "AC and DC apart", .area = AREA_CONDUCTORS, .priority = 'B', .of = THE_BOAT,
        .seen = SEEN_AC_DC_APART, .applies = has_ac,
        .good = "AC and DC run apart",
        .bad = "AC and DC conductors share a run",
        .absent = "no AC on board",
        .risk = "A chafed pair puts mains on the DC system and on every metal part it reaches.",
        .action = "AC and DC in separate runs, trunking or sheaths.",
        .bases = {
            ISO_LIMIT("clause 7.8", NULL),
        },
    },
    { .id = NULL }
};

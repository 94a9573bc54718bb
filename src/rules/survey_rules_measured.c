/* survey_rules_measured.c - rules that hold what a meter said against what it should have said.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "rules/survey_rule.h"

/*
 * A meter's word against the engine's. A band that a reading falls out of tells that something is wrong, not
 * what: the profile may be.
 */

static const struct measured *measured_of(const struct survey_case *c)
{
    return c->thing;
}

/* --- current --- */

static int has_current(const struct survey_case *c)
{
    return range_known(&measured_of(c)->current) && case_expected(c, c->name);
}

/* MEA-01. The band comes from the profile: low and high power, and 10 %
 * either way where one number was typed. */
static void test_current(struct survey_case *c)
{
    const struct expected_load *e = case_expected(c, c->name);
    const double amps = measured_of(c)->current.value;

    case_judge(c, amps >= e->low_a && amps <= e->high_a,
               SAY(c, "draws %.2f A; expected %.2f A to %.2f A", amps, e->low_a, e->high_a));
}

/* --- drop --- */

/* Volts at both ends of the path, read at one moment. */
static int has_drop(const struct survey_case *c)
{
    return range_known(&measured_of(c)->volts) && range_known(&measured_of(c)->source_volts) &&
           case_expected(c, c->name);
}

/*
 * A joint is called bad where the loss exceeds the calculated one by a quarter, and by more than two handheld
 * meters may differ: 0.1 V for each 12 V.
 */
static const double excess_share = 0.25, excess_volts = 0.1;

/* MEA-02. Excess = (Vs - V) - I R: what bad joints lose. The measured current is used where there is one,
 * else the middle of the expected band. Not verified where a cable of the path, or its size, is not in the
 * profile. */
static void test_joint(struct survey_case *c)
{
    const struct measured *m = measured_of(c);
    const struct expected_load *e = case_expected(c, c->name);
    const double amps = range_or(&m->current, (e->low_a + e->high_a) / 2);
    const double lost = m->source_volts.value - m->volts.value, due = amps * e->path_mohm * 1e-3,
                 excess = lost - due;
    const double slack = excess_volts * fmax(1, e->bank_v / 12);

    if (e->path_mohm < 0 || e->path_gap) {
        case_not_verified(
            c, SAY(c, "%.2f V lost at %.1f A; what its cables should lose is not known", lost, amps),
            e->path_gap ? e->path_gap : "the cables to it");
        return;
    }
    case_judge(
        c, excess <= fmax(slack, excess_share * due),
        excess > 0
            ? SAY(c,
                  "%.2f V lost at %.1f A where the cables should lose %.2f V: %.0f mohm too much in joints",
                  lost, amps, due, 1e3 * excess / fmax(amps, 1e-3))
            : SAY(c, "%.2f V lost at %.1f A; the cables should lose %.2f V", lost, amps, due));
}

/* --- everything off --- */

static int has_off_current(const struct survey_case *c)
{
    return range_known(&measured_of(c)->off_current);
}

/* Standby draws and what was seen to stay live, on that bank [A]. */
static double off_expected(const struct survey_case *c)
{
    const struct boat *boat = c->input->boat;
    double amps = 0;

    for (size_t i = 0; i < boat->load_count; i++) {
        const struct load *load = &boat->loads[i];
        const int live = boat_fact(boat, load->name, SEEN_ALWAYS_LIVE) == SEEN_YES;
        const int on = load->usage.kind == USAGE_HOURS && load->usage.hours.value >= 24;

        if (load->supply != SUPPLY_DC || !load->bank || strcmp(load->bank->name, c->name) != 0 || !live)
            continue;
        amps += (on ? load->power.high * load->count.value : load->standby.high) /
                bank_nominal_voltage(load->bank);
    }
    return amps;
}

/* What may flow unexplained [A]: memories of radios and the like, 0.1 A at 12 V. */
static const double off_slack = 0.1;

/* MEA-03. What flows with every switch off, against what is known to stay live. */
static void test_off(struct survey_case *c)
{
    const double amps = measured_of(c)->off_current.value, due = off_expected(c);

    case_judge(c, amps <= due + off_slack,
               SAY(c, "%.2f A (%.1f Ah a day) with every switch off; %.2f A explained, %.1f A allowed on top",
                   amps, 24 * amps, due, off_slack));
}

/* Readings against what the engine expects. No book sets these limits: they follow from the profile, or are
 * our own and listed in docs/handbook/survey.md. */
const struct survey_rule rules_measured[] = {
    {
        .id = "MEA-01", .title = "current as expected", .area = AREA_MEASURED, .priority = 'B',
            .of = EACH_MEASURED,
        .seen = NOT_SEEN, .test = test_current, .applies = has_current,
        .needs = "[measured] current",
        .absent = "no measured current of a load",
        .risk = "Too little: it does no work, a float or a fuse is stuck. Too much: it is jammed, "
            "worn or wired wrongly.",
        .action = "The cause found, and the current within its band.",
        .bases = {
            { BY_NONE, { "band from the ranges of the profile and the volts of the bank", NULL,
                KNOWN_CALCULATED }, NULL },
        },
    },
    {
        .id = "MEA-02", .title = "loss as calculated", .area = AREA_MEASURED, .priority = 'B',
            .of = EACH_MEASURED,
        .seen = NOT_SEEN, .test = test_joint, .applies = has_drop,
        .needs = "[measured] volts, source_volts, current; cables to the load",
        .absent = "no load with measured volts at both ends",
        .risk = "The excess is a bad joint: it heats, and the load starves.",
        .action = "Joints renewed until the loss is what the cables account for.",
        .bases = {
            { BY_NONE, { "source volts less current times resistance of the path", NULL,
                KNOWN_CALCULATED }, NULL },
        },
    },
    {
        .id = "MEA-03", .title = "nothing flows with everything off", .area = AREA_MEASURED,
            .priority = 'C', .of = EACH_MEASURED,
        .seen = NOT_SEEN, .test = test_off, .applies = has_off_current,
        .needs = "[measured] off_current; [seen] always_live",
        .absent = "no current measured with everything off",
        .risk = "A boat left alone comes back to flat banks; leaking current eats metal.",
        .action = "Every ampere with everything off has a name.",
        .bases = {
            PRACTICE("0.1 A for memories"),
        },
    },
    { .id = NULL }
};

/* test_circuit.c - whole boats of a few cables, by hand and by law.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "profile/profile.h"
#include "rules/ruleset.h"

static struct arena *arena;

/* The circuits of a profile by a rule set; printf text. */
static const struct circuit *circuit_of(enum rule_set_id set, const char *format, ...)
{
    struct diag_list *diags = diag_list_new();
    const struct circuit *circuit = NULL;
    const struct boat *boat = NULL;
    char text[4000];
    va_list args;

    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    if (!arena)
        arena = arena_new();
    if (profile_read_text(&boat, arena, "t.ini", text, strlen(text), diags) != STATUS_OK)
        fail_msg("%s %s", diags->items[0].message, diags->items[0].hint ? diags->items[0].hint : "");
    assert_int_equal(circuit_run(&circuit, arena, boat, ruleset_get(set), NULL, diags), STATUS_OK);
    diag_list_free(diags);
    return circuit;
}

static void done(void)
{
    arena_free(arena);
    arena = NULL;
    row_done();
}

static const struct circuit_cable *cable_named(const struct circuit *c, const char *name)
{
    for (size_t i = 0; i < c->cable_count; i++)
        if (strcmp(c->cables[i].name, name) == 0)
            return &c->cables[i];
    fail_msg("no cable %s", name);
    return NULL;
}

static const char bank[] = "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nrole = house\nchemistry = agm\n"
                           "block_capacity = 200 Ah at 20 h\nblock_voltage = 12 V\ninternal_resistance = 4 mohm\n";

TEST(one_cable_by_hand)
{
    const struct circuit *c = circuit_of(RULES_ABYC_E11, "%s[load pump]\nsupply = dc\ncurrent = 10 A\nhours = 1 h\n"
                                         "[cable run]\nfrom = house\nto = pump\nlength = 5 m\narea = 6 mm2\njoints = 2 mohm\n"
                                         "fuse = 15 A\n", bank);
    const struct circuit_cable *k = cable_named(c, "run");
    double cold = 10 * 3.30 + 2; /* [mohm] 10 m out and back of 3.30 ohm/km at 20 C, and the joints */

    row_check("loop at 20 C to 60 C", k->resistance_mohm, cold * 1.05, cold * 0.08, "IEC 60228 class 5, 6 mm2: 3.30 ohm/km");
    row_check("drop is current times loop", k->drop_v, k->current_a * k->resistance_mohm / 1000, 1e-9, "by hand");
    row_check("percent of 12 V", k->drop_percent, k->drop_v / 12 * 100, 1e-9, "by hand");
    row_check("by the rule", k->rule_drop_v, 10 * (10.75 / 0.3048 * 0.50670748e-3 * 10 / 6 + 0.002), 0.002,
              "ABYC E-11 as quoted: K = 10.75 ohm circular mil per foot, out and back");
    row_check("node is bank less drop", c->loads[0].volts_v, c->banks[0].volts_v - k->drop_v, 1e-6, "by hand");
    row_check("bank sags by its resistance", c->banks[0].open_circuit_v - c->banks[0].volts_v,
              k->current_a * c->banks[0].resistance_mohm / 1000, 1e-6, "by hand");
    done();
}

TEST(an_inverter_draws_more_as_volts_fall)
{
    double last = 0;

    for (double length = 1; length < 8; length += 2) {
        const struct circuit *c = circuit_of(RULES_ABYC_E11, "%s[inverter inverter]\npower = 1500 W\ncut_out = 10.5 V\n"
                                             "[load kettle]\nsupply = ac\npower = 1400 W\nhours = 1 h\n"
                                             "[cable feed]\nfrom = house\nto = inverter\nlength = %g m\narea = 50 mm2\n",
                                             bank, length);
        const struct circuit_cable *k = cable_named(c, "feed");
        const struct circuit_load *l = &c->loads[0];

        row_check("power balance at its terminals", l->volts_v * l->current_a, l->power_w, 1e-6 * l->power_w,
                  "by hand: P = V I");
        assert_true(k->current_a > last);
        last = k->current_a;
    }
    done();
}

TEST(more_copper_never_drops_more)
{
    static const double areas[] = { 1.5, 2.5, 4, 6, 10, 16, 25 };
    double last = INFINITY;

    for (size_t i = 0; i < sizeof areas / sizeof areas[0]; i++) {
        const struct circuit *c = circuit_of(RULES_ISO13297, "%s[load lamp]\nsupply = dc\npower = 60 W\nhours = 1 h\n"
                                             "[cable run]\nfrom = house\nto = lamp\nlength = 6 m\narea = %g mm2\n", bank,
                                             areas[i]);
        double drop = cable_named(c, "run")->drop_v;

        assert_true(drop < last);
        last = drop;
    }
    done();
}

TEST(a_left_out_area_is_sized_to_pass)
{
    static const enum rule_set_id sets[] = { RULES_CFR183, RULES_ABYC_E11, RULES_ISO10133, RULES_ISO13297 };

    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        const struct circuit *c = circuit_of(sets[i], "%s[load a]\nsupply = dc\ncurrent = 12 A\nhours = 1 h\ncritical = yes\n"
                                             "[load b]\nsupply = dc\ncurrent = 20 A\nhours = 1 h\n"
                                             "[cable feeder]\nfrom = house\nto = panel\nlength = 4 m\n"
                                             "[cable run-a]\nfrom = panel\nto = a\nlength = 6 m\n"
                                             "[cable run-b]\nfrom = panel\nto = b\nlength = 3 m\n", bank);

        for (size_t k = 0; k < c->cable_count; k++) {
            const struct circuit_cable *cable = &c->cables[k];

            assert_true(cable->ampacity_ok && cable->drop_ok && cable->smallest_ok);
            assert_true(cable->ampacity_a >= cable->design_a * (1 - 1e-9)); /* a table of 20 A carries a solved 20 A */
            assert_true(cable->installed_mm2 == 0 && cable->area_mm2 > 0);
            assert_true(*cable->limited_by);
        }
    }
    done();
}

/* Sizes to buy are of the drum on board, whatever book judges; [rules] sizes comes before both. */
TEST(sizes_are_those_of_the_boat)
{
    static const char form[] = "%s[load a]\nsupply = dc\ncurrent = 12 A\nhours = 1 h\n"
                               "[cable feeder]\nfrom = house\nto = panel\nlength = 4 m\n%s\n"
                               "[cable run-a]\nfrom = panel\nto = a\nlength = 6 m\n%s\n";
    static const struct {
        enum rule_set_id set;
        const char *area, *rules, *unit;
    } rows[] = {
        { RULES_ABYC_E11, "", "", "AWG" },
        { RULES_ISO13297, "", "", "mm2" },
        { RULES_ABYC_E11, "area = 16 mm2", "", "mm2" },
        { RULES_ISO13297, "area = 6 AWG", "", "AWG" },
        { RULES_ABYC_E11, "area = 6 AWG", "[rules]\nsizes = metric", "mm2" },
        { RULES_ISO13297, "area = 16 mm2", "[rules]\nsizes = us", "AWG" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct circuit *c = circuit_of(rows[i].set, form, bank, rows[i].area, rows[i].rules);
        const struct circuit_cable *run = cable_named(c, "run-a");

        assert_non_null(strstr(run->size, rows[i].unit));
        assert_int_equal(c->us_sizes, strcmp(rows[i].unit, "AWG") == 0);
        assert_true(run->ampacity_ok && run->drop_ok && run->smallest_ok);
    }
    done();
}

/* A sound main that uses up the drop of the lights: thickening it is less copper than the lights alone would
 * take. The proposal is the least of all pairs that pass, by trying each; leaving what is there costs nothing. */
TEST(a_sound_cable_grows_where_that_is_less_copper)
{
    static const char form[] = "%s[load lights]\nsupply = dc\ncurrent = 3 A\nhours = 1 h\ncritical = yes\n"
                               "[load pump]\nsupply = dc\ncurrent = 60 A\nhours = 1 h\nnode = bus\n"
                               "[cable main]\nfrom = house\nto = bus\nlength = 1 m\narea = %g mm2\n"
                               "insulation = 105 C\nfuse = 100 A class-t\n"
                               "[cable run]\nfrom = bus\nto = lights\nlength = 15 m\narea = %g mm2\n";
    static const double mm2[] = { 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150 };
    const size_t count = sizeof mm2 / sizeof mm2[0];
    const struct circuit *now = circuit_of(RULES_ISO13297, form, bank, 16.0, 1.0);
    const struct circuit_cable *main = cable_named(now, "main"), *run = cable_named(now, "run");
    double proposed = (main->area_mm2 > 16 ? main->area_mm2 : 0) + 15 * run->area_mm2, least = HUGE_VAL;

    assert_true(main->drop_ok && main->ampacity_ok && !run->drop_ok && main->area_mm2 > 16);
    assert_non_null(strstr(now->remedy, "C1 "));
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < count && mm2[i] >= 16; k++) {
            const struct circuit *c = circuit_of(RULES_ISO13297, form, bank, mm2[i], mm2[k]);

            if (cable_named(c, "main")->drop_ok && cable_named(c, "run")->drop_ok)
                least = fmin(least, (mm2[i] > 16 ? mm2[i] : 0) + 15 * mm2[k]);
        }
    row_check("copper to buy [mm2 m]", proposed, least, 1e-9, "property: the least of all that pass");
    done();
}

/* What no single conductor carries is proposed as several; typed in, the proposal passes. */
TEST(several_conductors_where_one_is_not_enough)
{
    static const char form[] = "%s[bank more]\nrole = bow\nchemistry = lfp\nblock_capacity = 600 Ah at 20 h\n"
                               "block_voltage = 12 V\ninternal_resistance = 0.5 mohm\nmax_discharge = 1000 A\n"
                               "[load thruster]\nsupply = dc\nbank = more\ncurrent = 700 A\nhours = 1 h\n"
                               "[cable run]\nfrom = more\nto = thruster\nlength = 1 m\narea = %g mm2\nruns = %g\n"
                               "insulation = 105 C\n";
    const struct circuit_cable thin = *cable_named(circuit_of(RULES_ABYC_E11, form, bank, 95.0, 1.0), "run");
    const struct circuit_cable as_told =
        *cable_named(circuit_of(RULES_ABYC_E11, form, bank, thin.area_mm2, thin.area_runs), "run");

    assert_true(!thin.ampacity_ok && thin.area_runs > 1 && !thin.area_short);
    assert_true(as_told.ampacity_ok && as_told.drop_ok && as_told.area_runs == thin.area_runs);
    assert_true(thin.area_fuse_min_a >= 700 && thin.area_fuse_max_a >= thin.area_fuse_min_a);
    row_check("fuses of the proposal", thin.area_fuse_max_a, as_told.fuse_max_a, 1e-9, "property: typed in, the same");
    done();
}

TEST(metres_and_feet_agree)
{
    static const char form[] = "%s[load lamp]\nsupply = dc\ncurrent = 8 A\nhours = 1 h\n"
                               "[cable run]\nfrom = house\nto = lamp\nlength = %s\narea = %s\n";
    double metres = cable_named(circuit_of(RULES_ABYC_E11, form, bank, "6.096 m", "10 AWG"), "run")->drop_v;
    double feet = cable_named(circuit_of(RULES_ABYC_E11, form, bank, "20 ft", "10 AWG"), "run")->drop_v;

    row_check("20 ft of 10 AWG", feet, metres, 1e-9, "by hand: 20 x 0.3048 m");
    done();
}

TEST(a_short_at_the_posts_is_volts_over_resistance)
{
    const struct circuit *c = circuit_of(RULES_ABYC_E11, "%s[load lamp]\nsupply = dc\ncurrent = 5 A\nhours = 1 h\n"
                                         "[cable run]\nfrom = house\nto = lamp\nlength = 3 m\narea = 4 mm2\n", bank);

    assert_true(c->banks[0].fault_a > 2500);
    assert_true(cable_named(c, "run")->fault_far_a < c->banks[0].fault_a);
    done();
}

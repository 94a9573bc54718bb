/* test_scenarios.c - the verdict on cables and fuses does not hang on the scenario that is shown.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "rules/ruleset.h"
#include "support/circuits.h"

#define BANK                                                                                                 \
    "[boat]\nname = Test\ndc_voltage = 12 V\n[day calm]\n[day busy]\n[bank house]\nchemistry = lfp\n"        \
    "block_capacity = 200 Ah\nblock_voltage = 12 V\ninternal_resistance = 4 mohm\n"

/* Boats of which something fails, each in another scenario than some that are shown, and one that passes. */
static const struct {
    const char *label, *text;
    int passes;
    const char *when; /* drop_scenario of the last cable */
} boats[] = {
    { "drop, all at once",
      "[load pump]\ncurrent = 30 A\nhours = 0 h\nhours.busy = 1 h\n"
      "[cable run]\nfrom = house\nto = pump\nlength = 9 m\narea = 4 mm2\ninsulation = 105 C\nfuse = 40 A class-t\n",
      0, "largest" },
    { "drop, while charging",
      "[shore]\ncurrent = 16 A\n[charger chg]\ncurrent = 60 A\n[load lamp]\ncurrent = 1 A\nnode = bus\n"
      "[cable main]\nfrom = house\nto = bus\nlength = 1 m\narea = 35 mm2\ninsulation = 105 C\nfuse = 100 A class-t\n"
      "[cable run]\nfrom = chg\nto = bus\nlength = 9 m\narea = 10 mm2\ninsulation = 105 C\nfuse = 80 A class-t\n",
      0, "charging" },
    { "volts collapse",
      "[load winch]\npower = 9 kW\nhours = 0 h\n[cable run]\nfrom = house\nto = winch\nlength = 10 m\narea = 25 mm2\n"
      "insulation = 105 C\nfuse = 100 A class-t\n",
      0, NULL },
    { "only its start is too much",
      "[load pump]\ncurrent = 30 A\nsurge = 3 x for 1 s\n"
      "[cable run]\nfrom = house\nto = pump\nlength = 2 m\narea = 6 mm2\ninsulation = 105 C\nfuse = 40 A class-t\n",
      1, "largest" },
};

static void check_same(const char *label, const char *scenario, const struct circuit *a, const struct circuit *b)
{
    if (a->passes != b->passes)
        fail_msg("%s: passes %d, with %s shown %d", label, a->passes, scenario, b->passes);
    for (size_t i = 0; i < a->cable_count; i++) {
        const struct circuit_cable *x = &a->cables[i], *y = &b->cables[i];

        if (strcmp(x->status, y->status) != 0 || x->passes != y->passes || x->drop_ok != y->drop_ok ||
            x->ampacity_ok != y->ampacity_ok || x->fuse_ok != y->fuse_ok || strcmp(x->fuse_note, y->fuse_note) != 0)
            fail_msg("%s, %s: \"%s\" (%s), with %s shown \"%s\" (%s)", label, x->name, x->status, x->fuse_note,
                     scenario, y->status, y->fuse_note);
        row_check(label, y->design_a, x->design_a, 1e-9, "property: same verdict");
        row_check(label, y->area_mm2, x->area_mm2, 1e-9, "property: same verdict");
        row_check(label, y->judged_drop_percent, x->judged_drop_percent, 1e-9, "property: same verdict");
        assert_string_equal(x->drop_scenario, y->drop_scenario);
    }
}

TEST(the_verdict_is_over_all_steady_scenarios)
{
    static const char *const shown[] = { "surge", "charging", "calm", "busy" };

    for (size_t i = 0; i < sizeof boats / sizeof *boats; i++) {
        struct arena *arena = arena_new();
        const char *text = arena_print(arena, "%s%s", BANK, boats[i].text);
        const struct circuit *largest = circuit_of(arena, &rules_iso13297, text);

        if (largest->passes != boats[i].passes)
            fail_msg("%s: passes %d: %s", boats[i].label, largest->passes, largest->finding);
        if (boats[i].when)
            assert_string_equal(largest->cables[largest->cable_count - 1].drop_scenario, boats[i].when);
        for (size_t k = 0; k < sizeof shown / sizeof *shown; k++) {
            const struct circuit_options options = { .scenario = shown[k] };

            check_same(boats[i].label, shown[k], largest, circuit_with(arena, &rules_iso13297, text, &options));
        }
        arena_free(arena);
    }
    row_done();
}

/* The drop shown belongs to the scenario shown; the judged one is the largest of the steady ones. */
TEST(the_judged_drop_is_the_largest)
{
    struct arena *arena = arena_new();
    const char *text = arena_print(arena, "%s%s", BANK, boats[0].text);
    const struct circuit_options calm = { .scenario = "calm" };
    const struct circuit_cable *cable = circuit_with(arena, &rules_iso13297, text, &calm)->cables;

    row_check("shown", cable->rule_total_drop_percent, 0, 1e-9, "by hand: nothing runs");
    row_check("judged", cable->judged_drop_percent, 100 * 0.0164 * 30 * 18 / 4 / 12, 1e-6,
              "by hand: E = 0.0164 I L / S");
    row_done();
    arena_free(arena);
}

/* A set without a formula has no drop of its own: none is made up; what a meter shows is judged. */
TEST(no_formula_no_rule_drop)
{
    struct arena *arena = arena_new();
    const char *text = arena_print(arena, "%s%s", BANK, boats[0].text);
    const struct circuit_cable *cable = circuit_of(arena, &rules_cfr183, text)->cables;

    assert_true(cable->rule_drop_v < 0 && cable->rule_total_drop_percent < 0);
    row_check("judged", cable->judged_drop_percent, cable->total_drop_percent, 0.05 * cable->total_drop_percent,
              "by hand: as it will be measured");
    assert_false(cable->drop_ok);
    row_done();
    arena_free(arena);
}

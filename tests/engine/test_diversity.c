/* test_diversity.c - loads that never all run at once: shared cables carry their share, their own cables all of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "rules/ruleset.h"
#include "support/circuits.h"
#include "support/profile_text.h"

#define BANK                                                                                                 \
    "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nchemistry = lfp\nblock_capacity = 200 Ah\n"       \
    "block_voltage = 12 V\ninternal_resistance = 1 mohm\n"
#define FEED "[cable feed]\nfrom = house\nto = panel\nlength = 2 m\narea = 70 mm2\ninsulation = 105 C\n"
#define OWN(name)                                                                                            \
    "[cable " name "-run]\nfrom = panel\nto = " name "\nlength = 5 m\narea = 16 mm2\ninsulation = 105 C\n"
#define LOAD(name, draw, more) "[load " name "]\n" draw "\n" more "\n"

/* What feeder and own cable carry, by hand: currents are constant, so that no volts come in. */
struct share_row {
    const char *label, *text;
    double feed_a, own_a; /* [A] of the first cable and of the second */
    const char *when;     /* design_scenario of the feeder */
};

static const struct share_row rows[] = {
    { "none said", LOAD("a", "current = 40 A", "") LOAD("b", "current = 10 A", "node = panel") FEED OWN("a"), 50, 40,
      "largest" },
    { "half of a", LOAD("a", "current = 40 A", "diversity = 50 %") LOAD("b", "current = 30 A", "node = panel") FEED OWN("a"),
      50, 40, "largest" },
    { "half of what hangs on the panel",
      LOAD("a", "current = 40 A", "") LOAD("b", "current = 30 A", "node = panel\ndiversity = 50 %") FEED OWN("a"), 55, 40,
      "largest" },
    { "two alike", LOAD("a", "current = 20 A", "count = 2\ndiversity = 25 %") LOAD("b", "current = 50 A", "node = panel")
      FEED OWN("a"), 60, 40, "largest" },
    { "not counted at all",
      LOAD("a", "current = 40 A", "diversity = 0 %") LOAD("b", "current = 50 A", "node = panel") FEED OWN("a"), 50, 40,
      "largest" },
    { "never less than the largest alone",
      LOAD("a", "current = 40 A", "diversity = 10 %") LOAD("b", "current = 10 A", "node = panel") FEED OWN("a"), 40, 40,
      "a alone" },
};

TEST(shared_cables_carry_the_share_and_own_cables_all_of_it)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct arena *arena = arena_new();
        char *text = arena_print(arena, BANK "%s", rows[i].text);
        const struct circuit *c = circuit_of(arena, &rules_iso13297, text);

        row_check(rows[i].label, c->cables[0].design_a, rows[i].feed_a, 1e-6, "by hand: sum of share x current");
        row_check(rows[i].label, c->cables[1].design_a, rows[i].own_a, 1e-6, "by hand: full current");
        assert_string_equal(c->cables[0].design_scenario, rows[i].when);
        arena_free(arena);
    }
    row_done();
}

/* The drop at a load of its own cable: the feeder's at the shared current, the own at the full one. */
TEST(drop_is_the_sum_of_feeder_and_own_cable)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(
        arena, &rules_iso13297,
        BANK LOAD("a", "current = 40 A", "diversity = 50 %") LOAD("b", "current = 30 A", "node = panel") FEED OWN("a"));
    double feed = 0.0164 * 50 * 4 / 70, own = 0.0164 * 40 * 10 / 16;

    row_check("rule", c->cables[1].rule_total_drop_percent, 100 * (feed + own) / 12, 1e-6,
              "by hand: E = 0.0164 I L / S of each");
    row_check("measured", c->cables[1].total_drop_percent * 12 / 100, c->cables[0].drop_v + c->cables[1].drop_v, 1e-9,
              "by hand: two cables in a row");
    row_check("bank", c->banks[0].current_a, 50, 1e-6, "by hand");
    for (size_t i = 0; i < c->load_count; i++)
        row_check(c->loads[i].name, c->loads[i].diversity_percent, strcmp(c->loads[i].name, "a") == 0 ? 50 : 100, 1e-9,
                  "by hand: as typed");
    assert_int_equal(c->load_count, 2);
    row_done();
    arena_free(arena);
}

/* A load that draws watts: all of them at its own end, the share of its current in the feeder. */
TEST(watts_stay_watts_at_the_load)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(
        arena, &rules_iso13297,
        BANK LOAD("a", "power = 600 W", "diversity = 30 %") LOAD("b", "current = 50 A", "node = panel") FEED OWN("a"));

    row_check("watts", c->loads[0].power_w, 600, 1e-6, "by hand: as typed");
    row_check("amps", c->cables[1].current_a, 600 / c->loads[0].volts_v, 1e-6, "by hand: P / V");
    row_check("feeder", c->cables[0].current_a, 50 + 0.3 * c->cables[1].current_a, 1e-4, "by hand: share of the current");
    row_done();
    arena_free(arena);
}

/* Fuse and size of a cable to one load follow the load, not its share. */
TEST(a_cable_of_one_load_is_sized_for_all_of_it)
{
    struct arena *arena = arena_new();
    const char *text = BANK "[load a]\ncurrent = 90 A\n%s[load b]\ncurrent = 20 A\nnode = panel\n"
                            "[cable feed]\nfrom = house\nto = panel\nlength = 2 m\n"
                            "[cable run]\nfrom = panel\nto = a\nlength = 4 m\n";
    const struct circuit *whole = circuit_of(arena, &rules_iso13297, arena_print(arena, text, "")),
                         *half = circuit_of(arena, &rules_iso13297, arena_print(arena, text, "diversity = 80 %\n"));

    assert_true(whole->passes && half->passes);
    row_check("own fuse", half->cables[1].fuse_a, whole->cables[1].fuse_a, 0, "property: same load, same fuse");
    row_check("own current", half->cables[1].design_a, 90, 1e-6, "by hand");
    row_check("feeder", half->cables[0].design_a, 92, 1e-6, "by hand: 0.8 x 90 + 20");
    row_done();
    assert_true(half->copper_kg <= whole->copper_kg);
    arena_free(arena);
}

/* Beyond a converter: the share counts in what it draws, the load's own cable carries all of it. */
TEST(loads_behind_a_converter)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(
        arena, &rules_iso13297,
        "[boat]\nname = Test\ndc_voltage = 24 V\n[bank house]\nchemistry = lfp\nblock_capacity = 200 Ah\n"
        "block_voltage = 24 V\n[dcdc conv]\nfrom = house\ncurrent = 60 A\nvoltage = 12 V\nefficiency = 90 %\n"
        "idle_power = 0 W\n[load a]\ncurrent = 20 A\nconverter = conv\ndiversity = 50 %\n"
        "[load b]\ncurrent = 10 A\nconverter = conv\nnode = b12\n"
        "[cable in]\nfrom = house\nto = conv\nlength = 1 m\narea = 16 mm2\n"
        "[cable out]\nfrom = conv\nto = b12\nlength = 1 m\narea = 16 mm2\n"
        "[cable run]\nfrom = b12\nto = a\nlength = 1 m\narea = 16 mm2\n");

    row_check("in", c->cables[0].current_a * c->nodes[0].volts_v, 12 * 20 / 0.9, 4, "by hand: 12 V x (10 + 10) A / 0.9");
    row_check("out", c->cables[1].current_a, 20, 0.4, "by hand: half of 20 A and 10 A");
    row_check("run", c->cables[2].design_a, 20, 0.4, "by hand: all of it");
    row_done();
    arena_free(arena);
}

/* A load that starts does so in full; what an AC source may have to carry counts shares, and the largest alone. */
TEST(starting_and_alternating_current)
{
    struct arena *arena = arena_new();
    const char *text = BANK "[inverter inv]\npower = 2000 W\n"
                            "[load motor]\ncurrent = 30 A\nsurge = 3 x for 1 s\ndiversity = 50 %\n"
                            "[load lamp]\ncurrent = 5 A\nnode = panel\n"
                            "[load kettle]\nsupply = ac\npower = 1500 W\ndiversity = 40 %%\n"
                            "[load iron]\nsupply = ac\npower = 1000 W\ndiversity = %d %%\n" FEED OWN("motor");
    const struct circuit *c = circuit_of(arena, &rules_iso13297, arena_print(arena, text, 100)),
                         *less = circuit_of(arena, &rules_iso13297, arena_print(arena, text, 50));
    const struct circuit_options surge = { .scenario = "surge" };
    const struct circuit *starting = circuit_with(arena, &rules_iso13297, arena_print(arena, text, 100), &surge);

    row_check("steady", c->cables[0].current_a, 20, 1e-6, "by hand: 15 + 5");
    row_check("starting", starting->cables[0].current_a, 95, 1e-6, "by hand: 90 + 5");
    row_check("ac", c->ac_sources[0].load_w, 1600, 1e-6, "by hand: 600 + 1000");
    row_check("ac, the largest alone", less->ac_sources[0].load_w, 1500, 1e-6, "by hand: 1500 over 600 + 500");
    row_done();
    arena_free(arena);
}

/* More counted never means less current, anywhere. */
TEST(more_counted_is_never_less_current)
{
    double before[3] = { 0 };

    for (int percent = 0; percent <= 100; percent += 10) {
        struct arena *arena = arena_new();
        char *text = arena_print(arena,
                                 BANK "[load a]\npower = 500 W\ndiversity = %d %%\n[load b]\npower = 300 W\nnode = sub\n"
                                      "diversity = %d %%\n[load c]\npower = 60 W\nnode = sub\n" FEED OWN("a") OWN("sub"),
                                 percent, percent);
        const struct circuit *c = circuit_of(arena, &rules_iso13297, text);

        for (int i = 0; i < 3; i++) {
            assert_true(c->cables[i].design_a >= before[i] * (1 - 1e-6));
            before[i] = c->cables[i].design_a;
        }
        arena_free(arena);
    }
}

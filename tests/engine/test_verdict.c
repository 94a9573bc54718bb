/* test_verdict.c - what the circuit says of installed cables, fuses, strings, inverters and collapsing volts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "rules/ruleset.h"
#include "support/circuits.h"

#define BANK                                                                                                 \
    "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nchemistry = lfp\nblock_capacity = 200 Ah\n"       \
    "block_voltage = 12 V\ninternal_resistance = 4 mohm\n"

/* One cable of 5 m to a load of 40 A, judged; keys of the cable as text. */
struct verdict_row {
    const char *label, *keys;
    const struct wiring_rules *rules;
    const char *status, *note;
};

static const struct verdict_row verdicts[] = {
    { "good", "area = 16 mm2\ninsulation = 105 C\nfuse = 50 A class-t\n", &rules_iso13297, "ok", "" },
    { "thin", "area = 2.5 mm2\ninsulation = 105 C\nfuse = 40 A class-t\n", &rules_iso13297,
      "too thin for the current", "" },
    { "lossy", "area = 4 mm2\ninsulation = 105 C\nfuse = 40 A class-t\n", &rules_iso13297,
      "drop over the limit", "" },
    { "fuse too large for ISO", "area = 16 mm2\ninsulation = 105 C\nfuse = 150 A class-t\n", &rules_iso13297,
      "fuse wrong", "on a cable that allows 125 A" },
    { "the same by 33 CFR", "area = 16 mm2\ninsulation = 105 C\nfuse = 150 A class-t\n", &rules_cfr183, "ok",
      "" },
    { "fuse too small", "area = 16 mm2\ninsulation = 105 C\nfuse = 30 A class-t\n", &rules_iso13297,
      "fuse wrong", "opens at the" },
    { "fuse that cannot break", "area = 16 mm2\ninsulation = 105 C\nfuse = 40 A blade\n", &rules_iso13297,
      "fuse wrong", "breaks 1000 A" },
    { "its own interrupt rating",
      "area = 16 mm2\ninsulation = 105 C\nfuse = 50 A blade\nfuse_interrupt = 5 kA\n", &rules_iso13297, "ok",
      "" },
    { "fuse far away", "area = 16 mm2\ninsulation = 105 C\nfuse = 50 A class-t\nfuse_distance = 0.5 m\n",
      &rules_iso13297, "fuse wrong", "0.20 m allowed" },
    { "in a sheath",
      "area = 16 mm2\ninsulation = 105 C\nfuse = 50 A class-t\nfuse_distance = 0.5 m\nsheathed = yes\n",
      &rules_iso13297, "ok", "" },
    { "40 inches in a sheath",
      "area = 16 mm2\ninsulation = 105 C\nfuse = 50 A class-t\nfuse_distance = 1.5 m\n", &rules_cfr183, "ok",
      "" },
    { "no fuse", "area = 16 mm2\ninsulation = 105 C\n", &rules_iso13297, "fuse missing",
      "this is the one to fit" },
    { "not in the table", "area = 240 mm2\ninsulation = 105 C\nfuse = 50 A class-t\n", &rules_iso13297,
      "no table has it", "" },
    { "60 C in an engine space", "area = 16 mm2\ninsulation = 60 C\nplace = engine\nfuse = 50 A class-t\n",
      &rules_iso13297, "no table has it", "" },
};

TEST(installed_cables)
{
    for (size_t i = 0; i < sizeof verdicts / sizeof *verdicts; i++) {
        struct arena *arena = arena_new();
        char text[1000];
        const struct circuit_cable *row;

        snprintf(text, sizeof text,
                 BANK "[load pump]\ncurrent = 40 A\n[cable run]\nfrom = house\nto = pump\nlength = 5 m\n%s",
                 verdicts[i].keys);
        row = circuit_of(arena, verdicts[i].rules, text)->cables;
        if (strcmp(row->status, verdicts[i].status) != 0 || !strstr(row->fuse_note, verdicts[i].note))
            fail_msg("%s: \"%s\" (%s), wanted \"%s\" (%s)", verdicts[i].label, row->status, row->fuse_note,
                     verdicts[i].status, verdicts[i].note);
        assert_int_equal(row->passes, strcmp(row->status, "ok") == 0);
        if (!row->ampacity_ok || !row->drop_ok) /* the size that it should be stands beside it */
            assert_true(row->area_mm2 > row->installed_mm2 || row->ampacity_a <= 0);
        arena_free(arena);
    }
}

/* A charging run has two ends: the one at the bank by fuse_distance, the other by charge_distance. */
TEST(both_ends_of_a_charging_run)
{
    static const struct {
        const struct wiring_rules *rules;
        const char *keys, *note;
        unsigned remark;
        int ok;
    } rows[] = {
        { &rules_iso13297, "fuse_distance = 0.15 m\n", "the charging end too", FUSE_CHARGING_END, 1 },
        { &rules_iso13297, "fuse_distance = 0.15 m\ncharge_distance = 1.8 m\n", "", 0, 1 },
        { &rules_iso13297, "fuse_distance = 0.15 m\ncharge_distance = 2 m\n", "from the charging source", FUSE_TOO_FAR, 0 },
        { &rules_iso13297, "fuse_distance = 1.5 m\ncharge_distance = 0.2 m\n", "0.20 m allowed", FUSE_TOO_FAR, 0 },
        { &rules_abyc_e11, "fuse_distance = 0.15 m\ncharge_distance = 2 m\n", "", 0, 1 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct arena *arena = arena_new();
        const struct circuit_cable *row = circuit_of(
            arena, rows[i].rules,
            arena_print(arena,
                        BANK "[shore]\ncurrent = 16 A\n[charger chg]\ncurrent = 40 A\n[load lamp]\ncurrent = 1 A\n"
                             "node = bus\n[cable main]\nfrom = house\nto = bus\nlength = 0.5 m\narea = 35 mm2\n"
                             "fuse = 80 A class-t\n[cable run]\nfrom = chg\nto = bus\nlength = 3 m\narea = 16 mm2\n"
                             "insulation = 105 C\nfuse = 50 A class-t\n%s", rows[i].keys))->cables + 1;

        if (row->fuse_ok != rows[i].ok || !strstr(row->fuse_note, rows[i].note) || row->fuse_remarks != rows[i].remark)
            fail_msg("row %zu: right %d, \"%s\"", i, row->fuse_ok, row->fuse_note);
        arena_free(arena);
    }
}

/* At the limit passes, over it by a ten millionth does not: for cable, fuse and drop alike. */
TEST(one_slack)
{
    static const struct {
        const char *amps;
        int ok;
    } rows[] = { { "40", 1 }, { "40.000004", 0 } };

    for (size_t i = 0; i < 2; i++) {
        struct arena *arena = arena_new();
        const struct circuit_cable *row = circuit_of(arena, &rules_iso13297,
            arena_print(arena, BANK "[load pump]\ncurrent = %s A\n[cable run]\nfrom = house\nto = pump\nlength = 5 m\n"
                                    "area = 16 mm2\nfuse = 40 A class-t\ndrop_limit = 3.41666666667 %%\n", rows[i].amps))
                                              ->cables; /* 0.0164 x 40 x 10 / 16 / 12 is 3.41667 % */

        assert_int_equal(row->fuse_ok, rows[i].ok);
        assert_int_equal(row->drop_ok, rows[i].ok);
        arena_free(arena);
    }
}

/* A weak device behind a strong one, behind a weak one, alone: each set as its text has it. */
TEST(breaking_capacity_by_set)
{
    struct wiring_rules strict = rules_iso13297;
    const struct {
        const struct wiring_rules *rules;
        const char *before; /* class of the device before it */
        int ok;
        unsigned remark;
        const char *note;
    } rows[] = {
        { &rules_iso10133, "class-t", 1, FUSE_LEANS, "leans on the fuse of main" },
        { &rules_iso13297, "class-t", 1, FUSE_LEANS, "leans on the fuse of main" },
        { &rules_abyc_e11, "class-t", 1, FUSE_LEANS, "leans on the fuse of main" },
        { &rules_cfr183, "class-t", 1, FUSE_LEANS, "leans on the fuse of main" },
        { &rules_iso13297, "strip", 0, FUSE_TOO_WEAK, "a short gives" },
        { &rules_abyc_e11, "strip", 0, FUSE_TOO_WEAK, "a short gives" },
        { &rules_cfr183, "strip", 1, FUSE_WEAK_UNRULED, "not ruled by this set" },
        { &strict, "class-t", 0, FUSE_TOO_WEAK, "a short gives" },
    };

    strict.breaking = BREAKING_AT_PLACE;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct arena *arena = arena_new();
        const struct circuit_cable *row = &circuit_of(arena, rows[i].rules,
            arena_print(arena,
                        BANK "[load pump]\ncurrent = 8 A\n"
                             "[cable main]\nfrom = house\nto = bus\nlength = 0.5 m\narea = 70 mm2\ninsulation = 105 C\n"
                             "fuse = 200 A %s\n[cable run]\nfrom = bus\nto = pump\nlength = 2 m\narea = 4 mm2\n"
                             "insulation = 105 C\nfuse = 10 A blade\n", rows[i].before))->cables[1];

        if (row->fuse_ok != rows[i].ok || !(row->fuse_remarks & rows[i].remark) || !strstr(row->fuse_note, rows[i].note))
            fail_msg("row %zu, %s: right %d, \"%s\"", i, rows[i].rules->name, row->fuse_ok, row->fuse_note);
        arena_free(arena);
    }
}

/* Strings in a row share by the ladder; with equal tails a quarter each. */
TEST(strings_share)
{
    static const struct {
        const char *wiring;
        double share[4];
    } rows[] = {
        { "same-end", { 35.75, 26.12, 20.40, 17.74 } },
        { "diagonal", { 26.74, 23.26, 23.26, 26.74 } },
    };

    for (size_t i = 0; i < 2; i++) {
        struct arena *arena = arena_new();
        char text[1000];
        const struct circuit *c;

        snprintf(
            text, sizeof text,
            "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nchemistry = agm\nblock_capacity = 100 Ah\n"
            "block_voltage = 12 V\nparallel = 4\ninternal_resistance = 20 mohm\nlink_resistance = 1.5 mohm\n"
            "wiring = %s\n[load lamp]\ncurrent = 100 A\n[cable run]\nfrom = house\nto = lamp\nlength = 1 "
            "m\narea = 70 mm2\n",
            rows[i].wiring);
        c = circuit_of(arena, &rules_iso13297, text);
        assert_int_equal(c->block_count, 4);
        for (size_t k = 0; k < 4; k++) {
            row_check(rows[i].wiring, c->blocks[k].current_a, rows[i].share[k], 0.01,
                      "node analysis of the widely printed example");
            row_check(rows[i].wiring, c->blocks[k].share_percent, rows[i].share[k], 0.01,
                      "by hand: of 100 A");
        }
        /* seen from the posts: what 100 A lose inside */
        row_check("resistance", c->banks[0].resistance_mohm,
                  (c->banks[0].open_circuit_v - c->banks[0].volts_v) / 100 * 1000, 1e-6, "by hand");
        assert_true(c->banks[0].fault_a * c->banks[0].resistance_mohm / 1000 > c->banks[0].open_circuit_v);
        arena_free(arena);
    }
    row_done();
}

/* More than E^2/4R cannot be drawn: a result, with the most there is. */
TEST(collapse_is_a_result)
{
    struct arena *arena = arena_new();
    const struct circuit *c =
        circuit_of(arena, &rules_iso13297,
                   BANK "[load winch]\npower = 9 kW\n[cable run]\nfrom = house\nto = winch\n"
                        "length = 10 m\narea = 25 mm2\ninsulation = 105 C\n");
    double ohm = (c->banks[0].resistance_mohm + c->cables[0].resistance_mohm) / 1000,
           e = c->banks[0].open_circuit_v;

    assert_false(c->scenarios[0].solved);
    assert_string_equal(c->scenarios[0].collapse, "winch");
    row_check("wanted", c->scenarios[0].wanted_w, 9000, 1e-9, "by hand");
    row_check("most", c->scenarios[0].most_w, e * e / (4 * ohm), 0.01 * c->scenarios[0].most_w,
              "by hand: E^2/4R");
    row_done();
    assert_string_equal(c->cables[0].status, "volts collapse");
    assert_false(c->passes);
    assert_non_null(strstr(c->finding, "collapse"));
    arena_free(arena);
}

/* Fewer volts than that other row; where they collapse, none. */
static int lower(const struct circuit_inverter *row, int other)
{
    return row->volts_v < row[other].volts_v || row->volts_v == 0;
}

/* Full over half, new over aged, running over starting; and the most it can give is where the cut-out lies.
 */
TEST(inverter_states)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(
        arena, &rules_abyc_e11,
        BANK "[inverter inv]\npower = 2 kW\nsurge_power = 4 kW\ncut_out = 10.8 V\n"
             "[cable run]\nfrom = house\nto = inv\nlength = 3 m\narea = 70 mm2\njoints = 1 mohm\n");

    assert_int_equal(c->inverter_count, 8);
    for (size_t i = 0; i < 8; i++) {
        const struct circuit_inverter *row = &c->inverters[i];

        assert_int_equal(row->holds, row->volts_v >= row->cut_out_v);
        assert_int_equal(row->holds, row->most_w >= row->ac_w);
        if (row->volts_v > 0)
            row_check("P = V I", row->volts_v * row->current_a, row->dc_w, 1e-6 * row->dc_w, "by hand");
        if (i % 2)
            assert_true(lower(row, -1)); /* surge under continuous */
        if (i % 4 >= 2)
            assert_true(lower(row, -2)); /* aged under new */
        if (i >= 4)
            assert_true(lower(row, -4)); /* half under full */
    }
    row_done();
    arena_free(arena);
}

/* The printed loop resistances, bank and loads give the printed volts back: Kirchhoff by an independent sum.
 */
TEST(printed_figures_agree)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(
        arena, &rules_iso13297,
        BANK "[load a]\npower = 120 W\nnode = panel\n[load b]\ncurrent = 9 A\n[load c]\npower = 60 W\n"
             "[cable main]\nfrom = house\nto = panel\nlength = 4 m\narea = 16 mm2\n"
             "[cable run-b]\nfrom = panel\nto = b\nlength = 6 m\nreturn_length = 4 m\narea = 4 mm2\n"
             "[cable run-c]\nfrom = panel\nto = c\nlength = 3 m\narea = 2.5 mm2\nreturn_area = 4 mm2\n");
    double volts = c->banks[0].open_circuit_v, sum = 0;

    for (size_t i = 0; i < c->load_count; i++)
        sum += c->loads[i].current_a;
    row_check("bank gives what the loads take", c->banks[0].current_a, sum, 1e-9, "by hand");
    row_check("main carries it", c->cables[0].current_a, sum, 1e-9, "by hand");
    volts -= sum * c->banks[0].resistance_mohm / 1000;
    row_check("posts", c->banks[0].volts_v, volts, 1e-9, "by hand");
    volts -= sum * c->cables[0].resistance_mohm / 1000;
    row_check("panel", c->loads[0].volts_v, volts, 1e-9, "by hand");
    row_check("b", c->loads[1].volts_v, volts - 9 * c->cables[1].resistance_mohm / 1000, 1e-9, "by hand");
    row_check("c", c->loads[2].volts_v, volts - c->loads[2].current_a * c->cables[2].resistance_mohm / 1000,
              1e-9, "by hand");
    row_check("loss from the posts", c->cables[1].total_drop_percent,
              (c->banks[0].volts_v - c->loads[1].volts_v) / 12 * 100, 1e-9, "by hand");
    row_done();
    assert_string_equal(c->loads[1].behaves, "current");
    assert_string_equal(c->loads[2].behaves, "power");
    arena_free(arena);
}

/* A charger's run is judged while it charges, a load's while it draws. */
TEST(charging_runs)
{
    struct arena *arena = arena_new();
    const struct circuit *c =
        circuit_of(arena, &rules_iso13297,
                   BANK "[shore]\ncurrent = 16 A\n[charger chg]\ncurrent = 60 A\n[load lamp]\npower = 20 W\n"
                        "[cable a]\nfrom = house\nto = bus\nlength = 1 m\n"
                        "[cable b]\nfrom = chg\nto = bus\nlength = 3 m\n"
                        "[cable c]\nfrom = bus\nto = lamp\nlength = 2 m\n");

    row_check("charger", c->cables[1].current_a, 60, 1e-6, "by hand");
    row_check("main is planned for it", c->cables[0].design_a, 60, 1e-6, "by hand");
    assert_string_equal(c->cables[0].design_scenario, "charging");
    assert_true(c->cables[2].current_a < 2);
    for (size_t i = 0; i < 3; i++)
        assert_true(c->cables[i].passes && c->cables[i].area_mm2 > 0);
    row_done();
    arena_free(arena);
}

/* The sets differ on what a bilge pump may lose: copper follows. */
TEST(strict_circuits_by_set)
{
    struct arena *arena = arena_new();
    const char *text =
        BANK "[load bilge pump]\ncurrent = 10 A\n[cable run]\nfrom = house\nto = bilge pump\nlength = 8 m\n"
             "insulation = 105 C\n";
    const struct circuit *iso = circuit_of(arena, &rules_iso13297, text),
                         *abyc = circuit_of(arena, &rules_abyc_e11, text);

    row_check("iso", iso->cables[0].drop_limit_percent, 3, 1e-9, "ISO 10133:2012 4.8, carried over");
    row_check("abyc", abyc->cables[0].drop_limit_percent, 10, 1e-9,
              "ABYC E-11: bilge pumps are not of the 3 % list");
    row_done();
    assert_true(iso->cables[0].area_mm2 > abyc->cables[0].area_mm2);
    arena_free(arena);
}

TEST(bill_and_labels)
{
    struct arena *arena = arena_new();
    const struct circuit *c =
        circuit_of(arena, &rules_iso13297,
                   BANK "[load pump]\ncurrent = 40 A\n[cable run]\nfrom = house\nto = pump\n"
                        "length = 5 m\narea = 16 mm2\nruns = 2\ninsulation = 105 C\nfuse = 50 A class-t\n");

    row_check("red metres", c->items[0].quantity, 11, 1e-9, "by hand: 5 m x 2 runs x 1.1");
    row_check("allowance in it", c->items[0].allowance_percent, 10, 1e-9, "by hand: 1.1");
    row_check("copper", c->copper_kg, 16e-6 * 20 * 8890, 1e-6, "by hand");
    row_check("lugs", c->items[2].quantity, 8, 1e-9, "by hand: both ends of four conductors");
    row_check("red shrink", c->items[3].quantity, 4, 1e-9, "by hand: both ends of two conductors");
    row_check("fuses", c->items[5].quantity, 2, 1e-9, "by hand: one and a spare");
    row_check("of them spare", c->items[5].spare, 1, 0, "by hand");
    row_check("holders", c->items[6].quantity, 1, 1e-9, "by hand: none is spare");
    row_check("lines", (double)c->item_count, 7, 0, "by hand");
    row_check("labels", (double)c->label_count, 4, 0, "by hand: + and -, both ends");
    row_check("of each", c->labels[0].quantity, 2, 0, "by hand: two conductors");
    row_done();
    arena_free(arena);
}

/* Watts stay watts, amps stay amps, a heater's resistance stays: lower volts tell them apart. */
TEST(behaviours)
{
    struct arena *arena = arena_new();
    const struct circuit *c =
        circuit_of(arena, &rules_iso13297,
                   BANK "[load a]\npower = 60 W\nnode = bus\n[load b]\ncurrent = 5 A\nnode = bus\n"
                        "[load c]\npower = 60 W\nbehaves = resistance\nnode = bus\n"
                        "[cable run]\nfrom = house\nto = bus\nlength = 9 m\narea = 4 mm2\n");
    double volts = c->loads[0].volts_v;

    row_check("power", c->loads[0].power_w, 60, 1e-6, "by hand");
    row_check("current", c->loads[1].current_a, 5, 1e-9, "by hand");
    row_check("resistance", c->loads[2].current_a, volts / (12 * 12 / 60.0), 1e-6, "by hand: V/(V0^2/P)");
    row_done();
    assert_string_equal(c->loads[2].behaves, "resistance");
    arena_free(arena);
}

TEST(the_tree)
{
    static const char *const twigs[] = { "house", "\u251c\u2500 one", "\u2502  \u2514\u2500 a",
                                         "\u2514\u2500 two", "   \u2514\u2500 b" };
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(
        arena, &rules_iso13297,
        BANK
        "[load a]\ncurrent = 2 A\n[load b]\ncurrent = 3 A\n"
        "[cable r]\nfrom = one\nto = a\nlength = 1 m\n[cable p]\nfrom = house\nto = one\nlength = 1 m\n"
        "[cable q]\nfrom = house\nto = two\nlength = 1 m\n[cable s]\nfrom = two\nto = b\nlength = 1 m\n");

    assert_int_equal(c->tree_count, 5);
    for (size_t i = 0; i < 5; i++)
        assert_string_equal(c->tree[i].twig, twigs[i]);
    row_check("source", c->tree[0].current_a, 5, 1e-9, "by hand: 2 + 3");
    row_check("one", c->tree[1].current_a, 2, 1e-9, "by hand");
    row_done();
    arena_free(arena);
}

/* Two ways to one load, both to be sized: the loop is seen, and the load is within its limit. */
TEST(loops_are_sized)
{
    struct arena *arena = arena_new();
    const struct circuit *c =
        circuit_of(arena, &rules_iso13297,
                   BANK "[load winch]\ncurrent = 100 A\n"
                        "[cable p]\nfrom = house\nto = port\nlength = 6 m\ninsulation = 105 C\n"
                        "[cable q]\nfrom = house\nto = winch\nlength = 9 m\ninsulation = 105 C\n"
                        "[cable r]\nfrom = port\nto = winch\nlength = 3 m\ninsulation = 105 C\n");

    row_check("both ways carry it", c->cables[0].current_a + c->cables[1].current_a, 100, 1e-6, "by hand");
    row_done();
    for (size_t i = 0; i < 3; i++)
        assert_true(c->cables[i].drop_ok && c->cables[i].ampacity_ok);
    arena_free(arena);
}

/* test_schedule.c - what the schedules list: numbers, sizes both ways, devices and remarks, circuits, panels, the tree.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "rules/ruleset.h"
#include "support/circuits.h"

#define BANK                                                                                                 \
    "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nchemistry = lfp\nblock_capacity = 200 Ah\n"       \
    "block_voltage = 12 V\ninternal_resistance = 4 mohm\nparallel = 2\nmass = 25 kg\n"
#define RUN_TO_PUMP "[load pump]\ncurrent = 40 A\n[cable run]\nfrom = house\nto = pump\n"

/* How a size typed in one series reads both ways. */
struct size_row {
    const char *area, *metric, *us;
};

static const struct size_row sizes[] = {
    { "length = 5 m\narea = 95 mm2\nruns = 2\n", "2 x 95 mm2 (3/0 AWG)", "2 x 3/0 AWG (95 mm2)" },
    { "length = 5 m\narea = 2.5 mm2\n", "2.5 mm2 (14 AWG)", "14 AWG (2.5 mm2)" },
    { "length = 5 m\narea = 2 AWG\n", "33.6 mm2 (2 AWG)", "2 AWG (33.6 mm2)" },
    { "length = 5 m\narea = 8 SAE\n", "7.5 mm2 (8 SAE)", "8 SAE (7.5 mm2)" },
    { "length = 5 m\narea = 19 x 1.35 mm\n", "27.2 mm2 (19 x 1.35 mm)", "27.2 mm2 (19 x 1.35 mm)" },
    { "length = 5 m\narea = 2/0 AWG\nreturn_area = 1/0 AWG\n", "67.4 mm2 (2/0 AWG), back 53.5 mm2 (1/0 AWG)",
      "2/0 AWG (67.4 mm2), back 1/0 AWG (53.5 mm2)" },
    { "length = 5 m\narea = 2/0 AWG\nreturn_area = 50 mm2\n", "67.4 mm2 (2/0 AWG), back 50 mm2",
      "2/0 AWG (67.4 mm2), back 50 mm2" },
    { "length = 5 m\narea = 35 mm2\nreturn_area = 70 mm2\n", "35 mm2 (2 AWG), back 70 mm2", "2 AWG (35 mm2), back 70 mm2" },
};

TEST(sizes_read_both_ways)
{
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct arena *arena = arena_new();
        char text[600];
        const struct circuit_cable *c;

        snprintf(text, sizeof text, BANK RUN_TO_PUMP "%s", sizes[i].area);
        c = &circuit_of(arena, &rules_iso13297, text)->cables[0];
        assert_string_equal(c->size_metric, sizes[i].metric);
        assert_string_equal(c->size_us, sizes[i].us);
        assert_string_equal(c->number, "C1");
        arena_free(arena);
    }
}

/* Metric or US where nobody says: as the boat is wired, by the set where no cable has a size. */
TEST(units_of_their_own)
{
    struct arena *arena = arena_new();

    assert_int_equal(circuit_of(arena, &rules_iso13297, BANK RUN_TO_PUMP "length = 5 m\narea = 2 AWG\n")->us_sizes, 1);
    assert_int_equal(circuit_of(arena, &rules_iso13297, BANK RUN_TO_PUMP "length = 5 m\n")->us_sizes, 0);
    assert_int_equal(circuit_of(arena, &rules_abyc_e11, BANK RUN_TO_PUMP "length = 5 m\narea = 2 AWG\n")->us_sizes, 1);
    assert_int_equal(circuit_of(arena, &rules_abyc_e11, BANK RUN_TO_PUMP "length = 5 m\n")->us_sizes, 1);
    assert_int_equal(circuit_of(arena, &rules_abyc_e11, BANK RUN_TO_PUMP "length = 5 m\narea = 35 mm2\n")->us_sizes, 0);
    arena_free(arena);
}

TEST(a_guessed_length_keeps_its_bounds)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, BANK RUN_TO_PUMP "length = 5 m +/- 20 %\narea = 35 mm2\n"
                                                                     "place = engine\nbundle = 4\nsheathed = yes\n");
    const struct circuit_cable *cable = &c->cables[0];

    row_check("at least", cable->length_low_m, 4, 1e-9, "by hand: 5 - 20 %");
    row_check("at most", cable->length_high_m, 6, 1e-9, "by hand: 5 + 20 %");
    row_check("together", cable->bundle, 4, 0, "as given");
    row_check("lugs", cable->lugs, 4, 0, "by hand: both ends of two conductors");
    row_done();
    assert_string_equal(cable->length_known, "guess");
    assert_string_equal(cable->place, "engine");
    assert_int_equal(cable->sheathed, 1);
    arena_free(arena);
}

/* A device, and what is said of it in few words. */
struct remark_case {
    const char *label, *keys, *remark;
    int right;
};

static const struct remark_case remarks[] = {
    { "good", "fuse = 50 A class-t\n", "", 1 },
    { "too large", "fuse = 150 A class-t\n", "too large", 0 },
    { "too small", "fuse = 30 A class-t\n", "too small", 0 },
    { "weak", "fuse = 50 A strip\n", "too weak", 0 },
    { "far", "fuse = 50 A class-t\nfuse_distance = 0.5 m\n", "too far", 0 },
    { "both", "fuse = 150 A class-t\nfuse_distance = 0.5 m\n", "too large, too far", 0 },
    { "none", "", "to be fitted", 0 },
};

TEST(devices_and_their_remarks)
{
    for (size_t i = 0; i < sizeof remarks / sizeof *remarks; i++) {
        struct arena *arena = arena_new();
        char text[600];
        const struct circuit *c;

        snprintf(text, sizeof text, BANK RUN_TO_PUMP "length = 5 m\narea = 16 mm2\ninsulation = 105 C\n%s", remarks[i].keys);
        c = circuit_of(arena, &rules_iso13297, text);
        assert_int_equal(c->fuse_count, 1);
        if (strcmp(c->fuses[0].remark, remarks[i].remark) != 0 || c->fuses[0].right != remarks[i].right)
            fail_msg("%s: \"%s\", right %d", remarks[i].label, c->fuses[0].remark, c->fuses[0].right);
        assert_string_equal(c->fuses[0].number, "F1");
        assert_string_equal(c->fuses[0].location, "house");
        assert_string_equal(c->fuses[0].fitted, *remarks[i].keys ? "as built" : "proposed");
        assert_int_equal(c->remark_count > 0, *remarks[i].remark != '\0');
        arena_free(arena);
    }
}

/* A device made for fewer volts than its circuit has is wrong, whatever it breaks at its own. */
TEST(devices_for_fewer_volts)
{
    static const char bank[] = "[boat]\nname = Test\ndc_voltage = 48 V\n[bank house]\nchemistry = lfp\n"
                               "block_capacity = 100 Ah\nblock_voltage = 12 V\nseries = 4\n[load pump]\npower = 400 W\n"
                               "[cable run]\nfrom = house\nto = pump\nlength = 5 m\narea = 6 mm2\n";
    struct arena *arena = arena_new();
    char text[600];
    const struct circuit *c;

    snprintf(text, sizeof text, "%sfuse = 20 A blade\n", bank);
    c = circuit_of(arena, &rules_iso13297, text);
    assert_string_equal(c->fuses[0].remark, "volts");
    assert_int_equal(c->fuses[0].right, 0);
    assert_string_equal(c->cables[0].status, "fuse wrong");
    assert_non_null(strstr(c->fuses[0].note, "made for up to 32 V, the circuit has 48 V"));
    snprintf(text, sizeof text, "%sfuse = 20 A class-t\n", bank);
    assert_int_equal(circuit_of(arena, &rules_iso13297, text)->fuses[0].right, 1);
    arena_free(arena);
}

/* A switchboard with a pump, a lamp, a device that never runs at once with them, a further panel, and an alternator. */
static const char board[] = BANK
    "[engine port]\n[alternator gen]\nengine = port\nrated_current = 60 A\n"
    "[load pump]\npower = 60 W\nnode = board\nbreaker = 15 A\nsurge = 3 x for 1 s\nduty = 50 %\n"
    "[load lamp]\npower = 24 W\nnode = board\npriority = vital\nbreaker = 1 A\n"
    "[load horn]\npower = 120 W\nnode = board\ndiversity = 0 %\n"
    "[load radio]\npower = 36 W\nnode = helm\n[load chart]\npower = 12 W\nnode = helm\n"
    "[cable feed]\nfrom = house\nto = board\nlength = 2 m\narea = 35 mm2\ninsulation = 105 C\nfuse = 100 A class-t\n"
    "[cable charge]\nfrom = board\nto = gen\nlength = 4 m\narea = 25 mm2\ninsulation = 105 C\nfuse = 80 A class-t\n"
    "[cable up]\nfrom = board\nto = helm\nlength = 5 m\narea = 6 mm2\ninsulation = 105 C\nfuse = 20 A class-t\npoles = 2\n";

static const struct circuit_service *service_named(const struct circuit *c, const char *name)
{
    for (size_t i = 0; i < c->service_count; i++)
        if (strcmp(c->services[i].name, name) == 0)
            return &c->services[i];
    fail_msg("no circuit %s", name);
    return NULL;
}

TEST(circuits_one_by_one)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, board);
    const struct circuit_service *pump = service_named(c, "pump"), *horn = service_named(c, "horn");

    assert_int_equal(c->service_count, 6);
    row_check("nominal", pump->nominal_a, 5, 1e-9, "by hand: 60 W / 12 V");
    row_check("to start", pump->peak_a, 15, 1e-9, "by hand: 3 x 5 A");
    row_check("duty", pump->duty_percent, 50, 1e-9, "as given");
    row_check("breaker", pump->breaker_a, 15, 0, "as given");
    row_check("watts", pump->current_a * pump->volts_v, 60, 1e-6, "by hand: constant power");
    row_check("in full, though it counts for nothing", horn->current_a * horn->volts_v, 120, 1e-6, "by hand");
    row_check("breaker for 10 A", horn->breaker_a, 15, 0, "by hand: 10 A / 0.8 is 12.5 A");
    row_check("charging", service_named(c, "gen")->nominal_a, 60, 1e-6, "as given");
    row_done();
    assert_string_equal(pump->remark, "");
    assert_string_equal(service_named(c, "lamp")->remark, "carries more than its rating");
    assert_string_equal(pump->category, "motor");
    assert_string_equal(pump->breaker_from, "given");
    assert_string_equal(horn->breaker_from, "proposed");
    assert_string_equal(service_named(c, "lamp")->category, "vital");
    assert_string_equal(service_named(c, "gen")->category, "source");
    assert_string_equal(service_named(c, "radio")->cables, "C1, C3");
    assert_string_equal(service_named(c, "radio")->supply, "helm");
    assert_null(pump->isolator);
    arena_free(arena);
}

TEST(panels_and_their_ways)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, board);
    const struct circuit_panel *panel = &c->panels[0];

    assert_int_equal(c->panel_count, 2);
    assert_string_equal(panel->name, "board");
    assert_string_equal(panel->feeder, "C1");
    assert_int_equal(panel->way_count, 5);
    row_check("connected", panel->connected_a, 21, 1e-9, "by hand: 60 + 24 + 120 + 36 + 12 W at 12 V");
    row_check("with diversity", panel->diversified_a, 11, 1e-9, "by hand: without the horn");
    row_check("charging", panel->charging_a, 60, 1e-6, "as given");
    row_check("device of the feeder", panel->feeder_fuse_a, 100, 0, "as given");
    row_check("poles", panel->ways[1].poles, 2, 0, "as given");
    row_check("ways of both", (double)c->way_count, 7, 0, "by hand: 5 + 2");
    row_done();
    assert_string_equal(panel->ways[0].flow, "in");
    assert_string_equal(panel->ways[1].flow, "out");
    assert_string_equal(panel->ways[1].served_by, "C3");
    assert_string_equal(panel->ways[2].legend, "pump");
    assert_string_equal(panel->ways[4].breaker_from, "proposed");
    assert_string_equal(c->panels[1].ways[0].panel, "helm");
    arena_free(arena);
}

/* On AC: amps by the power factor, three conductors, the device of its own cable before the one the load names. */
TEST(circuits_on_ac)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, BANK
        "[inverter mains]\npower = 3000 W\n[load kettle]\nsupply = ac\npower = 1840 W\npower_factor = 0.8\nbreaker = 10 A\n"
        "[cable feed]\nfrom = house\nto = mains\nlength = 2 m\narea = 70 mm2\n"
        "[cable run]\nfrom = mains\nto = kettle\nlength = 8 m\narea = 70 mm2\nfuse = 16 A breaker\n");
    const struct circuit_service *kettle = service_named(c, "kettle");

    row_check("amps", kettle->nominal_a, 10, 1e-9, "by hand: 1840 W / 0.8 / 230 V");
    row_check("breaker", kettle->breaker_a, 16, 0, "as given for its cable");
    row_done();
    assert_string_equal(c->cables[1].colours, "brown, light blue, green/yellow");
    assert_string_equal(c->labels[8].text1, "C2 PE run");
    for (size_t i = 0; i < c->item_count; i++)
        if (strcmp(c->items[i].colour, "green/yellow") == 0 && strcmp(c->items[i].kind, "cable") == 0)
            assert_string_equal(c->items[i].size, "35 mm2"); /* half of what is over 35 mm2: IEC 60364-5-54 */
    arena_free(arena);
}

TEST(the_bank_as_its_label_has_it)
{
    struct arena *arena = arena_new();
    const struct circuit_bank *bank = &circuit_of(arena, &rules_iso13297, board)->banks[0];

    row_check("unit", bank->block_ah, 200, 0, "as given");
    row_check("strings", bank->parallel, 2, 0, "as given");
    row_check("bank", bank->capacity_ah, 400, 1e-9, "by hand: 2 x 200");
    row_check("mass", bank->mass_kg, 50, 1e-9, "by hand: 2 x 25");
    row_done();
    assert_string_equal(bank->chemistry, "lfp");
    arena_free(arena);
}

/* A way back of a size of its own goes by the name it is bought under. */
TEST(the_bill_names_an_awg_way_back)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_abyc_e11, BANK RUN_TO_PUMP
                                         "length = 5 m\narea = 2/0 AWG\nreturn_area = 1/0 AWG\nfuse = 50 A class-t\n");

    for (size_t i = 0; i < c->item_count; i++)
        if (strcmp(c->items[i].kind, "cable") == 0)
            assert_string_equal(c->items[i].size, strcmp(c->items[i].colour, "red") == 0 ? "2/0 AWG" : "1/0 AWG");
    arena_free(arena);
}

/* What fails for its size is listed as it should be, the rest as it is. */
TEST(the_bill_tells_what_is_proposed)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, BANK
        "[load pump]\ncurrent = 40 A\n[load lamp]\ncurrent = 2 A\n"
        "[cable thin]\nfrom = house\nto = pump\nlength = 5 m\narea = 2.5 mm2\ninsulation = 105 C\nfuse = 50 A class-t\n"
        "[cable good]\nfrom = house\nto = lamp\nlength = 2 m\narea = 2.5 mm2\ninsulation = 105 C\nfuse = 5 A class-t\n");
    size_t built = 0, proposed = 0;

    for (size_t i = 0; i < c->item_count; i++)
        if (strcmp(c->items[i].kind, "cable") == 0) {
            if (strcmp(c->items[i].state, "as built") == 0) {
                built++;
                assert_string_equal(c->items[i].size, "2.5 mm2");
                row_check("as built", c->items[i].quantity, 2.2, 1e-9, "by hand: 2 m x 1.1");
            } else {
                proposed++;
                assert_string_not_equal(c->items[i].size, "2.5 mm2");
                row_check("proposed", c->items[i].quantity, 5.5, 1e-9, "by hand: 5 m x 1.1");
            }
        }
    row_done();
    assert_int_equal(built, 2);
    assert_int_equal(proposed, 2);
    arena_free(arena);
}

/* A panel where circuits hang on it, a pair of bars where only cables leave; rated by the device before them. */
TEST(bars_and_panels_are_on_the_bill)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, board);
    const struct circuit *bars = circuit_of(arena, &rules_iso13297, BANK
        "[load a]\ncurrent = 20 A\n[load b]\ncurrent = 10 A\n"
        "[cable feed]\nfrom = house\nto = bar\nlength = 2 m\narea = 35 mm2\nfuse = 80 A class-t\n"
        "[cable one]\nfrom = bar\nto = a\nlength = 2 m\narea = 10 mm2\n"
        "[cable two]\nfrom = bar\nto = b\nlength = 2 m\narea = 10 mm2\n");
    const struct circuit_item *helm = &c->items[c->item_count - 1], *bar = &bars->items[bars->item_count - 1];

    assert_string_equal(helm->what, "panel helm, 2 ways, 20 A");
    assert_string_equal(bar->what, "busbar bar, 80 A");
    row_check("positive and negative", bar->quantity, 2, 0, "by hand");
    row_done();
    arena_free(arena);
}

TEST(labels_name_both_ends)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, board);

    assert_int_equal(c->label_count, 12);
    assert_string_equal(c->labels[0].text1, "C1 + feed");
    assert_string_equal(c->labels[0].text2, "house > board, 35 mm2, 100 A");
    assert_string_equal(c->labels[0].end, "house");
    assert_string_equal(c->labels[1].text2, c->labels[0].text2);
    assert_string_equal(c->labels[1].end, "board");
    assert_string_equal(c->labels[2].text1, "C1 - feed");
    assert_string_equal(c->labels[2].text2, "house > board, 35 mm2");
    assert_string_equal(c->labels[2].colour, "black");
    arena_free(arena);
}

/* Six cables deep, two loads at each node on the way: every twig hangs under its own. */
TEST(a_deep_tree)
{
    static const char *const twigs[] = {
        "house",
        "\u2514\u2500 n1",
        "   \u251c\u2500 n2",
        "   \u2502  \u251c\u2500 n3",
        "   \u2502  \u2502  \u251c\u2500 n4",
        "   \u2502  \u2502  \u2502  \u251c\u2500 n5",
        "   \u2502  \u2502  \u2502  \u2502  \u2514\u2500 last",
        "   \u2502  \u2502  \u2502  \u2514\u2500 l4",
        "   \u2502  \u2502  \u2514\u2500 l3",
        "   \u2502  \u2514\u2500 l2",
        "   \u2514\u2500 l1",
    };
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, BANK
        "[load l1]\ncurrent = 1 A\n[load l2]\ncurrent = 1 A\n[load l3]\ncurrent = 1 A\n[load l4]\ncurrent = 1 A\n"
        "[load last]\ncurrent = 1 A\n"
        "[cable a]\nfrom = house\nto = n1\nlength = 1 m\n[cable b]\nfrom = n1\nto = n2\nlength = 1 m\n"
        "[cable c]\nfrom = n2\nto = n3\nlength = 1 m\n[cable d]\nfrom = n3\nto = n4\nlength = 1 m\n"
        "[cable e]\nfrom = n4\nto = n5\nlength = 1 m\n[cable f]\nfrom = n5\nto = last\nlength = 1 m\n"
        "[cable x4]\nfrom = n4\nto = l4\nlength = 1 m\n[cable x3]\nfrom = n3\nto = l3\nlength = 1 m\n"
        "[cable x2]\nfrom = n2\nto = l2\nlength = 1 m\n[cable x1]\nfrom = n1\nto = l1\nlength = 1 m\n");

    assert_int_equal(c->tree_count, sizeof twigs / sizeof *twigs);
    for (size_t i = 0; i < c->tree_count; i++)
        assert_string_equal(c->tree[i].twig, twigs[i]);
    row_check("depth", c->tree[6].depth, 6, 0, "by hand");
    row_check("at the root", c->tree[1].current_a, 5, 1e-6, "by hand: five loads of 1 A");
    row_done();
    assert_string_equal(c->tree[6].name, "last");
    arena_free(arena);
}

/* In a loop every node stands once, and every cable of the loop but the one that closes it. */
TEST(a_tree_with_a_loop)
{
    struct arena *arena = arena_new();
    const struct circuit *c = circuit_of(arena, &rules_iso13297, BANK
        "[load winch]\ncurrent = 100 A\n"
        "[cable p]\nfrom = house\nto = port\nlength = 6 m\n[cable q]\nfrom = house\nto = starboard\nlength = 9 m\n"
        "[cable r]\nfrom = port\nto = winch\nlength = 3 m\n[cable s]\nfrom = starboard\nto = winch\nlength = 3 m\n");
    size_t seen[4] = { 0 };
    static const char *const names[] = { "house", "port", "starboard", "winch" };

    assert_int_equal(c->tree_count, 4);
    for (size_t i = 0; i < 4; i++)
        for (size_t k = 0; k < 4; k++)
            seen[k] += strcmp(c->tree[i].name, names[k]) == 0;
    for (size_t k = 0; k < 4; k++)
        assert_int_equal(seen[k], 1);
    row_check("what the bank gives", c->tree[0].current_a, 100, 1e-6, "by hand: both ways together");
    row_done();
    arena_free(arena);
}

/* test_graph.c - cables to a graph, and every way in which they make no sense.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "engine/graph.h"
#include "profile/profile.h"
#include "support/profile_text.h"

#define BANK                                                                                                 \
    "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nchemistry = agm\nblock_capacity = 200 Ah\n"       \
    "block_voltage = 12 V\n"
#define CABLE(name, from, to) "[cable " name "]\nfrom = " from "\nto = " to "\nlength = 2 m\narea = 10 mm2\n"
#define LOAD(name)            "[load " name "]\npower = 60 W\n"

static const struct graph *build(struct arena *arena, const char *text)
{
    struct diag_list *diags = diag_list_new();
    const struct graph *graph = NULL;
    enum status status = graph_build(&graph, arena, boat_of(arena, text), diags);

    if (status != STATUS_OK)
        print_remarks(diags);
    diag_list_free(diags);
    assert_int_equal(status, STATUS_OK);
    return graph;
}

static void check_refused(const char *text, int line, const char *message)
{
    struct arena *arena = arena_new();
    struct diag_list *diags = diag_list_new();
    const struct graph *graph = NULL;
    enum status status = graph_build(&graph, arena, boat_of(arena, text), diags);

    if (!has_error(diags, line, message))
        print_remarks(diags);
    assert_true(has_error(diags, line, message));
    assert_int_equal(status, STATUS_REFUSED);
    assert_null(graph);
    diag_list_free(diags);
    arena_free(arena);
}

TEST(a_tree)
{
    struct arena *arena = arena_new();
    const struct graph *g = build(arena, BANK LOAD("lamp") LOAD("pump") LOAD("far") CABLE("a", "house", "bus")
                                             CABLE("b", "lamp", "bus") CABLE("c", "bus", "pump"));
    size_t bus = graph_find(g, "bus"), lamp = graph_find(g, "lamp");

    assert_int_equal(g->node_count, 4);
    assert_int_equal(g->part_count, 1);
    assert_int_equal(g->unwired, 1);
    assert_int_equal(g->nodes[bus].feeds, 2);
    assert_int_equal(g->edges[1].from, bus); /* turned round: from is nearer to the bank */
    assert_int_equal(g->edges[1].to, lamp);
    assert_int_equal(g->nodes[lamp].loads, 1);
    assert_false(g->parts[0].loops);
    assert_true(g->parts[0].nominal_v == 12);
    assert_int_equal(g->order[0], graph_find(g, "house"));
    arena_free(arena);
}

/* An inverter has two circuits: which one a cable meets is told by what hangs on its other end. */
TEST(devices_are_split)
{
    struct arena *arena = arena_new();
    const struct graph *g =
        build(arena,
              BANK "[inverter inv]\npower = 1 kW\n[shore]\ncurrent = 16 A\n[charger chg]\ncurrent = 30 A\n"
                   "[load kettle]\nsupply = ac\npower = 900 W\n[load lamp]\npower = 20 W\nnode = bus\n" CABLE(
                       "a", "house", "bus") CABLE("b", "bus", "inv") CABLE("c", "inv", "ac-panel")
                       CABLE("d", "ac-panel", "kettle") CABLE("e", "shore", "shore-panel")
                           CABLE("f", "shore-panel", "chg") CABLE("g", "chg", "bus"));

    assert_int_equal(g->part_count, 3);
    assert_int_equal(g->node_count, 10);
    assert_true(g->nodes[g->edges[1].to].part != g->nodes[g->edges[2].from].part);
    assert_int_equal(g->parts[g->nodes[g->edges[1].to].part].system, NET_DC);
    assert_int_equal(g->parts[g->nodes[g->edges[2].from].part].system, NET_AC);
    assert_int_equal(g->parts[g->nodes[g->edges[5].to].part].system, NET_AC);
    assert_int_equal(g->nodes[g->edges[6].to].part, g->nodes[g->edges[0].from].part);
    assert_int_equal(g->nodes[graph_find(g, "bus")].loads, 1);
    arena_free(arena);
}

/* A cable on to the posts of another bank, with a relay said to lie between: it ends at the relay. */
TEST(links_between_banks)
{
    struct arena *arena = arena_new();
    const struct graph *g = build(
        arena,
        BANK "[bank start]\nrole = start\nchemistry = flooded\nblock_capacity = 70 Ah\nblock_voltage = 12 V\n"
             "[dcdc relay]\nkind = relay\nfrom = house\nto = start\ncurrent = 60 A\n"
             "[load lamp]\npower = 20 W\nnode = bus\n[load cranking]\npower = 1 kW\nbank = start\nhours = 0 "
             "h\n" CABLE("link", "bus", "start") CABLE("main", "house", "bus")
                 CABLE("starter", "start", "cranking"));
    const struct graph_node *end = &g->nodes[g->edges[0].to];

    assert_int_equal(end->kind, GRAPH_DCDC);
    assert_false(end->far_side);
    assert_int_equal(g->part_count, 2);
    assert_string_equal(g->parts[g->nodes[graph_find(g, "bus")].part].bank->name, "house");
    assert_string_equal(g->parts[g->nodes[graph_find(g, "cranking")].part].bank->name, "start");
    arena_free(arena);
}

TEST(loops_are_seen)
{
    struct arena *arena = arena_new();
    const struct graph *g =
        build(arena, BANK LOAD("lamp") CABLE("a", "house", "one") CABLE("b", "house", "two")
                         CABLE("c", "one", "two") CABLE("d", "two", "lamp"));

    assert_true(g->parts[0].loops);
    assert_int_equal(g->edges[0].chord + g->edges[1].chord + g->edges[2].chord + g->edges[3].chord, 1);
    arena_free(arena);
}

TEST(bad_cables)
{
    check_refused(BANK LOAD("lamp") CABLE("a", "house", "lamp") CABLE("b", "house", "lmap"), 15,
                  "lmap is nothing");
    check_refused(BANK LOAD("lamp") CABLE("a", "house", "bus") CABLE("b", "bus", "lamp")
                      CABLE("c", "attic", "loft"),
                  20, "nothing feeds it");
    check_refused(
        BANK
        "[bank start]\nrole = start\nchemistry = agm\nblock_capacity = 70 Ah\nblock_voltage = 12 V\n" LOAD(
            "lamp") CABLE("a", "house", "lamp") CABLE("b", "start", "lamp"),
        20, "fed by two banks");
    check_refused(BANK
                  "[load lamp]\npower = 20 W\nnode = pannel\n[load fan]\npower = 9 W\nnode = panel\n" CABLE(
                      "a", "house", "panel"),
                  8, "no cable reaches a node pannel");
    check_refused(BANK "[load kettle]\nsupply = mains\npower = 900 W\n[shore]\ncurrent = 16 A\n" CABLE(
                      "a", "house", "kettle"),
                  8, "its cable carries dc");
    check_refused(BANK LOAD("lamp") "[cable a]\nfrom = house\nto = lamp\nlength = 2 m\narea = 0.3 mm2\n", 14,
                  "no table of conductors has 0.3 mm2");
    check_refused(BANK LOAD("lamp") "[cable a]\nfrom = house\nto = lamp\nlength = 2 m\narea = 300 mm2\n", 14,
                  "no table of conductors has 300 mm2");
}

/* Faults that the reader of profiles refuses already are refused here too: the engine is also used without
 * it. */
TEST(bad_cables_in_memory)
{
    static const struct range metres = { .value = 0, .origin = ORIGIN_GIVEN, .line = 7 };
    struct cable cables[] = {
        { .name = "a", .line = 3, .from = "house", .to = "one", .length = metres },
        { .name = "b", .line = 4, .from = "one", .to = "two", .length = metres },
        { .name = "c", .line = 5, .from = "two", .to = "house", .length = metres },
        { .name = "d", .line = 6, .from = "house", .to = "house", .length = metres },
    };
    struct bank bank = { .name = "house", .block_voltage = { .value = 12 }, .series = { .value = 1 } };
    struct boat boat = { .banks = &bank, .bank_count = 1, .cables = cables, .cable_count = 3 };
    struct arena *arena = arena_new();
    struct diag_list *diags = diag_list_new();
    const struct graph *graph = NULL;

    assert_int_equal(graph_build(&graph, arena, &boat, diags), STATUS_REFUSED);
    assert_true(has_error(diags, 7, "loop of no resistance"));
    boat.cable_count = 4;
    cables[2].length.value = -1;
    cables[1].length.value = 1;
    assert_int_equal(graph_build(&graph, arena, &boat, diags), STATUS_REFUSED);
    assert_true(has_error(diags, 7, "cannot be negative"));
    assert_true(has_error(diags, 6, "back to house"));
    boat.cable_count = 0;
    assert_int_equal(graph_build(&graph, arena, &boat, diags), STATUS_INCOMPLETE);
    assert_true(has_error(diags, 0, "no cable"));
    diag_list_free(diags);
    arena_free(arena);
}

TEST(shipped_profiles)
{
    static const char *const paths[] = { "profiles/cruiser-12v-agm.ini", "profiles/induction-24v-lfp.ini",
                                         "profiles/simple-12v-flooded.ini" };

    for (size_t i = 0; i < 3; i++) {
        struct arena *arena = arena_new();
        struct diag_list *diags = diag_list_new();
        const struct boat *boat = NULL;
        const struct graph *graph = NULL;

        assert_int_equal(profile_read(&boat, arena, paths[i], NULL, 0, diags), STATUS_OK);
        if (graph_build(&graph, arena, boat, diags) != STATUS_OK)
            print_remarks(diags);
        assert_non_null(graph);
        diag_list_free(diags);
        arena_free(arena);
    }
}

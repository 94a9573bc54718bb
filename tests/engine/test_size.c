/* test_size.c - handbook and simulated sizes of small boats.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "support/boats.h"
#include "support/test.h"

static const struct size *size_of(struct arena *arena, const struct boat *boat)
{
    const struct size *size = NULL;
    struct diag_list *diags = diag_list_new();

    assert_int_equal(size_run(&size, arena, boat, diags), STATUS_OK);
    diag_list_free(diags);
    return size;
}

static void boat_of_panels(struct test_boat *t, double ah, double panels)
{
    struct load *load;

    test_boat_lead(t, CHEMISTRY_AGM, ah);
    test_add_load(t, "fridge", 60)->duty = test_given(0.5);
    load = test_add_load(t, "lights", 30);
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(t, 19, 24), .time_count = 1 };
    test_add_solar(t, panels, 6);
}

TEST(handbook_bank_by_hand)
{
    struct arena *arena = arena_new();
    const struct size *s;
    struct test_boat t;

    boat_of_panels(&t, 200, 400);
    t.boat.plan.autonomy = test_given(2);
    s = size_of(arena, &t.boat);
    /* 60 x 0.5 x 24 + 30 x 5 = 870 Wh; / 12 V x 2 d / (0.5 x 1 x 0.8) at 25 C */
    row_check("two days of 870 Wh", s->bank.handbook_ah, 870 / 12.0 * 2 / (0.5 * 0.8), 0.5, "by hand");
    assert_string_equal(s->bank.limited_by, "autonomy");
    row_check("whole blocks of 200 Ah", s->bank.blocks, 2, 0, "by hand: 362 Ah");
    row_done();
    arena_free(arena);
}

TEST(the_simulated_size_is_the_edge_of_passing)
{
    struct arena *arena = arena_new();
    const struct size *s, *at, *below;
    struct test_boat t;

    boat_of_panels(&t, 300, 500);
    s = size_of(arena, &t.boat);
    assert_true(s->bank.simulated_ah > 20 && s->bank.simulated_ah < 300);
    t.banks[0].block_capacity = test_given(s->bank.simulated_ah * 1.02);
    t.banks[0].internal_resistance = test_given(t.banks[0].internal_resistance.value * 300 / s->bank.simulated_ah);
    t.banks[0].max_charge = test_given(t.banks[0].max_charge.value * s->bank.simulated_ah / 300);
    t.banks[0].max_discharge = test_given(t.banks[0].max_discharge.value * s->bank.simulated_ah / 300);
    at = size_of(arena, &t.boat);
    assert_true(at->installed_passes);
    t.banks[0].block_capacity = test_given(s->bank.simulated_ah * 0.9);
    below = size_of(arena, &t.boat);
    assert_false(below->installed_passes);
    arena_free(arena);
}

TEST(no_bank_mends_a_lack_of_charge)
{
    struct arena *arena = arena_new();
    const struct size *s;
    struct test_boat t;

    boat_of_panels(&t, 200, 50);
    s = size_of(arena, &t.boat);
    assert_false(s->installed_passes);
    row_check("no simulated bank", s->bank.simulated_ah, -1, 0, "property");
    assert_string_equal(s->bank.simulation, "no size passes");
    assert_non_null(strstr(s->difference, "No bank is large enough"));
    row_done();
    arena_free(arena);
}

TEST(more_sun_needs_fewer_panels)
{
    struct arena *arena = arena_new();
    double last = 1e9;
    struct test_boat t;

    for (double kwh = 3; kwh < 8; kwh += 1.5) {
        double w;

        boat_of_panels(&t, 400, 400);
        for (int m = 0; m < MONTHS; m++)
            t.boat.site.irradiation[m] = test_given(kwh);
        w = size_of(arena, &t.boat)->solar.simulated_w;
        assert_true(w > 0 && w < last);
        last = w;
    }
    arena_free(arena);
}

TEST(inverter_from_what_runs_at_once)
{
    struct arena *arena = arena_new();
    const struct size *s;
    struct test_boat t;
    struct load *load;

    test_boat_lfp(&t);
    load = test_add_load(&t, "hob", 1200);
    load->supply = SUPPLY_AC;
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 12, 13), .time_count = 1 };
    load = test_add_load(&t, "pump", 600);
    load->supply = SUPPLY_AC;
    load->surge = test_given(5);
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 12.5, 14), .time_count = 1 };
    test_add_inverter(&t, 2000);
    s = size_of(arena, &t.boat);
    row_check("at once", s->inverter.running_w, 1800, 1e-6, "by hand: 1200 + 600");
    row_check("continuous", s->inverter.continuous_w, 2250, 1e-6, "by hand: 1.25 x 1800");
    row_check("surge", s->inverter.surge_w, 1800 + 600 * 4, 1e-6, "by hand: 1800 + 600 x (5 - 1)");
    row_check("current", s->inverter.dc_current_a, 2250 / (0.9 * 10.5), 1e-6, "by hand");
    row_done();
    arena_free(arena);
}

/* Nothing is said to be needed that is not on board; the figure for one stands apart. */
TEST(a_boat_without_generator_needs_none)
{
    struct arena *arena = arena_new();
    const struct generator_size *s;
    struct test_boat t;

    boat_of_panels(&t, 300, 500);
    test_add_inverter(&t, 2000);
    test_add_load(&t, "kettle", 1200)->supply = SUPPLY_AC;
    test_add_shore(&t, 40, 0, 0);
    s = &size_of(arena, &t.boat)->generator;
    row_check("needed", s->needed_w, 0, 0, "property: none on board");
    row_check("of one", s->would_need_w, 40 * 12 * 1.15 / 0.9 + 1200, 1e-6, "by hand: charger in full and kettle");
    t.generators[0] = (struct generator){ .power = test_given(3000), .start_charge = test_given(0.4),
                                          .stop_charge = test_given(0.8), .fuel_idle = test_given(0.1),
                                          .fuel_slope = test_given(0.25) };
    t.boat.generator_count = 1;
    s = &size_of(arena, &t.boat)->generator;
    row_check("needed", s->needed_w, 40 * 12 * 1.15 / 0.9 + 1200, 1e-6, "by hand: charger in full and kettle");
    row_check("of another", s->would_need_w, 0, 0, "property: one is on board");
    row_done();
    arena_free(arena);
}

/* A plan that passes with no panel because the generator runs instead says so in hours. */
TEST(a_size_says_how_long_the_generator_runs_instead)
{
    struct arena *arena = arena_new();
    const struct size *s;
    struct test_boat t;

    boat_of_panels(&t, 300, 500);
    test_add_shore(&t, 40, 0, 0);
    t.generators[0] = (struct generator){ .power = test_given(3000), .start_charge = test_given(0.6),
                                          .stop_charge = test_given(0.9), .fuel_idle = test_given(0.1),
                                          .fuel_slope = test_given(0.25) };
    t.boat.generator_count = 1;
    t.days[0].generator = GENERATOR_AUTOMATIC;
    s = size_of(arena, &t.boat);
    assert_string_equal(s->solar.simulation, "passes with none");
    /* 870 Wh a day for seven days, less what the bank gave up once in a fortnight, at 40 A and some 13.5 V */
    row_check("hours instead of panels", s->solar.generator_h_week, 870 * 7 / (40 * 13.5 * 0.93), 1.5, "by hand");
    row_check("hours with them", s->generator.hours_per_week, 0, 0, "property: the sun is enough");
    assert_true(s->bank.generator_h_week > 0 && s->bank.simulated_ah > 0);
    row_done();
    arena_free(arena);
}

/* test_compare.c - before and after: no change is no difference, there and back cancel, sentences name what
 * limits.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "support/boats.h"

static const struct compare *compared(struct arena *arena, const struct boat *a, const struct boat *b)
{
    const struct compare_input inputs[] = { { "before", a, NULL }, { "after", b, NULL } };
    struct diag_list *diags = diag_list_new();
    const struct compare *compare = NULL;

    assert_int_equal(compare_run(&compare, arena, inputs, 2, diags), STATUS_OK);
    diag_list_free(diags);
    return compare;
}

/* A boat with everything that figures come from. */
static void full_boat(struct test_boat *t)
{
    test_boat_lfp(t);
    test_add_solar(t, 800, 5.5);
    test_add_engine(t, 110, 1800, 9, 10);
    test_add_shore(t, 40, 18, 20);
    test_add_inverter(t, 2000);
    test_add_load(t, "fridge", 60);
    test_add_load(t, "kettle", 1500)->supply = SUPPLY_AC;
    t->loads[1].usage.hours = test_given(0.5);
    t->banks[0].mass = test_given(12);
    t->banks[0].price = test_given(700);
    t->boat.prices.fuel_per_l = test_given(2);
}

static const struct compare_figure *figure(const struct compare *compare, const char *name, const char *item)
{
    for (size_t i = 0; i < compare->figure_count; i++) {
        const struct compare_figure *f = compare->figures + i;

        if (strcmp(f->name, name) == 0 && (item ? f->item && strcmp(f->item, item) == 0 : !f->item))
            return f;
    }
    fail_msg("no figure %s %s", name, item ? item : "");
    return NULL;
}

static int has_figure(const struct compare *compare, const char *name)
{
    for (size_t i = 0; i < compare->figure_count; i++)
        if (strcmp(compare->figures[i].name, name) == 0)
            return 1;
    return 0;
}

TEST(no_change_is_no_difference)
{
    struct arena *arena = arena_new();
    struct test_boat t;
    const struct compare *compare;

    full_boat(&t);
    compare = compared(arena, &t.boat, &t.boat);
    assert_true(compare->figure_count > 30);
    for (size_t i = 0; i < compare->figure_count; i++) {
        const struct compare_value *v = compare->figures[i].after;

        row_check(compare->figures[i].name, v->delta, 0, 0, "property: same boat");
        assert_int_equal(v->better, 0);
        assert_int_equal(v->known, compare->figures[i].before_known);
    }
    assert_string_equal(compare->sides[0].verdict, compare->sides[1].verdict);
    arena_free(arena);
    row_done();
}

static void change(struct test_boat *t)
{
    t->banks[0].parallel = test_given(2);
    t->inverters[0].power = test_given(3000);
    t->loads[0].power = test_given(90);
    t->solars[0].power = test_given(600);
    test_add_load(t, "water maker", 250)->usage.hours = test_given(1);
}

TEST(there_and_back_are_mirror_images)
{
    struct arena *arena = arena_new();
    struct test_boat a, b;
    const struct compare *there, *back;

    full_boat(&a);
    full_boat(&b);
    change(&b);
    there = compared(arena, &a.boat, &b.boat);
    back = compared(arena, &b.boat, &a.boat);
    for (size_t i = 0; i < there->figure_count; i++) {
        const struct compare_figure *f = there->figures + i, *g = figure(back, f->name, f->item);
        const struct compare_value *v = f->after, *w = g->after;

        row_check(f->name, v->delta, -w->delta, 0, "property: mirrored");
        assert_int_equal(v->better, -w->better);
        assert_int_equal(v->delta_known, w->delta_known);
        assert_int_equal(v->known, g->before_known);
        row_check(f->name, v->value, g->before, 0, "property: mirrored");
        row_check(f->name, f->before, w->value, 0, "property: mirrored");
    }
    assert_int_equal(there->figure_count, back->figure_count);
    assert_string_equal(there->sides[1].name, "after");
    arena_free(arena);
    row_done();
}

TEST(figures_are_what_the_boats_say)
{
    struct arena *arena = arena_new();
    struct test_boat a, b;
    const struct compare *c;

    full_boat(&a);
    full_boat(&b);
    change(&b);
    c = compared(arena, &a.boat, &b.boat);
    row_check("bank", figure(c, "bank_ah", NULL)->after->delta, 200, 1e-9,
              "by hand: a second string of 200 Ah");
    row_check("usable", figure(c, "bank_usable_wh", NULL)->before, 200 * 12.8 * 0.9, 1e-6,
              "by hand: 10 % to full");
    row_check("inverter", figure(c, "inverter_w", NULL)->after->delta, 1000, 1e-9, "by hand");
    row_check("panels", figure(c, "solar_w", NULL)->after->delta, -200, 1e-9, "by hand");
    row_check("mass", figure(c, "bank_mass_kg", NULL)->after->delta, 12, 1e-9, "by hand: one block more");
    row_check("price", figure(c, "bank_price", NULL)->after->value, 1400, 1e-9, "by hand: two blocks");
    row_check("fridge", figure(c, "load_wh", "fridge")->after->delta, 30 * 24 * 7, 1e-6,
              "by hand: 30 W more, a week");
    row_check("water maker", figure(c, "load_wh", "water maker")->after->value, 1750, 1e-6,
              "by hand: 250 Wh a day");
    assert_false(figure(c, "load_wh", "water maker")->before_known);
    assert_false(figure(c, "load_wh", "water maker")->after->delta_known);
    assert_int_equal(figure(c, "bank_mass_kg", NULL)->after->better, -1);
    assert_int_equal(figure(c, "bank_usable_wh", NULL)->after->better, 1);
    assert_int_equal(figure(c, "bank_ah", NULL)->after->better, 0);
    /* What no profile prices or weighs is not shown, and no sum is made of the rest. */
    assert_false(has_figure(c, "solar_mass_kg"));
    assert_false(has_figure(c, "mass_kg"));
    assert_false(has_figure(c, "price"));
    arena_free(arena);
    row_done();
}

static const struct compare_check *check(const struct compare_side *side, const char *name)
{
    for (size_t i = 0; i < side->check_count; i++)
        if (strcmp(side->checks[i].name, name) == 0)
            return side->checks + i;
    fail_msg("no check %s", name);
    return NULL;
}

TEST(the_sentence_names_what_limits)
{
    struct arena *arena = arena_new();
    struct test_boat a, b;
    const struct compare *c;

    full_boat(&a);
    full_boat(&b);
    b.loads[1].power = test_given(2400); /* more than the 2 kW inverter */
    c = compared(arena, &a.boat, &b.boat);
    assert_true(c->sides[0].passes);
    assert_false(c->sides[1].passes);
    assert_string_equal(c->sides[1].limited_by, "inverter");
    assert_false(check(c->sides + 1, "inverter")->holds);
    assert_true(check(c->sides + 1, "bank")->holds);
    assert_non_null(
        strstr(c->sides[1].verdict, "The bank can carry it, the inverter cannot: 2400 W of 2000 W"));
    assert_non_null(strstr(c->sides[0].verdict, "nearest to its limit is"));

    full_boat(&b);
    b.loads[0].power = test_given(400); /* drains the bank */
    c = compared(arena, &b.boat, &a.boat);
    assert_string_equal(c->sides[0].limited_by, "bank");
    assert_non_null(strstr(c->sides[0].verdict, "The inverter can carry it, the bank cannot: lowest charge"));
    assert_non_null(strstr(c->sides[1].verdict, "; before, the bank "));
    arena_free(arena);
}

TEST(passing_agrees_with_the_week)
{
    struct arena *arena = arena_new();
    struct test_boat a, b;
    const struct compare *c;

    full_boat(&a);
    for (int i = 0; i < 12; i++) {
        full_boat(&b);
        b.loads[0].power = test_given(40 * i);
        b.loads[1].power = test_given(300 * i);
        c = compared(arena, &a.boat, &b.boat);
        if (c->sides[1].passes)
            assert_true(c->sides[1].week->summary.passes);
        if (!c->sides[1].week->summary.passes)
            assert_false(c->sides[1].passes);
    }
    arena_free(arena);
}

/* ---- the wiring, by circuits made up here ---- */

static struct circuit_cable made_cable(const char *name, double installed, double needed)
{
    int fits = needed <= installed;

    return (struct circuit_cable){ .name = name,
                                   .from = "a",
                                   .to = "b",
                                   .installed_mm2 = installed,
                                   .printed = "50 mm2",
                                   .size = "50 mm2",
                                   .area_mm2 = needed,
                                   .drop_ok = fits,
                                   .ampacity_ok = 1,
                                   .smallest_ok = 1,
                                   .fuse_ok = 1,
                                   .passes = fits,
                                   .fuse_note = "",
                                   .status = fits ? "ok" : "drop over the limit" };
}

static const struct compare *wired(struct arena *arena, const struct circuit *a, const struct circuit *b)
{
    static struct test_boat boat;
    struct compare_input inputs[] = { { "before", &boat.boat, a }, { "after", &boat.boat, b } };
    struct diag_list *diags = diag_list_new();
    const struct compare *compare = NULL;

    full_boat(&boat);
    assert_int_equal(compare_run(&compare, arena, inputs, 2, diags), STATUS_OK);
    diag_list_free(diags);
    return compare;
}

TEST(the_cable_that_a_change_overloads_is_named)
{
    struct arena *arena = arena_new();
    struct circuit_cable good[] = { made_cable("run", 50, 50), made_cable("feed", 50, 50) };
    struct circuit_cable bad[] = { made_cable("run", 50, 50), made_cable("feed", 50, 95) };
    const struct circuit before = { .cables = good, .cable_count = 2, .copper_kg = 4 };
    const struct circuit after = { .cables = bad, .cable_count = 2, .copper_kg = 7 };
    const struct compare *c;

    bad[1].fuse_ok = 0;
    bad[1].area_fuse_min_a = 300; /* with the size that it takes, not with the one that is there */
    bad[1].area_fuse_max_a = 400;
    bad[1].fuse_note = "150 A opens";
    c = wired(arena, &before, &after);
    assert_true(c->sides[0].passes);
    assert_string_equal(c->sides[1].limited_by, "cables");
    assert_non_null(strstr(c->sides[1].verdict,
                           "The bank can carry it, the 50 mm2 feed cannot: drop over the limit, it takes "
                           "95 mm2 and a fuse of 300 to 400 A"));
    assert_int_equal(c->sides[0].cable_count, 0);
    assert_int_equal(c->sides[1].cable_count, 1);
    assert_string_equal(c->sides[1].cables[0].needed, "95 mm2");
    assert_string_equal(c->sides[1].cables[0].fuse, "300 to 400 A");
    assert_string_equal(c->sides[1].cables[0].passed_before, "yes");
    row_check("cables", figure(c, "cables_failing", NULL)->after->delta, 1, 0, "by hand");
    row_check("fuses", figure(c, "fuses_failing", NULL)->after->delta, 1, 0, "by hand");
    row_check("copper", figure(c, "copper_kg", NULL)->after->delta, 3, 1e-12, "by hand");
    arena_free(arena);
    row_done();
}

TEST(what_failed_before_does_not_hide_what_a_change_breaks)
{
    struct arena *arena = arena_new();
    struct circuit_cable old[] = { made_cable("old", 50, 70), made_cable("new", 50, 50) };
    struct circuit_cable now[] = { made_cable("old", 50, 70), made_cable("new", 50, 107.2) };
    const struct circuit before = { .cables = old, .cable_count = 2 },
                         after = { .cables = now, .cable_count = 2 };
    const struct compare *c;

    now[1].area_mm2 = 107.219;
    c = wired(arena, &before, &after);
    assert_non_null(strstr(c->sides[0].verdict, "the 50 mm2 old cannot"));
    assert_non_null(
        strstr(c->sides[1].verdict, "the 50 mm2 new cannot: drop over the limit, it takes 4/0 AWG (107.2 mm2)"));
    assert_non_null(strstr(c->sides[1].verdict, "(1 more does not pass)"));
    arena_free(arena);
}

TEST(the_worst_volts_at_the_inverter_count)
{
    static const struct circuit_inverter tried[] = {
        { .name = "i",
          .draw = "continuous",
          .bank_age = "new",
          .charge_percent = 80,
          .volts_v = 12.4,
          .cut_out_v = 10.5,
          .margin_v = 1.9,
          .holds = 1 },
        { .name = "i",
          .draw = "continuous",
          .bank_age = "aged",
          .charge_percent = 50,
          .volts_v = 11.1,
          .cut_out_v = 10.5,
          .margin_v = 0.6,
          .holds = 1 },
        { .name = "i",
          .draw = "surge",
          .bank_age = "aged",
          .charge_percent = 50,
          .volts_v = 0,
          .cut_out_v = 10.5,
          .margin_v = -10.5,
          .most_w = 2100,
          .holds = 0 },
    };
    struct arena *arena = arena_new();
    const struct circuit holds = { .inverters = tried, .inverter_count = 2 };
    const struct circuit trips = { .inverters = tried, .inverter_count = 3 };
    const struct compare *c = wired(arena, &holds, &trips);

    row_check("full load", figure(c, "inverter_full_v", NULL)->before, 11.1, 0, "by hand: the aged bank");
    assert_true(c->sides[0].passes);
    assert_string_equal(c->sides[1].limited_by, "inverter_surge_v");
    assert_non_null(strstr(c->sides[1].verdict, "the volts collapse, at most 2100 W"));
    /* Volts that collapse are a figure of the changed side, and there is none before to take them from. */
    assert_false(has_figure(c, "inverter_surge_v"));
    arena_free(arena);
    row_done();
}

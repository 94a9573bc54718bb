/* test_compare.c - before and after: no change is no difference, there and back cancel, sentences name what
 * limits. SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "support/boats.h"

static const struct compare *compared(struct arena *arena, const struct boat *a, const struct boat *b)
{
    const struct compare_input inputs[] = { { "before", a }, { "after", b } };
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
    assert_non_null(strstr(c->sides[1].verdict, "before, the bank could not"));
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

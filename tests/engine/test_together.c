/* test_together.c - what may run together: the best set is the best of all sets, and greed is never better.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/arena.h"
#include "engine/expect.h"
#include "support/boats.h"

enum { MOST = 12 };

/* Served VA by rank; compared rank 0 first. */
struct served {
    double va[LOAD_PRIORITIES];
};

static struct served served_by(const struct together_item *items, size_t count, unsigned set, double *sum)
{
    struct served s = { { 0 } };

    *sum = 0;
    for (size_t i = 0; i < count; i++)
        if (set & 1u << i) {
            s.va[items[i].rank] += items[i].va;
            *sum += items[i].va;
        }
    return s;
}

static int better(const struct served *a, const struct served *b)
{
    for (size_t r = 0; r < LOAD_PRIORITIES; r++)
        if (fabs(a->va[r] - b->va[r]) > 1e-9)
            return a->va[r] > b->va[r];
    return 0;
}

static struct served brute(const struct together_item *items, size_t count, double limit)
{
    struct served best = { { 0 } };

    for (unsigned set = 0; set < 1u << count; set++) {
        double sum;
        const struct served s = served_by(items, count, set, &sum);

        if (sum <= limit && better(&s, &best))
            best = s;
    }
    return best;
}

static unsigned set_of(const int *chosen, size_t count)
{
    unsigned set = 0;

    for (size_t i = 0; i < count; i++)
        set |= chosen[i] ? 1u << i : 0;
    return set;
}

TEST(the_best_set_is_the_best_of_all)
{
    struct arena *arena = arena_new();
    uint32_t seed = 20261125;

    for (int trial = 0; trial < 300; trial++) {
        struct together_item items[MOST];
        int chosen[MOST];
        size_t count = 1 + (size_t)trial % MOST;
        double limit, sum;
        struct served best, got, greedy;

        for (size_t i = 0; i < count; i++) {
            seed = seed * 1664525u + 1013904223u;
            items[i] = (struct together_item){ "thing", 50 + (seed >> 8) % 2000,
                                               (int)((seed >> 28) % LOAD_PRIORITIES) };
        }
        seed = seed * 1664525u + 1013904223u;
        limit = 200 + (seed >> 8) % 4000;
        best = brute(items, count, limit);
        assert_true(together_best(arena, items, count, limit, chosen) <= limit);
        got = served_by(items, count, set_of(chosen, count), &sum);
        assert_true(sum <= limit);
        assert_false(better(&best, &got));
        assert_false(better(&got, &best));
        assert_true(together_greedy(items, count, limit, chosen) <= limit);
        greedy = served_by(items, count, set_of(chosen, count), &sum);
        assert_true(sum <= limit);
        assert_false(better(&greedy, &best));
    }
    arena_free(arena);
}

TEST(known_sets)
{
    /* 16 A of 230 V is 3680 VA: kettle and heater do not go together, heater and charger do. */
    static const struct together_item items[] = { { "kettle", 2000, LOAD_NORMAL },
                                                  { "heater", 1200, LOAD_NORMAL },
                                                  { "charger", 1640, LOAD_NORMAL },
                                                  { "laptop", 60, LOAD_SHED } };
    struct arena *arena = arena_new();
    int chosen[4];

    row_check("kettle and charger", together_best(arena, items, 4, 3680, chosen), 2000 + 1640, 0, "by hand");
    assert_true(chosen[0] && !chosen[1] && chosen[2] && !chosen[3]); /* 3640: no room for 60 more */
    row_check("in order", together_greedy(items, 4, 3680, chosen), 2000 + 1200 + 60, 0, "by hand");
    row_check("nothing fits", together_best(arena, items, 4, 10, chosen), 0, 0, "by hand");
    row_check("no room at all", together_best(arena, items, 4, -5, chosen), 0, 0, "by hand");
    row_check("all fit", together_best(arena, items, 4, 5000, chosen), 4900, 0, "by hand");
    arena_free(arena);
    row_done();
}

/* --- what a load should draw --- */

TEST(bands_come_from_the_ranges)
{
    struct test_boat t;
    struct arena *arena = arena_new();
    const struct expectation *e;
    struct load *load;
    struct volts_band volts;

    test_boat_lead(&t, CHEMISTRY_AGM, 200);
    load = test_add_load(&t, "pump", 60);
    load->power = (struct range){ .value = 60, .low = 50, .high = 70, .origin = ORIGIN_GIVEN };
    test_add_load(&t, "fan", 24)->count = test_given(2);
    load = test_add_load(&t, "radio", 12);
    load->current = test_given(1);
    load = test_add_load(&t, "lamp", 24);
    load->behaves = BEHAVES_RESISTANCE;
    volts = expect_bank_volts(&t.banks[0]);
    assert_int_equal(expect_run(&e, arena, &t.boat, NULL, 1), STATUS_OK);
    assert_true(volts.low > 11.5 && volts.low < 12.6 && volts.high > 14);
    row_check("range, low", e->loads[0].low_a, 50 / volts.high, 1e-9, "by hand");
    row_check("range, high", e->loads[0].high_a, 70 / volts.low, 1e-9, "by hand");
    row_check("one number, two of them, low", e->loads[1].low_a, 0.9 * 48 / volts.high, 1e-9, "by hand");
    row_check("one number, two of them, high", e->loads[1].high_a, 1.1 * 48 / volts.low, 1e-9, "by hand");
    row_check("amps stay amps", e->loads[2].high_a, 1.1, 1e-9, "by hand");
    row_check("resistance draws more at higher volts", e->loads[3].high_a, 1.1 * 24 * volts.high / 144, 1e-9,
              "by hand");
    row_check("no cable, no path", e->loads[0].path_mohm, -1, 0, "by hand");
    assert_non_null(strstr(e->loads[0].path_gap, "to = pump"));
    arena_free(arena);
    row_done();
}

TEST(an_inverter_load_draws_its_loss_too)
{
    struct test_boat t;
    struct arena *arena = arena_new();
    const struct expectation *e;
    struct load *load;

    test_boat_lfp(&t);
    test_add_inverter(&t, 2000);
    load = test_add_load(&t, "kettle", 1000);
    load->supply = SUPPLY_AC;
    load->power_factor = test_given(1);
    load = test_add_load(&t, "heater", 1000);
    load->supply = SUPPLY_MAINS;
    load->power_factor = test_given(0.8);
    assert_int_equal(expect_run(&e, arena, &t.boat, NULL, 1), STATUS_OK);
    row_check("AC amps", e->loads[0].high_a, 1.1 * 1000 / 230, 1e-9, "by hand");
    row_check("AC amps with power factor", e->loads[1].high_a, 1.1 * 1000 / 230 / 0.8, 1e-9, "by hand");
    assert_true(e->loads[0].bank_low_a > 0.9 * 1000 / e->high_v);
    assert_true(e->loads[0].bank_high_a > 1.1 * 1000 / e->low_v &&
                e->loads[0].bank_high_a < 1.25 * 1000 / e->low_v);
    assert_null(e->loads[1].bank);
    arena_free(arena);
    row_done();
}

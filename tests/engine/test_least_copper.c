/* test_least_copper.c - sizes of a whole boat, parallel runs among them, against every other choice there is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "parts/wiring.h"
#include "rules/ruleset.h"
#include "support/circuits.h"

/* Three cables: one feeds two; runs in parallel of each, lengths and currents. Long or heavy enough that drop decides. */
struct tree {
    const char *label;
    int runs[3];
    double length_m[3], load_a[2];
};

static const struct tree trees[] = {
    { "single", { 1, 1, 1 }, { 4, 6, 9 }, { 30, 12 } },
    { "feeder of two", { 2, 1, 1 }, { 5, 6, 9 }, { 60, 25 } },
    { "one branch of two", { 1, 2, 1 }, { 3, 9, 7 }, { 80, 10 } },
    { "all of two and three", { 2, 3, 2 }, { 6, 8, 10 }, { 120, 60 } },
};

/* area[i] below 0: to be sized. */
static const struct circuit *wired(struct arena *arena, const struct tree *t, const double *area_mm2)
{
    char *areas[3];

    for (int i = 0; i < 3; i++)
        areas[i] = area_mm2[i] < 0 ? "" : arena_print(arena, "area = %g mm2\n", area_mm2[i]);
    return circuit_of(
        arena, &rules_iso13297,
        arena_print(arena,
                    "[boat]\nname = T\ndc_voltage = 12 V\n[bank house]\nchemistry = lfp\nblock_capacity = 400 Ah\n"
                    "block_voltage = 12 V\n[load a]\ncurrent = %g A\n[load b]\ncurrent = %g A\n"
                    "[cable feed]\nfrom = house\nto = bus\nlength = %g m\nruns = %d\ninsulation = 105 C\ndrop_limit = 10 %%\n%s"
                    "[cable run-a]\nfrom = bus\nto = a\nlength = %g m\nruns = %d\ninsulation = 105 C\n%s"
                    "[cable run-b]\nfrom = bus\nto = b\nlength = %g m\nruns = %d\ninsulation = 105 C\n%s",
                    t->load_a[0], t->load_a[1], t->length_m[0], t->runs[0], areas[0], t->length_m[1], t->runs[1],
                    areas[1], t->length_m[2], t->runs[2], areas[2]));
}

/* 1 where conductors pass; that no fuse is said does not matter here, but one must fit. */
static int conductors_pass(const struct circuit *c)
{
    for (size_t i = 0; i < c->cable_count; i++) {
        const struct circuit_cable *k = &c->cables[i];

        if (!k->drop_ok || !k->ampacity_ok || !k->smallest_ok || k->fuse_min_a <= 0 || k->fuse_min_a > k->fuse_max_a)
            return 0;
    }
    return 1;
}

/* Copper of the cheapest choice of all that pass [kg]. Branches are tried thickest first and stop where they fail. */
static double least_of_all(const struct tree *t)
{
    size_t count;
    const struct conductor_size *sizes = wiring_sizes(&rules_iso13297, &count);
    double least = HUGE_VAL;

    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++)
            for (size_t k = count; k-- > 0;) {
                const double area[] = { sizes[i].area_m2 * 1e6, sizes[j].area_m2 * 1e6, sizes[k].area_m2 * 1e6 };
                struct arena *arena = arena_new();
                const struct circuit *c = wired(arena, t, area);
                int passes = conductors_pass(c);

                if (passes)
                    least = fmin(least, c->copper_kg);
                arena_free(arena);
                if (!passes) /* nor does any thinner one */
                    break;
            }
    return least;
}

TEST(no_choice_that_passes_has_less_copper)
{
    static const double open[] = { -1, -1, -1 };

    for (size_t i = 0; i < sizeof trees / sizeof *trees; i++) {
        struct arena *arena = arena_new();
        const struct circuit *c = wired(arena, &trees[i], open);

        assert_true(c->passes);
        row_check(trees[i].label, c->copper_kg, least_of_all(&trees[i]), 1e-9, "property: every choice tried");
        arena_free(arena);
    }
    row_done();
}

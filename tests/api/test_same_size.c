/* test_same_size.c - a size and its square millimetres, feet and metres are the same cable, in profile and command.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>

#include "base/arena.h"
#include "parts/conductor.h"
#include "rules/ruleset.h"
#include "bridgedeck.h"
#include "single.h"
#include "support/circuits.h"

/* Digits that stand for the area: all that matter, and as a label would print it. */
static const struct {
    const char *form;
    double tolerance;
} prints[] = { { "%.9g mm2", 1e-6 }, { "%.4g mm2", 1.2e-3 } };

static const struct circuit_cable *in_profile(struct arena *arena, const char *area, const char *length)
{
    return circuit_of(arena, &rules_abyc_e11,
                      arena_print(arena,
                                  "[boat]\nname = Test\ndc_voltage = 12 V\n[bank house]\nchemistry = lfp\n"
                                  "block_capacity = 200 Ah\nblock_voltage = 12 V\n[load lamp]\ncurrent = 9 A\n"
                                  "[cable run]\nfrom = house\nto = lamp\nlength = %s\narea = %s\n",
                                  length, area))
        ->cables;
}

static const struct circuit_cable *in_command(struct arena *arena, const char *area, const char *length)
{
    struct bd_cable_request request = { .current = "9 A", .length = length, .area = area, .rules = "abyc-e11" };
    struct diag_list *diags = diag_list_new();
    const struct cable_answer *answer = NULL;
    enum status status = single_cable(&answer, arena, &request, diags);

    diag_list_free(diags);
    assert_int_equal(status, STATUS_OK);
    return &answer->cable;
}

static void same(const char *label, const struct circuit_cable *got, const struct circuit_cable *want, double tolerance)
{
    static const char source[] = "property: one cable, two names";

    row_check(label, got->resistance_mohm, want->resistance_mohm, tolerance * want->resistance_mohm, source);
    row_check(label, got->drop_v, want->drop_v, tolerance * want->drop_v, source);
    row_check(label, got->rule_drop_v, want->rule_drop_v, tolerance * want->rule_drop_v, source);
    row_check(label, got->ampacity_a, want->ampacity_a, tolerance * want->ampacity_a, source);
    row_check(label, got->copper_kg, want->copper_kg, tolerance * want->copper_kg, source);
    row_check(label, got->i2t_a2s, want->i2t_a2s, 2 * tolerance * want->i2t_a2s, source);
    if (tolerance < 1e-5) /* a rounded area may lie on the other side of a step */
        row_check(label, got->fuse_max_a, want->fuse_max_a, 0, source);
}

static void check_size(struct arena *arena, const char *name, double area_m2)
{
    const struct circuit_cable *profile = in_profile(arena, name, "20 ft"), *command = in_command(arena, name, "20 ft");

    row_check(name, command->resistance_mohm, profile->resistance_mohm, 1e-4 * profile->resistance_mohm,
              "property: profile and command, at the same temperature");
    for (size_t i = 0; i < sizeof prints / sizeof *prints; i++) {
        char area[40];

        snprintf(area, sizeof area, prints[i].form, area_m2 * 1e6);
        same(name, in_profile(arena, area, "6.096 m"), profile, prints[i].tolerance);
        same(name, in_command(arena, area, "6.096 m"), command, prints[i].tolerance);
    }
}

TEST(every_gauge_is_its_square_millimetres)
{
    static const struct {
        enum area_series series;
        const char *unit;
    } both[] = { { AREA_AWG, "AWG" }, { AREA_SAE, "SAE" } };

    for (size_t s = 0; s < 2; s++) {
        size_t count;
        const struct conductor_size *sizes = conductor_sizes(both[s].series, &count);

        for (size_t i = 0; i < count; i++) {
            struct arena *arena = arena_new();

            check_size(arena, arena_print(arena, "%s %s", sizes[i].label, both[s].unit), sizes[i].area_m2);
            arena_free(arena);
        }
    }
    row_done();
}

TEST(strands_are_their_square_millimetres)
{
    static const struct {
        const char *name;
        double strands, mm;
    } strands[] = { { "19 x 1.35 mm", 19, 1.35 }, { "7 x 0.52 mm", 7, 0.52 }, { "1064 x 0.2 mm", 1064, 0.2 } };

    for (size_t i = 0; i < sizeof strands / sizeof *strands; i++) {
        struct arena *arena = arena_new();

        check_size(arena, strands[i].name, area_from_strands(strands[i].strands, strands[i].mm * 1e-3));
        arena_free(arena);
    }
    row_done();
}

/* What is printed as a size of IEC 60228 is that size: its limit of resistance, some 10 % over its copper alone. */
TEST(nominal_sizes_keep_their_limit)
{
    size_t count;
    const struct conductor_row *rows = conductor_rows(&count);

    for (size_t i = 0; i < count; i++) {
        double limit = conductor_ohm_per_m(AREA_METRIC, CLASS5_TINNED, rows[i].mm2 * 1e-6);
        double beside = conductor_ohm_per_m(AREA_METRIC, CLASS5_TINNED, rows[i].mm2 * 1.001e-6);

        row_check("limit", limit * 1e3, rows[i].ohm_per_km_20c[CLASS5_TINNED], 1e-9, "IEC 60228 table 3");
        assert_true(conductor_is_nominal(rows[i].mm2 * 1e-6) && !conductor_is_nominal(rows[i].mm2 * 1.001e-6));
        assert_true(limit / beside > 1.01 && limit / beside < 1.16);
    }
    row_done();
}

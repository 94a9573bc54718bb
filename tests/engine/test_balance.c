/* test_balance.c - a day's sums by hand, and that balance and simulation agree.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "support/boats.h"
#include "support/test.h"

static const struct balance *balance_of(struct arena *arena, const struct boat *boat)
{
    const struct balance *balance = NULL;
    struct diag_list *diags = diag_list_new();

    assert_int_equal(balance_run(&balance, arena, boat, diags), STATUS_OK);
    diag_list_free(diags);
    return balance;
}

static double item_wh(const struct balance_item *items, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(items[i].name, name) == 0)
            return items[i].wh;
    return NAN;
}

TEST(a_day_by_hand)
{
    struct arena *arena = arena_new();
    const struct balance_day *d;
    struct test_boat t;
    struct load *load;
    struct use use = { .count = 3, .length = { .value = 240, .low = 180, .high = 360, .origin = ORIGIN_GIVEN } };

    test_boat_lfp(&t);
    load = test_add_load(&t, "fridge", 55);
    load->duty = test_given(0.45);
    load->count = test_given(2);
    load = test_add_load(&t, "lights", 24);
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 18, 23), .time_count = 1 };
    load->standby = test_given(1);
    load = test_add_load(&t, "pump", 90);
    load->usage = (struct usage){ .kind = USAGE_USES, .uses = &use, .use_count = 1 };
    load->power.low = 80;
    load->power.high = 110;
    load = test_add_load(&t, "watch", 10);
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 22, 2), .time_count = 1 };
    d = &balance_of(arena, &t.boat)->days[0];
    row_check("fridges", item_wh(d->loads, d->load_count, "fridge"), 1188, 1e-6, "by hand: 55 x 2 x 0.45 x 24");
    row_check("lights", item_wh(d->loads, d->load_count, "lights"), 24 * 5 + 19, 1e-6, "by hand: 24 x 5 + 1 x 19");
    row_check("pump", item_wh(d->loads, d->load_count, "pump"), 18, 1e-6, "by hand: 90 x 3 x 4 / 60");
    row_check("past midnight", item_wh(d->loads, d->load_count, "watch"), 40, 1e-6, "by hand: 10 x 4");
    row_check("pump low", d->loads[2].low_wh, 80.0 * 3 * 3 / 60, 1e-6, "by hand");
    row_check("pump high", d->loads[2].high_wh, 110.0 * 3 * 6 / 60, 1e-6, "by hand");
    row_check("sum", d->load_wh, 1188 + 139 + 18 + 40, 1e-6, "by hand");
    row_check("amp-hours", d->load_ah, (1188 + 139 + 18 + 40) / 12.8, 1e-6, "by hand: Wh / 12.8 V");
    row_done();
    arena_free(arena);
}

static const char teaching[] = "teaching worksheet of a public PV design course, 24 V, inverter 0.85";
static const char ac_home[] = "public article, AC home of 1092 Wh a day";
static const char small_dc[] = "public page, small DC system of 320 Wh a day";
static const char fan[] = "panel maker's public guide, one 48 W fan";
static const char cabin[] = "public article, small cabin load list";
static const char village[] = "public page, village system of fans and lamps";
static const char sailing[] = "cruising boat's published electrical budget of 2007";

/* Energy a day [Wh] of so many behind a converter of that efficiency. */
static double one_load_wh(double count, double watts, double hours, double efficiency)
{
    struct arena *arena = arena_new();
    struct test_boat t;
    struct load *load;
    double wh;

    test_boat_lfp(&t);
    t.dcdcs[0] = (struct dcdc){ .name = "converter", .from = &t.banks[0], .efficiency = test_given(efficiency) };
    t.boat.dcdc_count = 1;
    load = test_add_load(&t, "load", watts);
    load->count = test_given(count);
    load->converter = &t.dcdcs[0];
    load->usage = (struct usage){ .kind = USAGE_HOURS, .hours = test_given(hours) };
    wh = balance_of(arena, &t.boat)->days[0].load_wh;
    arena_free(arena);
    return wh;
}

TEST(daily_energies_of_published_worksheets)
{
    static const struct {
        const char *label;
        double count, watts, hours, efficiency, wh, tolerance;
        const char *source;
    } rows[] = {
        { "five lights", 5, 30, 2, 0.85, 353, 0.5, teaching },
        { "refrigerator", 1, 500, 5, 0.85, 2941, 0.5, teaching },
        { "ceiling fans", 3, 45, 8, 0.85, 1271, 0.5, teaching },
        { "washer", 1, 1500, 0.86, 0.85, 1518, 0.5, teaching },
        { "television", 1, 200, 4, 0.85, 941, 0.5, teaching },
        { "toaster", 1, 1500, 0.25, 0.85, 441, 0.5, teaching },
        { "lamp", 1, 18, 4, 1, 72, 1e-9, ac_home },
        { "fan", 1, 60, 2, 1, 120, 1e-9, ac_home },
        { "refrigerator at half time", 1, 75, 12, 1, 900, 1e-9, ac_home },
        { "fan and light, fan", 1, 20, 12, 1, 240, 1e-9, small_dc },
        { "fan and light, light", 1, 16, 5, 1, 80, 1e-9, small_dc },
        { "fan of 0.4 A at 120 V", 1, 48, 12, 1, 576, 1e-9, fan },
        { "four LED lamps", 4, 10, 5, 1, 200, 1e-9, cabin },
        { "laptop", 1, 60, 4, 1, 240, 1e-9, cabin },
        { "router", 1, 10, 24, 1, 240, 1e-9, cabin },
        { "fridge", 1, 50, 8, 1, 400, 1e-9, cabin },
        { "pump", 1, 100, 0.5, 1, 50, 1e-9, cabin },
        { "ten fans", 10, 36, 6, 1, 2160, 1e-9, village },
        { "ten lamps", 10, 12, 6, 1, 720, 1e-9, village },
        { "autopilot 1.5 A at 12 V, in Ah", 1, 1.5, 24, 1, 36, 1e-9, sailing },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        row_check(rows[i].label, one_load_wh(rows[i].count, rows[i].watts, rows[i].hours, rows[i].efficiency),
                  rows[i].wh, rows[i].tolerance, rows[i].source);
    row_done();
}

TEST(the_inverter_is_charged_with_its_losses)
{
    struct arena *arena = arena_new();
    const struct balance_day *d;
    struct test_boat t;
    struct load *load;

    test_boat_lfp(&t);
    load = test_add_load(&t, "kettle", 1500);
    load->supply = SUPPLY_AC;
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 8, 9), .time_count = 1 };
    test_add_inverter(&t, 1500);
    d = &balance_of(arena, &t.boat)->days[0];
    row_check("AC output", item_wh(d->loads, d->load_count, "kettle"), 1500, 1e-6, "by hand");
    row_check("idle and full-load losses", d->inverter_loss_wh, 15 * 23 + (1500 / 0.9 - 1500), 0.5,
              "by hand: 15 W x 23 h + 1500 / 0.9 - 1500");
    row_done();
    arena_free(arena);
}

TEST(shore_hours_take_the_ac_loads_off_the_bank)
{
    struct arena *arena = arena_new();
    const struct balance_day *d;
    struct test_boat t;
    struct load *load;

    test_boat_lfp(&t);
    load = test_add_load(&t, "router", 20);
    load->supply = SUPPLY_AC;
    load = test_add_load(&t, "boiler", 1000);
    load->supply = SUPPLY_MAINS;
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 20, 22), .time_count = 1 };
    test_add_inverter(&t, 1500);
    test_add_shore(&t, 40, 18, 6);
    d = &balance_of(arena, &t.boat)->days[0];
    row_check("router on the bank", item_wh(d->loads, d->load_count, "router"), 240, 1e-6, "by hand: 20 x 12");
    row_check("carried by shore", d->mains_wh, 240 + 2000, 1e-6, "by hand: 20 x 12 + 1000 x 2");
    row_check("hours of shore", d->shore_h, 12, 1e-9, "by hand");
    row_check("charger", item_wh(d->sources, d->source_count, "charger"), 40 * 12.8 * 12, 1, "by hand: 40 A x 12.8 V x 12 h");
    row_done();
    arena_free(arena);
}

TEST(balance_and_simulation_agree_on_the_load)
{
    struct arena *arena = arena_new();
    const struct balance *b;
    const struct week *w = NULL;
    struct week_options options = { 60, -1 };
    struct diag_list *diags = diag_list_new();
    struct test_boat t;
    struct load *load;

    test_boat_lfp(&t);
    test_add_load(&t, "fridge", 55)->duty = test_given(0.4);
    load = test_add_load(&t, "microwave", 1200);
    load->supply = SUPPLY_AC;
    load->usage = (struct usage){ .kind = USAGE_HOURS, .hours = test_given(0.3) };
    test_add_inverter(&t, 2000);
    test_add_solar(&t, 600, 6);
    b = balance_of(arena, &t.boat);
    assert_int_equal(week_run(&w, arena, &t.boat, &options, diags), STATUS_OK);
    row_check("load of the week", w->summary.load_wh + w->summary.inverter_loss_wh, b->week_load_wh, 1e-6,
              "property: two ways to one sum");
    row_check("sun of the week", w->summary.solar_wh + w->summary.solar_spilled_wh, b->week_source_wh,
              0.02 * b->week_source_wh, "property: same array, the day creeps on");
    row_done();
    diag_list_free(diags);
    arena_free(arena);
}

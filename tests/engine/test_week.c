/* test_week.c - the simulated plan against hand sums and its own laws.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "parts/bank.h"
#include "support/boats.h"
#include "support/test.h"

static struct arena *arena;

static const struct week *run(const struct boat *boat, double step_s, double row_s)
{
    const struct week *week = NULL;
    struct diag_list *diags = diag_list_new();
    struct week_options options = { step_s, row_s };

    if (!arena)
        arena = arena_new();
    assert_int_equal(week_run(&week, arena, boat, &options, diags), STATUS_OK);
    diag_list_free(diags);
    return week;
}

static void done(void)
{
    arena_free(arena);
    arena = NULL;
}

/* A boat with something of everything, for the laws. */
static void everything(struct test_boat *t, enum chemistry chemistry)
{
    struct load *load;

    test_boat_lead(t, chemistry, 300);
    load = test_add_load(t, "fridge", 60);
    load->duty = test_given(0.45);
    load = test_add_load(t, "lights", 30);
    load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(t, 19, 23), .time_count = 1 };
    load->priority = LOAD_SHED;
    load = test_add_load(t, "kettle", 1500);
    load->supply = SUPPLY_AC;
    load->usage = (struct usage){ .kind = USAGE_HOURS, .hours = test_given(0.4) };
    load = test_add_load(t, "heater", 1000);
    load->supply = SUPPLY_MAINS;
    load->usage = (struct usage){ .kind = USAGE_HOURS, .hours = test_given(1.5) };
    test_add_inverter(t, 2000);
    test_add_solar(t, 400, 5.5);
    test_add_engine(t, 80, 1600, 9, 10);
    test_add_shore(t, 40, 20, 22);
}

TEST(constant_load_empties_a_lithium_bank_on_a_straight_line)
{
    struct test_boat t;
    struct bank_model model;
    const struct week *w;
    double wh, hours;

    test_boat_lfp(&t);
    test_add_load(&t, "lamp", 64);
    w = run(&t.boat, 60, 0);
    bank_model_make(&model, &t.banks[0], 25, 1 / 60.0);
    /* 24 h at 64 W is 1536 Wh; at 13.2 V nearly 116 Ah of 200 Ah. */
    wh = w->summary.load_wh;
    row_check("a week of 64 W", wh, 64 * 168 - w->summary.unserved_wh * 0, 1e-6, "by hand: 64 W x 168 h");
    hours = (1 - 0.5) * model.capacity_ah * 13.2 / 64;
    for (size_t i = 0; i < w->row_count; i++)
        if (w->rows[i].charge <= 0.5) {
            row_check("hours to half charge", w->rows[i].time_s / 3600, hours, 0.35,
                      "by hand: 100 Ah x 13.2 V / 64 W, self-discharge and losses small");
            break;
        }
    row_done();
    done();
}

TEST(twelve_volts_of_load_on_a_24_v_bank_halves_the_amps_and_not_the_watts)
{
    struct test_boat one, two;
    const struct week *a, *b;

    test_boat_lfp(&one);
    test_add_load(&one, "lamp", 100);
    test_boat_lfp(&two);
    test_add_load(&two, "lamp", 100);
    two.banks[0].series = test_given(2);
    two.banks[0].absorption_voltage = test_given(28.4);
    two.banks[0].float_voltage = test_given(27);
    a = run(&one.boat, 60, 0);
    b = run(&two.boat, 60, 0);
    row_check("amps at the first minute", b->rows[0].bank_a / a->rows[0].bank_a, 0.5, 0.003, "by hand: same watts, twice the volts");
    row_check("watts", b->rows[0].load_w, a->rows[0].load_w, 1e-9, "by hand");
    row_done();
    done();
}

TEST(a_perfect_day_repeats)
{
    struct test_boat t;
    const struct week *w;

    test_boat_lead(&t, CHEMISTRY_AGM, 400);
    test_add_load(&t, "lamp", 30);
    test_add_solar(&t, 800, 6.5);
    w = run(&t.boat, 60, -1);
    for (size_t d = 2; d < w->day_count; d++)
        row_check("charge at midnight", w->days[d].end_charge, w->days[1].end_charge, 0.002, "property: the same day again");
    row_check("full every day", w->summary.max_charge, 1, 0.005, "property");
    row_done();
    done();
}

TEST(energy_is_conserved_at_every_step_size)
{
    static const double steps[] = { 10, 60, 300, 900, 3600 };
    static const enum chemistry kinds[] = { CHEMISTRY_FLOODED, CHEMISTRY_AGM, CHEMISTRY_GEL, CHEMISTRY_LFP };

    for (size_t k = 0; k < 4; k++)
        for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
            struct test_boat t;
            const struct week_summary *s;
            char label[60];

            everything(&t, kinds[k]);
            s = &run(&t.boat, steps[i], -1)->summary;
            snprintf(label, sizeof label, "chemistry %zu, step %.0f s", k, steps[i]);
            row_check(label, s->energy_error_wh / (s->load_wh + s->solar_wh), 0, 1e-9, "property: energy conserved");
        }
    row_done();
    done();
}

TEST(a_minute_is_fine_enough)
{
    static const enum chemistry kinds[] = { CHEMISTRY_FLOODED, CHEMISTRY_AGM, CHEMISTRY_LFP };

    for (size_t k = 0; k < 3; k++) {
        struct test_boat t;
        double minute, second;

        everything(&t, kinds[k]);
        minute = run(&t.boat, 60, -1)->summary.min_charge;
        second = run(&t.boat, 1, -1)->summary.min_charge;
        row_check("lowest charge, a minute against a second", minute, second, 0.001, "property: finer step converges");
    }
    row_done();
    done();
}

TEST(a_bigger_bank_never_goes_lower_without_a_generator)
{
    struct test_boat t;
    double last = -1;

    for (double ah = 100; ah < 900; ah *= 1.31) {
        double lowest;

        everything(&t, CHEMISTRY_AGM);
        t.banks[0].block_capacity = test_given(ah);
        t.banks[0].internal_resistance = test_given(0.004 * 100 / ah);
        t.banks[0].max_charge = test_given(0.4 * ah);
        t.banks[0].max_discharge = test_given(ah);
        lowest = run(&t.boat, 60, -1)->summary.min_charge;
        assert_true(lowest >= last - 1e-9);
        last = lowest;
    }
    done();
}

TEST(the_bank_stays_between_empty_and_its_ceiling)
{
    struct test_boat t;
    const struct week *w;

    everything(&t, CHEMISTRY_LFP);
    t.banks[0].ceiling = test_given(0.9);
    t.boat.plan.start_charge = test_given(0.6);
    w = run(&t.boat, 60, 0);
    for (size_t i = 0; i < w->row_count; i++) {
        assert_true(w->rows[i].charge <= 0.9 + 1e-9);
        assert_true(w->rows[i].charge >= -1e-9);
    }
    done();
}

TEST(no_sun_at_night)
{
    struct test_boat t;
    const struct week *w;

    everything(&t, CHEMISTRY_AGM);
    w = run(&t.boat, 60, 0);
    for (size_t i = 0; i < w->row_count; i++) {
        const struct day_mark *d = &w->days[(size_t)(w->rows[i].time_s / 86400)];

        /* Interpolation between ten-minute nodes may reach one node past the horizon. */
        if (w->rows[i].time_s < d->sunrise_s - 900 || w->rows[i].time_s > d->sunset_s + 900)
            assert_true(w->rows[i].solar_w + w->rows[i].solar_spilled_w == 0);
    }
    done();
}

TEST(load_order_changes_nothing)
{
    struct test_boat a, b;
    const struct week *wa, *wb;
    struct load swap;

    everything(&a, CHEMISTRY_AGM);
    everything(&b, CHEMISTRY_AGM);
    swap = b.loads[0];
    b.loads[0] = b.loads[2];
    b.loads[2] = swap;
    wa = run(&a.boat, 60, 0);
    wb = run(&b.boat, 60, 0);
    assert_int_equal(wa->row_count, wb->row_count);
    assert_memory_equal(wa->rows, wb->rows, wa->row_count * sizeof *wa->rows);
    done();
}

TEST(an_empty_bank_leaves_loads_unserved_least_important_first)
{
    struct test_boat t;
    const struct week_summary *s;

    test_boat_lfp(&t);
    test_add_load(&t, "vital", 40)->priority = LOAD_VITAL;
    test_add_load(&t, "normal", 60);
    test_add_load(&t, "shed", 100)->priority = LOAD_SHED;
    s = &run(&t.boat, 60, -1)->summary;
    assert_true(s->unserved_wh > 0);
    assert_false(s->passes);
    assert_true(s->unserved_by_priority_wh[LOAD_SHED] > s->unserved_by_priority_wh[LOAD_NORMAL]);
    assert_true(s->unserved_by_priority_wh[LOAD_NORMAL] >= s->unserved_by_priority_wh[LOAD_VITAL]);
    row_check("parts of the shortage", s->unserved_by_priority_wh[0] + s->unserved_by_priority_wh[1]
              + s->unserved_by_priority_wh[2], s->unserved_wh, 1e-6, "property");
    row_check("energy", s->energy_error_wh, 0, 1e-6, "property");
    row_done();
    done();
}

TEST(overloads_name_their_loads)
{
    struct test_boat t;
    struct load *load;
    const struct week *w;
    const struct week_event *over = NULL;

    test_boat_lfp(&t);
    for (int i = 0; i < 2; i++) {
        load = test_add_load(&t, i ? "kettle" : "hob", i ? 1500 : 1800);
        load->supply = SUPPLY_AC;
        load->usage = (struct usage){ .kind = USAGE_TIMES, .times = test_span(&t, 12, 12.25), .time_count = 1 };
    }
    test_add_inverter(&t, 2000);
    w = run(&t.boat, 60, -1);
    for (size_t i = 0; i < w->event_count && !over; i++)
        if (w->events[i].kind == EVENT_INVERTER_OVERLOAD)
            over = &w->events[i];
    assert_non_null(over);
    row_check("starts at noon", over->start_s, 12 * 3600, 1, "by hand");
    row_check("ends a quarter past", over->end_s, 12.25 * 3600, 1, "by hand");
    row_check("excess", over->worst_w, 1300, 1e-6, "by hand: 1800 + 1500 - 2000 W");
    assert_string_equal(over->who, "hob 1800 W, kettle 1500 W");
    row_done();
    done();
}

TEST(shore_feeds_loads_first_and_the_charger_gets_the_rest)
{
    struct test_boat t;
    struct load *load;
    const struct week *w;

    test_boat_lfp(&t);
    t.boat.plan.start_charge = test_given(0.2);
    load = test_add_load(&t, "heater", 3000);
    load->supply = SUPPLY_MAINS;
    test_add_shore(&t, 100, 0, 24);
    t.boat.plan.day_count = 1;
    w = run(&t.boat, 60, 0);
    /* 16 A x 230 V = 3680 VA; 680 VA left x 0.9 = 612 W of charging. */
    row_check("charger power", w->rows[0].charger_w, 612, 0.5, "by hand: (3680 - 3000) x 0.9");
    row_check("mains energy", w->summary.mains_wh, 72000, 1e-6, "by hand: 3 kW x 24 h");
    row_done();
    done();
}

TEST(an_automatic_generator_keeps_quiet_hours_and_stops)
{
    struct test_boat t;
    const struct week *w;

    test_boat_lfp(&t);
    test_add_load(&t, "lamp", 150);
    test_add_shore(&t, 60, 0, 0);
    t.boat.shore.fitted = 0;
    t.generators[0] = (struct generator){ .name = "set", .power = test_given(4000), .start_charge = test_given(0.4),
                                          .stop_charge = test_given(0.9), .fuel_idle = test_given(0.06),
                                          .fuel_slope = test_given(0.29) };
    t.boat.generator_count = 1;
    t.days[0].generator = GENERATOR_AUTOMATIC;
    t.days[0].quiet = test_span(&t, 22, 8);
    t.days[0].quiet_count = 1;
    w = run(&t.boat, 60, 0);
    assert_true(w->summary.generator_h > 1);
    assert_true(w->summary.generator_starts >= 2);
    for (size_t i = 0; i < w->row_count; i++) {
        double hour = fmod(w->rows[i].time_s / 3600, 24);

        if (hour < 8 || hour >= 22)
            assert_false(w->rows[i].generator_on);
    }
    row_check("energy", w->summary.energy_error_wh, 0, 1e-6, "property");
    row_check("fuel", w->summary.generator_fuel_l,
              w->summary.generator_h * 0.06 * 4 + 0.29 * w->summary.charger_wh / 0.9 / 1000, 0.01,
              "by hand: idle share x rating + slope x kWh");
    row_done();
    done();
}

TEST(a_converter_fills_a_start_bank_from_what_the_house_bus_has_to_spare)
{
    struct test_boat t;
    const struct week *w;

    everything(&t, CHEMISTRY_LFP);
    t.banks[1] = t.banks[0];
    t.banks[1].name = "start";
    t.banks[1].role = BANK_START;
    t.banks[1].block_capacity = test_given(100);
    t.boat.bank_count = 2;
    t.dcdcs[0] = (struct dcdc){ .name = "link", .kind = LINK_CONVERTER, .from = &t.banks[0], .to = &t.banks[1],
                                .current = test_given(20), .efficiency = test_given(0.9), .idle_power = test_given(1) };
    t.boat.dcdc_count = 1;
    test_add_load(&t, "starter", 20)->bank = &t.banks[1];
    w = run(&t.boat, 60, -1);
    assert_int_equal(w->bank_count, 2);
    assert_true(w->banks[1].charge_ah > 10);
    assert_true(w->banks[1].end_charge > 0.5);
    row_check("energy with a link", w->summary.energy_error_wh, 0, 1e-6, "property");
    row_done();
    done();
}

TEST(autonomy_is_the_time_from_full_to_floor)
{
    struct test_boat t;
    const struct week *w;

    test_boat_lfp(&t);
    t.banks[0].floor = test_given(0.2);
    test_add_load(&t, "lamp", 66);
    test_add_solar(&t, 600, 6);
    w = run(&t.boat, 60, -1);
    row_check("hours", w->summary.autonomy_h, 0.8 * 200 * 13.2 / 66, 0.8, "by hand: 160 Ah x 13.2 V / 66 W = 32 h");
    row_done();
    done();
}

/* boats.c - builders of small invented boats.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/boats.h"

#include <string.h>

#include "parts/bank.h"

struct range test_given(double value)
{
    return (struct range){ .value = value, .low = value, .high = value, .origin = ORIGIN_GIVEN };
}

static void bank_fill(struct bank *b, const char *name, enum chemistry chemistry, double ah)
{
    const struct chemistry_facts *facts = chemistry_facts(chemistry);
    double cells = chemistry == CHEMISTRY_LFP ? 4 : 6;

    *b = (struct bank){ .name = name, .role = BANK_HOUSE, .chemistry = chemistry, .rated_hours = 20, .rated_value = ah };
    b->block_capacity = test_given(ah);
    b->block_voltage = test_given(chemistry == CHEMISTRY_LFP ? 12.8 : 12);
    b->series = b->parallel = b->health = b->ceiling = test_given(1);
    b->floor = test_given(1 - facts->usable);
    b->internal_resistance = test_given(facts->resistance_100ah_12v * 100 / ah);
    b->peukert = test_given(facts->peukert);
    b->max_charge = test_given(facts->max_charge_c * ah);
    b->max_discharge = test_given(ah);
    b->absorption_voltage = test_given(facts->absorption_cell_v * cells);
    b->float_voltage = test_given(facts->float_cell_v * cells);
    b->temperature = test_given(25);
}

void test_boat_lead(struct test_boat *t, enum chemistry chemistry, double ah)
{
    struct boat *b = &t->boat;

    memset(t, 0, sizeof *t);
    bank_fill(&t->banks[0], "house", chemistry, ah);
    t->days[0] = (struct day_kind){ .name = "anchor", .sun = test_given(1) };
    for (int i = 0; i < 60; i++)
        t->plan[i] = &t->days[0];
    b->name = "Test";
    b->dc_voltage = test_given(12);
    b->ac_voltage = test_given(230);
    b->ac_frequency = test_given(50);
    b->site = (struct site){ .start_year = 2026, .start_month = 7, .start_day = 6 };
    b->plan = (struct plan){ t->plan, 7, test_given(1), test_given(60), { .origin = ORIGIN_NONE } };
    b->banks = t->banks;
    b->bank_count = 1;
    b->days = t->days;
    b->day_count = 1;
    b->loads = t->loads;
    b->solars = t->solars;
    b->engines = t->engines;
    b->alternators = t->alternators;
    b->chargers = t->chargers;
    b->generators = t->generators;
    b->inverters = t->inverters;
    b->dcdcs = t->dcdcs;
}

void test_boat_lfp(struct test_boat *t)
{
    test_boat_lead(t, CHEMISTRY_LFP, 200);
    t->banks[0].floor = test_given(0.1);
}

struct load *test_add_load(struct test_boat *t, const char *name, double watts)
{
    struct load *load = &t->loads[t->boat.load_count++];

    *load = (struct load){ .name = name, .supply = SUPPLY_DC, .power = test_given(watts), .count = test_given(1),
                           .duty = test_given(1), .surge = test_given(1), .power_factor = test_given(1),
                           .priority = LOAD_NORMAL, .bank = &t->banks[0] };
    load->usage = (struct usage){ .kind = USAGE_HOURS, .hours = test_given(24) };
    return load;
}

struct time_span *test_span(struct test_boat *t, double from_h, double to_h)
{
    struct time_span *span = &t->spans[t->span_count++];

    *span = (struct time_span){ { CLOCK_TIME, (int)(from_h * 3600) }, { CLOCK_TIME, (int)(to_h * 3600) } };
    return span;
}

void test_add_shore(struct test_boat *t, double amps, double from_h, double to_h)
{
    struct charger *c = &t->chargers[t->boat.charger_count++];

    *c = (struct charger){ .name = "charger", .current = test_given(amps), .efficiency = test_given(0.9),
                           .power_factor = test_given(1), .fed_by = FED_BY_SHORE | FED_BY_GENERATOR,
                           .bank = &t->banks[0] };
    t->boat.shore = (struct shore){ 1, 0, test_given(16), test_given(230) };
    t->days[0].shore = test_span(t, from_h, to_h);
    t->days[0].shore_count = to_h != from_h;
}

void test_add_engine(struct test_boat *t, double rated_a, double rpm, double from_h, double to_h)
{
    t->engines[0] = (struct engine){ .name = "port", .idle_speed = test_given(850), .power = test_given(30000) };
    t->alternators[0] = (struct alternator){ .name = "port", .engine = &t->engines[0],
                                             .rated_current = test_given(rated_a), .pulley_ratio = test_given(2.2),
                                             .hot_factor = test_given(0.8), .efficiency = test_given(0.55),
                                             .bank = &t->banks[0] };
    t->runs[0] = (struct engine_run){ &t->engines[0], *test_span(t, from_h, to_h), test_given(rpm) };
    t->days[0].runs = t->runs;
    t->days[0].run_count = 1;
    t->boat.engine_count = t->boat.alternator_count = 1;
}

void test_add_inverter(struct test_boat *t, double power)
{
    t->inverters[0] = (struct inverter){ .name = "inverter", .power = test_given(power),
                                         .surge_power = test_given(2 * power), .idle_power = test_given(15),
                                         .efficiency = test_given(0.9), .cut_out = test_given(10.5),
                                         .power_factor = test_given(1) };
    t->boat.inverter_count = 1;
}

void test_add_solar(struct test_boat *t, double watts, double kwh)
{
    struct site *site = &t->boat.site;

    t->solars[0] = (struct solar){ .name = "roof", .power = test_given(watts), .count = test_given(1),
                                   .tilt = test_given(0), .azimuth = test_given(0), .any_heading = 1,
                                   .controller = CONTROLLER_MPPT, .controller_efficiency = test_given(0.96),
                                   .temperature_coefficient = test_given(-0.0035),
                                   .nominal_cell_temperature = test_given(50), .bank = &t->banks[0] };
    t->boat.solar_count = 1;
    site->given = 1;
    site->name = "Test bay";
    site->latitude = test_given(38.6);
    site->longitude = test_given(20.7);
    site->utc_offset = test_given(3);
    site->sky = SKY_IRRADIATION;
    for (int m = 0; m < MONTHS; m++) {
        site->irradiation[m] = test_given(kwh);
        site->air_temperature[m] = test_given(25);
    }
}

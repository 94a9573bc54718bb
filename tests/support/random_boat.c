/* random_boat.c - boats with a chance of everything on board.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/random_boat.h"

#include <math.h>

double random_share(struct random_boat *boat)
{
    boat->seed = boat->seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(boat->seed >> 11) / 9007199254740992.0;
}

double random_between(struct random_boat *boat, double low, double high)
{
    return low + (high - low) * random_share(boat);
}

static int chance(struct random_boat *boat, double share)
{
    return random_share(boat) < share;
}

/* A moment to the second, some by the sun. */
static struct day_time moment(struct random_boat *r)
{
    int second = (int)random_between(r, 0, 86400);

    if (chance(r, 0.7))
        return (struct day_time){ CLOCK_TIME, second };
    return (struct day_time){ chance(r, 0.5) ? CLOCK_SUNRISE : CLOCK_SUNSET, second % 7200 - 3600 };
}

static struct usage usage_of(struct random_boat *r, size_t at)
{
    double kind = random_share(r);

    if (kind < 0.35)
        return (struct usage){ .kind = USAGE_HOURS,
                               .hours = test_given(chance(r, 0.4) ? 24 : random_between(r, 0, 24)) };
    if (kind < 0.65) {
        r->times[at] = (struct time_span){ moment(r), moment(r) };
        return (struct usage){ .kind = USAGE_TIMES, .times = r->times + at, .time_count = 1 };
    }
    r->uses[at] = (struct use){ .count = 1, .length = test_given(random_between(r, 10, 5000)), .at = moment(r) };
    r->uses[at].timed = chance(r, 0.5);
    if (!r->uses[at].timed)
        r->uses[at].count = random_between(r, 0.2, 6);
    return (struct usage){ .kind = USAGE_USES, .uses = r->uses + at, .use_count = 1 };
}

static void add_loads(struct random_boat *r)
{
    static const char *names[] = { "anchor light", "bilge pump", "chart table", "deck wash", "echo", "fridge",
                                   "galley", "heater", "instruments", "kettle" };
    size_t count = (size_t)random_between(r, 2, 10);

    for (size_t i = 0; i < count; i++) {
        double watts = 3 * exp(random_between(r, 0, 6));
        struct load *load = test_add_load(&r->test, names[i], watts);

        load->supply = chance(r, 0.6) ? SUPPLY_DC : chance(r, 0.7) ? SUPPLY_AC : SUPPLY_MAINS;
        load->priority = (enum load_priority)random_between(r, 0, LOAD_PRIORITIES);
        load->duty = test_given(random_between(r, 0.2, 1));
        load->power_factor = test_given(load->supply == SUPPLY_DC ? 1 : random_between(r, 0.6, 1));
        if (chance(r, 0.3))
            load->standby = test_given(random_between(r, 0.1, 5));
        load->usage = usage_of(r, i);
    }
}

static void add_solar(struct random_boat *r)
{
    struct solar *solar = r->test.solars;

    solar->power = test_given(random_between(r, 50, 1500));
    if (chance(r, 0.3)) {
        solar->controller = CONTROLLER_PWM;
        solar->voltage_at_power = test_given(18);
    }
    if (chance(r, 0.4)) {
        solar[1] = solar[0];
        solar[1].name = "arch";
        solar[1].tilt = test_given(random_between(r, 0, 40));
        r->test.boat.solar_count = 2;
    }
}

static void add_engine(struct random_boat *r)
{
    double from = random_between(r, 0, 22);

    test_add_engine(&r->test, random_between(r, 30, 200), random_between(r, 800, 2800), from,
                    from + random_between(r, 0.2, 2));
    if (chance(r, 0.5))
        r->test.alternators[0].regulated_voltage = test_given(random_between(r, 13.6, 14.4));
    if (chance(r, 0.3))
        r->test.alternators[0].current_limit = test_given(40);
}

static void add_generator(struct random_boat *r, enum generator_mode mode)
{
    struct test_boat *t = &r->test;

    t->generators[0] = (struct generator){ .name = "set", .power = test_given(random_between(r, 800, 6000)),
                                           .start_charge = test_given(random_between(r, 0.3, 0.6)),
                                           .stop_charge = test_given(random_between(r, 0.7, 0.95)),
                                           .fuel_idle = test_given(0.08), .fuel_slope = test_given(0.25) };
    t->boat.generator_count = 1;
    t->days[0].generator = mode;
    t->days[0].generator_times = test_span(t, random_between(r, 0, 12), random_between(r, 13, 24));
    t->days[0].generator_count = 1;
    if (chance(r, 0.6)) {
        t->days[0].quiet = test_span(t, 21, 8);
        t->days[0].quiet_count = 1;
    }
}

static void add_banks(struct random_boat *r)
{
    static const char *names[] = { "house", "start", "bow" };
    struct test_boat *t = &r->test;

    for (size_t i = 1; i < 3; i++) {
        t->banks[i] = t->banks[0];
        t->banks[i].name = names[i];
        t->banks[i].role = i == 1 ? BANK_START : BANK_BOW;
        t->dcdcs[i - 1] = (struct dcdc){ .name = names[i], .from = &t->banks[0], .to = &t->banks[i],
                                         .kind = chance(r, 0.5) ? LINK_CONVERTER : LINK_RELAY,
                                         .efficiency = test_given(random_between(r, 0.8, 1)),
                                         .idle_power = test_given(random_between(r, 0, 3)) };
        if (chance(r, 0.7))
            t->dcdcs[i - 1].current = test_given(random_between(r, 5, 60));
    }
    if (t->boat.alternator_count && chance(r, 0.5))
        t->alternators[0].bank = &t->banks[1];
    if (t->boat.load_count > 2)
        t->loads[1].bank = &t->banks[2];
    t->boat.bank_count = 3;
    t->boat.dcdc_count = 2;
}

void random_boat_make(struct random_boat *r, uint64_t seed, unsigned devices)
{
    static const enum chemistry kinds[] = { CHEMISTRY_FLOODED, CHEMISTRY_AGM, CHEMISTRY_GEL, CHEMISTRY_LFP };
    struct test_boat *t = &r->test;

    r->seed = seed * 2654435761u + 17;
    for (int i = 0; i < 8; i++)
        random_share(r);
    test_boat_lead(t, kinds[(int)random_between(r, 0, 4)], 60 * exp(random_between(r, 0, 2.3)));
    t->boat.plan.start_charge = test_given(random_between(r, 0.6, 1));
    t->boat.plan.day_count = (size_t)random_between(r, 3, 7);
    add_loads(r);
    test_add_solar(t, 100, random_between(r, 2, 7)); /* the site is wanted even without panels */
    t->boat.solar_count = 0;
    if (devices & RANDOM_SOLAR && chance(r, 0.75)) {
        t->boat.solar_count = 1;
        add_solar(r);
    }
    if (devices & RANDOM_ENGINE && chance(r, 0.5))
        add_engine(r);
    if (devices & RANDOM_SHORE && chance(r, 0.5))
        test_add_shore(t, random_between(r, 10, 80), random_between(r, 0, 12), random_between(r, 13, 24));
    if (devices & RANDOM_GENERATOR_HOURS && chance(r, 0.3))
        add_generator(r, GENERATOR_TIMES);
    else if (devices & RANDOM_GENERATOR_AUTOMATIC && chance(r, 0.6))
        add_generator(r, GENERATOR_AUTOMATIC);
    if (devices & RANDOM_INVERTER && chance(r, 0.7))
        test_add_inverter(t, random_between(r, 300, 3000));
    if (devices & RANDOM_BANKS && chance(r, 0.5))
        add_banks(r);
    t->days[1] = t->days[0];
    t->days[1].name = "dull";
    t->days[1].sun = test_given(0.4);
    t->days[1].shore_count = 0;
    t->boat.day_count = 2;
    for (size_t i = 0; i < t->boat.plan.day_count; i++)
        t->plan[i] = &t->days[chance(r, 0.4)];
}

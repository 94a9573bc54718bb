/* boat.c - find and count; nothing else.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "boat/boat.h"

#include <string.h>

const struct bank *boat_house_bank(const struct boat *boat)
{
    for (size_t i = 0; i < boat->bank_count; i++)
        if (boat->banks[i].role == BANK_HOUSE)
            return &boat->banks[i];
    return NULL;
}

size_t boat_day_index(const struct boat *boat, const struct day_kind *day)
{
    return (size_t)(day - boat->days);
}

const struct usage *load_usage(const struct load *load, size_t day_index)
{
    if (load->by_day && load->by_day[day_index].kind != USAGE_NONE)
        return &load->by_day[day_index];
    return &load->usage;
}

double load_duty(const struct load *load, size_t day_index)
{
    if (load->duty_by_day && range_known(&load->duty_by_day[day_index]))
        return load->duty_by_day[day_index].value;
    return load->duty.value;
}

double bank_nominal_voltage(const struct bank *bank)
{
    return bank->block_voltage.value * bank->series.value;
}

double bank_blocks(const struct bank *bank)
{
    return bank->series.value * bank->parallel.value;
}

double bank_rated_ah(const struct bank *bank)
{
    return bank->block_capacity.value * bank->parallel.value;
}

/* ---- what was seen and measured ---- */

/* 1 where one of count things of size bytes, each beginning with its name, is called that. */
static int named(const void *things, size_t count, size_t size, const char *name)
{
    for (size_t i = 0; i < count; i++) {
        const char *own;

        memcpy(&own, (const char *)things + i * size, sizeof own);
        if (own && strcmp(own, name) == 0)
            return 1;
    }
    return 0;
}

/* A node of the user's own exists by being named at the end of a cable. */
static int is_cable_end(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->cable_count; i++)
        if ((boat->cables[i].from && strcmp(boat->cables[i].from, name) == 0) ||
            (boat->cables[i].to && strcmp(boat->cables[i].to, name) == 0))
            return 1;
    return 0;
}

#define NAMED(list, count) named(boat->list, boat->count, sizeof *boat->list, name)

unsigned boat_things(const struct boat *boat, const char *name)
{
    unsigned things = 0;

    things |= NAMED(banks, bank_count) ? ON_BANK : 0;
    things |= NAMED(cables, cable_count) ? ON_CABLE : 0;
    things |= NAMED(loads, load_count) ? ON_LOAD : 0;
    things |= NAMED(inverters, inverter_count) ? ON_INVERTER : 0;
    things |= NAMED(generators, generator_count) ? ON_GENERATOR : 0;
    things |= NAMED(alternators, alternator_count) ? ON_ALTERNATOR : 0;
    things |= NAMED(engines, engine_count) ? ON_ENGINE : 0;
    things |= NAMED(chargers, charger_count) ? ON_CHARGER : 0;
    things |=
        NAMED(solars, solar_count) || NAMED(dcdcs, dcdc_count) || is_cable_end(boat, name) ? ON_OTHER : 0;
    things |= strcmp(name, "shore") == 0 ? ON_SHORE : 0;
    things |= strcmp(name, "panel") == 0 ? ON_PANEL : 0;
    things |= strcmp(name, "boat") == 0 ? ON_BOAT : 0;
    return things;
}

const struct seen *boat_seen(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->seen_count; i++)
        if (strcmp(boat->seens[i].name, name) == 0)
            return &boat->seens[i];
    return NULL;
}

const struct measured *boat_measured(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->measured_count; i++)
        if (strcmp(boat->measureds[i].name, name) == 0)
            return &boat->measureds[i];
    return NULL;
}

int boat_ac_sources(const struct boat *boat)
{
    return (boat->shore.fitted != 0) + (boat->inverter_count > 0) + (boat->generator_count > 0);
}

enum seen_word boat_fact(const struct boat *boat, const char *name, enum seen_fact fact)
{
    const struct seen *seen = boat_seen(boat, name);

    return seen ? seen->facts[fact] : SEEN_UNKNOWN;
}

struct fact_row {
    const char *name;
    unsigned of;
    const char *meaning;
};

static const struct fact_row facts[SEEN_COUNT] = {
#define SEEN_ROW(lower, upper, on, meaning) [SEEN_##upper] = { #lower, on, meaning },
    SEEN_FACTS(SEEN_ROW)
#undef SEEN_ROW
};

const char *seen_name(enum seen_fact fact)
{
    return facts[fact].name;
}

unsigned seen_of(enum seen_fact fact)
{
    return facts[fact].of;
}

const char *seen_meaning(enum seen_fact fact)
{
    return facts[fact].meaning;
}

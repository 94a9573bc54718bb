/* compare_fitted.c - what is on board, what it weighs and costs: only as far as the profile says.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/range.h"
#include "engine/compare_parts.h"
#include "engine/need.h"

/*
 * Mass and price are added only where every part of a kind has one: half a sum looks like a whole one.
 * Nothing is guessed.
 */

enum { UNKNOWN = -1 };

/* Adds to a total that becomes unknown with its first unknown part; count 0 adds nothing. */
static void add(double *total, double count, const struct range *each, const struct range *per_size,
                double size)
{
    if (count <= 0 || *total < 0)
        return;
    if (range_known(each))
        *total += count * each->value;
    else if (per_size && range_known(per_size))
        *total += size * per_size->value;
    else
        *total = UNKNOWN;
}

/* A sum with an unknown part is unknown: half a price would mislead. */
static double sum_known(double a, double b, double c)
{
    return a < 0 || b < 0 || c < 0 ? UNKNOWN : a + b + c;
}

/* The house bank. Usable: rated Ah x working volts x health x (ceiling - floor). */
static void add_bank(struct compare_fitted *f, const struct boat *boat, const struct bank *bank)
{
    double blocks = bank_blocks(bank), ah = bank_rated_ah(bank);

    f->blocks = blocks;
    f->bank_ah = ah;
    f->bank_usable_wh =
        ah * bank_working_voltage(bank) * bank->health.value * (bank->ceiling.value - bank->floor.value);
    add(&f->bank_kg, blocks, &bank->mass, NULL, 0);
    add(&f->bank_price, blocks, &bank->price, &boat->prices.bank_per_ah, ah);
}

/* Every array by what its panels are rated for; a price per watt stands in for one per panel. */
static void add_solars(struct compare_fitted *f, const struct boat *boat)
{
    for (size_t i = 0; i < boat->solar_count; i++) {
        const struct solar *s = boat->solars + i;
        double watts = s->power.value * s->count.value;

        f->solar_w += watts;
        add(&f->solar_kg, s->count.value, &s->mass, NULL, 0);
        add(&f->solar_price, s->count.value, &s->price, &boat->prices.solar_per_w, watts);
    }
}

/* An inverter without a surge rating bears no more than its continuous one. */
static void add_inverters(struct compare_fitted *f, const struct boat *boat)
{
    for (size_t i = 0; i < boat->inverter_count; i++) {
        const struct inverter *v = boat->inverters + i;

        f->inverter_w += v->power.value;
        f->inverter_surge_w += range_or(&v->surge_power, v->power.value);
        add(&f->inverter_kg, 1, &v->mass, NULL, 0);
        add(&f->inverter_price, 1, &v->price, &boat->prices.inverter_per_w, v->power.value);
    }
}

/* [money] of what generator and alternators burn over the plan; unknown without a price per litre. */
static double fuel_price(const struct compare_made *made)
{
    const struct week_summary *w = &made->side.week->summary;
    const struct range *per_l = &made->boat->prices.fuel_per_l;

    return range_known(per_l) ? per_l->value * (w->generator_fuel_l + w->alternator_fuel_l) : UNKNOWN;
}

/* Machines of other banks are left out: the comparison is about the house. */
void compare_fitted_find(struct compare_made *made)
{
    const struct boat *boat = made->boat;
    const struct bank *house = boat_house_bank(boat);
    struct compare_fitted f = { 0 };

    if (house)
        add_bank(&f, boat, house);
    add_solars(&f, boat);
    add_inverters(&f, boat);
    for (size_t i = 0; i < boat->alternator_count; i++)
        f.alternator_a += boat->alternators[i].bank == house ? boat->alternators[i].rated_current.value : 0;
    for (size_t i = 0; i < boat->charger_count; i++)
        f.charger_a += boat->chargers[i].bank == house ? boat->chargers[i].current.value : 0;
    for (size_t i = 0; i < boat->generator_count; i++)
        f.generator_w += boat->generators[i].power.value;
    f.mass_kg = sum_known(f.bank_kg, f.solar_kg, f.inverter_kg);
    f.price = sum_known(f.bank_price, f.solar_price, f.inverter_price);
    f.fuel_price = fuel_price(made);
    made->fitted = f;
}

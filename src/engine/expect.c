/* expect.c - what each load should draw, and the volts it should have.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/expect.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/paths.h"
#include "parts/bank.h"
#include "parts/machine.h"

/*
 * What a meter should read. The bank is not at one voltage: rested at its floor it stands at V1, charging at
 * V2, and between the two a reading may fall. Constant power draws least at V2 and most at V1, a resistance
 * the other way round, a constant current the same at both.
 *
 * Volts at a load are those of the bank at the given charge less I (R of the path + R of the bank), with the
 * middle of the band as I. Through a converter the load sees the converter's volts instead.
 */

const double expect_tolerance = 0.10;

struct volts_band expect_bank_volts(const struct bank *bank)
{
    const double rested = chemistry_open_circuit(bank->chemistry, bank->floor.value) * bank_cells(bank);

    return (struct volts_band){ rested, fmax(rested, bank->absorption_voltage.value) };
}

/* Low and high of a value, widened where it is one number. */
struct band {
    double low, high;
};

/* Low and high of a value times a count, widened by expect_tolerance where it is one number. */
static struct band band_of(const struct range *range, double times)
{
    if (range->low < range->high)
        return (struct band){ range->low * times, range->high * times };
    return (struct band){ range->value * times * (1 - expect_tolerance),
                          range->value * times * (1 + expect_tolerance) };
}

/* Amps of a DC load on volts that lie in a band. */
static struct band dc_amps(const struct load *load, struct volts_band volts, double nominal)
{
    const double count = range_or(&load->count, 1);
    const struct band watts = band_of(&load->power, count);

    if (load->behaves == BEHAVES_CURRENT ||
        (load->behaves == BEHAVES_AS_TYPED && range_known(&load->current)))
        return range_known(&load->current) ? band_of(&load->current, count)
                                           : (struct band){ watts.low / nominal, watts.high / nominal };
    if (load->behaves == BEHAVES_RESISTANCE)
        return (struct band){ watts.low * volts.low / (nominal * nominal),
                              watts.high * volts.high / (nominal * nominal) };
    return (struct band){ watts.low / volts.high, watts.high / volts.low };
}

/* Amps at the bank of what an inverter gives, on top of its idle draw. */
static struct band inverter_amps(const struct boat *boat, const struct load *load, struct volts_band volts)
{
    const struct band watts = band_of(&load->power, range_or(&load->count, 1));
    const struct inverter_model model = inverter_model(&boat->inverters[0]);
    const double idle = inverter_input_w(&model, 0);

    return (struct band){ (inverter_input_w(&model, watts.low) - idle) / volts.high,
                          (inverter_input_w(&model, watts.high) - idle) / volts.low };
}

/* A converter holds its volts, so the band is one number. */
static struct volts_band around(double volts)
{
    return (struct volts_band){ volts, volts };
}

/* At the AC breaker, watts over volts and power factor. At the bank, what the first inverter needs for it
 * beyond its idle draw, which the sheet counts once. */
static void expect_ac(struct expected_load *e, const struct boat *boat, const struct load *load)
{
    const struct bank *house = boat_house_bank(boat);
    const struct band watts = band_of(&load->power, range_or(&load->count, 1));
    const double volts = boat->ac_voltage.value * range_or(&load->power_factor, 1);

    e->system = "ac";
    e->low_a = watts.low / volts;
    e->high_a = watts.high / volts;
    if (load->supply == SUPPLY_AC && boat->inverter_count > 0 && house) {
        const struct band amps = inverter_amps(boat, load, expect_bank_volts(house));

        e->bank = house->name;
        e->bank_low_a = amps.low;
        e->bank_high_a = amps.high;
    }
}

/* At the load's breaker; behind a converter that is its output, and the bank's
 * amperes follow from its efficiency. */
static void expect_dc(struct expected_load *e, const struct load *load)
{
    const struct volts_band volts = expect_bank_volts(load->bank);
    const struct dcdc *converter = load->converter;
    struct band amps;

    e->bank = load->bank->name;
    if (!converter) {
        amps = dc_amps(load, volts, bank_nominal_voltage(load->bank));
        e->system = "dc";
        e->low_a = e->bank_low_a = amps.low;
        e->high_a = e->bank_high_a = amps.high;
        return;
    }
    amps = dc_amps(load, around(converter->voltage.value), converter->voltage.value);
    e->system = "converter";
    e->low_a = amps.low;
    e->high_a = amps.high;
    e->bank_low_a = amps.low * converter->voltage.value / converter->efficiency.value / volts.high;
    e->bank_high_a = amps.high * converter->voltage.value / converter->efficiency.value / volts.low;
}

/* --- paths --- */

/* One tree for each source that loads hang on. */
struct trees {
    struct arena *arena;
    const struct circuit *circuit;
    const char **sources;
    struct paths *paths;
    size_t count;
    int failed;
};

/* Paths from one source, made once however many loads it feeds; NULL without memory. */
static const struct paths *tree_of(struct trees *t, const char *source)
{
    for (size_t i = 0; i < t->count; i++)
        if (strcmp(t->sources[i], source) == 0)
            return &t->paths[i];
    t->sources[t->count] = source;
    t->failed |= !paths_make(&t->paths[t->count], t->arena, t->circuit, source);
    return t->failed ? NULL : &t->paths[t->count++];
}

double expect_bank_mohm(const struct circuit *circuit, const struct bank *bank)
{
    for (size_t i = 0; circuit && i < circuit->bank_count; i++)
        if (strcmp(circuit->banks[i].name, bank->name) == 0)
            return circuit->banks[i].resistance_mohm;
    return 1e3 * bank_resistance(bank);
}

/* What would settle the size of the first cable on the way back that was sized here and not read aboard. */
static const char *unread_size(struct trees *t, const struct paths *paths, size_t place)
{
    for (; place != PATH_NONE && paths->cable[place] != PATH_NONE; place = paths->parent[place]) {
        const struct circuit_cable *cable = &t->circuit->cables[paths->cable[place]];
        const char *gap;

        if (cable->installed_mm2 > 0)
            continue;
        gap = arena_print(t->arena, "[cable %s] area, as printed on the jacket", cable->name);
        t->failed |= !gap;
        return gap;
    }
    return NULL;
}

/* The last cable must be the load's own: what hangs on a panel has a cable that the profile does not know. */
static void expect_path(struct expected_load *e, struct trees *t, const struct load *load)
{
    const char *source = load->converter ? load->converter->name : load->bank->name;
    const struct paths *paths = t->circuit ? tree_of(t, source) : NULL;
    const size_t place = paths ? paths_find(paths, load->name) : PATH_NONE;
    const char *gap = arena_print(t->arena, "a [cable NAME] with to = %s", load->name);

    e->bank_mohm = expect_bank_mohm(t->circuit, load->bank);
    t->failed |= !gap;
    if (place == PATH_NONE) {
        e->path_gap = gap;
        return;
    }
    e->path_mohm = paths_mohm(paths, t->circuit, place);
    e->path_gap = unread_size(t, paths, place);
    if (load->converter)
        e->volts_v = load->converter->voltage.value - (e->low_a + e->high_a) / 2 * e->path_mohm * 1e-3;
    else
        e->volts_v = e->bank_v - (e->low_a + e->high_a) / 2 * (e->path_mohm + e->bank_mohm) * 1e-3;
}

/* Band, bank and path of a load. AC loads have no path of their own here: what the
 * bank sees comes through the inverter. */
static void expect_load(struct expected_load *e, struct trees *t, const struct boat *boat,
                        const struct load *load, double charge)
{
    *e = (struct expected_load){ .name = load->name, .path_mohm = -1 };
    if (load->supply != SUPPLY_DC) {
        expect_ac(e, boat, load);
        return;
    }
    e->bank_v = chemistry_open_circuit(load->bank->chemistry, charge) * bank_cells(load->bank);
    expect_dc(e, load);
    expect_path(e, t, load);
}

enum status expect_run(const struct expectation **out, struct arena *arena, const struct boat *boat,
                       const struct circuit *circuit, double charge)
{
    const struct bank *house = boat_house_bank(boat);
    const struct volts_band volts = house ? expect_bank_volts(house) : around(boat->dc_voltage.value);
    const size_t most = boat->bank_count + boat->dcdc_count + 1;
    struct trees trees = { .arena = arena,
                           .circuit = circuit,
                           .sources = arena_array(arena, most, sizeof *trees.sources),
                           .paths = arena_array(arena, most, sizeof *trees.paths) };
    struct expectation *e = arena_zero(arena, sizeof *e);
    struct expected_load *loads = arena_array(arena, boat->load_count, sizeof *loads);

    if (!e || !loads || !trees.sources || !trees.paths)
        return STATUS_NO_MEMORY;
    for (size_t i = 0; i < boat->load_count && !trees.failed; i++)
        expect_load(&loads[i], &trees, boat, &boat->loads[i], charge);
    if (trees.failed)
        return STATUS_NO_MEMORY;
    *e = (struct expectation){ .charge_percent = 100 * charge,
                               .low_v = volts.low,
                               .high_v = volts.high,
                               .tolerance_percent = 100 * expect_tolerance,
                               .loads = loads,
                               .load_count = boat->load_count };
    *out = e;
    return STATUS_OK;
}

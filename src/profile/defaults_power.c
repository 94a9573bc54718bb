/* defaults_power.c - volts, banks and machines where the profile says nothing, or says it another way.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "parts/bank.h"
#include "parts/conductor.h"
#include "profile/defaults.h"

/*
 * Order within a bank: its volts, then series, exponent, capacity, limits, charging volts: each needs those
 * before it.
 */

/* --- banks --- */

/* Cells of one block: 2 V each in lead, 3.2 V in lithium iron phosphate, where 3, 4, 8, 16 make 9, 12, 24, 48
 * V. */
static double block_cells(const struct bank *bank)
{
    const double nominal = bank->block_voltage.value;

    return bank->chemistry == CHEMISTRY_LFP ? nominal / 3 : nominal / 2;
}

/*
 * What a block's volts count as: 12.8 V of lithium iron phosphate, 12.6 V of lead and the like are 12 V. 0
 * where the volts are no whole number of cells.
 */
static double block_nominal(const struct bank *bank)
{
    const double typed = bank->block_voltage.value;
    const int lfp = bank->chemistry == CHEMISTRY_LFP;
    const double cell = chemistry_facts(bank->chemistry)->nominal_cell_v, cells = nearbyint(typed / cell);
    const double counts_as = cells * (lfp ? 3 : 2);

    if (typed == 12 || typed == 24 || typed == 36 || typed == 48)
        return typed;
    return cells >= 1 && fabs(typed / cell - cells) <= 0.07 * cells ? counts_as : 0;
}

/* Puts the label's volts on the nominal scale, openly; the typed figure stays in the assumption. */
static void block_voltage_settle(struct reading *r, struct bank *bank, const char *title)
{
    const double typed = bank->block_voltage.value, nominal = block_nominal(bank);
    const struct section *s = document_find(r->document, title);
    const struct entry *e = s ? section_find(s, "block_voltage") : NULL;

    if (!range_known(&bank->block_voltage) || nominal == typed)
        return;
    if (nominal == 0) {
        if (e)
            entry_remark(r->diags, s, e, e->value,
                         arena_print(r->arena, "is no whole number of %s cells",
                                     chemistry_facts(bank->chemistry)->name),
                         "write the nominal voltage of one block: 2, 6, 12, 24 V, or 12.8 V for lfp");
        bank->block_voltage.origin = ORIGIN_NONE;
        return;
    }
    bank->block_voltage.value = bank->block_voltage.low = bank->block_voltage.high = nominal;
    bank->block_voltage.origin = ORIGIN_DERIVED;
    reading_assume(r, title, "block_voltage", value_text(r->arena, nominal, QUANTITY_VOLTAGE),
                   arena_print(r->arena, "nominal; %s is what the label says",
                               value_text(r->arena, typed, QUANTITY_VOLTAGE)));
}

/* Blocks in series that make the boat's voltage, for the house bank; else one. */
static void series_default(struct reading *r, struct bank *bank, const char *title)
{
    const double blocks = range_known(&r->boat->dc_voltage) && bank->role == BANK_HOUSE
                              ? r->boat->dc_voltage.value / bank->block_voltage.value
                              : 1;

    if (!range_known(&bank->block_voltage))
        return;
    if (blocks >= 1 && blocks <= 48 && blocks == floor(blocks))
        default_range(r, title, "series", &bank->series, blocks, QUANTITY_NUMBER, ORIGIN_DEFAULT,
                      blocks > 1 ? "makes dc_voltage" : "common practice");
    else
        default_range(r, title, "series", &bank->series, 1, QUANTITY_NUMBER, ORIGIN_DEFAULT,
                      "common practice");
}

/* From two ratings where there are two, else the chemistry's usual exponent. */
static void peukert_default(struct reading *r, struct bank *bank, const char *title)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);

    if (range_known(&bank->second_capacity) && range_known(&bank->block_capacity) && bank->second_hours > 0 &&
        bank->second_hours != bank->rated_hours && bank->rated_hours > 0) {
        double c1 = bank->block_capacity.value, h1 = bank->rated_hours;
        double c2 = bank->second_capacity.value, h2 = bank->second_hours;

        default_range(r, title, "peukert", &bank->peukert, peukert_exponent(c1 / h1, h1, c2 / h2, h2),
                      QUANTITY_NUMBER, ORIGIN_DERIVED, "from the two ratings");
    }
    default_range(r, title, "peukert", &bank->peukert, facts->peukert, QUANTITY_NUMBER, ORIGIN_DEFAULT,
                  facts->source);
}

/* Reserve minutes and cranking amperes to ampere-hours at 20 h, openly; both are rough (parts/bank.h). After
 * peukert_default, whose exponent the minutes need. */
static void capacity_convert(struct reading *r, struct bank *bank, const char *title)
{
    double ah = 0;
    const char *why = "";

    if (bank->rated_as == RATED_AH || bank->rated_value <= 0)
        return;
    if (bank->rated_as == RATED_RESERVE_MINUTES) {
        ah = bank_ah_from_reserve(bank->rated_value, bank->peukert.value);
        why = arena_print(r->arena, "%g min at 25 A, to 20 h with exponent %.4g; rough", bank->rated_value,
                          bank->peukert.value);
    } else {
        ah = bank_ah_from_cranking(bank->rated_value, bank->chemistry);
        why =
            arena_print(r->arena, "%g A of cranking by a rule of thumb, good to a third", bank->rated_value);
    }
    default_range(r, title, "block_capacity", &bank->block_capacity, ah, QUANTITY_CHARGE, ORIGIN_DERIVED,
                  why);
}

/* Limits that scale with size, by chemistry: floor, resistance of a block (in proportion to volts
 * and to 1/Ah), largest currents. */
static void bank_limits_default(struct reading *r, struct bank *bank, const char *title)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);
    const double block_ah = bank->block_capacity.value, ah = bank_rated_ah(bank);

    default_range(r, title, "floor", &bank->floor, 1 - facts->usable, QUANTITY_SHARE, ORIGIN_DEFAULT,
                  facts->source);
    if (!(block_ah > 0) || !range_known(&bank->block_voltage) || !range_known(&bank->parallel))
        return;
    default_range(r, title, "internal_resistance", &bank->internal_resistance,
                  facts->resistance_100ah_12v * 100 / block_ah * bank->block_voltage.value / 12,
                  QUANTITY_RESISTANCE, ORIGIN_DEFAULT, facts->source);
    default_range(r, title, "max_charge", &bank->max_charge, facts->max_charge_c * ah, QUANTITY_CURRENT,
                  ORIGIN_DEFAULT, facts->source);
    if (bank->chemistry == CHEMISTRY_LFP) /* lead has no management system: its volts are its limit */
        default_range(r, title, "max_discharge", &bank->max_discharge, facts->continuous_discharge_c * ah,
                      QUANTITY_CURRENT, ORIGIN_DEFAULT, facts->source);
}

/* Charging volts of the whole bank at 25 C: those of a cell times the cells. */
static void bank_volts_default(struct reading *r, struct bank *bank, const char *title)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);
    const double cells = block_cells(bank) * bank->series.value;

    if (!range_known(&bank->block_voltage) || !range_known(&bank->series))
        return;
    default_range(r, title, "absorption_voltage", &bank->absorption_voltage, facts->absorption_cell_v * cells,
                  QUANTITY_VOLTAGE, ORIGIN_DEFAULT, facts->source);
    default_range(r, title, "float_voltage", &bank->float_voltage, facts->float_cell_v * cells,
                  QUANTITY_VOLTAGE, ORIGIN_DEFAULT, facts->source);
}

/* The boat's nominal voltage follows her house bank; without one, 12 V. */
static void dc_voltage_default(struct reading *r)
{
    const struct bank *house = defaults_house(r);
    const struct section *s = document_find(r->document, "boat");

    if (s && section_find(s, "dc_voltage"))
        return; /* given, if only wrongly */
    if (house && range_known(&house->block_voltage) && range_known(&house->series))
        default_range(r, "boat", "dc_voltage", &r->boat->dc_voltage, bank_nominal_voltage(house),
                      QUANTITY_VOLTAGE, ORIGIN_DERIVED, "the nominal voltage of the house bank");
    else
        default_range(r, "boat", "dc_voltage", &r->boat->dc_voltage, 12, QUANTITY_VOLTAGE, ORIGIN_DEFAULT,
                      "common practice");
}

void defaults_boat(struct reading *r)
{
    struct boat *boat = r->boat;

    for (size_t i = 0; i < boat->bank_count; i++) {
        struct bank *bank = &boat_banks(r)[i];
        const char *title = title_of(r, "bank", bank->name);

        block_voltage_settle(r, bank, title);
        series_default(r, bank, title);
        peukert_default(r, bank, title);
        capacity_convert(r, bank, title);
        bank_limits_default(r, bank, title);
        bank_volts_default(r, bank, title);
    }
    dc_voltage_default(r);
    default_range(r, "boat", "ac_frequency", &boat->ac_frequency, usual_frequency(boat->ac_voltage.value),
                  QUANTITY_FREQUENCY, ORIGIN_DEFAULT, "IEC 60038: 60 Hz goes with 120 V, 50 Hz with 230 V");
}

/* --- machines --- */

/* The typed fuel flow is at full power: what fuel_idle leaves of it is the slope, fuel = idle rating + slope
 * output (Skarstein & Uhlen 1989). */
static void generator_default(struct reading *r, struct generator *g)
{
    const char *title = title_of(r, "generator", g->name);
    const struct bank *house = defaults_house(r);
    const struct section *s = document_find(r->document, title);
    const struct entry *fuel = s ? section_find(s, "fuel") : NULL;
    struct range flow;

    default_range(r, title, "start_charge", &g->start_charge,
                  house && house->chemistry == CHEMISTRY_LFP ? 0.3 : 0.5, QUANTITY_SHARE, ORIGIN_DEFAULT,
                  "common practice, by chemistry of the house bank");
    if (fuel && g->power.value > 0) {
        struct cursor c = cursor_make(r->arena, fuel->value);

        if (!cursor_range(&c, QUANTITY_FUEL_FLOW, &flow))
            return; /* said already */
        g->fuel_slope.origin = ORIGIN_NONE;
        default_range(r, title, "fuel_slope", &g->fuel_slope,
                      fmax(0, flow.value / (g->power.value / 1000) - g->fuel_idle.value),
                      QUANTITY_FUEL_ENERGY, ORIGIN_DERIVED, "from fuel at full power, less fuel_idle");
    }
}

static void inverter_default(struct reading *r, struct inverter *v)
{
    const char *title = title_of(r, "inverter", v->name);

    default_range(r, title, "cut_out", &v->cut_out, 10.5 * r->boat->dc_voltage.value / 12, QUANTITY_VOLTAGE,
                  ORIGIN_DEFAULT, "1.75 V a cell of a lead bank, common practice");
    if (!range_known(&v->power))
        return;
    default_range(r, title, "surge_power", &v->surge_power, 2 * v->power.value, QUANTITY_POWER,
                  ORIGIN_DEFAULT, "twice the continuous power, common practice");
    default_range(r, title, "idle_power", &v->idle_power, 0.006 * v->power.value, QUANTITY_POWER,
                  ORIGIN_DEFAULT, "0.6 % of power: Schmidt & Sauer 1996, from memory");
}

static void dcdc_default(struct reading *r, struct dcdc *d)
{
    const char *title = title_of(r, "dcdc", d->name);
    const int relay = d->kind == LINK_RELAY;

    default_range(r, title, "efficiency", &d->efficiency, relay ? 1 : 0.92, QUANTITY_SHARE, ORIGIN_DEFAULT,
                  relay ? "a closed contact" : "0.88 to 0.96, from memory");
    default_range(r, title, "idle_power", &d->idle_power, relay ? 0 : 1, QUANTITY_POWER, ORIGIN_DEFAULT,
                  relay ? "its coil is left out" : "0.1 to 10 W by size, from memory");
    if (!d->to && !relay)
        default_range(r, title, "voltage", &d->voltage, 12, QUANTITY_VOLTAGE, ORIGIN_DEFAULT,
                      "common practice");
}

static void solar_default(struct reading *r, struct solar *s)
{
    const double bus = s->bank ? bank_nominal_voltage(s->bank) : r->boat->dc_voltage.value;

    if (s->controller == CONTROLLER_PWM && bus > 0)
        default_range(r, title_of(r, "solar", s->name), "voltage_at_power", &s->voltage_at_power,
                      18 * bus / 12, QUANTITY_VOLTAGE, ORIGIN_DEFAULT,
                      "36 cells of 0.5 V for each 12 V of the bank, from memory");
}

static void day_default(struct reading *r, const struct day_kind *day)
{
    const char *title = title_of(r, "day", day->name);
    const struct section *s = document_find(r->document, title);

    if (s && r->boat->generator_count && !section_find(s, "generator"))
        reading_assume(r, s->title, "generator", "off", "a generator runs only where the profile says so");
}

/* After defaults_links: a controller's volts follow the bank it charges. */
void defaults_machines(struct reading *r)
{
    struct boat *boat = r->boat;
    const struct section *shore = document_find(r->document, "shore");

    for (size_t i = 0; i < boat->dcdc_count; i++)
        dcdc_default(r, &((struct dcdc *)boat->dcdcs)[i]);
    for (size_t i = 0; i < boat->solar_count; i++)
        solar_default(r, &((struct solar *)boat->solars)[i]);
    for (size_t i = 0; i < boat->generator_count; i++)
        generator_default(r, &((struct generator *)boat->generators)[i]);
    for (size_t i = 0; i < boat->inverter_count; i++)
        inverter_default(r, &((struct inverter *)boat->inverters)[i]);
    for (size_t i = 0; i < boat->day_count; i++)
        day_default(r, &boat->days[i]);
    if (!shore)
        return;
    boat->shore.fitted = 1;
    boat->shore.line = shore->place.line;
    default_range(r, "shore", "voltage", &boat->shore.voltage, boat->ac_voltage.value, QUANTITY_VOLTAGE,
                  ORIGIN_DEFAULT, "ac_voltage of the boat");
}

/* units.c - the table of units.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/units.h"

#define SI   "SI prefix"
#define DEF  "by definition"
#define FOOT "international foot, 0.3048 m exactly (1959)"
#define LB   "international pound, 0.45359237 kg exactly (1959)"

/* The first row of a quantity is its main unit. */
static const struct unit units[] = {
    { "%", QUANTITY_SHARE, 0.01, 0, 1, DEF },
    { "V", QUANTITY_VOLTAGE, 1, 0, 1, SI },
    { "mV", QUANTITY_VOLTAGE, 1e-3, 0, 0, SI },
    { "kV", QUANTITY_VOLTAGE, 1e3, 0, 0, SI },
    { "A", QUANTITY_CURRENT, 1, 0, 1, SI },
    { "mA", QUANTITY_CURRENT, 1e-3, 0, 0, SI },
    { "kA", QUANTITY_CURRENT, 1e3, 0, 0, SI },
    { "W", QUANTITY_POWER, 1, 0, 1, SI },
    { "mW", QUANTITY_POWER, 1e-3, 0, 0, SI },
    { "kW", QUANTITY_POWER, 1e3, 0, 1, SI },
    { "hp", QUANTITY_POWER, 745.69987158227022, 0, 0, "550 ft lbf/s" },
    { "VA", QUANTITY_POWER, 1, 0, 0, "apparent power, taken as W" },
    { "kVA", QUANTITY_POWER, 1e3, 0, 0, "apparent power, taken as W" },
    { "Ah", QUANTITY_CHARGE, 1, 0, 1, SI },
    { "mAh", QUANTITY_CHARGE, 1e-3, 0, 0, SI },
    { "ohm", QUANTITY_RESISTANCE, 1, 0, 0, SI },
    { "mohm", QUANTITY_RESISTANCE, 1e-3, 0, 1, SI },
    { "\xCE\xA9", QUANTITY_RESISTANCE, 1, 0, 0, SI },
    { "m\xCE\xA9", QUANTITY_RESISTANCE, 1e-3, 0, 0, SI },
    { "\xE2\x84\xA6", QUANTITY_RESISTANCE, 1, 0, 0, SI },
    { "m\xE2\x84\xA6", QUANTITY_RESISTANCE, 1e-3, 0, 0, SI },
    { "Hz", QUANTITY_FREQUENCY, 1, 0, 1, SI },
    { "m", QUANTITY_LENGTH, 1, 0, 1, SI },
    { "cm", QUANTITY_LENGTH, 1e-2, 0, 0, SI },
    { "mm", QUANTITY_LENGTH, 1e-3, 0, 0, SI },
    { "ft", QUANTITY_LENGTH, 0.3048, 0, 1, FOOT },
    { "in", QUANTITY_LENGTH, 0.0254, 0, 0, FOOT },
    { "mm2", QUANTITY_AREA, 1e-6, 0, 1, SI },
    { "mm\xC2\xB2", QUANTITY_AREA, 1e-6, 0, 0, SI },
    { "cm2", QUANTITY_AREA, 1e-4, 0, 0, SI },
    { "kg", QUANTITY_MASS, 1, 0, 1, SI },
    { "g", QUANTITY_MASS, 1e-3, 0, 0, SI },
    { "lb", QUANTITY_MASS, 0.45359237, 0, 1, LB },
    { "s", QUANTITY_DURATION, 1, 0, 1, SI },
    { "ms", QUANTITY_DURATION, 1e-3, 0, 0, SI },
    { "min", QUANTITY_DURATION, 60, 0, 1, DEF },
    { "h", QUANTITY_DURATION, 3600, 0, 1, DEF },
    { "C", QUANTITY_TEMPERATURE, 1, 0, 1, SI },
    { "\xC2\xB0"
      "C",
      QUANTITY_TEMPERATURE, 1, 0, 0, SI },
    { "degC", QUANTITY_TEMPERATURE, 1, 0, 0, SI },
    { "F", QUANTITY_TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0, 1, DEF },
    { "\xC2\xB0"
      "F",
      QUANTITY_TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0, 0, DEF },
    { "degF", QUANTITY_TEMPERATURE, 5.0 / 9.0, -160.0 / 9.0, 0, DEF },
    { "deg", QUANTITY_ANGLE, 1, 0, 1, DEF },
    { "\xC2\xB0", QUANTITY_ANGLE, 1, 0, 0, DEF },
    { "rpm", QUANTITY_SPEED, 1, 0, 1, DEF },
    { "1/min", QUANTITY_SPEED, 1, 0, 0, DEF },
    { "%/K", QUANTITY_PER_KELVIN, 0.01, 0, 1, DEF },
    { "%/C", QUANTITY_PER_KELVIN, 0.01, 0, 0, DEF },
    { "%/\xC2\xB0"
      "C",
      QUANTITY_PER_KELVIN, 0.01, 0, 0, DEF },
    { "kWh/m2", QUANTITY_IRRADIATION, 1, 0, 1, DEF },
    { "kWh/m\xC2\xB2", QUANTITY_IRRADIATION, 1, 0, 0, DEF },
    { "Wh/m2", QUANTITY_IRRADIATION, 1e-3, 0, 0, SI },
    { "MJ/m2", QUANTITY_IRRADIATION, 1 / 3.6, 0, 1, "1 kWh = 3.6 MJ exactly" },
    { "MJ/m\xC2\xB2", QUANTITY_IRRADIATION, 1 / 3.6, 0, 0, "1 kWh = 3.6 MJ exactly" },
    { "l/h", QUANTITY_FUEL_FLOW, 1, 0, 1, DEF },
    { "L/h", QUANTITY_FUEL_FLOW, 1, 0, 0, DEF },
    { "gal/h", QUANTITY_FUEL_FLOW, 3.785411784, 0, 1, "US gallon, 231 cubic inches exactly" },
    { "l/h/kW", QUANTITY_FUEL_IDLE, 1, 0, 1, DEF },
    { "L/h/kW", QUANTITY_FUEL_IDLE, 1, 0, 0, DEF },
    { "l/kWh", QUANTITY_FUEL_ENERGY, 1, 0, 1, DEF },
    { "L/kWh", QUANTITY_FUEL_ENERGY, 1, 0, 0, DEF },
    { "d", QUANTITY_DAYS, 1, 0, 1, DEF },
    { "days", QUANTITY_DAYS, 1, 0, 0, DEF },
};

enum { UNITS = sizeof units / sizeof units[0] };

const struct unit *unit_find(enum quantity quantity, struct span symbol)
{
    for (size_t i = 0; i < UNITS; i++)
        if (units[i].quantity == quantity && span_is(symbol, units[i].symbol))
            return &units[i];
    return NULL;
}

const struct unit *unit_find_any(struct span symbol)
{
    for (size_t i = 0; i < UNITS; i++)
        if (span_is(symbol, units[i].symbol))
            return &units[i];
    return NULL;
}

const struct unit *unit_main(enum quantity quantity)
{
    for (size_t i = 0; i < UNITS; i++)
        if (units[i].quantity == quantity)
            return &units[i];
    return NULL;
}

const char *quantity_name(enum quantity quantity)
{
    static const char *const names[QUANTITIES] = {
        [QUANTITY_NUMBER] = "number",
        [QUANTITY_MONEY] = "amount of money",
        [QUANTITY_SHARE] = "percentage",
        [QUANTITY_VOLTAGE] = "voltage",
        [QUANTITY_CURRENT] = "current",
        [QUANTITY_POWER] = "power",
        [QUANTITY_CHARGE] = "charge",
        [QUANTITY_RESISTANCE] = "resistance",
        [QUANTITY_FREQUENCY] = "frequency",
        [QUANTITY_LENGTH] = "length",
        [QUANTITY_AREA] = "cross-section",
        [QUANTITY_MASS] = "mass",
        [QUANTITY_DURATION] = "length of time",
        [QUANTITY_TEMPERATURE] = "temperature",
        [QUANTITY_ANGLE] = "angle",
        [QUANTITY_SPEED] = "speed of rotation",
        [QUANTITY_PER_KELVIN] = "temperature coefficient",
        [QUANTITY_IRRADIATION] = "daily irradiation",
        [QUANTITY_FUEL_FLOW] = "fuel flow",
        [QUANTITY_FUEL_IDLE] = "fuel flow per kW of rating",
        [QUANTITY_FUEL_ENERGY] = "fuel per kWh",
        [QUANTITY_DAYS] = "number of days",
    };
    return names[quantity];
}

int quantity_is_bare(enum quantity quantity)
{
    return quantity == QUANTITY_NUMBER || quantity == QUANTITY_MONEY;
}

const struct unit *unit_table(size_t *count)
{
    *count = UNITS;
    return units;
}

/* chemistry.c - what is usual for each battery chemistry, capacity against temperature and rate.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/bank.h"

#include <math.h>
#include <stddef.h>

/*
 * Middle of the ranges that handbooks and data sheets give; all from memory unless the source says otherwise.
 * coulombic_full is chosen so that a 50 % to 100 % recharge takes the overall ampere-hour efficiency of the
 * chemistry: 0.85 flooded, 0.95 AGM, 0.93 gel, 0.997 LFP.
 */
static const struct chemistry_facts facts[] = {
    [CHEMISTRY_FLOODED] = {
        .name = "flooded",
        .coulombic_bulk = 0.95, .coulombic_full = 0.55,
        .energy_efficiency = 0.75,
        .self_discharge_month = 0.05,
        .resistance_100ah_12v = 6e-3,
        .recommended_charge_c = 0.13, .max_charge_c = 0.25,
        .charge_low_c = 0.10, .charge_high_c = 0.20,
        .continuous_discharge_c = 0.2,
        .absorption_cell_v = 14.6 / 6, .float_cell_v = 13.35 / 6,
        .compensation_cell_v_k = -4.5e-3,
        .tail_c = 0.015,
        .usable = 0.50,
        .peukert = 1.25,
        .charge_min_c = -15,
        .nominal_cell_v = 2.0,
        .source = "common data-sheet ranges, from memory; efficiency near full after Stevens & Corey 1996",
    },
    [CHEMISTRY_AGM] = {
        .name = "agm",
        .coulombic_bulk = 0.98, .coulombic_full = 0.84,
        .energy_efficiency = 0.85,
        .self_discharge_month = 0.02,
        .resistance_100ah_12v = 4e-3,
        .recommended_charge_c = 0.20, .max_charge_c = 0.50,
        .charge_low_c = 0.20, .charge_high_c = 0.40,
        .continuous_discharge_c = 0.5,
        .absorption_cell_v = 14.4 / 6, .float_cell_v = 13.5 / 6,
        .compensation_cell_v_k = -3.5e-3,
        .tail_c = 0.005,
        .usable = 0.50,
        .peukert = 1.10,
        .charge_min_c = -15,
        .nominal_cell_v = 2.0,
        .source = "common data-sheet ranges, from memory; tail current 0.5 % as published charging tests ended",
    },
    [CHEMISTRY_GEL] = {
        .name = "gel",
        .coulombic_bulk = 0.97, .coulombic_full = 0.79,
        .energy_efficiency = 0.83,
        .self_discharge_month = 0.02,
        .resistance_100ah_12v = 5e-3,
        .recommended_charge_c = 0.20, .max_charge_c = 0.30,
        .charge_low_c = 0.15, .charge_high_c = 0.30,
        .continuous_discharge_c = 0.35,
        .absorption_cell_v = 14.2 / 6, .float_cell_v = 13.65 / 6,
        .compensation_cell_v_k = -3.5e-3,
        .tail_c = 0.0075,
        .usable = 0.50,
        .peukert = 1.15,
        .charge_min_c = -15,
        .nominal_cell_v = 2.0,
        .source = "common data-sheet ranges, from memory",
    },
    [CHEMISTRY_LFP] = {
        .name = "lfp",
        .coulombic_bulk = 0.997, .coulombic_full = 0.997,
        .energy_efficiency = 0.95,
        .self_discharge_month = 0.02,
        .resistance_100ah_12v = 3e-3,
        .recommended_charge_c = 0.50, .max_charge_c = 1.0,
        .charge_low_c = 0.30, .charge_high_c = 0.50,
        .continuous_discharge_c = 1.0,
        .absorption_cell_v = 14.2 / 4, .float_cell_v = 13.5 / 4,
        .compensation_cell_v_k = 0,
        .tail_c = 0.03,
        .usable = 0.80,
        .peukert = 1.02,
        .charge_min_c = 0,
        .nominal_cell_v = 3.2,
        .source = "common data-sheet ranges, from memory",
    },
};

const struct chemistry_facts *chemistry_facts(enum chemistry chemistry)
{
    return &facts[chemistry];
}

struct point {
    double x, y;
};

/* Linear between rows of rising x, the end values outside. */
static double between(const struct point *row, size_t count, double x)
{
    size_t i = 1;

    if (x <= row[0].x)
        return row[0].y;
    if (x >= row[count - 1].x)
        return row[count - 1].y;
    while (row[i].x < x)
        i++;
    return row[i - 1].y + (row[i].y - row[i - 1].y) * (x - row[i - 1].x) / (row[i].x - row[i - 1].x);
}

/* [C] -> [-] what the needed size of a vented lead-acid bank is multiplied by (IEEE 485, table of size factors;
 * from memory, checked against the cubic below). Warmer rows are left out: IEEE 1013 gives no credit over 25 C. */
static const struct point size_factor[] = {
    { -3.9, 1.520 }, { -1.1, 1.430 }, { 1.7, 1.350 },  { 4.4, 1.300 },  { 7.2, 1.250 },  { 10.0, 1.190 },
    { 12.8, 1.150 }, { 15.6, 1.110 }, { 18.3, 1.080 }, { 20.0, 1.056 }, { 21.1, 1.040 }, { 22.2, 1.029 },
    { 23.9, 1.011 }, { 25.0, 1.000 },
};

/* Cubic fit to the same table, published for use where it ends; steps down 0.006 at its cold end. */
static double size_factor_cubic(double celsius)
{
    double x = celsius / 100;

    return ((-2.8117 * x + 4.1916) * x - 2.4941) * x + 1.405;
}

/* [C] -> [-] LFP capacity, cell data sheets, from memory; no credit over 25 C either. */
static const struct point lfp_capacity[] = {
    { -20, 0.65 }, { -10, 0.78 }, { 0, 0.88 }, { 10, 0.95 }, { 25, 1.00 },
};

/* Below this the cubic is no longer anybody's claim; a bank that cold is near freezing. */
static const double coldest_lead = -20;

double bank_capacity_factor(enum chemistry chemistry, double temperature)
{
    if (chemistry == CHEMISTRY_LFP)
        return between(lfp_capacity, sizeof lfp_capacity / sizeof *lfp_capacity, temperature);
    if (temperature < size_factor[0].x)
        return 1 / fmax(size_factor[0].y, size_factor_cubic(fmax(temperature, coldest_lead)));
    return 1 / between(size_factor, sizeof size_factor / sizeof *size_factor, temperature);
}

double peukert_hours(double rated_ah, double rated_h, double current, double exponent)
{
    return rated_h * pow(rated_ah / (current * rated_h), exponent);
}

double peukert_exponent(double current1, double hours1, double current2, double hours2)
{
    return log(hours1 / hours2) / log(current2 / current1);
}

/* Capacity goes as hours^((n-1)/n) along a Peukert line. */
double bank_ah_from_reserve(double minutes, double peukert)
{
    const double reserve_a = 25; /* BCI reserve capacity: minutes at 25 A to 1.75 V a cell */
    double hours = minutes / 60;

    return reserve_a * hours * pow(20 / hours, (peukert - 1) / peukert);
}

/* Cold cranking amps per ampere-hour of a starting battery: a trade rule of thumb, from memory, good to a third.
 * LFP "cranking" labels are what the management system lets through. */
double bank_ah_from_cranking(double amps, enum chemistry chemistry)
{
    return amps / (chemistry == CHEMISTRY_LFP ? 10.0 : 7.25);
}

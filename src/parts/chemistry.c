/* chemistry.c - what is usual for each battery chemistry, capacity against temperature and rate.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/bank.h"

#include <math.h>
#include <stddef.h>

/*
 * Middle of the ranges that handbooks and data sheets give; all from memory unless the source says otherwise.
 * coulombic_full is chosen so that a 50 % to 100 % recharge takes the overall ampere-hour efficiency of the
 * chemistry: 0.85 flooded, 0.95 AGM, 0.93 gel, 0.997 LFP. That most of the loss is near full is Stevens &
 * Corey 1996 (from memory), who measured an even steeper fall: 0.55 from 79 to 84 % already.
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
        .source = "common data-sheet ranges, from memory",
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
        .tail_c = 0.005, /* as published charging tests ended */
        .usable = 0.50,
        .peukert = 1.10,
        .charge_min_c = -15,
        .nominal_cell_v = 2.0,
        .source = "common data-sheet ranges, from memory",
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

struct curve {
    size_t count;
    const struct point *row; /* rising x */
};

#define CURVE(rows) { sizeof(rows) / sizeof *(rows), rows }

/* Linear between rows, the end values outside. */
static double between(const struct curve *curve, double x)
{
    const struct point *row = curve->row;
    size_t i = 1;

    if (x <= row[0].x)
        return row[0].y;
    if (x >= row[curve->count - 1].x)
        return row[curve->count - 1].y;
    while (row[i].x < x)
        i++;
    return row[i - 1].y + (row[i].y - row[i - 1].y) * (x - row[i - 1].x) / (row[i].x - row[i - 1].x);
}

/* [C] -> [-] what the needed size of a vented lead-acid bank is multiplied by (IEEE 485, table of size
 * factors; from memory, checked against the cubic below). Warmer rows are left out: IEEE 1013 gives no credit
 * over 25 C. */
static const struct point size_factor_row[] = {
    { -3.9, 1.520 }, { -1.1, 1.430 }, { 1.7, 1.350 },  { 4.4, 1.300 },  { 7.2, 1.250 },  { 10.0, 1.190 },
    { 12.8, 1.150 }, { 15.6, 1.110 }, { 18.3, 1.080 }, { 20.0, 1.056 }, { 21.1, 1.040 }, { 22.2, 1.029 },
    { 23.9, 1.011 }, { 25.0, 1.000 },
};
static const struct curve size_factor = CURVE(size_factor_row);

/* Cubic fit to the same table, published for use where it ends; steps down 0.006 at its cold end. */
static double size_factor_cubic(double celsius)
{
    double x = celsius / 100;

    return ((-2.8117 * x + 4.1916) * x - 2.4941) * x + 1.405;
}

/* [C] -> [-] LFP capacity, cell data sheets, from memory; no credit over 25 C either. */
static const struct point lfp_capacity_row[] = {
    { -20, 0.65 }, { -10, 0.78 }, { 0, 0.88 }, { 10, 0.95 }, { 25, 1.00 },
};
static const struct curve lfp_capacity = CURVE(lfp_capacity_row);

/* Below this the cubic is no longer anybody's claim; a bank that cold is near freezing. */
static const double coldest_lead = -20;

double bank_capacity_factor(enum chemistry chemistry, double temperature)
{
    if (chemistry == CHEMISTRY_LFP)
        return between(&lfp_capacity, temperature);
    if (temperature < size_factor.row[0].x)
        return 1 / fmax(size_factor.row[0].y, size_factor_cubic(fmax(temperature, coldest_lead)));
    return 1 / between(&size_factor, temperature);
}

/*
 * [-] -> [V] a cell, rested.
 * Flooded: the battery council's (BCI) table, 12.65 12.45 12.24 12.06 11.89 V for six cells. Fuller tables
 * from memory stand higher when full (12.73) and lower when empty (11.30); the published one is taken.
 * AGM and gel: typical tables for six cells, from memory; published AGM charts give 12.8 to 13.2 V full.
 * LFP: mean of C/32 charge and discharge of a cylindrical power cell at room temperature, published
 * measurements; at 1 its 3.598 V, still on charge, is replaced by the 3.40 V of a rested cell (from memory),
 * and at 0 its 2.01 V by the 2.5 V where management systems cut off.
 */
static const struct point flooded_open_row[] = {
    { 0, 11.89 / 6 }, { 0.25, 12.06 / 6 }, { 0.50, 12.24 / 6 }, { 0.75, 12.45 / 6 }, { 1, 12.65 / 6 },
};
static const struct point agm_open_row[] = {
    { 0.00, 11.65 / 6 }, { 0.05, 11.70 / 6 }, { 0.10, 11.75 / 6 }, { 0.20, 11.88 / 6 }, { 0.30, 12.01 / 6 },
    { 0.50, 12.25 / 6 }, { 0.70, 12.49 / 6 }, { 0.80, 12.62 / 6 }, { 0.90, 12.74 / 6 }, { 1.00, 12.85 / 6 },
};
static const struct point gel_open_row[] = {
    { 0.00, 11.78 / 6 }, { 0.10, 11.82 / 6 }, { 0.20, 11.93 / 6 }, { 0.30, 12.08 / 6 }, { 0.50, 12.35 / 6 },
    { 0.70, 12.58 / 6 }, { 0.80, 12.68 / 6 }, { 0.90, 12.75 / 6 }, { 1.00, 12.85 / 6 },
};
static const struct point lfp_open_row[] = {
    { 0.0000, 2.5000 }, { 0.0117, 2.7405 }, { 0.0267, 2.9299 }, { 0.0500, 3.0721 },
    { 0.1000, 3.2029 }, { 0.1500, 3.2156 }, { 0.2000, 3.2413 }, { 0.2500, 3.2618 }, { 0.3000, 3.2778 },
    { 0.4000, 3.2948 }, { 0.5000, 3.2991 }, { 0.6000, 3.3032 }, { 0.7000, 3.3163 }, { 0.7500, 3.3329 },
    { 0.8000, 3.3371 }, { 0.9000, 3.3411 }, { 0.9500, 3.3429 }, { 0.9800, 3.3481 }, { 0.9900, 3.3703 },
    { 1.0000, 3.4000 },
};

/*
 * [-] -> [1/h] of C20 taken at the absorption voltage, which at once shapes how long absorption lasts.
 * Flooded, gel, LFP: common practice, from memory. AGM: the same kind of table, raised in its last fifth and
 * steepened around 75 % to agree with published charging tests at 14.4 V and 25 C (rated 105 Ah, tested 95.69
 * Ah, and rated 125 Ah): absorption reached at 77.4 % with 0.2 C and 63.3 % with 0.4 C, 50 to 100 % in 5.5 h.
 */
static const struct point flooded_acceptance_row[] = {
    { 0.00, 0.35 }, { 0.50, 0.25 }, { 0.60, 0.22 },  { 0.70, 0.18 },  { 0.80, 0.12 },
    { 0.85, 0.08 }, { 0.90, 0.05 }, { 0.95, 0.025 }, { 0.98, 0.012 }, { 1.00, 0.008 },
};
static const struct point agm_acceptance_row[] = {
    { 0.00, 0.90 },  { 0.50, 0.65 },  { 0.60, 0.48 }, { 0.70, 0.31 }, { 0.75, 0.22 },  { 0.80, 0.14 },
    { 0.85, 0.115 }, { 0.90, 0.09 },  { 0.95, 0.06 }, { 0.98, 0.028 }, { 1.00, 0.004 },
};
static const struct point gel_acceptance_row[] = {
    { 0.00, 0.40 }, { 0.50, 0.30 },  { 0.60, 0.25 },  { 0.70, 0.20 },  { 0.80, 0.13 },
    { 0.85, 0.09 }, { 0.90, 0.055 }, { 0.95, 0.025 }, { 0.98, 0.010 }, { 1.00, 0.005 },
};
static const struct point lfp_acceptance_row[] = {
    { 0.00, 1.00 }, { 0.85, 1.00 }, { 0.90, 0.80 }, { 0.95, 0.40 }, { 0.98, 0.15 }, { 1.00, 0.02 },
};

/* What is drawn as a curve, and the ends of the scale, by chemistry. */
static const struct {
    struct curve open, acceptance;
    double empty_cell_v; /* [V] lead 10.5 V of six; LFP 10 V of four, where management systems cut off */
    /* [V] flooded 16.2 V of six (equalising), sealed 15 V, LFP 3.65 V; common practice */
    double limit_cell_v;
} curves[] = {
    [CHEMISTRY_FLOODED] = { CURVE(flooded_open_row), CURVE(flooded_acceptance_row), 10.5 / 6, 16.2 / 6 },
    [CHEMISTRY_AGM] = { CURVE(agm_open_row), CURVE(agm_acceptance_row), 10.5 / 6, 15.0 / 6 },
    [CHEMISTRY_GEL] = { CURVE(gel_open_row), CURVE(gel_acceptance_row), 10.5 / 6, 15.0 / 6 },
    [CHEMISTRY_LFP] = { CURVE(lfp_open_row), CURVE(lfp_acceptance_row), 10.0 / 4, 3.65 },
};

double chemistry_open_circuit(enum chemistry chemistry, double charge)
{
    return between(&curves[chemistry].open, charge);
}

double chemistry_acceptance(enum chemistry chemistry, double charge)
{
    return between(&curves[chemistry].acceptance, charge);
}

double chemistry_empty_cell_v(enum chemistry chemistry)
{
    return curves[chemistry].empty_cell_v;
}

double chemistry_limit_cell_v(enum chemistry chemistry)
{
    return curves[chemistry].limit_cell_v;
}

/* Upper edge of a band [C] and what it allows [1/h]; LFP cell data sheets, from memory. */
static const struct point lfp_charge_band[] = {
    { 5, 0.05 }, { 10, 0.2 }, { 15, 0.3 }, { 45, INFINITY }, { 55, 0.3 },
};

double chemistry_charge_limit(enum chemistry chemistry, double temperature)
{
    if (temperature < facts[chemistry].charge_min_c)
        return 0;
    if (chemistry != CHEMISTRY_LFP)
        return INFINITY;
    for (size_t i = 0; i < sizeof lfp_charge_band / sizeof *lfp_charge_band; i++)
        if (temperature < lfp_charge_band[i].x)
            return lfp_charge_band[i].y;
    return 0;
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

/* Cold cranking amps per ampere-hour of a starting battery: a trade rule of thumb, from memory, good to a
 * third. LFP "cranking" labels are what the management system lets through. */
double bank_ah_from_cranking(double amps, enum chemistry chemistry)
{
    return amps / (chemistry == CHEMISTRY_LFP ? 10.0 : 7.25);
}

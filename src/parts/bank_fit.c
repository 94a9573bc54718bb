/* bank_fit.c - from label and owner's words to the constants of a bank.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/bank.h"

#include <math.h>

#include "boat/boat.h"
#include "parts/wells.h"

/*
 * A label says little: Ah at one rate, perhaps at a second, volts of a block. What the model needs beside
 * that is fitted or taken from the chemistry, in this order, for each step uses what the ones before have
 * set:
 *
 *     make_wells      capacity at 20 h, health, temperature; c and k so that the ratings hold (wells.h)
 *     resistance      as given, else the usual one of the chemistry for the capacity
 *     make_volts      set volts at that temperature, empty volts
 *     make_limits     amperes, floor, ceiling
 *     make_charging   coulombic efficiency, tail, longest absorption
 *     make_curves     emf, energy and acceptance over fill, as straight pieces: a step looks up, never
 *                     searches
 *
 * Sources with the facts in chemistry.c and under "Bank" in models.md. Held by tests/parts/test_bank.c and
 * test_wells.c.
 */

static const double rated_hours = 20; /* [h] the rate that 100 % of charge is counted at */

double bank_cells(const struct bank *bank)
{
    double volts = bank->block_voltage.value;
    double nominal = chemistry_facts(bank->chemistry)->nominal_cell_v;
    double per_12v = bank->chemistry == CHEMISTRY_LFP ? 4 : 6;
    double cells = volts >= 10 ? per_12v * round(volts / 12.4) : round(volts / nominal);

    return fmax(cells, 1) * bank->series.value;
}

/* Peukert exponent of the label: of its two ratings where it has two, else the owner's or the usual one. */
static double bank_exponent(const struct bank *bank)
{
    const double flattest = 1, steepest = 1.6; /* past these a label contradicts itself */
    double exponent = range_or(&bank->peukert, chemistry_facts(bank->chemistry)->peukert);

    if (range_known(&bank->second_capacity) && bank->second_hours > 0 &&
        bank->second_hours != bank->rated_hours)
        exponent = peukert_exponent(bank->block_capacity.value / bank->rated_hours, bank->rated_hours,
                                    bank->second_capacity.value / bank->second_hours, bank->second_hours);
    return isfinite(exponent) ? fmin(fmax(exponent, flattest), steepest) : flattest;
}

/* Capacity at one rate as a share of that at another, along a Peukert line. */
static double rate_ratio(double exponent, double hours, double reference_hours)
{
    return pow(hours / reference_hours, (exponent - 1) / exponent);
}

double bank_capacity_20h(const struct bank *bank)
{
    double exponent = bank->chemistry == CHEMISTRY_LFP ? 1 : bank_exponent(bank);

    return bank_rated_ah(bank) * rate_ratio(exponent, rated_hours, bank->rated_hours);
}

double bank_resistance(const struct bank *bank)
{
    double usual = chemistry_facts(bank->chemistry)->resistance_100ah_12v;
    double cells = bank_cells(bank), cells_12v = bank->chemistry == CHEMISTRY_LFP ? 4 : 6;

    if (range_known(&bank->internal_resistance))
        return bank->internal_resistance.value * bank->series.value / bank->parallel.value;
    return usual * (cells / cells_12v) * (100 / bank_capacity_20h(bank));
}

/* The duration [h] of a rating on the label that the 20 h capacity does not already hold; else 0. */
static double own_hours(double hours)
{
    return hours > 0 && hours != rated_hours ? hours : 0;
}

/*
 * The durations the fit holds at: those of the label's ratings besides 20 h, made up to two by 1 h, or by 5
 * h where that is farther. Two that are nearly the same count as one.
 */
static struct wells bank_wells(const struct bank *bank, double capacity)
{
    const double nearly_one = 1.002; /* under it the rate hardly matters: one well */
    double exponent = bank_exponent(bank), first = own_hours(bank->rated_hours), second = 0;

    if (bank->chemistry == CHEMISTRY_LFP || exponent < nearly_one)
        return (struct wells){ capacity, 1, 1 };
    if (range_known(&bank->second_capacity))
        second = own_hours(bank->second_hours);
    if (first <= 0 || second <= 0 || fabs(log(first / second)) < log(1.5)) {
        first = first > 0 ? first : second > 0 ? second : 5;
        second = first < 2.5 ? 5 : 1;
    }
    return wells_fit(capacity, rated_hours,
                     (struct wells_target){ first, rate_ratio(exponent, first, rated_hours) },
                     (struct wells_target){ second, rate_ratio(exponent, second, rated_hours) });
}

/* Share of the charge a step leaves; self-discharge doubles for each 10 K, a common data-sheet rule. */
static double step_keeps(const struct bank *bank, double temperature, double step_h)
{
    const double month_h = 365.25 * 24 / 12;
    double per_h = chemistry_facts(bank->chemistry)->self_discharge_month / month_h;

    return exp(-per_h * exp2((temperature - 25) / 10) * step_h);
}

/* The wells and all factors of a step: those of "Two wells" in models.md at t =
 * step, with self-discharge within. */
static void make_wells(struct bank_model *model, const struct bank *bank, double temperature, double step_h)
{
    double capacity = bank_capacity_20h(bank) * range_or(&bank->health, 1) *
                      bank_capacity_factor(bank->chemistry, temperature);
    struct wells wells = bank_wells(bank, capacity);
    double c = wells.share, cells = BANK_CURVE_CELLS;

    model->capacity_ah = capacity;
    model->total_ah = wells.total_ah;
    model->empty_ah = wells.total_ah - capacity;
    model->charge_per_ah = 1 / capacity;
    model->share = c;
    model->rate_per_h = wells.rate_per_h;
    model->step_h = step_h;
    model->kept = step_keeps(bank, temperature, step_h);
    model->stays = model->kept * wells_step(&wells, (struct wells_level){ 1, 0 }, 0, step_h).available_ah;
    model->comes = model->kept * wells_step(&wells, (struct wells_level){ 0, 1 }, 0, step_h).available_ah;
    model->fade = model->stays - model->comes;
    model->drain_h = -model->kept * wells_step(&wells, (struct wells_level){ 0, 0 }, 1, step_h).available_ah;
    model->flow_h = model->kept * step_h;
    model->per_bound_share = c < 1 ? 1 / (1 - c) : 0;
    model->available_ah_per_cell = c * wells.total_ah / cells;
    model->available_cells_per_ah = cells / (c * wells.total_ah);
    model->drain_cells_per_a = model->drain_h * model->available_cells_per_ah;
    model->bound_ah_per_cell = (1 - c) * wells.total_ah / cells;
    model->bound_cells_per_ah = c < 1 ? cells / ((1 - c) * wells.total_ah) : 0;
}

/* Regulators follow the temperature between these [C]; common practice. */
static double compensated(const struct chemistry_facts *facts, double volts, double cells, double temperature)
{
    const double coldest = 0, warmest = 50;

    return volts + facts->compensation_cell_v_k * cells * (fmin(fmax(temperature, coldest), warmest) - 25);
}

/* Of the bank, not of a cell. A set voltage given in the profile is meant for 25 C, as labels mean it. */
static void make_volts(struct bank_model *model, const struct bank *bank, double temperature)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);
    double cells = bank_cells(bank);
    double absorption = range_or(&bank->absorption_voltage, facts->absorption_cell_v * cells);
    double floating = range_or(&bank->float_voltage, facts->float_cell_v * cells);

    model->absorption_v = compensated(facts, absorption, cells, temperature);
    model->float_v = floating > 0 ? compensated(facts, floating, cells, temperature) : 0;
    model->acceptance_v =
        fmax(model->absorption_v, 1.01 * chemistry_open_circuit(bank->chemistry, 1) * cells);
    model->limit_v = fmax(model->absorption_v, chemistry_limit_cell_v(bank->chemistry) * cells);
    model->empty_v = chemistry_empty_cell_v(bank->chemistry) * cells;
    model->per_empty_v = 1 / model->empty_v;
    model->open_v = chemistry_open_circuit(bank->chemistry, 0.5) * cells;
    model->per_usual_v = 2 / (model->open_v + model->absorption_v);
}

/* What the profile says; else charging by the chemistry's C-rate, discharging of LFP alone: lead is limited
 * by its volts. The cold limits charging in any case. */
static void make_limits(struct bank_model *model, const struct bank *bank, double temperature)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);
    double rated = bank_capacity_20h(bank);
    double discharge = bank->chemistry == CHEMISTRY_LFP ? facts->continuous_discharge_c * rated : INFINITY;

    model->max_charge_a = fmin(range_or(&bank->max_charge, facts->max_charge_c * rated),
                               chemistry_charge_limit(bank->chemistry, temperature) * rated);
    model->max_discharge_a = range_or(&bank->max_discharge, discharge);
    model->floor = range_or(&bank->floor, 0);
    model->ceiling = fmin(range_or(&bank->ceiling, 1), 1);
    model->ceiling_ah = model->empty_ah + model->ceiling * model->capacity_ah;
}

/* Hours at the set volts after which a charger goes to float whatever flows; common practice. */
static const double lead_absorption_cap = 8, lfp_absorption_cap = 2;

/* Tail and cap end absorption, whichever comes first. */
static void make_charging(struct bank_model *model, const struct bank *bank)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);

    model->charge_efficiency_bulk = facts->coulombic_bulk;
    model->charge_efficiency_full = facts->coulombic_full;
    model->tail_a = facts->tail_c * model->capacity_ah;
    model->absorption_cap_h = bank->chemistry == CHEMISTRY_LFP ? lfp_absorption_cap : lead_absorption_cap;
}

/* Rested volts of the bank at a fill of the wells: the table above charge 0, below it a line to the
 * cut-off. */
static double fill_volts(const struct bank_model *model, const struct bank *bank, double fill)
{
    double empty_fill = model->empty_ah / model->total_ah, cells = bank_cells(bank);
    double lowest = model->empty_v + model->capacity_ah / rated_hours * model->resistance_ohm;
    double at_zero = fmax(lowest, chemistry_open_circuit(bank->chemistry, 0) * cells);

    if (fill == 0)
        return lowest;
    if (fill < empty_fill)
        return lowest + (at_zero - lowest) * fill / empty_fill;
    return fmax(lowest,
                chemistry_open_circuit(bank->chemistry, (fill - empty_fill) / (1 - empty_fill)) * cells);
}

/* Reciprocal, so that a step multiplies: 1/A at absorption volts. */
static double per_acceptance(const struct bank_model *model, const struct bank *bank, double charge)
{
    return 1 / (chemistry_acceptance(bank->chemistry, charge) * model->capacity_ah);
}

/* Straight through y0 at x and y1 at x + 1. */
static struct bank_line line_through(double x, double y0, double y1)
{
    return (struct bank_line){ y0 - (y1 - y0) * x, y1 - y0 };
}

/* Energy is the integral of emf; a cell's constant is such that it is continuous: energy = const + x (base +
 * x slope/2), x in cells from 0. */
static void make_curves(struct bank_model *model, const struct bank *bank)
{
    double energy = 0, volts = fill_volts(model, bank, 0), per = per_acceptance(model, bank, 0);

    for (int i = 0; i < BANK_CURVE_CELLS; i++) {
        double end = (i + 1.0) / BANK_CURVE_CELLS;
        double next_volts = fill_volts(model, bank, end), next_per = per_acceptance(model, bank, end);
        struct bank_line emf = line_through(i, volts, next_volts);

        model->fill[i] = (struct bank_cell){ emf, energy - i * (emf.base + i * emf.slope / 2) };
        model->per_acceptance[i] = line_through(i, per, next_per);
        energy += (volts + next_volts) / 2;
        volts = next_volts;
        per = next_per;
    }
    model->full_v = volts;
}

void bank_model_make(struct bank_model *model, const struct bank *bank, double temperature, double step_h)
{
    const double smallest_ohm = 1e-6; /* keeps the limits finite where a label says 0 */

    make_wells(model, bank, temperature, step_h);
    model->resistance_ohm = fmax(bank_resistance(bank), smallest_ohm);
    make_volts(model, bank, temperature);
    make_limits(model, bank, temperature);
    make_charging(model, bank);
    make_curves(model, bank);
}

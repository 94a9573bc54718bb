/* bank_fit.c - from label and owner's words to the constants of a bank.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/bank.h"

#include <math.h>

#include "boat/boat.h"
#include "parts/wells.h"

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

    if (range_known(&bank->second_capacity) && bank->second_hours > 0 && bank->second_hours != bank->rated_hours)
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

/* The durations the fit holds at: 5 h and 1 h, or the second rating and the farther of the two from it. */
static struct wells bank_wells(const struct bank *bank, double capacity)
{
    double exponent = bank_exponent(bank), first = 5, second = 1;
    const double nearly_one = 1.002; /* under it the rate hardly matters: one well */

    if (bank->chemistry == CHEMISTRY_LFP || exponent < nearly_one)
        return (struct wells){ capacity, 1, 1 };
    if (range_known(&bank->second_capacity) && bank->second_hours > 0 && bank->second_hours != rated_hours)
        first = bank->second_hours;
    if (first < 2.5)
        second = 5;
    return wells_fit(capacity, rated_hours,
                     (struct wells_target){ first, rate_ratio(exponent, first, rated_hours) },
                     (struct wells_target){ second, rate_ratio(exponent, second, rated_hours) });
}

static void make_wells(struct bank_model *model, const struct bank *bank, double temperature, double step_h)
{
    double capacity = bank_capacity_20h(bank) * range_or(&bank->health, 1) *
                      bank_capacity_factor(bank->chemistry, temperature);
    struct wells wells = bank_wells(bank, capacity);
    double k = wells.rate_per_h, c = wells.share, rest = -expm1(-k * step_h), last = BANK_CURVE_POINTS - 1;

    model->capacity_ah = capacity;
    model->total_ah = wells.total_ah;
    model->empty_ah = wells.total_ah - capacity;
    model->charge_per_ah = 1 / capacity;
    model->share = c;
    model->rate_per_h = k;
    model->step_h = step_h;
    model->decay = 1 - rest;
    model->drain_h = (rest + c * (k * step_h - rest)) / k;
    model->bound_room = c < 1 ? model->decay / (1 - c) : 0;
    model->available_per_ah = last / (c * wells.total_ah);
    model->bound_per_ah = c < 1 ? last / ((1 - c) * wells.total_ah) : 0;
}

/* Regulators follow the temperature between these [C]; common practice. */
static double compensated(const struct chemistry_facts *facts, double volts, double cells, double temperature)
{
    const double coldest = 0, warmest = 50;

    return volts + facts->compensation_cell_v_k * cells * (fmin(fmax(temperature, coldest), warmest) - 25);
}

static void make_volts(struct bank_model *model, const struct bank *bank, double temperature)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);
    double cells = bank_cells(bank);
    double absorption = range_or(&bank->absorption_voltage, facts->absorption_cell_v * cells);
    double floating = range_or(&bank->float_voltage, facts->float_cell_v * cells);

    model->absorption_v = compensated(facts, absorption, cells, temperature);
    model->float_v = floating > 0 ? compensated(facts, floating, cells, temperature) : 0;
    model->limit_v = fmax(model->absorption_v, chemistry_limit_cell_v(bank->chemistry) * cells);
    model->empty_v = chemistry_empty_cell_v(bank->chemistry) * cells;
}

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

static void make_charging(struct bank_model *model, const struct bank *bank, double temperature)
{
    const struct chemistry_facts *facts = chemistry_facts(bank->chemistry);
    const double month_h = 365.25 * 24 / 12;

    model->charge_efficiency_bulk = facts->coulombic_bulk;
    model->charge_efficiency_full = facts->coulombic_full;
    model->tail_a = facts->tail_c * model->capacity_ah;
    model->absorption_cap_h = bank->chemistry == CHEMISTRY_LFP ? lfp_absorption_cap : lead_absorption_cap;
    /* doubles for each 10 K, common data-sheet rule */
    model->self_discharge_per_h = facts->self_discharge_month / month_h * exp2((temperature - 25) / 10);
}

/* Volts of the bank over fill: the open-circuit table above charge 0, a straight line to the cut-off below. */
static void make_curves(struct bank_model *model, const struct bank *bank)
{
    double cells = bank_cells(bank), last = BANK_CURVE_POINTS - 1;
    double empty_fill = model->empty_ah / model->total_ah;
    double lowest = model->empty_v + model->capacity_ah / rated_hours * model->resistance_ohm;
    double at_zero = fmax(lowest, chemistry_open_circuit(bank->chemistry, 0) * cells);

    for (int i = 0; i < BANK_CURVE_POINTS; i++) {
        double fill = i / last, charge = (fill - empty_fill) / (1 - empty_fill);
        double below = empty_fill > 0 ? lowest + (at_zero - lowest) * fill / empty_fill : lowest;

        model->emf[i] = charge < 0 || i == 0 ? below : fmax(lowest, chemistry_open_circuit(bank->chemistry, charge) * cells);
        model->acceptance[i] = chemistry_acceptance(bank->chemistry, fill) * model->capacity_ah;
    }
    model->energy[0] = 0;
    for (int i = 1; i < BANK_CURVE_POINTS; i++)
        model->energy[i] = model->energy[i - 1] + (model->emf[i - 1] + model->emf[i]) / 2 / last;
}

void bank_model_make(struct bank_model *model, const struct bank *bank, double temperature, double step_h)
{
    const double smallest_ohm = 1e-6; /* keeps the limits finite where a label says 0 */

    make_wells(model, bank, temperature, step_h);
    model->resistance_ohm = fmax(bank_resistance(bank), smallest_ohm);
    make_volts(model, bank, temperature);
    make_limits(model, bank, temperature);
    make_charging(model, bank, temperature);
    make_curves(model, bank);
}

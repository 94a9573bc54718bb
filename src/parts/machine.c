/* machine.c - alternators, generators, chargers, inverters.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/machine.h"

#include <math.h>

/*
 * Four machines as their makers' figures describe them, each by one law with its constants beside it:
 *
 *     alternator    I = rated hot_factor max(0, 1 - exp(-(n - 1100)/1500))   [A], n rotor speed [rpm]
 *                   fuel = 0.32 l per kWh at the shaft
 *     generator     F = fuel_idle rating + fuel_slope output                 [l/h], in kW
 *     charger       Pin = Pout / efficiency,  S = Pin / power factor         [W], [VA]
 *     inverter      Pin = idle + (1 + s) P + q P2                            [W]
 *
 * Sources: ISO 8854 for the shape of the first, Skarstein & Uhlen 1989 for the second, Schmidt & Sauer 1996
 * for the last; which constants are from memory stands in models.md under each machine. Held by
 * tests/parts/test_machine.c.
 */

double alternator_curve(double rotor_rpm)
{
    const double cut_in_rpm = 1100,
                 rise_rpm = 1500; /* claw-pole shape as ISO 8854 curves have it, from memory */

    return rotor_rpm > cut_in_rpm ? 1 - exp(-(rotor_rpm - cut_in_rpm) / rise_rpm) : 0;
}

/* Further loss above 25 C of the air it breathes: 0.25 % a kelvin, from memory (0.2 to 0.3). */
static double alternator_air_factor(const struct range *ambient)
{
    const double loss_per_k = 0.0025, rated_c = 25;

    if (!range_known(ambient) || ambient->value <= rated_c)
        return 1;
    return fmax(0, 1 - loss_per_k * (ambient->value - rated_c));
}

/* Cold curve, heat, hot air; then the limit somebody has set, which a hot machine may not reach anyhow. */
double alternator_current(const struct alternator *alternator, double engine_rpm)
{
    double cold =
        alternator->rated_current.value * alternator_curve(engine_rpm * alternator->pulley_ratio.value);
    double hot = cold * alternator->hot_factor.value * alternator_air_factor(&alternator->ambient);

    return fmin(hot, range_or(&alternator->current_limit, INFINITY));
}

double alternator_shaft_w(const struct alternator *alternator, double electric_w)
{
    return electric_w / alternator->efficiency.value;
}

double alternator_fuel_lph(const struct alternator *alternator, double electric_w)
{
    const double litres_per_shaft_kwh = 0.32; /* small diesel, 250 to 280 g/kWh at 0.84 kg/l, from memory */

    return litres_per_shaft_kwh * alternator_shaft_w(alternator, electric_w) / 1000;
}

double generator_fuel_lph(const struct generator *generator, double output_w)
{
    return generator->fuel_idle.value * generator->power.value / 1000 +
           generator->fuel_slope.value * output_w / 1000;
}

double charger_input_w(const struct charger *charger, double dc_w)
{
    return dc_w / charger->efficiency.value;
}

double charger_input_va(const struct charger *charger, double dc_w)
{
    return charger_input_w(charger, dc_w) / charger->power_factor.value;
}

/*
 * With p = P/rating and losses idle + slope p + square p^2 (of the rating), idle and the full-load loss fix
 * the sum slope + square; how it splits is taken from the usual set 0.03 and 0.09 (Schmidt & Sauer 1996).
 */
struct inverter_model inverter_model(const struct inverter *inverter)
{
    const double usual_slope = 0.03, usual_square = 0.09;
    double rating = inverter->power.value;
    double full_loss = rating * (1 / inverter->efficiency.value - 1);
    double idle = fmin(inverter->idle_power.value, full_loss);
    double rest = (full_loss - idle) / rating;
    double share = usual_slope / (usual_slope + usual_square);

    return (struct inverter_model){
        .idle_w = idle,
        .slope = rest * share,
        .square_per_w = rest * (1 - share) / rating,
        .power_w = rating,
    };
}

double inverter_input_w(const struct inverter_model *model, double output_w)
{
    return model->idle_w + output_w * (1 + model->slope + model->square_per_w * output_w);
}

/* The positive root of the quadratic, in the form that does not cancel. */
double inverter_output_w(const struct inverter_model *model, double input_w)
{
    double linear = 1 + model->slope, spare = input_w - model->idle_w;

    if (!(spare > 0))
        return 0;
    return 2 * spare / (linear + sqrt(linear * linear + 4 * model->square_per_w * spare));
}

/* machine.h - alternators, generators, chargers, inverters.  Layer: parts.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_MACHINE_H
#define BD_MACHINE_H

#include "boat/source.h"

/* Share of rated current at a rotor speed [rpm], cold: max(0, 1 - exp(-(n - 1100)/1500)). */
double alternator_curve(double rotor_rpm);

/*
 * Hot output [A] at an engine speed [rpm]: rated x hot_factor x the curve at pulley_ratio times that speed,
 * less 0.25 % a kelvin above 25 C where ambient is given, never over current_limit. Valid for a machine that
 * is hot already; the first minutes give more.
 */
double alternator_current(const struct alternator *alternator, double engine_rpm);

/* Shaft power [W] and fuel [l/h] for an electrical output [W]: what charging adds, not what the engine burns
 * to turn itself. */
double alternator_shaft_w(const struct alternator *alternator, double electric_w);
double alternator_fuel_lph(const struct alternator *alternator, double electric_w);

/* Fuel [l/h] of a generator at an output [W]: fuel_idle x rating + fuel_slope x output, both in kW (Skarstein
 * and Uhlen 1989). Beyond the rating the line goes on; whoever asks keeps within it. */
double generator_fuel_lph(const struct generator *generator, double output_w);

/* AC power [W] a charger draws to give dc_w, and apparent power [VA]. */
double charger_input_w(const struct charger *charger, double dc_w);
double charger_input_va(const struct charger *charger, double dc_w);

/*
 * Loss of an inverter [W] at output P [W]: idle + slope P + square P2 (Schmidt and Sauer 1996), fitted to
 * idle draw and full-load efficiency; slope and square split 1 : 3. An idle draw over the loss at full load
 * is taken as that loss.
 */
struct inverter_model {
    double idle_w, slope, square_per_w, power_w;
};
struct inverter_model inverter_model(const struct inverter *inverter);

/* Bank side power [W] for an AC output [W]; idle at 0. */
double inverter_input_w(const struct inverter_model *model, double output_w);

/* Largest AC output [W] for a bank side power; 0 where it does not even cover the idle draw. */
double inverter_output_w(const struct inverter_model *model, double input_w);

#endif

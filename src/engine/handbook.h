/* handbook.h - the sums that sizing worksheets print, one function each.  Layer: engine.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The form is that of the published worksheets (IEEE 1013, SAND87-7023, both from memory): daily energy
 * through efficiencies to amp-hours, through days, depth, temperature and ageing to a bank; through sun hours
 * to an array.
 */
#ifndef BD_HANDBOOK_H
#define BD_HANDBOOK_H

/*
 * Bank [Ah]: daily Wh / volts x days / (usable x capacity factor x ageing). Checked:
 * tests/engine/test_handbook.c, as all functions of this file.
 *
 *   daily_wh         [Wh] at the bus
 *   volts            [V] working volts of the bank
 *   days             [d] of autonomy
 *   usable           [-] 0..1, ceiling less floor
 *   capacity_factor  [-] capacity at its temperature over that at 25 C
 *   ageing           [-] capacity left when it is replaced: 0.80, IEEE 485
 */
double handbook_bank_ah(double daily_wh, double volts, double days, double usable, double capacity_factor,
                        double ageing);

/*
 * Array [W] in standard conditions: daily Wh / (sun hours x performance ratio x charge efficiency).
 *
 *   sun_hours          [kWh/m2 day], hours of 1000 W/m2 that make the day; 0: no array does it, 0 is returned
 *   performance_ratio  [-] of array, dirt, heat and controller: 0.75 flat on deck, common practice
 *   efficiency         [-] coulombic, of the bank
 */
double handbook_array_w(double daily_wh, double sun_hours, double performance_ratio, double efficiency);

/* Hours of charging [h]: Wh / (amps x volts x charge efficiency), at full current throughout; a bank that
 * tapers takes longer, which is what the simulation is for. */
double handbook_charge_h(double wh, double amps, double volts, double efficiency);

/*
 * Current a converter draws from the bank [A]: AC watts / (efficiency x volts). Largest at the lowest volts.
 */
double handbook_dc_current(double ac_w, double efficiency, double volts);

/* Whole units for a need, always rounded up; exact multiples stay, to 1e-9. 0 for a unit without size. */
double handbook_whole(double need, double unit);

#endif

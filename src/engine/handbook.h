/* handbook.h - the sums that sizing worksheets print, one function each.  Layer: engine.  Pure functions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The form is that of the published worksheets (IEEE 1013, SAND87-7023, both from memory): daily energy through
 * efficiencies to amp-hours, through days, depth, temperature and ageing to a bank; through sun hours to an array.
 */
#ifndef BD_HANDBOOK_H
#define BD_HANDBOOK_H

/* Energy a day at the bus [Wh]: count x watts x hours / efficiency of what stands between. */
double handbook_load_wh(double count, double watts, double hours, double efficiency);

/* Bank [Ah]: daily Wh / volts x days / (usable share x capacity factor x ageing), shares 0..1. */
double handbook_bank_ah(double daily_wh, double volts, double days, double usable, double capacity_factor,
                        double ageing);

/* Array [W]: daily Wh / (sun hours x performance ratio x charge efficiency); 0 where there is no sun. */
double handbook_array_w(double daily_wh, double sun_hours, double performance_ratio, double efficiency);

/* Hours of charging [h]: Wh / (amps x volts x charge efficiency). */
double handbook_charge_h(double wh, double amps, double volts, double efficiency);

/* Current a converter draws from the bank [A]: AC watts / (efficiency x volts). */
double handbook_dc_current(double ac_w, double efficiency, double volts);

/* Whole units for a need, always rounded up; exact multiples stay. */
double handbook_whole(double need, double unit);

#endif

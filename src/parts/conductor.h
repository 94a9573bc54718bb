/* conductor.h - copper conductors: sizes, resistance, heating.  Layer: parts.  Pure functions, no allocation.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CONDUCTOR_H
#define BD_CONDUCTOR_H

#include <stddef.h>

#include "boat/cable.h"
#include "parts/cite.h"

/* How the strands are made: IEC 60228 class 2 (stranded) or 5 (flexible), bare or tinned copper. */
enum conductor_build { CLASS2_PLAIN, CLASS2_TINNED, CLASS5_PLAIN, CLASS5_TINNED, CONDUCTOR_BUILDS };

/* One row of the IEC 60228 resistance tables. */
struct conductor_row {
    double mm2;                              /* [mm2] nominal cross-section */
    double ohm_per_km_20c[CONDUCTOR_BUILDS]; /* [ohm/km] largest allowed at 20 C */
    int class2_wires;                        /* [-] fewest strands of a round class 2 conductor */
};

/* A size one can buy. */
struct conductor_size {
    const char *label; /* as printed on the jacket: "35", "2/0" */
    double area_m2;    /* [m2] metal; metric: the nominal figure */
};

/* IEC 60228 rows in rising order: tables 2 and 3, read as cable makers reprint them. Static; *count is set.
 * Checked: tests/parts/test_conductor.c, "iec60228_resistances". */
const struct conductor_row *conductor_rows(size_t *count);

/*
 * The standard sizes of a series in rising order: AREA_METRIC, AREA_AWG (the stocked ones: 3 is left out) or
 * AREA_SAE. Count 0 for AREA_STRANDS.
 */
const struct conductor_size *conductor_sizes(enum area_series series, size_t *count);

/* A size by its label ("2/0", "0" and "00" count as "1/0" and "2/0"), AWG 3 included; NULL: no such size. */
const struct conductor_size *conductor_size_find(enum area_series series, const char *label);

/* The standard AWG size nearest in area, by ratio, for showing a metric size to whoever thinks in AWG.
 * area_m2 [m2]; NULL where none lies within a factor 1.25, or the area is not positive. */
const struct conductor_size *conductor_nearest_awg(double area_m2);

/*
 * American wire gauge after ASTM B258: d = 0.127 mm x 92^((36 - n)/39), A = pi d^2/4; diameter [m], metal
 * area [m2].
 *
 *   number  n: 36 down to 0 for 1/0, -1, -2, -3 for 2/0, 3/0, 4/0; smaller is thicker
 *
 * Checked: test_conductor.c, "awg_formula", "awg_chart".
 */
double awg_diameter(int number);
double awg_area(int number);

/* Circular mils and square metres: 1 cmil is the area of a circle 0.001 inch across,
 * 5.067e-10 m2. Each undoes the other. */
double area_from_cmil(double cmil);
double area_to_cmil(double area_m2);

/* Metal area [m2] of so many strands of one diameter [m]: what a caliper and a count
 * say of a cable without a label. */
double area_from_strands(double strands, double diameter_m);

/*
 * Share [-] by which an SAE conductor is thinner than the AWG of the same number, 0.03 to 0.11.
 * label as printed, "2/0"; negative where either series has no such number. Checked:
 * test_conductor.c, "sae_is_thinner".
 */
double sae_shortfall(const char *label);

/* Resistance of copper at a temperature [C] over that at 20 C [-]: 1 + 0.00393 (T - 20), IEC 60028 (from
 * memory). Linear, so for -40 to 150 C. Checked: test_conductor.c, "temperature_factors". */
double copper_temperature_factor(double temperature);

/*
 * Resistance per metre of one conductor at 20 C [ohm/m]: r/S.
 *
 *   series   AREA_METRIC: a nominal size of IEC 60228 (0.5, 0.75, 1, 1.5, 2.5 ... 240 mm2) has the largest
 *            resistance that the standard allows it; makers meet the resistance, not the area.
 *            Any other area, and every other series, names real metal:
 *            r = 17.241 ohm mm2/km (IEC 60028), times a lay factor for stranding (1.02) and, where tinned,
 *            1.03; see conductor.c for both. So 33.63 mm2 is 2 AWG, and 35 mm2 loses 9 % more than its copper
 *   build    strands and coating; plain and tinned differ in the metric table by row
 *   area_m2  S [m2] > 0
 *
 * Checked: test_conductor.c, "iec60228_resistances", "worked_resistances", "millivolts_per_ampere_metre",
 * "stranded_gauges"; test_same_size.c.
 */
double conductor_ohm_per_m(enum area_series series, enum conductor_build build, double area_m2);

/* 1 where an area [m2] is a nominal size of IEC 60228. */
int conductor_is_nominal(double area_m2);

/* 1 where the table of conductors covers such an area, 0.5 to 240 mm2, give or take a
 * label's rounding; area_m2 [m2]. */
int conductor_area_known(double area_m2);

/* Mass of copper [kg] of one conductor of that area [m2] and length [m]: 8890 kg/m3, IEC 60028 (from
 * memory). Without insulation and strands' lay. */
double copper_mass(double area_m2, double length_m);

/*
 * Steady temperature [C] of a conductor that carries a current.
 *
 *   T = Ta + (Tmax - Ta) (I/Iz)^2
 *
 *   ambient   Ta [C]
 *   rated     Tmax [C] of the insulation
 *   current   I [A]
 *   ampacity  Iz [A], what brings it from Ta to Tmax; 0 or less: the conductor counts as cool
 *
 * The rise goes as the heat, the heat as the square of the current: common practice. Above Iz it
 * extrapolates.
 */
double conductor_temperature(double ambient, double rated, double current, double ampacity);

/*
 * Correction of an ampacity for other surroundings [-]: sqrt((Tmax - Ta)/(Tmax - Tref)), IEC 60364-5-52
 * annex (from memory).
 *
 *   rated      Tmax [C] of the insulation
 *   ambient    Ta [C]; at or above Tmax nothing may flow: 0
 *   reference  Tref [C] the table was made for, below Tmax
 *
 * Checked: test_conductor.c, "ambient", against the printed factors of a table.
 */
double ambient_factor(double rated, double ambient, double reference);

/*
 * k of the adiabatic equation I^2 t = k^2 S^2 for copper [A s^1/2 / mm2], for shorts of up to 5 s, in which
 * no heat leaves:
 *
 *   k = 226 sqrt(ln(1 + (Tf - Ti)/(234.5 + Ti)))
 *
 *   initial, final  Ti, Tf [C], Tf >= Ti
 *
 * Source: IEC 60949 (constant read, formula from memory). Checked: test_conductor.c, "adiabatic".
 */
double adiabatic_k(double initial, double final);

/* Highest temperature [C] insulation rated for so many degrees may reach in a short: 160 up to 70 C and for
 * 105 C vinyl, 250 at 90 C and from 125 C up (IEC 60364-4-43 for the first two; the rest from memory). */
double insulation_fault_temperature(double rated);

/*
 * What a conductor stands in a short circuit: k^2 S^2 [A2 s], and for how long [s] at a current [A], 0
 * without one. area_m2 is S; initial and final as for adiabatic_k. Compared with what a fuse lets through
 * before it opens.
 */
double conductor_i2t(double area_m2, double initial, double final);
double conductor_withstand_s(double i2t, double current);

/* Reactance [ohm/m] of one conductor of a run laid close together, at a frequency [Hz]: 0.08 mohm/m at 50
 * Hz, IEC 60364-5-52 annex G (from memory), in proportion to the frequency. */
double conductor_reactance_per_m(double frequency);

/* Frequency [Hz] that goes with a supply of so many volts where nobody says one: 60 under 150 V, else 50. IEC
 * 60038 pairs 120 V with 60 Hz and 230 V with 50 Hz. */
double usual_frequency(double volts);

/* Smallest protective conductor [m2] for a phase of so much [m2]: equal up to 16 mm2, then 16, above 35
 * half. Checked: test_conductor.c, "protective_conductor". */
double protective_area(double phase_area_m2);

#endif

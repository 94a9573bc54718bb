/* constants.h - physical constants that more than one part needs, each with unit and source.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CONSTANTS_H
#define BD_CONSTANTS_H

#define DEGREE (3.14159265358979323846 / 180.0) /* [rad] in one degree */

/* [W/m2] outside the air at 1 au; ASTM E490-00a. Also in use: 1367 (Duffie & Beckman), 1361 (Kopp & Lean). */
#define SOLAR_CONSTANT 1366.1

/* Standard test conditions of a panel: [W/m2] and [C] of the cell; IEC 60904-3. */
#define STANDARD_IRRADIANCE       1000.0
#define STANDARD_CELL_TEMPERATURE 25.0

#define EARTH_RADIUS_KM 6371.0 /* [km] mean radius, IUGG */

#endif

/* conductor.c - formulas of copper conductors.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/conductor.h"

#include <math.h>

#include "parts/rounding.h"

static const double PI = 3.14159265358979323846;

/* Annealed copper at 20 C: 1/58 ohm mm2/m = 17.241 ohm mm2/km, 0.00393 /K, 8890 kg/m3: IEC 60028 (the first
 * read, the others from memory). */
static const double COPPER_OHM_M2_PER_M = 17.241e-9;
static const double COPPER_PER_KELVIN = 0.00393;
static const double COPPER_DENSITY = 8890;

/* Lay of the strands, ASTM B8, from memory; tin: the mean of tinned over plain in IEC 60228 class 5 up to 16
 * mm2. */
static const double LAY_FACTOR = 1.02;
static const double TIN_FACTOR = 1.03;

const char *known_text(enum known known)
{
    switch (known) {
    case KNOWN_READ:
        return "read";
    case KNOWN_QUOTED:
        return "quoted";
    case KNOWN_MEMORY:
        return "from memory";
    case KNOWN_PRACTICE:
        return "common practice";
    case KNOWN_CALCULATED:
        return "calculated";
    case KNOWN_USER:
        break;
    }
    return "own table";
}

double awg_diameter(int number)
{
    return 0.127e-3 * pow(92, (36 - number) / 39.0);
}

double awg_area(int number)
{
    double d = awg_diameter(number);

    return PI / 4 * d * d;
}

double area_from_cmil(double cmil)
{
    return cmil * PI / 4 * 25.4e-6 * 25.4e-6;
}

double area_to_cmil(double area_m2)
{
    return area_m2 / area_from_cmil(1);
}

double area_from_strands(double strands, double diameter_m)
{
    return strands * PI / 4 * diameter_m * diameter_m;
}

const struct conductor_size *conductor_nearest_awg(double area_m2)
{
    const struct conductor_size *best = NULL;
    double best_ratio = 1.25;
    size_t count;
    const struct conductor_size *sizes = conductor_sizes(AREA_AWG, &count);

    for (size_t i = 0; i < count && area_m2 > 0; i++) {
        double ratio = sizes[i].area_m2 > area_m2 ? sizes[i].area_m2 / area_m2 : area_m2 / sizes[i].area_m2;

        if (ratio <= best_ratio) {
            best = &sizes[i];
            best_ratio = ratio;
        }
    }
    return best;
}

double sae_shortfall(const char *label)
{
    const struct conductor_size *sae = conductor_size_find(AREA_SAE, label);
    const struct conductor_size *awg = conductor_size_find(AREA_AWG, label);

    return sae && awg ? 1 - sae->area_m2 / awg->area_m2 : -1;
}

double copper_temperature_factor(double temperature)
{
    return 1 + COPPER_PER_KELVIN * (temperature - 20);
}

/* The row whose nominal size that area is; NULL: none. Sizes are typed as printed, hence to the last
 * digits. */
static const struct conductor_row *nominal_row(double area_m2)
{
    size_t count;
    const struct conductor_row *r = conductor_rows(&count);

    for (size_t i = 0; i < count; i++)
        if (at_least(area_m2 * 1e6, r[i].mm2) && at_most(area_m2 * 1e6, r[i].mm2))
            return &r[i];
    return NULL;
}

int conductor_is_nominal(double area_m2)
{
    return nominal_row(area_m2) != NULL;
}

double conductor_ohm_per_m(enum area_series series, enum conductor_build build, double area_m2)
{
    const struct conductor_row *row = series == AREA_METRIC ? nominal_row(area_m2) : NULL;
    double tin = build == CLASS2_TINNED || build == CLASS5_TINNED ? TIN_FACTOR : 1;

    return row ? row->ohm_per_km_20c[build] * 1e-3 : COPPER_OHM_M2_PER_M * LAY_FACTOR * tin / area_m2;
}

int conductor_area_known(double area_m2)
{
    size_t count;
    const struct conductor_row *r = conductor_rows(&count);

    /* an AWG or SAE size may lie a hair under its label */
    return area_m2 * 1e6 >= r[0].mm2 * 0.999 && area_m2 * 1e6 <= r[count - 1].mm2 * 1.001;
}

double copper_mass(double area_m2, double length_m)
{
    return area_m2 * length_m * COPPER_DENSITY;
}

double conductor_temperature(double ambient, double rated, double current, double ampacity)
{
    double load = ampacity > 0 ? current / ampacity : 0;

    return ambient + (rated - ambient) * load * load;
}

double ambient_factor(double rated, double ambient, double reference)
{
    return rated > ambient ? sqrt((rated - ambient) / (rated - reference)) : 0;
}

double adiabatic_k(double initial, double final)
{
    return 226 * sqrt(log(1 + (final - initial) / (234.5 + initial)));
}

double insulation_fault_temperature(double rated)
{
    return rated < 90 || (rated >= 105 && rated < 125) ? 160 : 250;
}

double conductor_i2t(double area_m2, double initial, double final)
{
    double ks = adiabatic_k(initial, final) * area_m2 * 1e6;

    return ks * ks;
}

double conductor_withstand_s(double i2t, double current)
{
    return current > 0 ? i2t / (current * current) : 0;
}

double conductor_reactance_per_m(double frequency)
{
    return 0.08e-3 * frequency / 50;
}

double usual_frequency(double volts)
{
    return volts < 150 ? 60 : 50;
}

double protective_area(double phase_area_m2)
{
    if (phase_area_m2 <= 16e-6)
        return phase_area_m2;
    return phase_area_m2 <= 35e-6 ? 16e-6 : phase_area_m2 / 2;
}

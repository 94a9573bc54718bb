/* handbook.c - worksheet sums.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/handbook.h"

#include <math.h>

double handbook_bank_ah(double daily_wh, double volts, double days, double usable, double capacity_factor,
                        double ageing)
{
    return daily_wh / volts * days / (usable * capacity_factor * ageing);
}

double handbook_array_w(double daily_wh, double sun_hours, double performance_ratio, double efficiency)
{
    return sun_hours > 0 ? daily_wh / (sun_hours * performance_ratio * efficiency) : 0;
}

double handbook_charge_h(double wh, double amps, double volts, double efficiency)
{
    return wh / (amps * volts * efficiency);
}

double handbook_dc_current(double ac_w, double efficiency, double volts)
{
    return ac_w / (efficiency * volts);
}

double handbook_whole(double need, double unit)
{
    return unit > 0 ? ceil(need / unit - 1e-9) : 0;
}

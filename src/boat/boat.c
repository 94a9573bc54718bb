/* boat.c - find and count; nothing else.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "boat/boat.h"

const struct bank *boat_house_bank(const struct boat *boat)
{
    for (size_t i = 0; i < boat->bank_count; i++)
        if (boat->banks[i].role == BANK_HOUSE)
            return &boat->banks[i];
    return NULL;
}

size_t boat_day_index(const struct boat *boat, const struct day_kind *day)
{
    return (size_t)(day - boat->days);
}

const struct usage *load_usage(const struct load *load, size_t day_index)
{
    if (load->by_day && load->by_day[day_index].kind != USAGE_NONE)
        return &load->by_day[day_index];
    return &load->usage;
}

double load_duty(const struct load *load, size_t day_index)
{
    if (load->duty_by_day && range_known(&load->duty_by_day[day_index]))
        return load->duty_by_day[day_index].value;
    return load->duty.value;
}

double bank_nominal_voltage(const struct bank *bank)
{
    return bank->block_voltage.value * bank->series.value;
}

double bank_blocks(const struct bank *bank)
{
    return bank->series.value * bank->parallel.value;
}

double bank_rated_ah(const struct bank *bank)
{
    return bank->block_capacity.value * bank->parallel.value;
}

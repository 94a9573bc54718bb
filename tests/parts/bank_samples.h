/* bank_samples.h - invented banks for the tests of the bank.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_BANK_SAMPLES_H
#define BD_BANK_SAMPLES_H

#include <stdint.h>

#include "parts/bank.h"

static inline struct range given(double value)
{
    return (struct range){ value, value, value, ORIGIN_GIVEN, 0, NULL };
}

/* One 12 V block with nothing known but its chemistry and 20 h capacity. */
static inline struct bank sample_bank(enum chemistry chemistry, double ah)
{
    return (struct bank){
        .name = "sample",
        .chemistry = chemistry,
        .block_capacity = given(ah),
        .rated_hours = 20,
        .block_voltage = given(12),
        .series = given(1),
        .parallel = given(1),
        .health = given(1),
    };
}

static inline struct bank_model sample_model(enum chemistry chemistry, double ah, double step_h)
{
    struct bank bank = sample_bank(chemistry, ah);
    struct bank_model model;

    bank_model_make(&model, &bank, 25, step_h);
    return model;
}

/* 0 <= x < 1, the same row of numbers everywhere. */
static inline double next_random(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

#endif

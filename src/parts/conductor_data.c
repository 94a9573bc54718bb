/* conductor_data.c - the tables of sizes and resistances.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/conductor.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* IEC 60228 tables 2 and 3, read as cable makers reprint them: largest resistance at 20 C. The drop of class
 * 5 under class 2 at 50 mm2 is no misprint. */
static const struct conductor_row rows[] = {
    /* mm2     class 2: plain, tinned   class 5: plain, tinned   wires */
    { 0.5, { 36.0, 36.7, 39.0, 40.1 }, 7 },         { 0.75, { 24.5, 24.8, 26.0, 26.7 }, 7 },
    { 1.0, { 18.1, 18.2, 19.5, 20.0 }, 7 },         { 1.5, { 12.1, 12.2, 13.3, 13.7 }, 7 },
    { 2.5, { 7.41, 7.56, 7.98, 8.21 }, 7 },         { 4.0, { 4.61, 4.70, 4.95, 5.09 }, 7 },
    { 6.0, { 3.08, 3.11, 3.30, 3.39 }, 7 },         { 10.0, { 1.83, 1.84, 1.91, 1.95 }, 7 },
    { 16.0, { 1.15, 1.16, 1.21, 1.24 }, 7 },        { 25.0, { 0.727, 0.734, 0.780, 0.795 }, 7 },
    { 35.0, { 0.524, 0.529, 0.554, 0.565 }, 7 },    { 50.0, { 0.387, 0.391, 0.386, 0.393 }, 19 },
    { 70.0, { 0.268, 0.270, 0.272, 0.277 }, 19 },   { 95.0, { 0.193, 0.195, 0.206, 0.210 }, 19 },
    { 120.0, { 0.153, 0.154, 0.161, 0.164 }, 37 },  { 150.0, { 0.124, 0.126, 0.129, 0.132 }, 37 },
    { 185.0, { 0.0991, 0.100, 0.106, 0.108 }, 37 }, { 240.0, { 0.0754, 0.0762, 0.0801, 0.0817 }, 37 },
};

static const struct conductor_size metric[] = {
    { "0.75", 0.75e-6 }, { "1", 1e-6 },     { "1.5", 1.5e-6 }, { "2.5", 2.5e-6 }, { "4", 4e-6 },
    { "6", 6e-6 },       { "10", 10e-6 },   { "16", 16e-6 },   { "25", 25e-6 },   { "35", 35e-6 },
    { "50", 50e-6 },     { "70", 70e-6 },   { "95", 95e-6 },   { "120", 120e-6 }, { "150", 150e-6 },
    { "185", 185e-6 },   { "240", 240e-6 },
};

/* Areas are pi/4 (0.127 mm x 92^((36 - n)/39))^2, ASTM B258; tests/parts/test_conductor.c holds them to
 * awg_area. */
static const struct conductor_size awg[] = {
    { "18", 8.230468e-7 },  { "16", 1.308696e-6 },  { "14", 2.080908e-6 },  { "12", 3.308773e-6 },
    { "10", 5.261155e-6 },  { "8", 8.365564e-6 },   { "6", 1.330177e-5 },   { "4", 2.115064e-5 },
    { "2", 3.363083e-5 },   { "1", 4.240770e-5 },   { "1/0", 5.347512e-5 }, { "2/0", 6.743088e-5 },
    { "3/0", 8.502877e-5 }, { "4/0", 1.072193e-4 },
};
static const struct conductor_size awg_3 = { "3", 2.667046e-5 };

/* SAE minimum areas in circular mils, read in a marine wire catalogue's reprint; 1 cmil = 5.067075e-10 m2. */
#define CMIL 5.067074790974977e-10
static const struct conductor_size sae[] = {
    { "18", 1537 * CMIL },    { "16", 2336 * CMIL },    { "14", 3702 * CMIL },   { "12", 5833 * CMIL },
    { "10", 9343 * CMIL },    { "8", 14810 * CMIL },    { "6", 24538 * CMIL },   { "4", 37360 * CMIL },
    { "2", 62450 * CMIL },    { "1", 77790 * CMIL },    { "1/0", 98980 * CMIL }, { "2/0", 125100 * CMIL },
    { "3/0", 158600 * CMIL }, { "4/0", 205500 * CMIL },
};

const struct conductor_row *conductor_rows(size_t *count)
{
    *count = COUNT(rows);
    return rows;
}

const struct conductor_size *conductor_sizes(enum area_series series, size_t *count)
{
    switch (series) {
    case AREA_METRIC:
        *count = COUNT(metric);
        return metric;
    case AREA_AWG:
        *count = COUNT(awg);
        return awg;
    case AREA_SAE:
        *count = COUNT(sae);
        return sae;
    case AREA_STRANDS:
        break;
    }
    *count = 0;
    return NULL;
}

static int same_label(const char *a, const char *b)
{
    while (*a && *a == *b) {
        a++;
        b++;
    }
    return *a == *b;
}

/* Other spellings of the sizes above 1. */
static const char *plain_label(const char *label)
{
    static const char *const spellings[][2] = {
        { "0", "1/0" },
        { "00", "2/0" },
        { "000", "3/0" },
        { "0000", "4/0" },
    };

    for (size_t i = 0; i < COUNT(spellings); i++)
        if (same_label(label, spellings[i][0]))
            return spellings[i][1];
    return label;
}

const struct conductor_size *conductor_size_find(enum area_series series, const char *label)
{
    size_t count;
    const struct conductor_size *sizes = conductor_sizes(series, &count);

    label = plain_label(label);
    for (size_t i = 0; i < count; i++)
        if (same_label(sizes[i].label, label))
            return &sizes[i];
    if (series == AREA_AWG && same_label(awg_3.label, label))
        return &awg_3;
    return NULL;
}

/* wiring.c - reading a rule set of cables and fuses.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts/wiring.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "parts/fuse.h"
#include "parts/rounding.h"

/*
 * How a rule set is read, whichever it is: the sets themselves are tables in src/rules.
 *
 *     ampacity    table at size and insulation x factor in engine spaces x factor of the bundle; a column
 *                 counts for every insulation at or above its rating; between sizes straight on logarithms
 *     drop        K I L / S; -1 where the set has no formula
 *     limits      critical circuits are told by the words of their names
 *     fuses       not above, next standard rating, or within a multiple of ampacity; by volts, below and
 *                 from 50 V
 *     distance    the longest way that any row allows a cable of that kind
 *
 * 0 and -1 say that the set has nothing there; who calls says so in the row. "Cables and volts" in
 * models.md; held by tests/rules/test_ruleset.c.
 */

/* Sizes named in two ways (an AWG area in a table's rounding) count as equal within this share. */
static const double SAME_SIZE = 1e-4;

const double wiring_high_from_v = 50;

int wiring_column(const struct wiring_rules *rules, double insulation_c)
{
    int column = -1;

    for (size_t i = 0; i < rules->rating_count && rules->ratings_c[i] <= insulation_c; i++)
        column = (int)i;
    return column;
}

double wiring_bundle_factor(const struct wiring_rules *rules, double conductors)
{
    for (size_t i = 0; i < rules->bundle_count; i++) {
        const struct bundle_row *row = &rules->bundles[i];

        if (conductors >= row->from && (row->to <= 0 || conductors <= row->to))
            return row->factor;
    }
    return 1;
}

/* Current of the table at an area [A]; 0 outside it, and between two rows of which
 * one has no current in the column. */
static double table_current(const struct wiring_rules *rules, double area_m2, size_t column,
                            int *interpolated)
{
    const struct ampacity_row *rows = rules->ampacity;
    size_t i = 0;
    double share;

    while (i < rules->ampacity_count && rows[i].area_m2 < area_m2 * (1 - SAME_SIZE))
        i++;
    if (i == rules->ampacity_count)
        return 0;
    if (rows[i].area_m2 <= area_m2 * (1 + SAME_SIZE))
        return rows[i].amps[column];
    if (i == 0 || rows[i].amps[column] <= 0 || rows[i - 1].amps[column] <= 0)
        return 0;
    *interpolated = 1;
    share = log(area_m2 / rows[i - 1].area_m2) / log(rows[i].area_m2 / rows[i - 1].area_m2);
    return rows[i - 1].amps[column] * pow(rows[i].amps[column] / rows[i - 1].amps[column], share);
}

struct ampacity wiring_ampacity(const struct wiring_rules *rules, double area_m2,
                                const struct wiring_place *place)
{
    struct ampacity a = { .engine_factor = 1, .bundle_factor = 1 };
    int column = wiring_column(rules, place->insulation_c);

    if (column < 0)
        return a;
    a.column_c = rules->ratings_c[column];
    a.base_a = table_current(rules, area_m2, (size_t)column, &a.interpolated);
    if (place->engine)
        a.engine_factor = rules->engine_factor[column];
    if (place->volts >= rules->bundle_from_v)
        a.bundle_factor = wiring_bundle_factor(rules, place->bundle);
    a.amps = a.base_a * a.engine_factor * a.bundle_factor;
    return a;
}

double wiring_drop(const struct wiring_rules *rules, double current, double length_m, double area_m2)
{
    if (rules->drop_constant <= 0)
        return -1;
    return rules->drop_constant * current * length_m / (area_m2 * 1e6);
}

double wiring_drop_area(const struct wiring_rules *rules, double current, double length_m, double drop_v)
{
    if (rules->drop_constant <= 0)
        return -1;
    return rules->drop_constant * current * length_m / drop_v * 1e-6;
}

double wiring_drop_limit(const struct wiring_rules *rules, int critical)
{
    return critical && rules->drop_critical > 0 ? rules->drop_critical : rules->drop_normal;
}

/* 1 where word stands at text, a run of anything but letters and digits counting as one blank; whole words
 * only. */
static int stands_at(const char *text, const char *word, size_t length)
{
    size_t i = 0;

    while (i < length) {
        if (word[i] == ' ') {
            if (!*text || isalnum((unsigned char)*text))
                return 0;
            while (*text && !isalnum((unsigned char)*text))
                text++;
        } else if (tolower((unsigned char)*text) == tolower((unsigned char)word[i])) {
            text++;
        } else {
            return 0;
        }
        i++;
    }
    if (*text == 's')
        text++; /* a plural is the same circuit */
    return !isalnum((unsigned char)*text);
}

/* 1 where the word stands anywhere in the name, at the beginning of a word of it. */
static int holds(const char *name, const char *word, size_t length)
{
    for (const char *at = name; *at; at++)
        if ((at == name || !isalnum((unsigned char)at[-1])) && stands_at(at, word, length))
            return 1;
    return 0;
}

const char *wiring_critical_word(const struct wiring_rules *rules, const char *name, size_t *length)
{
    const char *word = rules->critical_words;

    while (word && *word) {
        size_t n = strcspn(word, "|");

        if (holds(name, word, n)) {
            *length = n;
            return word;
        }
        word += n + (word[n] == '|');
    }
    return NULL;
}

double wiring_smallest(const struct wiring_rules *rules, int sheathed)
{
    return sheathed ? rules->smallest_sheathed_m2 : rules->smallest_single_m2;
}

/* The next standard rating is allowed only where no standard rating equals the ampacity:
 * "next" means that there is none. */
double wiring_fuse_limit(const struct wiring_rules *rules, double ampacity_a, double volts)
{
    enum fuse_rule rule = volts < wiring_high_from_v ? rules->fuse_low : rules->fuse_high;
    double down = fuse_rating_down(ampacity_a, volts), next;

    if (ampacity_a <= 0)
        return 0;
    if (rule == FUSE_WITHIN_MULTIPLE)
        return fuse_rating_down(ampacity_a * rules->fuse_multiple, volts);
    if (rule == FUSE_NOT_ABOVE || at_least(down, ampacity_a))
        return down;
    next = fuse_rating_up(ampacity_a, volts);
    return next > 0 && at_most(next, ampacity_a * rules->fuse_multiple) ? next : down;
}

int wiring_fuse_allowed(const struct wiring_rules *rules, double rating, double ampacity_a, double volts)
{
    enum fuse_rule rule = volts < wiring_high_from_v ? rules->fuse_low : rules->fuse_high;

    if (ampacity_a <= 0)
        return 0;
    if (at_most(rating, ampacity_a))
        return 1;
    if (rule == FUSE_NOT_ABOVE || !at_most(rating, ampacity_a * rules->fuse_multiple))
        return 0;
    return rule == FUSE_WITHIN_MULTIPLE || rating <= fuse_rating_up(ampacity_a, volts);
}

double wiring_fuse_distance(const struct wiring_rules *rules, int sheathed, int at_battery)
{
    double limit = -1;

    for (size_t i = 0; i < WIRING_DISTANCES; i++) {
        const struct fuse_distance *d = &rules->distances[i];

        if (d->limit_m > limit && (sheathed || !d->needs_sheath) && (at_battery || !d->at_battery) &&
            d->limit_m > 0)
            limit = d->limit_m;
    }
    return limit;
}

double wiring_interrupt_a(const struct wiring_rules *rules, double cranking_a, int main_device)
{
    for (size_t i = 0; i < rules->interrupt_count; i++) {
        const struct interrupt_row *row = &rules->interrupts[i];

        if (row->cranking_to_a <= 0 || cranking_a <= row->cranking_to_a)
            return main_device ? row->main_a : row->branch_a;
    }
    return 0;
}

const struct conductor_size *wiring_sizes(const struct wiring_rules *rules, size_t *count)
{
    size_t all, first = 0;
    const struct conductor_size *sizes = conductor_sizes(rules->series, &all);

    *count = 0;
    if (rules->ampacity_count == 0)
        return sizes;
    while (first < all && sizes[first].area_m2 < rules->ampacity[0].area_m2 * (1 - SAME_SIZE))
        first++;
    while (first + *count < all && sizes[first + *count].area_m2 <=
                                       rules->ampacity[rules->ampacity_count - 1].area_m2 * (1 + SAME_SIZE))
        ++*count;
    return sizes + first;
}

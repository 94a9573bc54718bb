/* together.c - what may run together on one AC source: as people do it, and the best there is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/arena.h"
#include "engine/expect.h"
#include "parts/machine.h"

/*
 * Which appliances fit under a source, in volt-amperes, for that is what a breaker counts.
 *
 * The best set is found exactly. With w[c] the most that any set of the items so far is worth in c VA of
 * room,
 *
 *   w[c] = max(w[c], w[c - va] + worth)      for c from the capacity down to va
 *
 * so that each item is taken once at most; a bit per item and capacity tells afterwards which were taken.
 * Worth is VA weighted by rank so that no VA of a lower rank can outweigh one of a higher.
 */

double together_greedy(const struct together_item *items, size_t count, double limit_va, int *chosen)
{
    double sum = 0;

    memset(chosen, 0, count * sizeof *chosen);
    for (int rank = 0; rank < LOAD_PRIORITIES; rank++)
        for (size_t i = 0; i < count; i++)
            if (items[i].rank == rank && sum + items[i].va <= limit_va + 1e-9) {
                chosen[i] = 1;
                sum += items[i].va;
            }
    return sum;
}

/* Worth of so many VA of an item: VA of a higher rank outweigh any of a lower one, for no
 * boat has a million VA of loads. */
static uint64_t worth(const struct together_item *item, size_t va)
{
    static const uint64_t weights[LOAD_PRIORITIES] = { 1000000000000u, 1000000u, 1u };

    return va * weights[item->rank];
}

/* Room for the best worth at each whole VA of capacity, and which items made it. */
struct knapsack {
    size_t capacity;
    uint64_t *best;       /* per capacity */
    unsigned char *taken; /* per item and capacity */
};

/* Rooms downward, so that an item does not meet itself; items round up to whole VA,
 * so the set never exceeds the source. */
static void knapsack_fill(struct knapsack *k, const struct together_item *items, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const size_t va = (size_t)ceil(items[i].va - 1e-9);
        const uint64_t more = worth(&items[i], va);

        for (size_t room = k->capacity; va <= k->capacity && room + 1 > va; room--) {
            if (k->best[room - va] + more > k->best[room]) {
                k->best[room] = k->best[room - va] + more;
                k->taken[i * (k->capacity + 1) + room] = 1;
            }
            if (room == 0)
                break;
        }
    }
}

double together_best(struct arena *arena, const struct together_item *items, size_t count, double limit_va,
                     int *chosen)
{
    struct knapsack k = { .capacity = limit_va > 0 ? (size_t)floor(limit_va + 1e-9) : 0 };
    double sum = 0;
    size_t room = k.capacity;

    memset(chosen, 0, count * sizeof *chosen);
    k.best = arena_array(arena, k.capacity + 1, sizeof *k.best);
    k.taken = arena_array(arena, (k.capacity + 1) * (count + 1), 1);
    if (!k.best || !k.taken)
        return -1;
    knapsack_fill(&k, items, count);
    for (size_t i = count; i-- > 0;)
        if (k.taken[i * (k.capacity + 1) + room]) {
            chosen[i] = 1;
            sum += items[i].va;
            room -= (size_t)ceil(items[i].va - 1e-9);
        }
    return sum;
}

/* --- the card --- */

/* What may hang on a source: AC loads, mains loads and chargers where it feeds them. */
struct menu {
    struct together_item *items;
    size_t count;
    double va;
};

/* A thing that takes nothing is no question. */
static void menu_add(struct menu *m, const char *name, double va, int rank)
{
    if (!(va > 0))
        return;
    m->items[m->count++] = (struct together_item){ name, va, rank };
    m->va += va;
}

/*
 * What may be switched on where that source feeds: mains 1 where mains loads run on it, feed
 * the bit of chargers it serves (0: none). A charger counts with its full current at
 * absorption volts. 0 without memory.
 */
static int menu_make(struct menu *m, struct arena *arena, const struct boat *boat, int mains, unsigned feed)
{
    *m = (struct menu){ .items =
                            arena_array(arena, boat->load_count + boat->charger_count, sizeof *m->items) };
    if (!m->items)
        return 0;
    for (size_t i = 0; i < boat->load_count; i++) {
        const struct load *load = &boat->loads[i];

        if (load->supply == SUPPLY_AC || (mains && load->supply == SUPPLY_MAINS))
            menu_add(m, load->name, load->power.value * load->count.value / range_or(&load->power_factor, 1),
                     (int)load->priority);
    }
    for (size_t i = 0; i < boat->charger_count; i++) {
        const struct charger *charger = &boat->chargers[i];
        const double watts =
            charger->bank ? charger->current.value * charger->bank->absorption_voltage.value : 0;

        if (charger->fed_by & feed)
            menu_add(m, charger->name, charger_input_va(charger, watts), LOAD_NORMAL);
    }
    return 1;
}

/* Those chosen (wanted 1) or left (0), with commas between; "nothing" where
 * there is none. NULL without memory. */
static const char *names_of(struct arena *arena, const struct menu *m, const int *chosen, int wanted)
{
    const char *text = "";

    for (size_t i = 0; text && i < m->count; i++)
        if (chosen[i] == wanted)
            text = arena_print(arena, "%s%s%s", text, *text ? ", " : "", m->items[i].name);
    return text && !*text ? "nothing" : text;
}

/* One line of the card: both choices, and what the better one leaves out. 0 without memory. */
static int row_make(struct together *row, struct arena *arena, const struct menu *m, const char *source,
                    double limit_va, double volts)
{
    int *chosen = arena_array(arena, m->count, sizeof *chosen);

    if (!chosen || !source)
        return 0;
    *row = (struct together){
        .source = source, .limit_a = limit_va / volts, .limit_va = limit_va, .wanted_va = m->va
    };
    row->greedy_va = together_greedy(m->items, m->count, limit_va, chosen);
    row->greedy = names_of(arena, m, chosen, 1);
    row->best_va = together_best(arena, m->items, m->count, limit_va, chosen);
    row->best = names_of(arena, m, chosen, 1);
    row->left_out = names_of(arena, m, chosen, 0);
    row->all = m->va <= limit_va;
    return row->best_va >= 0 && row->greedy && row->best && row->left_out;
}

/* One line for each usual rating of a pedestal; a larger one than the inlet
 * gives no more than the inlet carries. */
static int shore_rows(struct together *rows, size_t *n, struct arena *arena, const struct boat *boat)
{
    static const double amps[] = { 6, 10, 16, 32 };
    const double volts = range_or(&boat->shore.voltage, boat->ac_voltage.value),
                 inlet = boat->shore.current.value;
    struct menu menu;

    if (!boat->shore.fitted)
        return 1;
    if (!menu_make(&menu, arena, boat, 1, FED_BY_SHORE))
        return 0;
    for (size_t i = 0; i < sizeof amps / sizeof amps[0]; i++) {
        const char *source =
            amps[i] <= inlet
                ? arena_print(arena, "shore %.0f A", amps[i])
                : arena_print(arena, "shore %.0f A, held to %.0f A by the inlet", amps[i], inlet);

        if (!row_make(&rows[(*n)++], arena, &menu, source, fmin(amps[i], inlet) * volts, volts))
            return 0;
    }
    return 1;
}

int together_make(struct handover *out, struct arena *arena, const struct boat *boat)
{
    struct together *rows =
        arena_array(arena, 4 + boat->generator_count + boat->inverter_count, sizeof *rows);
    const double volts = boat->ac_voltage.value;
    struct menu menu;
    size_t n = 0;

    if (!rows || !shore_rows(rows, &n, arena, boat))
        return 0;
    for (size_t i = 0; i < boat->generator_count; i++)
        if (!menu_make(&menu, arena, boat, 1, FED_BY_GENERATOR) ||
            !row_make(&rows[n++], arena, &menu, arena_print(arena, "generator %s", boat->generators[i].name),
                      boat->generators[i].power.value, volts))
            return 0;
    for (size_t i = 0; i < boat->inverter_count; i++)
        if (!menu_make(&menu, arena, boat, 0, 0) ||
            !row_make(&rows[n++], arena, &menu, arena_print(arena, "inverter %s", boat->inverters[i].name),
                      boat->inverters[i].power.value, volts))
            return 0;
    out->together = rows;
    out->together_count = n;
    return 1;
}

/* compare_figures.c - the table of what is compared, and the differences.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/compare_parts.h"

/*
 * One table of figures, each by its offset in the struct of its origin. A figure is called better or worse
 * only where its direction is clear to anybody: less fuel is better, a larger bank is neither. What no side
 * has is left out, and what only some have is not known for the others.
 */

enum origin_of { OF_WEEK, OF_SIZE, OF_FITTED, OF_WIRED };

/* One figure: where it stands on a side. Every one of them is a double. */
struct figure_row {
    const char *part, *name, *label, *unit;
    int decimals, better;
    double scale;
    enum origin_of of;
    size_t offset;
    int none_below_zero; /* 1: a negative number says that there is none */
};

#define WEEK(field)   1, OF_WEEK, offsetof(struct week_summary, field), 0
#define SHARE(field)  100, OF_WEEK, offsetof(struct week_summary, field), 0
#define SIZE(field)   1, OF_SIZE, offsetof(struct size, field), 1
#define WIRED(field)  1, OF_WIRED, offsetof(struct compare_wired, field), 1
#define FITTED(field) 1, OF_FITTED, offsetof(struct compare_fitted, field), 1

static const char charge[] = "Charge over the plan", energy[] = "Energy over the plan",
                  running[] = "Running and peaks", fitted[] = "Installed",
                  needed[] = "What the plan asks for", wiring[] = "Wiring", cost[] = "Mass and price",
                  money[] = "money";

/* Which figures are compared, and for each whether more or less is better: 0 where
 * that depends on whom one asks. */
static const struct figure_row figure_rows[] = {
    { charge, "min_charge_percent", "Lowest charge", "%", 1, 1, SHARE(min_charge) },
    { charge, "end_charge_percent", "Charge at the end", "%", 1, 1, SHARE(end_charge) },
    { charge, "below_floor_h", "Time below the floor", "h", 1, -1, WEEK(below_floor_h) },
    { charge, "autonomy_h", "From full to the floor without any source", "h", 1, 1, WEEK(autonomy_h) },
    { charge, "min_bank_v", "Lowest bank voltage", "V", 2, 0, WEEK(min_bank_v) },
    { energy, "load_wh", "Loads", "Wh", 0, 0, WEEK(load_wh) },
    { energy, "unserved_wh", "Wanted but not delivered", "Wh", 0, -1, WEEK(unserved_wh) },
    { energy, "mains_wh", "AC loads carried by shore or generator", "Wh", 0, 0, WEEK(mains_wh) },
    { energy, "mains_missed_wh", "AC loads that found neither", "Wh", 0, -1, WEEK(mains_missed_wh) },
    { energy, "solar_wh", "Solar", "Wh", 0, 1, WEEK(solar_wh) },
    { energy, "solar_spilled_wh", "Solar that found no home", "Wh", 0, -1, WEEK(solar_spilled_wh) },
    { energy, "alternator_wh", "Alternators", "Wh", 0, 0, WEEK(alternator_wh) },
    { energy, "charger_wh", "Charger", "Wh", 0, 0, WEEK(charger_wh) },
    { energy, "inverter_loss_wh", "Lost in the inverter", "Wh", 0, -1, WEEK(inverter_loss_wh) },
    { energy, "battery_loss_wh", "Lost in the bank", "Wh", 0, -1, WEEK(battery_loss_wh) },
    { running, "generator_h", "Generator", "h", 1, -1, WEEK(generator_h) },
    { running, "generator_starts", "Generator starts", "", 0, -1, WEEK(generator_starts) },
    { running, "generator_fuel_l", "Generator fuel", "l", 1, -1, WEEK(generator_fuel_l) },
    { running, "engine_h", "Engine", "h", 1, -1, WEEK(engine_h) },
    { running, "alternator_fuel_l", "Fuel the alternators cost", "l", 1, -1, WEEK(alternator_fuel_l) },
    { running, "shore_h", "Shore", "h", 1, 0, WEEK(shore_h) },
    { running, "largest_load_w", "Largest load at the DC bus", "W", 0, 0, WEEK(largest_load_w) },
    { running, "largest_discharge_a", "Largest discharging current", "A", 0, 0, WEEK(largest_discharge_a) },
    { running, "largest_charge_a", "Largest charging current", "A", 0, 0, WEEK(largest_charge_a) },
    { fitted, "bank_ah", "House bank", "Ah", 0, 0, FITTED(bank_ah) },
    { fitted, "bank_blocks", "Blocks", "", 0, 0, FITTED(blocks) },
    { fitted, "bank_usable_wh", "Usable between ceiling and floor", "Wh", 0, 1, FITTED(bank_usable_wh) },
    { fitted, "solar_w", "Panels", "W", 0, 0, FITTED(solar_w) },
    { fitted, "alternator_a", "Alternators", "A", 0, 0, FITTED(alternator_a) },
    { fitted, "charger_a", "Chargers", "A", 0, 0, FITTED(charger_a) },
    { fitted, "inverter_w", "Inverter", "W", 0, 0, FITTED(inverter_w) },
    { fitted, "inverter_surge_w", "Inverter surge", "W", 0, 0, FITTED(inverter_surge_w) },
    { fitted, "generator_w", "Generator", "W", 0, 0, FITTED(generator_w) },
    { needed, "bank_needed_ah", "Bank", "Ah", 0, 0, SIZE(bank.needed_ah) },
    { needed, "solar_needed_w", "Panels", "W", 0, 0, SIZE(solar.needed_w) },
    { needed, "charger_needed_a", "Charger", "A", 0, 0, SIZE(charger.needed_a) },
    { needed, "inverter_needed_w", "Inverter, with reserve", "W", 0, 0, SIZE(inverter.continuous_w) },
    { needed, "inverter_needed_surge_w", "Inverter surge", "W", 0, 0, SIZE(inverter.surge_w) },
    { needed, "inverter_current_a", "Current of that inverter at cut-out", "A", 0, 0,
      SIZE(inverter.dc_current_a) },
    { needed, "generator_needed_w", "Generator", "W", 0, 0, SIZE(generator.needed_w) },
    { wiring, "inverter_full_v", "Inverter terminals at full load, lowest", "V", 2, 1, WIRED(full_v) },
    { wiring, "inverter_surge_v", "Inverter terminals at surge, lowest", "V", 2, 1, WIRED(surge_v) },
    { wiring, "cables_failing", "Cables that do not pass", "", 0, -1, WIRED(cables_failing) },
    { wiring, "fuses_failing", "Fuses that do not pass", "", 0, -1, WIRED(fuses_failing) },
    { wiring, "copper_kg", "Copper", "kg", 1, -1, WIRED(copper_kg) },
    { cost, "bank_mass_kg", "House bank", "kg", 1, -1, FITTED(bank_kg) },
    { cost, "solar_mass_kg", "Panels", "kg", 1, -1, FITTED(solar_kg) },
    { cost, "inverter_mass_kg", "Inverter", "kg", 1, -1, FITTED(inverter_kg) },
    { cost, "mass_kg", "Bank, panels and inverter", "kg", 1, -1, FITTED(mass_kg) },
    { cost, "bank_price", "House bank, new", money, 0, -1, FITTED(bank_price) },
    { cost, "solar_price", "Panels, new", money, 0, -1, FITTED(solar_price) },
    { cost, "inverter_price", "Inverter, new", money, 0, -1, FITTED(inverter_price) },
    { cost, "price", "Bank, panels and inverter, new", money, 0, -1, FITTED(price) },
    { cost, "fuel_price", "Fuel over the plan", money, 0, -1, FITTED(fuel_price) },
};

/* ---- a list in the making ---- */

struct figures {
    struct arena *arena;
    const struct compare_made *made;
    size_t count; /* of sides */
    struct compare_figure *items;
    size_t used, room;
    int failed;
};

/* One side's number; known 0: it has none. */
struct number {
    double value;
    int known;
};

/* Differences below the figure's last digit are rounding, not news. */
static struct compare_value value_of(const struct compare_figure *figure, const char *change,
                                     struct number after)
{
    struct compare_value v = { .change = change, .value = after.value, .known = after.known };
    double grain = 0.5 * pow(10, -figure->decimals);

    v.delta_known = after.known && figure->before_known;
    if (v.delta_known)
        v.delta = after.value - figure->before;
    if (fabs(v.delta) >= grain)
        v.better = v.delta > 0 ? figure->better : -figure->better;
    return v;
}

/* A boat without generator has no rows of generators. */
static int all_nothing(const struct number *numbers, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (numbers[i].known && numbers[i].value != 0)
            return 0;
    return 1;
}

/* Appends the figure with one number per side, unless no side has anything to say. */
static void push(struct figures *f, struct compare_figure figure, const struct number *numbers)
{
    void *items = f->items;
    struct compare_value *after = arena_array(f->arena, f->count, sizeof *after);
    struct compare_figure *kept;

    if (all_nothing(numbers, f->count))
        return;
    kept = arena_push(f->arena, &items, &f->used, &f->room, sizeof *kept);
    f->items = items;
    if (!after || !kept) {
        f->failed = 1;
        return;
    }
    figure.before = numbers[0].value;
    figure.before_known = numbers[0].known;
    figure.after = after;
    figure.after_count = f->count - 1;
    for (size_t i = 1; i < f->count; i++)
        after[i - 1] = value_of(&figure, f->made[i].side.name, numbers[i]);
    *kept = figure;
}

/* ---- figures of the table ---- */

/* One figure of one side, found by its offset in the struct that the row names. */
static struct number number_of(const struct figure_row *row, const struct compare_made *made)
{
    const void *const bases[] = { [OF_WEEK] = &made->side.week->summary,
                                  [OF_SIZE] = made->side.size,
                                  [OF_FITTED] = &made->fitted,
                                  [OF_WIRED] = &made->wired };
    double value = *(const double *)(const void *)((const char *)bases[row->of] + row->offset);

    if (row->none_below_zero && value < 0)
        return (struct number){ 0, 0 };
    return (struct number){ value * row->scale, 1 };
}

/* A row of the table with every side's number; money in the currency of the first profile. */
static void push_row(struct figures *f, const struct figure_row *row, struct number *space)
{
    const char *currency = f->made[0].boat->prices.currency;
    const char *unit = row->unit == money ? (currency ? currency : "") : row->unit;

    for (size_t i = 0; i < f->count; i++)
        space[i] = number_of(row, f->made + i);
    push(f,
         (struct compare_figure){ .part = row->part,
                                  .name = row->name,
                                  .label = row->label,
                                  .unit = unit,
                                  .decimals = row->decimals,
                                  .better = row->better },
         space);
}

/* ---- the balance of each kind of day ---- */

static const struct {
    const char *name, *label;
    size_t offset;
    int better;
} day_rows[] = {
    { "load_wh", "loads", offsetof(struct balance_day, load_wh), 0 },
    { "source_wh", "sources", offsetof(struct balance_day, source_wh), 0 },
    { "net_wh", "net", offsetof(struct balance_day, net_wh), 1 },
    { "mains_wh", "AC loads on mains", offsetof(struct balance_day, mains_wh), 0 },
};

/* By name, for each side has its own list of kinds of day; NULL: it has none of that name. */
static const struct balance_day *day_named(const struct balance *balance, const char *kind)
{
    for (size_t i = 0; i < balance->day_count; i++)
        if (strcmp(balance->days[i].kind, kind) == 0)
            return balance->days + i;
    return NULL;
}

/* A kind of day that a side does not have is not known there. */
static void push_day(struct figures *f, const char *kind, struct number *space)
{
    for (size_t r = 0; r < sizeof day_rows / sizeof day_rows[0]; r++) {
        for (size_t i = 0; i < f->count; i++) {
            const struct balance_day *day = day_named(f->made[i].side.balance, kind);
            const char *at = day ? (const char *)day + day_rows[r].offset : NULL;

            space[i] = (struct number){ at ? *(const double *)(const void *)at : 0, at != NULL };
        }
        push(f,
             (struct compare_figure){ .part = "Balance by kind of day",
                                      .item = kind,
                                      .name = day_rows[r].name,
                                      .label = day_rows[r].label,
                                      .unit = "Wh",
                                      .better = day_rows[r].better },
             space);
    }
}

/* ---- loads whose energy differs ---- */

/* Over the days of the plan, at the DC bus or the AC panel. */
static struct number load_wh(const struct balance *balance, const char *name)
{
    struct number sum = { 0, 0 };

    for (size_t d = 0; d < balance->day_count; d++)
        for (size_t i = 0; i < balance->days[d].load_count; i++)
            if (strcmp(balance->days[d].loads[i].name, name) == 0) {
                sum.value += (double)balance->days[d].days_in_plan * balance->days[d].loads[i].wh;
                sum.known = 1;
            }
    return sum;
}

/* Only loads whose energy over the plan differs by 0.5 Wh: all others are the same on every side. */
static void push_load(struct figures *f, const char *name, struct number *space)
{
    int differs = 0;

    for (size_t i = 0; i < f->count; i++) {
        space[i] = load_wh(f->made[i].side.balance, name);
        differs |= space[i].known != space[0].known || fabs(space[i].value - space[0].value) >= 0.5;
    }
    if (differs)
        push(f,
             (struct compare_figure){ .part = "Loads that differ, over the plan",
                                      .item = name,
                                      .name = "load_wh",
                                      .label = "",
                                      .unit = "Wh" },
             space);
}

/* ---- every name of every side once ---- */

/* 1 where one of the sides before had that kind of day: it has been pushed. */
static int day_seen(const struct figures *f, size_t side, const char *kind)
{
    for (size_t i = 0; i < side; i++)
        if (day_named(f->made[i].side.balance, kind))
            return 1;
    return 0;
}

/* 1 where one of the sides before had a load of that name. */
static int load_seen(const struct figures *f, size_t side, const char *name)
{
    for (size_t s = 0; s < side; s++)
        for (size_t i = 0; i < f->made[s].boat->load_count; i++)
            if (strcmp(f->made[s].boat->loads[i].name, name) == 0)
                return 1;
    return 0;
}

/* Kinds of day of all sides, each once, in the order in which they first occur. */
static void push_days(struct figures *f, struct number *space)
{
    for (size_t s = 0; s < f->count; s++) {
        const struct balance *balance = f->made[s].side.balance;

        for (size_t i = 0; i < balance->day_count; i++)
            if (!day_seen(f, s, balance->days[i].kind))
                push_day(f, balance->days[i].kind, space);
    }
}

/* Loads of all sides, each once, in the order in which they first occur. */
static void push_loads(struct figures *f, struct number *space)
{
    for (size_t s = 0; s < f->count; s++) {
        const struct boat *boat = f->made[s].boat;

        for (size_t i = 0; i < boat->load_count; i++)
            if (!load_seen(f, s, boat->loads[i].name))
                push_load(f, boat->loads[i].name, space);
    }
}

/* The balance by kind of day stands between charge and energy, where a reader looks for it. */
int compare_figures(struct compare *out, const struct compare_made *made, size_t count, struct arena *arena)
{
    struct figures f = { .arena = arena, .made = made, .count = count };
    struct number *space = arena_array(arena, count, sizeof *space);

    if (!space)
        return 0;
    for (size_t r = 0; r < sizeof figure_rows / sizeof figure_rows[0]; r++) {
        if (figure_rows[r].part == energy && figure_rows[r - 1].part == charge)
            push_days(&f, space);
        push_row(&f, figure_rows + r, space);
    }
    push_loads(&f, space);
    out->figures = f.items;
    out->figure_count = f.used;
    return !f.failed;
}

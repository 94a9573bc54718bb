/* sheets_size.c - the sizes as tables: needed beside installed, handbook sum beside simulation.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/*
 *     overview                        people: needed beside installed, both answers, what decided
 *     lists                           people: the rest of each part
 *     bank, solar, ... generator      JSON: a field each
 *     figures                         CSV: a row for each field of those
 *     working                         with --working
 *
 * -1 in a row says that there is no such answer: an inverter has no simulated size.
 */

static const struct column bank_columns[] = {
    { REAL(bank_size, needed_ah, "needed_ah", "Needed", "Ah"), .decimals = 0 },
    { REAL(bank_size, handbook_ah, "handbook_ah", "Handbook sum", "Ah"), .decimals = 0 },
    { REAL(bank_size, simulated_ah, "simulated_ah", "Simulated week", "Ah"), .decimals = 0,
      .none = NONE_BELOW_ZERO },
    { TEXT(bank_size, limited_by, "limited_by", "Limited by") },
    { WHOLE(bank_size, blocks, "blocks", "Blocks", NULL) },
    { TEXT(bank_size, simulation, "simulation", "The simulation says") },
    { REAL(bank_size, generator_h_week, "simulated_generator_h", "Generator hours a week then", "h"),
      .decimals = 1 },
    { REAL(bank_size, installed_ah, "installed_ah", "Installed", "Ah"), .decimals = 0 },
    { REAL(bank_size, block_ah, "block_ah", "One string", "Ah"), .decimals = 0, .none = NONE_AT_ZERO },
    { WHOLE(bank_size, series, "series", "In series", NULL) },
    { WHOLE(bank_size, parallel, "parallel", "In parallel", NULL) },
    { REAL(bank_size, usable_wh, "usable_wh", "Usable", "Wh"), .decimals = 0 },
    { REAL(bank_size, mass_kg, "mass_kg", "Mass", "kg"), .decimals = 0, .none = NONE_AT_ZERO },
};
static const struct row_kind bank_kind = ROW_KIND("Bank", bank_columns, bank_size);

static const struct column solar_columns[] = {
    { REAL(solar_size, needed_w, "needed_w", "Needed", "W"), .decimals = 0 },
    { REAL(solar_size, handbook_w, "handbook_w", "Handbook sum", "W"), .decimals = 0 },
    { REAL(solar_size, simulated_w, "simulated_w", "Simulated week", "W"), .decimals = 0,
      .none = NONE_BELOW_ZERO },
    { REAL(solar_size, installed_w, "installed_w", "Installed", "W"), .decimals = 0 },
    { WHOLE(solar_size, panels, "panels", "Panels", NULL) },
    { REAL(solar_size, panel_w, "panel_w", "One panel", "W"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(solar_size, sun_hours, "sun_hours_h", "Sun hours a day on them", "h"), .decimals = 2 },
    { TEXT(solar_size, limited_by, "limited_by", "Limited by") },
    { TEXT(solar_size, simulation, "simulation", "The simulation says") },
    { REAL(solar_size, generator_h_week, "simulated_generator_h", "Generator hours a week then", "h"),
      .decimals = 1 },
};
static const struct row_kind solar_kind = ROW_KIND("Panels", solar_columns, solar_size);

static const struct column machine_columns[] = {
    { TEXT(alternator_size, name, "name", "Name") },
    { REAL(alternator_size, needed_a, "needed_a", "Needed", "A"), .decimals = 0 },
    { REAL(alternator_size, rated_a, "rated_a", "Rated", "A"), .decimals = 0 },
    { REAL(alternator_size, hot_a, "hot_a", "Hot, at the plan's speed", "A"), .decimals = 0 },
    { REAL(alternator_size, delivered_a, "delivered_a", "Delivered on average", "A"), .decimals = 0 },
    { REAL(alternator_size, accepted_a, "accepted_a", "Bank accepts", "A"), .decimals = 0 },
    { FLAG(alternator_size, over_accepts, "needs_limit", "Needs a limit") },
};
static const struct row_kind machine_kind = ROW_KIND("Alternators", machine_columns, alternator_size);

/* The key "alternator" holds an object, so that every part of the sizing has the same shape. */
static const struct column alternator_columns[] = {
    { ROWS(size, alternators, alternator_count, "machines", "Alternators", machine_kind) },
};
static const struct row_kind alternator_kind = ROW_KIND("Alternators", alternator_columns, size);

static const struct column charger_columns[] = {
    { REAL(charger_size, needed_a, "needed_a", "Needed", "A"), .decimals = 0 },
    { REAL(charger_size, handbook_a, "handbook_a", "Handbook sum", "A"), .decimals = 0 },
    { REAL(charger_size, simulated_a, "simulated_a", "Simulated week", "A"), .decimals = 0,
      .none = NONE_BELOW_ZERO },
    { REAL(charger_size, installed_a, "installed_a", "Installed", "A"), .decimals = 0 },
    { REAL(charger_size, low_a, "low_a", "Usual for such a bank, from", "A"), .decimals = 0 },
    { REAL(charger_size, high_a, "high_a", "to", "A"), .decimals = 0 },
    { TEXT(charger_size, limited_by, "limited_by", "Limited by") },
    { TEXT(charger_size, simulation, "simulation", "The simulation says") },
    { REAL(charger_size, generator_h_week, "simulated_generator_h", "Generator hours a week then", "h"),
      .decimals = 1 },
};
static const struct row_kind charger_kind = ROW_KIND("Charger", charger_columns, charger_size);

static const struct column inverter_columns[] = {
    { REAL(inverter_size, continuous_w, "continuous_w", "Continuous, with reserve", "W"), .decimals = 0 },
    { REAL(inverter_size, surge_w, "surge_w", "Surge", "W"), .decimals = 0 },
    { REAL(inverter_size, running_w, "running_w", "Most at once in the plan", "W"), .decimals = 0 },
    { REAL(inverter_size, connected_w, "connected_w", "All AC loads together", "W"), .decimals = 0 },
    { REAL(inverter_size, dc_current_a, "dc_current_a", "Current from the bank, at cut-out volts", "A"),
      .decimals = 0 },
    { REAL(inverter_size, installed_w, "installed_w", "Installed", "W"), .decimals = 0 },
    { REAL(inverter_size, installed_surge_w, "installed_surge_w", "Installed surge", "W"), .decimals = 0 },
    { TEXT(inverter_size, limited_by, "limited_by", "Limited by") },
};
static const struct row_kind inverter_kind = ROW_KIND("Inverter", inverter_columns, inverter_size);

static const struct column generator_columns[] = {
    { REAL(generator_size, hours_per_week, "hours_per_week", "Hours a week, simulated", "h"), .decimals = 1 },
    { REAL(generator_size, deficit_hours, "deficit_hours_h", "Hours a week, handbook sum", "h"),
      .decimals = 1 },
    { REAL(generator_size, needed_w, "needed_w", "Needed", "W"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(generator_size, would_need_w, "would_need_w", "Power one would have to give", "W"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { REAL(generator_size, installed_w, "installed_w", "Installed", "W"), .decimals = 0 },
    { REAL(generator_size, mean_load, "mean_load_percent", "Mean load while it runs", "%"), PERCENT,
      .decimals = 0 },
    { REAL(generator_size, fuel_l_per_week, "fuel_l_per_week", "Fuel a week", "l"), .decimals = 1 },
};
static const struct row_kind generator_kind = ROW_KIND("Generator", generator_columns, generator_size);

static const struct column top_columns[] = {
    { TEXT(size, boat, "boat", "Boat") },
    { TEXT(size, place, "place", "Place") },
    { REAL(size, autonomy_days, "autonomy_d", "Days without sun, handbook sum", "d"), .decimals = 1 },
    { FLAG(size, installed_passes, "installed_passes", "What is installed passes the simulated week") },
    { TEXT(size, difference, "difference", "Why the answers differ") },
};
static const struct row_kind top_kind = ROW_KIND("Sizing", top_columns, size);

/* ---- the overview for people ---- */

struct need_row {
    const char *part, *unit;
    double handbook, simulated, needed, installed; /* negative: there is no such answer */
    const char *simulation, *limited_by;
};

#define NEED(field, name, heading) REAL(need_row, field, name, heading, NULL), .none = NONE_BELOW_ZERO

static const struct column need_columns[] = {
    { TEXT(need_row, part, "part", "Part") },
    { NEED(handbook, "handbook", "Handbook sum") },
    { NEED(simulated, "simulated", "Simulated week") },
    { NEED(needed, "needed", "Needed") },
    { NEED(installed, "installed", "Installed") },
    { TEXT(need_row, unit, "unit", "Unit") },
    { TEXT(need_row, limited_by, "limited_by", "Limited by") },
    { TEXT(need_row, simulation, "simulation", "Simulation") },
};
static const struct row_kind need_kind = ROW_KIND("Needed and installed", need_columns, need_row);

/* "passes with none; generator then 14 h a week": what else it takes that so little passes. */
static const char *simulation_text(struct sheet_maker *maker, const char *says, double generator_h_week)
{
    const char *text;

    if (generator_h_week <= 0)
        return says;
    text = arena_print(maker->arena, "%s; generator then %.1f h a week", says, generator_h_week);
    maker->failed |= !text;
    return text;
}

/* A boat without a generator has no row of it. */
static void add_overview(struct sheet_maker *maker, const struct size *size)
{
    const struct need_row fixed[] = {
        { "Bank, at 20 h", "Ah", size->bank.handbook_ah, size->bank.simulated_ah, size->bank.needed_ah,
          size->bank.installed_ah, simulation_text(maker, size->bank.simulation, size->bank.generator_h_week),
          size->bank.limited_by },
        { "Panels", "W", size->solar.handbook_w, size->solar.simulated_w, size->solar.needed_w,
          size->solar.installed_w,
          simulation_text(maker, size->solar.simulation, size->solar.generator_h_week),
          size->solar.limited_by },
        { "Charger", "A", size->charger.handbook_a, size->charger.simulated_a, size->charger.needed_a,
          size->charger.installed_a,
          simulation_text(maker, size->charger.simulation, size->charger.generator_h_week),
          size->charger.limited_by },
        { "Inverter", "W", -1, -1, size->inverter.continuous_w, size->inverter.installed_w, NULL,
          size->inverter.limited_by },
        { "Inverter surge", "W", -1, -1, size->inverter.surge_w, size->inverter.installed_surge_w, NULL,
          NULL },
        { "Generator", "W", -1, -1, size->generator.needed_w, size->generator.installed_w, NULL, NULL },
    };
    enum { FIXED = sizeof fixed / sizeof fixed[0] };
    const size_t count = size->generator.installed_w > 0 ? FIXED : FIXED - 1;
    struct need_row *rows = arena_array(maker->arena, FIXED, sizeof *rows);

    for (size_t i = 0; rows && i < FIXED; i++)
        rows[i] = fixed[i];
    if (!rows)
        maker->failed = 1;
    add_table(maker, (struct table){ .kind = &need_kind, .rows = rows, .row_count = rows ? count : 0,
                                     .where = SHOW_TEXT | SHOW_HTML });
}

static void add_part(struct sheet_maker *maker, const char *name, const struct row_kind *kind,
                     const void *row)
{
    add_table(maker, (struct table){ .name = name, .kind = kind, .rows = row, .single = 1,
                                     .where = SHOW_CSV | SHOW_JSON });
}

static void add_lists(struct sheet_maker *maker, const struct size *size)
{
    add_list(maker, "Bank, in whole blocks", &bank_kind, &size->bank,
             "blocks series parallel block_ah usable_wh mass_kg");
    add_list(maker, "Panels, whole", &solar_kind, &size->solar, "panels panel_w sun_hours_h");
    add_table(maker, (struct table){ .kind = &machine_kind, .rows = size->alternators,
                                     .row_count = size->alternator_count, .where = SHOW_TEXT | SHOW_HTML });
    add_list(maker, "Charger", &charger_kind, &size->charger, "low_a high_a");
    add_list(maker, "Inverter", &inverter_kind, &size->inverter, "running_w connected_w dc_current_a");
    add_list(maker, size->generator.installed_w > 0 ? "Generator" : "Generator: there is none",
             &generator_kind, &size->generator,
             size->generator.installed_w > 0
                 ? "hours_per_week deficit_hours_h mean_load_percent fuel_l_per_week"
                 : "deficit_hours_h would_need_w");
}

const struct sheet *sheet_size(struct arena *arena, const struct size *size, int working)
{
    struct sheet_maker maker = sheet_begin(arena, "Sizes of bank, panels, charging and inverter",
                                           listed(arena, size->boat, size->place, NULL, NULL));

    add_overview(&maker, size);
    add_lists(&maker, size);
    add_part(&maker, NULL, &top_kind, size);
    add_part(&maker, "bank", &bank_kind, &size->bank);
    add_part(&maker, "solar", &solar_kind, &size->solar);
    add_part(&maker, "alternator", &alternator_kind, size);
    add_part(&maker, "charger", &charger_kind, &size->charger);
    add_part(&maker, "inverter", &inverter_kind, &size->inverter);
    add_part(&maker, "generator", &generator_kind, &size->generator);
    add_list(&maker, "Verdict", &top_kind, size, "autonomy_d installed_passes difference");
    add_figures_for_csv(&maker);
    if (working)
        add_working(&maker, &size->working);
    for (int c = 0; c < CAUTIONS; c++)
        add_caution(&maker, (enum caution)c);
    return sheet_made(&maker);
}

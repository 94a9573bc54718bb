/* sheets_balance.c - the daily energy balance as tables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/*
 *     whole plan    sums over its days
 *     days          a row for each kind of day, its loads and sources beneath; people see those that run
 *     lines         CSV: a row for each load and source of each kind of day, for a spreadsheet
 *     working       with --working
 *
 * Wh are at the DC bus, those of mains loads at the AC panel.
 */

static const struct column item_columns[] = {
    { TEXT(balance_item, name, "name", "Name") },
    { REAL(balance_item, wh, "wh", "Energy", "Wh"), .decimals = 0 },
    { REAL(balance_item, ah, "ah", "Charge", "Ah"), .decimals = 1 },
    { REAL(balance_item, low_wh, "low_wh", "At least", "Wh") },
    { REAL(balance_item, high_wh, "high_wh", "At most", "Wh") },
    { REAL(balance_item, night_wh, "night_wh", "By night", "Wh") },
    { REAL(balance_item, running_w, "running_w", "Running", "W"), .none = NONE_AT_ZERO },
    { REAL(balance_item, hours, "hours_h", "A day", "h"), .decimals = 2, .none = NONE_AT_ZERO },
    { TEXT(balance_item, supply, "supply", "Supply") },
    { TEXT(balance_item, number_from, "number_from", "Figure is") },
};
static const struct row_kind item_kind = ROW_KIND("Items", item_columns, balance_item);

static const struct column day_columns[] = {
    { TEXT(balance_day, kind, "kind", "Day") },
    { ROWS(balance_day, loads, load_count, "loads", "Loads", item_kind) },
    { ROWS(balance_day, sources, source_count, "sources", "Sources", item_kind) },
    { REAL(balance_day, load_wh, "load_wh", "Loads", "Wh") },
    { REAL(balance_day, source_wh, "source_wh", "Sources", "Wh") },
    { REAL(balance_day, net_wh, "net_wh", "Net", "Wh") },
    { REAL(balance_day, net_ah, "net_ah", "Net", "Ah"), .decimals = 0 },
    { COUNT(balance_day, days_in_plan, "days_in_plan", "Days") },
    { REAL(balance_day, load_low_wh, "load_low_wh", "Loads at least", "Wh") },
    { REAL(balance_day, load_high_wh, "load_high_wh", "At most", "Wh") },
    { REAL(balance_day, load_ah, "load_ah", "Loads", "Ah"), .where = SHOW_CSV | SHOW_JSON },
    { REAL(balance_day, night_wh, "night_wh", "By night", "Wh") },
    { REAL(balance_day, inverter_loss_wh, "inverter_loss_wh", "Inverter losses", "Wh"),
      .where = SHOW_CSV | SHOW_JSON },
    { REAL(balance_day, mains_wh, "mains_wh", "On mains", "Wh"), .quiet = 1 },
    { REAL(balance_day, engine_h, "engine_h", "Engine", "h"), .decimals = 1, .quiet = 1 },
    { REAL(balance_day, shore_h, "shore_h", "Shore", "h"), .decimals = 1, .quiet = 1 },
    { REAL(balance_day, generator_h, "generator_h", "Generator", "h"), .decimals = 1, .quiet = 1 },
    { REAL(balance_day, sunrise_h, "sunrise_h", "Sunrise", "h"), .decimals = 2, .none = NONE_BELOW_ZERO,
      .where = SHOW_CSV | SHOW_JSON },
    { REAL(balance_day, sunset_h, "sunset_h", "Sunset", "h"), .decimals = 2, .none = NONE_BELOW_ZERO,
      .where = SHOW_CSV | SHOW_JSON },
    { REAL(balance_day, irradiation_kwh, "irradiation_kwh_m2", "Sun", "kWh/m2"), .decimals = 1,
      .where = SHOW_CSV | SHOW_JSON },
};
static const struct row_kind day_kind_of_balance = ROW_KIND("Kinds of day", day_columns, balance_day);

static const struct column top_columns[] = {
    { TEXT(balance, boat, "boat", "Boat"), .where = SHOW_JSON },
    { TEXT(balance, place, "place", "Place"), .where = SHOW_JSON },
    { REAL(balance, bank_v, "bank_v", "Bank", "V"), .decimals = 1, .where = SHOW_JSON },
    { REAL(balance, week_load_wh, "week_load_wh", "Loads", "Wh") },
    { REAL(balance, week_source_wh, "week_source_wh", "Sources, if the bank takes it all", "Wh") },
    { REAL(balance, week_net_wh, "week_net_wh", "Net", "Wh") },
};
static const struct row_kind top_kind = ROW_KIND("Whole plan", top_columns, balance);

/* One line of the CSV: an item with its day and its side. */
struct balance_line {
    const char *day, *side;
    struct balance_item item;
};

static const struct column line_columns[] = {
    { TEXT(balance_line, day, "kind", "Day") },
    { TEXT(balance_line, side, "side", "Side") },
    { TEXT(balance_line, item.name, "name", "Name") },
    { REAL(balance_line, item.wh, "wh", "Energy", "Wh"), .decimals = 1 },
    { REAL(balance_line, item.ah, "ah", "Charge", "Ah"), .decimals = 2 },
    { REAL(balance_line, item.low_wh, "low_wh", "At least", "Wh"), .decimals = 1 },
    { REAL(balance_line, item.high_wh, "high_wh", "At most", "Wh"), .decimals = 1 },
    { REAL(balance_line, item.night_wh, "night_wh", "By night", "Wh"), .decimals = 1 },
    { REAL(balance_line, item.running_w, "running_w", "Running", "W"), .decimals = 1, .none = NONE_AT_ZERO },
    { REAL(balance_line, item.hours, "hours_h", "A day", "h"), .decimals = 3, .none = NONE_AT_ZERO },
    { TEXT(balance_line, item.supply, "supply", "Supply") },
    { TEXT(balance_line, item.number_from, "number_from", "Figure is") },
};
static const struct row_kind line_kind = ROW_KIND("Items", line_columns, balance_line);

static size_t item_count(const struct balance *balance)
{
    size_t count = 0;

    for (size_t d = 0; d < balance->day_count; d++)
        count += balance->days[d].load_count + balance->days[d].source_count;
    return count;
}

/*
 * Days within loads within days would be three levels; CSV gets one row for each item with its kind of day.
 */
static void add_lines(struct sheet_maker *maker, const struct balance *balance)
{
    struct balance_line *lines = arena_array(maker->arena, item_count(balance), sizeof *lines);
    size_t count = 0;

    if (!lines)
        maker->failed = 1;
    for (size_t d = 0; lines && d < balance->day_count; d++) {
        const struct balance_day *day = balance->days + d;

        for (size_t i = 0; i < day->load_count; i++)
            lines[count++] = (struct balance_line){ day->kind, "load", day->loads[i] };
        for (size_t i = 0; i < day->source_count; i++)
            lines[count++] = (struct balance_line){ day->kind, "source", day->sources[i] };
    }
    add_table(maker, (struct table){ .kind = &line_kind, .rows = lines, .row_count = count, .csv = 1,
                                     .where = SHOW_CSV });
}

/* Those of the items that draw or give anything that day. */
static const struct balance_item *running_items(struct sheet_maker *maker, const struct balance_item *items,
                                                size_t *count)
{
    struct balance_item *kept = arena_array(maker->arena, *count, sizeof *kept);
    size_t n = 0;

    for (size_t i = 0; kept && i < *count; i++) {
        if (items[i].wh > 0)
            kept[n++] = items[i];
    }
    maker->failed |= !kept;
    *count = n;
    return kept;
}

/* For people: what does not run on a kind of day is not listed there. Machines get all of it. */
static void add_days(struct sheet_maker *maker, const struct balance *balance)
{
    struct balance_day *days = arena_array(maker->arena, balance->day_count, sizeof *days);
    size_t left_out = 0;

    maker->failed |= !days;
    for (size_t i = 0; days && i < balance->day_count; i++) {
        days[i] = balance->days[i];
        days[i].loads = running_items(maker, days[i].loads, &days[i].load_count);
        days[i].sources = running_items(maker, days[i].sources, &days[i].source_count);
        left_out += balance->days[i].load_count - days[i].load_count;
    }
    add_table(maker, (struct table){ .name = "days", .kind = &day_kind_of_balance, .rows = balance->days,
                                     .row_count = balance->day_count, .where = SHOW_JSON });
    add_table(maker, (struct table){ .name = "days",
                                     .kind = &day_kind_of_balance,
                                     .rows = days,
                                     .row_count = days ? balance->day_count : 0,
                                     .where = SHOW_TEXT | SHOW_HTML });
    add_note(maker,
             left_out
                 ? "Loads that do not run on a kind of day are left out there; CSV and JSON have them all."
                 : "");
}

const struct sheet *sheet_balance(struct arena *arena, const struct balance *balance, int working)
{
    const char *volts = number_text(arena, balance->bank_v, 1);
    const char *subtitle = listed(arena, balance->boat, balance->place,
                                  volts ? arena_print(arena, "Ah at %s V", volts) : NULL, NULL);
    struct sheet_maker maker = sheet_begin(arena, "Daily energy balance", subtitle);

    add_table(&maker, (struct table){ .kind = &top_kind, .rows = balance, .single = 1 });
    add_days(&maker, balance);
    add_lines(&maker, balance);
    if (working)
        add_working(&maker, &balance->working);
    add_note(&maker,
             "Loads are counted at the DC bus, converter losses included; loads on mains at the AC panel.");
    add_note(&maker, "Sources are what they could give on such a day; a full bank takes less.");
    add_caution(&maker, CAUTION_PLANNING);
    add_caution(&maker, CAUTION_ISOLATE);
    return sheet_made(&maker);
}

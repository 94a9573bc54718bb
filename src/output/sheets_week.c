/* sheets_week.c - the simulated plan as tables.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "base/calendar.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/* The first sixteen names are fixed. */
static const struct column summary_columns[] = {
    { REAL(week_summary, min_charge, "min_charge_percent", "Lowest charge", "%"), PERCENT, .decimals = 1 },
    { TIME(week_summary, min_time_s, "min_charge_time", "on") },
    { REAL(week_summary, end_charge, "end_charge_percent", "Charge at the end", "%"), PERCENT,
      .decimals = 1 },
    { REAL(week_summary, unserved_wh, "unserved_wh", "Wanted but not delivered", "Wh") },
    { REAL(week_summary, solar_wh, "solar_wh", "Solar", "Wh"), .quiet = 1 },
    { REAL(week_summary, solar_spilled_wh, "solar_spilled_wh", "Solar that found no home", "Wh"),
      .quiet = 1 },
    { REAL(week_summary, alternator_wh, "alternator_wh", "Alternators", "Wh"), .quiet = 1 },
    { REAL(week_summary, charger_wh, "charger_wh", "Charger", "Wh"), .quiet = 1 },
    { REAL(week_summary, load_wh, "load_wh", "Loads", "Wh") },
    { REAL(week_summary, mains_wh, "mains_wh", "AC loads carried by shore or generator", "Wh"), .quiet = 1 },
    { REAL(week_summary, battery_loss_wh, "battery_loss_wh", "Lost in the bank", "Wh") },
    { REAL(week_summary, inverter_loss_wh, "inverter_loss_wh", "Lost in the inverter", "Wh"), .quiet = 1 },
    { REAL(week_summary, stored_change_wh, "stored_change_wh", "Change of stored energy", "Wh") },
    { REAL(week_summary, generator_h, "generator_h", "Generator", "h"), .decimals = 1, .quiet = 1 },
    { REAL(week_summary, engine_h, "engine_h", "Engine", "h"), .decimals = 1, .quiet = 1 },
    { REAL(week_summary, energy_error_wh, "energy_error_wh", "Left over in the account", "Wh"),
      .decimals = 3 },
    { REAL(week_summary, max_charge, "max_charge_percent", "Highest charge", "%"), PERCENT, .decimals = 1 },
    { REAL(week_summary, floor, "floor_percent", "Floor", "%"), PERCENT, .decimals = 1 },
    { REAL(week_summary, ceiling, "ceiling_percent", "Ceiling", "%"), PERCENT, .decimals = 1,
      .none = NONE_AT_ZERO, .quiet = 1 },
    { REAL(week_summary, below_floor_h, "below_floor_h", "Time below the floor", "h"), .decimals = 1,
      .quiet = 1 },
    { REAL(week_summary, min_bank_v, "min_bank_v", "Lowest bank voltage", "V"), .decimals = 2 },
    { TIME(week_summary, min_bank_v_time_s, "min_bank_v_time", "on") },
    { REAL(week_summary, unserved_by_priority_wh[LOAD_VITAL], "unserved_vital_wh", "of it vital loads", "Wh"),
      .quiet = 1 },
    { REAL(week_summary, unserved_by_priority_wh[LOAD_NORMAL], "unserved_normal_wh", "normal loads", "Wh"),
      .quiet = 1 },
    { REAL(week_summary, unserved_by_priority_wh[LOAD_SHED], "unserved_shed_wh", "loads that may be put off",
           "Wh"),
      .quiet = 1 },
    { REAL(week_summary, mains_missed_wh, "mains_missed_wh",
           "AC loads that found neither shore nor generator", "Wh"),
      .quiet = 1 },
    { REAL(week_summary, generator_fuel_l, "generator_fuel_l", "Generator fuel", "l"), .decimals = 1,
      .quiet = 1 },
    { WHOLE(week_summary, generator_starts, "generator_starts", "Generator starts", NULL), .quiet = 1 },
    { REAL(week_summary, alternator_fuel_l, "alternator_fuel_l", "Fuel the alternators cost", "l"),
      .decimals = 1, .quiet = 1 },
    { REAL(week_summary, shore_h, "shore_h", "Shore", "h"), .decimals = 1, .quiet = 1 },
    { REAL(week_summary, autonomy_h, "autonomy_h", "From full to the floor without any source", "h"),
      .decimals = 1 },
    { REAL(week_summary, recharge_h, "recharge_h", "From the lowest point to nearly full", "h"),
      .decimals = 1, .none = NONE_BELOW_ZERO },
    { REAL(week_summary, largest_load_w, "largest_load_w", "Largest load", "W") },
    { TIME(week_summary, largest_load_time_s, "largest_load_time", "on") },
    { REAL(week_summary, connected_load_w, "connected_load_w", "Everything that may run at once", "W") },
    { REAL(week_summary, largest_charge_a, "largest_charge_a", "Largest charging current", "A"),
      .decimals = 0 },
    { REAL(week_summary, largest_discharge_a, "largest_discharge_a", "Largest discharging current", "A"),
      .decimals = 0 },
    { FLAG(week_summary, passes, "passes", "Plan passes") },
};
static const struct row_kind summary_kind = ROW_KIND("Summary", summary_columns, week_summary);

/* The names and their order are fixed. */
static const struct column row_columns[] = {
    { TIME(week_row, time_s, "time", "Time") },
    { REAL(week_row, charge, "charge_percent", "Charge", "%"), PERCENT, .decimals = 3 },
    { REAL(week_row, bank_v, "bank_v", "Bank", "V"), .decimals = 3 },
    { REAL(week_row, bank_a, "bank_a", "Bank", "A"), .decimals = 2 },
    { REAL(week_row, load_w, "load_w", "Loads", "W"), .decimals = 1 },
    { REAL(week_row, inverter_w, "inverter_w", "Inverter", "W"), .decimals = 1 },
    { REAL(week_row, solar_w, "solar_w", "Solar", "W"), .decimals = 1 },
    { REAL(week_row, solar_spilled_w, "solar_spilled_w", "Spilled", "W"), .decimals = 1 },
    { REAL(week_row, alternator_w, "alternator_w", "Alternators", "W"), .decimals = 1 },
    { REAL(week_row, charger_w, "charger_w", "Charger", "W"), .decimals = 1 },
    { REAL(week_row, unserved_w, "unserved_w", "Unserved", "W"), .decimals = 1 },
    { FLAG(week_row, generator_on, "generator_on", "Generator") },
    { FLAG(week_row, engine_on, "engine_on", "Engine") },
};
static const struct row_kind rows_kind = ROW_KIND("Steps", row_columns, week_row);

static const struct column bank_columns[] = {
    { TEXT(bank_outcome, name, "name", "Bank") },
    { REAL(bank_outcome, start_charge, "start_charge_percent", "At the start", "%"), PERCENT, .decimals = 1 },
    { REAL(bank_outcome, end_charge, "end_charge_percent", "At the end", "%"), PERCENT, .decimals = 1 },
    { REAL(bank_outcome, min_charge, "min_charge_percent", "Lowest", "%"), PERCENT, .decimals = 1 },
    { TIME(bank_outcome, min_time_s, "min_charge_time", "on") },
    { REAL(bank_outcome, charge_ah, "charge_ah", "Charged", "Ah"), .decimals = 1 },
    { REAL(bank_outcome, discharge_ah, "discharge_ah", "Discharged", "Ah"), .decimals = 1 },
    { REAL(bank_outcome, full_cycles, "full_cycles", "Full cycles", NULL), .decimals = 2 },
};
static const struct row_kind bank_kind = ROW_KIND("Banks", bank_columns, bank_outcome);

/* ---- days, with their dates in words ---- */

struct day_row {
    const char *date, *day, *kind;
    double sunrise_s, sunset_s; /* [s] after the first midnight; negative: none that day */
    struct day_mark mark;
};

static const struct column day_columns[] = {
    { TEXT(day_row, day, "weekday", "Day") },
    { TEXT(day_row, date, "date", "Date") },
    { TEXT(day_row, kind, "kind", "Kind") },
    { CLOCK(day_row, sunrise_s, "sunrise", "Sun up"), .where = SHOW_TEXT | SHOW_HTML },
    { CLOCK(day_row, sunset_s, "sunset", "down"), .where = SHOW_TEXT | SHOW_HTML },
    { TIME(day_row, sunrise_s, "sunrise", "Sunrise"), .where = SHOW_CSV | SHOW_JSON },
    { TIME(day_row, sunset_s, "sunset", "Sunset"), .where = SHOW_CSV | SHOW_JSON },
    { REAL(day_row, mark.load_wh, "load_wh", "Loads", "Wh") },
    { REAL(day_row, mark.solar_wh, "solar_wh", "Solar", "Wh"), .quiet = 1 },
    { REAL(day_row, mark.solar_spilled_wh, "solar_spilled_wh", "Spilled", "Wh"), .quiet = 1 },
    { REAL(day_row, mark.alternator_wh, "alternator_wh", "Engines", "Wh"), .quiet = 1 },
    { REAL(day_row, mark.charger_wh, "charger_wh", "Charger", "Wh"), .quiet = 1 },
    { REAL(day_row, mark.min_charge, "min_charge_percent", "Lowest", "%"), PERCENT, .decimals = 1 },
    { REAL(day_row, mark.end_charge, "end_charge_percent", "At end", "%"), PERCENT, .decimals = 1 },
};
static const struct row_kind days_kind = ROW_KIND("Days", day_columns, day_row);

static int day_fill(struct arena *arena, struct day_row *row, const struct day_mark *mark)
{
    double light = mark->sunset_s - mark->sunrise_s;
    int rises = light > 0 && light < 86400;

    row->mark = *mark;
    row->day = weekday_short(mark->weekday);
    row->date = arena_print(arena, "%04d-%02d-%02d", mark->year, mark->month, mark->day);
    row->kind = mark->kind ? mark->kind->name : NULL;
    row->sunrise_s = rises ? mark->sunrise_s : -1;
    row->sunset_s = rises ? mark->sunset_s : -1;
    return row->date != NULL;
}

static void add_days(struct sheet_maker *maker, const struct week *week)
{
    struct day_row *rows = arena_array(maker->arena, week->day_count, sizeof *rows);

    for (size_t i = 0; rows && i < week->day_count; i++) {
        if (!day_fill(maker->arena, rows + i, week->days + i))
            rows = NULL;
    }
    if (!rows)
        maker->failed = 1;
    add_table(maker, (struct table){ .name = "days", .kind = &days_kind, .rows = rows,
                                     .row_count = rows ? week->day_count : 0 });
}

/* ---- events ---- */

struct event_row {
    const char *kind, *what;
    double hours; /* [h] from start to end */
    struct week_event event;
};

static const struct column event_columns[] = {
    { TIME(event_row, event.start_s, "start", "From") },
    { TIME(event_row, event.end_s, "end", "Until"), .where = SHOW_CSV | SHOW_JSON },
    { REAL(event_row, hours, "duration_h", "For", "h"), .decimals = 1, .where = SHOW_TEXT | SHOW_HTML },
    { TEXT(event_row, kind, "kind", "Kind"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(event_row, what, "what", "What"), .where = SHOW_TEXT | SHOW_HTML },
    { REAL(event_row, event.worst_w, "worst_w", "At worst", "W"), .none = NONE_AT_ZERO },
    { REAL(event_row, event.limit_w, "limit_w", "Limit", "W"), .none = NONE_AT_ZERO },
    { TIME(event_row, event.worst_s, "worst_time", "Worst"), .where = SHOW_CSV | SHOW_JSON },
    { REAL(event_row, event.wh, "wh", "Energy", "Wh"), .none = NONE_AT_ZERO },
    { TEXT(event_row, event.who, "who", "Running then") },
    { REAL(event_row, hours, "duration_h", "For", "h"), .decimals = 1, .where = SHOW_CSV | SHOW_JSON },
};
static const struct row_kind events_kind = ROW_KIND("Events", event_columns, event_row);

static const struct { const char *kind, *what; } event_words[] = {
    [EVENT_UNSERVED] = { "unserved", "load not fed" },
    [EVENT_SHED] = { "shed", "load put off" },
    [EVENT_SHORE_OVERLOAD] = { "shore_overload", "shore overload" },
    [EVENT_GENERATOR_OVERLOAD] = { "generator_overload", "generator overload" },
    [EVENT_INVERTER_OVERLOAD] = { "inverter_overload", "inverter overload" },
    [EVENT_CUT_OUT] = { "cut_out", "inverter cut out" },
    [EVENT_FLOOR] = { "floor", "below the floor" },
    [EVENT_NO_AC] = { "no_ac", "no AC source" },
};

enum { EVENTS_FOR_PEOPLE = 30 };

static void add_events(struct sheet_maker *maker, const struct week *week)
{
    struct event_row *rows = arena_array(maker->arena, week->event_count, sizeof *rows);
    size_t count = rows ? week->event_count : 0, few = count < EVENTS_FOR_PEOPLE ? count : EVENTS_FOR_PEOPLE;

    for (size_t i = 0; i < count; i++) {
        enum week_event_kind kind = week->events[i].kind;

        rows[i] =
            (struct event_row){ event_words[kind].kind, event_words[kind].what,
                                (week->events[i].end_s - week->events[i].start_s) / 3600, week->events[i] };
    }
    if (!rows)
        maker->failed = 1;
    add_table(maker, (struct table){ .name = "events", .kind = &events_kind, .rows = rows, .row_count = count,
                                     .where = SHOW_JSON });
    add_table(maker, (struct table){ .kind = &events_kind, .rows = rows, .row_count = few,
                                     .where = SHOW_TEXT | SHOW_HTML });
    if (few < count)
        add_note(maker, arena_print(maker->arena, "%zu more events are in the JSON output.", count - few));
}

/* ---- the sheet ---- */

static const struct column top_columns[] = {
    { TEXT(week, boat, "boat", "Boat") },
    { TEXT(week, place, "place", "Place") },
    { TEXT(week, bank, "bank", "Bank") },
    { TEXT(week, finding, "finding", "Finding") },
    { REAL(week, step_s, "step_s", "Step", "s"), .decimals = 1 },
    { REAL(week, row_step_s, "row_step_s", "Kept every", "s"), .decimals = 1 },
};
static const struct row_kind top_kind = ROW_KIND("Week", top_columns, week);

static void add_lists(struct sheet_maker *maker, const struct week_summary *summary)
{
    add_list(maker, "Charge", &summary_kind, summary,
             "min_charge_percent min_charge_time end_charge_percent max_charge_percent floor_percent "
             "ceiling_percent below_floor_h recharge_h autonomy_h min_bank_v min_bank_v_time passes");
    add_list(maker, "Energy at the DC bus", &summary_kind, summary,
             "solar_wh solar_spilled_wh alternator_wh charger_wh load_wh unserved_wh unserved_vital_wh "
             "unserved_normal_wh unserved_shed_wh inverter_loss_wh battery_loss_wh stored_change_wh "
             "energy_error_wh mains_wh mains_missed_wh");
    add_list(
        maker, "Running and peaks", &summary_kind, summary,
        "engine_h alternator_fuel_l generator_h generator_starts generator_fuel_l shore_h largest_load_w "
        "largest_load_time connected_load_w largest_charge_a largest_discharge_a");
}

static void set_midnight(struct sheet *sheet, const struct week *week)
{
    if (week->day_count) {
        sheet->year = week->days[0].year;
        sheet->month = week->days[0].month;
        sheet->day = week->days[0].day;
    }
}

const struct sheet *sheet_week(struct arena *arena, const struct week *week)
{
    struct sheet_maker maker = sheet_begin(arena, week->finding ? week->finding : "The simulated plan",
                                           week_subtitle(arena, week));

    set_midnight(&maker.sheet, week);
    add_table(&maker, (struct table){ .kind = &top_kind, .rows = week, .single = 1, .where = SHOW_JSON });
    add_table(&maker, (struct table){ .name = "summary",
                                      .kind = &summary_kind,
                                      .rows = &week->summary,
                                      .single = 1,
                                      .where = SHOW_JSON });
    add_lists(&maker, &week->summary);
    add_days(&maker, week);
    add_events(&maker, week);
    add_table(&maker, (struct table){ .name = "banks", .kind = &bank_kind, .rows = week->banks,
                                      .row_count = week->bank_count });
    add_table(&maker, (struct table){ .name = "rows",
                                      .kind = &rows_kind,
                                      .rows = week->rows,
                                      .row_count = week->row_count,
                                      .csv = 1,
                                      .where = SHOW_CSV | SHOW_JSON });
    add_caution(&maker, CAUTION_PLANNING);
    add_caution(&maker, CAUTION_ISOLATE);
    add_caution(&maker, CAUTION_SHORT_CIRCUIT);
    return sheet_made(&maker);
}

/* sheets_cable.c - one run of cable: what it is, what it loses, what it may carry, and a table of sizes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"

static const struct column top_columns[] = {
    { TEXT(cable_answer, finding, "finding", "Finding") },
    { TEXT(cable_answer, rules, "rules", "Rule set") },
    { TEXT(cable_answer, rules_title, "rules_title", "Title") },
    { TEXT(cable_answer, edition, "edition", "Edition") },
    { TEXT(cable_answer, rules_scope, "scope", "Scope") },
    { REAL(cable_answer, volts_v, "volts_v", "Volts at the source", "V"), .decimals = 1 },
    { REAL(cable_answer, power_w, "power_w", "Power at the load", "W"), .decimals = 0 },
    { REAL(cable_answer, load_v, "load_v", "Volts at the load", "V"), .decimals = 2 },
    { REAL(cable_answer, power_factor, "power_factor", "Power factor", NULL), .decimals = 2,
      .none = NONE_AT_ZERO },
    { TEXT(cable_answer, residual_current_device, "rcd", "Residual-current device") },
    { TEXT(cable_answer, caution, "caution", "Mind") },
    { TEXT(cable_answer, table_title, "table_title", "Table") },
};
static const struct row_kind top_kind = ROW_KIND("One run of cable", top_columns, cable_answer);

/* For people: headings for a run that stands alone; the machine names are those of the row in cables. */
#define OF_RUN(cell, field, ...) cell(cable_answer, cable.field, #field, __VA_ARGS__)
static const struct column run_columns[] = {
    { TEXT(cable_answer, size, "size", "Size") },
    { TEXT(cable_answer, length, "length", "One way") },
    { OF_RUN(WHOLE, runs, "Runs", NULL) },
    { OF_RUN(REAL, copper_kg, "Copper", "kg"), .decimals = 2 },
    { OF_RUN(TEXT, status, "Verdict") },
    { OF_RUN(TEXT, limited_by, "Sized by") },
    { TEXT(cable_answer, protective, "protective", "Protective conductor") },
    { OF_RUN(REAL, current_a, "Current", "A"), .decimals = 1 },
    { OF_RUN(REAL, conductor_c, "Conductor", "C"), .decimals = 0 },
    { OF_RUN(REAL, resistance_mohm, "Loop, warm", "mohm"), .decimals = 2 },
    { OF_RUN(REAL, reactance_mohm, "Reactance of the loop", "mohm"), .decimals = 2 },
    { OF_RUN(REAL, rule_drop_v, "Drop by the rule", "V"), .decimals = 3 },
    { OF_RUN(REAL, rule_total_drop_percent, "Drop by the rule, share", "%"), .decimals = 2 },
    { OF_RUN(REAL, drop_v, "Drop as measured", "V"), .decimals = 3 },
    { OF_RUN(REAL, drop_percent, "Drop as measured, share", "%"), .decimals = 2 },
    { OF_RUN(REAL, drop_limit_percent, "Limit", "%"), .decimals = 1 },
    { OF_RUN(TEXT, limit_why, "Limit because") },
    { OF_RUN(REAL, column_c, "Column of the table", "C"), .decimals = 0 },
    { OF_RUN(REAL, base_ampacity_a, "By the table", "A"), .decimals = 0 },
    { OF_RUN(REAL, engine_factor, "x engine space", NULL), .decimals = 2 },
    { OF_RUN(REAL, bundle_factor, "x bundle", NULL), .decimals = 2 },
    { OF_RUN(REAL, ampacity_a, "Ampacity", "A"), .decimals = 0 },
    { OF_RUN(REAL, ampacity_margin_percent, "To spare", "%"), .decimals = 0 },
    { OF_RUN(REAL, fuse_a, "Fuse", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
    { OF_RUN(REAL, fuse_min_a, "At least", "A"), .decimals = 1, .trim = 1 },
    { OF_RUN(REAL, fuse_max_a, "At most", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
    { OF_RUN(TEXT, fuse_class, "Class") },
    { OF_RUN(REAL, fuse_interrupt_a, "It breaks", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { OF_RUN(REAL, fault_a, "Short circuit at the source", "A"), .decimals = 0 },
    { OF_RUN(REAL, fault_far_a, "Short circuit at the load", "A"), .decimals = 0 },
    { OF_RUN(REAL, withstand_s, "The cable bears the former for", "s"), .decimals = 3 },
    { OF_RUN(TEXT, fuse_note, "Remark") },
};
static const struct row_kind run_kind = ROW_KIND("One run of cable", run_columns, cable_answer);

/* Sizes are text: "2/0" and "35" are names of sizes, in the series that the sheet says. */
#define AT(place, amps) { TEXT(cable_table_row, size[place], "size_" #amps "_a", #amps " A") }
static const struct column table_columns[] = {
    { TEXT(cable_table_row, length, "length", "One way") },
    { REAL(cable_table_row, length_m, "length_m", "One way", "m"), .decimals = 2,
      .where = SHOW_JSON | SHOW_CSV },
    { TEXT(cable_table_row, series, "series", "Sizes in"), .where = SHOW_JSON | SHOW_CSV },
    { REAL(cable_table_row, drop_limit, "drop_limit_percent", "Limit", "%"), PERCENT, .decimals = 1,
      .where = SHOW_JSON | SHOW_CSV },
    { REAL(cable_table_row, volts_v, "volts_v", "Of", "V"), .decimals = 1, .where = SHOW_JSON | SHOW_CSV },
    AT(0, 5),
    AT(1, 10),
    AT(2, 15),
    AT(3, 20),
    AT(4, 25),
    AT(5, 30),
    AT(6, 40),
    AT(7, 50),
    AT(8, 60),
    AT(9, 70),
    AT(10, 80),
    AT(11, 90),
    AT(12, 100),
};
#undef AT
static const struct row_kind table_kind =
    ROW_KIND("Sizes by length and current", table_columns, cable_table_row);

/* A set without a formula has no drop by the rule. */
static void add_volts(struct sheet_maker *maker, const struct cable_answer *a)
{
    static const char *const names[2][2] = {
        { "current_a conductor_c resistance_mohm drop_v drop_percent drop_limit_percent limit_why",
          "current_a conductor_c resistance_mohm rule_drop_v rule_total_drop_percent drop_v drop_percent "
          "drop_limit_percent limit_why" },
        { "current_a conductor_c resistance_mohm reactance_mohm drop_v drop_percent drop_limit_percent "
          "limit_why",
          "current_a conductor_c resistance_mohm reactance_mohm rule_drop_v rule_total_drop_percent drop_v "
          "drop_percent drop_limit_percent limit_why" },
    };

    add_list(maker, "Volts lost", &run_kind, a, names[a->power_factor > 0][a->cable.rule_drop_v >= 0]);
}

static void add_lists(struct sheet_maker *maker, const struct cable_answer *a)
{
    int ac = a->power_factor > 0;

    add_list(maker, "Result", &top_kind, a, a->caution ? "finding scope caution" : "finding scope");
    add_list(maker, "Conductor", &run_kind, a,
             ac ? "size length runs copper_kg status limited_by protective"
                : "size length runs copper_kg status limited_by");
    add_list(maker, "At the load", &top_kind, a,
             ac ? "volts_v load_v power_w power_factor rcd" : "volts_v load_v power_w");
    add_volts(maker, a);
    add_list(maker, "Current it may carry", &run_kind, a,
             "column_c base_ampacity_a engine_factor bundle_factor runs ampacity_a ampacity_margin_percent");
    if (a->cable.fault_a > 0)
        add_list(maker, "Fuse", &run_kind, a,
                 "fuse_a fuse_class fuse_min_a fuse_max_a fuse_interrupt_a fault_a fault_far_a withstand_s "
                 "fuse_note");
    else
        add_list(maker, "Fuse", &run_kind, a,
                 a->cable.fuse_ok ? "fuse_a fuse_min_a fuse_max_a fuse_note" : "fuse_max_a fuse_note");
}

/* Side by side, one row a set. */
static const struct column set_columns[] = {
    { TEXT(cable_answer, rules, "rules", "Rule set") },
    { TEXT(cable_answer, size, "size", "Size") },
    { OF_RUN(REAL, area_mm2, "Copper", "mm2"), .decimals = 2, .where = SHOW_CSV | SHOW_JSON },
    { OF_RUN(REAL, current_a, "Current", "A"), .decimals = 1 },
    { OF_RUN(REAL, rule_total_drop_percent, "By the rule", "%"), .decimals = 2, .none = NONE_BELOW_ZERO },
    { OF_RUN(REAL, drop_percent, "Measured", "%"), .decimals = 2 },
    { OF_RUN(REAL, drop_limit_percent, "Limit", "%"), .decimals = 1 },
    { OF_RUN(REAL, ampacity_a, "Ampacity", "A"), .decimals = 0 },
    { OF_RUN(REAL, fuse_min_a, "Fuse from", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO,
      .where = SHOW_CSV | SHOW_JSON },
    { OF_RUN(REAL, fuse_max_a, "Fuse at most", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
    { OF_RUN(REAL, fuse_a, "Fuse", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
    { OF_RUN(TEXT, limited_by, "Sized by") },
    { OF_RUN(TEXT, status, "Verdict") },
    { TEXT(cable_answer, caution, "caution", "Mind"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(cable_answer, finding, "finding", "Finding"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(cable_answer, edition, "edition", "Edition"), .where = SHOW_CSV | SHOW_JSON },
};
#undef OF_RUN
static const struct row_kind set_kind = ROW_KIND("By each rule set", set_columns, cable_answer);

/* A row for each set with its own verdict; their cautions and editions below. */
static const struct sheet *sheet_sets(struct arena *arena, const struct cable_answer *a, int working)
{
    struct sheet_maker maker =
        sheet_begin(arena, "One run of cable", "by every rule set, side by side, never blended");

    add_list(&maker, "Result", &top_kind, a, "finding volts_v");
    add_table(&maker,
              (struct table){
                  .name = "sets", .kind = &set_kind, .rows = a->sets, .row_count = a->set_count, .csv = 1 });
    for (size_t i = 0; i < a->set_count; i++)
        if (a->sets[i].caution)
            add_note(&maker, arena_print(arena, "%s, mind: %s.", a->sets[i].rules, a->sets[i].caution));
    for (size_t i = 0; i < a->set_count; i++)
        add_note(&maker, arena_print(arena, "%s: %s, %s.", a->sets[i].rules, a->sets[i].rules_title,
                                     a->sets[i].edition));
    if (working)
        add_note(&maker, "The working is shown for one rule set at a time: name it.");
    add_caution(&maker, CAUTION_PLANNING);
    add_caution(&maker, CAUTION_ISOLATE);
    add_caution(&maker, a->power_factor > 0 ? CAUTION_MAINS : CAUTION_SHORT_CIRCUIT);
    return sheet_made(&maker);
}

const struct sheet *sheet_cable(struct arena *arena, const struct cable_answer *a, int working)
{
    struct sheet_maker maker = sheet_begin(arena, "One run of cable",
                                           arena_print(arena, "by %s, %s", a->rules_title, a->edition));
    int table = a->table_count > 0;

    if (a->set_count > 0)
        return sheet_sets(arena, a, working);
    add_lists(&maker, a);
    add_table(&maker,
              (struct table){ .name = NULL, .kind = &top_kind, .rows = a, .single = 1, .where = SHOW_JSON });
    add_table(&maker, (struct table){ .name = NULL,
                                      .kind = cable_row_kind,
                                      .rows = &a->cable,
                                      .row_count = 1,
                                      .single = 1,
                                      .where = SHOW_JSON });
    if (!table)
        add_table(&maker, (struct table){ .name = "cable",
                                          .kind = cable_row_kind,
                                          .rows = &a->cable,
                                          .row_count = 1,
                                          .csv = 1,
                                          .where = SHOW_CSV });
    else
        add_table(&maker, (struct table){ .name = "table",
                                          .title = a->table_title,
                                          .kind = &table_kind,
                                          .rows = a->table,
                                          .row_count = a->table_count,
                                          .csv = 1 });
    if (working)
        add_working(&maker, a->working);
    add_caution(&maker, CAUTION_PLANNING);
    add_caution(&maker, CAUTION_ISOLATE);
    add_caution(&maker, a->power_factor > 0 ? CAUTION_MAINS : CAUTION_SHORT_CIRCUIT);
    return sheet_made(&maker);
}

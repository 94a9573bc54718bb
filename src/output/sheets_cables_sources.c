/* sheets_cables_sources.c - what feeds: banks, inverter against its cut-out, scenarios, AC sources.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

/*
 * Schedules of what feeds: banks with their strings and blanks to fill in aboard, inverters against their
 * cut-out, scenarios side by side, AC sources. The functions that end in holds, solved or carries say which
 * rows are good, for colour and words.
 */

static const struct column bank_columns[] = {
    { TEXT(circuit_bank, name, "name", "Bank") },
    { REAL(circuit_bank, open_circuit_v, "open_circuit_v", "Open circuit", "V"), .decimals = 2 },
    { REAL(circuit_bank, resistance_mohm, "resistance_mohm", "Resistance", "mohm"), .decimals = 2 },
    { REAL(circuit_bank, charge_percent, "charge_percent", "At charge", "%"), .decimals = 0 },
    { REAL(circuit_bank, volts_v, "volts_v", "At the posts", "V"), .decimals = 2 },
    { REAL(circuit_bank, current_a, "current_a", "Gives", "A"), .decimals = 1 },
    { REAL(circuit_bank, fault_a, "fault_a", "Short circuit", "A"), .decimals = 0 },
    { TEXT(circuit_bank, wiring, "wiring", "Strings joined") },
    { TEXT(circuit_bank, chemistry, "chemistry", "Chemistry") },
    { REAL(circuit_bank, block_ah, "block_ah", "Unit", "Ah"), .decimals = 0 },
    { REAL(circuit_bank, block_hours, "block_h", "at", "h"), .decimals = 0 },
    { REAL(circuit_bank, block_v, "block_v", "Unit", "V"), .decimals = 0 },
    { WHOLE(circuit_bank, series, "series", "In series", NULL) },
    { WHOLE(circuit_bank, parallel, "parallel", "Strings", NULL) },
    { REAL(circuit_bank, capacity_ah, "capacity_ah", "Bank", "Ah"), .decimals = 0 },
    { REAL(circuit_bank, health_percent, "health_percent", "Health", "%"), .decimals = 0 },
    { REAL(circuit_bank, max_charge_a, "max_charge_a", "Most in", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_bank, max_discharge_a, "max_discharge_a", "Most out", "A"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_bank, limits_from, "limits_from", "Limits are") },
    { REAL(circuit_bank, link_mohm, "link_mohm", "Links", "mohm"), .decimals = 2, .none = NONE_AT_ZERO,
      .quiet = 1 },
    { REAL(circuit_bank, mass_kg, "mass_kg", "Mass", "kg"), .decimals = 0, .none = NONE_AT_ZERO, .quiet = 1 },
};
static const struct row_kind bank_kind = ROW_KIND("Banks", bank_columns, circuit_bank);

static const struct column block_columns[] = {
    { TEXT(circuit_block, bank, "bank", "Bank") },
    { WHOLE(circuit_block, number, "number", "String", NULL) },
    { REAL(circuit_block, current_a, "current_a", "Gives", "A"), .decimals = 2 },
    { REAL(circuit_block, share_percent, "share_percent", "Share", "%"), .decimals = 1 },
};
static const struct row_kind block_kind =
    ROW_KIND("Sharing between paralleled strings", block_columns, circuit_block);

/* What only a hand aboard can fill in. */
struct bank_blank {
    const char *name, *torque, *date_code, *measured;
};

static const struct column blank_columns[] = {
    { TEXT(bank_blank, name, "name", "Bank") },
    { TEXT(bank_blank, torque, "torque", "Torque of the terminals") },
    { TEXT(bank_blank, date_code, "date_code", "Date codes") },
    { TEXT(bank_blank, measured, "volts_measured", "Volts of each unit at rest") },
};
static const struct row_kind blank_kind = ROW_KIND("To be filled in aboard", blank_columns, bank_blank);

/* What no profile can know and a surveyor writes by hand. */
static void show_blanks(struct schedule *s)
{
    struct bank_blank *rows = arena_array(s->maker->arena, s->circuit->bank_count + 1, sizeof *rows);

    if (!rows) {
        s->maker->failed = 1;
        return;
    }
    for (size_t i = 0; i < s->circuit->bank_count; i++)
        rows[i] = (struct bank_blank){ s->circuit->banks[i].name, "__________ Nm", "______________",
                                       "_________________________" };
    schedule_show(s, "To be filled in aboard", &blank_kind, rows, s->circuit->bank_count,
                  "name torque date_code volts_measured");
}

void schedule_banks(struct schedule *s)
{
    const struct circuit *c = s->circuit;

    schedule_rows(s, "banks", &bank_kind, c->banks, c->bank_count, 1);
    schedule_show(
        s, "Bank sheet", &bank_kind, c->banks, c->bank_count,
        "name chemistry block_ah block_h block_v series parallel capacity_ah max_charge_a max_discharge_a "
        "limits_from mass_kg");
    schedule_show(s, "Banks in the circuit", &bank_kind, c->banks, c->bank_count,
                  "name health_percent open_circuit_v resistance_mohm charge_percent volts_v current_a "
                  "fault_a wiring link_mohm");
    schedule_all(s, "blocks", &block_kind, c->blocks, c->block_count, 0);
    show_blanks(s);
}

static const struct column inverter_columns[] = {
    { TEXT(circuit_inverter, name, "name", "Inverter") },
    { TEXT(circuit_inverter, bank_age, "bank_age", "Bank") },
    { REAL(circuit_inverter, charge_percent, "charge_percent", "At charge", "%"), .decimals = 0 },
    { TEXT(circuit_inverter, draw, "draw", "Draw") },
    { REAL(circuit_inverter, ac_w, "ac_w", "AC", "W"), .decimals = 0 },
    { REAL(circuit_inverter, current_a, "current_a", "DC current", "A"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { REAL(circuit_inverter, volts_v, "volts_v", "At its terminals", "V"), .decimals = 2,
      .none = NONE_AT_ZERO },
    { REAL(circuit_inverter, cut_out_v, "cut_out_v", "Cut-out", "V"), .decimals = 1 },
    { REAL(circuit_inverter, most_w, "most_w", "Most it can give", "W"), .decimals = 0 },
    { FLAG(circuit_inverter, holds, "holds", "Stays on") },
};
static const struct row_kind inverter_kind =
    ROW_KIND("Inverter against its cut-out", inverter_columns, circuit_inverter);

static int inverter_holds(const void *row)
{
    return ((const struct circuit_inverter *)row)->holds;
}

void schedule_inverter(struct schedule *s)
{
    const struct circuit *c = s->circuit;

    schedule_rows(s, "inverters", &inverter_kind, c->inverters, c->inverter_count, 1);
    schedule_judge(s, "Inverter against its cut-out", &inverter_kind, c->inverters, c->inverter_count,
                   "name bank_age charge_percent draw ac_w current_a volts_v cut_out_v most_w holds", "holds",
                   inverter_holds);
}

static const struct column scenario_columns[] = {
    { TEXT(circuit_scenario, name, "name", "Scenario") },
    { FLAG(circuit_scenario, solved, "solved", "Volts hold") },
    { REAL(circuit_scenario, bank_a, "bank_a", "From the banks", "A"), .decimals = 0 },
    { REAL(circuit_scenario, lowest_v, "lowest_v", "Lowest", "V"), .decimals = 2, .none = NONE_AT_ZERO },
    { TEXT(circuit_scenario, lowest_node, "lowest_node", "at") },
    { TEXT(circuit_scenario, collapse, "collapse", "Cannot be fed") },
    { REAL(circuit_scenario, wanted_w, "wanted_w", "Wanted", "W"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_scenario, most_w, "most_w", "Most", "W"), .decimals = 0, .none = NONE_AT_ZERO },
};
static const struct row_kind scenario_kind = ROW_KIND("Scenarios", scenario_columns, circuit_scenario);

static int scenario_holds(const void *row)
{
    return ((const struct circuit_scenario *)row)->solved;
}

void schedule_scenarios(struct schedule *s)
{
    const struct circuit *c = s->circuit;

    schedule_rows(s, "scenarios", &scenario_kind, c->scenarios, c->scenario_count, 1);
    schedule_judge(s, "Scenarios", &scenario_kind, c->scenarios, c->scenario_count,
                   "name solved bank_a lowest_v lowest_node collapse wanted_w most_w", "solved",
                   scenario_holds);
}

static const struct column ac_columns[] = {
    { TEXT(circuit_ac_source, name, "name", "AC source") },
    { TEXT(circuit_ac_source, kind, "kind", "Kind") },
    { REAL(circuit_ac_source, limit_w, "limit_w", "Limit", "W"), .decimals = 0 },
    { REAL(circuit_ac_source, load_w, "load_w", "Asked", "W"), .decimals = 0 },
    { FLAG(circuit_ac_source, carries, "carries", "Carries it") },
    { TEXT(circuit_ac_source, neutral, "neutral", "Neutral and earth joined") },
    { TEXT(circuit_ac_source, rcd, "rcd", "Residual-current device") },
};
static const struct row_kind ac_kind = ROW_KIND("AC sources, one at a time", ac_columns, circuit_ac_source);

static int source_carries(const void *row)
{
    return ((const struct circuit_ac_source *)row)->carries;
}

void schedule_sources(struct schedule *s)
{
    const struct circuit *c = s->circuit;

    schedule_rows(s, "ac_sources", &ac_kind, c->ac_sources, c->ac_source_count, 1);
    schedule_judge(s, "AC sources, one at a time", &ac_kind, c->ac_sources, c->ac_source_count,
                   "name kind limit_w load_w carries neutral rcd", "carries", source_carries);
}

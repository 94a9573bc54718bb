/* sheets_cables.c - cable, fuse and panel schedules, volts at every node, labels and the bill of materials.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/* The fixed fields first, in their order; then what else is known of a run. */
static const struct column cable_columns[] = {
    { TEXT(circuit_cable, name, "name", "Cable") },
    { TEXT(circuit_cable, from, "from", "From") },
    { TEXT(circuit_cable, to, "to", "To") },
    { REAL(circuit_cable, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_cable, length_m, "length_m", "One way", "m"), .decimals = 1 },
    { REAL(circuit_cable, area_mm2, "area_mm2", "Size", "mm2"), .decimals = 1 },
    { REAL(circuit_cable, installed_mm2, "installed_mm2", "Installed", "mm2"), .decimals = 1, .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, awg, "awg", "AWG") },
    { REAL(circuit_cable, resistance_mohm, "resistance_mohm", "Loop", "mohm"), .decimals = 2 },
    { REAL(circuit_cable, drop_v, "drop_v", "Drop", "V"), .decimals = 3 },
    { REAL(circuit_cable, rule_drop_v, "rule_drop_v", "Drop by the rule", "V"), .decimals = 3 },
    { REAL(circuit_cable, drop_percent, "drop_percent", "Drop", "%"), .decimals = 2 },
    { REAL(circuit_cable, total_drop_percent, "total_drop_percent", "Drop from the source", "%"), .decimals = 2 },
    { REAL(circuit_cable, drop_limit_percent, "drop_limit_percent", "Limit", "%"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_cable, ampacity_a, "ampacity_a", "Ampacity", "A"), .decimals = 0 },
    { REAL(circuit_cable, fuse_a, "fuse_a", "Fuse", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { FLAG(circuit_cable, fuse_ok, "fuse_ok", "Fuse right") },
    { REAL(circuit_cable, fault_a, "fault_a", "Fault current", "A"), .decimals = 0 },
    { REAL(circuit_cable, copper_kg, "copper_kg", "Copper", "kg"), .decimals = 2 },
    { TEXT(circuit_cable, status, "status", "Verdict") },
    { TEXT(circuit_cable, size, "size", "Size") },
    { TEXT(circuit_cable, printed, "printed", "As printed") },
    { TEXT(circuit_cable, system, "system", "System") },
    { REAL(circuit_cable, design_a, "design_a", "Largest current", "A"), .decimals = 1 },
    { TEXT(circuit_cable, design_scenario, "design_scenario", "When") },
    { REAL(circuit_cable, return_m, "return_m", "Way back", "m"), .decimals = 1 },
    { WHOLE(circuit_cable, runs, "runs", "Runs", NULL) },
    { REAL(circuit_cable, conductor_c, "conductor_c", "Conductor", "C"), .decimals = 0 },
    { REAL(circuit_cable, rule_total_drop_percent, "rule_total_drop_percent", "Drop by the rule, from the source", "%"),
      .decimals = 2 },
    { TEXT(circuit_cable, limit_why, "limit_why", "Limit because") },
    { REAL(circuit_cable, base_ampacity_a, "base_ampacity_a", "Table", "A"), .decimals = 0 },
    { REAL(circuit_cable, column_c, "column_c", "Column", "C"), .decimals = 0 },
    { REAL(circuit_cable, engine_factor, "engine_factor", "Engine space", NULL), .decimals = 2 },
    { REAL(circuit_cable, bundle_factor, "bundle_factor", "Bundle", NULL), .decimals = 2 },
    { REAL(circuit_cable, ampacity_margin_percent, "ampacity_margin_percent", "To spare", "%"), .decimals = 0 },
    { REAL(circuit_cable, drop_margin_percent, "drop_margin_percent", "Points of drop to spare", "%"), .decimals = 2 },
    { REAL(circuit_cable, fuse_min_a, "fuse_min_a", "Fuse from", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_cable, fuse_max_a, "fuse_max_a", "to", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, fuse_class, "fuse_class", "Class") },
    { REAL(circuit_cable, fuse_interrupt_a, "fuse_interrupt_a", "Breaks", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, fuse_note, "fuse_note", "Fuse, remark") },
    { REAL(circuit_cable, fault_far_a, "fault_far_a", "At the far end", "A"), .decimals = 0 },
    { REAL(circuit_cable, withstand_s, "withstand_s", "Bears it for", "s"), .decimals = 3 },
    { TEXT(circuit_cable, limited_by, "limited_by", "Sized by") },
    { REAL(circuit_cable, reactance_mohm, "reactance_mohm", "Reactance", "mohm"), .decimals = 2, .none = NONE_AT_ZERO },
    { REAL(circuit_cable, protective_mm2, "protective_mm2", "Protective conductor", "mm2"), .decimals = 1,
      .none = NONE_AT_ZERO },
};
static const struct row_kind cable_kind = ROW_KIND("Cables", cable_columns, circuit_cable);
const struct row_kind *const cable_row_kind = &cable_kind;

static const struct column node_columns[] = {
    { TEXT(circuit_node, name, "name", "Node") },
    { REAL(circuit_node, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { TEXT(circuit_node, kind, "kind", "Is a") },
    { TEXT(circuit_node, system, "system", "System") },
    { REAL(circuit_node, drop_percent, "drop_percent", "Drop from the source", "%"), .decimals = 2 },
    { REAL(circuit_node, fault_a, "fault_a", "Fault current", "A"), .decimals = 0 },
};
static const struct row_kind node_kind = ROW_KIND("Volts at every node", node_columns, circuit_node);

static const struct column tree_columns[] = {
    { TEXT(circuit_branch, twig, "node", "Node") },
    { REAL(circuit_branch, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { REAL(circuit_branch, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_branch, drop_percent, "drop_percent", "Lost", "%"), .decimals = 1 },
    { TEXT(circuit_branch, cable, "cable", "Through") },
};
static const struct row_kind tree_kind = ROW_KIND("The tree, from source to load", tree_columns, circuit_branch);

static const struct column bank_columns[] = {
    { TEXT(circuit_bank, name, "name", "Bank") },
    { REAL(circuit_bank, open_circuit_v, "open_circuit_v", "Open circuit", "V"), .decimals = 2 },
    { REAL(circuit_bank, resistance_mohm, "resistance_mohm", "Resistance", "mohm"), .decimals = 2 },
    { REAL(circuit_bank, charge_percent, "charge_percent", "At charge", "%"), .decimals = 0 },
    { REAL(circuit_bank, volts_v, "volts_v", "At the posts", "V"), .decimals = 2 },
    { REAL(circuit_bank, current_a, "current_a", "Gives", "A"), .decimals = 1 },
    { REAL(circuit_bank, fault_a, "fault_a", "Short circuit", "A"), .decimals = 0 },
    { TEXT(circuit_bank, wiring, "wiring", "Strings joined") },
};
static const struct row_kind bank_kind = ROW_KIND("Banks", bank_columns, circuit_bank);

static const struct column block_columns[] = {
    { TEXT(circuit_block, bank, "bank", "Bank") },
    { WHOLE(circuit_block, number, "number", "String", NULL) },
    { REAL(circuit_block, current_a, "current_a", "Gives", "A"), .decimals = 2 },
    { REAL(circuit_block, share_percent, "share_percent", "Share", "%"), .decimals = 1 },
};
static const struct row_kind block_kind = ROW_KIND("Sharing between paralleled strings", block_columns, circuit_block);

static const struct column load_columns[] = {
    { TEXT(circuit_load, name, "name", "Load") },
    { TEXT(circuit_load, node, "node", "Node") },
    { TEXT(circuit_load, behaves, "behaves", "Behaves as") },
    { REAL(circuit_load, power_w, "power_w", "Power", "W"), .decimals = 0 },
    { REAL(circuit_load, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_load, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { REAL(circuit_load, drop_percent, "drop_percent", "Drop", "%"), .decimals = 2 },
    { FLAG(circuit_load, critical, "critical", "Strict limit") },
};
static const struct row_kind load_kind = ROW_KIND("Loads", load_columns, circuit_load);

static const struct column inverter_columns[] = {
    { TEXT(circuit_inverter, name, "name", "Inverter") },
    { TEXT(circuit_inverter, bank_age, "bank_age", "Bank") },
    { REAL(circuit_inverter, charge_percent, "charge_percent", "At charge", "%"), .decimals = 0 },
    { TEXT(circuit_inverter, draw, "draw", "Draw") },
    { REAL(circuit_inverter, ac_w, "ac_w", "AC", "W"), .decimals = 0 },
    { REAL(circuit_inverter, current_a, "current_a", "DC current", "A"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_inverter, volts_v, "volts_v", "At its terminals", "V"), .decimals = 2, .none = NONE_AT_ZERO },
    { REAL(circuit_inverter, cut_out_v, "cut_out_v", "Cut-out", "V"), .decimals = 1 },
    { REAL(circuit_inverter, most_w, "most_w", "Most it can give", "W"), .decimals = 0 },
    { FLAG(circuit_inverter, holds, "holds", "Stays on") },
};
static const struct row_kind inverter_kind = ROW_KIND("Inverter against its cut-out", inverter_columns, circuit_inverter);

static const struct column scenario_columns[] = {
    { TEXT(circuit_scenario, name, "name", "Scenario") },
    { FLAG(circuit_scenario, solved, "solved", "Volts hold") },
    { REAL(circuit_scenario, bank_a, "bank_a", "From the banks", "A"), .decimals = 0 },
    { REAL(circuit_scenario, lowest_v, "lowest_v", "Lowest", "V"), .decimals = 2 },
    { TEXT(circuit_scenario, lowest_node, "lowest_node", "at") },
    { TEXT(circuit_scenario, collapse, "collapse", "Cannot be fed") },
    { REAL(circuit_scenario, wanted_w, "wanted_w", "Wanted", "W"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_scenario, most_w, "most_w", "Most", "W"), .decimals = 0, .none = NONE_AT_ZERO },
};
static const struct row_kind scenario_kind = ROW_KIND("Scenarios", scenario_columns, circuit_scenario);

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

static const struct column item_columns[] = {
    { TEXT(circuit_item, what, "what", "To buy") },
    { REAL(circuit_item, quantity, "quantity", "Quantity", NULL), .decimals = 1 },
    { TEXT(circuit_item, unit, "unit", "Unit") },
    { REAL(circuit_item, copper_kg, "copper_kg", "Copper", "kg"), .decimals = 2, .none = NONE_AT_ZERO },
    { REAL(circuit_item, price, "price", "Price", NULL), .decimals = 2, .none = NONE_AT_ZERO },
};
static const struct row_kind item_kind = ROW_KIND("Bill of materials", item_columns, circuit_item);

static const struct column label_columns[] = {
    { TEXT(circuit_label, text1, "text1", "Line 1") },
    { TEXT(circuit_label, text2, "text2", "Line 2") },
    { TEXT(circuit_label, size, "size", "Size") },
    { TEXT(circuit_label, colour, "colour", "Colour") },
    { WHOLE(circuit_label, quantity, "quantity", "Quantity", NULL) },
};
static const struct row_kind label_kind = ROW_KIND("Labels, one at each end", label_columns, circuit_label);

static const struct column top_columns[] = {
    { TEXT(circuit, finding, "finding", "Finding") },
    { TEXT(circuit, rules, "rules", "Rule set") },
    { TEXT(circuit, rules_title, "rules_title", "Title") },
    { TEXT(circuit, edition, "edition", "Edition") },
    { TEXT(circuit, rules_scope, "scope", "Scope") },
    { TEXT(circuit, scenario, "scenario", "Scenario shown") },
    { REAL(circuit, nominal_v, "nominal_v", "Percent are of", "V"), .decimals = 0 },
    { REAL(circuit, copper_kg, "copper_kg", "Copper in all", "kg"), .decimals = 1 },
    { WHOLE(circuit, unwired_loads, "unwired_loads", "Loads that no cable reaches", NULL) },
    { FLAG(circuit, passes, "passes", "Everything passes") },
};
static const struct row_kind top_kind = ROW_KIND("Circuits", top_columns, circuit);

/* ---- for people: the same cables three times, a schedule for each question ---- */

struct schedule {
    const char *title, *names;
};

static const struct schedule schedules[] = {
    { "Cable schedule", "name from to size current_a length_m drop_v total_drop_percent drop_limit_percent status" },
    { "Currents a cable may carry", "name design_a base_ampacity_a column_c engine_factor bundle_factor ampacity_a "
                                    "ampacity_margin_percent" },
    { "Fuse schedule", "name fuse_a fuse_class fuse_min_a fuse_max_a fault_a fuse_interrupt_a fuse_ok fuse_note" },
};

/* A row kind with only those columns of another that are named, in that order; in the arena, NULL without memory. */
static const struct row_kind *picked(struct arena *arena, const struct row_kind *kind, const struct schedule *of)
{
    struct row_kind *out = arena_zero(arena, sizeof *out);
    struct column *columns = arena_array(arena, kind->column_count, sizeof *columns);
    size_t count = 0;

    if (!out || !columns)
        return NULL;
    for (const char *name = of->names; *name; name += strspn(name, " ")) {
        size_t length = strcspn(name, " ");

        for (size_t i = 0; i < kind->column_count; i++)
            if (strlen(kind->columns[i].name) == length && memcmp(kind->columns[i].name, name, length) == 0)
                columns[count++] = kind->columns[i];
        name += length;
    }
    *out = (struct row_kind){ of->title, columns, count, kind->size };
    return out;
}

static void add_schedules(struct sheet_maker *maker, const struct circuit *circuit)
{
    for (size_t i = 0; i < sizeof schedules / sizeof schedules[0]; i++) {
        const struct row_kind *kind = picked(maker->arena, &cable_kind, &schedules[i]);

        if (!kind) {
            maker->failed = 1;
            return;
        }
        add_table(maker, (struct table){ .kind = kind, .rows = circuit->cables, .row_count = circuit->cable_count,
                                         .where = SHOW_TEXT | SHOW_HTML });
    }
}

static void add_rows(struct sheet_maker *maker, const char *name, const struct row_kind *kind, const void *rows,
                     size_t count)
{
    add_table(maker, (struct table){ .name = name, .kind = kind, .rows = rows, .row_count = count,
                                     .where = SHOW_TEXT | SHOW_JSON | SHOW_HTML });
}

const struct sheet *sheet_cables(struct arena *arena, const struct circuit *circuit)
{
    struct sheet_maker maker = sheet_begin(arena, "Cables, fuses and volts",
                                           arena_print(arena, "%s, by %s, %s", circuit->boat, circuit->rules_title,
                                                       circuit->edition));

    add_list(&maker, "Result", &top_kind, circuit, "finding scope scenario nominal_v copper_kg unwired_loads passes");
    add_table(&maker, (struct table){ .name = NULL, .kind = &top_kind, .rows = circuit, .single = 1, .where = SHOW_JSON });
    add_table(&maker, (struct table){ .name = "cables", .kind = &cable_kind, .rows = circuit->cables,
                                      .row_count = circuit->cable_count, .csv = 1, .where = SHOW_CSV | SHOW_JSON });
    add_schedules(&maker, circuit);
    add_table(&maker, (struct table){ .kind = &tree_kind, .rows = circuit->tree, .row_count = circuit->tree_count,
                                      .where = SHOW_TEXT | SHOW_HTML });
    add_rows(&maker, "nodes", &node_kind, circuit->nodes, circuit->node_count);
    add_rows(&maker, "banks", &bank_kind, circuit->banks, circuit->bank_count);
    add_rows(&maker, "blocks", &block_kind, circuit->blocks, circuit->block_count);
    add_rows(&maker, "loads", &load_kind, circuit->loads, circuit->load_count);
    add_rows(&maker, "inverters", &inverter_kind, circuit->inverters, circuit->inverter_count);
    add_rows(&maker, "scenarios", &scenario_kind, circuit->scenarios, circuit->scenario_count);
    add_rows(&maker, "ac_sources", &ac_kind, circuit->ac_sources, circuit->ac_source_count);
    add_rows(&maker, "items", &item_kind, circuit->items, circuit->item_count);
    add_rows(&maker, "labels", &label_kind, circuit->labels, circuit->label_count);
    for (int c = 0; c < CAUTIONS; c++)
        add_caution(&maker, (enum caution)c);
    return sheet_made(&maker);
}

/* sheets_cables_places.c - what hangs where: the tree, the nodes, the loads.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

/*
 * Schedules of what hangs where: circuits, panels with their ways, the tree, nodes and loads. Each is a
 * function of the table in sheets_cables.c: the rows for machines by schedule_rows, then the columns that
 * people see, in the order in which a reader asks for them; "name=Heading" renames one.
 */

static const struct column service_columns[] = {
    { WHOLE(circuit_service, number, "number", "No.", NULL) },
    { TEXT(circuit_service, name, "name", "Circuit") },
    { TEXT(circuit_service, category, "category", "Category") },
    { TEXT(circuit_service, supply, "supply", "Fed from") },
    { TEXT(circuit_service, system, "system", "System") },
    { REAL(circuit_service, nominal_v, "nominal_v", "Circuit", "V"), .decimals = 0 },
    { REAL(circuit_service, power_w, "power_w", "Power", "W"), .decimals = 0 },
    { REAL(circuit_service, nominal_a, "nominal_a", "Nominal", "A"), .decimals = 1 },
    { REAL(circuit_service, peak_a, "peak_a", "Peak", "A"), .decimals = 1 },
    { REAL(circuit_service, duty_percent, "duty_percent", "Duty", "%"), .decimals = 0 },
    { REAL(circuit_service, breaker_a, "breaker_a", "Breaker", "A"), .decimals = 1, .trim = 1,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_service, breaker_from, "breaker_from", "Breaker is") },
    { TEXT(circuit_service, remark, "remark", "Remark") },
    { TEXT(circuit_service, cables, "cables", "Cables") },
    { TEXT(circuit_service, isolator, "isolator", "Isolator") },
    { REAL(circuit_service, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_service, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { REAL(circuit_service, drop_percent, "drop_percent", "Drop", "%"), .decimals = 2 },
};
static const struct row_kind service_kind = ROW_KIND("Circuit schedule", service_columns, circuit_service);

void schedule_circuits(struct schedule *s)
{
    const struct circuit_service *rows = s->circuit->services;
    size_t count = s->circuit->service_count;

    schedule_rows(s, "circuits", &service_kind, rows, count, 1);
    schedule_show(s, "Circuit schedule", &service_kind, rows, count,
                  "number name category supply nominal_v=System power_w nominal_a peak_a duty_percent");
    schedule_show(s, "Circuits as they run", &service_kind, rows, count,
                  "number name breaker_a breaker_from cables isolator current_a volts_v drop_percent remark");
    if (!s->only_json && *s->circuit->unwired)
        add_note(s->maker,
                 arena_print(s->maker->arena, "In no schedule, as no cable of the profile reaches them: %s.",
                             s->circuit->unwired));
    if (!s->only_json)
        add_note(
            s->maker,
            "Before or after the isolator, and what fails when a circuit goes dark: not known, the profile "
            "does not say.");
}

static const struct column way_columns[] = {
    { TEXT(circuit_way, panel, "panel", "Panel"), .where = SHOW_CSV | SHOW_JSON },
    { WHOLE(circuit_way, number, "way", "Way", NULL) },
    { TEXT(circuit_way, legend, "legend", "Legend") },
    { REAL(circuit_way, breaker_a, "breaker_a", "Breaker", "A"), .decimals = 1, .trim = 1,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_way, breaker_from, "breaker_from", "Breaker is") },
    { TEXT(circuit_way, served_by, "served_by", "Cable or circuit") },
    { TEXT(circuit_way, flow, "flow", "Flow") },
    { REAL(circuit_way, expected_a, "expected_a", "Expected", "A"), .decimals = 1 },
    { WHOLE(circuit_way, poles, "poles", "Poles", NULL), .none = NONE_AT_ZERO, .quiet = 1 },
    { TEXT(circuit_way, remark, "remark", "Remark") },
};
static const struct row_kind way_kind = ROW_KIND("Ways of the panels", way_columns, circuit_way);

static const struct column panel_columns[] = {
    { TEXT(circuit_panel, name, "name", "Panel") },
    { TEXT(circuit_panel, system, "system", "System") },
    { TEXT(circuit_panel, feeder, "feeder", "Fed by") },
    { REAL(circuit_panel, feeder_fuse_a, "feeder_fuse_a", "Feeder's device", "A"), .decimals = 1, .trim = 1,
      .none = NONE_AT_ZERO },
    { REAL(circuit_panel, feeder_ampacity_a, "feeder_ampacity_a", "Feeder's ampacity", "A"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { REAL(circuit_panel, connected_a, "connected_a", "Connected", "A"), .decimals = 1 },
    { REAL(circuit_panel, diversified_a, "diversified_a", "With diversity", "A"), .decimals = 1 },
    { REAL(circuit_panel, charging_a, "charging_a", "Charging", "A"), .decimals = 1, .none = NONE_AT_ZERO,
      .quiet = 1 },
    { REAL(circuit_panel, expected_a, "expected_a", "Expected", "A"), .decimals = 1 },
    { REAL(circuit_panel, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { ROWS(circuit_panel, ways, way_count, "ways", "Ways", way_kind) },
};
static const struct row_kind panel_kind = ROW_KIND("Panel schedule", panel_columns, circuit_panel);

void schedule_panels(struct schedule *s)
{
    const struct circuit *c = s->circuit;

    schedule_all(s, "panels", &panel_kind, c->panels, c->panel_count, 0);
    if (s->csv)
        add_table(
            s->maker,
            (struct table){
                .kind = &way_kind, .rows = c->ways, .row_count = c->way_count, .csv = 1, .where = SHOW_CSV });
    if (!s->only_json && c->panel_count > 0)
        add_note(s->maker,
                 "Breakers of panel ways called proposed carry the circuit with a quarter to spare; their "
                 "conductors are not in the profile: fit the rating that protects them. Spare ways: not "
                 "known.");
}

static const struct column tree_columns[] = {
    { TEXT(circuit_branch, twig, "node", "Node"), .where = SHOW_TEXT | SHOW_HTML },
    { TEXT(circuit_branch, name, "node", "Node"), .where = SHOW_CSV | SHOW_JSON },
    { WHOLE(circuit_branch, depth, "depth", "Depth", NULL), .where = SHOW_CSV | SHOW_JSON },
    { REAL(circuit_branch, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { REAL(circuit_branch, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_branch, drop_percent, "drop_percent", "Lost", "%"), .decimals = 1 },
    { TEXT(circuit_branch, cable, "cable", "Through") },
};
static const struct row_kind tree_kind =
    ROW_KIND("The tree, from source to load", tree_columns, circuit_branch);

void schedule_tree(struct schedule *s)
{
    schedule_all(s, "tree", &tree_kind, s->circuit->tree, s->circuit->tree_count, 1);
}

static const struct column node_columns[] = {
    { TEXT(circuit_node, name, "name", "Node") },
    { REAL(circuit_node, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { TEXT(circuit_node, kind, "kind", "Is a") },
    { TEXT(circuit_node, system, "system", "System") },
    { REAL(circuit_node, drop_percent, "drop_percent", "Drop from the source", "%"), .decimals = 2 },
    { REAL(circuit_node, fault_a, "fault_a", "Fault current", "A"), .decimals = 0 },
};
static const struct row_kind node_kind = ROW_KIND("Volts at every node", node_columns, circuit_node);

void schedule_nodes(struct schedule *s)
{
    schedule_all(s, "nodes", &node_kind, s->circuit->nodes, s->circuit->node_count, 1);
}

static const struct column load_columns[] = {
    { TEXT(circuit_load, name, "name", "Load") },
    { TEXT(circuit_load, node, "node", "Node") },
    { TEXT(circuit_load, behaves, "behaves", "Behaves as") },
    { REAL(circuit_load, power_w, "power_w", "Power", "W"), .decimals = 0 },
    { REAL(circuit_load, diversity_percent, "diversity_percent", "Counted", "%"), .decimals = 0 },
    { REAL(circuit_load, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_load, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { REAL(circuit_load, drop_percent, "drop_percent", "Drop", "%"), .decimals = 2 },
    { FLAG(circuit_load, critical, "critical", "Strict limit") },
};
static const struct row_kind load_kind = ROW_KIND("Loads", load_columns, circuit_load);

void schedule_loads(struct schedule *s)
{
    schedule_all(s, "loads", &load_kind, s->circuit->loads, s->circuit->load_count, 1);
}

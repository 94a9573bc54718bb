/* sheets_cables_places.c - what hangs where: the tree, the nodes, the loads.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

static const struct column tree_columns[] = {
    { TEXT(circuit_branch, twig, "node", "Node"), .where = SHOW_TEXT | SHOW_HTML },
    { TEXT(circuit_branch, name, "node", "Node"), .where = SHOW_CSV | SHOW_JSON },
    { WHOLE(circuit_branch, depth, "depth", "Depth", NULL), .where = SHOW_CSV | SHOW_JSON },
    { REAL(circuit_branch, volts_v, "volts_v", "Volts", "V"), .decimals = 2 },
    { REAL(circuit_branch, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_branch, drop_percent, "drop_percent", "Lost", "%"), .decimals = 1 },
    { TEXT(circuit_branch, cable, "cable", "Through") },
};
static const struct row_kind tree_kind = ROW_KIND("The tree, from source to load", tree_columns, circuit_branch);

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

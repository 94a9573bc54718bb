/* sheets_cables_runs.c - every run of cable and every device: where it goes, what it loses, what it carries.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "output/columns.h"
#include "output/sheets.h"
#include "output/sheets_cables.h"

/*
 * Schedules of runs: cables, fuses with the remarks they make, and what is wrong with each.
 * A cable has more columns than paper has room, so people get several tables of the same
 * rows, each with its number and name first.
 */

/* The fixed fields first, in their order; then what else is known of a run. */
static const struct column cable_columns[] = {
    { TEXT(circuit_cable, name, "name", "Cable") },
    { TEXT(circuit_cable, from, "from", "From") },
    { TEXT(circuit_cable, to, "to", "To") },
    { REAL(circuit_cable, current_a, "current_a", "Current", "A"), .decimals = 1 },
    { REAL(circuit_cable, length_m, "length_m", "One way", "m"), .decimals = 1 },
    { REAL(circuit_cable, area_mm2, "area_mm2", "Size", "mm2"), .decimals = 1 },
    { REAL(circuit_cable, installed_mm2, "installed_mm2", "Installed", "mm2"), .decimals = 1,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, awg, "awg", "AWG") },
    { REAL(circuit_cable, resistance_mohm, "resistance_mohm", "Loop", "mohm"), .decimals = 2 },
    { REAL(circuit_cable, drop_v, "drop_v", "Drop", "V"), .decimals = 3 },
    { REAL(circuit_cable, rule_drop_v, "rule_drop_v", "Drop by the rule", "V"), .decimals = 3,
      .none = NONE_BELOW_ZERO },
    { REAL(circuit_cable, drop_percent, "drop_percent", "Drop", "%"), .decimals = 2 },
    { REAL(circuit_cable, total_drop_percent, "total_drop_percent", "Drop from the source", "%"),
      .decimals = 2 },
    { REAL(circuit_cable, drop_limit_percent, "drop_limit_percent", "Limit", "%"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { REAL(circuit_cable, ampacity_a, "ampacity_a", "Ampacity", "A"), .decimals = 0 },
    { REAL(circuit_cable, fuse_a, "fuse_a", "Fuse", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
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
    { WHOLE(circuit_cable, area_runs, "area_runs", "Runs that pass", NULL) },
    { REAL(circuit_cable, conductor_c, "conductor_c", "Conductor", "C"), .decimals = 0 },
    { REAL(circuit_cable, rule_total_drop_percent, "rule_total_drop_percent",
           "Drop by the rule, from the source", "%"),
      .decimals = 2, .none = NONE_BELOW_ZERO, .quiet = 1 },
    { TEXT(circuit_cable, limit_why, "limit_why", "Limit because") },
    { REAL(circuit_cable, base_ampacity_a, "base_ampacity_a", "Table", "A"), .decimals = 0 },
    { REAL(circuit_cable, column_c, "column_c", "Column", "C"), .decimals = 0 },
    { REAL(circuit_cable, engine_factor, "engine_factor", "Engine space", NULL), .decimals = 2 },
    { REAL(circuit_cable, bundle_factor, "bundle_factor", "Bundle", NULL), .decimals = 2 },
    { REAL(circuit_cable, ampacity_margin_percent, "ampacity_margin_percent", "To spare", "%"),
      .decimals = 0 },
    { REAL(circuit_cable, judged_drop_percent, "judged_drop_percent", "Drop judged", "%"), .decimals = 2 },
    { TEXT(circuit_cable, drop_scenario, "drop_scenario", "When it drops most") },
    { REAL(circuit_cable, drop_margin_percent, "drop_margin_percent", "Points of drop to spare", "%"),
      .decimals = 2 },
    { REAL(circuit_cable, fuse_min_a, "fuse_min_a", "Fuse from", "A"), .decimals = 1, .trim = 1,
      .none = NONE_AT_ZERO },
    { REAL(circuit_cable, fuse_max_a, "fuse_max_a", "to", "A"), .decimals = 1, .trim = 1,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, fuse_class, "fuse_class", "Class") },
    { REAL(circuit_cable, fuse_interrupt_a, "fuse_interrupt_a", "Breaks", "A"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, fuse_note, "fuse_note", "Fuse, remark") },
    { REAL(circuit_cable, fault_far_a, "fault_far_a", "At the far end", "A"), .decimals = 0 },
    { REAL(circuit_cable, withstand_s, "withstand_s", "Bears it for", "s"), .decimals = 3 },
    { TEXT(circuit_cable, limited_by, "limited_by", "Sized by") },
    { REAL(circuit_cable, reactance_mohm, "reactance_mohm", "Reactance", "mohm"), .decimals = 2,
      .none = NONE_AT_ZERO },
    { REAL(circuit_cable, protective_mm2, "protective_mm2", "Protective conductor", "mm2"), .decimals = 1,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, number, "number", "No.") },
    { TEXT(circuit_cable, size_metric, "size_metric", "Size") },
    { TEXT(circuit_cable, size_us, "size_us", "Size") },
    { TEXT(circuit_cable, length_known, "length_known", "Length") },
    { REAL(circuit_cable, length_low_m, "length_low_m", "At least", "m"), .decimals = 1, .none = NONE_AT_ZERO,
      .quiet = 1 },
    { REAL(circuit_cable, length_high_m, "length_high_m", "At most", "m"), .decimals = 1,
      .none = NONE_AT_ZERO, .quiet = 1 },
    { REAL(circuit_cable, insulation_c, "insulation_c", "Insulation", "C"), .decimals = 0,
      .none = NONE_AT_ZERO },
    { TEXT(circuit_cable, place, "place", "Place") },
    { WHOLE(circuit_cable, bundle, "bundle", "Together", NULL), .none = NONE_AT_ZERO },
    { FLAG(circuit_cable, sheathed, "sheathed", "Sheathed") },
    { REAL(circuit_cable, joints_mohm, "joints_mohm", "Joints", "mohm"), .decimals = 2 },
    { TEXT(circuit_cable, colours, "colours", "Colours") },
    { REAL(circuit_cable, used_percent, "used_percent", "Used", "%"), .decimals = 0 },
    { WHOLE(circuit_cable, lugs, "lugs", "Lugs", NULL), .none = NONE_AT_ZERO },
};
static const struct row_kind cable_kind = ROW_KIND("Cables", cable_columns, circuit_cable);
const struct row_kind *const cable_row_kind = &cable_kind;

static int cable_passes(const void *row)
{
    return ((const struct circuit_cable *)row)->passes;
}

/* Where it goes, how it lies, what it loses, what it may carry: a table for each question. */
void schedule_cables(struct schedule *s)
{
    const struct circuit_cable *rows = s->circuit->cables;
    size_t count = s->circuit->cable_count;

    schedule_rows(s, "cables", &cable_kind, rows, count, 1);
    schedule_show(s, "Cable schedule", &cable_kind, rows, count,
                  s->us ? "number name from to size_us" : "number name from to size_metric");
    schedule_show(s, "How the cables run", &cable_kind, rows, count,
                  "number name length_m return_m length_low_m=Guess_from length_high_m=to insulation_c=Rated "
                  "colours place bundle=In_bundle lugs");
    schedule_judge(s, "Volts lost", &cable_kind, rows, count,
                   "number name current_a drop_v=Lost total_drop_percent=Measured_total "
                   "judged_drop_percent=Judged drop_limit_percent drop_margin_percent=To_spare status",
                   "status", cable_passes);
    schedule_show(
        s, "Currents a cable may carry", &cable_kind, rows, count,
        "number name design_a design_scenario base_ampacity_a column_c engine_factor bundle_factor runs "
        "ampacity_a used_percent");
}

static const struct column fuse_columns[] = {
    { TEXT(circuit_fuse, number, "number", "No.") },
    { TEXT(circuit_fuse, cable_number, "cable_number", "Cable") },
    { TEXT(circuit_fuse, cable, "cable", "Protects") },
    { TEXT(circuit_fuse, location, "location", "Stands at") },
    { TEXT(circuit_fuse, device, "device", "Device") },
    { TEXT(circuit_fuse, class_name, "class", "Class") },
    { TEXT(circuit_fuse, fitted, "fitted", "State") },
    { REAL(circuit_fuse, rating_a, "rating_a", "Rating", "A"), .decimals = 1, .trim = 1 },
    { REAL(circuit_fuse, rated_v, "rated_v", "Rated", "V"), .decimals = 0, .none = NONE_AT_ZERO },
    { REAL(circuit_fuse, nominal_v, "nominal_v", "Circuit", "V"), .decimals = 0 },
    { REAL(circuit_fuse, breaking_a, "breaking_ka", "Breaks", "kA"), .decimals = 1, .scale = 1e-3,
      .none = NONE_AT_ZERO },
    { REAL(circuit_fuse, fault_a, "fault_ka", "Short there", "kA"), .decimals = 1, .scale = 1e-3,
      .none = NONE_AT_ZERO },
    { REAL(circuit_fuse, distance_m, "distance_m", "Distance", "m"), .decimals = 2, .none = NONE_AT_ZERO },
    { REAL(circuit_fuse, distance_limit_m, "distance_limit_m", "Allowed", "m"), .decimals = 2,
      .none = NONE_BELOW_ZERO },
    { FLAG(circuit_fuse, sheathed, "sheathed", "Sheathed") },
    { REAL(circuit_fuse, design_a, "design_a", "Carries", "A"), .decimals = 1 },
    { REAL(circuit_fuse, least_a, "least_a", "From", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
    { REAL(circuit_fuse, most_a, "most_a", "To", "A"), .decimals = 1, .trim = 1, .none = NONE_AT_ZERO },
    { FLAG(circuit_fuse, right, "right", "Right") },
    { TEXT(circuit_fuse, remark, "remark", "Remark") },
    { WHOLE(circuit_fuse, spare, "spare", "Spare", NULL) },
    { TEXT(circuit_fuse, note, "note", "Note") },
};
static const struct row_kind fuse_kind = ROW_KIND("Fuses", fuse_columns, circuit_fuse);

static const struct column remark_columns[] = {
    { TEXT(circuit_remark, remark, "remark", "Remark") },
    { TEXT(circuit_remark, meaning, "meaning", "Means") },
};
static const struct row_kind remark_kind = ROW_KIND("Remarks on fuses", remark_columns, circuit_remark);

/* Those that are not right, with the figures that say why. */
static void show_wrong(struct schedule *s)
{
    struct circuit_fuse *wrong = arena_array(s->maker->arena, s->circuit->fuse_count + 1, sizeof *wrong);
    size_t count = 0;

    if (!wrong) {
        s->maker->failed = 1;
        return;
    }
    for (size_t i = 0; i < s->circuit->fuse_count; i++)
        if (!s->circuit->fuses[i].right)
            wrong[count++] = s->circuit->fuses[i];
    schedule_show(s, "Fuses to put right", &fuse_kind, wrong, count, "number cable note");
}

static int fuse_right(const void *row)
{
    return ((const struct circuit_fuse *)row)->right;
}

/* What every row says alike is not said: nobody in a sheath, all fitted. */
static const char *fuse_names(struct schedule *s)
{
    int sheathed = 0, proposed = 0;

    for (size_t i = 0; i < s->circuit->fuse_count; i++) {
        sheathed |= s->circuit->fuses[i].sheathed;
        proposed |= strcmp(s->circuit->fuses[i].fitted, "proposed") == 0;
    }
    return arena_print(
        s->maker->arena,
        "number cable location device rated_v distance_m=Away distance_limit_m=Limit%s spare%s",
        sheathed ? " sheathed=In_sheath" : "", proposed ? " fitted" : "");
}

void schedule_fuses(struct schedule *s)
{
    const struct circuit *c = s->circuit;
    const char *names = fuse_names(s);

    schedule_rows(s, "fuses", &fuse_kind, c->fuses, c->fuse_count, 1);
    schedule_show(s, "Fuse schedule", &fuse_kind, c->fuses, c->fuse_count, names ? names : "?");
    schedule_judge(
        s, "Fuses judged", &fuse_kind, c->fuses, c->fuse_count,
        "number cable design_a rating_a least_a=Fits_from most_a=to fault_ka breaking_ka right remark",
        "right", fuse_right);
    schedule_show(s, "What the remarks mean", &remark_kind, c->remarks, c->remark_count, "remark meaning");
    show_wrong(s);
    if (*c->without_device && !s->only_json)
        add_note(s->maker, arena_print(s->maker->arena, "No device is asked for at the beginning of: %s.",
                                       c->without_device));
}

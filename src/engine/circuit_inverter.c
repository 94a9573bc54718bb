/* circuit_inverter.c - inverters against their cut-out, and AC sources against their limits.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/circuit_report.h"
#include "parts/machine.h"
#include "parts/rounding.h"

/*
 * Does the inverter stay on? Alone on its path, everything else off, bank full and half, new and aged (80 %
 * of capacity, twice the resistance), at its rating and at surge: constant power is solved from post to
 * terminal, and the volts at the terminals are held against cut_out. The most it can give before they come
 * down to it is found by bisection.
 */

/* One inverter alone on its part of the network. */
struct trial {
    struct part_net *part;
    size_t load, node;
    const struct inverter *inverter;
    struct inverter_model physics;
};

/* Terminal volts at an AC output; 0: the volts collapse. */
static double terminal_volts(const struct model *m, const struct trial *t, double ac_w)
{
    t->part->loads[t->load].value = inverter_input_w(&t->physics, ac_w);
    if (net_solve(t->part->plan, &t->part->net, t->part->state, 0) != STATUS_OK)
        return 0;
    return net_volts(&t->part->net, t->part->state, m->local[t->node]);
}

/* AC output [W] at which the terminals come down to the cut-out; 0: they lie under it without load. */
static double most_output(const struct model *m, const struct trial *t, double cut_out)
{
    double low = 0, high = 4 * t->inverter->power.value;

    if (terminal_volts(m, t, 0) < cut_out)
        return 0;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;

        if (terminal_volts(m, t, middle) >= cut_out)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* One row: the terminals at what is asked, and the most that the cut-out lets it give. */
static void try_inverter(const struct model *m, const struct trial *t, struct bank_state_of bank, int surge,
                         struct circuit_inverter *row)
{
    double cut_out = t->inverter->cut_out.value;
    double asked =
        surge ? range_or(&t->inverter->surge_power, t->inverter->power.value) : t->inverter->power.value;

    *row = (struct circuit_inverter){ .name = t->inverter->name,
                                      .charge_percent = 100 * bank.charge,
                                      .bank_age = bank.aged ? "aged" : "new",
                                      .draw = surge ? "surge" : "continuous",
                                      .ac_w = asked,
                                      .cut_out_v = cut_out };
    row->most_w = most_output(m, t, cut_out);
    row->dc_w = inverter_input_w(&t->physics, asked);
    row->volts_v = terminal_volts(m, t, asked);
    row->current_a = row->volts_v > 0 ? row->dc_w / row->volts_v : 0;
    row->margin_v = row->volts_v - cut_out;
    row->holds = row->volts_v >= cut_out;
}

/* Bank full and half, new and aged, at rating and at surge: eight rows. Everything else is off, which is
 * kind to it: what else draws at the same time shows in the scenarios. */
static void try_all(struct model *m, const struct trial *t, struct circuit_inverter *rows, size_t *count)
{
    static const double charges[] = { 1, 0.5 };

    for (size_t i = 0; i < t->part->net.load_count; i++) {
        t->part->loads[i].behaves = NET_POWER;
        t->part->loads[i].value = 0;
    }
    for (int charge = 0; charge < 2; charge++)
        for (int aged = 0; aged < 2; aged++) {
            struct bank_state_of bank = { charges[charge], aged };

            model_set_banks(m, bank);
            for (int surge = 0; surge < 2; surge++)
                try_inverter(m, t, bank, surge, &rows[(*count)++]);
        }
}

/* Leaves the model's banks and draws changed: it comes last. */
enum status report_inverters(struct circuit *out, const struct report *r)
{
    struct model *m = r->m;
    struct circuit_inverter *rows = arena_array(m->arena, 8 * m->boat->inverter_count, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    for (size_t p = 0; p < m->graph->part_count; p++)
        for (size_t i = 0; i < m->parts[p].net.load_count; i++) {
            const struct draw *d = &m->parts[p].draws[i];
            struct trial t = { .part = &m->parts[p], .load = i, .node = d->node };

            if (d->kind != DRAW_INVERTER || !m->graph->parts[p].bank)
                continue;
            t.inverter = &m->boat->inverters[d->index];
            t.physics = inverter_model(t.inverter);
            try_all(m, &t, rows, &out->inverter_count);
        }
    out->inverters = rows;
    return STATUS_OK;
}

/* ---- AC sources ---- */

const char *const circuit_residual_current_device = "30 mA, all live poles, 100 ms";

/* Everything that may hang on an AC source at once, loads by their shares [W]. */
static double ac_load_w(const struct boat *boat, int mains, unsigned feed)
{
    double watts = 0, most = 0;

    for (size_t i = 0; i < boat->load_count; i++)
        if (boat->loads[i].supply == SUPPLY_AC || (mains && boat->loads[i].supply == SUPPLY_MAINS))
            add_share(&boat->loads[i], &watts, &most);
    watts = fmax(watts, most);
    for (size_t i = 0; i < boat->charger_count; i++)
        if (boat->chargers[i].fed_by & feed)
            watts += charger_input_w(&boat->chargers[i], boat->chargers[i].current.value *
                                                             bank_nominal_voltage(boat->chargers[i].bank));
    return watts;
}

/* A row; whether it carries its load is told with the rounding of rounding.h. */
static struct circuit_ac_source ac_source(const char *name, const char *kind, double limit_w, double load_w,
                                          const char *neutral)
{
    /* ISO 13297:2020 6.8 as quoted for the neutral */
    return (struct circuit_ac_source){
        name, kind, limit_w, load_w, at_most(load_w, limit_w), neutral, circuit_residual_current_device
    };
}

/* Shore, generators, inverters: what each may be asked to carry at once, and
 * where neutral and earth are joined. */
enum status report_ac(struct circuit *out, const struct report *r)
{
    const struct boat *boat = r->m->boat;
    size_t n = 0;
    struct circuit_ac_source *rows =
        arena_array(r->m->arena, 1 + boat->generator_count + boat->inverter_count, sizeof *rows);

    if (!rows)
        return STATUS_NO_MEMORY;
    if (boat->shore.fitted)
        rows[n++] =
            ac_source("shore", "shore",
                      boat->shore.current.value * range_or(&boat->shore.voltage, boat->ac_voltage.value),
                      ac_load_w(boat, 1, FED_BY_SHORE),
                      "joined ashore only; on board only behind an isolating transformer");
    for (size_t i = 0; i < boat->generator_count; i++)
        rows[n++] = ac_source(boat->generators[i].name, "generator", boat->generators[i].power.value,
                              ac_load_w(boat, 1, FED_BY_GENERATOR), "joined at the generator");
    for (size_t i = 0; i < boat->inverter_count; i++)
        rows[n++] = ac_source(boat->inverters[i].name, "inverter", boat->inverters[i].power.value,
                              ac_load_w(boat, 0, 0),
                              "joined at the inverter by its relay, open while another source feeds");
    out->ac_sources = rows;
    out->ac_source_count = n;
    return STATUS_OK;
}

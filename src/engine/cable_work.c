/* cable_work.c - the calculation of one run of cable, written out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/cable_work.h"

#include <math.h>

#include "base/arena.h"
#include "parts/feed.h"
#include "parts/fuse.h"

/*
 * The lines of --working for one run, of a cable of a boat or of `cable`: equation with symbols, numbers put
 * in, source. Numbers come from the row as it is shown; what only a step between them needs is worked out
 * anew from the wire, by the same functions. So whoever redoes the arithmetic by hand meets the figure of
 * the sheet. Held by tests/cli/test_cable.c.
 */

/* A text that was made here: without memory there is none, and the whole fails. */
static const char *kept(struct work *w, const char *text)
{
    w->failed |= !text;
    return text;
}

/* "33 CFR 183.425, (a) (read)": with how the source is known. */
static const char *cited(struct work *w, const struct cite *c)
{
    return kept(w, arena_print(w->arena, "%s%s%s (%s)", c->publication, c->clause ? ", " : "",
                               c->clause ? c->clause : "", known_text(c->known)));
}

const char *cable_topic(struct work *w, const struct cable_shown *s, const char *topic)
{
    return s->name ? arena_print(w->arena, "%s, %s", s->name, topic) : topic;
}

/* The loop, that is way out and way back: cold, then at the temperature its
 * current gives it; reactance on AC. */
static void note_resistance(struct work *w, const struct cable_shown *s)
{
    const struct circuit_cable *row = s->row;
    const struct wire *wire = s->wire;
    const char *topic = cable_topic(w, s, "resistance");
    struct wire_ohm cold = wire_ohm(wire, 20);
    double joints = wire->joints_ohm * 1e3, loop = (cold.out + cold.back) * 1e3;
    double out = (cold.out * 1e3 - joints) * wire->runs / wire->length_m,
           back = cold.back * 1e3 * wire->runs / wire->back_m;

    work_note(
        w, topic, "loop at 20 C", loop, "mohm",
        wire->series == AREA_METRIC && conductor_is_nominal(wire->area_m2)
            ? "IEC 60228 class 5, tinned"
            : "17.241 ohm mm2/km x 1.02 for the lay x 1.03 for the tin; an AWG area is that of ASTM B258",
        joints > 0 ? "r L / runs out and back, and joints" : "r L / runs out and back",
        joints > 0 ? "(%.4g x %.4g + %.4g x %.4g) / %.4g + %.4g" : "(%.4g x %.4g + %.4g x %.4g) / %.4g", out,
        wire->length_m, back, wire->back_m, wire->runs, joints);
    work_note(w, topic, "conductor temperature", row->conductor_c, "C", "IEC 60364, from memory",
              "Ta + (Tmax - Ta)(I/Iz)^2", "%.4g + (%.4g - %.4g)(%.4g/%.4g)^2", wire->ambient_c,
              wire->place.insulation_c, wire->ambient_c, row->current_a, row->ampacity_a);
    work_note(w, topic, "loop, warm", row->resistance_mohm, "mohm", "IEC 60028, from memory",
              joints > 0 ? "(R20 - joints)(1 + 0.00393 (T - 20)) + joints" : "R20 (1 + 0.00393 (T - 20))",
              joints > 0 ? "%.5g x (1 + 0.00393 x (%.4g - 20)) + %.4g" : "%.5g x (1 + 0.00393 x (%.4g - 20))",
              loop - joints, row->conductor_c, joints);
    if (row->reactance_mohm > 0)
        work_note(w, topic, "reactance of the loop", row->reactance_mohm, "mohm",
                  "IEC 60364-5-52 annex G, from memory: 0.08 mohm/m at 50 Hz", "x L / runs, out and back",
                  "%.4g x %.4g / %.4g", row->reactance_mohm * wire->runs / (wire->length_m + wire->back_m),
                  wire->length_m + wire->back_m, wire->runs);
}

/* Area and drop by the formula of the set, which decides. A way back of another size has its own L / S. */
static void note_rule_drop(struct work *w, const struct cable_shown *s, const char *topic)
{
    const struct circuit_cable *row = s->row;
    const struct wiring_rules *rules = s->rules;
    const struct wire *wire = s->wire;
    double each = row->current_a / row->runs, loop = row->length_m + row->return_m, joints = wire->joints_ohm;
    const char *source = cited(w, &rules->drop_cite);

    if (s->limit_v > 0)
        work_note(w, topic, "area for the limit", rules->drop_constant * each * loop / s->limit_v, "mm2",
                  source, "constant x I x L / E, L out and back", "%.6g x %.4g x %.4g / %.4g",
                  rules->drop_constant, each, loop, s->limit_v);
    work_note(w, topic, "by the rule", row->rule_drop_v, "V", source,
              kept(w, arena_print(w->arena, "constant x I x L / S%s; as the set writes it: %s",
                                  joints > 0 ? ", and I x joints" : "", rules->drop_formula)),
              joints > 0 ? "%.6g x %.4g x (%.4g/%.4g + %.4g/%.4g) + %.4g x %.4g"
                         : "%.6g x %.4g x (%.4g/%.4g + %.4g/%.4g)",
              rules->drop_constant, each, wire->length_m, wire->area_m2 * 1e6, wire->back_m,
              wire->back_area_m2 * 1e6, row->current_a, joints);
}

/* By the rule where there is one, then what a meter would show: I R on DC; on AC its part
 * along the volts, and the whole. */
static void note_drop(struct work *w, const struct cable_shown *s)
{
    const struct circuit_cable *row = s->row;
    const char *topic = cable_topic(w, s, "drop");
    const struct feed_loop loop = { row->resistance_mohm / 1e3, row->reactance_mohm / 1e3 };
    double cosine = s->power_factor;

    if (s->rules->drop_constant > 0)
        note_rule_drop(w, s, topic);
    if (row->reactance_mohm <= 0) {
        work_note(w, topic, "as it will be measured", row->drop_v, "V", "Ohm", "I x R", "%.4g x %.4g / 1000",
                  row->current_a, row->resistance_mohm);
        return;
    }
    work_note(w, topic, "along the volts", feed_drop(row->current_a, loop, cosine), "V",
              "IEC 60364-5-52 annex G, from memory", "I (R cos phi + X sin phi)",
              "%.4g x (%.4g x %.3g + %.3g x %.3g) / 1000", row->current_a, row->resistance_mohm, cosine,
              row->reactance_mohm, sqrt(fmax(0, 1 - cosine * cosine)));
    work_note(w, topic, "as it will be measured", row->drop_v, "V",
              "solved: what is at right angles to the volts counts too",
              "volts at the near end less volts at the far end", "%.5g - %.5g", s->near_v,
              s->near_v - row->drop_v);
}

/* Table, then its factors one by one; a factor of 1 stands there too, for
 * that it does not apply is an answer. */
static void note_ampacity(struct work *w, const struct cable_shown *s)
{
    const struct circuit_cable *row = s->row;
    const struct wiring_rules *rules = s->rules;
    const char *topic = cable_topic(w, s, "ampacity");

    work_note(w, topic, "of the table", row->base_ampacity_a, "A", cited(w, &rules->ampacity_cite),
              kept(w, arena_print(w->arena, "column for %.0f C%s", row->column_c,
                                  row->interpolated ? ", between two sizes on the logarithms" : "")),
              NULL);
    work_note(w, topic, "corrected", row->ampacity_a, "A",
              kept(w, arena_print(w->arena, "%s; %s", cited(w, &rules->engine_cite),
                                  cited(w, &rules->bundle_cite))),
              "table x engine space x bundle x runs", "%.4g x %.3g x %.3g x %.3g", row->base_ampacity_a,
              row->engine_factor, row->bundle_factor, row->runs);
}

/* How the set finds the largest rating. */
static const char *most_rule(struct arena *arena, const struct wiring_rules *rules, double volts)
{
    switch (volts < wiring_high_from_v ? rules->fuse_low : rules->fuse_high) {
    case FUSE_NOT_ABOVE:
        return "largest standard rating not above the ampacity";
    case FUSE_NEXT_STANDARD:
        return arena_print(arena, "next standard rating from the ampacity, within %.4g of it",
                           rules->fuse_multiple);
    case FUSE_WITHIN_MULTIPLE:
        break;
    }
    return arena_print(arena, "largest standard rating within %.4g x ampacity", rules->fuse_multiple);
}

/* Least by the current, most by the conductor, then which of those it is. */
static void note_fuse(struct work *w, const struct cable_shown *s)
{
    const struct circuit_cable *row = s->row;
    const char *topic = cable_topic(w, s, "fuse");

    work_note(w, topic, "at least", row->fuse_min_a, "A", "common practice: it must not open at the load",
              "smallest standard rating not under I", "%.4g", row->design_a);
    work_note(w, topic, "at most", row->fuse_max_a, "A", cited(w, &s->rules->fuse_cite),
              kept(w, most_rule(w->arena, s->rules, row->nominal_v)), "%.4g", row->ampacity_a);
    if (row->fuse_installed)
        work_note(w, topic, "installed", row->fuse_a, "A", "given", NULL, NULL);
    else if (row->fuse_a > 0)
        work_note(
            w, topic, "chosen", row->fuse_a, "A", "NEC 210.19 (read): 80 % of the rating for hours",
            row->fault_a > 0
                ? "next standard rating from I / 0.8 that breaks the short circuit; at least and at most hold"
                : "next standard rating from I / 0.8; at least and at most hold",
            "%.4g / %.1g", row->design_a, fuse_continuous_share);
}

void cable_work(struct work *w, const struct cable_shown *s)
{
    note_resistance(w, s);
    note_drop(w, s);
    note_ampacity(w, s);
    note_fuse(w, s);
    if (s->row->protective_mm2 > 0)
        work_note(w, cable_topic(w, s, "protective conductor"), "smallest", s->row->protective_mm2, "mm2",
                  "BS 7671 table 54.7 (16 and 35 mm2 read)",
                  "as the phase to 16 mm2, then 16 mm2, over 35 mm2 half of it", "%.4g", s->row->area_mm2);
}

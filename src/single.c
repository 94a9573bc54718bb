/* single.c - one run of cable from what was typed on a command line.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "single.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "bridgedeck.h"
#include "engine/cable_run.h"
#include "profile/keys.h"
#include "profile/values.h"
#include "rules/ruleset.h"

struct reader {
    struct arena *arena;
    struct diag_list *diags;
    int refused;
};

static void refuse(struct reader *r, const char *option, const char *message, const char *hint)
{
    r->refused = 1;
    diag_add(r->diags,
             &(struct diag){ .severity = DIAG_ERROR, .key = option, .message = message, .hint = hint });
}

/* A number with its unit, within bounds as they are typed in the table of keys; untouched where text is
 * NULL. */
static void read_value(struct reader *r, const char *option, const char *text, enum quantity quantity,
                       const char *bounds, int whole, double *out)
{
    struct range range, allowed;
    struct cursor c, b = cursor_make(r->arena, span_of(bounds));

    if (!text)
        return;
    c = cursor_make(r->arena, span_trim(span_of(text)));
    if (!cursor_range(&b, quantity, &allowed) || !cursor_range(&c, quantity, &range) ||
        !cursor_close(&c, NULL))
        refuse(r, option, c.fault.message, c.fault.hint);
    else if (range.low < range.high)
        refuse(r, option, arena_print(r->arena, "\"%s\" is a range", text),
               "one number: the worse end of it");
    else if (range.low < allowed.low || range.high > allowed.high)
        refuse(r, option, arena_print(r->arena, "\"%s\" is out of bounds", text),
               arena_print(r->arena, "%s is allowed", bounds));
    else if (whole && range.value > floor(range.value))
        refuse(r, option, arena_print(r->arena, "\"%s\" is no whole number", text),
               arena_print(r->arena, "%s is allowed", bounds));
    else
        *out = range.value;
}

/* What a profile may say of a cable or a load, this may: the row of its key has quantity and bounds. */
static void read_key(struct reader *r, const char *option, const char *text, const char *kind,
                     const char *name, double *out)
{
    const char *suffix;
    const struct key *key = key_find(kind_find(kind), name, &suffix);

    read_value(r, option, text, key->quantity, key->bounds, (key->flags & KEY_WHOLE) != 0, out);
}

/* "35 mm2", "2 AWG", "8 SAE", "19 x 1.35 mm"; untouched where text is NULL. */
static void read_area_option(struct reader *r, const char *text, struct cable_request *out)
{
    struct range area;
    struct cursor c;
    int series = AREA_METRIC;

    if (!text)
        return;
    c = cursor_make(r->arena, span_trim(span_of(text)));
    if (!cursor_area(&c, &area, &series) || !cursor_close(&c, "35 mm2, 2 AWG, 8 SAE or 19 x 1.35 mm")) {
        refuse(r, "--area", c.fault.message, c.fault.hint);
    } else if (!conductor_area_known(area.value)) {
        refuse(r, "--area", arena_print(r->arena, "no table of conductors has %s", text),
               "from 0.5 mm2 to 240 mm2, or 18 to 4/0 AWG; for more use --runs");
    } else {
        out->area_m2 = area.value;
        out->series = (enum area_series)series;
        out->area_text = text;
    }
}

/* Which of the words was typed; fallback where none was. */
static int read_word(struct reader *r, const char *option, const char *text, const char *one,
                     const char *other, int fallback)
{
    if (!text)
        return fallback;
    if (strcmp(text, one) == 0)
        return 0;
    if (strcmp(text, other) == 0)
        return 1;
    refuse(r, option, arena_print(r->arena, "\"%s\" is neither %s nor %s", text, one, other), NULL);
    return fallback;
}

/* The set that judges, cfr183 where none is named; NULL for all of them, and where the name is refused. */
static const struct wiring_rules *read_rules(struct reader *r, const char *name)
{
    int own = 0;
    const struct wiring_rules *rules = ruleset_find(name ? name : "cfr183", &own);

    if (name && strcmp(name, "all") == 0)
        return NULL;
    if (own)
        refuse(r, "--rules", "a table of your own belongs to a profile", "use the command cables");
    else if (!rules)
        refuse(r, "--rules", arena_print(r->arena, "\"%s\" is no rule set", name),
               "cfr183, abyc-e11, iso10133, iso13297, or all side by side");
    return rules;
}

/* What must be there, and only once. */
static void check_given(struct reader *r, const struct bd_cable_request *q)
{
    if (!q->current && !q->power)
        refuse(r, "--current", "is missing", "--current 30A, or --power 360W");
    if (q->current && q->power)
        refuse(r, "--power", "and --current say the same thing twice", "give one of them");
    if (!q->length)
        refuse(r, "--length", "is missing", "--length 6m, one way along the route");
}

/* By every shipped set. */
static enum status by_all(const struct cable_answer **out, struct arena *arena,
                          const struct cable_request *request)
{
    const struct wiring_rules *sets[] = { ruleset_get(RULES_CFR183), ruleset_get(RULES_ABYC_E11),
                                          ruleset_get(RULES_ISO10133), ruleset_get(RULES_ISO13297) };

    return cable_run_sets(out, arena, request, sets, sizeof sets / sizeof *sets);
}

enum status single_cable(const struct cable_answer **out, struct arena *arena,
                         const struct bd_cable_request *q, struct diag_list *diags)
{
    struct reader r = { arena, diags, 0 };
    struct cable_request request = {
        .volts_v = 12, .insulation_c = 75, .bundle = 2, .runs = 1, .table = q->table
    };
    const struct wiring_rules *rules = read_rules(&r, q->rules);

    check_given(&r, q);
    read_value(&r, "--current", q->current, QUANTITY_CURRENT, "0.001..5000 A", 0, &request.current_a);
    read_value(&r, "--power", q->power, QUANTITY_POWER, "0.001..200000 W", 0, &request.power_w);
    read_value(&r, "--volts", q->volts, QUANTITY_VOLTAGE, "1..1000 V", 0, &request.volts_v);
    read_key(&r, "--power-factor", q->power_factor, "load", "power_factor", &request.power_factor);
    read_key(&r, "--fault", q->fault, "cable", "fuse_interrupt", &request.fault_a);
    read_key(&r, "--length", q->length, "cable", "length", &request.length_m);
    request.length_text = q->length;
    read_key(&r, "--drop", q->drop, "cable", "drop_limit", &request.drop);
    read_key(&r, "--insulation", q->insulation, "cable", "insulation", &request.insulation_c);
    read_key(&r, "--bundle", q->bundle, "cable", "bundle", &request.bundle);
    read_key(&r, "--runs", q->runs, "cable", "runs", &request.runs);
    read_area_option(&r, q->area, &request);
    if (q->power_factor && request.volts_v < wiring_high_from_v)
        refuse(&r, "--power-factor", "is of AC alone, which begins at 50 V here",
               "leave it out, or say --volts 230V");
    request.engine = read_word(&r, "--place", q->place, "cabin", "engine", 0);
    request.units = (enum cable_units)(1 + read_word(&r, "--units", q->units, "metric", "us", -1));
    if (!rules && q->table)
        refuse(&r, "--table", "is made by one rule set", "leave it out, or name one in place of all");
    if (r.refused)
        return STATUS_REFUSED;
    return rules ? cable_run(out, arena, &request, rules) : by_all(out, arena, &request);
}

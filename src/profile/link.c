/* link.c - does the whole boat make sense?
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/link.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "parts/bank.h"
#include "profile/defaults.h"

/*
 * One function for each thing of the boat, called for all of them, in an order that puts what concerns the
 * whole boat first. profile.c sorts the remarks by their lines afterwards.
 */

/* --- saying it --- */

static const struct section *section_named(struct reading *r, const char *kind, const char *name)
{
    return document_find(r->document, *name ? title_of(r, kind, name) : kind);
}

/* At the entry of that key where there is one, else at the head of its section. */
static void fail_at(struct reading *r, const char *kind, const char *name, const char *key,
                    const char *message, const char *hint)
{
    const struct section *s = section_named(r, kind, name);
    const struct entry *e = s ? section_find(s, key) : NULL;

    if (e)
        entry_remark(r->diags, s, e, e->value, message, hint);
    else if (s)
        section_remark(r->diags, s, message, hint);
}

/* As fail_at, but a warning: the error just added is turned into one. */
static void warn_at(struct reading *r, const char *kind, const char *name, const char *key,
                    const char *message, const char *hint)
{
    size_t before = r->diags->count;

    fail_at(r, kind, name, key, message, hint);
    if (r->diags->count == before || r->diags->incomplete)
        return;
    r->diags->items[before].severity = DIAG_WARNING;
    r->diags->errors--;
}

/* --- banks --- */

static void check_house(struct reading *r)
{
    const struct bank *house = NULL;

    for (size_t i = 0; i < r->boat->bank_count; i++) {
        const struct bank *bank = &r->boat->banks[i];

        if (bank->role != BANK_HOUSE)
            continue;
        if (house)
            fail_at(r, "bank", bank->name, "role",
                    arena_print(r->arena, "is a second house bank; [bank %s] is one already", house->name),
                    "write role = start or role = bow; several blocks of one bank are parallel = N");
        else
            house = bank;
    }
}

/* The house bank's blocks must make the boat's voltage: a wrong series count is the commonest slip, and
 * every result would be wrong by it. */
static void check_dc_voltage(struct reading *r)
{
    const struct range *dc = &r->boat->dc_voltage;
    const struct bank *house = defaults_house(r);
    double nominal;

    if (!range_known(dc))
        return;
    if (dc->value != 12 && dc->value != 24 && dc->value != 48) {
        fail_at(r, "boat", "", "dc_voltage", "is no nominal voltage of a boat", "write 12 V, 24 V or 48 V");
        return;
    }
    if (!house || !range_known(&house->block_voltage) || !range_known(&house->series))
        return;
    nominal = bank_nominal_voltage(house);
    if (nominal != dc->value)
        fail_at(r, "bank", house->name, "series",
                arena_print(r->arena, "%g x %g V in series is %g V, and dc_voltage is %g V",
                            house->series.value, house->block_voltage.value, nominal, dc->value),
                "change series, block_voltage or dc_voltage");
}

/* One number within shares low..high of a nominal voltage [V]; nothing where either is not known. */
static void check_volts(struct reading *r, const char *kind, const char *name, const char *key,
                        const struct range *volts, double nominal, double low, double high)
{
    if (!range_known(volts) || !(nominal > 0) ||
        (volts->value >= low * nominal && volts->value <= high * nominal))
        return;
    fail_at(r, kind, name, key,
            arena_print(r->arena, "%g V does not fit a nominal %g V", volts->value, nominal),
            arena_print(r->arena, "%.3g..%.3g V is allowed", low * nominal, high * nominal));
}

/* 0 where the bank's voltage is not known. */
static double volts_of(const struct bank *bank)
{
    return bank && range_known(&bank->block_voltage) && range_known(&bank->series)
               ? bank_nominal_voltage(bank)
               : 0;
}

/* Bounds of charging volts in shares of nominal volts: 1.1 to 1.35 holds 13.2 to 16.2 V of a 12 V bank,
 * equalising included. Own choice. */
static void check_bank(struct reading *r, const struct bank *b)
{
    const double nominal = volts_of(b);

    check_volts(r, "bank", b->name, "absorption_voltage", &b->absorption_voltage, nominal, 1.1, 1.35);
    if (b->float_voltage.value != 0)
        check_volts(r, "bank", b->name, "float_voltage", &b->float_voltage, nominal, 1.0, 1.25);
    if (range_known(&b->absorption_voltage) && b->float_voltage.value > b->absorption_voltage.value)
        fail_at(r, "bank", b->name, "float_voltage", "is over the absorption voltage",
                "float keeps a full bank full: it is the lower of the two");
    if (range_known(&b->floor) && range_known(&b->ceiling) && b->floor.value >= b->ceiling.value)
        fail_at(r, "bank", b->name, "floor", "is not under the ceiling", "lower the floor, or raise ceiling");
    if (range_known(&b->second_capacity) && b->second_hours == b->rated_hours)
        fail_at(r, "bank", b->name, "second_rating", "is at the same rate as block_capacity", NULL);
    else if (range_known(&b->second_capacity) && range_known(&b->peukert) && b->rated_as == RATED_AH &&
             (b->peukert.value < 1 || b->peukert.value > 1.6))
        fail_at(r, "bank", b->name, "second_rating",
                arena_print(r->arena, "and block_capacity give a Peukert exponent of %.3g", b->peukert.value),
                "1..1.6 is possible: the longer rate gives more Ah");
}

/* --- machines --- */

static void check_alternator(struct reading *r, const struct alternator *a)
{
    check_volts(r, "alternator", a->name, "regulated_voltage", &a->regulated_voltage, volts_of(a->bank), 1.05,
                1.35);
}

static void check_generator(struct reading *r, const struct generator *g)
{
    if (range_known(&g->start_charge) && range_known(&g->stop_charge) &&
        g->start_charge.value >= g->stop_charge.value)
        fail_at(r, "generator", g->name, "start_charge", "is not under stop_charge", NULL);
}

static void check_inverter(struct reading *r, const struct inverter *v)
{
    check_volts(r, "inverter", v->name, "cut_out", &v->cut_out, r->boat->dc_voltage.value, 0.7, 1.1);
    if (range_known(&v->power) && range_known(&v->surge_power) && v->surge_power.value < v->power.value)
        fail_at(r, "inverter", v->name, "surge_power", "is less than power", NULL);
    if (range_known(&v->power) && range_known(&v->idle_power) && v->idle_power.value >= v->power.value)
        fail_at(r, "inverter", v->name, "idle_power", "is not less than power", NULL);
}

/*
 * A link between two banks, or a converter for loads: `to` tells which, and each has keys the other has not.
 */
static void check_dcdc(struct reading *r, const struct dcdc *d)
{
    const struct section *s = section_named(r, "dcdc", d->name);

    if (d->from && d->from == d->to)
        fail_at(r, "dcdc", d->name, "to", "is the bank it takes from", NULL);
    if (d->kind == LINK_RELAY && s && !section_find(s, "to"))
        fail_at(r, "dcdc", d->name, "kind", "a relay needs a bank at both ends", "write to = BANK");
    if (d->kind == LINK_RELAY && d->to && volts_of(d->from) > 0 && volts_of(d->to) > 0 &&
        volts_of(d->from) != volts_of(d->to))
        fail_at(
            r, "dcdc", d->name, "kind",
            arena_print(r->arena, "a relay cannot join %g V and %g V", volts_of(d->from), volts_of(d->to)),
            "write kind = converter");
    if (d->to && range_known(&d->voltage))
        fail_at(r, "dcdc", d->name, "voltage", "matters only without \"to\": a bank has its own volts",
                "leave voltage or to out");
}

static void check_shore(struct reading *r)
{
    const struct boat *boat = r->boat;

    if (boat->shore.fitted && range_known(&boat->shore.voltage) && range_known(&boat->ac_voltage) &&
        fabs(boat->shore.voltage.value - boat->ac_voltage.value) > 0.2 * boat->ac_voltage.value)
        fail_at(r, "shore", "", "voltage",
                arena_print(r->arena, "%g V does not fit an ac_voltage of %g V", boat->shore.voltage.value,
                            boat->ac_voltage.value),
                NULL);
}

/* --- loads and days --- */

/* A load needs a draw, and what feeds it must feed its kind. */
static void check_load(struct reading *r, const struct load *load)
{
    const struct section *s = section_named(r, "load", load->name);

    if (s && !section_find(s, "power") && !section_find(s, "current"))
        section_remark(r->diags, s, "needs power or current", "write power = 45 W, or current = 3.8 A");
    if (load->converter && load->supply != SUPPLY_DC)
        fail_at(r, "load", load->name, "converter", "feeds DC loads only",
                "leave it out, or write supply = dc");
    if (load->converter && load->converter->to)
        fail_at(r, "load", load->name, "converter",
                arena_print(r->arena, "[dcdc %s] charges a bank and feeds no loads", load->converter->name),
                "name that bank with bank = NAME, or leave \"to\" out of the converter");
    else if (load->converter && load->bank && load->converter->from && load->bank != load->converter->from)
        fail_at(r, "load", load->name, "bank",
                arena_print(r->arena, "is not the bank that [dcdc %s] takes from", load->converter->name),
                "leave bank out");
    if (load->supply != SUPPLY_DC && s && section_find(s, "bank"))
        fail_at(r, "load", load->name, "bank", "feeds DC loads only", "leave it out, or write supply = dc");
}

/* A boat may carry a load for the marina that nothing on board can run: odd, not wrong. */
static void check_supply(struct reading *r, const struct load *load)
{
    const struct boat *boat = r->boat;
    const int mains = boat->shore.fitted || boat->generator_count > 0;

    if (load->supply == SUPPLY_MAINS && !mains)
        warn_at(r, "load", load->name, "supply", "has neither shore nor generator to run on", NULL);
    if (load->supply == SUPPLY_AC && !mains && boat->inverter_count == 0)
        warn_at(r, "load", load->name, "supply", "has neither inverter, shore nor generator to run on", NULL);
}

/* Times of something the boat does not have: allowed, so that one set of
 * days serves several boats, but said. */
static void check_day(struct reading *r, const struct day_kind *day)
{
    const struct boat *boat = r->boat;

    if (day->shore_count && !boat->shore.fitted)
        warn_at(r, "day", day->name, "shore", "the profile has no [shore]", NULL);
    if (day->generator != GENERATOR_OFF && boat->generator_count == 0)
        warn_at(r, "day", day->name, "generator", "the profile has no [generator NAME]", NULL);
    for (size_t i = 0; i < day->run_count; i++)
        if (!day->runs[i].engine && boat->engine_count == 0) {
            warn_at(r, "day", day->name, "engines", "the profile has no [engine NAME]", NULL);
            break;
        }
}

static void check_cable(struct reading *r, const struct cable *c)
{
    if (c->from && c->to && text_same(c->from, c->to))
        fail_at(r, "cable", c->name, "to", "is where the cable begins", "name what stands at its other end");
    if (range_known(&c->fuse_distance) && range_known(&c->length) && c->fuse_distance.low > c->length.high)
        fail_at(r, "cable", c->name, "fuse_distance", "is longer than the cable",
                "it is measured along the cable, from its source");
}

/* --- names --- */

/* Kinds that a cable may end at share one set of names. */
static int is_cable_end(const char *kind)
{
    static const char *const kinds[] = { "bank",    "solar",    "alternator", "generator",
                                         "charger", "inverter", "dcdc",       "load" };

    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (text_same(kind, kinds[i]))
            return 1;
    return 0;
}

/* A section that a cable may end at, and of which something could be made. */
static int is_end(const struct reading *r, size_t i)
{
    return r->objects[i] && is_cable_end(r->document->sections[i].kind);
}

/* What of the profile's names cables and loads may mean, each looked up at once. */
struct meeting {
    struct name_table things; /* names to the first section that bears them */
    struct name_table ends;   /* names of nodes to how many ends of cables and loads meet there */
};

/* The later section of a name gets the remark. */
static void check_names(struct reading *r, struct meeting *m)
{
    const struct document *d = r->document;

    for (size_t i = 0; i < d->count; i++) {
        const struct section *b = &d->sections[i];
        size_t j = is_end(r, i) ? name_table_get(&m->things, b->name, d->count) : d->count;

        if (is_end(r, i))
            name_table_put(&m->things, b->name, i);
        if (j < d->count)
            section_remark(r->diags, b,
                           arena_print(r->arena, "bears the name of [%s] in line %d", d->sections[j].title,
                                       d->sections[j].place.line),
                           "a cable could not tell them apart: give one of them another name");
    }
}

/* The table has room, so that nothing can fail. */
static void meet(struct meeting *m, struct arena *arena, const char *node)
{
    if (node)
        name_table_set(&m->ends, arena, node, 1 + name_table_get(&m->ends, node, 0));
}

/* How many ends of cables and loads meet at each name, counted once for all checks. 0 without memory. */
static int meeting_make(struct meeting *m, struct reading *r)
{
    const struct boat *boat = r->boat;

    if (!name_table_make(&m->things, r->arena, r->document->count) ||
        !name_table_make(&m->ends, r->arena, 2 * boat->cable_count + boat->load_count))
        return 0;
    for (size_t i = 0; i < boat->cable_count; i++) {
        meet(m, r->arena, boat->cables[i].from);
        meet(m, r->arena, boat->cables[i].to);
    }
    for (size_t i = 0; i < boat->load_count; i++)
        meet(m, r->arena, boat->loads[i].node);
    return 1;
}

/* The name that a lonely node was meant to be: of a thing, or of another node. NULL where none is near. */
static const char *node_nearest(struct reading *r, const char *node)
{
    const struct boat *boat = r->boat;
    struct text_near near = { .word = span_of(node) };

    for (size_t i = 0; i < r->document->count; i++)
        if (is_end(r, i))
            text_near_offer(&near, r->document->sections[i].name);
    for (size_t i = 0; i < boat->cable_count; i++) {
        if (boat->cables[i].from && !text_same(boat->cables[i].from, node))
            text_near_offer(&near, boat->cables[i].from);
        if (boat->cables[i].to && !text_same(boat->cables[i].to, node))
            text_near_offer(&near, boat->cables[i].to);
    }
    return near.best;
}

/*
 * Any name may be a node of the user's own, so a misspelt one is no error. But a node that nothing else meets
 * and whose name is almost that of another is worth a word. Distances cost: a thing itself, as most are, is
 * known before.
 */
static void check_node(struct reading *r, const struct meeting *m, const char *kind, const char *name,
                       const char *key, const char *node)
{
    enum { ENOUGH = 50 }; /* looking costs, and nobody reads more */
    const char *near;

    if (!node || r->diags->count > ENOUGH || name_table_get(&m->ends, node, 0) > 1 ||
        name_table_get(&m->things, node, r->document->count) < r->document->count)
        return;
    near = node_nearest(r, node);
    if (near)
        warn_at(r, kind, name, key, arena_print(r->arena, "nothing else meets at \"%s\"", node),
                arena_print(r->arena, "did you mean %s?", near));
}

/* A load hangs on one node. Where a cable ends at its name and it hangs elsewhere, that cable carries nothing
 * and would be sized for nothing. */
static void check_load_node(struct reading *r, const struct meeting *m, const struct load *load)
{
    const struct boat *boat = r->boat;

    if (!load->node || text_same(load->node, load->name) || name_table_get(&m->ends, load->name, 0) == 0)
        return;
    for (size_t i = 0; i < boat->cable_count; i++) {
        const struct cable *c = &boat->cables[i];

        if ((c->from && text_same(c->from, load->name)) || (c->to && text_same(c->to, load->name))) {
            fail_at(r, "load", load->name, "node",
                    arena_print(r->arena, "hangs the load on %s, and [cable %s] runs to the load itself",
                                load->node, c->name),
                    arena_print(r->arena, "leave node out, or let the cable end at %s", load->node));
            return;
        }
    }
}

static void check_nodes(struct reading *r, const struct meeting *m)
{
    const struct boat *boat = r->boat;

    for (size_t i = 0; i < boat->cable_count; i++) {
        check_node(r, m, "cable", boat->cables[i].name, "from", boat->cables[i].from);
        check_node(r, m, "cable", boat->cables[i].name, "to", boat->cables[i].to);
    }
    for (size_t i = 0; i < boat->load_count && boat->cable_count; i++) {
        check_node(r, m, "load", boat->loads[i].name, "node", boat->loads[i].node);
        check_load_node(r, m, &boat->loads[i]);
    }
}

/* --- seen and measured --- */

/* What a name in [seen NAME] or [measured NAME] may be, most like a misspelt one. */
static const char *thing_nearest(struct reading *r, const char *name)
{
    static const char *const reserved[] = { "shore", "panel", "boat" };
    struct text_near near = { .word = span_of(name) };

    for (size_t i = 0; i < sizeof reserved / sizeof reserved[0]; i++)
        text_near_offer(&near, reserved[i]);
    for (size_t i = 0; i < r->document->count; i++) {
        const struct section *s = &r->document->sections[i];

        if (*s->name && !text_same(s->kind, "seen") && !text_same(s->kind, "measured") &&
            !text_same(s->kind, "day"))
            text_near_offer(&near, s->name);
    }
    return near.best;
}

/* The things of that name; 0 and a remark where there is none. */
static unsigned check_thing(struct reading *r, const char *kind, const char *name)
{
    const struct section *s = section_named(r, kind, name);
    unsigned things = boat_things(r->boat, name);
    const char *near = things ? NULL : thing_nearest(r, name);

    if (!things && s)
        section_remark(r->diags, s, arena_print(r->arena, "the profile has nothing called \"%s\"", name),
                       near ? arena_print(r->arena, "did you mean [%s %s]?", kind, near)
                            : "name a bank, cable, load or device, or shore, panel, boat");
    return things;
}

/* "bank, cable" of enum seen_thing bits; words in the order of the bits. */
static const char *things_text(struct reading *r, unsigned things)
{
    static const char *const words[] = { "bank",   "cable", "load",  "inverter", "generator", "alternator",
                                         "engine", "shore", "panel", "boat",     "charger" };
    const char *text = "";

    for (size_t i = 0; i < sizeof words / sizeof words[0] && text; i++)
        if (things & 1u << i)
            text = arena_print(r->arena, "%s%s%s", text, *text ? ", " : "", words[i]);
    return text ? text : "";
}

/* An answer to a question that this thing cannot be asked would never be looked at: so it is refused. */
static void check_seen(struct reading *r, const struct seen *seen)
{
    const unsigned things = check_thing(r, "seen", seen->name);

    for (size_t i = 0; things && i < SEEN_COUNT; i++)
        if (seen->facts[i] != SEEN_UNKNOWN && !(seen_of((enum seen_fact)i) & things))
            fail_at(r, "seen", seen->name, seen_name((enum seen_fact)i), "cannot be asked of this",
                    arena_print(r->arena, "it is asked of: %s", things_text(r, seen_of((enum seen_fact)i))));
    if (things && !(things & ON_BANK) && range_known(&seen->vent_area))
        fail_at(r, "seen", seen->name, "vent_area", "cannot be asked of this", "it is asked of: bank");
    if (things && !(things & ON_SHORE) && range_known(&seen->breaker_distance))
        fail_at(r, "seen", seen->name, "breaker_distance", "cannot be asked of this",
                "it is asked of: shore");
}

/* Rest volts and the current with all off are a bank's alone; volts that rise along
 * the way were not read at one moment. */
static void check_measured(struct reading *r, const struct measured *m)
{
    const unsigned things = check_thing(r, "measured", m->name);

    if (things && !(things & ON_BANK) && m->rest_count)
        fail_at(r, "measured", m->name, "rest_volts", "is measured at a bank", NULL);
    if (things && !(things & ON_BANK) && range_known(&m->off_current))
        fail_at(r, "measured", m->name, "off_current", "is measured at a bank", NULL);
    if (range_known(&m->volts) && range_known(&m->source_volts) && m->volts.value > m->source_volts.value)
        warn_at(r, "measured", m->name, "volts", "are more than source_volts: not read at one moment?", NULL);
}

void boat_check(struct reading *r)
{
    const struct boat *boat = r->boat;
    struct meeting meeting;

    if (!meeting_make(&meeting, r)) {
        r->status = STATUS_NO_MEMORY;
        return;
    }
    check_names(r, &meeting);
    check_nodes(r, &meeting);
    check_house(r);
    check_dc_voltage(r);
    check_shore(r);
    if (boat->rules.set == RULES_OWN && boat->rules.origin == ORIGIN_GIVEN && !boat->rules.own_file)
        fail_at(r, "rules", "", "set", "needs a table of your own", "write file = NAME");
    for (size_t i = 0; i < boat->bank_count; i++)
        check_bank(r, &boat->banks[i]);
    for (size_t i = 0; i < boat->alternator_count; i++)
        check_alternator(r, &boat->alternators[i]);
    for (size_t i = 0; i < boat->generator_count; i++)
        check_generator(r, &boat->generators[i]);
    for (size_t i = 0; i < boat->inverter_count; i++)
        check_inverter(r, &boat->inverters[i]);
    for (size_t i = 0; i < boat->dcdc_count; i++)
        check_dcdc(r, &boat->dcdcs[i]);
    for (size_t i = 0; i < boat->load_count; i++) {
        check_load(r, &boat->loads[i]);
        check_supply(r, &boat->loads[i]);
    }
    for (size_t i = 0; i < boat->day_count; i++)
        check_day(r, &boat->days[i]);
    for (size_t i = 0; i < boat->cable_count; i++)
        check_cable(r, &boat->cables[i]);
    for (size_t i = 0; i < boat->seen_count; i++)
        check_seen(r, &boat->seens[i]);
    for (size_t i = 0; i < boat->measured_count; i++)
        check_measured(r, &boat->measureds[i]);
}

/* sheets_check.c - what was read from a profile, one line a section, and what was assumed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "base/text.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/*
 *     sections       one line for each section as it was understood, with the line it begins at
 *     assumptions    CSV too: every value that the profile does not give, with its source
 *
 * Here a profile's writer sees typed units turned into the program's own: a slip of a factor of ten shows at
 * a glance. Only what was typed or matters is said; defaults stand among the assumptions.
 */

struct read_row {
    const char *section;
    const char *says;
    double line; /* of the profile; 0: none */
};

static const struct column read_columns[] = {
    { TEXT(read_row, section, "section", "Section") },
    { WHOLE(read_row, line, "line", "Line", NULL), .none = NONE_AT_ZERO },
    { TEXT(read_row, says, "says", "As understood") },
};
static const struct row_kind read_kind = ROW_KIND("Read", read_columns, read_row);

static const struct column assumption_columns[] = {
    { TEXT(assumption, section, "section", "Section") },
    { TEXT(assumption, key, "key", "Key") },
    { TEXT(assumption, value, "value", "Taken as") },
    { TEXT(assumption, why, "why", "Because") },
};
static const struct row_kind assumption_kind =
    ROW_KIND("Assumed, because the profile does not say", assumption_columns, assumption);

static const struct column top_columns[] = {
    { TEXT(boat, name, "boat", "Boat") },
    { COUNT(boat, day_count, "day_kind_count", "Kinds of day") },
    { COUNT(boat, bank_count, "bank_count", "Banks") },
    { COUNT(boat, solar_count, "solar_count", "Solar arrays") },
    { COUNT(boat, engine_count, "engine_count", "Engines") },
    { COUNT(boat, alternator_count, "alternator_count", "Alternators") },
    { COUNT(boat, generator_count, "generator_count", "Generators") },
    { COUNT(boat, charger_count, "charger_count", "Chargers") },
    { COUNT(boat, inverter_count, "inverter_count", "Inverters") },
    { COUNT(boat, dcdc_count, "dcdc_count", "DC converters and links") },
    { COUNT(boat, load_count, "load_count", "Loads") },
    { COUNT(boat, cable_count, "cable_count", "Cables") },
    { COUNT(boat, assumption_count, "assumption_count", "Assumptions") },
};
static const struct row_kind top_kind = ROW_KIND("Profile", top_columns, boat);

/* ---- lines in the making ---- */

struct reading {
    struct arena *arena;
    struct read_row *rows;
    size_t count, room;
    int failed;
};

/* name NULL: the section has no name. says NULL: no memory, and the sheet fails. */
static void say(struct reading *r, const char *kind, const char *name, int line, const char *says)
{
    void *items = r->rows;
    struct read_row *row = arena_push(r->arena, &items, &r->count, &r->room, sizeof *row);

    r->rows = items;
    if (!row || !says) {
        r->failed = 1;
        return;
    }
    row->section = name ? arena_print(r->arena, "%s %s", kind, name) : kind;
    row->says = says;
    row->line = line;
}

/* "45 W", "40 to 60 W"; "" where the profile gives none. */
static const char *amount(struct reading *r, const struct range *range, double scale, const char *unit)
{
    char low[TEXT_FIXED_SIZE], high[TEXT_FIXED_SIZE];

    if (!range_known(range))
        return "";
    text_fixed_short(low, range->low * scale, 3);
    text_fixed_short(high, range->high * scale, 3);
    if (range->low < range->high)
        return arena_print(r->arena, "%s to %s%s%s", low, high, *unit ? " " : "", unit);
    text_fixed_short(low, range->value * scale, 3);
    return arena_print(r->arena, "%s%s%s", low, *unit ? " " : "", unit);
}

/* The same with a word in front, "" where there is none. */
static const char *worded(struct reading *r, const char *word, const struct range *range, double scale,
                          const char *unit)
{
    const char *text = amount(r, range, scale, unit);

    return text && *text ? arena_print(r->arena, "%s %s", word, text) : text;
}

/* "3 x 110 W"; one, or a count nobody gave, goes without saying. */
static const char *times(struct reading *r, const struct range *count, const char *text)
{
    char n[TEXT_FIXED_SIZE];

    if (!text || !range_known(count) || count->value == 1)
        return text;
    text_fixed_short(n, count->value, 2);
    return arena_print(r->arena, "%s x %s", n, text);
}

/* ---- one kind of section each ---- */

static void say_site(struct reading *r, const struct boat *boat)
{
    static const char *const skies[] = { [SKY_CLIMATE] = "climate",
                                         [SKY_IRRADIATION] = "irradiation as given",
                                         [SKY_CLEARNESS] = "clearness as given",
                                         [SKY_WEATHER] = "weather file" };
    const struct site *s = &boat->site;
    const char *sky = skies[s->sky];

    if (!s->given)
        return;
    if (s->sky == SKY_CLIMATE && s->climate)
        sky = arena_print(r->arena, "climate of %s", s->climate->name);
    say(r, "site", s->name, 0,
        listed(
            r->arena, worded(r, "latitude", &s->latitude, 1, "\u00b0"),
            worded(r, "longitude", &s->longitude, 1, "\u00b0"),
            arena_print(r->arena, "from %d %s %d", s->start_day, month_name(s->start_month), s->start_year),
            sky));
}

static void say_plan(struct reading *r, const struct boat *boat)
{
    const char *days = "";

    for (size_t i = 0; days && i < boat->plan.day_count; i++)
        days = arena_print(r->arena, "%s%s%s", days, i ? ", " : "", boat->plan.days[i]->name);
    if (!boat->plan.day_count)
        return;
    say(r, "plan", NULL, 0,
        days ? listed(r->arena, arena_print(r->arena, "%zu day%s: %s", boat->plan.day_count,
                                         boat->plan.day_count == 1 ? "" : "s", days),
                      worded(r, "begins at", &boat->plan.start_charge, 100, "%"),
                      worded(r, "step", &boat->plan.step, 1, "s"), NULL)
             : NULL);
}

static void say_days(struct reading *r, const struct boat *boat)
{
    static const char *const modes[] = { [GENERATOR_OFF] = "",
                                         [GENERATOR_AUTOMATIC] = "generator automatic",
                                         [GENERATOR_TIMES] = "generator at set times" };

    for (size_t i = 0; i < boat->day_count; i++) {
        const struct day_kind *d = boat->days + i;
        const char *runs = d->run_count ? arena_print(r->arena, "%zu engine run%s", d->run_count,
                                                      d->run_count == 1 ? "" : "s")
                                        : "no engine";

        say(r, "day", d->name, d->line,
            listed(r->arena, runs, d->shore_count ? "shore lead in" : "", modes[d->generator],
                   d->sun.value == 1 ? "" : worded(r, "sun", &d->sun, 100, "% of the mean")));
    }
}

static void say_banks(struct reading *r, const struct boat *boat)
{
    static const char *const chemistries[] = { [CHEMISTRY_FLOODED] = "flooded",
                                               [CHEMISTRY_AGM] = "AGM",
                                               [CHEMISTRY_GEL] = "gel",
                                               [CHEMISTRY_LFP] = "LFP" };

    for (size_t i = 0; i < boat->bank_count; i++) {
        const struct bank *b = boat->banks + i;
        const char *whole = arena_print(r->arena, "%.0f Ah %.0f V %s", bank_rated_ah(b),
                                        bank_nominal_voltage(b), chemistries[b->chemistry]);

        say(r, "bank", b->name, b->line,
            listed(r->arena, whole,
                   arena_print(r->arena, bank_blocks(b) == 1 ? "%.0f block of %s" : "%.0f blocks of %s",
                               bank_blocks(b), amount(r, &b->block_capacity, 1, "Ah")),
                   worded(r, "floor", &b->floor, 100, "%"), worded(r, "health", &b->health, 100, "%")));
    }
}

static void say_solar(struct reading *r, const struct boat *boat)
{
    for (size_t i = 0; i < boat->solar_count; i++) {
        const struct solar *s = boat->solars + i;

        say(r, "solar", s->name, s->line,
            listed(r->arena, times(r, &s->count, amount(r, &s->power, 1, "W")),
                   worded(r, "tilt", &s->tilt, 1, "\u00b0"),
                   s->any_heading ? "swings through every heading"
                                  : worded(r, "azimuth", &s->azimuth, 1, "\u00b0"),
                   s->controller == CONTROLLER_MPPT ? "mppt" : "pwm"));
    }
}

static void say_engines(struct reading *r, const struct boat *boat)
{
    static const char *const sides[] = { NULL, "port side", "starboard side" };

    for (size_t i = 0; i < boat->engine_count; i++)
        say(r, "engine", boat->engines[i].name, boat->engines[i].line,
            listed(r->arena, sides[boat->engines[i].side], amount(r, &boat->engines[i].power, 1e-3, "kW"),
                   worded(r, "idles at", &boat->engines[i].idle_speed, 1, "rpm"), NULL));
    for (size_t i = 0; i < boat->alternator_count; i++) {
        const struct alternator *a = boat->alternators + i;

        say(r, "alternator", a->name, a->line,
            listed(r->arena, amount(r, &a->rated_current, 1, "A"),
                   a->engine ? arena_print(r->arena, "on engine %s", a->engine->name) : "",
                   worded(r, "pulleys", &a->pulley_ratio, 1, ": 1"),
                   worded(r, "limit", &a->current_limit, 1, "A")));
    }
}

static void say_mains(struct reading *r, const struct boat *boat)
{
    if (boat->shore.fitted)
        say(r, "shore", NULL, boat->shore.line,
            listed(r->arena, amount(r, &boat->shore.current, 1, "A"), amount(r, &boat->shore.voltage, 1, "V"),
                   NULL, NULL));
    for (size_t i = 0; i < boat->generator_count; i++) {
        const struct generator *g = boat->generators + i;

        say(r, "generator", g->name, g->line,
            listed(r->arena, amount(r, &g->power, 1, "W"), worded(r, "starts at", &g->start_charge, 100, "%"),
                   worded(r, "stops at", &g->stop_charge, 100, "%"), NULL));
    }
    for (size_t i = 0; i < boat->charger_count; i++) {
        const struct charger *c = boat->chargers + i;

        say(r, "charger", c->name, c->line,
            listed(r->arena, amount(r, &c->current, 1, "A"), c->fed_by & FED_BY_SHORE ? "from shore" : "",
                   c->fed_by & FED_BY_GENERATOR ? "from generator" : "",
                   worded(r, "efficiency", &c->efficiency, 100, "%")));
    }
}

static void say_converters(struct reading *r, const struct boat *boat)
{
    for (size_t i = 0; i < boat->inverter_count; i++) {
        const struct inverter *v = boat->inverters + i;

        say(r, "inverter", v->name, v->line,
            listed(r->arena, amount(r, &v->power, 1, "W"), worded(r, "surge", &v->surge_power, 1, "W"),
                   worded(r, "idle", &v->idle_power, 1, "W"), worded(r, "cuts out at", &v->cut_out, 1, "V")));
    }
    for (size_t i = 0; i < boat->dcdc_count; i++) {
        const struct dcdc *d = boat->dcdcs + i;

        say(r, "dcdc", d->name, d->line,
            listed(r->arena, d->kind == LINK_RELAY ? "relay" : "converter",
                   d->from ? arena_print(r->arena, "from %s", d->from->name) : "",
                   d->to ? arena_print(r->arena, "to %s", d->to->name) : "", amount(r, &d->current, 1, "A")));
    }
}

static void say_loads(struct reading *r, const struct boat *boat)
{
    static const char *const supplies[] = {
        [SUPPLY_DC] = "DC", [SUPPLY_AC] = "AC", [SUPPLY_MAINS] = "mains"
    };
    static const char *const priorities[] = {
        [LOAD_VITAL] = "vital", [LOAD_NORMAL] = "", [LOAD_SHED] = "may be put off"
    };

    for (size_t i = 0; i < boat->load_count; i++) {
        const struct load *l = boat->loads + i;

        say(r, "load", l->name, l->line,
            listed(r->arena, times(r, &l->count, amount(r, &l->power, 1, "W")), supplies[l->supply],
                   l->duty.value < 1 ? worded(r, "duty", &l->duty, 100, "%") : "", priorities[l->priority]));
    }
}

static void say_cables(struct reading *r, const struct boat *boat)
{
    for (size_t i = 0; i < boat->cable_count; i++) {
        const struct cable *c = boat->cables + i;

        say(r, "cable", c->name, c->line,
            listed(r->arena, arena_print(r->arena, "%s to %s", c->from, c->to), amount(r, &c->length, 1, "m"),
                   range_known(&c->area) ? amount(r, &c->area, 1e6, "mm2") : "to be sized",
                   worded(r, "fuse", &c->fuse, 1, "A")));
    }
}

static void say_seen(struct reading *r, const struct boat *boat)
{
    for (size_t i = 0; i < boat->seen_count; i++) {
        const struct seen *s = boat->seens + i;
        int yes = 0, no = 0;

        for (size_t f = 0; f < SEEN_COUNT; f++) {
            yes += s->facts[f] == SEEN_YES;
            no += s->facts[f] == SEEN_NO;
        }
        say(r, "seen", s->name, s->line,
            listed(r->arena, yes ? arena_print(r->arena, "%d yes", yes) : "",
                   no ? arena_print(r->arena, "%d no", no) : "", worded(r, "vent", &s->vent_area, 1e4, "cm2"),
                   worded(r, "breaker at", &s->breaker_distance, 1, "m")));
    }
    for (size_t i = 0; i < boat->measured_count; i++) {
        const struct measured *m = boat->measureds + i;

        say(r, "measured", m->name, m->line,
            listed(r->arena, amount(r, &m->current, 1, "A"), amount(r, &m->volts, 1, "V"),
                   worded(r, "source", &m->source_volts, 1, "V"),
                   worded(r, "with everything off", &m->off_current, 1, "A")));
    }
}

const struct sheet *sheet_check(struct arena *arena, const struct boat *boat)
{
    struct reading r = { .arena = arena };
    struct sheet_maker maker = sheet_begin(arena, "The profile as it was read", boat->name ? boat->name : "");

    say(&r, "boat", NULL, 0,
        listed(arena, worded(&r, "DC", &boat->dc_voltage, 1, "V"),
               worded(&r, "AC", &boat->ac_voltage, 1, "V"), amount(&r, &boat->ac_frequency, 1, "Hz"),
               worded(&r, "crew of", &boat->crew, 1, "")));
    say_site(&r, boat);
    say_plan(&r, boat);
    say_days(&r, boat);
    say_banks(&r, boat);
    say_solar(&r, boat);
    say_engines(&r, boat);
    say_mains(&r, boat);
    say_converters(&r, boat);
    say_loads(&r, boat);
    say_cables(&r, boat);
    say_seen(&r, boat);
    maker.failed |= r.failed;
    add_table(&maker, (struct table){ .kind = &top_kind, .rows = boat, .single = 1, .where = SHOW_JSON });
    add_table(&maker,
              (struct table){ .name = "sections", .kind = &read_kind, .rows = r.rows, .row_count = r.count });
    add_table(&maker, (struct table){ .name = "assumptions",
                                      .kind = &assumption_kind,
                                      .rows = boat->assumptions,
                                      .row_count = boat->assumption_count,
                                      .csv = 1 });
    add_note(&maker, boat->assumption_count ? "Results are only as good as these assumptions: give the value "
                                              "in the profile where you know it."
                                            : "");
    return sheet_made(&maker);
}

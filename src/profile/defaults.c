/* defaults.c - place, plan, links and loads where the profile says nothing, or says it another way.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/defaults.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "parts/climate.h"

/*
 * What the profile leaves out is worked out here where it depends on other values, and every
 * such value is listed as an assumption with its reason: a default is a guess about
 * somebody's boat, and she must be able to see it.
 */

const char *title_of(struct reading *r, const char *kind, const char *name)
{
    const char *title = arena_print(r->arena, "%s %s", kind, name);

    if (!title)
        r->status = STATUS_NO_MEMORY;
    return title ? title : "";
}

void default_range(struct reading *r, const char *section, const char *key, struct range *range, double value,
                   enum quantity quantity, enum origin origin, const char *why)
{
    if (range_known(range) || !isfinite(value))
        return;
    *range = (struct range){ .value = value, .low = value, .high = value, .origin = origin };
    reading_assume(r, section, key, value_text(r->arena, value, quantity), why);
}

struct bank *boat_banks(const struct reading *r)
{
    return (struct bank *)r->boat->banks;
}

struct load *boat_loads(const struct reading *r)
{
    return (struct load *)r->boat->loads;
}

const struct bank *defaults_house(const struct reading *r)
{
    return boat_house_bank(r->boat);
}

/* --- site --- */

static const struct section *section_of(const struct reading *r, const char *title)
{
    return document_find(r->document, title);
}

static void fail_place(struct reading *r)
{
    const struct section *s = section_of(r, "site");

    section_remark(r->diags, s, "does not say where she lies",
                   "write latitude and longitude, or climate = AREA");
}

/* latitude and longitude of a named area, where the place itself is not given. */
static void place_from_climate(struct reading *r, struct site *site)
{
    const char *why = arena_print(r->arena, "where the area \"%s\" lies", site->climate->name);

    if (!range_known(&site->latitude)) {
        site->latitude = (struct range){ .value = site->climate->latitude,
                                         .low = site->climate->latitude,
                                         .high = site->climate->latitude,
                                         .origin = ORIGIN_DERIVED };
        reading_assume(r, "site", "latitude", value_text(r->arena, site->latitude.value, QUANTITY_ANGLE),
                       why);
    }
    if (!range_known(&site->longitude)) {
        site->longitude = (struct range){ .value = site->climate->longitude,
                                          .low = site->climate->longitude,
                                          .high = site->climate->longitude,
                                          .origin = ORIGIN_DERIVED };
        reading_assume(r, "site", "longitude", value_text(r->arena, site->longitude.value, QUANTITY_ANGLE),
                       why);
    }
}

/* By great circle among the shipped areas; assumed, so the sheets name it and its distance. */
static void climate_take_nearest(struct site *site)
{
    site->climate = climate_nearest(site->latitude.value, site->longitude.value, &site->climate_distance_km);
    site->climate_assumed = 1;
}

static const char *nearest_why(struct reading *r, const struct site *site)
{
    return arena_print(r->arena, "the nearest shipped area, %s, lies %.0f km away (%s)", site->climate->name,
                       site->climate_distance_km, site->climate->source);
}

/* A list of months is read whole or not at all, so the first tells. */
static int any_month(const struct range months[MONTHS])
{
    return range_known(&months[0]);
}

/* A weather file that gives the temperature of every day. */
static int weather_has_air(const struct site *site)
{
    for (size_t i = 0; i < site->weather_count; i++)
        if (!site->weather[i].has_temperature)
            return 0;
    return site->sky == SKY_WEATHER;
}

/* The monthly means of the area, for days that no record covers; silent where the record has every day's air.
 */
static void air_from_climate(struct reading *r, struct site *site)
{
    const double *air = site->climate->air_temperature;

    for (size_t i = 0; i < MONTHS; i++)
        site->air_temperature[i] =
            (struct range){ .value = air[i], .low = air[i], .high = air[i], .origin = ORIGIN_DEFAULT };
    if (weather_has_air(site))
        return;
    reading_assume(
        r, "site", "air_temperature",
        arena_print(r->arena, "%s in January, %s in July", value_text(r->arena, air[0], QUANTITY_TEMPERATURE),
                    value_text(r->arena, air[6], QUANTITY_TEMPERATURE)),
        site->climate_assumed
            ? nearest_why(r, site)
            : arena_print(r->arena, "monthly means of %s (%s)", site->climate->name, site->climate->source));
}

/*
 * The profile's own figures go before a record, the record before the shipped table: the
 * keys exclude each other, so at most one of the first three is there. The air comes from
 * the area even where the sun does not.
 */
static void sky_choose(struct reading *r, struct site *site)
{
    site->sky = any_month(site->irradiation) ? SKY_IRRADIATION
                : any_month(site->clearness) ? SKY_CLEARNESS
                : site->weather_file         ? SKY_WEATHER
                                             : SKY_CLIMATE;
    if (site->sky == SKY_CLIMATE && !site->climate) {
        climate_take_nearest(site);
        reading_assume(r, "site", "climate", site->climate->name, nearest_why(r, site));
    }
    if (any_month(site->air_temperature))
        return;
    if (!site->climate)
        climate_take_nearest(site);
    air_from_climate(r, site);
}

/* Nautical zones: 15 degrees each, the first centred on Greenwich. */
static void utc_offset_default(struct reading *r, struct site *site)
{
    double hours = nearbyint(site->longitude.value / 15);
    const char *text = arena_print(r->arena, "%+.0f h", hours);

    if (range_known(&site->utc_offset))
        return;
    site->utc_offset =
        (struct range){ .value = hours, .low = hours, .high = hours, .origin = ORIGIN_DEFAULT };
    reading_assume(r, "site", "utc_offset", text, "nautical time zone of the longitude; no summer time");
}

/* A profile without [site] is whole as long as nothing asks for the sun: no remark then. */
void defaults_site(struct reading *r)
{
    struct site *site = &r->boat->site;
    const struct section *s = section_of(r, "site");

    site->given = s && s->place.line > 0;
    if (!site->given)
        return;
    if (site->climate)
        place_from_climate(r, site);
    if (!range_known(&site->latitude) || !range_known(&site->longitude)) {
        if (!section_find(s, "climate") && (!section_find(s, "latitude") || !section_find(s, "longitude")))
            fail_place(r);
        return;
    }
    sky_choose(r, site);
    utc_offset_default(r, site);
}

/* --- links --- */

/* Says once that something wants a house bank and there is none. */
static void fail_no_house(struct reading *r, const char *title, int *told)
{
    const struct section *s = section_of(r, title);

    if (s && !*told)
        section_remark(r->diags, s, "needs a house bank, and the profile has none",
                       "write a [bank NAME] with role = house, or name another bank with bank = NAME");
    *told = 1;
}

/* The house bank for a pointer that is still empty. A name that is wrong has been said already. */
static void bank_default(struct reading *r, const char *kind, const char *name, const char *key,
                         const struct bank **bank, int *told)
{
    const struct bank *house = defaults_house(r);
    const char *title = title_of(r, kind, name);
    const struct section *s = section_of(r, title);

    if (*bank || !s || section_find(s, key))
        return;
    if (!house) {
        fail_no_house(r, title, told);
        return;
    }
    *bank = house;
    reading_assume(r, s->title, key, house->name, "the house bank");
}

/* The engine of the same name, or the only one. */
static void engine_default(struct reading *r, struct alternator *a)
{
    const struct boat *boat = r->boat;
    const char *title = title_of(r, "alternator", a->name);
    const struct section *s = section_of(r, title);
    const struct engine *engine = reading_find(r, "engine", a->name);

    if (a->engine || !s || section_find(s, "engine"))
        return;
    if (!engine && boat->engine_count == 1)
        engine = &boat->engines[0];
    if (!engine) {
        section_remark(r->diags, s, "does not say which engine turns it", "write engine = NAME");
        return;
    }
    a->engine = engine;
    reading_assume(r, s->title, "engine", engine->name,
                   boat->engine_count == 1 ? "the only engine" : "of the same name");
}

void defaults_links(struct reading *r)
{
    struct boat *boat = r->boat;
    int told = 0;

    for (size_t i = 0; i < boat->solar_count; i++)
        bank_default(r, "solar", boat->solars[i].name, "bank", &((struct solar *)boat->solars)[i].bank,
                     &told);
    for (size_t i = 0; i < boat->alternator_count; i++) {
        struct alternator *a = &((struct alternator *)boat->alternators)[i];

        bank_default(r, "alternator", a->name, "bank", &a->bank, &told);
        engine_default(r, a);
    }
    for (size_t i = 0; i < boat->charger_count; i++)
        bank_default(r, "charger", boat->chargers[i].name, "bank",
                     &((struct charger *)boat->chargers)[i].bank, &told);
    for (size_t i = 0; i < boat->dcdc_count; i++)
        bank_default(r, "dcdc", boat->dcdcs[i].name, "from", &((struct dcdc *)boat->dcdcs)[i].from, &told);
    for (size_t i = 0; i < boat->load_count; i++) {
        struct load *load = &boat_loads(r)[i];
        const struct bank *house = defaults_house(r);

        if (load->converter && !load->bank)
            load->bank = load->converter->from;
        else if (load->supply == SUPPLY_DC && house && !load->bank && boat->bank_count == 1)
            load->bank = house; /* where there is one bank only, nothing was assumed */
        else if (load->supply == SUPPLY_DC)
            bank_default(r, "load", load->name, "bank", &load->bank, &told);
        else if (!load->bank)
            load->bank = house;
    }
}

/* --- loads --- */

/* Volts [V] that a load's amperes are at: those of the converter between, or the bank's; AC: the
 * panel's. 0 where that is not known. */
static double load_volts(const struct boat *boat, const struct load *load)
{
    if (load->supply != SUPPLY_DC)
        return boat->ac_voltage.value;
    if (load->converter)
        return load->converter->voltage.value;
    return load->bank ? bank_nominal_voltage(load->bank) : 0;
}

/* Watts of typed amperes at nominal volts; for AC with the power factor. The amperes stay too: how the load
 * answers to lower volts depends on which was typed. */
static void power_from_current(struct reading *r, struct load *load)
{
    const double volts = load_volts(r->boat, load);
    const double factor = load->supply == SUPPLY_DC ? volts : volts * load->power_factor.value;
    const char *amps = value_text(r->arena, load->current.value, QUANTITY_CURRENT);
    const char *at = value_text(r->arena, volts, QUANTITY_VOLTAGE);

    if (!range_known(&load->current) || range_known(&load->power) || !(factor > 0))
        return;
    load->power = load->current;
    load->power.value *= factor;
    load->power.low *= factor;
    load->power.high *= factor;
    load->power.origin = ORIGIN_DERIVED;
    reading_assume(r, title_of(r, "load", load->name), "power",
                   value_text(r->arena, load->power.value, QUANTITY_POWER),
                   load->supply == SUPPLY_DC ? arena_print(r->arena, "%s at %s", amps, at)
                                             : arena_print(r->arena, "%s at %s and power factor %g", amps, at,
                                                           load->power_factor.value));
}

static int usage_on_some_day(const struct boat *boat, const struct load *load)
{
    for (size_t i = 0; load->by_day && i < boat->day_count; i++)
        if (load->by_day[i].kind != USAGE_NONE)
            return 1;
    return 0;
}

/* 1 where the section has such a key at all: it failed to read, and that has been said. */
static int usage_was_tried(const struct section *s)
{
    for (size_t i = 0; s && i < s->count; i++)
        if (!s->entries[i].removed &&
            (strncmp(s->entries[i].key, "hours", 5) == 0 || strncmp(s->entries[i].key, "times", 5) == 0 ||
             strncmp(s->entries[i].key, "uses", 4) == 0))
            return 1;
    return 0;
}

/* A load without any use runs all day; one with uses on some kinds of day only does not run on the others. */
static void usage_default(struct reading *r, struct load *load)
{
    const char *title = title_of(r, "load", load->name);
    int some = usage_on_some_day(r->boat, load);

    if (load->usage.kind != USAGE_NONE || (!some && usage_was_tried(section_of(r, title))))
        return;
    if (some) {
        reading_assume(r, title, "hours", "0 h",
                       "on every kind of day that has no hours, times or uses of its own");
        return;
    }
    load->usage.kind = USAGE_HOURS;
    load->usage.hours = (struct range){ .value = 24, .low = 24, .high = 24, .origin = ORIGIN_DEFAULT };
    reading_assume(r, title, "hours", "24 h", "neither hours, times nor uses are given");
}

/* Only where a surge was given is its time worth a line among the assumptions. */
static void surge_time_default(struct reading *r, struct load *load)
{
    if (load->surge.origin == ORIGIN_GIVEN && load->surge_time.origin == ORIGIN_DEFAULT)
        reading_assume(r, title_of(r, "load", load->name), "surge", "for 0.5 s",
                       "common practice: motors start within it");
}

void defaults_loads(struct reading *r)
{
    for (size_t i = 0; i < r->boat->load_count; i++) {
        struct load *load = &boat_loads(r)[i];

        power_from_current(r, load);
        usage_default(r, load);
        surge_time_default(r, load);
    }
}

/* --- plan --- */

/* A plan that is not given is a week of the first kind of day; one given wrongly has been said. */
static void plan_default(struct reading *r)
{
    enum { WEEK = 7 };
    struct plan *plan = &r->boat->plan;
    const struct section *s = section_of(r, "plan");

    if (plan->day_count || !s || section_find(s, "days") || r->boat->day_count == 0)
        return;
    plan->days = arena_array(r->arena, WEEK, sizeof *plan->days);
    if (!plan->days) {
        r->status = STATUS_NO_MEMORY;
        return;
    }
    plan->day_count = WEEK;
    for (size_t i = 0; i < WEEK; i++)
        plan->days[i] = &r->boat->days[0];
    reading_assume(r, s->title, "days", arena_print(r->arena, "7 x %s", r->boat->days[0].name),
                   "a week of the first kind of day");
}

/* Last: a place without a name takes that of its climate. */
static void names_default(struct reading *r)
{
    struct boat *boat = r->boat;

    if (!boat->name)
        boat->name = "unnamed boat";
    if (!boat->site.name)
        boat->site.name = boat->site.climate ? boat->site.climate->name : "unnamed place";
}

/* Volts of banks first, for links, machines and loads are worked out from them; names last, for the
 * place may come from the climate. */
void defaults_fill(struct reading *r)
{
    defaults_boat(r);
    defaults_links(r);
    defaults_machines(r);
    defaults_loads(r);
    defaults_site(r);
    plan_default(r);
    names_default(r);
}

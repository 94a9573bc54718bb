/* readers_things.c - what batteries, panels, machines, loads and cables have of their own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "profile/readers.h"

/* --- banks --- */

/* "at 20 h" behind a capacity; hours as they were where nothing is said. */
static int rate_read(struct reading *r, struct cursor *c, double *hours)
{
    struct range length;

    if (!cursor_word(c, "at"))
        return 1;
    if (!read_bounded(r, c, QUANTITY_DURATION, "0.1..200 h", &length))
        return 0;
    *hours = length.value / 3600;
    return 1;
}

/* "850 CCA" is 850 A of cranking current; 0 without moving where it is not that. */
static int cranking_here(struct cursor *c, double *amps)
{
    struct cursor probe = *c;

    if (!cursor_number(&probe, amps, NULL) || !cursor_word(&probe, "CCA"))
        return 0;
    *c = probe;
    return 1;
}

/*
 * Ah, reserve minutes or cranking amps of one block. What is not Ah keeps its number in rated_value; linking
 * converts it when the chemistry is known.
 */
int read_block_capacity(struct reading *r, struct cursor *c, void *object)
{
    const char *form = "write 220 Ah at 20 h, 110 min for a reserve, 850 A for cranking";
    struct bank *bank = object;
    struct cursor probe = *c;
    enum quantity got;
    struct range typed;
    double number;

    bank->rated_hours = 20;
    if (cranking_here(c, &bank->rated_value)) {
        bank->rated_as = RATED_CRANKING_AMPS;
        return cursor_close(c, form);
    }
    if (cursor_number(&probe, &number, NULL) &&
        cursor_range_either(c, QUANTITY_DURATION, QUANTITY_CURRENT, &typed, &got)) {
        bank->rated_as = got == QUANTITY_CURRENT ? RATED_CRANKING_AMPS : RATED_RESERVE_MINUTES;
        bank->rated_value = got == QUANTITY_CURRENT ? typed.value : typed.value / 60;
        if (bank->rated_value < 1 || bank->rated_value > 10000)
            return cursor_fail(c, c->whole, "is out of bounds", "1..10000 min or A is allowed");
        return cursor_close(c, form);
    }
    *c = cursor_make(r->arena, c->whole);
    if (!read_bounded(r, c, QUANTITY_CHARGE, "1..10000 Ah", &bank->block_capacity)) {
        c->fault.hint = form;
        return 0;
    }
    bank->rated_as = RATED_AH;
    bank->rated_value = bank->block_capacity.value;
    return rate_read(r, c, &bank->rated_hours) && cursor_close(c, form);
}

/* A capacity at another rate, which must be told: two ratings at 20 h would say nothing. */
int read_second_rating(struct reading *r, struct cursor *c, void *object)
{
    struct bank *bank = object;

    bank->second_hours = 0;
    if (!read_bounded(r, c, QUANTITY_CHARGE, "1..10000 Ah", &bank->second_capacity) ||
        !rate_read(r, c, &bank->second_hours) || !cursor_close(c, "write 190 Ah at 5 h"))
        return 0;
    if (bank->second_hours == 0)
        return cursor_fail(c, c->whole, "does not say at which rate", "write 190 Ah at 5 h");
    return 1;
}

/* --- sources --- */

/* Any heading, or degrees from the bow, -360 to 360, so that -90 may stand for port. */
int read_azimuth(struct reading *r, struct cursor *c, void *object)
{
    struct solar *solar = object;

    solar->any_heading = cursor_word(c, "any");
    if (!solar->any_heading && !read_bounded(r, c, QUANTITY_ANGLE, "-360..360 deg", &solar->azimuth)) {
        c->fault.hint = "write any, or an angle from the bow: 90 deg is to starboard";
        return 0;
    }
    return cursor_close(c, r->key->form);
}

/* Checked here and used in defaults.c, where the power is known. */
int read_generator_fuel(struct reading *r, struct cursor *c, void *object)
{
    struct range flow;

    (void)object;
    return read_bounded(r, c, QUANTITY_FUEL_FLOW, "0.05..100 l/h", &flow) && cursor_close(c, "write 2.1 l/h");
}

static int feed_item(struct reading *r, struct cursor *c, void *item)
{
    struct span word = cursor_rest(c);
    unsigned *bit = item;

    *bit = cursor_word(c, "shore") ? FED_BY_SHORE : cursor_word(c, "generator") ? FED_BY_GENERATOR : 0;
    if (*bit)
        return 1;
    return cursor_fail(c, word,
                       arena_print(r->arena, "\"%.*s\" cannot feed a charger", (int)word.length, word.at),
                       "write shore, generator or both");
}

/* A list of sources, kept as bits. */
int read_fed_by(struct reading *r, struct cursor *c, void *object)
{
    struct charger *charger = object;
    void *items;
    size_t count;

    if (!read_list(r, c, sizeof(unsigned), feed_item, &items, &count))
        return 0;
    charger->fed_by = 0;
    for (size_t i = 0; i < count; i++)
        charger->fed_by |= ((unsigned *)items)[i];
    return 1;
}

/* --- loads --- */

/* power in W or, as current, in A; current in A only. Linking makes watts of amps, when the bus is known. */
int read_load_draw(struct reading *r, struct cursor *c, void *object)
{
    struct load *load = object;
    struct range got = { 0 };
    enum quantity quantity = QUANTITY_CURRENT;
    int power_too = text_same(r->key->name, "power"), ok;
    struct cursor start = *c;
    double number;

    ok = power_too ? cursor_range_either(c, QUANTITY_POWER, QUANTITY_CURRENT, &got, &quantity)
                   : cursor_range(c, QUANTITY_CURRENT, &got);
    if (!ok) {
        if (power_too && cursor_number(&start, &number, NULL) && cursor_ended(&start) && number > 0)
            c->fault.hint = arena_print(r->arena, "write %g W, or %.2g A at 12 V", number, number / 12);
        return 0;
    }
    if (!cursor_close(c, r->key->form))
        return 0;
    if (got.low < 0 || got.high > (quantity == QUANTITY_POWER ? 100000 : 3000))
        return cursor_fail(c, c->whole, "is out of bounds",
                           quantity == QUANTITY_POWER ? "0..100 kW is allowed" : "0..3000 A is allowed");
    reading_mark(r, &got);
    *(quantity == QUANTITY_POWER ? &load->power : &load->current) = got;
    return 1;
}

/* The day kind that the suffix of a key names, as an index; -1 and a remark where there is none. */
static long day_of_suffix(struct reading *r)
{
    const struct day_kind *day = reading_find(r, "day", r->suffix);
    const char *near;

    if (day)
        return day - r->boat->days;
    near = reading_nearest(r, "day", r->suffix);
    key_remark(r->diags, r->section, r->entry, arena_print(r->arena, "there is no [day %s]", r->suffix),
               near ? arena_print(r->arena, "did you mean %s.%s?", r->key->name, near) : NULL);
    return -1;
}

/* A share of the on-time, of every day or of the kind of day in the suffix. */
int read_duty(struct reading *r, struct cursor *c, void *object)
{
    struct load *load = object;
    struct range duty, *by_day;
    long day;

    if (!read_bounded(r, c, QUANTITY_SHARE, r->key->bounds, &duty) || !cursor_close(c, "write 45 %"))
        return 0;
    if (!r->suffix) {
        load->duty = duty;
        return 1;
    }
    if ((day = day_of_suffix(r)) < 0)
        return 1;
    if (!load->duty_by_day)
        load->duty_by_day = arena_array(r->arena, r->boat->day_count, sizeof *by_day);
    if (!load->duty_by_day)
        return cursor_fail(c, c->whole, NULL, NULL);
    by_day = (struct range *)load->duty_by_day;
    by_day[day] = duty;
    return 1;
}

/* Puts a usage where it belongs: in the load, or in its table of day kinds. */
static int usage_keep(struct reading *r, struct cursor *c, struct load *load, struct usage usage)
{
    struct usage *by_day;
    long day;

    usage.line = r->entry ? r->entry->place.line : 0;
    if (!r->suffix) {
        load->usage = usage;
        return 1;
    }
    if ((day = day_of_suffix(r)) < 0)
        return 1;
    if (!load->by_day)
        load->by_day = arena_array(r->arena, r->boat->day_count, sizeof *by_day);
    if (!load->by_day)
        return cursor_fail(c, c->whole, NULL, NULL);
    by_day = (struct usage *)load->by_day;
    by_day[day] = usage;
    return 1;
}

/* A length of time in a day, kept in [h]: that is what the timeline spreads. */
int read_hours(struct reading *r, struct cursor *c, void *object)
{
    struct usage usage = { .kind = USAGE_HOURS };

    if (!read_bounded(r, c, QUANTITY_DURATION, "0..24 h", &usage.hours) ||
        !cursor_close(c, "write 6 h or 40 min"))
        return 0;
    usage.hours.value /= 3600;
    usage.hours.low /= 3600;
    usage.hours.high /= 3600;
    return usage_keep(r, c, object, usage);
}

static int times_item(struct reading *r, struct cursor *c, void *item)
{
    return read_span(r, c, item);
}

int read_times(struct reading *r, struct cursor *c, void *object)
{
    struct usage usage = { .kind = USAGE_TIMES };
    void *items;

    if (!read_list(r, c, sizeof(struct time_span), times_item, &items, &usage.time_count))
        return 0;
    usage.times = items;
    return usage_keep(r, c, object, usage);
}

/* "3 x" at the cursor. */
static int times_sign_here(struct cursor *c, double *count)
{
    struct cursor probe = *c;

    if (!cursor_number(&probe, count, NULL) || !(cursor_mark(&probe, "x") || cursor_mark(&probe, "\xC3\x97")))
        return 0;
    *c = probe;
    return 1;
}

/* "3 x 4 min" leaves the moment open, "07:30 for 4 min" fixes it. */
static int use_item(struct reading *r, struct cursor *c, void *item)
{
    struct use *use = item;

    use->count = 1;
    if (times_sign_here(c, &use->count)) {
        if (use->count < 0 || use->count > 1000)
            return cursor_fail(c, c->whole, "is out of bounds", "0..1000 uses a day are allowed");
    } else {
        use->timed = 1;
        if (!cursor_day_time(c, &use->at)) {
            c->fault.hint = "write 3 x 4 min, or 07:30 for 4 min";
            return 0;
        }
        if (!cursor_word(c, "for"))
            return cursor_fail(c, c->whole, "does not say for how long", "write 07:30 for 4 min");
    }
    return read_bounded(r, c, QUANTITY_DURATION, "0.1 s..86400 s", &use->length);
}

/* Uses add up to a day at most, by the long ends of their ranges. */
int read_uses(struct reading *r, struct cursor *c, void *object)
{
    struct usage usage = { .kind = USAGE_USES };
    const struct use *uses;
    double seconds = 0;
    void *items;

    if (!read_list(r, c, sizeof *uses, use_item, &items, &usage.use_count))
        return 0;
    usage.uses = uses = items;
    for (size_t i = 0; i < usage.use_count; i++)
        seconds += uses[i].count * uses[i].length.high;
    if (seconds > 86400)
        return cursor_fail(c, c->whole, "is more than 24 h in a day", NULL);
    return usage_keep(r, c, object, usage);
}

/* "3 x for 0.5 s"; without a length half a second. */
int read_surge(struct reading *r, struct cursor *c, void *object)
{
    struct load *load = object;
    const char *form = "write 3 x for 0.5 s";

    if (!read_bounded(r, c, QUANTITY_NUMBER, "1..20", &load->surge)) {
        c->fault.hint = c->fault.hint ? c->fault.hint : form;
        return 0;
    }
    if (!cursor_mark(c, "x") && !cursor_mark(c, "\xC3\x97"))
        return cursor_fail(c, c->whole, "does not read as a multiple", form);
    if (cursor_word(c, "for")) {
        if (!read_bounded(r, c, QUANTITY_DURATION, "0..60 s", &load->surge_time))
            return 0;
    } else
        load->surge_time = (struct range){ .value = 0.5, .low = 0.5, .high = 0.5, .origin = ORIGIN_DEFAULT };
    return cursor_close(c, form);
}

/* --- cables --- */

/* Area in [m2]: 0.1 mm2 to 1000 mm2. */
static int area_read(struct reading *r, struct cursor *c, struct range *area, int *series)
{
    if (!cursor_area(c, area, series) || !cursor_close(c, "write 35 mm2, 2 AWG, 8 SAE or 19 x 1.35 mm"))
        return 0;
    if (area->low < 0.1e-6 || area->high > 1000e-6)
        return cursor_fail(c, c->whole, "is out of bounds", "0.1..1000 mm2 is allowed");
    reading_mark(r, area);
    return 1;
}

int read_area(struct reading *r, struct cursor *c, void *object)
{
    struct cable *cable = object;
    int series = AREA_METRIC;

    if (!area_read(r, c, &cable->area, &series))
        return 0;
    cable->area_series = (enum area_series)series;
    cable->area_text = cable->area.text;
    return 1;
}

int read_return_area(struct reading *r, struct cursor *c, void *object)
{
    struct cable *cable = object;
    int series;

    return area_read(r, c, &cable->return_area, &series);
}

/* "200 A class T": what stands behind the amps is the class, as printed. */
int read_fuse(struct reading *r, struct cursor *c, void *object)
{
    struct cable *cable = object;
    struct span rest;

    if ((cable->unfused = cursor_word(c, "none")) != 0)
        return cursor_close(c, r->key->form);
    if (!read_bounded(r, c, QUANTITY_CURRENT, "0.1..2000 A", &cable->fuse)) {
        if (c->at == c->whole.at)
            c->fault.hint = "the amps come first: write 200 A class T";
        return 0;
    }
    rest = cursor_rest(c);
    cable->fuse_class = rest.length ? arena_copy(r->arena, rest.at, rest.length) : NULL;
    return 1;
}

/* --- measured --- */

static int volts_item(struct reading *r, struct cursor *c, void *item)
{
    return read_bounded(r, c, QUANTITY_VOLTAGE, "0..100 V", item);
}

int read_rest_volts(struct reading *r, struct cursor *c, void *object)
{
    struct measured *measured = object;
    void *items;
    size_t count;

    if (!read_list(r, c, sizeof(struct range), volts_item, &items, &count))
        return 0;
    if (count > REST_BLOCKS)
        return cursor_fail(c, c->whole, arena_print(r->arena, "has %zu values", count),
                           arena_print(r->arena, "up to %d blocks are kept", (int)REST_BLOCKS));
    memcpy(measured->rest_volts, items, count * sizeof(struct range));
    measured->rest_count = count;
    return 1;
}

/* readers_site.c - place, dates, plan and kinds of day.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/fileio.h"
#include "parts/climate.h"
#include "profile/readers.h"

/*
 * Readers of keys whose values are more than a number: each reads from the cursor into its object, or leaves
 * the cursor's fault for the caller to report with file, line and a hint. 1: read. Held by
 * tests/profile/test_plan.c.
 */

int read_latitude(struct reading *r, struct cursor *c, void *object)
{
    struct site *site = object;

    if (!cursor_place_angle(c, 'N', 'S', 90, &site->latitude) || !cursor_close(c, "write 38.6 N or 17.5 S"))
        return 0;
    reading_mark(r, &site->latitude);
    return 1;
}

int read_longitude(struct reading *r, struct cursor *c, void *object)
{
    struct site *site = object;

    if (!cursor_place_angle(c, 'E', 'W', 180, &site->longitude) || !cursor_close(c, "write 20.7 E or 61.8 W"))
        return 0;
    reading_mark(r, &site->longitude);
    return 1;
}

/* "+3 h", "-4:30", "+5.5 h"; -12 h to 14 h, as time zones go. */
int read_utc_offset(struct reading *r, struct cursor *c, void *object)
{
    const char *form = "write +3 h, -4 h or +5:30";
    struct range *out = &((struct site *)object)->utc_offset;
    struct cursor start = *c;
    int sign = cursor_mark(c, "-") ? -1 : 1;
    struct day_time clock;
    struct range length;

    cursor_mark(c, "+");
    if (memchr(c->whole.at, ':', c->whole.length)) {
        if (!cursor_day_time(c, &clock))
            return 0;
        out->value = sign * clock.seconds / 3600.0;
    } else {
        *c = start;
        if (!cursor_duration(c, &length)) {
            c->fault.hint = form;
            return 0;
        }
        out->value = length.value / 3600;
    }
    if (!cursor_close(c, form))
        return 0;
    if (out->value < -12 || out->value > 14)
        return cursor_fail(c, c->whole, "is out of bounds", "-12 h..14 h is allowed");
    out->low = out->high = out->value;
    reading_mark(r, out);
    return 1;
}

int read_start(struct reading *r, struct cursor *c, void *object)
{
    struct site *site = object;

    (void)r;
    return cursor_date(c, &site->start_year, &site->start_month, &site->start_day) &&
           cursor_close(c, "write 2026-07-06");
}

int read_climate(struct reading *r, struct cursor *c, void *object)
{
    struct site *site = object;
    struct span word = cursor_rest(c);
    struct text_near near = { .word = word };
    const char *name = arena_copy(r->arena, word.at, word.length);
    const struct climate *found = name ? climate_find(name) : NULL;
    size_t count;
    const struct climate *table = climate_table(&count);

    c->at = c->end;
    if (found) {
        site->climate = found;
        site->sky = SKY_CLIMATE;
        return 1;
    }
    for (size_t i = 0; i < count; i++)
        text_near_offer(&near, table[i].name);
    return cursor_fail(
        c, word, arena_print(r->arena, "\"%.*s\" is not a shipped cruising area", (int)word.length, word.at),
        near.best ? arena_print(r->arena, "did you mean %s?", near.best)
                  : "\"bridgedeck keys climate\" lists them");
}

/* --- plan --- */

/* A [day] may stand below the line that names it: things are made before keys are read. */
static int day_item(struct reading *r, struct cursor *c, void *item)
{
    struct span word = cursor_rest(c);
    const char *name = arena_copy(r->arena, word.at, word.length), *near;
    const struct day_kind *day = name ? reading_find(r, "day", name) : NULL;

    c->at = c->end;
    if (day) {
        memcpy(item, &day, sizeof day);
        return 1;
    }
    near = name ? reading_nearest(r, "day", name) : NULL;
    return cursor_fail(c, word, arena_print(r->arena, "there is no [day %.*s]", (int)word.length, word.at),
                       near ? arena_print(r->arena, "did you mean %s?", near) : NULL);
}

int read_plan_days(struct reading *r, struct cursor *c, void *object)
{
    struct plan *plan = object;
    void *items;

    if (!read_list(r, c, sizeof *plan->days, day_item, &items, &plan->day_count))
        return 0;
    if (plan->day_count == 0)
        return cursor_fail(c, c->whole, "a plan needs a day at least", NULL);
    plan->days = items;
    return 1;
}

/* --- kinds of day --- */

static int span_item(struct reading *r, struct cursor *c, void *item)
{
    return read_span(r, c, item);
}

/* 08:30-09:15, with "at 1500 rpm" where the speed differs from the usual. */
static int run_item(struct reading *r, struct cursor *c, void *item)
{
    struct engine_run *run = item;

    if (!read_span(r, c, &run->span))
        return 0;
    if (!cursor_word(c, "at"))
        return 1;
    return read_bounded(r, c, QUANTITY_SPEED, "300..8000 rpm", &run->speed);
}

/* "09:00-10:30 at 1600 rpm, ..." of one engine by the suffix, or of all. Runs of several keys add up. */
int read_engine_runs(struct reading *r, struct cursor *c, void *object)
{
    struct day_kind *day = object;
    const struct engine *engine = NULL;
    struct engine_run *all;
    void *items;
    size_t count;

    if (r->suffix && !(engine = reading_find(r, "engine", r->suffix))) {
        const char *near = reading_nearest(r, "engine", r->suffix);

        key_remark(r->diags, r->section, r->entry,
                   arena_print(r->arena, "there is no [engine %s]", r->suffix),
                   near ? arena_print(r->arena, "did you mean engine.%s?", near) : NULL);
    }
    if (!read_list(r, c, sizeof *all, run_item, &items, &count))
        return 0;
    if (!(all = arena_array(r->arena, day->run_count + count, sizeof *all)))
        return cursor_fail(c, c->whole, NULL, NULL);
    for (size_t i = 0; i < day->run_count; i++)
        all[i] = day->runs[i];
    for (size_t i = 0; i < count; i++) {
        all[day->run_count + i] = ((struct engine_run *)items)[i];
        all[day->run_count + i].engine = engine;
    }
    day->runs = all;
    day->run_count += count;
    return 1;
}

static int read_spans(struct reading *r, struct cursor *c, const struct time_span **spans, size_t *count)
{
    void *items;

    if (!read_list(r, c, sizeof **spans, span_item, &items, count))
        return 0;
    *spans = items;
    return 1;
}

int read_shore_times(struct reading *r, struct cursor *c, void *object)
{
    struct day_kind *day = object;

    return read_spans(r, c, &day->shore, &day->shore_count);
}

int read_quiet_hours(struct reading *r, struct cursor *c, void *object)
{
    struct day_kind *day = object;

    return read_spans(r, c, &day->quiet, &day->quiet_count);
}

/* "automatic", "off", or times. The hint changes where what is typed is no time at all. */
int read_generator_times(struct reading *r, struct cursor *c, void *object)
{
    struct day_kind *day = object;
    struct span rest = cursor_rest(c);

    if (span_is_word(rest, "automatic")) {
        day->generator = GENERATOR_AUTOMATIC;
        c->at = c->end;
        return 1;
    }
    if (!read_spans(r, c, &day->generator_times, &day->generator_count)) {
        if (rest.at[0] < '0' || rest.at[0] > '9')
            c->fault.hint = "write automatic, off, or times: 18:00-20:00";
        return 0;
    }
    day->generator = day->generator_count ? GENERATOR_TIMES : GENERATOR_OFF;
    return 1;
}

/* --- rules --- */

int read_rule_set(struct reading *r, struct cursor *c, void *object)
{
    static const char *const names[] = { [RULES_CFR183] = "cfr183",
                                         [RULES_ABYC_E11] = "abyc-e11",
                                         [RULES_ISO10133] = "iso10133",
                                         [RULES_ISO13297] = "iso13297",
                                         [RULES_OWN] = "own" };
    struct rules_choice *rules = object;
    struct span word = cursor_rest(c);

    c->at = c->end;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (span_is_word(word, names[i])) {
            rules->set = (enum rule_set_id)i;
            rules->origin = r->entry ? ORIGIN_GIVEN : ORIGIN_DEFAULT;
            return 1;
        }
    return cursor_fail(c, word,
                       arena_print(r->arena, "\"%.*s\" is not a known rule set", (int)word.length, word.at),
                       r->key->form);
}

/* The file is not read here: the survey does when it needs it. */
int read_rules_file(struct reading *r, struct cursor *c, void *object)
{
    struct rules_choice *rules = object;
    const char *name = arena_copy(r->arena, c->whole.at, c->whole.length);

    c->at = c->end;
    rules->own_file = name ? file_path_beside(r->arena, r->entry->place.file, name) : NULL;
    return rules->own_file != NULL;
}

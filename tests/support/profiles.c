/* profiles.c - reading profiles in tests.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/profiles.h"

#include <stdlib.h>
#include <string.h>

#include "base/diag_text.h"
#include "profile/keys.h"
#include "profile/profile.h"
#include "support/test.h"

static struct test_reading reading_begin(void)
{
    struct test_reading t = { .arena = arena_new(), .diags = diag_list_new() };

    assert_non_null(t.arena);
    assert_non_null(t.diags);
    return t;
}

struct test_reading test_read_bytes(const char *bytes, size_t length)
{
    struct test_reading t = reading_begin();

    t.status = profile_read_text(&t.boat, t.arena, "test.ini", bytes, length, t.diags);
    return t;
}

struct test_reading test_read_text(const char *text)
{
    return test_read_bytes(text, strlen(text));
}

struct test_reading test_read_file(const char *path, const char *const *changes)
{
    struct test_reading t = reading_begin();
    size_t count = 0;

    while (changes && changes[count])
        count++;
    t.status = profile_read(&t.boat, t.arena, path, changes, count, t.diags);
    return t;
}

void test_reading_free(struct test_reading *t)
{
    diag_list_free(t->diags);
    arena_free(t->arena);
}

const char *test_remarks(const struct test_reading *t)
{
    const char *all = "";

    for (size_t i = 0; i < t->diags->count; i++)
        all = arena_print(t->arena, "%s%s", all, diag_text(t->arena, &t->diags->items[i]));
    return all;
}

struct test_reading test_boat_of(const char *text)
{
    struct test_reading t = test_read_text(text);

    if (t.status != STATUS_OK)
        fail_msg("refused:\n%s", test_remarks(&t));
    return t;
}

void test_refused(const char *text, const char *piece)
{
    struct test_reading t = test_read_text(text);

    assert_int_equal(t.status, STATUS_REFUSED);
    assert_null(t.boat);
    if (!strstr(test_remarks(&t), piece))
        fail_msg("\"%s\" is not among the remarks:\n%s", piece, test_remarks(&t));
    test_reading_free(&t);
}

const struct assumption *test_assumption(const struct boat *boat, const char *section, const char *key)
{
    for (size_t i = 0; i < boat->assumption_count; i++)
        if (strcmp(boat->assumptions[i].section, section) == 0 && strcmp(boat->assumptions[i].key, key) == 0)
            return &boat->assumptions[i];
    return NULL;
}

const struct load *test_load(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->load_count; i++)
        if (strcmp(boat->loads[i].name, name) == 0)
            return &boat->loads[i];
    fail_msg("no load %s", name);
    return NULL;
}

const struct bank *test_bank(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->bank_count; i++)
        if (strcmp(boat->banks[i].name, name) == 0)
            return &boat->banks[i];
    fail_msg("no bank %s", name);
    return NULL;
}

/* --- the boat as text --- */

struct lines {
    struct arena *arena;
    const char **items;
    size_t count, room;
};

static void line_add(struct lines *l, const char *line)
{
    void *items = l->items;
    const char **slot = arena_push(l->arena, &items, &l->count, &l->room, sizeof *slot);

    l->items = items;
    assert_non_null(slot);
    assert_non_null(line);
    *slot = line;
}

static const char *range_text(struct lines *l, const struct range *r)
{
    if (!range_known(r))
        return "unknown";
    return arena_print(l->arena, "%.17g %.17g..%.17g by %d", r->value, r->low, r->high, (int)r->origin);
}

static const char *moment_text(struct lines *l, struct day_time t)
{
    return arena_print(l->arena, "%d%+d", (int)t.anchor, t.seconds);
}

static const char *spans_text(struct lines *l, const struct time_span *spans, size_t count)
{
    const char *text = "";

    for (size_t i = 0; i < count; i++)
        text = arena_print(l->arena, "%s %s-%s", text, moment_text(l, spans[i].from),
                           moment_text(l, spans[i].to));
    return text;
}

static const char *usage_text(struct lines *l, const struct usage *u)
{
    const char *text = arena_print(l->arena, "kind %d hours %s times%s uses", (int)u->kind,
                                   range_text(l, &u->hours), spans_text(l, u->times, u->time_count));

    for (size_t i = 0; i < u->use_count; i++)
        text =
            arena_print(l->arena, "%s %g x %s timed %d at %s", text, u->uses[i].count,
                        range_text(l, &u->uses[i].length), u->uses[i].timed, moment_text(l, u->uses[i].at));
    return text;
}

/* The name of a linked object: whatever it is, its name comes first. */
static const char *link_name(const void *field)
{
    const char *const *object;

    memcpy(&object, field, sizeof object);
    return object ? *object : "none";
}

static const char *choice_text(struct lines *l, const void *field)
{
    int choice;

    memcpy(&choice, field, sizeof choice);
    return arena_print(l->arena, "%d", choice);
}

static const char *months_text(struct lines *l, const struct range *months)
{
    const char *text = "";

    for (size_t i = 0; i < MONTHS; i++)
        text = arena_print(l->arena, "%s %s", text, range_text(l, &months[i]));
    return text;
}

/* One key of one object, where its type says all. */
static void key_line(struct lines *l, const struct key *key, const char *title, const char *object)
{
    const char *field = object + key->at, *text = NULL;

    switch (key->type) {
    case KEY_RANGE:
        text = range_text(l, (const struct range *)(const void *)field);
        break;
    case KEY_MONTHS:
        text = months_text(l, (const struct range *)(const void *)field);
        break;
    case KEY_CHOICE:
    case KEY_FLAG:
        text = choice_text(l, field);
        break;
    case KEY_LINK:
        text = link_name(field);
        break;
    case KEY_TEXT:
    case KEY_SPECIAL:
        return;
    }
    line_add(l, arena_print(l->arena, "[%s] %s = %s", title, key->name, text));
}

static void object_lines(struct lines *l, const struct kind *kind, const char *object)
{
    const char *name = kind->named ? link_name(&object) : "";
    size_t count;
    const struct key *keys = key_table(&count);

    for (size_t i = 0; i < count; i++)
        if (strcmp(keys[i].section, kind->name) == 0)
            key_line(l, &keys[i], arena_print(l->arena, "%s %s", kind->name, name), object);
}

static void load_lines(struct lines *l, const struct boat *boat, const struct load *load)
{
    line_add(l, arena_print(l->arena, "[%s] power %s current %s surge %s for %s node %s", load->name,
                            range_text(l, &load->power), range_text(l, &load->current),
                            range_text(l, &load->surge), range_text(l, &load->surge_time),
                            load->node ? load->node : "-"));
    line_add(l, arena_print(l->arena, "[%s] duty %s", load->name, range_text(l, &load->duty)));
    line_add(l, arena_print(l->arena, "[%s] usage %s", load->name, usage_text(l, &load->usage)));
    for (size_t i = 0; i < boat->day_count; i++)
        line_add(l, arena_print(l->arena, "[%s] on %s: %s duty %g", load->name, boat->days[i].name,
                                usage_text(l, load_usage(load, i)), load_duty(load, i)));
}

static void day_lines(struct lines *l, const struct day_kind *day)
{
    line_add(l, arena_print(l->arena, "[%s] shore%s quiet%s generator %d%s", day->name,
                            spans_text(l, day->shore, day->shore_count),
                            spans_text(l, day->quiet, day->quiet_count), (int)day->generator,
                            spans_text(l, day->generator_times, day->generator_count)));
    for (size_t i = 0; i < day->run_count; i++)
        line_add(l, arena_print(l->arena, "[%s] %s%s at %s", day->name,
                                day->runs[i].engine ? day->runs[i].engine->name : "all",
                                spans_text(l, &day->runs[i].span, 1), range_text(l, &day->runs[i].speed)));
}

static void plan_line(struct lines *l, const struct plan *plan)
{
    const char *text = "";

    for (size_t i = 0; i < plan->day_count; i++)
        text = arena_print(l->arena, "%s %s", text, plan->days[i]->name);
    line_add(l, text);
}

static void special_lines(struct lines *l, const struct boat *b)
{
    const struct site *s = &b->site;

    line_add(l, arena_print(l->arena, "site %s %s %s %d-%d-%d sky %d area %s %.17g",
                            range_text(l, &s->latitude), range_text(l, &s->longitude),
                            range_text(l, &s->utc_offset), s->start_year, s->start_month, s->start_day,
                            (int)s->sky, s->climate ? s->climate->name : "-", s->climate_distance_km));
    line_add(l, arena_print(l->arena, "rules %d by %d", (int)b->rules.set, (int)b->rules.origin));
    plan_line(l, &b->plan);
    for (size_t i = 0; i < b->day_count; i++)
        day_lines(l, &b->days[i]);
    for (size_t i = 0; i < b->load_count; i++)
        load_lines(l, b, &b->loads[i]);
    for (size_t i = 0; i < b->bank_count; i++)
        line_add(l, arena_print(l->arena, "[%s] %s at %g h as %d %g", b->banks[i].name,
                                range_text(l, &b->banks[i].block_capacity), b->banks[i].rated_hours,
                                (int)b->banks[i].rated_as, b->banks[i].rated_value));
    for (size_t i = 0; i < b->solar_count; i++)
        line_add(l, arena_print(l->arena, "[%s] any %d %s", b->solars[i].name, b->solars[i].any_heading,
                                range_text(l, &b->solars[i].azimuth)));
    for (size_t i = 0; i < b->charger_count; i++)
        line_add(l, arena_print(l->arena, "[%s] fed by %u", b->chargers[i].name, b->chargers[i].fed_by));
    for (size_t i = 0; i < b->cable_count; i++)
        line_add(l, arena_print(l->arena, "[%s] %s to %s area %s %s fuse %s %s", b->cables[i].name,
                                b->cables[i].from, b->cables[i].to, range_text(l, &b->cables[i].area),
                                range_text(l, &b->cables[i].return_area), range_text(l, &b->cables[i].fuse),
                                b->cables[i].fuse_class ? b->cables[i].fuse_class : "-"));
    for (size_t i = 0; i < b->assumption_count; i++)
        line_add(l, arena_print(l->arena, "assumed [%s] %s = %s (%s)", b->assumptions[i].section,
                                b->assumptions[i].key, b->assumptions[i].value, b->assumptions[i].why));
}

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

const char *test_boat_text(struct arena *arena, const struct boat *boat)
{
    struct lines l = { .arena = arena };
    size_t kind_count, length = 0;
    const struct kind *kinds = kind_table(&kind_count);
    char *text, *p;

    for (size_t i = 0; i < kind_count; i++) {
        const char *at = (const char *)boat + kinds[i].at, *array;

        if (!kinds[i].named) {
            object_lines(&l, &kinds[i], at);
            continue;
        }
        memcpy(&array, at, sizeof array);
        for (size_t j = 0; j < *(const size_t *)(const void *)((const char *)boat + kinds[i].count_at); j++)
            object_lines(&l, &kinds[i], array + j * kinds[i].size);
    }
    special_lines(&l, boat);
    qsort(l.items, l.count, sizeof *l.items, by_text);
    for (size_t i = 0; i < l.count; i++)
        length += strlen(l.items[i]) + 1;
    assert_non_null(text = p = arena_zero(arena, length + 1));
    for (size_t i = 0; i < l.count; i++) {
        p = stpcpy(p, l.items[i]);
        *p++ = '\n';
    }
    return text;
}

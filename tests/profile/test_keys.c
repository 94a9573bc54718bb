/* test_keys.c - the table of keys is whole, and every row of it does what it says.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/keys.h"

#include <math.h>
#include <string.h>

#include "profile/profile.h"
#include "profile/values.h"
#include "support/profiles.h"
#include "support/test.h"

TEST(every_row_is_whole)
{
    size_t count;
    const struct key *keys = key_table(&count);

    assert_true(count > 120);
    for (size_t i = 0; i < count; i++) {
        const struct key *k = &keys[i];

        if (!kind_find(k->section) || !k->name || !k->meaning || !*k->meaning)
            fail_msg("[%s] %s lacks something", k->section, k->name);
        if (k->fallback && !(k->source && *k->source))
            fail_msg("[%s] %s: a default without a source", k->section, k->name);
        if (k->type == KEY_SPECIAL && (!k->reader || !k->form))
            fail_msg("[%s] %s: no reader or form", k->section, k->name);
        if ((k->type == KEY_RANGE || k->type == KEY_MONTHS) && !k->bounds)
            fail_msg("[%s] %s: no bounds", k->section, k->name);
        if ((k->flags & KEY_REQUIRED) && k->fallback)
            fail_msg("[%s] %s: required, yet with a default", k->section, k->name);
        for (size_t j = 0; j < i; j++)
            if (strcmp(keys[j].section, k->section) == 0 && strcmp(keys[j].name, k->name) == 0)
                fail_msg("[%s] %s stands twice", k->section, k->name);
    }
}

/* The least that makes a section of its kind complete. */
static const char *required_of(const char *kind)
{
    static const struct {
        const char *kind, *keys;
    } rows[] = {
        { "bank", "chemistry = agm\nblock_capacity = 100 Ah\n" },
        { "solar", "power = 100 W\n" },
        { "alternator", "rated_current = 100 A\nengine = e\n" },
        { "generator", "power = 5 kW\n" },
        { "charger", "current = 30 A\n" },
        { "inverter", "power = 2000 W\n" },
        { "dcdc", "current = 30 A\n" },
        { "load", "power = 45 W\n" },
        { "cable", "from = x\nto = y\nlength = 5 m\n" },
        { "site", "latitude = 38 N\nlongitude = 20 E\n" },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (strcmp(rows[i].kind, kind) == 0)
            return rows[i].keys;
    return "";
}

/* "key = " at the start of a line of the text. */
static int has_line(const char *text, const char *key)
{
    size_t length = strlen(key);

    for (const char *p = text; p; p = strchr(p, '\n') ? strchr(p, '\n') + 1 : NULL)
        if (strncmp(p, key, length) == 0 && strncmp(p + length, " = ", 3) == 0)
            return 1;
    return 0;
}

/* The required keys of the section less the one that is to be tried. */
static const char *required_without(struct arena *arena, const char *kind, const char *key)
{
    const char *all = required_of(kind), *text = "";

    if (!has_line(all, key))
        return all;
    for (const char *p = all; *p; p = strchr(p, '\n') + 1)
        if (strncmp(p, key, strlen(key)) != 0 || strncmp(p + strlen(key), " = ", 3) != 0)
            text = arena_print(arena, "%s%.*s", text, (int)(strchr(p, '\n') + 1 - p), p);
    return text;
}

/* A profile whose only interesting line is the key under trial. */
static const char *profile_with(struct arena *arena, const struct key *k, const char *value)
{
    const struct kind *kind = kind_find(k->section);
    const char *house =
        strcmp(k->section, "bank") ? "[bank b]\nchemistry = agm\nblock_capacity = 100 Ah\n" : "";

    return arena_print(arena, "%s[engine e]\n[%s%s]\n%s%s = %s\n", house, k->section, kind->named ? " t" : "",
                       required_without(arena, k->section, k->name), k->name, value);
}

/* How many remarks name the key itself with the text. */
static int remarked(struct arena *arena, const struct key *k, const char *value, const char *message)
{
    const char *text = profile_with(arena, k, value);
    struct test_reading t = test_read_text(text);
    int found = 0;

    for (size_t i = 0; i < t.diags->count; i++)
        found += t.diags->items[i].key && strcmp(t.diags->items[i].key, k->name) == 0 &&
                 strstr(t.diags->items[i].message, message) != NULL;
    test_reading_free(&t);
    return found;
}

/* Each bound itself is accepted, what lies beyond it is not, and a bare number is refused where a unit
 * matters. */
TEST(bounds_hold)
{
    struct arena *arena = arena_new();
    size_t count;
    const struct key *keys = key_table(&count);

    for (size_t i = 0; i < count; i++) {
        const struct key *k = &keys[i];
        struct cursor c;
        struct range bounds;
        const char *low, *high, *beyond, *unit;

        if (k->type != KEY_RANGE && k->type != KEY_MONTHS)
            continue;
        c = cursor_make(arena, span_of(k->bounds));
        if (!cursor_range(&c, k->quantity, &bounds) || !cursor_close(&c, NULL) || !(bounds.low < bounds.high))
            fail_msg("[%s] %s: bounds \"%s\"", k->section, k->name, k->bounds);
        unit = strrchr(k->bounds, ' ') ? strrchr(k->bounds, ' ') : "";
        low = arena_print(arena, "%.*s%s", (int)(strstr(k->bounds, "..") - k->bounds), k->bounds, unit);
        high = strstr(k->bounds, "..") + 2;
        beyond = arena_print(arena, "%.*s9%s", (int)strcspn(high, " "), high, unit);
        if (strcmp(high, "0 %/K") == 0 || strcmp(high, "1") == 0)
            beyond = arena_print(arena, "2%s", unit);
        if (strchr(high, '.'))
            beyond = arena_print(arena, "9999%s", unit);
        if (remarked(arena, k, low, "bounds") || remarked(arena, k, high, "bounds"))
            fail_msg("[%s] %s: %s or %s is refused", k->section, k->name, low, high);
        if (!remarked(arena, k, beyond, "is out of bounds"))
            fail_msg("[%s] %s: %s is accepted", k->section, k->name, beyond);
        if (!quantity_is_bare(k->quantity) && !remarked(arena, k, "1", "\"1\" has no unit"))
            fail_msg("[%s] %s: a bare number is accepted", k->section, k->name);
    }
    arena_free(arena);
}

/* Defaults that cannot matter to the thing of this test: a DC load, a bank of one string. */
static int is_quiet(const struct key *k)
{
    return (strcmp(k->section, "load") == 0 && strcmp(k->name, "power_factor") == 0) ||
           (strcmp(k->section, "bank") == 0 && strcmp(k->name, "wiring") == 0);
}

/* A default typed by hand gives the same value as the default itself. */
TEST(defaults_are_what_they_say)
{
    struct arena *arena = arena_new();
    size_t count;
    const struct key *keys = key_table(&count);

    for (size_t i = 0; i < count; i++) {
        const struct key *k = &keys[i];
        const struct assumption *a;
        const struct kind *kind = kind_find(k->section);
        struct test_reading t;
        const char *title;

        if (!k->fallback || (k->flags & KEY_COMPUTED))
            continue;
        t = test_boat_of(profile_with(arena, k, k->fallback));
        title = arena_print(arena, "%s%s", k->section, kind->named ? " t" : "");
        assert_null(test_assumption(t.boat, title, k->name));
        test_reading_free(&t);
        t = test_boat_of(arena_print(
            arena, "%s[engine e]\n[%s]\n%s",
            strcmp(k->section, "bank") ? "[bank b]\nchemistry = agm\nblock_capacity = 100 Ah\n" : "",
            strcmp(title, "engine t") ? title : "engine t", required_of(k->section)));
        a = test_assumption(t.boat, title, k->name);
        if (!a && !is_quiet(k))
            fail_msg("[%s] %s: its default is not among the assumptions", k->section, k->name);
        if (a)
            assert_string_equal(a->value, k->fallback);
        test_reading_free(&t);
    }
    arena_free(arena);
}

TEST(reference)
{
    struct arena *arena = arena_new();
    size_t count, all;
    const struct key_row *rows = profile_keys(arena, "bank", &count);

    assert_true(count > 15);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(rows[i].section, "bank NAME");
    assert_string_equal(rows[0].key, "role");
    assert_string_equal(rows[0].form, "house, start, bow");
    assert_string_equal(rows[0].fallback, "house");
    assert_string_equal(rows[1].fallback, "required");
    rows = profile_keys(arena, NULL, &all);
    assert_true(all > 120);
    for (size_t i = 0; i < all; i++)
        assert_true(rows[i].section && rows[i].key && rows[i].form && rows[i].fallback && rows[i].bounds &&
                    rows[i].meaning && rows[i].source);
    profile_keys(arena, "bnak", &count);
    assert_int_equal(count, 0);
    arena_free(arena);
}

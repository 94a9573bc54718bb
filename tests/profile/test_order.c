/* test_order.c - the order of sections, and of keys, changes nothing but lines.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/profiles.h"
#include "support/run.h"
#include "support/test.h"

enum { PIECES = 300 };

/* Cuts a profile before every section head; returns how many pieces. */
static size_t pieces_of(char *text, const char *pieces[PIECES])
{
    size_t n = 0;
    char *p = strstr(text, "\n[");

    pieces[n++] = text;
    while (p && n < PIECES) {
        *p = '\0';
        pieces[n++] = p + 1;
        p = strstr(p + 1, "\n[");
    }
    assert_true(n < PIECES);
    return n;
}

static const char *joined(struct arena *arena, const char *const *pieces, size_t count, int backwards)
{
    const char *text = "";

    for (size_t i = 0; i < count; i++)
        text = arena_print(arena, "%s%s\n", text, pieces[backwards ? count - 1 - i : i]);
    return text;
}

/* A turn that mixes well enough: every third piece first, then the rest. */
static void mix(struct arena *arena, const char **pieces, size_t count)
{
    const char **old = arena_array(arena, count, sizeof *old);
    size_t n = 0;

    memcpy(old, pieces, count * sizeof *old);
    for (size_t start = 0; start < 3; start++)
        for (size_t i = start; i < count; i += 3)
            pieces[n++] = old[i];
}

/*
 * Days keep their order: the first of them is the default plan, and tables by kind of day follow it. The text
 * of a boat compares all the rest.
 */
static void same_boat(const char *path)
{
    struct arena *arena = arena_new();
    char *text = file_contents(path, NULL);
    const char *pieces[PIECES], *want;
    struct test_reading t;
    size_t count;

    assert_non_null(text);
    t = test_boat_of(text);
    want = test_boat_text(t.arena, t.boat);
    count = pieces_of(text, pieces);
    for (int turn = 0; turn < 4; turn++) {
        struct test_reading other = test_boat_of(joined(arena, pieces, count, turn % 2 == 0));

        assert_string_equal(test_boat_text(other.arena, other.boat), want);
        test_reading_free(&other);
        mix(arena, pieces, count);
    }
    test_reading_free(&t);
    free(text);
    arena_free(arena);
}

TEST(order_of_sections)
{
    same_boat("profiles/starter.ini");
    same_boat("profiles/cruiser-12v-agm.ini");
    same_boat("profiles/induction-24v-lfp.ini");
}

TEST(order_of_keys)
{
    static const char *const forward =
        "[bank house]\nchemistry = flooded\nblock_capacity = 160 min\nseries = 1\n"
        "[load a]\nsupply = ac\npower = 2 A\npower_factor = 0.6\nduty = 40 %\n";
    static const char *const backward =
        "[bank house]\nseries = 1\nblock_capacity = 160 min\nchemistry = flooded\n"
        "[load a]\nduty = 40 %\npower_factor = 0.6\npower = 2 A\nsupply = ac\n";
    struct test_reading one = test_boat_of(forward), two = test_boat_of(backward);

    assert_string_equal(test_boat_text(one.arena, one.boat), test_boat_text(two.arena, two.boat));
    test_reading_free(&one);
    test_reading_free(&two);
}

/* The comparison itself must be able to fail. */
TEST(another_boat_has_another_text)
{
    struct test_reading one =
        test_boat_of("[bank h]\nchemistry = agm\nblock_capacity = 100 Ah\n[load a]\npower = 5 W\n");
    struct test_reading two =
        test_boat_of("[bank h]\nchemistry = agm\nblock_capacity = 100 Ah\n[load a]\npower = 6 W\n");

    assert_string_not_equal(test_boat_text(one.arena, one.boat), test_boat_text(two.arena, two.boat));
    test_reading_free(&one);
    test_reading_free(&two);
}

/* test_plan.c - days of autonomy reach the boat, with their unit.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "profile/profile.h"
#include "support/test.h"

static enum status read_plan(const struct boat **boat, struct arena *arena, const char *text)
{
    struct diag_list *diags = diag_list_new();
    enum status status = profile_read_text(boat, arena, "plan.ini", text, strlen(text), diags);

    diag_list_free(diags);
    return status;
}

TEST(autonomy_is_in_days)
{
    struct arena *arena = arena_new();
    const struct boat *boat = NULL;

    assert_int_equal(read_plan(&boat, arena, "[plan]\nautonomy = 2..4 d\n"), STATUS_OK);
    row_check("middle [d]", boat->plan.autonomy.value, 3, 1e-12, "by hand");
    row_check("high [d]", boat->plan.autonomy.high, 4, 1e-12, "by hand");
    assert_int_equal(boat->plan.autonomy.origin, ORIGIN_GIVEN);
    assert_int_equal(read_plan(&boat, arena, "[plan]\nstep = 1 min\n"), STATUS_OK);
    row_check("default [d]", boat->plan.autonomy.value, 1, 1e-12, "by hand");
    assert_int_equal(boat->plan.autonomy.origin, ORIGIN_DEFAULT);
    row_done();
    arena_free(arena);
}

TEST(autonomy_wants_a_unit)
{
    struct arena *arena = arena_new();
    const struct boat *boat = NULL;

    assert_int_equal(read_plan(&boat, arena, "[plan]\nautonomy = 3\n"), STATUS_REFUSED);
    assert_int_equal(read_plan(&boat, arena, "[plan]\nautonomy = 90 d\n"), STATUS_REFUSED);
    assert_null(boat);
    arena_free(arena);
}

/* [load lamp] times and the like: what a span that ends when it begins was taken for. */
static const char *taken_for(const struct boat *boat, const char *section, const char *key)
{
    for (size_t i = 0; i < boat->assumption_count; i++)
        if (strcmp(boat->assumptions[i].section, section) == 0 && strcmp(boat->assumptions[i].key, key) == 0)
            return boat->assumptions[i].value;
    return NULL;
}

TEST(a_span_that_ends_when_it_begins_is_listed_as_the_whole_day)
{
    struct arena *arena = arena_new();
    const struct boat *boat = NULL;
    static const char text[] = "[engine port]\n[shore]\n[day anchor]\nshore = 22:00-22:00\nquiet_hours = 22:00-08:00\n"
                               "engine.port = 09:00-09:00\n[bank house]\nrole = house\nchemistry = agm\n"
                               "block_capacity = 100 Ah at 20 h\n"
                               "[load lamp]\nsupply = dc\npower = 5 W\ntimes = 18:00-23:00, 08:00-08:00\n"
                               "times.anchor = sunset-sunset\n[load fan]\nsupply = dc\npower = 5 W\n"
                               "times = 00:00-24:00\n";

    assert_int_equal(read_plan(&boat, arena, text), STATUS_OK);
    assert_string_equal(taken_for(boat, "load lamp", "times"), "24 h");
    assert_string_equal(taken_for(boat, "load lamp", "times.anchor"), "24 h");
    assert_string_equal(taken_for(boat, "day anchor", "shore"), "24 h");
    assert_string_equal(taken_for(boat, "day anchor", "engine.port"), "24 h");
    assert_null(taken_for(boat, "day anchor", "quiet_hours"));
    assert_null(taken_for(boat, "load fan", "times"));
    arena_free(arena);
}

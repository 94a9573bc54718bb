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

/* test_survey_changes.c - findings that a change brings and takes away.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <string.h>

#include "base/arena.h"
#include "rules/survey_changes.h"

static struct survey made(const struct finding *findings, size_t count, size_t standing)
{
    return (struct survey){ .findings = findings, .finding_count = count, .standing = standing };
}

static const struct finding old[] = { { .id = "FUS-03", .place = "cable a", .fact = "300 A" },
                                      { .id = "CON-02", .place = "cable a" },
                                      { .id = "BAT-01", .place = "bank b" } };
static const struct finding now[] = { { .id = "FUS-03", .place = "cable a", .fact = "400 A" },
                                      { .id = "CON-02", .place = "cable c" },
                                      { .id = "BAT-09", .place = "bank b" } };

TEST(findings_appear_and_vanish_by_rule_and_place)
{
    struct arena *arena = arena_new();
    /* The third of each is not verified: it does not count. */
    const struct survey before = made(old, 3, 2), after = made(now, 3, 2);
    const struct survey *surveys[] = { &before, &after, &before };
    const char *const names[] = { "before", "x", "y" };
    const struct survey_changes *changes = survey_changes_find(arena, surveys, names, 3);

    assert_int_equal(changes->count, 2);
    assert_string_equal(changes->rows[0].what, "appears");
    assert_string_equal(changes->rows[0].change, "x");
    assert_string_equal(changes->rows[0].finding.place, "cable c");
    assert_string_equal(changes->rows[1].what, "vanishes");
    assert_string_equal(changes->rows[1].finding.place, "cable a");
    assert_string_equal(changes->rows[1].finding.id, "CON-02");
    arena_free(arena);
}

TEST(there_and_back_swap_appear_and_vanish)
{
    struct arena *arena = arena_new();
    const struct survey a = made(old, 3, 3), b = made(now, 3, 3);
    const struct survey *there[] = { &a, &b }, *back[] = { &b, &a };
    const char *const names[] = { "before", "x" };
    const struct survey_changes *one = survey_changes_find(arena, there, names, 2);
    const struct survey_changes *two = survey_changes_find(arena, back, names, 2);

    assert_int_equal(one->count, 4);
    assert_int_equal(two->count, 4);
    for (size_t i = 0; i < 4; i++) { /* those that appear come first */
        const struct survey_change *v = one->rows + i, *w = two->rows + (i + 2) % 4;

        assert_string_equal(v->finding.id, w->finding.id);
        assert_string_equal(v->finding.place, w->finding.place);
        assert_string_not_equal(v->what, w->what);
    }
    arena_free(arena);
}

/* test_name_table.c - names to numbers: growing, overwriting, names that are not there.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include "base/arena.h"
#include "base/name_table.h"

TEST(a_table_grows_and_keeps_what_it_has)
{
    enum { NAMES = 5000 };
    struct arena *arena = arena_new();
    struct name_table table = { 0 };

    assert_int_equal(name_table_get(&table, "n0", 7), 7); /* empty */
    for (size_t i = 0; i < NAMES; i++)
        assert_true(name_table_set(&table, arena, arena_print(arena, "n%zu", i), i));
    for (size_t i = 0; i < NAMES; i += 3) /* another text of the same letters is the same name */
        assert_true(name_table_set(&table, arena, arena_print(arena, "n%zu", i), i + NAMES));
    for (size_t i = 0; i < NAMES; i++)
        assert_int_equal(name_table_get(&table, arena_print(arena, "n%zu", i), 0), i % 3 ? i : i + NAMES);
    assert_int_equal(table.count, NAMES);
    assert_true(table.room > 2 * NAMES);
    assert_int_equal(name_table_get(&table, "n5000", 9), 9);
    name_table_put(&table, "n1", 99); /* the first stays */
    assert_int_equal(name_table_get(&table, "n1", 0), 1);
    arena_free(arena);
}

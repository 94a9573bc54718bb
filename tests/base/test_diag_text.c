/* test_diag_text.c - what a remark looks like.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/diag_text.h"

#include "base/arena.h"
#include "support/test.h"

static void reads(struct diag diag, const char *want)
{
    struct arena *arena = arena_new();

    assert_string_equal(diag_text(arena, &diag), want);
    arena_free(arena);
}

TEST(with_source_and_caret)
{
    reads((struct diag){ DIAG_ERROR, "passage.ini", 41, 9, 2, "power = 45", "load fridge", "power",
                         "\"45\" has no unit", "write 45 W, or 3.8 A" },
          "passage.ini:41: error: [load fridge] power: \"45\" has no unit\n"
          "    power = 45\n"
          "            ^^ write 45 W, or 3.8 A\n");
}

TEST(columns_are_characters_not_bytes)
{
    reads((struct diag){ DIAG_WARNING, "a.ini", 2, 8, 3, "n = caf\xC3\xA9\tx", NULL, "n", "odd", NULL },
          "a.ini:2: warning: n: odd\n"
          "    n = caf\xC3\xA9 x\n"
          "           ^^^\n");
}

TEST(without_source)
{
    reads((struct diag){ DIAG_ERROR, "a.ini", 0, 0, 0, NULL, NULL, NULL, "is empty", "write something" },
          "a.ini: error: is empty; write something\n");
    reads((struct diag){ DIAG_NOTE, NULL, 0, 0, 0, NULL, "bank house", NULL, "is new", NULL },
          "note: [bank house]: is new\n");
}

TEST(caret_never_past_the_line)
{
    reads((struct diag){ DIAG_ERROR, "a.ini", 1, 5, 90, "k = v", NULL, NULL, "m", NULL },
          "a.ini:1: error: m\n    k = v\n        ^\n");
    reads((struct diag){ DIAG_ERROR, "a.ini", 1, 50, 1, "k = v", NULL, NULL, "m", "h" },
          "a.ini:1: error: m\n    k = v\n    h\n");
}

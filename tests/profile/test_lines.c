/* test_lines.c - what inih alone would get wrong and the reader in front of it gets right.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/lines.h"

#include <string.h>

#include "base/arena.h"
#include "support/profiles.h"
#include "support/test.h"

/* Reads text without faults into a document in the reading's arena. */
static struct document document_of(struct test_reading *t, const char *text)
{
    struct document d = { 0 };

    *t = (struct test_reading){ .arena = arena_new(), .diags = diag_list_new() };
    assert_int_equal(document_read(&d, t->arena, "test.ini", span_of(text), t->diags), STATUS_OK);
    if (t->diags->count)
        fail_msg("%s", test_remarks(t));
    return d;
}

static void holds(const struct document *d, const char *title, const char *key, const char *value, int line)
{
    const struct section *s = document_find(d, title);
    const struct entry *e = s ? section_find(s, key) : NULL;

    assert_non_null(e);
    assert_true(span_is(e->value, value));
    assert_int_equal(e->place.line, line);
}

TEST(plain)
{
    struct test_reading t;
    struct document d = document_of(&t, "# a comment\n\n[boat]\nname = My boat\ncrew=2\n; another\n"
                                        "[ load  fridge ]\npower: 45 W ; measured\n[day anchor]\n");

    assert_int_equal(d.count, 3);
    holds(&d, "boat", "name", "My boat", 4);
    holds(&d, "boat", "crew", "2", 5);
    holds(&d, "load fridge", "power", "45 W", 8);
    assert_string_equal(d.sections[1].kind, "load");
    assert_string_equal(d.sections[1].name, "fridge");
    assert_int_equal(document_find(&d, "day anchor")->count, 0);
    test_reading_free(&t);
}

TEST(tail_of_a_long_comment_is_no_key)
{
    struct test_reading t;
    char text[1200] = "[boat]\n#";
    struct document d;

    memset(text + strlen(text), 'c', 190);
    strcat(text, " power = 9 W and a long tail of words that goes on and on\ncrew = 2\n");
    d = document_of(&t, text);
    assert_int_equal(d.sections[0].count, 1);
    holds(&d, "boat", "crew", "2", 3);
    test_reading_free(&t);
}

TEST(indented_key_is_a_key)
{
    struct test_reading t;
    struct document d = document_of(&t, "[load fridge]\npower = 45 W\n  duty = 40 %\n\thours = 6 h\n");

    holds(&d, "load fridge", "power", "45 W", 2);
    holds(&d, "load fridge", "duty", "40 %", 3);
    holds(&d, "load fridge", "hours", "6 h", 4);
    test_reading_free(&t);
}

TEST(longest_line_that_fits)
{
    struct test_reading t;
    char text[400] = "[boat]\nname = ";
    struct document d;
    size_t begin = strlen(text);

    memset(text + begin, 'n', LINE_LIMIT - 7);
    strcat(text, "\ncrew = 2\n");
    d = document_of(&t, text);
    assert_int_equal(section_find(&d.sections[0], "name")->value.length, LINE_LIMIT - 7);
    holds(&d, "boat", "crew", "2", 3);
    test_reading_free(&t);
}

TEST(byte_order_mark_and_line_ends)
{
    struct test_reading t;
    struct document d = document_of(&t, "\xEF\xBB\xBF[boat]\r\ncrew = 2\r\n\r\nname = caf\xC3\xA9");

    holds(&d, "boat", "crew", "2", 2);
    holds(&d, "boat", "name", "caf\xC3\xA9", 4);
    test_reading_free(&t);
}

TEST(equals_and_colons_inside_values)
{
    struct test_reading t;
    struct document d = document_of(&t, "[load l]\ntimes = 18:00-23:00\nnode = a=b\nwhat: x = y\nz =1;1\n");

    holds(&d, "load l", "times", "18:00-23:00", 2);
    holds(&d, "load l", "node", "a=b", 3);
    holds(&d, "load l", "what", "x = y", 4);
    holds(&d, "load l", "z", "1;1", 5);
    test_reading_free(&t);
}

/* Keys under a head that cannot be read must not land in the section above. */
TEST(unclosed_head_keeps_its_keys_to_itself)
{
    struct arena *arena = arena_new();
    struct diag_list *diags = diag_list_new();
    struct document d;

    assert_int_equal(document_read(&d, arena, "t",
                                   span_of("[boat]\ncrew = 2\n[load x\nduty = 4 %\n[plan]\nstep = 1 s\n"),
                                   diags),
                     STATUS_OK);
    assert_int_equal(diags->errors, 1);
    assert_int_equal(d.count, 2);
    assert_int_equal(d.sections[0].count, 1);
    assert_int_equal(d.sections[1].count, 1);
    diag_list_free(diags);
    arena_free(arena);
}

/* test_latin1.c - what libplot is given for text of other alphabets.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <string.h>

#include "base/arena.h"
#include "output/latin1.h"

TEST(text_becomes_latin1_or_its_nearest)
{
    static const struct { const char *utf8, *latin1; } rows[] = {
        { "plain 46 %", "plain 46 %" },
        { "Ünïcødé °²·", "\xDCn\xEF" "c\xF8" "d\xE9 \xB0\xB2\xB7" },
        { "Łódź, Şirin, Čakovec, Žižek", "L\xF3" "dz, Sirin, Cakovec, Zizek" },
        { "Καλημέρα Ιθάκη", "Kalimera Ithaki" },
        { "Жёлтый Щука", "Zhyoltyy Shchuka" },
        { "“so” – it’s… −5 ≤ 3", "\"so\" - it's... -5 <= 3" },
        { "日本 €", "?? EUR" },
        { "a\\b\tc\x01" "d", "a/b c d" },
        { "e\u0301", "e" },
        { "soft\u00ADhyphen\uFEFF", "softhyphen" },
        { "", "" },
        { "\xFF\xC3", "\xFF\xC3" },
    };
    struct arena *arena = arena_new();

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_string_equal(latin1_text(arena, rows[i].utf8), rows[i].latin1);
    arena_free(arena);
}

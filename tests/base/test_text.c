/* test_text.c - UTF-8, spelling and numbers to text.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/test.h"

static void fixed_is(double value, int decimals, const char *want)
{
    char got[TEXT_FIXED_SIZE];
    size_t length = text_fixed(got, value, decimals);

    assert_string_equal(got, want);
    assert_int_equal(length, strlen(want));
}

TEST(fixed_by_hand)
{
    fixed_is(0.0, 0, "0");
    fixed_is(-0.0, 2, "0.00");
    fixed_is(-0.004, 2, "0.00");
    fixed_is(-0.006, 2, "-0.01");
    fixed_is(0.5, 0, "0"); /* ties to even */
    fixed_is(1.5, 0, "2");
    fixed_is(2.5, 0, "2");
    fixed_is(0.125, 2, "0.12");
    fixed_is(0.375, 2, "0.38");
    fixed_is(1.005, 2, "1.00"); /* the double lies under 1.005 */
    fixed_is(9.9999, 3, "10.000");
    fixed_is(-12.34, 1, "-12.3");
    fixed_is(2251799813685249.5, 1, "2251799813685249.5");
    fixed_is(9007199254740992.0, 3, "9007199254740992.000");
    fixed_is(DBL_MIN, 4, "0.0000");
    fixed_is(4.9e-324, 17, "0.00000000000000000");
    fixed_is(NAN, 2, "nan");
    fixed_is(INFINITY, 2, "inf");
    fixed_is(-INFINITY, 2, "-inf");
}

/* xorshift64, Marsaglia 2003: any scatter of bit patterns will do here. */
static uint64_t scatter(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return *state;
}

TEST(fixed_agrees_with_printf)
{
    uint64_t seed = 88172645463325252u;

    for (int i = 0; i < 200000; i++) {
        uint64_t bits = scatter(&seed);
        int decimals = (int)(bits % (TEXT_FIXED_DECIMALS + 1));
        char got[TEXT_FIXED_SIZE], want[TEXT_FIXED_SIZE + 8];
        double value;

        if (i % 2) /* any double at all */
            memcpy(&value, &bits, sizeof value);
        else /* the sizes and the ties that tables are made of */
            value = (double)(int64_t)(bits >> 30) / (double)(1 << (bits % 20)) - 1000.0;
        if (!isfinite(value))
            continue;
        snprintf(want, sizeof want, "%.*f", decimals, value);
        if (want[0] == '-' && strspn(want + 1, "0.") == strlen(want + 1))
            memmove(want, want + 1, strlen(want));
        text_fixed(got, value, decimals);
        assert_string_equal(got, want);
    }
}

TEST(fixed_short)
{
    char got[TEXT_FIXED_SIZE];

    text_fixed_short(got, 12.5, 6);
    assert_string_equal(got, "12.5");
    text_fixed_short(got, 100.0, 3);
    assert_string_equal(got, "100");
    text_fixed_short(got, 100.0, 0);
    assert_string_equal(got, "100");
    text_fixed_short(got, -0.0001, 3);
    assert_string_equal(got, "0");
}

TEST(utf8)
{
    static const struct {
        const char *text;
        int fault; /* byte, -1: none */
    } rows[] = {
        { "plain", -1 },
        { "caf\xC3\xA9", -1 },
        { "\xE2\x82\xAC", -1 },
        { "\xF0\x9F\x9B\xA5", -1 },
        { "a\xC3", 1 },
        { "\xC0\xAF", 0 }, /* overlong */
        { "\xED\xA0\x80", 0 },
        /* surrogate */ { "ab\xFF", 2 },
        { "\xF4\x90\x80\x80", 0 },
        { "\xE9t\xE9", 0 }, /* Latin-1 */
        { "\xE0\x80\xAF", 0 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *fault = text_utf8_fault(rows[i].text, strlen(rows[i].text));

        assert_int_equal(fault ? fault - rows[i].text : -1, rows[i].fault);
    }
    assert_int_equal(text_characters("caf\xC3\xA9", 5), 4);
}

TEST(distance)
{
    static const struct {
        const char *a, *b;
        size_t want;
    } rows[] = {
        { "", "", 0 },           { "duty", "duty", 0 },      { "Duty", "dUTY", 0 }, { "duty", "duy", 1 },
        { "power", "pwoer", 1 }, { "kitten", "sitting", 3 }, { "", "abc", 3 },      { "abc", "", 3 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_int_equal(text_distance(span_of(rows[i].a), span_of(rows[i].b)), rows[i].want);
}

static const char *nearest(const char *word, const char *const *candidates)
{
    struct text_near near = { .word = span_of(word) };

    for (; *candidates; candidates++)
        text_near_offer(&near, *candidates);
    return near.best;
}

TEST(nearest_word)
{
    static const char *const words[] = { "power", "power_factor", "duty", "breaker", NULL };

    assert_string_equal(nearest("powr", words), "power");
    assert_string_equal(nearest("power_facter", words), "power_factor");
    assert_string_equal(nearest("braeker", words), "breaker");
    assert_null(nearest("zzz", words));
    assert_null(nearest("x", words));
}

TEST(a_name_holds_a_word)
{
    static const struct {
        const char *name, *words;
        int want;
    } rows[] = {
        { "bilge-pump-port", "bilge", 1 },
        { "Bilge_Pump", "sump|bilge pump", 1 },
        { "fresh-water", "fresh water", 1 },
        { "water", "fresh water", 0 },
        { "sea water pump", "windlass|sea water", 1 },
        { "pump", "", 0 },
        { "", "pump", 0 },
        { "pum", "pump", 0 },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_int_equal(text_holds(rows[i].name, rows[i].words), rows[i].want);
}

TEST(split_and_trim)
{
    struct span rest = span_of("a, b ,,"), piece;
    const char *const want[] = { "a", "b", "", "" };
    size_t n = 0;

    while (span_split(&rest, ',', &piece))
        assert_true(n < 4 && span_is(span_trim(piece), want[n++]));
    assert_int_equal(n, 4);
}

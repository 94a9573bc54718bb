/* values.c - numbers with units and ranges of them; the cursor all value readers share.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/values.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/arena.h"

/*
 * The language behind the equals sign:
 *
 *   value   = number [ unit ] [ ".." number unit ] [ "+/-" number ( unit | "%" ) ]
 *   number  = digits [ "." digits ] [ "e" digits ]
 *
 * A unit is wanted behind every number that has one, for 45 alone may be watts or amperes; the hint shows
 * what would do. Nothing here knows which key is read.
 */

struct cursor cursor_make(struct arena *arena, struct span value)
{
    value = span_trim(value);
    return (struct cursor){ .arena = arena, .whole = value, .at = value.at, .end = value.at + value.length };
}

int cursor_fail(struct cursor *c, struct span where, const char *message, const char *hint)
{
    if (!c->failed)
        c->fault = (struct fault){ where, message, hint };
    c->failed = 1;
    return 0;
}

struct span cursor_rest(const struct cursor *c)
{
    return span_trim((struct span){ c->at, (size_t)(c->end - c->at) });
}

static void skip_blanks(struct cursor *c)
{
    while (c->at < c->end && (*c->at == ' ' || *c->at == '\t'))
        c->at++;
}

int cursor_ended(struct cursor *c)
{
    skip_blanks(c);
    return c->at == c->end;
}

int cursor_close(struct cursor *c, const char *form)
{
    struct span rest = cursor_rest(c);

    if (c->failed)
        return 0;
    if (cursor_ended(c))
        return 1;
    return cursor_fail(
        c, rest, arena_print(c->arena, "\"%.*s\" is not understood here", (int)rest.length, rest.at), form);
}

/* Bytes of UTF-8 count as letters: the degree sign begins a unit. */
static int is_letter(char ch)
{
    return (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') || (unsigned char)ch >= 0x80;
}

static int is_digit(char ch)
{
    return ch >= '0' && ch <= '9';
}

int cursor_mark(struct cursor *c, const char *mark)
{
    size_t length = strlen(mark);

    skip_blanks(c);
    if ((size_t)(c->end - c->at) < length || memcmp(c->at, mark, length) != 0)
        return 0;
    c->at += length;
    return 1;
}

int cursor_word(struct cursor *c, const char *word)
{
    struct span rest = { c->at, 0 };
    size_t length = strlen(word);

    skip_blanks(c);
    rest = (struct span){ c->at, (size_t)(c->end - c->at) };
    if (!span_starts(rest, word) || (rest.length > length && is_letter(rest.at[length])))
        return 0;
    c->at += length;
    return 1;
}

/* --- numbers --- */

/* What stands at the cursor up to the next blank or comma: for messages. Never empty unless all is read. */
static struct span token_here(const struct cursor *c)
{
    const char *p = c->at;

    while (p < c->end && *p != ' ' && *p != '\t' && (*p != ',' || p == c->at))
        p++;
    return (struct span){ c->at, (size_t)(p - c->at) };
}

/*
 * The digits of a number as one integer and a power of ten. Up to 15 digits and powers up to 22 both are
 * exact doubles, so one multiplication or division rounds correctly (Clinger 1990) whatever the locale.
 */
struct digits {
    uint64_t whole;
    int count, exponent;
};

/* Takes up the digits at p; returns behind them. Leading zeros do not count; digits
 * past the 18th are counted, not kept. */
static const char *digits_read(const char *p, const char *end, struct digits *d)
{
    for (; p < end && is_digit(*p); p++) {
        d->whole = d->count < 18 ? d->whole * 10 + (uint64_t)(*p - '0') : d->whole;
        d->count += d->count > 0 || *p != '0';
    }
    return p;
}

/* Takes up "e-3" where it stands at p; returns behind it. */
static const char *exponent_read(const char *p, const char *end, struct digits *d)
{
    const char *q = p + 1;
    int sign = 1, n = 0;

    if (p == end || (*p != 'e' && *p != 'E'))
        return p;
    if (q < end && (*q == '-' || *q == '+'))
        sign = *q++ == '-' ? -1 : 1;
    if (q == end || !is_digit(*q))
        return p; /* an E of its own: "20.7E" */
    for (; q < end && is_digit(*q); q++)
        n = n < 1000 ? n * 10 + (*q - '0') : n;
    d->exponent += sign * n;
    return q;
}

static double power_of_ten(int n)
{
    double p = 1;

    while (n-- > 0)
        p *= 10; /* exact up to 10^22 */
    return p;
}

/* "1,500" may mean 1500 or 1.5, so neither is taken: the hint shows both. */
static int fail_comma(struct cursor *c, const char *start, const char *comma)
{
    const char *p = comma + 1;
    int before = (int)(comma - start), after;
    const char *hint;

    while (p < c->end && is_digit(*p))
        p++;
    after = (int)(p - comma) - 1;
    hint = after == 3 ? arena_print(c->arena, "write %.*s%.*s without a comma, or %.*s.%.*s with a point",
                                    before, start, after, comma + 1, before, start, after, comma + 1)
                      : arena_print(c->arena, "the decimal mark is a point: write %.*s.%.*s", before, start,
                                    after, comma + 1);
    return cursor_fail(c, (struct span){ start, (size_t)(p - start) },
                       arena_print(c->arena, "\"%.*s\" has a comma in a number", (int)(p - start), start),
                       hint);
}

/* A decimal comma, or a thousands mark: digits on both sides without a blank. */
static int comma_inside(const struct cursor *c, const char *p)
{
    return p + 1 < c->end && *p == ',' && is_digit(p[1]);
}

int cursor_number(struct cursor *c, double *out, const char *form)
{
    struct digits d = { 0 };
    const char *p, *start, *first;
    int negative = 0;

    skip_blanks(c);
    start = p = c->at;
    if (p < c->end && (*p == '-' || *p == '+'))
        negative = *p++ == '-';
    first = p;
    p = digits_read(p, c->end, &d);
    if (p > first && comma_inside(c, p))
        return fail_comma(c, start, p);
    if (p + 1 < c->end && *p == '.' && is_digit(p[1])) {
        const char *point = p;

        p = digits_read(p + 1, c->end, &d);
        d.exponent = -(int)(p - point - 1);
    }
    if (p == first) {
        struct span token = token_here(c);

        return cursor_fail(
            c, token,
            token.length ? arena_print(c->arena, "\"%.*s\" is not a number", (int)token.length, token.at)
                         : "a number is missing",
            form);
    }
    p = exponent_read(p, c->end, &d);
    c->at = p;
    if (d.whole && (d.count > 15 || d.exponent > 22 || d.exponent < -22))
        return cursor_fail(c, (struct span){ start, (size_t)(p - start) }, "has more digits than can be kept",
                           "15 digits are the most");
    *out = (double)d.whole;
    *out = d.exponent < 0 ? *out / power_of_ten(-d.exponent) : d.whole ? *out * power_of_ten(d.exponent) : 0;
    *out = negative ? -*out : *out;
    return 1;
}

/* --- units --- */

static int in_unit(char ch)
{
    return is_letter(ch) || is_digit(ch) || ch == '%' || ch == '/';
}

/* Marks outside ASCII that stand between values: ellipsis, plus-minus, dash, times. */
static int foreign_mark(const char *p, const char *end)
{
    static const char *const marks[] = { "\xE2\x80\xA6", "\xC2\xB1", "\xE2\x80\x93", "\xC3\x97" };

    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
        if (span_starts((struct span){ p, (size_t)(end - p) }, marks[i]))
            return 1;
    return 0;
}

/* The unit at the cursor, which is not moved: empty where none stands there. "1/min" begins with its digit.
 */
static struct span unit_here(const struct cursor *c)
{
    const char *p = c->at, *start;

    while (p < c->end && (*p == ' ' || *p == '\t'))
        p++;
    start = p;
    if (p < c->end && is_digit(*p) && !(p + 1 < c->end && p[0] == '1' && p[1] == '/'))
        return (struct span){ start, 0 };
    while (p < c->end && in_unit(*p) && !foreign_mark(p, c->end))
        p++;
    return (struct span){ start, (size_t)(p - start) };
}

/* "write 45 W or 45 kW": the number as typed with the suggested units of one quantity, or of two. */
static const char *units_hint(struct cursor *c, struct span number, enum quantity one, enum quantity other)
{
    const char *hint = "write", *joint = " ";
    size_t count;
    const struct unit *table = unit_table(&count);

    if (one == other && quantity_is_bare(one))
        return arena_print(c->arena, "write a number, such as %.*s", (int)number.length, number.at);
    for (int pass = 0; pass < (one == other ? 1 : 2) && hint; pass++)
        for (size_t i = 0; i < count && hint; i++)
            if (table[i].suggested && table[i].quantity == (pass ? other : one)) {
                hint = arena_print(c->arena, "%s%s%.*s %s", hint, joint, (int)number.length, number.at,
                                   table[i].symbol);
                joint = " or ";
            }
    return hint;
}

struct wanted {
    enum quantity one, other;
};

/* The unit of that symbol in either quantity; NULL: in neither. */
static const struct unit *unit_wanted(struct wanted wanted, struct span symbol)
{
    const struct unit *unit = unit_find(wanted.one, symbol);

    return unit ? unit : unit_find(wanted.other, symbol);
}

static const char *wanted_name(struct cursor *c, struct wanted wanted)
{
    if (wanted.one == wanted.other)
        return quantity_name(wanted.one);
    return arena_print(c->arena, "%s or %s", quantity_name(wanted.one), quantity_name(wanted.other));
}

/* A unit of something else, or none that is known: each with what to write. */
static int fail_unit(struct cursor *c, struct span number, struct span symbol, struct wanted wanted)
{
    const struct unit *known = unit_find_any(symbol);
    const char *message, *hint = units_hint(c, number, wanted.one, wanted.other);
    struct text_near near = { .word = symbol };
    size_t count;
    const struct unit *table = unit_table(&count);

    if (known)
        message =
            arena_print(c->arena, "\"%.*s\" is a unit of %s, and a %s is needed here", (int)symbol.length,
                        symbol.at, quantity_name(known->quantity), wanted_name(c, wanted));
    else {
        message = arena_print(c->arena, "\"%.*s\" is not a known unit", (int)symbol.length, symbol.at);
        for (size_t i = 0; i < count; i++)
            if (table[i].quantity == wanted.one || table[i].quantity == wanted.other)
                text_near_offer(&near, table[i].symbol);
        if (near.best)
            hint = arena_print(c->arena, "write %.*s %s", (int)number.length, number.at, near.best);
        else if (quantity_is_bare(wanted.one) && quantity_is_bare(wanted.other))
            hint = arena_print(c->arena, "write %.*s alone", (int)number.length, number.at);
    }
    if (known && quantity_is_bare(wanted.one) && quantity_is_bare(wanted.other))
        hint = arena_print(c->arena, "write %.*s alone", (int)number.length, number.at);
    return cursor_fail(c, symbol, message, hint);
}

/* Words that may follow a value and are no unit. */
static int is_joint(struct span word)
{
    return span_is_word(word, "x") || span_is_word(word, "at") || span_is_word(word, "for") ||
           span_is_word(word, "to");
}

/* 0.4 that was meant as 40 %. */
static int share_below_one(const struct cursor *c, struct span number, double *share)
{
    struct cursor probe = cursor_make(c->arena, number);

    return cursor_number(&probe, share, NULL) && *share > 0 && *share <= 1;
}

/*
 * The unit behind a number. Bare quantities have none: then *unit is NULL. `may_lack`: the unit may stand
 * further on, behind the upper end of a range.
 */
static int unit_read(struct cursor *c, struct span number, struct wanted wanted, int may_lack,
                     const struct unit **unit)
{
    struct span symbol = unit_here(c);

    *unit = NULL;
    if (symbol.length == 0 || is_joint(symbol)) {
        double share;

        if (may_lack || quantity_is_bare(wanted.one))
            return 1;
        if (wanted.one == QUANTITY_SHARE && share_below_one(c, number, &share))
            return cursor_fail(c, number,
                               arena_print(c->arena, "\"%.*s\" has no unit", (int)number.length, number.at),
                               arena_print(c->arena, "write %g %%", share * 100));
        return cursor_fail(c, number,
                           arena_print(c->arena, "\"%.*s\" has no unit", (int)number.length, number.at),
                           units_hint(c, number, wanted.one, wanted.other));
    }
    if (!(*unit = unit_wanted(wanted, symbol)))
        return fail_unit(c, number, symbol, wanted);
    c->at = symbol.at + symbol.length;
    return 1;
}

/* What is typed in that unit, in SI; no unit stores the number as it is. */
static double stored(const struct unit *unit, double typed)
{
    return unit ? typed * unit->factor + unit->offset : typed;
}

/* ASCII or the sign itself, U+00B1. */
static int plus_minus_here(struct cursor *c)
{
    return cursor_mark(c, "+/-") || cursor_mark(c, "\xC2\xB1");
}

/* Two dots or an ellipsis, U+2026, which some keyboards make of them. */
static int dots_here(struct cursor *c)
{
    return cursor_mark(c, "..") || cursor_mark(c, "\xE2\x80\xA6");
}

/* Behind "+/-": a share of the middle, or a size in any unit of its quantity. */
static int spread_read(struct cursor *c, const struct unit *unit, enum quantity quantity, struct range *out)
{
    const char *start;
    struct span number;
    double spread;
    const struct unit *own = NULL;

    skip_blanks(c);
    start = c->at;
    if (!cursor_number(c, &spread, "write 5 m +/- 20 %"))
        return 0;
    number = (struct span){ start, (size_t)(c->at - start) };
    if (quantity != QUANTITY_SHARE && span_is(unit_here(c), "%")) {
        cursor_mark(c, "%");
        spread = fabs(out->value) * spread / 100;
    } else {
        if (!unit_read(c, number, (struct wanted){ quantity, quantity }, 0, &own))
            return 0;
        spread *= own ? own->factor : unit ? unit->factor : 1;
    }
    if (spread < 0)
        return cursor_fail(c, number, "a spread cannot be negative", NULL);
    out->low = out->value - spread;
    out->high = out->value + spread;
    return 1;
}

/* Behind "..": the upper end with the unit, which counts for the lower end too where that has none. */
static int upper_end_read(struct cursor *c, struct wanted wanted, struct span low_text, double low,
                          const struct unit **unit, struct range *out)
{
    const struct unit *low_unit = *unit;
    const char *start;
    struct span number;
    double high;

    skip_blanks(c);
    start = c->at;
    if (!cursor_number(c, &high, "write both ends: 40..60 W"))
        return 0;
    number = (struct span){ start, (size_t)(c->at - start) };
    if (!unit_read(c, number, wanted, 0, unit))
        return 0;
    if (low_unit && *unit && low_unit->quantity != (*unit)->quantity)
        return cursor_fail(c, c->whole, "the two ends of the range are of different kinds", NULL);
    out->low = stored(low_unit ? low_unit : *unit, low);
    out->high = stored(*unit, high);
    out->value = 0.5 * (out->low + out->high);
    if (out->low > out->high)
        return cursor_fail(c, (struct span){ low_text.at, (size_t)(c->at - low_text.at) },
                           "the range runs from high to low", "write the smaller end first");
    return 1;
}

/* One number or two, with the unit of one quantity or another; *got: which. The dots are looked for before
 * the unit, for "40..60 W" has none at its lower end. */
static int range_read(struct cursor *c, struct wanted wanted, struct range *out, enum quantity *got)
{
    const struct unit *unit = NULL;
    const char *start, *before_dots;
    struct span number;
    double first;
    int dots;

    skip_blanks(c);
    start = c->at;
    if (!cursor_number(c, &first, NULL)) {
        if (!c->fault.hint)
            c->fault.hint =
                units_hint(c, span_of(wanted.one == QUANTITY_SHARE ? "50" : "5"), wanted.one, wanted.other);
        return 0;
    }
    number = (struct span){ start, (size_t)(c->at - start) };
    before_dots = c->at;
    dots = dots_here(c);
    c->at = before_dots;
    if (!unit_read(c, number, wanted, dots, &unit))
        return 0;
    if (dots_here(c)) {
        if (!upper_end_read(c, wanted, number, first, &unit, out))
            return 0;
    } else
        out->value = out->low = out->high = stored(unit, first);
    *got = unit ? unit->quantity : wanted.one;
    return plus_minus_here(c) ? spread_read(c, unit, *got, out) : 1;
}

int cursor_range(struct cursor *c, enum quantity quantity, struct range *out)
{
    enum quantity got;

    return range_read(c, (struct wanted){ quantity, quantity }, out, &got);
}

int cursor_range_either(struct cursor *c, enum quantity one, enum quantity other, struct range *out,
                        enum quantity *got)
{
    return range_read(c, (struct wanted){ one, other }, out, got);
}

int cursor_duration(struct cursor *c, struct range *out)
{
    return cursor_range(c, QUANTITY_DURATION, out);
}

const char *value_text(struct arena *arena, double value, enum quantity quantity)
{
    const struct unit *unit = unit_main(quantity);
    char digits[TEXT_FIXED_SIZE];
    double typed;

    if (quantity == QUANTITY_RESISTANCE)
        unit = unit_find(quantity, span_of("mohm"));
    if (quantity == QUANTITY_AREA)
        unit = unit_find(quantity, span_of("mm2"));
    typed = unit ? (value - unit->offset) / unit->factor : value;
    text_fixed_short(digits, typed, fabs(typed) >= 100 ? 1 : fabs(typed) >= 1 ? 3 : 5);
    return unit ? arena_print(arena, "%s %s", digits, unit->symbol) : arena_print(arena, "%s", digits);
}

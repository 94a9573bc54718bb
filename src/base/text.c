/* text.c - bytes and words: UTF-8, spelling, numbers to text.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

struct span span_of(const char *text)
{
    return (struct span){ text, strlen(text) };
}

/* ASCII alone: isspace() would ask the locale. */
static int is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\v' || c == '\f';
}

struct span span_trim(struct span s)
{
    while (s.length && is_blank(s.at[0])) {
        s.at++;
        s.length--;
    }
    while (s.length && is_blank(s.at[s.length - 1]))
        s.length--;
    return s;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

int span_is(struct span s, const char *word)
{
    return strlen(word) == s.length && memcmp(s.at, word, s.length) == 0;
}

int span_starts(struct span s, const char *word)
{
    size_t i = 0;

    while (word[i] && i < s.length && lower(s.at[i]) == lower(word[i]))
        i++;
    return !word[i];
}

int span_is_word(struct span s, const char *word)
{
    return strlen(word) == s.length && span_starts(s, word);
}

int span_split(struct span *rest, char mark, struct span *piece)
{
    const char *end;

    if (!rest->at)
        return 0;
    end = rest->length ? memchr(rest->at, mark, rest->length) : NULL;
    piece->at = rest->at;
    if (end) {
        piece->length = (size_t)(end - rest->at);
        rest->at = end + 1;
        rest->length -= piece->length + 1;
    } else {
        piece->length = rest->length;
        *rest = (struct span){ NULL, 0 };
    }
    return 1;
}

/* Letters and digits in small, everything else a blank. */
static char plain(char c)
{
    return c >= 'A' && c <= 'Z'                               ? (char)(c - 'A' + 'a')
           : (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ? c
                                                              : ' ';
}

/* 1 where that word of so many bytes stands somewhere in the name. */
static int holds_word(const char *name, const char *word, size_t length)
{
    for (; *name; name++) {
        size_t i = 0;

        while (i < length && name[i] && plain(name[i]) == plain(word[i]))
            i++;
        if (i == length)
            return 1;
    }
    return 0;
}

int text_holds(const char *name, const char *words)
{
    while (*words) {
        const size_t length = strcspn(words, "|");

        if (holds_word(name, words, length))
            return 1;
        words += length + (words[length] == '|');
    }
    return 0;
}

/* Length of the well-formed sequence at p, 0 where there is none. Ranges of the second byte: RFC 3629,
 * section 4. */
static size_t utf8_sequence(const unsigned char *p, size_t left)
{
    unsigned char low = 0x80, high = 0xBF;
    size_t length;

    if (p[0] < 0x80)
        return 1;
    if (p[0] < 0xC2 || p[0] > 0xF4)
        return 0;
    length = p[0] < 0xE0 ? 2 : p[0] < 0xF0 ? 3 : 4;
    if (left < length)
        return 0;
    low = p[0] == 0xE0 ? 0xA0 : p[0] == 0xF0 ? 0x90 : low;
    high = p[0] == 0xED ? 0x9F : p[0] == 0xF4 ? 0x8F : high;
    if (p[1] < low || p[1] > high)
        return 0;
    for (size_t i = 2; i < length; i++)
        if (p[i] < 0x80 || p[i] > 0xBF)
            return 0;
    return length;
}

const char *text_utf8_fault(const char *text, size_t length)
{
    for (size_t i = 0, n; i < length; i += n)
        if (!(n = utf8_sequence((const unsigned char *)text + i, length - i)))
            return text + i;
    return NULL;
}

size_t text_characters(const char *text, size_t length)
{
    size_t count = 0;

    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)text[i] & 0xC0) != 0x80;
    return count;
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Optimal string alignment: three rows of the usual table are enough. */
size_t text_distance(struct span a, struct span b)
{
    enum { LONGEST = 63 };
    size_t rows[3][LONGEST + 1];
    size_t *older = rows[0], *old = rows[1], *row = rows[2];

    if (a.length > LONGEST || b.length > LONGEST)
        return SIZE_MAX;
    for (size_t j = 0; j <= b.length; j++)
        row[j] = j;
    for (size_t i = 1; i <= a.length; i++) {
        size_t *spare = older;

        older = old;
        old = row;
        row = spare;
        row[0] = i;
        for (size_t j = 1; j <= b.length; j++) {
            char x = lower(a.at[i - 1]), y = lower(b.at[j - 1]);

            row[j] = least(least(old[j], row[j - 1]) + 1, old[j - 1] + (x != y));
            if (i > 1 && j > 1 && x == lower(b.at[j - 2]) && lower(a.at[i - 2]) == y)
                row[j] = least(row[j], older[j - 2] + 1);
        }
    }
    return row[b.length];
}

/* Near enough to be meant: a third of the letters wrong at most, and never the whole word.
 * Short words get one wrong letter. */
void text_near_offer(struct text_near *near, const char *candidate)
{
    struct span other = span_of(candidate);
    size_t longer = near->word.length > other.length ? near->word.length : other.length;
    size_t distance = text_distance(near->word, other);

    if (distance > (longer + 2) / 3 || distance >= longer)
        return;
    if (!near->best || distance < near->distance) {
        near->best = candidate;
        near->distance = distance;
    }
}

typedef unsigned __int128 wide; /* m 10^n needs 53 + 57 bits */

static const uint64_t tens[TEXT_FIXED_DECIMALS + 1] = {
    1,
    10,
    100,
    1000,
    10000,
    100000,
    1000000,
    10000000,
    100000000,
    1000000000,
    10000000000,
    100000000000,
    1000000000000,
    10000000000000,
    100000000000000,
    1000000000000000,
    10000000000000000,
    100000000000000000,
};

/*
 * |value| 10^decimals to the nearest integer, exactly, ties to even; |value| < 2^53. A double is mantissa /
 * 2^shift, so the product with a power of ten is exact in 110 bits and one shift rounds it;
 * tests/base/test_text.c compares with printf.
 */
static wide scaled(double value, int decimals)
{
    uint64_t bits, mantissa;
    wide product, half, rest;
    int exponent, shift;

    memcpy(&bits, &value, sizeof bits);
    exponent = (int)(bits >> 52 & 0x7FF);
    mantissa = (bits & ((UINT64_C(1) << 52) - 1)) | (exponent ? UINT64_C(1) << 52 : 0);
    shift = 1075 - (exponent ? exponent : 1); /* value = mantissa / 2^shift; never negative under 2^53 */
    product = (wide)mantissa * tens[decimals];
    if (shift == 0)
        return product;
    if (shift > 120)
        return 0; /* product < 2^110, so less than half a unit */
    half = (wide)1 << (shift - 1);
    rest = product & ((half << 1) - 1);
    product >>= shift;
    return product + (rest > half || (rest == half && (product & 1)));
}

/* The decimal digits of n, at least `least_digits` of them, ending before `end`; returns where they begin. */
static char *digits_before(char *end, uint64_t n, int least_digits)
{
    char *p = end;

    while (n) {
        *--p = (char)('0' + n % 10);
        n /= 10;
    }
    while (end - p < least_digits)
        *--p = '0';
    return p;
}

/* Not finite, or too large to have a fraction: rare, so printf may do it. */
static size_t fixed_rare(char *out, double value, int decimals)
{
    int length = snprintf(out, TEXT_FIXED_SIZE, isnan(value) ? "nan" : "%.0f", value);

    if (isfinite(value) && decimals > 0) {
        out[length++] = '.';
        memset(out + length, '0', (size_t)decimals);
        length += decimals;
        out[length] = '\0';
    }
    return (size_t)length;
}

size_t text_fixed(char *out, double value, int decimals)
{
    char space[64], *end = space + sizeof space, *p;
    wide whole;
    size_t length;

    decimals = decimals < 0 ? 0 : decimals > TEXT_FIXED_DECIMALS ? TEXT_FIXED_DECIMALS : decimals;
    if (!(fabs(value) < 0x1p53))
        return fixed_rare(out, value, decimals);
    whole = scaled(value, decimals);
    if (whole >> 64) {
        p = digits_before(end, (uint64_t)(whole % tens[decimals]), decimals);
        *--p = '.'; /* over 2^64 there is always a fraction */
        p = digits_before(p, (uint64_t)(whole / tens[decimals]), 1);
    } else {
        uint64_t n = (uint64_t)whole;

        p = end;
        for (int i = 0; i < decimals; i++, n /= 10)
            *--p = (char)('0' + n % 10);
        if (decimals)
            *--p = '.';
        p = digits_before(p, n, 1);
    }
    if (value < 0 && whole)
        *--p = '-';
    length = (size_t)(end - p);
    memcpy(out, p, length);
    out[length] = '\0';
    return length;
}

size_t text_fixed_short(char *out, double value, int decimals)
{
    size_t length = text_fixed(out, value, decimals);

    if (memchr(out, '.', length)) {
        while (out[length - 1] == '0')
            length--;
        if (out[length - 1] == '.')
            length--;
        out[length] = '\0';
    }
    return length;
}

/* text.h - bytes and words: UTF-8, spelling, numbers to text.  Layer: base.  No state, no locale.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEXT_H
#define BD_TEXT_H

#include <stddef.h>
#include <string.h>

/* A piece of text that somebody else owns; not ended by a NUL unless said so. */
struct span {
    const char *at;
    size_t length;
};

/* The same word. Most pairs differ in their first letter, which saves the call. */
static inline int text_same(const char *a, const char *b)
{
    return *a == *b && strcmp(a, b) == 0;
}

/* A span never owns its bytes; it lives as long as the text it points into. Blanks
 * are those of C's isspace, "C" locale. */
struct span span_of(const char *text);
struct span span_trim(struct span s);              /* without blanks at either end */
int span_is(struct span s, const char *word);      /* the same bytes */
int span_is_word(struct span s, const char *word); /* the same, ASCII case ignored */
int span_starts(struct span s, const char *word);  /* ASCII case ignored */

/*
 * Cuts the next piece off *rest: everything up to the first byte that is `mark`, which is dropped. 0 where
 * nothing is left. A text of n marks gives n + 1 pieces, the last one even if it is empty.
 */
int span_split(struct span *rest, char mark, struct span *piece);

/*
 * 1 where a name holds one of the words divided by '|', anywhere in it, so that "bilge" finds
 * "bilge-pump-port". ASCII case is ignored, and whatever is no ASCII letter or digit is a blank. No words:
 * 0.
 */
int text_holds(const char *name, const char *words);

/* First byte that is not well-formed UTF-8 (RFC 3629: no surrogates, no overlong forms), NULL where all is.
 */
const char *text_utf8_fault(const char *text, size_t length);

/* Characters (code points) in well-formed UTF-8. */
size_t text_characters(const char *text, size_t length);

/*
 * Edits (insert, delete, replace, swap of neighbours) from one word to the other, ASCII case
 * ignored: the optimal string alignment distance. Bytes count, not characters. Words over 63
 * bytes count as far from everything.
 */
size_t text_distance(struct span a, struct span b);

/* The nearest of many words, offered one by one: start from { .word = the misspelt one }. Of several
 * equally near the first offered stays. */
struct text_near {
    struct span word;
    const char *best; /* NULL: nothing was near enough to be meant */
    size_t distance;
};
/* Takes a candidate that at most a third of its letters keep from the word; further off nobody meant it. */
void text_near_offer(struct text_near *near, const char *candidate);

/* Room that text_fixed may use, for any double, sign, 17 decimals and a NUL. */
enum { TEXT_FIXED_SIZE = 336, TEXT_FIXED_DECIMALS = 17 };

/*
 * Writes a double with so many decimals (0..17), correctly rounded from its exact binary value, ties to even;
 * the same digits as printf, a point whatever the locale, never "-0.00". Not a number: "nan", "inf", "-inf".
 * out has room for TEXT_FIXED_SIZE bytes; a NUL is written, its length without it is returned.
 */
size_t text_fixed(char *out, double value, int decimals);

/* As text_fixed, with the zeros at the end (and a bare point) left off: "12.5", "3", "0.001". */
size_t text_fixed_short(char *out, double value, int decimals);

#endif

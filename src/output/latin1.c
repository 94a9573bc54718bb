/* latin1.c - UTF-8 to Latin-1.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/latin1.h"

#include <stddef.h>
#include <string.h>

#include "base/arena.h"

/*
 * libplot's PostScript fonts and its stroke fonts know Latin-1 and nothing else. A boat's name in another
 * alphabet is better read in its usual romanisation than as a row of question marks.
 *
 * The table is runs of code points: the first one, then what each becomes, in order.
 */

enum { LONGEST = 4 }; /* bytes that one character may become */

struct run {
    unsigned first;     /* code point of the first piece */
    const char *pieces; /* separated by blanks; "_" stands for nothing */
};

/* Letters by the usual English romanisation (Greek: ELOT 743 without digraph rules; Cyrillic: common
 * practice). */
static const struct run runs[] = {
    { 0x100, "A a A a A a C c C c C c C c D d D d E e E e E e E e E e G g G g G g G g H h H h I i I i I i I "
             "i I i IJ "
             "ij J j K k k L l L l L l L l L l N n N n N n n N n O o O o O o OE oe R r R r R r S s S s S s S "
             "s T t T t "
             "T t U u U u U u U u U u U u W w Y y Y Z z Z z Z z s" },
    { 0x218, "S s T t" },
    { 0x386, "A ' E I I _ O _ Y O i A V G D E Z I Th I K L M N X O P R _ S T Y F Ch Ps O I Y a e i i y a v g "
             "d e z i "
             "th i k l m n x o p r s s t y f ch ps o i y o y o" },
    { 0x401, "Yo" },
    { 0x404, "Ye" },
    { 0x406, "I Yi" },
    { 0x410, "A B V G D E Zh Z I Y K L M N O P R S T U F Kh Ts Ch Sh Shch _ Y _ E Yu Ya a b v g d e zh z i y "
             "k l m n o "
             "p r s t u f kh ts ch sh shch _ y _ e yu ya" },
    { 0x451, "yo" },
    { 0x454, "ye" },
    { 0x456, "i yi" },
    { 0x1E9E, "SS" },
    { 0x2010, "- - - - - -" },
    { 0x2018, "' ' ' ' \" \" \" \"" },
    { 0x2022, "\267" },
    { 0x2026, "..." },
    { 0x2032, "' \"" },
    { 0x20AC, "EUR" },
    { 0x2103, "\260C" },
    { 0x2126, "ohm" },
    { 0x2212, "-" },
    { 0x2248, "~" },
    { 0x2264, "<= >=" },
};

/* The piece for a code point in a run; NULL past its end. */
static const char *run_piece(const struct run *run, unsigned code, size_t *length)
{
    const char *p = run->pieces;

    for (unsigned n = code - run->first;; n--) {
        *length = strcspn(p, " ");
        if (n == 0)
            return p;
        p += *length;
        if (!*p)
            return NULL;
        p++;
    }
}

/* Appends what a code point becomes; returns the new end. */
static char *put(char *out, unsigned code)
{
    const char *piece = NULL;
    size_t length = 0;

    if (code == '\\')
        code = '/';
    if (code < 0x20 || (code >= 0x7F && code <= 0xA0))
        code = ' ';
    if (code <= 0xFF && code != 0xAD) {
        *out = (char)code;
        return out + 1;
    }
    for (size_t i = 0; i < sizeof runs / sizeof runs[0] && !piece; i++) {
        if (code >= runs[i].first)
            piece = run_piece(runs + i, code, &length);
    }
    if (!piece) {
        piece = "?";
        length = 1;
    }
    if (*piece == '_')
        length = 0;
    memcpy(out, piece, length);
    return out + length;
}

/* Marks that only sit on the letter before them are dropped. */
static int is_mark(unsigned code)
{
    return (code >= 0x300 && code <= 0x36F) || (code >= 0x200B && code <= 0x200F) || code == 0xAD ||
           code == 0xFEFF;
}

/* One code point of well-formed UTF-8; bytes that are not become themselves. */
static unsigned decode(const unsigned char **at)
{
    const unsigned char *p = *at;
    unsigned extra = *p >= 0xF0 ? 3 : *p >= 0xE0 ? 2 : *p >= 0xC2 ? 1 : 0;
    unsigned code = extra == 3 ? *p & 7u : extra == 2 ? *p & 15u : extra ? *p & 31u : *p;

    for (unsigned i = 1; i <= extra; i++) {
        if ((p[i] & 0xC0) != 0x80) {
            *at = p + 1;
            return *p;
        }
        code = code << 6 | (p[i] & 63u);
    }
    *at = p + 1 + extra;
    return code;
}

char *latin1_text(struct arena *arena, const char *utf8)
{
    const unsigned char *p = (const unsigned char *)utf8;
    char *text = arena_zero(arena, strlen(utf8) * LONGEST + 1), *end = text;

    while (text && *p) {
        unsigned code = decode(&p);

        if (!is_mark(code))
            end = put(end, code);
    }
    return text;
}

/* cite.h - where a number comes from and how it is known.  Layer: parts.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CITE_H
#define BD_CITE_H

enum known {
    KNOWN_READ,       /* read in a public copy or reprint of the publication */
    KNOWN_QUOTED,     /* read as a public quotation of a text that is sold */
    KNOWN_MEMORY,     /* from memory: check it against the publication before relying on it */
    KNOWN_PRACTICE,   /* common practice of the trade, no publication */
    KNOWN_CALCULATED, /* follows from a formula whose source is given */
    KNOWN_USER        /* the user's own table */
};

struct cite {
    const char *publication; /* "33 CFR 183.425" */
    const char *clause;      /* "Table 5, note 1"; NULL: the whole */
    enum known known;
};

/* "read", "quoted", "from memory", "common practice", "calculated", "own table"; never NULL. */
const char *known_text(enum known known);

#endif

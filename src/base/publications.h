/* publications.h - the publications behind equations and figures.  Layer: base.  One table, no state.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * docs/handbook/sources.md is written from it (make docs), the report lists those of its own parts; models.md
 * names the keys.
 */
#ifndef BD_PUBLICATIONS_H
#define BD_PUBLICATIONS_H

/* What leans on a publication. */
enum {
    PUBLICATION_ENERGY = 1, /* sun, banks, machines, sizes */
    PUBLICATION_CABLES = 2,
    PUBLICATION_SURVEY = 4,
    PUBLICATION_TESTS = 8 /* published values that tests compare with, no result */
};

struct publication {
    const char *key;   /* as models.md names it: "Haurwitz1945" */
    const char *title; /* author, title, where, year */
    const char *used_for;
    const char *known; /* read, quoted, from memory, and what of it; common practice */
    unsigned of;       /* PUBLICATION_ bits */
};

/* By key; ended by a row without one. Texts are UTF-8 without any mark-up, and without bars. */
extern const struct publication publications[];

#endif

/* page.h - looks into HTML that the program wrote, as the well-formed XML it is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_PAGE_H
#define BD_TEST_PAGE_H

#include <stddef.h>

/* A cell with a machine name. */
struct page_cell {
    char part[32];  /* id of its section; "" outside of any */
    char table[64]; /* data-table of its table; "" where it has none */
    char row[80];   /* the heading of its row; "" where it has none */
    size_t number;  /* of its table on the page, from 1 */
    int right;      /* 1: stands as numbers do */
    char name[64];  /* data-name */
    char text[160]; /* without the unit */
};

struct page_seen {
    struct page_cell *cells;
    size_t cell_count, cell_room;
    char (*ids)[64], (*targets)[64]; /* of id= and of href="#..." */
    size_t id_count, id_room, target_count, target_room;
    size_t tables, captions, heads, heads_without_scope, drawings, drawing_titles, drawing_texts, headings[7];
    size_t scripts, outside; /* script elements; href, src or the like that leave the page */
    int heading_skips;       /* headings that go down more than one level at once */
};

/* Fails the test where the text is not well-formed. Free with page_free. */
void page_read(struct page_seen *seen, const char *html, size_t length);

/* The report of a profile; change NULL: as she is. */
void page_of_report(struct page_seen *seen, const char *profile, const char *change);
void page_free(struct page_seen *seen);

int page_has_id(const struct page_seen *seen, const char *id);

/* The first cell of that name in a table of that name ("": of none, NULL: of any); fails the test where there
 * is none. */
const char *page_text(const struct page_seen *seen, const char *table, const char *name);

#endif

/* html.h - writing HTML: escapes, and a sheet as a part of a page.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is written is HTML 5 that is well-formed XML as well: XML readers can check it and look things up in
 * it.
 */
#ifndef BD_HTML_H
#define BD_HTML_H

#include <stdio.h>

#include "output/sheet.h"

struct arena;

/* Text with what HTML would take for markup escaped; NULL: nothing. Fit for attributes in double quotes too.
 */
void html_text(FILE *out, const char *text);

/* From the document type to the opening of the body: style sheet and all. */
void html_begin(FILE *out, const char *title);
void html_end(FILE *out);

/* How a sheet becomes part of a page; a zeroed struct shows all of it. */
struct html_part {
    const char *tables;  /* only those with these names, blank-separated; NULL: all that are meant for HTML */
    const char *caption; /* of the first table instead of its own; NULL: its own */
    int no_lead;         /* 1: without the sheet's title and subtitle */
    int no_title;        /* 1: without the title alone: a heading says it */
    int no_cautions;     /* 1: without those notes that are cautions: the page has a place for them */
};

/* Title and subtitle as paragraphs, tables, notes as a list. STATUS_NO_MEMORY only: the stream is the
 * caller's to check. */
enum status html_sheet(FILE *out, struct arena *arena, const struct sheet *sheet,
                       const struct html_part *part);

#endif

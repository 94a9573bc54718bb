/* maker.h - putting a sheet together: tables, notes, texts.  Layer: output, for the sheets_*.c files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_MAKER_H
#define BD_MAKER_H

#include "engine/result.h"
#include "output/cautions.h"
#include "output/sheet.h"

struct arena;

enum { SHEET_TABLES = 48, SHEET_NOTES = 16 };

/* A sheet while it is made. Whatever cannot be had for want of memory makes sheet_made return NULL. */
struct sheet_maker {
    struct arena *arena;
    struct sheet sheet;
    struct table tables[SHEET_TABLES];
    const char *notes[SHEET_NOTES];
    int failed;
};

/* Starts a sheet; a NULL text is a failure for want of memory. */
struct sheet_maker sheet_begin(struct arena *arena, const char *title, const char *subtitle);

/* Adds a table at the end; more than SHEET_TABLES is a failure. What it points to
 * must live as long as the sheet. */
void add_table(struct sheet_maker *maker, struct table table);

/* A line below the tables. NULL counts as a failure for want of memory, "" as nothing to say. Cautions are
 * notes from a table of their own, so that a page can show each but once. */
void add_note(struct sheet_maker *maker, const char *note);
void add_caution(struct sheet_maker *maker, enum caution caution);

/* One row as a list under a title, for people: those columns of the kind whose machine names stand in names,
 * separated by blanks, in that order. */
void add_list(struct sheet_maker *maker, const char *title, const struct row_kind *kind, const void *row,
              const char *names);

/* The lines of a calculation, as paragraphs for people and as a table "working" for machines. */
void add_working(struct sheet_maker *maker, const struct working *working);

/* All single tables with a name, as rows of part, figure and value: what CSV shows of a sheet
 * without rows. */
void add_figures_for_csv(struct sheet_maker *maker);

/* The sheet in the arena of the maker, or NULL for want of memory or of room in its tables. */
const struct sheet *sheet_made(struct sheet_maker *maker);

#endif

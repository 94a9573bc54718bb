/* sheet.h - a result described once, so that text, CSV, JSON and HTML cannot disagree.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet is a list of tables. A table is a list of columns over an array of plain structs: a column says at
 * which offset its value stands, what it is called for machines and for people, in which unit it is kept and
 * shown, and with how many decimals. The walkers (as_text, as_csv, as_json, as_html) know nothing else.
 */
#ifndef BD_SHEET_H
#define BD_SHEET_H

#include <stddef.h>
#include <stdio.h>

#include "base/status.h"

enum cell_kind {
    CELL_REAL,  /* double */
    CELL_WHOLE, /* double, shown without decimals */
    CELL_COUNT, /* size_t */
    CELL_FLAG,  /* int, 0 or 1: JSON false and true, CSV 0 and 1, text no and yes */
    CELL_TEXT,  /* const char *, NULL: empty, JSON null */
    CELL_TIME,  /* double, [s] after the sheet's midnight: ISO 8601 local time */
    CELL_CLOCK, /* double, [s] after midnight: 06:40 */
    CELL_ROWS,  /* pointer to rows of child at offset: JSON an array within, text a table below */
    CELL_RECORD /* a struct at offset with the child's columns: JSON a nested object */
};

/* Which numbers stand for "not known" or "does not happen": text "-", CSV nothing, JSON null. */
enum cell_none { NONE_NEVER, NONE_BELOW_ZERO, NONE_AT_ZERO };

/* How a cell is meant, in an int; words or signs must say the same: colour is for terminals and screens
 * alone. */
enum tint { TINT_NONE, TINT_GOOD, TINT_BAD };

/* One column over an array of structs: where its value stands, and how each output writes it. Fields left
 * out are 0: shown everywhere, as it is kept, never empty. */
struct column {
    const char *name;    /* machine name, ends in its unit: "load_wh" */
    const char *heading; /* for people: "Load" */
    const char *unit;    /* shown in the heading: "Wh"; NULL: none */
    enum cell_kind kind;
    size_t offset;
    double scale;   /* shown = kept x scale; 0 counts as 1 */
    int decimals;   /* text and CSV; JSON writes up to 9 significant digits */
    unsigned where; /* SHOW_ bits; 0: everywhere */
    size_t count_offset;            /* CELL_ROWS: offset of the size_t count */
    const struct row_kind *child;   /* CELL_ROWS and CELL_RECORD */
    enum cell_none none;            /* CELL_REAL and CELL_WHOLE */
    int trim;                       /* 1: a CELL_REAL that is whole goes without decimals: 7.5 but 80 */
    int quiet;                      /* 1: numbers that text leaves out where every row has 0 */
    int right;                      /* 1: CELL_TEXT that is to stand like a number */
    size_t tint_offset;             /* of an enum tint in the row, which colours the cell; 0: none */
};

enum { SHOW_TEXT = 1, SHOW_CSV = 2, SHOW_JSON = 4, SHOW_HTML = 8 };

/* What one struct looks like: its columns and its size. */
struct row_kind {
    const char *title; /* heading of the table in text: "Loads" */
    const struct column *columns;
    size_t column_count;
    size_t size; /* sizeof the struct */
};

struct table {
    const char *name; /* JSON key: "days"; NULL: the single row's fields stand at the top level */
    const char *title;
    const struct row_kind *kind;
    const void *rows;
    size_t row_count;
    int single;       /* 1: one row, JSON an object, text a list of name and value */
    int csv;          /* 1: this is the table that CSV writes; several: with a blank line between */
    unsigned where;   /* SHOW_ bits; 0: everywhere */
    /* 1: text sets each row as a paragraph headed by its first two columns, not as a grid */
    int paragraphs;
    int no_children;  /* 1: HTML leaves rows within its rows out */
};

struct sheet {
    const char *title;    /* "Week of the Example" */
    const char *subtitle; /* boat, place, dates */
    const struct table *tables;
    size_t table_count;
    const char *const *notes; /* printed below in text and HTML: findings, cautions */
    size_t note_count;
    int year, month, day;     /* the midnight that CELL_TIME counts from */
};

enum sheet_format { FORMAT_TEXT, FORMAT_CSV, FORMAT_JSON, FORMAT_HTML };

/* How text is to look; a zeroed struct is plain and 100 characters wide. */
struct text_style {
    int width;   /* [characters] 0: 100 */
    int colour;  /* 1: a terminal that shows it */
};

/*
 * Writes the sheet in one of the formats and flushes the stream.
 *
 *   sheet   borrowed; its rows too
 *   style   of text alone; NULL: plain, 100 characters wide
 *
 * STATUS_UNWRITABLE where the stream fails, STATUS_NO_MEMORY. Numbers have a decimal point whatever the
 * locale. Checked: tests/output/test_sheets.c, test_walkers.c; that all formats say the same:
 * tests/cli/test_same.c.
 */
enum status sheet_write(FILE *out, const struct sheet *sheet, enum sheet_format format,
                        const struct text_style *style);

#endif

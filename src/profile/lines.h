/* lines.h - INI text to sections and entries, each with its place; the safe reader in front of inih.
 * Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_LINES_H
#define BD_LINES_H

#include <stddef.h>

#include "base/diag.h"
#include "base/name_table.h"
#include "base/status.h"
#include "base/text.h"

struct arena;

/* A line of some file, as diagnostics show it. */
struct place {
    const char *file;
    int line;           /* from 1 */
    const char *source; /* the whole line */
};

struct entry {
    const char *key;   /* "duty.marina" as typed */
    struct span value; /* trimmed, pointing into place.source; a NUL-ended copy of the line */
    size_t key_column; /* byte in place.source where the key begins */
    struct place place;
    int removed; /* 1: a change file has taken it out */
};

struct section {
    const char *title; /* "load fridge", blanks between as one */
    const char *kind;  /* "load" */
    const char *name;  /* "fridge"; "" where it has none */
    struct place place;
    struct entry *entries;
    size_t count, room;
    int removed; /* 1: a change file has taken it out */
};

/* One file, or a file with its changes laid over it. */
struct document {
    const char *file;
    struct section *sections;
    size_t count, room;
    struct name_table titles; /* of sections to their places, the last of that title */
};

/* Adds a section at the end and makes its title known; NULL without memory. */
struct section *document_add(struct document *document, struct arena *arena, const struct section *section);

/*
 * Limits of inih as packaged: what is longer is cut there without a word, so it is refused here.
 * Bytes of a line without its end, of a section's title, of a key.
 */
enum { LINE_LIMIT = 198, TITLE_LIMIT = 49, KEY_LIMIT = 49 };

/* Sections of a profile and keys of a section: far over any boat; keys are few enough to search one
 * by one. */
enum { SECTION_LIMIT = 4000, ENTRY_LIMIT = 400 };

/* Errors after which a file is read, or applied, no further: it is no profile, and nobody mends so many at
 * once. */
enum { ERROR_LIMIT = 500 };

/*
 * Reads text into sections and entries. Every fault becomes a diagnostic and reading goes on with the next
 * line; the lines under a section head that cannot be read are passed over. STATUS_NO_MEMORY is the only
 * failure.
 */
enum status document_read(struct document *out, struct arena *arena, const char *file, struct span text,
                          struct diag_list *diags);

/* The section of that title, or the entry of that key, that no change has removed; NULL: there is none.
 * Titles are looked up in a table, keys one by one: the limit above keeps that short. */
struct section *document_find(const struct document *document, const char *title);
struct entry *section_find(const struct section *section, const char *key);

/* Adds an error about one entry: `where` is a piece of its value, or empty for the whole of it. A piece of
 * some other text (a default, a list with its units spread) counts as the whole too. */
void entry_remark(struct diag_list *diags, const struct section *section, const struct entry *entry,
                  struct span where, const char *message, const char *hint);

/* Adds a remark about the key of an entry, or about the head of a section. */
void key_remark(struct diag_list *diags, const struct section *section, const struct entry *entry,
                const char *message, const char *hint);
void section_remark(struct diag_list *diags, const struct section *section, const char *message,
                    const char *hint);

#endif

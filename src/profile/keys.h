/* keys.h - the one table of what a profile may say.  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A row drives reading, checking, the default, the list of assumptions and the printed reference. To add a
 * key: add its field to the struct in boat/, its row here, and, if it needs one, its reader in readers.c.
 */
#ifndef BD_KEYS_H
#define BD_KEYS_H

#include <stddef.h>

#include "base/units.h"

struct reading;
struct cursor;

enum key_type {
    KEY_RANGE,   /* struct range of one quantity */
    KEY_MONTHS,  /* struct range [12]: one value for all, or twelve */
    KEY_TEXT,    /* const char *, as typed */
    KEY_CHOICE,  /* an enum: one of `words` */
    KEY_FLAG,    /* int: yes or no */
    KEY_LINK,    /* pointer to an object of the section kind `words` */
    KEY_SPECIAL, /* read by `reader` */
};

enum key_flags {
    KEY_REQUIRED = 1,
    KEY_WHOLE = 2,      /* whole numbers only */
    KEY_PER_DAY = 4,    /* may carry .KIND: for one kind of day */
    KEY_PER_ENGINE = 8, /* must carry .NAME of an engine */
    KEY_LATE = 16,      /* read when all sections are known: it names others */
    KEY_COMPUTED = 32,  /* the default is worked out (defaults.c); `fallback` only describes it */
};

struct key {
    const char *section; /* kind of section */
    const char *name;
    enum key_type type;
    enum quantity quantity; /* KEY_RANGE, KEY_MONTHS; of a bare word elsewhere */
    size_t at;              /* where in the object */
    unsigned flags;
    const char *bounds;   /* as typed, "0..20 kW"; NULL: none */
    const char *fallback; /* the default as typed; NULL: none */
    const char *words;    /* choices by bar, or the kind a link goes to */
    /* Reads the value into the object; the default passes through it too. 0: the cursor has the fault. */
    int (*reader)(struct reading *r, struct cursor *c, void *object);
    const char *form;  /* what may be typed, where the type does not say */
    const char *group; /* keys of one group exclude each other */
    const char *meaning;
    const char *source; /* of the default */
};

struct kind {
    const char *name;
    int named;       /* 1: [kind NAME], many of them */
    size_t size;     /* of one object */
    size_t at;       /* in struct boat: the object itself, or the pointer to the array */
    size_t count_at; /* in struct boat, where named */
    int always;      /* 1: its defaults apply even where the section is missing */
    const char *meaning;
};

/* The tables, in the order of the printed reference; *count is set. Rows of a section stand together. */
const struct key *key_table(size_t *count);
const struct kind *kind_table(size_t *count);

/* The kind of that name; NULL: there is none. */
const struct kind *kind_find(const char *name);

/*
 * The row of a key as typed. *suffix is what stands behind the point of "hours.marina" or "engine.port", else
 * NULL. NULL: there is no such key in that kind of section.
 */
const struct key *key_find(const struct kind *kind, const char *typed, const char **suffix);

#endif

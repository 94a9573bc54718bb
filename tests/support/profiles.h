/* profiles.h - reading profiles in tests: text in, boat or remarks out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_PROFILES_H
#define BD_TEST_PROFILES_H

#include "base/arena.h"
#include "base/diag.h"
#include "base/status.h"
#include "boat/boat.h"

/* One reading and all that belongs to it. Free it with reading_free. */
struct test_reading {
    struct arena *arena;
    struct diag_list *diags;
    const struct boat *boat; /* NULL where it was refused */
    enum status status;
};

/* Reads text, or a file with its changes (NULL at their end; NULL: none). Whatever comes out is kept. */
struct test_reading test_read_text(const char *text);
struct test_reading test_read_bytes(const char *bytes, size_t length);
struct test_reading test_read_file(const char *path, const char *const *changes);
void test_reading_free(struct test_reading *t);

/* Reads text that must be right; fails the test with its remarks where it is not. */
struct test_reading test_boat_of(const char *text);

/* All remarks as a person reads them, in the reading's arena. */
const char *test_remarks(const struct test_reading *t);

/* Fails the test unless the text is refused and one of the remarks contains the piece. */
void test_refused(const char *text, const char *piece);

/* The assumption made for a key, NULL where there is none. */
const struct assumption *test_assumption(const struct boat *boat, const char *section, const char *key);

/* Things by name; the test fails where there is none. */
const struct load *test_load(const struct boat *boat, const char *name);
const struct bank *test_bank(const struct boat *boat, const char *name);

/*
 * Everything the boat says, one thing a line, sorted, without lines and places: two boats that mean the same
 * give the same text. In the arena.
 */
const char *test_boat_text(struct arena *arena, const struct boat *boat);

#endif

/* profile.h - INI text to boat.  Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PROFILE_H
#define BD_PROFILE_H

#include <stdio.h>

#include "base/diag.h"
#include "base/keyrow.h"
#include "base/status.h"
#include "boat/boat.h"

struct arena;

/*
 * Reads PATH and lays the change files over it, in order. On success *out is a boat inside arena, complete
 * and linked (every pointer set, defaults filled, assumptions listed). Wrong lines become diagnostics, all of
 * them in one run, and STATUS_REFUSED. *out is touched only on success.
 */
enum status profile_read(const struct boat **out, struct arena *arena, const char *path,
                         const char *const *changes, size_t change_count, struct diag_list *diags);

/* The same from text in memory; name stands for the path in diagnostics. For tests, fuzzing and editors. */
enum status profile_read_text(const struct boat **out, struct arena *arena, const char *name,
                              const char *text, size_t length, struct diag_list *diags);

/*
 * Gives the remarks from `first` on that name a section of the boat's profile the file and line of their key,
 * or of the head of the section where it does not stand; where a change file was laid over the profile,
 * those of the change. Remarks that have a file already keep it.
 */
void profile_place_remarks(const struct boat *boat, struct diag_list *diags, size_t first);

/* Every key of one section ("bank"), or of all where section is NULL; rows in arena. Count 0: no such
 * section. */
const struct key_row *profile_keys(struct arena *arena, const char *section, size_t *count);

#endif

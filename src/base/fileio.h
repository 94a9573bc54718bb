/* fileio.h - files read whole with limits; files written beside their name and renamed into place.
 * Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_FILEIO_H
#define BD_FILEIO_H

#include <stddef.h>
#include <stdio.h>

#include "base/diag.h"
#include "base/status.h"
#include "base/text.h"

struct arena;

/* Largest file read by default [byte]: far over any profile or year of hourly weather. */
enum { FILE_SIZE_LIMIT = 16 * 1024 * 1024 };

/*
 * Reads a whole file of at most `limit` bytes into the arena; a NUL follows the text. A regular file that is
 * too large is refused by its size, unread; a pipe as soon as it gives too much. Missing, unreadable, a
 * directory, too large, empty: one diagnostic and STATUS_UNREADABLE. *out is touched only on success.
 */
enum status file_read(struct span *out, struct arena *arena, const char *path, size_t limit,
                      struct diag_list *diags);

/* path as seen from the folder that `beside` lies in, so that a profile may name a file next to it from
 * wherever the program is run; an absolute path is itself. NULL without memory. */
const char *file_path_beside(struct arena *arena, const char *beside, const char *path);

/*
 * A file being written. `stream` is for writing; all else is private. Nothing appears under the path, and an
 * old file there stays as it is, until file_write_commit. A path that is no regular file (a device, a pipe)
 * is written straight through.
 */
struct file_write {
    FILE *stream;
    char *path;   /* of the file itself, links followed */
    char *beside; /* the temporary name next to it; NULL: written straight through */
    int named;    /* 1: the temporary name exists on disk */
};

/* Each gives STATUS_UNWRITABLE and one diagnostic where it fails; a failed commit has already aborted. */
enum status file_write_begin(struct file_write *file, struct arena *arena, const char *path,
                             struct diag_list *diags);
enum status file_write_commit(struct file_write *file, struct diag_list *diags);

/* Throws away what was written. Allowed after a failed begin and twice. */
void file_write_abort(struct file_write *file);

#endif

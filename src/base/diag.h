/* diag.h - what is wrong with the user's files, and where: a list, never printed here.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_DIAG_H
#define BD_DIAG_H

#include <stddef.h>

struct arena;

/* An error refuses the profile; a warning is for the user to think about; a note says what was assumed. */
enum diag_severity { DIAG_NOTE, DIAG_WARNING, DIAG_ERROR };

/* One remark. Any text may be NULL where it does not apply; line and column are 0 where there is none. */
struct diag {
    enum diag_severity severity;
    const char *file;
    int line;   /* from 1 */
    int column; /* from 1, into source */
    int width;  /* characters to underline */
    const char *source;  /* the line as the user wrote it */
    const char *section; /* "load fridge" */
    const char *key;
    const char *message; /* what was found: "45" has no unit */
    const char *hint;    /* what would do: write 45 W, or 3.8 A */
};

/* A growing list in an arena of its own. Make it with diag_list_new, free it with diag_list_free. */
struct diag_list {
    struct arena *arena;
    struct diag *items;
    size_t count, room;
    size_t errors;  /* how many of them are errors */
    int incomplete; /* 1: a remark was lost for want of memory */
};

/* A new list with an arena of its own, NULL without memory; free allows NULL. */
struct diag_list *diag_list_new(void);
void diag_list_free(struct diag_list *list);

/* Adds a copy of the remark, texts included, at the end. Without memory the remark is lost, or one of its
 * texts, and incomplete is set: nobody is told that all is well. */
void diag_add(struct diag_list *list, const struct diag *diag);

#endif

/* arena.h - the one allocator: everything made in a run dies with it.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_ARENA_H
#define BD_ARENA_H

#include <stddef.h>

struct arena;

/* A new empty arena, or NULL without memory. Free it with arena_free, which frees all that was made in it
 * and allows NULL. One thread at a time may make things in it; reading them needs no care. */
struct arena *arena_new(void);
void arena_free(struct arena *arena);

/*
 * size zeroed bytes, aligned for any type; NULL without memory, or where the size overflows.
 * size 0 gives a valid unique pointer. Blocks double from 16 kB to 4 MB, so a run costs a
 * dozen calls of the system's allocator.
 */
void *arena_zero(struct arena *arena, size_t size);

/* count zeroed elements of size bytes; NULL without memory or where the product overflows. */
void *arena_array(struct arena *arena, size_t count, size_t size);

/* A copy of length bytes of text with a NUL behind it; NULL without memory. */
char *arena_copy(struct arena *arena, const char *text, size_t length);

/* printf into the arena; NULL without memory. */
char *arena_print(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

/*
 * Makes room for one more element at the end of a growing array and returns a pointer to that zeroed
 * element, or NULL without memory. *items may move; *count is raised; *room is the array's own book-keeping
 * (start with NULL, 0, 0).
 */
void *arena_push(struct arena *arena, void **items, size_t *count, size_t *room, size_t size);

#endif

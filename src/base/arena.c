/* arena.c - chained blocks; the only caller of malloc in the library.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_BLOCK = 16 * 1024, LARGEST_STEP = 4 * 1024 * 1024 };

/* Blocks form a chain, newest first; only the newest has room. */
struct block {
    struct block *older;
    size_t size, used;
    _Alignas(max_align_t) unsigned char bytes[];
};

struct arena {
    struct block *newest;
};

struct arena *arena_new(void)
{
    return calloc(1, sizeof(struct arena));
}

void arena_free(struct arena *arena)
{
    if (!arena)
        return;
    for (struct block *b = arena->newest, *older; b; b = older) {
        older = b->older;
        free(b);
    }
    free(arena);
}

/* A new newest block with room for need bytes. What was left in the one before stays
 * unused: less than one allocation. */
static struct block *block_add(struct arena *arena, size_t need)
{
    size_t size = arena->newest ? arena->newest->size * 2 : FIRST_BLOCK;
    struct block *b;

    if (size > LARGEST_STEP)
        size = LARGEST_STEP;
    if (size < need)
        size = need;
    if (size > SIZE_MAX - sizeof *b || !(b = calloc(1, sizeof *b + size)))
        return NULL;
    b->older = arena->newest;
    b->size = size;
    arena->newest = b;
    return b;
}

void *arena_zero(struct arena *arena, size_t size)
{
    const size_t unit = _Alignof(max_align_t);
    struct block *b = arena->newest;
    void *place;

    if (size > SIZE_MAX - unit)
        return NULL;
    size = size ? (size + unit - 1) / unit * unit : unit;
    if ((!b || b->size - b->used < size) && !(b = block_add(arena, size)))
        return NULL;
    place = b->bytes + b->used;
    b->used += size;
    return place;
}

void *arena_array(struct arena *arena, size_t count, size_t size)
{
    if (size && count > SIZE_MAX / size)
        return NULL;
    return arena_zero(arena, count * size);
}

char *arena_copy(struct arena *arena, const char *text, size_t length)
{
    char *copy = length < SIZE_MAX ? arena_zero(arena, length + 1) : NULL;

    if (copy)
        memcpy(copy, text, length);
    return copy;
}

char *arena_print(struct arena *arena, const char *format, ...)
{
    va_list args;
    char *text = NULL;
    int length;

    va_start(args, format);
    length = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (length >= 0 && (text = arena_zero(arena, (size_t)length + 1))) {
        va_start(args, format);
        vsnprintf(text, (size_t)length + 1, format, args);
        va_end(args);
    }
    return text;
}

void *arena_push(struct arena *arena, void **items, size_t *count, size_t *room, size_t size)
{
    if (*count == *room) {
        size_t wider = *room ? *room * 2 : 8;
        void *moved = arena_array(arena, wider, size);

        if (!moved)
            return NULL;
        if (*count)
            memcpy(moved, *items, *count * size);
        *items = moved;
        *room = wider;
    }
    return (unsigned char *)*items + size * (*count)++;
}

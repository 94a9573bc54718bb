/* diag.c - the list of remarks on the user's files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/diag.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"

struct diag_list *diag_list_new(void)
{
    struct arena *arena = arena_new();
    struct diag_list *list = arena ? arena_zero(arena, sizeof *list) : NULL;

    if (list)
        list->arena = arena;
    else
        arena_free(arena);
    return list;
}

void diag_list_free(struct diag_list *list)
{
    if (list)
        arena_free(list->arena);
}

/* A copy that outlives the caller's text; without memory the list says that it is incomplete. */
static const char *kept(struct diag_list *list, const char *text)
{
    const char *copy = text ? arena_copy(list->arena, text, strlen(text)) : NULL;

    if (text && !copy)
        list->incomplete = 1;
    return copy;
}

void diag_add(struct diag_list *list, const struct diag *diag)
{
    void *items = list->items;
    struct diag *slot = arena_push(list->arena, &items, &list->count, &list->room, sizeof *slot);

    list->items = items;
    list->errors += diag->severity == DIAG_ERROR;
    if (!slot) {
        list->incomplete = 1;
        return;
    }
    *slot = *diag;
    slot->file = kept(list, diag->file);
    slot->source = kept(list, diag->source);
    slot->section = kept(list, diag->section);
    slot->key = kept(list, diag->key);
    slot->message = kept(list, diag->message);
    slot->hint = kept(list, diag->hint);
}

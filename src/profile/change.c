/* change.c - lays a change file over a profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/change.h"

#include <string.h>

#include "base/arena.h"
#include "profile/keys.h"

/*
 * Changes are laid over the document, before anything is read: a changed profile then goes the same way as a
 * typed one, and every entry keeps the file and line it came from.
 */

static const char *text_or_empty(const char *text)
{
    return text ? text : "";
}

/* 1 where the two keys exclude each other: one group, one suffix, not the same key. */
static int exclusive(const char *kind_name, const char *a, const char *b)
{
    const struct kind *kind = kind_find(kind_name);
    const char *suffix_a, *suffix_b;
    const struct key *x = kind ? key_find(kind, a, &suffix_a) : NULL;
    const struct key *y = kind ? key_find(kind, b, &suffix_b) : NULL;

    return x && y && x != y && x->group && y->group && text_same(x->group, y->group) &&
           text_same(text_or_empty(suffix_a), text_or_empty(suffix_b));
}

/* Replaces an entry, or adds it and takes out what excludes it: a change from power to current leaves only
 * the current. 0 without memory. */
static int entry_lay(struct section *base, struct arena *arena, const struct entry *entry)
{
    struct entry *old = section_find(base, entry->key), *slot;
    void *items = base->entries;

    if (old) {
        *old = *entry;
        return 1;
    }
    for (size_t i = 0; i < base->count; i++)
        if (exclusive(base->kind, base->entries[i].key, entry->key))
            base->entries[i].removed = 1;
    if (!(slot = arena_push(arena, &items, &base->count, &base->room, sizeof *slot)))
        return 0;
    base->entries = items;
    *slot = *entry;
    return 1;
}

/* For "did you mean": among the sections that are still there. NULL: none is near. */
static const char *nearest_title(const struct document *document, const char *title)
{
    struct text_near near = { .word = span_of(title) };

    for (size_t i = 0; i < document->count; i++)
        if (!document->sections[i].removed)
            text_near_offer(&near, document->sections[i].title);
    return near.best;
}

/* A section with "remove": taken out where it says yes. */
static void section_remove(struct document *base, struct arena *arena, const struct section *section,
                           const struct entry *remove, struct diag_list *diags)
{
    struct section *old = document_find(base, section->title);
    const char *near;

    if (!span_is_word(remove->value, "yes"))
        entry_remark(diags, section, remove, remove->value, "is not understood here",
                     "write remove = yes, or leave the line out");
    else if (section->count > 1)
        section_remark(diags, section, "is to be removed and has other keys too",
                       "leave remove or the others out");
    else if (!old) {
        near = nearest_title(base, section->title);
        section_remark(diags, section, "is not in the profile, so it cannot be removed",
                       near ? arena_print(arena, "did you mean [%s]?", near) : NULL);
    } else
        old->removed = 1;
}

/* Sections in the order of the change; one that is removed and then named again is a new one. */
enum status change_lay(struct document *base, struct arena *arena, const struct document *change,
                       struct diag_list *diags)
{
    for (size_t i = 0; i < change->count; i++) {
        const struct section *section = &change->sections[i];
        const struct entry *remove = section_find(section, "remove");
        struct section *old = document_find(base, section->title);

        if (remove)
            section_remove(base, arena, section, remove, diags);
        else if (!old) {
            if (!document_add(base, arena, section))
                return STATUS_NO_MEMORY;
        } else
            for (size_t j = 0; j < section->count; j++)
                if (!entry_lay(old, arena, &section->entries[j]))
                    return STATUS_NO_MEMORY;
    }
    return STATUS_OK;
}

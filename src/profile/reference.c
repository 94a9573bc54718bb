/* reference.c - the key table as rows for the printed reference.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "profile/keys.h"
#include "profile/profile.h"

/* "W, kW, ...": the spellings in plain ASCII; others are understood, but not everybody can type them. */
static const char *units_form(struct arena *arena, enum quantity quantity)
{
    const char *text = "";
    size_t count;
    const struct unit *units = unit_table(&count);

    if (quantity_is_bare(quantity))
        return "number";
    for (size_t i = 0; i < count && text; i++)
        if (units[i].quantity == quantity && (unsigned char)units[i].symbol[0] < 0x80 &&
            (unsigned char)units[i].symbol[strlen(units[i].symbol) - 1] < 0x80)
            text = arena_print(arena, "%s%s%s", text, *text ? ", " : "", units[i].symbol);
    return text;
}

static const char *words_form(struct arena *arena, const char *words)
{
    const char *text = "";
    struct span rest = span_of(words), piece;

    while (text && span_split(&rest, '|', &piece))
        text = arena_print(arena, "%s%s%.*s", text, *text ? ", " : "", (int)piece.length, piece.at);
    return text;
}

/* What may be written, by type, where the key does not say so itself. */
static const char *key_form(struct arena *arena, const struct key *key)
{
    if (key->form)
        return key->form;
    switch (key->type) {
    case KEY_MONTHS:
        return arena_print(arena, "%s; one or twelve", units_form(arena, key->quantity));
    case KEY_CHOICE:
        return words_form(arena, key->words);
    case KEY_FLAG:
        return "yes, no";
    case KEY_LINK:
        return arena_print(arena, "name of a [%s]", key->words);
    default:
        return units_form(arena, key->quantity);
    }
}

/* The key as one writes it, with what may or must stand behind the point. */
static const char *key_typed(struct arena *arena, const struct key *key)
{
    if (key->flags & KEY_PER_ENGINE)
        return arena_print(arena, "%s.NAME", key->name);
    if (key->flags & KEY_PER_DAY)
        return arena_print(arena, "%s[.KIND]", key->name);
    return key->name;
}

static struct key_row row_make(struct arena *arena, const struct kind *kind, const struct key *key)
{
    return (struct key_row){
        .section = !kind->named                     ? kind->name
                   : text_same(kind->name, "day") ? "day KIND"
                                                    : arena_print(arena, "%s NAME", kind->name),
        .key = key_typed(arena, key),
        .form = key_form(arena, key),
        .fallback = key->flags & KEY_REQUIRED ? "required"
                    : key->fallback           ? key->fallback
                                              : "-",
        .bounds = key->bounds ? key->bounds : "",
        .meaning = key->meaning,
        .source = key->source ? key->source : "",
    };
}

const struct key_row *profile_keys(struct arena *arena, const char *section, size_t *count)
{
    size_t key_count, n = 0;
    const struct key *keys = key_table(&key_count);
    struct key_row *rows = arena_array(arena, key_count, sizeof *rows);

    for (size_t i = 0; i < key_count && rows; i++)
        if (!section || text_same(section, keys[i].section))
            rows[n++] = row_make(arena, kind_find(keys[i].section), &keys[i]);
    *count = n;
    return rows;
}

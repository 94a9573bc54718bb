/* name_table.c - names to numbers in constant time.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/name_table.h"

#include <stdint.h>
#include <string.h>

#include "base/arena.h"

/* Room for most names at a load of a half at most, so that runs of probes stay short. */
int name_table_make(struct name_table *table, struct arena *arena, size_t most)
{
    table->room = 16;
    table->count = 0;
    while (table->room < 2 * most + 2)
        table->room *= 2;
    table->names = arena_array(arena, table->room, sizeof *table->names);
    table->values = arena_array(arena, table->room, sizeof *table->values);
    return table->names && table->values;
}

/* FNV-1a, 64 bits. */
static size_t place_of(const struct name_table *table, const char *name)
{
    uint64_t hash = 14695981039346656037u;
    size_t at;

    for (const char *c = name; *c; c++)
        hash = (hash ^ (unsigned char)*c) * 1099511628211u;
    at = (size_t)hash & (table->room - 1);
    while (table->names[at] && strcmp(table->names[at], name) != 0)
        at = (at + 1) & (table->room - 1);
    return at;
}

size_t name_table_get(const struct name_table *table, const char *name, size_t missing)
{
    size_t at;

    if (table->room == 0)
        return missing;
    at = place_of(table, name);
    return table->names[at] ? table->values[at] : missing;
}

void name_table_put(struct name_table *table, const char *name, size_t value)
{
    size_t at = place_of(table, name);

    if (table->names[at])
        return;
    table->names[at] = name;
    table->values[at] = value;
    table->count++;
}

/* Twice the room, and all names anew. */
static int grow(struct name_table *table, struct arena *arena)
{
    struct name_table larger;

    if (!name_table_make(&larger, arena, table->room))
        return 0;
    for (size_t i = 0; i < table->room; i++)
        if (table->names[i])
            name_table_put(&larger, table->names[i], table->values[i]);
    *table = larger;
    return 1;
}

int name_table_set(struct name_table *table, struct arena *arena, const char *name, size_t value)
{
    if (2 * table->count + 2 > table->room && !grow(table, arena))
        return 0;
    name_table_put(table, name, value);
    table->values[place_of(table, name)] = value;
    return 1;
}

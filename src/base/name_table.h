/* name_table.h - names to numbers in constant time.  Layer: base.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_NAME_TABLE_H
#define BD_NAME_TABLE_H

#include <stddef.h>

struct arena;

/* Open addressing; room is a power of two above twice the names. A zeroed table is empty and may grow. Names
 * are borrowed. */
struct name_table {
    const char **names;
    size_t *values;
    size_t room, count;
};

/* Room for so many names at once. 0 without memory. */
int name_table_make(struct name_table *table, struct arena *arena, size_t most);

/* The value kept for a name; missing where there is none. */
size_t name_table_get(const struct name_table *table, const char *name, size_t missing);

/* Keeps a value for a name unless it has one; the table was made with room for it. */
void name_table_put(struct name_table *table, const char *name, size_t value);

/* Keeps a value for a name, over the one it has; grows where it must. 0 without memory, the table as
 * it was. */
int name_table_set(struct name_table *table, struct arena *arena, const char *name, size_t value);

#endif

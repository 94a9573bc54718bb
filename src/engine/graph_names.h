/* graph_names.h - names to numbers in constant time.  Layer: engine, private to graph.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_GRAPH_NAMES_H
#define BD_GRAPH_NAMES_H

#include <stddef.h>

struct arena;

/* Open addressing; room is a power of two above twice the names. */
struct name_table {
    const char **names;
    size_t *values;
    size_t room, count;
};

/* 0 without memory. */
int name_table_make(struct name_table *table, struct arena *arena, size_t most);

/* The value kept for a name; missing where there is none. */
size_t name_table_get(const struct name_table *table, const char *name, size_t missing);

/* Keeps a value for a name unless it has one. */
void name_table_put(struct name_table *table, const char *name, size_t value);

#endif

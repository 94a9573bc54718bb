/* joined.h - which nodes hang together: sets that are joined one edge at a time.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_JOINED_H
#define BD_JOINED_H

#include <stddef.h>

/* Representative of the set of node i (union-find); halves the path on its way. At the start
 * parent[i] == i. */
static inline size_t root_of(size_t *parent, size_t i)
{
    while (parent[i] != i)
        i = parent[i] = parent[parent[i]];
    return i;
}

#endif

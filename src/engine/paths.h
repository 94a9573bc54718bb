/* paths.h - the way from a source to every node its cables reach.
 * Layer: engine, for expect.c and handover.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PATHS_H
#define BD_PATHS_H

#include <stddef.h>

struct arena;
struct circuit;

#define PATH_NONE ((size_t)-1)

/* Nodes in the order in which they are reached; the first is the source. */
struct paths {
    const char **nodes;
    size_t *cable;  /* of the circuit, towards the source; PATH_NONE at the source */
    size_t *parent; /* place in nodes */
    size_t count;
};

/*
 * Fewest cables first; where cables make a loop the other way round is left out, so that resistances are
 * those of one way only. 0 without memory.
 */
int paths_make(struct paths *paths, struct arena *arena, const struct circuit *circuit, const char *source);

/* Place of a node; PATH_NONE: not reached. */
size_t paths_find(const struct paths *paths, const char *node);

/* Resistance [mohm] of the cables from the source to a node, out and back. */
double paths_mohm(const struct paths *paths, const struct circuit *circuit, size_t place);

#endif

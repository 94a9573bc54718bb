/* paths.c - the way from a source to every node its cables reach.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/paths.h"

#include <string.h>

#include "base/arena.h"
#include "engine/circuit_result.h"

/*
 * For sheets that follow one current after another, not for solving: loops are cut where the shorter way, in
 * cables, has been taken, so a sum along a path is the resistance of one way only, which is more than a loop
 * has.
 */

size_t paths_find(const struct paths *paths, const char *node)
{
    for (size_t i = 0; i < paths->count; i++)
        if (strcmp(paths->nodes[i], node) == 0)
            return i;
    return PATH_NONE;
}

/* Adds a node unless it is there already: what was reached first is the shorter way. */
static void reach(struct paths *paths, const char *node, size_t cable, size_t parent)
{
    if (paths_find(paths, node) != PATH_NONE)
        return;
    paths->nodes[paths->count] = node;
    paths->cable[paths->count] = cable;
    paths->parent[paths->count++] = parent;
}

/* The list of nodes is its own queue: breadth first, in cables, not in ohms. */
int paths_make(struct paths *paths, struct arena *arena, const struct circuit *circuit, const char *source)
{
    const size_t most = circuit->cable_count + 1;

    *paths = (struct paths){ .nodes = arena_array(arena, most, sizeof *paths->nodes),
                             .cable = arena_array(arena, most, sizeof *paths->cable),
                             .parent = arena_array(arena, most, sizeof *paths->parent) };
    if (!paths->nodes || !paths->cable || !paths->parent)
        return 0;
    reach(paths, source, PATH_NONE, PATH_NONE);
    for (size_t i = 0; i < paths->count; i++)
        for (size_t c = 0; c < circuit->cable_count; c++) {
            const struct circuit_cable *cable = &circuit->cables[c];

            if (strcmp(cable->from, paths->nodes[i]) == 0)
                reach(paths, cable->to, c, i);
            else if (strcmp(cable->to, paths->nodes[i]) == 0)
                reach(paths, cable->from, c, i);
        }
    return 1;
}

double paths_mohm(const struct paths *paths, const struct circuit *circuit, size_t place)
{
    double mohm = 0;

    for (; place != PATH_NONE && paths->cable[place] != PATH_NONE; place = paths->parent[place])
        mohm += circuit->cables[paths->cable[place]].resistance_mohm;
    return mohm;
}

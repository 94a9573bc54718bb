/* tree.h - profiles of generated boats with as many nodes as one likes, for timings.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_BENCH_TREE_H
#define BD_BENCH_TREE_H

#include <stddef.h>

/*
 * Writes an invented boat of 48 V whose cables are a tree of that many nodes: one bank, a busbar for every four
 * nodes, loads for the rest, each on a busbar that stands before it; no areas, so that every cable is sized. The
 * loads share 1500 W whatever their number. The same for the same number. 0: it cannot be written.
 */
int tree_write(const char *path, size_t nodes);

#endif

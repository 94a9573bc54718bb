/* graph.h - cables and what they join, as nodes, edges and parts that hang together.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A name of a cable's end is a bank, a device, a load or a node of the user's own. Devices with two circuits
 * (inverter, charger, converter) become two nodes; which of them a cable meets is told by what hangs on its
 * other end.
 */
#ifndef BD_GRAPH_H
#define BD_GRAPH_H

#include <stddef.h>
#include <stdint.h>

#include "base/diag.h"
#include "base/status.h"
#include "boat/boat.h"
#include "engine/network.h"

struct arena;

enum graph_kind {
    GRAPH_PLAIN,
    GRAPH_BANK,
    GRAPH_LOAD,
    GRAPH_INVERTER,
    GRAPH_CHARGER,
    GRAPH_DCDC,
    GRAPH_ALTERNATOR,
    GRAPH_SOLAR,
    GRAPH_GENERATOR,
    GRAPH_SHORE
};

#define GRAPH_NONE SIZE_MAX

/* A place where cables meet; a device of two circuits is two of them. */
struct graph_node {
    const char *name;
    enum graph_kind kind;
    size_t index; /* of the thing in the boat's list */
    int far_side; /* 1: AC side of an inverter or charger, output of a converter */
    size_t part;
    size_t degree; /* cables at it */
    size_t loads;  /* loads hanging on it */
    size_t parent; /* edge towards the source on the shortest path; GRAPH_NONE at the source */
    size_t feeds;  /* tree edges and loads beyond it */
};

struct graph_edge {
    const struct cable *cable;
    size_t from, to; /* from is nearer to the source */
    int chord;       /* 1: closes a loop */
};

/* What hangs together without passing through a device: one system, one nominal voltage. */
struct graph_part {
    enum net_system system;
    double nominal_v;
    size_t source;           /* node: the bank, or the first source */
    const struct bank *bank; /* NULL: fed by something else */
    int loops;               /* 1: not a tree */
};

/* The wiring of a boat. Complete and sound: what makes no sense was refused. */
struct graph {
    const struct boat *boat;
    struct graph_node *nodes;
    size_t node_count;
    struct graph_edge *edges; /* one per cable, in the boat's order */
    size_t edge_count;
    struct graph_part *parts;
    size_t part_count;
    size_t *order;     /* nodes, sources first, parents before children */
    size_t *load_node; /* per load of the boat; GRAPH_NONE: no cable reaches it */
    size_t unwired;    /* loads that no cable reaches */
};

/*
 * From the cables of a boat to its graph.
 *
 * STATUS_REFUSED with diagnostics where the cables make no sense: ends that lead nowhere, nodes nobody
 * feeds, two banks on one wire, loops without resistance, lengths and areas no table has. STATUS_INCOMPLETE
 * without any cable. *out lives in arena and borrows the boat. Checked: tests/engine/test_graph.c.
 */
enum status graph_build(const struct graph **out, struct arena *arena, const struct boat *boat,
                        struct diag_list *diags);

/* Node by name, near side first; GRAPH_NONE: no such. */
size_t graph_find(const struct graph *graph, const char *name);

/* "bank", "inverter", "node", ... */
const char *graph_kind_text(enum graph_kind kind);

/* 1 where a node may feed its part: a bank, an AC source, the output of a converter. */
int graph_is_source(const struct graph_node *node);

/* 1 where a node charges: alternator, solar, the DC side of a charger. */
int graph_is_charger(const struct graph_node *node);

#endif

/* ngspice.h - runs a circuit simulator on a netlist and hands out what it prints.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_NGSPICE_H
#define BD_TEST_NGSPICE_H

#include <stdio.h>

struct net;

/* 0 where it is not installed, which is said on stderr in no small letters. */
int has_ngspice(void);

/* Writes the netlist, runs it, calls take with every line of the answer. 0 where it cannot be run. */
int ngspice_run(void (*write)(FILE *out, const struct net *net), const struct net *net,
                void (*take)(void *into, const char *line), void *into);

#endif

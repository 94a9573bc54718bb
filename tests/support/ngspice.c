/* ngspice.c - runs a circuit simulator on a netlist.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/ngspice.h"

#include <stdlib.h>
#include <unistd.h>

int has_ngspice(void)
{
    if (system("command -v ngspice >/dev/null 2>&1") == 0)
        return 1;
    fprintf(stderr,
            "\n*** SKIPPED: ngspice is not installed; the circuit solver was NOT checked against it ***\n\n");
    return 0;
}

int ngspice_run(void (*write)(FILE *out, const struct net *net), const struct net *net,
                void (*take)(void *into, const char *line), void *into)
{
    char path[] = "/tmp/bridgedeck-XXXXXX", command[80], line[400];
    int handle = mkstemp(path);
    FILE *file = handle >= 0 ? fdopen(handle, "w") : NULL;

    if (!file)
        return 0;
    write(file, net);
    fclose(file);
    snprintf(command, sizeof command, "ngspice -b %s 2>/dev/null", path);
    file = popen(command, "r");
    while (file && fgets(line, sizeof line, file))
        take(into, line);
    if (file)
        pclose(file);
    unlink(path);
    return file != NULL;
}

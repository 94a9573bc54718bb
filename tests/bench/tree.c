/* tree.c - profiles of generated boats.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "tree.h"

#include <stdio.h>

static unsigned long next(unsigned long *seed)
{
    *seed = *seed * 6364136223846793005UL + 1442695040888963407UL;
    return *seed >> 33;
}

/* A busbar and three things on it, again and again; nothing ends at a busbar. */
static int is_bar(size_t number, size_t nodes)
{
    return number % 4 == 1 && number + 1 < nodes;
}

/* Things hang on the busbar before them, a busbar on the bank or any busbar before. */
static void write_cable(FILE *out, size_t number, size_t nodes, unsigned long *seed)
{
    size_t bar = number % 4 == 1 ? 4 * (next(seed) % (number / 4 + 1)) : (number - 1) / 4 * 4 + 1;

    if (number % 4 == 1 && bar > 0)
        bar -= 3;
    fprintf(out, "[cable run-%zu]\nfrom = ", number);
    if (bar == 0)
        fprintf(out, "house\n");
    else
        fprintf(out, "bar-%zu\n", bar);
    fprintf(out, "to = %s-%zu\nlength = %.1f m\ninsulation = 105 C\n", is_bar(number, nodes) ? "bar" : "load", number,
            0.5 + (double)(next(seed) % 55) / 10);
}

int tree_write(const char *path, size_t nodes)
{
    FILE *out = fopen(path, "w");
    unsigned long seed = nodes;

    if (!out)
        return 0;
    fprintf(out, "[boat]\nname = Tree\ndc_voltage = 48 V\n[bank house]\nrole = house\nchemistry = lfp\n"
                 "block_capacity = 800 Ah\nblock_voltage = 48 V\n");
    for (size_t i = 1; i < nodes; i++) {
        if (!is_bar(i, nodes))
            fprintf(out, "[load load-%zu]\npower = %.3f W\n", i, 1500.0 / (double)nodes * (0.5 + (double)(next(&seed) % 8)));
        write_cable(out, i, nodes, &seed);
    }
    return fclose(out) == 0;
}

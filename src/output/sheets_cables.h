/* sheets_cables.h - the parts of the sheet of cables, each a schedule that can be shown alone.
 * Layer: output, private to the sheets_cables*.c files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SHEETS_CABLES_H
#define BD_SHEETS_CABLES_H

#include "output/maker.h"

/* One schedule while it is added. */
struct schedule {
    struct sheet_maker *maker;
    const struct circuit *circuit;
    int us;         /* 1: feet and AWG first, where people read */
    int csv;        /* 1: this is the schedule that CSV writes */
    int only_json;  /* 1: people do not get it unless they ask for it */
};

/* The rows for machines: JSON under name; CSV where main and this schedule is the one. */
void schedule_rows(struct schedule *s, const char *name, const struct row_kind *kind, const void *rows,
                   size_t count, int main);

/* The same rows for people: those columns that stand in names, separated by blanks, in that order and in
 * their units, each "name" or "name=Another_heading"; columns without an entry are left out as always. */
void schedule_show(struct schedule *s, const char *title, const struct row_kind *kind, const void *rows,
                   size_t count, const char *names);

/* The same, the column `verdict` coloured by what holds() says of each row. */
void schedule_judge(struct schedule *s, const char *title, const struct row_kind *kind, const void *rows,
                    size_t count, const char *names, const char *verdict, int (*holds)(const void *row));

/* All columns for all formats. */
void schedule_all(struct schedule *s, const char *name, const struct row_kind *kind, const void *rows,
                  size_t count, int main);

void schedule_cables(struct schedule *s); /* sheets_cables_runs.c */
void schedule_fuses(struct schedule *s);
void schedule_circuits(struct schedule *s); /* sheets_cables_places.c */
void schedule_panels(struct schedule *s);
void schedule_tree(struct schedule *s);
void schedule_nodes(struct schedule *s);
void schedule_loads(struct schedule *s);
void schedule_banks(struct schedule *s); /* sheets_cables_sources.c */
void schedule_inverter(struct schedule *s);
void schedule_scenarios(struct schedule *s);
void schedule_sources(struct schedule *s);
void schedule_bill(struct schedule *s); /* sheets_cables_stock.c */
void schedule_labels(struct schedule *s);

#endif

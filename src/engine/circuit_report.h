/* circuit_report.h - what the scenarios found, and the tables made of it.
 * Layer: engine, private to the circuit.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CIRCUIT_REPORT_H
#define BD_CIRCUIT_REPORT_H

#include "engine/circuit_model.h"

/* State of all nodes and edges in one scenario. */
struct snapshot {
    double *volts;       /* per node */
    double *current;     /* per edge, signed from -> to */
    double *conductor_c; /* per edge */
    /* [V] per node: drop from the source by the rule, as measured where it has no formula */
    double *rule_total;
};

/*
 * What the scenarios found together; the makers of tables below read it. Each sets its part of the circuit
 * and returns STATUS_NO_MEMORY or OK. They run in the order of make_tables in circuit.c: later ones read
 * what earlier ones made, and report_inverters comes last, for it leaves the model changed.
 */
struct report {
    struct model *m;
    struct snapshot shown, charging;
    /* over all steady scenarios, whichever is shown */
    double *design_a; /* [A] per edge */
    const char **design_scenario;
    double *load_a;           /* [A] per edge: largest while nothing charges */
    double *most_lost;        /* [V] per node: largest rule_total; while something charges loads lose less */
    const char **most_lost_when;
    int *collapses;           /* per part */
    double *totals;           /* per node, room for one scenario */
    double *fault_a;     /* per node, conductors cold, bank full */
    double *fault_hot_a; /* per node, conductors at their rating, bank as asked */
    const char **limited_by;
};

/* 1 where an edge carries current only while something charges: judged by the charging scenario. */
int report_only_charges(const struct report *report, size_t edge);

/* The snapshot that an edge's figures are shown of: the scenario asked for, or
 * charging for a run that only charges. */
const struct snapshot *report_snapshot(const struct report *report, size_t edge);

/* circuit_schedule.c: what a schedule lists of a cable beside its figures: number, size both ways, how and
 * where it runs. */
void cable_describe(const struct report *report, size_t edge, struct circuit_cable *row);

/* One conductor of a run. */
struct pole {
    const char *sign, *colour;
};

/* The conductors of a run with sign and colour: two of DC, three of AC. *poles is static. */
size_t cable_poles(const struct circuit_cable *cable, const struct pole **poles); /* circuit_schedule.c */

/* "1/0 AWG" where that is what area_m2 [m2] is, to rounding; NULL: no AWG size, or no memory. */
const char *awg_name(struct arena *arena, double area_m2);

/* 1 where a device stands, or has to stand, at its beginning. */
int cable_has_device(const struct circuit_cable *cable);

/* What a draw is called. */
const char *draw_name(const struct report *report, const struct draw *draw); /* circuit_tables.c */

/* circuit_panel.c; after report_fuses */
enum status report_panels(struct circuit *out, const struct report *report);
enum status report_fuses(struct circuit *out, const struct report *report); /* both after report_cables */
enum status report_conventions(struct circuit *out, const struct report *report);
enum status report_cables(struct circuit *out, const struct report *report); /* circuit_verdict.c */
/* Sets area_mm2 and its kin of the rows that fail, and remedy; circuit_again.c. */
enum status report_size_again(struct circuit *out, const struct report *report, struct circuit_cable *rows);
enum status report_nodes(struct circuit *out, const struct report *report);  /* circuit_tables.c */
enum status report_banks(struct circuit *out, const struct report *report);
enum status report_loads(struct circuit *out, const struct report *report);
enum status report_tree(struct circuit *out, const struct report *report); /* circuit_tree.c */
enum status report_path(struct circuit *out, const struct report *report);
enum status report_ground(struct circuit *out, const struct report *report); /* circuit_work.c */
enum status report_inverters(struct circuit *out,
                             const struct report *report); /* circuit_inverter.c; changes m */
enum status report_ac(struct circuit *out, const struct report *report);
enum status report_bill(struct circuit *out, const struct report *report); /* circuit_bill.c */

#endif

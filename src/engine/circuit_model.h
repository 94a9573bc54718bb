/* circuit_model.h - a graph with numbers: wires, draws, scenarios, one network per part.
 * Layer: engine, private.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CIRCUIT_MODEL_H
#define BD_CIRCUIT_MODEL_H

#include "engine/circuit.h"
#include "engine/graph.h"
#include "engine/network.h"

/* One cable as conductors. */
struct wire {
    const struct cable *cable;
    double area_m2, back_area_m2; /* one conductor */
    enum area_series series;
    const char *label; /* of a standard size; NULL: as typed */
    double length_m, back_m, runs, joints_ohm;
    struct wiring_place place;
    double ambient_c;
    double reactance_per_m; /* [ohm/m] of one conductor; DC: 0 */
    double power_factor;    /* [-] of its current at the far end when one last flowed; DC: 1 */
    int fixed;                /* 1: installed */
    int may_grow;             /* 1: installed, but may be replaced by a thicker one where that saves copper */
    struct ampacity ampacity; /* of one conductor of area_m2 */
    double temperature_c;     /* of the conductors, last scenario */
    double plan_a;            /* [A] largest steady current met so far: what a size must carry */
    double fuse_a;            /* [A] given; 0: none */
};

/* What stands behind a load of the network. */
enum draw_kind { DRAW_LOAD, DRAW_INVERTER, DRAW_DCDC, DRAW_CHARGER_INPUT, DRAW_CHARGE, DRAW_SPARED };

/*
 * What stands behind a load of the network. DRAW_SPARED is the part of another draw that shared cables do not
 * carry (circuit_diversity.c): a current given back where the draw's own cables end.
 */
struct draw {
    enum draw_kind kind;
    size_t index;  /* of load, inverter or converter; DRAW_SPARED: of the draw in its part */
    size_t node;   /* of the graph */
    size_t spared; /* its DRAW_SPARED; GRAPH_NONE: its share is taken at its own node */
    double share;  /* [-] that counts on shared cables, last scenario */
    double full;   /* [W], [A] or [ohm] of all of it, last scenario */
};

/* One network: arrays of the net, the runs and draws behind them, and the last solution. */
struct part_net {
    struct net net;
    struct net_run *runs;
    size_t *run_edge; /* per run: edge of the graph; GRAPH_NONE: a link inside a bank */
    struct net_source *sources;
    struct net_load *loads;
    struct draw *draws;
    struct net_plan *plan;
    double *state;
    size_t blocks; /* strings that are told apart; 1: not */
    int solved;
    size_t fails;      /* load that cannot be fed; load_count: none, or all of them together */
    double most_share; /* [-] of its wish that it can have */
};

/* Everything at once; the same with one start; sources alone; what is used on one kind of day. */
enum scenario_kind { SCENARIO_LARGEST, SCENARIO_SURGE, SCENARIO_CHARGING, SCENARIO_DAY };

/* A state of the whole boat to be solved. All but the surge are steady and count for ampacity and drop. */
struct scenario {
    const char *name;
    enum scenario_kind kind;
    size_t day;
    /* the one that starts */
    enum draw_kind starter_kind;
    size_t starter;
    double starter_times; /* [-] of its running power; 0: nothing starts */
};

/* At the temperature of the last round, at 20 C for the largest fault, at the rating for the smallest. */
enum temperature_mode { RUNS_WORKING, RUNS_COLD, RUNS_HOT };

/* Condition of the banks. */
struct bank_state_of {
    double charge; /* [-] */
    int aged;      /* 1: 80 % of the capacity and twice the resistance */
};

/* The load that would ask for most through an edge, were it alone. */
struct alone {
    double amps; /* [A] 0: none that counts by a share */
    const char *load;
};

/* How much may be lost from the source to a node, and why. */
struct node_limit {
    double share; /* [-] of nominal volts; HUGE_VAL: no limit */
    const char *why;
    int critical;
};

/* The graph with numbers. One model is solved for many states, one after the other; what model_scenario
 * found stands in limits, volts, current and alone until the next. */
struct model {
    struct arena *arena;
    const struct boat *boat;
    const struct graph *graph;
    const struct wiring_rules *rules;
    double charge;      /* [-] of the banks */
    struct wire *wires; /* per edge */
    struct part_net *parts;
    size_t *local; /* per graph node: its number in its part's network */
    struct scenario *scenarios;
    size_t scenario_count;
    /* after model_scenario: per node and per edge */
    struct node_limit *limits; /* per node */
    double *volts;
    double *current; /* [A] of a pole, the larger; signed as from -> to */
    struct alone *alone; /* per edge */
};

/* Wires, networks and limits of a graph. STATUS_NO_MEMORY or OK. Unsized wires get the thickest standard
 * size, so that the first solve has a solution where there can be one. charge [-] of the banks. */
enum status model_make(struct model *model, struct arena *arena, const struct graph *graph,
                       const struct wiring_rules *rules, double charge);

/* The set as it is, but choosing among the sizes of another series, AREA_METRIC or AREA_AWG: what the shop
 * has, not what the rules say. Borrows what the set holds; without memory the set itself. */
const struct wiring_rules *rules_in_series(struct arena *arena, const struct wiring_rules *rules,
                                           enum area_series series);

/* Sets a standard size of the rule set's series, and with it what it carries; a return
 * conductor of its own size stays. */
void model_set_size(struct model *model, size_t edge, const struct conductor_size *size);

/* 1 where the wire as it stands fails its planned current, the smallest conductor or every standard fuse;
 * drop is not looked at. After model_size. */
int model_size_fails(const struct model *model, size_t edge);

/* Gives a wire that grew its installed size back. */
void model_installed_size(struct model *model, size_t edge);

/* Takes an installed size away: the wire is to be sized, its fuse to be chosen. */
void model_free_wire(struct model *model, size_t edge);

/* Resistances out and back [ohm] of all runs together at a temperature [C]; joints count to the way out. */
struct wire_ohm {
    double out, back;
};
struct wire_ohm wire_ohm(const struct wire *wire, double temperature);

/* Reactance of the loop [ohm]; DC: 0. */
double wire_reactance(const struct wire *wire);

/* Open-circuit volts and resistance of every bank in that state; AC sources stand at
 * nominal volts, without resistance. */
void model_set_banks(struct model *model, struct bank_state_of how);
/* Resistances and reactances of all wires at the temperatures of that mode. */
void model_set_runs(struct model *model, enum temperature_mode mode);
/* What every draw takes in that scenario, and by which share it counts on shared cables. */
void model_set_draws(struct model *model, const struct scenario *scenario);

/*
 * Draws, conductor temperatures (three rounds) and volts of a scenario; volts and current are set. A part
 * that collapses is left at the most it can carry, solved = 0.
 */
void model_scenario(struct model *model, const struct scenario *scenario);

/* Running draw of a load at nominal volts, all of its count [W]; duty does not thin it: a
 * cable must carry it while it runs. */
double load_watts(const struct load *load);

/* The share of it that counts where everything may run at once [-]. */
double load_diversity(const struct load *load);

/* Adds a load to what several draw by their shares, and to the most that one of them draws alone [W]. */
void add_share(const struct load *load, double *together_w, double *alone_w);

/* The load behind a draw: that of a converter that feeds only one. NULL: none, or several. */
const struct load *draw_load(const struct boat *boat, const struct draw *draw);

/*
 * Loads that count by a share where everything may run at once ([load] diversity). A cable that ends at one
 * draw carries all of it; where the draw's own cables meet others, the rest is given back as a current, so
 * that shared cables carry the share. Without own cables the draw itself is its share.
 */
int model_spare(struct model *model);                      /* adds the DRAW_SPARED; 0 without memory */
void model_share(struct part_net *part, double nominal_v); /* after the draws of a scenario are set */
void model_respare(struct part_net *part);                 /* after a solve: the currents as they came out */
void model_alone(struct model *model);                     /* after the last solve: fills alone */

/* What an edge has to carry in a steady scenario [A]: its current, or one load alone where that asks for
 * more. */
double model_steady_a(const struct model *model, size_t edge);

/* "power", "current", "resistance". */
const char *behaviour_text(enum net_behaviour behaves);

/* Fills the limits of all nodes; 0 without memory. */
int model_limits(struct model *model);

/* The limit in volts, from the source's terminals to the node; HUGE_VAL: none. */
double model_node_limit(const struct model *model, size_t node);

/* 1 where a load is critical by the profile or by the rule set's list. */
int model_load_critical(const struct model *model, const struct load *load);

/*
 * Drop [V] of one cable as the rule set reckons it, joints added; without a formula the physical one, at the
 * temperature that the current makes.
 *
 *   wire     its lengths, runs and place; its own area is not looked at unless the way back has another
 *   current  [A] of a pole, >= 0
 *   area_m2  [m2] of one conductor, which may be another than the wire's
 */
double model_rule_drop(const struct model *model, const struct wire *wire, double current, double area_m2);

/*
 * Chooses sizes for every wire that has none, so that the total of copper is least while every limit
 * holds (cable_size.h); limited_by per edge says what decided. Needs m->scenarios. Solved again with
 * the currents met until none grows.
 */
enum status model_size(struct model *model, const char **limited_by);

#endif

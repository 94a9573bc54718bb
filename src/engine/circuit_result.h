/* circuit_result.h - what the circuit engine finds out: plain structs, owned by the arena of the run.
 * Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_CIRCUIT_RESULT_H
#define BD_CIRCUIT_RESULT_H

#include <stddef.h>

/* What is to be said of a device, as bits; the note says the same with its figures. */
enum fuse_remark {
    FUSE_TOO_SMALL = 1,       /* opens at what it has to carry */
    FUSE_TOO_LARGE = 2,       /* over what the conductor allows */
    FUSE_TOO_FAR = 4,         /* from the source */
    FUSE_TOO_WEAK = 8,        /* cannot break a short there */
    FUSE_LEANS = 16,          /* cannot either, but the device before it can */
    FUSE_BREAKING_UNKNOWN = 32,
    FUSE_FAR_END = 64,        /* a short at the far end opens it late or never */
    FUSE_MISSING = 128,       /* none is said: the one listed is to be fitted */
    FUSE_NONE_FITS = 256,     /* no rating or no family will do */
    FUSE_CHARGING_END = 512,  /* the charging end wants one too */
    FUSE_OVER_VOLTS = 2048,   /* made for fewer volts than the circuit has */
    FUSE_OF_STARTER = 1024,   /* turns a starter: none asked for */
    FUSE_WEAK_UNRULED = 4096  /* cannot break a short there, of which the rule set asks nothing */
};

/* One run of cable, both conductors. Texts never NULL unless said so. */
struct circuit_cable {
    const char *name, *from, *to; /* from is the end nearer to the source */
    int line;
    const char *system; /* dc, ac */
    double nominal_v;   /* [V] of the circuit: what percent is of */
    double current_a;   /* [A] in the shown scenario; of a charging run its charging current */
    double design_a;    /* [A] largest of all steady scenarios: what ampacity and fuse are judged by */
    /* or "LOAD alone", where one load in full asks for more than all by their shares */
    const char *design_scenario;
    double length_m; /* [m] one way */
    double return_m; /* [m] of the way back */
    double area_mm2; /* [mm2] that passes: the installed one where it does, else the smallest standard size */
    double area_runs;          /* [-] conductors of area_mm2 in parallel per pole */
    int area_short;            /* 1: not even these carry the current: no standard size does */
    double area_fuse_min_a, area_fuse_max_a; /* [A] fuses that suit them, where they are not what is there */
    double installed_mm2;      /* [mm2] 0: to be sized */
    const char *size;          /* "35 mm2", "2 AWG": area_mm2 in the series of the rule set or as installed */
    const char *awg;           /* nearest AWG; NULL: none near */
    const char *printed;       /* as typed; NULL: to be sized */
    double runs;               /* [-] conductors in parallel per pole */
    double resistance_mohm;    /* [mohm] whole loop, out and back, joints included, at conductor_c */
    double reactance_mohm;     /* [mohm] AC */
    double conductor_c;        /* [C] in the shown scenario */
    /* [V] current_a through resistance_mohm; AC: volts less at its end, reactance and angle in */
    double drop_v;
    double rule_drop_v;        /* [V] by the formula of the rule set, joints added; negative: it has none */
    double drop_percent;       /* [%] of nominal_v, drop_v */
    double total_drop_percent; /* [%] from the source's terminals to the far end, drop_v */
    double rule_total_drop_percent;      /* [%] the same by the rule's formula; negative: it has none */
    double judged_drop_percent; /* [%] from the source to the far end, the largest of all steady scenarios, by
                                   the rule's formula or, without one, as measured: what the limit judges */
    const char *drop_scenario;           /* which one that is; empty: nothing flows */
    double drop_limit_percent;           /* [%] at the far end; 0: the rule set has none */
    int critical;                        /* 1: a circuit of the strict limit */
    const char *limit_why;               /* "panel feeder", "bilge pump stands in the list", ... */
    double ampacity_a;                   /* [A] of all conductors of a pole, corrections applied */
    double base_ampacity_a;              /* [A] of one conductor from the table */
    double column_c;                     /* [C] column of the table */
    int interpolated;                    /* 1: the table has no such size */
    double engine_factor, bundle_factor; /* [-] */
    double fuse_a;                       /* [A] as installed, or chosen */
    int fuse_installed;                  /* 1: the profile names it */
    int fuse_needed;                     /* 1: this run begins at a source or is thinner than what feeds it */
    double fuse_min_a, fuse_max_a;       /* [A] what would do; max 0: nothing */
    const char *fuse_class;              /* installed or chosen; NULL: none */
    double fuse_interrupt_a;             /* [A] of that device at nominal_v; 0: not known */
    double fuse_distance_m;              /* [m] as installed; 0: not said */
    double fuse_distance_limit_m;        /* [m] allowed; negative: the set says nothing */
    int fuse_ok;            /* 1: rating, interrupt rating, distance and far-end fault all pass */
    const char *fuse_note;  /* what is wrong with it; empty: nothing */
    unsigned fuse_remarks;  /* bits of enum fuse_remark */
    double fault_a;         /* [A] short circuit at the end nearer to the source, conductors at 20 C */
    double fault_far_a;     /* [A] at the far end, conductors at their rated temperature */
    double withstand_s;     /* [s] that the conductor bears fault_a */
    double i2t_a2s;         /* [A2 s] that it bears */
    double copper_kg;       /* both ways, all runs */
    double protective_mm2;  /* [mm2] AC protective conductor; 0: DC */
    const char *status;     /* ok, sized, or what fails first */
    const char *limited_by; /* of a sized cable: drop, current, smallest conductor, fuse; empty: installed */
    int passes;             /* 1: every check */
    int drop_ok, ampacity_ok, smallest_ok;
    double used_percent;            /* [%] of the ampacity that design_a takes; 0: no table has it */
    double ampacity_margin_percent; /* [%] spare of the ampacity over design_a */
    double drop_margin_percent;     /* [%] points of judged_drop_percent spare of the limit; HUGE_VAL: none */
    /* as a schedule lists it; number NULL: a run without a boat, of which the rest is not filled in */
    const char *number;                  /* "C3": its place in the profile */
    const char *size_metric, *size_us;   /* "2 x 95 mm2 (3/0 AWG)", "2 x 3/0 AWG (95 mm2)" */
    const char *length_known;            /* given, guess */
    double length_low_m, length_high_m;  /* [m] of a guess; 0: one number was given */
    double insulation_c;                 /* [C] rating */
    const char *place;                   /* cabin, engine */
    double bundle;                       /* [-] current-carrying conductors run together */
    int sheathed;
    double joints_mohm;                  /* [mohm] */
    const char *colours;                 /* "red, black" */
    double lugs;                         /* [-] both ends of all conductors; 0: too thin for lugs */
};

/* A fuse or breaker, at the beginning of the cable that it protects. */
struct circuit_fuse {
    const char *number; /* "F3": that of its cable */
    const char *cable_number, *cable;
    const char *location;   /* node where it stands */
    const char *class_name; /* NULL: not said, or none found */
    const char *device;     /* "250 A open-strip" */
    const char *fitted;     /* as built, proposed */
    double rating_a;
    double design_a;                     /* [A] it has to carry */
    double least_a, most_a;              /* [A] ratings that would do; both 0: none */
    double nominal_v, rated_v;           /* [V] of the circuit; the family's, DC; 0: not known */
    /* [A] interrupt rating at nominal_v, 0: not known; short circuit there */
    double breaking_a, fault_a;
    double distance_m, distance_limit_m; /* [m] from the source, 0: not said; allowed, negative: no limit */
    int sheathed;                        /* 1: the conductor from the source to it is */
    int right;
    const char *remark; /* in few words, which the remarks explain; empty: none */
    const char *note;   /* the same with its figures */
    double spare;       /* [-] to carry aboard */
};

struct circuit_remark {
    const char *remark, *meaning;
};

/* One circuit: a load, inverter or converter, or a source that charges. */
struct circuit_service {
    double number; /* from 1 */
    const char *name;
    const char *category; /* vital, strict limit, motor, with commas between; source; other */
    const char *system;   /* dc, ac */
    const char *supply;   /* busbar or panel it leaves from */
    const char *cables;   /* numbers of the cables between its source and it: "C1, C3" */
    const char *isolator; /* before or after the isolator; NULL: the profile does not say */
    double nominal_v;
    /* at nominal_v, running, and while it starts; of a source what it brings */
    double power_w, nominal_a, peak_a;
    /* [A] in full, where it runs in the shown scenario; of a source while charging */
    double current_a;
    double duty_percent;
    double breaker_a;         /* 0: none */
    const char *breaker_from; /* given, proposed, or why there is none */
    const char *remark;       /* of the breaker; empty: none */
    double volts_v, drop_percent;
};

/* A way of a panel: a cable, or a circuit that hangs on the panel without one. */
struct circuit_way {
    const char *panel;
    double number; /* from 1 */
    const char *legend;
    const char *flow; /* out; in: it charges */
    double breaker_a;
    const char *breaker_from;
    const char *remark;    /* of the breaker; empty: none */
    const char *served_by; /* "C4", "circuit 12" */
    double expected_a;     /* [A] in the shown scenario; a circuit's own in full */
    double poles;          /* [-] fused or switched; 0: not known */
};

/* A node that several things leave from. */
struct circuit_panel {
    const char *name, *system;
    const char *feeder; /* number of the cable that feeds it; empty: it is a source itself */
    double feeder_fuse_a, feeder_ampacity_a; /* 0: none */
    double connected_a;   /* [A] of all beyond it at nominal volts */
    double diversified_a; /* [A] the same, each by the share that counts */
    double charging_a;    /* [A] of all sources beyond it */
    double expected_a;    /* [A] in the feeder in the shown scenario */
    double volts_v;
    const struct circuit_way *ways;
    size_t way_count;
};

/* A place where cables meet, in the shown scenario. */
struct circuit_node {
    const char *name;
    const char *kind; /* bank, load, inverter, node, ... */
    const char *system;
    double volts_v;      /* [V] shown scenario */
    double drop_percent; /* [%] from the source's terminals */
    double fault_a;      /* [A] short circuit there, conductors at 20 C */
};

/* A bank as the network sees it, and as its label and its owner describe it. */
struct circuit_bank {
    const char *name;
    double charge_percent; /* [%] the volts are for */
    double open_circuit_v;
    double resistance_mohm;   /* [mohm] at the posts, links included */
    double volts_v;           /* [V] at the posts, shown scenario */
    double current_a;         /* [A] giving positive, shown scenario */
    double fault_a;           /* [A] at the posts */
    double interrupt_asked_a; /* [A] by the rule set's table of cranking amps; 0: none */
    const char *wiring;       /* busbars, same end, diagonal */
    /* as its label and its owner describe it */
    const char *chemistry;
    double block_ah, block_hours, block_v; /* [Ah] of one unit at so many hours, [V] */
    double series, parallel;
    double capacity_ah;                  /* [Ah] of the bank by its labels */
    double health_percent;
    double max_charge_a, max_discharge_a; /* [A] of the bank; 0: not limited */
    const char *limits_from;             /* given, or by chemistry */
    double link_mohm;                    /* [mohm] between neighbouring strings; 0: not said */
    double mass_kg;                      /* of the bank; 0: not given */
};

/* One string of a bank whose strings share unequally. */
struct circuit_block {
    const char *bank;
    double number;        /* string, from 1 */
    double current_a;     /* [A] */
    double share_percent; /* [%] */
};

/* Whatever draws: a load, an inverter, a converter, a charger's AC side. */
struct circuit_load {
    const char *name, *node;
    const char *behaves; /* power, current, resistance */
    const char *system;
    double diversity_percent; /* [%] of its draw that shared cables carry when all runs at once */
    /* [W] drawn in the shown scenario: in full at the end of its own cable, else the share */
    double power_w;
    double current_a;    /* [A] */
    double volts_v;      /* [V] */
    double drop_percent; /* [%] from the source's terminals */
    int critical;
};

/* One condition of the bank at which an inverter was tried. */
struct circuit_inverter {
    const char *name;
    double charge_percent;
    const char *bank_age; /* new, aged */
    const char *draw;     /* continuous, surge */
    double ac_w;          /* [W] asked for */
    double dc_w;          /* [W] drawn from the bank side */
    double volts_v;       /* [V] at its terminals; 0: the volts collapse */
    double current_a;
    double cut_out_v;
    double margin_v; /* [V] over the cut-out; negative: it trips */
    double most_w;   /* [W] AC output at which the terminals come down to the cut-out */
    int holds;       /* 1: it stays on */
};

/* One scenario as a whole: what the banks give, where the volts are lowest, and whether they stand. */
struct circuit_scenario {
    const char *name;
    int solved;              /* 0: the volts collapse */
    double bank_a;           /* [A] from all banks */
    double lowest_v;         /* [V] at a DC load, of its nominal share the lowest */
    const char *lowest_node; /* NULL: no load */
    const char *collapse;    /* the load that cannot be fed; NULL: none */
    double wanted_w, most_w; /* [W] of it; with everything else as asked */
};

/* An AC source and what it is asked to carry. */
struct circuit_ac_source {
    const char *name;
    const char *kind;       /* shore, generator, inverter */
    double limit_w, load_w; /* [W] */
    int carries;            /* 1: load within limit */
    const char *neutral;    /* where neutral and earth are joined when this source feeds */
    const char *rcd;        /* residual-current device asked for */
};

/* A line of the bill of materials. */
struct circuit_item {
    const char *what; /* "cable 35 mm2 red" */
    const char *kind; /* cable, lug, heat-shrink, fuse, breaker, holder, busbar, panel */
    const char *size, *colour;
    const char *state;        /* as built; proposed: sized, or in place of what does not pass */
    double quantity;          /* [m] or pieces, allowance and spares in */
    const char *unit;         /* m, pcs */
    double allowance_percent; /* [%] of a length over the measured run */
    double spare;             /* [-] pieces of quantity that are spares */
    const char *stud;         /* of a lug; NULL: no lug */
    double copper_kg;
    double price; /* in the user's money; 0: not given */
};

/* A label to print and put round a conductor at one end. */
struct circuit_label {
    const char *text1, *text2;
    const char *size, *colour;
    double quantity;
    const char *cable; /* number */
    const char *end;   /* node at which it goes on */
    const char *from, *to;
    double fuse_a; /* of the conductor; 0: none */
};

/* Sizes for one length, one per current of CABLE_TABLE_A; "" where no size will do. */
enum { CABLE_TABLE_CURRENTS = 13 };
struct cable_table_row {
    double length_m;    /* [m] one way */
    const char *length; /* as said: "10 ft" */
    const char *series; /* of the sizes: "mm2", "AWG" */
    double drop_limit;  /* [-] of volts_v */
    double volts_v;
    const char *size[CABLE_TABLE_CURRENTS];
};

struct working;

/* One run without a boat around it. */
struct cable_answer {
    struct circuit_cable cable; /* faults and nodes unknown: 0 */
    const char *rules, *rules_title, *edition, *rules_scope;
    const char *size;           /* for people, in both series: "8 AWG (8.37 mm2)" */
    const char *length;         /* for people: "6 m", "20 ft (6.10 m)" */
    const char *protective;     /* for people, a standard size; NULL: DC */
    double volts_v, power_w;    /* [V] at the source, nominal; [W] drawn at the load */
    double load_v;              /* [V] at the load, solved; 0: the volts collapse */
    double power_factor;        /* [-] AC; 0: DC */
    const char *residual_current_device; /* NULL: DC */
    const char *finding;
    const char *caution;        /* NULL: none; SAE sizes and the like */
    const struct cable_table_row *table; /* NULL: not asked for */
    size_t table_count;
    const char *table_title;    /* series, limit and volts of the table; NULL: not asked for */
    const struct working *working;
    /* by every shipped rule set, this one the first of them; NULL: one was asked for */
    const struct cable_answer *sets;
    size_t set_count;
};

struct circuit_path_step {
    const char *name; /* of the cable */
    const char *node; /* at its far end */
    double volts_v;   /* [V] there */
    double loss_v;    /* [V] in it */
    double limit_v;   /* [V] the least allowed at that node; 0: none */
};

/* A node in the tree of its source, drawn with its twigs; sources stand at the margin. */
struct circuit_branch {
    const char *twig;   /* "├─ panel" */
    const char *name;   /* of the node */
    double depth;       /* [-] cables between it and its source */
    const char *cable;  /* that leads to it; empty at a source */
    double current_a;   /* [A] in that cable; at a source: all it gives */
    double volts_v;
    double drop_percent; /* [%] from the source */
};

struct circuit_ground;

struct circuit {
    const char *boat;
    const char *rules, *rules_title, *edition, *rules_scope;
    const char *scenario; /* the shown one */
    double nominal_v;
    const struct circuit_cable *cables;
    size_t cable_count;
    const struct circuit_node *nodes;
    size_t node_count;
    const struct circuit_bank *banks;
    size_t bank_count;
    const struct circuit_block *blocks;
    size_t block_count;
    const struct circuit_load *loads;
    size_t load_count;
    const struct circuit_inverter *inverters;
    size_t inverter_count;
    const struct circuit_scenario *scenarios;
    size_t scenario_count;
    const struct circuit_ac_source *ac_sources;
    size_t ac_source_count;
    const struct circuit_fuse *fuses;
    size_t fuse_count;
    const struct circuit_remark *remarks; /* those that the fuses make, explained */
    size_t remark_count;
    const struct circuit_service *services;
    size_t service_count;
    const struct circuit_panel *panels;
    size_t panel_count;
    const struct circuit_way *ways; /* of all panels, one after the other */
    size_t way_count;
    const char *without_device; /* cables that need none, by number; empty: none */
    const struct circuit_item *items;
    size_t item_count;
    const struct circuit_label *labels;
    size_t label_count;
    const struct circuit_branch *tree; /* loops cut where the two ways meet */
    size_t tree_count;
    const struct circuit_path_step *path; /* from the bank to the load that loses most of its limit */
    size_t path_count;
    const char *path_load;
    const char *path_source; /* where it starts: a bank, or an AC source */
    double path_source_v;    /* [V] there */
    int us_sizes;                /* 1: sizes are chosen from AWG */
    double coolest_c, hottest_c; /* [C] conductors in the scenario shown */
    const char *unwired;         /* names of the loads that no cable reaches; empty: none */
    const char *state;           /* as built, proposed, or which is which */
    double copper_kg;
    double unwired_loads; /* [-] loads of the profile that no cable reaches */
    int passes;           /* 1: every cable, fuse and inverter */
    const char *finding;  /* one line */
    const char *remedy;   /* sizes that would do together, by cable number; NULL: none fails */
    const struct circuit_ground *ground; /* what the working is made from (circuit_work.h) */
};

#endif

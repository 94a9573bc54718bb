/* sim.h - the simulation of a plan, step by step.  Layer: engine, internal.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Order within a step:
 *   1 the AC panel gets exactly one source: shore, else generator, else inverter, else none;
 *   2 shore and generator carry AC loads first (vital, normal, shed), the charger takes what is left;
 *   3 links between banks move what their giving bus has to spare;
 *   4 on each bus solar serves first, then alternators, then chargers, then the bank; what sources have left
 *     charges the bank as far as it accepts, and solar that finds no home is spilled;
 *   5 what the bank cannot give is taken from loads: shed first, vital last.
 */
#ifndef BD_SIM_H
#define BD_SIM_H

#include <stddef.h>

#include "engine/result.h"
#include "engine/timeline.h"
#include "parts/bank.h"
#include "parts/machine.h"

struct arena;

/* fmin and fmax are calls that also order NaN; the inner loop has none. */
static inline double lesser(double a, double b)
{
    return a < b ? a : b;
}
static inline double larger(double a, double b)
{
    return a > b ? a : b;
}

enum { EVENT_KINDS = EVENT_NO_AC + 1 };

/* Variations on the boat as it stands, for sizing; all 1 and 0 for the boat itself. */
struct sim_options {
    double step_s;        /* [s] must divide a day */
    long days;            /* days to simulate; beyond the plan it repeats */
    double start_charge;  /* [-] */
    double bank_scale;    /* [-] house bank capacity and current limits */
    double solar_scale, charger_scale, alternator_scale; /* [-] */
    int no_sources;       /* 1: nothing charges (autonomy) */
    /* bits 1 << enum week_event_kind: end with the first step in which such a thing is so */
    unsigned stop_on;
    struct timelines *timelines; /* days to share with other runs of the same boat and step; NULL: its own */
    double row_s;         /* [s] between kept rows; negative: none */
    int keep_events;      /* 1 */
};

/* One kind of event while it lasts. */
struct open_event {
    double start_s, end_s, worst_w, limit_w, wh, worst_s;
};

/* Sources of one bus, in the order they serve. A link comes first: its energy has already left the other
 * bus. */
enum bus_source { FROM_LINK, FROM_SOLAR, FROM_ALTERNATOR, FROM_CHARGER, BUS_SOURCES };

struct bus {
    const struct bank *bank;
    const struct bank_model *model;
    /* of the step being run */
    double offer_w[BUS_SOURCES]; /* [W] */
    double left_w[BUS_SOURCES];  /* [W] of it not used */
    double wanted_w;             /* [W] all loads want: DC, and of the inverter its output */
    double need_w;               /* [W] the same with the inverter's input, as far as it runs */
    double link_out_w, link_loss_w; /* [W] */
    double intake_v;             /* [V] set volts that intake is for; 0: not worked out */
    struct bank_intake intake;
    /* of the run */
    struct bank_state state;
    double charge;             /* [-] at the end of the last step in which it did not rest */
    double volts_v, current_a; /* at the end of the last step; current charging positive */
    double charger_used_w;     /* [W] taken from chargers in the last step */
    double alternator_v;  /* [V] highest regulator setting on this bus; 0: the bank's own set volts */
    double temperature_c; /* [C] the model was made for */
    double start_stored_wh, start_charge, min_charge, min_time_s;
    double charge_ah, discharge_ah;
    double terminal_wh; /* [Wh] through the posts, charging positive */
    long rested;        /* steps in a row in which nothing was on it, yet to be put to state */
};

/* A converter or relay between two banks. */
struct link {
    struct bus *from, *to;
    int relay;
    double current_a; /* [A] output; infinite: no limit */
    double idle_w, efficiency;
};

enum ac_source { AC_NONE, AC_INVERTER, AC_GENERATOR, AC_SHORE };

/* The AC panel during one step. */
struct ac_now {
    enum ac_source source;
    int inverting;    /* 1: the inverter is on, its idle draw counts */
    double want_w;    /* [W] wanted from the inverter (or from nothing) */
    double give_w;    /* [W] of it still to be given after overload and lock-out */
    double carried_w; /* [W] by shore or generator */
};

/* All inverters of a boat feed one panel: they count as one of their summed rating. */
struct inverters {
    struct inverter_model model; /* power_w 0: there is none */
    double va;        /* [VA] */
    double cut_out_v; /* [V] the highest of them */
};
struct inverters inverters_joined(const struct boat *boat);

struct totals {
    double solar_wh, spilled_wh, alternator_wh, charger_wh, load_wh, unserved_wh, mains_wh, inverter_loss_wh;
    double unserved_priority_wh[LOAD_PRIORITIES];
    double generator_h, generator_fuel_l, generator_wh, engine_h, alternator_fuel_l, shore_h, below_floor_h;
    size_t generator_starts;
    double mains_missed_wh; /* mains-only loads that found neither shore nor generator */
};

struct sim {
    const struct boat *boat;
    struct sim_options options;
    struct arena *arena;
    struct timelines *timelines;
    const struct timeline *today;
    size_t steps; /* in a day */
    int stopped;  /* 1: by an event of stop_on */
    struct bus *buses; /* one per bank, boat order */
    struct link *links;
    size_t link_count;
    size_t house;      /* index of the house bank */
    struct inverters inverters;
    double lockout_s;  /* inverter stays off until then */
    int shedding;      /* low-priority loads are off */
    int generator_on;
    double step_h;
    double running_s; /* [s] start of the step being run */
    const struct day_kind *kind; /* of the day being run */
    struct ac_now ac;
    struct totals total;
    struct totals at_midnight; /* total when the day began */
    struct open_event open[EVENT_KINDS]; /* end_s < start_s: not open */
    size_t event_steps[EVENT_KINDS]; /* steps in which it was so */
    int out_of_memory;
    struct week_event *events;
    size_t event_count, event_room;
    struct week_row *rows;
    size_t row_count, row_room, row_steps;
    struct day_mark *days;
    size_t day_count;
    double min_charge, min_time_s, max_charge, min_v, min_v_s, largest_load_w, largest_load_s,
        largest_charge_a, largest_discharge_a, recharge_from_s, recharged_s;
    double largest_ac_w;    /* [W] wanted from the inverter at once */
    double floor_reached_s; /* [s]; negative: never */
};

/* 0, or -1 without memory. The boat must have a house bank and at least one day in its plan. */
int sim_new(struct sim *sim, struct arena *arena, const struct boat *boat, const struct sim_options *options);

/* Runs the whole plan; 0, or -1 without memory for rows or events. */
int sim_run(struct sim *sim);

/* Options for the boat as it stands. */
struct sim_options sim_plain(const struct boat *boat);

/* 1 when nothing went wrong: floor kept, nothing unserved, no overload. */
int sim_passes(const struct sim *sim);

#endif

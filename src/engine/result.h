/* result.h - what the engine finds out: plain structs, owned by the arena of the run.  Layer: engine.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every figure that any output shows is a field here; outputs format, they never compute.
 */
#ifndef BD_RESULT_H
#define BD_RESULT_H

#include <stddef.h>

#include "boat/boat.h"
#include "engine/circuit_result.h"
#include "engine/compare_result.h"
#include "engine/expect_result.h"

/* One line of a shown calculation, for --working. */
struct work_line {
    const char *topic;   /* "bank" */
    const char *figure;  /* "days of autonomy" */
    const char *formula; /* "load x days / usable share"; NULL for a plain input */
    const char *numbers; /* the same with the numbers in; NULL for a plain input */
    double value;
    const char *unit;
    const char *source; /* "given", "default: ...", or where the formula comes from */
};

struct working {
    const struct work_line *lines;
    size_t count;
};

/* ---- balance: one day of each kind ---- */

/* A load or a source on one kind of day. */
struct balance_item {
    const char *name;
    double wh; /* [Wh] a day at the DC bus (sources: into it); mains loads: at the AC panel */
    double ah; /* [Ah] the same at bank volts */
    double low_wh, high_wh;  /* [Wh] from the ranges of the inputs */
    double night_wh;         /* [Wh] of it between sunset and sunrise */
    double running_w;        /* [W] while it runs, all of its count */
    double hours;            /* [h] it runs a day, duty counted */
    const char *supply;      /* dc, ac, mains; sources: solar, alternator, charger */
    const char *number_from; /* given, guessed (a range), default, converted, computed */
};

/* One kind of day, 00:00 to 24:00, on the date of its first day in the plan. */
struct balance_day {
    const char *kind;
    size_t days_in_plan; /* how many days of the plan are of this kind */
    const struct balance_item *loads;
    size_t load_count;
    const struct balance_item *sources; /* what they could give that day, bank willing */
    size_t source_count;
    double load_wh;   /* [Wh] at the DC bus, inverter and converter losses included, mains loads not */
    double load_low_wh, load_high_wh;
    double load_ah;
    double night_wh;  /* [Wh] of it between sunset and sunrise */
    double source_wh; /* [Wh] */
    double net_wh;    /* [Wh] source - load */
    double net_ah;
    double inverter_loss_wh; /* [Wh] within load_wh */
    double mains_wh;  /* [Wh] carried by shore or generator, at the AC panel */
    double engine_h, shore_h, generator_h; /* [h]; an automatic generator counts 0 here */
    double sunrise_h, sunset_h; /* [h] local, of the first such day; negative: the sun does not rise or set */
    double irradiation_kwh;     /* [kWh/m2] horizontal, that day */
};

/* The daily account: engine.h, balance_run. */
struct balance {
    const char *boat, *place;
    double bank_v; /* [V] used for Ah */
    const struct balance_day *days;
    size_t day_count;
    double week_load_wh, week_source_wh, week_net_wh; /* over the plan's days */
    struct working working;
};

/* ---- week: the simulated plan ---- */

/* One kept step; the fields are the columns of the CSV, in that order. Powers are means over the step. */
struct week_row {
    double time_s;  /* [s] after local midnight of the first day, start of the step */
    double charge;  /* [-] of the house bank at the end of the step */
    double bank_v;  /* [V] */
    double bank_a;  /* [A] charging positive */
    double load_w;  /* [W] at the DC bus, wanted: DC loads, inverter output and converter losses */
    double inverter_w; /* [W] AC output of the inverters */
    double solar_w, solar_spilled_w, alternator_w, charger_w; /* [W] at the DC bus */
    double unserved_w; /* [W] of load_w */
    int generator_on, engine_on;
};

enum week_event_kind {
    EVENT_UNSERVED,       /* a load was not fed */
    EVENT_SHED,           /* low-priority loads were put off at the floor, as asked */
    EVENT_SHORE_OVERLOAD, /* AC wanted more than the lead carries */
    EVENT_GENERATOR_OVERLOAD,
    EVENT_INVERTER_OVERLOAD,
    EVENT_CUT_OUT,        /* bank volts under the inverter's cut-out */
    EVENT_FLOOR,          /* charge went below the floor */
    EVENT_NO_AC,          /* AC loads wanted with no source */
};

/* A stretch of time in which one such thing was so. */
struct week_event {
    enum week_event_kind kind;
    double start_s, end_s; /* [s] after local midnight of the first day */
    double worst_w;        /* [W] largest excess or shortage; 0 where not a power */
    double limit_w;        /* [W] what there was; 0 where not a power */
    double wh;             /* [Wh] over the stretch */
    double worst_s;        /* [s] when it was worst */
    const char *who;       /* names of the loads on at the worst minute, largest first */
};

/* What the plan did to one bank. */
struct bank_outcome {
    const char *name;
    double start_charge, end_charge, min_charge; /* [-] */
    double min_time_s; /* [s] */
    double charge_ah, discharge_ah; /* [Ah] through its terminals */
    double full_cycles; /* [-] discharge over usable-rate capacity */
};

/* Figures of the whole plan. The account closes: solar + alternator + charger = (load - unserved) + inverter
 * loss + stored change + battery loss, but for energy_error_wh. */
struct week_summary {
    double min_charge;   /* [-] house bank */
    double min_time_s;   /* [s] after local midnight of the first day */
    double end_charge;
    double max_charge;
    double floor;        /* [-] */
    double ceiling;      /* [-] charge the bank is not taken above; 0: none */
    double below_floor_h;
    double min_bank_v, min_bank_v_time_s;
    double unserved_wh;  /* [Wh] energy wanted and not delivered, shed included */
    double unserved_by_priority_wh[LOAD_PRIORITIES];
    /* [Wh] of mains-only loads that found neither shore nor generator; not part of unserved_wh */
    double mains_missed_wh;
    double solar_wh, solar_spilled_wh, alternator_wh, charger_wh;
    double load_wh;      /* [Wh] at the DC bus, wanted; see week_row.load_w */
    double mains_wh;     /* [Wh] AC loads that shore or generator carried */
    double battery_loss_wh, inverter_loss_wh, stored_change_wh;
    double generator_h, generator_fuel_l, generator_starts;
    double engine_h, alternator_fuel_l;
    double shore_h;
    double energy_error_wh; /* [Wh] what is left of the account; rounding only */
    /* [h] from full to floor with the plan's loads and no source at all; 0 < capped at 60 days */
    double autonomy_h;
    /* [h] from the lowest point until the bank was next at 95 % of its ceiling; negative: not in the plan */
    double recharge_h;
    double largest_load_w, largest_load_time_s; /* [W] DC bus, largest step of the plan */
    double connected_load_w; /* [W] everything that may run at once */
    double largest_charge_a, largest_discharge_a; /* [A] house bank */
    int passes; /* 1: never below the floor, nothing unserved, no overload */
};

/* One day of the plan. */
struct day_mark {
    const struct day_kind *kind;
    int year, month, day, weekday; /* weekday 0 = Monday */
    double sunrise_s, sunset_s;    /* [s] after local midnight of the first day; equal: polar night;
                                      sunset - sunrise >= 86400: midnight sun */
    double load_wh, solar_wh, solar_spilled_wh, alternator_wh, charger_wh; /* that day, at the DC bus */
    double min_charge, end_charge; /* [-] */
};

/* The simulated plan: engine.h, week_run. */
struct week {
    const char *boat, *place, *bank; /* bank: "400 Ah 12 V agm" */
    double step_s;
    double row_step_s; /* [s] time between kept rows */
    int has_generator, has_charger, has_alternator, has_solar;
    struct week_summary summary;
    const struct week_row *rows;
    size_t row_count;
    const struct day_mark *days;
    size_t day_count;
    const struct week_event *events;
    size_t event_count;
    const struct bank_outcome *banks;
    size_t bank_count;
    const char *finding; /* one line: "Lowest charge 46 % on Thursday 06:40" */
};

/* ---- size ---- */

/* House bank. Capacities are at 20 h, new, as labels give them. */
struct bank_size {
    double needed_ah;    /* [Ah] at 20 h, the larger of the two answers */
    double handbook_ah;
    double simulated_ah; /* [Ah] negative: no bank passes */
    const char *simulation; /* what the simulation says: "smallest that passes", "no size passes" */
    double generator_h_week; /* [h] that the generator then runs a week; 0: it does not, or nothing passes */
    const char *limited_by; /* autonomy, daily depth, charge rate, discharge rate, simulated week */
    double installed_ah;
    double block_ah;     /* [Ah] of one parallel string */
    double blocks;       /* [-] whole blocks, series x parallel */
    double series, parallel;
    double mass_kg;      /* [kg]; 0 where no block mass is given */
    double usable_wh;    /* [Wh] of the rounded bank between ceiling and floor */
};

/* All arrays together, scaled as one. */
struct solar_size {
    double needed_w, handbook_w; /* [W] standard conditions */
    double simulated_w; /* [W] 0: the plan passes with none; negative: no array passes */
    const char *simulation;
    double generator_h_week; /* as of the bank */
    double installed_w;
    double panel_w, panels;
    double sun_hours; /* [h/day] on the array, of the plan's mean day */
    const char *limited_by;
};

/* One alternator at the fastest speed the plan runs its engine at. */
struct alternator_size {
    const char *name;
    double rated_a, hot_a;   /* [A] at the plan's speed, hot */
    double delivered_a;      /* [A] mean while its engine ran */
    double accepted_a;       /* [A] what the bank takes in bulk */
    double needed_a;         /* [A] label current that would cover the plan's deficit in its engine hours */
    int over_accepts;        /* 1: the bank asks for more than the machine can give hot: it needs a limit */
};

/* All chargers together. */
struct charger_size {
    double needed_a, handbook_a;
    double simulated_a; /* [A] 0: the plan passes with none; negative: no charger passes, or there is none */
    const char *simulation;
    double generator_h_week; /* as of the bank */
    double installed_a;
    double low_a, high_a;    /* [A] usual band for the chemistry */
    const char *limited_by;
};

/* All inverters together: they feed one panel. */
struct inverter_size {
    double continuous_w;  /* [W] AC needed with the usual reserve */
    double surge_w;       /* [W] */
    double running_w;     /* [W] largest AC total at once in the plan */
    double connected_w;   /* [W] all AC loads together */
    double dc_current_a;  /* [A] at continuous_w and the cut-out volts */
    double installed_w, installed_surge_w;
    const char *limited_by;
};

/* The first generator: the others are not simulated. */
struct generator_size {
    double hours_per_week;   /* [h] simulated */
    double deficit_hours;    /* [h/week] handbook: deficit / (charger power x efficiency) */
    double needed_w;         /* [W]; 0 on a boat without one */
    double would_need_w;     /* [W] what one would have to give; 0 on a boat that has one */
    double fuel_l_per_week;
    double mean_load;        /* [-] share of rating while running */
    double installed_w;
};

/* Two answers side by side, a sum and a simulation: engine.h, size_run. */
struct size {
    const char *boat, *place;
    struct bank_size bank;
    struct solar_size solar;
    const struct alternator_size *alternators;
    size_t alternator_count;
    struct charger_size charger;
    struct inverter_size inverter;
    struct generator_size generator;
    double autonomy_days; /* [d] the handbook sum was made for */
    const char *difference; /* one line: why handbook and simulation differ */
    int installed_passes;   /* 1: the bank and sources as installed pass the simulated week */
    struct working working;
};

/* ---- sun: one day ---- */

/* One moment of a day. */
struct sun_row {
    double time_s;        /* [s] after local midnight */
    double elevation_deg; /* apparent */
    double azimuth_deg;   /* from true north, clockwise */
    double clear_sky_w_m2;
    double horizontal_w_m2; /* of the mean day */
    double diffuse_w_m2;
    double cell_c;        /* first array */
    double panel_w;       /* [W] all arrays, at the DC bus, bank willing */
};

/* One day of sun: engine.h, sun_run. */
struct sun_day {
    const char *boat, *place;
    const char *kind; /* day kind of the plan on that date; NULL outside the plan */
    int year, month, day;
    double latitude_deg, longitude_deg, utc_offset_h;
    const struct sun_row *hours; /* 24 rows, one per hour, on the hour */
    size_t hour_count;
    const struct sun_row *fine;  /* every ten minutes, for the plot */
    size_t fine_count;
    /* [s] after local midnight; negative sunrise: the sun stays on one side of the horizon */
    double sunrise_s, sunset_s, noon_s;
    int polar; /* 0; 1: sun all day; -1: no sun */
    double day_length_h;
    double clearness;
    double irradiation_kwh_m2; /* of the mean day */
    double clear_sky_kwh_m2;
    double panel_wh, panel_rated_w;
};

#endif

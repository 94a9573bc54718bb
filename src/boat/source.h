/* source.h - everything that makes or converts electricity on board.  Layer: boat.  Plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SOURCE_H
#define BD_SOURCE_H

#include "base/range.h"

struct bank;

/* mppt finds the panels' best volts; pwm joins them to the bank. */
enum solar_controller { CONTROLLER_MPPT, CONTROLLER_PWM };

/* Equal panels on one controller. */
struct solar {
    const char *name;
    int line;
    struct range power; /* [W] of one panel at standard test conditions */
    struct range count; /* [-] whole panels */
    struct range tilt;  /* [deg] from horizontal */
    struct range azimuth; /* [deg] clockwise from the bow, where !any_heading */
    struct range
        heading; /* [deg] true course of the bow; unknown with a fixed azimuth: the boat points north */
    int any_heading;      /* 1: the boat swings through every heading */
    struct range shading; /* [-] lost always, on top of the day kind's */
    enum solar_controller controller;
    struct range controller_current;    /* [A] output limit; unknown: none */
    struct range controller_efficiency; /* [-] */
    struct range voltage_at_power; /* [V] of one panel at maximum power, standard conditions; for pwm */
    struct range temperature_coefficient; /* [1/K] of power, negative */
    struct range nominal_cell_temperature; /* [C] NOCT */
    struct range price, mass; /* per panel */
    const struct bank *bank;  /* never NULL after linking */
};

/* Which hull it stands in. No calculation asks. */
enum engine_side { SIDE_NONE, SIDE_PORT, SIDE_STARBOARD };

struct engine {
    const char *name;
    int line;
    enum engine_side side;
    struct range power;       /* [W] shaft */
    struct range idle_speed;  /* [rpm] */
    struct range speed_limit; /* [rpm] */
};

/* A claw-pole machine on one engine, with its regulator. */
struct alternator {
    const char *name;
    int line;
    const struct engine *engine;
    struct range rated_current;     /* [A] cold, as on the label */
    struct range pulley_ratio;      /* [-] alternator turns per engine turn */
    struct range regulated_voltage; /* [V]; unknown: the bank's absorption voltage */
    struct range current_limit;     /* [A] regulator or belt; unknown: none */
    struct range hot_factor;        /* [-] hot output as a share of cold */
    struct range ambient; /* [C] air it breathes; used for a further derating above 25 C where given */
    struct range efficiency;        /* [-] shaft to terminals */
    const struct bank *bank;
};

/* The shore lead and its first breaker. */
struct shore {
    int fitted; /* 1: the profile has a [shore] section */
    int line;
    struct range current; /* [A] */
    struct range voltage; /* [V] */
};

struct generator {
    const char *name;
    int line;
    struct range power;        /* [W] continuous */
    struct range start_charge; /* [-] of the house bank */
    struct range stop_charge;  /* [-] */
    struct range fuel_idle;    /* [l/h per kW of rating] at no load */
    struct range fuel_slope;   /* [l/kWh] on top of it */
};

/* Bits: what feeds its AC side. */
enum charger_feed { FED_BY_SHORE = 1, FED_BY_GENERATOR = 2 };

struct charger {
    const char *name;
    int line;
    struct range current;    /* [A] DC */
    struct range efficiency; /* [-] */
    struct range power_factor; /* [-] at its AC side */
    unsigned fed_by;         /* enum charger_feed bits */
    const struct bank *bank;
};

/* On the house bank. Several together feed one AC panel and share its load. */
struct inverter {
    const char *name;
    int line;
    struct range power;       /* [W] continuous AC */
    struct range surge_power; /* [W] */
    struct range idle_power;  /* [W] from the bank at no load */
    struct range efficiency;  /* [-] at full power */
    struct range cut_out;     /* [V] */
    struct range power_factor; /* [-] smallest it is rated for */
    struct range mass, price;
};

/* A converter moves charge one way at its own volts; a relay joins two banks. */
enum link_kind { LINK_CONVERTER, LINK_RELAY };

struct dcdc {
    const char *name;
    int line;
    enum link_kind kind;
    const struct bank *from, *to; /* a load may name the converter as its supply: then `to` is NULL */
    struct range current;    /* [A] output limit */
    struct range efficiency; /* [-] */
    struct range voltage;    /* [V] output towards loads, where `to` is NULL */
    struct range idle_power; /* [W] */
};

#endif

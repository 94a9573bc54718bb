/* keys.c - the one table of what a profile may say.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/keys.h"

#include <string.h>

#include "boat/boat.h"
#include "profile/readers.h"

#define COMMON "common practice"
#define MEMORY "common practice, from memory"

/* Name, 1 where named, size of one object, where it or its array lies in struct boat, where the count lies,
 * 1 where its defaults always apply, meaning. */
static const struct kind kinds[] = {
    { "boat", 0, sizeof(struct boat), 0, 0, 1, "the boat and her nominal voltages" },
    { "site", 0, sizeof(struct site), offsetof(struct boat, site), 0, 1,
      "where she lies and what weather it has" },
    { "plan", 0, sizeof(struct plan), offsetof(struct boat, plan), 0, 1, "which kind of day follows which" },
    { "day", 1, sizeof(struct day_kind), offsetof(struct boat, days), offsetof(struct boat, day_count), 0,
      "a kind of day: what runs when" },
    { "bank", 1, sizeof(struct bank), offsetof(struct boat, banks), offsetof(struct boat, bank_count), 0,
      "a bank of batteries" },
    { "solar", 1, sizeof(struct solar), offsetof(struct boat, solars), offsetof(struct boat, solar_count), 0,
      "panels that share a controller" },
    { "engine", 1, sizeof(struct engine), offsetof(struct boat, engines), offsetof(struct boat, engine_count),
      0, "an engine" },
    { "alternator", 1, sizeof(struct alternator), offsetof(struct boat, alternators),
      offsetof(struct boat, alternator_count), 0, "an alternator on an engine" },
    { "shore", 0, sizeof(struct shore), offsetof(struct boat, shore), 0, 0, "the shore lead" },
    { "generator", 1, sizeof(struct generator), offsetof(struct boat, generators),
      offsetof(struct boat, generator_count), 0, "a generator" },
    { "charger", 1, sizeof(struct charger), offsetof(struct boat, chargers),
      offsetof(struct boat, charger_count), 0, "a battery charger" },
    { "inverter", 1, sizeof(struct inverter), offsetof(struct boat, inverters),
      offsetof(struct boat, inverter_count), 0, "an inverter" },
    { "dcdc", 1, sizeof(struct dcdc), offsetof(struct boat, dcdcs), offsetof(struct boat, dcdc_count), 0,
      "a link between banks, or a converter that feeds loads" },
    { "load", 1, sizeof(struct load), offsetof(struct boat, loads), offsetof(struct boat, load_count), 0,
      "a consumer" },
    { "cable", 1, sizeof(struct cable), offsetof(struct boat, cables), offsetof(struct boat, cable_count), 0,
      "a run of cable" },
    { "seen", 1, sizeof(struct seen), offsetof(struct boat, seens), offsetof(struct boat, seen_count), 0,
      "what somebody looked at: a thing of the profile, or shore, panel, boat" },
    { "measured", 1, sizeof(struct measured), offsetof(struct boat, measureds),
      offsetof(struct boat, measured_count), 0, "what a meter said of a thing of the profile" },
    { "rules", 0, sizeof(struct rules_choice), offsetof(struct boat, rules), 0, 1,
      "which rule set judges the cables" },
    { "prices", 0, sizeof(struct prices), offsetof(struct boat, prices), 0, 0,
      "what things cost; never guessed" },
};

#define AT(struct_, field) .at = offsetof(struct struct_, field)

/* A range of a quantity; what follows is bounds, default, meaning, source of the default. */
#define RANGE(kind, struct_, field, q, f, b, d, m, s)                                                        \
    {                                                                                                        \
        .section = kind, .name = #field, .type = KEY_RANGE, .quantity = QUANTITY_##q, AT(struct_, field),    \
        .flags = f, .bounds = b, .fallback = d, .meaning = m, .source = s                                    \
    }
#define TEXT(kind, struct_, field, form_, m)                                                                 \
    {                                                                                                        \
        .section = kind, .name = #field, .type = KEY_TEXT, AT(struct_, field), .form = form_, .meaning = m   \
    }
#define CHOICE(kind, struct_, field, f, words_, d, m, s)                                                     \
    {                                                                                                        \
        .section = kind, .name = #field, .type = KEY_CHOICE, AT(struct_, field), .flags = f,                 \
        .words = words_, .fallback = d, .meaning = m, .source = s                                            \
    }
#define FLAG(kind, struct_, field, d, m, s)                                                                  \
    {                                                                                                        \
        .section = kind, .name = #field, .type = KEY_FLAG, AT(struct_, field), .fallback = d, .meaning = m,  \
        .source = s                                                                                          \
    }
#define LINK(kind, struct_, field, target, f, d, m, s)                                                       \
    {                                                                                                        \
        .section = kind, .name = #field, .type = KEY_LINK, AT(struct_, field), .flags = KEY_LATE | (f),      \
        .words = target, .fallback = d, .meaning = m, .source = s                                            \
    }
#define SPECIAL(kind, name_, reader_, f, form_, d, m, s)                                                     \
    {                                                                                                        \
        .section = kind, .name = name_, .type = KEY_SPECIAL, .flags = f, .reader = reader_, .form = form_,   \
        .fallback = d, .meaning = m, .source = s                                                             \
    }
#define SPECIAL_GROUP(kind, name_, reader_, f, form_, group_, m)                                             \
    {                                                                                                        \
        .section = kind, .name = name_, .type = KEY_SPECIAL, .flags = f, .reader = reader_, .form = form_,   \
        .group = group_, .meaning = m                                                                        \
    }

enum { COMPUTED = KEY_COMPUTED, REQUIRED = KEY_REQUIRED, WHOLE = KEY_WHOLE };

static const struct key keys[] = {
    /* --- boat --- */
    TEXT("boat", boat, name, "any text", "stands on every sheet"),
    RANGE("boat", boat, dc_voltage, VOLTAGE, COMPUTED, "12..48 V", "that of the house bank, else 12 V",
          "nominal voltage of the house bus: 12 V, 24 V or 48 V", COMMON),
    RANGE("boat", boat, ac_voltage, VOLTAGE, 0, "100..250 V", "230 V", "voltage of the AC panel",
          "IEC 60038; 120 V boats must say so"),
    RANGE("boat", boat, ac_frequency, FREQUENCY, COMPUTED, "45..65 Hz", "50 Hz, or 60 Hz under 150 V",
          "frequency of the AC panel", "IEC 60038"),
    RANGE("boat", boat, crew, NUMBER, WHOLE, "0..100", NULL, "people on board; for the sheets only", NULL),

    /* --- site --- */
    TEXT("site", site, name, "any text", "name of the place, for the sheets"),
    SPECIAL("site", "latitude", read_latitude, COMPUTED, "38.6 N, 38 36 N, -38.6 deg",
            "that of the cruising area", "where she lies", "the shipped table of cruising areas"),
    SPECIAL("site", "longitude", read_longitude, COMPUTED, "20.7 E, 20 42 E, -61.8 deg",
            "that of the cruising area", "where she lies", "the shipped table of cruising areas"),
    SPECIAL("site", "utc_offset", read_utc_offset, COMPUTED, "+3 h, -4:30", "longitude / 15, whole hours",
            "local time less UTC", "nautical time zone"),
    SPECIAL("site", "start", read_start, 0, "2026-07-06", "2026-03-21", "first day of the plan, local date",
            "the equinox: day and night of one length, neither the best nor the worst of the year"),
    SPECIAL_GROUP("site", "climate", read_climate, 0, "a cruising area of the shipped table", "sky",
                  "whose sun and air to take; without any sky key the nearest area is taken"),
    { .section = "site",
      .name = "irradiation",
      .type = KEY_MONTHS,
      .quantity = QUANTITY_IRRADIATION,
      AT(site, irradiation),
      .bounds = "0..12 kWh/m2",
      .group = "sky",
      .meaning = "mean daily irradiation on the horizontal: one value, or twelve from January" },
    { .section = "site",
      .name = "clearness",
      .type = KEY_MONTHS,
      .quantity = QUANTITY_NUMBER,
      AT(site, clearness),
      .bounds = "0.05..0.85",
      .group = "sky",
      .meaning = "mean daily clearness index: one value, or twelve from January" },
    SPECIAL_GROUP("site", "weather", read_weather, 0,
                  "a file: date,irradiation_kwh_m2[,air_c], or hourly EPW", "sky",
                  "a record of daily sun, and air if it has it; path as seen from the profile"),
    { .section = "site",
      .name = "air_temperature",
      .type = KEY_MONTHS,
      .quantity = QUANTITY_TEMPERATURE,
      AT(site, air_temperature),
      .flags = COMPUTED,
      .bounds = "-40..55 C",
      .fallback = "that of the nearest cruising area",
      .meaning = "mean air temperature: one value, or twelve from January",
      .source = "the shipped table of cruising areas" },

    /* --- plan --- */
    SPECIAL("plan", "days", read_plan_days, KEY_LATE | COMPUTED, "kinds of day by comma",
            "seven of the first kind", "the days of the plan in order, any number", COMMON),
    RANGE("plan", plan, start_charge, SHARE, 0, "0..100 %", "100 %",
          "charge of every bank as the plan begins", COMMON),
    RANGE("plan", plan, step, DURATION, 0, "1..3600 s", "1 min", "step of the simulation",
          "own runs: an hour misplaces the lowest charge by up to 20 points, a minute by under 0.1"),
    RANGE("plan", plan, autonomy, DAYS, 0, "0.1..60 d", "1 d",
          "days without any source that the handbook sum of size is made for",
          "common practice with an engine on board"),

    /* --- day --- */
    SPECIAL("day", "engine", read_engine_runs, KEY_LATE | KEY_PER_ENGINE, "09:00-10:30 at 1600 rpm, ...",
            NULL, "when that engine runs; without a speed at its idle_speed", NULL),
    SPECIAL("day", "engines", read_engine_runs, KEY_LATE, "09:00-10:30 at 1600 rpm, ...", NULL,
            "when every engine runs", NULL),
    SPECIAL("day", "shore", read_shore_times, 0, "18:00-08:00, ... or none", NULL,
            "when the shore lead is in", NULL),
    SPECIAL("day", "generator", read_generator_times, COMPUTED, "automatic, off, or 18:00-20:00, ...", "off",
            "when generators run; automatic: by the charge of the house bank",
            "runs only where the profile says so"),
    SPECIAL("day", "quiet_hours", read_quiet_hours, 0, "22:00-08:00, ... or none", NULL,
            "when an automatic generator must not run", NULL),
    RANGE("day", day_kind, shading, SHARE, 0, "0..100 %", "0 %",
          "share of the panels' output lost on such a day", "none said"),
    RANGE("day", day_kind, sun, SHARE, 0, "0..200 %", "100 %", "share of the usual sun: 40 % is a dull day",
          "a mean day"),

    /* --- bank --- */
    CHOICE("bank", bank, role, 0, "house|start|bow", "house",
           "what the bank is for; a boat has one house bank", COMMON),
    CHOICE("bank", bank, chemistry, REQUIRED, "flooded|agm|gel|lfp", NULL, "kind of battery", NULL),
    SPECIAL("bank", "block_capacity", read_block_capacity, REQUIRED,
            "220 Ah at 20 h, 110 min (reserve), 850 A (cranking)", NULL,
            "label of one block; minutes and cranking amps are converted, roughly", NULL),
    SPECIAL_GROUP("bank", "second_rating", read_second_rating, 0, "190 Ah at 5 h", "rate",
                  "capacity of one block at another rate; fixes the rate effect"),
    RANGE("bank", bank, block_voltage, VOLTAGE, 0, "2..60 V", "12 V",
          "nominal voltage of one block; 12.8 V counts as 12 V", COMMON),
    RANGE("bank", bank, series, NUMBER, WHOLE | COMPUTED, "1..48",
          "what makes dc_voltage for the house bank, else 1", "blocks in series", COMMON),
    RANGE("bank", bank, parallel, NUMBER, WHOLE, "1..100", "1", "strings in parallel", COMMON),
    RANGE("bank", bank, health, SHARE, 0, "10..100 %", "100 %", "capacity left, as a share of new",
          "taken as new"),
    RANGE("bank", bank, floor, SHARE, COMPUTED, "0..95 %", "by chemistry: 50 % lead, 20 % lfp",
          "charge not to go below", MEMORY),
    RANGE("bank", bank, ceiling, SHARE, 0, "50..100 %", "100 %", "charge not to go above", COMMON),
    RANGE("bank", bank, internal_resistance, RESISTANCE, COMPUTED, "0.01..500 mohm",
          "by chemistry and capacity", "of one block, full, at 25 C", MEMORY),
    CHOICE("bank", bank, wiring, 0, "bars|same-end|diagonal", "bars",
           "how parallel strings are joined: equal tails to bars, or links with both leads on one end or on "
           "opposite ends",
           COMMON),
    RANGE("bank", bank, link_resistance, RESISTANCE, 0, "0..20 mohm", NULL,
          "between neighbouring strings, each pole; matters without bars", NULL),
    { .section = "bank",
      .name = "peukert",
      .type = KEY_RANGE,
      .quantity = QUANTITY_NUMBER,
      AT(bank, peukert),
      .flags = COMPUTED,
      .bounds = "1..1.6",
      .fallback = "by chemistry: 1.25 flooded, 1.10 agm, 1.15 gel, 1.02 lfp",
      .group = "rate",
      .meaning = "exponent of the rate effect",
      .source = MEMORY },
    RANGE("bank", bank, max_charge, CURRENT, COMPUTED, "0.1..5000 A", "by chemistry and capacity",
          "largest charging current of the whole bank", MEMORY),
    RANGE("bank", bank, max_discharge, CURRENT, COMPUTED, "0.1..20000 A", "lfp: 1 h rate; lead: none",
          "largest discharging current of the whole bank",
          "typical limit of a management system, from memory"),
    RANGE("bank", bank, absorption_voltage, VOLTAGE, COMPUTED, "2..70 V", "by chemistry",
          "of the whole bank, at 25 C", MEMORY),
    RANGE("bank", bank, float_voltage, VOLTAGE, COMPUTED, "0..70 V", "by chemistry",
          "of the whole bank, at 25 C; 0 V: none", MEMORY),
    RANGE("bank", bank, temperature, TEMPERATURE, 0, "-20..60 C", NULL,
          "of the bank; without it, that of the air", NULL),
    RANGE("bank", bank, mass, MASS, 0, "0..2000 kg", NULL, "of one block", NULL),
    RANGE("bank", bank, price, MONEY, 0, "0..1000000", NULL, "of one block", NULL),

    /* --- solar --- */
    RANGE("solar", solar, power, POWER, REQUIRED, "1..2000 W", NULL,
          "of one panel in standard test conditions", NULL),
    RANGE("solar", solar, count, NUMBER, WHOLE, "1..200", "1", "panels", COMMON),
    RANGE("solar", solar, tilt, ANGLE, 0, "0..90 deg", "0 deg", "from the horizontal",
          "flat on deck or roof"),
    SPECIAL("solar", "azimuth", read_azimuth, 0, "any, or degrees from the bow, clockwise", "any",
            "which way they face; any: the boat swings", "a boat at anchor swings"),
    RANGE("solar", solar, heading, ANGLE, 0, "-360..360 deg", NULL,
          "true heading of the bow where the azimuth is fixed; else north", NULL),
    RANGE("solar", solar, shading, SHARE, 0, "0..100 %", "0 %", "share lost always, on top of the day's",
          "none said"),
    CHOICE("solar", solar, controller, 0, "mppt|pwm", "mppt", "kind of charge controller", COMMON),
    RANGE("solar", solar, controller_current, CURRENT, 0, "0.5..1000 A", NULL,
          "output limit of the controller", NULL),
    RANGE("solar", solar, controller_efficiency, SHARE, 0, "50..100 %", "96 %",
          "of the controller and its wiring", "middle of the usual 94 to 98 %, from memory"),
    RANGE("solar", solar, voltage_at_power, VOLTAGE, COMPUTED, "5..200 V",
          "pwm: 18 V for each 12 V of the bank",
          "of one panel at full power in standard conditions; matters with pwm",
          "36 cells of 0.5 V, from memory"),
    RANGE("solar", solar, temperature_coefficient, PER_KELVIN, 0, "-1..0 %/K", "-0.35 %/K", "of power",
          "crystalline silicon, premium: NREL/TP-6A20-62641"),
    RANGE("solar", solar, nominal_cell_temperature, TEMPERATURE, 0, "35..80 C", "50 C",
          "cell temperature at 800 W/m2 and 20 C of air",
          "43 to 47 C on an open rack, more with less air beneath; from memory"),
    RANGE("solar", solar, price, MONEY, 0, "0..1000000", NULL, "of one panel", NULL),
    RANGE("solar", solar, mass, MASS, 0, "0..200 kg", NULL, "of one panel", NULL),
    LINK("solar", solar, bank, "bank", COMPUTED, "the house bank", "which bank they charge", COMMON),

    /* --- engine --- */
    CHOICE("engine", engine, side, 0, "none|port|starboard", "none", "which hull it is in", "none said"),
    RANGE("engine", engine, power, POWER, 0, "0.5..2000 kW", NULL, "at the shaft", NULL),
    RANGE("engine", engine, idle_speed, SPEED, 0, "300..3000 rpm", "850 rpm", "where a day gives no speed",
          "small marine diesels, common practice"),
    RANGE("engine", engine, speed_limit, SPEED, 0, "1000..8000 rpm", "3600 rpm", "never run faster",
          "small marine diesels, common practice"),

    /* --- alternator --- */
    LINK("alternator", alternator, engine, "engine", COMPUTED, "the only engine, or the one of the same name",
         "which engine turns it", COMMON),
    RANGE("alternator", alternator, rated_current, CURRENT, REQUIRED, "1..1000 A", NULL,
          "cold, as on the label", NULL),
    RANGE("alternator", alternator, pulley_ratio, NUMBER, 0, "0.5..6", "2",
          "turns for one turn of the engine", COMMON),
    RANGE("alternator", alternator, regulated_voltage, VOLTAGE, 0, "10..70 V", NULL,
          "what its regulator holds; without it the bank's absorption_voltage", NULL),
    RANGE("alternator", alternator, current_limit, CURRENT, 0, "1..1000 A", NULL, "set by regulator or belt",
          NULL),
    RANGE("alternator", alternator, hot_factor, SHARE, 0, "20..100 %", "80 %",
          "hot output as a share of cold", "trade practice where no hot rating is known"),
    RANGE("alternator", alternator, ambient, TEMPERATURE, 0, "-20..100 C", NULL,
          "air it breathes; derates it above 25 C", NULL),
    RANGE("alternator", alternator, efficiency, SHARE, 0, "20..95 %", "55 %", "from shaft to terminals",
          "claw-pole machines, 50 to 60 %, from memory"),
    LINK("alternator", alternator, bank, "bank", COMPUTED, "the house bank", "which bank it charges", COMMON),

    /* --- shore --- */
    RANGE("shore", shore, current, CURRENT, 0, "1..250 A", "16 A", "what the socket gives",
          "IEC 60309 socket of European marinas"),
    RANGE("shore", shore, voltage, VOLTAGE, COMPUTED, "90..260 V", "ac_voltage of the boat", "at the socket",
          COMMON),

    /* --- generator --- */
    RANGE("generator", generator, power, POWER, REQUIRED, "0.2..200 kW", NULL, "continuous", NULL),
    RANGE("generator", generator, start_charge, SHARE, COMPUTED, "0..95 %", "50 % lead, 30 % lfp",
          "charge of the house bank at which it starts by itself", COMMON),
    RANGE("generator", generator, stop_charge, SHARE, 0, "5..100 %", "90 %", "and at which it stops",
          "end of bulk charging: absorption is left to the sun; common practice"),
    RANGE("generator", generator, fuel_idle, FUEL_IDLE, 0, "0..0.5 l/h/kW", "0.06 l/h/kW",
          "fuel at no load, per kW of rating", "fitted to public charts of 8 and 10 kW sets"),
    RANGE("generator", generator, fuel_slope, FUEL_ENERGY, 0, "0.1..1 l/kWh", "0.29 l/kWh",
          "fuel for each kWh on top", "fitted to public charts of 8 and 10 kW sets"),
    SPECIAL("generator", "fuel", read_generator_fuel, 0, "l/h, gal/h", NULL,
            "consumption at full power, instead of fuel_slope", NULL),

    /* --- charger --- */
    RANGE("charger", charger, current, CURRENT, REQUIRED, "0.5..1000 A", NULL, "DC output", NULL),
    RANGE("charger", charger, efficiency, SHARE, 0, "40..100 %", "88 %", "from AC to DC",
          "0.85 old to 0.93 new, from memory"),
    RANGE("charger", charger, power_factor, NUMBER, 0, "0.3..1", "0.95", "on its AC side",
          "corrected supplies; old ones 0.6 to 0.7"),
    SPECIAL("charger", "fed_by", read_fed_by, 0, "shore, generator", "shore, generator", "what may feed it",
            COMMON),
    LINK("charger", charger, bank, "bank", COMPUTED, "the house bank", "which bank it charges", COMMON),

    /* --- inverter --- */
    RANGE("inverter", inverter, power, POWER, REQUIRED, "20..100000 W", NULL, "continuous AC power", NULL),
    RANGE("inverter", inverter, surge_power, POWER, COMPUTED, "20..300000 W", "2 x power", "for some seconds",
          COMMON),
    RANGE("inverter", inverter, idle_power, POWER, COMPUTED, "0..1000 W", "0.6 % of power",
          "from the bank at no load", "Schmidt & Sauer 1996, from memory"),
    RANGE("inverter", inverter, efficiency, SHARE, 0, "50..99.5 %", "89 %", "at full power",
          "Schmidt & Sauer 1996, from memory"),
    RANGE("inverter", inverter, cut_out, VOLTAGE, COMPUTED, "8..60 V", "10.5 V for each 12 V",
          "gives up below it", "1.75 V a cell, common practice"),
    RANGE("inverter", inverter, power_factor, NUMBER, 0, "0.3..1", "0.8", "smallest it is rated for", COMMON),
    RANGE("inverter", inverter, mass, MASS, 0, "0..1000 kg", NULL, "of the inverter", NULL),
    RANGE("inverter", inverter, price, MONEY, 0, "0..1000000", NULL, "of the inverter", NULL),

    /* --- dcdc --- */
    CHOICE("dcdc", dcdc, kind, 0, "converter|relay", "converter", "what links the two", COMMON),
    LINK("dcdc", dcdc, from, "bank", COMPUTED, "the house bank", "bank it takes from", COMMON),
    LINK("dcdc", dcdc, to, "bank", 0, NULL, "bank it charges; without it, it feeds the loads that name it",
         NULL),
    RANGE("dcdc", dcdc, current, CURRENT, REQUIRED, "0.1..2000 A", NULL, "output limit", NULL),
    RANGE("dcdc", dcdc, efficiency, SHARE, COMPUTED, "50..100 %", "92 %; a relay 100 %",
          "from its input to its output", "0.88 to 0.96, from memory"),
    RANGE("dcdc", dcdc, voltage, VOLTAGE, COMPUTED, "3..60 V", "12 V", "output towards loads", COMMON),
    RANGE("dcdc", dcdc, idle_power, POWER, COMPUTED, "0..200 W", "1 W; a relay 0 W", "drawn at no load",
          "0.1 to 10 W by size, from memory"),

    /* --- load --- */
    CHOICE("load", load, supply, 0, "dc|ac|mains", "dc",
           "dc: a bank; ac: inverter, shore or generator; mains: shore or generator only", COMMON),
    SPECIAL_GROUP("load", "power", read_load_draw, 0, "W, kW, VA; A, mA at bus voltage", "draw",
                  "of one while it runs"),
    SPECIAL_GROUP("load", "current", read_load_draw, 0, "A, mA", "draw",
                  "of one while it runs, at bus voltage"),
    RANGE("load", load, count, NUMBER, WHOLE, "1..1000", "1", "how many are alike", COMMON),
    { .section = "load",
      .name = "duty",
      .type = KEY_SPECIAL,
      .flags = KEY_LATE | KEY_PER_DAY,
      .reader = read_duty,
      .form = "%",
      .bounds = "0..100 %",
      .fallback = "100 %",
      .meaning = "share of its on-time it runs: a thermostat",
      .source = "runs all its on-time" },
    SPECIAL_GROUP("load", "hours", read_hours, KEY_LATE | KEY_PER_DAY, "h, min a day", "usage",
                  "time on in a day, spread evenly; with neither hours, times nor uses: 24 h"),
    SPECIAL_GROUP("load", "times", read_times, KEY_LATE | KEY_PER_DAY,
                  "18:00-23:00, sunset-sunrise, ... or none", "usage", "when it is on"),
    SPECIAL_GROUP("load", "uses", read_uses, KEY_LATE | KEY_PER_DAY, "3 x 4 min, or 07:30 for 4 min, ...",
                  "usage", "short uses, at any time or at a set one"),
    CHOICE("load", load, behaves, 0, "as-typed|power|current|resistance", NULL,
           "how it answers to lower volts; without it as typed: watts stay watts, amps stay amps", NULL),
    RANGE(
        "load", load, diversity, SHARE, 0, "0..100 %", NULL,
        "share of its draw that counts on shared cables where all that may run does so at once; without it, "
        "all of it. A cable to this load alone is judged at full draw",
        NULL),
    SPECIAL("load", "surge", read_surge, 0, "3 x for 0.5 s", "1 x for 0 s",
            "starting power as a multiple of running power", "no surge said"),
    RANGE("load", load, power_factor, NUMBER, 0, "0.1..1", "1", "of AC loads",
          "resistive; motors and small supplies have less"),
    RANGE("load", load, standby, POWER, 0, "0..1000 W", "0 W",
          "drawn while its bus is live and it does not run", "none said"),
    CHOICE("load", load, priority, 0, "vital|normal|shed", "normal",
           "who is served first when the bank runs low", COMMON),
    FLAG("load", load, critical, "no", "a 3 % circuit by your word", "none said"),
    RANGE("load", load, breaker, CURRENT, 0, "0.1..1000 A", NULL, "or fuse at the panel", NULL),
    TEXT("load", load, node, "a name", "node of the cables it hangs on; without it, its own name"),
    LINK("load", load, bank, "bank", COMPUTED, "the house bank", "bank that feeds it", COMMON),
    LINK("load", load, converter, "dcdc", 0, NULL, "converter between bank and load", NULL),

    /* --- cable --- */
    { .section = "cable",
      .name = "from",
      .type = KEY_TEXT,
      AT(cable, from),
      .flags = REQUIRED,
      .form = "a bank, device, load or node",
      .meaning = "where it begins, seen from the bank" },
    { .section = "cable",
      .name = "to",
      .type = KEY_TEXT,
      AT(cable, to),
      .flags = REQUIRED,
      .form = "a bank, device, load or node",
      .meaning = "where it ends" },
    RANGE("cable", cable, length, LENGTH, REQUIRED, "0.01..500 m", NULL, "one way, along the route", NULL),
    RANGE("cable", cable, return_length, LENGTH, 0, "0.01..500 m", NULL,
          "of the return conductor; without it, as length", NULL),
    SPECIAL("cable", "area", read_area, 0, "35 mm2, 2 AWG, 8 SAE, 19 x 1.35 mm", NULL,
            "metal of one conductor; without it the cable is sized", NULL),
    SPECIAL("cable", "return_area", read_return_area, 0, "35 mm2, 2 AWG, 8 SAE, 19 x 1.35 mm", NULL,
            "of the return conductor; without it, as area", NULL),
    RANGE("cable", cable, runs, NUMBER, WHOLE, "1..20", "1", "conductors in parallel on each pole", COMMON),
    RANGE("cable", cable, insulation, TEMPERATURE, 0, "60..200 C", "75 C",
          "temperature rating printed on the jacket", "cautious: most boat cable bears more"),
    CHOICE("cable", cable, place, 0, "cabin|engine", "cabin", "engine: through an engine space", COMMON),
    RANGE("cable", cable, bundle, NUMBER, WHOLE, "1..100", "2", "current-carrying conductors run together",
          "the two of the run alone"),
    RANGE("cable", cable, drop_limit, SHARE, 0, "0.1..25 %", NULL,
          "of nominal voltage; without it, the rule set's", NULL),
    RANGE("cable", cable, joints, RESISTANCE, 0, "0..1000 mohm", "0 mohm",
          "all joints, switches and lugs of the run", "none said; measured drops will be larger"),
    SPECIAL("cable", "fuse", read_fuse, 0, "200 A, 200 A class T, none", NULL,
            "rating, and the class as printed", NULL),
    RANGE("cable", cable, fuse_interrupt, CURRENT, 0, "10..300000 A", NULL,
          "largest current the fuse can break", NULL),
    RANGE("cable", cable, fuse_distance, LENGTH, 0, "0..100 m", NULL,
          "from the source along the cable; of a charging run from its end at the bank",
          NULL),
    RANGE("cable", cable, charge_distance, LENGTH, 0, "0..100 m", NULL,
          "of a charging run: from alternator, charger or controller to a device at that end",
          NULL),
    RANGE("cable", cable, poles, NUMBER, WHOLE, "1..3", "1", "poles that are fused or switched", COMMON),
    FLAG("cable", cable, sheathed, "no", "in a sheath, conduit or trunking", "none said"),

/* --- seen, measured --- */
#define SEEN_KEY(lower, upper, on, meaning_)                                                                 \
    { .section = "seen",                                                                                     \
      .name = #lower,                                                                                        \
      .type = KEY_CHOICE,                                                                                    \
      .at = offsetof(struct seen, facts[SEEN_##upper]),                                                      \
      .words = "unknown|no|yes",                                                                             \
      .meaning = meaning_ },
    SEEN_FACTS(SEEN_KEY)
#undef SEEN_KEY
        RANGE("seen", seen, vent_area, AREA, 0, "0.1..10000 cm2", NULL,
              "free opening of a battery box, inlet and outlet each", NULL),
    RANGE("seen", seen, breaker_distance, LENGTH, 0, "0..50 m", NULL,
          "from the shore inlet to its first breaker", NULL),
    RANGE("measured", measured, current, CURRENT, 0, "0..5000 A", NULL,
          "at its breaker or terminal while it runs", NULL),
    RANGE("measured", measured, volts, VOLTAGE, 0, "0..300 V", NULL, "at the thing itself while it runs",
          NULL),
    RANGE("measured", measured, source_volts, VOLTAGE, 0, "0..300 V", NULL,
          "at the posts of its bank at that moment", NULL),
    SPECIAL("measured", "rest_volts", read_rest_volts, 0, "12.71 V, 12.69 V, ...", NULL,
            "of each block of a bank, rested for hours without charge or load", NULL),
    RANGE("measured", measured, off_current, CURRENT, 0, "0..100 A", NULL,
          "out of a bank with every switch off", NULL),

    /* --- rules --- */
    SPECIAL("rules", "set", read_rule_set, 0, "cfr183, abyc-e11, iso10133, iso13297, own", "cfr183",
            "the published rules that judge the cables",
            "the one whose whole text is public: 33 CFR 183 subpart I"),
    { .section = "rules",
      .name = "strictness",
      .type = KEY_CHOICE,
      AT(rules_choice, strict),
      .words = "normal|strict",
      .fallback = "normal",
      .meaning = "strict: advice counts as requirement",
      .source = COMMON },
    { .section = "rules",
      .name = "sizes",
      .type = KEY_CHOICE,
      AT(rules_choice, sizes),
      .words = "as-wired|metric|us",
      .fallback = "as-wired",
      .meaning =
          "which sizes to choose cables from: as most installed cables are typed, else the rule set's; "
          "mm2; or AWG",
      .source = COMMON },
    SPECIAL("rules", "file", read_rules_file, 0, "a file", NULL,
            "your own table, with set = own; path as seen from the profile", NULL),

    /* --- prices --- */
    TEXT("prices", prices, currency, "EUR, USD, ...", "printed behind every amount"),
    RANGE("prices", prices, copper_per_kg, MONEY, 0, "0..10000", NULL, "cable, per kg of copper", NULL),
    RANGE("prices", prices, bank_per_ah, MONEY, 0, "0..10000", NULL, "batteries, per Ah of the bank", NULL),
    RANGE("prices", prices, solar_per_w, MONEY, 0, "0..1000", NULL, "panels, per W", NULL),
    RANGE("prices", prices, inverter_per_w, MONEY, 0, "0..1000", NULL, "inverters, per W", NULL),
    RANGE("prices", prices, fuel_per_l, MONEY, 0, "0..1000", NULL, "fuel, per litre", NULL),
};

const struct key *key_table(size_t *count)
{
    *count = sizeof keys / sizeof keys[0];
    return keys;
}

const struct kind *kind_table(size_t *count)
{
    *count = sizeof kinds / sizeof kinds[0];
    return kinds;
}

const struct kind *kind_find(const char *name)
{
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (text_same(kinds[i].name, name))
            return &kinds[i];
    return NULL;
}

/* A suffix is looked at only for whether the key takes one; whether such a day or
 * engine exists, its reader asks. */
const struct key *key_find(const struct kind *kind, const char *typed, const char **suffix)
{
    const char *point = strchr(typed, '.');
    const size_t length = point ? (size_t)(point - typed) : strlen(typed);

    *suffix = point ? point + 1 : NULL;
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        const struct key *k = &keys[i];
        int suffixed = (k->flags & (KEY_PER_DAY | KEY_PER_ENGINE)) != 0;
        int bare = !(k->flags & KEY_PER_ENGINE);

        if (text_same(k->section, kind->name) && strlen(k->name) == length &&
            memcmp(k->name, typed, length) == 0)
            return (point ? suffixed : bare) ? k : NULL;
    }
    return NULL;
}

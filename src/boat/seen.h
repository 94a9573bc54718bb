/* seen.h - what only a person on board can tell: looked at, tried, read off a meter.  Layer: boat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SEEN_H
#define BD_SEEN_H

#include <stddef.h>

#include "base/range.h"

/* Nobody looked is the zero: it is never taken as good. */
enum seen_word { SEEN_UNKNOWN, SEEN_NO, SEEN_YES };

/* What a [seen NAME] may be about. */
enum seen_thing {
    ON_BANK = 1,
    ON_CABLE = 2,
    ON_LOAD = 4,
    ON_INVERTER = 8,
    ON_GENERATOR = 16,
    ON_ALTERNATOR = 32,
    ON_ENGINE = 64,
    ON_SHORE = 128,   /* the name "shore": the inlet and its first breaker */
    ON_PANEL = 256,   /* the name "panel" */
    ON_BOAT = 512,    /* the name "boat": the installation as a whole */
    ON_CHARGER = 1024,
    ON_OTHER = 2048   /* solar, dcdc, a node of the user's own: only measured */
};

/*
 * The facts, each a question that yes answers well (petrol alone is neither good nor bad): what the key is
 * called, its place in the array, what it can be asked of, and the question as it stands in the key
 * reference.
 */
#define SEEN_FACTS(X)                                                                                        \
    X(secured, SECURED, ON_BANK, "cannot move when pushed and pulled")                                       \
    X(terminals_covered, TERMINALS_COVERED, ON_BANK, "no tool can bridge its terminals")                     \
    X(clamps_sound, CLAMPS_SOUND, ON_BANK, "bolted or clamped: no spring clips, no wing nuts")               \
    X(lugs_ordered, LUGS_ORDERED, ON_BANK, "four lugs or fewer on a post, the largest lowest")               \
    X(fuel_clear, FUEL_CLEAR, ON_BANK, "no fuel part above, below or within 305 mm over it unshielded")      \
    X(ventilated, VENTILATED, ON_BANK, "gas can leave the boat from its box")                                \
    X(contained, CONTAINED, ON_BANK, "a tray or box holds spilt electrolyte at 30 degrees of heel")          \
    X(dry, DRY, ON_BANK, "stands dry, above expected bilge water")                                           \
    X(sound, SOUND, ON_BANK, "no swelling, heat, leak or smell")                                             \
    X(same_blocks, SAME_BLOCKS, ON_BANK, "all blocks of one make, type and age")                             \
    X(isolator, ISOLATOR, ON_BANK, "can be switched off by a switch near it")                                \
    X(isolator_reachable, ISOLATOR_REACHABLE, ON_BANK | ON_ENGINE,                                           \
      "that switch is marked and reached in a moment")                                                       \
    X(temperature_sensed, TEMPERATURE_SENSED, ON_BANK, "its chargers feel its temperature")                  \
    X(lithium_papers, LITHIUM_PAPERS, ON_BANK,                                                               \
      "evidence of cell standard, limits, installation and venting plan")                                    \
    X(disconnect_alarm, DISCONNECT_ALARM, ON_BANK, "it warns before it disconnects itself")                  \
    X(vital_supply, VITAL_SUPPLY, ON_BANK, "vital loads stay fed when it disconnects itself")                \
    X(cold_protected, COLD_PROTECTED, ON_BANK, "charging stops by itself below its lowest temperature")      \
    X(disconnect_protected, DISCONNECT_PROTECTED, ON_ALTERNATOR, "survives its battery being disconnected")  \
    X(fused, FUSED, ON_CABLE, "has a fuse or breaker at its source, rating read or not")                     \
    X(fused_both_ends, FUSED_BOTH_ENDS, ON_CABLE, "has a fuse at each end: both are sources")                \
    X(supports, SUPPORTS, ON_CABLE, "held every 450 mm, a battery cable every 300 mm, or in conduit")        \
    X(chafe_protected, CHAFE_PROTECTED, ON_CABLE, "no edge, bulkhead or moving part can rub it")             \
    X(stranded_copper, STRANDED_COPPER, ON_CABLE, "insulated stranded copper, made for boats")               \
    X(above_bilge, ABOVE_BILGE, ON_CABLE, "runs above the water that starts the bilge pump")                 \
    X(joints_sound, JOINTS_SOUND, ON_CABLE, "lugs crimped, tight, clean, without marks of heat")             \
    X(runs_equal, RUNS_EQUAL, ON_CABLE, "its parallel conductors are alike in length, size and lugs")        \
    X(works, WORKS, ON_LOAD, "seen to do its work: lit, pumping by hand and by float, heard")                \
    X(always_live, ALWAYS_LIVE, ON_LOAD, "stays fed when every switch is off, behind a fuse of its own")     \
    X(neutral_bonded, NEUTRAL_BONDED, ON_INVERTER | ON_GENERATOR,                                            \
      "measured: neutral and earth joined, there only")                                                      \
    X(rcd_tested, RCD_TESTED, ON_SHORE | ON_INVERTER | ON_GENERATOR,                                         \
      "an instrument tripped the residual-current device")                                                   \
    X(case_earthed, CASE_EARTHED, ON_INVERTER,                                                               \
      "its case is bonded by a conductor that can carry the DC fault")                                       \
    X(charger_kept_off, CHARGER_KEPT_OFF, ON_INVERTER, "it cannot feed the charger of its own bank")         \
    X(double_pole, DOUBLE_POLE, ON_SHORE, "first breaker opens both poles")                                  \
    X(breaker_sheathed, BREAKER_SHEATHED, ON_SHORE,                                                          \
      "cable from inlet to first breaker lies in conduit or sheath")                                         \
    X(polarity_lamp, POLARITY_LAMP, ON_SHORE, "reversed polarity shows, or every branch opens both poles")   \
    X(galvanic_isolator, GALVANIC_ISOLATOR, ON_SHORE, "one is fitted in the earth conductor")                \
    X(isolation_transformer, ISOLATION_TRANSFORMER, ON_SHORE, "one is fitted")                               \
    X(isolator_fail_safe, ISOLATOR_FAIL_SAFE, ON_SHORE,                                                      \
      "the galvanic isolator is in series and keeps the earth when it fails")                                \
    X(pins_dead, PINS_DEAD, ON_SHORE, "inlet pins measured dead on generator and on inverter")               \
    X(inlet_sound, INLET_SOUND, ON_SHORE, "inlet, lead and adaptors without marks of heat or corrosion")     \
    X(labelled, LABELLED, ON_PANEL, "every switch and breaker says what it feeds")                           \
    X(live_parts_covered, LIVE_PARTS_COVERED, ON_PANEL, "no live AC part can be touched without a tool")     \
    X(sockets_differ, SOCKETS_DIFFER, ON_PANEL, "AC and DC sockets do not take each other's plugs")          \
    X(spare_fuses, SPARE_FUSES, ON_PANEL, "one spare of every fuse is on board")                             \
    X(fuses_in_live, FUSES_IN_LIVE, ON_PANEL,                                                                \
      "fuses and single-pole breakers stand in the unearthed pole only")                                     \
    X(warning_label, WARNING_LABEL, ON_PANEL, "a sign at the AC panel warns of it")                          \
    X(diagram, DIAGRAM, ON_BOAT, "a wiring diagram of the boat as she is")                                   \
    X(cables_labelled, CABLES_LABELLED, ON_BOAT, "conductors named at both ends")                            \
    X(ac_dc_apart, AC_DC_APART, ON_BOAT, "AC and DC conductors in separate runs")                            \
    X(sources_interlocked, SOURCES_INTERLOCKED, ON_BOAT,                                                     \
      "AC sources cannot meet: a selector or interlock, not a label")                                        \
    X(insulation_record, INSULATION_RECORD, ON_BOAT, "a dated record of insulation and breaker tests")       \
    X(settings_record, SETTINGS_RECORD, ON_BOAT,                                                             \
      "settings of chargers, regulators and monitor are written down")                                       \
    X(petrol, PETROL, ON_BOAT, "petrol engine, tank or vapour may be in a space with electrics")             \
    X(ignition_protected, IGNITION_PROTECTED, ON_BOAT,                                                       \
      "electrics in such spaces are marked ignition protected")

enum seen_fact {
#define SEEN_ENUM(name, place, on, meaning) SEEN_##place,
    SEEN_FACTS(SEEN_ENUM)
#undef SEEN_ENUM
    SEEN_COUNT
};

/* Answers about one thing, one for each fact that can be asked of it. */
struct seen {
    const char *name; /* of a thing of the boat, or shore, panel, boat */
    int line;
    enum seen_word facts[SEEN_COUNT];
    struct range vent_area;        /* [m2] of a battery box, inlet and outlet each */
    struct range breaker_distance; /* [m] from the shore inlet to its first breaker */
};

enum { REST_BLOCKS = 32 };

/* Readings at one thing; unknown where nobody measured. They do not change
 * the boat: survey and hand-over compare. */
struct measured {
    const char *name;
    int line;
    struct range current;      /* [A] at its breaker or terminal while it runs */
    struct range volts;        /* [V] at the thing itself while it runs */
    struct range source_volts; /* [V] at the posts of its bank at that moment */
    struct range rest_volts[REST_BLOCKS]; /* [V] of each block, rested */
    size_t rest_count;
    struct range off_current;  /* [A] out of a bank with every switch off */
};

#endif

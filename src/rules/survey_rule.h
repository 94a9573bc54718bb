/* survey_rule.h - what a rule is, and what its test may use.
 * Layer: rules, for survey.c and survey_rules_*.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_SURVEY_RULE_H
#define BD_SURVEY_RULE_H

#include <stddef.h>

#include "base/arena.h"
#include "parts/cite.h"
#include "rules/survey.h"

/* Sets of rules, as bits; they may be asked together. */
enum {
    BY_CFR183 = 1 << RULES_CFR183,
    BY_ABYC = 1 << RULES_ABYC_E11,
    BY_ISO10133 = 1 << RULES_ISO10133,
    BY_ISO13297 = 1 << RULES_ISO13297,
    BY_ISO = BY_ISO10133 | BY_ISO13297,
    BY_ALL = BY_CFR183 | BY_ABYC | BY_ISO,
    BY_NONE = 0 /* a publication outside the sets */
};

/* Part of the installation that a rule is about; its words stand in survey.c. */
enum survey_area {
    AREA_BATTERIES,
    AREA_LITHIUM,
    AREA_PROTECTION,
    AREA_CONDUCTORS,
    AREA_CHARGING,
    AREA_INVERTER,
    AREA_AC,
    AREA_STARTING,
    AREA_VITAL,
    AREA_DOCUMENTS,
    AREA_MEASURED,
    AREAS
};

/* What a rule is held against: every thing of a kind, or one that every boat has. */
enum survey_subject {
    EACH_BANK,
    EACH_CABLE,
    EACH_LOAD,
    EACH_INVERTER,
    EACH_GENERATOR,
    EACH_ALTERNATOR,
    EACH_CHARGER,
    EACH_SOLAR,
    EACH_ENGINE,
    EACH_MEASURED,
    THE_SHORE,
    THE_PANEL,
    THE_BOAT,
    SUBJECTS
};

/* One place where a rule stands, and the limit it sets there. */
struct basis {
    unsigned sets; /* BY_ bits */
    struct cite cite;
    const char *limit; /* "at most 25 mm under 400 N ..."; NULL: none in figures */
};

enum { RULE_BASES = 4 };

struct survey_case;

/* A rule, as a row. Its numbers are the books': the test takes them from the rule set where sets differ,
 * else from its basis; a limit of our own says so. */
struct survey_rule {
    const char *id;
    const char *title;
    enum survey_area area;
    char priority; /* A, B, C */
    enum survey_subject of;
    /* Either a fact to be seen, with the texts of its yes and no, or a test. */
    int seen; /* enum seen_fact; NOT_SEEN where test decides */
    const char *good, *bad;
    int (*applies)(const struct survey_case *c); /* NULL: to every such thing */
    void (*test)(struct survey_case *c);
    const char *needs;  /* of a test: keys of the profile it waits for */
    const char *absent; /* why it may find nothing to be about; NULL: no such thing on board */
    const char *risk, *action;
    struct basis bases[RULE_BASES];
};

enum { NOT_SEEN = -1 };

/* A basis that is no publication. */
#define PRACTICE(what)                                                                                       \
    {                                                                                                        \
        BY_NONE, { "common practice", what, KNOWN_PRACTICE }, NULL                                           \
    }

/* One rule held against one thing. */
struct survey_case {
    struct arena *arena;
    const struct survey_input *input;
    const struct survey_rule *rule;
    const void *thing; /* struct bank, cable, load, ... ; the boat for THE_ subjects */
    const char *name;  /* of it; "shore", "panel", "boat" */
    char priority;     /* the rule's, unless the test changes it */
    enum survey_status verdict;
    const char *fact, *need;
    const char *ask;         /* need without the place; NULL: as need */
    const struct cite *cite; /* set by tests whose limit is a row of the rule set; NULL: of the bases */
    int failed;              /* 1: out of memory */
};

/*
 * The outcome of a test, with the fact and its figures; NULL is taken for want of memory.
 * case_not_verified: need is the one fact that would settle it, as a key of the profile; case_judge:
 * one of the first two by `complies`.
 */
void case_complies(struct survey_case *c, const char *fact);
void case_fails(struct survey_case *c, const char *fact);
void case_not_verified(struct survey_case *c, const char *fact, const char *need);
void case_judge(struct survey_case *c, int complies, const char *fact);

#define SAY(c, ...) arena_print((c)->arena, __VA_ARGS__)

/* BY_ bit of the set that judges; 0 for a set of the user's own. */
unsigned case_set(const struct survey_case *c);

/* The basis by the set that judges; else the first there is: never NULL, for every rule has one. */
const struct basis *case_basis(const struct survey_case *c);

/* 1 where nobody typed that key of that section: its value is a default, and no verdict may hang on it. */
int case_assumed(const struct survey_case *c, const char *kind, const char *name, const char *key);

/* What was seen of the present thing; SEEN_UNKNOWN where nobody looked. */
enum seen_word case_seen(const struct survey_case *c, enum seen_fact fact);

/* Words that tell what a thing is from its name, for text_holds. */
extern const char words_navigation_light[], words_bilge_pump[], words_starter[];

/* What the circuit found of a cable, a bank; NULL: nothing. */
const struct circuit_cable *case_cable(const struct survey_case *c, const char *name);
const struct circuit_bank *case_bank(const struct survey_case *c, const char *name);

/* What a load of that name should draw and lose, from expect_run; NULL: it is no load, or nothing was worked
 * out. */
const struct expected_load *case_expected(const struct survey_case *c, const char *name);

/* The first cable with an end of that name; NULL: none. */
const struct cable *cable_touching(const struct boat *boat, const char *name);

/* How a cable is protected, as far as known. */
enum protection { PROTECTION_UNKNOWN, PROTECTION_NONE, PROTECTION_UNRATED, PROTECTION_RATED };
struct protected_by {
    enum protection how;
    double rating_a; /* [A] with PROTECTION_RATED */
    int at_panel;    /* 1: the breaker of a load at the panel */
};
/* How a cable is protected, from the profile alone: its fuse, what was seen, the breaker of its load. */
struct protected_by cable_protection(const struct survey_case *c, const struct cable *cable);

/* 1 for the conductor of a cranking motor, which every set leaves without a fuse. */
int cable_cranks(const struct survey_case *c, const struct cable *cable);

/* 1 where an end of the cable is that kind of thing (enum seen_thing bits, ON_OTHER: solar panels). */
int cable_meets(const struct survey_case *c, const struct cable *cable, unsigned things);

/* 1 where nobody said the place and it may be the engine space: cables of alternators and starters. */
int cable_may_be_hot(const struct survey_case *c, const struct cable *cable);

/* Ampacity [A] of all conductors of a pole for an insulation rating [C], with the set's factors for its
 * place and bundle; 0 where the table has no such size. */
double cable_ampacity(const struct survey_case *c, const struct cable *cable, double insulation_c);

/* A scenario of the circuit in words: "all that may run at once", "while charging"; a kind of day is its own.
 */
const char *scenario_words(const char *scenario);

/* 1 where a device that the set allows on that cable is in it: an overload opens it. */
int cable_guarded(const struct survey_case *c, const struct cable *cable);

/* Ampacity as far as it can be known: low and high are alike where the jacket was read; else 60 C and 105 C.
 */
struct ampacity_band {
    double low_a, high_a;
    const char *need; /* what would narrow it */
    const char *why;  /* "75 C insulation", "insulation not read: 60 to 105 C" */
};
struct ampacity_band cable_ampacity_band(const struct survey_case *c, const struct cable *cable);

/* Reference as printed: publication, clause, how known. */
const char *cite_text(struct arena *arena, const struct cite *cite);

/* Tables, each ended by a row without id. */
extern const struct survey_rule rules_battery[], rules_protection[], rules_conductor[], rules_charging[],
    rules_ac[], rules_vital[], rules_measured[];

#endif

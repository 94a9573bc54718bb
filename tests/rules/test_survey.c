/* test_survey.c - one planted fault for every rule, its healthy twin, and the same with the fact left out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "engine/expect.h"
#include "profile/profile.h"
#include "rules/ruleset.h"
#include "rules/survey.h"
#include "support/run.h"

static const char healthy[] = "tests/rules/healthy.ini";

/* --- a profile with edits --- */

/* Where a line that begins with word starts, from `from` on, before `to`; NULL: nowhere. */
static char *line_at(char *from, const char *to, const char *word)
{
    for (char *at = from; at && at < to; at = strchr(at, '\n') ? strchr(at, '\n') + 1 : NULL)
        if (strncmp(at, word, strlen(word)) == 0)
            return at;
    return NULL;
}

/* Replaces length bytes at `at` of a text that has room. */
static void splice(char *at, size_t length, const char *with)
{
    memmove(at + strlen(with), at + length, strlen(at + length) + 1);
    memcpy(at, with, strlen(with));
}

/* "section|key|value": sets the key, or takes it out where value is "-". A section that is not there is
 * added; "section|-" takes one out. */
static void edit_one(char *text, const char *section, const char *key, const char *value)
{
    char head[96], line[160];
    char *at, *end, *found;

    snprintf(head, sizeof head, "[%s]", section);
    if (!line_at(text, text + strlen(text), head)) {
        strcat(text, "\n");
        strcat(text, head);
        strcat(text, "\n");
    }
    at = line_at(text, text + strlen(text), head);
    end = strstr(at + 1, "\n[");
    end = end ? end + 1 : text + strlen(text);
    if (strcmp(key, "-") == 0) {
        splice(at, (size_t)(end - at), "");
        return;
    }
    snprintf(line, sizeof line, "%s = ", key);
    found = line_at(at, end, line);
    line[0] = '\0';
    if (strcmp(value, "-") != 0)
        snprintf(line, sizeof line, "%s = %s\n", key, value);
    if (found)
        splice(found, (size_t)(strchr(found, '\n') + 1 - found), line);
    else if (strcmp(value, "-") != 0)
        splice(strchr(at, '\n') + 1, 0, line);
    else
        return; /* not there: taken out already */
}

/* Edits separated by ';'. Free the result. */
static char *edited(const char *edits)
{
    size_t length;
    char *file = file_contents(healthy, &length), *text = calloc(1, length + 4000), *copy = strdup(edits),
         *rest = copy, *one;

    assert_non_null(file);
    memcpy(text, file, length);
    while ((one = strsep(&rest, ";")) && *one) {
        const char *section = strsep(&one, "|"), *key = strsep(&one, "|");

        edit_one(text, section, key ? key : "-", one ? one : "-");
    }
    free(file);
    free(copy);
    return text;
}

/* --- a survey of it --- */

struct surveyed {
    struct arena *arena;
    struct diag_list *diags;
    const struct boat *boat;
    const struct survey *survey;
};

static struct surveyed survey_of(const char *edits, const char *set)
{
    struct surveyed s = { .arena = arena_new(), .diags = diag_list_new() };
    struct survey_input input = { 0 };
    char *text = edited(edits);
    int own;
    enum status status = profile_read_text(&s.boat, s.arena, "healthy.ini", text, strlen(text), s.diags);

    free(text);
    if (status == STATUS_OK) {
        input.boat = s.boat;
        input.rules = set ? ruleset_find(set, &own) : ruleset_get(s.boat->rules.set);
        if (s.boat->cable_count)
            status = circuit_run(&input.circuit, s.arena, s.boat, input.rules, NULL, s.diags);
    }
    if (status == STATUS_OK)
        status = expect_run(&input.expected, s.arena, s.boat, input.circuit, circuit_charge);
    if (status == STATUS_OK)
        status = survey_run(&s.survey, s.arena, &input);
    if (status != STATUS_OK)
        fail_msg("%s: status %d, %s, %s", edits, status, s.diags->count ? s.diags->items[0].message : "-",
                 s.diags->count && s.diags->items[0].hint ? s.diags->items[0].hint : "-");
    return s;
}

static void survey_free(struct surveyed *s)
{
    diag_list_free(s->diags);
    arena_free(s->arena);
}

static const struct finding *find_in(const struct finding *list, size_t count, const char *id,
                                     const char *place)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(list[i].id, id) == 0 && strcmp(list[i].place, place) == 0)
            return &list[i];
    return NULL;
}

/* NULL: the rule was not applicable there. */
static const struct finding *finding_at(const struct survey *s, const char *id, const char *place)
{
    const struct finding *f = find_in(s->findings, s->finding_count, id, place);

    return f ? f : find_in(s->complied, s->complied_count, id, place);
}

static int is_status(const struct survey *s, const char *id, const char *place, const char *status)
{
    const struct finding *f = finding_at(s, id, place);

    return status ? f && strcmp(f->status, status) == 0 : !f;
}

static const char fails[] = "does not comply", open[] = "not verified", complies[] = "complies";

/* --- one row for each rule --- */

/*
 * The healthy boat meets the rule there (twin NULL), or meets it after the edits of twin. `fault` plants the
 * fault, `missing` takes the fact away; NULL where the rule needs no fact that could be missing.
 */
struct planted {
    const char *id, *place, *fault, *missing, *twin;
};

static const struct planted planted[] = {
    { "BAT-01", "bank house", "seen house|secured|no", "seen house|secured|-", NULL },
    { "BAT-02", "bank start", "seen start|terminals_covered|no", "seen start|terminals_covered|unknown",
      NULL },
    { "BAT-03", "bank house", "seen house|clamps_sound|no", "seen house|clamps_sound|-", NULL },
    { "BAT-04", "bank house", "seen house|lugs_ordered|no", "seen house|lugs_ordered|-", NULL },
    { "BAT-05", "bank start", "seen start|fuel_clear|no", "seen start|fuel_clear|-", NULL },
    { "BAT-06", "bank start", "seen start|ventilated|no", "seen start|ventilated|-", NULL },
    { "BAT-07", "bank start", "seen start|vent_area|8 cm2", "seen start|vent_area|-", NULL },
    { "BAT-08", "bank start", "seen start|contained|no", "seen start|contained|-", NULL },
    { "BAT-09", "bank house", "seen house|dry|no", "seen house|dry|-", NULL },
    { "BAT-10", "bank house", "seen house|sound|no", "seen house|sound|-", NULL },
    { "BAT-11", "bank house", "seen house|isolator|no", "seen house|isolator|-", NULL },
    { "BAT-12", "bank house", "seen house|isolator_reachable|no", "seen house|isolator_reachable|-", NULL },
    { "BAT-13", "bank house", "bank house|max_discharge|100 A",
      "bank house|max_discharge|-;bank house|block_capacity|100 Ah", NULL },
    { "BAT-14", "bank house", "bank house|max_charge|150 A", "bank house|max_charge|-", NULL },
    { "BAT-15", "bank house",
      "bank house|wiring|same-end;bank house|link_resistance|1 mohm;bank house|internal_resistance|2 mohm",
      "bank house|wiring|-", NULL },
    { "BAT-16", "bank house", "seen house|same_blocks|no", "seen house|same_blocks|-", NULL },
    { "BAT-17", "bank house", "measured house|rest_volts|13.31 V, 13.05 V", "measured house|rest_volts|-",
      NULL },
    { "BAT-18", "bank start", "measured start|rest_volts|12.05 V", "measured start|rest_volts|-", NULL },
    { "BAT-19", "bank house", "bank house|health|70 %", "bank house|health|-", NULL },
    { "LIT-01", "bank house", "seen house|lithium_papers|no", "seen house|lithium_papers|-", NULL },
    { "LIT-02", "bank house", "seen house|disconnect_alarm|no", "seen house|disconnect_alarm|-", NULL },
    { "LIT-03", "bank house", "seen house|vital_supply|no", "seen house|vital_supply|-", NULL },
    { "LIT-04", "bank house", "seen house|cold_protected|no", "seen house|cold_protected|-", NULL },

    { "FUS-01", "cable inverter-feed", "cable inverter-feed|fuse|none", "cable inverter-feed|fuse|-", NULL },
    { "FUS-02", "cable inverter-feed", "cable inverter-feed|fuse_distance|0.25 m",
      "cable inverter-feed|fuse_distance|-", NULL },
    { "FUS-03", "cable bilge-port-run", "cable bilge-port-run|fuse|80 A breaker",
      "cable bilge-port-run|area|-", NULL },
    { "FUS-04", "cable bilge-port-run", "cable bilge-port-run|fuse|2 A breaker", NULL, NULL },
    { "FUS-05", "cable bilge-port-run",
      "cable bilge-port-run|fuse_interrupt|1 kA;cable bank-main|fuse_interrupt|1 kA",
      "cable bilge-port-run|fuse|10 A;cable bilge-port-run|fuse_interrupt|-", NULL },
    { "FUS-06", "cable cabin-run",
      "cable cabin-run|fuse|10 A blade;boat|dc_voltage|48 V;bank house|series|4;bank start|series|4;"
      "alternator alternator-port|regulated_voltage|57 V;alternator "
      "alternator-starboard|regulated_voltage|57 V;"
      "bank house|absorption_voltage|57 V;bank start|absorption_voltage|58 V;inverter inverter|cut_out|42 V",
      "cable cabin-run|fuse|10 A", NULL },
    { "FUS-07", "cable lights-run", "cable lights-run|fuse|40 A breaker;cable lights-run|area|1 mm2", NULL,
      NULL },
    { "FUS-08", "cable start-link", "seen start-link|fused_both_ends|no", "seen start-link|fused_both_ends|-",
      NULL },
    { "FUS-09", "charger charger", "cable charger-run|fuse|none", "cable charger-run|fuse|-", NULL },
    { "FUS-10", "alternator alternator-port", "cable alternator-port-run|fuse|none",
      "cable alternator-port-run|fuse|-", NULL },
    { "FUS-11", "solar roof", "cable solar-run|fuse|none", "cable solar-run|fuse|-", NULL },
    { "FUS-12", "alternator alternator-port", "cable alternator-port-run|fuse|50 A breaker",
      "cable alternator-port-run|fuse|-", NULL },
    { "FUS-13", "panel", "seen panel|fuses_in_live|no", "seen panel|fuses_in_live|-", NULL },
    { "FUS-14", "panel", "seen panel|spare_fuses|no", "seen panel|spare_fuses|-", NULL },

    { "CON-01", "cable cabin-run", "cable cabin-run|area|0.8 mm2", "cable cabin-run|area|-", NULL },
    { "CON-02", "cable inverter-feed", "cable inverter-feed|area|10 mm2",
      "cable inverter-feed|area|25 mm2;cable inverter-feed|insulation|-", NULL },
    { "CON-03", "cable lights-run", "load navigation-lights|power|340 W",
      "load navigation-lights|power|170 W;cable lights-run|insulation|-", NULL },
    { "CON-04", "cable alternator-port-run", "cable alternator-port-run|insulation|60 C",
      "cable alternator-port-run|insulation|-", NULL },
    { "CON-05", "cable lights-run", "cable lights-run|length|90 m", "cable lights-run|area|-", NULL },
    { "CON-06", "cable cabin-run", "cable cabin-run|length|60 m", "cable cabin-run|area|-", NULL },
    { "CON-07", "cable lights-run", "seen lights-run|stranded_copper|no", "seen lights-run|stranded_copper|-",
      NULL },
    { "CON-08", "cable lights-run", "seen lights-run|supports|no", "seen lights-run|supports|-", NULL },
    { "CON-09", "cable lights-run", "seen lights-run|chafe_protected|no", "seen lights-run|chafe_protected|-",
      NULL },
    { "CON-10", "cable lights-run", "seen lights-run|above_bilge|no", "seen lights-run|above_bilge|-", NULL },
    { "CON-11", "cable lights-run", "seen lights-run|joints_sound|no", "seen lights-run|joints_sound|-",
      NULL },
    { "CON-12", "cable bank-main", "seen bank-main|runs_equal|no", "seen bank-main|runs_equal|-", NULL },
    { "CON-13", "cable solar-run", "cable solar-run|return_area|1.5 mm2",
      "cable solar-run|return_area|4 mm2;cable solar-run|insulation|-", NULL },
    { "CON-14", "cable cabin-run", "cable cabin-run|area|14 SAE", NULL, "cable cabin-run|area|14 AWG" },
    { "CON-15", "boat", "seen boat|ac_dc_apart|no", "seen boat|ac_dc_apart|-", NULL },

    { "CHG-01", "alternator alternator-port", "alternator alternator-port|current_limit|95 A",
      "alternator alternator-port|current_limit|-", NULL },
    { "CHG-02", "alternator alternator-port", "seen alternator-port|disconnect_protected|no",
      "seen alternator-port|disconnect_protected|-", NULL },
    { "CHG-03", "bank house", "bank house|absorption_voltage|14.9 V", "bank house|absorption_voltage|-",
      NULL },
    { "CHG-04", "alternator alternator-port", "alternator alternator-port|regulated_voltage|13.6 V",
      "alternator alternator-port|regulated_voltage|-", NULL },
    { "CHG-05", "charger charger", "charger charger|current|20 A", NULL, NULL },
    { "CHG-06", "charger charger", "cable charger-run|length|12 m", "cable charger-run|area|-", NULL },
    { "CHG-07", "bank start", "seen start|temperature_sensed|no", "seen start|temperature_sensed|-", NULL },
    { "INV-01", "inverter inverter", "cable inverter-feed|area|25 mm2;inverter inverter|efficiency|80 %",
      "cable inverter-feed|area|35 mm2;cable inverter-feed|insulation|-", NULL },
    { "INV-02", "inverter inverter", "cable inverter-feed|fuse|125 A class-t", "cable inverter-feed|fuse|-",
      NULL },
    { "INV-03", "inverter inverter", "cable inverter-feed|joints|12 mohm;inverter inverter|cut_out|11.5 V",
      "cable inverter-feed|-;seen inverter-feed|-", NULL },
    { "INV-04", "inverter inverter", "inverter inverter|surge_power|9 kW;cable inverter-feed|joints|3 mohm",
      "cable inverter-feed|-;seen inverter-feed|-", NULL },
    { "INV-05", "inverter inverter", "inverter inverter|idle_power|40 W", "inverter inverter|idle_power|-",
      NULL },
    { "INV-06", "inverter inverter", "seen inverter|neutral_bonded|no", "seen inverter|neutral_bonded|-",
      NULL },
    { "INV-07", "inverter inverter", "seen inverter|rcd_tested|no", "seen inverter|rcd_tested|-", NULL },
    { "INV-08", "inverter inverter", "seen inverter|case_earthed|no", "seen inverter|case_earthed|-", NULL },
    { "INV-09", "inverter inverter", "seen inverter|charger_kept_off|no", "seen inverter|charger_kept_off|-",
      NULL },

    { "SHO-01", "shore inlet", "shore|current|6 A", NULL, NULL },
    { "SHO-02", "shore inlet", "seen shore|breaker_distance|2 m;seen shore|breaker_sheathed|no",
      "seen shore|breaker_distance|-", NULL },
    { "SHO-03", "shore inlet", "seen shore|double_pole|no", "seen shore|double_pole|-", NULL },
    { "SHO-04", "shore inlet", "seen shore|rcd_tested|no", "seen shore|rcd_tested|-", NULL },
    { "SHO-05", "shore inlet", "seen shore|polarity_lamp|no", "seen shore|polarity_lamp|-", NULL },
    { "SHO-06", "shore inlet", "seen shore|galvanic_isolator|no", "seen shore|galvanic_isolator|-", NULL },
    { "SHO-07", "shore inlet", "seen shore|isolator_fail_safe|no", "seen shore|isolator_fail_safe|-", NULL },
    { "SHO-08", "shore inlet", "seen shore|pins_dead|no", "seen shore|pins_dead|-", NULL },
    { "SHO-09", "shore inlet", "seen shore|inlet_sound|no", "seen shore|inlet_sound|-", NULL },
    { "ACS-01", "boat", "seen boat|sources_interlocked|no", "seen boat|sources_interlocked|-", NULL },
    { "ACS-02", "generator genset", "seen genset|neutral_bonded|no", "seen genset|neutral_bonded|-", NULL },
    { "ACS-03", "generator genset", "seen genset|rcd_tested|no", "seen genset|rcd_tested|-", NULL },
    { "ACS-04", "panel", "seen panel|live_parts_covered|no", "seen panel|live_parts_covered|-", NULL },
    { "ACS-05", "panel", "seen panel|sockets_differ|no", "seen panel|sockets_differ|-", NULL },
    { "ACS-06", "panel", "seen panel|warning_label|no", "seen panel|warning_label|-", NULL },

    { "STA-01", "boat", "bank start|role|bow", NULL, NULL },
    { "STA-02", "bank start", "dcdc start-relay|-;cable start-link|-;seen start-link|-", NULL, NULL },
    { "STA-03", "load starter-port", "cable starter-port-run|joints|11 mohm",
      "cable starter-port-run|-;seen starter-port-run|-", NULL },
    { "STA-04", "load starter-starboard", "load starter-starboard|current|500 A",
      "bank house|max_discharge|-", NULL },
    { "STA-05", "engine port", "seen port|isolator_reachable|no", "seen port|isolator_reachable|-", NULL },
    { "VIT-01", "load navigation-lights", "cable lights-run|length|90 m",
      "cable lights-run|to|masthead;load navigation-lights|node|masthead;"
      "seen navigation-lights|works|yes",
      NULL },
    { "VIT-02", "load navigation-lights", "seen navigation-lights|works|no", "seen navigation-lights|works|-",
      NULL },
    { "VIT-03", "load bilge-pump-port", "cable bilge-port-run|length|40 m;cable bilge-port-run|area|2.5 mm2",
      "load bilge-pump-port|node|sump;cable bilge-port-run|to|sump", NULL },
    { "VIT-04", "load bilge-pump-port", "seen bilge-pump-port|works|no", "seen bilge-pump-port|works|-",
      NULL },
    { "VIT-05", "load bilge-pump-port", "seen bilge-pump-port|always_live|no",
      "seen bilge-pump-port|always_live|-", NULL },
    { "VIT-06", "boat",
      "load bilge-pump-port|-;seen bilge-pump-port|-;cable bilge-port-run|-;seen bilge-port-run|-", NULL,
      NULL },
    { "VIT-07", "boat", "seen boat|ignition_protected|no", "seen boat|petrol|-", NULL },
    { "DOC-01", "boat", "seen boat|diagram|no", "seen boat|diagram|-", NULL },
    { "DOC-02", "panel", "seen panel|labelled|no", "seen panel|labelled|-", NULL },
    { "DOC-03", "boat", "seen boat|cables_labelled|no", "seen boat|cables_labelled|-", NULL },
    { "DOC-04", "boat", "seen boat|insulation_record|no", "seen boat|insulation_record|-", NULL },
    { "DOC-05", "boat", "seen boat|settings_record|no", "seen boat|settings_record|-", NULL },

    { "MEA-01", "cabin-lights", "measured cabin-lights|current|9 A", NULL, NULL },
    { "MEA-02", "cabin-lights", "measured cabin-lights|volts|11.5 V",
      "cable cabin-run|to|saloon;load cabin-lights|node|saloon", NULL },
    { "MEA-03", "house", "measured house|off_current|0.9 A", NULL, NULL },
};

enum { PLANTED = sizeof planted / sizeof planted[0] };

TEST(the_twin_is_healthy)
{
    struct surveyed s = survey_of("", NULL);

    for (size_t i = 0; i < s.survey->finding_count; i++)
        print_error("%s %s: %s\n", s.survey->findings[i].id, s.survey->findings[i].place,
                    s.survey->findings[i].fact);
    assert_int_equal(s.survey->finding_count, 0);
    assert_true(s.survey->passes);
    survey_free(&s);
}

static void want(const struct planted *p, const char *edits, const char *status)
{
    struct surveyed s = survey_of(edits, NULL);
    const struct finding *f = finding_at(s.survey, p->id, p->place);

    if (!is_status(s.survey, p->id, p->place, status)) {
        print_error("%s at %s after %s: %s, wanted %s (%s)\n", p->id, p->place, edits,
                    f ? f->status : "not applicable", status ? status : "not applicable", f ? f->fact : "");
        row_check(p->id, 1, 0, 0, "by hand: planted");
    } else {
        row_check(p->id, 0, 0, 0, "by hand: planted");
    }
    survey_free(&s);
}

TEST(every_rule_fires_on_its_fault)
{
    for (size_t i = 0; i < PLANTED; i++)
        want(&planted[i], planted[i].fault, fails);
    row_done();
}

TEST(every_rule_is_quiet_on_the_twin)
{
    for (size_t i = 0; i < PLANTED; i++)
        want(&planted[i], planted[i].twin ? planted[i].twin : "", planted[i].twin ? NULL : complies);
    row_done();
}

TEST(every_rule_says_what_is_missing)
{
    for (size_t i = 0; i < PLANTED; i++)
        if (planted[i].missing)
            want(&planted[i], planted[i].missing, open);
    row_done();
}

TEST(every_rule_has_its_row)
{
    struct arena *arena = arena_new();
    size_t count;
    const struct survey_rule_row *rows = survey_rule_rows(arena, &count);

    assert_true(count >= 45);
    for (size_t i = 0; i < count; i++) {
        size_t n = 0;

        for (size_t k = 0; k < PLANTED; k++)
            n += strcmp(planted[k].id, rows[i].id) == 0;
        if (n != 1)
            fail_msg("%s has %zu planted faults", rows[i].id, n);
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(rows[i].id, rows[k].id);
        assert_true(*rows[i].needs && *rows[i].risk && *rows[i].action && *rows[i].reference &&
                    *rows[i].title);
    }
    arena_free(arena);
}

/* --- what every finding must have --- */

/* 1 where a number of the text stands without a unit: what follows it is a word of the table, or it is part
 * of a name. */
static const char *bare_number(const char *text)
{
    static const char *const units[] = { "A",      "V",       "N",     "W",    "Wh",         "Ah",
                                         "VA",     "mm",      "mm2",   "cm2",  "m",          "%",
                                         "C",      "mohm",    "s",     "kA",   "engine",     "engines",
                                         "start",  "strings", "bilge", "fuel", "conductors", "degrees",
                                         "blocks", "mA",      "ms" };

    for (const char *at = text; *at; at++) {
        size_t digits, i = 0;
        const char *after;

        if (!isdigit((unsigned char)*at))
            continue;
        digits = strspn(at, "0123456789.");
        if (at > text && (isalpha((unsigned char)at[-1]) || at[-1] == '-')) { /* "mm2", "port-2" */
            at += digits - 1;
            continue;
        }
        after = at + digits;
        if (*after == ' ')
            after++;
        for (; i < sizeof units / sizeof units[0]; i++) {
            const size_t n = strlen(units[i]);

            if (strncmp(after, units[i], n) == 0 && !isalnum((unsigned char)after[n]))
                break;
        }
        if (i == sizeof units / sizeof units[0])
            return at;
        at += digits - 1;
    }
    return NULL;
}

static void walk(const struct finding *list, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct finding *f = &list[i];
        const char *bare = bare_number(f->fact);

        if (bare && strncmp(f->id, "BAT-18", 6) != 0 && strncmp(f->id, "CON-14", 6) != 0)
            fail_msg("%s %s: no unit behind \"%.12s\" in: %s", f->id, f->place, bare, f->fact);
        if (!*f->reference || !*f->fact || !*f->risk || !*f->action || !*f->place || !*f->area)
            fail_msg("%s %s: something is empty", f->id, f->place);
        if (!strchr("ABC", f->priority[0]) || f->priority[1])
            fail_msg("%s: priority %s", f->id, f->priority);
        if ((strcmp(f->status, open) == 0) != (*f->need != 0))
            fail_msg("%s %s: status %s and need \"%s\"", f->id, f->place, f->status, f->need);
        if (!strstr(f->reference, "(read)") && !strstr(f->reference, "(quoted)") &&
            !strstr(f->reference, "(from memory)") && !strstr(f->reference, "(calculated)") &&
            !strstr(f->reference, "common practice"))
            fail_msg("%s: how its reference is known is not said: %s", f->id, f->reference);
    }
}

static void walk_sorted(const struct survey *s)
{
    for (size_t i = 1; i < s->finding_count; i++) {
        const struct finding *a = &s->findings[i - 1], *b = &s->findings[i];

        assert_true(a->verdict < b->verdict ||
                    (a->verdict == b->verdict && a->priority[0] <= b->priority[0]));
    }
}

TEST(all_findings_stand_alone)
{
    static const char *const sets[] = { "cfr183", "abyc-e11", "iso10133", "iso13297" };

    for (size_t k = 0; k < 4; k++)
        for (size_t i = 0; i < PLANTED; i++) {
            struct surveyed s = survey_of(planted[i].fault, sets[k]);

            walk(s.survey->findings, s.survey->finding_count);
            walk(s.survey->complied, s.survey->complied_count);
            walk_sorted(s.survey);
            survey_free(&s);
        }
}

TEST(counts_add_up_and_only_an_a_fails_the_boat)
{
    struct surveyed s = survey_of("seen house|secured|no;seen boat|diagram|no;seen shore|rcd_tested|-", NULL);

    assert_int_equal(s.survey->standing, 2);
    assert_int_equal(s.survey->finding_count, 3);
    assert_int_equal(s.survey->counts[0].fails, 1);
    assert_int_equal(s.survey->counts[0].not_verified, 1);
    assert_int_equal(s.survey->counts[2].fails, 1);
    assert_false(s.survey->passes);
    assert_int_equal(s.survey->gap_count, 1);
    assert_non_null(strstr(s.survey->gaps[0].text, "rcd_tested"));
    survey_free(&s);
    s = survey_of("seen boat|diagram|no", NULL);
    assert_true(s.survey->passes);
    survey_free(&s);
    s = survey_of("seen boat|diagram|no;rules|strictness|strict", NULL);
    assert_string_equal(finding_at(s.survey, "DOC-01", "boat")->priority, "B");
    survey_free(&s);
}

/* --- the sets against one another, and against what is printed of them --- */

struct by_set {
    const char *label, *id, *place, *edits;
    const char *status[4]; /* cfr183, abyc-e11, iso10133, iso13297; NULL: not applicable */
    const char *source;
};

#define RUN_AWG10 "cable cabin-run|area|10 AWG;cable cabin-run|insulation|105 C;"

static const struct by_set by_sets[] = {
    { "90 A on 10 AWG, 105 C: 150 % of 60 A",
      "FUS-03",
      "cable cabin-run",
      RUN_AWG10 "cable cabin-run|fuse|90 A breaker",
      { complies, fails, fails, fails },
      "33 CFR 183.455(c)(1), 183.425 Table 5: 60 A" },
    { "100 A on 10 AWG: over 150 %",
      "FUS-03",
      "cable cabin-run",
      RUN_AWG10 "cable cabin-run|fuse|100 A breaker",
      { fails, fails, fails, fails },
      "33 CFR 183.455(c)(1)" },
    { "60 A on 10 AWG",
      "FUS-03",
      "cable cabin-run",
      RUN_AWG10 "cable cabin-run|fuse|60 A breaker",
      { complies, complies, fails, fails },
      "33 CFR 183.425 Table 5; ISO interpolates 4 and 6 mm2 to under 60 A" },
    { "76 A on 10 AWG in the engine space: 150 % of 51 A",
      "FUS-03",
      "cable cabin-run",
      RUN_AWG10 "cable cabin-run|place|engine;cable cabin-run|fuse|75 A breaker",
      { complies, fails, fails, fails },
      "33 CFR 183.425(c), note 1: 60 x 0.85 = 51 A, 76.5 A" },
    { "80 A on 10 AWG in the engine space",
      "FUS-03",
      "cable cabin-run",
      RUN_AWG10 "cable cabin-run|place|engine;cable cabin-run|fuse|80 A breaker",
      { fails, fails, fails, fails },
      "33 CFR 183.425(c), note 1" },
    { "7 inches",
      "FUS-02",
      "cable cabin-run",
      "cable cabin-run|fuse_distance|7 in",
      { complies, complies, complies, complies },
      "33 CFR 183.455(b)" },
    { "8 inches, not sheathed",
      "FUS-02",
      "cable cabin-run",
      "cable cabin-run|fuse_distance|8 in",
      { fails, fails, fails, fails },
      "33 CFR 183.455(b); ISO 200 mm" },
    { "190 mm",
      "FUS-02",
      "cable cabin-run",
      "cable cabin-run|fuse_distance|190 mm",
      { fails, fails, complies, complies },
      "33 CFR 183.455(b): 178 mm; ISO 10133:2012 8.1: 200 mm" },
    { "40 inches in a sheath",
      "FUS-02",
      "cable cabin-run",
      "cable cabin-run|fuse_distance|40 in;cable cabin-run|sheathed|yes",
      { complies, complies, complies, complies },
      "33 CFR 183.455(b)" },
    { "41 inches in a sheath",
      "FUS-02",
      "cable cabin-run",
      "cable cabin-run|fuse_distance|41 in;cable cabin-run|sheathed|yes",
      { fails, fails, complies, complies },
      "33 CFR 183.455(b)" },
    { "72 inches from a battery",
      "FUS-02",
      "cable bank-main",
      "cable bank-main|length|2 m;cable bank-main|fuse_distance|72 in",
      { complies, fails, fails, fails },
      "33 CFR 183.460(a)" },
    { "73 inches from a battery",
      "FUS-02",
      "cable bank-main",
      "cable bank-main|length|2 m;cable bank-main|fuse_distance|73 in",
      { fails, fails, fails, fails },
      "33 CFR 183.460(a)" },
    { "72 inches from a battery, sheathed",
      "FUS-02",
      "cable bank-main",
      "cable bank-main|length|2 m;cable bank-main|fuse_distance|72 in;cable bank-main|sheathed|yes",
      { complies, complies, complies, complies },
      "ABYC E-11: 72 inches in a sheath" },
    { "16 AWG alone",
      "CON-01",
      "cable cabin-run",
      "cable cabin-run|area|16 AWG",
      { complies, complies, complies, complies },
      "33 CFR 183.425(d)" },
    { "18 AWG alone",
      "CON-01",
      "cable cabin-run",
      "cable cabin-run|area|18 AWG",
      { fails, fails, fails, fails },
      "33 CFR 183.425(d), (e)" },
    { "18 AWG in a sheath",
      "CON-01",
      "cable cabin-run",
      "cable cabin-run|area|18 AWG;cable cabin-run|sheathed|yes",
      { complies, complies, complies, complies },
      "33 CFR 183.425(d), (e)" },
    { "1 mm2 alone",
      "CON-01",
      "cable cabin-run",
      "cable cabin-run|area|1 mm2",
      { fails, fails, complies, complies },
      "ISO 10133:2012 7.7" },
    { "breaker 2 m from the inlet, open",
      "SHO-02",
      "shore inlet",
      "seen shore|breaker_distance|2 m;seen shore|breaker_sheathed|no",
      { complies, complies, fails, fails },
      "ISO 13297:2020 13.2: 0.5 m" },
    { "bilge pump at 5 %",
      "VIT-03",
      "load bilge-pump-port",
      "cable bilge-port-run|length|24 m",
      { complies, complies, fails, fails },
      "ISO 10133:2012 4.8 counts bilge pumps, ABYC E-11 as quoted does not" },
    { "drop has no limit in the law",
      "CON-06",
      "cable cabin-run",
      "cable cabin-run|length|60 m",
      { NULL, fails, fails, fails },
      "33 CFR 183 sets none" },
};

TEST(the_sets_judge_as_printed)
{
    static const char *const sets[] = { "cfr183", "abyc-e11", "iso10133", "iso13297" };

    for (size_t i = 0; i < sizeof by_sets / sizeof by_sets[0]; i++)
        for (size_t k = 0; k < 4; k++) {
            const struct by_set *row = &by_sets[i];
            struct surveyed s = survey_of(row->edits, sets[k]);
            const struct finding *f = finding_at(s.survey, row->id, row->place);
            const int ok = is_status(s.survey, row->id, row->place, row->status[k]);

            if (!ok)
                print_error("%s by %s: %s (%s)\n", row->label, sets[k], f ? f->status : "not applicable",
                            f ? f->fact : "");
            row_check(row->label, ok, 1, 0, row->source);
            survey_free(&s);
        }
    row_done();
}

TEST(side_by_side_shows_only_what_differs)
{
    static const enum rule_set_id ids[] = { RULES_CFR183, RULES_ABYC_E11, RULES_ISO10133, RULES_ISO13297 };
    struct surveyed s = survey_of("cable cabin-run|fuse_distance|190 mm", NULL);
    struct survey_input inputs[4];
    const struct survey_contrast *contrast;
    size_t found = 0;

    for (size_t k = 0; k < 4; k++) {
        inputs[k] = (struct survey_input){ .boat = s.boat, .rules = ruleset_get(ids[k]) };
        assert_int_equal(circuit_run(&inputs[k].circuit, s.arena, s.boat, inputs[k].rules, NULL, s.diags),
                         STATUS_OK);
        assert_int_equal(expect_run(&inputs[k].expected, s.arena, s.boat, inputs[k].circuit, circuit_charge),
                         STATUS_OK);
    }
    assert_int_equal(survey_contrast_run(&contrast, s.arena, inputs, 4), STATUS_OK);
    for (size_t i = 0; i < contrast->row_count; i++) {
        const struct survey_contrast_row *row = &contrast->rows[i];

        assert_false(strncmp(row->verdicts[0], row->verdicts[1], 15) == 0 &&
                     strncmp(row->verdicts[1], row->verdicts[2], 15) == 0 &&
                     strncmp(row->verdicts[2], row->verdicts[3], 15) == 0);
        found += strcmp(row->id, "FUS-02") == 0 && strcmp(row->place, "cable cabin-run") == 0 &&
                 strncmp(row->verdicts[0], fails, strlen(fails)) == 0 &&
                 strncmp(row->verdicts[3], complies, strlen(complies)) == 0;
    }
    assert_int_equal(found, 1);
    assert_true(contrast->alike > 100);
    assert_int_equal(contrast->standing_a[0], 1);
    assert_int_equal(contrast->standing_a[3], 0);
    assert_false(contrast->passes);
    survey_free(&s);
}

/* --- what was measured comes back --- */

/* Overloaded and unguarded is A; with a device that opens before the cable burns it is B. */
TEST(an_overload_behind_the_right_fuse_is_not_urgent)
{
    struct surveyed s = survey_of("cable inverter-feed|area|10 mm2", NULL);

    assert_string_equal(finding_at(s.survey, "CON-02", "cable inverter-feed")->priority, "A");
    survey_free(&s);
    s = survey_of("cable inverter-feed|area|10 mm2;cable inverter-feed|fuse|80 A breaker", NULL);
    assert_string_equal(finding_at(s.survey, "CON-02", "cable inverter-feed")->status, fails);
    assert_string_equal(finding_at(s.survey, "CON-02", "cable inverter-feed")->priority, "B");
    survey_free(&s);
}

/* What a cable of unread size loses is not known, whatever size the program would give it. */
TEST(a_path_of_unread_size_is_not_judged)
{
    static const struct {
        const char *id, *place, *edits;
    } unread[] = {
        { "VIT-01", "load navigation-lights", "cable lights-run|area|-" },
        { "VIT-01", "load navigation-lights", "cable panel-feed|area|-" },
        { "VIT-03", "load bilge-pump-port", "cable bilge-port-run|area|-" },
        { "STA-03", "load starter-port", "cable starter-port-run|area|-" },
        { "MEA-02", "cabin-lights", "cable cabin-run|area|-" },
        { "INV-03", "inverter inverter", "cable inverter-feed|area|-" },
        { "INV-04", "inverter inverter", "cable bank-main|area|-" },
    };

    for (size_t i = 0; i < sizeof unread / sizeof *unread; i++) {
        struct surveyed s = survey_of(unread[i].edits, NULL);

        if (!is_status(s.survey, unread[i].id, unread[i].place, open))
            fail_msg("%s %s is judged with %s", unread[i].id, unread[i].place, unread[i].edits);
        survey_free(&s);
    }
}

/* The breaker of one load of a panel protects its way, not the feeder of all of them. */
TEST(a_breaker_of_a_load_is_no_fuse_of_its_feeder)
{
    static const char feeder[] = "cable panel-feed|fuse|-;load microwave|supply|dc;load microwave|breaker|10 A;"
                                 "load microwave|node|panel";
    struct surveyed s = survey_of(feeder, NULL);

    assert_true(is_status(s.survey, "FUS-01", "cable panel-feed", open));
    assert_false(is_status(s.survey, "FUS-04", "cable panel-feed", fails));
    survey_free(&s);
    s = survey_of("cable cabin-run|fuse|-;load cabin-lights|breaker|10 A", NULL);
    assert_true(is_status(s.survey, "FUS-01", "cable cabin-run", complies));
    survey_free(&s);
}

/* A place that nobody gave is not taken as cool where an alternator's cable may well run hot. */
TEST(a_place_not_said_is_not_taken_as_cool)
{
    struct surveyed s =
        survey_of("cable alternator-port-run|place|-;cable alternator-port-run|area|16 mm2", NULL);
    const struct finding *f = finding_at(s.survey, "FUS-03", "cable alternator-port-run");

    /* 110 A on 16 mm2 of 105 C: 130 A in the cabin, 111.8 A in the engine space: both do */
    assert_string_equal(f->status, complies);
    survey_free(&s);
    s = survey_of("cable alternator-port-run|place|-;cable alternator-port-run|area|16 mm2;cable "
                  "alternator-port-run|fuse|125 A class-t",
                  NULL);
    f = finding_at(s.survey, "FUS-03", "cable alternator-port-run");
    assert_string_equal(f->status, open);
    assert_non_null(strstr(f->need, "place"));
    survey_free(&s);
    s = survey_of("cable cabin-run|place|-", NULL);
    assert_string_equal(finding_at(s.survey, "FUS-03", "cable cabin-run")->status, complies);
    survey_free(&s);
}

TEST(excess_drop_becomes_milliohms)
{
    /* 2.4 A, 13.2 V at the posts, 12.0 V at the lamp. The path is panel-feed, bank-main and 6 m of 2.5 mm2
     * out and back, under 0.12 ohm; so the joints hold 1.2 V / 2.4 A = 500 mohm less that. */
    struct surveyed s = survey_of("measured cabin-lights|volts|12.0 V", NULL);
    const struct finding *f = finding_at(s.survey, "MEA-02", "cabin-lights");
    const char *excess;

    assert_non_null(f);
    assert_string_equal(f->status, fails);
    excess = strstr(f->fact, ": ");
    assert_non_null(excess);
    row_check("excess [mohm]", strtod(excess + 2, NULL), 500 - 115, 25, "by hand");
    survey_free(&s);
    row_done();
}

/* survey.c - holds every rule against every thing it is about, and sorts what comes out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/survey.h"

#include <string.h>

#include "rules/survey_rule.h"

/*
 * rules x things = cases. Each case is judged by the rule's test, or by what somebody saw, and becomes a
 * finding; a rule that found nothing to be about is listed as absent, with the reason. Then findings are
 * sorted by verdict and priority, counted, and grouped, so that forty cables without a known fuse are one
 * line of what to look at.
 *
 * The contrast runs the same rules by each shipped set, and keeps what they judge differently.
 */

/* --- the table --- */

static const struct survey_rule *const tables[] = { rules_battery,  rules_protection, rules_conductor,
                                                    rules_charging, rules_ac,         rules_vital,
                                                    rules_measured };

static const char *const area_names[AREAS] = {
    [AREA_BATTERIES] = "batteries",
    [AREA_LITHIUM] = "lithium",
    [AREA_PROTECTION] = "DC protection",
    [AREA_CONDUCTORS] = "conductors",
    [AREA_CHARGING] = "charging",
    [AREA_INVERTER] = "inverter",
    [AREA_AC] = "shore and AC",
    [AREA_STARTING] = "starting",
    [AREA_VITAL] = "lights and bilge pumps",
    [AREA_DOCUMENTS] = "documents",
    [AREA_MEASURED] = "measurement",
};

static const char *const subject_names[SUBJECTS] = {
    [EACH_BANK] = "each bank",
    [EACH_CABLE] = "each cable",
    [EACH_LOAD] = "each load",
    [EACH_INVERTER] = "each inverter",
    [EACH_GENERATOR] = "each generator",
    [EACH_ALTERNATOR] = "each alternator",
    [EACH_CHARGER] = "each charger",
    [EACH_SOLAR] = "each array",
    [EACH_ENGINE] = "each engine",
    [EACH_MEASURED] = "each measurement",
    [THE_SHORE] = "the shore supply",
    [THE_PANEL] = "the panel",
    [THE_BOAT] = "the boat",
};

/* How many rules there are; a rule's number is its place in the tables as they stand above. */
static size_t rule_total(void)
{
    size_t n = 0;

    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++)
        for (const struct survey_rule *rule = tables[t]; rule->id; rule++)
            n++;
    return n;
}

/* --- things --- */

/* An array of some kind of thing, or the one there is. */
struct things {
    const void *first;
    size_t count, size;
    const char *kind, *fixed; /* fixed: the name of a thing there is one of */
};

/* What a rule of that subject is held against, in the order of the profile.
 * Count 0: nothing, the rule is absent. */
static struct things things_of(const struct boat *b, enum survey_subject of)
{
    switch (of) {
    case EACH_BANK:
        return (struct things){ b->banks, b->bank_count, sizeof *b->banks, "bank", NULL };
    case EACH_CABLE:
        return (struct things){ b->cables, b->cable_count, sizeof *b->cables, "cable", NULL };
    case EACH_LOAD:
        return (struct things){ b->loads, b->load_count, sizeof *b->loads, "load", NULL };
    case EACH_INVERTER:
        return (struct things){ b->inverters, b->inverter_count, sizeof *b->inverters, "inverter", NULL };
    case EACH_GENERATOR:
        return (struct things){ b->generators, b->generator_count, sizeof *b->generators, "generator", NULL };
    case EACH_ALTERNATOR:
        return (struct things){ b->alternators, b->alternator_count, sizeof *b->alternators, "alternator",
                                NULL };
    case EACH_CHARGER:
        return (struct things){ b->chargers, b->charger_count, sizeof *b->chargers, "charger", NULL };
    case EACH_SOLAR:
        return (struct things){ b->solars, b->solar_count, sizeof *b->solars, "solar", NULL };
    case EACH_ENGINE:
        return (struct things){ b->engines, b->engine_count, sizeof *b->engines, "engine", NULL };
    case EACH_MEASURED:
        return (struct things){ b->measureds, b->measured_count, sizeof *b->measureds, "", NULL };
    case THE_SHORE:
        return (struct things){ b, b->shore.fitted ? 1 : 0, 0, "", "shore" };
    case THE_PANEL:
        return (struct things){ b, 1, 0, "", "panel" };
    case THE_BOAT:
    case SUBJECTS:
        break;
    }
    return (struct things){ b, 1, 0, "", "boat" };
}

/* The case before the rule has looked at it: not applicable until a test says something else. */
static struct survey_case case_make(struct arena *arena, const struct survey_input *input,
                                    const struct survey_rule *rule, const struct things *things, size_t i)
{
    struct survey_case c = { .arena = arena,
                             .input = input,
                             .rule = rule,
                             .priority = rule->priority,
                             .verdict = SURVEY_NOT_APPLICABLE,
                             .fact = "",
                             .need = "" };

    c.thing = (const char *)things->first + i * things->size;
    c.name = things->fixed;
    if (!c.name)
        memcpy(&c.name, c.thing, sizeof c.name); /* every named thing begins with its name */
    return c;
}

/* "cable windlass", "shore inlet": as a person would look for it on board. */
static const char *place_of(const struct survey_case *c, const struct things *things)
{
    if (things->fixed && strcmp(things->fixed, "shore") == 0)
        return "shore inlet";
    return *things->kind ? SAY(c, "%s %s", things->kind, c->name) : c->name;
}

/* --- one rule, one thing --- */

/* What a person would have to look at, here and elsewhere. */
static void not_seen(struct survey_case *c, enum seen_fact fact)
{
    c->ask = SAY(c, "%s: %s?", seen_name(fact), seen_meaning(fact));
    c->failed |= !c->ask;
    case_not_verified(c, "not looked at, or not reported",
                      SAY(c, "[seen %s] %s: %s?", c->name, seen_name(fact), seen_meaning(fact)));
}

/* The fact, and behind it the limit of the clause where that is a figure. */
static const char *with_limit(const struct survey_case *c, const char *fact)
{
    const struct basis *basis = case_basis(c);

    return basis->limit ? SAY(c, "%s; wanted: %s", fact, basis->limit) : fact;
}

/* A rule that a yes or no settles. Unknown is not verified, whatever is likely. */
static void test_seen(struct survey_case *c)
{
    const enum seen_fact fact = (enum seen_fact)c->rule->seen;

    switch (case_seen(c, fact)) {
    case SEEN_YES:
        case_complies(c, c->rule->good);
        break;
    case SEEN_NO:
        case_fails(c, with_limit(c, c->rule->bad));
        break;
    case SEEN_UNKNOWN:
        not_seen(c, fact);
    }
}

/* A rule without a test is one that only eyes can settle. */
static void case_run(struct survey_case *c)
{
    if (c->rule->applies && !c->rule->applies(c))
        return;
    if (c->rule->test)
        c->rule->test(c);
    else
        test_seen(c);
}

/* --- texts of a finding --- */

/* The clause of the set that judges, or those of other books, said so. */
static const char *reference(const struct survey_case *c)
{
    const struct basis *basis = case_basis(c);
    const unsigned set = case_set(c);
    const char *text;

    if (c->cite && c->cite->publication)
        return cite_text(c->arena, c->cite);
    text = cite_text(c->arena, &basis->cite);
    if (!text || (basis->sets & set) || basis->sets == BY_NONE)
        return text;
    return SAY(c, "%s; no clause of %s is known here", text, c->input->rules->name);
}

static const char *priority_text(char priority)
{
    return priority == 'A' ? "A" : priority == 'B' ? "B" : "C";
}

static const char *status_text_of(enum survey_status status)
{
    static const char *const texts[] = { [SURVEY_FAILS] = "does not comply",
                                         [SURVEY_NOT_VERIFIED] = "not verified",
                                         [SURVEY_COMPLIES] = "complies",
                                         [SURVEY_NOT_APPLICABLE] = "not applicable" };

    return texts[status];
}

/* strictness = strict: advice counts as requirement. */
static char priority_of(const struct survey_case *c)
{
    return c->input->boat->rules.strict && c->priority == 'C' ? 'B' : c->priority;
}

/* What is kept of a case. number: the rule's. */
static struct finding finding_of(struct survey_case *c, const struct things *things, size_t number)
{
    struct finding f = { .id = c->rule->id,
                         .priority = priority_text(priority_of(c)),
                         .area = area_names[c->rule->area],
                         .place = place_of(c, things),
                         .fact = c->fact,
                         .risk = c->rule->risk,
                         .action = c->rule->action,
                         .reference = reference(c),
                         .status = status_text_of(c->verdict),
                         .need = c->need,
                         .ask = c->ask ? c->ask : c->need,
                         .title = c->rule->title,
                         .verdict = c->verdict,
                         .rule = number };

    c->failed |= !f.place || !f.reference;
    return f;
}

/* --- the run --- */

/* One run by one set: every finding of every verdict, and the rules that found nothing. */
struct survey_work {
    struct arena *arena;
    const struct survey_input *input;
    struct finding *all;
    size_t count, room;
    struct survey_absent *absents;
    size_t absent_count, absent_room;
    int failed;
};

/* One case judged, in the order of rules and things; sorted when all are there. */
static void keep(struct survey_work *w, struct finding finding)
{
    void *items = w->all;
    struct finding *slot = arena_push(w->arena, &items, &w->count, &w->room, sizeof *slot);

    w->all = items;
    if (slot)
        *slot = finding;
    else
        w->failed = 1;
}

/* A rule that met nothing: its title, and why the boat gives it nothing to judge. */
static void keep_absent(struct survey_work *w, const struct survey_rule *rule)
{
    void *items = w->absents;
    struct survey_absent *slot =
        arena_push(w->arena, &items, &w->absent_count, &w->absent_room, sizeof *slot);

    w->absents = items;
    if (slot)
        *slot = (struct survey_absent){ rule->id, rule->title,
                                        rule->absent ? rule->absent : "no such thing in the profile" };
    else
        w->failed = 1;
}

/* One rule against every thing of its subject. */
static void rule_run(struct survey_work *w, const struct survey_rule *rule, size_t number)
{
    const struct things things = things_of(w->input->boat, rule->of);
    int applied = 0;

    for (size_t i = 0; i < things.count; i++) {
        struct survey_case c = case_make(w->arena, w->input, rule, &things, i);

        case_run(&c);
        if (c.verdict != SURVEY_NOT_APPLICABLE) {
            applied = 1;
            keep(w, finding_of(&c, &things, number));
        }
        w->failed |= c.failed;
    }
    if (!applied)
        keep_absent(w, rule);
}

/* All rules against one boat under one set; numbers keep the order of the tables through sorting. */
static enum status rules_run(struct survey_work *w, struct arena *arena, const struct survey_input *input)
{
    size_t number = 0;

    *w = (struct survey_work){ .arena = arena, .input = input };
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++)
        for (const struct survey_rule *rule = tables[t]; rule->id; rule++)
            rule_run(w, rule, number++);
    return w->failed ? STATUS_NO_MEMORY : STATUS_OK;
}

/* --- sorting and counting --- */

/* An underwriter's view has no advice in it. */
static int left_out(const struct survey_work *w, const struct finding *f)
{
    return w->input->underwriter && f->priority[0] == 'C';
}

/* Those of one verdict and priority, in the order of the rules and the profile. */
static size_t pick(const struct survey_work *w, struct finding *into, enum survey_status verdict,
                   char priority)
{
    size_t n = 0;

    for (size_t i = 0; i < w->count; i++)
        if (w->all[i].verdict == verdict && w->all[i].priority[0] == priority && !left_out(w, &w->all[i]))
            into[n++] = w->all[i];
    return n;
}

/* All of one verdict, A first. */
static size_t pick_all(const struct survey_work *w, struct finding *into, enum survey_status verdict)
{
    size_t n = 0;

    for (const char *p = "ABC"; *p; p++)
        n += pick(w, into + n, verdict, *p);
    return n;
}

/* By priority A, B, C. Not applicable counts nowhere. NULL without memory. */
static const struct survey_count *count_all(const struct survey_work *w)
{
    static const char *const meanings[SURVEY_PRIORITIES] = {
        "before use: can sink, burn, shock or injure, or breaks a law",
        "soon: becomes dangerous, or matters for value and cover", "advice: upkeep and good practice"
    };
    struct survey_count *counts = arena_array(w->arena, SURVEY_PRIORITIES, sizeof *counts);

    for (size_t p = 0; counts && p < SURVEY_PRIORITIES; p++) {
        counts[p].priority = priority_text((char)('A' + (int)p));
        counts[p].meaning = meanings[p];
        for (size_t i = 0; i < w->count; i++) {
            const struct finding *f = &w->all[i];

            if (f->priority[0] != 'A' + (char)p)
                continue;
            counts[p].fails += f->verdict == SURVEY_FAILS;
            counts[p].not_verified += f->verdict == SURVEY_NOT_VERIFIED;
            counts[p].complies += f->verdict == SURVEY_COMPLIES;
        }
    }
    return counts;
}

/* 1 where a list "a, b" holds an item. */
static int listed_in(const char *list, const char *item)
{
    const size_t length = strlen(item);

    for (const char *at = strstr(list, item); at; at = strstr(at + 1, item))
        if ((at == list || at[-1] == ' ') && (at[length] == ',' || !at[length]))
            return 1;
    return 0;
}

/* Each item once, commas between; NULL, without memory, stays NULL. */
static const char *list_join(struct arena *arena, const char *list, const char *item)
{
    return !list || listed_in(list, item) ? list : arena_print(arena, "%s, %s", list, item);
}

/*
 * One row for each different text, with all its rules and places: forty cables without a fuse are one line.
 *
 *   by_title  1: by the title of the rule; 0: by what would settle it
 *   groups    how many rows came out
 *
 * At most one row a finding, so the array has room; linear search, for there are few different texts.
 */
static const struct survey_group *group(struct survey_work *w, const struct finding *findings, size_t count,
                                        int by_title, size_t *groups)
{
    struct survey_group *rows = arena_array(w->arena, count, sizeof *rows);

    *groups = 0;
    w->failed |= !rows;
    for (size_t i = 0; i < count && !w->failed; i++) {
        const struct finding *f = &findings[i];
        const char *text = by_title ? f->title : f->ask;
        size_t g = 0;

        while (g < *groups && strcmp(rows[g].text, text) != 0)
            g++;
        if (g == *groups)
            rows[(*groups)++] = (struct survey_group){ f->priority, f->id, text, f->place };
        rows[g].ids = list_join(w->arena, rows[g].ids, f->id);
        rows[g].places = list_join(w->arena, rows[g].places, f->place);
        w->failed |= !rows[g].ids || !rows[g].places;
    }
    return rows;
}

/* What a buyer or underwriter reads first: whether she may be used as she lies. It counts what the sheet
 * shows: without advice, no C. */
static const char *verdict_text(struct arena *arena, const struct survey_count *n, int advice)
{
    const size_t open = n[0].not_verified + n[1].not_verified + (advice ? n[2].not_verified : 0);
    const char *c = advice ? arena_print(arena, ", %zu of C", n[2].fails) : "";

    if (n[0].fails && c)
        return arena_print(
            arena, "%zu finding%s of priority A must be settled before use; %zu of B%s; %zu not verified",
            n[0].fails, n[0].fails == 1 ? "" : "s", n[1].fails, c, open);
    return c ? arena_print(arena,
                           "No finding of priority A stands; %zu of B%s; %zu not verified, %zu of them of A",
                           n[1].fails, c, open, n[0].not_verified)
             : NULL;
}

/* Which of the standing cautions belong on the sheet of this boat. */
static void hazards(struct survey *s, const struct boat *boat)
{
    for (size_t i = 0; i < boat->bank_count; i++) {
        s->lithium |= boat->banks[i].chemistry == CHEMISTRY_LFP;
        s->lead |= boat->banks[i].chemistry != CHEMISTRY_LFP;
    }
    s->mains = boat_ac_sources(boat) > 0;
}

enum status survey_run(const struct survey **out, struct arena *arena, const struct survey_input *input)
{
    struct survey_work w;
    enum status status = rules_run(&w, arena, input);
    struct survey *s = arena_zero(arena, sizeof *s);
    struct finding *findings = arena_array(arena, w.count, sizeof *findings);
    struct finding *complied = arena_array(arena, w.count, sizeof *complied);

    if (status != STATUS_OK || !s || !findings || !complied)
        return STATUS_NO_MEMORY;
    *s = (struct survey){ .boat = input->boat->name,
                          .rules = input->rules->name,
                          .title = input->rules->title,
                          .edition = input->rules->edition,
                          .scope = input->rules->scope,
                          .findings = findings,
                          .complied = complied,
                          .absents = w.absents,
                          .absent_count = w.absent_count,
                          .underwriter = input->underwriter,
                          .counts = count_all(&w),
                          .count_count = SURVEY_PRIORITIES };
    s->standing = pick_all(&w, findings, SURVEY_FAILS);
    s->finding_count = s->standing + pick_all(&w, findings + s->standing, SURVEY_NOT_VERIFIED);
    s->complied_count = pick_all(&w, complied, SURVEY_COMPLIES);
    s->gaps = group(&w, findings + s->standing, s->finding_count - s->standing, 0, &s->gap_count);
    s->met = group(&w, complied, s->complied_count, 1, &s->met_count);
    hazards(s, input->boat);
    if (s->counts)
        s->verdict = verdict_text(arena, s->counts, !input->underwriter);
    if (w.failed || !s->counts || !s->verdict)
        return STATUS_NO_MEMORY;
    s->passes = s->counts[0].fails == 0;
    *out = s;
    return STATUS_OK;
}

/* --- several sets side by side --- */

/* The verdict of a set on one rule and thing; NULL: not applicable there. */
static const struct finding *finding_like(const struct survey_work *w, const struct finding *like)
{
    for (size_t i = 0; i < w->count; i++)
        if (w->all[i].rule == like->rule && strcmp(w->all[i].place, like->place) == 0)
            return &w->all[i];
    return NULL;
}

/* One set's column of a comparison. */
static const char *contrast_cell(struct arena *arena, const struct finding *f)
{
    return f ? arena_print(arena, "%s: %s", f->status, f->fact)
             : "not applicable: this set asks nothing here";
}

/* 1 where some set judges the same case otherwise, or not at all. */
static int differs(const struct survey_work *works, size_t count, const struct finding *like)
{
    for (size_t k = 0; k < count; k++) {
        const struct finding *f = finding_like(&works[k], like);

        if (!f || f->verdict != like->verdict)
            return 1;
    }
    return 0;
}

/* 1 where a set further left has the case, so the row stands there already. */
static int listed_before(const struct survey_work *works, size_t k, const struct finding *like)
{
    for (size_t j = 0; j < k; j++)
        if (finding_like(&works[j], like))
            return 1;
    return 0;
}

/* A row of the contrast for a finding that the sets judge differently; empty for sets that were not asked. */
static void contrast_add(struct survey_contrast *out, struct survey_contrast_row *rows,
                         struct survey_work *works, const struct finding *f)
{
    struct survey_contrast_row *row = &rows[out->row_count++];
    const struct survey_rule *rule = NULL;
    size_t number = f->rule;

    for (size_t t = 0; !rule && t < sizeof tables / sizeof tables[0]; t++)
        for (const struct survey_rule *r = tables[t]; !rule && r->id; r++)
            if (number-- == 0)
                rule = r;
    *row = (struct survey_contrast_row){
        .id = f->id, .place = f->place, .title = rule ? rule->title : "", .priority = f->priority
    };
    for (size_t k = 0; k < SURVEY_SETS; k++) {
        row->verdicts[k] =
            k < out->set_count ? contrast_cell(works[0].arena, finding_like(&works[k], f)) : "";
        works[0].failed |= !row->verdicts[k];
    }
}

/* Everything any set judged, in the order of the rules; `differ` picks what they judge differently. */
static void contrast_fill(struct survey_contrast *out, struct survey_contrast_row *rows,
                          struct survey_work *works)
{
    for (size_t number = 0; number < rule_total(); number++)
        for (size_t k = 0; k < out->set_count; k++)
            for (size_t i = 0; i < works[k].count; i++) {
                const struct finding *f = &works[k].all[i];

                if (f->rule != number || listed_before(works, k, f) || left_out(&works[k], f))
                    continue;
                if (differs(works, out->set_count, f))
                    contrast_add(out, rows, works, f);
                else
                    out->alike++;
            }
}

enum status survey_contrast_run(const struct survey_contrast **out, struct arena *arena,
                                const struct survey_input *inputs, size_t count)
{
    struct survey_work works[SURVEY_SETS];
    struct survey_contrast *contrast = arena_zero(arena, sizeof *contrast);
    struct survey_contrast_row *rows;
    size_t total = 0;

    count = count < SURVEY_SETS ? count : SURVEY_SETS;
    for (size_t k = 0; k < count; k++) {
        if (rules_run(&works[k], arena, &inputs[k]) != STATUS_OK)
            return STATUS_NO_MEMORY;
        total += works[k].count;
    }
    rows = arena_array(arena, total, sizeof *rows);
    if (!contrast || !rows)
        return STATUS_NO_MEMORY;
    contrast->boat = inputs[0].boat->name;
    contrast->set_count = count;
    contrast->rows = rows;
    contrast->passes = 1;
    for (size_t k = 0; k < SURVEY_SETS; k++) {
        contrast->sets[k] = k < count ? inputs[k].rules->name : "";
        contrast->editions[k] = k < count ? inputs[k].rules->edition : "";
        for (size_t i = 0; k < count && i < works[k].count; i++)
            contrast->standing_a[k] +=
                works[k].all[i].verdict == SURVEY_FAILS && works[k].all[i].priority[0] == 'A';
        contrast->passes &= contrast->standing_a[k] == 0;
    }
    contrast_fill(contrast, rows, works);
    if (works[0].failed)
        return STATUS_NO_MEMORY;
    *out = contrast;
    return STATUS_OK;
}

/* --- the reference --- */

/* All clauses of a rule, one after the other. */
static const char *all_bases(struct arena *arena, const struct survey_rule *rule)
{
    const char *text = "";

    for (size_t i = 0; text && i < RULE_BASES && rule->bases[i].cite.publication; i++) {
        const char *cite = cite_text(arena, &rule->bases[i].cite);

        text = cite ? arena_print(arena, "%s%s%s", text, *text ? "; " : "", cite) : NULL;
    }
    return text;
}

/* What the rule waits for: a line of [seen], or words of its own. */
static const char *needs_text(struct arena *arena, const struct survey_rule *rule)
{
    if (rule->seen == NOT_SEEN)
        return rule->needs ? rule->needs : "";
    return arena_print(arena, "[seen] %s", seen_name((enum seen_fact)rule->seen));
}

const struct survey_rule_row *survey_rule_rows(struct arena *arena, size_t *count)
{
    struct survey_rule_row *rows = arena_array(arena, rule_total(), sizeof *rows);

    *count = 0;
    for (size_t t = 0; rows && t < sizeof tables / sizeof tables[0]; t++)
        for (const struct survey_rule *rule = tables[t]; rows && rule->id; rule++) {
            struct survey_rule_row *row = &rows[(*count)++];

            *row = (struct survey_rule_row){ .id = rule->id,
                                             .priority = priority_text(rule->priority),
                                             .area = area_names[rule->area],
                                             .title = rule->title,
                                             .of = subject_names[rule->of],
                                             .needs = needs_text(arena, rule),
                                             .risk = rule->risk,
                                             .action = rule->action,
                                             .reference = all_bases(arena, rule) };
            if (!row->needs || !row->reference)
                return NULL;
        }
    return rows;
}

/* sheets_survey.c - findings, what was not inspected, rule sets side by side, and the reference of rules.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"
#include "rules/finding.h"

/*
 * Three sheets: a survey by one rule set, the same boat under all sets, and the rules themselves.
 *
 *     counts            by priority
 *     findings          people: paragraphs, a table for each priority, alike ones joined
 *                       machines: a row for each
 *     not_inspected     what nobody looked at, which is never taken as good
 *     complied          what was judged and holds; left out for an underwriter
 *     not_applicable    rules that met nothing aboard; left out for an underwriter
 */

/* The first eight names are fixed. */
static const struct column finding_columns[] = {
    { TEXT(finding, id, "id", "Rule") },
    { TEXT(finding, priority, "priority", "Priority") },
    { TEXT(finding, place, "place", "Place") },
    { TEXT(finding, fact, "fact", "Fact") },
    { TEXT(finding, risk, "risk", "Risk") },
    { TEXT(finding, action, "action", "To achieve") },
    { TEXT(finding, reference, "reference", "Reference") },
    { TEXT(finding, status, "status", "Status") },
    { TEXT(finding, area, "area", "Area") },
    { TEXT(finding, need, "need", "What would settle it") },
};
static const struct row_kind finding_kind = ROW_KIND("Findings", finding_columns, finding);

static const struct column complied_columns[] = {
    { TEXT(finding, id, "id", "Rule") },
    { TEXT(finding, priority, "priority", "Priority") },
    { TEXT(finding, place, "place", "Place") },
    { TEXT(finding, fact, "fact", "As found") },
    { TEXT(finding, reference, "reference", "Reference") },
    { TEXT(finding, status, "status", "Status") },
};
static const struct row_kind complied_kind = ROW_KIND("Complies", complied_columns, finding);

static const struct column count_columns[] = {
    { TEXT(survey_count, priority, "priority", "Priority") },
    { COUNT(survey_count, fails, "does_not_comply", "Does not comply") },
    { COUNT(survey_count, not_verified, "not_verified", "Not verified") },
    { COUNT(survey_count, complies, "complies", "Complies") },
    { TEXT(survey_count, meaning, "meaning", "Meaning") },
};
static const struct row_kind count_kind = ROW_KIND("Counts", count_columns, survey_count);

static const struct column gap_columns[] = {
    { TEXT(survey_group, priority, "priority", "Priority") },
    { TEXT(survey_group, ids, "ids", "Rules") },
    { TEXT(survey_group, text, "need", "What would settle it") },
    { TEXT(survey_group, places, "places", "Where") },
};
static const struct row_kind gap_kind = ROW_KIND("Not inspected, or not known", gap_columns, survey_group);

static const struct column met_columns[] = {
    { TEXT(survey_group, priority, "priority", "Priority") },
    { TEXT(survey_group, ids, "ids", "Rule") },
    { TEXT(survey_group, text, "title", "About") },
    { TEXT(survey_group, places, "places", "Where") },
};
static const struct row_kind met_kind = ROW_KIND("Complies", met_columns, survey_group);

static const struct column absent_columns[] = {
    { TEXT(survey_absent, id, "id", "Rule") },
    { TEXT(survey_absent, title, "title", "About") },
    { TEXT(survey_absent, why, "why", "Why not") },
};
static const struct row_kind absent_kind = ROW_KIND("Not applicable", absent_columns, survey_absent);

static const struct column top_columns[] = {
    { TEXT(survey, boat, "boat", "Boat"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(survey, rules, "rules", "Rule set") },
    { TEXT(survey, title, "rules_title", "Publication") },
    { TEXT(survey, edition, "edition", "Edition") },
    { TEXT(survey, scope, "scope", "Binds") },
    { TEXT(survey, verdict, "verdict", "In short") },
    { FLAG(survey, passes, "passes", "No A stands"), .where = SHOW_CSV | SHOW_JSON },
};
static const struct row_kind top_kind = ROW_KIND("Survey", top_columns, survey);

/* --- findings as people read them: one under the other --- */

struct paragraph {
    const char *label, *text;
};

static const struct column paragraph_columns[] = {
    { TEXT(paragraph, label, "label", "") },
    { TEXT(paragraph, text, "says", "") },
};

static void paragraph_add(struct sheet_maker *m, struct paragraph *rows, size_t *n, const char *label,
                          const char *text)
{
    m->failed |= !label || !text;
    rows[(*n)++] = (struct paragraph){ label, text };
}

/* 1 where only the place and the fact differ. */
static int same_finding(const struct finding *a, const struct finding *b)
{
    return !strcmp(a->id, b->id) && !strcmp(a->priority, b->priority) && !strcmp(a->risk, b->risk) &&
           !strcmp(a->action, b->action) && !strcmp(a->reference, b->reference);
}

/* `count` findings that say the same of several places, one fact under the other. */
static void findings_add(struct sheet_maker *m, struct paragraph *rows, size_t *n, const struct finding *f,
                         size_t count)
{
    if (*n)
        paragraph_add(m, rows, n, "", "");
    paragraph_add(m, rows, n, f->id,
                  count > 1 ? arena_print(m->arena, "%s, %zu places", f->title, count) : f->place);
    for (size_t i = 0; i < count; i++)
        paragraph_add(m, rows, n, i ? "" : "Fact",
                      count > 1 ? arena_print(m->arena, "%s: %s", f[i].place, f[i].fact) : f->fact);
    paragraph_add(m, rows, n, "Risk", f->risk);
    paragraph_add(m, rows, n, "To achieve", f->action);
    paragraph_add(m, rows, n, "Reference", f->reference);
}

static const char *priority_title(struct sheet_maker *m, const struct survey_count *count)
{
    const char *title = arena_print(m->arena, "Priority %s: %s", count->priority, count->meaning);

    m->failed |= !title;
    return title;
}

/* Findings that differ in nothing but the thing are one paragraph with a list of things. */
static void add_priority(struct sheet_maker *m, const struct survey *s, const struct survey_count *count)
{
    struct paragraph *rows = arena_array(m->arena, 6 * s->standing, sizeof *rows);
    struct row_kind *kind = arena_zero(m->arena, sizeof *kind);
    size_t n = 0;

    if (!rows || !kind) {
        m->failed = 1;
        return;
    }
    for (size_t i = 0, alike; i < s->standing; i += alike) {
        const struct finding *f = s->findings + i;

        for (alike = 1; i + alike < s->standing && same_finding(f, f + alike);)
            alike++;
        if (strcmp(f->priority, count->priority) == 0)
            findings_add(m, rows, &n, f, alike);
    }
    *kind = (struct row_kind)ROW_KIND(NULL, paragraph_columns, paragraph);
    kind->title = priority_title(m, count);
    if (n)
        add_table(m, (struct table){ .title = kind->title,
                                     .kind = kind,
                                     .rows = rows,
                                     .row_count = n,
                                     .where = SHOW_TEXT | SHOW_HTML });
}

/* How much of a place is its kind, with the blank behind it: "cable " of "cable a"; 0 of "boat". */
static size_t kind_length(struct span place)
{
    const char *blank = memchr(place.at, ' ', place.length);

    return blank ? (size_t)(blank - place.at) + 1 : 0;
}

/* "cable a, cable b, bank house" as people read it: "cable a, b; bank house". NULL without memory. */
static const char *places_shown(struct arena *arena, const char *places)
{
    char *shown = arena_zero(arena, 2 * strlen(places) + 1), *end = shown;
    struct span rest = span_of(places), place, before = { "", 0 };

    while (shown && span_split(&rest, ',', &place)) {
        size_t kind, skip = 0;

        place = span_trim(place);
        kind = kind_length(place);
        if (kind && kind == kind_length(before) && memcmp(place.at, before.at, kind) == 0)
            skip = kind;
        if (end > shown)
            end = stpcpy(end, skip ? ", " : "; ");
        end = mempcpy(end, place.at + skip, place.length - skip);
        before = place;
    }
    return shown;
}

/* Groups for people; machines get the places as they are. */
static void add_groups(struct sheet_maker *m, const char *name, const struct row_kind *kind,
                       const struct survey_group *groups, size_t count, int machines)
{
    struct survey_group *shown = arena_array(m->arena, count, sizeof *shown);

    m->failed |= !shown;
    for (size_t i = 0; shown && i < count; i++) {
        shown[i] = groups[i];
        m->failed |= !(shown[i].places = places_shown(m->arena, groups[i].places));
    }
    add_table(m, (struct table){ .kind = kind,
                                 .rows = shown,
                                 .row_count = shown ? count : 0,
                                 .where = SHOW_TEXT | SHOW_HTML });
    if (machines)
        add_table(m, (struct table){ .name = name,
                                     .kind = kind,
                                     .rows = groups,
                                     .row_count = count,
                                     .where = SHOW_CSV | SHOW_JSON });
}

/* Cautions of work on such a boat: what is aboard decides which. */
static void add_hazards(struct sheet_maker *m, int lead, int lithium, int mains)
{
    add_caution(m, CAUTION_SHORT_CIRCUIT);
    if (mains)
        add_caution(m, CAUTION_MAINS);
    if (lead)
        add_caution(m, CAUTION_HYDROGEN);
    if (lithium)
        add_caution(m, CAUTION_LITHIUM);
    add_caution(m, CAUTION_ISOLATE);
    add_caution(m, CAUTION_PLANNING);
}

const struct sheet *sheet_survey(struct arena *arena, const struct survey *s)
{
    const unsigned people = SHOW_TEXT | SHOW_HTML, machines = SHOW_CSV | SHOW_JSON;
    struct sheet_maker m = sheet_begin(
        arena, s->underwriter ? "Survey: what an underwriter asks for" : "Survey",
        listed(arena, s->boat, arena_print(arena, "by %s (%s)", s->rules, s->edition), NULL, NULL));

    add_table(&m, (struct table){ .kind = &top_kind, .rows = s, .single = 1 });
    add_table(&m, (struct table){ .name = "counts",
                                  .kind = &count_kind,
                                  .rows = s->counts,
                                  .row_count = s->underwriter ? 2 : s->count_count });
    for (size_t i = 0; i < s->count_count; i++)
        add_priority(&m, s, &s->counts[i]);
    add_table(&m, (struct table){ .name = "findings",
                                  .kind = &finding_kind,
                                  .rows = s->findings,
                                  .row_count = s->finding_count,
                                  .csv = 1,
                                  .where = machines });
    add_groups(&m, "not_inspected", &gap_kind, s->gaps, s->gap_count, 1);
    if (!s->underwriter) {
        add_table(&m, (struct table){ .name = "complied",
                                      .kind = &complied_kind,
                                      .rows = s->complied,
                                      .row_count = s->complied_count,
                                      .where = machines });
        add_groups(&m, NULL, &met_kind, s->met, s->met_count, 0);
        add_table(&m, (struct table){ .name = "not_applicable",
                                      .kind = &absent_kind,
                                      .rows = s->absents,
                                      .row_count = s->absent_count,
                                      .where = machines });
        add_table(&m, (struct table){ .kind = &absent_kind,
                                      .rows = s->absents,
                                      .row_count = s->absent_count,
                                      .where = people });
    }
    add_note(&m, "A survey from a profile judges what was typed and seen. What nobody looked at is listed, "
                 "never taken as good.");
    add_note(&m, "References marked \"from memory\" or \"quoted\" were not read in the publication itself: "
                 "check them before you rely on them.");
    add_hazards(&m, s->lead, s->lithium, s->mains);
    return sheet_made(&m);
}

/* --- rule sets side by side --- */

static const struct column contrast_columns[] = {
    { TEXT(survey_contrast_row, id, "id", "Rule") },
    { TEXT(survey_contrast_row, priority, "priority", "Pr.") },
    { TEXT(survey_contrast_row, place, "place", "Place") },
    { TEXT(survey_contrast_row, title, "title", "About"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(survey_contrast_row, verdicts[0], "cfr183", "cfr183") },
    { TEXT(survey_contrast_row, verdicts[1], "abyc_e11", "abyc-e11") },
    { TEXT(survey_contrast_row, verdicts[2], "iso10133", "iso10133") },
    { TEXT(survey_contrast_row, verdicts[3], "iso13297", "iso13297") },
};
static const struct row_kind contrast_kind =
    ROW_KIND("Where the rule sets differ", contrast_columns, survey_contrast_row);

struct set_row {
    const char *rules, *edition;
    size_t standing_a;
};

static const struct column set_columns[] = {
    { TEXT(set_row, rules, "rules", "Rule set") },
    { TEXT(set_row, edition, "edition", "Edition") },
    { COUNT(set_row, standing_a, "standing_a", "Priority A that stand") },
};
static const struct row_kind set_kind = ROW_KIND("Rule sets", set_columns, set_row);

const struct sheet *sheet_survey_contrast(struct arena *arena, const struct survey_contrast *contrast)
{
    struct sheet_maker m =
        sheet_begin(arena, "Survey by each rule set", contrast->boat ? contrast->boat : "");
    struct set_row *sets = arena_array(arena, SURVEY_SETS, sizeof *sets);

    m.failed |= !sets;
    for (size_t i = 0; sets && i < contrast->set_count; i++)
        sets[i] = (struct set_row){ contrast->sets[i], contrast->editions[i], contrast->standing_a[i] };
    add_table(&m, (struct table){
                      .name = "sets", .kind = &set_kind, .rows = sets, .row_count = contrast->set_count });
    add_table(&m, (struct table){ .name = "differences",
                                  .kind = &contrast_kind,
                                  .rows = contrast->rows,
                                  .row_count = contrast->row_count,
                                  .csv = 1 });
    add_note(&m,
             arena_print(arena, "All sets judge %zu more points alike; \"survey\" with one set lists them.",
                         contrast->alike));
    add_note(&m, "The sets are never blended: choose one, and print its name with every verdict.");
    add_caution(&m, CAUTION_PLANNING);
    return sheet_made(&m);
}

/* --- the reference --- */

static const struct column rule_columns[] = {
    { TEXT(survey_rule_row, id, "id", "Rule") },
    { TEXT(survey_rule_row, priority, "priority", "Pr.") },
    { TEXT(survey_rule_row, area, "area", "Area"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(survey_rule_row, title, "title", "About") },
    { TEXT(survey_rule_row, of, "of", "Held against") },
    { TEXT(survey_rule_row, needs, "needs", "Facts it waits for") },
    { TEXT(survey_rule_row, risk, "risk", "Risk"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(survey_rule_row, action, "action", "To achieve"), .where = SHOW_CSV | SHOW_JSON },
    { TEXT(survey_rule_row, reference, "reference", "Reference") },
};
static const struct row_kind rule_kind = ROW_KIND("Rules of the survey", rule_columns, survey_rule_row);

const struct sheet *sheet_rules(struct arena *arena, const struct survey_rule_row *rows, size_t count,
                                const struct key_row *keys, size_t key_count)
{
    struct sheet_maker m =
        sheet_begin(arena, "Rules", "of the survey; priorities: A before use, B soon, C advice");

    add_table(&m, (struct table){ .name = "keys",
                                  .title = "[rules] of a profile",
                                  .kind = &key_row_kind,
                                  .rows = keys,
                                  .row_count = key_count });
    add_table(&m, (struct table){
                      .name = "rules", .kind = &rule_kind, .rows = rows, .row_count = count, .csv = 1 });
    return sheet_made(&m);
}

/* judged.c - rule set, circuit and expectation brought together for surveys and hand-overs.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "judged.h"

#include <string.h>

#include "base/arena.h"
#include "base/fileio.h"
#include "base/text.h"
#include "engine/circuit.h"
#include "engine/expect.h"
#include "profile/lines.h"
#include "rules/ruleset.h"
#include "rules/survey.h"

static const enum rule_set_id shipped[SURVEY_SETS] = { RULES_CFR183, RULES_ABYC_E11, RULES_ISO10133,
                                                       RULES_ISO13297 };

int judged_rules_known(const char *name)
{
    int own;

    return strcmp(name, "all") == 0 || ruleset_find(name, &own) != NULL || own;
}

/* --- rule sets --- */

/* The user's table through the same reader as profiles, line by line; NULL where a diagnostic says why. */
static const struct wiring_rules *own_rules(struct arena *arena, const char *path, struct diag_list *diags)
{
    struct own_rules *own = own_rules_new(arena, path, diags);
    struct document document;
    struct span text;

    if (!own || file_read(&text, arena, path, FILE_SIZE_LIMIT, diags) != STATUS_OK ||
        document_read(&document, arena, path, text, diags) != STATUS_OK)
        return NULL;
    for (size_t i = 0; i < document.count; i++)
        for (size_t j = 0; j < document.sections[i].count; j++) {
            const struct entry *e = &document.sections[i].entries[j];

            own_rules_line(own, document.sections[i].title, e->key,
                           arena_copy(arena, e->value.at, e->value.length), e->place.line);
        }
    return own_rules_finish(own);
}

/* The set of that name, else of the profile; NULL: none, or none that can be read. */
static const struct wiring_rules *rules_find(struct arena *arena, const struct boat *boat, const char *name,
                                             struct diag_list *diags)
{
    int own = !name && boat->rules.set == RULES_OWN;
    const struct wiring_rules *set = name ? ruleset_find(name, &own) : ruleset_get(boat->rules.set);

    if (!own && !set)
        diag_add(diags,
                 &(struct diag){ .severity = DIAG_ERROR,
                                 .section = "rules",
                                 .message = arena_print(arena, "there is no rule set \"%s\"", name),
                                 .hint = "it is cfr183, abyc-e11, iso10133, iso13297 or own" });
    if (!own)
        return set;
    if (boat->rules.own_file)
        return own_rules(arena, boat->rules.own_file, diags);
    diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                    .section = "rules",
                                    .message = "the profile has no table of its own",
                                    .hint = "write file = NAME in [rules]" });
    return NULL;
}

/* --- what the rules look at --- */

/* What the circuit says by that set; a boat without cables has none, and that is no fault. */
static enum status circuit_of(const struct circuit **out, struct arena *arena, const struct boat *boat,
                              const struct wiring_rules *rules, struct diag_list *diags)
{
    *out = NULL;
    return boat->cable_count ? circuit_run(out, arena, boat, rules, NULL, diags) : STATUS_OK;
}

enum status judged_circuit(const struct circuit **out, struct arena *arena, const struct boat *boat,
                           struct diag_list *diags)
{
    const struct wiring_rules *rules = rules_find(arena, boat, NULL, diags);

    return rules ? circuit_of(out, arena, boat, rules, diags) : STATUS_REFUSED;
}

/* On a circuit that is there already. */
static enum status input_on(struct survey_input *input, struct arena *arena, const struct boat *boat,
                            const struct wiring_rules *rules, int underwriter, const struct circuit *circuit)
{
    *input = (struct survey_input){
        .boat = boat, .rules = rules, .underwriter = underwriter, .circuit = circuit
    };
    return expect_run(&input->expected, arena, boat, circuit, circuit_charge);
}

/* As input_on, solving the circuit first. */
static enum status input_make(struct survey_input *input, struct arena *arena, const struct boat *boat,
                              const struct wiring_rules *rules, int underwriter, struct diag_list *diags)
{
    const struct circuit *circuit;
    enum status status = circuit_of(&circuit, arena, boat, rules, diags);

    return status == STATUS_OK ? input_on(input, arena, boat, rules, underwriter, circuit) : status;
}

enum status judged_survey(const struct survey **out, struct arena *arena, const struct boat *boat,
                          const char *rules, int underwriter, struct diag_list *diags)
{
    const struct wiring_rules *set = rules_find(arena, boat, rules, diags);
    struct survey_input input;
    enum status status = set ? input_make(&input, arena, boat, set, underwriter, diags) : STATUS_REFUSED;

    return status == STATUS_OK ? survey_run(out, arena, &input) : status;
}

enum status judged_survey_on(const struct survey **out, struct arena *arena, const struct boat *boat,
                             const struct circuit *circuit, struct diag_list *diags)
{
    const struct wiring_rules *set = rules_find(arena, boat, NULL, diags);
    struct survey_input input;
    enum status status = set ? input_on(&input, arena, boat, set, 0, circuit) : STATUS_REFUSED;

    return status == STATUS_OK ? survey_run(out, arena, &input) : status;
}

enum status judged_contrast(const struct survey_contrast **out, struct arena *arena, const struct boat *boat,
                            int underwriter, struct diag_list *diags)
{
    struct survey_input inputs[SURVEY_SETS];

    for (size_t i = 0; i < SURVEY_SETS; i++) {
        enum status status = input_make(&inputs[i], arena, boat, ruleset_get(shipped[i]), underwriter, diags);

        if (status != STATUS_OK)
            return status;
    }
    return survey_contrast_run(out, arena, inputs, SURVEY_SETS);
}

static const struct day_kind *day_named(const struct boat *boat, const char *name)
{
    for (size_t i = 0; i < boat->day_count; i++)
        if (strcmp(boat->days[i].name, name) == 0)
            return &boat->days[i];
    return NULL;
}

/* What --day of cables may name. */
static int scenario_known(const struct boat *boat, const char *name)
{
    static const char *const own[] = { "largest", "surge", "charging" };

    for (size_t i = 0; i < sizeof own / sizeof own[0]; i++)
        if (strcmp(own[i], name) == 0)
            return 1;
    return day_named(boat, name) != NULL;
}

enum status judged_cables(const struct circuit **out, struct arena *arena, const struct boat *boat,
                          const char *rules, const char *scenario, struct diag_list *diags)
{
    const struct circuit_options options = { .scenario = scenario };
    const struct wiring_rules *set;

    if (rules && strcmp(rules, "all") == 0) {
        diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                        .message = "cables are sized by one rule set, not by all",
                                        .hint = "name one; the survey shows the sets side by side" });
        return STATUS_REFUSED;
    }
    set = rules_find(arena, boat, rules, diags);
    if (boat->cable_count == 0) {
        diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                        .section = "cable",
                                        .message = "the profile has no cables",
                                        .hint = "add a [cable NAME] with from, to and length for each run" });
        return STATUS_INCOMPLETE;
    }
    if (scenario && !scenario_known(boat, scenario)) {
        diag_add(diags,
                 &(struct diag){ .severity = DIAG_ERROR,
                                 .message = arena_print(arena, "there is no scenario \"%s\"", scenario),
                                 .hint = "largest, surge, charging, or a kind of day of the profile" });
        return STATUS_REFUSED;
    }
    return set ? circuit_run(out, arena, boat, set, &options, diags) : STATUS_REFUSED;
}

/* --- hand-over --- */

/* The kind of day of that name; NULL name: the first day of the plan. */
static const struct day_kind *day_find(const struct boat *boat, const char *name)
{
    if (!name)
        return boat->plan.day_count ? boat->plan.days[0] : boat->day_count ? &boat->days[0] : NULL;
    return day_named(boat, name);
}

/* Says which kinds there are. Always STATUS_REFUSED. */
static enum status day_unknown(struct arena *arena, const struct boat *boat, const char *name,
                               struct diag_list *diags)
{
    struct text_near near = { .word = span_of(name ? name : "") };
    const char *known = "";

    for (size_t i = 0; i < boat->day_count && known; i++) {
        text_near_offer(&near, boat->days[i].name);
        known = arena_print(arena, "%s%s%s", known, i ? ", " : "", boat->days[i].name);
    }
    diag_add(diags, &(struct diag){
                        .severity = DIAG_ERROR,
                        .message = arena_print(arena, "the profile has no [day %s]", name ? name : "KIND"),
                        .hint = near.best ? arena_print(arena, "did you mean %s?", near.best)
                                          : arena_print(arena, "it has: %s", known ? known : "") });
    return STATUS_REFUSED;
}

enum status judged_handover_on(const struct handover **out, struct arena *arena, const struct boat *boat,
                               const struct circuit *circuit, const char *name, struct diag_list *diags)
{
    const struct day_kind *day = day_find(boat, name);

    return day ? handover_run(out, arena, boat, circuit, day, diags) : day_unknown(arena, boat, name, diags);
}

enum status judged_handover(const struct handover **out, struct arena *arena, const struct boat *boat,
                            const char *name, struct diag_list *diags)
{
    const struct circuit *circuit;
    enum status status;

    if (!day_find(boat, name))
        return day_unknown(arena, boat, name, diags);
    status = judged_circuit(&circuit, arena, boat, diags);
    return status == STATUS_OK ? judged_handover_on(out, arena, boat, circuit, name, diags) : status;
}

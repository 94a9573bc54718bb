/* bridgedeck.c - the public functions: opaque handles over arena, profile, engine and output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "bridgedeck.h"

#include <ctype.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "base/diag_text.h"
#include "base/fileio.h"
#include "base/text.h"
#include "base/units.h"
#include "engine/circuit_work.h"
#include "engine/engine.h"
#include "judged.h"
#include "single.h"
#include "output/plot.h"
#include "output/report.h"
#include "output/sheets.h"
#include "parts/climate.h"
#include "profile/profile.h"
#include "rules/survey.h"
#include "rules/survey_changes.h"

struct bd_profile {
    struct arena *arena; /* the profile itself lies in it */
    const struct boat *boat;
};

/* What a run holds, and so which member of the union counts. */
enum run_kind {
    RUN_CHECK,
    RUN_BALANCE,
    RUN_SIZE,
    RUN_WEEK,
    RUN_SUN,
    RUN_COMPARE,
    RUN_SURVEY,
    RUN_CONTRAST,
    RUN_HANDOVER,
    RUN_CABLES,
    RUN_CABLE,
    RUN_REPORT,
    RUN_KEYS,
    RUN_CLIMATE,
    RUN_RULES
};

struct bd_run {
    struct arena *arena; /* the run itself lies in it */
    enum run_kind kind;
    union {
        const struct boat *boat; /* RUN_CHECK */
        const struct balance *balance;
        const struct size *size;
        const struct week *week;
        const struct sun_day *sun;
        const struct compare *compare; /* RUN_REPORT as well */
        const struct survey *survey;
        const struct survey_contrast *contrast;
        const struct handover *handover;
        const struct circuit *circuit;
        const struct cable_answer *cable;
        const struct key_row *keys;
        const struct climate *climate;
    };
    size_t count;                        /* of keys or climate */
    const struct survey_rule_row *rules; /* RUN_RULES, beside the keys */
    size_t rule_count;
    const struct survey_changes *findings; /* RUN_COMPARE and RUN_REPORT; NULL: not worked out */
    const struct boat *reported;           /* RUN_REPORT, and what else is shown of it */
    const struct survey *surveyed;
    const struct handover *handed;
};

const char *bd_version(void)
{
    return BD_VERSION;
}

/* ---- diagnostics ---- */

struct diag_list *bd_diags_new(void)
{
    return diag_list_new();
}

void bd_diags_free(struct diag_list *diags)
{
    diag_list_free(diags);
}

/* The colour of each severity as an ANSI (ECMA-48) sequence; only the first line of a remark is coloured. */
static const char *const severity_colour[] = {
    [DIAG_NOTE] = "\033[36m", [DIAG_WARNING] = "\033[35m", [DIAG_ERROR] = "\033[31m"
};

static void print_coloured(FILE *out, const char *text, enum diag_severity severity)
{
    size_t first = strcspn(text, "\n");

    fprintf(out, "%s%.*s\033[0m%s", severity_colour[severity], (int)first, text, text + first);
}

/* Both NULL count as the same. */
static int same_text(const char *a, const char *b)
{
    return a == b || (a && b && strcmp(a, b) == 0);
}

/* A profile that is read twice, with different changes, says the same twice. */
static int said_before(const struct diag_list *diags, size_t which)
{
    const struct diag *d = diags->items + which;

    for (size_t i = 0; i < which; i++) {
        const struct diag *e = diags->items + i;

        if (e->line == d->line && e->severity == d->severity && same_text(e->message, d->message) &&
            same_text(e->file, d->file) && same_text(e->section, d->section) && same_text(e->key, d->key))
            return 1;
    }
    return 0;
}

enum status bd_diags_print(FILE *out, const struct diag_list *diags, const struct bd_diag_style *style)
{
    static const struct bd_diag_style plain = { DIAG_NOTE, 0 };
    struct arena *arena = arena_new();

    style = style ? style : &plain;
    for (size_t i = 0; arena && i < diags->count; i++) {
        const struct diag *diag = &diags->items[i];
        int told = diag->severity >= style->least && !said_before(diags, i);
        const char *text = told ? diag_text(arena, diag) : "";

        if (!text)
            break;
        if (style->colour && *text)
            print_coloured(out, text, diag->severity);
        else
            fputs(text, out);
    }
    if (!arena || diags->incomplete)
        fputs("error: more is wrong than there was memory to tell\n", out);
    arena_free(arena);
    return ferror(out) ? STATUS_UNWRITABLE : STATUS_OK;
}

/* ---- the profile ---- */

/* An empty profile in an arena of its own; NULL without memory. */
static struct bd_profile *profile_new(void)
{
    struct arena *arena = arena_new();
    struct bd_profile *profile = arena ? arena_zero(arena, sizeof *profile) : NULL;

    if (!profile) {
        arena_free(arena);
        return NULL;
    }
    profile->arena = arena;
    return profile;
}

/* Hands the profile over, or frees it: the one way out of both readers. */
static enum status profile_done(struct bd_profile **out, struct bd_profile *profile, enum status status)
{
    if (status == STATUS_OK)
        *out = profile;
    else
        bd_profile_free(profile);
    return status;
}

enum status bd_profile_read(struct bd_profile **out, const char *path, const char *const *changes,
                            size_t change_count, struct diag_list *diags)
{
    struct bd_profile *profile = profile_new();

    if (!profile)
        return STATUS_NO_MEMORY;
    return profile_done(out, profile,
                        profile_read(&profile->boat, profile->arena, path, changes, change_count, diags));
}

enum status bd_profile_read_text(struct bd_profile **out, const char *name, const char *text, size_t length,
                                 struct diag_list *diags)
{
    struct bd_profile *profile = profile_new();

    if (!profile)
        return STATUS_NO_MEMORY;
    return profile_done(out, profile,
                        profile_read_text(&profile->boat, profile->arena, name, text, length, diags));
}

const struct boat *bd_profile_boat(const struct bd_profile *profile)
{
    return profile->boat;
}

void bd_profile_free(struct bd_profile *profile)
{
    if (profile)
        arena_free(profile->arena);
}

/* ---- runs ---- */

/* An empty run in an arena of its own; NULL without memory. */
static struct bd_run *run_new(enum run_kind kind)
{
    struct arena *arena = arena_new();
    struct bd_run *run = arena ? arena_zero(arena, sizeof *run) : NULL;

    if (!run) {
        arena_free(arena);
        return NULL;
    }
    run->arena = arena;
    run->kind = kind;
    return run;
}

/* Hands the run over, or frees it: the one way out of every bd_*_run. */
static enum status run_done(struct bd_run **out, struct bd_run *run, enum status status)
{
    if (status == STATUS_OK)
        *out = run;
    else
        bd_run_free(run);
    return status;
}

void bd_run_free(struct bd_run *run)
{
    if (run)
        arena_free(run->arena);
}

enum status bd_check_run(struct bd_run **out, const struct bd_profile *profile)
{
    struct bd_run *run = run_new(RUN_CHECK);

    if (!run)
        return STATUS_NO_MEMORY;
    run->boat = profile->boat;
    return run_done(out, run, STATUS_OK);
}

enum status bd_balance_run(struct bd_run **out, const struct bd_profile *profile, struct diag_list *diags)
{
    struct bd_run *run = run_new(RUN_BALANCE);

    if (!run)
        return STATUS_NO_MEMORY;
    return run_done(out, run, balance_run(&run->balance, run->arena, profile->boat, diags));
}

enum status bd_size_run(struct bd_run **out, const struct bd_profile *profile, struct diag_list *diags)
{
    struct bd_run *run = run_new(RUN_SIZE);

    if (!run)
        return STATUS_NO_MEMORY;
    return run_done(out, run, size_run(&run->size, run->arena, profile->boat, diags));
}

enum status bd_week_run(struct bd_run **out, const struct bd_profile *profile,
                        const struct bd_week_options *options, struct diag_list *diags)
{
    struct week_options inner = { options ? options->step_s : 0, options ? options->row_s : 0 };
    struct bd_run *run = run_new(RUN_WEEK);

    if (!run)
        return STATUS_NO_MEMORY;
    return run_done(out, run, week_run(&run->week, run->arena, profile->boat, &inner, diags));
}

/* Reads YYYY-MM-DD; 1 where it is an existing day and nothing else. */
static int date_read(const char *text, struct date *date)
{
    static const char form[] = "dddd-dd-dd";
    size_t i = 0;

    while (form[i] && (form[i] == 'd' ? isdigit((unsigned char)text[i]) != 0 : text[i] == form[i]))
        i++;
    return !form[i] && !text[i] && sscanf(text, "%d-%2d-%2d", &date->year, &date->month, &date->day) == 3 &&
           date_valid(*date);
}

int bd_date_valid(const char *text)
{
    struct date date;

    return date_read(text, &date);
}

enum status bd_sun_run(struct bd_run **out, const struct bd_profile *profile, const char *text,
                       struct diag_list *diags)
{
    const struct site *site = &profile->boat->site;
    long first = date_number((struct date){ site->start_year, site->start_month, site->start_day });
    struct bd_run *run = run_new(RUN_SUN);
    struct date date;
    long offset = text && date_read(text, &date) ? date_number(date) - first : 0;

    if (!run)
        return STATUS_NO_MEMORY;
    return run_done(out, run, sun_run(&run->sun, run->arena, profile->boat, offset, diags));
}

/* One side after the other: its wiring, and what a survey finds by the profile's own rule set. */
static enum status sides_run(struct bd_run *run, const struct bd_side *sides, size_t count,
                             struct diag_list *diags)
{
    struct compare_input *inputs = arena_array(run->arena, count, sizeof *inputs);
    const struct survey **surveys = arena_array(run->arena, count, sizeof *surveys);
    const char **names = arena_array(run->arena, count, sizeof *names);
    enum status status = inputs && surveys && names ? STATUS_OK : STATUS_NO_MEMORY;

    for (size_t i = 0; i < count && status == STATUS_OK; i++) {
        const struct boat *boat = sides[i].profile->boat;
        size_t before = diags->count;

        inputs[i] = (struct compare_input){ sides[i].name, boat, NULL };
        names[i] = sides[i].name;
        if ((status = judged_circuit(&inputs[i].circuit, run->arena, boat, diags)) == STATUS_OK)
            status = judged_survey_on(surveys + i, run->arena, boat, inputs[i].circuit, diags);
        profile_place_remarks(boat, diags, before);
    }
    if (status == STATUS_OK)
        status = compare_run(&run->compare, run->arena, inputs, count, diags);
    if (status != STATUS_OK)
        return status;
    run->surveyed = surveys[count - 1];
    run->findings = count > 1 ? survey_changes_find(run->arena, surveys, names, count) : NULL;
    return count > 1 && !run->findings ? STATUS_NO_MEMORY : STATUS_OK;
}

enum status bd_compare_run(struct bd_run **out, const struct bd_side *sides, size_t count,
                           struct diag_list *diags)
{
    struct bd_run *run = run_new(RUN_COMPARE);

    return run ? run_done(out, run, sides_run(run, sides, count, diags)) : STATUS_NO_MEMORY;
}

enum status bd_report_run(struct bd_run **out, const struct bd_profile *profile,
                          const struct bd_profile *before, struct diag_list *diags)
{
    const struct bd_side sides[] = { { "before", before }, { before ? "after" : "boat", profile } };
    struct bd_run *run = run_new(RUN_REPORT);
    enum status status;

    if (!run)
        return STATUS_NO_MEMORY;
    run->reported = profile->boat;
    status = sides_run(run, sides + !before, before ? 2 : 1, diags);
    if (status == STATUS_OK)
        status = judged_handover_on(&run->handed, run->arena, profile->boat,
                                    run->compare->sides[run->compare->side_count - 1].circuit, NULL, diags);
    return run_done(out, run, status);
}

enum status bd_cables_run(struct bd_run **out, const struct bd_profile *profile, const char *rules,
                          const char *scenario, struct diag_list *diags)
{
    struct bd_run *run = run_new(RUN_CABLES);
    size_t before = diags->count;
    enum status status;

    if (!run)
        return STATUS_NO_MEMORY;
    status = judged_cables(&run->circuit, run->arena, profile->boat, rules, scenario, diags);
    profile_place_remarks(profile->boat, diags, before);
    return run_done(out, run, status);
}

enum status bd_cable_run(struct bd_run **out, const struct bd_cable_request *request, struct diag_list *diags)
{
    struct bd_run *run = run_new(RUN_CABLE);

    if (!run)
        return STATUS_NO_MEMORY;
    return run_done(out, run, single_cable(&run->cable, run->arena, request, diags));
}

int bd_rules_known(const char *name)
{
    return judged_rules_known(name);
}

enum status bd_survey_run(struct bd_run **out, const struct bd_profile *profile,
                          const struct bd_survey_options *options, struct diag_list *diags)
{
    const char *rules = options ? options->rules : NULL;
    const int underwriter = options ? options->underwriter : 0;
    struct bd_run *run = run_new(rules && strcmp(rules, "all") == 0 ? RUN_CONTRAST : RUN_SURVEY);
    size_t before = diags->count;
    enum status status;

    if (!run)
        return STATUS_NO_MEMORY;
    if (run->kind == RUN_CONTRAST)
        return run_done(out, run,
                        judged_contrast(&run->contrast, run->arena, profile->boat, underwriter, diags));
    status = judged_survey(&run->survey, run->arena, profile->boat, rules, underwriter, diags);
    profile_place_remarks(profile->boat, diags, before);
    return run_done(out, run, status);
}

enum status bd_handover_run(struct bd_run **out, const struct bd_profile *profile, const char *day,
                            struct diag_list *diags)
{
    struct bd_run *run = run_new(RUN_HANDOVER);

    if (!run)
        return STATUS_NO_MEMORY;
    return run_done(out, run, judged_handover(&run->handover, run->arena, profile->boat, day, diags));
}

/* A section is known by its first word: "bank NAME". */
static enum status section_unknown(struct arena *arena, const char *section, struct diag_list *diags)
{
    struct text_near near = { .word = span_of(section) };
    size_t count = 0;
    const struct key_row *rows = profile_keys(arena, NULL, &count);

    for (size_t i = 0; rows && i < count; i++) {
        const char *word = arena_copy(arena, rows[i].section, strcspn(rows[i].section, " "));

        if (word)
            text_near_offer(&near, word);
    }
    diag_add(diags,
             &(struct diag){ .severity = DIAG_ERROR,
                             .message = arena_print(arena, "no section \"%s\"", section),
                             .hint = near.best ? arena_print(arena, "did you mean %s?", near.best)
                                               : "\"bridgedeck keys\" shows all of them" });
    return STATUS_REFUSED;
}

enum status bd_keys_run(struct bd_run **out, const char *section, struct diag_list *diags)
{
    int climate = section && strcmp(section, "climate") == 0;
    int rules = section && strcmp(section, "rules") == 0;
    struct bd_run *run = run_new(climate ? RUN_CLIMATE : rules ? RUN_RULES : RUN_KEYS);

    if (!run)
        return STATUS_NO_MEMORY;
    if (climate)
        run->climate = climate_table(&run->count);
    else
        run->keys = profile_keys(run->arena, section, &run->count);
    if (rules && !(run->rules = survey_rule_rows(run->arena, &run->rule_count)))
        return run_done(out, run, STATUS_NO_MEMORY);
    if (section && run->count == 0)
        return run_done(out, run, section_unknown(run->arena, section, diags));
    return run_done(out, run, run->count ? STATUS_OK : STATUS_NO_MEMORY);
}

const struct balance *bd_run_balance(const struct bd_run *run)
{
    return run->kind == RUN_BALANCE ? run->balance : NULL;
}

const struct size *bd_run_size(const struct bd_run *run)
{
    return run->kind == RUN_SIZE ? run->size : NULL;
}

const struct week *bd_run_week(const struct bd_run *run)
{
    return run->kind == RUN_WEEK ? run->week : NULL;
}

const struct sun_day *bd_run_sun(const struct bd_run *run)
{
    return run->kind == RUN_SUN ? run->sun : NULL;
}

const struct compare *bd_run_compare(const struct bd_run *run)
{
    return run->kind == RUN_COMPARE || run->kind == RUN_REPORT ? run->compare : NULL;
}

const struct survey *bd_run_survey(const struct bd_run *run)
{
    return run->kind == RUN_SURVEY ? run->survey : NULL;
}

const struct handover *bd_run_handover(const struct bd_run *run)
{
    return run->kind == RUN_HANDOVER ? run->handover : NULL;
}

const struct key_row *bd_run_keys(const struct bd_run *run, size_t *count)
{
    int keys = run->kind == RUN_KEYS || run->kind == RUN_RULES;

    *count = keys ? run->count : 0;
    return keys ? run->keys : NULL;
}

const struct survey_rule_row *bd_run_rules(const struct bd_run *run, size_t *count)
{
    *count = run->kind == RUN_RULES ? run->rule_count : 0;
    return run->kind == RUN_RULES ? run->rules : NULL;
}

/* The boat before may fail: that is why she is changed. */
static int changes_pass(const struct compare *compare)
{
    for (size_t i = 1; i < compare->side_count; i++)
        if (!compare->sides[i].passes)
            return 0;
    return 1;
}

int bd_run_passes(const struct bd_run *run)
{
    switch (run->kind) {
    case RUN_BALANCE:
        return run->balance->week_net_wh >= 0;
    case RUN_SIZE:
        return run->size->installed_passes;
    case RUN_WEEK:
        return run->week->summary.passes;
    case RUN_COMPARE:
        return changes_pass(run->compare);
    case RUN_REPORT:
        return run->compare->sides[run->compare->side_count - 1].passes && run->surveyed->passes;
    case RUN_SURVEY:
        return run->survey->passes;
    case RUN_CABLES:
        return run->circuit->passes;
    case RUN_CABLE:
        return run->cable->cable.passes;
    case RUN_CONTRAST:
        return run->contrast->passes;
    default:
        return 1;
    }
}

/* ---- showing and saving ---- */

const char *bd_cables_sheet(size_t index)
{
    return sheet_cables_name(index);
}

/* Units NULL: as the boat is wired, which the view's zero means. */
static const struct sheet *cables_sheet(struct arena *arena, const struct bd_run *run,
                                        const struct bd_style *style)
{
    struct cables_view view = { .sheets = style->sheets };

    if (style->working && !(view.working = circuit_working(arena, run->circuit)))
        return NULL;
    if (style->units)
        view.units = strcmp(style->units, "us") == 0 ? CABLES_US : CABLES_METRIC;
    return sheet_cables(arena, run->circuit, &view);
}

/* The result as a sheet, whatever it is; NULL without memory. */
static const struct sheet *run_sheet(struct arena *arena, const struct bd_run *run,
                                     const struct bd_style *style)
{
    int working = style->working;

    switch (run->kind) {
    case RUN_BALANCE:
        return sheet_balance(arena, run->balance, working);
    case RUN_SIZE:
        return sheet_size(arena, run->size, working);
    case RUN_WEEK:
        return sheet_week(arena, run->week);
    case RUN_SUN:
        return sheet_sun(arena, run->sun);
    case RUN_COMPARE:
    case RUN_REPORT:
        return sheet_compare(arena, run->compare, run->findings);
    case RUN_SURVEY:
        return sheet_survey(arena, run->survey);
    case RUN_CONTRAST:
        return sheet_survey_contrast(arena, run->contrast);
    case RUN_CABLES:
        return cables_sheet(arena, run, style);
    case RUN_CABLE:
        return sheet_cable(arena, run->cable, working);
    case RUN_HANDOVER:
        return sheet_handover(arena, run->handover);
    case RUN_RULES:
        return sheet_rules(arena, run->rules, run->rule_count, run->keys, run->count);
    case RUN_KEYS:
        return sheet_keys(arena, run->keys, run->count);
    case RUN_CLIMATE:
        return sheet_climate(arena, run->climate, run->count);
    case RUN_CHECK:
        break;
    }
    return sheet_check(arena, run->boat);
}

enum status bd_run_write(FILE *out, const struct bd_run *run, const struct bd_style *style)
{
    static const enum sheet_format formats[] = {
        [BD_TEXT] = FORMAT_TEXT, [BD_CSV] = FORMAT_CSV, [BD_JSON] = FORMAT_JSON, [BD_HTML] = FORMAT_HTML
    };
    struct text_style text = { style->width, style->colour };
    const struct sheet *sheet;
    struct arena *arena;
    enum status status;

    if (run->kind == RUN_REPORT && style->format == BD_HTML)
        return report_write(out, &(struct report){ run->reported, run->compare, run->findings, run->surveyed,
                                                   run->handed, BD_VERSION });
    arena = arena_new();
    sheet = arena ? run_sheet(arena, run, style) : NULL;
    status = sheet ? sheet_write(out, sheet, formats[style->format], &text) : STATUS_NO_MEMORY;

    arena_free(arena);
    return status;
}

int bd_plot_ending(const char *path)
{
    enum plot_format format;

    return plot_format_of(path, &format) == 0;
}

int bd_run_has_plot(const struct bd_run *run)
{
    return run->kind == RUN_BALANCE || run->kind == RUN_WEEK || run->kind == RUN_SUN ||
           run->kind == RUN_COMPARE || run->kind == RUN_CABLES;
}

/* Only kinds that bd_run_has_plot knows get here. */
static enum status run_plot(FILE *out, const struct bd_run *run, enum plot_format format)
{
    if (run->kind == RUN_BALANCE)
        return plot_balance(out, format, run->balance);
    if (run->kind == RUN_SUN)
        return plot_sun(out, format, run->sun);
    if (run->kind == RUN_COMPARE)
        return plot_compare(out, format, run->compare);
    if (run->kind == RUN_CABLES)
        return plot_cables(out, format, run->circuit);
    return plot_week(out, format, run->week);
}

/* What is wanted in a file; style NULL: the plot. */
static enum status run_into(FILE *out, const struct bd_run *run, const struct bd_style *style,
                            const char *path)
{
    enum plot_format format;

    if (style)
        return bd_run_write(out, run, style);
    if (!bd_run_has_plot(run) || plot_format_of(path, &format) != 0)
        return STATUS_REFUSED;
    return run_plot(out, run, format);
}

/* Says why a file could not be written; code 0: not the file system's fault. */
static void unwritten(struct arena *arena, const char *path, int code, struct diag_list *diags)
{
    char space[128];
    const char *reason = code ? strerror_r(code, space, sizeof space) : "the drawing failed";

    diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                    .file = path,
                                    .message = arena_print(arena, "cannot be written: %s", reason) });
}

/* Into a file beside the path, renamed when all is written. The abort at the end
 * finds nothing to do after a commit. */
static enum status save(const char *path, const struct bd_run *run, const struct bd_style *style,
                        struct diag_list *diags)
{
    struct file_write file = { 0 };
    struct arena *arena = arena_new();
    enum status status = arena ? file_write_begin(&file, arena, path, diags) : STATUS_NO_MEMORY, written;

    if (status == STATUS_OK) {
        errno = 0;
        written = run_into(file.stream, run, style, path);
        if (written == STATUS_UNWRITABLE)
            unwritten(arena, path, errno, diags);
        status = written == STATUS_OK ? file_write_commit(&file, diags) : written;
    }
    file_write_abort(&file);
    arena_free(arena);
    return status;
}

enum status bd_run_save(const char *path, const struct bd_run *run, const struct bd_style *style,
                        struct diag_list *diags)
{
    return save(path, run, style, diags);
}

enum status bd_run_save_plot(const char *path, const struct bd_run *run, struct diag_list *diags)
{
    return save(path, run, NULL, diags);
}

/* ---- words ---- */

const char *bd_nearest(const char *word, const char *const *known, size_t count)
{
    struct text_near near = { .word = span_of(word) };

    for (size_t i = 0; i < count; i++)
        text_near_offer(&near, known[i]);
    return near.best;
}

double bd_seconds_of(const char *text)
{
    size_t digits = strspn(text, "0123456789.");
    const struct unit *unit = unit_find(QUANTITY_DURATION, span_trim(span_of(text + digits)));
    char *end;
    double value = strtod(text, &end);

    return digits && unit && end == text + digits && isfinite(value) ? value * unit->factor + unit->offset
                                                                     : 0;
}

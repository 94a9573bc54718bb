/* bridgedeck.h - the library's one public header: read a profile, run a stage, show or save what came out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 *     struct diag_list *diags = bd_diags_new();
 *     struct bd_profile *profile;
 *     struct bd_run *run;
 *
 *     if (bd_profile_read(&profile, "boat.ini", NULL, 0, diags) == STATUS_OK) {
 *         if (bd_week_run(&run, profile, NULL, diags) == STATUS_OK) {
 *             printf("%.0f %%\n", 100 * bd_run_week(run)->summary.min_charge);
 *             bd_run_free(run);
 *         }
 *         bd_profile_free(profile);
 *     }
 *     bd_diags_print(stderr, diags, NULL);
 *     bd_diags_free(diags);
 *
 * Ownership: what is passed in is borrowed; what comes out through a first pointer belongs to the caller, who frees
 * it with the function named after it; everything inside lives as long as it does. An out-pointer is set only on
 * STATUS_OK. A run borrows its profile, which must outlive it.
 * Threads: there is no global state; different profiles, runs and lists may be used in different threads at once,
 * and one profile may be read by any number of runs.
 * Nothing is printed and nothing exits: the status says what a call could not do, the diagnostics what is wrong in
 * the user's files. The results themselves are plain structs, in SI units and [Wh]: see engine/result.h.
 */
#ifndef BRIDGEDECK_H
#define BRIDGEDECK_H

#include <stddef.h>
#include <stdio.h>

#include "base/diag.h"
#include "base/keyrow.h"
#include "base/status.h"
#include "boat/boat.h"
#include "engine/result.h"
#include "rules/finding.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BD_API __attribute__((visibility("default")))
#define BD_VERSION "0.1.0"

/* The version of the library in use; BD_VERSION is that of this header. */
BD_API const char *bd_version(void);

/* ---- diagnostics ---- */

BD_API struct diag_list *bd_diags_new(void); /* NULL without memory */
BD_API void bd_diags_free(struct diag_list *diags);

struct bd_diag_style {
    enum diag_severity least; /* what is below it is left out */
    int colour;               /* 1: for a terminal that shows it */
};

/* Writes them as text, each but once; style NULL: all, plain. STATUS_UNWRITABLE where the stream fails. */
BD_API enum status bd_diags_print(FILE *out, const struct diag_list *diags, const struct bd_diag_style *style);

/* ---- the profile ---- */

struct bd_profile; /* a profile as read: the boat and all its texts */

/*
 * Reads the file and lays the change files over it, in order. All that is wrong is added to diags; with an error
 * among it the status is STATUS_REFUSED.
 */
BD_API enum status bd_profile_read(struct bd_profile **out, const char *path, const char *const *changes,
                                   size_t change_count, struct diag_list *diags);

/* The same from text in memory; name stands for the path in diagnostics. */
BD_API enum status bd_profile_read_text(struct bd_profile **out, const char *name, const char *text, size_t length,
                                        struct diag_list *diags);
BD_API const struct boat *bd_profile_boat(const struct bd_profile *profile);
BD_API void bd_profile_free(struct bd_profile *profile);

/* ---- runs ---- */

struct bd_run; /* one result, with the memory it lives in */

struct bd_week_options {
    double step_s; /* [s] 0: the plan's */
    double row_s;  /* [s] between kept rows; 0: every step; negative: none */
};

/* What was read, and what was assumed where the profile is silent. */
BD_API enum status bd_check_run(struct bd_run **out, const struct bd_profile *profile);

/* Each computes one result. STATUS_INCOMPLETE, and a diagnostic, where the profile lacks what the work needs. */
BD_API enum status bd_balance_run(struct bd_run **out, const struct bd_profile *profile, struct diag_list *diags);
BD_API enum status bd_size_run(struct bd_run **out, const struct bd_profile *profile, struct diag_list *diags);
BD_API enum status bd_week_run(struct bd_run **out, const struct bd_profile *profile,
                               const struct bd_week_options *options, struct diag_list *diags);

/* One day of sun; date as YYYY-MM-DD and valid (bd_date_valid), or NULL: the first day of the plan. */
BD_API enum status bd_sun_run(struct bd_run **out, const struct bd_profile *profile, const char *date,
                              struct diag_list *diags);

/* One profile of a comparison, under the name it is to have there. */
struct bd_side {
    const char *name;
    const struct bd_profile *profile;
};

/* The same plan before and after: the first of the sides (at least one) is the one before. Names are borrowed too. */
BD_API enum status bd_compare_run(struct bd_run **out, const struct bd_side *sides, size_t count,
                                  struct diag_list *diags);

struct bd_survey_options {
    const char *rules; /* "cfr183", "abyc-e11", "iso10133", "iso13297", "own", "all"; NULL: the profile's */
    int underwriter;   /* 1: priorities A and B only */
};

/* Findings. By "all": only what the sets judge differently, side by side. options NULL: the profile's set, everything. */
BD_API enum status bd_survey_run(struct bd_run **out, const struct bd_profile *profile,
                                 const struct bd_survey_options *options, struct diag_list *diags);

/* Cables, fuses and volts by a rule set ("all" is none), shown for "largest", "surge", "charging" or a kind of day;
 * NULL: the profile's set, the largest. STATUS_INCOMPLETE where the profile has no cables. */
BD_API enum status bd_cables_run(struct bd_run **out, const struct bd_profile *profile, const char *rules,
                                 const char *scenario, struct diag_list *diags);

/* One run of cable as typed, with units; NULL: not given. Either current or power, and length, must be. */
struct bd_cable_request {
    const char *current, *power, *volts; /* "30 A", "360 W", "12 V"; power is drawn at the load whatever its volts */
    const char *power_factor;            /* "0.8"; from 50 V up, where the run counts as AC; NULL: 1 */
    const char *length;                  /* one way: "6 m", "20 ft" */
    const char *drop;                    /* "3 %"; NULL: the rule set's ordinary limit */
    const char *insulation, *place;      /* "105 C"; "cabin" or "engine" */
    const char *bundle, *runs;           /* "4"; "2" */
    const char *area;                    /* "35 mm2", "2 AWG"; NULL: to be sized */
    const char *units;                   /* "metric" or "us" sizes; NULL: the rule set's */
    const char *rules;                   /* NULL: cfr183 */
    int table;                           /* 1: also sizes by length and current */
};

/* Without a profile. STATUS_REFUSED with diagnostics for what does not read. */
BD_API enum status bd_cable_run(struct bd_run **out, const struct bd_cable_request *request, struct diag_list *diags);

/* 1 for a name that bd_survey_options.rules may have. */
BD_API int bd_rules_known(const char *name);

/* The sheet to switch on by, for a kind of day; NULL: the first of the plan. STATUS_REFUSED where there is none. */
BD_API enum status bd_handover_run(struct bd_run **out, const struct bd_profile *profile, const char *day,
                                   struct diag_list *diags);

/*
 * All of it for one page: before NULL, or the same profile without its changes, to be set beside it. Shown as
 * BD_HTML; the other formats show the comparison that the page begins with.
 */
BD_API enum status bd_report_run(struct bd_run **out, const struct bd_profile *profile,
                                 const struct bd_profile *before, struct diag_list *diags);

/*
 * The key reference: of one section ("bank"), or all of it where section is NULL; "climate" lists the shipped
 * cruising areas, "rules" the rules of the survey as well. STATUS_REFUSED, and a diagnostic, where there is no such section.
 */
BD_API enum status bd_keys_run(struct bd_run **out, const char *section, struct diag_list *diags);

/* The result itself, owned by the run; NULL where the run is of another kind. */
BD_API const struct balance *bd_run_balance(const struct bd_run *run);
BD_API const struct size *bd_run_size(const struct bd_run *run);
BD_API const struct week *bd_run_week(const struct bd_run *run);
BD_API const struct sun_day *bd_run_sun(const struct bd_run *run);
BD_API const struct compare *bd_run_compare(const struct bd_run *run);
BD_API const struct survey *bd_run_survey(const struct bd_run *run);
BD_API const struct handover *bd_run_handover(const struct bd_run *run);
BD_API const struct key_row *bd_run_keys(const struct bd_run *run, size_t *count);
BD_API const struct survey_rule_row *bd_run_rules(const struct bd_run *run, size_t *count); /* of bd_keys_run "rules" */

/*
 * 0 where the result shows a requirement that is not met: balance, the plan uses more than it brings; size, the
 * boat as installed does not pass its week; week, below the floor, something unserved, or an overload; compare, a
 * change after which something does not hold; survey, a finding of priority A that stands; report, either of the
 * last two on its boat. Else 1.
 */
BD_API int bd_run_passes(const struct bd_run *run);

BD_API void bd_run_free(struct bd_run *run);

/* ---- showing and saving ---- */

enum bd_format { BD_TEXT, BD_CSV, BD_JSON, BD_HTML };

/* A zeroed struct is plain text, 100 characters wide, without the working. */
struct bd_style {
    enum bd_format format;
    int width;   /* [characters] of text; 0: 100 */
    int colour;  /* 1: text for a terminal that shows it */
    int working; /* 1: the formula, the numbers and the source of each figure as well */
    const char *sheets; /* cables: names of bd_cables_sheet with commas between; NULL: the usual ones */
    const char *units;  /* cables: lengths and sizes for people, "metric" or "us"; NULL: as the boat is wired */
};

/* The schedules of a run of cables by number from 0: "cables", "fuses", ...; NULL: there are no more. CSV writes the
 * first of those that are asked for. */
BD_API const char *bd_cables_sheet(size_t index);

BD_API enum status bd_run_write(FILE *out, const struct bd_run *run, const struct bd_style *style);

/* The ending of path decides: .svg, .png, .ps. 1 where a plot can be saved under such a name. */
BD_API int bd_plot_ending(const char *path);

/* 1 where there is a plot of such a run. */
BD_API int bd_run_has_plot(const struct bd_run *run);

/*
 * Both write beside the path and rename into place: a failure leaves no half file and an old one as it was, and
 * says why in diags.
 */
BD_API enum status bd_run_save(const char *path, const struct bd_run *run, const struct bd_style *style,
                               struct diag_list *diags);
BD_API enum status bd_run_save_plot(const char *path, const struct bd_run *run, struct diag_list *diags);

/* ---- words ---- */

/* 1 for an existing day written YYYY-MM-DD. */
BD_API int bd_date_valid(const char *date);

/* A length of time as in a profile, "1min", "30 s", "2 h", in [s]; 0 where it is not one or not positive. */
BD_API double bd_seconds_of(const char *text);

/* What a misspelt word may have been meant to be; NULL where nothing is near. */
BD_API const char *bd_nearest(const char *word, const char *const *known, size_t count);

#ifdef __cplusplus
}
#endif

#endif

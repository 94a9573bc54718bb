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
 * Ownership: what is passed in is borrowed; what comes out through a first pointer belongs to the caller,
 * who frees it with the function named after it; everything inside lives as long as it does. An out-pointer
 * is set only on STATUS_OK. A run borrows its profile, which must outlive it.
 * Threads: there is no global state; different profiles, runs and lists may be used in different threads at
 * once, and one profile may be read by any number of runs.
 * Nothing is printed and nothing exits: the status says what a call could not do, the diagnostics what is
 * wrong in the user's files. The results themselves are plain structs, in SI units and [Wh]: see
 * engine/result.h.
 * Checked: tests/api/test_api.c, tests/api/test_threads.c.
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

/*
 * The version of the library in use, "0.1.0"; BD_VERSION is that of this header. A program linked against a
 * shared library compares the two to see whether it runs with what it was built for. Static text, never
 * NULL.
 */
BD_API const char *bd_version(void);

/* ---- diagnostics ---- */

/*
 * A new empty list of remarks, with memory of its own; NULL without memory. One list may serve any number of
 * calls: each adds to it. Two threads must not add to the same list at once. Its fields may be read:
 * base/diag.h.
 */
BD_API struct diag_list *bd_diags_new(void); /* NULL without memory */
/* Frees the list and the texts of its remarks. NULL is allowed. */
BD_API void bd_diags_free(struct diag_list *diags);

struct bd_diag_style {
    enum diag_severity least; /* what is below it is left out */
    int colour;               /* 1: for a terminal that shows it */
};

/*
 * Writes the remarks as text, in the order they were added, each but once however often it was said.
 *
 *   out     any open stream; it is not flushed
 *   style   NULL: all of them, plain
 *   returns STATUS_OK; STATUS_UNWRITABLE where the stream has failed
 *
 * That the list was cut for want of memory is written as well.
 */
BD_API enum status bd_diags_print(FILE *out, const struct diag_list *diags,
                                  const struct bd_diag_style *style);

/* ---- the profile ---- */

/* A profile as read: the boat and all its texts. Never changes once made, so any number of threads may use
 * one. */
struct bd_profile; /* a profile as read: the boat and all its texts */

/*
 * Reads a profile and lays the change files over it, in order: a section or key of a change file replaces or
 * adds to what stood there.
 *
 *   out           set on STATUS_OK only; free it with bd_profile_free
 *   path          of the profile; weather and table files that it names are looked for beside it
 *   changes       change_count paths; NULL where change_count is 0
 *   diags         all that is wrong is added, warnings and notes as well
 *
 * Returns STATUS_UNREADABLE where a file is missing, too large or not text; STATUS_REFUSED where a
 * diagnostic is an error; STATUS_NO_MEMORY. Notes and warnings alone do not fail it.
 */
BD_API enum status bd_profile_read(struct bd_profile **out, const char *path, const char *const *changes,
                                   size_t change_count, struct diag_list *diags);

/*
 * The same from text in memory, without changes.
 *
 *   name          stands for the path in diagnostics; files that the text names are looked for beside it
 *   text, length  [byte] need not end with a NUL; copied, so it may go away afterwards
 */
BD_API enum status bd_profile_read_text(struct bd_profile **out, const char *name, const char *text,
                                        size_t length, struct diag_list *diags);
/* The boat, in SI units (boat/boat.h); owned by the profile, never NULL. */
BD_API const struct boat *bd_profile_boat(const struct bd_profile *profile);
/* Frees the profile and its boat; runs made from it must not be used any more. NULL is allowed. */
BD_API void bd_profile_free(struct bd_profile *profile);

/* ---- runs ---- */

/* One result, with the memory it lives in. Never changes once made. */
struct bd_run; /* one result, with the memory it lives in */

/* How finely a week is simulated and kept. A zeroed struct is the usual. */
struct bd_week_options {
    double step_s; /* [s] 0: the plan's */
    double row_s;  /* [s] between kept rows; 0: every step; negative: none */
};

/* What was read, and what was assumed where the profile is silent. Fails without memory only. */
BD_API enum status bd_check_run(struct bd_run **out, const struct bd_profile *profile);

/*
 * The daily energy account of every kind of day: engine/result.h, struct balance.
 *
 * Each of the functions below computes one result and sets *out on STATUS_OK. Each returns
 * STATUS_INCOMPLETE, with a diagnostic that names the missing section or key, where the profile lacks what
 * the work needs; STATUS_NO_MEMORY. Warnings of the computation are added to diags.
 */
BD_API enum status bd_balance_run(struct bd_run **out, const struct bd_profile *profile,
                                  struct diag_list *diags);

/* Sizes of bank, panels, alternators, chargers, generator and inverter, by simulation and by handbook sums:
 * struct size. The slowest of all: it runs the plan some 35 times over (docs/benchmarks.md). */
BD_API enum status bd_size_run(struct bd_run **out, const struct bd_profile *profile,
                               struct diag_list *diags);

/* The plan, step by step: struct week. options NULL: the plan's own step, every step kept as a row.
 * STATUS_INCOMPLETE also where the step does not divide a day, or lies outside 1 s to 1 h. */
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

/*
 * The same plan before and after a change: struct compare.
 *
 *   sides   the first is the one before; names are borrowed too, they and the profiles must outlive the run
 *   count   at least 1
 */
BD_API enum status bd_compare_run(struct bd_run **out, const struct bd_side *sides, size_t count,
                                  struct diag_list *diags);

struct bd_survey_options {
    const char *rules; /* "cfr183", "abyc-e11", "iso10133", "iso13297", "own", "all"; NULL: the profile's */
    int underwriter;   /* 1: priorities A and B only */
};

/*
 * Findings of a survey: struct survey. options NULL: the profile's set, everything. By "all" only what the
 * sets judge differently, side by side; bd_run_survey is NULL then. STATUS_REFUSED, and a diagnostic, where a
 * name is no rule set.
 */
BD_API enum status bd_survey_run(struct bd_run **out, const struct bd_profile *profile,
                                 const struct bd_survey_options *options, struct diag_list *diags);

/*
 * Cables, fuses and volts of the network.
 *
 *   rules      a rule set by name, as in bd_survey_run; NULL: the profile's. "all" is none: one set decides
 *   scenario   what is on: "largest", "surge", "charging" or the name of a kind of day; NULL: "largest"
 *
 * STATUS_INCOMPLETE where the profile has no cables, STATUS_REFUSED where rules or scenario is no such name.
 */
BD_API enum status bd_cables_run(struct bd_run **out, const struct bd_profile *profile, const char *rules,
                                 const char *scenario, struct diag_list *diags);

/* One run of cable as typed, with units; NULL: not given. Either current or power, and length, must be. */
struct bd_cable_request {
    /* "30 A", "360 W", "12 V"; power is drawn at the load whatever its volts */
    const char *current, *power, *volts;
    const char *power_factor;            /* "0.8"; from 50 V up, where the run counts as AC; NULL: 1 */
    const char *fault;                   /* "5 kA": short circuit where the run begins; NULL: not known */
    const char *length;                  /* one way: "6 m", "20 ft" */
    const char *drop;                    /* "3 %"; NULL: the rule set's ordinary limit */
    const char *insulation, *place;      /* "105 C"; "cabin" or "engine" */
    const char *bundle, *runs;           /* "4"; "2" */
    const char *area;                    /* "35 mm2", "2 AWG"; NULL: to be sized */
    const char *units;                   /* "metric" or "us" sizes; NULL: the rule set's */
    const char *rules;                   /* NULL: cfr183; "all": every set, side by side */
    int table;                           /* 1: also sizes by length and current */
};

/* One run of cable without a profile. STATUS_REFUSED with diagnostics for
 * what does not read or is out of range. */
BD_API enum status bd_cable_run(struct bd_run **out, const struct bd_cable_request *request,
                                struct diag_list *diags);

/* 1 for a name that bd_survey_options.rules may have. */
BD_API int bd_rules_known(const char *name);

/* The sheet to switch on by: what each breaker should show on a kind of day. day NULL: the first day of the
 * plan. STATUS_REFUSED where there is no such kind of day. */
BD_API enum status bd_handover_run(struct bd_run **out, const struct bd_profile *profile, const char *day,
                                   struct diag_list *diags);

/*
 * All of it for one page.
 *
 *   profile   the boat as she is to be
 *   before    NULL, or the same profile without its changes, to be set beside it; must outlive the run too
 *
 * Shown as BD_HTML; the other formats show the comparison that the page begins with.
 */
BD_API enum status bd_report_run(struct bd_run **out, const struct bd_profile *profile,
                                 const struct bd_profile *before, struct diag_list *diags);

/*
 * The key reference: of one section ("bank"), or all of it where section is NULL; "climate" lists
 * the shipped cruising areas, "rules" the rules of the survey as well. STATUS_REFUSED, and a
 * diagnostic, where there is no such section.
 */
BD_API enum status bd_keys_run(struct bd_run **out, const char *section, struct diag_list *diags);

/*
 * The result itself, owned by the run and gone with it; NULL where the run is of another kind. What the
 * fields mean, with their units: engine/result.h and the headers that it includes, rules/finding.h,
 * base/keyrow.h.
 */
BD_API const struct balance *bd_run_balance(const struct bd_run *run);
BD_API const struct size *bd_run_size(const struct bd_run *run);
BD_API const struct week *bd_run_week(const struct bd_run *run);
BD_API const struct sun_day *bd_run_sun(const struct bd_run *run);
BD_API const struct compare *bd_run_compare(const struct bd_run *run);
BD_API const struct survey *bd_run_survey(const struct bd_run *run);
BD_API const struct handover *bd_run_handover(const struct bd_run *run);
BD_API const struct key_row *bd_run_keys(const struct bd_run *run, size_t *count);
/* Rows of bd_keys_run "rules", beside the keys of bd_run_keys; count 0 where there are none. */
BD_API const struct survey_rule_row *bd_run_rules(const struct bd_run *run, size_t *count);

/*
 * 0 where the result shows a requirement that is not met, else 1 (also where a kind of run has none):
 *
 *   balance   the plan uses more than it brings
 *   size      the boat as installed does not pass its week
 *   week      below the floor, something unserved, or an overload
 *   cables    a cable or fuse that its rule set does not allow, or volts that collapse
 *   cable     the same of the one run
 *   compare   a change after which something does not hold
 *   survey    a finding of priority A that stands, by any of the sets where it is "all"
 *   report    the last two on its boat
 */
BD_API int bd_run_passes(const struct bd_run *run);

/* Frees the run and all results in it. NULL is allowed. */
BD_API void bd_run_free(struct bd_run *run);

/* ---- showing and saving ---- */

enum bd_format { BD_TEXT, BD_CSV, BD_JSON, BD_HTML }; /* by which bd_run_write shows a run */

/* A zeroed struct is plain text, 100 characters wide, without the working. */
struct bd_style {
    enum bd_format format;
    int width;   /* [characters] of text; 0: 100 */
    int colour;  /* 1: text for a terminal that shows it */
    int working; /* 1: the formula, the numbers and the source of each figure as well */
    const char *sheets; /* cables: names of bd_cables_sheet with commas between; NULL: the usual ones */
    /* cables: lengths and sizes for people, "metric" or "us"; NULL: as the boat is wired */
    const char *units;
};

/* The schedules of a run of cables by number from 0: "cables", "fuses", ...; NULL: there are no more. CSV
 * writes the first of those that are asked for. */
BD_API const char *bd_cables_sheet(size_t index);

/*
 * Writes a result to an open stream. CSV and JSON name what they give by the machine
 * names of docs/glossary.md; text and HTML are for people. STATUS_UNWRITABLE where
 * the stream fails, STATUS_NO_MEMORY.
 */
BD_API enum status bd_run_write(FILE *out, const struct bd_run *run, const struct bd_style *style);

/* The ending of path decides: .svg, .png, .ps. 1 where a plot can be saved under such a name. */
BD_API int bd_plot_ending(const char *path);

/* 1 where there is a plot of such a run. */
BD_API int bd_run_has_plot(const struct bd_run *run);

/*
 * The same into a file. Both functions write beside the path and rename into place: a failure leaves no half
 * file and an old one as it was, and says why in diags. A path that is a device or a pipe is written
 * straight through.
 */
BD_API enum status bd_run_save(const char *path, const struct bd_run *run, const struct bd_style *style,
                               struct diag_list *diags);

/* The plot of a run, drawn as the ending of path says. STATUS_REFUSED where
 * bd_run_has_plot or bd_plot_ending is 0. */
BD_API enum status bd_run_save_plot(const char *path, const struct bd_run *run, struct diag_list *diags);

/* ---- words ---- */

/* 1 for an existing day of the Gregorian calendar written YYYY-MM-DD, and nothing behind it. */
BD_API int bd_date_valid(const char *date);

/* A length of time as in a profile, "1min", "30 s", "2 h", in [s]; 0 where it is not one or not positive. A
 * number without a unit is none. */
BD_API double bd_seconds_of(const char *text);

/* What a misspelt word may have been meant to be: one of the known ones,
 * borrowed; NULL where nothing is near. */
BD_API const char *bd_nearest(const char *word, const char *const *known, size_t count);

#ifdef __cplusplus
}
#endif

#endif

/* report.c - the assembled page: what comes in which order.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/report.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "output/cautions.h"
#include "output/html.h"
#include "output/plot.h"
#include "output/sheets.h"
#include "output/sheets_report.h"
#include "output/words.h"

/*
 * One page of HTML that needs nothing else: pictures, style and all text within.
 *
 *     verdict -> contents -> before and after -> assumed -> balance -> week -> sizes -> cables -> survey
 *             -> hand-over -> profile -> sources -> cautions
 *
 * Parts are rows of report_parts; one without anything to say (no changes, no cables) is left out of
 * contents and page. A part is a sheet as on a terminal, drawn by the HTML walker, with the picture of its
 * command above.
 */

struct page_writer {
    FILE *out;
    struct arena *arena;
    const struct report *report;
    const struct compare_side *side; /* the boat reported */
};

/* One part of the page. */
struct report_part {
    const char *id, *heading;
    int sheet;                                  /* 1: begins a new sheet of paper */
    int (*wanted)(const struct report *report); /* NULL: always */
    enum status (*write)(struct page_writer *page);
};

/* ---- helpers ---- */

/* A sheet without its cautions, which stand once at the end of the page. */
static enum status sheet_part(struct page_writer *page, const struct sheet *sheet, struct html_part part)
{
    part.no_cautions = 1;
    return sheet ? html_sheet(page->out, page->arena, sheet, &part) : STATUS_NO_MEMORY;
}

/* The drawing without what stands before its root element: a declaration may not stand within a page. */
static enum status figure_write(struct page_writer *page, char *svg, const char *twin)
{
    const char *root = svg ? strstr(svg, "<svg") : NULL;

    if (!root || !twin)
        return STATUS_NO_MEMORY;
    fputs("<figure>\n", page->out);
    fputs(root, page->out);
    fputs("<figcaption>", page->out);
    html_text(page->out, twin);
    fputs("</figcaption>\n</figure>\n", page->out);
    return STATUS_OK;
}

/* Draws into memory and puts it on the page. draw returns the status of the drawing. */
#define FIGURE(page, draw, result, twin)                                                                     \
    do {                                                                                                     \
        char *svg = NULL;                                                                                    \
        size_t length = 0;                                                                                   \
        FILE *memory = open_memstream(&svg, &length);                                                        \
        enum status drawn = memory ? draw(memory, PLOT_SVG, result) : STATUS_NO_MEMORY;                      \
                                                                                                             \
        if (memory)                                                                                          \
            fclose(memory);                                                                                  \
        if (drawn == STATUS_OK)                                                                              \
            drawn = figure_write(page, svg, twin(page->arena, result));                                      \
        free(svg);                                                                                           \
        if (drawn != STATUS_OK)                                                                              \
            return drawn;                                                                                    \
    } while (0)

/* ---- the parts ---- */

/* What the whole report comes to, before any table; the caution of planning stands with it. */
static enum status write_verdict(struct page_writer *page)
{
    const struct sheet *sheet = sheet_verdict(page->arena, page->side);
    enum status status;

    fputs("<p class=\"verdict\">", page->out);
    html_text(page->out, page->side->verdict);
    fputs("</p>\n<div class=\"holds\">\n", page->out);
    status = sheet_part(page, sheet, (struct html_part){ .no_lead = 1 });
    fputs("</div>\n<p class=\"of\">", page->out);
    html_text(page->out, caution_text(CAUTION_PLANNING));
    fputs("</p>\n", page->out);
    return status;
}

static int has_before(const struct report *report)
{
    return report->compare->side_count > 1;
}

static enum status write_compare(struct page_writer *page)
{
    FIGURE(page, plot_compare, page->report->compare, plot_twin_compare);
    return sheet_part(page, sheet_compare(page->arena, page->report->compare, page->report->findings),
                      (struct html_part){ .no_lead = 1 });
}

static enum status write_assumed(struct page_writer *page)
{
    if (!page->report->boat->assumption_count) {
        fputs("<p>Nothing: the profile gives every value.</p>\n", page->out);
        return STATUS_OK;
    }
    fputs("<p>The profile does not say these; results are only as good as they are. "
          "Give the value in the profile where you know it. <code>bridgedeck check</code> lists each by "
          "itself.</p>\n",
          page->out);
    return sheet_part(page, sheet_assumed(page->arena, page->report->boat),
                      (struct html_part){ .no_lead = 1 });
}

static enum status write_balance(struct page_writer *page)
{
    const struct balance *balance = page->side->balance;

    FIGURE(page, plot_balance, balance, plot_twin_balance);
    return sheet_part(page, sheet_daily(page->arena, balance), (struct html_part){ .no_lead = 1 });
}

static enum status write_week(struct page_writer *page)
{
    const struct week *week = page->side->week;

    FIGURE(page, plot_week, week, plot_twin_week);
    return sheet_part(page, sheet_week(page->arena, week), (struct html_part){ .no_lead = 1 });
}

static enum status write_size(struct page_writer *page)
{
    return sheet_part(page, sheet_size(page->arena, page->side->size, 1), (struct html_part){ .no_lead = 1 });
}

static int has_circuit(const struct report *report)
{
    const struct compare *compare = report->compare;

    return compare->sides[compare->side_count - 1].circuit != NULL;
}

static enum status write_circuit(struct page_writer *page)
{
    FIGURE(page, plot_cables, page->side->circuit, plot_twin_cables);
    return sheet_part(page, sheet_cables(page->arena, page->side->circuit, NULL),
                      (struct html_part){ .no_title = 1 });
}

static int has_survey(const struct report *report)
{
    return report->survey != NULL;
}

static enum status write_survey(struct page_writer *page)
{
    return sheet_part(page, sheet_survey(page->arena, page->report->survey),
                      (struct html_part){ .no_title = 1 });
}

static int has_handover(const struct report *report)
{
    return report->handover != NULL;
}

static enum status write_handover(struct page_writer *page)
{
    return sheet_part(page, sheet_handover(page->arena, page->report->handover),
                      (struct html_part){ .no_title = 1 });
}

static enum status write_profile(struct page_writer *page)
{
    return sheet_part(page, sheet_check(page->arena, page->report->boat),
                      (struct html_part){ .no_lead = 1, .tables = "sections" });
}

static enum status write_sources(struct page_writer *page)
{
    return sheet_part(page, sheet_sources(page->arena, page->report), (struct html_part){ .no_lead = 1 });
}

static enum status write_cautions(struct page_writer *page)
{
    fputs("<ul class=\"notes\">\n", page->out);
    for (int c = 0; c < CAUTIONS; c++) {
        fputs("<li>", page->out);
        html_text(page->out, caution_text((enum caution)c));
        fputs("</li>\n", page->out);
    }
    fputs("</ul>\n", page->out);
    return STATUS_OK;
}

static const struct report_part report_parts[] = {
    { "verdict", "Verdict", 0, NULL, write_verdict },
    { "compare", "Before and after", 1, has_before, write_compare },
    { "assumed", "What was assumed", 1, NULL, write_assumed },
    { "balance", "Daily energy balance", 0, NULL, write_balance },
    { "week", "The plan, simulated", 0, NULL, write_week },
    { "sizes", "Sizes, with their working", 0, NULL, write_size },
    { "cables", "Cables, fuses and volts", 1, has_circuit, write_circuit },
    { "survey", "Survey", 1, has_survey, write_survey },
    { "handover", "Switching on", 1, has_handover, write_handover },
    { "profile", "The profile as it was read", 1, NULL, write_profile },
    { "sources", "Sources", 0, NULL, write_sources },
    { "cautions", "Cautions", 0, NULL, write_cautions },
};

enum { REPORT_PARTS = sizeof report_parts / sizeof report_parts[0] };

/* ---- the page ---- */

static int wanted(const struct report_part *part, const struct report *report)
{
    return !part->wanted || part->wanted(report);
}

static void write_contents(struct page_writer *page)
{
    fputs("<nav aria-label=\"Contents\">\n<ol>\n", page->out);
    for (size_t i = 0; i < REPORT_PARTS; i++)
        if (wanted(report_parts + i, page->report))
            fprintf(page->out, "<li><a href=\"#%s\">%s</a></li>\n", report_parts[i].id,
                    report_parts[i].heading);
    fputs("</ol>\n</nav>\n", page->out);
}

/* The boat stands above it. */
static const char *dates_and_place(struct arena *arena, const struct week *week)
{
    struct week nameless = *week;

    nameless.boat = NULL;
    return week_subtitle(arena, &nameless);
}

static void write_head(struct page_writer *page, const char *name)
{
    const struct week *week = page->side->week;

    fputs("<header>\n<p class=\"kind\">Electrical system report</p>\n<h1>", page->out);
    html_text(page->out, name);
    fputs("</h1>\n<p class=\"of\">", page->out);
    html_text(page->out, dates_and_place(page->arena, week));
    fputs("</p>\n</header>\n", page->out);
}

static enum status write_part(struct page_writer *page, const struct report_part *part)
{
    enum status status;

    fprintf(page->out, "<section id=\"%s\"%s aria-labelledby=\"%s-h\">\n<h2 id=\"%s-h\">%s</h2>\n", part->id,
            part->sheet ? " class=\"sheet\"" : "", part->id, part->id, part->heading);
    status = part->write(page);
    fputs("</section>\n", page->out);
    return status;
}

/* Stops at the first part that fails; the page is then thrown away by the caller. */
static enum status write_page(struct page_writer *page)
{
    const char *name = page->side->week->boat;
    const char *title = arena_print(page->arena, "%s: electrical system report", name);
    enum status status = title ? STATUS_OK : STATUS_NO_MEMORY;

    if (status != STATUS_OK)
        return status;
    html_begin(page->out, title);
    fputs("<main>\n", page->out);
    write_head(page, name);
    for (size_t i = 0; i < REPORT_PARTS && status == STATUS_OK; i++) {
        if (wanted(report_parts + i, page->report))
            status = write_part(page, report_parts + i);
        if (i == 0) /* the verdict comes first, on a small screen too */
            write_contents(page);
    }
    fputs("</main>\n<footer>\n<p class=\"of\">Made by Bridgedeck ", page->out);
    html_text(page->out, page->report->version);
    fputs(" from one profile of the boat.</p>\n</footer>\n", page->out);
    html_end(page->out);
    return status;
}

enum status report_write(FILE *out, const struct report *report)
{
    struct page_writer page = { out, arena_new(), report,
                                report->compare->sides + report->compare->side_count - 1 };
    enum status status = page.arena ? write_page(&page) : STATUS_NO_MEMORY;

    arena_free(page.arena);
    if (status == STATUS_OK && (fflush(out) != 0 || ferror(out)))
        status = STATUS_UNWRITABLE;
    return status;
}

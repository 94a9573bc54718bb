/* plot_compare.c - weeks laid over each other: charge above, what had to run below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "output/plot_days.h"
#include "output/plot_draw.h"
#include "output/words.h"

/*
 * The weeks of all sides laid over each other: charge above, before in grey, each change in an ink
 * of its own and thinner, so that where they agree both are seen; below a lane a side with the hours
 * that generator and engines ran.
 */

enum { SMALL_SIZE = 12, LANE = 22, LANES_MOST = 6 };

/* Before in grey, then inks that differ from it and from each other in lightness as well. */
static struct ink side_ink(size_t side)
{
    static const struct ink inks[] = { INK_MIDDLE, INK_BLACK, INK_ENGINE, INK_BAD, INK_SHORE, INK_DARK };

    return inks[side % (sizeof inks / sizeof inks[0])];
}

/* Later sides are drawn thinner, over the earlier ones: where they agree both are seen. */
static double side_width(size_t side)
{
    return side == 0 ? 4 : side == 1 ? 2.2 : 1.6;
}

/* As many as there are inks. */
static size_t sides_drawn(const struct compare *compare)
{
    return compare->side_count < LANES_MOST ? compare->side_count : LANES_MOST;
}

/* A text in the making; "" without memory, and the page has failed. */
static const char *words(struct page *page, const char *text)
{
    page->failed |= !text;
    return text ? text : "";
}

/* ---- charge ---- */

/* Lines first, then their lowest points: a name must keep clear of every line. */
static void draw_charges(struct page *page, const struct frame *f, const struct compare *compare)
{
    for (size_t i = 0; i < sides_drawn(compare); i++)
        if (compare->sides[i].week->row_count)
            week_charge_draw(page, f, compare->sides[i].week, side_width(i), side_ink(i));
    for (size_t i = 0; i < sides_drawn(compare); i++) {
        const char *name = text_cut(page, compare->sides[i].name, 180, SMALL_SIZE, 1);

        week_lowest_draw(page, f, compare->sides[i].week, words(page, arena_print(page->arena, "%s: ", name)),
                         i == 0 ? INK_DARK : side_ink(i));
    }
}

/* Limits of all sides where they agree, else of each; they are few. */
static void draw_floors(struct page *page, const struct frame *f, const struct compare *compare)
{
    for (size_t i = 0; i < sides_drawn(compare); i++) {
        double floor = compare->sides[i].week->summary.floor;
        int seen = 0;

        for (size_t k = 0; k < i; k++)
            seen |= fabs(compare->sides[k].week->summary.floor - floor) < 0.005;
        if (floor > 0 && !seen)
            week_limit_draw(page, f, "floor", floor, INK_BAD);
    }
}

/* ---- what ran ---- */

static int runs(const struct week *week, size_t row, int generator)
{
    return row < week->row_count && (generator ? week->rows[row].generator_on : week->rows[row].engine_on);
}

/* Bars over the time that it ran, upper half the generator, lower half the engines. */
static void draw_runs(struct page *page, const struct frame *f, const struct week *week, double y,
                      int generator, struct ink ink)
{
    double y0 = generator ? y + 1 : y - 7, y1 = y0 + 6;

    for (size_t r = 0, n; r < week->row_count; r += n) {
        for (n = 0; runs(week, r + n, generator); n++)
            ;
        if (n) {
            double x0 = frame_x(f, week->rows[r].time_s);
            double x1 = frame_x(f, week->rows[r + n - 1].time_s + week->row_step_s);

            fill_box(page, (struct box){ x0, y0, fmax(x1, x0 + 1), y1 }, ink);
        }
        n = n ? n : 1;
    }
}

static const char *hours_words(struct page *page, const struct week_summary *w)
{
    const char *generator = number_text(page->arena, w->generator_h, 1);
    const char *engine = number_text(page->arena, w->engine_h, 1);

    return words(page, arena_print(page->arena, "%s h, %s h", words(page, generator), words(page, engine)));
}

/* A lane for each side: when its generator and its engine ran, name before, hours of both behind. */
static void draw_lanes(struct page *page, const struct frame *f, const struct compare *compare)
{
    for (size_t i = 0; i < sides_drawn(compare); i++) {
        const struct week *week = compare->sides[i].week;
        double y = f->box.y1 - LANE * ((double)i + 0.5);
        const struct label name = { text_cut(page, compare->sides[i].name, f->box.x0 - PAGE_MARGIN - 8,
                                             SMALL_SIZE, 0),
                                    f->box.x0 - 8,
                                    y - SMALL_SIZE * 0.36,
                                    'r',
                                    SMALL_SIZE,
                                    0,
                                    INK_BLACK };
        const struct label hours = { hours_words(page, &week->summary),
                                     f->box.x1 + 8,
                                     y - SMALL_SIZE * 0.36,
                                     'l',
                                     SMALL_SIZE,
                                     0,
                                     INK_BLACK };

        rule(page, f->box.x0, y - LANE / 2.0, f->box.x1, y - LANE / 2.0, 0.8, INK_RULE);
        draw_runs(page, f, week, y, 1, side_ink(i));
        draw_runs(page, f, week, y, 0, INK_LIGHT);
        label_try(page, &name, NULL);
        label_try(page, &hours, NULL);
    }
}

/* ---- the page ---- */

static int any_runs(const struct compare *compare)
{
    for (size_t i = 0; i < compare->side_count; i++)
        if (compare->sides[i].week->summary.generator_h > 0 || compare->sides[i].week->summary.engine_h > 0)
            return 1;
    return 0;
}

const char *compare_title(struct page *page, const struct compare *compare)
{
    const struct compare_side *before = compare->sides, *after = compare->sides + compare->side_count - 1;

    if (compare->side_count != 2)
        return "Charge before, and after each change";
    return words(page,
                 arena_print(page->arena, "Lowest charge %.0f %% before, %.0f %% after",
                             before->week->summary.min_charge * 100, after->week->summary.min_charge * 100));
}

void compare_draw(struct page *page, const struct compare *compare)
{
    const struct week *week = compare->sides[0].week;
    double lanes = any_runs(compare) ? LANE * (double)sides_drawn(compare) : 0;
    struct box below = { 118, 58, 1092, 58 + lanes },
               above = { 118, below.y1 + (lanes > 0 ? 30 : 0), 1092, 560 };
    struct frame charge = week_frame(week, above), ran = week_frame(week, below);
    const char *subtitle = listed(page->arena, compare->boat, compare->place,
                                  compare->side_count == 2 ? compare->sides[1].name : NULL, NULL);
    struct night *nights;
    size_t count;

    page_title(page, compare_title(page, compare), words(page, subtitle));
    count = week_nights(page, &nights, week);
    if (page->failed)
        return;
    night_bands(page, &charge, nights, count);
    value_axis(page, &charge, 20);
    axis_name(page, &charge, "charge, %", 'r');
    week_days_draw(page, &charge, week);
    draw_floors(page, &charge, compare);
    draw_charges(page, &charge, compare);
    rule(page, above.x0, above.y0, above.x1, above.y0, 1, INK_DARK);
    if (lanes > 0) {
        night_bands(page, &ran, nights, count);
        axis_name(page, &ran, "hours run: generator (upper bar), engines (lower bar)", 'l');
        draw_lanes(page, &ran, compare);
    }
    hour_axis(page, &ran);
}

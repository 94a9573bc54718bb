/* plot_balance.c - energy in and out on each kind of day, as two bars a day.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/result.h"
#include "output/plot_draw.h"
#include "output/plot_kit.h"
#include "output/words.h"

/*
 * For each kind of day two bars on one scale, sources above loads:
 *
 *   anchor   in  |solar         |alternators| 2.1 kWh                spare 240 Wh
 *   3 days   out |fridge  |autopilot|the rest| 1.9 kWh
 *                |-----------|  from the least to the most that the ranges of the inputs allow
 *
 * The largest loads are named, in two greys in turn; what is not named inside stands behind the bar.
 */

enum { NAME_SIZE = 14, LABEL_SIZE = 12, LOADS_SHOWN = 7 };

static const struct box bars_box = { 190, 64, 960, 576 };

/* One piece of a bar. */
struct piece {
    const char *name;
    double wh;
    struct ink ink, text;
};

/* A bar in the making. */
struct bar {
    const struct frame *frame;
    double y0, y1;
    double at; /* [Wh] where the next piece begins */
};

/* "fridge 540 Wh", or the name alone, or nothing where it is too narrow. 1 where the name is there. */
static int name_piece(struct page *page, const struct piece *piece, const struct box *box)
{
    const char *words = arena_print(page->arena, "%s %s", piece->name, energy_words(page, piece->wh));
    struct label label = { words ? words : "",
                           (box->x0 + box->x1) / 2,
                           (box->y0 + box->y1) / 2 - LABEL_SIZE * 0.35,
                           'c',
                           LABEL_SIZE,
                           0,
                           piece->text };
    double room = box->x1 - box->x0 - 6;

    if (box->y1 - box->y0 < LABEL_SIZE * 1.1)
        return 0;
    if (label_width(page, &label) > room)
        label.text = piece->name;
    if (label_width(page, &label) > room)
        return 0;
    return label_try(page, &label, NULL);
}

/* Returns 1 where it could be named inside. */
static int add_piece(struct page *page, struct bar *bar, const struct piece *piece)
{
    double gap = bar->at > 0 ? 1.2 : 0, end = fmin(bar->at + piece->wh, bar->frame->t1);
    struct box box = { frame_x(bar->frame, bar->at) + gap, bar->y0, frame_x(bar->frame, end), bar->y1 };

    bar->at += piece->wh;
    if (box.x1 - box.x0 < 0.5)
        return 0;
    fill_box(page, box, piece->ink);
    return name_piece(page, piece, &box);
}

/* Two white strokes across a bar that is longer than the page has room for: its sum says how long. */
static void break_bar(struct page *page, const struct bar *bar)
{
    for (int i = 0; i < 2; i++) {
        double x = frame_x(bar->frame, bar->frame->t1) - 22 + 9 * i;
        const struct point across[] = {
            { x, bar->y0 }, { x + 4, bar->y0 }, { x + 10, bar->y1 }, { x + 6, bar->y1 }
        };

        fill_shape(page, across, 4, INK_WHITE);
    }
}

/* The sum behind the bar's end, and what could not be named inside. */
static void end_bar(struct page *page, const struct bar *bar, double wh, const char *unnamed)
{
    double middle = (bar->y0 + bar->y1) / 2;
    struct label sum = { energy_words(page, wh),
                         frame_x(bar->frame, fmin(wh, bar->frame->t1)) + 8,
                         middle - NAME_SIZE * 0.35,
                         'l',
                         NAME_SIZE,
                         1,
                         INK_BLACK };
    struct label rest = { unnamed, 0, middle - LABEL_SIZE * 0.35, 'l', LABEL_SIZE, 0, INK_DARK };

    if (wh > bar->frame->t1)
        break_bar(page, bar);
    if (bar->y1 - bar->y0 < NAME_SIZE)
        sum.size = LABEL_SIZE;
    if (!label_try(page, &sum, NULL))
        return;
    rest.x = label_box(page, &sum).x1 + 8;
    if (*unnamed) {
        rest.text = text_cut(page, unnamed, bars_box.x1 + 70 - rest.x, LABEL_SIZE, 0);
        if (strcmp(rest.text, "...") != 0)
            label_try(page, &rest, NULL);
    }
}

static const char *with_name(struct page *page, const char *list, const char *name)
{
    const char *longer = arena_print(page->arena, "%s%s%s", *list ? list : "with ", *list ? ", " : "", name);

    page->failed |= !longer;
    return longer ? longer : "";
}

/* ---- in ---- */

/* By the word of its supply, in the colour that the week's plot gives such a source. */
static struct piece source_piece(const struct balance_item *item)
{
    const char *supply = item->supply ? item->supply : "";

    if (strcmp(supply, "solar") == 0)
        return (struct piece){ item->name, item->wh, INK_SOLAR, INK_BLACK };
    if (strcmp(supply, "alternator") == 0)
        return (struct piece){ item->name, item->wh, INK_ENGINE, INK_WHITE };
    return (struct piece){ item->name, item->wh, INK_SHORE, INK_BLACK };
}

/* In the order of the profile: solar, alternators, chargers, each with the ink of its kind. */
static void draw_sources(struct page *page, struct bar *bar, const struct balance_day *day)
{
    const char *unnamed = "";

    for (size_t i = 0; i < day->source_count; i++) {
        struct piece piece = source_piece(day->sources + i);

        if (!add_piece(page, bar, &piece) && piece.wh > 0)
            unnamed = with_name(page, unnamed, piece.name);
    }
    end_bar(page, bar, day->source_wh, unnamed);
}

/* ---- out ---- */

/* Loads on mains alone are not part of the account. */
static int on_dc_bus(const struct balance_item *item)
{
    return !item->supply || strcmp(item->supply, "mains") != 0;
}

/* The largest load after the one given (NULL: of all); equal ones in their own order. */
static const struct balance_item *next_largest(const struct balance_day *day,
                                               const struct balance_item *before)
{
    const struct balance_item *best = NULL;

    for (size_t i = 0; i < day->load_count; i++) {
        const struct balance_item *item = day->loads + i;
        int later = !before || item->wh < before->wh || (item->wh == before->wh && item > before);

        if (on_dc_bus(item) && later && (!best || item->wh > best->wh))
            best = item;
    }
    return best;
}

/* Below the bar: from the least to the most that the ranges of the inputs allow. */
static void draw_range(struct page *page, const struct bar *bar, double room, double low, double high)
{
    double y = bar->y0 - 8, x0 = frame_x(bar->frame, low), x1 = frame_x(bar->frame, high), cap = 3.5;
    const char *words =
        arena_print(page->arena, "%s to %s", energy_words(page, low), energy_words(page, high));
    const struct label label = {
        words ? words : "", x1 + 8, y - LABEL_SIZE * 0.36, 'l', LABEL_SIZE, 0, INK_DARK
    };

    if (x1 - x0 < 2 || room < LABEL_SIZE + 6)
        return;
    rule(page, x0, y, x1, y, 1.2, INK_BLACK);
    rule(page, x0, y - cap, x0, y + cap, 1.2, INK_BLACK);
    rule(page, x1, y - cap, x1, y + cap, 1.2, INK_BLACK);
    label_try(page, &label, NULL);
}

/* room: below the bar, down to the next day [page units] */
static void draw_loads(struct page *page, struct bar *bar, double room, const struct balance_day *day)
{
    const struct balance_item *item = NULL;
    const char *unnamed = "";

    for (int i = 0; i < LOADS_SHOWN && (item = next_largest(day, item)) != NULL && item->wh > 0; i++) {
        struct piece piece = { item->name, item->wh, i % 2 ? INK_SOFT : INK_DARK,
                               i % 2 ? INK_BLACK : INK_WHITE };

        if (!add_piece(page, bar, &piece))
            unnamed = with_name(page, unnamed, piece.name);
    }
    if (day->load_wh > bar->at) {
        struct piece rest = { "the rest", day->load_wh - bar->at, INK_RULE, INK_BLACK };

        add_piece(page, bar, &rest);
    }
    draw_range(page, bar, room, day->load_low_wh, day->load_high_wh);
    end_bar(page, bar, day->load_wh, unnamed);
}

/* ---- one day ---- */

/* Left of the bars: kind of day, and how many of them the plan has, where the bars
 * are high enough for two lines. */
static void draw_names(struct page *page, const struct balance_day *day, double middle, double high)
{
    const char *days =
        day->days_in_plan == 1 ? "1 day" : arena_print(page->arena, "%zu days", day->days_in_plan);
    const struct label kind = { text_cut(page, day->kind ? day->kind : "", 116, NAME_SIZE, 1),
                                PAGE_MARGIN,
                                middle + (high > 34 ? 2 : -5),
                                'l',
                                NAME_SIZE,
                                1,
                                INK_BLACK };
    const struct label below = { days ? days : "", PAGE_MARGIN, middle - 14, 'l', LABEL_SIZE, 0, INK_DARK };

    page->failed |= !days;
    label_try(page, &kind, NULL);
    if (high > 34)
        label_try(page, &below, NULL);
}

static void draw_side(struct page *page, const struct bar *bar, const char *side)
{
    const struct label label = { side,    bars_box.x0 - 10, (bar->y0 + bar->y1) / 2 - LABEL_SIZE * 0.35,
                                 'r',     LABEL_SIZE,       0,
                                 INK_DARK };

    label_try(page, &label, NULL);
}

/* Right of the bars: what is short or spare, and what shore and generator carry beside it. */
static void draw_net(struct page *page, const struct balance_day *day, double middle, double high)
{
    const char *words = arena_print(page->arena, "%s %s", day->net_wh < 0 ? "short" : "spare",
                                    energy_words(page, fabs(day->net_wh)));
    const char *mains = arena_print(page->arena, "and %s on mains", energy_words(page, day->mains_wh));
    const double x = PAGE_WIDTH - PAGE_MARGIN;
    const struct label net = { words ? words : "",
                               x,
                               middle + (high > 34 && day->mains_wh > 0 ? 2 : -5),
                               'r',
                               NAME_SIZE,
                               1,
                               day->net_wh < 0 ? INK_BAD : INK_BLACK };
    const struct label below = { mains ? mains : "", x, middle - 14, 'r', LABEL_SIZE, 0, INK_DARK };

    page->failed |= !words || !mains;
    label_try(page, &net, NULL);
    if (day->mains_wh > 0 && high > 34)
        label_try(page, &below, NULL);
}

/* Two bars, in above out, with names at the left and what is left over at the right.
 * high: [page units] for the day. */
static void draw_day(struct page *page, const struct frame *f, const struct balance_day *day, double top,
                     double high)
{
    double thick = fmin(42, high * 0.34), middle = top - high / 2;
    struct bar in = { f, middle + 1.5, middle + 1.5 + thick, 0 },
               out = { f, middle - 1.5 - thick, middle - 1.5, 0 };

    draw_names(page, day, middle, high);
    draw_net(page, day, middle, high);
    draw_sources(page, &in, day);
    draw_loads(page, &out, high - 2 * thick - 3, day);
    if (thick > 11) {
        draw_side(page, &in, "in");
        draw_side(page, &out, "out");
    }
}

/* The longest bar, but no more than half as much again as the most that is used: a day in harbour could
 * bring ten times that, and would leave the loads too short to read. */
static double longest_bar(const struct balance *balance)
{
    double most = 0, used = 0;

    for (size_t i = 0; i < balance->day_count; i++) {
        const struct balance_day *day = balance->days + i;

        used = fmax(used, fmax(day->load_wh, day->load_high_wh));
        most = fmax(most, fmax(day->source_wh, used));
    }
    return fmax(used > 0 ? fmin(most, 1.5 * used) : most, 1);
}

/* Numbers below, upright rules behind the bars. */
static void draw_axis(struct page *page, const struct frame *f)
{
    int kilo = f->t1 >= 1000;
    double step = round_step(f->t1, 8), unit = kilo ? 1000 : 1;
    const struct label name = { kilo ? "kWh a day at the DC bus" : "Wh a day at the DC bus",
                                f->box.x0,
                                f->box.y0 - 38,
                                'l',
                                LABEL_SIZE,
                                0,
                                INK_DARK };

    for (double n = 0; n * step <= f->t1 * 1.0001; n++) {
        double x = frame_x(f, n * step);
        const struct label number = {
            step_number(page, n * step / unit, step / unit), x, f->box.y0 - 18, 'c', LABEL_SIZE, 0, INK_DARK
        };

        rule(page, x, f->box.y0 - 4, x, f->box.y1, 0.8, INK_RULE);
        label_try(page, &number, NULL);
    }
    label_try(page, &name, NULL);
}

/* The kind of day that leaves least; the title is about it. */
static const struct balance_day *worst_day(const struct balance *balance)
{
    const struct balance_day *worst = NULL;

    for (size_t i = 0; i < balance->day_count; i++) {
        if (!worst || balance->days[i].net_wh < worst->net_wh)
            worst = balance->days + i;
    }
    return worst;
}

const char *balance_title(struct page *page, const struct balance *balance)
{
    const struct balance_day *worst = worst_day(balance);
    const char *title = "No day to balance";

    if (worst)
        title = arena_print(page->arena,
                            worst->net_wh < 0
                                ? "A day of \u201c%s\u201d falls short by %s"
                                : "Every kind of day is covered; \u201c%s\u201d leaves least to spare, %s",
                            worst->kind ? worst->kind : "", energy_words(page, fabs(worst->net_wh)));
    page->failed |= !title;
    return title ? title : "";
}

void balance_draw(struct page *page, const struct balance *balance)
{
    struct frame f = { .box = bars_box, .t0 = 0, .t1 = longest_bar(balance), .v0 = 0, .v1 = 1 };
    double high = balance->day_count ? fmin((f.box.y1 - f.box.y0) / (double)balance->day_count, 170) : 0;
    const char *subtitle = listed(page->arena, balance->boat, balance->place,
                                  "energy in and out by kind of day, if the bank takes all", NULL);

    page->failed |= !subtitle;
    page_title(page, balance_title(page, balance), subtitle ? subtitle : "");
    f.box.y0 = f.box.y1 - high * (double)balance->day_count;
    if (!balance->day_count)
        return;
    draw_axis(page, &f);
    for (size_t i = 0; i < balance->day_count; i++)
        draw_day(page, &f, balance->days + i, f.box.y1 - high * (double)i, high);
    rule(page, f.box.x0, f.box.y0, f.box.x0, f.box.y1, 1.2, INK_BLACK);
}

/* plot_text.c - labels: measured, kept on the page and off each other.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/plot_kit.h"

#include <math.h>
#include <plot.h>
#include <string.h>

#include "base/arena.h"
#include "output/latin1.h"

/*
 * A label is only written where it covers no other label and no curve. What is taken is kept in two forms:
 * boxes of labels, and skylines of curves (for each unit column of the page the lowest and highest point a
 * curve has there), so that asking whether a place is free costs as many steps as the place is wide.
 */

/* Heights of letters and depth of tails as shares of the font size; a little air around. */
#define ASCENT  0.76
#define DESCENT 0.24
#define AIR     2.0

/*
 * PNG has only libplot's stroke fonts, and no smoothing: the strokes are thickened by drawing the text
 * several times, a little apart. The other formats use the reader's Helvetica.
 */
static void set_font(struct page *page, double size, int bold)
{
    if (page->format == PLOT_PNG)
        pl_ffontname_r(page->plotter, "HersheySans");
    else
        pl_ffontname_r(page->plotter, bold ? "Helvetica-Bold" : "Helvetica");
    pl_ffontsize_r(page->plotter, page->format == PLOT_PNG ? size * 0.96 : size);
}

/* Width of a text [page units] as libplot will set it: its fonts know Latin-1 alone. */
static double raw_width(struct page *page, const char *text, double size, int bold)
{
    char *latin = latin1_text(page->arena, text);

    if (!latin) {
        page->failed = 1;
        return 0;
    }
    set_font(page, size, bold);
    return pl_flabelwidth_r(page->plotter, latin);
}

double label_width(struct page *page, const struct label *label)
{
    return raw_width(page, label->text, label->size, label->bold);
}

struct box label_box_of(const struct label *label, double width)
{
    double x0 = label->align == 'l'   ? label->x
                : label->align == 'r' ? label->x - width
                                      : label->x - width / 2;

    return (struct box){ x0, label->y - DESCENT * label->size, x0 + width, label->y + ASCENT * label->size };
}

struct box label_box(struct page *page, const struct label *label)
{
    return label_box_of(label, label_width(page, label));
}

static void write_at(struct page *page, double x, double y, const char *latin)
{
    pl_fmove_r(page->plotter, x, y);
    pl_alabel_r(page->plotter, 'l', 'x', latin);
}

/* Share of the light of white that a colour gives back, 0..1 (WCAG 2.1, "relative luminance"). */
static double luminance(struct ink ink)
{
    static const double weights[] = { 0.2126, 0.7152, 0.0722 };
    const unsigned char parts[] = { ink.red, ink.green, ink.blue };
    double sum = 0;

    for (int i = 0; i < 3; i++) {
        double part = parts[i] / 255.0;

        sum += weights[i] * (part <= 0.04045 ? part / 12.92 : pow((part + 0.055) / 1.055, 2.4));
    }
    return sum;
}

/* Words are thinner than lines and areas: the same hue, dark enough to be read on white and on the bands of
 * the night, 4.5 : 1 (WCAG 2.1, 1.4.3). What is lighter than middle grey stands on something dark. */
static struct ink words_ink(struct ink ink)
{
    const double ground = luminance(INK_NIGHT) + 0.05;

    if (luminance(ink) > 0.5)
        return ink;
    while (ground < 4.5 * (luminance(ink) + 0.05)) {
        ink.red = (unsigned char)(ink.red * 0.97);
        ink.green = (unsigned char)(ink.green * 0.97);
        ink.blue = (unsigned char)(ink.blue * 0.97);
    }
    return ink;
}

/* A reader without this Helvetica must not run one label into the next: the SVG says how long each is. */
static void keep_length(struct page *page, double length)
{
    void *items = page->lengths;
    double *place = arena_push(page->arena, &items, &page->length_count, &page->length_room, sizeof *place);

    page->lengths = items;
    if (place)
        *place = length;
    else
        page->failed = 1;
}

/* The strokes of bold text are thickened three times, of plain text twice. */
static void write_label(struct page *page, const struct label *label, const struct box *box)
{
    char *latin = latin1_text(page->arena, label->text);
    double step = label->bold ? 0.1 + 0.022 * label->size : 0.42;
    int times = page->format == PLOT_PNG ? label->bold ? 3 : 2 : 1;
    struct ink ink = words_ink(label->ink);

    if (!latin) {
        page->failed = 1;
        return;
    }
    if (page->format == PLOT_SVG)
        keep_length(page, (box->x1 - box->x0) * 20 / label->size);
    set_font(page, label->size, label->bold);
    pl_pencolor_r(page->plotter, ink.red * 257, ink.green * 257, ink.blue * 257);
    pl_pentype_r(page->plotter, 1);
    pl_filltype_r(page->plotter, 0);
    for (int i = 0; i < times; i++) {
        for (int j = 0; j < times; j++)
            write_at(page, box->x0 + step * (i - (times - 1) / 2.0),
                     label->y + step * (j - (times - 1) / 2.0), latin);
    }
}

void keep_clear(struct page *page, struct box box)
{
    void *items = page->labels;
    struct box *place = arena_push(page->arena, &items, &page->label_count, &page->label_room, sizeof *place);

    page->labels = items;
    if (place)
        *place = box;
    else
        page->failed = 1;
}

void label_draw(struct page *page, const struct label *label)
{
    struct box box = label_box(page, label);

    if (!*label->text)
        return;
    write_label(page, label, &box);
    keep_clear(page, box);
}

/* Boxes with less than AIR between them count as meeting. */
static int meet(const struct box *a, const struct box *b)
{
    return a->x0 < b->x1 + AIR && b->x0 < a->x1 + AIR && a->y0 < b->y1 + AIR && b->y0 < a->y1 + AIR;
}

/* Where the curve passes any column of the box at its height. */
static int crossed(const struct skyline *line, const struct box *box)
{
    int from = (int)fmax(0, floor(box->x0 - AIR)), to = (int)fmin(PAGE_WIDTH - 1, ceil(box->x1 + AIR));

    for (int x = from; x <= to; x++) {
        if (line->low[x] <= box->y1 + AIR && line->high[x] >= box->y0 - AIR)
            return 1;
    }
    return 0;
}

/* A text across a rule of the grid would be struck through. */
static int on_rule(const struct page *page, const struct box *box)
{
    for (size_t i = 0; i < page->rule_count; i++) {
        if (page->rules[i] > box->y0 && page->rules[i] < box->y1)
            return 1;
    }
    return 0;
}

int place_free(const struct page *page, struct box box)
{
    if (box.x0 < PAGE_MARGIN / 2.0 || box.x1 > PAGE_WIDTH - PAGE_MARGIN / 2.0 || box.y0 < PAGE_MARGIN / 2.0 ||
        box.y1 > PAGE_HEIGHT - PAGE_MARGIN / 2.0)
        return 0;
    if (page->choosy && on_rule(page, &box))
        return 0;
    for (size_t i = 0; i < page->label_count; i++) {
        if (meet(page->labels + i, &box))
            return 0;
    }
    for (size_t i = 0; i < page->skyline_count; i++) {
        if (crossed(page->skylines[i], &box))
            return 0;
    }
    return 1;
}

int line_free(const struct page *page, struct point from, struct point to)
{
    enum { PARTS = 12 };

    for (int i = 0; i <= PARTS; i++) {
        double x = from.x + (to.x - from.x) * i / PARTS, y = from.y + (to.y - from.y) * i / PARTS;
        const struct box here = { x, y, x, y };

        for (size_t k = 0; k < page->label_count; k++) {
            if (meet(page->labels + k, &here))
                return 0;
        }
    }
    return 1;
}

int place_free_in(const struct page *page, struct box box, const struct box *within)
{
    if (within && (box.x0 < within->x0 || box.x1 > within->x1 || box.y0 < within->y0 || box.y1 > within->y1))
        return 0;
    return place_free(page, box);
}

int label_try(struct page *page, const struct label *label, const struct box *within)
{
    if (!place_free_in(page, label_box(page, label), within))
        return 0;
    label_draw(page, label);
    return 1;
}

/* Cuts at characters, from the end, and never inside one. */
const char *text_cut(struct page *page, const char *text, double width, double size, int bold)
{
    size_t length = strlen(text);
    const char *cut = text;

    while (length > 0 && cut && raw_width(page, cut, size, bold) > width) {
        length -= length > 80 ? length / 4 : 1;
        while (length > 0 && ((unsigned char)text[length] & 0xC0) == 0x80)
            length--;
        while (length > 0 && text[length - 1] == ' ')
            length--;
        cut = length ? arena_print(page->arena, "%.*s...", (int)length, text) : "";
    }
    if (!cut)
        page->failed = 1;
    return cut ? cut : "";
}

/* ---- what lines cover ---- */

static struct skyline *skyline_new(struct page *page)
{
    struct skyline *line;

    if (page->skyline_count == PAGE_SKYLINES)
        return NULL; /* so many lines leave no clear place anyhow */
    line = arena_zero(page->arena, sizeof *line);
    if (!line) {
        page->failed = 1;
        return NULL;
    }
    for (int i = 0; i < PAGE_WIDTH; i++) {
        line->low[i] = INFINITY;
        line->high[i] = -INFINITY;
    }
    page->skylines[page->skyline_count++] = line;
    return line;
}

static void cover(struct skyline *line, int x, double y)
{
    line->low[x] = fmin(line->low[x], y);
    line->high[x] = fmax(line->high[x], y);
}

/* Every unit column that a piece of line passes, with the heights at which it enters and leaves. */
static void cover_piece(struct skyline *line, struct point a, struct point b)
{
    int from = (int)fmax(0, floor(a.x)), to = (int)fmin(PAGE_WIDTH - 1, floor(b.x));

    for (int x = from; x <= to; x++) {
        double left = fmax(a.x, x), right = fmin(b.x, x + 1), dx = b.x - a.x;

        cover(line, x, dx > 0 ? a.y + (b.y - a.y) * (left - a.x) / dx : a.y);
        cover(line, x, dx > 0 ? a.y + (b.y - a.y) * (right - a.x) / dx : b.y);
    }
}

void keep_clear_of_line(struct page *page, const struct point *points, size_t count)
{
    struct skyline *line = skyline_new(page);

    for (size_t i = 1; line && i < count; i++)
        cover_piece(line, points[i - 1], points[i]);
}

/* ---- heads ---- */

double page_title(struct page *page, const char *title, const char *subtitle)
{
    const double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    const struct label head = {
        text_cut(page, title, width, 24, 1), PAGE_MARGIN, PAGE_HEIGHT - 42, 'l', 24, 1, INK_BLACK
    };
    const struct label below = {
        text_cut(page, subtitle, width, 14, 0), PAGE_MARGIN, PAGE_HEIGHT - 64, 'l', 14, 0, INK_DARK
    };

    label_draw(page, &head);
    label_draw(page, &below);
    return PAGE_HEIGHT - 70;
}

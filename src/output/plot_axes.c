/* plot_axes.c - frames, round ticks, hours, and labels in and beside areas.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/plot_kit.h"

#include <math.h>

#include "base/arena.h"
#include "base/text.h"

/*
 * Frames map values to the page: x = x0 + (x1 - x0)(t - t0)/(t1 - t0), y alike. Areas are layers
 * between two lines over the same x; their names go inside where the layer is thick enough, else
 * beside it with a thin line to it.
 */

enum { TICK_SIZE = 12 };

double frame_x(const struct frame *f, double t)
{
    return f->box.x0 + (f->box.x1 - f->box.x0) * (t - f->t0) / (f->t1 - f->t0);
}

double frame_y(const struct frame *f, double v)
{
    return f->box.y0 + (f->box.y1 - f->box.y0) * (v - f->v0) / (f->v1 - f->v0);
}

/* log10 before the test is harmless: the value is used only for a positive span. */
double round_step(double span, int most)
{
    double raw = span / most, ten = pow(10, floor(log10(raw)));

    if (!(span > 0))
        return 1;
    for (double n = 1; n < 10; n = n == 2 ? 5 : n * 2) {
        if (raw <= n * ten * (1 + 1e-9))
            return n * ten;
    }
    return 10 * ten;
}

const char *step_number(struct page *page, double value, double step)
{
    int decimals = step >= 1 ? 0 : (int)ceil(-log10(step) - 1e-9);
    char text[TEXT_FIXED_SIZE];
    const char *copy = arena_copy(page->arena, text, text_fixed(text, value, decimals));

    page->failed |= !copy;
    return copy ? copy : "";
}

const char *energy_words(struct page *page, double wh)
{
    double size = fabs(wh);
    double step = size < 1e4 ? 0.01 : size < 1e5 ? 0.1 : 1;
    const char *number = size < 999.5 ? step_number(page, wh, 1) : step_number(page, wh / 1000, step);
    const char *words = arena_print(page->arena, size < 999.5 ? "%s Wh" : "%s kWh", number);

    page->failed |= !words;
    return words ? words : "";
}

void axis_name(struct page *page, const struct frame *f, const char *name, char align)
{
    const struct label label = {
        name, f->box.x0 - (align == 'r' ? 8 : 0), f->box.y1 + 9, align, TICK_SIZE, 0, INK_DARK
    };

    label_draw(page, &label);
}

void value_axis(struct page *page, const struct frame *f, double step)
{
    for (double n = ceil(f->v0 / step - 1e-9); n * step <= f->v1 * (1 + 1e-12) + 1e-9; n++) {
        double y = frame_y(f, n * step);
        const struct label number = { step_number(page, f->mirrored ? fabs(n * step) : n * step, step),
                                      f->box.x0 - 8,
                                      y - TICK_SIZE * 0.36,
                                      'r',
                                      TICK_SIZE,
                                      0,
                                      INK_DARK };

        rule(page, f->box.x0, y, f->box.x1, y, 0.8, INK_RULE);
        if (page->rule_count < PAGE_RULES)
            page->rules[page->rule_count++] = y;
        label_try(page, &number, NULL);
    }
}

/* Every `hours` hours from the left edge on; 0 where the numbers would run into each other. */
static int hours_fit(struct page *page, const struct frame *f, int hours)
{
    const struct label widest = { "18", 0, 0, 'c', TICK_SIZE, 0, INK_DARK };

    return frame_x(f, f->t0 + hours * 3600.0) - f->box.x0 > label_width(page, &widest) + 7;
}

/* Every 6 hours, else 12, else only the ticks of days; under 6 units a day nothing. */
void hour_axis(struct page *page, const struct frame *f)
{
    int every = hours_fit(page, f, 6) ? 6 : hours_fit(page, f, 12) ? 12 : 24;
    double day = frame_x(f, f->t0 + 86400) - f->box.x0;

    for (double t = f->t0; t <= f->t1 + 1; t += every * 3600.0) {
        double x = frame_x(f, t);
        const struct label number = {
            step_number(page, fmod((t - f->t0) / 3600, 24), 1), x, f->box.y0 - 19, 'c', TICK_SIZE, 0, INK_DARK
        };

        if (every == 24 && day < 6)
            return;
        rule(page, x, f->box.y0, x, f->box.y0 - 5, 0.8, INK_DARK);
        if (every < 24)
            label_try(page, &number, NULL);
    }
    if (every < 24) {
        const struct label name = { "hour", f->box.x0 - 12, f->box.y0 - 19, 'r', TICK_SIZE, 0, INK_DARK };

        label_try(page, &name, NULL);
    }
}

/* ---- areas ---- */

void night_bands(struct page *page, const struct frame *f, const struct night *nights, size_t count)
{
    for (size_t i = 0, n; i < count; i += n) {
        double to = nights[i].to;

        for (n = 1; i + n < count && nights[i + n].from <= to + 1; n++)
            to = nights[i + n].to;
        if (to > nights[i].from)
            fill_box(page, (struct box){ frame_x(f, nights[i].from), f->box.y0, frame_x(f, to), f->box.y1 },
                     INK_NIGHT);
    }
}

/* How many samples from i on are at least so thick. */
static size_t thick_run(const struct layer *layer, size_t i, double least)
{
    size_t n = 0;

    while (i + n < layer->count && layer->high[i + n] - layer->low[i + n] >= least)
        n++;
    return n;
}

/* Samples first..last, out along the upper side and back along the lower. */
static void fill_run(struct page *page, const struct layer *layer, size_t first, size_t last)
{
    size_t n = last - first + 1, upper, lower;
    struct point *points = arena_array(page->arena, 2 * n, sizeof *points);

    if (!points) {
        page->failed = 1;
        return;
    }
    for (size_t i = 0; i < n; i++)
        points[i] = (struct point){ layer->x[first + i], layer->high[first + i] };
    upper = thin_points(points, n, 0.12);
    for (size_t i = 0; i < n; i++)
        points[upper + i] = (struct point){ layer->x[first + i], layer->low[first + i] };
    lower = thin_points(points + upper, n, 0.12);
    for (size_t i = 0; i < lower / 2; i++) {
        struct point swap = points[upper + i];

        points[upper + i] = points[upper + lower - 1 - i];
        points[upper + lower - 1 - i] = swap;
    }
    fill_shape(page, points, upper + lower, layer->ink);
}

/* Where the layer has no thickness nothing is drawn: PostScript would paint a hairline. */
void layer_fill(struct page *page, const struct layer *layer)
{
    for (size_t i = 0, n; i < layer->count; i += n ? n : 1) {
        n = thick_run(layer, i, 0.01);
        if (n)
            fill_run(page, layer, i ? i - 1 : 0, i + n < layer->count ? i + n : i + n - 1);
    }
}

/* From sample i on over a width: how high the free part is, and its middle. Negative: not that wide any
 * more. */
static double gap_over(const struct layer *layer, size_t i, double width, double *middle)
{
    double low = -INFINITY, high = INFINITY, end = layer->x[i] + width;

    for (; i < layer->count; i++) {
        low = fmax(low, layer->low[i]);
        high = fmin(high, layer->high[i]);
        if (layer->x[i] >= end) {
            *middle = (low + high) / 2;
            return high - low;
        }
    }
    return -1;
}

/* Where the layer is thickest over the width of the text; 2 % better counts as
 * better, so that the place does not jump. */
int layer_label(struct page *page, const struct layer *layer, const char *text, double size, struct ink ink)
{
    struct label label = { text, 0, 0, 'c', size, 0, ink };
    double width = label_width(page, &label) + 8, best = size * 1.15, x = -1, y = 0;

    for (size_t i = 0; i < layer->count; i++) {
        double middle = 0, gap = gap_over(layer, i, width, &middle);

        if (gap > best * 1.02) {
            label.x = layer->x[i] + width / 2;
            label.y = middle - size * 0.34;
            if (!place_free(page, label_box(page, &label)))
                continue;
            best = gap;
            x = label.x;
            y = label.y;
        }
    }
    if (x < 0)
        return 0;
    label.x = x;
    label.y = y;
    return label_try(page, &label, NULL);
}

void keep_clear_of_layer(struct page *page, const struct layer *layer)
{
    struct point *edge = arena_array(page->arena, 2 * layer->count, sizeof *edge);

    if (!edge) {
        page->failed = 1;
        return;
    }
    for (size_t i = 0; i < layer->count; i++) { /* up and down in turn: the line covers the whole of it */
        edge[2 * i] = (struct point){ layer->x[i], i % 2 ? layer->low[i] : layer->high[i] };
        edge[2 * i + 1] = (struct point){ layer->x[i], i % 2 ? layer->high[i] : layer->low[i] };
    }
    keep_clear_of_line(page, edge, 2 * layer->count);
}

/* [page units] */
static double thickest(const struct layer *layer)
{
    double most = 0;

    for (size_t i = 0; i < layer->count; i++)
        most = fmax(most, layer->high[i] - layer->low[i]);
    return most;
}

/* Where a name may stand beside the point it belongs to: dx in half widths and units, dy in units. */
static const struct {
    double half_widths, dx, dy;
} beside[] = {
    { 0, 0, 9 },     { 1, 8, 2 },     { -1, -8, 2 },  { 0, 0, 18 },    { 1, 10, 14 },
    { -1, -10, 14 }, { 1, 22, 2 },    { -1, -22, 2 }, { 0, 0, 30 },    { 1, 24, 24 },
    { -1, -24, 24 }, { 0, 0, 44 },    { 1, 44, 12 },  { -1, -44, 12 }, { 0, 0, 62 },
    { 1, 64, 30 },   { -1, -64, 30 }, { 0, 0, 84 },   { 0, 0, 110 },
};

/* The name at one place beside a point of the layer, if it is free there. sign: above or below. */
static int leader_at(struct page *page, struct label *label, double width, struct point from, double edge,
                     int sign, size_t place, const struct box *within)
{
    double dx = beside[place].half_widths * width / 2 + beside[place].dx, dy = beside[place].dy;
    struct point line[2] = { from, { from.x + dx, 0 } };

    label->x = from.x + dx;
    label->y = sign > 0 ? edge + dy + label->size * 0.2 : edge - dy - label->size * 0.76;
    line[1].y = sign > 0 ? label->y - label->size * 0.28 : label->y + label->size * 0.84;
    if (beside[place].half_widths != 0) { /* from its side */
        line[1].x -= beside[place].half_widths * (width / 2 + 3);
        line[1].y = label->y + label->size * 0.34;
    }
    if (!place_free_in(page, label_box_of(label, width), within) || !line_free(page, line[0], line[1]))
        return 0;
    label_draw(page, label);
    rule(page, line[0].x, line[0].y, line[1].x, line[1].y, 0.8, INK_BLACK);
    dot(page, from.x, from.y, 1.3, INK_BLACK, INK_WHITE);
    keep_clear_of_line(page, line[0].x <= line[1].x ? line : (struct point[]){ line[1], line[0] }, 2);
    return 1;
}

/* One place beside every thick part: its middle where it is narrow, else all along it. */
static int leader_along(struct page *page, const struct layer *layer, struct label *label, double width,
                        int sign, double least, size_t place, const struct box *within)
{
    for (size_t i = 0, n; i < layer->count; i += n ? n : 1) {
        n = thick_run(layer, i, least);
        for (size_t k = n < 24 ? n / 2 : 4; k < n; k += n < 24 ? n : 4) {
            double low = layer->low[i + k], high = layer->high[i + k];
            struct point from = { layer->x[i + k], (low + high) / 2 };

            if (leader_at(page, label, width, from, sign > 0 ? high : low, sign, place, within))
                return 1;
        }
    }
    return 0;
}

/* Near places first, and without crossing the grid; then again with. */
int layer_leader(struct page *page, const struct layer *layer, const char *text, double size, int sign,
                 double share, const struct box *within)
{
    struct label label = { text, 0, 0, 'c', size, 0, INK_BLACK };
    double width = label_width(page, &label), least = fmax(thickest(layer) * share, 1);
    int done = 0;

    for (page->choosy = 1; !done && page->choosy >= 0; page->choosy--) {
        for (size_t place = 0; !done && place < sizeof beside / sizeof beside[0]; place++)
            done = leader_along(page, layer, &label, width, sign, least, place, within);
    }
    page->choosy = 0;
    return done;
}

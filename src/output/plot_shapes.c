/* plot_shapes.c - filled shapes and lines.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/plot_kit.h"

#include <math.h>
#include <plot.h>

/*
 * Thin wrappers of libplot, so that no other file knows its names. Curves are thinned before they are drawn:
 * a week of minutes has 10080 points, and a page 1200 columns.
 */

static int wide(unsigned char c)
{
    return c * 257; /* libplot counts to 65535 */
}

/* Lines only: libplot fills and strokes a path at once otherwise. */
static void set_pen(struct page *page, double width, struct ink ink)
{
    pl_pencolor_r(page->plotter, wide(ink.red), wide(ink.green), wide(ink.blue));
    pl_flinewidth_r(page->plotter, width);
    pl_pentype_r(page->plotter, 1);
    pl_filltype_r(page->plotter, 0);
}

static void set_fill(struct page *page, struct ink ink)
{
    pl_fillcolor_r(page->plotter, wide(ink.red), wide(ink.green), wide(ink.blue));
    pl_filltype_r(page->plotter, 1);
    pl_pentype_r(page->plotter, 0);
}

void fill_box(struct page *page, struct box box, struct ink ink)
{
    set_fill(page, ink);
    pl_fbox_r(page->plotter, box.x0, box.y0, box.x1, box.y1);
}

/* One path through the points; at least one. */
static void trace(struct page *page, const struct point *points, size_t count)
{
    pl_fmove_r(page->plotter, points[0].x, points[0].y);
    for (size_t i = 1; i < count; i++)
        pl_fcont_r(page->plotter, points[i].x, points[i].y);
    pl_endpath_r(page->plotter);
}

void fill_shape(struct page *page, const struct point *points, size_t count, struct ink ink)
{
    if (count < 3)
        return;
    set_fill(page, ink);
    trace(page, points, count);
}

void stroke(struct page *page, const struct point *points, size_t count, double width, struct ink ink)
{
    if (count < 2)
        return;
    set_pen(page, width, ink);
    pl_joinmod_r(page->plotter, "round");
    pl_capmod_r(page->plotter, "round");
    trace(page, points, count);
    pl_capmod_r(page->plotter, "butt");
}

void rule(struct page *page, double x0, double y0, double x1, double y1, double width, struct ink ink)
{
    set_pen(page, width, ink);
    pl_fline_r(page->plotter, x0, y0, x1, y1);
}

void dashed(struct page *page, double x0, double y0, double x1, double y1, double width, struct ink ink)
{
    const double dashes[] = { 9, 5 };

    set_pen(page, width, ink);
    pl_flinedash_r(page->plotter, 2, dashes, 0);
    pl_fline_r(page->plotter, x0, y0, x1, y1);
    pl_linemod_r(page->plotter, "solid");
}

void hatch(struct page *page, const double *x, const double *low, const double *high, size_t count,
           double width, struct ink ink)
{
    int drawn = 0;

    set_pen(page, width, ink);
    for (size_t i = 0; i < count; i++) {
        if (high[i] - low[i] < 0.3)
            continue;
        if (drawn++)
            pl_endsubpath_r(page->plotter);
        pl_fmove_r(page->plotter, x[i], low[i]);
        pl_fcont_r(page->plotter, x[i], high[i]);
    }
    if (drawn)
        pl_endpath_r(page->plotter);
}

void dot(struct page *page, double x, double y, double radius, struct ink fill, struct ink edge)
{
    set_fill(page, edge);
    pl_fcircle_r(page->plotter, x, y, radius + 1.8);
    set_fill(page, fill);
    pl_fcircle_r(page->plotter, x, y, radius);
}

/* Slopes of the lines from the last kept point that pass every point since within the tolerance. */
struct cone {
    double low, high;
};

static const struct cone any_slope = { -INFINITY, INFINITY };

/* A step straight up or down leaves no slope: nothing may be skipped across it. */
static void cone_narrow(struct cone *cone, struct point from, struct point to, double tolerance)
{
    double dx = to.x - from.x;

    if (!(dx > 0)) {
        *cone = (struct cone){ INFINITY, -INFINITY };
        return;
    }
    cone->low = fmax(cone->low, (to.y - tolerance - from.y) / dx);
    cone->high = fmin(cone->high, (to.y + tolerance - from.y) / dx);
}

/* 1 where the line from one point to the other stays within the slopes of the cone. */
static int cone_holds(const struct cone *cone, struct point from, struct point to)
{
    double dx = to.x - from.x, slope = (to.y - from.y) / dx;

    return dx > 0 && slope >= cone->low && slope <= cone->high;
}

/* One pass: a point is kept when the next one lies outside the cone of
 * slopes that pass all since the last kept. */
size_t thin_points(struct point *points, size_t count, double tolerance)
{
    struct cone cone = any_slope;
    size_t kept = 0, last = 0; /* last: where points[kept] stood before */

    if (count < 3)
        return count;
    for (size_t i = 1; i < count; i++) {
        if (i > last + 1 && !cone_holds(&cone, points[kept], points[i])) {
            last = i - 1;
            points[++kept] = points[last];
            cone = any_slope;
        }
        cone_narrow(&cone, points[kept], points[i], tolerance);
    }
    points[++kept] = points[count - 1];
    return kept + 1;
}

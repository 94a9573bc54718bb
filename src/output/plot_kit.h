/* plot_kit.h - the parts every picture is made of: page, inks, lines, areas, labels that keep clear of each
 * other.  Layer: output, for the plot_*.c files.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units: a page is 1200 x 675, origin at its lower left, whatever the format.
 */
#ifndef BD_PLOT_KIT_H
#define BD_PLOT_KIT_H

#include <locale.h>
#include <stddef.h>
#include <stdio.h>

#include "base/status.h"
#include "output/plot.h"

enum { PAGE_WIDTH = 1200, PAGE_HEIGHT = 675, PAGE_MARGIN = 24 };

struct arena;
struct plPlotterStruct;
struct plPlotterParamsStruct;

struct ink {
    unsigned char red, green, blue;
};

/* Greys, and colours of Okabe & Ito 2008, which colour-blind readers tell apart; lightness L* in brackets:
 * what meets must differ in it, so that a page reads in black and white. */
#define INK_BLACK  ((struct ink){ 26, 26, 26 })    /* [9] text, the main line */
#define INK_DARK   ((struct ink){ 89, 89, 89 })    /* [38] */
#define INK_MIDDLE ((struct ink){ 140, 140, 140 }) /* [58] */
#define INK_SOFT   ((struct ink){ 170, 170, 170 }) /* [70] */
#define INK_LIGHT  ((struct ink){ 204, 204, 204 }) /* [82] */
#define INK_RULE   ((struct ink){ 218, 218, 218 }) /* [87] grid */
#define INK_NIGHT  ((struct ink){ 240, 241, 244 }) /* [95] */
#define INK_WHITE  ((struct ink){ 255, 255, 255 })
#define INK_BAD    ((struct ink){ 213, 94, 0 })    /* [54] vermillion: limits and shortages */
#define INK_SOLAR  ((struct ink){ 240, 178, 40 })  /* [77] orange, lightened */
#define INK_ENGINE ((struct ink){ 0, 114, 178 })   /* [46] blue */
#define INK_SHORE  ((struct ink){ 0, 158, 115 })   /* [58] bluish green */

struct point {
    double x, y;
};

struct box {
    double x0, y0, x1, y1;
};

/* What a curve covers of each unit column of the page; low > high: nothing. */
struct skyline {
    double low[PAGE_WIDTH], high[PAGE_WIDTH];
};

enum { PAGE_SKYLINES = 24, PAGE_RULES = 40 };

struct page {
    struct arena *arena;
    enum plot_format format;
    struct plPlotterStruct *plotter;
    struct plPlotterParamsStruct *params;
    FILE *memory;
    char *bytes;
    size_t length;
    locale_t locale, before;
    struct box *labels; /* of every label drawn, and of what labels must not cover */
    size_t label_count, label_room;
    double *lengths; /* of every text of an SVG, in units of a font 20 high, as libplot writes them */
    size_t length_count, length_room;
    struct skyline *skylines[PAGE_SKYLINES];
    size_t skyline_count;
    double rules[PAGE_RULES]; /* heights of the grid: labels cross it only where nothing better is free */
    size_t rule_count;
    int choosy; /* 1: not even the grid may be crossed */
    int failed; /* 1: memory or libplot */
};

/*
 * A page on an arena: libplot's plotter writes into memory, so that nothing reaches the stream of a page
 * that fails.
 *
 * The thread's locale is "C" until page_close, which must follow on STATUS_OK. STATUS_NO_MEMORY else, and
 * nothing is left to close.
 */
enum status page_open(struct page *page, struct arena *arena, enum plot_format format);

/*
 * Ends the page and writes it to out.
 *
 *   name   of the kind of picture, for ids and PostScript
 *   title  UTF-8, for readers who do not see it; so is twin, one line of what the picture shows
 *
 * Afterwards the plotter is gone, whatever the status. STATUS_NO_MEMORY also where drawing failed or a text
 * is NULL.
 */
enum status page_close(struct page *page, FILE *out, const char *name, const char *title, const char *twin);

/* ---- shapes ---- */

/* Everything in page units; widths are those of the pen. Shapes need three points,
 * lines two; fewer draw nothing. */
void fill_box(struct page *page, struct box box, struct ink ink);
void fill_shape(struct page *page, const struct point *points, size_t count, struct ink ink);
void stroke(struct page *page, const struct point *points, size_t count, double width, struct ink ink);
void rule(struct page *page, double x0, double y0, double x1, double y1, double width, struct ink ink);
void dashed(struct page *page, double x0, double y0, double x1, double y1, double width, struct ink ink);

/* Thin upright lines between low and high, as one path: an area that is told
 * from filled ones without colour. */
void hatch(struct page *page, const double *x, const double *low, const double *high, size_t count,
           double width, struct ink ink);
/* A point with a rim of `edge`, so that it stands off whatever it lies on. */
void dot(struct page *page, double x, double y, double radius, struct ink fill, struct ink edge);

/* Drops points that lie within tolerance [page units] of the line through those kept; in place, returns how
 * many are left. x must not fall. First and last stay. */
size_t thin_points(struct point *points, size_t count, double tolerance);

/* ---- text ---- */

struct label {
    const char *text; /* UTF-8 */
    double x, y;      /* of its baseline */
    char align;       /* l, c, r: which part of it stands at x */
    double size;
    int bold;
    struct ink ink;
};

/* Width [page units] in the font of the format; box from its depth to its height. */
double label_width(struct page *page, const struct label *label);
struct box label_box(struct page *page, const struct label *label);

/* The same where the width is known already. */
struct box label_box_of(const struct label *label, double width);

/* Draws it, and keeps its place from others. */
void label_draw(struct page *page, const struct label *label);

/* Draws it only if it stays on the page, within `within` (NULL: anywhere) and clear of
 * labels and curves; 1 if drawn. */
int label_try(struct page *page, const struct label *label, const struct box *within);

/* 1: nothing stands there yet, and no curve runs through; within NULL: anywhere on the page. */
int place_free(const struct page *page, struct box box);
int place_free_in(const struct page *page, struct box box, const struct box *within);

/* The text cut to a width [page units], with dots where something is
 * missing; UTF-8. "" where nothing of it fits. */
const char *text_cut(struct page *page, const char *text, double width, double size, int bold);

/* 1: the straight line meets no label. Sampled: a label narrower than a twelfth of it may slip through. */
int line_free(const struct page *page, struct point from, struct point to);

/* Labels must not cover this: a box, or the columns that a line from left to right passes. */
void keep_clear(struct page *page, struct box box);
void keep_clear_of_line(struct page *page, const struct point *points, size_t count);

/* Title and subtitle at the top left; returns the y below them. */
double page_title(struct page *page, const char *title, const char *subtitle);

/* ---- axes ---- */

/* One frame of a picture: a box of the page, and the values at its edges. */
struct frame {
    struct box box;
    double t0, t1; /* left, right */
    double v0, v1; /* bottom, top */
    int mirrored;  /* 1: values below zero are shown without their sign: they are of another kind */
};

/* Page units of a value; outside the frame they go on beyond its box. */
double frame_x(const struct frame *frame, double t);
double frame_y(const struct frame *frame, double v);

/* 1, 2 or 5 times a power of ten, so that a span has at most so many steps;
 * 1 for a span that is not positive. */
double round_step(double span, int most);

/* Rules across at every step, numbers left of them. */
void value_axis(struct page *page, const struct frame *frame, double step);

/* Above the upper left corner: into the frame's width (align l), or left of it (r). */
void axis_name(struct page *page, const struct frame *frame, const char *name, char align);

/* Hours at 0, 6, 12 and 18 below the frame, as many as there is room for. */
void hour_axis(struct page *page, const struct frame *frame);

/* A number with the digits that a step asks for; thousands are not parted. */
const char *step_number(struct page *page, double value, double step);

/* Three digits: "420 Wh", "1.32 kWh", "17.8 kWh". */
const char *energy_words(struct page *page, double wh);

/* ---- areas ---- */

/* A layer between two lines over the same x, drawn and kept clear of nothing: labels may stand in it. */
struct layer {
    const double *x, *low, *high; /* page units */
    size_t count;
    struct ink ink;
};

/* Bands of night over a frame, for each stretch from..to [s]; stretches that touch become one. */
struct night {
    double from, to;
};
void night_bands(struct page *page, const struct frame *frame, const struct night *nights, size_t count);

/* The area between low and high in its ink, without an outline. */
void layer_fill(struct page *page, const struct layer *layer);

/* Writes the text where the layer is thick enough; 0 where it is not. */
int layer_label(struct page *page, const struct layer *layer, const char *text, double size, struct ink ink);

/* Labels must not cover it from now on. */
void keep_clear_of_layer(struct page *page, const struct layer *layer);

/*
 * Writes the text near by, above (sign > 0) or below, with a thin line to a part of the layer at least
 * `share` as thick as its thickest. 0 where there is no place.
 */
int layer_leader(struct page *page, const struct layer *layer, const char *text, double size, int sign,
                 double share, const struct box *within);

#endif

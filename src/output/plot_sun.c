/* plot_sun.c - one day of sun: how high it stands, what arrives on the flat, what the panels give.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "engine/result.h"
#include "output/cell.h"
#include "output/plot_draw.h"
#include "output/plot_kit.h"
#include "output/words.h"

/*
 * Three frames over one day from midnight to midnight, with sunrise and sunset through all of them:
 *
 *   height of the sun          0 to 90 degrees, noon with a dot
 *   light on the flat          clear sky as a line; mean day as an area, its diffuse part lighter
 *   power of the panels        an area under the dashed line of their rating
 */

enum { LABEL_SIZE = 13, SMALL_SIZE = 12, DAY_SECONDS = 86400 };

static const struct box height_box = { 84, 466, 1104, 566 };
static const struct box flat_box = { 84, 258, 1104, 434 };
static const struct box panel_box = { 84, 58, 1104, 226 };

/* The value of a row that a curve shows. */
typedef double sun_value(const struct sun_row *row);

/* Degrees; a sun below the horizon lies on it. */
static double elevation(const struct sun_row *row)
{
    return fmax(row->elevation_deg, 0);
}

static double clear_sky(const struct sun_row *row)
{
    return row->clear_sky_w_m2;
}

static double mean_day(const struct sun_row *row)
{
    return row->horizontal_w_m2;
}

static double diffuse(const struct sun_row *row)
{
    return row->diffuse_w_m2;
}

static double panels(const struct sun_row *row)
{
    return row->panel_w;
}

static double none(const struct sun_row *row)
{
    (void)row;
    return 0;
}

/* Largest value of the day, at least 0. */
static double most(const struct sun_day *day, sun_value *value)
{
    double best = 0;

    for (size_t i = 0; i < day->fine_count; i++)
        best = fmax(best, value(day->fine + i));
    return best;
}

/* A day from midnight to midnight, values from 0 up. */
static struct frame frame_of(struct box box, double v1)
{
    return (struct frame){ .box = box, .t0 = 0, .t1 = DAY_SECONDS, .v0 = 0, .v1 = v1 };
}

/* ---- curves and areas ---- */

/* From the last moment without it to the first one after. */
static struct point *curve_points(struct page *page, const struct frame *f, const struct sun_day *day,
                                  sun_value *value, size_t *count)
{
    struct point *points = arena_array(page->arena, day->fine_count + 1, sizeof *points);

    size_t first = 0, last = day->fine_count;

    while (first + 1 < last && value(day->fine + first + 1) <= 0)
        first++;
    while (last > first + 1 && value(day->fine + last - 2) <= 0)
        last--;
    *count = 0;
    page->failed |= !points;
    for (size_t i = first; points && i < last; i++)
        points[(*count)++] =
            (struct point){ frame_x(f, day->fine[i].time_s), frame_y(f, value(day->fine + i)) };
    if (points && !day->polar && *count > 2) { /* it leaves the ground at sunrise, not at the sample before */
        struct point *end = points + *count - 1;

        points[0].x = fmax(points[0].x, fmin(frame_x(f, day->sunrise_s), points[1].x));
        end->x = fmin(end->x, fmax(frame_x(f, day->sunset_s), end[-1].x));
    }
    return points;
}

/* A line, thinned to what the eye can tell; labels keep clear of it. */
static void draw_curve(struct page *page, const struct frame *f, const struct sun_day *day, sun_value *value,
                       double width, struct ink ink)
{
    size_t count;
    struct point *points = curve_points(page, f, day, value, &count);

    if (!count)
        return;
    count = thin_points(points, count, 0.1);
    stroke(page, points, count, width, ink);
    keep_clear_of_line(page, points, count);
}

/* The area from one value up to the other, all day; empty without memory, and the page has failed. */
static struct layer area_between(struct page *page, const struct frame *f, const struct sun_day *day,
                                 sun_value *low, sun_value *high, struct ink ink)
{
    size_t n = day->fine_count;
    double *numbers = arena_array(page->arena, 3 * n + 1, sizeof *numbers);

    page->failed |= !numbers;
    if (!numbers)
        return (struct layer){ .ink = ink };
    for (size_t i = 0; i < n; i++) {
        numbers[i] = frame_x(f, day->fine[i].time_s);
        numbers[n + i] = frame_y(f, low(day->fine + i));
        numbers[2 * n + i] = frame_y(f, high(day->fine + i));
    }
    return (struct layer){ numbers, numbers + n, numbers + 2 * n, n, ink };
}

/* Inside the area if it is thick enough, else beside it. */
static void name_area(struct page *page, const struct frame *f, const struct layer *layer, const char *text)
{
    page->failed |= !text;
    if (text && !layer_label(page, layer, text, LABEL_SIZE, INK_BLACK))
        layer_leader(page, layer, text, LABEL_SIZE, 1, 0.6, &f->box);
}

/* Near the top of a curve, above it, where there is room. */
static void name_curve(struct page *page, const struct frame *f, const struct sun_day *day, sun_value *value,
                       const char *text)
{
    size_t count;
    struct point *points = curve_points(page, f, day, value, &count);

    page->failed |= !text;
    for (double up = 6; text && up < 60; up += 6) {
        for (size_t i = count / 4; i < count; i++) {
            const struct label label = { text, points[i].x, points[i].y + up, 'r', LABEL_SIZE, 0, INK_BLACK };

            if (points[i].y > f->box.y0 + 4 && label_try(page, &label, &f->box))
                return;
        }
    }
}

/* ---- the three frames ---- */

/* The highest point carries a dot with its degrees and local time: solar noon is seldom at twelve. */
static void draw_height(struct page *page, const struct sun_day *day)
{
    struct frame f = frame_of(height_box, 90);
    double highest = most(day, elevation), x = frame_x(&f, day->noon_s), y = frame_y(&f, highest);
    char clock[16];
    struct label label = { NULL, x, y + 12, 'c', LABEL_SIZE, 1, INK_BLACK };

    value_axis(page, &f, 30);
    axis_name(page, &f, "sun above the horizon, \u00b0", 'l');
    draw_curve(page, &f, day, elevation, 2.4, INK_BLACK);
    if (highest <= 0)
        return;
    clock_write(clock, day->noon_s);
    label.text = arena_print(page->arena, "%s\u00b0 at %.5s", step_number(page, highest, 1), clock);
    page->failed |= !label.text;
    dot(page, x, y, 3.6, INK_BLACK, INK_WHITE);
    keep_clear(page, (struct box){ x - 5, y - 5, x + 5, y + 5 });
    if (label.text && !label_try(page, &label, &f.box)) {
        label.y = y - 9 - LABEL_SIZE * 0.76;
        label_try(page, &label, &f.box);
    }
}

static const char *per_area(struct page *page, const char *name, double kwh)
{
    return arena_print(page->arena, "%s %s kWh/m\u00b2", name, step_number(page, kwh, 0.1));
}

/* Light on a level square metre: the mean day in its two parts, under what a clear sky would bring. */
static void draw_flat(struct page *page, const struct sun_day *day)
{
    double top = fmax(most(day, clear_sky), fmax(most(day, mean_day), 100));
    struct frame f = frame_of(flat_box, top * 1.18);
    struct layer direct = area_between(page, &f, day, diffuse, mean_day, INK_SOLAR);
    struct layer scattered = area_between(page, &f, day, none, diffuse, INK_LIGHT);

    value_axis(page, &f, round_step(f.v1, 5));
    axis_name(page, &f, "on the flat, W/m\u00b2", 'l');
    layer_fill(page, &scattered);
    layer_fill(page, &direct);
    draw_curve(page, &f, day, clear_sky, 2, INK_BLACK);
    if (day->irradiation_kwh_m2 > 0) {
        name_area(page, &f, &direct, per_area(page, "mean day", day->irradiation_kwh_m2));
        name_area(page, &f, &scattered, "of it diffuse");
    }
    if (day->clear_sky_kwh_m2 > 0)
        name_curve(page, &f, day, clear_sky, per_area(page, "clear sky", day->clear_sky_kwh_m2));
}

static void draw_rating(struct page *page, const struct frame *f, double watts)
{
    double y = frame_y(f, watts);
    const char *text = arena_print(page->arena, "rated %s W", step_number(page, watts, 1));
    const struct label label = { text ? text : "", f->box.x1 + 8, y - SMALL_SIZE * 0.36, 'l', SMALL_SIZE, 0,
                                 INK_DARK };

    page->failed |= !text;
    dashed(page, f->box.x0, y, f->box.x1, y, 1.2, INK_DARK);
    label_try(page, &label, NULL);
}

/* All arrays together at the DC bus, cut off by their controllers, under the sum of their ratings. */
static void draw_panels(struct page *page, const struct sun_day *day)
{
    double top = fmax(fmax(most(day, panels), day->panel_rated_w), 10);
    struct frame f = frame_of(panel_box, top * 1.06);
    struct layer area = area_between(page, &f, day, none, panels, INK_SOLAR);

    value_axis(page, &f, round_step(f.v1, 5));
    axis_name(page, &f, "panels on the mean day, W", 'l');
    layer_fill(page, &area);
    if (day->panel_rated_w > 0)
        draw_rating(page, &f, day->panel_rated_w);
    if (day->panel_wh > 0)
        name_area(page, &f, &area, energy_words(page, day->panel_wh));
    rule(page, f.box.x0, f.box.y0, f.box.x1, f.box.y0, 1, INK_DARK);
    hour_axis(page, &f);
}

/* ---- night and its edges ---- */

/* Through all three frames; polar night is one band, midnight sun none. */
static void draw_nights(struct page *page, const struct sun_day *day)
{
    const struct box boxes[] = { height_box, flat_box, panel_box };
    const struct night nights[] = { { 0, day->polar ? DAY_SECONDS : day->sunrise_s },
                                    { day->polar ? DAY_SECONDS : day->sunset_s, DAY_SECONDS } };

    for (size_t i = 0; day->polar <= 0 && i < sizeof boxes / sizeof boxes[0]; i++) {
        struct frame f = frame_of(boxes[i], 1);

        night_bands(page, &f, nights, 2);
    }
}

/* Sunrise or sunset: a rule through all three frames, named above the uppermost. */
static void draw_edge(struct page *page, const char *name, double seconds)
{
    struct frame f = frame_of(height_box, 1);
    double x = frame_x(&f, seconds);
    char clock[16];
    struct label label = { NULL, x, f.box.y1 + 9, 'c', SMALL_SIZE, 1, INK_BLACK };

    clock_write(clock, seconds);
    label.text = arena_print(page->arena, "%s %.5s", name, clock);
    page->failed |= !label.text;
    rule(page, x, panel_box.y0, x, panel_box.y1, 0.8, INK_MIDDLE);
    rule(page, x, flat_box.y0, x, flat_box.y1, 0.8, INK_MIDDLE);
    rule(page, x, height_box.y0, x, height_box.y1 + 5, 0.8, INK_MIDDLE);
    if (label.text)
        label_try(page, &label, NULL);
}

static const char *day_words(struct page *page, const struct sun_day *day)
{
    long number = date_number((struct date){ day->year, day->month, day->day });
    const char *words = dates_text(page->arena, number, number);

    page->failed |= !words;
    return words ? words : "";
}

const char *sun_title(struct page *page, const struct sun_day *day)
{
    const char *date = day_words(page, day), *title;

    if (day->polar < 0)
        title = arena_print(page->arena, "The sun does not rise on %s", date);
    else if (day->panel_rated_w > 0)
        title =
            arena_print(page->arena, "%s W of panels give %s on a mean %s",
                        step_number(page, day->panel_rated_w, 1), energy_words(page, day->panel_wh), date);
    else
        title = per_area(page, arena_print(page->arena, "A mean %s brings", date), day->irradiation_kwh_m2);
    page->failed |= !title;
    return title ? title : "";
}

void sun_draw(struct page *page, const struct sun_day *day)
{
    const char *hours =
        arena_print(page->arena, "%s hours of daylight", step_number(page, day->day_length_h, 0.1));
    const char *kind = day->kind ? arena_print(page->arena, "a day of \u201c%s\u201d", day->kind) : NULL;
    const char *subtitle = listed(page->arena, day->boat, day->place, kind, hours);

    page->failed |= !subtitle;
    page_title(page, sun_title(page, day), subtitle ? subtitle : "");
    draw_nights(page, day);
    draw_height(page, day);
    if (!day->polar) {
        draw_edge(page, "sunrise", day->sunrise_s);
        draw_edge(page, "sunset", day->sunset_s);
    }
    if (!day->fine_count)
        return;
    draw_flat(page, day);
    draw_panels(page, day);
}

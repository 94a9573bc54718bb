/* plot_week.c - the week as a picture: charge above, power at the DC bus below, days along the top.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "engine/result.h"
#include "output/plot_days.h"
#include "output/plot_draw.h"
#include "output/plot_kit.h"
#include "output/words.h"

/*
 * The page, in its own units of 1200 x 675:
 *
 *   title, subtitle
 *   | Mon 6   Tue 7   ...                          date and kind of day over each day
 *   |------------------------------------------|
 *   | charge, %     nights grey, charge black, |   ceiling
 *   |               lowest point with a dot    |   floor
 *   |------------------------------------------|
 *   | power, W      solar, alternators, charger upward; loads downward, mean dark and peaks light;
 *   |               solar not used hatched on top
 *   |------------------------------------------|
 *     0  6  12  18  ...                            hours, and bars where something was not delivered
 *
 * Rows are gathered to what the page can show: bins about two units wide for power, four points a unit
 * column for the charge, so that no extreme is lost.
 */

enum { LABEL_SIZE = 13, SMALL_SIZE = 12, DAY_SECONDS = 86400 };

static const struct box charge_box = { 84, 244, 1104, 560 };
static const struct box power_box = { 84, 58, 1104, 214 };

/* The rows gathered to what the page can show, each bin about two units wide. */
struct bins {
    size_t count;
    double *x;                                             /* page */
    double *solar, *spilled, *alternator, *charger, *load; /* [W] means */
    double *peak;                                          /* [W] largest load */
    double *unserved;                                      /* [W] mean */
};

/* Zeros; NULL without memory, and the page has failed. */
static double *numbers(struct page *page, size_t count)
{
    double *p = arena_array(page->arena, count, sizeof *p);

    page->failed |= !p;
    return p;
}

/* ---- gathering ---- */

/* 0 without memory. */
static int bins_make(struct page *page, struct bins *bins, size_t count)
{
    double **const all[] = { &bins->x,       &bins->solar, &bins->spilled, &bins->alternator,
                             &bins->charger, &bins->load,  &bins->peak,    &bins->unserved };

    bins->count = count;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        *all[i] = numbers(page, count);
        if (!*all[i])
            return 0;
    }
    return 1;
}

/* share: what a row is of its bin. */
static void bin_add(struct bins *bins, size_t b, const struct week_row *row, double share)
{
    bins->solar[b] += row->solar_w * share;
    bins->spilled[b] += row->solar_spilled_w * share;
    bins->alternator[b] += row->alternator_w * share;
    bins->charger[b] += row->charger_w * share;
    bins->load[b] += row->load_w * share;
    bins->unserved[b] += row->unserved_w * share;
    bins->peak[b] = fmax(bins->peak[b], row->load_w);
}

/*
 * Means of the rows in each bin, and the largest load of it; the outer bins reach to the edges of the frame.
 */
static int bins_fill(struct page *page, struct bins *bins, const struct week *week)
{
    double width = power_box.x1 - power_box.x0;
    size_t most = (size_t)(width / 2), count = week->row_count < most ? week->row_count : most;

    if (!bins_make(page, bins, count))
        return 0;
    for (size_t b = 0; b < count; b++) {
        size_t from = b * week->row_count / count, to = (b + 1) * week->row_count / count;

        bins->x[b] = power_box.x0 + width * ((double)b + 0.5) / (double)count;
        for (size_t r = from; r < to; r++)
            bin_add(bins, b, week->rows + r, 1 / (double)(to - from));
    }
    bins->x[0] = power_box.x0;
    bins->x[count - 1] = power_box.x1;
    return 1;
}

static double largest(const double *values, size_t count)
{
    double most = 0;

    for (size_t i = 0; i < count; i++)
        most = fmax(most, values[i]);
    return most;
}

/* ---- days ---- */

struct frame week_frame(const struct week *week, struct box box)
{
    double days = week->day_count ? (double)week->day_count : 1;

    return (struct frame){ .box = box, .t0 = 0, .t1 = days * DAY_SECONDS, .v0 = 0, .v1 = 100 };
}

static double clamp(double v, double low, double high)
{
    return fmin(fmax(v, low), high);
}

/* Before sunrise and after sunset of every day; a day of midnight sun has none, polar night is all. */
size_t week_nights(struct page *page, struct night **nights, const struct week *week)
{
    struct night *n = arena_array(page->arena, 2 * week->day_count + 1, sizeof *n);
    size_t count = 0;

    page->failed |= !n;
    for (size_t i = 0; n && i < week->day_count; i++) {
        const struct day_mark *day = week->days + i;
        double from = DAY_SECONDS * (double)i, to = from + DAY_SECONDS;

        if (day->sunset_s - day->sunrise_s >= DAY_SECONDS)
            continue;
        n[count++] = (struct night){ from, clamp(day->sunrise_s, from, to) };
        n[count++] = (struct night){ clamp(day->sunset_s, from, to), to };
    }
    *nights = n;
    return count;
}

enum date_form { DATE_FULL, DATE_DAY, DATE_NUMBER };

static const char *date_words(struct page *page, const struct day_mark *day, enum date_form form)
{
    const char *text = form == DATE_FULL ? arena_print(page->arena, "%s %d %s", weekday_short(day->weekday),
                                                       day->day, month_name(day->month))
                       : form == DATE_DAY
                           ? arena_print(page->arena, "%s %d", weekday_short(day->weekday), day->day)
                           : arena_print(page->arena, "%d", day->day);

    page->failed |= !text;
    return text ? text : "";
}

/* The longest form in which every day has room. */
static enum date_form date_form(struct page *page, const struct week *week, double room)
{
    enum date_form form = DATE_FULL;

    for (size_t i = 0; i < week->day_count && form < DATE_NUMBER;) {
        const struct label label = {
            date_words(page, week->days + i, form), 0, 0, 'c', SMALL_SIZE, 1, INK_BLACK
        };

        if (label_width(page, &label) + 8 > room) {
            form++;
            i = 0;
        } else {
            i++;
        }
    }
    return form;
}

/* Date and kind of day over the middle of each day. */
void week_days_draw(struct page *page, const struct frame *f, const struct week *week)
{
    double room = frame_x(f, DAY_SECONDS) - f->box.x0;
    enum date_form form = date_form(page, week, room);

    for (size_t i = 0; i < week->day_count; i++) {
        const struct day_mark *day = week->days + i;
        double x = frame_x(f, ((double)i + 0.5) * DAY_SECONDS), edge = frame_x(f, (double)i * DAY_SECONDS);
        const char *kind = day->kind && day->kind->name ? day->kind->name : "";
        const struct label date = {
            date_words(page, day, form), x, f->box.y1 + 24, 'c', SMALL_SIZE, 1, INK_BLACK
        };
        struct label below = {
            text_cut(page, kind, room - 8, SMALL_SIZE, 0), x, f->box.y1 + 8, 'c', SMALL_SIZE, 0, INK_DARK
        };

        label_try(page, &date, NULL);
        if (strlen(below.text) > 4 || strcmp(below.text, kind) == 0)
            label_try(page, &below, NULL);
        if (i > 0 && room > 6)
            rule(page, edge, f->box.y0, edge, f->box.y1 + 34, 0.8, INK_LIGHT);
    }
}

/* Once, in the first whole night with room for it; a night over midnight is two bands. */
static void draw_night_name(struct page *page, const struct frame *f, const struct night *nights,
                            size_t count)
{
    for (size_t i = 1; i + 1 < count; i++) {
        double from = nights[i].from,
               to = nights[i + 1].from <= nights[i].to + 1 ? nights[i + 1].to : nights[i].to;
        const struct label label = {
            "night", frame_x(f, (from + to) / 2), f->box.y0 + 7, 'c', SMALL_SIZE, 0, INK_MIDDLE
        };

        if (label_width(page, &label) + 6 > frame_x(f, to) - frame_x(f, from) ||
            !place_free(page, label_box(page, &label)))
            continue;
        fill_box(page, label_box(page, &label), INK_NIGHT); /* the line of midnight ends at it */
        label_draw(page, &label);
        return;
    }
}

/* ---- charge ---- */

/* First, lowest, highest and last of each unit column, in the order of time: no extreme is lost. */
static size_t charge_points(struct point *points, const struct frame *f, const struct week *week)
{
    size_t columns = (size_t)(f->box.x1 - f->box.x0), count = 0;

    for (size_t c = 0; c < columns; c++) {
        size_t from = c * week->row_count / columns, to = (c + 1) * week->row_count / columns;
        size_t low = from, high = from;

        for (size_t r = from; r < to; r++) {
            low = week->rows[r].charge < week->rows[low].charge ? r : low;
            high = week->rows[r].charge > week->rows[high].charge ? r : high;
        }
        for (size_t r = from; r < to; r++) {
            const struct week_row *row = week->rows + r;

            if (r == from || r == low || r == high || r + 1 == to)
                points[count++] = (struct point){ frame_x(f, row->time_s + week->row_step_s),
                                                  frame_y(f, row->charge * 100) };
        }
    }
    return count;
}

void week_charge_draw(struct page *page, const struct frame *f, const struct week *week, double width,
                      struct ink ink)
{
    size_t room = week->row_count < 4 * PAGE_WIDTH ? week->row_count : 4 * PAGE_WIDTH, count;
    struct point *points = arena_array(page->arena, room + 1, sizeof *points);

    if (!points) {
        page->failed = 1;
        return;
    }
    count = charge_points(points, f, week);
    count = thin_points(points, count, 0.15);
    stroke(page, points, count, width, ink);
    keep_clear_of_line(page, points, count);
}

/* A dashed limit, named in the right margin. */
void week_limit_draw(struct page *page, const struct frame *f, const char *name, double share, struct ink ink)
{
    double y = frame_y(f, share * 100);
    const char *percent = step_number(page, share * 100, 1);
    const char *text = arena_print(page->arena, "%s %s %%", name, percent);
    struct label label = { text ? text : "", f->box.x1 + 8, y - SMALL_SIZE * 0.36, 'l', SMALL_SIZE, 0, ink };

    dashed(page, f->box.x0, y, f->box.x1, y, 1.6, ink);
    keep_clear_of_line(page, (struct point[]){ { f->box.x0, y }, { f->box.x1, y } }, 2);
    for (int i = 0; i < 6 && !label_try(page, &label, NULL); i++)
        label.y += 8;
}

/* Around the lowest point, nearest place first, below before above. */
void week_lowest_draw(struct page *page, const struct frame *f, const struct week *week, const char *name,
                      struct ink ink)
{
    static const struct point sides[] = { { 0, -1 }, { 1, -1 }, { -1, -1 }, { 1, 0 },
                                          { -1, 0 }, { 0, 1 },  { 1, 1 },   { -1, 1 } };
    const struct week_summary *s = &week->summary;
    double x = clamp(frame_x(f, s->min_time_s), f->box.x0, f->box.x1),
           y = frame_y(f, clamp(s->min_charge, 0, 1) * 100);
    int minute = (int)(fmod(s->min_time_s, DAY_SECONDS) / 60);
    size_t day = (size_t)(s->min_time_s / DAY_SECONDS);
    const char *text = NULL;

    if (day < week->day_count)
        text =
            arena_print(page->arena, "%s%s %%, %s %02d:%02d", name, step_number(page, s->min_charge * 100, 1),
                        weekday_short(week->days[day].weekday), minute / 60, minute % 60);
    dot(page, x, y, 4.2, ink, INK_WHITE);
    keep_clear(page, (struct box){ x - 5, y - 5, x + 5, y + 5 });
    for (double away = 8; text && away < 90; away += 6) {
        for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
            double dx = sides[i].x, dy = sides[i].y;
            const struct label label = { text,
                                         x + dx * away,
                                         y + (dy < 0   ? -away - LABEL_SIZE * 0.76
                                              : dy > 0 ? away + LABEL_SIZE * 0.24
                                                       : -LABEL_SIZE * 0.36),
                                         dx > 0   ? 'l'
                                         : dx < 0 ? 'r'
                                                  : 'c',
                                         LABEL_SIZE,
                                         1,
                                         ink };

            if (label_try(page, &label, &f->box))
                return;
        }
    }
}

/* The upper frame: charge of the house bank between floor and ceiling, its lowest point named. */
static void draw_charge(struct page *page, const struct week *week, const struct night *nights,
                        size_t night_count)
{
    struct frame f = week_frame(week, charge_box);

    night_bands(page, &f, nights, night_count);
    value_axis(page, &f, 20);
    axis_name(page, &f, "charge, %", 'r');
    week_days_draw(page, &f, week);
    if (week->summary.floor > 0)
        week_limit_draw(page, &f, "floor", week->summary.floor, INK_BAD);
    if (week->summary.ceiling > 0 && week->summary.ceiling < 0.995) /* at 100 % the frame itself ends */
        week_limit_draw(page, &f, "ceiling", week->summary.ceiling, INK_DARK);
    if (week->row_count) {
        week_charge_draw(page, &f, week, 2.4, INK_BLACK);
        week_lowest_draw(page, &f, week, "", INK_BLACK);
    }
    draw_night_name(page, &f, nights, night_count);
    rule(page, f.box.x0, f.box.y0, f.box.x1, f.box.y0, 1, INK_DARK);
}

/* ---- power ---- */

/* One more layer beyond *edge, upward or (sign < 0) downward; *edge becomes its outer side. */
static struct layer stack(struct page *page, const struct frame *f, const struct bins *bins, double **edge,
                          const double *values, int sign, struct ink ink)
{
    double *inner = *edge, *outer = numbers(page, bins->count);
    double unit = frame_y(f, 1) - frame_y(f, 0);

    if (!outer)
        return (struct layer){ bins->x, inner, inner, bins->count, ink };
    for (size_t i = 0; i < bins->count; i++)
        outer[i] = inner[i] + sign * values[i] * unit;
    *edge = outer;
    return (struct layer){ bins->x, sign > 0 ? inner : outer, sign > 0 ? outer : inner, bins->count, ink };
}

/* A layer with a name: inside where there is room, else beside it. */
struct flow {
    const char *name;
    const double *values; /* [W] */
    double wh;
    struct ink ink, text;
    int sign;     /* 1 above the zero line, -1 below */
    double share; /* of its greatest thickness that is worth pointing at */
    struct layer layer;
    int named;
};

static const char *flow_words(struct page *page, const struct flow *flow)
{
    const char *text = arena_print(page->arena, "%s %s", flow->name, energy_words(page, flow->wh));

    page->failed |= !text;
    return text ? text : "";
}

/* Beside it, or in the right margin where it ends, in two lines; the nearest place that is free. */
static void name_outside(struct page *page, const struct frame *f, const struct flow *flow)
{
    const struct layer *layer = &flow->layer;
    double y = (layer->low[layer->count - 1] + layer->high[layer->count - 1]) / 2 - SMALL_SIZE * 0.36;
    struct label name = { flow->name, f->box.x1 + 8, y, 'l', SMALL_SIZE, 0, INK_BLACK };
    struct label amount = { energy_words(page, flow->wh), name.x, 0, 'l', SMALL_SIZE, 0, INK_BLACK };

    if (layer_leader(page, layer, flow_words(page, flow), SMALL_SIZE, flow->sign, flow->share, &f->box))
        return;
    for (int i = 0; i < 8; i++, name.y += flow->sign * 9) {
        amount.y = name.y - SMALL_SIZE * 1.25;
        if (place_free(page, label_box(page, &amount)) && label_try(page, &name, NULL)) {
            label_draw(page, &amount);
            return;
        }
    }
}

/* Names go inside first, while only names are in the way, then outside, where no area is covered. */
static void name_flows(struct page *page, const struct frame *f, struct flow *flows, size_t count,
                       const struct layer *above, const struct layer *below)
{
    for (size_t i = 0; i < count; i++)
        flows[i].named = flows[i].wh <= 0 || layer_label(page, &flows[i].layer, flow_words(page, flows + i),
                                                         SMALL_SIZE, flows[i].text);
    keep_clear_of_layer(page, above);
    keep_clear_of_layer(page, below);
    for (size_t i = count; i-- > 0;) {
        if (!flows[i].named)
            name_outside(page, f, flows + i);
    }
}

/* Areas stacked from zero: sources upward, the part of the sun that found no home hatched on top; loads
 * downward, peaks behind the means. Each is named inside where it fits. */
static void draw_flows(struct page *page, const struct frame *f, const struct bins *bins,
                       const struct week *week, double *zero)
{
    const struct week_summary *s = &week->summary;
    struct flow flows[] = {
        { "solar", bins->solar, s->solar_wh, INK_SOLAR, INK_BLACK, 1, 0.8, { 0 }, 0 },
        { "alternators", bins->alternator, s->alternator_wh, INK_ENGINE, INK_WHITE, 1, 0.5, { 0 }, 0 },
        { "charger", bins->charger, s->charger_wh, INK_SHORE, INK_BLACK, 1, 0.5, { 0 }, 0 },
        { "solar not used", bins->spilled, s->solar_spilled_wh, INK_DARK, INK_BLACK, 1, 0.6, { 0 }, 0 },
        { "loads", bins->load, s->load_wh, INK_DARK, INK_WHITE, -1, 0.05, { 0 }, 0 },
    };
    enum { FLOWS = sizeof flows / sizeof flows[0], SPILLED = 3, LOADS = 4 };
    double *top = zero, *bottom = zero, *deepest = zero;
    struct layer peaks = stack(page, f, bins, &deepest, bins->peak, -1, INK_LIGHT);

    layer_fill(page, &peaks);
    for (int i = 0; i < FLOWS; i++) {
        flows[i].layer =
            stack(page, f, bins, i == LOADS ? &bottom : &top, flows[i].values, flows[i].sign, flows[i].ink);
        if (flows[i].wh > 0 && i != SPILLED)
            layer_fill(page, &flows[i].layer);
    }
    hatch(page, bins->x, flows[SPILLED].layer.low, flows[SPILLED].layer.high, bins->count, 0.7, INK_DARK);
    name_flows(page, f, flows, FLOWS, &(struct layer){ bins->x, zero, top, bins->count, INK_BLACK }, &peaks);
}

/* Stretches with loads not fed, as bars on the time axis. */
static void draw_shortage(struct page *page, const struct frame *f, const struct bins *bins, double wh)
{
    const char *text = arena_print(page->arena, "not delivered: %s", energy_words(page, wh));
    struct label label = { text ? text : "", 0, f->box.y0 - 36, 'l', SMALL_SIZE, 1, INK_BAD };
    double first = -1;

    for (size_t i = 0, n; i < bins->count; i += n) {
        for (n = 0; i + n < bins->count && bins->unserved[i + n] > 0;)
            n++;
        if (n) {
            double x0 = bins->x[i] - 1, x1 = bins->x[i + n - 1] + 1;

            fill_box(page, (struct box){ fmax(x0, f->box.x0), f->box.y0 - 6, fmin(x1, f->box.x1), f->box.y0 },
                     INK_BAD);
            first = first < 0 ? x0 : first;
        }
        n = n ? n : 1;
    }
    label.x = clamp(first, f->box.x0, f->box.x1 - label_width(page, &label));
    if (first >= 0)
        label_try(page, &label, NULL);
}

/* Watts upward and downward, with room for a name above the sources and a little below the loads. */
static void set_power_range(struct frame *f, double up, double down)
{
    double above = up > 0 ? 32 : 8, below = 8, span = fmax(up + down, 10);
    double watts = span / (f->box.y1 - f->box.y0 - above - below); /* a unit of the page */

    f->v1 = up + above * watts;
    f->v0 = -(span - up) - below * watts;
    f->mirrored = 1;
}

/* The lower frame: what came and what went, by bins of time; watts at the DC bus. */
static void draw_power(struct page *page, const struct week *week, const struct night *nights,
                       size_t night_count)
{
    struct frame f = week_frame(week, power_box);
    struct bins bins;
    double *zero, up = 0;

    if (!bins_fill(page, &bins, week) || !(zero = numbers(page, bins.count)))
        return;
    for (size_t i = 0; i < bins.count; i++)
        up = fmax(up, bins.solar[i] + bins.spilled[i] + bins.alternator[i] + bins.charger[i]);
    set_power_range(&f, up, largest(bins.peak, bins.count));
    for (size_t i = 0; i < bins.count; i++)
        zero[i] = frame_y(&f, 0);
    night_bands(page, &f, nights, night_count);
    value_axis(page, &f, round_step(f.v1 - f.v0, 7));
    axis_name(page, &f, "power at the DC bus, W: sources upward, loads downward (dark: mean, light: peaks)",
              'l');
    draw_flows(page, &f, &bins, week, zero);
    rule(page, f.box.x0, frame_y(&f, 0), f.box.x1, frame_y(&f, 0), 1.2, INK_BLACK);
    rule(page, f.box.x0, f.box.y0, f.box.x1, f.box.y0, 1, INK_DARK);
    hour_axis(page, &f);
    if (week->summary.unserved_wh > 0)
        draw_shortage(page, &f, &bins, week->summary.unserved_wh);
}

const char *week_title(struct page *page, const struct week *week)
{
    (void)page;
    return week->finding ? week->finding : "State of charge over the plan";
}

void week_draw(struct page *page, const struct week *week)
{
    const char *subtitle = week_subtitle(page->arena, week);
    struct night *nights;
    size_t count;

    page->failed |= !subtitle;
    page_title(page, week_title(page, week), subtitle ? subtitle : "");
    count = week_nights(page, &nights, week);
    if (page->failed)
        return;
    draw_charge(page, week, nights, count);
    if (week->row_count)
        draw_power(page, week, nights, count);
}

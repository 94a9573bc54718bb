/* plot_cables.c - volts along the path that loses most, as a staircase from bank to load.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/result.h"
#include "output/plot_draw.h"
#include "output/plot_kit.h"
#include "output/words.h"

/*
 * Volts along the path that loses most of what it may, as a staircase:
 *
 *   at no current ----.
 *               bank  '----.                     each tread a node with its volts
 *                     cable '--------.           each fall a cable with what it takes
 *                                     '-----
 *                   - - - - - - - - - - - -      the least allowed, where there is a limit
 */

enum { LABEL_SIZE = 13, SMALL_SIZE = 12, SLOTS_MOST = 24 };

static const struct box stair_box = { 84, 150, 1150, 548 };

/* One tread: a node, and the fall on to it. */
struct tread {
    const char *node, *cable;
    double volts, loss, limit; /* limit 0: none */
};

struct stair {
    struct frame frame;
    const struct tread *treads;
    size_t count;
};

/* The bank that the path begins at; NULL: it begins at something else. */
static const struct circuit_bank *bank_of(const struct circuit *c)
{
    for (size_t i = 0; c->path_source && i < c->bank_count; i++)
        if (strcmp(c->banks[i].name, c->path_source) == 0)
            return &c->banks[i];
    return NULL;
}

/* The bank's own volts first, where it is a bank, then its posts, then every node of the path. */
static struct stair stair_of(struct page *page, const struct circuit *c)
{
    const struct circuit_bank *bank = bank_of(c);
    struct tread *treads = arena_array(page->arena, c->path_count + 2, sizeof *treads);
    struct stair s = { .treads = treads };
    const char *source = c->path_source ? c->path_source : "source"; /* without a path there is none */
    double low = c->path_source_v, high = c->path_source_v;

    page->failed |= !treads;
    if (!treads)
        return s;
    if (bank)
        treads[s.count++] = (struct tread){ "at no current", NULL, bank->open_circuit_v, 0, 0 };
    treads[s.count++] =
        (struct tread){ source, bank ? "inside the bank" : NULL, c->path_source_v,
                        bank ? bank->open_circuit_v - c->path_source_v : 0, 0 };
    for (size_t i = 0; i < c->path_count && s.count < SLOTS_MOST; i++)
        treads[s.count++] = (struct tread){ c->path[i].node, c->path[i].name, c->path[i].volts_v,
                                            c->path[i].loss_v, c->path[i].limit_v };
    for (size_t i = 0; i < s.count; i++) {
        low = fmin(low, treads[i].limit > 0 ? fmin(treads[i].volts, treads[i].limit) : treads[i].volts);
        high = fmax(high, treads[i].volts);
    }
    s.frame = (struct frame){ .box = stair_box,
                              .t0 = 0,
                              .t1 = (double)s.count,
                              .v0 = low - 0.12 * (high - low + 0.1),
                              .v1 = high + 0.14 * (high - low + 0.1) };
    return s;
}

/* A tread fills the middle of its slot; the falls lie between. */
static double tread_left(const struct stair *s, size_t i)
{
    return frame_x(&s->frame, (double)i + (i > 0 ? 0.18 : 0));
}

/* Treads leave a gap for the riser's drop, all but the last. */
static double tread_right(const struct stair *s, size_t i)
{
    return frame_x(&s->frame, (double)i + (i + 1 < s->count ? 0.82 : 1));
}

/* From the limit down lies what is not allowed. */
static void draw_limit(struct page *page, const struct stair *s, size_t i)
{
    const struct frame *f = &s->frame;
    double x0 = tread_left(s, i), x1 = tread_right(s, i), y = frame_y(f, s->treads[i].limit);

    if (s->treads[i].limit <= 0)
        return;
    fill_box(page, (struct box){ x0, f->box.y0, x1, y }, INK_NIGHT);
    dashed(page, x0, y, x1, y, 1.6, INK_BAD);
}

/* The volts as one stepped line. */
static void draw_line(struct page *page, const struct stair *s)
{
    struct point *points = arena_array(page->arena, 2 * s->count, sizeof *points);

    page->failed |= !points;
    if (!points)
        return;
    for (size_t i = 0; i < s->count; i++) {
        double y = frame_y(&s->frame, s->treads[i].volts);

        points[2 * i] = (struct point){ tread_left(s, i), y };
        points[2 * i + 1] = (struct point){ tread_right(s, i), y };
    }
    stroke(page, points, 2 * s->count, 2.6, INK_BLACK);
    keep_clear_of_line(page, points, 2 * s->count);
}

/* Above the tread, or below where something stands there. */
static void draw_volts(struct page *page, const struct stair *s, size_t i)
{
    const struct tread *t = &s->treads[i];
    double x = (tread_left(s, i) + tread_right(s, i)) / 2, y = frame_y(&s->frame, t->volts);
    const char *text = arena_print(page->arena, "%.2f V", t->volts);
    struct label label = { text ? text : "", x, y + 9, 'c', LABEL_SIZE, 1, INK_BLACK };

    page->failed |= !text;
    if (!label_try(page, &label, &s->frame.box)) {
        label.y = y - 9 - LABEL_SIZE * 0.76;
        label_try(page, &label, &s->frame.box);
    }
}

/* "least 11.35 V", under its dashed line, or above it. */
static void name_limit(struct page *page, const struct stair *s, size_t i)
{
    const struct tread *t = &s->treads[i];
    double x = (tread_left(s, i) + tread_right(s, i)) / 2, y = frame_y(&s->frame, t->limit);
    const char *text = arena_print(page->arena, "least %.2f V", t->limit);
    struct label label = { text ? text : "", x, y - 7 - SMALL_SIZE * 0.76, 'c', SMALL_SIZE, 0, INK_BAD };

    page->failed |= !text;
    if (t->limit <= 0)
        return;
    if (!label_try(page, &label, &s->frame.box)) {
        label.y = y + 7;
        label_try(page, &label, &s->frame.box);
    }
}

/* Below the frame: the node under its tread, the cable and what it takes under the fall. */
static void name_tread(struct page *page, const struct stair *s, size_t i)
{
    const struct tread *t = &s->treads[i];
    double slot = frame_x(&s->frame, 1) - frame_x(&s->frame, 0), fall = frame_x(&s->frame, (double)i);
    struct label node = { text_cut(page, t->node, slot - 8, LABEL_SIZE, 1),
                          (tread_left(s, i) + tread_right(s, i)) / 2,
                          stair_box.y0 - 20,
                          'c',
                          LABEL_SIZE,
                          1,
                          INK_BLACK };
    struct label cable = { text_cut(page, t->cable ? t->cable : "", slot - 8, SMALL_SIZE, 0),
                           fall,
                           stair_box.y0 - 50,
                           'c',
                           SMALL_SIZE,
                           0,
                           INK_DARK };
    struct label loss = { arena_print(page->arena, "\u2212%.3f V", t->loss),
                          fall,
                          stair_box.y0 - 68,
                          'c',
                          SMALL_SIZE,
                          0,
                          INK_DARK };

    page->failed |= !node.text || !cable.text || !loss.text;
    if (page->failed)
        return;
    label_try(page, &node, NULL);
    if (!t->cable)
        return;
    rule(page, fall, stair_box.y0, fall, stair_box.y0 - 34, 0.8, INK_MIDDLE);
    label_try(page, &cable, NULL);
    label_try(page, &loss, NULL);
}

const char *cables_title(struct page *page, const struct circuit *c)
{
    const struct circuit_path_step *end = c->path_count ? &c->path[c->path_count - 1] : NULL;
    const char *title =
        end ? arena_print(page->arena, "%s gets %.2f V of %.2f V; %.2f V is the least allowed", c->path_load,
                          end->volts_v, c->path_source_v, end->limit_v)
            : "No cable has a limit to its volts";

    page->failed |= !title;
    return title ? title : "";
}

/* Whose limits they are: the rule set's, or common practice where it has none (the cable's own remark says
 * so). */
static const char *limits_words(struct page *page, const struct circuit *c)
{
    const char *last = c->path_count ? c->path[c->path_count - 1].name : "";

    for (size_t i = 0; i < c->cable_count; i++)
        if (strcmp(c->cables[i].name, last) == 0 && strstr(c->cables[i].limit_why, "common practice"))
            return arena_print(page->arena, "limits by common practice, for %s has none", c->rules);
    return arena_print(page->arena, "limits by %s", c->rules_title);
}

static const char *scenario_words(struct page *page, const struct circuit *c)
{
    if (strcmp(c->scenario, "largest") == 0)
        return "everything that may run at once is on";
    return arena_print(page->arena, "scenario \u201c%s\u201d", c->scenario);
}

void cables_draw(struct page *page, const struct circuit *c)
{
    const char *subtitle = listed(page->arena, c->boat, scenario_words(page, c), limits_words(page, c), NULL);
    struct stair s = stair_of(page, c);

    page->failed |= !subtitle;
    page_title(page, cables_title(page, c), subtitle ? subtitle : "");
    if (page->failed || c->path_count == 0)
        return;
    for (size_t i = 0; i < s.count; i++)
        draw_limit(page, &s, i);
    value_axis(page, &s.frame, round_step(s.frame.v1 - s.frame.v0, 6));
    axis_name(page, &s.frame, "volts between the two conductors", 'l');
    draw_line(page, &s);
    for (size_t i = 0; i < s.count; i++) {
        draw_volts(page, &s, i);
        name_tread(page, &s, i);
    }
    for (size_t i = 0; i < s.count; i++)
        name_limit(page, &s, i);
    rule(page, stair_box.x0, stair_box.y0, stair_box.x1, stair_box.y0, 1, INK_DARK);
}

/* readers.c - values of the common types: ranges with bounds, months, choices, flags, links, lists.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/readers.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"

/*
 * A reader gets a cursor on the value and the object that the section describes, and puts the value where
 * the row of the key says. It returns 1, or 0 with the fault in the cursor; who calls it turns that into a
 * diagnostic with the line and the piece underlined.
 */

void *reading_object(const struct reading *r, const struct section *section)
{
    return r->objects[section - r->document->sections];
}

void *reading_find(const struct reading *r, const char *kind, const char *name)
{
    const char *title = arena_print(r->arena, "%s %s", kind, name);
    const struct section *s = title ? document_find(r->document, title) : NULL;

    return s ? reading_object(r, s) : NULL;
}

const char *reading_nearest(const struct reading *r, const char *kind, const char *name)
{
    enum { ENOUGH = 200 }; /* with so many errors nobody reads the hints, and looking costs */
    struct text_near near = { .word = span_of(name) };

    for (size_t i = 0; i < r->document->count && r->diags->errors < ENOUGH; i++)
        if (r->objects[i] && text_same(r->document->sections[i].kind, kind))
            text_near_offer(&near, r->document->sections[i].name);
    return near.best;
}

void reading_assume(struct reading *r, const char *section, const char *key, const char *value,
                    const char *why)
{
    void *items = r->assumptions;
    struct assumption *slot =
        arena_push(r->arena, &items, &r->assumption_count, &r->assumption_room, sizeof *slot);

    r->assumptions = items;
    if (slot && value)
        *slot = (struct assumption){ section, key, value, why };
    else
        r->status = STATUS_NO_MEMORY;
}

void reading_mark(const struct reading *r, struct range *range)
{
    range->origin = r->entry ? ORIGIN_GIVEN : ORIGIN_DEFAULT;
    range->line = r->entry ? r->entry->place.line : 0;
    range->text = r->entry ? arena_copy(r->arena, r->entry->value.at, r->entry->value.length) : NULL;
}

/* --- spans of a day --- */

int read_span(struct reading *r, struct cursor *c, struct time_span *out)
{
    struct span typed = cursor_rest(c);

    if (!cursor_time_span(c, out))
        return 0;
    if (out->from.anchor != out->to.anchor || out->from.seconds != out->to.seconds)
        return 1;
    typed.length = (size_t)(c->at - typed.at);
    reading_assume(r, r->section->title, r->entry->key, "24 h",
                   arena_print(r->arena, "%.*s ends when it begins", (int)typed.length, typed.at));
    return 1;
}

/* --- ranges --- */

static int whole(double x)
{
    return x == floor(x);
}

int read_bounded(struct reading *r, struct cursor *c, enum quantity quantity, const char *bounds,
                 struct range *out)
{
    struct cursor b = cursor_make(r->arena, span_of(bounds ? bounds : ""));
    const char *start = (cursor_ended(c), c->at);
    struct range allowed, got = { 0 };
    struct span typed;

    if (!cursor_range(c, quantity, &got))
        return 0;
    typed = span_trim((struct span){ start, (size_t)(c->at - start) });
    if (bounds && cursor_range(&b, quantity, &allowed) && (got.low < allowed.low || got.high > allowed.high))
        return cursor_fail(c, typed,
                           arena_print(r->arena, "\"%.*s\" is out of bounds", (int)typed.length, typed.at),
                           arena_print(r->arena, "%s is allowed", bounds));
    if (r->key->flags & KEY_WHOLE && !(whole(got.low) && whole(got.high)))
        return cursor_fail(c, typed,
                           arena_print(r->arena, "\"%.*s\" is no whole number", (int)typed.length, typed.at),
                           NULL);
    reading_mark(r, &got);
    *out = got;
    return 1;
}

static int read_range(struct reading *r, struct cursor *c, void *object)
{
    struct range *out = (struct range *)((char *)object + r->key->at);

    return read_bounded(r, c, r->key->quantity, r->key->bounds, out) &&
           cursor_close(c, "one number and one unit, or a range such as 40..60 W");
}

/* --- lists --- */

static int is_none(struct span s)
{
    return span_is_word(s, "none") || span_is_word(s, "off") || span_is_word(s, "no");
}

int read_list(struct reading *r, struct cursor *c, size_t size, item_reader item, void **items, size_t *count)
{
    struct span rest = cursor_rest(c), piece;
    size_t room = 0;

    *count = 0;
    *items = arena_zero(r->arena, size);
    if (is_none(rest)) {
        c->at = c->end;
        return 1;
    }
    *items = NULL;
    while (span_split(&rest, ',', &piece)) {
        struct cursor own = cursor_make(r->arena, piece);
        void *slot = arena_push(r->arena, items, count, &room, size);

        if (!slot)
            return cursor_fail(c, c->whole, NULL, NULL);
        if (own.whole.length == 0)
            return cursor_fail(c, c->whole, "an item of the list is empty",
                               "put one comma between two items");
        if (!item(r, &own, slot) || !cursor_close(&own, r->key->form))
            return cursor_fail(c, own.fault.where, own.fault.message, own.fault.hint);
    }
    c->at = c->end;
    return 1;
}

/* --- months --- */

static int month_item(struct reading *r, struct cursor *c, void *item)
{
    return read_bounded(r, c, r->key->quantity, r->key->bounds, item);
}

/*
 * What stands behind the number in the last item: "2.1, 2.9 kWh/m2" means both. "" where that is no number.
 */
static const char *last_unit(struct reading *r, struct span list)
{
    struct span piece = list, next;
    struct cursor c;
    double number;

    while (span_split(&list, ',', &next))
        piece = next;
    c = cursor_make(r->arena, piece);
    if (!cursor_number(&c, &number, NULL))
        return "";
    return arena_copy(r->arena, c.at, (size_t)(c.end - c.at));
}

/* The list with the last unit behind every bare number. */
static const char *list_with_units(struct reading *r, struct span list)
{
    const char *unit = last_unit(r, list), *text = "", *joint = "";
    struct span piece;

    while (span_split(&list, ',', &piece) && text && unit) {
        struct cursor c = cursor_make(r->arena, piece);
        double number;
        int bare = cursor_number(&c, &number, NULL) && cursor_ended(&c);

        text =
            arena_print(r->arena, "%s%s%.*s%s", text, joint, (int)piece.length, piece.at, bare ? unit : "");
        joint = ",";
    }
    return text;
}

/* One value for the whole year or twelve; a unit behind the last counts for all. */
static int read_months(struct reading *r, struct cursor *c, void *object)
{
    struct range *months = (struct range *)((char *)object + r->key->at);
    struct span list = c->whole;
    const char *text = memchr(list.at, ',', list.length) ? list_with_units(r, list) : NULL;
    struct cursor all = cursor_make(r->arena, text ? span_of(text) : list);
    void *items;
    size_t count;

    if (!read_list(r, &all, sizeof *months, month_item, &items, &count))
        return cursor_fail(c, all.fault.where, all.fault.message, all.fault.hint);
    if (count != 1 && count != MONTHS)
        return cursor_fail(c, list, arena_print(r->arena, "has %zu values", count),
                           "give one for the whole year, or twelve from January to December");
    for (size_t i = 0; i < MONTHS; i++)
        months[i] = ((struct range *)items)[count == 1 ? 0 : i];
    c->at = c->end;
    return 1;
}

/* --- words --- */

/* Place of a word among "a|b|c", -1 where it is not. The nearest goes to *near. */
static int choice_place(struct reading *r, struct span word, const char *words, struct text_near *near)
{
    struct span rest = span_of(words), piece;

    for (int i = 0; span_split(&rest, '|', &piece); i++) {
        if (span_is_word(word, arena_copy(r->arena, piece.at, piece.length)))
            return i;
        text_near_offer(near, arena_copy(r->arena, piece.at, piece.length));
    }
    return -1;
}

const char *choice_list(struct reading *r, const char *words)
{
    char *list = arena_zero(r->arena, 2 * strlen(words) + 8), *p = list;
    const char *last = strrchr(words, '|');

    for (const char *w = words; list && *w; w++)
        if (*w == '|')
            p = stpcpy(p, w == last ? " or " : ", ");
        else
            *p++ = *w;
    return list;
}

/* out: place of the word in the list, from 0; the nearest known word is offered otherwise. */
static int read_choice(struct reading *r, struct cursor *c, const char *words, int *out)
{
    struct span word = cursor_rest(c);
    struct text_near near = { .word = word };
    int place = choice_place(r, word, words, &near);

    if (place < 0)
        return cursor_fail(
            c, word, arena_print(r->arena, "\"%.*s\" is not known here", (int)word.length, word.at),
            near.best ? arena_print(r->arena, "did you mean %s? Known: %s", near.best, choice_list(r, words))
                      : choice_list(r, words));
    c->at = c->end;
    *out = place;
    return 1;
}

/* A pointer to the object named, which must exist already: links are read in the late pass. */
static int read_link(struct reading *r, struct cursor *c, void *object)
{
    struct span word = cursor_rest(c);
    const char *name = arena_copy(r->arena, word.at, word.length), *kind = r->key->words, *near;
    void *target = name ? reading_find(r, kind, name) : NULL;

    c->at = c->end;
    if (target) {
        memcpy((char *)object + r->key->at, &target, sizeof target);
        return 1;
    }
    near = name ? reading_nearest(r, kind, name) : NULL;
    return cursor_fail(c, word,
                       arena_print(r->arena, "there is no [%s %.*s]", kind, (int)word.length, word.at),
                       near ? arena_print(r->arena, "did you mean %s?", near) : NULL);
}

/* What the default passes through too, so a row cannot have a default that its own reader refuses. */
int read_value(struct reading *r, struct cursor *c, void *object)
{
    void *at = (char *)object + r->key->at;
    const char *text;
    int place = 0;

    switch (r->key->type) {
    case KEY_RANGE:
        return read_range(r, c, object);
    case KEY_MONTHS:
        return read_months(r, c, object);
    case KEY_TEXT:
        text = arena_copy(r->arena, c->whole.at, c->whole.length);
        memcpy(at, &text, sizeof text);
        return 1;
    case KEY_CHOICE:
    case KEY_FLAG:
        if (!read_choice(r, c, r->key->type == KEY_FLAG ? "no|yes" : r->key->words, &place))
            return 0;
        memcpy(at, &place, sizeof place); /* enums and flags alike are ints */
        return 1;
    case KEY_LINK:
        return read_link(r, c, object);
    case KEY_SPECIAL:
        return r->key->reader(r, c, object);
    }
    return 0;
}

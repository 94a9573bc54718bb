/* apply.c - a document's values into a boat, row by row of the key table.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/apply.h"

#include <string.h>

#include "base/arena.h"

/*
 * Stages, each over the whole document, so that the order of sections never matters:
 *
 *   1  sections that always apply are added where they are missing
 *   2  one object for each section, in arrays of their final size: pointers into them stay good
 *   3  values that stand alone
 *   4  values that name other sections, now that all of these exist
 *   5  plain defaults, read through the same readers as typed values, and required keys that are missing
 *
 * A value that cannot be read becomes a diagnostic and leaves its field as it was; reading goes on.
 */

/* What every named object begins with. */
struct named {
    const char *name;
    int line;
};

/* --- sections --- */

/* An unknown kind of section, with the likeliest one. */
static void fail_kind(struct reading *r, const struct section *s)
{
    struct text_near near = { .word = span_of(s->kind) };
    size_t count;
    const struct kind *kinds = kind_table(&count);

    for (size_t i = 0; i < count; i++)
        text_near_offer(&near, kinds[i].name);
    section_remark(
        r->diags, s, arena_print(r->arena, "there is no kind of section called \"%s\"", s->kind),
        near.best ? arena_print(r->arena, "did you mean [%s%s%s]?", near.best, *s->name ? " " : "", s->name)
                  : "\"bridgedeck keys\" lists them");
}

/* The kind of a section that may be read; NULL and a remark for any other. */
static const struct kind *section_kind(struct reading *r, const struct section *s)
{
    const struct kind *kind = kind_find(s->kind);

    if (!kind) {
        fail_kind(r, s);
        return NULL;
    }
    if (kind->named && !*s->name) {
        section_remark(r->diags, s, "needs a name", arena_print(r->arena, "write [%s NAME]", kind->name));
        return NULL;
    }
    if (!kind->named && *s->name) {
        section_remark(r->diags, s, "takes no name", arena_print(r->arena, "write [%s]", kind->name));
        return NULL;
    }
    return kind;
}

/* Adds an empty section unless one of that title is there; line 0 tells it from a typed one. */
static void section_ensure(struct reading *r, struct document *d, const char *title, const char *kind,
                           const char *name)
{
    const struct section added = { .title = title, .kind = kind, .name = name, .place = { .file = d->file } };

    if (!document_find(d, title) && !document_add(d, r->arena, &added))
        r->status = STATUS_NO_MEMORY;
}

/* What a boat has even if the profile does not say so. */
static void sections_ensure(struct reading *r, struct document *d)
{
    size_t count;
    const struct kind *kinds = kind_table(&count);
    int days = 0;

    for (size_t i = 0; i < count; i++)
        if (kinds[i].always)
            section_ensure(r, d, kinds[i].name, kinds[i].name, "");
    for (size_t i = 0; i < d->count; i++)
        days += !d->sections[i].removed && text_same(d->sections[i].kind, "day") && *d->sections[i].name;
    if (days)
        return;
    section_ensure(r, d, "day anchor", "day", "anchor");
    reading_assume(r, "day anchor", "(the section)", "[day anchor]",
                   "the profile has no kind of day; one is taken");
}

/* How many objects of a kind there are, a field of struct boat found by its offset in the kind's row. */
static size_t *kind_count(struct reading *r, const struct kind *kind)
{
    return (size_t *)((char *)r->boat + kind->count_at);
}

/* Room for all objects of a kind: arrays may not move once something points into them. */
static void *kind_array(struct reading *r, const struct kind *kind)
{
    char *slot = (char *)r->boat + kind->at;
    size_t count = 0;
    void *array;

    memcpy(&array, slot, sizeof array);
    if (array)
        return array;
    for (size_t i = 0; i < r->document->count; i++)
        count += (size_t)text_same(r->document->sections[i].kind, kind->name);
    if (!(array = arena_array(r->arena, count, kind->size)))
        r->status = STATUS_NO_MEMORY;
    memcpy(slot, &array, sizeof array);
    return array;
}

/* The next object of a kind, in the order of the profile; for the unnamed kinds, the boat's one. */
static void *object_make(struct reading *r, const struct kind *kind, const struct section *s)
{
    struct named *object;
    char *array;

    if (!kind->named)
        return (char *)r->boat + kind->at;
    if (!(array = kind_array(r, kind)))
        return NULL;
    object = (struct named *)(array + kind->size * (*kind_count(r, kind))++);
    object->name = s->name;
    object->line = s->place.line;
    return object;
}

/* Twice what one file may give: with change files each has had its share. */
static int reading_goes_on(const struct reading *r)
{
    return r->status == STATUS_OK && r->diags->errors < 2 * ERROR_LIMIT;
}

static void objects_make(struct reading *r)
{
    for (size_t i = 0; i < r->document->count && r->status == STATUS_OK; i++) {
        const struct section *s = &r->document->sections[i];
        const struct kind *kind = s->removed ? NULL : section_kind(r, s);

        if (kind)
            r->objects[i] = object_make(r, kind, s);
    }
}

/* --- entries --- */

/* The other kind of section that knows a key, for a hint. */
static const char *kind_with_key(const char *typed)
{
    const char *suffix;
    size_t count;
    const struct kind *kinds = kind_table(&count);

    for (size_t i = 0; i < count; i++)
        if (key_find(&kinds[i], typed, &suffix))
            return kinds[i].name;
    return NULL;
}

/* A key that this kind of section has not: misspelt, in the wrong section, or with a suffix it does not
 * take. Each gets the hint that mends it. */
static void fail_key(struct reading *r, const struct kind *kind, const struct section *s,
                     const struct entry *e)
{
    const char *point = strchr(e->key, '.'), *elsewhere, *hint;
    struct text_near near = { .word = { e->key, point ? (size_t)(point - e->key) : strlen(e->key) } };
    size_t count;
    const struct key *keys = key_table(&count);

    for (size_t i = 0; i < count && r->diags->errors < 500; i++)
        if (text_same(keys[i].section, kind->name))
            text_near_offer(&near, keys[i].name);
    elsewhere = kind_with_key(e->key);
    if (text_same(e->key, "remove"))
        hint = "remove belongs in a change file";
    else if (near.best && near.distance == 0 && !point && !text_same(near.best, e->key))
        hint = arena_print(r->arena, "keys are written small: %s", near.best);
    else if (near.best && near.distance == 0)
        hint = point ? arena_print(r->arena, "%s takes no \".%s\"", near.best, point + 1)
                     : arena_print(r->arena, "write %s.NAME, or engines for all of them", near.best);
    else if (near.best)
        hint = arena_print(r->arena, "did you mean %s%s?", near.best, point ? point : "");
    else if (elsewhere)
        hint = arena_print(r->arena, "it belongs in [%s]", elsewhere);
    else
        hint = arena_print(r->arena, "\"bridgedeck keys %s\" lists those it has", kind->name);
    key_remark(r->diags, s, e, arena_print(r->arena, "[%s] has no such key", kind->name), hint);
}

/* Says it where an entry before this one excludes it: same group, same suffix, another key. hours.marina and
 * times.marina exclude each other; hours and times.marina do not. */
static int excluded(struct reading *r, const struct kind *kind, const struct entry *e)
{
    const struct section *s = r->section;

    for (const struct entry *other = s->entries; r->key->group && other < e; other++) {
        const char *suffix;
        const struct key *k = other->removed ? NULL : key_find(kind, other->key, &suffix);

        if (!k || k == r->key || !k->group || !text_same(k->group, r->key->group) || !suffix != !r->suffix ||
            (suffix && !text_same(suffix, r->suffix)))
            continue;
        key_remark(r->diags, s, e,
                   arena_print(r->arena, "cannot stand beside %s (line %d)", other->key, other->place.line),
                   "leave one of them out");
        return 1;
    }
    return 0;
}

/* One value through its row of the key table. late: 0 for values that stand alone, 1 for those that name
 * other sections; an entry of the other pass is left to it. */
static void entry_apply(struct reading *r, const struct kind *kind, const struct section *s,
                        const struct entry *e, int late)
{
    const struct key *key = key_find(kind, e->key, &r->suffix);
    struct cursor c;

    if (!key) {
        if (!late)
            fail_key(r, kind, s, e);
        return;
    }
    if (late != ((key->flags & KEY_LATE) != 0))
        return;
    r->section = s;
    r->entry = e;
    r->key = key;
    if (excluded(r, kind, e))
        return;
    c = cursor_make(r->arena, e->value);
    if (read_value(r, &c, reading_object(r, s)))
        return;
    if (c.fault.message)
        entry_remark(r->diags, s, e, c.fault.where, c.fault.message, c.fault.hint);
    else
        r->status = STATUS_NO_MEMORY;
}

/* All entries of all sections that could be made; those of a section nobody knows are not looked at. */
static void entries_apply(struct reading *r, int late)
{
    for (size_t i = 0; i < r->document->count; i++) {
        const struct section *s = &r->document->sections[i];

        for (size_t j = 0; r->objects[i] && j < s->count && reading_goes_on(r); j++)
            if (!s->entries[j].removed)
                entry_apply(r, kind_find(s->kind), s, &s->entries[j], late);
    }
}

/* --- what was left out --- */

/* A required key that is not there, with what to write. */
static void fail_missing(struct reading *r, const struct section *s, const struct key *key)
{
    const struct text_near none = { .word = span_of(s->title) };
    struct text_near near = none;
    const char *form = key->form ? key->form : "a value";

    if (key->type == KEY_RANGE && key->bounds)
        form = arena_print(r->arena, "something within %s", key->bounds);
    else if (key->type == KEY_CHOICE)
        form = choice_list(r, key->words);
    /* A change file that misspells a name makes a new section without meaning to. */
    for (size_t i = 0; s->place.file != r->document->file && i < r->document->count; i++)
        if (r->objects[i] && &r->document->sections[i] != s)
            text_near_offer(&near, r->document->sections[i].title);
    section_remark(r->diags, s, arena_print(r->arena, "needs %s", key->name),
                   near.best ? arena_print(r->arena, "did you mean [%s]?", near.best)
                             : arena_print(r->arena, "write %s = %s", key->name, form));
}

/* Reads a default as if it had been typed. */
static void default_apply(struct reading *r, const struct section *s, const struct key *key)
{
    struct cursor c = cursor_make(r->arena, span_of(key->fallback));

    r->section = s;
    r->entry = NULL;
    r->key = key;
    r->suffix = NULL;
    if (!read_value(r, &c, reading_object(r, s)))
        r->status = STATUS_NO_MEMORY; /* a test reads every default, so nothing else can fail */
}

/* A default that cannot matter is not worth a line among the assumptions. */
static int default_matters(const struct key *key, const void *object)
{
    if (text_same(key->section, "load") && text_same(key->name, "power_factor"))
        return ((const struct load *)object)->supply != SUPPLY_DC;
    if (strcmp(key->section, "bank") == 0 && strcmp(key->name, "wiring") == 0)
        return ((const struct bank *)object)->parallel.value > 1;
    return 1;
}

/*
 * Plain defaults, and the required keys that are missing. Computed defaults come later, from defaults_fill.
 */
static void missing_apply(struct reading *r)
{
    size_t count;
    const struct key *keys = key_table(&count);

    for (size_t i = 0; i < r->document->count; i++) {
        const struct section *s = &r->document->sections[i];

        for (const struct key *k = keys; r->objects[i] && k < keys + count && reading_goes_on(r); k++) {
            if (!text_same(k->section, s->kind) || section_find(s, k->name))
                continue;
            if (k->flags & KEY_REQUIRED)
                fail_missing(r, s, k);
            if (!k->fallback || (k->flags & KEY_COMPUTED))
                continue;
            default_apply(r, s, k);
            if (default_matters(k, r->objects[i]))
                reading_assume(r, s->title, k->name, k->fallback, k->source);
        }
    }
}

void document_apply(struct reading *r, struct document *document)
{
    r->document = document;
    sections_ensure(r, document);
    r->objects = arena_array(r->arena, document->count, sizeof *r->objects);
    if (!r->objects)
        r->status = STATUS_NO_MEMORY;
    if (r->status != STATUS_OK)
        return;
    objects_make(r);
    entries_apply(r, 0);
    entries_apply(r, 1);
    missing_apply(r);
}

/* profile.c - INI text to boat: the stages in their order.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/profile.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/fileio.h"
#include "profile/apply.h"
#include "profile/change.h"
#include "profile/defaults.h"
#include "profile/keys.h"
#include "profile/link.h"

/*
 * file --document_read--> entries --change_lay--> entries --document_apply, defaults_fill--> boat
 * --boat_check--> boat
 *
 * Everything lies in the arena of the profile. Once the boat stands the document is kept for the places of
 * remarks that come later, its texts for the boat.
 */

/* A section by its title. */
struct titled {
    const char *title;
    size_t place;
};

static int by_title(const void *a, const void *b)
{
    return strcmp(((const struct titled *)a)->title, ((const struct titled *)b)->title);
}

/* The sections that stand, by title. */
static struct titled *sections_by_title(struct reading *r, size_t *count)
{
    const struct document *d = r->document;
    struct titled *titles = arena_array(r->arena, d->count, sizeof *titles);

    *count = 0;
    for (size_t i = 0; titles && i < d->count; i++)
        if (!d->sections[i].removed)
            titles[(*count)++] = (struct titled){ d->sections[i].title, i };
    if (titles)
        qsort(titles, *count, sizeof *titles, by_title);
    return titles;
}

/*
 * Assumptions in the order of the profile's sections, for whoever reads them; within a section as they were
 * made. Each is counted into its section, then put behind those of the sections before.
 */
static void assumptions_sort(struct reading *r)
{
    size_t count, n = 0, *behind = arena_array(r->arena, r->document->count + 1, sizeof *behind);
    size_t *place = arena_array(r->arena, r->assumption_count, sizeof *place);
    struct assumption *sorted = arena_array(r->arena, r->assumption_count, sizeof *sorted);
    struct titled *titles = sections_by_title(r, &count);

    if (!behind || !place || !sorted || !titles) {
        r->status = STATUS_NO_MEMORY;
        return;
    }
    for (size_t j = 0; j < r->assumption_count; j++) {
        const struct titled wanted = { r->assumptions[j].section, 0 };
        const struct titled *found = bsearch(&wanted, titles, count, sizeof *titles, by_title);

        place[j] = found ? found->place : r->document->count;
        behind[place[j]]++;
    }
    for (size_t i = 0; i < r->document->count; i++) {
        size_t here = behind[i];

        behind[i] = n;
        n += here;
    }
    for (size_t j = 0; j < r->assumption_count; j++)
        if (place[j] < r->document->count)
            sorted[behind[place[j]]++] = r->assumptions[j];
    r->boat->assumptions = sorted;
    r->boat->assumption_count = n;
}

/* A remark and where it stood in the list. */
struct placed {
    struct diag diag;
    size_t file, order;
};

/* Files in the order in which they were read, then lines, then the order of finding. */
static int by_place(const void *a, const void *b)
{
    const struct placed *x = a, *y = b;

    if (x->file != y->file)
        return x->file < y->file ? -1 : 1;
    if (x->diag.line != y->diag.line)
        return x->diag.line < y->diag.line ? -1 : 1;
    return x->order < y->order ? -1 : 1;
}

/* Remarks come stage by stage; whoever mends the file reads it from top to bottom. Files in order of first
 * mention. */
static void remarks_sort(struct arena *arena, struct diag_list *diags, size_t begin)
{
    size_t count = diags->count - begin, files = 0;
    struct placed *placed = count ? arena_array(arena, count, sizeof *placed) : NULL;

    for (size_t i = 0; placed && i < count; i++) {
        const struct diag *d = &diags->items[begin + i];
        size_t twin = 0;

        while (twin < i && !text_same(placed[twin].diag.file, d->file))
            twin++;
        placed[i] = (struct placed){ *d, twin < i ? placed[twin].file : files++, i };
    }
    if (!placed)
        return;
    qsort(placed, count, sizeof *placed, by_place);
    for (size_t i = 0; i < count; i++)
        diags->items[begin + i] = placed[i].diag;
}

void profile_place_remarks(const struct boat *boat, struct diag_list *diags, size_t first)
{
    for (size_t i = first; boat->source && i < diags->count; i++) {
        struct diag *d = &diags->items[i];
        const struct section *s = d->section && !d->file ? document_find(boat->source, d->section) : NULL;
        const struct entry *e = s && d->key ? section_find(s, d->key) : NULL;
        const struct place *place = e ? &e->place : s ? &s->place : NULL;

        if (!place || place->line == 0)
            continue;
        d->file = arena_copy(diags->arena, place->file, strlen(place->file));
        d->line = place->line;
    }
}

/* Sections to things, then defaults, then links between them: each step needs the one before. A profile with
 * a single error makes no boat, but all steps that can still run add what they find. */
static enum status document_to_boat(const struct boat **out, struct arena *arena, struct document *document,
                                    struct diag_list *diags)
{
    struct boat *boat = arena_zero(arena, sizeof *boat);
    struct document *kept = arena_zero(arena, sizeof *kept);
    struct reading r = {
        .arena = arena, .diags = diags, .boat = boat, .status = boat && kept ? STATUS_OK : STATUS_NO_MEMORY
    };

    if (r.status == STATUS_OK)
        document_apply(&r, document);
    if (r.status == STATUS_OK)
        defaults_fill(&r);
    if (r.status == STATUS_OK)
        boat_check(&r);
    if (r.status == STATUS_OK && diags->errors == 0)
        assumptions_sort(&r);
    if (r.status == STATUS_OK && diags->incomplete)
        r.status = STATUS_NO_MEMORY;
    if (r.status == STATUS_OK && diags->errors > 0)
        r.status = STATUS_REFUSED;
    if (r.status == STATUS_OK) {
        *kept = *document;
        boat->source = kept;
        *out = boat;
    }
    return r.status;
}

static enum status document_of_text(struct document *document, struct arena *arena, const char *name,
                                    struct span text, struct diag_list *diags)
{
    enum status status = document_read(document, arena, name, text, diags);

    if (status == STATUS_OK && document->count == 0 && diags->errors == 0)
        diag_add(diags, &(struct diag){ .severity = DIAG_ERROR,
                                        .file = name,
                                        .message = "has no section",
                                        .hint = "begin with a head such as [boat]" });
    return status;
}

static enum status document_of_file(struct document *document, struct arena *arena, const char *path,
                                    struct diag_list *diags)
{
    struct span text;
    enum status status = file_read(&text, arena, path, FILE_SIZE_LIMIT, diags);

    return status == STATUS_OK ? document_of_text(document, arena, path, text, diags) : status;
}

enum status profile_read(const struct boat **out, struct arena *arena, const char *path,
                         const char *const *changes, size_t change_count, struct diag_list *diags)
{
    const size_t begin = diags->count;
    struct document document;
    enum status status = document_of_file(&document, arena, path, diags);

    for (size_t i = 0; i < change_count && status == STATUS_OK; i++) {
        struct document change;

        status = document_of_file(&change, arena, changes[i], diags);
        if (status == STATUS_OK)
            status = change_lay(&document, arena, &change, diags);
    }
    if (status == STATUS_OK)
        status = document_to_boat(out, arena, &document, diags);
    remarks_sort(arena, diags, begin);
    return status;
}

enum status profile_read_text(const struct boat **out, struct arena *arena, const char *name,
                              const char *text, size_t length, struct diag_list *diags)
{
    const size_t begin = diags->count;
    struct document document;
    enum status status = document_of_text(&document, arena, name, (struct span){ text, length }, diags);

    if (status == STATUS_OK)
        status = document_to_boat(out, arena, &document, diags);
    remarks_sort(arena, diags, begin);
    return status;
}

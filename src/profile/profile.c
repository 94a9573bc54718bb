/* profile.c - INI text to boat: the stages in their order.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "profile/profile.h"

#include <string.h>

#include "base/arena.h"
#include "base/fileio.h"
#include "profile/apply.h"
#include "profile/change.h"
#include "profile/defaults.h"
#include "profile/keys.h"
#include "profile/link.h"

/* Assumptions in the order of the profile's sections, for whoever reads them. */
static void assumptions_sort(struct reading *r)
{
    struct assumption *sorted = arena_array(r->arena, r->assumption_count, sizeof *sorted);
    size_t n = 0;

    if (!sorted) {
        r->status = STATUS_NO_MEMORY;
        return;
    }
    for (size_t i = 0; i < r->document->count; i++)
        for (size_t j = 0; j < r->assumption_count; j++)
            if (strcmp(r->assumptions[j].section, r->document->sections[i].title) == 0 &&
                !r->document->sections[i].removed)
                sorted[n++] = r->assumptions[j];
    r->boat->assumptions = sorted;
    r->boat->assumption_count = n;
}

static enum status document_to_boat(const struct boat **out, struct arena *arena, struct document *document,
                                    struct diag_list *diags)
{
    struct boat *boat = arena_zero(arena, sizeof *boat);
    struct reading r = {
        .arena = arena, .diags = diags, .boat = boat, .status = boat ? STATUS_OK : STATUS_NO_MEMORY
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
    if (r.status == STATUS_OK)
        *out = boat;
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
    struct document document;
    enum status status = document_of_file(&document, arena, path, diags);

    for (size_t i = 0; i < change_count && status == STATUS_OK; i++) {
        struct document change;

        status = document_of_file(&change, arena, changes[i], diags);
        if (status == STATUS_OK)
            status = change_lay(&document, arena, &change, diags);
    }
    return status == STATUS_OK ? document_to_boat(out, arena, &document, diags) : status;
}

enum status profile_read_text(const struct boat **out, struct arena *arena, const char *name,
                              const char *text, size_t length, struct diag_list *diags)
{
    struct document document;
    enum status status = document_of_text(&document, arena, name, (struct span){ text, length }, diags);

    return status == STATUS_OK ? document_to_boat(out, arena, &document, diags) : status;
}

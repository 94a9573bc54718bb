/* fuzz_profile.c - any bytes at all as a profile: no crash, no leak, and a refusal always says why.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/diag_text.h"
#include "profile/profile.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

static void show_all(struct arena *arena, const struct diag_list *diags)
{
    for (size_t i = 0; i < diags->count; i++)
        if (!diags->items[i].message || !diag_text(arena, &diags->items[i]))
            abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct arena *arena = arena_new();
    struct diag_list *diags = diag_list_new();
    const struct boat *boat = NULL;
    enum status status;

    if (!arena || !diags)
        abort();
    status = profile_read_text(&boat, arena, "fuzz.ini", (const char *)bytes, size, diags);
    show_all(arena, diags);
    if (status == STATUS_OK ? !boat || diags->errors : boat || !diags->errors)
        abort();
    for (size_t i = 0; status == STATUS_OK && i < boat->load_count; i++)
        if (boat->loads[i].supply == SUPPLY_DC && !boat->loads[i].bank)
            abort();
    diag_list_free(diags);
    arena_free(arena);
    return 0;
}

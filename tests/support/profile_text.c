/* profile_text.c - boats from a few lines of profile, for tests.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/profile_text.h"

#include <stdio.h>
#include <string.h>

#include "profile/profile.h"
#include "support/test.h"

void print_remarks(const struct diag_list *diags)
{
    for (size_t i = 0; i < diags->count; i++)
        fprintf(stderr, "  line %d: [%s] %s: %s (%s)\n", diags->items[i].line,
                diags->items[i].section ? diags->items[i].section : "",
                diags->items[i].key ? diags->items[i].key : "", diags->items[i].message,
                diags->items[i].hint ? diags->items[i].hint : "");
}

const struct boat *boat_of(struct arena *arena, const char *text)
{
    struct diag_list *diags = diag_list_new();
    const struct boat *boat = NULL;
    enum status status = profile_read_text(&boat, arena, "test.ini", text, strlen(text), diags);

    if (status != STATUS_OK)
        print_remarks(diags);
    diag_list_free(diags);
    assert_int_equal(status, STATUS_OK);
    return boat;
}

int has_error(const struct diag_list *diags, int line, const char *message)
{
    for (size_t i = 0; i < diags->count; i++)
        if (diags->items[i].severity == DIAG_ERROR && (line == 0 || diags->items[i].line == line) &&
            strstr(diags->items[i].message, message))
            return 1;
    return 0;
}

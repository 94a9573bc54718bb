/* circuits.c - circuits of boats from a few lines of profile, for tests.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/circuits.h"

#include "base/diag.h"
#include "support/profile_text.h"
#include "support/test.h"

const struct circuit *circuit_with(struct arena *arena, const struct wiring_rules *rules, const char *text,
                                   const struct circuit_options *options)
{
    struct diag_list *diags = diag_list_new();
    const struct circuit *circuit = NULL;
    enum status status = circuit_run(&circuit, arena, boat_of(arena, text), rules, options, diags);

    if (status != STATUS_OK)
        print_remarks(diags);
    diag_list_free(diags);
    assert_int_equal(status, STATUS_OK);
    return circuit;
}

const struct circuit *circuit_of(struct arena *arena, const struct wiring_rules *rules, const char *text)
{
    return circuit_with(arena, rules, text, NULL);
}

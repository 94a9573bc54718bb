/* compare.c - runs every stage on every side and lays the results side by side.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "engine/compare_parts.h"
#include "engine/engine.h"

/*
 * Every side is a boat of its own: nothing is carried over from one to the next, so a change that mends one
 * thing and breaks another shows both. What is compared are results, never inputs.
 */

/* Every step: a dip of one minute shows in the picture. */
static const double row_s = 0;

/* All stages on one side. before: the wiring of the first side, so that a
 * cable that failed already is no news. */
static enum status side_run(struct compare_made *made, struct arena *arena, const struct compare_input *input,
                            const struct circuit *before, struct diag_list *diags)
{
    struct week_options options = { 0, row_s };
    enum status status;

    made->boat = input->boat;
    made->side.name = input->name;
    made->side.circuit = input->circuit;
    if ((status = balance_run(&made->side.balance, arena, input->boat, diags)) != STATUS_OK ||
        (status = week_run(&made->side.week, arena, input->boat, &options, diags)) != STATUS_OK ||
        (status = size_run(&made->side.size, arena, input->boat, diags)) != STATUS_OK)
        return status;
    compare_fitted_find(made);
    compare_wired_find(made);
    return compare_checks(made, before, arena) ? STATUS_OK : STATUS_NO_MEMORY;
}

/* The part of each side that is a result. */
static enum status sides_keep(struct compare *out, const struct compare_made *made, size_t count,
                              struct arena *arena)
{
    struct compare_side *sides = arena_array(arena, count, sizeof *sides);

    for (size_t i = 0; sides && i < count; i++)
        sides[i] = made[i].side;
    out->sides = sides;
    out->side_count = count;
    out->boat = made[0].side.week->boat;
    out->place = made[0].side.week->place;
    return sides ? STATUS_OK : STATUS_NO_MEMORY;
}

enum status compare_run(const struct compare **out, struct arena *arena, const struct compare_input *inputs,
                        size_t count, struct diag_list *diags)
{
    struct compare *compare = arena_zero(arena, sizeof *compare);
    struct compare_made *made = arena_array(arena, count, sizeof *made);
    enum status status = compare && made ? STATUS_OK : STATUS_NO_MEMORY;

    for (size_t i = 0; i < count && status == STATUS_OK; i++)
        status = side_run(made + i, arena, inputs + i, inputs[0].circuit, diags);
    if (status != STATUS_OK)
        return status;
    if (!compare_cables(made, count, arena) || !compare_verdicts(made, count, arena) ||
        !compare_figures(compare, made, count, arena))
        return STATUS_NO_MEMORY;
    if ((status = sides_keep(compare, made, count, arena)) == STATUS_OK)
        *out = compare;
    return status;
}

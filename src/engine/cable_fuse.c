/* cable_fuse.c - which device a run of cable takes, and what is remarked of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/cable_fuse.h"

#include "base/arena.h"
#include "parts/fuse.h"

/*
 * How a device is found, "Fuses" in models.md:
 *
 *     design_a / 0.8, rounded up        a quarter to spare [NEC]
 *     fuse_min_a                        where that is over what the cable allows: just enough
 *     larger ratings, to fuse_max_a     where no family that has the rating breaks the fault
 *     none                              FUSE_NONE_FITS
 *
 * Only after that is the far end looked at, for what a short there must reach depends on the rating. Held by
 * tests/engine/test_circuit.c and tests/cli/test_cable.c.
 */

void cable_fuse_note(struct arena *arena, struct circuit_cable *row, enum fuse_remark remark,
                     const char *note)
{
    row->fuse_remarks |= remark;
    if (row->fuse_note && note)
        row->fuse_note = *row->fuse_note ? arena_print(arena, "%s; %s", row->fuse_note, note) : note;
    else
        row->fuse_note = NULL;
}

void cable_fuse_fail(struct arena *arena, struct circuit_cable *row, enum fuse_remark remark,
                     const char *note)
{
    row->fuse_ok = 0;
    cable_fuse_note(arena, row, remark, note);
}

/* A family with that rating for those volts that breaks a short there; a slow one where that can be had. */
static const struct fuse_family *family_for(const struct circuit_cable *row, double rating, int slow)
{
    const struct fuse_family *family = fuse_family_choose(rating, row->nominal_v, row->fault_a, slow);

    return family || !slow ? family : fuse_family_choose(rating, row->nominal_v, row->fault_a, 0);
}

/* AC: a breaker of that rating. What it breaks is not in the tables of fuses, so a
 * known fault is put to the reader. */
static void choose_breaker(struct arena *arena, struct circuit_cable *row, double rating)
{
    row->fuse_a = rating;
    row->fuse_class = "breaker";
    if (row->fault_a > 0)
        cable_fuse_note(arena, row, FUSE_BREAKING_UNKNOWN,
                        arena_print(arena, "its label must say that it breaks %.0f A", row->fault_a));
}

/* DC: the first family, going up from the rating, that is made so large and breaks fault_a at nominal_v. The
 * factor 1 + 1e-6 steps off a standard rating, which rounded up would be itself again. */
static void choose_family(struct arena *arena, struct circuit_cable *row, double rating, int slow)
{
    const struct fuse_family *family = NULL;

    for (double a = rating; a > 0 && a <= row->fuse_max_a && !family;
         a = fuse_rating_up(a * (1 + 1e-6), row->nominal_v)) {
        row->fuse_a = a;
        family = family_for(row, a, slow);
    }
    if (family) {
        row->fuse_class = family->name;
        row->fuse_interrupt_a = fuse_breaking_a(family, row->nominal_v);
        return;
    }
    row->fuse_a = rating;
    cable_fuse_fail(
        arena, row, FUSE_NONE_FITS,
        arena_print(arena, "no family of fuses breaks %.0f A at %.0f V", row->fault_a, row->nominal_v));
}

void cable_fuse_choose(struct arena *arena, struct circuit_cable *row, int slow)
{
    double rating = fuse_rating_up(row->design_a / fuse_continuous_share, row->nominal_v);

    if (rating <= 0 || rating > row->fuse_max_a)
        rating = row->fuse_min_a;
    if (row->fuse_max_a <= 0 || rating <= 0 || rating > row->fuse_max_a) {
        cable_fuse_fail(arena, row, FUSE_NONE_FITS,
                        "no standard rating carries the current and still protects the cable");
        return;
    }
    if (row->system[0] == 'a')
        choose_breaker(arena, row, rating);
    else
        choose_family(arena, row, rating, slow);
    if (row->fault_a > 0 && row->fault_far_a < fuse_sure_multiple * row->fuse_a &&
        !(row->fuse_remarks & FUSE_NONE_FITS))
        cable_fuse_fail(arena, row, FUSE_FAR_END, "a short at the far end gives too little to open it soon");
}

int cable_copper_fails(const struct circuit_cable *row)
{
    return !row->drop_ok || !row->ampacity_ok || !row->smallest_ok;
}

const char *cable_status(const struct circuit_cable *row, int collapses, const char *fuse_fails)
{
    if (row->ampacity_a <= 0)
        return "no table has it";
    if (collapses)
        return "volts collapse";
    if (!row->ampacity_ok)
        return "too thin for the current";
    if (!row->drop_ok)
        return "drop over the limit";
    if (!row->smallest_ok)
        return "under the smallest conductor";
    if (!row->fuse_ok)
        return fuse_fails;
    return row->installed_mm2 > 0 ? "ok" : "sized";
}

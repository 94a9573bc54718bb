/* sheets_handover.c - the sheet that is ticked off while the boat is switched on.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "output/columns.h"
#include "output/maker.h"
#include "output/sheets.h"
#include "output/words.h"

/*
 *     cards         people: a table for each phase, with room to write beside what should be read
 *     steps         machines: the same with numbers apart
 *     remarks       people: what a wrong reading means, each once with the steps it belongs to
 *     together      what may run together on each source
 *     live          what stays live with every switch off
 *
 * Made to be printed and ticked off by two people: one reads a row, the other the meter.
 */

enum { PEOPLE = SHOW_TEXT | SHOW_HTML, MACHINES = SHOW_CSV | SHOW_JSON };

static const struct column step_columns[] = {
    { WHOLE(handover_step, number, "step", "Step", NULL) },
    { TEXT(handover_step, phase, "phase", "Phase") },
    { TEXT(handover_step, action, "action", "Do") },
    { TEXT(handover_step, expect, "expect", "Expect") },
    { TEXT(handover_step, where, "where", "Amps at") },
    { REAL(handover_step, low_a, "low_a", "from", "A"), .decimals = 1, .none = NONE_BELOW_ZERO },
    { REAL(handover_step, high_a, "high_a", "to", "A"), .decimals = 1, .none = NONE_BELOW_ZERO },
    { REAL(handover_step, total_low_a, "total_low_a", "All, from", "A"), .decimals = 1,
      .none = NONE_BELOW_ZERO },
    { REAL(handover_step, total_high_a, "total_high_a", "All, to", "A"), .decimals = 1,
      .none = NONE_BELOW_ZERO },
    { REAL(handover_step, volts_v, "volts_v", "Volts there", "V"), .decimals = 2, .none = NONE_AT_ZERO },
    { TEXT(handover_step, wrong, "wrong", "A wrong reading means") },
    { REAL(handover_step, measured_a, "measured_a", "Measured before", "A"), .decimals = 1,
      .none = NONE_BELOW_ZERO },
    { TEXT(handover_step, verdict, "verdict", "Verdict") },
};
static const struct row_kind step_kind = ROW_KIND("Steps", step_columns, handover_step);

/* A step as it is printed: the numbers in words, room to write. */
struct card {
    double number;
    const char *action, *amps, *all, *volts, *expect, *value, *initials;
};

static const struct column card_columns[] = {
    { WHOLE(card, number, "step", "Step", NULL) }, { TEXT(card, action, "action", "Do") },
    { TEXT(card, expect, "expect", "Expect") },    { TEXT(card, amps, "amps", "Amps") },
    { TEXT(card, all, "all", "All on, A") },       { TEXT(card, volts, "volts", "Volts") },
    { TEXT(card, value, "measured", "Measured") }, { TEXT(card, initials, "initials", "Initials") },
};

/* What a wrong reading means, said once for all steps that it is true of. */
struct remark {
    const char *steps, *text;
};

static const struct column remark_columns[] = {
    { TEXT(remark, steps, "steps", "Steps") },
    { TEXT(remark, text, "wrong", "A wrong reading means") },
};
static const struct row_kind remark_kind = ROW_KIND("If the reading is wrong", remark_columns, remark);

static const struct column together_columns[] = {
    { TEXT(together, source, "source", "On") },
    { REAL(together, limit_a, "limit_a", "Gives", "A"), .decimals = 1 },
    { WHOLE(together, limit_va, "limit_va", "Gives", "VA") },
    { WHOLE(together, wanted_va, "wanted_va", "All want", "VA") },
    { FLAG(together, all, "all_fit", "All fit") },
    { TEXT(together, greedy, "greedy", "Switched on in order") },
    { WHOLE(together, greedy_va, "greedy_va", "of it", "VA") },
    { TEXT(together, best, "best", "Best that fits") },
    { WHOLE(together, best_va, "best_va", "of it", "VA") },
    { TEXT(together, left_out, "left_out", "Leave off"), .where = MACHINES },
};
static const struct row_kind together_kind = ROW_KIND("What may run together", together_columns, together);

static const struct column live_columns[] = {
    { TEXT(live_thing, name, "name", "What") },
    { TEXT(live_thing, why, "why", "Why") },
    { REAL(live_thing, low_a, "low_a", "from", "A"), .decimals = 1, .none = NONE_BELOW_ZERO },
    { REAL(live_thing, high_a, "high_a", "to", "A"), .decimals = 1, .none = NONE_BELOW_ZERO },
};
static const struct row_kind live_kind = ROW_KIND("Live with everything off", live_columns, live_thing);

static const struct column top_columns[] = {
    { TEXT(handover, boat, "boat", "Boat") },
    { TEXT(handover, place, "place", "Place") },
    { TEXT(handover, day, "day", "Kind of day") },
};
static const struct row_kind top_kind = ROW_KIND("Hand-over", top_columns, handover);

/* "2.1 to 3.4 A at house"; "" where nothing is to be read, and no band where a meter of 0.1 A shows none. */
static const char *band_text(struct arena *arena, double low, double high, const char *where)
{
    const char *at = *where ? " at " : "";

    if (high < 0)
        return "";
    return high < 0.05 ? arena_print(arena, "under 0.1 A%s%s", at, where)
                       : arena_print(arena, "%.1f to %.1f A%s%s", low, high, at, where);
}

static struct card card_of(struct sheet_maker *m, const struct handover_step *s)
{
    struct card card = { .number = s->number,
                         .action = s->action,
                         .expect = s->expect,
                         .value = s->blank_value,
                         .initials = s->blank_initials };

    card.amps = band_text(m->arena, s->low_a, s->high_a, s->where);
    card.all =
        s->total_high_a < 0 ? "" : arena_print(m->arena, "%.1f to %.1f", s->total_low_a, s->total_high_a);
    card.volts = s->volts_v > 0 ? arena_print(m->arena, "%.2f V", s->volts_v) : "";
    m->failed |= !card.amps || !card.all || !card.volts;
    return card;
}

/* The phases follow one another in the list; each becomes a table. */
static void add_phases(struct sheet_maker *m, const struct handover *h)
{
    struct card *cards = arena_array(m->arena, h->step_count, sizeof *cards);

    m->failed |= !cards;
    for (size_t i = 0, n; cards && i < h->step_count; i += n) {
        struct row_kind *kind = arena_zero(m->arena, sizeof *kind);

        for (n = 0; i + n < h->step_count && strcmp(h->steps[i + n].phase, h->steps[i].phase) == 0; n++)
            cards[i + n] = card_of(m, &h->steps[i + n]);
        m->failed |= !kind;
        if (!kind)
            return;
        *kind = (struct row_kind)ROW_KIND(NULL, card_columns, card);
        kind->title = h->steps[i].phase;
        add_table(
            m, (struct table){
                   .title = kind->title, .kind = kind, .rows = cards + i, .row_count = n, .where = PEOPLE });
    }
}

/* Many steps share a remark: each once, with their numbers. */
static void add_remarks(struct sheet_maker *m, const struct handover *h)
{
    struct remark *rows = arena_array(m->arena, h->step_count, sizeof *rows);
    size_t n = 0;

    m->failed |= !rows;
    for (size_t i = 0; rows && i < h->step_count; i++) {
        const struct handover_step *s = &h->steps[i];
        size_t r = 0;

        while (r < n && strcmp(rows[r].text, s->wrong) != 0)
            r++;
        rows[r].steps = r < n ? arena_print(m->arena, "%s, %.0f", rows[r].steps, s->number)
                              : number_text(m->arena, s->number, 0);
        rows[r].text = s->wrong;
        n += r == n;
        m->failed |= !rows[r].steps;
        if (m->failed)
            return;
    }
    add_table(m, (struct table){ .kind = &remark_kind, .rows = rows, .row_count = n, .where = PEOPLE });
}

static const char *band_note(struct arena *arena, const struct expectation *e)
{
    return arena_print(arena,
                       "Amps are bands: from the ranges of the profile, or %.0f %% either way where it gives "
                       "one number, with the house bank between %.1f V and %.1f V. Volts are for banks at "
                       "%.0f %% charge.",
                       e->tolerance_percent, e->low_v, e->high_v, e->charge_percent);
}

/* What was measured already and does not fit. */
static void add_outside(struct sheet_maker *m, const struct handover *h)
{
    for (size_t i = 0, n = 0; i < h->step_count && n < 4; i++) {
        const struct handover_step *s = &h->steps[i];

        if (strcmp(s->verdict, "low") != 0 && strcmp(s->verdict, "high") != 0)
            continue;
        add_note(m, arena_print(m->arena, "Step %.0f was measured before at %.1f A, %s: %s.", s->number,
                                s->measured_a, s->verdict, s->wrong));
        n++;
    }
}

const struct sheet *sheet_handover(struct arena *arena, const struct handover *h)
{
    struct sheet_maker m =
        sheet_begin(arena, "Switching on, and coming back",
                    listed(arena, h->boat, h->place, arena_print(arena, "day: %s", h->day), NULL));

    add_table(&m, (struct table){ .kind = &top_kind, .rows = h, .single = 1, .where = SHOW_JSON });
    add_phases(&m, h);
    add_table(&m, (struct table){ .name = "steps",
                                  .kind = &step_kind,
                                  .rows = h->steps,
                                  .row_count = h->step_count,
                                  .csv = 1,
                                  .where = MACHINES });
    add_remarks(&m, h);
    add_table(&m, (struct table){ .name = "together",
                                  .kind = &together_kind,
                                  .rows = h->together,
                                  .row_count = h->together_count });
    add_table(&m, (struct table){
                      .name = "live", .kind = &live_kind, .rows = h->live, .row_count = h->live_count });
    add_note(&m, band_note(arena, h->expected));
    add_outside(&m, h);
    add_note(&m, "The dock's end of the lead comes out first and goes in last: a lead with both ends out is "
                 "dead, one with the boat's end out and the dock's end in is not.");
    add_note(&m, "\"Best that fits\" is the set that makes most of the source, vital loads before normal "
                 "ones, those before loads that may be put off; found among all sets.");
    add_note(&m, "VA are what an appliance draws, not its useful watts; starting currents are not counted.");
    if (h->mains)
        add_caution(&m, CAUTION_MAINS);
    if (h->lead)
        add_caution(&m, CAUTION_HYDROGEN);
    if (h->lithium)
        add_caution(&m, CAUTION_LITHIUM);
    add_caution(&m, CAUTION_SHORT_CIRCUIT);
    add_caution(&m, CAUTION_ISOLATE);
    add_caution(&m, CAUTION_PLANNING);
    return sheet_made(&m);
}

/* test_handover.c - the switch-on sheet: order of the steps, totals that add up, what stays live.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/circuit.h"
#include "engine/expect.h"
#include "profile/profile.h"
#include "rules/ruleset.h"

struct handed {
    struct arena *arena;
    struct diag_list *diags;
    const struct boat *boat;
    const struct handover *h;
};

static struct handed hand(const char *path, size_t day)
{
    struct handed x = { .arena = arena_new(), .diags = diag_list_new() };
    const struct circuit *circuit;

    assert_int_equal(profile_read(&x.boat, x.arena, path, NULL, 0, x.diags), STATUS_OK);
    assert_int_equal(circuit_run(&circuit, x.arena, x.boat, ruleset_get(x.boat->rules.set), NULL, x.diags),
                     STATUS_OK);
    assert_int_equal(handover_run(&x.h, x.arena, x.boat, circuit, &x.boat->days[day], x.diags), STATUS_OK);
    return x;
}

static void hand_free(struct handed *x)
{
    diag_list_free(x->diags);
    arena_free(x->arena);
}

/* Number of the first step whose action holds the words; 0: none. */
static size_t step_with(const struct handover *h, const char *words)
{
    for (size_t i = 0; i < h->step_count; i++)
        if (strstr(h->steps[i].action, words))
            return i + 1;
    return 0;
}

TEST(steps_come_in_the_safe_order)
{
    static const char *const order[] = {
        "rest volts of bank house",
        "dock end of the lead first",
        "Isolator of bank house",
        "Isolator of bank start-port",
        "Bilge pump bilge-pump-port",
        "Switch on cabin-lights",
        "Switch on fridge",
        "Switch on vhf: receive",
        "vhf-transmit: low power",
        "Switch on navigation-lights",
        "Start the engine: starter-port",
        "windlass for some seconds",
        "Inverter inverter on",
        "boat's end first, then the dock's end",
        "Charger charger on",
    };
    struct handed x = hand("profiles/cruiser-12v-agm.ini", 0);
    size_t before = 0;

    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++) {
        const size_t step = step_with(x.h, order[i]);

        if (step <= before)
            fail_msg("\"%s\" is step %zu, after step %zu", order[i], step, before);
        before = step;
    }
    hand_free(&x);
}

TEST(every_step_can_be_checked_and_signed)
{
    struct handed x = hand("profiles/induction-24v-lfp.ini", 0);

    for (size_t i = 0; i < x.h->step_count; i++) {
        const struct handover_step *s = &x.h->steps[i];

        assert_true((*s->expect || s->high_a >= 0) && *s->wrong && *s->blank_value && *s->blank_initials);
        assert_true(s->low_a <= s->high_a && s->total_low_a <= s->total_high_a);
        assert_true((s->high_a >= 0) == (*s->where != 0));
        assert_true(s->number == (double)i + 1);
        /* no circuit of this boat works far outside her bus */
        assert_true(s->volts_v == 0 || (s->volts_v > 8 && s->volts_v < 30));
    }
    assert_true(x.h->step_count > 30);
    hand_free(&x);
}

/* A load that stays on raises the total by its band; one that is tried and let go leaves it as it was. */
TEST(the_running_total_adds_up)
{
    struct handed x = hand("profiles/cruiser-12v-agm.ini", 0);
    const struct handover_step *s = x.h->steps;
    const size_t lights = step_with(x.h, "Switch on cabin-lights") - 1,
                 pump = step_with(x.h, "Bilge pump bilge-pump-port") - 1;

    row_check("lights, low", s[lights].total_low_a - s[lights - 1].total_low_a, s[lights].low_a, 1e-9,
              "by hand");
    row_check("lights, high", s[lights].total_high_a - s[lights - 1].total_high_a, s[lights].high_a, 1e-9,
              "by hand");
    row_check("pump let go", s[pump].total_high_a,
              s[step_with(x.h, "Isolator of bank house") - 1].total_high_a, 1e-9, "by hand");
    hand_free(&x);
    row_done();
}

TEST(the_card_knows_all_sources)
{
    struct handed x = hand("profiles/induction-24v-lfp.ini", 0);
    static const double amps[] = { 6, 10, 16, 32 };
    const double inlet = x.boat->shore.current.value;

    assert_int_equal(x.h->together_count, 6); /* four pedestals, generator, inverter */
    for (size_t i = 0; i < 4; i++)
        row_check("pedestal", x.h->together[i].limit_a, fmin(amps[i], inlet), 1e-9, "by hand");
    for (size_t i = 0; i < x.h->together_count; i++) {
        const struct together *t = &x.h->together[i];

        assert_true(t->best_va <= t->limit_va + 1e-6 && t->greedy_va <= t->limit_va + 1e-6);
        assert_true(t->all == (t->wanted_va <= t->limit_va));
    }
    assert_null(strstr(x.h->together[5].best, "charger")); /* an inverter does not feed the charger */
    hand_free(&x);
    row_done();
}

TEST(what_stays_live_is_named)
{
    struct handed x = hand("profiles/cruiser-12v-agm.ini", 0);
    int bank = 0, sun = 0, pump = 0, fridge = 0;

    for (size_t i = 0; i < x.h->live_count; i++) {
        bank |= strcmp(x.h->live[i].name, "house") == 0;
        sun |= strcmp(x.h->live[i].name, "davits") == 0;
        pump |= strcmp(x.h->live[i].name, "bilge-pump-port") == 0;
        fridge |= strcmp(x.h->live[i].name, "fridge") == 0;
    }
    assert_true(bank && sun && pump && !fridge);
    hand_free(&x);
}

TEST(a_boat_without_a_house_bank_has_no_sheet)
{
    static const char text[] =
        "[bank start]\nrole = start\nchemistry = agm\nblock_capacity = 70 Ah\n[day anchor]\n";
    struct arena *arena = arena_new();
    struct diag_list *diags = diag_list_new();
    const struct boat *boat;
    const struct handover *h;

    assert_int_equal(profile_read_text(&boat, arena, "t.ini", text, sizeof text - 1, diags), STATUS_OK);
    assert_int_equal(handover_run(&h, arena, boat, NULL, &boat->days[0], diags), STATUS_INCOMPLETE);
    assert_int_equal(diags->errors, 1);
    diag_list_free(diags);
    arena_free(arena);
}

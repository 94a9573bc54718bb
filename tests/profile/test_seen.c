/* test_seen.c - what was looked at and measured: read as typed, unknown where nothing is said, refused where
 * it makes no sense.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "profile/keys.h"
#include "profile/profile.h"

#define BOAT                                                                                                 \
    "[boat]\nname = Invented\n[bank house]\nchemistry = agm\nblock_capacity = 200 Ah\n"                      \
    "[load pump]\npower = 50 W\n[shore]\n[cable pump-run]\nfrom = house\nto = pump\nlength = 5 m\n"

struct reading_of {
    struct arena *arena;
    struct diag_list *diags;
    const struct boat *boat;
    enum status status;
};

static struct reading_of read_text(const char *more)
{
    struct reading_of r = { .arena = arena_new(), .diags = diag_list_new() };
    char text[2000];
    int length = snprintf(text, sizeof text, "%s%s", BOAT, more);

    r.status = profile_read_text(&r.boat, r.arena, "test.ini", text, (size_t)length, r.diags);
    return r;
}

static void read_free(struct reading_of *r)
{
    diag_list_free(r->diags);
    arena_free(r->arena);
}

TEST(facts_are_kept_and_the_rest_is_unknown)
{
    struct reading_of r =
        read_text("[seen house]\nsecured = yes\nterminals_covered = no\nsound = unknown\n"
                  "vent_area = 74 cm2\n[seen shore]\ndouble_pole = yes\nbreaker_distance = 0.4 m\n");

    assert_int_equal(r.status, STATUS_OK);
    assert_int_equal(boat_fact(r.boat, "house", SEEN_SECURED), SEEN_YES);
    assert_int_equal(boat_fact(r.boat, "house", SEEN_TERMINALS_COVERED), SEEN_NO);
    assert_int_equal(boat_fact(r.boat, "house", SEEN_SOUND), SEEN_UNKNOWN);
    assert_int_equal(boat_fact(r.boat, "house", SEEN_DRY), SEEN_UNKNOWN);
    assert_int_equal(boat_fact(r.boat, "pump", SEEN_WORKS), SEEN_UNKNOWN);
    assert_int_equal(boat_fact(r.boat, "shore", SEEN_DOUBLE_POLE), SEEN_YES);
    row_check("vent area", boat_seen(r.boat, "house")->vent_area.value, 74e-4, 1e-12, "by hand");
    row_check("distance", boat_seen(r.boat, "shore")->breaker_distance.value, 0.4, 1e-12, "by hand");
    read_free(&r);
    row_done();
}

TEST(measurements_are_kept)
{
    struct reading_of r =
        read_text("[measured pump]\ncurrent = 4.1 A\nvolts = 11.6 V\nsource_volts = 12.6 V\n"
                  "[measured house]\nrest_volts = 12.71 V, 12.40 V\noff_current = 120 mA\n");
    const struct measured *m;

    assert_int_equal(r.status, STATUS_OK);
    m = boat_measured(r.boat, "house");
    assert_int_equal(m->rest_count, 2);
    row_check("second block", m->rest_volts[1].value, 12.40, 1e-12, "by hand");
    row_check("off", m->off_current.value, 0.12, 1e-12, "by hand");
    row_check("amps", boat_measured(r.boat, "pump")->current.value, 4.1, 1e-12, "by hand");
    assert_null(boat_measured(r.boat, "shore"));
    read_free(&r);
    row_done();
}

TEST(no_fuse_can_be_said)
{
    struct reading_of r = read_text("fuse = none\n");

    assert_int_equal(r.status, STATUS_OK);
    assert_true(r.boat->cables[0].unfused);
    assert_false(range_known(&r.boat->cables[0].fuse));
    read_free(&r);
    r = read_text("fuse = 10 A blade\n");
    assert_false(r.boat->cables[0].unfused);
    read_free(&r);
}

TEST(what_makes_no_sense_is_refused_with_a_hint)
{
    static const struct {
        const char *text, *message, *hint;
    } rows[] = {
        { "[seen hosue]\nsecured = yes\n", "nothing called \"hosue\"", "did you mean [seen house]?" },
        { "[measured pmup]\ncurrent = 4 A\n", "nothing called \"pmup\"", "did you mean [measured pump]?" },
        { "[seen pump]\nsecured = yes\n", "cannot be asked of this", "it is asked of: bank" },
        { "[seen pump]\nvent_area = 5 cm2\n", "cannot be asked of this", "it is asked of: bank" },
        { "[seen house]\nbreaker_distance = 1 m\n", "cannot be asked of this", "it is asked of: shore" },
        { "[seen house]\nsecured = maybe\n", "\"maybe\" is not known here", "unknown, no or yes" },
        { "[seen house]\nsecurd = yes\n", "[seen] has no such key", "did you mean secured?" },
        { "[measured pump]\nrest_volts = 12.7 V\n", "is measured at a bank", NULL },
        { "[measured pump]\noff_current = 1 A\n", "is measured at a bank", NULL },
        { "[measured house]\nrest_volts = 12.7 V, 12.6\n", "has no unit", NULL },
        { "fuse = none at all\n", "", NULL },
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct reading_of r = read_text(rows[i].text);
        const struct diag *diag = r.diags->items;

        if (r.status != STATUS_REFUSED || r.diags->errors != 1 || !strstr(diag->message, rows[i].message) ||
            (rows[i].hint && (!diag->hint || !strstr(diag->hint, rows[i].hint))) || diag->line == 0)
            fail_msg("%s: status %d, %zu errors, %s, %s", rows[i].text, r.status, r.diags->errors,
                     r.diags->count ? diag->message : "-", r.diags->count && diag->hint ? diag->hint : "-");
        read_free(&r);
    }
}

TEST(every_fact_has_its_key_and_a_question)
{
    for (size_t i = 0; i < SEEN_COUNT; i++) {
        const char *suffix;
        const struct key *key = key_find(kind_find("seen"), seen_name((enum seen_fact)i), &suffix);

        assert_non_null(key);
        assert_int_equal(key->at, offsetof(struct seen, facts) + i * sizeof(enum seen_word));
        assert_non_null(seen_meaning((enum seen_fact)i));
        assert_true(seen_of((enum seen_fact)i) != 0);
    }
}

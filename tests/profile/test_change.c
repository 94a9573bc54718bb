/* test_change.c - change files laid over a profile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "support/profiles.h"
#include "support/run.h"
#include "support/test.h"

static const char base[] =
    "[boat]\ndc_voltage = 12 V\n[bank house]\nchemistry = agm\nblock_capacity = 100 Ah\n"
    "[day anchor]\n[day sail]\n"
    "[load fridge]\npower = 45 W\nhours = 10 h\ntimes.sail = 08:00-10:00\n"
    "[load heater]\nsupply = mains\npower = 1 kW\n[shore]\n";

/* Reads the base with up to two changes from a folder of its own. */
static struct test_reading changed(const char *one, const char *two)
{
    char *folder = folder_new(), path[512], first[512], second[512];
    const char *changes[] = { first, two ? second : NULL, NULL };
    struct test_reading t;

    file_put(path_in(path, folder, "boat.ini"), base);
    file_put(path_in(first, folder, "one.ini"), one);
    if (two)
        file_put(path_in(second, folder, "two.ini"), two);
    t = test_read_file(path, changes);
    folder_remove(folder);
    return t;
}

static void remarks_have(const struct test_reading *t, const char *piece)
{
    if (!strstr(test_remarks(t), piece))
        fail_msg("\"%s\" is not among the remarks:\n%s", piece, test_remarks(t));
}

TEST(replace_add_remove)
{
    struct test_reading t = changed("[load fridge]\npower = 60 W\ncount = 2\n[load heater]\nremove = yes\n"
                                    "[load lamp]\npower = 3 W\n",
                                    NULL);

    assert_int_equal(t.status, STATUS_OK);
    assert_int_equal(t.boat->load_count, 2);
    row_check("power", test_load(t.boat, "fridge")->power.value, 60, 0, "by hand");
    row_check("count", test_load(t.boat, "fridge")->count.value, 2, 0, "by hand");
    row_check("hours kept", test_load(t.boat, "fridge")->usage.hours.value, 10, 0, "by hand");
    row_check("lamp", test_load(t.boat, "lamp")->power.value, 3, 0, "by hand");
    row_done();
    test_reading_free(&t);
}

/* A key drives out those it excludes, on the same kind of day only. */
TEST(exclusive_keys_give_way)
{
    struct test_reading t =
        changed("[load fridge]\ncurrent = 5 A\ntimes = 18:00-20:00\nhours.sail = 3 h\n", NULL);
    const struct load *fridge;

    if (t.status != STATUS_OK)
        fail_msg("%s", test_remarks(&t));
    fridge = test_load(t.boat, "fridge");
    row_check("power from current", fridge->power.value, 60, 1e-12, "by hand: 5 A at 12 V");
    row_check("hours under sail", load_usage(fridge, 1)->hours.value, 3, 1e-15, "by hand");
    row_done();
    assert_int_equal(fridge->usage.kind, USAGE_TIMES);
    assert_int_equal(load_usage(fridge, 1)->kind, USAGE_HOURS);
    test_reading_free(&t);
}

TEST(one_after_the_other)
{
    struct test_reading t = changed("[load heater]\nremove = yes\n[load fridge]\npower = 60 W\n",
                                    "[load fridge]\npower = 70 W\n[load heater]\npower = 5 W\n");

    assert_int_equal(t.status, STATUS_OK);
    row_check("the last word", test_load(t.boat, "fridge")->power.value, 70, 0, "by hand");
    row_check("a new heater", test_load(t.boat, "heater")->power.value, 5, 0, "by hand");
    row_done();
    assert_int_equal(test_load(t.boat, "heater")->supply, SUPPLY_DC); /* nothing of the old one is left */
    test_reading_free(&t);
}

TEST(faults_stand_where_they_were_written)
{
    struct test_reading t = changed("# a comment\n[load fridge]\n\npower = 60\n", NULL);

    assert_int_equal(t.status, STATUS_REFUSED);
    assert_int_equal(t.diags->count, 1);
    remarks_have(&t, "/one.ini:4: error: [load fridge] power: \"60\" has no unit\n    power = 60\n");
    test_reading_free(&t);
}

TEST(faults_of_changes)
{
    struct test_reading t = changed("[load frige]\nremove = yes\n", NULL);

    remarks_have(&t, "/one.ini:1: error: [load frige]: is not in the profile, so it cannot be removed");
    remarks_have(&t, "did you mean [load fridge]?");
    test_reading_free(&t);
    t = changed("[load fridge]\nremove = no\n", NULL);
    remarks_have(&t, "/one.ini:2: error: [load fridge] remove: is not understood here");
    test_reading_free(&t);
    t = changed("[load fridge]\nremove = yes\npower = 4 W\n", NULL);
    remarks_have(&t, "is to be removed and has other keys too");
    test_reading_free(&t);
    t = changed("[load frige]\nhours = 5 h\n", NULL); /* a new load without meaning to */
    remarks_have(&t, "/one.ini:1: error: [load frige]: needs power or current");
    test_reading_free(&t);
    t = changed("[bank huose]\nhealth = 80 %\n", NULL);
    remarks_have(&t, "/one.ini:1: error: [bank huose]: needs chemistry");
    remarks_have(&t, "did you mean [bank house]?");
    test_reading_free(&t);
    t = changed("[bank house]\nremove = yes\n", NULL);
    remarks_have(&t, "needs a house bank, and the profile has none");
    test_reading_free(&t);
}

TEST(shipped_changes)
{
    static const char *const changes[] = { "profiles/changes/induction-24v-lfp.bigger-inverter.ini", NULL };
    struct test_reading t = test_read_file("profiles/induction-24v-lfp.ini", changes);

    if (t.status != STATUS_OK)
        fail_msg("%s", test_remarks(&t));
    row_check("inverter", t.boat->inverters[0].power.value, 6000, 0, "by hand");
    row_check("strings", test_bank(t.boat, "house")->parallel.value, 4, 0, "by hand");
    row_done();
    test_reading_free(&t);
}

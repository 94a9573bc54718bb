/* test_fuse.c - ratings and families of fuses.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <string.h>

#include "parts/fuse.h"

TEST(ratings_up_and_down)
{
    row_check("16 A continuous", fuse_rating_up(16 / fuse_continuous_share, 12), 20, 1e-9, "NEC 210.19: x 1.25");
    row_check("up from 20", fuse_rating_up(20, 12), 20, 0, "by hand");
    row_check("up from 20.1", fuse_rating_up(20.1, 12), 25, 0, "by hand");
    row_check("up from 30 with a solver's rounding", fuse_rating_up(30 * (1 + 1e-12), 12), 30, 0, "by hand");
    row_check("up from 30.01", fuse_rating_up(30.01, 12), 35, 0, "by hand");
    row_check("down from 100 less its rounding", fuse_rating_down(100 * (1 - 1e-12), 12), 100, 0, "by hand");
    row_check("up from 900", fuse_rating_up(900, 12), 0, 0, "by hand: none so large");
    row_check("down from 199", fuse_rating_down(199, 12), 175, 0, "by hand");
    row_check("down from 0.5", fuse_rating_down(0.5, 12), 0, 0, "by hand: none so small");
    row_done();
}

/* AC: what can be bought for 230 V and for 120 V. */
TEST(ratings_of_mains)
{
    row_check("16 A at 230 V", fuse_rating_up(16, 230), 16, 0, "IEC 60898-1 preferred ratings (from memory)");
    row_check("26 A at 230 V", fuse_rating_up(26, 230), 32, 0, "IEC 60898-1 preferred ratings (from memory)");
    row_check("26 A carried at 230 V", fuse_rating_down(26, 230), 25, 0, "IEC 60898-1 preferred ratings (from memory)");
    row_check("130 A at 230 V", fuse_rating_up(130, 230), 160, 0, "IEC 60269 preferred ratings (from memory)");
    row_check("26 A at 120 V", fuse_rating_up(26, 120), 30, 0, "NEC 240.6(A)");
    row_check("44 A carried at 120 V", fuse_rating_down(44, 120), 40, 0, "NEC 240.6(A)");
    row_check("3 A at 120 V", fuse_rating_up(3, 120), 15, 0, "NEC 240.6(A): 15 A is the smallest");
    row_check("5 A carried at 230 V", fuse_rating_down(5, 230), 0, 0, "by hand: none so small");
    row_done();
}

TEST(families_are_found)
{
    assert_string_equal(fuse_family_find("Class T")->name, "class-t");
    assert_string_equal(fuse_family_find("BLADE")->name, "blade");
    assert_string_equal(fuse_family_find("t")->name, "class-t");
    assert_null(fuse_family_find("wet string"));
    assert_null(fuse_family_find(""));
    assert_null(fuse_family_find(NULL));
}

TEST(breaking)
{
    const struct fuse_family *cube = fuse_family_find("cube");

    row_check("cube at 12 V", fuse_breaking_a(cube, 12), 10000, 0, "post-mounted cube fuses, from memory");
    row_check("cube at 24 V", fuse_breaking_a(cube, 24), 5000, 0, "post-mounted cube fuses, from memory");
    row_check("cube at 48 V", fuse_breaking_a(cube, 48), 2000, 0, "post-mounted cube fuses, from memory");
    row_check("cube at 60 V", fuse_breaking_a(cube, 60), 0, 0, "by hand: not made for it");
    row_check("blade at 24 V", fuse_breaking_a(fuse_family_find("blade"), 24), 1000, 0,
              "ISO 8820-13: 32 V, 1000 A");
    row_check("class t", fuse_breaking_a(fuse_family_find("class-t"), 48), 20000, 0, "UL 248-15");
    row_done();
}

TEST(choice_breaks_the_fault)
{
    assert_string_equal(fuse_family_choose(200, 12, 14000, 0)->name, "class-t");
    assert_string_equal(fuse_family_choose(20, 12, 500, 0)->name, "blade");
    assert_string_equal(fuse_family_choose(20, 12, 3000, 0)->name, "class-t");
    assert_string_equal(fuse_family_choose(100, 12, 4000, 1)->name, "open-strip");
    assert_null(fuse_family_choose(200, 12, 50000, 0));
    assert_null(fuse_family_choose(37, 12, 10, 0));
}

/* Ratings rise within every family, and every preferred rating above 5 A can be bought in one of them. */
TEST(tables_are_sound)
{
    size_t count;
    const struct fuse_family *families = fuse_families(&count);

    for (size_t i = 0; i < count; i++)
        for (size_t j = 1; j < families[i].rating_count; j++)
            assert_true(families[i].ratings_a[j] > families[i].ratings_a[j - 1]);
    for (double rating = 5; rating > 0; rating = rating < 800 ? fuse_rating_up(rating + 0.1, 12) : 0)
        assert_non_null(fuse_family_choose(rating, 12, 0, 0));
}

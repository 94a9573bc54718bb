/* test_plot_compare.c - weeks laid over each other: every side is named, odd sides do no harm.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <expat.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "output/plot.h"
#include "support/made.h"

enum { SIDES = 8 };

static char *drawn(const struct compare *compare, enum plot_format format, size_t *length)
{
    char *bytes = NULL;
    FILE *out = open_memstream(&bytes, length);

    assert_int_equal(plot_compare(out, format, compare), STATUS_OK);
    fclose(out);
    return bytes;
}

static void well_formed(const char *svg, size_t length)
{
    XML_Parser parser = XML_ParserCreate(NULL);

    assert_int_equal(XML_Parse(parser, svg, (int)length, 1), XML_STATUS_OK);
    XML_ParserFree(parser);
}

static void made_sides(struct arena *arena, struct compare_side sides[SIDES])
{
    static const char *const names[] = {
        "before", "bigger inverter", "Möwe & Co <1>", "d", "e", "f", "g", "h"
    };

    for (size_t i = 0; i < SIDES; i++) {
        const struct made_week how = { .start = 1 - 0.1 * (double)i,
                                       .floor = i % 2 ? 0.5 : 0.2,
                                       .load_w = 90,
                                       .solar_w = 300 + 100 * (double)i,
                                       .engine_w = 800,
                                       .charger_w = 500,
                                       .days = i == 3   ? 3
                                               : i == 4 ? 14
                                                        : 7 };

        sides[i] = (struct compare_side){ .name = names[i], .week = made_week(arena, &how) };
    }
}

TEST(every_side_is_named_and_the_page_is_xml)
{
    struct arena *arena = arena_new();
    struct compare_side sides[SIDES];

    made_sides(arena, sides);
    for (size_t count = 1; count <= SIDES; count++) {
        const struct compare compare = {
            .boat = "A & B", .place = "Nowhere", .sides = sides, .side_count = count
        };
        size_t length;
        char *svg = drawn(&compare, PLOT_SVG, &length);

        well_formed(svg, length);
        assert_non_null(strstr(svg, "before: "));
        assert_true(count < 2 || strstr(svg, "bigger inverter"));
        assert_true(count < 3 || strstr(svg, "Möwe &amp; Co &lt;1&gt;"));
        assert_non_null(strstr(svg, "floor 20 %"));
        assert_null(strstr(svg, "nan"));
        free(svg);
    }
    arena_free(arena);
}

TEST(the_picture_is_the_same_each_time)
{
    static const enum plot_format formats[] = { PLOT_SVG, PLOT_PNG, PLOT_PS };
    struct arena *arena = arena_new();
    struct compare_side sides[SIDES];
    const struct compare compare = { .boat = "Boat", .place = "", .sides = sides, .side_count = 3 };

    made_sides(arena, sides);
    for (size_t f = 0; f < sizeof formats / sizeof formats[0]; f++) {
        size_t one, two;
        char *a = drawn(&compare, formats[f], &one), *b = drawn(&compare, formats[f], &two);

        assert_int_equal(one, two);
        assert_memory_equal(a, b, one);
        free(a);
        free(b);
    }
    arena_free(arena);
}

TEST(the_line_of_text_names_every_side)
{
    struct arena *arena = arena_new();
    struct compare_side sides[SIDES];
    const struct compare compare = { .sides = sides, .side_count = 3 };
    const char *twin;

    made_sides(arena, sides);
    twin = plot_twin_compare(arena, &compare);
    for (size_t i = 0; i < compare.side_count; i++)
        assert_non_null(strstr(twin, sides[i].name));
    arena_free(arena);
}

/* test_plots.c - pictures: labels clear of each other and on the page, files that open, nothing from the environment.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <expat.h>
#include <math.h>
#include <png.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "output/plot.h"
#include "output/plot_draw.h"
#include "output/plot_kit.h"
#include "support/made.h"

static const char long_name[] =
    "Ünïcødé «Möwe» with a name so long that no page can hold it, Καλημέρα, Кириллица, "
    "and then some more of it for good measure, and a little more, to be quite sure of it";

/* Shapes of weeks that are awkward to draw. */
static const struct made_week shapes[] = {
    { .start = 1, .floor = 0.5, .solar_w = 520, .load_w = 125, .engine_w = 900, .charger_w = 500 },
    { .start = 0.3,
      .floor = 0.5,
      .solar_w = 200,
      .load_w = 100,
      .boat = long_name,
      .place = long_name,
      .kinds = { "at anchor with guests aboard and ashore", "passage", "in harbour" } },
    { .start = 0 },
    { .start = 1, .load_w = 1e-9 },
    { .start = 1, .floor = 0.5, .load_w = 40, .solar_w = 900 },
    { .start = 0.9, .floor = 0.2, .load_w = 140, .solar_w = 700, .engine_w = 1200, .days = 1 },
    { .start = 0.9,
      .floor = 0.2,
      .load_w = 140,
      .solar_w = 900,
      .engine_w = 1200,
      .charger_w = 600,
      .days = 3 },
    { .start = 1,
      .floor = 0.5,
      .load_w = 140,
      .solar_w = 700,
      .engine_w = 1200,
      .charger_w = 800,
      .days = 14 },
    { .start = 1, .floor = 0.5, .load_w = 120, .solar_w = 600, .engine_w = 1000, .days = 60, .step_s = 300 },
    { .start = 1, .load_w = 90, .solar_w = 600, .latitude = 90 },
    { .start = 1, .floor = 0.5, .load_w = 90, .charger_w = 600, .latitude = -90 },
    { .start = 1, .floor = 1, .load_w = 9000, .solar_w = 30000, .bank_wh = 90000, .engine_w = 9000 },
    { .start = 0.5, .floor = 0.12, .load_w = 5, .solar_w = 3, .step_s = 21600 },
    { .start = 0.99, .floor = 0.96, .load_w = 100, .solar_w = 400, .bank_wh = 60000 },
};
enum { SHAPES = sizeof shapes / sizeof shapes[0] };

static int overlap(const struct box *a, const struct box *b)
{
    return a->x0 < b->x1 && b->x0 < a->x1 && a->y0 < b->y1 && b->y0 < a->y1;
}

static void check_labels(const struct page *page, const char *what)
{
    for (size_t i = 0; i < page->label_count; i++) {
        const struct box *a = page->labels + i;

        if (!(a->x0 >= 0 && a->y0 >= 0 && a->x1 <= PAGE_WIDTH && a->y1 <= PAGE_HEIGHT))
            fail_msg("%s: label %zu leaves the page: %g %g %g %g", what, i, a->x0, a->y0, a->x1, a->y1);
        for (size_t k = 0; k < i; k++) {
            if (overlap(a, page->labels + k))
                fail_msg("%s: labels %zu and %zu overlap near %g %g", what, i, k, a->x0, a->y0);
        }
    }
}

static void finish(struct page *page, const char *what, size_t least)
{
    char *bytes = NULL;
    size_t length = 0;
    FILE *f = open_memstream(&bytes, &length);

    check_labels(page, what);
    assert_false(page->failed);
    assert_true(page->label_count >= least);
    assert_int_equal(page_close(page, f, "test", "title", "twin"), STATUS_OK);
    fclose(f);
    assert_true(length > 500);
    free(bytes);
}

static void each_format(const struct week *week, const char *what)
{
    for (int format = PLOT_SVG; format <= PLOT_PS; format++) {
        struct arena *arena = arena_new();
        struct page page;

        assert_int_equal(page_open(&page, arena, (enum plot_format)format), STATUS_OK);
        week_draw(&page, week);
        finish(&page, what, 12);
        arena_free(arena);
    }
}

TEST(no_label_of_a_week_meets_another_or_leaves_the_page)
{
    struct arena *arena = arena_new();
    char what[32];

    for (int i = 0; i < SHAPES; i++) {
        snprintf(what, sizeof what, "week shape %d", i);
        each_format(made_week(arena, shapes + i), what);
    }
    arena_free(arena);
}

TEST(a_week_without_rows_or_days_still_has_a_page)
{
    const struct week empty = { .boat = "x", .place = NULL };

    struct arena *arena = arena_new();
    struct page page;

    assert_int_equal(page_open(&page, arena, PLOT_SVG), STATUS_OK);
    week_draw(&page, &empty);
    finish(&page, "empty week", 2);
    arena_free(arena);
}

/* ---- balance and sun ---- */

static void draw_balance(const struct balance *balance, const char *what)
{
    for (int format = PLOT_SVG; format <= PLOT_PS; format++) {
        struct arena *arena = arena_new();
        struct page page;

        assert_int_equal(page_open(&page, arena, (enum plot_format)format), STATUS_OK);
        balance_draw(&page, balance);
        finish(&page, what, 2);
        arena_free(arena);
    }
}

TEST(no_label_of_a_balance_meets_another_or_leaves_the_page)
{
    struct arena *arena = arena_new();
    struct balance balance = *made_balance(arena);
    struct balance_day *many = arena_array(arena, 40, sizeof *many);

    draw_balance(&balance, "balance");
    balance.day_count = 0;
    draw_balance(&balance, "balance of nothing");
    for (size_t i = 0; i < 40; i++) {
        many[i] = made_balance(arena)->days[i % 3];
        many[i].kind = i % 2 ? long_name : "anchor";
    }
    balance.days = many;
    for (balance.day_count = 1; balance.day_count <= 40; balance.day_count += 3)
        draw_balance(&balance, "balance of many");
    arena_free(arena);
}

TEST(no_label_of_a_day_of_sun_meets_another_or_leaves_the_page)
{
    for (int polar = -1; polar <= 1; polar++) {
        for (int format = PLOT_SVG; format <= PLOT_PS; format++) {
            struct arena *arena = arena_new();
            struct page page;

            assert_int_equal(page_open(&page, arena, (enum plot_format)format), STATUS_OK);
            sun_draw(&page, made_sun_day(arena, polar));
            finish(&page, "sun", 10);
            arena_free(arena);
        }
    }
}

/* ---- files ---- */

/* noinline: gcc 12 takes the stream's own pointer for a dangling one otherwise */
__attribute__((noinline)) static char *plotted(enum plot_format format, const struct week *week,
                                               size_t *length)
{
    char *bytes = NULL;
    FILE *f = open_memstream(&bytes, length);

    assert_int_equal(plot_week(f, format, week), STATUS_OK);
    fclose(f);
    return bytes;
}

struct svg_seen {
    char words[20000]; /* all text elements, with a bar between */
    char ids[600], role[16];
    size_t titles, descs, texts;
    double lengths[400]; /* what each text says that it is long; 0: nothing */
    size_t letters[400];
    int in_text;
};

static void XMLCALL on_start(void *data, const XML_Char *name, const XML_Char **attributes)
{
    struct svg_seen *s = data;

    s->in_text = strcmp(name, "text") == 0;
    s->texts += (size_t)s->in_text;
    assert_true(s->texts < 400);
    s->titles += strcmp(name, "title") == 0;
    s->descs += strcmp(name, "desc") == 0;
    for (; *attributes; attributes += 2) {
        size_t room = sizeof s->ids - strlen(s->ids);

        if (strcmp(attributes[0], "id") == 0)
            snprintf(s->ids + strlen(s->ids), room, "%s|", attributes[1]);
        if (s->in_text && strcmp(attributes[0], "textLength") == 0)
            s->lengths[s->texts - 1] = strtod(attributes[1], NULL);
        if (strcmp(attributes[0], "role") == 0)
            snprintf(s->role, sizeof s->role, "%s", attributes[1]);
    }
}

static void XMLCALL on_end(void *data, const XML_Char *name)
{
    struct svg_seen *s = data;

    if (strcmp(name, "text") == 0 && strlen(s->words) + 2 < sizeof s->words)
        strcat(s->words, "|");
    s->in_text = 0;
}

static void XMLCALL on_words(void *data, const XML_Char *text, int length)
{
    struct svg_seen *s = data;
    size_t used = strlen(s->words);

    if (s->in_text)
        s->letters[s->texts - 1] += (size_t)length;
    if (s->in_text && used + (size_t)length + 2 < sizeof s->words)
        snprintf(s->words + used, sizeof s->words - used, "%.*s", length, text);
}

static void read_svg(struct svg_seen *seen, const char *bytes, size_t length)
{
    XML_Parser parser = XML_ParserCreate(NULL);

    memset(seen, 0, sizeof *seen);
    XML_SetUserData(parser, seen);
    XML_SetElementHandler(parser, on_start, on_end);
    XML_SetCharacterDataHandler(parser, on_words);
    if (XML_Parse(parser, bytes, (int)length, 1) != XML_STATUS_OK)
        fail_msg("%s at line %lu", XML_ErrorString(XML_GetErrorCode(parser)),
                 XML_GetCurrentLineNumber(parser));
    XML_ParserFree(parser);
}

TEST(svg_is_well_formed_and_says_what_it_shows)
{
    struct arena *arena = arena_new();
    const struct made_week how = {
        .boat = "Möwe & <Söhne>", .start = 1, .load_w = 80, .solar_w = 300, .floor = 0.5, .place = "Καλημέρα"
    };
    struct svg_seen *seen = malloc(sizeof *seen);
    size_t length;
    char *svg = plotted(PLOT_SVG, made_week(arena, &how), &length);

    read_svg(seen, svg, length);
    assert_string_equal(seen->role, "img");
    assert_int_equal(seen->titles, 1);
    assert_int_equal(seen->descs, 1);
    assert_non_null(strstr(seen->words, "Möwe & <Söhne>, Kalimera, 6 to 12 July 2026"));
    assert_non_null(strstr(seen->words, "|floor 50 %|"));
    assert_non_null(strstr(seen->words, "|Mon 6 July|sailing|"));
    assert_non_null(strstr(svg, "viewBox=\"0 0 1200 675\""));
    assert_null(strstr(svg, "Symbol"));
    for (size_t i = 0; i < seen->texts; i++) { /* letters of Helvetica 20 high are 4 to 17 wide, bold ones to 18 */
        double letter = seen->lengths[i] / (double)seen->letters[i];

        assert_true(letter > 4 && letter < 18);
    }
    assert_true(seen->texts > 20);
    free(svg);
    free(seen);
    arena_free(arena);
}

TEST(limits_are_named_and_nothing_is_written_across_them)
{
    struct arena *arena = arena_new();
    struct week week = *made_week(arena, shapes);
    struct svg_seen *seen = malloc(sizeof *seen);
    size_t length;
    char *svg;
    struct page page;

    week.summary.ceiling = 0.9;
    week.summary.floor = week.summary.min_charge - 0.04; /* just where the lowest point's name would stand */
    svg = plotted(PLOT_SVG, &week, &length);
    read_svg(seen, svg, length);
    assert_non_null(strstr(seen->words, "|floor 31 %|"));
    assert_non_null(strstr(seen->words, "|ceiling 90 %|"));
    assert_int_equal(page_open(&page, arena, PLOT_SVG), STATUS_OK);
    week_draw(&page, &week);
    for (size_t i = 0; i < page.label_count; i++) {
        const struct box *box = page.labels + i;

        if (box->x0 > 84 && box->x1 < 1104)
            assert_false(box->y0 < 244 + 316 * week.summary.floor && box->y1 > 244 + 316 * week.summary.floor);
    }
    finish(&page, "limits", 12);
    free(svg);
    free(seen);
    arena_free(arena);
}

TEST(two_pictures_in_one_page_share_no_id)
{
    struct arena *arena = arena_new();
    struct svg_seen *a = malloc(sizeof *a), *b = malloc(sizeof *b);
    size_t length;
    char *one = plotted(PLOT_SVG, made_week(arena, shapes), &length);
    char *two;

    read_svg(a, one, length);
    two = plotted(PLOT_SVG, made_week(arena, shapes + 1), &length);
    read_svg(b, two, length);
    for (char *rest = a->ids, *id; (id = strsep(&rest, "|")) != NULL;) {
        if (*id)
            assert_null(strstr(b->ids, id));
    }
    free(one);
    free(two);
    free(a);
    free(b);
    arena_free(arena);
}

TEST(png_has_its_size_its_ink_and_white_margins)
{
    struct arena *arena = arena_new();
    size_t length, dark = 0, margin = 0;
    char *bytes = plotted(PLOT_PNG, made_full_week(arena), &length);
    png_image image = { .version = PNG_IMAGE_VERSION };
    unsigned char *pixels;

    assert_true(png_image_begin_read_from_memory(&image, bytes, length));
    assert_int_equal(image.width, 2400);
    assert_int_equal(image.height, 1350);
    image.format = PNG_FORMAT_GRAY;
    pixels = malloc(PNG_IMAGE_SIZE(image));
    assert_true(png_image_finish_read(&image, NULL, pixels, 0, NULL));
    for (size_t y = 0; y < 1350; y++) {
        for (size_t x = 0; x < 2400; x++) {
            dark += pixels[y * 2400 + x] < 100;
            margin += (x < 20 || y < 20 || x >= 2380 || y >= 1330) && pixels[y * 2400 + x] != 255;
        }
    }
    assert_int_equal(margin, 0);
    assert_in_range(dark, 30000, 400000);
    free(pixels);
    free(bytes);
    arena_free(arena);
}

TEST(postscript_fits_a4_and_carries_no_date)
{
    struct arena *arena = arena_new();
    size_t length;
    char *bytes = plotted(PLOT_PS, made_full_week(arena), &length);
    const char *box = strstr(bytes, "%%BoundingBox:");
    int x0, y0, x1, y1;

    assert_memory_equal(bytes, "%!PS-Adobe", 10);
    assert_non_null(box);
    assert_int_equal(sscanf(box, "%%%%BoundingBox: %d %d %d %d", &x0, &y0, &x1, &y1), 4);
    assert_true(x0 >= 0 && y0 >= 0 && x1 <= 595 && y1 <= 842 && y1 - y0 > 700);
    assert_null(strstr(bytes, "CreationDate"));
    free(bytes);
    arena_free(arena);
}

TEST(the_environment_changes_nothing)
{
    static const char *const hostile[][2] = {
        { "PAGESIZE", "letter,xsize=1in,ysize=1in" },
        { "BG_COLOR", "red" },
        { "BITMAPSIZE", "40x40" },
        { "ROTATION", "45" },
        { "MAX_LINE_LENGTH", "3" },
        { "TRANSPARENT_COLOR", "white" },
        { "INTERLACE", "yes" },
        { "EMULATE_COLOR", "yes" },
        { "META_PORTABLE", "yes" },
    };
    struct arena *arena = arena_new();
    const struct week *week = made_full_week(arena);

    for (int format = PLOT_SVG; format <= PLOT_PS; format++) {
        size_t before, after;
        char *a = plotted((enum plot_format)format, week, &before), *b;

        for (size_t i = 0; i < sizeof hostile / sizeof hostile[0]; i++)
            setenv(hostile[i][0], hostile[i][1], 1);
        b = plotted((enum plot_format)format, week, &after);
        for (size_t i = 0; i < sizeof hostile / sizeof hostile[0]; i++)
            unsetenv(hostile[i][0]);
        assert_int_equal(before, after);
        assert_memory_equal(a, b, before);
        free(a);
        free(b);
    }
    arena_free(arena);
}

TEST(a_full_disk_is_noticed_by_plots)
{
    struct arena *arena = arena_new();
    const struct week *week = made_full_week(arena);

    for (int format = PLOT_SVG; format <= PLOT_PS; format++) {
        FILE *full = fopen("/dev/full", "w");

        assert_int_equal(plot_week(full, (enum plot_format)format, week), STATUS_UNWRITABLE);
        fclose(full);
    }
    arena_free(arena);
}

TEST(endings_choose_the_format)
{
    enum plot_format format = PLOT_SVG;

    assert_int_equal(plot_format_of("a.b/week.PNG", &format), 0);
    assert_int_equal(format, PLOT_PNG);
    assert_int_equal(plot_format_of("week.ps", &format), 0);
    assert_int_equal(format, PLOT_PS);
    assert_int_equal(plot_format_of("week.svg", &format), 0);
    assert_int_equal(format, PLOT_SVG);
    assert_int_equal(plot_format_of("week.pdf", &format), -1);
    assert_int_equal(plot_format_of("week", &format), -1);
}

/* ---- thinning ---- */

static double height_at(const struct point *points, size_t count, double x)
{
    for (size_t i = 1; i < count; i++) {
        if (x <= points[i].x)
            return points[i - 1].y +
                   (points[i].y - points[i - 1].y) * (x - points[i - 1].x) / (points[i].x - points[i - 1].x);
    }
    return points[count - 1].y;
}

TEST(thinning_keeps_within_its_tolerance)
{
    enum { N = 2000 };
    struct point all[N], kept[N];
    unsigned random = 3;
    size_t count;

    for (int i = 0; i < N; i++) {
        random = random * 1664525u + 1013904223u;
        all[i] = (struct point){ i * 0.5, 100 * sin(i / 90.0) + (i % 400 < 20 ? (random >> 16) % 50 : 0) };
    }
    memcpy(kept, all, sizeof all);
    count = thin_points(kept, N, 0.2);
    assert_true(count < N / 2);
    assert_true(kept[0].x == all[0].x && kept[count - 1].x == all[N - 1].x);
    for (int i = 0; i < N; i++)
        row_check("height after thinning", height_at(kept, count, all[i].x), all[i].y, 0.2 + 1e-9,
                  "property");
    row_done();
}

/* A dip of one minute in a week is a third of a unit wide; its depth must still be seen. */
TEST(a_dip_of_one_minute_is_drawn_to_its_depth)
{
    struct arena *arena = arena_new();
    struct week week =
        *made_week(arena, &(struct made_week){ .start = 1, .load_w = 60, .solar_w = 500, .floor = 0.2 });
    struct week_row *rows = arena_array(arena, week.row_count, sizeof *rows);
    double lowest = 1e9;
    size_t length;
    char *svg;

    memcpy(rows, week.rows, week.row_count * sizeof *rows);
    rows[5003].charge = 0.05;
    week.rows = rows;
    svg = plotted(PLOT_SVG, &week, &length);
    for (char *line = svg; (line = strstr(line, "<polyline points=\"")) != NULL;) {
        char *stop = strchr(line, '>'), *p = strchr(line, '"') + 1, *end;

        *stop = '\0';
        if (strstr(line, "stroke-width=\"2.4\"")) {
            for (double x = strtod(p, &end); end != p && *end == ','; x = strtod(p, &end)) {
                double y = strtod(end + 1, &p);

                lowest = y < lowest ? y : lowest;
                (void)x;
            }
        }
        line = stop + 1;
    }
    row_check("depth of the dip on the page", lowest, 244 + 316 * 0.05, 0.2, "by hand");
    free(svg);
    arena_free(arena);
    row_done();
}

/* ---- twins ---- */

TEST(twins_say_it_in_one_line)
{
    struct arena *arena = arena_new();
    const struct made_week poor = { .start = 0.3, .floor = 0.5, .load_w = 100, .solar_w = 200 };
    const char *week = plot_twin_week(arena, made_week(arena, &poor));

    assert_non_null(strstr(week, "Lowest charge 12 %"));
    assert_non_null(strstr(week, "below the floor of 50 %"));
    assert_non_null(strstr(week, "not delivered"));
    assert_null(strchr(week, '\n'));
    assert_string_equal(
        plot_twin_balance(arena, made_balance(arena)),
        "Energy by kind of day; anchor: in 1.9 kWh, out 1.8 kWh, net +60 Wh; sailing: in 2.4 kWh, out 2.8 "
        "kWh, net -360 Wh; laid up: in 1.9 kWh, out 0 Wh, net +1.9 kWh");
    assert_string_equal(
        plot_twin_sun(arena, made_sun_day(arena, 0)),
        "Panels give 3.7 kWh on a mean day; sunrise 06:06, sunset 19:46; 6.3 kWh/m2 on the flat, 8.1 under "
        "a clear sky");
    arena_free(arena);
}

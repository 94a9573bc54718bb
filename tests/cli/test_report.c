/* test_report.c - the report: one page that stands alone, names its sources and is valid for everybody who reads it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/page.h"
#include "support/run.h"

static const char boat[] = "profiles/induction-24v-lfp.ini";
static const char bigger[] = "profiles/changes/induction-24v-lfp.bigger-inverter.ini";
static const char *const profiles[] = { "profiles/induction-24v-lfp.ini", "profiles/cruiser-12v-agm.ini",
                                        "profiles/simple-12v-flooded.ini", "profiles/starter.ini",
                                        "profiles/as-found.ini" };

enum { PROFILES = sizeof profiles / sizeof profiles[0] };

TEST(the_page_stands_alone_and_is_accessible)
{
    for (size_t i = 0; i < PROFILES; i++) {
        struct page_seen seen;

        page_of_report(&seen, profiles[i], NULL);
        assert_int_equal(seen.scripts, 0);
        assert_int_equal(seen.outside, 0);
        assert_true(seen.target_count >= 7);
        for (size_t t = 0; t < seen.target_count; t++)
            if (!page_has_id(&seen, seen.targets[t]))
                fail_msg("%s: nothing has the id %s", profiles[i], seen.targets[t]);
        for (size_t a = 0; a < seen.id_count; a++)
            for (size_t b = a + 1; b < seen.id_count; b++)
                assert_string_not_equal(seen.ids[a], seen.ids[b]);
        assert_true(seen.tables > 10);
        assert_int_equal(seen.captions, seen.tables);
        assert_true(seen.heads > seen.tables);
        assert_int_equal(seen.heads_without_scope, 0);
        assert_int_equal(seen.drawings, 3); /* balance, week, volts */
        assert_int_equal(seen.drawing_titles, 3);
        assert_int_equal(seen.drawing_texts, 3);
        assert_int_equal(seen.headings[1], 1);
        assert_int_equal(seen.heading_skips, 0);
        assert_true(page_has_id(&seen, "cables"));
        assert_true(page_has_id(&seen, "survey"));
        assert_true(page_has_id(&seen, "handover"));
        page_free(&seen);
    }
}

static double luminance(unsigned rgb)
{
    static const double weights[] = { 0.2126, 0.7152, 0.0722 };
    double sum = 0;

    for (int i = 0; i < 3; i++) {
        double part = (rgb >> (16 - 8 * i) & 0xFF) / 255.0;

        sum += weights[i] * (part <= 0.04045 ? part / 12.92 : pow((part + 0.055) / 1.055, 2.4));
    }
    return sum;
}

/* Every colour of text in the style sheet, on white; the browser's tests look at all that is drawn. */
TEST(colours_of_text_stand_out_from_white)
{
    static const char key[] = "color:#";
    struct run run;
    size_t colours = 0;
    char *end;

    RUN(&run, "report", boat);
    assert_non_null(end = strstr(run.out, "</style>"));
    *end = '\0';
    for (const char *at = run.out; (at = strstr(at, key)); at += sizeof key - 1) {
        unsigned rgb;

        assert_int_equal(sscanf(at + sizeof key - 1, "%6x", &rgb), 1);
        assert_true(1.05 / (luminance(rgb) + 0.05) >= 4.5);
        colours++;
    }
    assert_true(colours >= 4);
    assert_non_null(strstr(run.out, "background:#fff"));
    run_free(&run);
}

/* The page of sources and the report name the same publications, with the same word on how they are known. */
TEST(its_sources_are_those_of_the_handbook)
{
    char *page = file_contents("docs/handbook/sources.md", NULL);
    struct page_seen seen;
    size_t found = 0;

    assert_non_null(page);
    page_of_report(&seen, boat, NULL);
    for (size_t i = 0; i + 1 < seen.cell_count; i++) {
        const struct page_cell *title = seen.cells + i, *known = title + 1;
        const char *at, *end = NULL;

        if (strcmp(title->table, "publications") || strcmp(title->name, "source"))
            continue;
        if ((at = strstr(page, title->text)) != NULL)
            end = strchr(at, '\n');
        if (!end)
            fail_msg("the handbook does not know \"%s\"", title->text);
        assert_string_equal(known->name, "known");
        assert_int_equal(strncmp(end - strlen(known->text) - 2, known->text, strlen(known->text)), 0);
        found++;
    }
    assert_true(found > 30);
    page_free(&seen);
    free(page);
}

TEST(with_a_change_it_shows_before_and_after)
{
    struct page_seen plain, changed;

    page_of_report(&plain, boat, NULL);
    page_of_report(&changed, boat, bigger);
    assert_false(page_has_id(&plain, "compare"));
    assert_true(page_has_id(&changed, "compare"));
    assert_int_equal(changed.drawings, 4);
    assert_true(changed.tables > plain.tables + 5);
    page_free(&plain);
    page_free(&changed);
}

TEST(what_the_profile_calls_things_is_text_never_markup)
{
    static const char change[] =
        "[boat]\nname = A & B <i> \"C\"\n[load <script>alert(1)</script>]\nsupply = dc\n"
        "power = 10 W\nhours = 1 h\n";
    char *folder = folder_new(), path[512];
    struct page_seen seen;
    struct run run;

    path_in(path, folder, "odd.ini");
    file_put(path, change);
    RUN(&run, "report", boat, "--change", path);
    assert_int_equal(run.code, 0);
    page_read(&seen, run.out, run.out_length);
    assert_int_equal(seen.scripts, 0);
    assert_non_null(strstr(run.out, "<h1>A &amp; B &lt;i&gt; &quot;C&quot;</h1>"));
    assert_non_null(strstr(run.out, "&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert_non_null(strstr(run.out, "content:\"A \\26  B \\3c i\\3e  \\22 C\\22 : electrical")); /* foot of each sheet */
    page_free(&seen);
    run_free(&run);
    folder_remove(folder);
}

TEST(any_result_can_be_a_page)
{
    static const char *const commands[] = { "check", "balance", "size", "week", "sun", "cables", "survey", "handover" };

    for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++) {
        struct page_seen seen;
        struct run run;

        RUN(&run, commands[i], boat, "--format", "html");
        assert_int_equal(run.code, 0);
        page_read(&seen, run.out, run.out_length);
        assert_int_equal(seen.headings[1], 1);
        assert_true(seen.tables > 0);
        assert_int_equal(seen.captions, seen.tables);
        assert_int_equal(seen.heads_without_scope, 0);
        page_free(&seen);
        run_free(&run);
    }
}

/* A validator's opinion; the two attributes that it does not know within a drawing are in SVG 1.1. */
TEST(a_validator_finds_nothing)
{
    char *folder = folder_new(), path[512], command[1200];
    struct run run;

    if (system("command -v tidy >/dev/null") != 0) {
        print_message("tidy is not here\n");
        folder_remove(folder);
        return;
    }
    path_in(path, folder, "report.html");
    for (size_t i = 0; i <= PROFILES; i++) { /* the last one with a change */
        RUN(&run, "report", i < PROFILES ? profiles[i] : boat, "--output", path, i < PROFILES ? "--quiet" : "--change",
            i < PROFILES ? "--quiet" : bigger);
        assert_int_equal(run.code, 0);
        run_free(&run);
        snprintf(command, sizeof command,
                 "tidy -q -e %s 2>&1 | grep -v '<title> proprietary attribute \"id\"' | grep . && exit 1 || "
                 "exit 0",
                 path);
        assert_int_equal(system(command), 0);
    }
    folder_remove(folder);
}

TEST(a_report_that_cannot_be_written_leaves_nothing)
{
    struct run run;

    RUN(&run, "report", boat, "--output", "/nowhere/at/all/report.html");
    assert_int_equal(run.code, 3);
    assert_non_null(strstr(run.err, "report.html"));
    run_free(&run);
    RUN(&run, "report", boat, "--strict", "--output", "/dev/null");
    assert_true(run.code == 0 || run.code == 4);
    run_free(&run);
}

/* test_plot.c - plots as a reader of the files sees them: parsed as XML, decoded as PNG, framed as PostScript.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <expat.h>
#include <png.h>
#include <stdlib.h>
#include <string.h>

#include "support/run.h"
#include "support/test.h"

#define BOAT "profiles/cruiser-12v-agm.ini"

static const char *const plotted[] = { "week", "balance", "sun" };
enum { PLOTTED = sizeof plotted / sizeof plotted[0] };

/* Runs COMMAND BOAT --plot NAME in a new folder and hands the file over. */
static char *plot_of(const char *command, const char *name, size_t *length)
{
    char *folder = folder_new(), path[512], *bytes;
    struct run run;

    RUN(&run, command, BOAT, "--plot", path_in(path, folder, name));
    if (run.code != 0)
        fail_msg("%s: exit %d: %s", command, run.code, run.err);
    assert_int_equal(folder_count(folder), 1);
    bytes = file_contents(path, length);
    assert_non_null(bytes);
    run_free(&run);
    folder_remove(folder);
    return bytes;
}

struct svg {
    size_t shapes, texts;
    int in_text;
    size_t letters;
};

static void on_start(void *state, const XML_Char *name, const XML_Char **attributes)
{
    static const char *const shapes[] = { "path", "polyline", "polygon", "line", "rect", "circle", "ellipse" };
    struct svg *svg = state;

    (void)attributes;
    for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++)
        svg->shapes += strcmp(name, shapes[i]) == 0;
    svg->in_text = strcmp(name, "text") == 0;
    svg->texts += (size_t)svg->in_text;
}

static void on_end(void *state, const XML_Char *name)
{
    struct svg *svg = state;

    (void)name;
    svg->in_text = 0;
}

static void on_text(void *state, const XML_Char *text, int length)
{
    struct svg *svg = state;

    (void)text;
    svg->letters += svg->in_text ? (size_t)length : 0;
}

TEST(svg_is_xml)
{
    for (size_t i = 0; i < PLOTTED; i++) {
        XML_Parser parser = XML_ParserCreate(NULL);
        struct svg svg = { 0 };
        size_t length;
        char *bytes = plot_of(plotted[i], "a.svg", &length);

        XML_SetUserData(parser, &svg);
        XML_SetElementHandler(parser, on_start, on_end);
        XML_SetCharacterDataHandler(parser, on_text);
        if (XML_Parse(parser, bytes, (int)length, 1) != XML_STATUS_OK)
            fail_msg("%s: line %lu: %s", plotted[i], XML_GetCurrentLineNumber(parser),
                     XML_ErrorString(XML_GetErrorCode(parser)));
        if (svg.shapes < 10 || svg.texts < 8 || svg.letters < 80)
            fail_msg("%s: %zu shapes, %zu texts", plotted[i], svg.shapes, svg.texts);
        assert_null(strstr(bytes, "Symbol"));
        XML_ParserFree(parser);
        free(bytes);
    }
}

/* Decoded whole: its size, and that neither one colour nor noise fills it. */
TEST(png_decodes)
{
    for (size_t i = 0; i < PLOTTED; i++) {
        png_image image = { .version = PNG_IMAGE_VERSION };
        size_t length, white = 0, pixels;
        char *bytes = plot_of(plotted[i], "a.png", &length);
        png_bytep decoded;

        assert_true(png_image_begin_read_from_memory(&image, bytes, length));
        assert_int_equal(image.width, 2400);
        assert_int_equal(image.height, 1350);
        image.format = PNG_FORMAT_GRAY;
        decoded = malloc(PNG_IMAGE_SIZE(image));
        assert_non_null(decoded);
        assert_true(png_image_finish_read(&image, NULL, decoded, 0, NULL));
        pixels = (size_t)image.width * image.height;
        for (size_t p = 0; p < pixels; p++)
            white += decoded[p] > 250;
        assert_true(white > pixels / 4 && white < pixels * 99 / 100);
        png_image_free(&image);
        free(decoded);
        free(bytes);
    }
}

TEST(ps_is_framed)
{
    for (size_t i = 0; i < PLOTTED; i++) {
        size_t length;
        char *bytes = plot_of(plotted[i], "a.ps", &length), *end;

        assert_int_equal(strncmp(bytes, "%!PS-Adobe-", 11), 0);
        assert_non_null(strstr(bytes, "%%BoundingBox:"));
        end = strstr(bytes, "%%EOF");
        assert_non_null(end);
        assert_true(end > bytes + length - 16);
        free(bytes);
    }
}

/* Results still go to standard output when a plot is drawn, the same as without one. */
TEST(plot_changes_no_result)
{
    char *folder = folder_new(), path[512];
    struct run plain, plotting;

    RUN(&plain, "week", BOAT, "--format", "json");
    RUN(&plotting, "week", BOAT, "--format", "json", "--plot", path_in(path, folder, "a.svg"));
    assert_string_equal(plain.out, plotting.out);
    run_free(&plain);
    run_free(&plotting);
    folder_remove(folder);
}

/* reports.c - reports in a browser: what it complains of, where the page leads, how it fits a phone and a sheet of paper.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "browser/devtools.h"
#include "support/run.h"
#include "support/test.h"

/* The reports looked at; pictures of them are left in the folder for whoever wants to look as well. */
#define PICTURES "build/browser"

static const struct report_case {
    const char *name, *profile, *change;
} cases[] = {
    { "cruiser", "profiles/cruiser-12v-agm.ini", NULL },
    { "as-found", "profiles/as-found.ini", NULL },
    { "upgrade", "profiles/induction-24v-lfp.ini", "profiles/changes/induction-24v-lfp.bigger-inverter.ini" },
    { "starter", "profiles/starter.ini", NULL },
};

enum { CASES = sizeof cases / sizeof cases[0], PHONE = 360, PHONE_HEIGHT = 740, DESK = 1280, DESK_HEIGHT = 900 };

static const struct paper {
    const char *name;
    double width, height; /* [inch] */
    int column;           /* [CSS pixel] between the margins, as the style sheet sets them */
} papers[] = {
    { "a4", 210 / 25.4, 297 / 25.4, 687 },
    { "letter", 8.5, 11, 710 },
};

enum { PAPERS = sizeof papers / sizeof papers[0] };

static const char *report_path(char space[512], const struct report_case *c)
{
    snprintf(space, 512, PICTURES "/%s.html", c->name);
    return space;
}

static const char *picture_path(char space[512], const struct report_case *c, const char *what)
{
    snprintf(space, 512, PICTURES "/%s-%s", c->name, what);
    return space;
}

static struct devtools *shared; /* starting one takes longer than looking at a page */

static void end(void)
{
    devtools_stop(shared);
}

static struct devtools *browser(void)
{
    if (!shared) {
        shared = devtools_start();
        atexit(end);
    }
    return shared;
}

static void reports_write(void)
{
    mkdir("build", 0777);
    mkdir(PICTURES, 0777);
    for (size_t i = 0; i < CASES; i++) {
        char path[512];
        struct run run;

        report_path(path, cases + i);
        if (cases[i].change)
            RUN(&run, "report", cases[i].profile, "--change", cases[i].change, "-o", path, "--quiet");
        else
            RUN(&run, "report", cases[i].profile, "-o", path, "--quiet");
        assert_int_equal(run.code, 0);
        run_free(&run);
    }
}

/* The browser, with the reports there to be opened. */
static struct devtools *begin(void)
{
    if (!shared)
        reports_write();
    return browser();
}

static void open_case(struct devtools *tools, const struct report_case *c, int width, int height)
{
    char path[512];

    devtools_open(tools, report_path(path, c), width, height);
}

/* Fails where the expression, an array of texts, is not empty. */
static void want_none(struct devtools *tools, const struct report_case *c, const char *what, const char *expression)
{
    json_t *found = devtools_value(tools, expression);

    assert_true(json_is_array(found));
    if (json_array_size(found))
        fail_msg("%s: %s: %s", c->name, what, json_dumps(found, JSON_INDENT(1)));
    json_decref(found);
}

static double number(struct devtools *tools, const char *expression)
{
    json_t *value = devtools_value(tools, expression);
    double n = json_number_value(value);

    assert_true(json_is_number(value));
    json_decref(value);
    return n;
}

/* How often the page told of such an event. */
static size_t told(const struct devtools *tools, const char *method)
{
    const json_t *events = devtools_events(tools);
    size_t count = 0;

    for (size_t i = 0; i < json_array_size(events); i++)
        count += strcmp(json_string_value(json_object_get(json_array_get(events, i), "method")), method) == 0;
    return count;
}

TEST(nothing_is_complained_of_and_nothing_fetched)
{
    static const char *const complaints[] = { "Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown",
                                              "Network.loadingFailed", "Network.webSocketCreated" };
    struct devtools *tools = begin();

    for (size_t i = 0; i < CASES; i++) {
        open_case(tools, cases + i, DESK, DESK_HEIGHT);
        for (size_t c = 0; c < sizeof complaints / sizeof complaints[0]; c++)
            if (told(tools, complaints[c]))
                fail_msg("%s: %s: %s", cases[i].name, complaints[c], json_dumps(devtools_events(tools), JSON_INDENT(1)));
        assert_int_equal(told(tools, "Network.requestWillBeSent"), 1); /* the page itself */
        want_none(tools, cases + i, "loaded besides", "performance.getEntriesByType('resource').map(e => e.name)");
    }
}

/* That the above sees what it looks for: a page that reaches out and fails is told of. */
TEST(what_reaches_out_is_noticed)
{
    struct devtools *tools = begin();
    char *folder = folder_new(), path[512];

    file_put(path_in(path, folder, "bad.html"), "<!DOCTYPE html><title>bad</title><img src='http://pictures.invalid/a.png'>"
                                                "<script>console.error('no'); nothing();</script>");
    devtools_open(tools, path, DESK, DESK_HEIGHT);
    assert_int_equal(told(tools, "Network.requestWillBeSent"), 2);
    assert_true(told(tools, "Log.entryAdded") > 0);
    assert_true(told(tools, "Runtime.consoleAPICalled") > 0);
    assert_true(told(tools, "Runtime.exceptionThrown") > 0);
    folder_remove(folder);
}

TEST(every_anchor_leads_somewhere)
{
    struct devtools *tools = begin();

    for (size_t i = 0; i < CASES; i++) {
        open_case(tools, cases + i, DESK, DESK_HEIGHT);
        assert_true(number(tools, "document.links.length") >= 7);
        want_none(tools, cases + i, "links that lead nowhere",
                  "[...document.querySelectorAll('[href]')].map(e => e.getAttribute('href'))"
                  ".filter(h => !(h[0] == '#' && document.getElementById(h.slice(1))))");
    }
}

/* A phone scrolls down only; what is wider scrolls within itself. */
TEST(it_fits_a_phone)
{
    static const int widths[] = { 320, PHONE };
    struct devtools *tools = begin();

    for (size_t i = 0; i < CASES; i++)
        for (size_t w = 0; w < sizeof widths / sizeof widths[0]; w++) {
            open_case(tools, cases + i, widths[w], PHONE_HEIGHT);
            row_check(cases[i].name, number(tools, "document.documentElement.scrollWidth"), widths[w], 0, "property: no sideways scrolling");
            want_none(tools, cases + i, "stands out of the page",
                      "[...document.querySelectorAll('h1,h2,h3,p,li,nav,.wide,figure')]"
                      ".filter(e => e.getBoundingClientRect().right > innerWidth + 1).map(e => e.textContent.slice(0, 60))");
            want_none(tools, cases + i, "too small to read",
                      "[...document.querySelectorAll('h1,h2,h3,p,li,td,th,caption,figcaption')]"
                      ".filter(e => parseFloat(getComputedStyle(e).fontSize) < 12).map(e => e.textContent.slice(0, 60))");
        }
    row_done();
}

/* WCAG 2.1, 1.4.3: 4.5 : 1. What lies under a text of a drawing is the last shape painted before it that holds its middle. */
static const char contrast[] =
    "(() => {\n"
    "const rgb = c => c.match(/[\\d.]+/g).map(Number);\n"
    "const part = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;\n"
    "const light = c => 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);\n"
    "const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((m, n) => n - m); return (x + 0.05) / (y + 0.05) };\n"
    "const white = [255, 255, 255];\n"
    "const painted = e => { const c = rgb(getComputedStyle(e).backgroundColor);\n"
    "    return c.length < 4 || c[3] > 0 ? c : e.parentElement ? painted(e.parentElement) : white };\n"
    "const under = text => { const box = text.getBoundingClientRect(); let ground = white;\n"
    "    for (const s of text.ownerSVGElement.querySelectorAll('rect,path,polygon,circle,ellipse')) {\n"
    "        if (!(s.compareDocumentPosition(text) & 4)) break;\n"
    "        const fill = getComputedStyle(s).fill; if (fill == 'none') continue;\n"
    "        const at = new DOMPoint(box.x + box.width / 2, box.y + box.height / 2).matrixTransform(s.getScreenCTM().inverse());\n"
    "        if (s.isPointInFill(at)) ground = rgb(fill) }\n"
    "    return ground };\n"
    "const bad = new Set(); let looked = 0;\n"
    "const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);\n"
    "for (let n; n = walk.nextNode();) {\n"
    "    const e = n.parentElement; if (!n.data.trim() || !e.getClientRects().length) continue;\n"
    "    const drawn = e.ownerSVGElement, style = getComputedStyle(e);\n"
    "    const r = ratio(rgb(drawn ? style.fill : style.color), drawn ? under(e) : painted(e)); looked++;\n"
    "    if (r < 4.5) bad.add(r.toFixed(2) + ' ' + (drawn ? style.fill : style.color) + ' ' + n.data.trim().slice(0, 40)) }\n"
    "return looked > 100 ? [...bad] : ['only ' + looked + ' texts found'] })()";

TEST(every_text_stands_out_from_its_ground)
{
    struct devtools *tools = begin();

    for (size_t i = 0; i < CASES; i++) {
        open_case(tools, cases + i, DESK, DESK_HEIGHT);
        want_none(tools, cases + i, "contrast below 4.5", contrast);
    }
}

/* ---- on paper ---- */

static void print_to(struct devtools *tools, const struct paper *paper, const char *path)
{
    json_t *answer = devtools_call(tools, "Page.printToPDF",
                                   json_pack("{s:f, s:f, s:b, s:b}", "paperWidth", paper->width, "paperHeight", paper->height,
                                             "preferCSSPageSize", 1, "printBackground", 0));

    devtools_save(json_string_value(json_object_get(answer, "data")), path);
    json_decref(answer);
}

/* Texts of all headings and captions, one a line. */
static char *headings(struct devtools *tools)
{
    json_t *value = devtools_value(tools, "'\\n' + [...document.querySelectorAll('h2,h3,caption')]"
                                          ".map(e => e.textContent.replace(/\\s+/g, ' ').trim()).join('\\n') + '\\n'");
    char *text = strdup(json_string_value(value));

    assert_non_null(text);
    json_decref(value);
    return text;
}

/* The page that is read. */
struct sheet_seen {
    int number, lines; /* of text, but for the foot of the page */
    int feet;
    char last[200];
};

/* "Thursday Pelican: electrical system report      3 / 17" in the lower margin. */
static int is_foot(const char *line, int page)
{
    const char *number = strstr(line, "electrical system report ");
    int found, pages, used = 0;

    return number && sscanf(number, "electrical system report %d / %d %n", &found, &pages, &used) == 2 &&
           !number[used] && found == page;
}

static void sheet_line(struct sheet_seen *sheet, const char *text)
{
    sheet->lines++;
    snprintf(sheet->last, sizeof sheet->last, "%s", text);
}

static void sheet_ends(struct sheet_seen *sheet, const char *document, const char *titles)
{
    char line[210];

    sheet->number++;
    if (sheet->feet != 1)
        fail_msg("%s: page %d has %d feet that say whose it is, and its number", document, sheet->number, sheet->feet);
    if (!sheet->lines)
        fail_msg("%s: page %d is empty", document, sheet->number);
    snprintf(line, sizeof line, "\n%s\n", sheet->last);
    if (strstr(titles, line))
        fail_msg("%s: page %d ends with the heading \"%s\"", document, sheet->number, sheet->last);
    sheet->lines = sheet->feet = 0;
    sheet->last[0] = '\0';
}

/* Looks at each sheet as its text; returns how many there are. */
static int sheets_look(const char *document, const char *titles)
{
    char command[700], line[2000];
    struct sheet_seen sheet = { 0 };
    FILE *text;

    snprintf(command, sizeof command, "pdftotext -layout '%s' -", document);
    assert_non_null(text = popen(command, "r"));
    while (fgets(line, sizeof line, text)) {
        char *begin = line;

        for (; *begin == '\f'; begin++)
            sheet_ends(&sheet, document, titles);
        begin += strspn(begin, " ");
        begin[strcspn(begin, "\n\f")] = '\0';
        if (is_foot(begin, sheet.number + 1))
            sheet.feet++;
        else if (*begin)
            sheet_line(&sheet, begin);
    }
    if (sheet.lines)
        sheet_ends(&sheet, document, titles);
    assert_int_equal(pclose(text), 0);
    return sheet.number;
}

static void emulate(struct devtools *tools, const char *media, int width)
{
    json_decref(devtools_call(tools, "Emulation.setEmulatedMedia", json_pack("{s:s}", "media", media)));
    json_decref(devtools_call(tools, "Emulation.setDeviceMetricsOverride",
                              json_pack("{s:i, s:i, s:i, s:b}", "width", width, "height", 1000, "deviceScaleFactor", 1, "mobile", 0)));
}

TEST(it_prints_on_both_papers)
{
    struct devtools *tools = begin();

    for (size_t i = 0; i < CASES; i++)
        for (size_t p = 0; p < PAPERS; p++) {
            char path[512], ending[32], *titles;
            int sheets;

            open_case(tools, cases + i, DESK, DESK_HEIGHT);
            titles = headings(tools);
            snprintf(ending, sizeof ending, "%s.pdf", papers[p].name);
            print_to(tools, papers + p, picture_path(path, cases + i, ending));
            sheets = sheets_look(path, titles);
            if (sheets < 8 || sheets > 40)
                fail_msg("%s: %d pages", path, sheets);
            emulate(tools, "print", papers[p].column);
            want_none(tools, cases + i, "wider than the paper",
                      "[...document.querySelectorAll('table,svg')].filter(e => e.getBoundingClientRect().right > innerWidth + 1)"
                      ".map(e => innerWidth + ' ' + e.getBoundingClientRect().right + ' ' + e.textContent.slice(0, 60))");
            free(titles);
        }
}

/* Nothing to hold against each other: for the eye. */
TEST(pictures_are_taken)
{
    static const struct { const char *name; int width, height; } screens[] = {
        { "phone.png", PHONE, PHONE_HEIGHT }, { "desk.png", DESK, DESK_HEIGHT } };
    struct devtools *tools = begin();

    for (size_t i = 0; i < CASES; i++)
        for (size_t s = 0; s < sizeof screens / sizeof screens[0]; s++) {
            char path[512];
            struct stat about;
            json_t *answer;

            open_case(tools, cases + i, screens[s].width, screens[s].height);
            answer = devtools_call(tools, "Page.captureScreenshot", NULL);
            devtools_save(json_string_value(json_object_get(answer, "data")), picture_path(path, cases + i, screens[s].name));
            assert_int_equal(stat(path, &about), 0);
            assert_true(about.st_size > 20000); /* an empty page has a tenth of that */
            json_decref(answer);
        }
}

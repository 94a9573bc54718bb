/* plot_page.c - opening a libplot page with nothing left to the environment, and mending what it writes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/plot_kit.h"

#include <locale.h>
#include <plot.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"

#ifdef __has_feature /* clang's way to say what gcc says by itself */
#if __has_feature(address_sanitizer)
#define __SANITIZE_ADDRESS__ 1
#endif
#endif
#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/lsan_interface.h>

/*
 * libplot writes into memory. What comes out is put right before it goes to the stream: an SVG gets
 * a head of its own with title and description, UTF-8 and ids that differ between pictures;
 * PostScript and PNG lose the time of making. So the same result draws the same bytes on any day,
 * which tests/check/plots-current relies on.
 */

/* libplot forgets some 200 bytes a page: copies of its parameters, a table of colours, the head of a PNG. */
__attribute__((visibility("default"))) const char *__lsan_default_suppressions(void)
{
    return "leak:libplot\nleak:png_create_info_struct\n";
}

__attribute__((visibility("default"))) const char *__lsan_default_options(void)
{
    return "print_suppressions=0";
}
#endif

static const char *const type_names[] = { [PLOT_SVG] = "svg", [PLOT_PNG] = "png", [PLOT_PS] = "ps" };

/* Whatever is not set here libplot would take from an environment variable of the same name. */
static const struct {
    const char *name, *value;
} settings[] = {
    /* clang-format off */
    { "BG_COLOR", "white" },
    { "BITMAPSIZE", "2400x1350" },
    { "EMULATE_COLOR", "no" },
    { "INTERLACE", "no" },
    { "MAX_LINE_LENGTH", "1000000" }, /* a polyline is cut into pieces of so many points */
    { "META_PORTABLE", "no" },
    { "PNM_PORTABLE", "no" },
    { "TRANSPARENT_COLOR", "none" },
    { "USE_DOUBLE_BUFFERING", "no" },
    { "VANISH_ON_DELETE", "no" },
    /* clang-format on */
};

static int set(struct page *page, const char *name, const char *value)
{
    /* libplot copies the text but asks for it without const */
    return pl_setplparam(page->params, name, (void *)(uintptr_t)value) >= 0;
}

/* A4; PostScript lies along the long side, the others fill their own page. */
static int set_all(struct page *page)
{
    int ps = page->format == PLOT_PS, done = 1;

    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++)
        done &= set(page, settings[i].name, settings[i].value);
    done &= set(page, "ROTATION", ps ? "90" : "0");
    return done & set(page, "PAGESIZE",
                      ps ? "a4,xsize=15.1875cm,ysize=27cm,xoffset=0cm,yoffset=0cm"
                         : "a4,xsize=12in,ysize=6.75in,xoffset=0in,yoffset=0in");
}

/* 0 where libplot or memory fails; shut then takes away what there is. */
static int open_plotter(struct page *page)
{
    page->params = pl_newplparams();
    page->memory = open_memstream(&page->bytes, &page->length);
    if (!page->params || !page->memory || !set_all(page))
        return 0;
    page->plotter = pl_newpl_r(type_names[page->format], NULL, page->memory, NULL, page->params);
    return page->plotter && pl_openpl_r(page->plotter) >= 0 &&
           pl_fspace_r(page->plotter, 0, 0, PAGE_WIDTH, PAGE_HEIGHT) >= 0 && pl_erase_r(page->plotter) >= 0;
}

/* Plotter, stream and locale go; the bytes stay. 0 where libplot or the stream failed. */
static int shut(struct page *page)
{
    int done = page->plotter != NULL;

    if (page->plotter) {
        done &= pl_closepl_r(page->plotter) >= 0;
        done &= pl_deletepl_r(page->plotter) >= 0;
    }
    if (page->params)
        pl_deleteplparams(page->params);
    if (page->memory)
        done &= fclose(page->memory) == 0;
    if (page->locale) {
        uselocale(page->before);
        freelocale(page->locale);
    }
    page->plotter = NULL;
    return done;
}

enum status page_open(struct page *page, struct arena *arena, enum plot_format format)
{
    *page = (struct page){ .arena = arena, .format = format };
    page->locale = newlocale(LC_ALL_MASK, "C", (locale_t)0); /* libplot writes numbers as the locale does */
    if (page->locale)
        page->before = uselocale(page->locale);
    if (open_plotter(page))
        return STATUS_OK;
    shut(page);
    free(page->bytes);
    return STATUS_NO_MEMORY;
}

/* ---- SVG ---- */

/* FNV-1a, so that the ids of two different pictures in one document differ. */
static unsigned hash(const char *bytes, size_t length)
{
    uint32_t h = 2166136261u;

    for (size_t i = 0; i < length; i++)
        h = (h ^ (unsigned char)bytes[i]) * 16777619u;
    return h;
}

/* For text in SVG; control characters have no place in XML. */
static void put_escaped(FILE *out, const char *text)
{
    for (; *text; text++) {
        if (*text == '&')
            fputs("&amp;", out);
        else if (*text == '<')
            fputs("&lt;", out);
        else if (*text == '>')
            fputs("&gt;", out);
        else if ((unsigned char)*text >= 0x20)
            fputc(*text, out);
    }
}

/* libplot writes Latin-1. */
static void put_utf8(FILE *out, const char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)bytes[i];

        if (c >= 0x80)
            putc(0xC0 | c >> 6, out);
        putc(c < 0x80 ? c : 0x80 | (c & 0x3F), out);
    }
}

/* The drawing as libplot wrote it, with the length that each text was laid out for. */
static void put_drawing(FILE *out, const struct page *page, const char *p, const char *end)
{
    static const char mark[] = "<text ";
    const char *next;

    for (size_t i = 0; i < page->length_count && (next = memmem(p, (size_t)(end - p), mark, sizeof mark - 1));
         i++) {
        next += sizeof mark - 1;
        put_utf8(out, p, (size_t)(next - p));
        fprintf(out, "textLength=\"%.1f\" lengthAdjust=\"spacingAndGlyphs\" ", page->lengths[i]);
        p = next;
    }
    put_utf8(out, p, (size_t)(end - p));
}

/*
 * libplot's own head has a unit page stretched without regard to proportion, a transform of five digits, the
 * same ids in every file, no title of ours and an encoding of its own: it is written anew, the drawing
 * itself is kept. 0 where libplot wrote something else than expected.
 */
static int put_svg(FILE *out, const struct page *page, const char *name, const char *title, const char *twin)
{
    static const char mark[] = "<g id=\"content\" transform=\"";
    const char *content = strstr(page->bytes, mark),
               *rest = content ? strchr(content + sizeof mark - 1, '"') : NULL;
    unsigned id = hash(page->bytes, page->length);

    if (!rest)
        return 0;
    fprintf(out,
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"%s-%08x\" width=\"%d\" height=\"%d\" "
            "viewBox=\"0 0 %d %d\" role=\"img\" aria-labelledby=\"%s-%08x-title %s-%08x-desc\">\n"
            "<title id=\"%s-%08x-title\">",
            name, id, PAGE_WIDTH, PAGE_HEIGHT, PAGE_WIDTH, PAGE_HEIGHT, name, id, name, id, name, id);
    put_escaped(out, title);
    fprintf(out, "</title>\n<desc id=\"%s-%08x-desc\">", name, id);
    put_escaped(out, twin);
    fprintf(out,
            "</desc>\n<rect width=\"%d\" height=\"%d\" fill=\"white\"/>\n"
            "<g transform=\"translate(0,%d) scale(1,-1)",
            PAGE_WIDTH, PAGE_HEIGHT, PAGE_HEIGHT);
    put_drawing(out, page, rest, page->bytes + page->length);
    return 1;
}

/* ---- PostScript ---- */

/* The date of making would make each run's file differ, and the title says nothing. */
static int put_ps(FILE *out, const struct page *page, const char *name)
{
    static const char date[] = "%%CreationDate", title[] = "%%Title";
    const char *p = page->bytes, *end = page->bytes + page->length;

    while (p < end) {
        const char *stop = memchr(p, '\n', (size_t)(end - p));
        size_t length = stop ? (size_t)(stop + 1 - p) : (size_t)(end - p);

        if (length > sizeof title && memcmp(p, title, sizeof title - 1) == 0)
            fprintf(out, "%%%%Title: bridgedeck %s\n", name);
        else if (length < sizeof date || memcmp(p, date, sizeof date - 1) != 0)
            fwrite(p, 1, length, out);
        p += length;
    }
    return 1;
}

/* ---- PNG ---- */

/* Four bytes of PNG, most significant first. */
static size_t big_endian(const char *at)
{
    const unsigned char *b = (const unsigned char *)at;

    return (size_t)b[0] << 24 | (size_t)b[1] << 16 | (size_t)b[2] << 8 | b[3];
}

/*
 * libplot's text chunks hold the time of making and nothing of ours: they are left out. A chunk is its
 * length, four letters, so many bytes and a checksum of four (PNG specification, section 5.3).
 */
static int put_png(FILE *out, const struct page *page)
{
    enum { SIGNATURE = 8, FRAME = 12 };
    const char *p = page->bytes + SIGNATURE, *end = page->bytes + page->length;

    if (page->length < SIGNATURE || fwrite(page->bytes, 1, SIGNATURE, out) != SIGNATURE)
        return 0;
    while (end - p >= FRAME) {
        size_t length = big_endian(p) + FRAME;

        if (length > (size_t)(end - p))
            return 0;
        if (memcmp(p + 4, "tEXt", 4) != 0 && fwrite(p, 1, length, out) != length)
            return 0;
        p += length;
    }
    return p == end;
}

static int put(FILE *out, const struct page *page, const char *name, const char *title, const char *twin)
{
    if (page->format == PLOT_SVG)
        return put_svg(out, page, name, title, twin);
    if (page->format == PLOT_PS)
        return put_ps(out, page, name);
    return put_png(out, page);
}

enum status page_close(struct page *page, FILE *out, const char *name, const char *title, const char *twin)
{
    enum status status = STATUS_OK;

    if (!shut(page) || page->failed || !title || !twin)
        status = STATUS_NO_MEMORY;
    else if (!put(out, page, name, title, twin) || fflush(out) != 0 || ferror(out))
        status = STATUS_UNWRITABLE;
    free(page->bytes);
    page->bytes = NULL;
    return status;
}

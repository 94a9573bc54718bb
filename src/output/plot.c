/* plot.c - one page from opening to closing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/plot.h"

#include <string.h>
#include <strings.h>

#include "base/arena.h"
#include "output/plot_draw.h"
#include "output/plot_kit.h"

int plot_format_of(const char *path, enum plot_format *format)
{
    static const struct {
        const char *ending;
        enum plot_format format;
    } endings[] = {
        { ".svg", PLOT_SVG },
        { ".png", PLOT_PNG },
        { ".ps", PLOT_PS },
        { ".eps", PLOT_PS },
    };
    const char *dot = strrchr(path, '.');

    for (size_t i = 0; dot && i < sizeof endings / sizeof endings[0]; i++) {
        if (strcasecmp(dot, endings[i].ending) == 0) {
            *format = endings[i].format;
            return 0;
        }
    }
    return -1;
}

/* The same three steps for every picture; the functions differ by the type of the result. */
#define DRAW_PAGE(out, format, name, result, draw, title, twin)                                              \
    do {                                                                                                     \
        struct arena *arena = arena_new();                                                                   \
        struct page page;                                                                                    \
        enum status status = arena ? page_open(&page, arena, format) : STATUS_NO_MEMORY;                     \
                                                                                                             \
        if (status == STATUS_OK) {                                                                           \
            draw(&page, result);                                                                             \
            status = page_close(&page, out, name, title(&page, result), twin(arena, result));                \
        }                                                                                                    \
        arena_free(arena);                                                                                   \
        return status;                                                                                       \
    } while (0)

enum status plot_week(FILE *out, enum plot_format format, const struct week *week)
{
    DRAW_PAGE(out, format, "week", week, week_draw, week_title, plot_twin_week);
}

enum status plot_balance(FILE *out, enum plot_format format, const struct balance *balance)
{
    DRAW_PAGE(out, format, "balance", balance, balance_draw, balance_title, plot_twin_balance);
}

enum status plot_sun(FILE *out, enum plot_format format, const struct sun_day *day)
{
    DRAW_PAGE(out, format, "sun", day, sun_draw, sun_title, plot_twin_sun);
}

enum status plot_compare(FILE *out, enum plot_format format, const struct compare *compare)
{
    DRAW_PAGE(out, format, "compare", compare, compare_draw, compare_title, plot_twin_compare);
}

enum status plot_cables(FILE *out, enum plot_format format, const struct circuit *circuit)
{
    DRAW_PAGE(out, format, "cables", circuit, cables_draw, cables_title, plot_twin_cables);
}

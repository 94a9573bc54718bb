/* words.c - dates and places as people write them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/words.h"

#include "base/arena.h"
#include "base/calendar.h"
#include "base/text.h"
#include "engine/result.h"

const char *month_name(int month)
{
    static const char *const names[] = {
        "January", "February", "March",     "April",   "May",      "June",
        "July",    "August",   "September", "October", "November", "December"
    };

    return names[(month + 11) % 12];
}

const char *dates_text(struct arena *arena, long first, long last)
{
    struct date a = date_of_number(first), b = date_of_number(last);

    if (first == last)
        return arena_print(arena, "%d %s %d", a.day, month_name(a.month), a.year);
    if (a.year != b.year)
        return arena_print(arena, "%d %s %d to %d %s %d", a.day, month_name(a.month), a.year, b.day,
                           month_name(b.month), b.year);
    if (a.month != b.month)
        return arena_print(arena, "%d %s to %d %s %d", a.day, month_name(a.month), b.day, month_name(b.month),
                           b.year);
    return arena_print(arena, "%d to %d %s %d", a.day, b.day, month_name(b.month), b.year);
}

const char *listed(struct arena *arena, const char *a, const char *b, const char *c, const char *d)
{
    const char *parts[] = { a, b, c, d }, *all = "";

    for (int i = 0; i < 4; i++) {
        if (parts[i] && *parts[i])
            all = arena_print(arena, "%s%s%s", all, *all ? ", " : "", parts[i]);
        if (!all)
            return NULL;
    }
    return all;
}

const char *number_text(struct arena *arena, double value, int decimals)
{
    char text[TEXT_FIXED_SIZE];

    return arena_copy(arena, text, text_fixed(text, value, decimals));
}

const char *week_subtitle(struct arena *arena, const struct week *week)
{
    const struct day_mark *day = week->days;
    const char *dates = NULL;
    long first;

    if (week->day_count) {
        first = date_number((struct date){ day->year, day->month, day->day });
        dates = dates_text(arena, first, first + (long)week->day_count - 1);
    }
    return listed(arena, week->boat, week->place, dates, week->bank);
}

/* weather.c - a record of daily sun: CSV by days, or an hourly EPW file summed to days.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "base/calendar.h"
#include "base/fileio.h"
#include "profile/readers.h"

/*
 * Two formats, told by the first line:
 *
 *   date,irradiation_kwh_m2,air_c        a line for each day, sorted; the air may be left out
 *   LOCATION,...                         EnergyPlus weather: hours, summed here to days
 *
 * Faults become diagnostics with the line of the weather file; after FAULTS_SHOWN of them it is read no
 * further.
 */

enum { COLUMNS = 40, FAULTS_SHOWN = 20 };

/* A file being read, and the days it has given so far. */
struct weather_file {
    struct reading *r;
    const char *path;
    struct span rest;
    struct span line;
    int number;
    struct span columns[COLUMNS]; /* of the present line, trimmed */
    size_t column_count;
    int faults;
    struct weather_day *days;
    size_t count, room;
};

/* An error with its line; the source is shown only where its bytes can be. */
static void weather_fault(struct weather_file *w, struct span where, const char *message, const char *hint)
{
    const char *source = arena_copy(w->r->arena, w->line.at, w->line.length);
    int inside = source && where.at >= w->line.at && where.at <= w->line.at + w->line.length &&
                 !memchr(w->line.at, 0, w->line.length) && !text_utf8_fault(w->line.at, w->line.length);

    w->faults++;
    diag_add(w->r->diags,
             &(struct diag){
                 .severity = DIAG_ERROR,
                 .file = w->path,
                 .line = w->number,
                 .source = inside ? source : NULL,
                 .column = inside ? (int)text_characters(w->line.at, (size_t)(where.at - w->line.at)) + 1 : 0,
                 .width = inside ? (int)text_characters(where.at, where.length) : 0,
                 .message = message,
                 .hint = hint });
}

/* The next line that is not empty, cut into columns; 0 at the end, or when enough faults were shown. */
static int weather_line(struct weather_file *w)
{
    struct span rest, piece;

    do {
        if (w->faults >= FAULTS_SHOWN || !w->rest.length || !span_split(&w->rest, '\n', &w->line))
            return 0;
        w->number++;
        w->line = span_trim(w->line);
    } while (w->line.length == 0);
    rest = w->line;
    w->column_count = 0;
    while (w->column_count < COLUMNS && span_split(&rest, ',', &piece)) {
        piece = span_trim(piece);
        w->columns[w->column_count++] = piece.length ? piece : (struct span){ piece.at, 0 };
    }
    return 1;
}

/* A plain number in a column, within bounds. */
static int weather_number(struct weather_file *w, size_t column, double low, double high, double *out)
{
    struct cursor c;

    if (column >= w->column_count) {
        weather_fault(w, w->line,
                      arena_print(w->r->arena, "has %zu columns, and one is missing", w->column_count), NULL);
        return 0;
    }
    c = cursor_make(w->r->arena, w->columns[column]);
    if (!cursor_number(&c, out, NULL) || !cursor_close(&c, NULL)) {
        weather_fault(w, w->columns[column], c.fault.message, c.fault.hint);
        return 0;
    }
    if (*out < low || *out > high) {
        weather_fault(w, w->columns[column], "is out of bounds",
                      arena_print(w->r->arena, "%g..%g is allowed", low, high));
        return 0;
    }
    return 1;
}

static struct weather_day *day_push(struct weather_file *w)
{
    void *items = w->days;
    struct weather_day *day = arena_push(w->r->arena, &items, &w->count, &w->room, sizeof *day);

    w->days = items;
    if (!day)
        w->r->status = STATUS_NO_MEMORY;
    return day;
}

/* --- days by CSV --- */

struct csv_columns {
    size_t date, irradiation, air;
};

/* Where the columns stand, in any order; air may be missing. 0: said, and the file is not read. */
static int csv_head(struct weather_file *w, struct csv_columns *at)
{
    *at = (struct csv_columns){ COLUMNS, COLUMNS, COLUMNS };
    for (size_t i = 0; i < w->column_count; i++) {
        if (span_is_word(w->columns[i], "date"))
            at->date = i;
        else if (span_is_word(w->columns[i], "irradiation_kwh_m2"))
            at->irradiation = i;
        else if (span_is_word(w->columns[i], "air_c"))
            at->air = i;
    }
    if (at->date < COLUMNS && at->irradiation < COLUMNS)
        return 1;
    weather_fault(w, w->line, "is no head of a weather file",
                  "write date,irradiation_kwh_m2,air_c (the last if known)");
    return 0;
}

/* Days must rise: a file sorted otherwise is more likely a mistake than a wish. */
static void csv_row(struct weather_file *w, const struct csv_columns *at)
{
    struct weather_day day = { 0 }, *slot;
    struct cursor c;

    c = cursor_make(w->r->arena, at->date < w->column_count ? w->columns[at->date] : w->line);
    if (!cursor_date(&c, &day.year, &day.month, &day.day) || !cursor_close(&c, NULL)) {
        weather_fault(w, c.fault.where, c.fault.message, c.fault.hint);
        return;
    }
    if (!weather_number(w, at->irradiation, 0, 15, &day.irradiation))
        return;
    if (at->air < w->column_count && w->columns[at->air].length) {
        if (!weather_number(w, at->air, -60, 60, &day.air_temperature))
            return;
        day.has_temperature = 1;
    }
    if (w->count && date_number((struct date){ day.year, day.month, day.day }) <=
                        date_number((struct date){ w->days[w->count - 1].year, w->days[w->count - 1].month,
                                                   w->days[w->count - 1].day })) {
        weather_fault(w, w->columns[at->date], "is not after the day above it",
                      "sort the days; one line for each");
        return;
    }
    if ((slot = day_push(w)))
        *slot = day;
}

static void csv_read(struct weather_file *w)
{
    struct csv_columns at;

    if (!csv_head(w, &at))
        return;
    while (w->r->status == STATUS_OK && weather_line(w))
        csv_row(w, &at);
}

/* --- hours by EPW --- */

/* EnergyPlus weather format: columns of a data line, from 0. */
enum { EPW_YEAR = 0, EPW_MONTH = 1, EPW_DAY = 2, EPW_HOUR = 3, EPW_DRY_BULB = 6, EPW_GLOBAL = 13 };
#define EPW_AIR_MISSING    99.9 /* [C] */
#define EPW_GLOBAL_MISSING 9999 /* [Wh/m2] */

/* Adds one hour to its day: radiation is summed [kWh/m2], air averaged [C]. A missing hour of radiation
 * would make a dark day, so it is a fault; a missing temperature only says that the day has none. */
static void epw_row(struct weather_file *w, int *hours)
{
    double year, month, day, hour, air, global;
    struct weather_day *last;

    if (!weather_number(w, EPW_YEAR, 1900, 2099, &year) || !weather_number(w, EPW_MONTH, 1, 12, &month) ||
        !weather_number(w, EPW_DAY, 1, 31, &day) || !weather_number(w, EPW_HOUR, 0, 24, &hour) ||
        !weather_number(w, EPW_DRY_BULB, -70, EPW_AIR_MISSING, &air) ||
        !weather_number(w, EPW_GLOBAL, 0, EPW_GLOBAL_MISSING, &global))
        return;
    if (global >= EPW_GLOBAL_MISSING) {
        weather_fault(w, w->columns[EPW_GLOBAL], "the global radiation of this hour is missing", NULL);
        return;
    }
    last = w->count ? &w->days[w->count - 1] : NULL;
    if (!last || last->month != (int)month || last->day != (int)day) {
        if (!(last = day_push(w)))
            return;
        *last = (struct weather_day){
            .year = (int)year, .month = (int)month, .day = (int)day, .has_temperature = 1
        };
        *hours = 0;
    }
    ++*hours;
    last->irradiation += global / 1000;
    last->has_temperature &= air < EPW_AIR_MISSING;
    last->air_temperature += (air - last->air_temperature) / *hours; /* the mean so far */
}

/* Hours begin after the line of data periods; what stands before it concerns buildings. */
static void epw_read(struct weather_file *w)
{
    int hours = 0, begun = 0;

    while (!begun && weather_line(w))
        begun = span_starts(w->line, "DATA PERIODS");
    if (!begun) {
        weather_fault(w, w->line, "ends before its DATA PERIODS line", "is the file whole?");
        return;
    }
    while (w->r->status == STATUS_OK && weather_line(w))
        epw_row(w, &hours);
}

/* The file decides by its first line which format it is. Faults in it are
 * remarks of their own, so 1 all the same. */
int read_weather(struct reading *r, struct cursor *c, void *object)
{
    struct site *site = object;
    struct span word = cursor_rest(c);
    const char *name = arena_copy(r->arena, word.at, word.length);
    struct weather_file w = { .r = r };
    size_t before = r->diags->count;

    c->at = c->end;
    w.path = name ? file_path_beside(r->arena, r->entry->place.file, name) : NULL;
    if (!w.path)
        return cursor_fail(c, word, NULL, NULL);
    if (file_read(&w.rest, r->arena, w.path, FILE_SIZE_LIMIT, r->diags) != STATUS_OK)
        return r->diags->count > before ? cursor_fail(c, word, "names a file that cannot be used", NULL)
                                        : cursor_fail(c, word, NULL, NULL);
    site->weather_file = w.path;
    if (!weather_line(&w))
        weather_fault(&w, w.line, "holds nothing", NULL);
    else if (span_starts(w.line, "LOCATION,"))
        epw_read(&w);
    else
        csv_read(&w);
    if (!w.faults && !w.count)
        weather_fault(&w, w.line, "holds no day", NULL);
    site->weather = w.days;
    site->weather_count = w.count;
    return 1;
}

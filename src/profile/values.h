/* values.h - the small language behind the equals sign: numbers with units, ranges, times, dates.
 * Layer: profile.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every function reads from a cursor and moves it on. 1: read. 0: not so, and the cursor's fault says why;
 * the first fault stays. Texts live in the arena; where memory ran out, a fault's message may be NULL.
 */
#ifndef BD_VALUES_H
#define BD_VALUES_H

#include "base/range.h"
#include "base/text.h"
#include "base/units.h"
#include "boat/plan.h"

struct arena;

/* What is wrong with a value: where in it, what was found, what would do. */
struct fault {
    struct span where;
    const char *message;
    const char *hint; /* NULL: none */
};

struct cursor {
    struct arena *arena;
    struct span whole; /* the value, trimmed */
    const char *at, *end;
    int failed;
    struct fault fault;
};

/* A cursor at the beginning of a value, which is trimmed and borrowed. */
struct cursor cursor_make(struct arena *arena, struct span value);

/* Notes a fault at `where` unless there is one; message and hint are kept as they are. Always 0. */
int cursor_fail(struct cursor *c, struct span where, const char *message, const char *hint);

/* What is still unread, trimmed; and whether nothing is. */
struct span cursor_rest(const struct cursor *c);
int cursor_ended(struct cursor *c);

/* 1 where everything was read; else a fault that names the remains and, as a hint, the expected form. */
int cursor_close(struct cursor *c, const char *form);

/* Skips blanks and one word (letters; case ignored) or mark if it stands there; 0 without a fault if not. */
int cursor_word(struct cursor *c, const char *word);
int cursor_mark(struct cursor *c, const char *mark);

/* A plain number, at most 15 digits and an exponent, a point whatever the locale. `form` is the hint where
 * there is none: "write 5 m". A decimal comma is a fault that says so. */
int cursor_number(struct cursor *c, double *out, const char *form);

/*
 * A number with its unit, or a range of them: "45 W", "40..60 W", "5.5 m +/- 20 %", "-10..-5 C".
 *
 *   quantity  which units will do; a bare quantity takes none
 *   out       value (the middle), low and high, in the stored unit of the quantity; origin is left alone
 *
 * The unit may stand behind both ends or the upper only. Checked: tests/profile/test_values.c.
 */
int cursor_range(struct cursor *c, enum quantity quantity, struct range *out);

/* As cursor_range where either of two quantities will do; *got says which was typed. A bare number is
 * refused. */
int cursor_range_either(struct cursor *c, enum quantity one, enum quantity other, struct range *out,
                        enum quantity *got);

/* "07:30", "24:00", "sunrise", "sunset+0:30". */
int cursor_day_time(struct cursor *c, struct day_time *out);

/* "18:00-08:00", "sunset-23:00", "sunset-0:30-sunrise", "18:00 to sunrise". */
int cursor_time_span(struct cursor *c, struct time_span *out);

/* A length of time [s] as a plain number: "4 min". */
int cursor_duration(struct cursor *c, struct range *out);

/* "2026-07-06" */
int cursor_date(struct cursor *c, int *year, int *month, int *day);

/* "38.6 N", "-38.6 deg"; plus and minus are the hemisphere letters, limit the largest size [deg]. */
int cursor_place_angle(struct cursor *c, char plus, char minus, double limit, struct range *out);

/* "35 mm2", "2 AWG", "2/0 AWG", "8 SAE", "19 x 1.35 mm" (strands). In [m2]; *series is an enum area_series.
 */
int cursor_area(struct cursor *c, struct range *out, int *series);

/* A value as the user would type it: "12.5 A", "50 %"; 3 to 5 decimals by its size, zeros
 * left off. NULL without memory. */
const char *value_text(struct arena *arena, double value, enum quantity quantity);

#endif

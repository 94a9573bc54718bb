/* made.h - invented results for tests of the output: a crude week, a balance, a size, a day of sun.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_MADE_H
#define BD_TEST_MADE_H

#include "engine/result.h"

struct arena;

/* What to invent; zeroed fields are nothing of the kind, days 0: seven. */
struct made_week {
    const char *boat, *place, *kinds[3]; /* kinds of day, in turn; NULL: sailing, anchor, motoring */
    size_t days;
    double step_s;     /* 0: 60 */
    double bank_wh;    /* 0: an invented 400 Ah at 12 V */
    double start;      /* [-] charge at the start */
    double floor;      /* [-] */
    double solar_w;    /* peak */
    double load_w;     /* mean */
    double engine_w;   /* alternators while an engine runs, 09:00-11:00 on every third day */
    double charger_w;  /* 18:00-20:00 on every third day, by generator */
    double latitude;   /* 0: temperate; 90: midnight sun; -90: no sun */
};

const struct week *made_week(struct arena *arena, const struct made_week *how);

/* The one that shows everything: spilled sun, a shortage, engine, generator. */
const struct week *made_full_week(struct arena *arena);

const struct balance *made_balance(struct arena *arena);
const struct size *made_size(struct arena *arena);
const struct sun_day *made_sun_day(struct arena *arena, int polar);

#endif

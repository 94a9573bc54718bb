/* words.h - dates and places as people write them.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_WORDS_H
#define BD_WORDS_H

struct arena;
struct week;

/* "July"; month 1..12. Static. */
const char *month_name(int month); /* "July"; 1..12 */

/* Days from first to last in words, day numbers of base/calendar.h: "6 July 2026", "6 to 12 July 2026", "28
 * June to 4 July 2026", "29 December 2026 to 4 January 2027". NULL without memory. */
const char *dates_text(struct arena *arena, long first, long last);

/* Those texts that are there, with commas between; up to four. NULL without memory. */
const char *listed(struct arena *arena, const char *a, const char *b, const char *c, const char *d);

/* A number with so many decimals, 0 to 17, a point whatever the locale. NULL without memory. */
const char *number_text(struct arena *arena, double value, int decimals);

/* Boat, place, dates and bank of a week, as far as known. NULL without memory. */
const char *week_subtitle(struct arena *arena, const struct week *week);

#endif

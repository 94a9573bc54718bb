/* words.h - dates and places as people write them.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_WORDS_H
#define BD_WORDS_H

struct arena;
struct week;

const char *month_name(int month); /* "July"; 1..12 */

/* "6 July 2026", "6 to 12 July 2026", "28 June to 4 July 2026", "29 December 2026 to 4 January 2027"; day numbers. */
const char *dates_text(struct arena *arena, long first, long last);

/* Those texts that are there, with commas between; up to four. NULL without memory. */
const char *listed(struct arena *arena, const char *a, const char *b, const char *c, const char *d);

/* A number with so many decimals, whatever the locale. */
const char *number_text(struct arena *arena, double value, int decimals);

/* Boat, place, dates and bank of a week, as far as known. */
const char *week_subtitle(struct arena *arena, const struct week *week);

#endif

/* plot_draw.h - what each picture draws on an open page; plot.c opens and closes it, tests look at its
 * labels.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PLOT_DRAW_H
#define BD_PLOT_DRAW_H

struct page;
struct week;
struct balance;
struct sun_day;
struct compare;
struct circuit;

/* Each draws a whole page: title, axes, curves, names. Failures are kept in page->failed. */
void week_draw(struct page *page, const struct week *week);
void balance_draw(struct page *page, const struct balance *balance);
void sun_draw(struct page *page, const struct sun_day *day);
void compare_draw(struct page *page, const struct compare *compare);
void cables_draw(struct page *page, const struct circuit *circuit);

/* The finding that stands as the title; never NULL, "" without memory. */
const char *week_title(struct page *page, const struct week *week);
const char *balance_title(struct page *page, const struct balance *balance);
const char *sun_title(struct page *page, const struct sun_day *day);
const char *compare_title(struct page *page, const struct compare *compare);
const char *cables_title(struct page *page, const struct circuit *circuit);

#endif

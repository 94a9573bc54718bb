/* plot.h - pictures of results, drawn through libplot.  Layer: output.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PLOT_H
#define BD_PLOT_H

#include <stdio.h>

#include "base/status.h"

struct arena;
struct week;
struct balance;
struct sun_day;
struct compare;
struct circuit;

enum plot_format { PLOT_SVG, PLOT_PNG, PLOT_PS };

/* The format that a file name's ending asks for; 0 with *format set, -1 for an ending it does not know. */
int plot_format_of(const char *path, enum plot_format *format);

/*
 * Each draws one page on an open stream; STATUS_UNWRITABLE where libplot or the stream fails,
 * STATUS_NO_MEMORY.
 *
 * What each shows: the week's charge and power; energy in and out of each kind of day; a day of sun; weeks
 * laid over each other. The pages are the same whatever the environment and the locale. Checked:
 * tests/output/test_plots.c, test_plot_compare.c; the committed pictures: tests/check/plots-current.
 */
enum status plot_week(FILE *out, enum plot_format format, const struct week *week);
enum status plot_balance(FILE *out, enum plot_format format, const struct balance *balance);
enum status plot_sun(FILE *out, enum plot_format format, const struct sun_day *day);
enum status plot_compare(FILE *out, enum plot_format format, const struct compare *compare);

/* Volts along the path that loses most of what it may. */
enum status plot_cables(FILE *out, enum plot_format format, const struct circuit *circuit);

/* What the picture shows, in one line of text: for the terminal, and for those who do not see it. NULL: no
 * memory. */
const char *plot_twin_week(struct arena *arena, const struct week *week);
const char *plot_twin_balance(struct arena *arena, const struct balance *balance);
const char *plot_twin_sun(struct arena *arena, const struct sun_day *day);
const char *plot_twin_compare(struct arena *arena, const struct compare *compare);
const char *plot_twin_cables(struct arena *arena, const struct circuit *circuit);

#endif

/* plot_twins.c - what each picture shows, in one line of text.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "base/arena.h"
#include "engine/result.h"
#include "output/cell.h"
#include "output/plot.h"
#include "output/words.h"

/*
 * A picture says nothing to who cannot see it, and a terminal shows none. Each has a twin of one line, made
 * from the same result: it stands in the SVG as its description and under the figure on the page.
 */

/* Appends one more part to a line; wh, hours and the like in few digits. NULL stays NULL. */
static const char *and_then(struct arena *arena, const char *line, const char *part)
{
    return line && part ? arena_print(arena, "%s; %s", line, part) : NULL;
}

/* "2.4 kWh", or "840 Wh" under 1 kWh, between two texts. NULL without memory. */
static const char *energy(struct arena *arena, const char *before, double wh, const char *after)
{
    int kilo = fabs(wh) >= 1000;
    const char *number = number_text(arena, kilo ? wh / 1000 : wh, kilo ? 1 : 0);

    return number ? arena_print(arena, "%s%s %s%s", before, number, kilo ? "kWh" : "Wh", after) : NULL;
}

static const char *percent(struct arena *arena, const char *before, double share, const char *after)
{
    const char *number = number_text(arena, share * 100, 0);

    return number ? arena_print(arena, "%s%s %%%s", before, number, after) : NULL;
}

const char *plot_twin_week(struct arena *arena, const struct week *week)
{
    const struct week_summary *s = &week->summary;
    const char *line = week->finding ? week->finding : percent(arena, "Lowest charge ", s->min_charge, "");
    const char *hours = number_text(arena, s->below_floor_h, 1);

    if (s->below_floor_h > 0 && hours)
        line = and_then(arena, line,
                        percent(arena, arena_print(arena, "%s h below the floor of ", hours), s->floor, ""));
    if (s->unserved_wh > 0)
        line = and_then(arena, line, energy(arena, "", s->unserved_wh, " not delivered"));
    line = and_then(arena, line, energy(arena, "loads ", s->load_wh, ""));
    if (s->solar_wh > 0)
        line = and_then(arena, line, energy(arena, "solar ", s->solar_wh, ""));
    if (s->solar_spilled_wh > 0)
        line = and_then(arena, line, energy(arena, "", s->solar_spilled_wh, " of solar found no home"));
    if (s->alternator_wh > 0)
        line = and_then(arena, line, energy(arena, "alternators ", s->alternator_wh, ""));
    if (s->charger_wh > 0)
        line = and_then(arena, line, energy(arena, "charger ", s->charger_wh, ""));
    return and_then(arena, line, percent(arena, "ends at ", s->end_charge, ""));
}

const char *plot_twin_balance(struct arena *arena, const struct balance *balance)
{
    const char *line = "Energy by kind of day";

    for (size_t i = 0; line && i < balance->day_count; i++) {
        const struct balance_day *day = balance->days + i;
        const char *in = energy(arena, "", day->source_wh, ""), *out = energy(arena, "", day->load_wh, "");
        const char *net = energy(arena, day->net_wh > 0 ? "+" : "", day->net_wh, "");

        line = in && out && net
                   ? and_then(arena, line,
                              arena_print(arena, "%s: in %s, out %s, net %s", day->kind, in, out, net))
                   : NULL;
    }
    return line;
}

static const char *sun_times(struct arena *arena, const struct sun_day *day)
{
    char rise[16], set[16];

    if (day->polar)
        return day->polar > 0 ? "the sun does not set" : "the sun does not rise";
    clock_write(rise, day->sunrise_s);
    clock_write(set, day->sunset_s);
    return arena_print(arena, "sunrise %.5s, sunset %.5s", rise, set);
}

const char *plot_twin_sun(struct arena *arena, const struct sun_day *day)
{
    const char *flat = number_text(arena, day->irradiation_kwh_m2, 1);
    const char *clear = number_text(arena, day->clear_sky_kwh_m2, 1);
    const char *line = energy(arena, "Panels give ", day->panel_wh, " on a mean day");

    line = and_then(arena, line, sun_times(arena, day));
    return flat && clear
               ? and_then(arena, line,
                          arena_print(arena, "%s kWh/m2 on the flat, %s under a clear sky", flat, clear))
               : NULL;
}

const char *plot_twin_compare(struct arena *arena, const struct compare *compare)
{
    const char *line = "Charge before and after";

    for (size_t i = 0; line && i < compare->side_count; i++) {
        const struct compare_side *side = compare->sides + i;
        const char *lowest = percent(arena, "lowest ", side->week->summary.min_charge, "");
        const char *hours = number_text(arena, side->week->summary.generator_h, 1);

        line = lowest && hours
                   ? and_then(arena, line,
                              arena_print(arena, "%s: %s, generator %s h", side->name, lowest, hours))
                   : NULL;
    }
    return line;
}

const char *plot_twin_cables(struct arena *arena, const struct circuit *c)
{
    const char *line = arena_print(arena, "Volts from the source to %s: %.2f V",
                                   c->path_load ? c->path_load : "nothing", c->path_source_v);

    for (size_t i = 0; line && i < c->path_count; i++)
        line = and_then(arena, line, arena_print(arena, "%s takes %.3f V, %s has %.2f V", c->path[i].name,
                                                 c->path[i].loss_v, c->path[i].node, c->path[i].volts_v));
    return line;
}

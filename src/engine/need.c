/* need.c - missing sections are the user's to mend: say which, and what to write.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "engine/need.h"

#include <math.h>

#include "base/arena.h"
#include "engine/timeline.h"
#include "parts/bank.h"

/* Says what is missing and what to write; STATUS_INCOMPLETE, for the caller to pass on. */
static enum status lacks(struct diag_list *diags, const char *section, const char *message, const char *hint)
{
    diag_add(diags,
             &(struct diag){ .severity = DIAG_ERROR, .section = section, .message = message, .hint = hint });
    return STATUS_INCOMPLETE;
}

enum status need_site(const struct boat *boat, struct diag_list *diags)
{
    if (boat->site.given)
        return STATUS_OK;
    return lacks(diags, "site", "the profile has no [site], so the sun is unknown",
                 "add [site] with latitude, longitude, utc_offset and start");
}

/* A time that counts from sunrise or sunset needs a place and a date. */
static int uses_sun(const struct time_span *spans, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (spans[i].from.anchor != CLOCK_TIME || spans[i].to.anchor != CLOCK_TIME)
            return 1;
    return 0;
}

/* On any kind of day of the plan. */
static int load_uses_sun(const struct boat *boat, const struct load *load)
{
    for (size_t d = 0; d < boat->day_count; d++) {
        const struct usage *usage = load_usage(load, d);

        if (uses_sun(usage->times, usage->time_count))
            return 1;
        for (size_t i = 0; i < usage->use_count; i++)
            if (usage->uses[i].timed && usage->uses[i].at.anchor != CLOCK_TIME)
                return 1;
    }
    return 0;
}

/* Loads at clock times only, and no panels: such a boat needs no site. */
static int boat_uses_sun(const struct boat *boat)
{
    if (boat->solar_count)
        return 1;
    for (size_t i = 0; i < boat->load_count; i++)
        if (load_uses_sun(boat, &boat->loads[i]))
            return 1;
    return 0;
}

enum status need_balance(const struct boat *boat, struct diag_list *diags)
{
    enum status status = STATUS_OK;

    if (!boat_house_bank(boat))
        status = lacks(diags, "bank", "the profile has no house bank", "add [bank house] with role = house");
    if (boat_uses_sun(boat) && need_site(boat, diags) != STATUS_OK)
        status = STATUS_INCOMPLETE;
    return status;
}

enum status need_simulation(const struct boat *boat, double step_s, struct diag_list *diags)
{
    enum status status = need_balance(boat, diags);
    double steps = DAY_S / step_s;

    if (boat->plan.day_count == 0)
        status = lacks(diags, "plan", "the plan has no days", "write days = anchor, anchor, ... in [plan]");
    if (!(step_s >= 1) || fabs(steps - round(steps)) > 1e-9 || steps < 24)
        status = lacks(diags, "plan", "the step does not divide a day into whole steps",
                       "use 1 s to 1 h, such as 1 min, 5 min or 10 min");
    if (boat->generator_count > 1)
        diag_add(diags, &(struct diag){ .severity = DIAG_WARNING, .section = "generator",
                                        .message = "only the first generator of the profile is simulated",
                                        .hint = "give the others' hours to the first" });
    return status;
}

double bank_working_voltage(const struct bank *bank)
{
    double cell = chemistry_facts(bank->chemistry)->nominal_cell_v;

    return round(bank_nominal_voltage(bank) / cell) * cell;
}

const char *bank_text(struct arena *arena, const struct bank *bank)
{
    const char *text = arena_print(arena, "%.0f Ah %.0f V %s", bank_rated_ah(bank),
                                   bank_nominal_voltage(bank), chemistry_facts(bank->chemistry)->name);

    return text ? text : "";
}

const char *place_text(struct arena *arena, const struct boat *boat)
{
    const struct site *site = &boat->site;
    const char *text;

    if (!site->given)
        return "no site";
    if (site->name)
        return site->name;
    text = arena_print(arena, "%.2f %c, %.2f %c", fabs(site->latitude.value),
                       site->latitude.value < 0 ? 'S' : 'N', fabs(site->longitude.value),
                       site->longitude.value < 0 ? 'W' : 'E');
    return text ? text : "";
}

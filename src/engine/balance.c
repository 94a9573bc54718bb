/* balance.c - what one day of each kind uses and what its sources could give.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "engine/engine.h"
#include "engine/need.h"
#include "engine/sim_ac.h"
#include "engine/timeline.h"
#include "engine/work.h"
#include "parts/bank.h"
#include "parts/machine.h"

/*
 * One day of each kind, without any simulation: what loads ask for and what sources could bring, side by
 * side.
 *
 *   load        power x count x duty x hours, and standby for the rest of the day
 *   AC load     only for the time when neither shore nor timed generator feeds the panel; the rest is
 *               mains_wh
 *   inverter    a row of its own: idle draw and conversion loss, minute by minute
 *   solar       the array model summed over the day
 *   alternator  hot current x hours x volts
 *   charger     its current x volts, as far as shore or generator leave power
 *
 * Ampere-hours are watt-hours over the working volts of the house bank. An automatic generator counts
 * nothing: when it runs depends on the charge, which a balance does not know. Low and high add up the ends
 * of all ranges, which is wider than likely.
 */

/* A balance looks at whole days in minutes: finer changes no daily sum, intervals are weighted exactly. */
enum { BALANCE_STEP_S = 60 };

/* One balance in the making. The timeline is compiled anew for each kind of day. */
struct balancer {
    const struct boat *boat;
    struct arena *arena;
    struct timeline timeline;
    struct inverter_model inverter;
    double volts;
    struct work work;
};

/* Seconds a load is on: in all, while shore or generator feeds the AC panel, between sunset and sunrise. */
struct on_time {
    const struct timeline *t;
    double all, carried, night;
};

/* How much [s] of a0..a1 lies within b0..b1. */
static double overlap(double a0, double a1, double b0, double b1)
{
    return fmax(fmin(a1, b1) - fmax(a0, b0), 0);
}

/* A source counts in a step where it is there for half of it, as in the simulation. */
static int step_carried(const struct ac_step *ac)
{
    return ac->shore >= 0.5 || ac->generator >= 0.5;
}

/* Adds one stretch of use to the three sums; timeline_load_intervals calls it. */
static void count_on(void *context, double start_s, double end_s)
{
    struct on_time *on = context;
    double step_s = on->t->step_s;

    on->all += end_s - start_s;
    on->night += end_s - start_s - overlap(start_s, end_s, on->t->sunrise_s, on->t->sunset_s);
    for (size_t i = (size_t)(start_s / step_s); i < on->t->steps && (double)i * step_s < end_s; i++)
        if (step_carried(&on->t->ac[i]))
            on->carried += overlap(start_s, end_s, (double)i * step_s, (double)(i + 1) * step_s);
}

/* 1 where there is nothing to divide by: a load that is never on has no range either. */
static double ratio(double part, double whole)
{
    return whole != 0 ? part / whole : 1;
}

/* Share by which a day's use may be lower (end = 0) or higher (end = 1) than its middle. */
static double usage_range(const struct usage *usage, int end)
{
    double seconds = 0, bound = 0;

    if (usage->kind == USAGE_HOURS)
        return ratio(end ? fmin(usage->hours.high, 24) : usage->hours.low, usage->hours.value);
    if (usage->kind != USAGE_USES)
        return 1;
    for (size_t i = 0; i < usage->use_count; i++) {
        const struct use *u = &usage->uses[i];

        seconds += u->count * u->length.value;
        bound += u->count * (end ? u->length.high : u->length.low);
    }
    return ratio(bound, seconds);
}

/* Share by which a load's energy may be lower or higher: the ends of power, count, duty and use all
 * at once, which is wider than likely. */
static double load_range(const struct load *load, size_t day, int end)
{
    const struct range *duty =
        load->duty_by_day && range_known(&load->duty_by_day[day]) ? &load->duty_by_day[day] : &load->duty;

    return ratio(end ? load->power.high : load->power.low, load->power.value) *
           ratio(end ? load->count.high : load->count.low, load->count.value) *
           ratio(end ? fmin(duty->high, 1) : duty->low, duty->value) *
           usage_range(load_usage(load, day), end);
}

/* What "number from" says: a range was guessed, whoever typed it. */
static const char *origin_text(const struct range *r)
{
    static const char *const texts[] = { [ORIGIN_NONE] = "none", [ORIGIN_DEFAULT] = "default",
                                         [ORIGIN_GIVEN] = "given", [ORIGIN_DERIVED] = "converted" };

    return r->origin == ORIGIN_GIVEN && r->high > r->low ? "guessed" : texts[r->origin];
}

/* The word of a load's supply as the profile spells it. */
static const char *supply_text(enum supply supply)
{
    static const char *const texts[] = { [SUPPLY_DC] = "dc", [SUPPLY_AC] = "ac", [SUPPLY_MAINS] = "mains" };

    return texts[supply];
}

/*
 * One load over the day; *carried_wh is what shore or generator take of it.
 *
 *   wh = (P duty - standby) t + standby 24 h, over the hours in which nobody else feeds it
 *
 * Standby is drawn all day and lies within the running power, so only what is over it counts for the time it
 * runs.
 */
static struct balance_item load_item(struct balancer *b, const struct load *load, size_t day,
                                     double *carried_wh)
{
    struct on_time on = { &b->timeline, 0, 0, 0 };
    double duty = load_duty(load, day), running = load_running_w(load);
    double standby = load->standby.value * load->count.value;
    struct on_time whole = { &b->timeline, 0, 0, 0 };
    struct balance_item item = { .name = load->name,
                                 .running_w = running,
                                 .supply = supply_text(load->supply),
                                 .number_from = origin_text(&load->power) };
    double over = fmax(running * duty - standby, 0);

    timeline_load_intervals(load, day, b->timeline.sunrise_s, b->timeline.sunset_s, count_on, &on);
    count_on(&whole, 0, DAY_S);
    item.hours = on.all / HOUR_S * duty;
    item.wh = (over * on.all + standby * whole.all) / HOUR_S;
    item.night_wh = (over * on.night + standby * whole.night) / HOUR_S;
    *carried_wh = load->supply == SUPPLY_DC ? 0 : (over * on.carried + standby * whole.carried) / HOUR_S;
    if (load->supply == SUPPLY_AC) {
        double left = ratio(item.wh - *carried_wh, item.wh);

        item.wh -= *carried_wh;
        item.night_wh *= left;
    }
    item.ah = item.wh / b->volts;
    item.low_wh = item.wh * load_range(load, day, 0);
    item.high_wh = item.wh * load_range(load, day, 1);
    work_note(&b->work, b->boat->days[day].name, load->name, item.wh, "Wh", item.number_from,
              "power x count x duty x hours (+ standby)", "%.4g W x %.3g x %.3g x %.3g h + standby %.3g Wh",
              load->power.value, load->count.value, duty, on.all / HOUR_S,
              standby * (DAY_S - on.all) / HOUR_S);
    return item;
}

/*
 * Idle draw and conversion loss of the inverters over the day [Wh], minute by minute, for
 * the loss is not proportional to the output (machine.h); and how much of it at night.
 * Nothing while shore or generator feeds the panel.
 */
static struct balance_item inverter_item(struct balancer *b, size_t day)
{
    struct balance_item item = {
        .name = "inverter losses", .supply = "dc", .number_from = "computed", .hours = 24
    };
    const struct timeline *t = &b->timeline;

    for (size_t i = 0; i < t->steps; i++) {
        double w = fmin(t->ac[i].ac_w[0] + t->ac[i].ac_w[1] + t->ac[i].ac_w[2], b->inverter.power_w), loss;
        double mid = ((double)i + 0.5) * t->step_s;

        if (step_carried(&t->ac[i]))
            continue;
        loss = (inverter_input_w(&b->inverter, w) - w) * t->step_s / HOUR_S;
        item.wh += loss;
        if (mid < t->sunrise_s || mid >= t->sunset_s)
            item.night_wh += loss;
    }
    item.ah = item.wh / b->volts;
    item.low_wh = item.high_wh = item.wh;
    item.running_w = b->inverter.idle_w;
    work_note(&b->work, b->boat->days[day].name, item.name, item.wh, "Wh", "loss model of the inverter",
              "sum over the day of idle + slope P + square P^2", "%.3g W + %.3g P + %.3g P^2",
              b->inverter.idle_w, b->inverter.slope, b->inverter.square_per_w);
    return item;
}

/* Sums of the bus of one bank over the day [Wh] of solar, [Ah] of alternators. */
static struct balance_item source_item(const char *name, const char *supply, double wh, double volts,
                                       const struct range *rating)
{
    return (struct balance_item){ .name = name, .supply = supply, .wh = wh, .ah = wh / volts,
                                  .low_wh = wh * ratio(rating->low, rating->value),
                                  .high_wh = wh * ratio(rating->high, rating->value),
                                  .number_from = origin_text(rating) };
}

/* Energy of one array, alone on its bus, over the day. */
static struct balance_item solar_item(struct balancer *b, const struct solar *solar,
                                      const struct day_kind *kind, long day_offset)
{
    struct boat alone = *b->boat;
    struct timeline t = b->timeline;
    const struct bus_step *bus = t.buses + (size_t)(solar->bank - b->boat->banks) * t.steps;
    double wh = 0;
    struct balance_item item;

    alone.solars = solar;
    alone.solar_count = 1;
    alone.load_count = alone.alternator_count = alone.dcdc_count = 0;
    t.boat = &alone;
    timeline_compile(&t, kind, day_offset);
    for (size_t i = 0; i < t.steps; i++)
        wh += (bus[i].solar_w + bus[i].solar_a * b->volts) * t.step_s / HOUR_S;
    item = source_item(solar->name, "solar", wh, b->volts, &solar->power);
    item.running_w = solar->power.value * solar->count.value;
    item.hours = (t.sunset_s - t.sunrise_s) / HOUR_S;
    work_note(&b->work, kind->name, solar->name, wh, "Wh",
              "sky and array models, see docs/handbook/models.md",
              "sum over the day of array power at the bus",
              "%.4g W of panels, %.3g kWh/m2 on the horizontal, air %.3g C", item.running_w,
              t.irradiation_kwh, t.air_c);
    return item;
}

struct amp_hours {
    double amps, ah, hours;
};

/* Adds one stretch of running at the present amperes. */
static void add_amp_hours(void *context, double start_s, double end_s)
{
    struct amp_hours *sum = context;

    sum->ah += sum->amps * (end_s - start_s) / HOUR_S;
    sum->hours += (end_s - start_s) / HOUR_S;
}

/* Hot output at the speed of each run, times its hours: what it could give if the bank took it. */
static struct balance_item alternator_item(struct balancer *b, const struct alternator *a,
                                           const struct day_kind *kind)
{
    struct amp_hours sum = { 0, 0, 0 };
    struct balance_item item;

    for (size_t r = 0; r < kind->run_count; r++) {
        const struct engine_run *run = &kind->runs[r];

        if (run->engine && run->engine != a->engine)
            continue;
        sum.amps = alternator_current(a, range_or(&run->speed, a->engine->idle_speed.value));
        timeline_spans(&run->span, 1, b->timeline.sunrise_s, b->timeline.sunset_s, add_amp_hours, &sum);
    }
    item = source_item(a->name, "alternator", sum.ah * b->volts, b->volts, &a->rated_current);
    item.hours = sum.hours;
    item.running_w = sum.amps * b->volts;
    work_note(&b->work, kind->name, a->name, item.wh, "Wh", "hot output curve, see docs/handbook/models.md",
              "hot amps x hours x bank volts", "%.4g Ah x %.4g V", sum.ah, b->volts);
    return item;
}

/* Charger energy out of what the lead or machine has left after AC loads, bank willing. */
static void charger_items(struct balancer *b, const struct day_kind *kind, struct balance_item *items)
{
    const struct timeline *t = &b->timeline;
    const struct boat *boat = b->boat;

    for (size_t c = 0; c < boat->charger_count; c++)
        items[c] = source_item(boat->chargers[c].name, "charger", 0, b->volts, &boat->chargers[c].current);
    for (size_t i = 0; i < t->steps; i++) {
        int shore = t->ac[i].shore >= 0.5;
        double left = (shore ? boat->shore.current.value * boat->shore.voltage.value
                             : boat->generator_count ? boat->generators[0].power.value : 0)
                      - t->ac[i].ac_va - t->ac[i].mains_va;

        if (!step_carried(&t->ac[i]))
            continue;
        for (size_t c = 0; c < boat->charger_count; c++) {
            const struct charger *charger = &boat->chargers[c];

            if (!(charger->fed_by & (shore ? FED_BY_SHORE : FED_BY_GENERATOR)))
                continue;
            items[c].wh += charger_share(charger, b->volts, 1, &left) * t->step_s / HOUR_S;
            items[c].hours += t->step_s / HOUR_S;
        }
    }
    for (size_t c = 0; c < boat->charger_count; c++) {
        items[c].ah = items[c].wh / b->volts;
        items[c].low_wh = items[c].high_wh = items[c].wh;
        items[c].running_w = boat->chargers[c].current.value * b->volts;
        work_note(&b->work, kind->name, items[c].name, items[c].wh, "Wh", items[c].number_from,
                  "amps x bank volts x hours, as far as shore or generator leave power",
                  "%.4g A x %.4g V x %.3g h", boat->chargers[c].current.value, b->volts, items[c].hours);
    }
}

/* The day of the plan that shows a kind: its first, or the first of the plan where none is. */
static long first_day_of(const struct boat *boat, const struct day_kind *kind, size_t *days)
{
    long first = -1;

    *days = 0;
    for (size_t i = 0; i < boat->plan.day_count; i++) {
        if (boat->plan.days[i] != kind)
            continue;
        if (first < 0)
            first = (long)i;
        ++*days;
    }
    return first < 0 ? 0 : first;
}

/* Items of all loads and one for the inverter; mains loads are listed but not summed. -1 without memory. */
static int day_loads(struct balancer *b, struct balance_day *d, size_t day)
{
    size_t count = b->boat->load_count;
    struct balance_item *items = arena_array(b->arena, count + 1, sizeof *items);
    double carried;

    if (!items)
        return -1;
    for (size_t i = 0; i < count; i++) {
        items[i] = load_item(b, &b->boat->loads[i], day, &carried);
        d->mains_wh += carried;
        if (b->boat->loads[i].supply == SUPPLY_MAINS)
            continue;
        d->load_wh += items[i].wh;
        d->load_low_wh += items[i].low_wh;
        d->load_high_wh += items[i].high_wh;
        d->night_wh += items[i].night_wh;
    }
    if (b->inverter.power_w > 0) {
        items[count] = inverter_item(b, day);
        d->inverter_loss_wh = items[count].wh;
        d->load_wh += items[count].wh;
        d->load_low_wh += items[count].wh;
        d->load_high_wh += items[count].wh;
        d->night_wh += items[count].night_wh;
        count++;
    }
    d->loads = items;
    d->load_count = count;
    return 0;
}

/* What each source could give that day, in the order of the sheet: arrays,
 * alternators, chargers. -1 without memory. */
static int day_sources(struct balancer *b, struct balance_day *d, const struct day_kind *kind,
                       long day_offset)
{
    const struct boat *boat = b->boat;
    size_t count = boat->solar_count + boat->alternator_count + boat->charger_count;
    struct balance_item *items = arena_array(b->arena, count, sizeof *items), *next = items;

    if (!items)
        return -1;
    /* Arrays last: each is compiled alone and overwrites the day's steps. */
    charger_items(b, kind, items + boat->solar_count + boat->alternator_count);
    for (size_t i = 0; i < boat->alternator_count; i++)
        items[boat->solar_count + i] = alternator_item(b, &boat->alternators[i], kind);
    d->engine_h = b->timeline.engine_h;
    for (size_t i = 0; i < boat->solar_count; i++)
        *next++ = solar_item(b, &boat->solars[i], kind, day_offset);
    for (size_t i = 0; i < count; i++)
        d->source_wh += items[i].wh;
    d->sources = items;
    d->source_count = count;
    return 0;
}

/* Hours of the day that are no energy. */
static void day_hours(const struct timeline *t, struct balance_day *d)
{
    d->sunrise_h = t->polar ? -1 : t->sunrise_s / HOUR_S;
    d->sunset_h = t->polar ? -1 : t->sunset_s / HOUR_S;
    d->irradiation_kwh = t->irradiation_kwh;
    for (size_t i = 0; i < t->steps; i++) {
        d->shore_h += t->ac[i].shore * t->step_s / HOUR_S;
        d->generator_h += t->ac[i].generator * t->step_s / HOUR_S;
    }
}

/* One kind of day, on the date of its first day in the plan. -1 without memory. */
static int balance_one(struct balancer *b, struct balance_day *d, size_t day)
{
    const struct day_kind *kind = &b->boat->days[day];
    long offset = first_day_of(b->boat, kind, &d->days_in_plan);

    d->kind = kind->name;
    timeline_compile(&b->timeline, kind, offset);
    day_hours(&b->timeline, d);
    if (day_loads(b, d, day) != 0 || day_sources(b, d, kind, offset) != 0)
        return -1;
    d->load_ah = d->load_wh / b->volts;
    d->net_wh = d->source_wh - d->load_wh;
    d->net_ah = d->net_wh / b->volts;
    return 0;
}

enum status balance_run(const struct balance **out, struct arena *arena, const struct boat *boat,
                        struct diag_list *diags)
{
    enum status status = need_balance(boat, diags);
    struct balancer b = { .boat = boat, .arena = arena, .work = { .arena = arena } };
    struct balance *balance = arena_zero(arena, sizeof *balance);
    struct balance_day *days = arena_array(arena, boat->day_count, sizeof *days);

    if (status != STATUS_OK)
        return status;
    if (!balance || !days || timeline_new(&b.timeline, arena, boat, BALANCE_STEP_S) != 0)
        return STATUS_NO_MEMORY;
    b.volts = bank_working_voltage(boat_house_bank(boat));
    work_note(&b.work, "bank", "volts for amp-hours", b.volts, "V", "nominal cell volts of the chemistry",
              "cells x nominal cell volts", NULL);
    b.inverter = inverters_joined(boat).model;
    *balance = (struct balance){ .boat = boat->name ? boat->name : "unnamed boat",
                                 .place = place_text(arena, boat),
                                 .bank_v = b.volts,
                                 .days = days,
                                 .day_count = boat->day_count };
    for (size_t d = 0; d < boat->day_count; d++) {
        if (balance_one(&b, &days[d], d) != 0)
            return STATUS_NO_MEMORY;
        balance->week_load_wh += days[d].load_wh * (double)days[d].days_in_plan;
        balance->week_source_wh += days[d].source_wh * (double)days[d].days_in_plan;
    }
    balance->week_net_wh = balance->week_source_wh - balance->week_load_wh;
    balance->working = work_done(&b.work);
    *out = balance;
    return b.work.failed ? STATUS_NO_MEMORY : STATUS_OK;
}

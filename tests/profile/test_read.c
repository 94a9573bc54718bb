/* test_read.c - a profile's values in their places, defaults and conversions in the open.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glob.h>
#include <math.h>
#include <string.h>

#include "parts/bank.h"
#include "support/profiles.h"
#include "support/test.h"

#define HOUSE "[bank house]\nchemistry = agm\nblock_capacity = 100 Ah\n"

/* A range as given: value, ends, origin. */
static void given(const char *label, const struct range *r, double value, double low, double high)
{
    row_check(label, r->value, value, 1e-12 * fmax(1, fabs(value)), "by hand");
    row_check(label, r->low, low, 1e-12 * fmax(1, fabs(low)), "by hand: low");
    row_check(label, r->high, high, 1e-12 * fmax(1, fabs(high)), "by hand: high");
    assert_int_equal(r->origin, ORIGIN_GIVEN);
    assert_non_null(r->text);
    assert_true(r->line > 0);
}

static void assumed(const struct boat *boat, const char *section, const char *key, const char *value)
{
    const struct assumption *a = test_assumption(boat, section, key);

    if (!a)
        fail_msg("nothing assumed for [%s] %s", section, key);
    assert_string_equal(a->value, value);
    assert_true(a->why && *a->why);
}

TEST(every_shipped_profile)
{
    glob_t found;

    assert_int_equal(glob("profiles/*.ini", 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 4);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        struct test_reading t = test_read_file(found.gl_pathv[i], NULL);

        if (t.status != STATUS_OK || t.diags->count)
            fail_msg("%s", test_remarks(&t));
        assert_non_null(boat_house_bank(t.boat));
        test_reading_free(&t);
    }
    globfree(&found);
}

TEST(boat_and_site)
{
    struct test_reading t =
        test_boat_of("[boat]\nname = Caf\xC3\xA9 au lait\ndc_voltage = 24 V\ncrew = 2..4\n"
                     "[site]\nname = a bay\nlatitude = 17.5 S\nlongitude = 149.6 W\n"
                     "utc_offset = -10 h\nstart = 2026-07-06\nclearness = 0.55\n"
                     "air_temperature = 25..27 C\n");
    const struct boat *b = t.boat;

    assert_string_equal(b->name, "Caf\xC3\xA9 au lait");
    given("dc_voltage", &b->dc_voltage, 24, 24, 24);
    given("crew", &b->crew, 3, 2, 4);
    given("latitude", &b->site.latitude, -17.5, -17.5, -17.5);
    given("longitude", &b->site.longitude, -149.6, -149.6, -149.6);
    given("utc_offset", &b->site.utc_offset, -10, -10, -10);
    given("clearness, July", &b->site.clearness[6], 0.55, 0.55, 0.55);
    given("air, January", &b->site.air_temperature[0], 26, 25, 27);
    row_done();
    assert_int_equal(b->site.sky, SKY_CLEARNESS);
    assert_true(b->site.given && b->site.start_year == 2026 && b->site.start_month == 7 &&
                b->site.start_day == 6);
    assert_null(b->site.climate);
    assert_int_equal(b->dc_voltage.line, 3);
    assert_string_equal(b->dc_voltage.text, "24 V");
    assumed(b, "boat", "ac_voltage", "230 V");
    assumed(b, "boat", "ac_frequency", "50 Hz");
    test_reading_free(&t);
}

TEST(site_by_area)
{
    struct test_reading t = test_boat_of("[site]\nclimate = antigua\n");
    const struct site *s = &t.boat->site;

    assert_int_equal(s->sky, SKY_CLIMATE);
    assert_string_equal(s->climate->name, "Antigua");
    assert_false(s->climate_assumed);
    assert_int_equal(s->latitude.origin, ORIGIN_DERIVED);
    row_check("latitude", s->latitude.value, s->climate->latitude, 0, "by hand");
    row_check("air in May", s->air_temperature[4].value, s->climate->air_temperature[4], 0, "by hand");
    row_check("UTC offset of 62 W", s->utc_offset.value, -4, 0, "by hand: nautical zone");
    row_done();
    assumed(t.boat, "site", "utc_offset", "-4 h");
    assumed(t.boat, "site", "start", "2026-03-21");
    assert_non_null(test_assumption(t.boat, "site", "latitude"));
    assert_null(test_assumption(t.boat, "site", "climate"));
    test_reading_free(&t);
}

TEST(site_nearest_area)
{
    struct test_reading t = test_boat_of("[site]\nlatitude = 17.0 N\nlongitude = 61.8 W\n");
    const struct site *s = &t.boat->site;

    assert_true(s->climate && s->climate_assumed);
    assert_int_equal(s->sky, SKY_CLIMATE);
    assert_true(s->climate_distance_km < 30);
    assumed(t.boat, "site", "climate", "Antigua");
    test_reading_free(&t);
    t = test_boat_of("[site]\nlatitude = 17.0 N\nlongitude = 61.8 W\nirradiation = 5.5 kWh/m2\n");
    assert_int_equal(t.boat->site.sky, SKY_IRRADIATION);
    assert_true(t.boat->site.climate_assumed);
    assert_non_null(test_assumption(t.boat, "site", "air_temperature"));
    test_reading_free(&t);
}

TEST(twelve_months)
{
    struct test_reading t =
        test_boat_of("[site]\nlatitude = 38 N\nlongitude = 20 E\n"
                     "irradiation = 2, 3, 4, 5, 6, 7, 7.5, 7, 5, 4, 2.5, 2 kWh/m2\n"
                     "air_temperature = 50, 50, 52, 59, 68, 77, 82, 82, 75, 66, 59, 52 F\n");

    given("July", &t.boat->site.irradiation[6], 7.5, 7.5, 7.5);
    row_check("December", t.boat->site.irradiation[11].value, 2, 0, "by hand");
    row_check("June", t.boat->site.air_temperature[5].value, 25, 1e-12, "by hand: 77 F");
    row_done();
    test_reading_free(&t);
}

TEST(a_boat_of_nothing)
{
    struct test_reading t = test_boat_of("[boat]\n");

    assert_string_equal(t.boat->name, "unnamed boat");
    assert_int_equal(t.boat->day_count, 1);
    assert_string_equal(t.boat->days[0].name, "anchor");
    assert_int_equal(t.boat->plan.day_count, 7);
    assert_ptr_equal(t.boat->plan.days[6], &t.boat->days[0]);
    row_check("step", t.boat->plan.step.value, 60, 0, "by hand");
    row_check("start charge", t.boat->plan.start_charge.value, 1, 0, "by hand");
    row_check("volts", t.boat->dc_voltage.value, 12, 0, "by hand");
    row_done();
    assert_false(t.boat->site.given);
    assert_false(t.boat->shore.fitted);
    assumed(t.boat, "day anchor", "(the section)", "[day anchor]");
    assumed(t.boat, "plan", "days", "7 x anchor");
    assumed(t.boat, "boat", "dc_voltage", "12 V");
    assumed(t.boat, "rules", "set", "cfr183");
    assert_int_equal(t.boat->rules.origin, ORIGIN_DEFAULT);
    test_reading_free(&t);
}

TEST(plan_and_days)
{
    struct test_reading t = test_boat_of(
        "[plan]\ndays = sail, anchor, sail\nstart_charge = 80..90 %\nstep = 30 s\n"
        "[day anchor]\n"
        "[day sail]\nengine.port = 08:00-08:40 at 1800 rpm, 16:00-17:00\nengines = sunset-19:30\n"
        "shore = 18:00-08:00\ngenerator = 18:00-20:00, 06:00-07:00\nquiet_hours = 22:00-08:00\nshading = 15 "
        "%\n"
        "sun = 40 %\n[day lazy]\ngenerator = automatic\nshore = none\n"
        "[engine port]\n[engine starboard]\nidle_speed = 900 rpm\n[shore]\n[generator g]\npower = 4 kW\n");
    const struct boat *b = t.boat;
    const struct day_kind *sail = b->plan.days[0];

    assert_int_equal(b->plan.day_count, 3);
    assert_string_equal(sail->name, "sail");
    assert_string_equal(b->plan.days[1]->name, "anchor");
    assert_ptr_equal(b->plan.days[2], sail);
    given("start charge", &b->plan.start_charge, 0.85, 0.8, 0.9);
    given("step", &b->plan.step, 30, 30, 30);
    given("shading", &sail->shading, 0.15, 0.15, 0.15);
    given("sun", &sail->sun, 0.4, 0.4, 0.4);
    assert_int_equal(sail->run_count, 3);
    assert_string_equal(sail->runs[0].engine->name, "port");
    given("speed", &sail->runs[0].speed, 1800, 1800, 1800);
    row_done();
    assert_false(range_known(&sail->runs[1].speed));
    assert_int_equal(sail->runs[1].span.to.seconds, 17 * 3600);
    assert_null(sail->runs[2].engine);
    assert_int_equal(sail->runs[2].span.from.anchor, CLOCK_SUNSET);
    assert_int_equal(sail->shore_count, 1);
    assert_int_equal(sail->generator, GENERATOR_TIMES);
    assert_int_equal(sail->generator_count, 2);
    assert_int_equal(sail->quiet_count, 1);
    assert_int_equal(b->days[2].generator, GENERATOR_AUTOMATIC);
    assert_int_equal(b->days[2].shore_count, 0);
    assert_int_equal(b->days[0].generator, GENERATOR_OFF);
    assumed(b, "day anchor", "generator", "off");
    assert_int_equal(t.diags->count, 0);
    test_reading_free(&t);
}

TEST(bank_as_labelled)
{
    struct test_reading t =
        test_boat_of("[boat]\ndc_voltage = 24 V\n[bank main]\nchemistry = flooded\n"
                     "block_capacity = 225 Ah at 20 h\nblock_voltage = 6 V\nparallel = 2\n"
                     "health = 80..90 %\ninternal_resistance = 2 mohm\nmass = 62 lb\nprice = 250\n");
    const struct bank *b = &t.boat->banks[0];

    given("capacity", &b->block_capacity, 225, 225, 225);
    given("health", &b->health, 0.85, 0.8, 0.9);
    given("resistance", &b->internal_resistance, 0.002, 0.002, 0.002);
    given("mass", &b->mass, 62 * 0.45359237, 62 * 0.45359237, 62 * 0.45359237);
    given("price", &b->price, 250, 250, 250);
    row_check("series makes 24 V", b->series.value, 4, 0, "by hand");
    row_check("rated at", b->rated_hours, 20, 0, "by hand");
    row_check("blocks", bank_blocks(b), 8, 0, "by hand");
    row_check("amp-hours", bank_rated_ah(b), 450, 0, "by hand");
    row_check("volts", bank_nominal_voltage(b), 24, 0, "by hand");
    row_check("floor", b->floor.value, 0.5, 0, "by hand: flooded");
    row_check("absorption, 12 cells", b->absorption_voltage.value, 29.2, 1e-9, "by hand: 12 x 14.6/6 V");
    row_done();
    assert_int_equal(b->role, BANK_HOUSE);
    assert_int_equal(b->rated_as, RATED_AH);
    assert_false(range_known(&b->temperature));
    assert_false(range_known(&b->max_discharge));
    assumed(t.boat, "bank main", "role", "house");
    assumed(t.boat, "bank main", "series", "4");
    assumed(t.boat, "bank main", "peukert", "1.25");
    assumed(t.boat, "bank main", "floor", "50 %");
    test_reading_free(&t);
}

TEST(lithium_volts_count_as_nominal)
{
    struct test_reading t = test_boat_of("[bank main]\nchemistry = lfp\nblock_capacity = 100 Ah\n"
                                         "block_voltage = 25.6 V\n[bank aux]\nrole = start\nchemistry = lfp\n"
                                         "block_capacity = 280 Ah\nblock_voltage = 3.2 V\nseries = 4\n");
    const struct bank *main_bank = test_bank(t.boat, "main"), *aux = test_bank(t.boat, "aux");

    row_check("25.6 V is 24 V", main_bank->block_voltage.value, 24, 0, "by hand");
    row_check("so the boat is 24 V", t.boat->dc_voltage.value, 24, 0, "by hand");
    row_check("8 cells absorb", main_bank->absorption_voltage.value, 28.4, 1e-9, "by hand: 8 x 14.2/4 V");
    row_check("1 h rate out", main_bank->max_discharge.value, 100, 1e-9, "by hand");
    row_check("four cells of 3.2 V are 12 V", bank_nominal_voltage(aux), 12, 0, "by hand");
    row_check("and absorb", aux->absorption_voltage.value, 14.2, 1e-9, "by hand");
    row_done();
    assumed(t.boat, "bank main", "block_voltage", "24 V");
    assert_int_equal(main_bank->block_voltage.origin, ORIGIN_DERIVED);
    assert_int_equal(t.boat->dc_voltage.origin, ORIGIN_DERIVED);
    test_reading_free(&t);
}

TEST(other_ratings_are_converted_openly)
{
    struct test_reading t =
        test_boat_of("[bank main]\nchemistry = flooded\nblock_capacity = 160 min\n"
                     "[bank start]\nrole = start\nchemistry = flooded\nblock_capacity = 800 CCA\n"
                     "[bank bow]\nrole = bow\nchemistry = agm\nblock_capacity = 800 A\n");
    const struct bank *m = test_bank(t.boat, "main"), *s = test_bank(t.boat, "start"),
                      *b = test_bank(t.boat, "bow");

    assert_int_equal(m->rated_as, RATED_RESERVE_MINUTES);
    assert_int_equal(s->rated_as, RATED_CRANKING_AMPS);
    row_check("minutes kept", m->rated_value, 160, 0, "by hand");
    row_check("minutes", m->block_capacity.value, bank_ah_from_reserve(160, 1.25), 0,
              "by hand: the same conversion");
    row_check("amps", s->block_capacity.value, bank_ah_from_cranking(800, CHEMISTRY_FLOODED), 0,
              "by hand: the same conversion");
    row_check("A is CCA", b->block_capacity.value, bank_ah_from_cranking(800, CHEMISTRY_AGM), 0, "by hand");
    row_check("at 20 h", m->rated_hours, 20, 0, "by hand");
    row_done();
    assert_int_equal(m->block_capacity.origin, ORIGIN_DERIVED);
    assert_non_null(strstr(test_assumption(t.boat, "bank main", "block_capacity")->why, "160 min at 25 A"));
    assert_non_null(strstr(test_assumption(t.boat, "bank start", "block_capacity")->why, "800 A"));
    test_reading_free(&t);
}

TEST(two_ratings_give_the_exponent)
{
    struct test_reading t = test_boat_of("[bank main]\nchemistry = flooded\nblock_capacity = 225 Ah at 20 h\n"
                                         "second_rating = 185 Ah at 5 h\n");
    const struct bank *b = &t.boat->banks[0];

    /* k = ln(t1/t2)/ln(I2/I1) = ln 4 / ln(37 / 11.25) */
    row_check("exponent", b->peukert.value, log(4) / log(37 / 11.25), 1e-9, "by hand");
    row_check("second hours", b->second_hours, 5, 0, "by hand");
    row_done();
    assert_int_equal(b->peukert.origin, ORIGIN_DERIVED);
    test_reading_free(&t);
    test_refused(
        "[bank main]\nchemistry = flooded\nblock_capacity = 100 Ah at 20 h\nsecond_rating = 120 Ah at 5 h\n",
        "second_rating: and block_capacity give a Peukert exponent of 0.884");
    test_refused("[bank main]\nchemistry = agm\nblock_capacity = 100 Ah\nsecond_rating = 90 Ah at 5 "
                 "h\npeukert = 1.1\n",
                 "peukert: cannot stand beside second_rating (line 4)");
}

TEST(machines)
{
    struct test_reading t = test_boat_of(
        HOUSE
        "[engine port]\npower = 30 hp\n[alternator big]\nrated_current = 120 A\npulley_ratio = 2.2\n"
        "regulated_voltage = 14.2 V\n[shore]\ncurrent = 32 A\n[generator g]\npower = 6 kW\nfuel = 2.1 l/h\n"
        "[charger c]\ncurrent = 50 A\nfed_by = generator\n[inverter i]\npower = 2000 W\n"
        "[dcdc d]\ncurrent = 20 A\n[solar arch]\npower = 180 W\ncontroller = pwm\nazimuth = -90 deg\n");
    const struct boat *b = t.boat;

    row_check("30 hp", b->engines[0].power.value, 22370.996147, 1e-5, "NIST SP 811: horsepower");
    row_check("surge", b->inverters[0].surge_power.value, 4000, 0, "by hand: twice");
    row_check("idle", b->inverters[0].idle_power.value, 12, 1e-12, "by hand: 0.6 %");
    row_check("cut-out", b->inverters[0].cut_out.value, 10.5, 0, "by hand");
    row_check("fuel slope", b->generators[0].fuel_slope.value, 2.1 / 6 - 0.06, 1e-12,
              "by hand: 2.1 l/h at 6 kW");
    row_check("pwm panel", b->solars[0].voltage_at_power.value, 18, 0, "by hand");
    row_check("azimuth", b->solars[0].azimuth.value, -90, 0, "by hand");
    row_check("shore volts", b->shore.voltage.value, 230, 0, "by hand");
    row_done();
    assert_ptr_equal(b->alternators[0].engine, &b->engines[0]);
    assert_ptr_equal(b->alternators[0].bank, &b->banks[0]);
    assert_ptr_equal(b->dcdcs[0].from, &b->banks[0]);
    assert_null(b->dcdcs[0].to);
    assert_int_equal(b->chargers[0].fed_by, FED_BY_GENERATOR);
    assert_false(b->solars[0].any_heading);
    assumed(b, "alternator big", "engine", "port");
    assumed(b, "charger c", "bank", "house");
    assumed(b, "generator g", "start_charge", "50 %");
    test_reading_free(&t);
}

TEST(load_forms)
{
    struct test_reading t =
        test_boat_of(HOUSE "[day anchor]\n[day sail]\n"
                           "[load a]\npower = 40..60 W\ncount = 2\nduty = 45 %\nduty.sail = 55 %\nhours = 6 "
                           "h\ntimes.sail = 18:00-23:00,"
                           " 05:00-sunrise\nsurge = 3 x for 0.5 s\npriority = vital\ncritical = yes\nbreaker "
                           "= 15 A\nnode = panel\n"
                           "[load b]\ncurrent = 3.5 A\nuses = 3 x 4 min, 07:30 for 90 s\nstandby = 1 W\n"
                           "[load c]\nsupply = ac\npower = 2 A\npower_factor = 0.6\nhours.sail = 0 h\n"
                           "[load d]\nsupply = mains\npower = 1.5 kVA\nsurge = 2.5 x\ntimes = none\n");
    const struct boat *b = t.boat;
    const struct load *a = test_load(b, "a"), *l = test_load(b, "b"), *c = test_load(b, "c"),
                      *d = test_load(b, "d");

    given("a power", &a->power, 50, 40, 60);
    given("a count", &a->count, 2, 2, 2);
    given("a surge", &a->surge, 3, 3, 3);
    given("a surge time", &a->surge_time, 0.5, 0.5, 0.5);
    given("a breaker", &a->breaker, 15, 15, 15);
    row_check("a duty at anchor", load_duty(a, 0), 0.45, 1e-15, "by hand");
    row_check("a duty under sail", load_duty(a, 1), 0.55, 1e-15, "by hand");
    row_check("a hours", load_usage(a, 0)->hours.value, 6, 1e-15, "by hand");
    row_check("b watts", l->power.value, 42, 1e-12, "by hand: 3.5 A at 12 V");
    row_check("b use", l->usage.uses[0].length.value, 240, 0, "by hand");
    row_check("c watts", c->power.value, 276, 1e-9, "by hand: 2 A at 230 V, power factor 0.6");
    row_check("d watts", d->power.value, 1500, 0, "by hand");
    row_check("d surge time", d->surge_time.value, 0.5, 0, "by hand");
    row_done();
    assert_int_equal(load_usage(a, 1)->kind, USAGE_TIMES);
    assert_int_equal(load_usage(a, 1)->time_count, 2);
    assert_true(a->priority == LOAD_VITAL && a->critical == 1 && a->supply == SUPPLY_DC);
    assert_string_equal(a->node, "panel");
    assert_true(l->usage.uses[0].count == 3 && !l->usage.uses[0].timed);
    assert_true(l->usage.uses[1].timed && l->usage.uses[1].at.seconds == 27000);
    assert_int_equal(l->power.origin, ORIGIN_DERIVED);
    assert_int_equal(load_usage(c, 0)->kind, USAGE_NONE);
    assert_true(d->usage.kind == USAGE_TIMES && d->usage.time_count == 0);
    assert_ptr_equal(a->bank, &b->banks[0]);
    assumed(b, "load b", "power", "42 W");
    assumed(b, "load c", "hours", "0 h");
    assumed(b, "load d", "surge", "for 0.5 s");
    assert_non_null(test_assumption(b, "load c", "standby"));
    assert_null(test_assumption(b, "load a", "power_factor")); /* means nothing on DC */
    test_reading_free(&t);
}

TEST(load_without_any_use_runs_all_day)
{
    struct test_reading t = test_boat_of(HOUSE "[load alarm]\npower = 2 W\n");

    row_check("hours", t.boat->loads[0].usage.hours.value, 24, 0, "by hand");
    row_done();
    assert_int_equal(t.boat->loads[0].usage.kind, USAGE_HOURS);
    assumed(t.boat, "load alarm", "hours", "24 h");
    test_reading_free(&t);
}

TEST(load_through_a_converter)
{
    struct test_reading t =
        test_boat_of("[boat]\ndc_voltage = 24 V\n" HOUSE "[dcdc small]\ncurrent = 20 A\nvoltage = 13.2 V\n"
                     "[load lights]\ncurrent = 2 A\nconverter = small\n[load pump]\ncurrent = 2 A\n");

    row_check("at the converter's volts", test_load(t.boat, "lights")->power.value, 26.4, 1e-12, "by hand");
    row_check("at the bank's volts", test_load(t.boat, "pump")->power.value, 48, 1e-12, "by hand");
    row_done();
    assert_ptr_equal(test_load(t.boat, "lights")->bank, &t.boat->banks[0]);
    assert_ptr_equal(test_load(t.boat, "lights")->converter, &t.boat->dcdcs[0]);
    test_reading_free(&t);
}

TEST(cables)
{
    struct test_reading t = test_boat_of("[cable a]\nfrom = house\nto = bus\nlength = 5.5 m +/- 20 %\narea = "
                                         "2 AWG\nruns = 2\ninsulation = 105 C\n"
                                         "place = engine\njoints = 0.5 mohm\nfuse = 200 A class "
                                         "T\nfuse_interrupt = 20 kA\nfuse_distance = 7 in\n"
                                         "sheathed = yes\nreturn_length = 4 m\nreturn_area = 35 mm2\n[cable "
                                         "b]\nfrom = bus\nto = panel\nlength = 10 ft\n");
    const struct cable *a = &t.boat->cables[0], *b = &t.boat->cables[1];

    given("length", &a->length, 5.5, 4.4, 6.6);
    given("joints", &a->joints, 5e-4, 5e-4, 5e-4);
    given("interrupt", &a->fuse_interrupt, 20000, 20000, 20000);
    given("distance", &a->fuse_distance, 0.1778, 0.1778, 0.1778);
    given("return", &a->return_area, 35e-6, 35e-6, 35e-6);
    row_check("ten feet", b->length.value, 3.048, 1e-12, "international foot");
    row_check("insulation taken", b->insulation.value, 75, 0, "by hand");
    row_done();
    assert_int_equal(a->area_series, AREA_AWG);
    assert_string_equal(a->area_text, "2 AWG");
    assert_string_equal(a->fuse_class, "class T");
    assert_true(a->place == PLACE_ENGINE && a->sheathed == 1);
    assert_false(range_known(&b->area));
    assert_null(b->fuse_class);
    assumed(t.boat, "cable b", "insulation", "75 C");
    test_reading_free(&t);
}

TEST(prices_and_rules)
{
    struct test_reading t = test_boat_of("[prices]\ncurrency = EUR\ncopper_per_kg = 12\n[rules]\nset = own\n"
                                         "file = my-rules.ini\nstrictness = strict\n");

    assert_string_equal(t.boat->prices.currency, "EUR");
    given("copper", &t.boat->prices.copper_per_kg, 12, 12, 12);
    row_done();
    assert_false(range_known(&t.boat->prices.bank_per_ah));
    assert_true(t.boat->rules.set == RULES_OWN && t.boat->rules.strict == 1);
    assert_string_equal(t.boat->rules.own_file, "my-rules.ini");
    test_reading_free(&t);
}

/* Odd, but nothing to refuse: a change that takes the generator out must not need changes to every kind of
 * day. */
TEST(warnings_do_not_refuse)
{
    struct test_reading t =
        test_boat_of(HOUSE "[day a]\nshore = 18:00-08:00\ngenerator = automatic\nengines = 08:00-09:00\n"
                           "[load heater]\nsupply = mains\npower = 1 kW\n");

    assert_int_equal(t.diags->count, 4);
    assert_int_equal(t.diags->errors, 0);
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(t.diags->items[i].severity, DIAG_WARNING);
    test_reading_free(&t);
}

/* Any name may be a node, so a slip of the pen is a warning, and only where nothing else meets there. */
TEST(lonely_nodes)
{
    struct test_reading t = test_boat_of(HOUSE "[cable a]\nfrom = hosue\nto = panel\nlength = 1 m\n"
                                               "[cable b]\nfrom = panel\nto = masthead\nlength = 1 m\n"
                                               "[cable c]\nfrom = panel\nto = pump\nlength = 1 m\n"
                                               "[load pump]\npower = 50 W\n[load lamp]\npower = 5 W\nnode = pannel\n");

    assert_int_equal(t.diags->count, 2);
    assert_int_equal(t.diags->errors, 0);
    assert_string_equal(t.diags->items[0].message, "nothing else meets at \"hosue\"");
    assert_string_equal(t.diags->items[0].hint, "did you mean house?");
    assert_int_equal(t.diags->items[0].line, 5);
    assert_string_equal(t.diags->items[1].hint, "did you mean panel?");
    test_reading_free(&t);
}

TEST(out_is_touched_only_on_success)
{
    struct test_reading t = test_read_text("[boat]\ndc_voltage = 12\n");

    assert_int_equal(t.status, STATUS_REFUSED);
    assert_null(t.boat);
    test_reading_free(&t);
}

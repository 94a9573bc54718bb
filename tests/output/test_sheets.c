/* test_sheets.c - the sheets of each result: fixed names, shapes, widths.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "output/sheets.h"
#include "support/made.h"

static char *written(const struct sheet *sheet, enum sheet_format format)
{
    char *text = NULL;
    size_t length;
    FILE *f = open_memstream(&text, &length);

    assert_non_null(sheet);
    assert_int_equal(sheet_write(f, sheet, format, NULL), STATUS_OK);
    fclose(f);
    return text;
}

static json_t *parsed(const struct sheet *sheet)
{
    char *text = written(sheet, FORMAT_JSON);
    json_error_t error;
    json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, &error);

    if (!json)
        fail_msg("%s at line %d", error.text, error.line);
    free(text);
    return json;
}

/* The object's keys begin with these, in this order. */
static void begins(const json_t *object, const char *names)
{
    char list[600];
    char *rest = list, *name;
    void *at = json_object_iter((json_t *)(uintptr_t)object);

    snprintf(list, sizeof list, "%s", names);
    while ((name = strsep(&rest, " "))) {
        assert_non_null(at);
        assert_string_equal(json_object_iter_key(at), name);
        at = json_object_iter_next((json_t *)(uintptr_t)object, at);
    }
}

static double number(const json_t *object, const char *name)
{
    const json_t *value = json_object_get(object, name);

    assert_true(json_is_number(value));
    return json_number_value(value);
}

TEST(week_json_has_the_fixed_summary)
{
    struct arena *arena = arena_new();
    const struct week *week = made_full_week(arena);
    json_t *json = parsed(sheet_week(arena, week)), *summary = json_object_get(json, "summary");

    begins(summary,
           "min_charge_percent min_charge_time end_charge_percent unserved_wh solar_wh solar_spilled_wh "
           "alternator_wh charger_wh load_wh mains_wh battery_loss_wh inverter_loss_wh stored_change_wh "
           "generator_h engine_h energy_error_wh");
    row_check("charge in percent", number(summary, "min_charge_percent"), week->summary.min_charge * 100,
              1e-6, "by hand");
    assert_string_equal(json_string_value(json_object_get(summary, "min_charge_time")), "2026-07-12T07:35");
    assert_true(json_is_null(json_object_get(summary, "recharge_h")));
    assert_int_equal(json_array_size(json_object_get(json, "days")), 7);
    assert_int_equal(json_array_size(json_object_get(json, "banks")), 1);
    assert_int_equal(json_array_size(json_object_get(json, "rows")), 10080);
    begins(json_array_get(json_object_get(json, "rows"), 0),
           "time charge_percent bank_v bank_a load_w inverter_w");
    json_decref(json);
    arena_free(arena);
    row_done();
}

TEST(week_csv_has_the_fixed_columns_and_a_row_a_step)
{
    static const char head[] =
        "time,charge_percent,bank_v,bank_a,load_w,inverter_w,solar_w,solar_spilled_w,"
        "alternator_w,charger_w,unserved_w,generator_on,engine_on\r\n2026-07-06T00:00,";
    struct arena *arena = arena_new();
    char *text = written(sheet_week(arena, made_full_week(arena)), FORMAT_CSV);
    size_t lines = 0, commas = 0;

    assert_memory_equal(text, head, sizeof head - 1);
    for (const char *p = text; *p; p++) {
        lines += *p == '\n';
        commas += *p == ',';
    }
    assert_int_equal(lines, 10081);
    assert_int_equal(commas, 10081 * 12);
    free(text);
    arena_free(arena);
}

TEST(week_text_says_what_was_short_and_who_ran)
{
    struct arena *arena = arena_new();
    const struct made_week how = { .start = 0.3, .floor = 0.5, .load_w = 100 };
    char *text = written(sheet_week(arena, made_week(arena, &how)), FORMAT_TEXT);

    assert_non_null(strstr(text, "Lowest charge 12 % on"));
    assert_non_null(strstr(text, "load not fed"));
    assert_non_null(strstr(text, "water maker,"));
    assert_non_null(strstr(text, "planning aid"));
    assert_null(strstr(text, "Solar"));
    free(text);
    arena_free(arena);
}

TEST(many_events_are_cut_for_people_and_kept_for_machines)
{
    struct arena *arena = arena_new();
    struct week week = *made_full_week(arena);
    struct week_event *events = arena_array(arena, 40, sizeof *events);
    const struct sheet *sheet;
    json_t *json;
    char *text;

    for (int i = 0; i < 40; i++)
        events[i] = (struct week_event){ .kind = EVENT_INVERTER_OVERLOAD,
                                         .start_s = i * 3600.0,
                                         .end_s = i * 3600.0 + 60,
                                         .worst_w = 2400,
                                         .limit_w = 2000,
                                         .wh = 6,
                                         .who = "kettle" };
    week.events = events;
    week.event_count = 40;
    sheet = sheet_week(arena, &week);
    text = written(sheet, FORMAT_TEXT);
    assert_non_null(strstr(text, "10 more events"));
    json = parsed(sheet);
    assert_int_equal(json_array_size(json_object_get(json, "events")), 40);
    begins(json_array_get(json_object_get(json, "events"), 3),
           "start end kind worst_w limit_w worst_time wh who");
    json_decref(json);
    free(text);
    arena_free(arena);
}

TEST(a_polar_day_has_no_sunrise)
{
    struct arena *arena = arena_new();
    const struct made_week how = { .start = 1, .load_w = 50, .latitude = 90, .days = 2 };
    json_t *json = parsed(sheet_week(arena, made_week(arena, &how)));

    assert_true(json_is_null(json_object_get(json_array_get(json_object_get(json, "days"), 1), "sunrise")));
    json_decref(json);
    json = parsed(sheet_sun(arena, made_sun_day(arena, 1)));
    assert_true(json_is_null(json_object_get(json, "sunrise")));
    json_decref(json);
    arena_free(arena);
}

TEST(balance_json_nests_loads_and_sources)
{
    struct arena *arena = arena_new();
    json_t *json = parsed(sheet_balance(arena, made_balance(arena), 0));
    const json_t *day = json_array_get(json_object_get(json, "days"), 0);

    begins(day, "kind loads sources load_wh source_wh net_wh");
    begins(json_array_get(json_object_get(day, "loads"), 0), "name wh ah");
    begins(json_array_get(json_object_get(day, "sources"), 0), "name wh ah");
    assert_int_equal(json_array_size(json_object_get(day, "loads")), 7);
    row_check("fridge", number(json_array_get(json_object_get(day, "loads"), 0), "wh"), 540, 0, "by hand");
    assert_null(json_object_get(json, "working"));
    json_decref(json);
    arena_free(arena);
    row_done();
}

TEST(what_does_not_run_is_left_out_for_people_and_kept_for_machines)
{
    struct arena *arena = arena_new();
    const struct balance_item loads[] = { { .name = "fridge", .wh = 540 }, { .name = "idle-winch" } };
    const struct balance_day day = { .kind = "anchor", .loads = loads, .load_count = 2, .load_wh = 540 };
    const struct balance balance = { .boat = "x", .bank_v = 12, .days = &day, .day_count = 1 };
    const struct sheet *sheet = sheet_balance(arena, &balance, 0);
    char *text = written(sheet, FORMAT_TEXT), *csv = written(sheet, FORMAT_CSV);
    json_t *json = parsed(sheet);

    assert_non_null(strstr(text, "fridge"));
    assert_null(strstr(text, "idle-winch"));
    assert_non_null(strstr(text, "left out there"));
    assert_non_null(strstr(csv, "idle-winch"));
    assert_int_equal(
        json_array_size(json_object_get(json_array_get(json_object_get(json, "days"), 0), "loads")), 2);
    json_decref(json);
    free(csv);
    free(text);
    arena_free(arena);
}

TEST(size_json_has_an_object_per_part_and_working_when_asked)
{
    struct arena *arena = arena_new();
    json_t *json = parsed(sheet_size(arena, made_size(arena), 1));
    const json_t *working = json_array_get(json_object_get(json, "working"), 1);

    begins(json_object_get(json, "bank"), "needed_ah handbook_ah simulated_ah limited_by blocks");
    begins(json_object_get(json, "solar"), "needed_w");
    begins(json_object_get(json, "inverter"), "continuous_w surge_w");
    begins(json_object_get(json, "generator"), "hours_per_week");
    assert_true(json_is_object(json_object_get(json, "charger")));
    assert_int_equal(json_array_size(json_object_get(json_object_get(json, "alternator"), "machines")), 2);
    begins(working, "topic figure formula numbers value unit source");
    row_check("working in full", number(working, "value"), 660.4375, 1e-6, "by hand");
    json_decref(json);
    arena_free(arena);
    row_done();
}

TEST(sun_json_has_hours_and_rise_and_set)
{
    struct arena *arena = arena_new();
    json_t *json = parsed(sheet_sun(arena, made_sun_day(arena, 0)));

    begins(json_array_get(json_object_get(json, "hours"), 6),
           "time elevation_deg azimuth_deg clear_sky_w_m2 panel_w");
    assert_string_equal(json_string_value(json_object_get(json, "sunrise")), "2026-07-06T06:06");
    assert_string_equal(json_string_value(json_object_get(json, "sunset")), "2026-07-06T19:46");
    json_decref(json);
    arena_free(arena);
}

/* ---- boats and keys ---- */

static const struct bank house = { .name = "house",
                                   .line = 12,
                                   .chemistry = CHEMISTRY_AGM,
                                   .block_capacity = { 220, 220, 220, ORIGIN_GIVEN, 13, "220 Ah" },
                                   .block_voltage = { 6, 6, 6, ORIGIN_GIVEN, 14, "6 V" },
                                   .series = { 2, 2, 2, ORIGIN_GIVEN, 15, "2" },
                                   .parallel = { 2, 2, 2, ORIGIN_GIVEN, 16, "2" },
                                   .floor = { 0.5, 0.5, 0.5, ORIGIN_DEFAULT, 0, NULL } };
static const struct load fridge = { .name = "fridge",
                                    .line = 30,
                                    .supply = SUPPLY_DC,
                                    .bank = &house,
                                    .priority = LOAD_NORMAL,
                                    .power = { 50, 40, 60, ORIGIN_GIVEN, 31, "40..60 W" },
                                    .count = { 1, 1, 1, ORIGIN_DEFAULT, 0, NULL },
                                    .duty = { 0.45, 0.45, 0.45, ORIGIN_GIVEN, 32, "45 %" } };
static const struct assumption assumed[] = { { "bank house", "floor", "50 %", "common practice" } };

TEST(check_says_what_was_read_and_what_was_assumed)
{
    struct arena *arena = arena_new();
    const struct boat boat = { .name = "Example (invented)",
                               .banks = &house,
                               .bank_count = 1,
                               .loads = &fridge,
                               .load_count = 1,
                               .assumptions = assumed,
                               .assumption_count = 1,
                               .dc_voltage = { 12, 12, 12, ORIGIN_GIVEN, 2, "12 V" } };
    const struct sheet *sheet = sheet_check(arena, &boat);
    char *text = written(sheet, FORMAT_TEXT), *csv = written(sheet, FORMAT_CSV);

    assert_string_equal(text, "The profile as it was read\n"
                              "Example (invented)\n"
                              "\n"
                              "Read\n"
                              "  Section      Line  As understood\n"
                              "  ──────────────────────────────────────────────────────────────────\n"
                              "  boat            -  DC 12 V\n"
                              "  bank house     12  440 Ah 12 V AGM, 4 blocks of 220 Ah, floor 50 %\n"
                              "  load fridge    30  40 to 60 W, DC, duty 45 %\n"
                              "\n"
                              "Assumed, because the profile does not say\n"
                              "  Section     Key    Taken as  Because\n"
                              "  ────────────────────────────────────────────\n"
                              "  bank house  floor  50 %      common practice\n"
                              "\n"
                              "- Results are only as good as these assumptions: give the value in the "
                              "profile where you know it.\n");
    assert_string_equal(csv, "section,key,value,why\r\nbank house,floor,50 %,common practice\r\n");
    free(text);
    free(csv);
    arena_free(arena);
}

TEST(keys_stand_under_their_sections)
{
    static const struct key_row rows[] = {
        { "boat", "name", "text", "required", "-", "what she is called", "-" },
        { "bank NAME", "floor", "%", "50 %", "0..100 %", "charge not to go below", "common practice" },
        { "bank NAME", "health", "%", "100 %", "1..100 %", "capacity left", "-" },
    };
    struct arena *arena = arena_new();
    const struct sheet *sheet = sheet_keys(arena, rows, 3);
    char *text = written(sheet, FORMAT_TEXT);
    json_t *json = parsed(sheet);

    assert_non_null(strstr(text, "\n[boat]\n"));
    assert_non_null(strstr(text, "\n[bank NAME]\n"));
    assert_int_equal(json_array_size(json_object_get(json, "keys")), 3);
    begins(json_array_get(json_object_get(json, "keys"), 0),
           "section key form default bounds meaning source");
    json_decref(json);
    free(text);
    arena_free(arena);
}

TEST(climate_shows_months_and_sources)
{
    static const struct climate area = { .name = "Nowhere Bay",
                                         .latitude = 12.3,
                                         .longitude = -61.5,
                                         .irradiation = { 5.1, 5.6, 6, 6.2, 6.1, 5.9, 6, 5.9, 5.5, 5.2, 4.9,
                                                          4.8 },
                                         .air_temperature = { 26 },
                                         .clearness_sd = 0.08,
                                         .source = "invented" };
    struct arena *arena = arena_new();
    const struct sheet *sheet = sheet_climate(arena, &area, 1);
    json_t *json = parsed(sheet);
    const json_t *row = json_array_get(json_object_get(json, "areas"), 0);
    char *text = written(sheet, FORMAT_TEXT);

    row_check("irradiation", number(row, "irradiation_apr_kwh_m2"), 6.2, 1e-9, "by hand");
    assert_true(json_is_null(json_object_get(row, "wind_jan_m_s")));
    assert_non_null(strstr(text, "invented"));
    json_decref(json);
    free(text);
    arena_free(arena);
    row_done();
}

static size_t longest_line(const char *text)
{
    size_t longest = 0, length = 0;

    for (; *text; text++) {
        if (*text == '\n')
            length = 0;
        else if (((unsigned char)*text & 0xC0) != 0x80)
            length++;
        longest = length > longest ? length : longest;
    }
    return longest;
}

TEST(every_sheet_keeps_to_the_page_width)
{
    struct arena *arena = arena_new();
    const struct sheet *sheets[] = { sheet_week(arena, made_full_week(arena)),
                                     sheet_balance(arena, made_balance(arena), 1),
                                     sheet_size(arena, made_size(arena), 1),
                                     sheet_sun(arena, made_sun_day(arena, 0)) };

    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        char *text = written(sheets[i], FORMAT_TEXT);

        assert_true(longest_line(text) <= 100);
        assert_null(strstr(text, "nan"));
        assert_null(strstr(text, " \n"));
        free(text);
    }
    arena_free(arena);
}

/* test_cable.c - the command cable, as an electrician uses it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/json.h"
#include "support/run.h"

/* One run asked for, one figure wanted of its answer. */
struct answer_row {
    const char *label;
    const char *arguments[14];
    const char *path;
    double want, tolerance;
    const char *source;
};

static const struct answer_row rows[] = {
    { "10 A over 21 ft, 3 % of 12 V: 12 AWG",
      { "--current", "10A", "--length", "10.5ft", "--drop", "3%", "--rules", "abyc-e11" },
      "area_mm2",
      3.3088,
      1e-3,
      "worked marine wire sizing example: 12 AWG" },
    { "the same at 10 %: 16 AWG",
      { "--current", "10A", "--length", "10.5ft", "--drop", "10%", "--rules", "abyc-e11", "--insulation",
        "105C" },
      "area_mm2",
      1.3087,
      1e-3,
      "10 % wire chart at 12 V" },
    { "1.6 A over 22 m out and back on 1.5 mm2",
      { "--current", "1.6A", "--length", "11m", "--area", "1.5mm2", "--rules", "iso10133" },
      "rule_drop_v",
      0.385,
      6e-4,
      "worked volt drop example, extra low voltage DC (0.38 V printed)" },
    { "8 AWG, 105 C, engine space, five together: 40.8 A",
      { "--current", "20A", "--length", "2m", "--area", "8 AWG", "--rules", "abyc-e11", "--insulation",
        "105C", "--place", "engine", "--bundle", "5" },
      "ampacity_a",
      40.8,
      1e-6,
      "UL 1426 boat cable, currents by bundle (maker's table)" },
    { "33 CFR does not bundle below 50 V",
      { "--current", "20A", "--length", "2m", "--area", "8 AWG", "--rules", "cfr183", "--insulation", "105C",
        "--bundle", "5" },
      "ampacity_a",
      80,
      1e-6,
      "33 CFR 183.435(b)" },
    { "2/0 in an engine space: 280 A",
      { "--current", "100A", "--length", "1m", "--area", "2/0 AWG", "--insulation", "105C", "--place",
        "engine" },
      "ampacity_a",
      280.5,
      1e-6,
      "33 CFR 183.425 Table 5, note 1" },
    { "a fuse of 150 % by 33 CFR",
      { "--current", "20A", "--length", "1m", "--area", "8 AWG", "--insulation", "105C", "--rules",
        "cfr183" },
      "fuse_max_a",
      100,
      1e-9,
      "33 CFR 183.455(c)(1): 150 % of 80 A is 120 A, next standard below is 100 A" },
    { "never above by ISO",
      { "--current", "20A", "--length", "1m", "--area", "10 mm2", "--insulation", "105C", "--rules",
        "iso13297" },
      "fuse_max_a",
      80,
      1e-9,
      "ISO 13297:2020 13.1.5: 90 A carried, next standard below is 80 A" },
    { "watts are constant: volts at the load",
      { "--power", "500W", "--length", "3m", "--area", "16mm2", "--rules", "iso10133", "--insulation", "105C" },
      "load_v",
      11.65813,
      1e-5,
      "by hand: (12 + sqrt(144 - 4 x 500 x 0.0079711))/2, at 38.16 C by 42.89 A of 130 A" },
    { "more than a run can bring: half the volts is where it ends",
      { "--power", "20kW", "--length", "10m", "--area", "1mm2", "--rules", "iso10133" },
      "load_v",
      6,
      1e-6,
      "by hand: E/2" },
    { "a motor behind 25 mm2 at 61.25 C: I (R cos phi + X sin phi), and what is at right angles",
      { "--current", "100A", "--volts", "230V", "--power-factor", "0.8", "--length", "10m", "--area", "25mm2",
        "--rules", "iso13297" },
      "drop_v",
      100 * (18.4776 * 0.8 + 20 * 0.08 * 0.6) / 1000,
      0.003,
      "by hand, IEC 60364-5-52 annex G" },
    { "two runs halve the drop",
      { "--current", "100A", "--length", "5m", "--area", "35mm2", "--runs", "2", "--rules", "iso10133" },
      "rule_drop_v",
      0.0164 * 50 * 10 / 35,
      1e-9,
      "by hand" },
    { "230 V asks for a protective conductor",
      { "--current", "16A", "--length", "12m", "--volts", "230V", "--area", "25mm2", "--rules", "iso13297" },
      "protective_mm2",
      16,
      1e-9,
      "BS 7671 table 54.7" },
};

TEST(answers)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *arguments[20] = { "cable" };
        json_t *root;

        for (size_t k = 0; k < 14 && rows[i].arguments[k]; k++)
            arguments[k + 1] = rows[i].arguments[k];
        root = json_run(arguments);
        row_check(rows[i].label, number_at(root, rows[i].path), rows[i].want, rows[i].tolerance,
                  rows[i].source);
        json_decref(root);
    }
    row_done();
}

TEST(the_fixed_fields_are_there)
{
    json_t *root = JSON_RUN("cable", "--current", "30A", "--length", "6m");

    json_has(root, "",
             "name from to current_a length_m area_mm2 installed_mm2 awg resistance_mohm drop_v rule_drop_v "
             "drop_percent total_drop_percent drop_limit_percent ampacity_a fuse_a fuse_ok fault_a copper_kg "
             "status rules edition");
    row_check("drop", number_at(root, "drop_v"),
              number_at(root, "current_a") * number_at(root, "resistance_mohm") / 1000, 1e-6, "by hand: I R");
    assert_string_equal(text_at(root, "rules"), "cfr183");
    json_decref(root);
    row_done();
}

/* Feet and metres, AWG and its square millimetres: the same cable. */
TEST(units_agree)
{
    json_t *us =
        JSON_RUN("cable", "--current", "25A", "--length", "20ft", "--area", "4 AWG", "--rules", "abyc-e11");
    json_t *si = JSON_RUN("cable", "--current", "25A", "--length", "6.096m", "--area", "21.15064mm2",
                          "--rules", "abyc-e11");

    row_check("drop by the rule", number_at(us, "rule_drop_v"), number_at(si, "rule_drop_v"), 1e-6,
              "by hand");
    row_check("ampacity", number_at(us, "ampacity_a"), number_at(si, "ampacity_a"), 1e-3, "by hand");
    json_decref(us);
    json_decref(si);
    row_done();
}

/* A longer run, more current, a tighter limit never ask for less copper. */
TEST(property_more_asks_for_more)
{
    static const char *const lengths[] = { "1m", "3m", "6m", "10m", "15m" };
    static const char *const amps[] = { "5A", "20A", "60A", "100A" };

    for (size_t a = 0; a < 4; a++) {
        double last = 0;

        for (size_t i = 0; i < 5; i++) {
            json_t *loose = JSON_RUN("cable", "--current", amps[a], "--length", lengths[i], "--rules",
                                     "iso10133", "--insulation", "105C");
            json_t *tight = JSON_RUN("cable", "--current", amps[a], "--length", lengths[i], "--rules",
                                     "iso10133", "--insulation", "105C", "--drop", "3%");

            assert_true(number_at(loose, "area_mm2") >= last);
            assert_true(number_at(tight, "area_mm2") >= number_at(loose, "area_mm2"));
            last = number_at(loose, "area_mm2");
            json_decref(loose);
            json_decref(tight);
        }
    }
}

/* Both have the figure and it is the same, or neither has. */
static void same_figure(json_t *run, json_t *cable, const char *name, double tolerance)
{
    if (json_is_null(json_at(run, name)) && json_is_null(json_at(cable, name)))
        return;
    row_check(name, number_at(run, name), number_at(cable, name), tolerance * number_at(cable, name),
              "by hand: the same run");
}

/* The same run in a profile, its load of constant current: the two commands share their figures. */
TEST(a_profile_gives_the_same)
{
    static const struct {
        const char *rules, *amps, *length, *insulation, *place, *bundle;
    } runs[] = {
        { "cfr183", "80A", "12m", "105C", "engine", "1" },  { "cfr183", "30A", "6m", "105C", "cabin", "2" },
        { "abyc-e11", "30A", "6m", "105C", "cabin", "2" },  { "abyc-e11", "80A", "12m", "75C", "engine", "5" },
        { "iso10133", "80A", "12m", "105C", "engine", "1" }, { "iso13297", "30A", "6m", "90C", "cabin", "8" },
    };
    static const char *const figures[] = { "area_mm2",   "resistance_mohm", "drop_v",    "rule_drop_v",
                                           "ampacity_a", "fuse_min_a",      "fuse_max_a", "fuse_a",
                                           "copper_kg",  "drop_limit_percent", "fuse_interrupt_a", "withstand_s" };
    char *folder = folder_new(), space[512], text[512];

    for (size_t i = 0; i < sizeof runs / sizeof *runs; i++) {
        json_t *run, *boat, *cable;
        char fault[40];

        snprintf(text, sizeof text,
                 "[boat]\nname = T\ndc_voltage = 12 V\n[bank house]\nrole = house\nchemistry = agm\n"
                 "block_capacity = 400 Ah\nblock_voltage = 12 V\n[load lamp]\ncurrent = %s\nbehaves = current\n"
                 "[cable run]\nfrom = house\nto = lamp\nlength = %s\ninsulation = %s\nplace = %s\nbundle = %s\n",
                 runs[i].amps, runs[i].length, runs[i].insulation, runs[i].place, runs[i].bundle);
        file_put(path_in(space, folder, "boat.ini"), text);
        boat = JSON_RUN("cables", space, "--rules", runs[i].rules);
        cable = json_at(boat, "cables.0");
        snprintf(fault, sizeof fault, "%.6fA", number_at(cable, "fault_a"));
        run = JSON_RUN("cable", "--current", runs[i].amps, "--length", runs[i].length, "--rules", runs[i].rules,
                       "--insulation", runs[i].insulation, "--place", runs[i].place, "--bundle", runs[i].bundle,
                       "--fault", fault);
        assert_string_equal(text_at(run, "fuse_class"), text_at(cable, "fuse_class"));
        for (size_t k = 0; k < sizeof figures / sizeof *figures; k++)
            same_figure(run, cable, figures[k], 1e-5);
        json_decref(boat);
        json_decref(run);
    }
    folder_remove(folder);
    row_done();
}

/* The same on AC, watts behind reactance and a power factor: shore gives nominal volts, as the command takes them. */
TEST(a_profile_gives_the_same_on_ac)
{
    static const struct {
        const char *rules, *power, *factor, *length, *area;
    } runs[] = {
        { "iso13297", "3000W", "0.8", "30m", NULL },       { "iso13297", "6000W", "0.7", "60m", "16 mm2" },
        { "abyc-e11", "2000W", "1", "25m", NULL },         { "iso13297", "7000W", "0.5", "45m", "70 mm2" },
        { "cfr183", "3000W", "1", "20m", NULL },           { "cfr183", "3000W", "0.6", "90m", NULL },
    };
    static const char *const figures[] = {
        "area_mm2",    "current_a",  "resistance_mohm", "reactance_mohm", "conductor_c", "drop_v",    "drop_percent",
        "rule_drop_v", "ampacity_a", "fuse_min_a",      "fuse_max_a",     "copper_kg",   "protective_mm2",
        "total_drop_percent", "drop_margin_percent",
    };
    char *folder = folder_new(), space[512], text[512];

    for (size_t i = 0; i < sizeof runs / sizeof *runs; i++) {
        json_t *run = JSON_RUN("cable", "--volts", "230V", "--power", runs[i].power, "--power-factor", runs[i].factor,
                               "--length", runs[i].length, "--rules", runs[i].rules, runs[i].area ? "--area" : NULL,
                               runs[i].area);
        json_t *boat, *cable;

        snprintf(text, sizeof text,
                 "[boat]\nname = T\ndc_voltage = 12 V\nac_voltage = 230 V\n[shore]\ncurrent = 63 A\n"
                 "[load pump]\nsupply = mains\npower = %s\npower_factor = %s\n"
                 "[cable run]\nfrom = shore\nto = pump\nlength = %s\n%s%s\n",
                 runs[i].power, runs[i].factor, runs[i].length, runs[i].area ? "area = " : "",
                 runs[i].area ? runs[i].area : "");
        file_put(path_in(space, folder, "boat.ini"), text);
        boat = JSON_RUN("cables", space, "--rules", runs[i].rules);
        cable = json_at(boat, "cables.0");
        for (size_t k = 0; k < sizeof figures / sizeof *figures; k++)
            same_figure(run, cable, figures[k], 1e-5);
        row_check("volts at the load", number_at(run, "load_v"), number_at(boat, "loads.0.volts_v"), 1e-3,
                  "by hand: the same run");
        assert_string_equal(text_at(run, "rcd"), text_at(boat, "ac_sources.0.rcd"));
        assert_string_equal(text_at(cable, "fuse_class"), "breaker"); /* fuses for 32 V DC are none for 230 V */
        json_decref(boat);
        json_decref(run);
    }
    folder_remove(folder);
    row_done();
}

static void wants(struct run *run, int code, const char *out, const char *err)
{
    if (run->code != code || (out && !strstr(run->out, out)) || (err && !strstr(run->err, err)))
        fail_msg("exit %d, wanted %d: %.400s%.400s", run->code, code, run->out, run->err);
    run_free(run);
}

TEST(what_it_shows)
{
    struct run run = { 0 };

    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--working", "--rules", "abyc-e11");
    wants(&run, 0, "10.75 x I x L / E", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--table", "--drop", "3%", "--units", "us",
        "--rules", "abyc-e11");
    wants(&run, 0, "12.5 ft", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--table", "--drop", "3%", "--rules", "abyc-e11");
    wants(&run, 0, "sizes in AWG that lose at most 3 % of 12 V", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--table", "--volts", "24V", "--rules", "iso10133");
    wants(&run, 0, "sizes in mm2 that lose at most 10 % of 24 V", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--rules", "cfr183");
    if (strstr(run.out, "by the rule")) /* the set has none: nothing may claim one */
        fail_msg("a rule is claimed: %s", run.out);
    wants(&run, 0, "loses 7.00 % of 12 V, conductors warm", NULL);
    RUN(&run, "cable", "--current", "10A", "--length", "3m", "--area", "12 SAE", "--rules", "abyc-e11");
    wants(&run, 0, "less copper than 12 AWG", NULL);
    RUN(&run, "cable", "--current", "12A", "--length", "9m", "--volts", "24V", "--drop", "3%", "--rules", "iso10133");
    wants(&run, 0, "by the rule it holds the 3 %, a meter will show 3.21 %", NULL);
    RUN(&run, "cable", "--current", "12A", "--length", "9m", "--volts", "230V", "--rules", "iso10133");
    wants(&run, 0, "the set ends below 50 V: for AC name another", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--table", "--format", "csv", "--rules",
        "iso10133");
    wants(&run, 0, "series,drop_limit_percent,volts_v,size_5_a", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--table", "--format", "csv", "--rules",
        "iso10133");
    wants(&run, 0, "20 m,20.00,mm2,10.0,12.0,", NULL);
    RUN(&run, "cable", "--current", "300A", "--length", "40m", "--strict", "--quiet");
    wants(&run, 4, "No single size passes", NULL);
}

/* What fails says why in one sentence, and what would do. */
TEST(findings_of_what_fails)
{
    static const struct {
        const char *arguments[12], *want;
    } rows_of[] = {
        { { "--current", "600A", "--length", "3m", "--rules", "iso13297" },
          "No single size passes: 150 mm2, the largest, may carry 380 A, not 600 A; 2 x 95 mm2 in parallel would do" },
        { { "--current", "1000A", "--length", "1m" }, "no standard fuse carries 1000 A: divide it into several circuits" },
        { { "--current", "300A", "--length", "200m", "--drop", "1%" }, "then the volts collapse; nor would any number in parallel" },
        { { "--current", "5A", "--length", "3m", "--insulation", "60C", "--place", "engine", "--rules", "iso10133" },
          "No size passes: it may not lie in an engine space: iso10133 allows no insulation rated 60 C there" },
        { { "--current", "20A", "--length", "6m", "--area", "240mm2" }, "240mm2 does not pass: it stands in no table of cfr183" },
        { { "--current", "30A", "--length", "16m", "--area", "4mm2", "--rules", "iso10133", "--insulation", "90C" },
          "it loses 32.80 % of 12 V, and 10 % is the limit" },
        { { "--current", "3A", "--length", "1m", "--area", "0.75mm2", "--rules", "iso10133" },
          "it is under the smallest conductor of iso10133" },
        { { "--current", "20A", "--length", "6m", "--fault", "60kA" },
          "10 AWG (5.26 mm2) does not pass: it has no right fuse: no family of fuses breaks 60000 A" },
        { { "--current", "30A", "--length", "20ft" }, "over 20 ft (6.10 m) and loses" },
        { { "--current", "125A", "--length", "6m", "--volts", "230V", "--rules", "iso13297" }, "fuse 125 to 160 A" },
    };

    for (size_t i = 0; i < sizeof rows_of / sizeof *rows_of; i++) {
        const char *arguments[16] = { "cable" };
        json_t *root;

        for (size_t k = 0; k < 12 && rows_of[i].arguments[k]; k++)
            arguments[k + 1] = rows_of[i].arguments[k];
        root = json_run(arguments);
        if (!strstr(text_at(root, "finding"), rows_of[i].want))
            fail_msg("wanted \"%s\" in: %s", rows_of[i].want, text_at(root, "finding"));
        json_decref(root);
    }
}

/* So many in parallel as it says do pass, and one less does not. */
TEST(property_the_way_out_is_true)
{
    struct run run = { 0 };

    RUN(&run, "cable", "--current", "300A", "--length", "16m", "--drop", "1%", "--runs", "15", "--strict", "--quiet");
    wants(&run, 0, "4/0 AWG", NULL);
    RUN(&run, "cable", "--current", "300A", "--length", "16m", "--drop", "1%", "--runs", "14", "--strict", "--quiet");
    wants(&run, 4, "15 x 4/0 AWG in parallel would do", NULL);
}

/* Side by side, each set answers as it does alone. */
TEST(all_sets_side_by_side)
{
    static const char *const sets[] = { "cfr183", "abyc-e11", "iso10133", "iso13297" };
    static const char *const figures[] = { "area_mm2", "current_a", "rule_total_drop_percent", "drop_percent", "ampacity_a",
                                           "fuse_min_a", "fuse_max_a", "fuse_a", "drop_limit_percent" };
    json_t *all = JSON_RUN("cable", "--power", "400W", "--length", "6m", "--rules", "all");
    struct run run = { 0 };

    assert_int_equal(json_array_size(json_at(all, "sets")), 4);
    for (size_t i = 0; i < 4; i++) {
        json_t *one = JSON_RUN("cable", "--power", "400W", "--length", "6m", "--rules", sets[i]), *row;

        row = json_array_get(json_at(all, "sets"), i);
        assert_string_equal(text_at(row, "rules"), sets[i]);
        assert_string_equal(text_at(row, "finding"), text_at(one, "finding"));
        for (size_t k = 0; k < sizeof figures / sizeof *figures; k++)
            same_figure(row, one, figures[k], 1e-9);
        json_decref(one);
    }
    json_decref(all);
    row_done();
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--rules", "all", "--area", "6mm2", "--insulation", "105C",
        "--strict", "--quiet");
    wants(&run, 4, "6mm2 (near 10 AWG) does not pass by cfr183", NULL);
    RUN(&run, "cable", "--current", "6A", "--length", "2m");
    wants(&run, 0, "Fuse      7.5 A", NULL);
}

/* A size stands once, in the words of the set and for those who think in the other series. */
TEST(a_size_is_said_once)
{
    static const struct {
        const char *rules, *area, *want;
    } sizes[] = {
        { "cfr183", NULL, " 8 AWG (8.37 mm2)\n" },
        { "iso10133", NULL, " 6 mm2 (near 10 AWG)\n" },
        { "cfr183", "2/0 AWG", " 2/0 AWG (67.4 mm2)\n" },
        { "iso10133", "19 x 1.35 mm", " 19 x 1.35 mm (27.2 mm2)\n" },
        { "cfr183", "70 mm2", " 70 mm2 (near 2/0 AWG)\n" },
        { "iso10133", "240 mm2", " 240 mm2\n" },
    };

    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct run run = { 0 };
        const char *first;

        RUN(&run, "cable", "--current", "30A", "--length", "6m", "--rules", sizes[i].rules,
            sizes[i].area ? "--area" : NULL, sizes[i].area);
        first = strstr(run.out, "\n  Size  ");
        if (!first || strstr(first + 1, "\n  Size  ") || !strstr(run.out, sizes[i].want))
            fail_msg("wanted once \"%s\" of: %s", sizes[i].want, run.out);
        run_free(&run);
    }
}

/* What a profile takes, this takes: the same bounds, from the same table. */
TEST(bounds_are_those_of_a_profile)
{
    struct run run = { 0 };

    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--drop", "26%");
    wants(&run, 2, NULL, "--drop: \"26%\" is out of bounds; 0.1..25 % is allowed");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--drop", "25%");
    wants(&run, 0, NULL, NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "600m");
    wants(&run, 2, NULL, "--length: \"600m\" is out of bounds; 0.01..500 m is allowed");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--insulation", "201C");
    wants(&run, 2, NULL, "60..200 C");
}

/* Where the short circuit is known the device must break it; what the far end still gives must open it. */
TEST(a_fuse_that_breaks_the_fault)
{
    static const struct {
        const char *fault, *class_name;
        double breaks;
    } fuses[] = { { "500A", "blade", 1000 }, { "5kA", "cube", 10000 }, { "15kA", "class-t", 20000 } };
    struct run run = { 0 };

    for (size_t i = 0; i < sizeof fuses / sizeof *fuses; i++) {
        json_t *root =
            JSON_RUN("cable", "--current", "30A", "--length", "6m", "--rules", "iso10133", "--fault", fuses[i].fault);

        assert_string_equal(text_at(root, "fuse_class"), fuses[i].class_name);
        row_check("breaks", number_at(root, "fuse_interrupt_a"), fuses[i].breaks, 0, "by hand: the first family that does");
        json_decref(root);
    }
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--fault", "60kA");
    wants(&run, 0, "no family of fuses breaks 60000 A at 12 V", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--fault", "100A", "--area", "6mm2", "--drop", "25%");
    wants(&run, 0, "a short opens the fuse late", NULL);
    RUN(&run, "cable", "--current", "30A", "--length", "6m");
    wants(&run, 0, "say --fault", NULL);
    RUN(&run, "cable", "--current", "16A", "--length", "6m", "--volts", "230V", "--fault", "3kA");
    wants(&run, 0, "its label must say that it breaks 3000 A", NULL);
    row_done();
}

TEST(what_it_refuses)
{
    struct run run = { 0 };

    RUN(&run, "cable");
    wants(&run, 2, NULL, "--current: is missing");
    RUN(&run, "cable", "--current", "30", "--length", "6m");
    wants(&run, 2, NULL, "--current: \"30\" has no unit");
    RUN(&run, "cable", "--current", "30A", "--power", "9W", "--length", "6m");
    wants(&run, 2, NULL, "same thing twice");
    RUN(&run, "cable", "--current", "30A", "--length", "-6m");
    wants(&run, 2, NULL, "out of bounds");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--area", "900mm2");
    wants(&run, 2, NULL, "no table of conductors has 900mm2");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--runs", "1.5");
    wants(&run, 2, NULL, "--runs: \"1.5\" is no whole number");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--bundle", "101");
    wants(&run, 2, NULL, "--bundle: \"101\" is out of bounds");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--place", "attic");
    wants(&run, 2, NULL, "neither cabin nor engine");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--rules", "own");
    wants(&run, 2, NULL, "belongs to a profile");
    RUN(&run, "cable", "--current", "30A", "--length", "6m", "--rules", "all", "--table");
    wants(&run, 2, NULL, "--table: is made by one rule set");
    RUN(&run, "cable", "--current", "3A", "--length", "6m", "--bundle", "two");
    wants(&run, 2, NULL, "\"two\" is not a number; write a number, such as 5\n");
    RUN(&run, "cable", "--current", "30..40A", "--length", "6m");
    wants(&run, 2, NULL, "\"30..40A\" is a range; one number: the worse end of it");
    RUN(&run, "cable", "--power", "360W", "--length", "6m", "--power-factor", "0.8");
    wants(&run, 2, NULL, "--power-factor: is of AC alone");
    RUN(&run, "cable", "--power", "360W", "--length", "6m", "--volts", "230V", "--power-factor", "1.2");
    wants(&run, 2, NULL, "0.1..1 is allowed");
    RUN(&run, "cable", "boat.ini", "--current", "30A", "--length", "6m");
    wants(&run, 2, NULL, "takes no argument");
}

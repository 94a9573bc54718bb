/* test_cables.c - the command cables, as a user runs it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "support/json.h"
#include "support/run.h"

static const char boat[] = "profiles/cruiser-12v-agm.ini";

static void wants(const struct run *run, int code, const char *out, const char *err)
{
    if (run->code != code || (out && !strstr(run->out, out)) || (err && !strstr(run->err, err)))
        fail_msg("exit %d, wanted %d: %.300s%s", run->code, code, run->out, run->err);
}

TEST(cables_have_their_fixed_fields)
{
    json_t *root = JSON_RUN("cables", boat), *cable;
    size_t i;

    json_array_foreach(json_at(root, "cables"), i, cable)
    {
        json_has(cable, "", "name from to current_a length_m area_mm2 installed_mm2 awg resistance_mohm drop_v "
                            "rule_drop_v drop_percent total_drop_percent drop_limit_percent ampacity_a fuse_a fuse_ok "
                            "fault_a copper_kg status");
        if (strcmp(text_at(cable, "system"), "dc") == 0)
            row_check(text_at(cable, "name"), number_at(cable, "drop_v"),
                      number_at(cable, "current_a") * number_at(cable, "resistance_mohm") / 1000, 1e-4,
                      "by hand: current x loop");
    }
    assert_int_equal(i, 16);
    json_has(root, "nodes.0", "name volts_v");
    json_has(root, "banks.0", "name open_circuit_v resistance_mohm");
    json_has(root, "loads.0", "name node behaves power_w current_a volts_v");
    json_decref(root);
    row_done();
}

TEST(the_rule_set_and_its_edition_stand_on_the_sheet)
{
    struct run run = { 0 };

    RUN(&run, "cables", boat, "--rules", "cfr183", "--format", "json");
    wants(&run, 0, "33 CFR part 183", NULL);
    run_free(&run);
    RUN(&run, "cables", boat, "--rules", "abyc-e11", "--format", "json");
    wants(&run, 0, "ABYC E-11", NULL);
    run_free(&run);
}

TEST(scenarios_and_wrong_ones)
{
    struct run run = { 0 };

    RUN(&run, "cables", boat, "--day", "anchor");
    wants(&run, 0, "anchor", NULL);
    run_free(&run);
    RUN(&run, "cables", boat, "--day", "holiday");
    wants(&run, 1, NULL, "there is no scenario \"holiday\"");
    run_free(&run);
    RUN(&run, "cables", boat, "--rules", "all");
    wants(&run, 2, NULL, "cables are sized by one rule set");
    run_free(&run);
    RUN(&run, "cables", boat, "--strict", "--quiet");
    wants(&run, 4, NULL, NULL);
    run_free(&run);
    RUN(&run, "cables", boat, "--strict", "--quiet", "--day", "charging"); /* whichever is shown */
    wants(&run, 4, "in scenario largest", NULL);
    run_free(&run);
}

TEST(a_profile_without_cables_says_so)
{
    char *folder = folder_new(), space[512];
    struct run run = { 0 };

    file_put(path_in(space, folder, "bare.ini"), "[boat]\nname = Bare\ndc_voltage = 12 V\n");
    RUN(&run, "cables", space);
    wants(&run, 1, NULL, "the profile has no cables");
    run_free(&run);
    folder_remove(folder);
}

/* Two banks that stand at the same volts: the staircase begins at the one that feeds its path. */
TEST(the_staircase_begins_at_its_own_bank)
{
    static const char twin[] = "chemistry = agm\nblock_capacity = 200 Ah at 20 h\nblock_voltage = 12 V\n";
    char *folder = folder_new(), space[512], text[1500], plot[512], *svg;
    struct run run = { 0 };
    size_t length;

    snprintf(text, sizeof text,
             "[boat]\nname = Twins\ndc_voltage = 12 V\n[bank aft]\nrole = house\n%s[bank bow]\nrole = bow\n%s"
             "[load lamp]\ncurrent = 5 A\nhours = 1 h\n[load winch]\ncurrent = 5 A\nhours = 1 h\nbank = bow\n"
             "[cable short]\nfrom = aft\nto = lamp\nlength = 1 m\narea = 6 mm2\n"
             "[cable long]\nfrom = bow\nto = winch\nlength = 9 m\narea = 6 mm2\n",
             twin, twin);
    file_put(path_in(space, folder, "twins.ini"), text);
    RUN(&run, "cables", space, "--quiet", "--plot", path_in(plot, folder, "stairs.svg"));
    wants(&run, 0, NULL, NULL);
    run_free(&run);
    svg = file_contents(plot, &length);
    assert_non_null(svg);
    assert_non_null(strstr(svg, ">bow<"));
    assert_null(strstr(svg, ">aft<"));
    free(svg);
    folder_remove(folder);
}

/* The staircase: every node and cable of the path, their volts, and the least allowed. */
TEST(the_staircase_names_its_steps)
{
    static const char *const names[] = { "house",      "main-bus",         "inside the bank", "bank-main",
                                         "is the least allowed", "least ", "at no current",   "ISO 10133" };
    char *folder = folder_new(), space[512];
    struct run run = { 0 };
    size_t length;
    char *svg;

    RUN(&run, "cables", boat, "--quiet", "--plot", path_in(space, folder, "stairs.svg"));
    wants(&run, 0, NULL, NULL);
    run_free(&run);
    svg = file_contents(space, &length);
    assert_non_null(svg);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (!strstr(svg, names[i]))
            fail_msg("the picture lacks \"%s\"", names[i]);
    free(svg);
    RUN(&run, "cables", boat, "--rules", "cfr183", "--quiet", "--plot", path_in(space, folder, "stairs.svg"));
    wants(&run, 0, NULL, NULL);
    run_free(&run);
    svg = file_contents(space, &length);
    assert_non_null(strstr(svg, "limits by common practice"));
    free(svg);
    folder_remove(folder);
}

/* Wrong cables are said with file and line. */
TEST(remarks_name_file_and_line)
{
    char *folder = folder_new(), space[512];
    struct run run = { 0 };

    file_put(path_in(space, folder, "wrong.ini"),
             "[boat]\nname = Wrong\ndc_voltage = 12 V\n[bank house]\nchemistry = agm\nblock_capacity = 100 Ah\n"
             "block_voltage = 12 V\n[load lamp]\npower = 9 W\n[cable run]\nfrom = house\nto = lamp\nlength = 2 m\n"
             "area = 300 mm2\n");
    RUN(&run, "cables", space);
    wants(&run, 1, NULL, "wrong.ini:14: error: [cable run] area: no table of conductors has 300 mm2");
    run_free(&run);
    folder_remove(folder);
}

/* A cable, or a key of one, that a change file brought is remarked on there; what it left alone where it stands. */
TEST(remarks_name_the_change_file)
{
    static const struct {
        const char *area, *change, *remark;
    } rows[] = {
        { "16 mm2", "# thicker\n[cable run]\narea = 300 mm2\n",
          "change.ini:3: error: [cable run] area: no table of conductors has 300 mm2" },
        { "16 mm2", "[load fan]\npower = 5 W\n\n[cable fan-run]\nfrom = lamp\nto = fan\nlength = 1 m\narea = 250 mm2\n",
          "change.ini:8: error: [cable fan-run] area: no table of conductors has 250 mm2" },
        { "300 mm2", "[cable run]\nlength = 3 m\n",
          "boat.ini:14: error: [cable run] area: no table of conductors has 300 mm2" },
        { "16 mm2", "[cable run]\ninsulation = 60 C\nplace = engine\n[rules]\nset = iso13297\n",
          "boat.ini:14: warning: [cable run] area: the table of iso13297 has no current" },
    };
    char *folder = folder_new(), boat_space[512], change_space[512], text[512];

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct run run = { 0 };

        snprintf(text, sizeof text,
                 "[boat]\nname = B\ndc_voltage = 12 V\n[bank house]\nchemistry = agm\nblock_capacity = 100 Ah\n"
                 "block_voltage = 12 V\n[load lamp]\npower = 9 W\n[cable run]\nfrom = house\nto = lamp\nlength = 2 m\n"
                 "area = %s\n", rows[i].area);
        file_put(path_in(boat_space, folder, "boat.ini"), text);
        file_put(path_in(change_space, folder, "change.ini"), rows[i].change);
        RUN(&run, "cables", boat_space, "--change", change_space);
        if (!strstr(run.err, rows[i].remark))
            fail_msg("row %zu: %s", i, run.err);
        run_free(&run);
    }
    folder_remove(folder);
}

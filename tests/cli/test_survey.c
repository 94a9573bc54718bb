/* test_survey.c - the commands survey and handover, and the list of rules, as a user runs them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/json.h"
#include "support/run.h"

static const char healthy[] = "tests/rules/healthy.ini", found[] = "profiles/as-found.ini";

static void wants(const struct run *run, int code, const char *out, const char *err)
{
    if (run->code != code || (out && !strstr(run->out, out)) || (err && !strstr(run->err, err)))
        fail_msg("exit %d, wanted %d with \"%s\" and \"%s\": %.400s%s", run->code, code, out ? out : "",
                 err ? err : "", run->out, run->err);
}

/* --- survey --- */

TEST(findings_have_their_fixed_fields)
{
    json_t *root = JSON_RUN("survey", found), *list = json_at(root, "findings"), *f;
    size_t i, standing_a = 0;

    json_array_foreach(list, i, f)
    {
        json_has(f, "", "id priority place fact risk action reference status");
        standing_a +=
            strcmp(text_at(f, "status"), "does not comply") == 0 && strcmp(text_at(f, "priority"), "A") == 0;
    }
    assert_true(standing_a >= 11);
    row_check("counted", number_at(root, "counts.0.does_not_comply"), (double)standing_a, 0, "by hand");
    assert_string_equal(text_at(root, "findings.0.status"), "does not comply");
    assert_string_equal(text_at(root, "findings.0.priority"), "A");
    assert_true(json_array_size(json_at(root, "not_inspected")) > 10);
    assert_true(json_array_size(json_at(root, "complied")) > 50);
    json_decref(root);
    row_done();
}

TEST(only_strict_and_an_a_give_exit_4)
{
    struct run run;

    RUN(&run, "survey", found);
    wants(&run, 0, "must be settled before use", NULL);
    run_free(&run);
    RUN(&run, "survey", found, "--strict");
    wants(&run, 4, "must be settled before use", NULL);
    run_free(&run);
    RUN(&run, "survey", healthy, "--strict");
    wants(&run, 0, "No finding of priority A stands", NULL);
    run_free(&run);
    RUN(&run, "survey", found, "--strict", "--rules", "all");
    wants(&run, 4, "Where the rule sets differ", NULL);
    run_free(&run);
}

TEST(the_text_stands_alone)
{
    static const char *const holds[] = { "Priority A: before use",
                                         "Priority C: advice",
                                         "BAT-01",
                                         "moves when pushed",
                                         "To achieve",
                                         "Not inspected, or not known",
                                         "Not applicable",
                                         "planning aid",
                                         "120 V and 230 V kill",
                                         "iso13297" };
    struct run run;

    RUN(&run, "survey", found);
    for (size_t i = 0; i < sizeof holds / sizeof holds[0]; i++)
        wants(&run, 0, holds[i], NULL);
    wants(&run, 0, "mohm too much in joints", NULL);
    assert_string_equal(run.err, "");
    run_free(&run);
}

TEST(csv_is_one_table)
{
    static const char head[] = "id,priority,place,fact,risk,action,reference,status,area,need\r\n";
    struct run run;

    RUN(&run, "survey", found, "--format", "csv");
    assert_int_equal(run.code, 0);
    assert_memory_equal(run.out, head, sizeof head - 1);
    assert_null(strstr(run.out, "\r\n\r\n"));
    run_free(&run);
}

TEST(an_underwriter_sees_a_and_b_only)
{
    json_t *root = JSON_RUN("survey", found, "--underwriter"), *list = json_at(root, "findings"), *f;
    size_t i;

    json_array_foreach(list, i, f) assert_string_not_equal(text_at(f, "priority"), "C");
    assert_true(json_array_size(list) > 20);
    assert_int_equal(json_array_size(json_at(root, "counts")), 2);
    assert_null(strstr(text_at(root, "verdict"), "of C"));
    json_decref(root);
}

/* "3.0 % lost, at most 3 %, does not comply" would be a riddle. */
TEST(a_loss_just_over_its_limit_is_told_from_it)
{
    struct run run;

    RUN(&run, "survey", found, "--format", "csv");
    wants(&run, 0, "3.02 % lost from the source to bilge-pump-port", NULL);
    run_free(&run);
}

TEST(a_change_file_settles_a_finding)
{
    char *folder = folder_new(), space[512];
    struct run run;

    file_put(path_in(space, folder, "mended.ini"), "[seen house]\nsecured = yes\n");
    RUN(&run, "survey", found, "--change", space, "--format", "csv");
    assert_int_equal(run.code, 0);
    assert_null(strstr(run.out, "BAT-01,A,bank house"));
    run_free(&run);
    folder_remove(folder);
}

TEST(rule_sets_can_be_chosen)
{
    json_t *root = JSON_RUN("survey", found, "--rules", "cfr183");

    assert_string_equal(text_at(root, "rules"), "cfr183");
    json_decref(root);
    root = JSON_RUN("survey", found, "--rules", "all");
    assert_int_equal(json_array_size(json_at(root, "sets")), 4);
    json_has(root, "differences.0", "id place cfr183 abyc_e11 iso10133 iso13297");
    json_decref(root);
}

TEST(a_table_of_ones_own_judges_too)
{
    char *folder = folder_new(), profile[512], table[512];
    struct run run;

    file_put(path_in(table, folder, "mine.ini"),
             "[set]\nname = mine\nedition = 1\nfuse_distance = 0.1 m\nsmallest = 1 mm2\n"
             "[ampacity 75]\n10 mm2 = 40 A\n35 mm2 = 120 A\n");
    file_put(path_in(profile, folder, "boat.ini"),
             "[bank house]\nchemistry = agm\nblock_capacity = 200 Ah\n[load pump]\npower = 50 W\n"
             "[cable run]\nfrom = house\nto = pump\nlength = 2 m\narea = 10 mm2\ninsulation = 75 C\nfuse = "
             "60 A blade\n"
             "fuse_distance = 0.15 m\n[rules]\nset = own\nfile = mine.ini\n");
    RUN(&run, "survey", profile);
    wants(&run, 0, "60 A device on a cable that carries 40 A", NULL);
    wants(&run, 0, "at most 0.1 m", NULL);
    run_free(&run);
    file_put(path_in(table, folder, "mine.ini"), "[set]\nname = mine\nfuse_distance = 0.1\n");
    RUN(&run, "survey", profile);
    wants(&run, 1, NULL, "mine.ini");
    run_free(&run);
    folder_remove(folder);
}

TEST(a_boat_without_cables_can_be_surveyed)
{
    char *folder = folder_new(), space[512];
    struct run run;

    file_put(path_in(space, folder, "boat.ini"),
             "[bank house]\nchemistry = agm\nblock_capacity = 200 Ah\n[seen house]\nsecured = no\n");
    RUN(&run, "survey", space, "--strict");
    wants(&run, 4, "BAT-01", NULL);
    assert_string_equal(run.err, "");
    run_free(&run);
    folder_remove(folder);
}

TEST(wrong_usage_and_wrong_profiles)
{
    char *folder = folder_new(), space[512];
    struct run run;

    RUN(&run, "survey", found, "--rules", "iso");
    wants(&run, 2, NULL, "it is cfr183, abyc-e11, iso10133, iso13297, own or all");
    assert_string_equal(run.out, "");
    run_free(&run);
    RUN(&run, "cables", found, "--rules", "iso"); /* sizes by one set: all is not offered */
    wants(&run, 2, NULL, "it is cfr183, abyc-e11, iso10133, iso13297 or own");
    run_free(&run);
    RUN(&run, "handover", "profiles/cruiser-12v-agm.ini");
    wants(&run, 0, "under 0.1 A at", NULL); /* the battery monitor's 0.4 W */
    assert_null(strstr(run.out, "0.0 to 0.0"));
    run_free(&run);
    RUN(&run, "handover", found, "--day", "anchorr");
    wants(&run, 2, NULL, "did you mean anchor?");
    assert_string_equal(run.out, "");
    run_free(&run);
    RUN(&run, "handover", found, "--day", "regatta");
    wants(&run, 2, NULL, "it has: anchor, sail, marina");
    run_free(&run);
    file_put(path_in(space, folder, "boat.ini"),
             "[bank house]\nchemistry = agm\nblock_capacity = 200 Ah\n[seen hous]\nsecured = no\n");
    RUN(&run, "survey", space);
    wants(&run, 1, NULL, "did you mean [seen house]?");
    run_free(&run);
    RUN(&run, "survey", found, "--rules", "own");
    wants(&run, 1, NULL, "no table of its own");
    run_free(&run);
    folder_remove(folder);
}

/* --- hand-over --- */

TEST(handover_has_steps_card_and_live_list)
{
    json_t *root = JSON_RUN("handover", found, "--day", "sail"), *steps = json_at(root, "steps"), *s;
    size_t i;

    json_array_foreach(steps, i, s) json_has(
        s, "",
        "step phase action expect where low_a high_a total_low_a total_high_a volts_v wrong measured_a");
    assert_true(json_array_size(steps) > 25);
    assert_int_equal(json_array_size(json_at(root, "together")), 5);
    json_has(root, "together.0",
             "source limit_a limit_va wanted_va all_fit greedy greedy_va best best_va left_out");
    json_has(root, "live.0", "name why low_a high_a");
    assert_string_equal(text_at(root, "day"), "sail");
    json_decref(root);
}

TEST(handover_prints_to_be_ticked_off)
{
    static const char *const holds[] = { "Leaving the dock",
                                         "Coming back",
                                         "Measured",
                                         "Initials",
                                         "........",
                                         "If the reading is wrong",
                                         "What may run together",
                                         "Live with everything off",
                                         "planning aid",
                                         "shore 16 A" };
    struct run run;

    RUN(&run, "handover", found);
    for (size_t i = 0; i < sizeof holds / sizeof holds[0]; i++)
        wants(&run, 0, holds[i], NULL);
    run_free(&run);
}

/* 3.4 A were measured at the pump: within its band; the verdict comes back on the sheet. */
TEST(measured_amps_come_back)
{
    json_t *root = JSON_RUN("handover", found), *steps = json_at(root, "steps"), *s;
    size_t i, seen = 0;

    json_array_foreach(steps, i, s) if (strstr(text_at(s, "action"), "bilge-pump-port"))
    {
        row_check("amps", number_at(s, "measured_a"), 3.4, 1e-9, "by hand");
        assert_string_equal(text_at(s, "verdict"), "within");
        seen++;
    }
    assert_int_equal(seen, 1);
    json_decref(root);
    row_done();
}

/* --- the reference --- */

TEST(keys_rules_lists_them)
{
    json_t *root = JSON_RUN("keys", "rules"), *rules = json_at(root, "rules"), *r;
    size_t i;

    assert_true(json_array_size(rules) >= 45);
    json_array_foreach(rules, i, r) json_has(r, "", "id priority area title of needs risk action reference");
    assert_string_equal(text_at(root, "keys.0.key"), "set");
    json_decref(root);
}

TEST(the_shipped_boats_have_believable_surveys)
{
    static const char *const boats[] = { "profiles/cruiser-12v-agm.ini", "profiles/simple-12v-flooded.ini",
                                         "profiles/induction-24v-lfp.ini", "profiles/starter.ini" };

    for (size_t i = 0; i < sizeof boats / sizeof boats[0]; i++) {
        json_t *root = JSON_RUN("survey", boats[i]), *hand = JSON_RUN("handover", boats[i]);

        /* nobody has looked at anything on them: much is not verified, and nothing of what must be seen
         * complies */
        assert_true(number_at(root, "counts.0.not_verified") > 5);
        assert_true(json_array_size(json_at(root, "complied")) > 10);
        assert_true(json_array_size(json_at(hand, "steps")) > 10);
        json_decref(root);
        json_decref(hand);
    }
}

/* What is said of several places alike is said once to people, with each place's own fact; to machines place by place. */
TEST(findings_alike_stand_together)
{
    static const char profile[] = "profiles/cruiser-12v-agm.ini";
    json_t *json = JSON_RUN("survey", found), *findings = json_at(json, "findings"), *f;
    size_t alike = 0, i;
    struct run run;
    char line[160];

    RUN(&run, "survey", found, "--quiet");
    json_array_foreach(findings, i, f)
    {
        if (strcmp(text_at(f, "id"), "CON-05") || strcmp(text_at(f, "status"), "does not comply"))
            continue;
        snprintf(line, sizeof line, " %s: %.10s", text_at(f, "place"), text_at(f, "fact")); /* long ones are broken */
        assert_non_null(strstr(run.out, line));
        alike++;
    }
    assert_true(alike >= 3);
    snprintf(line, sizeof line, "\n  CON-05      drop on critical circuits, %zu places\n", alike);
    assert_non_null(strstr(run.out, line));
    assert_null(strstr(strstr(run.out, line) + 1, "\n  CON-05 "));
    run_free(&run);
    json_decref(json);
    json = JSON_RUN("survey", profile);
    RUN(&run, "survey", profile, "--quiet");
    assert_non_null(strstr(run.out, "VIT-03      load bilge-pump-starboard\n")); /* alone: its place */
    /* The kind of a place is named once where it stays the same. */
    assert_non_null(strstr(run.out, "bank house, start-port"));
    assert_non_null(strstr(text_at(json, "not_inspected.0.places"), "bank house, bank start-port"));
    run_free(&run);
    json_decref(json);
}

/* test_api.c - the promises of the public header: out-pointers, kinds of run, words, diagnostics as text.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "bridgedeck.h"
#include "support/test.h"

TEST(version)
{
    assert_string_equal(bd_version(), BD_VERSION);
}

/* On refusal the out-pointer stays as it was, and every fault is in the list. */
TEST(refused_profile)
{
    static const char text[] = "[boat]\nname = Bad\ndc_voltage = 12\ncrew = many\n";
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;

    assert_int_equal(bd_profile_read_text(&profile, "bad.ini", text, strlen(text), diags), STATUS_REFUSED);
    assert_null(profile);
    assert_true(diags->errors >= 2);
    bd_diags_free(diags);
}

TEST(missing_file)
{
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;

    assert_int_equal(bd_profile_read(&profile, "none/such.ini", NULL, 0, diags), STATUS_UNREADABLE);
    assert_null(profile);
    assert_int_equal(diags->errors, 1);
    bd_diags_free(diags);
}

/* A run knows its own kind and no other. */
TEST(kinds_of_run)
{
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;
    struct bd_run *run = NULL;
    size_t count = 1;

    assert_int_equal(bd_profile_read(&profile, "profiles/starter.ini", NULL, 0, diags), STATUS_OK);
    assert_non_null(bd_profile_boat(profile)->name);
    assert_int_equal(bd_balance_run(&run, profile, diags), STATUS_OK);
    assert_non_null(bd_run_balance(run));
    assert_null(bd_run_week(run));
    assert_null(bd_run_size(run));
    assert_null(bd_run_sun(run));
    assert_null(bd_run_keys(run, &count));
    assert_int_equal(count, 0);
    assert_int_equal(bd_run_has_plot(run), 1);
    bd_run_free(run);
    assert_int_equal(bd_check_run(&run, profile), STATUS_OK);
    assert_int_equal(bd_run_has_plot(run), 0);
    assert_int_equal(bd_run_save_plot("/dev/null", run, diags), STATUS_REFUSED);
    bd_run_free(run);
    bd_profile_free(profile);
    bd_diags_free(diags);
}

/* A boat without a bank: a week cannot be computed, and a diagnostic says what is missing. */
TEST(incomplete_profile)
{
    static const char text[] = "[boat]\nname = Bare\ndc_voltage = 12 V\n";
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;
    struct bd_run *run = NULL;

    if (bd_profile_read_text(&profile, "bare.ini", text, strlen(text), diags) == STATUS_OK) {
        assert_int_equal(bd_week_run(&run, profile, NULL, diags), STATUS_INCOMPLETE);
        assert_null(run);
    }
    assert_true(diags->errors >= 1);
    bd_profile_free(profile);
    bd_diags_free(diags);
}

/* A refusal is never silent. */
TEST(a_rule_set_that_is_none)
{
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;
    struct bd_run *run = NULL;

    assert_int_equal(bd_profile_read(&profile, "profiles/starter.ini", NULL, 0, diags), STATUS_OK);
    assert_int_equal(diags->errors, 0);
    assert_int_equal(bd_cables_run(&run, profile, "iso", NULL, diags), STATUS_REFUSED);
    assert_int_equal(diags->errors, 1);
    assert_int_equal(bd_survey_run(&run, profile, &(struct bd_survey_options){ .rules = "iso" }, diags),
                     STATUS_REFUSED);
    assert_int_equal(diags->errors, 2);
    assert_null(run);
    bd_profile_free(profile);
    bd_diags_free(diags);
}

TEST(lengths_of_time)
{
    static const struct {
        const char *text;
        double seconds;
    } rows[] = { { "1min", 60 },   { "1 min", 60 }, { "90 s", 90 },   { "0.5 h", 1800 }, { "2h", 7200 },
                 { "", 0 },        { "5", 0 },      { "min", 0 },     { "-1 min", 0 },   { "1 W", 0 },
                 { "1 min x", 0 }, { "0x10 s", 0 }, { "1..2 min", 0 }, { "inf s", 0 },   { "1.5.2 s", 0 } };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        row_check(rows[i].text, bd_seconds_of(rows[i].text), rows[i].seconds, 1e-9, "by hand");
    row_done();
}

TEST(dates)
{
    static const struct {
        const char *text;
        int valid;
    } rows[] = { { "2026-07-06", 1 }, { "2024-02-29", 1 }, { "2026-02-29", 0 },  { "2026-13-01", 0 },
                 { "2026-7-6", 0 },   { "", 0 },           { "2026-07-06 ", 0 }, { "06-07-2026", 0 },
                 { "-026-07-06", 0 }, { "2026--7-06", 0 } };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (bd_date_valid(rows[i].text) != rows[i].valid)
            fail_msg("%s", rows[i].text);
}

TEST(nearest_word)
{
    static const char *const known[] = { "week", "size", "sun" };

    assert_string_equal(bd_nearest("weak", known, 3), "week");
    assert_null(bd_nearest("xyzzy", known, 3));
    assert_null(bd_nearest("week", NULL, 0));
}

/* The first line coloured, the caret line not. */
TEST(diagnostics_as_text)
{
    static const char text[] = "[boat]\nname = Bad\ndc_voltage = 12\n";
    struct bd_diag_style colour = { DIAG_NOTE, 1 };
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile = NULL;
    char *shown = NULL, *first, *source;
    size_t size;
    FILE *out = open_memstream(&shown, &size);

    assert_non_null(out);
    assert_int_equal(bd_profile_read_text(&profile, "bad.ini", text, strlen(text), diags), STATUS_REFUSED);
    assert_int_equal(bd_diags_print(out, diags, &colour), STATUS_OK);
    assert_int_equal(fclose(out), 0);
    first = strstr(shown, "\033[31mbad.ini:3: error: ");
    source = strstr(shown, "    dc_voltage = 12");
    assert_non_null(first);
    assert_non_null(source);
    assert_true(strstr(first, "\033[0m") < source);
    free(shown);
    bd_diags_free(diags);
}

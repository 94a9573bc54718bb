/* test_bad.c - every faulty profile in tests/bad says exactly what stands in the .err beside it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/profiles.h"
#include "support/run.h"
#include "support/test.h"

/* 1 where the remarks on a profile are those that stand beside it. */
static int says_the_same(const char *path)
{
    struct test_reading t = test_read_file(path, NULL);
    char *beside = strdup(path), *want;
    int same;

    assert_non_null(beside);
    memcpy(beside + strlen(beside) - 3, "err", 3);
    want = file_contents(beside, NULL);
    same = t.status != STATUS_OK && !t.boat && t.diags->errors > 0 && want &&
           strcmp(test_remarks(&t), want) == 0;
    if (!same)
        fprintf(stderr, "  %s: %s\n%s--- instead of ---\n%s", path, status_text(t.status), test_remarks(&t),
                want ? want : "(nothing: no .err file)\n");
    free(want);
    free(beside);
    test_reading_free(&t);
    return same;
}

TEST(every_bad_profile)
{
    glob_t found;
    size_t wrong = 0;

    assert_int_equal(glob("tests/bad/*.ini", 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 45);
    for (size_t i = 0; i < found.gl_pathc; i++)
        wrong += !says_the_same(found.gl_pathv[i]);
    globfree(&found);
    assert_int_equal(wrong, 0);
}

/* What no file in a repository can show. */
TEST(no_file_at_all)
{
    struct test_reading t = test_read_file("tests/bad", NULL);

    assert_int_equal(t.status, STATUS_UNREADABLE);
    assert_string_equal(test_remarks(&t), "tests/bad: error: is a directory, not a file\n");
    test_reading_free(&t);
    t = test_read_file("tests/bad/none.ini", NULL);
    assert_int_equal(t.status, STATUS_UNREADABLE);
    assert_string_equal(test_remarks(&t),
                        "tests/bad/none.ini: error: cannot be opened: No such file or directory\n");
    test_reading_free(&t);
    t = test_read_file("/dev/zero", NULL);
    assert_int_equal(t.status, STATUS_UNREADABLE);
    assert_string_equal(test_remarks(&t), "/dev/zero: error: is larger than 16 MB, the most that is read\n");
    test_reading_free(&t);
}

/* More of everything than a reader that searches one by one can bear. */
TEST(too_many_of_all)
{
    char *text = malloc(400000), *p = text;
    struct test_reading t;

    assert_non_null(text);
    for (int i = 0; i < 5000; i++)
        p += sprintf(p, "[day a%d]\n", i);
    t = test_read_text(text);
    assert_non_null(strstr(test_remarks(&t), "test.ini:4001: error: is one section too many for a profile"));
    assert_int_equal(t.diags->errors, 1);
    test_reading_free(&t);
    p = text + sprintf(text, "[boat]\n");
    for (int i = 0; i < 500; i++)
        p += sprintf(p, "key%d = 1\n", i);
    t = test_read_text(text);
    assert_non_null(
        strstr(test_remarks(&t), "test.ini:402: error: [boat]: is one key too many for a section"));
    test_reading_free(&t);
    p = text;
    for (int i = 0; i < 50000; i++)
        p += sprintf(p, "\xFF\n");
    t = test_read_text(text);
    assert_int_equal(t.diags->errors, 6);
    test_reading_free(&t);
    p = text + sprintf(text, "[boat]\n");
    for (int i = 0; i < 50000; i++)
        p += sprintf(p, "word\n");
    t = test_read_text(text);
    assert_int_equal(t.diags->errors, 501);
    assert_string_equal(t.diags->items[500].message, "too many errors: the rest of the file is not read");
    test_reading_free(&t);
    free(text);
}

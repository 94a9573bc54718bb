/* test_corpus.c - the seeds of the fuzzer as an ordinary test, and each of them broken in simple ways.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glob.h>
#include <stdlib.h>
#include <string.h>

#include "support/profiles.h"
#include "support/run.h"
#include "support/test.h"

/* Either a boat, or an error that says why. */
static void read_it(const char *bytes, size_t length)
{
    struct test_reading t = test_read_bytes(bytes, length);

    if (t.status == STATUS_OK)
        assert_true(t.boat && t.diags->errors == 0);
    else
        assert_true(!t.boat && t.diags->errors > 0 && *test_remarks(&t));
    test_reading_free(&t);
}

static void each_file(const char *pattern, void (*use)(char *bytes, size_t length))
{
    glob_t found;

    assert_int_equal(glob(pattern, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        size_t length;
        char *bytes = file_contents(found.gl_pathv[i], &length);

        assert_non_null(bytes);
        use(bytes, length);
        free(bytes);
    }
    globfree(&found);
}

static void as_it_is(char *bytes, size_t length)
{
    read_it(bytes, length);
}

/* Cut short at every length that is not too many. */
static void cut(char *bytes, size_t length)
{
    for (size_t n = 0; n < length; n += 1 + length / 40)
        read_it(bytes, n);
}

/* Every so often a byte turned into something else. */
static void spoilt(char *bytes, size_t length)
{
    static const char marks[] = { '\0', '\n', '[', ']', '=', ',', '.', '-', '9', '\xFF' };

    for (size_t i = 0; i < length; i += 1 + length / 30) {
        char kept = bytes[i];

        bytes[i] = marks[i % sizeof marks];
        read_it(bytes, length);
        bytes[i] = kept;
    }
}

TEST(corpus)
{
    each_file("tests/fuzz/corpus/*", as_it_is);
}

TEST(corpus_cut)
{
    each_file("tests/fuzz/corpus/*", cut);
}

TEST(corpus_spoilt)
{
    each_file("tests/fuzz/corpus/*", spoilt);
}

TEST(bad_profiles_cut)
{
    each_file("tests/bad/*.ini", cut);
}

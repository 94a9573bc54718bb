/* test.c - registers, groups by file, counts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/test.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct entry {
    const char *file;
    struct CMUnitTest test;
};

static struct entry *entries;
static size_t entry_count, entry_room;
static size_t rows_published, rows_other, rows_failed;

void test_register(const char *file, const char *name, void (*run)(void **))
{
    if (entry_count == entry_room) {
        entry_room = entry_room ? entry_room * 2 : 256;
        entries = realloc(entries, entry_room * sizeof *entries);
        if (!entries)
            abort();
    }
    entries[entry_count++] = (struct entry){ file, { name, run, NULL, NULL, NULL } };
}

void row_check(const char *label, double got, double want, double tolerance, const char *source)
{
    if (source && strncmp(source, "by hand", 7) != 0 && strncmp(source, "property", 8) != 0)
        rows_published++;
    else
        rows_other++;
    if (isfinite(got) && fabs(got - want) <= tolerance)
        return;
    rows_failed++;
    fprintf(stderr, "  row failed: %s: got %.10g, want %.10g +/- %.3g (%s)\n", label, got, want, tolerance,
            source ? source : "no source");
}

void row_done(void)
{
    size_t failed = rows_failed;

    rows_failed = 0;
    if (failed)
        fail_msg("%zu rows failed, listed above", failed);
}

static int by_file(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;
    int order = strcmp(x->file, y->file);

    return order ? order : strcmp(x->test.name, y->test.name);
}

/* Runs one file's tests as a group; returns how many failed. */
static int run_group(const struct entry *first, size_t count)
{
    struct CMUnitTest *tests = calloc(count, sizeof *tests);
    int failed;

    if (!tests)
        abort();
    for (size_t i = 0; i < count; i++)
        tests[i] = first[i].test;
    failed = _cmocka_run_group_tests(first->file, tests, count, NULL, NULL);
    free(tests);
    return failed;
}

/* With an argument: only files whose path contains it. */
int main(int argc, char **argv)
{
    size_t run = 0;
    int failed = 0;

    qsort(entries, entry_count, sizeof *entries, by_file);
    for (size_t i = 0, n; i < entry_count; i += n) {
        for (n = 1; i + n < entry_count && strcmp(entries[i + n].file, entries[i].file) == 0;)
            n++;
        if (argc > 1 && !strstr(entries[i].file, argv[1]))
            continue;
        failed += run_group(entries + i, n);
        run += n;
    }
    free(entries);
    printf("rows of published values: %zu, rows by hand: %zu\n", rows_published, rows_other);
    printf("%zu passed, %d failed\n", run - (size_t)failed, failed);
    return failed != 0;
}

/* test.h - the harness: TEST(name) registers itself, rows carry their source.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_H
#define BD_TEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

void test_register(const char *file, const char *name, void (*run)(void **));

/* Defines a test and registers it before main: a test cannot be forgotten. */
#define TEST(name)                                                          \
    static void test_##name(void **state);                                  \
    __attribute__((constructor)) static void register_##name(void)          \
    {                                                                       \
        test_register(__FILE__, #name, test_##name);                        \
    }                                                                       \
    static void test_##name(void **state __attribute__((unused)))

/*
 * One published or hand-computed value: fails the running test (at row_done) when |got - want| > tolerance or got
 * is not a number, printing label, got, want, tolerance and source. Rows with a source count as published rows
 * unless the source begins with "by hand" or "property".
 */
void row_check(const char *label, double got, double want, double tolerance, const char *source);

/* Fails the running test if any row since the last call failed. Every test with rows ends with it. */
void row_done(void);

#endif

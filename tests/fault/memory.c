/* memory.c - preloaded into the program by tests: FAULT=malloc:N makes the Nth allocation fail, and all after it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* glibc's own allocator under the names it keeps for interposers: dlsym would itself allocate. */
extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *old, size_t size);

static int memory_is_out(void)
{
    static const char key[] = "malloc:";
    static long limit = -1, count;

    if (limit < 0) {
        const char *wanted = getenv("FAULT");

        limit = wanted && strncmp(wanted, key, sizeof key - 1) == 0 ? strtol(wanted + sizeof key - 1, NULL, 10) : 0;
    }
    if (limit == 0 || ++count < limit)
        return 0;
    errno = ENOMEM;
    return 1;
}

void *malloc(size_t size)
{
    return memory_is_out() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return memory_is_out() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *old, size_t size)
{
    return memory_is_out() ? NULL : __libc_realloc(old, size);
}

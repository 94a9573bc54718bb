/* run.h - runs the built program as a user would and keeps what it said.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_TEST_RUN_H
#define BD_TEST_RUN_H

#include <stddef.h>

/* How the world around the program is to be; a zeroed struct is an ordinary pipe-like world. */
struct run_world {
    const char *const *environment; /* NAME=VALUE..., NULL at the end; on top of PATH and HOME alone */
    const char *fault;              /* what is made to fail: "fflush", "rename", "malloc:7"; NULL: nothing */
    const char *folder;             /* to run in; NULL: here */
    const char *stdout_path;        /* opened for writing as standard output; "-": closed; NULL: captured */
    long file_limit;                /* [byte] no file may grow beyond; 0: no limit */
    int terminal;                   /* 1: standard error is a terminal; what it gets must stay under 4 kB */
};

struct run {
    int code;        /* exit status; 128 + signal where one killed it */
    char *out, *err; /* ended by a NUL */
    size_t out_length, err_length;
};

/* Runs the program next to this test binary. arguments end with NULL. Fails the test where it cannot be started. */
void run_program(struct run *run, const struct run_world *world, const char *const *arguments);

/* The same in an ordinary world, arguments given one by one; run must be free or zeroed before. */
#define RUN(run, ...) run_program((run), NULL, (const char *const[]){ __VA_ARGS__, NULL })

void run_free(struct run *run);

/* A new empty folder, removed with all that is in it by folder_remove, which also frees the name. */
char *folder_new(void);
void folder_remove(char *folder);

/* How many entries it has; the contents of a file in it, NULL where there is none. Free the latter. */
size_t folder_count(const char *folder);
char *file_contents(const char *path, size_t *length);
void file_put(const char *path, const char *text);

/* folder/name in `space`, which is returned. */
const char *path_in(char space[512], const char *folder, const char *name);

#endif

/* run.c - runs the built program as a user would and keeps what it said.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/run.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support/test.h"

enum { ARGUMENTS = 64, VARIABLES = 32 };

/* A file of the folder that this test binary was built into. */
static void built_path(char space[512], const char *name)
{
    ssize_t n = readlink("/proc/self/exe", space, 400);
    char *slash;

    assert_true(n > 0);
    space[n] = '\0';
    slash = strrchr(space, '/');
    assert_non_null(slash);
    snprintf(slash + 1, (size_t)(space + 512 - slash - 1), "%s", name);
}

/* The variables the program gets: few, so that results do not hang on the tester's own. */
static void environment_fill(char *into[VARIABLES], const struct run_world *world)
{
    static const char *const kept[] = { "PATH", "HOME", "ASAN_OPTIONS", "LSAN_OPTIONS", "UBSAN_OPTIONS" };
    char *space = NULL, library[512];
    size_t n = 0;

    for (size_t i = 0; i < sizeof kept / sizeof kept[0]; i++)
        if (getenv(kept[i]) && asprintf(&space, "%s=%s", kept[i], getenv(kept[i])) > 0)
            into[n++] = space;
    for (size_t i = 0; world->environment && world->environment[i] && n < VARIABLES - 4; i++)
        into[n++] = strdup(world->environment[i]);
    if (world->fault) {
        built_path(library, strncmp(world->fault, "malloc:", 7) == 0 ? "memory.so" : "fault.so");
        if (asprintf(&space, "LD_PRELOAD=%s", library) > 0)
            into[n++] = space;
        if (asprintf(&space, "FAULT=%s", world->fault) > 0)
            into[n++] = space;
        into[n++] = strdup("ASAN_OPTIONS=verify_asan_link_order=0");
    }
    into[n] = NULL;
}

/* In the child, after fork: never returns. 126 and 127 are the shell's words for "could not start". */
static void become(const char *program, char **argv, char **envp, const struct run_world *world, const int fds[2])
{
    if (world->folder && chdir(world->folder) != 0)
        _exit(126);
    if (world->file_limit) {
        struct rlimit limit = { (rlim_t)world->file_limit, (rlim_t)world->file_limit };

        if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
            _exit(126);
    }
    if (dup2(fds[0], 1) < 0 || dup2(fds[1], 2) < 0)
        _exit(126);
    if (world->stdout_path && strcmp(world->stdout_path, "-") == 0)
        close(1);
    execve(program, argv, envp);
    _exit(127);
}

/* Standard error of a terminal kind: *near is the tester's end, the program gets what is returned. */
static int terminal_open(int *near)
{
    int far;

    assert_int_equal(openpty(near, &far, NULL, NULL, NULL), 0);
    return far;
}

/* What went to the terminal, once nobody has its other end open any more. */
static char *terminal_all(int near, size_t *length)
{
    char *text = calloc(1, 8192);
    ssize_t n;

    assert_non_null(text);
    *length = 0;
    while (*length < 8191 && (n = read(near, text + *length, 8191 - *length)) > 0)
        *length += (size_t)n;
    close(near);
    return text;
}

static char *all_of(int fd, size_t *length)
{
    off_t size = lseek(fd, 0, SEEK_END);
    char *text = calloc(1, (size_t)(size > 0 ? size : 0) + 1);

    assert_non_null(text);
    *length = (size_t)(size > 0 ? size : 0);
    if (size > 0)
        assert_int_equal(pread(fd, text, (size_t)size, 0), size);
    return text;
}

void run_program(struct run *run, const struct run_world *world, const char *const *arguments)
{
    static const struct run_world ordinary = { 0 };
    char program[512], *argv[ARGUMENTS] = { NULL }, *envp[VARIABLES];
    int fds[2] = { memfd_create("out", MFD_CLOEXEC), -1 }, state = 0, near = -1;
    pid_t child;

    world = world ? world : &ordinary;
    fds[1] = world->terminal ? terminal_open(&near) : memfd_create("err", MFD_CLOEXEC);
    built_path(program, "bridgedeck");
    argv[0] = program;
    for (size_t i = 0; arguments[i] && i < ARGUMENTS - 2; i++)
        argv[i + 1] = (char *)(uintptr_t)arguments[i];
    if (world->stdout_path && strcmp(world->stdout_path, "-") != 0) {
        close(fds[0]);
        fds[0] = open(world->stdout_path, O_WRONLY | O_CLOEXEC);
    }
    assert_true(fds[0] >= 0 && fds[1] >= 0);
    environment_fill(envp, world);
    child = fork();
    assert_true(child >= 0);
    if (child == 0)
        become(program, argv, envp, world, fds);
    while (waitpid(child, &state, 0) < 0)
        assert_int_equal(errno, EINTR);
    run->code = WIFEXITED(state) ? WEXITSTATUS(state) : 128 + WTERMSIG(state);
    run->out = all_of(fds[0], &run->out_length);
    if (!world->terminal)
        run->err = all_of(fds[1], &run->err_length);
    close(fds[0]);
    close(fds[1]);
    if (world->terminal)
        run->err = terminal_all(near, &run->err_length);
    for (size_t i = 0; envp[i]; i++)
        free(envp[i]);
}

void run_free(struct run *run)
{
    free(run->out);
    free(run->err);
    *run = (struct run){ 0 };
}

char *folder_new(void)
{
    char *name = strdup("/tmp/bridgedeck-test-XXXXXX");

    assert_non_null(name);
    assert_non_null(mkdtemp(name));
    return name;
}

void folder_remove(char *folder)
{
    char path[512];
    DIR *list = opendir(folder);

    assert_non_null(list);
    for (struct dirent *entry; (entry = readdir(list));)
        if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
            remove(path_in(path, folder, entry->d_name));
    closedir(list);
    assert_int_equal(rmdir(folder), 0);
    free(folder);
}

size_t folder_count(const char *folder)
{
    DIR *list = opendir(folder);
    size_t count = 0;

    assert_non_null(list);
    for (struct dirent *entry; (entry = readdir(list));)
        count += entry->d_name[0] != '.' || entry->d_name[1] != '\0';
    closedir(list);
    return count - 1; /* without ".." */
}

char *file_contents(const char *path, size_t *length)
{
    size_t size;
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    char *text;

    if (fd < 0)
        return NULL;
    text = all_of(fd, length ? length : &size);
    close(fd);
    return text;
}

void file_put(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");

    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

const char *path_in(char space[512], const char *folder, const char *name)
{
    int n = snprintf(space, 512, "%s/%s", folder, name);

    assert_true(n > 0 && n < 512);
    return space;
}

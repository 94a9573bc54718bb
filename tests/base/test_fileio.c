/* test_fileio.c - reading with limits, writing without half files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fileio.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"
#include "support/test.h"

/* A fresh folder, an arena and a list for each test. */
struct place {
    char folder[64];
    struct arena *arena;
    struct diag_list *diags;
};

static void place_make(struct place *p)
{
    strcpy(p->folder, "/tmp/bridgedeck-test-XXXXXX");
    assert_non_null(mkdtemp(p->folder));
    assert_non_null(p->arena = arena_new());
    assert_non_null(p->diags = diag_list_new());
}

static const char *place_path(struct place *p, const char *name)
{
    return arena_print(p->arena, "%s/%s", p->folder, name);
}

static size_t place_count(struct place *p)
{
    DIR *folder = opendir(p->folder);
    size_t count = 0;

    assert_non_null(folder);
    for (struct dirent *e; (e = readdir(folder));)
        count += e->d_name[0] != '.';
    closedir(folder);
    return count;
}

static void place_free(struct place *p)
{
    char *command = arena_print(p->arena, "rm -rf '%s'", p->folder);

    assert_int_equal(system(command), 0);
    diag_list_free(p->diags);
    arena_free(p->arena);
}

static void put(const char *path, const char *text)
{
    FILE *f = fopen(path, "w");

    assert_non_null(f);
    fputs(text, f);
    assert_int_equal(fclose(f), 0);
}

static void holds(struct place *p, const char *path, const char *want)
{
    struct span got;

    assert_int_equal(file_read(&got, p->arena, path, FILE_SIZE_LIMIT, p->diags), STATUS_OK);
    assert_string_equal(got.at, want);
    assert_int_equal(got.length, strlen(want));
}

static void refused(struct place *p, const char *path, size_t limit, const char *message)
{
    struct span got = { NULL, 7 };
    size_t before = p->diags->count;

    assert_int_equal(file_read(&got, p->arena, path, limit, p->diags), STATUS_UNREADABLE);
    assert_int_equal(p->diags->count, before + 1);
    assert_string_equal(p->diags->items[before].message, message);
    assert_string_equal(p->diags->items[before].file, path);
    assert_int_equal(got.length, 7);
}

TEST(read_refusals)
{
    struct place p;
    const char *huge, *small;

    place_make(&p);
    huge = place_path(&p, "huge");
    small = place_path(&p, "small");
    put(huge, "x");
    put(small, "12345");
    assert_int_equal(truncate(huge, 1L << 30), 0); /* a hole: 1 GB on paper only */
    refused(&p, huge, FILE_SIZE_LIMIT, "is larger than 16 MB, the most that is read");
    refused(&p, "/dev/zero", 1048576, "is larger than 1 MB, the most that is read");
    refused(&p, p.folder, 100, "is a directory, not a file");
    refused(&p, "/dev/null", 100, "is empty");
    refused(&p, place_path(&p, "none"), 100, "cannot be opened: No such file or directory");
    refused(&p, place_path(&p, "small/x"), 100, "cannot be opened: Not a directory");
    refused(&p, small, 4, "is larger than 3.81e-06 MB, the most that is read");
    holds(&p, small, "12345");
    place_free(&p);
}

TEST(read_pipe)
{
    struct place p;
    struct span got;
    char name[32];
    int ends[2];

    place_make(&p);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], "abc", 3), 3);
    close(ends[1]);
    snprintf(name, sizeof name, "/dev/fd/%d", ends[0]);
    assert_int_equal(file_read(&got, p.arena, name, 100, p.diags), STATUS_OK);
    assert_string_equal(got.at, "abc");
    close(ends[0]);
    place_free(&p);
}

TEST(write_commit_and_abort)
{
    struct place p;
    struct file_write file;
    const char *path;
    struct stat about;

    place_make(&p);
    path = place_path(&p, "out");
    put(path, "old");
    assert_int_equal(chmod(path, 0640), 0);

    assert_int_equal(file_write_begin(&file, p.arena, path, p.diags), STATUS_OK);
    fputs("half", file.stream);
    fflush(file.stream);
    holds(&p, path, "old");
    file_write_abort(&file);
    file_write_abort(&file);
    holds(&p, path, "old");
    assert_int_equal(place_count(&p), 1);

    assert_int_equal(file_write_begin(&file, p.arena, path, p.diags), STATUS_OK);
    fputs("new", file.stream);
    holds(&p, path, "old");
    assert_int_equal(file_write_commit(&file, p.diags), STATUS_OK);
    holds(&p, path, "new");
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_mode & 07777, 0640);
    assert_int_equal(place_count(&p), 1);
    assert_int_equal(p.diags->count, 0);
    place_free(&p);
}

TEST(write_new_through_link_and_device)
{
    struct place p;
    struct file_write file;
    const char *target, *link_path;
    struct stat about;

    place_make(&p);
    target = place_path(&p, "target");
    link_path = place_path(&p, "link");
    put(target, "old");
    assert_int_equal(symlink("target", link_path), 0);
    assert_int_equal(file_write_begin(&file, p.arena, link_path, p.diags), STATUS_OK);
    fputs("new", file.stream);
    assert_int_equal(file_write_commit(&file, p.diags), STATUS_OK);
    holds(&p, target, "new");
    assert_int_equal(lstat(link_path, &about), 0);
    assert_true(S_ISLNK(about.st_mode));

    assert_int_equal(file_write_begin(&file, p.arena, "/dev/null", p.diags), STATUS_OK);
    fputs("gone", file.stream);
    assert_int_equal(file_write_commit(&file, p.diags), STATUS_OK);
    assert_int_equal(stat("/dev/null", &about), 0);
    assert_true(S_ISCHR(about.st_mode));
    place_free(&p);
}

/* As /dev/stdout does where standard output is a file that has been removed: the link must stay what it is. */
TEST(write_through_link_to_a_removed_file)
{
    struct place p;
    struct file_write file;
    struct stat about;
    const char *target, *link_path;
    char got[8] = "";
    int fd;

    place_make(&p);
    target = place_path(&p, "target");
    link_path = place_path(&p, "link");
    put(target, "older");
    assert_true((fd = open(target, O_RDWR)) >= 0);
    assert_int_equal(unlink(target), 0);
    assert_int_equal(symlink(arena_print(p.arena, "/proc/self/fd/%d", fd), link_path), 0);
    assert_int_equal(file_write_begin(&file, p.arena, link_path, p.diags), STATUS_OK);
    fputs("new", file.stream);
    assert_int_equal(file_write_commit(&file, p.diags), STATUS_OK);
    assert_int_equal(lstat(link_path, &about), 0);
    assert_true(S_ISLNK(about.st_mode));
    assert_int_equal(pread(fd, got, sizeof got, 0), 3);
    assert_string_equal(got, "new");
    close(fd);
    place_free(&p);
}

TEST(write_failures)
{
    struct place p;
    struct file_write file;

    place_make(&p);
    assert_int_equal(file_write_begin(&file, p.arena, "/dev/full", p.diags), STATUS_OK);
    fputs("too much", file.stream);
    assert_int_equal(file_write_commit(&file, p.diags), STATUS_UNWRITABLE);
    assert_int_equal(p.diags->count, 1);
    assert_string_equal(p.diags->items[0].message, "cannot be written: No space left on device");
    assert_int_equal(file_write_begin(&file, p.arena, place_path(&p, "no/such"), p.diags), STATUS_UNWRITABLE);
    file_write_abort(&file);
    assert_int_equal(file_write_begin(&file, p.arena, p.folder, p.diags), STATUS_UNWRITABLE);
    assert_int_equal(place_count(&p), 0);
    place_free(&p);
}

TEST(path_beside)
{
    struct arena *arena = arena_new();

    assert_string_equal(file_path_beside(arena, "a/b.ini", "c.csv"), "a/c.csv");
    assert_string_equal(file_path_beside(arena, "b.ini", "c.csv"), "c.csv");
    assert_string_equal(file_path_beside(arena, "/b.ini", "c.csv"), "/c.csv");
    assert_string_equal(file_path_beside(arena, "a/b.ini", "/tmp/c.csv"), "/tmp/c.csv");
    arena_free(arena);
}

/* fileio.c - files read whole with limits; files written beside their name and renamed into place.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fileio.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"

/* The thread-safe form: strerror may use one buffer for all. */
static const char *reason(int code, char *space, size_t size)
{
    return strerror_r(code, space, size);
}

/* Adds one error about the file and gives the status back, so that a caller can return both in one line. */
static enum status complain(struct diag_list *diags, const char *path, enum status status,
                            const char *message, const char *hint)
{
    diag_add(diags, &(struct diag){ .severity = DIAG_ERROR, .file = path, .message = message, .hint = hint });
    return status;
}

static enum status complain_errno(struct diag_list *diags, const char *path, enum status status,
                                  const char *what, int code)
{
    char space[128], message[256];

    snprintf(message, sizeof message, "%s: %s", what, reason(code, space, sizeof space));
    return complain(diags, path, status, message, NULL);
}

static enum status too_large(struct diag_list *diags, const char *path, size_t limit)
{
    char message[96];

    snprintf(message, sizeof message, "is larger than %.3g MB, the most that is read",
             (double)limit / 1048576);
    return complain(diags, path, STATUS_UNREADABLE, message, NULL);
}

/* Reads on until the end of the file or one byte over the limit. 0, or the errno. */
static int read_up_to(struct span *out, struct arena *arena, int fd, size_t size_hint, size_t limit)
{
    size_t room = (size_hint < limit ? size_hint : limit) + 2, length = 0;
    char *bytes = arena_zero(arena, room);

    while (bytes) {
        ssize_t n = read(fd, bytes + length, room - 1 - length);

        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return errno;
        length += (size_t)n;
        *out = (struct span){ bytes, length };
        if (n == 0 || length > limit)
            return 0;
        if (length == room - 1) {
            char *wider = arena_zero(arena, room = room * 2 < limit + 2 ? room * 2 : limit + 2);

            bytes = wider ? memcpy(wider, bytes, length) : NULL;
        }
    }
    return ENOMEM;
}

/* Reads from an open file of any kind; only a regular one tells its size beforehand. */
static enum status read_open(struct span *out, struct arena *arena, int fd, const char *path, size_t limit,
                             struct diag_list *diags)
{
    struct stat about;
    struct span text = { NULL, 0 };
    int code = fstat(fd, &about) ? errno : 0;

    if (code)
        return complain_errno(diags, path, STATUS_UNREADABLE, "cannot be read", code);
    if (S_ISDIR(about.st_mode))
        return complain(diags, path, STATUS_UNREADABLE, "is a directory, not a file", NULL);
    if (S_ISREG(about.st_mode) && (unsigned long long)about.st_size > limit)
        return too_large(diags, path, limit);
    code = read_up_to(&text, arena, fd, S_ISREG(about.st_mode) ? (size_t)about.st_size : 65536, limit);
    if (code == ENOMEM)
        return STATUS_NO_MEMORY;
    if (code)
        return complain_errno(diags, path, STATUS_UNREADABLE, "cannot be read", code);
    if (text.length > limit)
        return too_large(diags, path, limit);
    if (text.length == 0)
        return complain(diags, path, STATUS_UNREADABLE, "is empty", NULL);
    *out = text;
    return STATUS_OK;
}

enum status file_read(struct span *out, struct arena *arena, const char *path, size_t limit,
                      struct diag_list *diags)
{
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    enum status status;

    if (fd < 0)
        return complain_errno(diags, path, STATUS_UNREADABLE, "cannot be opened", errno);
    status = read_open(out, arena, fd, path, limit, diags);
    close(fd);
    return status;
}

const char *file_path_beside(struct arena *arena, const char *beside, const char *path)
{
    const char *slash = strrchr(beside, '/');

    if (path[0] == '/' || !slash)
        return arena_copy(arena, path, strlen(path));
    return arena_print(arena, "%.*s/%s", (int)(slash - beside), beside, path);
}

/* The file a name stands for: links are followed, so that renaming replaces the file and not the link. */
static char *path_followed(struct arena *arena, const char *path)
{
    char real[PATH_MAX];

    path = realpath(path, real) ? real : path;
    return arena_copy(arena, path, strlen(path));
}

/* A file without a name in the folder of path: a killed run then leaves nothing. -1 where that is not to be
 * had. */
static int open_nameless(struct arena *arena, const char *path)
{
    const char *slash = strrchr(path, '/');
    size_t length = slash && slash != path ? (size_t)(slash - path) : 1;
    char *folder = arena_copy(arena, slash ? path : ".", length);

    if (!folder || access("/proc/self/fd", X_OK) != 0)
        return -1;
    return open(folder, O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
}

/* Opens the temporary file and finds it a name that is free. */
static int open_beside(struct file_write *file, struct arena *arena)
{
    int fd = open_nameless(arena, file->path), nameless = fd >= 0;

    for (int i = 0; i < 100; i++) {
        file->beside = arena_print(arena, "%s.part-%ld-%d", file->path, (long)getpid(), i);
        if (!file->beside || (nameless && access(file->beside, F_OK) != 0))
            break;
        if (nameless)
            continue;
        fd = open(file->beside, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
        file->named = fd >= 0;
        if (fd >= 0 || errno != EEXIST)
            break;
    }
    return fd;
}

enum status file_write_begin(struct file_write *file, struct arena *arena, const char *path,
                             struct diag_list *diags)
{
    struct stat about;
    int exists = stat(path, &about) == 0, in_place, fd;
    char real[PATH_MAX];

    *file = (struct file_write){ 0 };
    if (exists && S_ISDIR(about.st_mode))
        return complain(diags, path, STATUS_UNWRITABLE, "is a directory, not a file", NULL);
    /* A device, or an open file that has no name any more, as behind /dev/stdout: nothing to rename over. */
    in_place = exists && (!S_ISREG(about.st_mode) || !realpath(path, real));
    if (!(file->path = path_followed(arena, path)))
        return STATUS_NO_MEMORY;
    fd = in_place ? open(path, O_WRONLY | O_TRUNC | O_CLOEXEC | O_NOCTTY) : open_beside(file, arena);
    if (fd < 0)
        return complain_errno(diags, path, STATUS_UNWRITABLE, "cannot be written", errno);
    if (exists && file->beside && fchmod(fd, about.st_mode & 07777) != 0)
        errno = 0; /* the old file's mode is a courtesy */
    if (!(file->stream = fdopen(fd, "w"))) {
        close(fd);
        file_write_abort(file);
        return STATUS_NO_MEMORY;
    }
    return STATUS_OK;
}

/* Gives a nameless file its temporary name. */
static int name_beside(struct file_write *file)
{
    char handle[64];

    if (!file->beside || file->named)
        return 0;
    snprintf(handle, sizeof handle, "/proc/self/fd/%d", fileno(file->stream));
    if (linkat(AT_FDCWD, handle, AT_FDCWD, file->beside, AT_SYMLINK_FOLLOW) != 0)
        return -1;
    file->named = 1;
    return 0;
}

enum status file_write_commit(struct file_write *file, struct diag_list *diags)
{
    int failed = ferror(file->stream) | fflush(file->stream), code = errno;

    if (!failed && name_beside(file) != 0) {
        failed = 1;
        code = errno;
    }
    if (fclose(file->stream) != 0 && !failed) {
        failed = 1;
        code = errno;
    }
    file->stream = NULL;
    if (!failed && file->beside && rename(file->beside, file->path) != 0) {
        failed = 1;
        code = errno;
    }
    if (!failed) {
        file->named = 0;
        return STATUS_OK;
    }
    file_write_abort(file);
    return complain_errno(diags, file->path, STATUS_UNWRITABLE, "cannot be written", code ? code : EIO);
}

void file_write_abort(struct file_write *file)
{
    if (file->stream)
        fclose(file->stream);
    file->stream = NULL;
    if (file->named)
        unlink(file->beside);
    file->named = 0;
}

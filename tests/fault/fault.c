/* fault.c - preloaded into the program by tests: makes the call that FAULT names fail as a full disk would.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <dlfcn.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* stdio's own flushing goes past any preload, so faults are put at the calls the program itself makes. */
static int fault_wanted(const char *call)
{
    const char *wanted = getenv("FAULT");

    if (!wanted || strcmp(wanted, call) != 0)
        return 0;
    errno = ENOSPC;
    return 1;
}

/* The C library's own function, as a pointer of the right type. */
#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

int fflush(FILE *stream)
{
    return stream && fault_wanted("fflush") ? EOF : REAL(fflush)(stream);
}

int fclose(FILE *stream)
{
    if (!fault_wanted("fclose"))
        return REAL(fclose)(stream);
    REAL(fclose)(stream);
    errno = ENOSPC;
    return EOF;
}

/* FAULT=slow: a disk that takes its time. */
int rename(const char *from, const char *to)
{
    const char *wanted = getenv("FAULT");

    if (wanted && strcmp(wanted, "slow") == 0)
        usleep(1300000);
    return fault_wanted("rename") ? -1 : REAL(rename)(from, to);
}

int linkat(int from_folder, const char *from, int to_folder, const char *to, int flags)
{
    return fault_wanted("linkat") ? -1 : REAL(linkat)(from_folder, from, to_folder, to, flags);
}

FILE *fdopen(int fd, const char *mode)
{
    return fault_wanted("fdopen") ? NULL : REAL(fdopen)(fd, mode);
}

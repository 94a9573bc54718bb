/* progress.h - a sign of life on standard error for work that takes over a second.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PROGRESS_H
#define BD_PROGRESS_H

#include <pthread.h>

/* Belongs to the caller; between start and stop only they may touch it. */
struct progress {
    int running; /* 1: the thread is there */
    int done;
    pthread_t thread;
    pthread_mutex_t lock;
    pthread_cond_t stop;
};

/* Begins to tell, each second from the first on; wanted 0: nothing happens, and progress_stop does nothing
 * either. Without a thread it stays silent. */
void progress_start(struct progress *progress, int wanted);
void progress_stop(struct progress *progress);

#endif

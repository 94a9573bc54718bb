/* progress.h - a sign of life on standard error for work that takes over a second.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BD_PROGRESS_H
#define BD_PROGRESS_H

#include <pthread.h>

struct progress {
    int running; /* 1: the thread is there */
    int done;
    pthread_t thread;
    pthread_mutex_t lock;
    pthread_cond_t stop;
};

/* wanted 0: nothing happens, and progress_stop does nothing either. */
void progress_start(struct progress *progress, int wanted);
void progress_stop(struct progress *progress);

#endif

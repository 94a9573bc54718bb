/* progress.c - a thread that waits and, from the first full second on, says how long the work has taken.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

/*
 * A thread of its own, because the engine knows nothing of terminals and must not. Nothing is shown for the
 * first second, and nothing where standard error is no terminal.
 */

/* The thread: one line a second, on itself, and wiped at the end. */
static void *watch(void *argument)
{
    struct progress *progress = argument;
    struct timespec next;
    int seconds = 0;

    clock_gettime(CLOCK_REALTIME, &next);
    pthread_mutex_lock(&progress->lock);
    while (!progress->done) {
        next.tv_sec++;
        while (!progress->done && pthread_cond_timedwait(&progress->stop, &progress->lock, &next) == 0)
            ;
        if (!progress->done)
            fprintf(stderr, "\rworking, %d s", ++seconds);
    }
    pthread_mutex_unlock(&progress->lock);
    if (seconds)
        fputs("\r                    \r", stderr);
    return NULL;
}

void progress_start(struct progress *progress, int wanted)
{
    memset(progress, 0, sizeof *progress);
    if (!wanted)
        return;
    pthread_mutex_init(&progress->lock, NULL);
    pthread_cond_init(&progress->stop, NULL);
    progress->running = pthread_create(&progress->thread, NULL, watch, progress) == 0;
}

void progress_stop(struct progress *progress)
{
    if (!progress->running)
        return;
    pthread_mutex_lock(&progress->lock);
    progress->done = 1;
    pthread_cond_signal(&progress->stop);
    pthread_mutex_unlock(&progress->lock);
    pthread_join(progress->thread, NULL);
    pthread_cond_destroy(&progress->stop);
    pthread_mutex_destroy(&progress->lock);
    progress->running = 0;
}

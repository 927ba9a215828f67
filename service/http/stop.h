#ifndef SMALLEND_HTTP_STOP_H
#define SMALLEND_HTTP_STOP_H

/* The signals that stop the service, and the one that makes it read its files
 * again. */

#include <pthread.h>
#include <stdbool.h>

/*
 * Block SIGTERM, SIGINT and SIGHUP for this thread and those it starts, and
 * ignore SIGPIPE. Before any thread starts.
 */
void stop_block_signals(void);

/* Wait for SIGTERM or SIGINT; at each SIGHUP call `reload` with `data`, on this
 * thread. Answers which signal it was. */
int stop_wait(void (*reload)(void *data), void *data);

/* The thread that sees to it that a stop comes to its end. */
struct stop_watch {
    pthread_t thread;
    long limit_ms;
    bool started;
};

/* From here on a second signal ends the process at once, with status 128 + its
 * number, and so does the passing of `limit_ms`, with status 1. */
void stop_watch_start(struct stop_watch *watch, long limit_ms);
void stop_watch_end(struct stop_watch *watch);

#endif

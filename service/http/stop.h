#ifndef SMALLEND_HTTP_STOP_H
#define SMALLEND_HTTP_STOP_H

/* The signals that stop the service. */

#include <pthread.h>
#include <stdbool.h>

/*
 * Block SIGTERM, SIGINT and SIGHUP for this thread and those it starts, and
 * ignore SIGPIPE. Before any thread starts.
 */
void stop_block_signals(void);

/* Wait for SIGTERM or SIGINT and answer which. SIGHUP is let pass: there is
 * nothing yet to read again. */
int stop_wait(void);

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

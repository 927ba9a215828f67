#ifndef SMALLEND_HTTP_LOG_LIMIT_H
#define SMALLEND_HTTP_LOG_LIMIT_H

/* A limit on log lines that any client can cause, so that none of them fills
 * the disk: a few in each second, the others counted. */

#include <pthread.h>
#include <stdbool.h>
#include <stdint.h>

enum { LOG_LIMIT_PER_SECOND = 3 };

struct log_limit {
    pthread_mutex_t lock;
    int64_t second_ms; /* when the running second began */
    unsigned taken;    /* lines in it */
    unsigned passed_over;
};

bool log_limit_init(struct log_limit *limit);
void log_limit_destroy(struct log_limit *limit);

/* Ask to write a line at `now_ms` (of deadline_now_ms). True: *passed_over says
 * how many were refused since the last that was not. */
bool log_limit_take(struct log_limit *limit, int64_t now_ms, unsigned *passed_over);

/* How many were refused since the last that was not; they are then forgotten. */
unsigned log_limit_rest(struct log_limit *limit);

#endif

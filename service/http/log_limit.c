#include "http/log_limit.h"

bool
log_limit_init(struct log_limit *limit)
{
    limit->second_ms = INT64_MIN / 2;
    limit->taken = 0;
    limit->passed_over = 0;
    return pthread_mutex_init(&limit->lock, NULL) == 0;
}

void
log_limit_destroy(struct log_limit *limit)
{
    pthread_mutex_destroy(&limit->lock);
}

bool
log_limit_take(struct log_limit *limit, int64_t now_ms, unsigned *passed_over)
{
    pthread_mutex_lock(&limit->lock);
    if (now_ms - limit->second_ms >= 1000) {
        limit->second_ms = now_ms;
        limit->taken = 0;
    }
    const bool may = limit->taken < LOG_LIMIT_PER_SECOND;
    if (may) {
        limit->taken += 1;
        *passed_over = limit->passed_over;
        limit->passed_over = 0;
    } else {
        limit->passed_over += 1;
    }
    pthread_mutex_unlock(&limit->lock);
    return may;
}

unsigned
log_limit_rest(struct log_limit *limit)
{
    pthread_mutex_lock(&limit->lock);
    const unsigned rest = limit->passed_over;
    limit->passed_over = 0;
    pthread_mutex_unlock(&limit->lock);
    return rest;
}

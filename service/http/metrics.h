#ifndef SMALLEND_HTTP_METRICS_H
#define SMALLEND_HTTP_METRICS_H

/*
 * What the service counts, and its text for Prometheus (exposition format
 * 0.0.4). Counting is a few atomic additions, without lock or allocation; every
 * label is one of a fixed list, so what a client sends cannot make series.
 */

#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "http/process_usage.h"
#include "http/route.h"
#include "joint/report.h"
#include "wire/buffer.h"
#include "wire/problem.h"

enum metrics_method {
    METRICS_METHOD_GET,
    METRICS_METHOD_HEAD,
    METRICS_METHOD_POST,
    METRICS_METHOD_OPTIONS,
    METRICS_METHOD_OTHER,
    METRICS_METHOD_COUNT
};

enum metrics_status {
#define STATUS(code, phrase) METRICS_STATUS_##code,
#include "http/status.def"
    METRICS_STATUS_OTHER, /* by mistake only */
    METRICS_STATUS_COUNT
};

enum metrics_reload { METRICS_RELOAD_TAKEN, METRICS_RELOAD_KEPT, METRICS_RELOAD_COUNT };

enum {
    METRICS_BUCKET_COUNT = 12,  /* those of metrics.c, and +Inf */
    METRICS_VERDICT_COUNT = 4,  /* enum verdict */
    METRICS_LISTENER_COUNT = 2, /* public and admin */
    METRICS_NO_PROBLEM = PROBLEM_COUNT
};

struct metrics_durations {
    atomic_ullong bucket[METRICS_BUCKET_COUNT]; /* each for itself, not summed up */
    atomic_ullong sum_us;
};

/* Zero at the start; the index of a route is its place in route.def, of other
 * paths ROUTE_OTHER. */
struct metrics {
    atomic_ullong requests[ROUTE_OTHER + 1][METRICS_METHOD_COUNT][METRICS_STATUS_COUNT];
    struct metrics_durations durations[ROUTE_OTHER + 1];
    atomic_ullong verdicts[CALL_COUNT][METRICS_VERDICT_COUNT];
    atomic_ullong problems[PROBLEM_COUNT];
    atomic_ullong body_bytes, answer_bytes;
    atomic_ullong failed_handshakes;
    atomic_ullong reloads[METRICS_RELOAD_COUNT];
};

/* One request, answered. */
struct metrics_request {
    size_t route;       /* 0..ROUTE_OTHER */
    const char *method; /* NULL = it could not be read */
    int status;
    int64_t duration_us;
    size_t body_bytes, answer_bytes;
    int problem; /* enum problem, or METRICS_NO_PROBLEM */
};

void metrics_count_request(struct metrics *metrics, const struct metrics_request *request);
void metrics_count_problem(struct metrics *metrics, enum problem problem);
void metrics_count_verdict(struct metrics *metrics, enum call call, enum verdict verdict);
void metrics_count_reload(struct metrics *metrics, enum metrics_reload outcome);
void metrics_count_failed_handshake(struct metrics *metrics);

/* What is so at this moment. */
struct metrics_now {
    int in_flight;
    struct {
        const char *name; /* NULL = there is no such listener */
        int connections, most_connections;
    } listener[METRICS_LISTENER_COUNT];
    bool draining;
    int64_t certificate_expires_s; /* 0 = no TLS */
    double started_s;              /* seconds since 1970 */
    struct process_usage process;
};

/* Write all of it. */
void metrics_write(struct buffer *out, struct metrics *metrics, const struct metrics_now *now);

#endif

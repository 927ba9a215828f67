#include "http/metrics.h"

#include <string.h>

#include "base/version.h"

static const int statuses[METRICS_STATUS_OTHER] = {
#define STATUS(code, phrase) code,
#include "http/status.def"
};

static const char *const methods[METRICS_METHOD_COUNT] = {"GET", "HEAD", "POST", "OPTIONS", "other"};

/* Upper bounds, a calculation taking from a tenth of a millisecond to some. */
static const struct {
    int64_t us;
    const char *label;
} buckets[METRICS_BUCKET_COUNT - 1] = {
    {250, "0.00025"}, {500, "0.0005"}, {1000, "0.001"}, {2500, "0.0025"}, {5000, "0.005"}, {10000, "0.01"},
    {25000, "0.025"}, {50000, "0.05"}, {100000, "0.1"}, {250000, "0.25"}, {1000000, "1"},
};

static void
add(atomic_ullong *counter, unsigned long long amount)
{
    atomic_fetch_add_explicit(counter, amount, memory_order_relaxed);
}

static unsigned long long
value_of(atomic_ullong *counter)
{
    return atomic_load_explicit(counter, memory_order_relaxed);
}

static size_t
status_index(int status)
{
    size_t index = 0;
    while (index < METRICS_STATUS_OTHER && statuses[index] != status) {
        ++index;
    }
    return index;
}

static size_t
method_index(const char *method)
{
    size_t index = 0;
    while (method != NULL && index < METRICS_METHOD_OTHER && strcmp(methods[index], method) != 0) {
        ++index;
    }
    return method != NULL ? index : METRICS_METHOD_OTHER;
}

static size_t
bucket_index(int64_t duration_us)
{
    size_t index = 0;
    while (index < METRICS_BUCKET_COUNT - 1 && duration_us > buckets[index].us) {
        ++index;
    }
    return index;
}

void
metrics_count_request(struct metrics *metrics, const struct metrics_request *request)
{
    const size_t route = request->route < ROUTE_OTHER ? request->route : ROUTE_OTHER;
    const int64_t duration_us = request->duration_us > 0 ? request->duration_us : 0;
    struct metrics_durations *durations = &metrics->durations[route];
    add(&metrics->requests[route][method_index(request->method)][status_index(request->status)], 1);
    add(&durations->bucket[bucket_index(duration_us)], 1);
    add(&durations->sum_us, (unsigned long long)duration_us);
    add(&metrics->body_bytes, request->body_bytes);
    add(&metrics->answer_bytes, request->answer_bytes);
    if (request->problem >= 0 && request->problem < METRICS_NO_PROBLEM) {
        add(&metrics->problems[request->problem], 1);
    }
}

void
metrics_count_problem(struct metrics *metrics, enum problem problem)
{
    add(&metrics->problems[problem], 1);
}

void
metrics_count_verdict(struct metrics *metrics, enum call call, enum verdict verdict)
{
    add(&metrics->verdicts[call][verdict], 1);
}

void
metrics_count_reload(struct metrics *metrics, enum metrics_reload outcome)
{
    add(&metrics->reloads[outcome], 1);
}

void
metrics_count_failed_handshake(struct metrics *metrics)
{
    add(&metrics->failed_handshakes, 1);
}

/* ---- the text ---- */

static const char *
route_label(size_t route)
{
    return route < ROUTE_OTHER ? route_path(route) : "other";
}

static void
head(struct buffer *out, const char *name, const char *type, const char *help)
{
    buffer_format(out, "# HELP %s %s\n# TYPE %s %s\n", name, help, name, type);
}

/* A metric of one series without labels. */
static void
one(struct buffer *out, const char *name, const char *type, const char *help, double value)
{
    head(out, name, type, help);
    buffer_format(out, "%s %.15g\n", name, value);
}

static void
one_counter(struct buffer *out, const char *name, const char *help, atomic_ullong *counter)
{
    head(out, name, "counter", help);
    buffer_format(out, "%s %llu\n", name, value_of(counter));
}

static void
write_requests(struct buffer *out, struct metrics *metrics)
{
    static const char name[] = "smallend_http_requests_total";
    head(out, name, "counter", "Requests answered, by address, method and status.");
    for (size_t route = 0; route <= ROUTE_OTHER; ++route) {
        for (size_t method = 0; method < METRICS_METHOD_COUNT; ++method) {
            for (size_t status = 0; status < METRICS_STATUS_COUNT; ++status) {
                const unsigned long long count = value_of(&metrics->requests[route][method][status]);
                if (count == 0) {
                    continue; /* most of them cannot be */
                }
                buffer_format(out, "%s{route=\"%s\",method=\"%s\",code=\"", name, route_label(route), methods[method]);
                if (status < METRICS_STATUS_OTHER) {
                    buffer_format(out, "%d\"} %llu\n", statuses[status], count);
                } else {
                    buffer_format(out, "other\"} %llu\n", count);
                }
            }
        }
    }
}

static void
write_durations_of(struct buffer *out, const char *name, const char *route, struct metrics_durations *durations)
{
    unsigned long long count[METRICS_BUCKET_COUNT], all = 0;
    for (size_t i = 0; i < METRICS_BUCKET_COUNT; ++i) {
        all += value_of(&durations->bucket[i]);
        count[i] = all;
    }
    if (all == 0) {
        return;
    }
    for (size_t i = 0; i < METRICS_BUCKET_COUNT; ++i) {
        const char *bound = i < METRICS_BUCKET_COUNT - 1 ? buckets[i].label : "+Inf";
        buffer_format(out, "%s_bucket{route=\"%s\",le=\"%s\"} %llu\n", name, route, bound, count[i]);
    }
    const unsigned long long sum_us = value_of(&durations->sum_us);
    buffer_format(out, "%s_sum{route=\"%s\"} %llu.%06llu\n%s_count{route=\"%s\"} %llu\n", name, route, sum_us / 1000000,
                  sum_us % 1000000, name, route, all);
}

static void
write_durations(struct buffer *out, struct metrics *metrics)
{
    static const char name[] = "smallend_http_request_duration_seconds";
    head(out, name, "histogram", "From the head of a request to the end of its answer.");
    for (size_t route = 0; route <= ROUTE_OTHER; ++route) {
        write_durations_of(out, name, route_label(route), &metrics->durations[route]);
    }
}

static void
write_verdicts(struct buffer *out, struct metrics *metrics)
{
    head(out, "smallend_verdicts_total", "counter", "Jobs answered, those of batches too, by call and verdict.");
    for (int call = 0; call < CALL_COUNT; ++call) {
        for (int verdict = 0; verdict < METRICS_VERDICT_COUNT; ++verdict) {
            buffer_format(out, "smallend_verdicts_total{call=\"%s\",verdict=\"%s\"} %llu\n",
                          call_row((enum call)call)->word, verdict_text((enum verdict)verdict),
                          value_of(&metrics->verdicts[call][verdict]));
        }
    }
}

static void
write_problems(struct buffer *out, struct metrics *metrics)
{
    head(out, "smallend_problems_total", "counter",
         "Requests and entries of batches that were not answered, by the name of the problem.");
    for (int problem = 0; problem < PROBLEM_COUNT; ++problem) {
        buffer_format(out, "smallend_problems_total{type=\"%s\"} %llu\n", problem_row((enum problem)problem)->name,
                      value_of(&metrics->problems[problem]));
    }
}

static void
write_reloads(struct buffer *out, struct metrics *metrics)
{
    static const char *const outcomes[METRICS_RELOAD_COUNT] = {"taken", "kept"};
    head(out, "smallend_reloads_total", "counter",
         "Parts read again on SIGHUP: the new one taken, or the old one kept since the new one was broken.");
    for (int outcome = 0; outcome < METRICS_RELOAD_COUNT; ++outcome) {
        buffer_format(out, "smallend_reloads_total{outcome=\"%s\"} %llu\n", outcomes[outcome],
                      value_of(&metrics->reloads[outcome]));
    }
}

static void
write_listeners(struct buffer *out, const struct metrics_now *now)
{
    head(out, "smallend_connections_open", "gauge", "Connections that hold a thread, TLS handshakes not counted.");
    for (int i = 0; i < METRICS_LISTENER_COUNT; ++i) {
        if (now->listener[i].name != NULL) {
            buffer_format(out, "smallend_connections_open{listener=\"%s\"} %d\n", now->listener[i].name,
                          now->listener[i].connections);
        }
    }
    head(out, "smallend_connections_limit", "gauge", "Threads, each of which serves one connection.");
    for (int i = 0; i < METRICS_LISTENER_COUNT; ++i) {
        if (now->listener[i].name != NULL) {
            buffer_format(out, "smallend_connections_limit{listener=\"%s\"} %d\n", now->listener[i].name,
                          now->listener[i].most_connections);
        }
    }
}

/* The names that every client library of Prometheus gives these. What could not
 * be found out is left out. */
static void
write_process(struct buffer *out, const struct metrics_now *now)
{
    const struct process_usage *process = &now->process;
    one(out, "process_start_time_seconds", "gauge", "When the process started, in seconds since 1970.", now->started_s);
    if (process->cpu_s >= 0) {
        one(out, "process_cpu_seconds_total", "counter", "Processor time used.", process->cpu_s);
    }
    if (process->resident_bytes >= 0) {
        one(out, "process_resident_memory_bytes", "gauge", "Memory in use.", (double)process->resident_bytes);
    }
    if (process->open_files >= 0) {
        one(out, "process_open_fds", "gauge", "Open files and sockets.", (double)process->open_files);
    }
    if (process->most_files >= 0) {
        one(out, "process_max_fds", "gauge", "Most of them that may be open.", (double)process->most_files);
    }
}

void
metrics_write(struct buffer *out, struct metrics *metrics, const struct metrics_now *now)
{
    head(out, "smallend_build_info", "gauge", "Always 1; the labels say which program answers.");
    buffer_add(out, "smallend_build_info{version=\"" SMALLEND_VERSION "\",rules=\"" SMALLEND_RULES "\"} 1\n");
    write_requests(out, metrics);
    write_durations(out, metrics);
    one(out, "smallend_http_requests_in_flight", "gauge", "Requests being answered, this one too.", now->in_flight);
    one_counter(out, "smallend_request_body_bytes_total", "Bytes of bodies read.", &metrics->body_bytes);
    one_counter(out, "smallend_answer_bytes_total", "Bytes of answers sent, heads too.", &metrics->answer_bytes);
    write_listeners(out, now);
    write_verdicts(out, metrics);
    write_problems(out, metrics);
    write_reloads(out, metrics);
    one(out, "smallend_draining", "gauge", "1 once a stop was asked for.", now->draining ? 1 : 0);
    one_counter(out, "smallend_tls_handshake_failures_total", "TLS handshakes that failed or took too long.",
                &metrics->failed_handshakes);
    if (now->certificate_expires_s != 0) {
        one(out, "smallend_tls_certificate_expiry_timestamp_seconds", "gauge",
            "When the certificate in force expires, in seconds since 1970.", (double)now->certificate_expires_s);
    }
    write_process(out, now);
}

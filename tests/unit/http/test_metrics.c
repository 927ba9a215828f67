/* The text against the description of Prometheus's exposition format; the whole of it is checked by promtool in
 * tests/e2e. */

#include "http/metrics.h"

#include <stdlib.h>
#include <string.h>

#include "support/close.h"

static struct metrics metrics;
static struct metrics_now now;
static struct buffer text;

static int
begin(void **state)
{
    (void)state;
    memset(&metrics, 0, sizeof metrics);
    memset(&now, 0, sizeof now);
    now.listener[0].name = "public";
    buffer_init(&text);
    return 0;
}

static int
end(void **state)
{
    (void)state;
    buffer_clear(&text);
    return 0;
}

static void
write_text(void)
{
    buffer_clear(&text);
    metrics_write(&text, &metrics, &now);
    assert_false(text.failed);
}

/* True if the text has exactly this line. */
static bool
has(const char *line)
{
    const size_t length = strlen(line);
    for (const char *at = text.at; (at = strstr(at, line)) != NULL; ++at) {
        if ((at == text.at || at[-1] == '\n') && at[length] == '\n') {
            return true;
        }
    }
    return false;
}

static void
assert_has(const char *line)
{
    if (!has(line)) {
        fail_msg("no line %s in\n%s", line, text.at);
    }
}

static struct metrics_request
request(const char *path, const char *method, int status, int64_t duration_us)
{
    struct route_match match;
    route_find(method != NULL ? method : "GET", path, false, &match);
    return (struct metrics_request){.route = match.row,
                                    .method = method,
                                    .status = status,
                                    .duration_us = duration_us,
                                    .problem = METRICS_NO_PROBLEM};
}

static void
count(const char *path, const char *method, int status, int64_t duration_us)
{
    const struct metrics_request one = request(path, method, status, duration_us);
    metrics_count_request(&metrics, &one);
}

static void
counts_by_route_method_and_status(void **state)
{
    (void)state;
    count("/v1/check", "POST", 200, 100);
    count("/v1/check", "POST", 200, 100);
    count("/v1/check", "POST", 422, 100);
    count("/v1/steels/a", "GET", 200, 100);
    count("/v1/steels/b", "GET", 200, 100);
    write_text();
    assert_has("smallend_http_requests_total{route=\"/v1/check\",method=\"POST\",code=\"200\"} 2");
    assert_has("smallend_http_requests_total{route=\"/v1/check\",method=\"POST\",code=\"422\"} 1");
    assert_has("smallend_http_requests_total{route=\"/v1/steels/{id}\",method=\"GET\",code=\"200\"} 2");
}

/* Labels are ours: no client can make a series. */
static void
puts_what_it_does_not_know_under_other(void **state)
{
    (void)state;
    count("/no/such\"path\n", "GET", 404, 100);
    count("/no/other", "BREW", 418, 100);
    count("/", NULL, 400, 100);
    write_text();
    assert_has("smallend_http_requests_total{route=\"other\",method=\"GET\",code=\"404\"} 1");
    assert_has("smallend_http_requests_total{route=\"other\",method=\"other\",code=\"other\"} 1");
    assert_has("smallend_http_requests_total{route=\"/\",method=\"other\",code=\"400\"} 1");
    assert_null(strstr(text.at, "such"));
    assert_null(strstr(text.at, "BREW"));
}

static void
keeps_what_is_out_of_range_within_its_arrays(void **state)
{
    (void)state;
    struct metrics_request odd = request("/", "GET", -7, INT64_MIN);
    odd.route = (size_t)-1;
    odd.problem = -1;
    metrics_count_request(&metrics, &odd);
    write_text();
    assert_has("smallend_http_requests_total{route=\"other\",method=\"GET\",code=\"other\"} 1");
    assert_has("smallend_http_request_duration_seconds_sum{route=\"other\"} 0.000000");
}

/* A bucket takes what is no longer than its bound, and all below. */
static void
sums_buckets_up_to_their_bounds(void **state)
{
    (void)state;
    const int64_t durations_us[] = {250, 251, 1000, 30000, 1000000, 1000001, 12345678};
    for (size_t i = 0; i < sizeof durations_us / sizeof durations_us[0]; ++i) {
        count("/", "GET", 200, durations_us[i]);
    }
    write_text();
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"0.00025\"} 1");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"0.0005\"} 2");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"0.001\"} 3");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"0.025\"} 3");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"0.05\"} 4");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"0.25\"} 4");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"1\"} 5");
    assert_has("smallend_http_request_duration_seconds_bucket{route=\"/\",le=\"+Inf\"} 7");
    assert_has("smallend_http_request_duration_seconds_count{route=\"/\"} 7");
    assert_has("smallend_http_request_duration_seconds_sum{route=\"/\"} 14.377180");
}

static void
counts_verdicts_problems_and_reloads(void **state)
{
    (void)state;
    struct metrics_request bad = request("/v1/check", "POST", 422, 100);
    bad.problem = PROBLEM_invalid_job;
    metrics_count_request(&metrics, &bad);
    metrics_count_verdict(&metrics, CALL_set_screw, VERDICT_FAILS);
    metrics_count_reload(&metrics, METRICS_RELOAD_KEPT);
    metrics_count_failed_handshake(&metrics);
    write_text();
    assert_has("smallend_problems_total{type=\"invalid-job\"} 1");
    assert_has("smallend_problems_total{type=\"not-json\"} 0");
    assert_has("smallend_verdicts_total{call=\"set-screw\",verdict=\"fails\"} 1");
    assert_has("smallend_verdicts_total{call=\"set-screw\",verdict=\"incomplete\"} 0");
    assert_has("smallend_reloads_total{outcome=\"kept\"} 1");
    assert_has("smallend_reloads_total{outcome=\"taken\"} 0");
    assert_has("smallend_tls_handshake_failures_total 1");
}

/* Whatever a problem of ours can answer has a series of its own. */
static void
knows_the_status_of_every_problem(void **state)
{
    (void)state;
    for (int i = 0; i < PROBLEM_COUNT; ++i) {
        count("/", "GET", problem_row((enum problem)i)->status, 1);
    }
    write_text();
    assert_null(strstr(text.at, "code=\"other\""));
}

static void
adds_up_bytes(void **state)
{
    (void)state;
    struct metrics_request one = request("/", "GET", 200, 1);
    one.body_bytes = 7;
    one.answer_bytes = 1000;
    metrics_count_request(&metrics, &one);
    metrics_count_request(&metrics, &one);
    write_text();
    assert_has("smallend_request_body_bytes_total 14");
    assert_has("smallend_answer_bytes_total 2000");
}

static void
shows_the_moment(void **state)
{
    (void)state;
    now.in_flight = 3;
    now.listener[0].connections = 5;
    now.listener[0].most_connections = 256;
    now.draining = true;
    now.certificate_expires_s = 1798205410;
    now.started_s = 1795613410.25;
    now.process =
        (struct process_usage){.cpu_s = 1.5, .resident_bytes = 15441920, .open_files = 12, .most_files = 20000};
    write_text();
    assert_has("smallend_http_requests_in_flight 3");
    assert_has("smallend_connections_open{listener=\"public\"} 5");
    assert_has("smallend_connections_limit{listener=\"public\"} 256");
    assert_has("smallend_draining 1");
    assert_has("smallend_tls_certificate_expiry_timestamp_seconds 1798205410");
    assert_has("process_start_time_seconds 1795613410.25");
    assert_has("process_cpu_seconds_total 1.5");
    assert_has("process_resident_memory_bytes 15441920");
    assert_has("process_open_fds 12");
    assert_has("process_max_fds 20000");
}

static void
leaves_out_what_there_is_not(void **state)
{
    (void)state;
    now.process = (struct process_usage){.cpu_s = -1, .resident_bytes = -1, .open_files = -1, .most_files = -1};
    write_text();
    assert_null(strstr(text.at, "smallend_tls_certificate"));
    assert_null(strstr(text.at, "process_open_fds"));
    assert_null(strstr(text.at, "process_cpu"));
    assert_null(strstr(text.at, "listener=\"admin\""));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(counts_by_route_method_and_status, begin, end),
        cmocka_unit_test_setup_teardown(puts_what_it_does_not_know_under_other, begin, end),
        cmocka_unit_test_setup_teardown(keeps_what_is_out_of_range_within_its_arrays, begin, end),
        cmocka_unit_test_setup_teardown(sums_buckets_up_to_their_bounds, begin, end),
        cmocka_unit_test_setup_teardown(counts_verdicts_problems_and_reloads, begin, end),
        cmocka_unit_test_setup_teardown(knows_the_status_of_every_problem, begin, end),
        cmocka_unit_test_setup_teardown(adds_up_bytes, begin, end),
        cmocka_unit_test_setup_teardown(shows_the_moment, begin, end),
        cmocka_unit_test_setup_teardown(leaves_out_what_there_is_not, begin, end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

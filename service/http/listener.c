#include "http/listener.h"

#include <stdlib.h>
#include <string.h>

#include <civetweb.h>

#include "base/text.h"
#include "http/deadline.h"
#include "http/exchange.h"
#include "http/gate.h"
#include "http/log_limit.h"
#include "http/route.h"
#include "http/tls.h"

enum { KEEP_ALIVE_MS = 2000 };

/* After a failed handshake, so that the client sees the alert that says why. */
enum { ALERT_LINGER_BYTES = 65536, ALERT_LINGER_MS = 200 };

/* What one thread knows of the connection it serves. */
struct worker {
    int64_t waiting_since_ms;
    int waiting_limit_ms; /* CivetWeb's for the head it waits for */
};

static void *
on_thread_start(const struct mg_context *context, int type)
{
    (void)context;
    return type == 1 ? calloc(1, sizeof(struct worker)) : NULL;
}

static void
on_thread_end(const struct mg_context *context, int type, void *worker)
{
    (void)context;
    (void)type;
    free(worker);
}

static void
await_head(const struct mg_connection *connection, int limit_ms)
{
    struct worker *worker = mg_get_thread_pointer(connection);
    if (worker != NULL) {
        worker->waiting_since_ms = deadline_now_ms();
        worker->waiting_limit_ms = limit_ms;
    }
}

static struct listener *
listener_of(const struct mg_connection *connection)
{
    return mg_get_user_data(mg_get_context(connection));
}

static int
on_connection(const struct mg_connection *connection, void **data)
{
    struct listener *listener = listener_of(connection);
    atomic_fetch_add(&listener->connections, 1);
    *data = listener; /* so that the end can tell that there was a beginning */
    deadline_clear();
    await_head(connection, EXCHANGE_READ_MS);
    return 0;
}

/* Also called where a TLS handshake failed, without the beginning above. */
static void
on_connection_end(const struct mg_connection *connection)
{
    struct listener *listener = mg_get_user_connection_data(connection);
    if (listener != NULL) {
        atomic_fetch_sub(&listener->connections, 1);
    } else {
        metrics_count_failed_handshake(&listener_of(connection)->server->metrics);
        deadline_linger(ALERT_LINGER_BYTES, ALERT_LINGER_MS, true);
    }
    deadline_clear(); /* so that the next handshake does not know this socket */
}

/* CivetWeb has made a context for a listener that speaks TLS. */
static int
on_tls_context(void *context, void *listener)
{
    struct server *server = ((struct listener *)listener)->server;
    return tls_prepare(&server->tls, context) ? 0 : -1;
}

/* From here to `finish` the request is in flight: a stop waits for its answer. */
static void
begin(struct exchange *exchange, struct mg_connection *connection, const struct mg_request_info *request)
{
    struct listener *listener = listener_of(connection);
    const struct mg_request_info *info = mg_get_request_info(connection);
    atomic_fetch_add(&listener->server->in_flight, 1);
    exchange_begin(exchange, connection, request, &listener->server->settings);
    exchange->server = listener->server;
    exchange->tls = info != NULL && info->is_ssl != 0;
    exchange->admin = listener->admin;
    exchange->draining = atomic_load(&listener->server->draining);
    /* A thread serves one connection until it closes. So that newcomers find
     * one, connections stay open only while few are, and probes' never. */
    exchange->close = exchange->close || exchange->draining || exchange->admin ||
                      atomic_load(&listener->connections) > listener->most_connections;
}

static void
finish(struct exchange *exchange)
{
    exchange_end(exchange);
    atomic_fetch_sub(&exchange->server->in_flight, 1);
}

static void
refuse_at_gate(struct exchange *exchange, enum gate_verdict verdict, const char *detail)
{
    static const enum problem problems[] = {
        [GATE_BAD_FRAMING] = PROBLEM_bad_framing,
        [GATE_LENGTH_REQUIRED] = PROBLEM_length_required,
        [GATE_TOO_LARGE] = PROBLEM_too_large,
        [GATE_TOO_MANY_HEADERS] = PROBLEM_head_too_large,
    };
    exchange->unread = true;
    exchange_refuse(exchange, problems[verdict], detail);
}

/* Every request that CivetWeb could read; the answer tells it that all is done. */
static int
on_request(struct mg_connection *connection)
{
    struct exchange exchange;
    const char *detail = NULL;
    begin(&exchange, connection, mg_get_request_info(connection));
    const enum gate_verdict verdict = gate_check(exchange.request, &detail);
    if (verdict == GATE_OPEN) {
        route_serve(&exchange);
    } else {
        refuse_at_gate(&exchange, verdict, detail);
    }
    finish(&exchange);
    return exchange.status;
}

static void
on_request_end(const struct mg_connection *connection, int status)
{
    (void)status;
    await_head(connection, KEEP_ALIVE_MS);
}

/* What CivetWeb could not read: see the errors it makes in get_message and
 * get_request of its source. */
static enum problem
problem_of(const struct mg_connection *connection, int status)
{
    const struct worker *worker = mg_get_thread_pointer(connection);
    if (status == 400) {
        const bool late = worker != NULL && deadline_now_ms() - worker->waiting_since_ms >= worker->waiting_limit_ms;
        return late ? PROBLEM_request_timeout : PROBLEM_bad_framing;
    }
    return status == 411 ? PROBLEM_bad_framing : problem_of_status(status);
}

static int
on_error(struct mg_connection *connection, int status, const char *message)
{
    struct exchange exchange;
    (void)message;                      /* its own words for the status */
    begin(&exchange, connection, NULL); /* its texts may be missing, or those of an earlier request */
    const enum problem problem = problem_of(connection, status);
    const bool framing = problem == PROBLEM_bad_framing;
    exchange_refuse(&exchange, problem,
                    framing ? "The head of the request is not HTTP/1.1, or is longer than 16,384 bytes." : NULL);
    finish(&exchange);
    return 0;
}

/* What CivetWeb says where SSL_accept fails: see sslize in its source. */
static bool
is_of_handshake(const char *message)
{
    return strncmp(message, "sslize error", 12) == 0 || strncmp(message, "SSL syscall error", 17) == 0;
}

/* A handshake that fails is the client's affair, or a port scan's. */
static int
on_message(const struct mg_connection *connection, const char *message)
{
    struct log_line line;
    unsigned passed_over = 0;
    struct server *server = listener_of(connection)->server;
    const bool handshake = is_of_handshake(message);
    if (!log_limit_take(handshake ? &server->handshake_log : &server->civetweb_log, deadline_now_ms(), &passed_over)) {
        return 1;
    }
    log_begin(&line, server->log_mode, handshake ? LOG_LEVEL_INFO : LOG_LEVEL_WARN,
              handshake ? "tls handshake failed" : "civetweb");
    log_text(&line, "detail", message);
    if (passed_over > 0) {
        log_integer(&line, "passed_over", passed_over);
    }
    log_end(&line);
    return 1;
}

static const struct mg_callbacks callbacks = {
    .begin_request = on_request,
    .end_request = on_request_end,
    .http_error = on_error,
    .log_message = on_message,
    .init_ssl = on_tls_context,
    .init_thread = on_thread_start,
    .exit_thread = on_thread_end,
    .init_connection = on_connection,
    .connection_close = on_connection_end,
};

/* A number as the text that CivetWeb wants. */
struct number {
    char text[16];
};

static const char *
write_number(struct number *number, int value)
{
    struct text text;
    text_init(&text, number->text, sizeof number->text);
    text_format(&text, "%d", value);
    return number->text;
}

void
listener_init(struct listener *listener, struct server *server, bool admin, int threads)
{
    listener->server = server;
    listener->context = NULL;
    listener->admin = admin;
    listener->threads = threads;
    listener->most_connections = threads - threads / 4;
    atomic_init(&listener->connections, 0);
}

bool
listener_start(struct listener *listener, const char *addresses, int queue, char fault[SERVER_FAULT_SIZE])
{
    struct number number[5];
    /* clang-format off */
    const char *options[] = {
        "listening_ports", addresses,
        "num_threads", write_number(&number[0], listener->threads),
        "connection_queue", write_number(&number[1], queue),
        "request_timeout_ms", write_number(&number[2], EXCHANGE_READ_MS),
        "keep_alive_timeout_ms", write_number(&number[3], KEEP_ALIVE_MS),
        "max_request_size", write_number(&number[4], GATE_HEAD_SIZE),
        "listen_backlog", "1024",
        "enable_keep_alive", "yes",
        "tcp_nodelay", "1",
        /* Paths are compared as they were sent. */
        "decode_url", "no",
        "decode_query_string", "no",
        "enable_auth_domain_check", "no",
        "enable_directory_listing", "no",
        /* Preflights are ours to answer. */
        "access_control_allow_origin", "",
        "access_control_allow_methods", "",
        "access_control_allow_headers", "",
        /* For addresses with an s behind them; the rest is in tls_prepare. */
        "ssl_protocol_version", TLS_CIVETWEB_VERSION,
        "ssl_cipher_list", TLS_CIPHERS,
        "ssl_default_verify_paths", "no",
        NULL,
    };
    /* clang-format on */
    struct mg_init_data init = {.callbacks = &callbacks, .user_data = listener, .configuration_options = options};
    char cause[128] = "";
    struct mg_error_data error = {.text = cause, .text_buffer_size = sizeof cause};
    listener->context = mg_start2(&init, &error);
    if (listener->context == NULL) {
        struct text text;
        text_init(&text, fault, SERVER_FAULT_SIZE);
        text_format(&text, "cannot listen on %s: %s; the log says more", addresses, cause);
    }
    return listener->context != NULL;
}

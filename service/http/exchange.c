#include "http/exchange.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <civetweb.h>

#include "base/log.h"
#include "http/deadline.h"
#include "http/etag.h"
#include "http/head.h"
#include "http/route.h"
#include "http/server.h"

/* As much of a refused body is read, for as long, so that the client sees why. */
enum { LINGER_BYTES = 16777216, LINGER_MS = 500 };

/* True if the list of words in a Connection header has `word`. */
static bool
has_word(const char *list, const char *word)
{
    for (const char *at = list; *at != '\0';) {
        at += strspn(at, " \t,");
        const size_t length = strcspn(at, " \t,");
        if (length == strlen(word) && strncasecmp(at, word, length) == 0) {
            return true;
        }
        at += length;
    }
    return false;
}

/*
 * Whether the connection outlives the answer. CivetWeb decides for itself, by
 * the first Connection header alone and by a part of its words; we keep it only
 * where both agree, and otherwise say so and make CivetWeb close.
 */
static bool
client_keeps(const struct mg_request_info *request)
{
    const char *first = NULL;
    for (int i = 0; i < request->num_headers; ++i) {
        if (strcasecmp(request->http_headers[i].name, "Connection") == 0) {
            const char *value = request->http_headers[i].value;
            if (has_word(value, "close") || has_word(value, "upgrade")) {
                return false;
            }
            first = first != NULL ? first : value;
        }
    }
    return first != NULL ? has_word(first, "keep-alive") : strcmp(request->http_version, "1.1") == 0;
}

void
exchange_begin(struct exchange *exchange, struct mg_connection *connection, const struct mg_request_info *request,
               const struct settings *settings)
{
    *exchange = (struct exchange){
        .connection = connection,
        .request = request,
        .settings = settings,
        .close = request == NULL || !client_keeps(request),
        .unread = request == NULL || request->content_length > 0,
        .cors = true,
        .route = "other",
        .row = ROUTE_OTHER,
        .problem = PROBLEM_COUNT,
        .format = ANSWER_JSON,
        .calculation_us = -1,
        .started_us = deadline_now_us(),
    };
    trace_context_id(exchange_header(exchange, "traceparent"), exchange->trace_id);
}

const char *
exchange_header(const struct exchange *exchange, const char *name)
{
    return exchange->request != NULL ? mg_get_header(exchange->connection, name) : NULL;
}

const char *
exchange_header_joined(const struct exchange *exchange, const char *name, char *buffer, size_t capacity)
{
    struct text text;
    bool any = false;
    text_init(&text, buffer, capacity);
    for (int i = 0; i < exchange->request->num_headers; ++i) {
        if (strcasecmp(exchange->request->http_headers[i].name, name) == 0) {
            text_add(&text, any ? ", " : "");
            text_add(&text, exchange->request->http_headers[i].value);
            any = true;
        }
    }
    return any ? buffer : NULL;
}

/* True for the method HEAD, whose answer has no body. */
static bool
is_head(const struct exchange *exchange)
{
    return exchange->request != NULL && strcmp(exchange->request->request_method, "HEAD") == 0;
}

bool
exchange_write(struct exchange *exchange, const char *bytes, size_t length)
{
    const int sent = mg_write(exchange->connection, bytes, length);
    exchange->bytes_out += sent > 0 ? (size_t)sent : 0;
    if (sent >= 0 && (size_t)sent == length) {
        return true;
    }
    exchange->close = true;
    mg_disable_connection_keep_alive(exchange->connection);
    return false;
}

/* One write of head and body, so that they leave in one packet. */
static void
write_answer(struct exchange *exchange, const struct text *head, const char *body, size_t length)
{
    char *whole = malloc(head->length + length + 1);
    deadline_set(EXCHANGE_WRITE_MS);
    if (whole != NULL) {
        memcpy(whole, head->at, head->length);
        if (length > 0) {
            memcpy(whole + head->length, body, length);
        }
        exchange_write(exchange, whole, head->length + length);
        free(whole);
    } else if (exchange_write(exchange, head->at, head->length) && length > 0) {
        exchange_write(exchange, body, length);
    }
}

void
exchange_head(struct exchange *exchange, const struct head *head, struct text *text)
{
    /* What is unread would be taken for the next request. */
    exchange->close = exchange->close || exchange->unread;
    if (exchange->close) {
        mg_disable_connection_keep_alive(exchange->connection);
    }
    head_write(text, exchange, head);
    exchange->status = head->status;
}

static void
answer(struct exchange *exchange, const struct head *head, const char *body, size_t length)
{
    char buffer[HEAD_SIZE];
    struct text text;
    text_init(&text, buffer, sizeof buffer);
    exchange_head(exchange, head, &text);
    write_answer(exchange, &text, body, is_head(exchange) ? 0 : length);
}

void
exchange_send(struct exchange *exchange, const struct reply *reply, enum cache cache)
{
    char etag[ETAG_SIZE] = "";
    exchange->problem = reply->is_problem ? (int)reply->problem : PROBLEM_COUNT;
    if (cache != CACHE_NOTHING) {
        char named[1024];
        etag_of(reply->body, reply->length, etag);
        if (etag_is_named(exchange_header_joined(exchange, "If-None-Match", named, sizeof named), etag)) {
            answer(exchange, &(struct head){.status = 304, .cache = cache, .etag = etag}, NULL, 0);
            return;
        }
    }
    const bool posted = exchange->request != NULL && strcmp(exchange->request->request_method, "POST") == 0;
    const struct head head = {.status = reply->status,
                              .content_type = reply->content_type,
                              .content_length = reply->length,
                              .location = posted ? reply->location : NULL,
                              .cache = cache,
                              .etag = etag};
    answer(exchange, &head, reply->body, reply->length);
}

void
exchange_send_empty(struct exchange *exchange, int status)
{
    answer(exchange, &(struct head){.status = status, .cache = CACHE_NOTHING, .etag = ""}, NULL, 0);
}

void
exchange_refuse(struct exchange *exchange, enum problem problem, const char *detail)
{
    struct reply reply;
    const char *path = exchange->request != NULL ? exchange->request->local_uri_raw : NULL;
    reply_refuse(&reply, &(struct refusal){.problem = problem, .detail = detail, .instance = path}, exchange->format);
    exchange_send(exchange, &reply, CACHE_NOTHING);
    reply_clear(&reply);
}

static void
log_exchange(const struct exchange *exchange, int64_t duration_us)
{
    const struct mg_request_info *request = exchange->request;
    struct log_line line;
    log_begin(&line, exchange->server->log_mode, exchange->status == 500 ? LOG_LEVEL_ERROR : LOG_LEVEL_INFO, "request");
    log_text(&line, "method", request != NULL ? request->request_method : "unknown");
    log_text(&line, "route", exchange->route);
    log_integer(&line, "status", exchange->status);
    log_number(&line, "dur_ms", (double)duration_us / 1000.0);
    log_integer(&line, "bytes_in", (long long)exchange->bytes_in);
    log_integer(&line, "bytes_out", (long long)exchange->bytes_out);
    if (exchange->problem != PROBLEM_COUNT) {
        log_text(&line, "problem", problem_row((enum problem)exchange->problem)->name);
    }
    if (request != NULL && request->client_cert != NULL && request->client_cert->subject != NULL) {
        log_text(&line, "client", request->client_cert->subject);
    }
    if (exchange->trace_id[0] != '\0') {
        log_text(&line, "trace_id", exchange->trace_id);
    }
    log_end(&line);
}

static void
count_exchange(const struct exchange *exchange, int64_t duration_us)
{
    const struct metrics_request counted = {
        .route = exchange->row,
        .method = exchange->request != NULL ? exchange->request->request_method : NULL,
        .status = exchange->status,
        .duration_us = duration_us,
        .body_bytes = exchange->bytes_in,
        .answer_bytes = exchange->bytes_out,
        .problem = exchange->problem,
    };
    metrics_count_request(&exchange->server->metrics, &counted);
}

void
exchange_end(struct exchange *exchange)
{
    const int64_t duration_us = deadline_now_us() - exchange->started_us;
    log_exchange(exchange, duration_us);
    count_exchange(exchange, duration_us);
    if (exchange->close && exchange->unread) {
        deadline_linger(LINGER_BYTES, LINGER_MS, !exchange->tls);
    }
    deadline_clear();
}

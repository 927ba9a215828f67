#include "http/exchange.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <civetweb.h>

#include "base/text.h"
#include "http/accept.h"
#include "http/deadline.h"
#include "wire/query.h"

enum { ACCEPT_SIZE = 1024 };

static bool
refuse_query(struct exchange *exchange, enum problem problem, const char *before, const char *word, const char *after)
{
    char detail[256];
    struct text text;
    text_init(&text, detail, sizeof detail);
    text_format(&text, "%s\"%s\"%s", before, word, after);
    exchange_refuse(exchange, problem, detail);
    return false;
}

static bool
read_trace(const char *value, unsigned *trace)
{
    unsigned points = 0;
    const size_t digits = strspn(value, "0123456789");
    if (digits == 0 || digits > 4 || value[digits] != '\0') {
        return false;
    }
    for (size_t i = 0; i < digits; ++i) {
        points = 10 * points + (unsigned)(value[i] - '0');
    }
    *trace = points;
    return points >= ANSWER_TRACE_MIN && points <= ANSWER_TRACE_MAX;
}

static bool
take_format(struct exchange *exchange, const char *value)
{
    return answer_format_from(value, &exchange->format) ||
           refuse_query(exchange, PROBLEM_not_acceptable, "There is no form ", value,
                        "; json, md, txt, html, svg and jws are.");
}

static bool
take_trace(struct exchange *exchange, const char *value)
{
    return read_trace(value, &exchange->trace) ||
           refuse_query(exchange, PROBLEM_bad_request, "trace takes a whole number from 12 to 1440, not ", value, ".");
}

/* Take the parameter `name` if the query has it, which it may once. */
static bool
take_parameter(struct exchange *exchange, struct query *query, const char *name,
               bool (*take)(struct exchange *exchange, const char *value), bool *given)
{
    *given = false;
    for (size_t i = 0; i < query->count; ++i) {
        struct query_pair *pair = &query->pair[i];
        if (strcmp(pair->name, name) != 0) {
            continue;
        }
        if (*given) {
            return refuse_query(exchange, PROBLEM_bad_request, "The parameter ", name, " stands twice.");
        }
        pair->taken = *given = true;
        if (!take(exchange, pair->value)) {
            return false;
        }
    }
    return true;
}

/* The form asked for by parameter, or else by Accept. */
static bool
choose_form(struct exchange *exchange, unsigned offered, struct query *query)
{
    char accept[ACCEPT_SIZE];
    bool named = false;
    if (!take_parameter(exchange, query, "format", take_format, &named)) {
        return false;
    }
    const char *header = exchange_header_joined(exchange, "Accept", accept, sizeof accept);
    const bool possible =
        named ? (offered & ACCEPT_BIT(exchange->format)) != 0 : accept_choose(header, offered, &exchange->format);
    if (!possible) {
        exchange->format = ANSWER_JSON;
        exchange_refuse(exchange, PROBLEM_not_acceptable, exchange->unoffered);
    }
    return possible;
}

static bool
open_query(struct exchange *exchange, struct query *query)
{
    switch (query_open(query, exchange->request->query_string)) {
    case QUERY_READ:
        return true;
    case QUERY_MALFORMED:
        return refuse_query(exchange, PROBLEM_bad_request, "The query cannot be read at ",
                            query->pair[query->count].name, ": a wrong % code.");
    case QUERY_NO_MEMORY:
        break;
    }
    exchange_refuse(exchange, PROBLEM_unavailable, NULL);
    return false;
}

bool
exchange_negotiate_link(struct exchange *exchange, unsigned offered, bool takes_trace, struct query *query)
{
    bool traced = false;
    const bool good = open_query(exchange, query) && choose_form(exchange, offered, query) &&
                      (!takes_trace || take_parameter(exchange, query, "trace", take_trace, &traced));
    if (!good) {
        query_close(query);
    }
    return good;
}

bool
exchange_negotiate(struct exchange *exchange, unsigned offered, bool takes_trace)
{
    struct query query;
    if (!exchange_negotiate_link(exchange, offered, takes_trace, &query)) {
        return false;
    }
    bool good = true;
    for (size_t i = 0; i < query.count && good; ++i) {
        if (!query.pair[i].taken) {
            good = refuse_query(exchange, PROBLEM_bad_request, "The parameter ", query.pair[i].name,
                                " is not known at this address.");
        }
    }
    query_close(&query);
    return good;
}

void
exchange_take_form(struct exchange *exchange)
{
    const unsigned told = ACCEPT_BIT(ANSWER_JSON) | ACCEPT_BIT(ANSWER_MD) | ACCEPT_BIT(ANSWER_TXT) |
                          ACCEPT_BIT(ANSWER_HTML); /* as problems are */
    char accept[ACCEPT_SIZE];
    enum answer_format format = ANSWER_JSON;
    struct query query;
    bool named = false;
    if (query_open(&query, exchange->request->query_string) == QUERY_READ) {
        for (size_t i = 0; i < query.count && !named; ++i) {
            named = strcmp(query.pair[i].name, "format") == 0 && answer_format_from(query.pair[i].value, &format) &&
                    (told & ACCEPT_BIT(format)) != 0;
        }
    }
    query_close(&query);
    if (named || accept_choose(exchange_header_joined(exchange, "Accept", accept, sizeof accept), told, &format)) {
        exchange->format = format;
    }
}

/* Ask the client for its body where it waits to be asked (RFC 9110 section
 * 10.1.1). False: refused. */
static bool
answer_expectation(struct exchange *exchange)
{
    const char *expect = exchange_header(exchange, "Expect");
    if (expect == NULL || strcmp(exchange->request->http_version, "1.0") == 0) {
        return true;
    }
    if (strcasecmp(expect, "100-continue") != 0) {
        exchange_refuse(exchange, PROBLEM_expectation_failed, NULL);
        return false;
    }
    static const char go_on[] = "HTTP/1.1 100 Continue\r\n\r\n";
    mg_write(exchange->connection, go_on, sizeof go_on - 1);
    return true;
}

static bool
may_read(struct exchange *exchange, long long length, long most)
{
    char detail[96];
    struct text text;
    const char *type = exchange_header(exchange, "Content-Type");
    const char *coding = exchange_header(exchange, "Content-Encoding");
    const bool readable = type == NULL || accept_is_json(type) || (exchange->takes_jose && accept_is_jose(type));
    if (!readable || (coding != NULL && strcasecmp(coding, "identity") != 0)) {
        exchange_refuse(exchange, PROBLEM_unsupported_media_type, NULL);
        return false;
    }
    if (length < 0) {
        exchange_refuse(exchange, PROBLEM_length_required, NULL);
        return false;
    }
    if (length > most) {
        text_init(&text, detail, sizeof detail);
        text_format(&text, "The body has %lld bytes; at most %ld are accepted.", length, most);
        exchange_refuse(exchange, PROBLEM_too_large, detail);
        return false;
    }
    return answer_expectation(exchange);
}

bool
exchange_read_body(struct exchange *exchange, long most, char **body, size_t *length)
{
    const long long declared = exchange->request->content_length;
    if (!may_read(exchange, declared, most)) {
        return false;
    }
    char *bytes = malloc((size_t)declared + 1);
    if (bytes == NULL) {
        exchange_refuse(exchange, PROBLEM_unavailable, NULL);
        return false;
    }
    const int64_t start_ms = deadline_now_ms();
    deadline_set(EXCHANGE_READ_MS + (int)(declared / EXCHANGE_READ_BYTES_MS));
    const int got = declared > 0 ? mg_read(exchange->connection, bytes, (size_t)declared) : 0;
    exchange->bytes_in = got > 0 ? (size_t)got : 0;
    if (got != declared) {
        free(bytes);
        /* CivetWeb itself gives up once nothing came for EXCHANGE_READ_MS. */
        const bool late = deadline_passed() || deadline_now_ms() - start_ms >= EXCHANGE_READ_MS;
        exchange_refuse(exchange, late ? PROBLEM_request_timeout : PROBLEM_bad_framing,
                        late ? NULL : "The body ended before the length that Content-Length gives.");
        return false;
    }
    bytes[declared] = '\0';
    exchange->unread = false;
    *body = bytes;
    *length = (size_t)declared;
    return true;
}

#include "http/exchange.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <civetweb.h>

#include "base/text.h"
#include "http/accept.h"
#include "http/deadline.h"
#include "http/query.h"

enum { ACCEPT_SIZE = 1024 };

/* What a query has said so far. */
struct query {
    bool has_format;
    bool has_trace;
};

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
take_pair(struct exchange *exchange, const struct query_pair *pair, bool takes_trace, struct query *query)
{
    const bool is_format = strcmp(pair->name, "format") == 0;
    const bool is_trace = takes_trace && strcmp(pair->name, "trace") == 0;
    if (!is_format && !is_trace) {
        return refuse_query(exchange, PROBLEM_bad_request, "The parameter ", pair->name,
                            " is not known at this address.");
    }
    if (is_format ? query->has_format : query->has_trace) {
        return refuse_query(exchange, PROBLEM_bad_request, "The parameter ", pair->name, " stands twice.");
    }
    if (is_format && !answer_format_from(pair->value, &exchange->format)) {
        return refuse_query(exchange, PROBLEM_not_acceptable, "There is no form ", pair->value,
                            "; json, md and txt are.");
    }
    if (is_trace && !read_trace(pair->value, &exchange->trace)) {
        return refuse_query(exchange, PROBLEM_bad_request, "trace takes a whole number from 12 to 1440, not ",
                            pair->value, ".");
    }
    query->has_format = query->has_format || is_format;
    query->has_trace = query->has_trace || is_trace;
    return true;
}

bool
exchange_negotiate(struct exchange *exchange, unsigned offered, bool takes_trace)
{
    const char *at = exchange->request->query_string;
    struct query query = {false, false};
    struct query_pair pair;
    enum query_outcome outcome;
    while ((outcome = query_next(&at, &pair)) == QUERY_PAIR) {
        if (!take_pair(exchange, &pair, takes_trace, &query)) {
            return false;
        }
    }
    if (outcome == QUERY_MALFORMED) {
        return refuse_query(exchange, PROBLEM_bad_request, "The query cannot be read at ", pair.name,
                            ": a wrong % code, or too long a word.");
    }
    char accept[ACCEPT_SIZE];
    const char *header = exchange_header_joined(exchange, "Accept", accept, sizeof accept);
    const bool possible = query.has_format ? (offered & ACCEPT_BIT(exchange->format)) != 0
                                           : accept_choose(header, offered, &exchange->format);
    if (!possible) {
        exchange_refuse(exchange, PROBLEM_not_acceptable, NULL);
    }
    return possible;
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
may_read(struct exchange *exchange, long long length)
{
    char detail[96];
    struct text text;
    const char *type = exchange_header(exchange, "Content-Type");
    const char *coding = exchange_header(exchange, "Content-Encoding");
    if ((type != NULL && !accept_is_json(type)) || (coding != NULL && strcasecmp(coding, "identity") != 0)) {
        exchange_refuse(exchange, PROBLEM_unsupported_media_type, NULL);
        return false;
    }
    if (length < 0) {
        exchange_refuse(exchange, PROBLEM_length_required, NULL);
        return false;
    }
    if (length > exchange->settings->max_body) {
        text_init(&text, detail, sizeof detail);
        text_format(&text, "The body has %lld bytes; at most %ld are accepted.", length, exchange->settings->max_body);
        exchange_refuse(exchange, PROBLEM_too_large, detail);
        return false;
    }
    return answer_expectation(exchange);
}

bool
exchange_read_body(struct exchange *exchange, char **body, size_t *length)
{
    const long long declared = exchange->request->content_length;
    if (!may_read(exchange, declared)) {
        return false;
    }
    char *bytes = malloc((size_t)declared + 1);
    if (bytes == NULL) {
        exchange_refuse(exchange, PROBLEM_unavailable, NULL);
        return false;
    }
    deadline_set(EXCHANGE_READ_MS);
    const int got = declared > 0 ? mg_read(exchange->connection, bytes, (size_t)declared) : 0;
    exchange->bytes_in = got > 0 ? (size_t)got : 0;
    if (got != declared) {
        free(bytes);
        const bool late = deadline_passed();
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

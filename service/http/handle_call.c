#include "http/handle.h"

#include <stdlib.h>
#include <string.h>

#include <civetweb.h>

#include "http/deadline.h"
#include "http/exchange.h"
#include "http/route.h"
#include "http/server.h"
#include "wire/answer.h"
#include "wire/curves.h"

/* The route table has a row for each call, so that one is always found. */
static enum call
call_of(const char *word)
{
    int call = 0;
    while (call + 1 < CALL_COUNT && strcmp(call_row((enum call)call)->word, word) != 0) {
        ++call;
    }
    return (enum call)call;
}

void
handle_answer(struct exchange *exchange, struct answer_request *request, enum cache cache)
{
    struct reply reply;
    enum verdict verdict = VERDICT_INCOMPLETE;
    request->format = exchange->format;
    request->trace = exchange->trace;
    request->path = exchange->request->local_uri_raw;
    request->public_url = exchange->settings->public_url;
    const int64_t start_us = deadline_now_us();
    answer_request(request, &reply, &verdict);
    exchange->calculation_us = deadline_now_us() - start_us;
    if (reply.status == 200) {
        metrics_count_verdict(&exchange->server->metrics, request->call, verdict);
    }
    exchange_send(exchange, &reply, reply.status == 200 ? cache : CACHE_NOTHING);
    reply_clear(&reply);
}

/* The job stands in the body. */
void
handle_call(struct exchange *exchange, const struct route_match *match)
{
    const enum call call = call_of(match->word);
    char *body = NULL;
    size_t length = 0;
    if (!exchange_negotiate(exchange, answer_forms(call), curves_of(call)) ||
        !exchange_read_body(exchange, exchange->settings->max_body, &body, &length)) {
        return;
    }
    handle_answer(exchange, &(struct answer_request){.call = call, .body = body, .length = length}, CACHE_NOTHING);
    free(body);
}

/* The job stands in the address: the same request always gives the same
 * answer, so that it may be kept. */
void
handle_link(struct exchange *exchange, const struct route_match *match)
{
    const enum call call = call_of(match->word);
    struct query query;
    if (!exchange_negotiate_link(exchange, answer_forms(call), curves_of(call), &query)) {
        return;
    }
    handle_answer(exchange, &(struct answer_request){.call = call, .query = &query}, CACHE_DAY);
    query_close(&query);
}

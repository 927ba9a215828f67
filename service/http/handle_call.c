#include "http/handle.h"

#include <stdlib.h>
#include <string.h>

#include <civetweb.h>

#include "http/accept.h"
#include "http/deadline.h"
#include "http/exchange.h"
#include "http/route.h"

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
handle_call(struct exchange *exchange, const struct route_match *match)
{
    const unsigned offered = ACCEPT_BIT(ANSWER_JSON) | ACCEPT_BIT(ANSWER_MD) | ACCEPT_BIT(ANSWER_TXT);
    const enum call call = call_of(match->word);
    char *body = NULL;
    size_t length = 0;
    struct reply reply;
    if (!exchange_negotiate(exchange, offered, call == CALL_load) || !exchange_read_body(exchange, &body, &length)) {
        return;
    }
    const struct answer_request request = {.call = call,
                                           .format = exchange->format,
                                           .body = body,
                                           .length = length,
                                           .instance = exchange->request->local_uri_raw,
                                           .trace = exchange->trace};
    const int64_t start_us = deadline_now_us();
    answer_request(&request, &reply, NULL);
    exchange->calculation_us = deadline_now_us() - start_us;
    free(body);
    exchange_send(exchange, &reply, CACHE_NOTHING);
    reply_clear(&reply);
}

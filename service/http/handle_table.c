#include "http/handle.h"

#include "http/accept.h"
#include "http/exchange.h"
#include "http/route.h"

void
handle_table(struct exchange *exchange, const struct route_match *match)
{
    struct reply reply;
    if (!exchange_negotiate(exchange, ACCEPT_BIT(ANSWER_JSON), false)) {
        return;
    }
    if (!answer_table(match->word, match->id[0] != '\0' ? match->id : NULL, &reply)) {
        exchange_refuse(exchange, PROBLEM_not_found, NULL);
        return;
    }
    exchange_send(exchange, &reply, reply.status == 200 ? CACHE_HOUR : CACHE_NOTHING);
    reply_clear(&reply);
}

#include "http/handle.h"

#include "http/accept.h"
#include "http/exchange.h"

void
handle_index(struct exchange *exchange, const struct route_match *match)
{
    struct reply reply;
    (void)match;
    if (!exchange_negotiate(exchange, ACCEPT_BIT(ANSWER_JSON), false)) {
        return;
    }
    answer_index(&reply);
    exchange_send(exchange, &reply, reply.status == 200 ? CACHE_HOUR : CACHE_NOTHING);
    reply_clear(&reply);
}

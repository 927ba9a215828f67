#include "http/handle.h"

#include "http/exchange.h"
#include "wire/answer.h"

void
handle_index(struct exchange *exchange, const struct route_match *match)
{
    struct reply reply;
    (void)match;
    if (!exchange_negotiate(exchange, ANSWER_INDEX_FORMS, false)) {
        return;
    }
    exchange->link = "</openapi.json>; rel=\"service-desc\"; type=\"application/json\", </>; rel=\"service-doc\", "
                     "</.well-known/api-catalog>; rel=\"api-catalog\"";
    answer_index(exchange->format, &reply);
    exchange_send(exchange, &reply, reply.status == 200 ? CACHE_HOUR : CACHE_NOTHING);
    reply_clear(&reply);
}

#include "http/handle.h"

#include "http/exchange.h"
#include "http/server.h"

/* Takes whatever the asker sends as query and Accept, as a file would. */
void
handle_keys(struct exchange *exchange, const struct route_match *match)
{
    struct reply reply;
    struct buffer out;
    struct seal_state *state = seal_hold(&exchange->server->seal);
    (void)match;
    buffer_init(&out);
    const bool good = keyring_write(&state->ring, &out);
    seal_let_go(state);
    if (!good) {
        buffer_clear(&out);
        exchange_refuse(exchange, PROBLEM_internal, "A key could not be written.");
        return;
    }
    reply_deliver(&reply, &out, 200, "application/jwk-set+json");
    exchange_send(exchange, &reply, reply.status == 200 ? CACHE_MINUTES : CACHE_NOTHING);
    reply_clear(&reply);
}

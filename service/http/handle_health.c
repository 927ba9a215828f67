#include "http/handle.h"

#include "base/text.h"
#include "base/version.h"
#include "http/exchange.h"

/* Probes take whatever the prober sends as query and Accept, and never a cache. */
static void
answer_probe(struct exchange *exchange, int status, const char *word)
{
    char body[256];
    struct text text;
    text_init(&text, body, sizeof body);
    text_format(&text, "{\"status\":\"%s\",\"service\":{\"name\":\"%s\",\"version\":\"%s\",\"rules\":\"%s\"}}\n", word,
                SMALLEND_NAME, SMALLEND_VERSION, SMALLEND_RULES);
    const struct reply reply = {
        .status = status, .content_type = "application/json", .body = body, .length = text.length};
    exchange_send(exchange, &reply, CACHE_NOTHING);
}

void
handle_livez(struct exchange *exchange, const struct route_match *match)
{
    (void)match;
    answer_probe(exchange, 200, "alive");
}

void
handle_readyz(struct exchange *exchange, const struct route_match *match)
{
    (void)match;
    answer_probe(exchange, exchange->draining ? 503 : 200, exchange->draining ? "draining" : "ready");
}

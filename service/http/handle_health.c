#include "http/handle.h"

#include "base/text.h"
#include "base/version.h"
#include "http/exchange.h"
#include "http/server.h"

/* Probes take whatever the prober sends as query and Accept, and never a cache.
 * `more` is further members, with a comma before each. */
static void
answer_probe(struct exchange *exchange, int status, const char *word, const char *more)
{
    char body[384];
    struct text text;
    text_init(&text, body, sizeof body);
    text_format(&text, "{\"status\":\"%s\"%s,\"service\":{\"name\":\"%s\",\"version\":\"%s\",\"rules\":\"%s\"}}\n",
                word, more, SMALLEND_NAME, SMALLEND_VERSION, SMALLEND_RULES);
    const struct reply reply = {
        .status = status, .content_type = "application/json", .body = body, .length = text.length};
    exchange_send(exchange, &reply, CACHE_NOTHING);
}

/* That this answers is all that a restart could mend: nothing else counts. */
void
handle_livez(struct exchange *exchange, const struct route_match *match)
{
    (void)match;
    answer_probe(exchange, 200, "alive", "");
}

void
handle_readyz(struct exchange *exchange, const struct route_match *match)
{
    char parts[128];
    struct text text;
    struct server_readiness is;
    (void)match;
    server_readiness(exchange->server, &is);
    text_init(&text, parts, sizeof parts);
    text_format(&text, ",\"parts\":{\"requests\":\"%s\"", is.draining ? "draining" : "ready");
    if (is.has_certificate) {
        text_format(&text, ",\"certificate\":\"%s\"", is.certificate_expired ? "expired" : "ready");
    }
    text_add(&text, "}");
    if (is.draining) {
        answer_probe(exchange, 503, "draining", parts);
    } else if (is.certificate_expired) {
        answer_probe(exchange, 503, "not ready", parts);
    } else {
        answer_probe(exchange, 200, "ready", parts);
    }
}

#include "http/handle.h"

#include "http/exchange.h"
#include "http/metrics.h"
#include "http/server.h"

/* For scrapers, which take whatever form they are given, and never a cache. */
void
handle_metrics(struct exchange *exchange, const struct route_match *match)
{
    struct buffer out;
    struct metrics_now now;
    (void)match;
    server_metrics_now(exchange->server, &now);
    buffer_init(&out);
    metrics_write(&out, &exchange->server->metrics, &now);
    if (out.failed) {
        exchange_refuse(exchange, PROBLEM_unavailable, NULL);
    } else {
        const struct reply reply = {.status = 200,
                                    .content_type = "text/plain; version=0.0.4; charset=utf-8",
                                    .body = out.at,
                                    .length = out.length};
        exchange_send(exchange, &reply, CACHE_NOTHING);
    }
    buffer_clear(&out);
}

#include "http/handle.h"

#include <string.h>

#include "base/text.h"
#include "http/exchange.h"
#include "http/openapi.h"
#include "http/route.h"

enum { CATALOG_SIZE = 2048 };

/* The media type of RFC 9264 and the profile of RFC 9727 section 7.2. */
static const char catalog_type[] = "application/linkset+json; profile=\"https://www.rfc-editor.org/info/rfc9727\"";

static void
add_target(struct text *text, const char *relation, const char *base, const char *path, const char *type)
{
    text_format(text, ",\"%s\":[{\"href\":\"%s%s\",\"type\":\"%s\"}]", relation, base, path, type);
}

/* Where the service and its descriptions are: RFC 9727, relations of RFC 8631.
 * Absolute only where the operator said what the world calls us: the Host
 * header is the client's word. */
static void
write_catalog(struct text *text, const char *base)
{
    text_format(text, "{\"linkset\":[{\"anchor\":\"%s/\"", base);
    add_target(text, "service-desc", base, "/openapi.json", "application/json");
    add_target(text, "service-doc", base, "/", "text/html");
    add_target(text, "status", base, "/readyz", "application/json");
    text_add(text, "}]}\n");
}

/* Documents of one form each: whatever Accept and the query say, this is it. */
void
handle_document(struct exchange *exchange, const struct route_match *match)
{
    char buffer[CATALOG_SIZE];
    struct text text;
    struct reply reply = {.status = 200,
                          .content_type = "application/json",
                          .body = (const char *)openapi_document,
                          .length = openapi_length};
    if (strcmp(match->word, "api-catalog") == 0) {
        text_init(&text, buffer, sizeof buffer);
        write_catalog(&text, exchange->settings->public_url);
        reply.content_type = catalog_type;
        reply.body = text.at;
        reply.length = text.length;
    }
    exchange_send(exchange, &reply, CACHE_HOUR);
}

#include "http/head.h"

#include <string.h>
#include <time.h>

#include <civetweb.h>

static const char *
reason(int status)
{
    static const struct {
        int status;
        const char *phrase;
    } table[] = {
#define STATUS(code, phrase) {code, phrase},
#include "http/status.def"
    };
    for (size_t i = 0; i < sizeof table / sizeof table[0]; ++i) {
        if (table[i].status == status) {
            return table[i].phrase;
        }
    }
    return ""; /* the phrase may be empty: RFC 9112 section 4 */
}

const char *
head_allowed_origin(const char *origins, const char *origin, size_t *length)
{
    if (strcmp(origins, "*") == 0) {
        *length = 1;
        return origins;
    }
    if (origin == NULL || origin[0] == '\0') {
        return NULL;
    }
    for (const char *entry = origins; *entry != '\0';) {
        *length = strcspn(entry, ",");
        if (strlen(origin) == *length && memcmp(entry, origin, *length) == 0) {
            return entry;
        }
        entry += *length;
        entry += *entry == ',';
    }
    return NULL;
}

static void
add_field(struct text *text, const char *name, const char *value)
{
    text_join(text, name, ": ", value, "\r\n");
}

/* The Fetch standard, "CORS protocol": the same on errors, or a page sees none. */
static void
add_cors(struct text *text, const struct exchange *exchange)
{
    const char *origins = exchange->settings->cors_origins;
    size_t length = 0;
    const char *allowed = head_allowed_origin(origins, exchange_header(exchange, "Origin"), &length);
    if (allowed == NULL) {
        return;
    }
    text_add(text, "Access-Control-Allow-Origin: ");
    text_add_bytes(text, allowed, length);
    text_add(text, "\r\n");
    if (exchange_header(exchange, "Access-Control-Request-Method") != NULL) {
        text_add(text,
                 "Access-Control-Allow-Methods: GET, HEAD, POST, OPTIONS\r\n"
                 "Access-Control-Allow-Headers: content-type, accept, authorization, traceparent, if-none-match\r\n"
                 "Access-Control-Max-Age: 7200\r\n");
    } else {
        text_add(text, "Access-Control-Expose-Headers: Allow, Content-Location, ETag, Link, Retry-After, "
                       "Server-Timing, WWW-Authenticate\r\n");
    }
}

/* RFC 9110 section 5.6.7; the program never leaves the C locale. */
static void
add_date(struct text *text)
{
    char date[64] = "";
    struct tm utc;
    const time_t now = time(NULL);
    if (gmtime_r(&now, &utc) != NULL && strftime(date, sizeof date, "%a, %d %b %Y %H:%M:%S GMT", &utc) > 0) {
        add_field(text, "Date", date);
    }
}

static void
add_connection(struct text *text, const struct exchange *exchange)
{
    if (exchange->close) {
        text_add(text, "Connection: close\r\n");
    } else if (strcmp(exchange->request->http_version, "1.0") == 0) {
        text_add(text, "Connection: keep-alive\r\n");
    }
}

static const char *
cache_control(enum cache cache)
{
    switch (cache) {
    case CACHE_MINUTES:
        return "public, max-age=300";
    case CACHE_HOUR:
        return "public, max-age=3600";
    case CACHE_DAY:
        return "public, max-age=86400";
    case CACHE_NOTHING:
        break;
    }
    return "no-store";
}

/* Nothing of ours runs a script, whatever a browser makes of it. */
static void
add_policy(struct text *text, const struct head *head)
{
    text_add(text, "X-Content-Type-Options: nosniff\r\n");
    if (head->content_type != NULL &&
        (strncmp(head->content_type, "text/html", 9) == 0 || strncmp(head->content_type, "image/svg", 9) == 0)) {
        text_add(text, "Content-Security-Policy: default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; "
                       "form-action 'none'\r\n");
    }
}

static void
add_framing(struct text *text, const struct head *head)
{
    if (head->framing == FRAMING_LENGTH) {
        text_add(text, "Content-Length: ");
        text_add_count(text, head->content_length);
        text_add(text, "\r\n");
    } else if (head->framing == FRAMING_CHUNKED) {
        text_add(text, "Transfer-Encoding: chunked\r\n");
    }
}

void
head_write(struct text *text, const struct exchange *exchange, const struct head *head)
{
    text_add(text, "HTTP/1.1 ");
    text_add_count(text, (unsigned long)head->status);
    text_join(text, " ", reason(head->status), "\r\n");
    add_date(text);
    if (head->content_type != NULL) {
        add_field(text, "Content-Type", head->content_type);
        add_framing(text, head);
    }
    if (exchange->tls && exchange->settings->tls_hsts_s > 0) {
        text_format(text, "Strict-Transport-Security: max-age=%ld\r\n", exchange->settings->tls_hsts_s); /* RFC 6797 */
    }
    add_policy(text, head);
    add_field(text, "Cache-Control", cache_control(head->cache));
    if (head->location != NULL) {
        add_field(text, "Content-Location", head->location);
    }
    if (head->etag[0] != '\0') {
        add_field(text, "ETag", head->etag);
    }
    if (exchange->cors) {
        const bool by_origin = strcmp(exchange->settings->cors_origins, "*") != 0;
        text_add(text, by_origin ? "Vary: Accept, Origin\r\n" : "Vary: Accept\r\n");
        add_cors(text, exchange);
    }
    if (exchange->allow != NULL) {
        add_field(text, "Allow", exchange->allow);
    }
    if (exchange->challenge != NULL) {
        add_field(text, "WWW-Authenticate", exchange->challenge);
    }
    if (exchange->link != NULL) {
        add_field(text, "Link", exchange->link);
    }
    if (head->status == 503) {
        text_add(text, "Retry-After: 2\r\n");
    }
    if (exchange->calculation_us >= 0) {
        text_format(text, "Server-Timing: calc;dur=%lld.%03lld\r\n", (long long)(exchange->calculation_us / 1000),
                    (long long)(exchange->calculation_us % 1000));
    }
    add_connection(text, exchange);
    text_add(text, "\r\n");
}

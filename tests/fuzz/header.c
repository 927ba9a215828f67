/*
 * Parts of a request's head, each read without a connection: Accept,
 * Content-Type, If-None-Match, traceparent, Origin, and method and path. The
 * whole input is put to each; for the path it is "METHOD PATH".
 */

#include "fuzz/harness.h"

#include <string.h>

#include "http/accept.h"
#include "http/etag.h"
#include "http/head.h"
#include "http/route.h"
#include "http/trace_context.h"

static void
hold_accept(const char *text)
{
    for (unsigned offered = 1; offered < 1u << ANSWER_FORMATS; offered++) {
        enum answer_format format = ANSWER_FORMATS;
        if (accept_choose(text, offered, &format)) {
            HOLDS(format < ANSWER_FORMATS && (offered & ACCEPT_BIT(format)) != 0, "%s: a form that is not offered", text);
        }
    }
    (void)accept_is_json(text);
}

static void
hold_etag(const char *text, size_t size)
{
    char etag[ETAG_SIZE], both[ETAG_SIZE + 8];
    etag_of(text, size, etag);
    const size_t length = strlen(etag);
    HOLDS(length > 2 && etag[0] == '"' && etag[length - 1] == '"' && strcspn(etag + 1, "\"") == length - 2, "%s", etag);
    (void)etag_is_named(text, etag);
    snprintf(both, sizeof both, "W/%s", etag);
    HOLDS(etag_is_named(etag, etag) && etag_is_named(both, etag) && etag_is_named("*", etag), "%s is not named", etag);
}

static void
hold_trace(const char *text)
{
    char id[TRACE_ID_SIZE];
    if (trace_context_id(text, id)) {
        HOLDS(strlen(id) == 32 && strspn(id, "0123456789abcdef") == 32 && strspn(id, "0") < 32, "%s from %s", id, text);
    } else {
        HOLDS(id[0] == '\0', "an id from what is refused");
    }
}

static void
hold_origin(const char *text)
{
    size_t length = 0;
    const char *allowed = head_allowed_origin("https://a.example,https://b.example:8443", text, &length);
    HOLDS(allowed == NULL || (strlen(text) == length && strncmp(allowed, text, length) == 0), "%s is not on the list", text);
    (void)head_allowed_origin(text, "https://a.example", &length);
}

static void
hold_route(char *text)
{
    char *blank = strchr(text, ' ');
    struct route_match match;
    if (blank == NULL) {
        return;
    }
    *blank = '\0';
    for (int admin = 0; admin <= 1; admin++) {
        route_find(text, blank + 1, admin != 0, &match);
        HOLDS(match.route == NULL || match.path != NULL, "a route without a path");
        HOLDS(strlen(match.id) < ROUTE_ID_SIZE && strlen(match.allow) < ROUTE_ALLOW_SIZE, "too long");
        HOLDS(match.path == NULL || match.allow[0] != '\0', "a path that takes no method");
    }
    *blank = ' ';
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = copy_text(data, size);
    hold_accept(text);
    hold_etag(text, size);
    hold_trace(text);
    hold_origin(text);
    hold_route(text);
    free(text);
    return 0;
}

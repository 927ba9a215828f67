#include "http/route.h"

#include <string.h>

#include <civetweb.h>

#include "base/text.h"
#include "http/exchange.h"
#include "http/handle.h"

enum method { METHOD_GET, METHOD_POST };
enum audience { AUDIENCE_PUBLIC, AUDIENCE_ADMIN };

struct route {
    enum method method;
    const char *path;
    void (*handle)(struct exchange *exchange, const struct route_match *match);
    enum audience audience;
    const char *word;
};

static const struct route table[] = {
#define ROUTE(method, path, handler, audience, word)                                                                   \
    {METHOD_##method, path, handle_##handler, AUDIENCE_##audience, word},
#include "http/route.def"
};

const char *
route_path(size_t row)
{
    return table[row].path;
}

/* Compare a path with a row; the segment at {id} goes to `id`. */
static bool
path_matches(const char *pattern, const char *path, char id[ROUTE_ID_SIZE])
{
    static const char mark[] = "{id}";
    const char *place = strstr(pattern, mark);
    id[0] = '\0';
    if (place == NULL) {
        return strcmp(pattern, path) == 0;
    }
    const size_t head = (size_t)(place - pattern);
    if (strncmp(pattern, path, head) != 0 || strcmp(place, mark) != 0) {
        return false;
    }
    const char *segment = path + head;
    return segment[0] != '\0' && strchr(segment, '/') == NULL && text_copy(id, ROUTE_ID_SIZE, segment);
}

static bool
method_matches(enum method method, const char *word)
{
    switch (method) {
    case METHOD_GET:
        return strcmp(word, "GET") == 0 || strcmp(word, "HEAD") == 0;
    case METHOD_POST:
        return strcmp(word, "POST") == 0;
    }
    return false;
}

void
route_find(const char *method, const char *path, bool admin_only, struct route_match *match)
{
    struct text allow;
    char id[ROUTE_ID_SIZE];
    *match = (struct route_match){.row = ROUTE_OTHER, .word = ""};
    text_init(&allow, match->allow, sizeof match->allow);
    for (size_t i = 0; i < ROUTE_OTHER; ++i) {
        const struct route *route = &table[i];
        if ((admin_only && route->audience != AUDIENCE_ADMIN) || !path_matches(route->path, path, id)) {
            continue;
        }
        text_add(&allow, route->method == METHOD_GET ? "GET, HEAD, " : "POST, ");
        match->path = route->path;
        match->row = match->row < i ? match->row : i;
        match->admin = route->audience == AUDIENCE_ADMIN;
        if (method_matches(route->method, method)) {
            match->route = route;
            match->word = route->word;
            text_copy(match->id, sizeof match->id, id);
        }
    }
    text_add(&allow, "OPTIONS");
}

void
route_print(FILE *out)
{
    fputs("{\"routes\":[", out);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; ++i) {
        fprintf(out, "%s\n{\"method\":\"%s\",\"path\":\"%s\",\"admin\":%s}", i > 0 ? "," : "",
                table[i].method == METHOD_GET ? "GET" : "POST", table[i].path,
                table[i].audience == AUDIENCE_ADMIN ? "true" : "false");
    }
    fputs("\n]}\n", out);
}

/* A path that CivetWeb cleans up (dot segments, //, \) or that would have to be
 * decoded is none of ours, and somebody else may read it as another one. */
static bool
path_is_plain(const struct mg_request_info *request)
{
    return strpbrk(request->local_uri_raw, "%\\;#") == NULL && strcmp(request->local_uri_raw, request->local_uri) == 0;
}

void
route_serve(struct exchange *exchange)
{
    const struct mg_request_info *request = exchange->request;
    struct route_match match;
    route_find(request->request_method, request->local_uri_raw, exchange->admin, &match);
    exchange->cors = !match.admin && !exchange->admin;
    if (match.path == NULL || !path_is_plain(request)) {
        exchange_take_form(exchange);
        exchange_refuse(exchange, PROBLEM_not_found, NULL);
        return;
    }
    exchange->route = match.path;
    exchange->row = match.row;
    if (strcmp(request->request_method, "OPTIONS") == 0) {
        exchange->allow = match.allow;
        exchange_send_empty(exchange, 204);
        return;
    }
    if (match.route == NULL) {
        exchange->allow = match.allow;
        exchange_refuse(exchange, PROBLEM_method_not_allowed, NULL);
        return;
    }
    match.route->handle(exchange, &match);
}

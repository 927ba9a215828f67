#ifndef SMALLEND_HTTP_ROUTE_H
#define SMALLEND_HTTP_ROUTE_H

/* From method and path to a handler: see route.def. */

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct exchange;
struct route;

enum { ROUTE_ID_SIZE = 64, ROUTE_ALLOW_SIZE = 32 };

/* How many rows route.def has; as the index of a row, a path that is in none. */
enum {
    ROUTE_OTHER = 0
#define ROUTE(method, path, handler, listener, word) +1
#include "http/route.def"
};

/* The path of a row (0..ROUTE_OTHER-1). */
const char *route_path(size_t row);

struct route_match {
    const struct route *route;    /* NULL = the path does not take this method */
    const char *path;             /* as in route.def; NULL = there is no such path */
    size_t row;                   /* the first that has the path; ROUTE_OTHER = none */
    const char *word;             /* what route.def gives the handler */
    bool admin;                   /* it is a probe */
    char id[ROUTE_ID_SIZE];       /* "" = the path has none */
    char allow[ROUTE_ALLOW_SIZE]; /* methods the path takes: "GET, HEAD, OPTIONS" */
};

/*
 * Look up a path as it stands in the request line, without its query.
 * admin_only: what the admin listener answers.
 */
void route_find(const char *method, const char *path, bool admin_only, struct route_match *match);

/* Every route as JSON: method, path, and whether the admin listener answers it. */
void route_print(FILE *out);

/* Answer the exchange: by its handler, or 204 to OPTIONS, 404, 405. */
void route_serve(struct exchange *exchange);

#endif

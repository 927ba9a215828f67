#ifndef SMALLEND_HTTP_ROUTE_H
#define SMALLEND_HTTP_ROUTE_H

/* From method and path to a handler: see route.def. */

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct exchange;
struct route;

enum { ROUTE_ID_SIZE = 64, ROUTE_ALLOW_SIZE = 32 };

struct route_match {
    const struct route *route;    /* NULL = the path does not take this method */
    const char *path;             /* as in route.def; NULL = there is no such path */
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

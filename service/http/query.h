#ifndef SMALLEND_HTTP_QUERY_H
#define SMALLEND_HTTP_QUERY_H

/* The part of an address behind the question mark: name=value&name=value. */

#include <stdbool.h>

enum { QUERY_NAME_SIZE = 64, QUERY_VALUE_SIZE = 128 };

struct query_pair {
    char name[QUERY_NAME_SIZE]; /* decoded: %41 is A, + a blank */
    char value[QUERY_VALUE_SIZE];
};

enum query_outcome { QUERY_PAIR, QUERY_END, QUERY_MALFORMED };

/*
 * Take the next pair from *at (a query string, or NULL for none) and move *at
 * behind it. QUERY_MALFORMED: a wrong percent code, a NUL, or a name or value
 * too long for its place; pair->name then holds what could be read of it.
 */
enum query_outcome query_next(const char **at, struct query_pair *pair);

#endif

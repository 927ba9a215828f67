#ifndef SMALLEND_WIRE_QUERY_H
#define SMALLEND_WIRE_QUERY_H

/* The part of an address behind the question mark: name=value&name=value. */

#include <stdbool.h>
#include <stddef.h>

struct query_pair {
    const char *name; /* decoded: %41 is A, + a blank; of the query's own text */
    const char *value;
    bool taken; /* somebody has read it: it is no member of the job */
};

struct query {
    char *text; /* owned, as is the next; NULL where there are no pairs */
    struct query_pair *pair;
    size_t count;
};

enum query_outcome { QUERY_READ, QUERY_MALFORMED, QUERY_NO_MEMORY };

/*
 * Read a query string (NULL for none) into *query. QUERY_MALFORMED: a wrong
 * percent code or a NUL; query->pair[query->count] then holds what could be
 * read of the pair. Whatever the outcome, query_close it.
 */
enum query_outcome query_open(struct query *query, const char *string) __attribute__((warn_unused_result));

void query_close(struct query *query);

#endif

#ifndef SMALLEND_WIRE_LINK_WRITE_H
#define SMALLEND_WIRE_LINK_WRITE_H

/*
 * The link that asks for the same answer by GET: what query_read reads, the
 * members in the order in which they came.
 */

#include <stdbool.h>

#include <jansson.h>

#include "wire/buffer.h"

/* A longer link is not given: RFC 9110 section 4.1 asks everyone to take 8,000
 * octets, and not more. */
enum { LINK_MAX = 8000 };

/*
 * Write `path` and the query that spells the document `root` into `out`.
 * Members by name; where the document holds what no query can spell so (an
 * empty list, an empty text), the whole of it as job=. False, and `out` to be
 * cleared by the caller, where it would be longer than LINK_MAX or memory ran
 * out.
 */
bool link_write(struct buffer *out, const char *path, json_t *root);

/* One more parameter, "format=md", behind what link_write wrote. */
void link_add(struct buffer *out, const char *parameter);

#endif

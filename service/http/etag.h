#ifndef SMALLEND_HTTP_ETAG_H
#define SMALLEND_HTTP_ETAG_H

/* Strong validators: RFC 9110 section 8.8.3. */

#include <stdbool.h>
#include <stddef.h>

enum { ETAG_SIZE = 40 };

/* The tag of `length` bytes of a body, quotes included, from their SHA-256. */
void etag_of(const char *body, size_t length, char etag[ETAG_SIZE]);

/* True if an If-None-Match header names `etag`, or "*". */
bool etag_is_named(const char *header, const char *etag);

#endif

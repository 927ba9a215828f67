#ifndef SMALLEND_HTTP_HEAD_H
#define SMALLEND_HTTP_HEAD_H

/* The head of an answer: status line and headers, the blank line included. */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "http/exchange.h"

/* Room for the longest link and the rest. */
enum { HEAD_SIZE = 12288 };

/* How the end of the body shows: RFC 9112 section 6.3. */
enum framing { FRAMING_LENGTH, FRAMING_CHUNKED, FRAMING_CLOSE };

/* content_type NULL = no body and nothing said of one; location NULL = none;
 * etag "" = none. */
struct head {
    int status;
    const char *content_type;
    enum framing framing;
    size_t content_length;
    const char *location; /* for Content-Location */
    enum cache cache;
    const char *etag;
};

/* Write it into `text`, whose buffer must have HEAD_SIZE bytes. */
void head_write(struct text *text, const struct exchange *exchange, const struct head *head);

/*
 * The origin among `origins` (the setting: "*", or a list) that a page of
 * `origin` may be told, as text of *length bytes; NULL if none. `origin` NULL:
 * the client is no web page, or does not say.
 */
const char *head_allowed_origin(const char *origins, const char *origin, size_t *length);

#endif

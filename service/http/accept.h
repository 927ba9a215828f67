#ifndef SMALLEND_HTTP_ACCEPT_H
#define SMALLEND_HTTP_ACCEPT_H

/* Which form of answer the client prefers: RFC 9110 section 12.5.1. */

#include <stdbool.h>

#include "wire/reply.h"

/* A set of forms, one bit each. */
#define ACCEPT_BIT(format) (1u << (format))

/*
 * Choose among the forms in `offered` by an Accept header (NULL or blank: any).
 * Of equal quality the one that was named more exactly wins, then the one named
 * first, then the one that stands first in enum answer_format. What cannot be read in the
 * header is skipped; nothing readable counts as no header. False if the client
 * accepts none of them.
 */
bool accept_choose(const char *header, unsigned offered, enum answer_format *format);

/* True if a Content-Type stands for JSON: application/json, or a type that is
 * built on it (application/...+json); parameters do not matter. */
bool accept_is_json(const char *content_type);

/* True if it stands for a compact JWS: application/jose. */
bool accept_is_jose(const char *content_type);

#endif

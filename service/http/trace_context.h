#ifndef SMALLEND_HTTP_TRACE_CONTEXT_H
#define SMALLEND_HTTP_TRACE_CONTEXT_H

/* The trace that a request belongs to: W3C Trace Context, header traceparent. */

#include <stdbool.h>

enum { TRACE_ID_SIZE = 33 };

/* Copy the trace id out of a traceparent header. False, and an empty id, if the
 * header is not valid; such a header is to be ignored. */
bool trace_context_id(const char *traceparent, char id[TRACE_ID_SIZE]);

#endif

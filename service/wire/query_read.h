#ifndef SMALLEND_WIRE_QUERY_READ_H
#define SMALLEND_WIRE_QUERY_READ_H

/*
 * The job document that the pairs of a link spell: engine.bore=5.25in stands
 * for {"engine": {"bore": "5.25in"}}, inspection.readings.0.size=1.3745 for an
 * entry of a list; or job= holds the whole document as base64url. What comes
 * out is read like the body of a POST, by the same code.
 */

#include "wire/json_text.h"
#include "wire/query.h"

/* Names may be this deep: inspection.readings.0.size has four parts. */
enum { QUERY_PARTS_MAX = 6 };

/*
 * A new reference, or NULL and *fault (bad_request, duplicate_member,
 * unavailable, and what json_text_read gives for job=). Pairs marked as taken
 * are passed over. An empty value stands for null, as a form sends a field that
 * was left empty; entries at the end of a list that hold nothing else are
 * dropped.
 */
json_t *query_read(const struct query *query, struct json_text_fault *fault);

/* True where the document stands in job=, so that its faults have pointers. */
bool query_holds_document(const struct query *query);

#endif

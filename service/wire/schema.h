#ifndef SMALLEND_WIRE_SCHEMA_H
#define SMALLEND_WIRE_SCHEMA_H

/*
 * The wire form as JSON Schema (2020-12), printed from the tables that the
 * readers and writers go by, so that the published contract cannot drift from
 * the program. Each schema is a document of its own; its parts stand under
 * "$defs", which api/assemble.py moves to the components of api/openapi.json.
 *
 * Requests are closed: a member that is not named here is refused. Answers are
 * open: later versions may add members, and words where a schema says so.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/buffer.h"

/* Names of the schemas, "job" first; NULL past the last. */
const char *schema_name(size_t index);

/* Write the schema of that name into `out`; false, and nothing written, if
 * there is none. A description that does not fit makes out->failed. */
bool schema_write(struct buffer *out, const char *name);

/* The calls with their paths, summaries, the sections they answer and the forms
 * an answer takes. */
void schema_write_calls(struct buffer *out);

#endif

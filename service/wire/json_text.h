#ifndef SMALLEND_WIRE_JSON_TEXT_H
#define SMALLEND_WIRE_JSON_TEXT_H

/* From the bytes of a body to a JSON value, or to the reason why not. */

#include <stdbool.h>
#include <stddef.h>

#include <jansson.h>

#include "base/fault.h"
#include "wire/problem.h"

/* Objects and lists may be nested this deep. */
enum { JSON_TEXT_DEPTH_MAX = 32 };

struct json_text_fault {
    enum problem problem;         /* not_json, duplicate_member, too_deep, unavailable */
    char detail[FAULT_TEXT_SIZE]; /* a plain sentence, with line and column where they help */
};

/*
 * Read `length` bytes as one JSON value of any type: strict UTF-8, no member
 * twice in an object, no NUL in a string, nested at most JSON_TEXT_DEPTH_MAX
 * deep, every number finite; a byte order mark before it is passed over. A new
 * reference (json_decref it), or NULL and *fault.
 */
json_t *json_text_read(const char *text, size_t length, struct json_text_fault *fault);

#endif

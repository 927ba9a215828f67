#ifndef SMALLEND_WIRE_JSON_OUTLINE_H
#define SMALLEND_WIRE_JSON_OUTLINE_H

/*
 * Where the parts of a JSON text begin and end, found without building a tree,
 * which takes ten times the memory of the text. Brackets, commas, colons, names
 * and the ends of texts must stand as RFC 8259 has them, so that it is certain
 * how many entries a list has. Whether a word or a number is one, and what
 * stands between quotes, is left to json_text_read on the part that is wanted.
 * Nothing is allocated and nothing recurses.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/json_text.h"

/* Objects and lists may be nested this deep: room for a job and what is around it. */
enum { JSON_OUTLINE_DEPTH_MAX = 64 };

/* One part of a text; borrowed. */
struct json_part {
    const char *at;
    size_t length;
};

/*
 * Find the one value in `length` bytes, blanks and a byte order mark around it
 * left out. False, and *fault (not_json, too_deep), where the outline is not
 * sound.
 */
bool json_outline_read(const char *text, size_t length, struct json_part *value, struct json_text_fault *fault);

/* The first byte tells what a value is. */
bool json_part_is_object(const struct json_part *value);
bool json_part_is_list(const struct json_part *value);

/* Goes through the entries of a list or the members of an object. */
struct json_walk {
    const char *at;
    bool members;
};

/* Start; `value` is a list or an object of a text whose outline was read. */
void json_walk_begin(struct json_walk *walk, const struct json_part *value);

/* The next entry, or member with its name (in quotes, as it was written; NULL
 * for a list); false at the end. */
bool json_walk_next(struct json_walk *walk, struct json_part *name, struct json_part *value);

#endif

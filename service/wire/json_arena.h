#ifndef SMALLEND_WIRE_JSON_ARENA_H
#define SMALLEND_WIRE_JSON_ARENA_H

/*
 * Memory for the tree of one document. jansson takes a block for each name,
 * value and entry of a table, and gives each back: a fifth of the time that
 * reading a job takes. Between json_arena_begin and json_arena_end what the
 * thread's jansson asks for is cut from one piece, and given back as a whole;
 * what does not fit comes from malloc as before.
 */

#include <stdalign.h>
#include <stdbool.h>
#include <stddef.h>

#include <jansson.h>

enum { JSON_ARENA_SIZE = 24 * 1024 }; /* the tree of a job with everything in it */

struct json_arena {
    size_t used;   /* bytes of the block */
    bool overflow; /* something came from malloc */
    alignas(max_align_t) unsigned char block[JSON_ARENA_SIZE];
};

/* Let jansson take its memory so; once, before it is used and before there are
 * threads. Without it the other two do no harm. */
void json_arena_install(void);

/* From here on the calling thread's jansson takes from *arena, which stays
 * where it is until its end. Two do not nest. */
void json_arena_begin(struct json_arena *arena);

/*
 * Give back `root` (NULL = none) and all that was cut from the arena. Of what
 * jansson made since the beginning nothing else may still be in use; nothing
 * that was made before, or on another thread, may have been given back.
 */
void json_arena_end(struct json_arena *arena, json_t *root);

#endif

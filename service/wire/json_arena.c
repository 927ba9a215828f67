#include "wire/json_arena.h"

#include <stdint.h>
#include <stdlib.h>

/* jansson's functions for memory are told nothing but the size: which arena is
 * meant can only be known by the thread. NULL = none. */
static _Thread_local struct json_arena *current;

static void *
allocate(size_t size)
{
    struct json_arena *arena = current;
    if (arena == NULL) {
        return malloc(size);
    }
    const size_t rounded = (size + alignof(max_align_t) - 1) / alignof(max_align_t) * alignof(max_align_t);
    if (size > JSON_ARENA_SIZE || rounded > JSON_ARENA_SIZE - arena->used) {
        arena->overflow = true;
        return malloc(size);
    }
    void *block = arena->block + arena->used;
    arena->used += rounded;
    return block;
}

static void
release(void *block)
{
    const struct json_arena *arena = current;
    if (arena == NULL || (uintptr_t)block - (uintptr_t)arena->block >= JSON_ARENA_SIZE) {
        free(block);
    }
}

void
json_arena_install(void)
{
    json_set_alloc_funcs(allocate, release);
}

void
json_arena_begin(struct json_arena *arena)
{
    arena->used = 0;
    arena->overflow = false;
    current = arena;
}

void
json_arena_end(struct json_arena *arena, json_t *root)
{
    const bool all_inside = arena->used > 0 && !arena->overflow;
    if (!all_inside) {
        json_decref(root);
    }
    current = NULL;
}

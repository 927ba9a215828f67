#ifndef SMALLEND_WIRE_BUFFER_H
#define SMALLEND_WIRE_BUFFER_H

/*
 * A growing buffer for one reply. Failure to get memory is remembered, later
 * appends do nothing, and the caller asks once, at the end.
 */

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

struct buffer {
    char *at; /* owned; NUL-terminated once anything was appended; NULL before */
    size_t length;
    size_t capacity;
    bool failed; /* memory ran out: the content is not whole */
};

void buffer_init(struct buffer *buffer);

/* What buffer_reserve does where there is no room left. */
bool buffer_grow(struct buffer *buffer, size_t more);

/* These are in line, for an answer is put together of thousands of pieces. */

/* Room for `more` bytes and a NUL; false if memory ran out. */
static inline bool
buffer_reserve(struct buffer *buffer, size_t more)
{
    return !buffer->failed && (more < buffer->capacity - buffer->length || buffer_grow(buffer, more));
}

static inline void
buffer_add_bytes(struct buffer *buffer, const char *bytes, size_t length)
{
    if (!buffer_reserve(buffer, length)) {
        return;
    }
    memcpy(buffer->at + buffer->length, bytes, length);
    buffer->length += length;
    buffer->at[buffer->length] = '\0';
}

static inline void
buffer_add(struct buffer *buffer, const char *string)
{
    buffer_add_bytes(buffer, string, strlen(string));
}

/* Append strings one behind the other: buffer_join(out, "- ", name, ": "). */
#define buffer_join(buffer, ...) buffer_add_each((buffer), (const char *const[]){__VA_ARGS__, NULL})
void buffer_add_each(struct buffer *buffer, const char *const *strings);

void buffer_format(struct buffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Forget the content but keep the memory for what comes next; a failure stays. */
void buffer_empty(struct buffer *buffer);

/* Free what the buffer owns; it is then as after buffer_init. */
void buffer_clear(struct buffer *buffer);

#endif

#include "wire/buffer.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

/* Answers of single calls fit; a whole check is about 35 kB. */
enum { FIRST_CAPACITY = 8192 };

void
buffer_init(struct buffer *buffer)
{
    *buffer = (struct buffer){NULL, 0, 0, false};
}

bool
buffer_grow(struct buffer *buffer, size_t more)
{
    size_t capacity = buffer->capacity > 0 ? buffer->capacity : FIRST_CAPACITY;
    while (capacity - buffer->length <= more) {
        if (capacity > (size_t)-1 / 2) {
            buffer->failed = true;
            return false;
        }
        capacity *= 2;
    }
    char *at = realloc(buffer->at, capacity);
    if (at == NULL) {
        buffer->failed = true;
        return false;
    }
    buffer->at = at;
    buffer->capacity = capacity;
    return true;
}

void
buffer_add_each(struct buffer *buffer, const char *const *strings)
{
    for (; *strings != NULL; strings++) {
        buffer_add(buffer, *strings);
    }
}

void
buffer_format(struct buffer *buffer, const char *format, ...)
{
    char small[512];
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(small, sizeof small, format, arguments);
    va_end(arguments);
    if (length < 0) {
        buffer->failed = true;
        return;
    }
    if ((size_t)length < sizeof small) {
        buffer_add_bytes(buffer, small, (size_t)length);
        return;
    }
    if (!buffer_reserve(buffer, (size_t)length)) {
        return;
    }
    va_start(arguments, format);
    vsnprintf(buffer->at + buffer->length, (size_t)length + 1, format, arguments);
    va_end(arguments);
    buffer->length += (size_t)length;
}

void
buffer_empty(struct buffer *buffer)
{
    buffer->length = 0;
}

void
buffer_clear(struct buffer *buffer)
{
    free(buffer->at);
    buffer_init(buffer);
}

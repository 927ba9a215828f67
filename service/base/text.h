#ifndef SMALLEND_BASE_TEXT_H
#define SMALLEND_BASE_TEXT_H

/*
 * Bounded string building. A `struct text` borrows a caller's buffer and
 * never writes past it; what does not fit is cut and remembered.
 */

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct text {
    char *at;        /* borrowed; always NUL-terminated after text_init */
    size_t capacity; /* bytes in the buffer, the NUL included; at least 1 */
    size_t length;   /* bytes used, the NUL not counted */
    bool cut;        /* something did not fit */
};

/* Start an empty text in `buffer` of `capacity` (>= 1) bytes. */
void text_init(struct text *text, char *buffer, size_t capacity);

/*
 * Append a string, or `length` bytes of one, or a formatted one. The cut falls
 * on a UTF-8 boundary, and nothing is added after it: a text is always the
 * beginning of what was meant.
 */
void text_add(struct text *text, const char *string);
void text_add_bytes(struct text *text, const char *bytes, size_t length);
void text_format(struct text *text, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void text_format_list(struct text *text, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

/* Append strings one behind the other: text_join(&text, name, ": ", value). */
#define text_join(text, ...) text_add_each((text), (const char *const[]){__VA_ARGS__, NULL})
void text_add_each(struct text *text, const char *const *strings);

/* Take back what was added behind the first `length` bytes, a cut included. */
void text_shorten(struct text *text, size_t length);

/* Append a whole number. */
void text_add_count(struct text *text, unsigned long count);

/* Append a number with so many decimals (0 to 9), as "%.*f" writes it. */
void text_add_fixed(struct text *text, double value, int decimals);

/* Append a finite number in as few digits as it takes to read it back unchanged. */
void text_add_exact(struct text *text, double value);

/* Copy `string` into `buffer`, cutting at a UTF-8 boundary. True if whole. */
bool text_copy(char *buffer, size_t capacity, const char *string);

/*
 * Decode the UTF-8 character at the start of `bytes`. Returns how many bytes it
 * takes and sets `code`, or 0 if `length` is 0 or the bytes are not UTF-8.
 */
size_t text_character(const char *bytes, size_t length, uint32_t *code);

/*
 * True of characters that would break a line or turn the direction of the text
 * around them: C0 and C1 controls, line and paragraph separators, the
 * bidirectional embeddings, overrides and isolates of Unicode.
 */
bool text_is_control(uint32_t code);

/* True if both are equal, upper and lower case of ASCII letters alike. */
bool text_same_ignoring_case(const char *a, const char *b);

/*
 * Number of single-character edits (insert, delete, replace, swap of two
 * neighbours) that turn `a` into `b`; strings are read up to 63 characters.
 */
unsigned text_edit_distance(const char *a, const char *b);

#endif

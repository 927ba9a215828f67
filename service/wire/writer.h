#ifndef SMALLEND_WIRE_WRITER_H
#define SMALLEND_WIRE_WRITER_H

/*
 * JSON, written straight into a buffer: no tree is built, nothing but the
 * buffer is allocated. The writer keeps the commas; the caller opens and
 * closes in pairs. `key` is NULL for an entry of a list.
 */

#include "quantity/unit.h"
#include "wire/buffer.h"

struct writer {
    struct buffer *out; /* borrowed */
    bool comma;         /* something stands before the next value */
    bool defect;        /* a number that is not finite came: the text must not be sent */
};

void writer_init(struct writer *writer, struct buffer *out);

void writer_object(struct writer *writer, const char *key);
void writer_object_end(struct writer *writer);
void writer_list(struct writer *writer, const char *key);
void writer_list_end(struct writer *writer);

/* Text; what is no valid UTF-8 (a cut character) is written as U+FFFD. */
void writer_text(struct writer *writer, const char *key, const char *text);

/* A word of our tables (an id, a JSON pointer, a unit): printable ASCII without
 * quotation mark or backslash, so that it stands for itself. */
void writer_word(struct writer *writer, const char *key, const char *word);

/* Text, but left out where the text is empty or NULL. */
void writer_text_if(struct writer *writer, const char *key, const char *text);

void writer_flag(struct writer *writer, const char *key, bool value);
void writer_count(struct writer *writer, const char *key, size_t value);

/* A number rounded to the seven significant digits of the contract. */
void writer_number(struct writer *writer, const char *key, double value);

/* A number in as many digits as it takes to read it back unchanged. */
void writer_exact(struct writer *writer, const char *key, double value);

/* `length` bytes that are JSON already: one value. */
void writer_json(struct writer *writer, const char *key, const char *json, size_t length);

/* {"value": v, "unit": u}: of an SI value, or of a value already in `unit`,
 * which is a word. */
void writer_quantity(struct writer *writer, const char *key, double si, enum dimension dimension,
                     enum unit_system system);
void writer_value(struct writer *writer, const char *key, double value, const char *unit);

/* {"min": {...}, "max": {...}} of two SI values. */
void writer_limits(struct writer *writer, const char *key, double low, double high, enum dimension dimension,
                   enum unit_system system);

/* The member "cautions" with those that stand in every answer. */
void writer_cautions_always(struct writer *writer);

#endif

#include "wire/writer.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/digits.h"
#include "base/text.h"
#include "joint/report.h"

/* U+FFFD, for a byte that is no part of a character. */
#define REPLACEMENT_CHARACTER "\xEF\xBF\xBD"

void
writer_init(struct writer *writer, struct buffer *out)
{
    *writer = (struct writer){out, false, false};
}

static void
add_escaped(struct buffer *out, char byte)
{
    if (byte == '"') {
        buffer_add_bytes(out, "\\\"", 2);
    } else if (byte == '\\') {
        buffer_add_bytes(out, "\\\\", 2);
    } else if (byte == '\n') {
        buffer_add_bytes(out, "\\n", 2);
    } else {
        buffer_format(out, "\\u%04x", (unsigned)byte);
    }
}

/* In every byte of a word: is it this byte? Its highest bit then. Bytes above
 * one that is may say so too. */
static uint64_t
bytes_that_are(uint64_t word, uint64_t byte)
{
    const uint64_t ones = UINT64_C(0x0101010101010101);
    const uint64_t other = word ^ (ones * byte);
    return (other - ones) & ~other;
}

enum { WORD = sizeof(uint64_t) };

/* True if the bytes of a word stand for themselves: nearly all of them do. */
static bool
are_plain(const char *bytes)
{
    const uint64_t ones = UINT64_C(0x0101010101010101);
    uint64_t word;
    memcpy(&word, bytes, sizeof word);
    const uint64_t control = (word - ones * ' ') & ~word;
    const uint64_t special = bytes_that_are(word, '"') | bytes_that_are(word, '\\') | bytes_that_are(word, 0x7F);
    return ((word | control | special) & ones * 0x80) == 0;
}

/* Runs of characters that stand for themselves are copied at once. */
static void
add_string(struct buffer *out, const char *text)
{
    buffer_add_bytes(out, "\"", 1);
    const char *const end = text + strlen(text);
    const char *from = text;
    const char *at = text;
    while (at < end) {
        if (end - at >= WORD && are_plain(at)) {
            at += WORD;
            continue;
        }
        if (end - at < WORD && end - text >= WORD && are_plain(end - WORD)) {
            at = end; /* the last few with some before them */
            continue;
        }
        if (*at >= ' ' && *at <= '~' && *at != '"' && *at != '\\') {
            at++;
            continue;
        }
        uint32_t code = 0;
        const size_t length = text_character(at, (size_t)(end - at), &code);
        if (length > 0 && code >= 0x20 && code != '"' && code != '\\') {
            at += length;
            continue;
        }
        buffer_add_bytes(out, from, (size_t)(at - from));
        if (length == 0) {
            buffer_add(out, REPLACEMENT_CHARACTER);
        } else {
            add_escaped(out, *at);
        }
        at++;
        from = at;
    }
    buffer_add_bytes(out, from, (size_t)(at - from));
    buffer_add_bytes(out, "\"", 1);
}

/* Comma and key before a value; keys are ours and stand for themselves. */
static void
begin(struct writer *writer, const char *key)
{
    struct buffer *out = writer->out;
    const size_t length = key != NULL ? strlen(key) : 0;
    const bool comma = writer->comma;
    writer->comma = true;
    if (!buffer_reserve(out, length + 4)) {
        return;
    }
    char *at = out->at + out->length;
    if (comma) {
        *at++ = ',';
    }
    if (key != NULL) {
        *at++ = '"';
        memcpy(at, key, length);
        at += length;
        *at++ = '"';
        *at++ = ':';
    }
    *at = '\0';
    out->length = (size_t)(at - out->at);
}

void
writer_object(struct writer *writer, const char *key)
{
    begin(writer, key);
    buffer_add_bytes(writer->out, "{", 1);
    writer->comma = false;
}

void
writer_object_end(struct writer *writer)
{
    buffer_add_bytes(writer->out, "}", 1);
    writer->comma = true;
}

void
writer_list(struct writer *writer, const char *key)
{
    begin(writer, key);
    buffer_add_bytes(writer->out, "[", 1);
    writer->comma = false;
}

void
writer_list_end(struct writer *writer)
{
    buffer_add_bytes(writer->out, "]", 1);
    writer->comma = true;
}

void
writer_text(struct writer *writer, const char *key, const char *text)
{
    begin(writer, key);
    add_string(writer->out, text);
}

void
writer_text_if(struct writer *writer, const char *key, const char *text)
{
    if (text != NULL && text[0] != '\0') {
        writer_text(writer, key, text);
    }
}

void
writer_flag(struct writer *writer, const char *key, bool value)
{
    begin(writer, key);
    buffer_add(writer->out, value ? "true" : "false");
}

void
writer_count(struct writer *writer, const char *key, size_t value)
{
    begin(writer, key);
    buffer_format(writer->out, "%zu", value);
}

static void
add_defect(struct writer *writer, const char *key)
{
    begin(writer, key);
    writer->defect = true;
    buffer_add(writer->out, "null");
}

void
writer_number(struct writer *writer, const char *key, double value)
{
    char number[DIGITS_SIZE];
    if (!isfinite(value)) {
        add_defect(writer, key);
        return;
    }
    begin(writer, key);
    /* Adding zero turns a negative zero into a plain one. */
    buffer_add_bytes(writer->out, number, digits_write(number, value + 0.0));
}

void
writer_exact(struct writer *writer, const char *key, double value)
{
    char number_text[40];
    struct text text;
    if (!isfinite(value)) {
        add_defect(writer, key);
        return;
    }
    text_init(&text, number_text, sizeof number_text);
    text_add_exact(&text, value);
    begin(writer, key);
    buffer_add(writer->out, number_text);
}

void
writer_json(struct writer *writer, const char *key, const char *json, size_t length)
{
    begin(writer, key);
    buffer_add_bytes(writer->out, json, length);
}

void
writer_value(struct writer *writer, const char *key, double value, const char *unit)
{
    writer_object(writer, key);
    writer_number(writer, "value", value);
    writer_text(writer, "unit", unit);
    writer_object_end(writer);
}

void
writer_quantity(struct writer *writer, const char *key, double si, enum dimension dimension, enum unit_system system)
{
    const struct unit *unit = unit_of(dimension, system);
    writer_value(writer, key, unit_from_si(unit, si), unit->symbol);
}

void
writer_limits(struct writer *writer, const char *key, double low, double high, enum dimension dimension,
              enum unit_system system)
{
    writer_object(writer, key);
    writer_quantity(writer, "min", low, dimension, system);
    writer_quantity(writer, "max", high, dimension, system);
    writer_object_end(writer);
}

void
writer_cautions_always(struct writer *writer)
{
    size_t count = 0;
    const char *const *caution = caution_always(&count);
    writer_list(writer, "cautions");
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, caution[i]);
    }
    writer_list_end(writer);
}

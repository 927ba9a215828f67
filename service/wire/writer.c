#include "wire/writer.h"

#include <math.h>
#include <stdint.h>
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

/* Characters looked at in one step. */
enum { STEP = 16 };

/*
 * True if all characters of a text stand for themselves: nearly all texts are
 * such. It is read to the end of its last step. Kept in this form, without a
 * way out halfway, for compilers to make each step of a few instructions.
 */
static bool
is_plain(const char *text, size_t length)
{
    unsigned char special[STEP] = {0};
    uint64_t half[2];
    for (size_t i = 0; i < length; i += STEP) {
        for (size_t k = 0; k < STEP; k++) {
            const unsigned char byte = (unsigned char)text[i + k];
            special[k] |= (byte < ' ') | (byte > '~') | (byte == '"') | (byte == '\\');
        }
    }
    memcpy(half, special, sizeof half);
    return (half[0] | half[1]) == 0;
}

/* Runs of characters that stand for themselves are copied at once. */
static void
add_special(struct buffer *out, const char *text, size_t length)
{
    const char *const end = text + length;
    const char *from = text;
    const char *at = text;
    while (at < end) {
        uint32_t code = 0;
        const size_t taken = text_character(at, (size_t)(end - at), &code);
        if (taken > 0 && code >= 0x20 && code != '"' && code != '\\') {
            at += taken;
            continue;
        }
        buffer_add_bytes(out, from, (size_t)(at - from));
        if (taken == 0) {
            buffer_add(out, REPLACEMENT_CHARACTER);
        } else {
            add_escaped(out, *at);
        }
        at++;
        from = at;
    }
    buffer_add_bytes(out, from, (size_t)(at - from));
}

static char *
add(char *at, const char *bytes, size_t length)
{
    memcpy(at, bytes, length);
    return at + length;
}

/* The text is copied first and looked at where it then stands: there a last
 * step may go beyond its end. */
static void
add_string(struct buffer *out, const char *text)
{
    const size_t length = strlen(text);
    if (!buffer_reserve(out, length + STEP + 2)) {
        return;
    }
    char *const at = out->at + out->length;
    at[0] = '"';
    memset(add(at + 1, text, length), ' ', STEP);
    out->length++;
    if (is_plain(at + 1, length)) {
        out->length += length;
    } else {
        add_special(out, text, length);
    }
    buffer_add_bytes(out, "\"", 1);
}

/* Comma and key before a value, and room for `more` bytes of it and a NUL: where
 * it goes, or NULL if memory ran out. Keys are ours and stand for themselves. */
static char *
begin(struct writer *writer, const char *key, size_t more)
{
    struct buffer *out = writer->out;
    const size_t length = key != NULL ? strlen(key) : 0;
    const bool comma = writer->comma;
    writer->comma = true;
    if (!buffer_reserve(out, length + 4 + more)) {
        return NULL;
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
    return at;
}

/* `length` bytes were written where begin() said. */
static void
end(struct writer *writer, size_t length)
{
    writer->out->length += length;
    writer->out->at[writer->out->length] = '\0';
}

static char *
add_word(char *at, const char *word, size_t length)
{
    *at++ = '"';
    at = add(at, word, length);
    *at++ = '"';
    return at;
}

static void
open(struct writer *writer, const char *key, char bracket)
{
    char *const at = begin(writer, key, 1);
    if (at != NULL) {
        *at = bracket;
        end(writer, 1);
    }
    writer->comma = false;
}

void
writer_object(struct writer *writer, const char *key)
{
    open(writer, key, '{');
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
    open(writer, key, '[');
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
    begin(writer, key, 0);
    add_string(writer->out, text);
}

void
writer_word(struct writer *writer, const char *key, const char *word)
{
    const size_t length = strlen(word);
    char *const at = begin(writer, key, length + 2);
    if (at != NULL) {
        end(writer, (size_t)(add_word(at, word, length) - at));
    }
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
    begin(writer, key, 0);
    buffer_add(writer->out, value ? "true" : "false");
}

void
writer_count(struct writer *writer, const char *key, size_t value)
{
    begin(writer, key, 0);
    buffer_format(writer->out, "%zu", value);
}

static void
add_defect(struct writer *writer, const char *key)
{
    begin(writer, key, 0);
    writer->defect = true;
    buffer_add(writer->out, "null");
}

void
writer_number(struct writer *writer, const char *key, double value)
{
    if (!isfinite(value)) {
        add_defect(writer, key);
        return;
    }
    char *const at = begin(writer, key, DIGITS_SIZE);
    if (at != NULL) {
        /* Adding zero turns a negative zero into a plain one. */
        end(writer, digits_write(at, value + 0.0));
    }
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
    begin(writer, key, 0);
    buffer_add(writer->out, number_text);
}

void
writer_json(struct writer *writer, const char *key, const char *json, size_t length)
{
    begin(writer, key, 0);
    buffer_add_bytes(writer->out, json, length);
}

void
writer_value(struct writer *writer, const char *key, double value, const char *unit)
{
    static const char first[] = "{\"value\":", second[] = ",\"unit\":";
    const size_t length = strlen(unit);
    if (!isfinite(value)) {
        add_defect(writer, key);
        return;
    }
    char *const from = begin(writer, key, sizeof first + DIGITS_SIZE + sizeof second + length + 3);
    if (from != NULL) {
        char *at = add(from, first, sizeof first - 1);
        at += digits_write(at, value + 0.0);
        at = add(at, second, sizeof second - 1);
        at = add_word(at, unit, length);
        *at++ = '}';
        end(writer, (size_t)(at - from));
    }
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

#include "wire/json_outline.h"

#include <stdint.h>
#include <string.h>

#include "base/text.h"

/* What may come next. */
enum want { WANT_VALUE, WANT_VALUE_OR_END, WANT_NAME, WANT_NAME_OR_END, WANT_COLON, WANT_COMMA_OR_END, WANT_NOTHING };

static const char *const expected[] = {
    [WANT_VALUE] = "a value",
    [WANT_VALUE_OR_END] = "a value or ]",
    [WANT_NAME] = "a member's name in quotes",
    [WANT_NAME_OR_END] = "a member's name in quotes or }",
    [WANT_COLON] = "a colon",
    [WANT_COMMA_OR_END] = "a comma or the bracket that closes",
    [WANT_NOTHING] = "nothing more",
};

struct reading {
    const char *at, *end;
    enum want want;
    unsigned depth;
    uint64_t objects;  /* one bit for each level, the innermost lowest: set where it is an object */
    const char *wrong; /* what is wrong at `at`; NULL = nothing so far */
};

/* Marks for `wrong` that explain() puts into words. */
static const char wrong_here[] = "something else was expected";
static const char too_deep[] = "nested too deep";

static bool
is_blank(char byte)
{
    return byte == ' ' || byte == '\n' || byte == '\r' || byte == '\t';
}

/* What numbers and the words true, false and null are made of. */
static bool
is_plain(char byte)
{
    return (byte >= '0' && byte <= '9') || (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
           byte == '-' || byte == '+' || byte == '.';
}

/* Behind the quote that closes the text opened at `at`; NULL where none does,
 * or a control character stands before it. */
static const char *
text_end(const char *at, const char *end)
{
    for (at++; at < end && (unsigned char)*at >= 0x20; at++) {
        if (*at == '"') {
            return at + 1;
        }
        if (*at == '\\') {
            at++;
        }
    }
    return NULL;
}

/* ---- reading once, strictly ---- */

static void
after_value(struct reading *reading)
{
    reading->want = reading->depth > 0 ? WANT_COMMA_OR_END : WANT_NOTHING;
}

static void
open_bracket(struct reading *reading, bool object)
{
    if (reading->depth >= JSON_OUTLINE_DEPTH_MAX) {
        reading->wrong = too_deep;
        return;
    }
    reading->depth++;
    reading->objects = reading->objects << 1 | object;
    reading->want = object ? WANT_NAME_OR_END : WANT_VALUE_OR_END;
    reading->at++;
}

static void
close_bracket(struct reading *reading)
{
    reading->depth--;
    reading->objects >>= 1;
    reading->at++;
    after_value(reading);
}

static void
read_text(struct reading *reading)
{
    const char *behind = text_end(reading->at, reading->end);
    if (behind == NULL) {
        reading->wrong = "this text does not end, or has a line break or another control character in it";
        return;
    }
    reading->at = behind;
}

static void
read_value(struct reading *reading)
{
    const char byte = *reading->at;
    if (byte == '{' || byte == '[') {
        open_bracket(reading, byte == '{');
        return;
    }
    if (byte == ']' && reading->want == WANT_VALUE_OR_END) {
        close_bracket(reading);
        return;
    }
    if (byte == '"') {
        read_text(reading);
    } else if (is_plain(byte)) {
        while (reading->at < reading->end && is_plain(*reading->at)) {
            reading->at++;
        }
    } else {
        reading->wrong = wrong_here;
    }
    if (reading->wrong == NULL) {
        after_value(reading);
    }
}

static void
read_name(struct reading *reading)
{
    if (*reading->at == '}' && reading->want == WANT_NAME_OR_END) {
        close_bracket(reading);
    } else if (*reading->at == '"') {
        read_text(reading);
        reading->want = WANT_COLON;
    } else {
        reading->wrong = wrong_here;
    }
}

static void
read_comma(struct reading *reading)
{
    const bool object = (reading->objects & 1u) != 0;
    if (*reading->at == ',') {
        reading->want = object ? WANT_NAME : WANT_VALUE;
        reading->at++;
    } else if (*reading->at == (object ? '}' : ']')) {
        close_bracket(reading);
    } else {
        reading->wrong = wrong_here;
    }
}

static void
read_on(struct reading *reading)
{
    switch (reading->want) {
    case WANT_VALUE:
    case WANT_VALUE_OR_END:
        read_value(reading);
        break;
    case WANT_NAME:
    case WANT_NAME_OR_END:
        read_name(reading);
        break;
    case WANT_COLON:
        reading->wrong = *reading->at == ':' ? NULL : wrong_here;
        reading->want = reading->wrong == NULL ? WANT_VALUE : WANT_COLON;
        reading->at += reading->wrong == NULL;
        break;
    case WANT_COMMA_OR_END:
        read_comma(reading);
        break;
    case WANT_NOTHING:
        reading->wrong = wrong_here;
        break;
    }
}

/* Lines and columns count from 1, columns in characters. */
static void
explain(const struct reading *reading, const char *text, struct json_text_fault *fault)
{
    size_t line = 1, column = 1;
    for (const char *at = text; at < reading->at; at++) {
        if (*at == '\n') {
            line++;
            column = 1;
        } else {
            column += ((unsigned char)*at & 0xC0u) != 0x80u;
        }
    }
    struct text detail;
    text_init(&detail, fault->detail, sizeof fault->detail);
    fault->problem = PROBLEM_not_json;
    if (reading->wrong == too_deep) {
        fault->problem = PROBLEM_too_deep;
        text_format(&detail, "Line %zu, column %zu: objects and lists are nested more than %d deep.", line, column,
                    JSON_OUTLINE_DEPTH_MAX);
    } else if (reading->wrong == NULL) {
        text_format(&detail, "Line %zu, column %zu: the text ends where %s was expected.", line, column,
                    expected[reading->want]);
    } else if (reading->wrong == wrong_here) {
        text_format(&detail, "Line %zu, column %zu: %s was expected.", line, column, expected[reading->want]);
    } else {
        text_format(&detail, "Line %zu, column %zu: %s.", line, column, reading->wrong);
    }
}

bool
json_outline_read(const char *text, size_t length, struct json_part *value, struct json_text_fault *fault)
{
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    struct reading reading = {.at = text, .end = text + length};
    const char *start = NULL;
    const char *behind = NULL;
    while (reading.at < reading.end && reading.wrong == NULL) {
        if (is_blank(*reading.at)) {
            reading.at++;
            continue;
        }
        start = start != NULL ? start : reading.at;
        read_on(&reading);
        behind = reading.at;
    }
    if (reading.wrong != NULL || reading.want != WANT_NOTHING) {
        explain(&reading, text, fault);
        return false;
    }
    *value = (struct json_part){start, (size_t)(behind - start)};
    return true;
}

/* ---- going through what was read ---- */

bool
json_part_is_object(const struct json_part *value)
{
    return *value->at == '{';
}

bool
json_part_is_list(const struct json_part *value)
{
    return *value->at == '[';
}

/* The outline was found sound, so every text and every bracket is closed; that
 * is why nothing below asks where the text ends. */
static const char *
known_text_end(const char *at)
{
    for (at++; *at != '"'; at++) {
        at += *at == '\\';
    }
    return at + 1;
}

static const char *
value_end(const char *at)
{
    size_t depth = 0;
    if (is_plain(*at)) {
        while (is_plain(*at)) {
            at++;
        }
        return at;
    }
    do {
        if (*at == '"') {
            at = known_text_end(at);
            continue;
        }
        depth += *at == '{' || *at == '[';
        depth -= *at == '}' || *at == ']';
        at++;
    } while (depth > 0);
    return at;
}

static const char *
skip(const char *at, char also)
{
    while (is_blank(*at) || *at == also) {
        at++;
    }
    return at;
}

void
json_walk_begin(struct json_walk *walk, const struct json_part *value)
{
    *walk = (struct json_walk){value->at + 1, json_part_is_object(value)};
}

bool
json_walk_next(struct json_walk *walk, struct json_part *name, struct json_part *value)
{
    const char *at = skip(walk->at, ',');
    if (*at == '}' || *at == ']') {
        return false;
    }
    if (walk->members) {
        const char *behind = known_text_end(at);
        *name = (struct json_part){at, (size_t)(behind - at)};
        at = skip(behind, ':');
    }
    walk->at = value_end(at);
    *value = (struct json_part){at, (size_t)(walk->at - at)};
    return true;
}

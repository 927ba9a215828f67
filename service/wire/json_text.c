#include "wire/json_text.h"

#include <errno.h>
#include <limits.h>
#include <string.h>

#include "base/text.h"

/* What a look over the text tells before anything is parsed. Of text that is no
 * JSON it tells something too; the parser refuses that afterwards. */
struct shape {
    size_t depth;   /* brackets open at the end, outside strings */
    size_t deepest; /* most brackets open: no recursion of the parser may depend on the client */
    size_t longest; /* bytes of the longest string or number at most */
    bool in_string; /* the end lies in a string */
};

/* What a byte is to the look over the text, outside strings. */
enum role { ROLE_PLAIN, ROLE_BREAK, ROLE_OPEN, ROLE_CLOSE, ROLE_QUOTE };

/* All bytes not named are plain: of a number or a word, or out of place. */
static const unsigned char roles[UCHAR_MAX + 1] = {
    [' '] = ROLE_BREAK, ['\t'] = ROLE_BREAK, ['\r'] = ROLE_BREAK, ['\n'] = ROLE_BREAK,
    [':'] = ROLE_BREAK, [','] = ROLE_BREAK,  ['{'] = ROLE_OPEN,   ['['] = ROLE_OPEN,
    ['}'] = ROLE_CLOSE, [']'] = ROLE_CLOSE,  ['"'] = ROLE_QUOTE,
};

/* Where the string that opens before `at` is closed, or the end of the text. */
static size_t
string_end(const char *text, size_t at, size_t length)
{
    while (at < length && text[at] != '"') {
        at += text[at] == '\\' ? 2 : 1;
    }
    return at < length ? at : length;
}

static size_t
larger(size_t a, size_t b)
{
    return a > b ? a : b;
}

static struct shape
shape_of(const char *text, size_t length)
{
    struct shape shape = {0};
    size_t begin = 0; /* of what may be a string or a number */
    for (size_t i = 0; i < length; i++) {
        const enum role role = roles[(unsigned char)text[i]];
        if (role == ROLE_PLAIN) {
            continue;
        }
        shape.longest = larger(shape.longest, i - begin + 1);
        begin = i;
        if (role == ROLE_QUOTE) {
            i = string_end(text, i + 1, length);
            shape.in_string = i >= length;
        } else if (role == ROLE_OPEN) {
            shape.depth++;
            shape.deepest = larger(shape.deepest, shape.depth);
        } else if (role == ROLE_CLOSE && shape.depth > 0) {
            shape.depth--;
        }
    }
    shape.longest = larger(shape.longest, length - begin);
    return shape;
}

/* ---- what the parser is fed ---- */

/*
 * jansson (2.14) gathers each string and number in a buffer that grows, and
 * does not look whether it could: where memory runs out it drops the character.
 * A figure then loses a digit; behind a number it stops at an assertion, and of
 * a string whose closing quote was dropped it reads and writes past the end. So
 * the text is fed as the second entry of a list, behind a number longer than any
 * string or number in it. The buffer has then grown as far as it ever must, and
 * where it could not, errno tells before the number ends.
 */
static const char list_begin[] = "[0.", list_middle[] = ",\n", list_end[] = "\n]";

struct feed {
    const char *text;
    size_t length;
    size_t zeros; /* of the number, still to come */
    enum { FEED_BEGIN, FEED_ZEROS, FEED_MIDDLE, FEED_TEXT, FEED_END, FEED_DONE } part;
    bool no_memory;
};

/* The buffer doubles, from a power of two, and has reached the next once it
 * holds more than this one: some bytes before the end of the number, not on what
 * ends it. */
static const size_t spare = 8, smallest = 32;

static size_t
zeros_for(size_t longest)
{
    size_t power = smallest;
    while (2 * power < longest + 2 * spare) {
        power *= 2;
    }
    return power + spare;
}

static size_t
feed_bytes(char *buffer, size_t room, const char *bytes, size_t length)
{
    const size_t count = length < room ? length : room;
    memcpy(buffer, bytes, count);
    return count;
}

static size_t
feed_zeros(struct feed *feed, char *buffer, size_t room)
{
    const size_t count = feed->zeros < room ? feed->zeros : room;
    memset(buffer, '0', count);
    feed->zeros -= count;
    feed->part = feed->zeros == 0 ? FEED_MIDDLE : FEED_ZEROS;
    return count;
}

/* For json_load_callback; its room is never less than a part of ours. */
static size_t
feed_parser(void *buffer, size_t room, void *data)
{
    struct feed *feed = data;
    size_t count;
    switch (feed->part) {
    case FEED_BEGIN:
        feed->part = FEED_ZEROS;
        return feed_bytes(buffer, room, list_begin, sizeof list_begin - 1);
    case FEED_ZEROS:
        return feed_zeros(feed, buffer, room);
    case FEED_MIDDLE:
        feed->no_memory = errno == ENOMEM;
        feed->part = FEED_TEXT;
        return feed->no_memory ? (size_t)-1 : feed_bytes(buffer, room, list_middle, sizeof list_middle - 1);
    case FEED_TEXT:
        count = feed_bytes(buffer, room, feed->text, feed->length);
        feed->text += count;
        feed->length -= count;
        feed->part = feed->length == 0 ? FEED_END : FEED_TEXT;
        return count;
    case FEED_END:
        feed->part = FEED_DONE;
        return feed_bytes(buffer, room, list_end, sizeof list_end - 1);
    case FEED_DONE:
        break;
    }
    return 0;
}

/* ---- what went wrong ---- */

/* Bytes of the text that the parser had read; more than there are where it had
 * come to the end. */
static size_t
bytes_read(const json_error_t *error, size_t zeros)
{
    const size_t before = sizeof list_begin - 1 + zeros + sizeof list_middle - 1;
    const size_t position = error->position > 0 ? (size_t)error->position : 0;
    return position > before ? position - before : 0;
}

/* jansson's own words, but where they speak of its settings, or of the list
 * that stands round the text. */
static const char *
words(const json_error_t *error, size_t read, const char *text, size_t length)
{
    switch (json_error_code(error)) {
    case json_error_null_character:
    case json_error_null_byte_in_key:
        return "a text must not hold the character NUL";
    case json_error_numeric_overflow:
        return "this number is too large";
    default:
        break;
    }
    const struct shape before = shape_of(text, read < length ? read : length);
    if (read >= length && before.in_string) {
        return "a text is not closed: the document ends within it";
    }
    return before.depth == 0 && strstr(error->text, "']' expected") != NULL ? "nothing may follow the document"
                                                                            : error->text;
}

/* What jansson's error means to the client. */
static void
explain(const json_error_t *error, size_t read, const char *text, size_t length, struct json_text_fault *fault)
{
    struct text detail;
    text_init(&detail, fault->detail, sizeof fault->detail);
    switch (json_error_code(error)) {
    case json_error_duplicate_key:
        fault->problem = PROBLEM_duplicate_member;
        break;
    case json_error_stack_overflow:
        fault->problem = PROBLEM_too_deep;
        break;
    default:
        fault->problem = PROBLEM_not_json;
        break;
    }
    if (read > length && fault->problem == PROBLEM_not_json) {
        text_add(&detail, "The document ends too early.");
        return;
    }
    const int line = error->line > 1 ? error->line - 1 : 1; /* the list begins on a line of its own */
    text_format(&detail, "Line %d, column %d: %s.", line, error->column, words(error, read, text, length));
}

static void
refuse(struct json_text_fault *fault, enum problem problem, const char *detail)
{
    fault->problem = problem;
    text_copy(fault->detail, sizeof fault->detail, detail);
}

/* The text in the list, or NULL and *fault. */
static json_t *
parse(const char *text, size_t length, size_t zeros, struct json_text_fault *fault)
{
    struct feed feed = {.text = text, .length = length, .zeros = zeros};
    json_error_t error = {.line = 0};
    errno = 0; /* jansson passes off some failed allocations as bad syntax; malloc does not */
    json_t *list = json_load_callback(feed_parser, &feed, JSON_REJECT_DUPLICATES | JSON_DECODE_INT_AS_REAL, &error);
    const bool no_memory = feed.no_memory || errno == ENOMEM;
    if (no_memory) {
        refuse(fault, PROBLEM_unavailable, "The service has no memory left to read this document.");
    } else if (list == NULL) {
        explain(&error, bytes_read(&error, zeros), text, length, fault);
    } else if (json_array_size(list) == 2) {
        return list;
    } else {
        refuse(fault, PROBLEM_not_json, "The body holds more than one document.");
    }
    json_decref(list);
    return NULL;
}

json_t *
json_text_read(const char *text, size_t length, struct json_text_fault *fault)
{
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    if (length == 0) {
        refuse(fault, PROBLEM_not_json, "The body is empty; an empty job is {}.");
        return NULL;
    }
    const struct shape shape = shape_of(text, length);
    if (shape.deepest > JSON_TEXT_DEPTH_MAX) {
        struct text detail;
        text_init(&detail, fault->detail, sizeof fault->detail);
        fault->problem = PROBLEM_too_deep;
        text_format(&detail, "Objects and lists are nested more than %d deep.", JSON_TEXT_DEPTH_MAX);
        return NULL;
    }
    fault->detail[0] = '\0';
    json_t *list = parse(text, length, zeros_for(shape.longest), fault);
    json_t *root = list != NULL ? json_incref(json_array_get(list, 1)) : NULL;
    json_decref(list);
    return root;
}

#include "wire/json_text.h"

#include <errno.h>
#include <string.h>

#include "base/text.h"

/*
 * Deepest nesting of brackets outside strings, found before anything is
 * parsed, so that no recursion of the parser depends on the client. Text that
 * is no JSON gives some number too; the parser refuses it afterwards.
 */
static size_t
deepest(const char *text, size_t length)
{
    size_t depth = 0, most = 0;
    bool in_string = false;
    for (size_t i = 0; i < length; i++) {
        const char c = text[i];
        if (in_string) {
            if (c == '\\') {
                i++;
            } else if (c == '"') {
                in_string = false;
            }
        } else if (c == '"') {
            in_string = true;
        } else if (c == '{' || c == '[') {
            depth++;
            most = depth > most ? depth : most;
        } else if ((c == '}' || c == ']') && depth > 0) {
            depth--;
        }
    }
    return most;
}

/* jansson's own words, but where they speak of its settings. */
static const char *
words(const json_error_t *error)
{
    switch (json_error_code(error)) {
    case json_error_null_character:
    case json_error_null_byte_in_key:
        return "a text must not hold the character NUL";
    case json_error_numeric_overflow:
        return "this number is too large";
    default:
        return error->text;
    }
}

/* What jansson's error means to the client. */
static void
explain(const json_error_t *error, bool no_memory, struct json_text_fault *fault)
{
    struct text detail;
    text_init(&detail, fault->detail, sizeof fault->detail);
    if (no_memory) {
        fault->problem = PROBLEM_unavailable;
        text_add(&detail, "The service has no memory left to read this document.");
        return;
    }
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
    text_format(&detail, "Line %d, column %d: %s.", error->line, error->column, words(error));
}

json_t *
json_text_read(const char *text, size_t length, struct json_text_fault *fault)
{
    struct text detail;
    text_init(&detail, fault->detail, sizeof fault->detail);
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    if (length == 0) {
        fault->problem = PROBLEM_not_json;
        text_add(&detail, "The body is empty; an empty job is {}.");
        return NULL;
    }
    if (deepest(text, length) > JSON_TEXT_DEPTH_MAX) {
        fault->problem = PROBLEM_too_deep;
        text_format(&detail, "Objects and lists are nested more than %d deep.", JSON_TEXT_DEPTH_MAX);
        return NULL;
    }
    json_error_t error = {.line = 0};
    errno = 0; /* jansson passes off some failed allocations as bad syntax; malloc does not */
    json_t *root = json_loadb(text, length, JSON_REJECT_DUPLICATES | JSON_DECODE_ANY | JSON_DECODE_INT_AS_REAL, &error);
    if (root == NULL) {
        explain(&error, errno == ENOMEM, fault);
    }
    return root;
}

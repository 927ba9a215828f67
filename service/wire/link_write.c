#include "wire/link_write.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/base64url.h"
#include "base/fault.h"
#include "base/text.h"
#include "wire/query_read.h"

/* Characters that need no percent code in a query and that no forum program
 * takes for the end of a link: RFC 3986 section 3.4, without ' ( ) * ; and &. */
static bool
is_plain(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '-' && c <= ':') || c == '_' || c == '~';
}

static size_t
plain_run(const char *text)
{
    size_t length = 0;
    while (is_plain(text[length])) {
        length++;
    }
    return length;
}

static void
add_encoded(struct buffer *out, const char *text)
{
    static const char digits[] = "0123456789ABCDEF";
    while (*text != '\0') {
        const size_t length = plain_run(text);
        buffer_add_bytes(out, text, length);
        text += length;
        if (*text == ' ') {
            buffer_add(out, "+");
            text++;
        } else if (*text != '\0') {
            const unsigned char byte = (unsigned char)*text++;
            buffer_add_bytes(out, (const char[]){'%', digits[byte >> 4], digits[byte & 0xF]}, 3);
        }
    }
}

/* The parameter for one value; false if a query cannot spell it. */
static bool
add_value(struct buffer *out, const char *name, const json_t *value)
{
    char number[40];
    const char *text = number;
    if (json_is_null(value)) {
        return true; /* absent and null are alike */
    }
    if (json_is_number(value)) {
        struct text exact;
        text_init(&exact, number, sizeof number);
        text_add_exact(&exact, json_number_value(value));
    } else if (json_is_boolean(value)) {
        text = json_is_true(value) ? "true" : "false";
    } else {
        text = json_string_value(value);
    }
    if (text == NULL || text[0] == '\0') {
        return false;
    }
    link_add(out, name);
    buffer_add(out, "=");
    add_encoded(out, text);
    return true;
}

/* Every value within `value`, whose name is `name`; the depth is that of a job
 * that was read. The name is as it was afterward, but where a query cannot spell
 * the value. */
static bool
add_members(struct buffer *out, struct text *name, json_t *value, int depth)
{
    const size_t length = name->length;
    if (!json_is_object(value) && !json_is_array(value)) {
        return add_value(out, name->at, value);
    }
    if (depth == QUERY_PARTS_MAX || out->length > LINK_MAX || (json_is_array(value) && json_array_size(value) == 0)) {
        return false;
    }
    if (json_is_array(value)) {
        for (size_t i = 0; i < json_array_size(value); i++) {
            text_add(name, ".");
            text_add_count(name, i);
            if (name->cut || !add_members(out, name, json_array_get(value, i), depth + 1)) {
                return false;
            }
            text_shorten(name, length);
        }
        return true;
    }
    const char *key;
    json_t *member;
    json_object_foreach(value, key, member)
    {
        text_add(name, depth > 0 ? "." : "");
        text_add(name, key);
        if (name->cut || !add_members(out, name, member, depth + 1)) {
            return false;
        }
        text_shorten(name, length);
    }
    return true;
}

static void
add_document(struct buffer *out, const json_t *root)
{
    char *json = json_dumps(root, JSON_COMPACT | JSON_REAL_PRECISION(17));
    const size_t length = json != NULL ? strlen(json) : 0;
    char *encoded = malloc(base64url_length(length) + 1);
    if (json == NULL || encoded == NULL) {
        out->failed = true;
    } else {
        base64url_write(encoded, (const unsigned char *)json, length);
        link_add(out, "job=");
        buffer_add(out, encoded);
    }
    free(encoded);
    json_free_t give_back = NULL; /* jansson's text came from where jansson takes its memory */
    json_get_alloc_funcs(NULL, &give_back);
    give_back(json);
}

void
link_add(struct buffer *out, const char *parameter)
{
    const bool first = out->at == NULL || strchr(out->at, '?') == NULL;
    buffer_add(out, first ? "?" : "&");
    buffer_add(out, parameter);
}

bool
link_write(struct buffer *out, const char *path, json_t *root)
{
    char name_buffer[FAULT_POINTER_SIZE];
    struct text name;
    text_init(&name, name_buffer, sizeof name_buffer);
    buffer_add(out, path);
    const size_t begin = out->length;
    if (!add_members(out, &name, root, 0) && !out->failed) {
        out->length = begin;
        out->at[begin] = '\0';
        add_document(out, root);
    }
    return !out->failed && out->length <= LINK_MAX;
}

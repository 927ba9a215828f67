#include "wire/query_read.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "base/base64url.h"
#include "base/text.h"
#include "joint/job.h"

static const char document_name[] = "job";

enum { PART_SIZE = 64 };

/* Say why not; `name` stands between the two halves of the sentence. */
static bool
refuse(struct json_text_fault *fault, enum problem problem, const char *before, const char *name, const char *after)
{
    struct text detail;
    text_init(&detail, fault->detail, sizeof fault->detail);
    text_format(&detail, "%s%s%s", before, name, after);
    fault->problem = problem;
    return false;
}

static bool
refuse_memory(struct json_text_fault *fault)
{
    return refuse(fault, PROBLEM_unavailable, "The service has no memory left to read this query.", "", "");
}

/* ---- job= ---- */

static const struct query_pair *
document_pair(const struct query *query)
{
    for (size_t i = 0; i < query->count; i++) {
        if (!query->pair[i].taken && strcmp(query->pair[i].name, document_name) == 0) {
            return &query->pair[i];
        }
    }
    return NULL;
}

bool
query_holds_document(const struct query *query)
{
    return document_pair(query) != NULL;
}

/* Nothing may stand beside job=, or it would not be clear which holds. */
static bool
stands_alone(const struct query *query, const struct query_pair *document, struct json_text_fault *fault)
{
    for (size_t i = 0; i < query->count; i++) {
        const struct query_pair *pair = &query->pair[i];
        if (!pair->taken && pair != document) {
            return refuse(fault, PROBLEM_bad_request,
                          "Give the whole job as job=, or its members by name, not both: ", pair->name,
                          " stands beside job.");
        }
    }
    return true;
}

static json_t *
read_document(const struct query *query, const struct query_pair *document, struct json_text_fault *fault)
{
    if (!stands_alone(query, document, fault)) {
        return NULL;
    }
    const size_t length = strlen(document->value);
    unsigned char *bytes = malloc(length + 1);
    size_t count = 0;
    json_t *root = NULL;
    if (bytes == NULL) {
        refuse_memory(fault);
    } else if (!base64url_read(document->value, length, bytes, &count)) {
        refuse(fault, PROBLEM_bad_request, "The parameter job is not base64url (RFC 4648 section 5) of a document.", "",
               "");
    } else {
        root = json_text_read((const char *)bytes, count, fault);
    }
    free(bytes);
    return root;
}

/* ---- members by name ---- */

/* The next part of a dotted name; false if it is empty or too long. */
static bool
next_part(const char **at, char part[PART_SIZE])
{
    const size_t length = strcspn(*at, ".");
    struct text text;
    text_init(&text, part, PART_SIZE);
    text_add_bytes(&text, *at, length);
    *at += length;
    return length > 0 && !text.cut;
}

/* A yes-or-no member takes no text; every other scalar reads from text as well. */
static bool
is_flag(const char *name)
{
    for (int field = 0; field < FIELD_COUNT; field++) {
        const struct job_field_row *row = job_field_row((enum job_field)field);
        if (row->kind == KIND_FLAG && strcmp(row->path, name) == 0) {
            return true;
        }
    }
    return false;
}

/* A new reference; NULL where the text is no UTF-8 or memory has run out. */
static json_t *
value_of(const struct query_pair *pair)
{
    if (pair->value[0] == '\0') {
        return json_null();
    }
    if (is_flag(pair->name) && (strcmp(pair->value, "true") == 0 || strcmp(pair->value, "false") == 0)) {
        return json_boolean(pair->value[0] == 't');
    }
    return json_string(pair->value);
}

/* The object called `part` within `object`, made if it is not there; NULL
 * where a value stands in its place or memory has run out. */
static json_t *
inner_object(json_t *object, const char *part)
{
    json_t *inner = json_object_get(object, part);
    if (inner == NULL) {
        inner = json_object();
        return inner != NULL && json_object_set_new(object, part, inner) == 0 ? inner : NULL;
    }
    return json_is_object(inner) ? inner : NULL;
}

/* True where jansson failed for want of memory rather than for what it was given. */
static bool
out_of_memory(void)
{
    return errno == ENOMEM;
}

static bool
put_value(json_t *object, const char *part, const struct query_pair *pair, struct json_text_fault *fault)
{
    if (json_object_get(object, part) != NULL) {
        return refuse(fault, PROBLEM_duplicate_member, "The parameter ", pair->name, " stands twice.");
    }
    json_t *value = value_of(pair);
    if (value != NULL && json_object_set_new(object, part, value) == 0) {
        return true;
    }
    return out_of_memory() ? refuse_memory(fault)
                           : refuse(fault, PROBLEM_bad_request, "The parameter ", pair->name, " is no UTF-8 text.");
}

static bool
put_pair(json_t *root, const struct query_pair *pair, struct json_text_fault *fault)
{
    json_t *object = root;
    const char *at = pair->name;
    char part[PART_SIZE];
    for (int depth = 0; depth < QUERY_PARTS_MAX; depth++) {
        if (!next_part(&at, part)) {
            break;
        }
        if (*at == '\0') {
            return put_value(object, part, pair, fault);
        }
        at++;
        object = inner_object(object, part);
        if (object == NULL) {
            return out_of_memory() ? refuse_memory(fault)
                                   : refuse(fault, PROBLEM_duplicate_member, "The parameter ", pair->name,
                                            " stands within another that has a value of its own.");
        }
    }
    return refuse(fault, PROBLEM_bad_request, "The parameter ", pair->name,
                  " is no name of a member: parts between dots, as in engine.bore.");
}

/* ---- lists ---- */

/* The number a key spells, as 0, 1, 2 are written; false if it is none. */
static bool
is_index(const char *key, size_t *index)
{
    const size_t digits = strspn(key, "0123456789");
    if (digits == 0 || digits > 4 || key[digits] != '\0' || (key[0] == '0' && digits > 1)) {
        return false;
    }
    *index = 0;
    for (size_t i = 0; i < digits; i++) {
        *index = 10 * *index + (size_t)(key[i] - '0');
    }
    return true;
}

static bool
holds_nothing(json_t *value)
{
    const char *key;
    json_t *member;
    if (!json_is_object(value)) {
        return json_is_null(value);
    }
    json_object_foreach(value, key, member)
    {
        if (!json_is_null(member)) {
            return false;
        }
    }
    return true;
}

/* True where every key is an index: the object stands for a list. */
static bool
is_list(json_t *object)
{
    const char *key;
    json_t *member;
    size_t index = 0;
    json_object_foreach(object, key, member)
    {
        if (!is_index(key, &index)) {
            return false;
        }
    }
    return json_object_size(object) > 0;
}

/* The list that an object of numbered members stands for. A new reference, or
 * NULL and *fault where a number is left out. */
static json_t *
list_of(json_t *object, const char *name, struct json_text_fault *fault)
{
    json_t *list = json_array();
    const size_t count = json_object_size(object);
    size_t filled = 0;
    for (size_t i = 0; i < count && list != NULL; i++) {
        char key[24];
        struct text text;
        text_init(&text, key, sizeof key);
        text_format(&text, "%zu", i);
        json_t *entry = json_object_get(object, key);
        if (entry == NULL) {
            refuse(fault, PROBLEM_bad_request, "The entries of ", name,
                   " must be numbered 0, 1, 2 and so on, none left out.");
            json_decref(list);
            return NULL;
        }
        filled = holds_nothing(entry) ? filled : i + 1;
        if (json_array_append(list, entry) != 0) {
            json_decref(list);
            list = NULL;
        }
    }
    if (list == NULL) {
        refuse_memory(fault);
    }
    while (list != NULL && json_array_size(list) > filled) {
        json_array_remove(list, json_array_size(list) - 1);
    }
    return list;
}

/* Turn the numbered objects within `object` into lists, the innermost first;
 * the depth is bounded by put_pair. */
static bool
settle_lists(json_t *object, struct json_text_fault *fault)
{
    const char *key;
    json_t *member;
    void *next;
    json_object_foreach_safe(object, next, key, member)
    {
        if (!json_is_object(member)) {
            continue;
        }
        if (!settle_lists(member, fault)) {
            return false;
        }
        if (is_list(member)) {
            json_t *list = list_of(member, key, fault);
            if (list == NULL) {
                return false;
            }
            if (json_object_set_new(object, key, list) != 0) {
                return refuse_memory(fault);
            }
        }
    }
    return true;
}

static json_t *
read_members(const struct query *query, struct json_text_fault *fault)
{
    json_t *root = json_object();
    if (root == NULL) {
        refuse_memory(fault);
        return NULL;
    }
    errno = 0; /* jansson says only that it failed; malloc says why */
    bool good = true;
    for (size_t i = 0; i < query->count && good; i++) {
        good = query->pair[i].taken || put_pair(root, &query->pair[i], fault);
    }
    if (!good || !settle_lists(root, fault)) {
        json_decref(root);
        return NULL;
    }
    return root;
}

json_t *
query_read(const struct query *query, struct json_text_fault *fault)
{
    const struct query_pair *document = document_pair(query);
    return document != NULL ? read_document(query, document, fault) : read_members(query, fault);
}

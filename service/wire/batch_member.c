#include "wire/batch_member.h"

#include <string.h>

#include "base/text.h"
#include "wire/reader.h"

/* Longer names are cut; all that are known are shorter. */
enum { NAME_SIZE = 64 };

/*
 * The name between these quotes. One that jansson does not take for a text is
 * given as it was written, and so is none of the known ones either. False where
 * memory ran out.
 */
static bool
read_name(const struct json_part *part, char name[NAME_SIZE])
{
    struct json_text_fault fault = {.problem = PROBLEM_not_json};
    struct text text;
    json_t *decoded = NULL;
    if (memchr(part->at, '\\', part->length) != NULL) {
        decoded = json_text_read(part->at, part->length, &fault);
    }
    text_init(&text, name, NAME_SIZE);
    if (json_is_string(decoded)) {
        text_add_bytes(&text, json_string_value(decoded), json_string_length(decoded));
    } else {
        text_add_bytes(&text, part->at + 1, part->length - 2);
    }
    json_decref(decoded);
    return fault.problem != PROBLEM_unavailable;
}

static bool
is_null(const struct json_part *value)
{
    return value->length == 4 && memcmp(value->at, "null", 4) == 0;
}

static void
refuse_twice(const char *pointer, const char *name, const char *path, struct reply *reply)
{
    char detail[FAULT_TEXT_SIZE];
    struct text text;
    text_init(&text, detail, sizeof detail);
    text_format(&text, "The member \"%s\" stands twice%s%s.", name, pointer[0] != '\0' ? " in " : "", pointer);
    reply_refuse(reply, &(struct refusal){.problem = PROBLEM_duplicate_member, .detail = detail, .instance = path},
                 ANSWER_JSON);
}

bool
batch_member_find(const struct json_part *object, const char *pointer, const struct batch_names *names,
                  const char *path, struct json_part *found, struct fault_list *faults, struct reply *reply)
{
    struct reader reader = {NULL, faults};
    struct json_walk walk;
    struct json_part name_part, value;
    unsigned seen = 0;
    memset(found, 0, names->count * sizeof *found);
    json_walk_begin(&walk, object);
    while (json_walk_next(&walk, &name_part, &value)) {
        char name[NAME_SIZE];
        size_t i = 0;
        if (!read_name(&name_part, name)) {
            reply_refuse(reply, &(struct refusal){.problem = PROBLEM_unavailable, .detail = NULL, .instance = path},
                         ANSWER_JSON);
            return false;
        }
        while (i < names->count && strcmp(name, names->name[i]) != 0) {
            i++;
        }
        if (i == names->count) {
            reader_refuse_member(&reader, pointer, name, names->name, names->count);
            continue;
        }
        if ((seen & 1u << i) != 0) {
            refuse_twice(pointer, name, path, reply);
            return false;
        }
        seen |= 1u << i;
        if (!is_null(&value)) {
            found[i] = value;
        }
    }
    return true;
}

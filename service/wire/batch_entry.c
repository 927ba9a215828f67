#include "wire/batch_entry.h"

#include <string.h>

#include "base/text.h"
#include "joint/report.h"
#include "wire/batch_member.h"
#include "wire/nearest.h"
#include "wire/reader.h"

enum { MEMBER_CALL, MEMBER_ID, MEMBER_JOB, MEMBER_COUNT };

static const char *const member_names[MEMBER_COUNT] = {"call", "id", "job"};

struct entry_reader {
    struct reader reader;
    struct place place; /* of the entry: "/jobs/3" */
    const char *path;
    struct reply *reply;
    bool replied;
};

/* A short value; NULL where it cannot be read, and the reply filled. */
static json_t *
read_value(struct entry_reader *out, const struct json_part *part, const char *pointer)
{
    struct json_text_fault fault;
    json_t *value = json_text_read(part->at, part->length, &fault);
    if (value == NULL && !out->replied) {
        char detail[FAULT_POINTER_SIZE + FAULT_TEXT_SIZE];
        struct text text;
        text_init(&text, detail, sizeof detail);
        text_format(&text, "Within %s: %s", pointer, fault.detail);
        reply_refuse(out->reply, &(struct refusal){.problem = fault.problem, .detail = detail, .instance = out->path},
                     ANSWER_JSON);
        out->replied = true;
    }
    return value;
}

/* What has no link has a door of its own as well: an order may want a token,
 * and is signed. */
static bool
is_taken(enum call call)
{
    return call_row(call)->by_link;
}

/* Fill in which calls there are, and which is nearest to what was given. */
static void
offer_calls(struct fault *fault, const char *given)
{
    struct nearest nearest;
    struct text expected;
    if (fault == NULL) {
        return;
    }
    nearest_init(&nearest, given);
    text_init(&expected, fault->expected, sizeof fault->expected);
    for (int i = 0; i < CALL_COUNT; i++) {
        const char *word = call_row((enum call)i)->word;
        if (is_taken((enum call)i)) {
            nearest_offer(&nearest, word);
            reader_add_word(&expected, word);
        }
    }
    text_copy(fault->nearest, sizeof fault->nearest, nearest.best != NULL ? nearest.best : "");
}

/* False if there is no such call. */
static bool
find_call(const char *word, enum call *call)
{
    for (int i = 0; i < CALL_COUNT; i++) {
        if (is_taken((enum call)i) && strcmp(call_row((enum call)i)->word, word) == 0) {
            *call = (enum call)i;
            return true;
        }
    }
    return false;
}

static void
read_call(struct entry_reader *out, const struct json_part *part, struct batch_entry *entry)
{
    struct place place;
    place_member(&place, out->place.pointer, member_names[MEMBER_CALL]);
    if (part->length == 0) {
        offer_calls(reader_fault(&out->reader, FAULT_MISSING, place.pointer, NULL, "An entry needs its call."), "");
        return;
    }
    json_t *value = read_value(out, part, place.pointer);
    const char *word = json_string_value(value);
    if (word != NULL) {
        text_copy(entry->call_text, sizeof entry->call_text, word);
        if (!find_call(word, &entry->call)) {
            offer_calls(reader_fault(&out->reader, FAULT_OUT_OF_RANGE, place.pointer, value, "There is no such call."),
                        word);
        }
    } else if (value != NULL) {
        offer_calls(reader_fault(&out->reader, FAULT_WRONG_TYPE, place.pointer, value, "Must be a text: a call."), "");
    }
    json_decref(value);
}

static void
read_id(struct entry_reader *out, const struct json_part *part, struct batch_entry *entry)
{
    struct place place;
    if (part->length == 0) {
        return;
    }
    place_member(&place, out->place.pointer, member_names[MEMBER_ID]);
    json_t *value = read_value(out, part, place.pointer);
    if (value != NULL) {
        reader_text(&out->reader, place.pointer, value, BATCH_ID_CHARACTERS, entry->id, sizeof entry->id);
    }
    json_decref(value);
}

bool
batch_entry_read(const struct json_part *part, size_t index, const char *path, struct batch_entry *entry,
                 struct reply *reply)
{
    static const struct batch_names names = {member_names, MEMBER_COUNT};
    struct fault_list faults;
    struct json_part found[MEMBER_COUNT];
    struct entry_reader out = {.reader = {NULL, &faults}, .path = path, .reply = reply};
    *entry = (struct batch_entry){.call = CALL_check};
    fault_list_init(&faults);
    place_index(&out.place, "/jobs", index);
    if (!json_part_is_object(part)) {
        reader_wrong_type(&out.reader, out.place.pointer, NULL, "an object with the members \"call\" and \"job\"");
    } else if (batch_member_find(part, out.place.pointer, &names, path, found, &faults, reply)) {
        read_call(&out, &found[MEMBER_CALL], entry);
        read_id(&out, &found[MEMBER_ID], entry);
        entry->job = found[MEMBER_JOB];
    } else {
        return false;
    }
    if (faults.count > 0 && !out.replied) {
        answer_refuse(&(struct answer_request){.path = path}, &faults, reply);
        out.replied = true;
    }
    return !out.replied;
}

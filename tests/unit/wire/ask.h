#ifndef SMALLEND_TESTS_UNIT_WIRE_ASK_H
#define SMALLEND_TESTS_UNIT_WIRE_ASK_H

/*
 * Vocabulary of the wire tests: read a job from text, ask for an answer, look
 * into JSON by pointer. Everything asked for must be there, or the test fails.
 */

#include "support/close.h"

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "wire/answer.h"
#include "wire/job_read.h"
#include "wire/json_text.h"

/* A joint of ordinary proportions, made up: every section can be judged. */
#define ORDINARY_JOB                                                                                                   \
    "{\"engine\":{\"bore\":\"5 1/4 in\",\"stroke\":8,\"speed\":400,\"peak_pressure\":285},"                            \
    "\"pin\":{\"diameter\":{\"nominal\":1.375,\"class\":\"g6\"},\"steel\":\"4140-bc\",\"length\":4.6},"                \
    "\"boss\":{\"bushing\":\"c93200\"},"                                                                               \
    "\"slot\":{\"depth\":0.14,\"cutter_diameter\":\"7/16 in\"},"                                                       \
    "\"clamp_bolt\":{\"diameter\":\"3/8-16 UNC\",\"grade\":\"SAE 5\",\"offset\":0.775,\"torque\":25},"                 \
    "\"held_fit\":{\"hole\":{\"nominal\":1.375,\"class\":\"H7\"}},"                                                    \
    "\"running_fit\":{\"hole\":{\"min\":1.3765,\"max\":1.3772},\"pin_temperature\":220,\"hole_temperature\":200}}"

/* Answer the job in a body, asked for at `path` (NULL = none). */
static inline void
answer_call(enum call call, const char *body, size_t length, enum answer_format format, const char *path,
            struct reply *reply, enum verdict *verdict)
{
    const struct answer_request request = {
        .call = call, .format = format, .body = body, .length = length, .path = path};
    answer_request(&request, reply, verdict);
}

/* Read a job; true if it was taken without a fault. */
static inline bool
read_job(const char *text, struct job *job, struct fault_list *faults)
{
    struct json_text_fault fault;
    json_t *root = json_text_read(text, strlen(text), &fault);
    if (root == NULL) {
        fail_msg("not JSON: %s", fault.detail);
    }
    const bool good = job_read(root, job, faults);
    json_decref(root);
    return good;
}

/* The fault at this place; the test fails where there is none. */
static inline const struct fault *
fault_at(const struct fault_list *faults, const char *pointer)
{
    for (size_t i = 0; i < faults->count; i++) {
        if (strcmp(faults->fault[i].pointer, pointer) == 0) {
            return &faults->fault[i];
        }
    }
    fail_msg("no fault at %s", pointer);
    return NULL;
}

/* The one fault that a document is refused for. */
static inline const struct fault *
only_fault(const char *text, struct fault_list *faults)
{
    struct job job;
    assert_false(read_job(text, &job, faults));
    assert_int_equal(faults->count, 1);
    return &faults->fault[0];
}

/* Member of a member, by JSON pointer without escapes; NULL where absent. */
static inline json_t *
look(json_t *root, const char *pointer)
{
    json_t *at = root;
    while (at != NULL && *pointer == '/') {
        char name[128];
        const size_t length = strcspn(pointer + 1, "/");
        assert_true(length < sizeof name);
        memcpy(name, pointer + 1, length);
        name[length] = '\0';
        at = json_is_array(at) ? json_array_get(at, (size_t)strtoul(name, NULL, 10)) : json_object_get(at, name);
        pointer += 1 + length;
    }
    return at;
}

static inline const char *
look_text(json_t *root, const char *pointer)
{
    const char *text = json_string_value(look(root, pointer));
    if (text == NULL) {
        fail_msg("no text at %s", pointer);
    }
    return text;
}

static inline double
look_number(json_t *root, const char *pointer)
{
    json_t *value = look(root, pointer);
    if (!json_is_number(value)) {
        fail_msg("no number at %s", pointer);
    }
    return json_number_value(value);
}

/* The entry of a list whose member "id" is this, or NULL. */
static inline json_t *
entry_of(json_t *list, const char *id)
{
    for (size_t i = 0; i < json_array_size(list); i++) {
        const char *at = json_string_value(json_object_get(json_array_get(list, i), "id"));
        if (at != NULL && strcmp(at, id) == 0) {
            return json_array_get(list, i);
        }
    }
    return NULL;
}

/* The JSON of a reply, which is cleared. */
static inline json_t *
reply_json(struct reply *reply)
{
    json_error_t error;
    json_t *root = json_loadb(reply->body, reply->length, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL) {
        fail_msg("reply is not JSON: %s", error.text);
    }
    reply_clear(reply);
    return root;
}

/* The JSON answer of a call, which must have this status. */
static inline json_t *
ask(enum call call, const char *text, int status)
{
    struct reply reply;
    answer_call(call, text, strlen(text), ANSWER_JSON, "/v1/test", &reply, NULL);
    assert_int_equal(reply.status, status);
    return reply_json(&reply);
}

#endif

#include "seal/record_verify.h"

#include <string.h>

#include <jansson.h>

#include "base/version.h"
#include "joint/report.h"
#include "seal/digest.h"
#include "seal/jws.h"
#include "wire/json_text.h"
#include "wire/reader.h"
#include "wire/record_again.h"
#include "wire/writer.h"

static void
refuse(enum problem problem, const char *detail, const struct fault_list *faults, const char *path, struct reply *reply)
{
    const struct refusal refusal = {.problem = problem, .detail = detail, .instance = path, .faults = faults};
    reply_refuse(reply, &refusal, ANSWER_JSON);
}

static const char *
signature_word(enum jws_verdict verdict)
{
    return verdict == JWS_GOOD ? "good" : verdict == JWS_UNKNOWN_KEY ? "unknown_key" : "bad";
}

static void
write_cautions(struct writer *writer)
{
    size_t count = 0;
    const char *const *caution = caution_always(&count);
    writer_list(writer, "cautions");
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, caution[i]);
    }
    caution = caution_of_orders(&count);
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, caution[i]);
    }
    writer_list_end(writer);
}

/* The record is written as it was signed, byte for byte: it has been read, so
 * that it is JSON. */
static bool
write_record(struct writer *writer, const struct jws_reading *reading, const json_t *record)
{
    char id[ORDER_ID_SIZE];
    if (!digest_id(reading->payload, reading->payload_length, id)) {
        return false;
    }
    writer_text(writer, "record_id", id);
    writer_json(writer, "record", reading->payload, reading->payload_length);
    writer_text(writer, "rules_now", SMALLEND_RULES);
    record_again_write(writer, record);
    return true;
}

/* False: OpenSSL could not. */
static bool
write_answer(struct buffer *out, const struct jws_reading *reading, const json_t *record)
{
    const bool good = reading->verdict == JWS_GOOD;
    const bool valid = good && record_is_one(record);
    bool written = true;
    struct writer writer;
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    writer_flag(&writer, "valid", valid);
    writer_text(&writer, "signature", signature_word(reading->verdict));
    writer_text_if(&writer, "kid", reading->key_id);
    writer_text(&writer, "detail",
                good && !valid ? "The signature is good, but what was signed is no release record." : reading->detail);
    if (valid) {
        written = write_record(&writer, reading, record);
    } else {
        writer_text(&writer, "rules_now", SMALLEND_RULES);
    }
    write_cautions(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
    return written;
}

static void
answer(const struct jws_reading *reading, const char *path, struct reply *reply)
{
    struct json_text_fault fault;
    struct buffer out;
    buffer_init(&out);
    json_t *record =
        reading->verdict == JWS_GOOD ? json_text_read(reading->payload, reading->payload_length, &fault) : NULL;
    const bool written = write_answer(&out, reading, record);
    json_decref(record);
    if (written) {
        reply_deliver(reply, &out, 200, answer_form(ANSWER_JSON)->content_type);
        return;
    }
    buffer_clear(&out);
    refuse(PROBLEM_internal, "The id of the record could not be worked out.", NULL, path, reply);
}

static void
verify(const struct keyring *ring, const char *text, size_t length, const char *path, struct reply *reply)
{
    struct jws_reading reading;
    jws_read(ring, text, length, &reading);
    if (reading.verdict == JWS_MALFORMED) {
        refuse(PROBLEM_invalid_record, reading.detail, NULL, path, reply);
    } else if (reading.verdict == JWS_NO_MEMORY) {
        refuse(PROBLEM_unavailable, NULL, NULL, path, reply);
    } else {
        answer(&reading, path, reply);
    }
    jws_reading_clear(&reading);
}

/* The member jws of the document; NULL and faults added if it is not there. */
static const char *
jws_of(json_t *root, struct fault_list *faults)
{
    static const char *const names[] = {"jws"};
    struct reader reader = {NULL, faults};
    fault_list_init(faults);
    if (!json_is_object(root)) {
        reader_wrong_type(&reader, "", root, "an object with the member jws");
        return NULL;
    }
    const json_t *value = reader_member(root, names[0]);
    if (value == NULL) {
        reader_missing(&reader, "", names[0], "Give the signed record, a compact JWS.");
    } else if (!json_is_string(value)) {
        reader_wrong_type(&reader, "/jws", value, "a text: the compact JWS");
    }
    reader_refuse_others(&reader, "", root, names, sizeof names / sizeof names[0]);
    return faults->count == 0 ? json_string_value(value) : NULL;
}

static void
verify_document(const struct keyring *ring, const char *body, size_t length, const char *path, struct reply *reply)
{
    struct json_text_fault fault;
    struct fault_list faults;
    json_t *root = json_text_read(body, length, &fault);
    if (root == NULL) {
        refuse(fault.problem, fault.detail, NULL, path, reply);
        return;
    }
    const char *jws = jws_of(root, &faults);
    if (jws != NULL) {
        verify(ring, jws, strlen(jws), path, reply);
    } else {
        refuse(PROBLEM_invalid_record, NULL, &faults, path, reply);
    }
    json_decref(root);
}

void
record_verify(const struct keyring *ring, const char *body, size_t length, enum record_body form, const char *path,
              struct reply *reply)
{
    if (form == RECORD_IN_JSON) {
        verify_document(ring, body, length, path, reply);
    } else {
        verify(ring, body, length, path, reply);
    }
}

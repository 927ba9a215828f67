/*
 * The text of a batch, any bytes: its outline is read without a parser of ours
 * or anybody's, its entries by both.
 */

#include "fuzz/harness.h"

#include <string.h>

#include <jansson.h>

#include "wire/batch.h"

/* Each entry has its answer or its problem, and the whole is JSON. */
static void
hold_answers(const struct buffer *out, size_t count)
{
    json_error_t error;
    size_t index;
    json_t *entry, *root = json_loadb(out->at, out->length, JSON_REJECT_DUPLICATES, &error);
    HOLDS(root != NULL, "an answer that is no JSON: %s\n%s", error.text, out->at);
    const json_t *answers = json_object_get(root, "answers");
    HOLDS(json_array_size(answers) == count, "%zu answers to %zu jobs", json_array_size(answers), count);
    HOLDS(json_array_size(json_object_get(root, "cautions")) > 0, "no cautions");
    json_array_foreach(answers, index, entry)
    {
        const long long status = json_integer_value(json_object_get(entry, "status"));
        HOLDS(status == 200 || (status >= 400 && status < 500), "status %lld", status);
        HOLDS((status == 200) == json_is_object(json_object_get(entry, "answer")), "answer");
        HOLDS((status != 200) == json_is_object(json_object_get(entry, "problem")), "problem");
    }
    json_decref(root);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct batch batch;
    struct buffer out;
    struct reply reply = {.status = 0};
    char *text = copy_text(data, size);
    buffer_init(&out);
    if (batch_begin(&batch, text, size, "/v1/batch", &out, &reply)) {
        HOLDS(batch.count <= BATCH_JOBS_MAX, "%zu jobs", batch.count);
        while (batch_next(&batch)) {
        }
        batch_end(&batch);
        HOLDS(!out.failed && batch.answered == batch.count && batch.worst < 500, "%zu of %zu, worst %d", batch.answered,
              batch.count, batch.worst);
        hold_answers(&out, batch.count);
    } else {
        HOLDS((reply.status == 400 || reply.status == 422 || reply.status == 413) && reply.length > 0, "status %d", reply.status);
        reply_clear(&reply);
    }
    buffer_clear(&out);
    free(text);
    return 0;
}

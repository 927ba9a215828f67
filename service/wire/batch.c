#include "wire/batch.h"

#include "base/text.h"
#include "joint/report.h"
#include "wire/batch_entry.h"
#include "wire/batch_member.h"
#include "wire/reader.h"
#include "wire/service_write.h"

/* ---- the whole ---- */

static void
refuse_jobs(enum fault_code code, const char *detail, struct fault_list *faults)
{
    struct fault *fault = fault_add(faults, code, "/jobs", "%s", detail);
    if (fault != NULL) {
        struct text expected;
        text_init(&expected, fault->expected, sizeof fault->expected);
        text_format(&expected, "a list of up to %d jobs", BATCH_JOBS_MAX);
    }
}

static size_t
count_entries(const struct json_part *list)
{
    struct json_walk walk;
    struct json_part name, value;
    size_t count = 0;
    json_walk_begin(&walk, list);
    while (json_walk_next(&walk, &name, &value)) {
        count++;
    }
    return count;
}

/* Look at the list of jobs, which is absent where its length is 0. */
static void
take_jobs(struct batch *batch, const struct json_part *jobs, struct fault_list *faults)
{
    char detail[FAULT_TEXT_SIZE];
    struct text text;
    if (jobs->length == 0) {
        refuse_jobs(FAULT_MISSING, "A batch needs its list of jobs.", faults);
        return;
    }
    if (!json_part_is_list(jobs)) {
        refuse_jobs(FAULT_WRONG_TYPE, "Must be a list of jobs.", faults);
        return;
    }
    batch->count = count_entries(jobs);
    if (batch->count > BATCH_JOBS_MAX) {
        text_init(&text, detail, sizeof detail);
        text_format(&text, "At most %d jobs are taken in one batch; these are %zu.", BATCH_JOBS_MAX, batch->count);
        refuse_jobs(FAULT_OUT_OF_RANGE, detail, faults);
        return;
    }
    json_walk_begin(&batch->walk, jobs);
}

/* False: refused, and the reply filled. */
static bool
read_whole(struct batch *batch, const char *text, size_t length, struct reply *reply)
{
    static const char *const name[] = {"jobs"};
    static const struct batch_names names = {name, 1};
    struct json_text_fault syntax;
    struct json_part whole, jobs;
    struct fault_list faults;
    struct reader reader = {NULL, &faults};
    fault_list_init(&faults);
    if (!json_outline_read(text, length, &whole, &syntax)) {
        reply_refuse(reply,
                     &(struct refusal){.problem = syntax.problem, .detail = syntax.detail, .instance = batch->path},
                     ANSWER_JSON);
        return false;
    }
    if (!json_part_is_object(&whole)) {
        reader_wrong_type(&reader, "", NULL, "an object with the member \"jobs\"");
    } else if (!batch_member_find(&whole, "", &names, batch->path, &jobs, &faults, reply)) {
        return false;
    } else {
        take_jobs(batch, &jobs, &faults);
    }
    if (faults.count > 0) {
        answer_refuse(&(struct answer_request){.path = batch->path}, &faults, reply);
    }
    return faults.count == 0;
}

bool
batch_begin(struct batch *batch, const char *text, size_t length, const char *path, struct buffer *out,
            struct reply *reply)
{
    *batch = (struct batch){.worst = 200, .path = path};
    if (!read_whole(batch, text, length, reply)) {
        return false;
    }
    writer_init(&batch->writer, out);
    writer_object(&batch->writer, NULL);
    service_write(&batch->writer);
    writer_list(&batch->writer, "answers");
    return true;
}

void
batch_end(struct batch *batch)
{
    if (batch->answered > 0) {
        buffer_add(batch->writer.out, "\n");
    }
    writer_list_end(&batch->writer);
    writer_cautions_always(&batch->writer);
    writer_object_end(&batch->writer);
    buffer_add(batch->writer.out, "\n");
}

/* ---- one entry ---- */

static void
answer_late(const struct batch *batch, struct reply *reply)
{
    char detail[FAULT_TEXT_SIZE];
    struct text text;
    text_init(&text, detail, sizeof detail);
    text_format(&text, "The batch took longer than %g s; send this entry and the rest again.",
                (double)batch->put_off_ms / 1000.0);
    reply_refuse(reply, &(struct refusal){.problem = PROBLEM_unavailable, .detail = detail, .instance = batch->path},
                 ANSWER_JSON);
}

/* By the single call, under its own path. */
static void
answer_job(struct batch *batch, const struct batch_entry *entry, struct reply *reply)
{
    char path[BATCH_CALL_SIZE];
    struct text text;
    const bool given = entry->job.length > 0;
    text_init(&text, path, sizeof path);
    text_format(&text, "/v1/%s", call_row(entry->call)->word);
    const struct answer_request request = {.call = entry->call,
                                           .format = ANSWER_JSON,
                                           .body = given ? entry->job.at : "{}",
                                           .length = given ? entry->job.length : 2,
                                           .path = batch->path != NULL ? path : NULL,
                                           .unlinked = true};
    batch->last.call = entry->call;
    answer_request(&request, reply, &batch->last.verdict);
}

static void
write_entry(struct batch *batch, const struct batch_entry *entry, const struct reply *reply)
{
    struct writer *const writer = &batch->writer;
    const size_t length =
        reply->length > 0 && reply->body[reply->length - 1] == '\n' ? reply->length - 1 : reply->length;
    buffer_add(writer->out, batch->answered > 0 ? ",\n" : "\n");
    writer->comma = false; /* it stands before the line break */
    writer_object(writer, NULL);
    writer_text_if(writer, "call", entry->call_text);
    writer_text_if(writer, "id", entry->id);
    writer_count(writer, "status", (size_t)reply->status);
    writer_json(writer, reply->status == 200 ? "answer" : "problem", reply->body, length);
    writer_object_end(writer);
    batch->answered++;
    batch->worst = reply->status > batch->worst ? reply->status : batch->worst;
    batch->last.status = reply->status;
    batch->last.problem = reply->problem;
}

bool
batch_next(struct batch *batch)
{
    struct json_part name, part;
    struct reply reply;
    struct batch_entry entry;
    if (batch->answered == batch->count) {
        return false;
    }
    json_walk_next(&batch->walk, &name, &part);
    if (batch_entry_read(&part, batch->answered, batch->path, &entry, &reply)) {
        if (batch->put_off_ms > 0) {
            answer_late(batch, &reply);
        } else {
            answer_job(batch, &entry, &reply);
        }
    }
    write_entry(batch, &entry, &reply);
    reply_clear(&reply);
    return true;
}

void
batch_put_off(struct batch *batch, long limit_ms)
{
    batch->put_off_ms = limit_ms;
}

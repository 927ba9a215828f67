/*
 * One call again and again, in process, so that its instructions can be
 * counted.
 *
 *   bench_calls STAGE CALL FORM TRACE TIMES < job
 *
 * STAGE is how far to go: "read" the job, "compute", or "write" the answer.
 * CALL "batch" reads a document of many jobs, and is always done whole.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "joint/joint.h"
#include "wire/answer.h"
#include "wire/batch.h"
#include "wire/job_read.h"
#include "wire/json_arena.h"
#include "wire/json_text.h"

enum { INPUT_MAX = 4 << 20 };

struct work {
    const char *stage, *job;
    size_t length;
    enum call call;
    enum answer_format format;
    unsigned trace;
    bool batch;
};

static bool
find_call(const char *word, enum call *call)
{
    for (int i = 0; i < CALL_COUNT; i++) {
        if (strcmp(call_row((enum call)i)->word, word) == 0) {
            *call = (enum call)i;
            return true;
        }
    }
    return strcmp(word, "batch") == 0;
}

static int
write_answer(const struct work *work)
{
    struct reply reply;
    enum verdict verdict;
    const struct answer_request request = {.call = work->call,
                                           .format = work->format,
                                           .body = work->job,
                                           .length = work->length,
                                           .path = "/v1/call",
                                           .public_url = "",
                                           .trace = work->trace};
    answer_request(&request, &reply, &verdict);
    const int status = reply.status;
    reply_clear(&reply);
    return status;
}

static int
write_batch(const struct work *work)
{
    struct batch batch;
    struct buffer out;
    struct reply reply;
    buffer_init(&out);
    if (!batch_begin(&batch, work->job, work->length, NULL, &out, &reply)) {
        reply_clear(&reply);
        return 400;
    }
    while (batch_next(&batch)) {
        buffer_empty(&out);
    }
    batch_end(&batch);
    buffer_clear(&out);
    return batch.worst;
}

static int
read_or_compute(const struct work *work)
{
    static struct job job;
    static struct report report;
    struct json_text_fault fault;
    struct fault_list faults;
    struct json_arena arena;
    json_arena_begin(&arena);
    json_t *root = json_text_read(work->job, work->length, &fault);
    const bool read = root != NULL && job_read(root, &job, &faults);
    json_arena_end(&arena, root);
    if (read && strcmp(work->stage, "compute") == 0) {
        joint_run(&job, work->call, &report);
    }
    return read ? 200 : 422;
}

static int
do_once(const struct work *work)
{
    if (work->batch) {
        return write_batch(work);
    }
    return strcmp(work->stage, "write") == 0 ? write_answer(work) : read_or_compute(work);
}

int
main(int argc, char **argv)
{
    static char input[INPUT_MAX];
    int status = 0;
    struct work work = {.job = input};
    if (argc != 6 || !find_call(argv[2], &work.call) || !answer_format_from(argv[3], &work.format)) {
        fprintf(stderr, "bench_calls STAGE CALL FORM TRACE TIMES < job\n");
        return 64;
    }
    json_arena_install();
    work.stage = argv[1];
    work.batch = strcmp(argv[2], "batch") == 0;
    work.trace = (unsigned)strtoul(argv[4], NULL, 10);
    work.length = fread(input, 1, sizeof input - 1, stdin);
    for (long times = strtol(argv[5], NULL, 10); times > 0; times--) {
        status = do_once(&work);
    }
    printf("%d\n", status);
    return 0;
}

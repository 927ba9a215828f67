#include "wire/answer.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "base/text.h"
#include "joint/joint.h"
#include "joint/size.h"
#include "wire/catalogue_write.h"
#include "wire/job_read.h"
#include "wire/json_text.h"
#include "wire/report_write.h"
#include "wire/service_write.h"
#include "wire/text_write.h"

static const char content_json[] = "application/json";
static const char content_problem[] = "application/problem+json";

static const struct {
    const char *word;
    const char *content_type;
} formats[] = {
    [ANSWER_JSON] = {"json", content_json},
    [ANSWER_MD] = {"md", "text/markdown; charset=utf-8"},
    [ANSWER_TXT] = {"txt", "text/plain; charset=utf-8"},
};

bool
answer_format_from(const char *word, enum answer_format *format)
{
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        if (strcmp(formats[i].word, word) == 0) {
            *format = (enum answer_format)i;
            return true;
        }
    }
    return false;
}

void
reply_clear(struct reply *reply)
{
    free(reply->owned);
    memset(reply, 0, sizeof *reply);
}

/* Hand what was written over to the reply; where memory ran out meanwhile, the
 * constant document that says so. */
static void
deliver(struct buffer *out, int status, const char *content_type, struct reply *reply)
{
    if (out->failed || out->at == NULL) {
        buffer_clear(out);
        *reply = (struct reply){.status = problem_row(PROBLEM_unavailable)->status,
                                .content_type = content_problem,
                                .body = problem_no_memory,
                                .length = problem_no_memory_length};
        return;
    }
    *reply = (struct reply){
        .status = status, .content_type = content_type, .body = out->at, .length = out->length, .owned = out->at};
}

/* ---- problems ---- */

static void
deliver_problem(enum problem problem, const char *detail, const char *instance, const struct fault_list *faults,
                struct reply *reply)
{
    struct buffer out;
    buffer_init(&out);
    problem_write(&out, problem, detail, instance, faults);
    deliver(&out, problem_row(problem)->status, content_problem, reply);
}

void
answer_problem(enum problem problem, const char *detail, const char *instance, struct reply *reply)
{
    deliver_problem(problem, detail, instance, NULL, reply);
}

/* One sentence on how many faults there are and what the first is. */
static void
refuse_job(const struct fault_list *faults, const char *instance, struct reply *reply)
{
    char detail[FAULT_POINTER_SIZE + FAULT_TEXT_SIZE + 64];
    const struct fault *first = &faults->fault[0];
    const size_t count = faults->count + faults->dropped;
    struct text text;
    text_init(&text, detail, sizeof detail);
    if (count > 1) {
        text_format(&text, "%s%zu faults in the document; the first%s%s: %s", faults->dropped > 0 ? "More than " : "",
                    faults->count, first->pointer[0] != '\0' ? " at " : "", first->pointer, first->detail);
    } else {
        text_format(&text, "%s%s%s", first->pointer, first->pointer[0] != '\0' ? ": " : "", first->detail);
    }
    deliver_problem(PROBLEM_invalid_job, detail, instance, faults, reply);
}

/* ---- computed answers ---- */

/* Complete a job and look for contradictions; a job to be solved for one
 * unknown stays as read, since its defaults follow from the unknown. */
static bool
job_holds(enum call call, struct job *job, struct fault_list *faults)
{
    if (call == CALL_size) {
        return size_accepts(job, faults);
    }
    job_complete(job);
    job_validate(job, faults);
    return faults->count == 0;
}

/* The job document, read and found free of contradictions. False, and the
 * reply filled, if it is not. */
static bool
job_from(const struct answer_request *request, struct job *job, struct reply *reply)
{
    struct json_text_fault fault;
    struct fault_list faults;
    json_t *root = json_text_read(request->body, request->length, &fault);
    if (root == NULL) {
        answer_problem(fault.problem, fault.detail, request->instance, reply);
        return false;
    }
    bool good = job_read(root, job, &faults);
    json_decref(root);
    good = good && job_holds(request->call, job, &faults);
    if (!good) {
        refuse_job(&faults, request->instance, reply);
    }
    return good;
}

/* Points of the curves over the cycle; how many, 0 where the loads are not
 * known. `count` is in ANSWER_TRACE_MIN..ANSWER_TRACE_MAX. */
static size_t
trace(const struct job *job, size_t count, struct trace_point *point)
{
    const double turns = job->engine.cycle == CHOICE_cycle_FOUR_STROKE ? 2.0 : 1.0;
    const double period_rad = turns * 2.0 * 3.14159265358979323846;
    for (size_t i = 0; i < count; i++) {
        if (!joint_trace(job, period_rad * (double)i / (double)count, &point[i])) {
            return 0;
        }
    }
    return count;
}

/* True where every number of the answer is finite. */
static bool
write_json(struct buffer *out, const struct answer_request *request, const struct job *job, const struct report *report)
{
    struct report_curves curves = {NULL, 0};
    if (request->call != CALL_load || request->trace < ANSWER_TRACE_MIN || request->trace > ANSWER_TRACE_MAX) {
        return report_write(out, job, report, &curves);
    }
    struct trace_point *point = calloc(request->trace, sizeof *point);
    if (point == NULL) {
        out->failed = true;
        return true;
    }
    curves.count = trace(job, request->trace, point);
    curves.point = point;
    const bool finite = report_write(out, job, report, &curves);
    free(point);
    return finite;
}

/* A number of ours is not finite: `what` names it, NULL = not known which. */
static void
refuse_defect(const char *what, const char *instance, struct reply *reply)
{
    char detail[FAULT_TEXT_SIZE];
    snprintf(detail, sizeof detail, "%s came out as no finite number, so nothing is answered.",
             what != NULL ? what : "A figure");
    answer_problem(PROBLEM_internal, detail, instance, reply);
}

void
answer_request(const struct answer_request *request, struct reply *reply, enum verdict *verdict)
{
    struct job job;
    struct report report;
    if (!job_from(request, &job, reply)) {
        return;
    }
    if (request->call == CALL_size) {
        const struct job asked = job;
        size_run(&asked, &job, &report);
    } else {
        joint_run(&job, request->call, &report);
    }
    bool finite = report.defect == NULL && report_is_finite(&report);
    struct buffer out;
    buffer_init(&out);
    if (finite && request->format == ANSWER_JSON) {
        finite = write_json(&out, request, &job, &report);
    } else if (finite && request->format == ANSWER_MD) {
        text_write_markdown(&out, &job, &report, request->link);
    } else if (finite) {
        text_write_plain(&out, &job, &report, request->link);
    }
    if (!finite) {
        buffer_clear(&out);
        refuse_defect(report.defect, request->instance, reply);
        return;
    }
    deliver(&out, 200, formats[request->format].content_type, reply);
    if (verdict != NULL && reply->status == 200) {
        *verdict = report.verdict;
    }
}

void
answer_call(enum call call, const char *body, size_t length, enum answer_format format, const char *instance,
            struct reply *reply, enum verdict *verdict)
{
    const struct answer_request request = {
        .call = call, .format = format, .body = body, .length = length, .instance = instance};
    answer_request(&request, reply, verdict);
}

/* ---- tables and index ---- */

/* There is no row of this id; `nearest` is the nearest, or NULL. */
static void
refuse_id(const struct catalogue *catalogue, const char *id, const char *nearest, struct reply *reply)
{
    char instance[FAULT_POINTER_SIZE];
    char detail[FAULT_TEXT_SIZE];
    struct text text;
    text_init(&text, instance, sizeof instance);
    text_format(&text, "/v1/%s/%s", catalogue->name, id);
    text_init(&text, detail, sizeof detail);
    text_format(&text, "The table %s has no such id", catalogue->name);
    if (nearest != NULL) {
        text_format(&text, "; the nearest is %s", nearest);
    }
    text_add(&text, ".");
    answer_problem(PROBLEM_not_found, detail, instance, reply);
}

bool
answer_table(const char *name, const char *id, struct reply *reply)
{
    const struct catalogue *catalogue = catalogue_find(name);
    if (catalogue == NULL) {
        return false;
    }
    struct buffer out;
    buffer_init(&out);
    if (id == NULL) {
        catalogue_write(&out, catalogue);
    } else {
        const char *nearest = NULL;
        if (!catalogue_write_row(&out, catalogue, id, &nearest)) {
            refuse_id(catalogue, id, nearest, reply);
            return true;
        }
    }
    deliver(&out, 200, content_json, reply);
    return true;
}

void
answer_index(struct reply *reply)
{
    struct buffer out;
    buffer_init(&out);
    service_write_index(&out);
    deliver(&out, 200, content_json, reply);
}

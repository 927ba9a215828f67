#include "wire/answer.h"

#include <stdio.h>

#include <jansson.h>

#include "base/text.h"
#include "joint/joint.h"
#include "joint/size.h"
#include "wire/curves.h"
#include "wire/drawing.h"
#include "wire/job_read.h"
#include "wire/json_arena.h"
#include "wire/json_text.h"
#include "wire/link_write.h"
#include "wire/page_write.h"
#include "wire/query_read.h"
#include "wire/record_complete.h"
#include "wire/report_write.h"
#include "wire/text_write.h"

unsigned
answer_forms(enum call call)
{
    const unsigned signed_form = call == CALL_order ? 1u << ANSWER_JWS : 0u;
    const unsigned picture = drawing_of(call) ? 1u << ANSWER_SVG : 0u;
    return 1u << ANSWER_JSON | 1u << ANSWER_MD | 1u << ANSWER_TXT | 1u << ANSWER_HTML | picture | signed_form;
}

/* ---- refusals ---- */

static void
refuse(const struct answer_request *request, struct refusal refusal, struct reply *reply)
{
    refusal.instance = request->path;
    reply_refuse(reply, &refusal, request->format);
}

/* One sentence on how many faults there are and what the first is. */
void
answer_refuse(const struct answer_request *request, const struct fault_list *faults, struct reply *reply)
{
    const bool by_name = request->query != NULL && !query_holds_document(request->query);
    const enum fault_place as = by_name ? PLACE_PARAMETER : PLACE_POINTER;
    char detail[FAULT_POINTER_SIZE + FAULT_TEXT_SIZE + 64], place[FAULT_POINTER_SIZE];
    const struct fault *first = &faults->fault[0];
    problem_place(place, first->pointer, as);
    struct text text;
    text_init(&text, detail, sizeof detail);
    if (faults->count + faults->dropped > 1) {
        text_format(&text, "%s%zu faults in the document; the first%s%s: %s", faults->dropped > 0 ? "More than " : "",
                    faults->count, place[0] != '\0' ? " at " : "", place, first->detail);
    } else {
        text_format(&text, "%s%s%s", place, place[0] != '\0' ? ": " : "", first->detail);
    }
    refuse(request, (struct refusal){.problem = PROBLEM_invalid_job, .detail = detail, .faults = faults, .place = as},
           reply);
}

/* A number of ours is not finite: `what` names it, NULL = not known which. */
static void
refuse_defect(const struct answer_request *request, const char *what, struct reply *reply)
{
    char detail[FAULT_TEXT_SIZE];
    snprintf(detail, sizeof detail, "%s came out as no finite number, so nothing is answered.",
             what != NULL ? what : "A figure");
    refuse(request, (struct refusal){.problem = PROBLEM_internal, .detail = detail}, reply);
}

/* ---- the job ---- */

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
    if (call == CALL_order) {
        order_validate(job, faults);
    }
    return faults->count == 0;
}

/* The link that asks for this job; nothing where it would be too long. */
static void
spell_link(const struct answer_request *request, json_t *root, struct buffer *link)
{
    if (request->path == NULL || request->unlinked || !call_row(request->call)->by_link) {
        return;
    }
    struct buffer whole;
    buffer_init(&whole);
    buffer_add(&whole, request->public_url != NULL ? request->public_url : "");
    if (link_write(&whole, request->path, root)) {
        *link = whole;
    } else {
        buffer_clear(&whole);
    }
}

/* The job asked for, read and found free of contradictions, and the link that
 * spells it. False, and the reply filled, if it is not. */
static bool
job_from(const struct answer_request *request, struct job *job, struct buffer *link, struct reply *reply)
{
    struct json_text_fault fault;
    struct fault_list faults;
    struct json_arena arena;
    json_arena_begin(&arena);
    json_t *root = request->query != NULL ? query_read(request->query, &fault)
                                          : json_text_read(request->body, request->length, &fault);
    if (root == NULL) {
        json_arena_end(&arena, NULL);
        refuse(request, (struct refusal){.problem = fault.problem, .detail = fault.detail}, reply);
        return false;
    }
    const bool good = job_read(root, job, &faults) && job_holds(request->call, job, &faults);
    if (good) {
        spell_link(request, root, link);
    } else {
        answer_refuse(request, &faults, reply);
    }
    json_arena_end(&arena, root);
    return good;
}

/* ---- the answer ---- */

/* True where every number of the answer is finite. */
static bool
write_json(struct buffer *out, const struct answer_request *request, const struct job *job, const struct report *report)
{
    struct report_curves curves = {NULL, 0};
    if (!curves_of(request->call) || request->trace < ANSWER_TRACE_MIN || request->trace > ANSWER_TRACE_MAX) {
        return report_write(out, job, report, &curves);
    }
    bool finite = true;
    if (curves_compute(&curves, job, request->trace)) {
        finite = report_write(out, job, report, &curves);
    } else {
        out->failed = true;
    }
    curves_clear(&curves);
    return finite;
}

/* True where every number of the answer is finite. */
static bool
write_form(struct buffer *out, const struct answer_request *request, const struct job *job, const struct report *report,
           const char *link)
{
    switch (request->format) {
    case ANSWER_JSON:
        return write_json(out, request, job, report);
    case ANSWER_MD:
        text_write_markdown(out, job, report, link);
        break;
    case ANSWER_HTML:
        page_write(out, job, report, link);
        break;
    case ANSWER_JWS:
        buffer_add(out, report->order.jws != NULL ? report->order.jws : "");
        break;
    case ANSWER_SVG:
        drawing_write(out, job, report, request->trace);
        break;
    case ANSWER_TXT:
    case ANSWER_FORMATS:
        text_write_plain(out, job, report, link);
        break;
    }
    return true;
}

/* The link, with what makes it ask for this very form, goes with the reply. */
static void
attach_link(const struct answer_request *request, struct buffer *link, struct reply *reply)
{
    char parameter[32];
    struct text text;
    if (request->trace > 0) {
        text_init(&text, parameter, sizeof parameter);
        text_format(&text, "trace=%u", request->trace);
        link_add(link, parameter);
    }
    if (request->format != ANSWER_JSON) {
        text_init(&text, parameter, sizeof parameter);
        text_format(&text, "format=%s", answer_form(request->format)->word);
        link_add(link, parameter);
    }
    if (link->failed || link->length > LINK_MAX) {
        buffer_clear(link);
    }
    reply->location = link->at;
    buffer_init(link);
}

static void
run(enum call call, struct job *job, struct report *report)
{
    if (call == CALL_size) {
        const struct job asked = *job;
        size_run(&asked, job, report);
    } else {
        joint_run(job, call, report);
    }
}

/* Ids and signature of a release record. False: refused. */
static bool
complete_record(const struct answer_request *request, const struct job *job, struct report *report, struct buffer *jws,
                struct reply *reply)
{
    if (request->call != CALL_order) {
        return true;
    }
    if (request->notary == NULL) {
        refuse(request,
               (struct refusal){.problem = PROBLEM_bad_request,
                                .detail = "Release records are not given here: POST the job to /v1/order."},
               reply);
        return false;
    }
    if (request->format == ANSWER_JWS && request->notary->sign == NULL) {
        refuse(request, (struct refusal){.problem = PROBLEM_not_acceptable, .detail = NOTARY_NO_KEY}, reply);
        return false;
    }
    switch (record_complete(request->notary, job, report, jws)) {
    case RECORD_COMPLETE:
        return true;
    case RECORD_NOT_FINITE:
        refuse_defect(request, report->defect, reply);
        break;
    case RECORD_NO_MEMORY:
        refuse(request, (struct refusal){.problem = PROBLEM_unavailable}, reply);
        break;
    case RECORD_NO_CRYPTO:
        refuse(request, (struct refusal){.problem = PROBLEM_internal, .detail = "The record could not be signed."},
               reply);
        break;
    }
    return false;
}

/* Write what was computed. The link, and what a signature takes, stay the
 * caller's. True if it is an answer. */
static bool
write_answer(const struct answer_request *request, const struct job *job, struct report *report, const char *link,
             struct buffer *jws, struct reply *reply)
{
    struct buffer out;
    buffer_init(&out);
    bool finite = report->defect == NULL && report_is_finite(report);
    if (finite && !complete_record(request, job, report, jws, reply)) {
        return false;
    }
    finite = finite && write_form(&out, request, job, report, link);
    if (!finite) {
        buffer_clear(&out);
        refuse_defect(request, report->defect, reply);
        return false;
    }
    reply_deliver(reply, &out, 200, answer_form(request->format)->content_type);
    return reply->status == 200;
}

void
answer_request(const struct answer_request *request, struct reply *reply, enum verdict *verdict)
{
    struct job job;
    struct report report;
    struct buffer link, jws;
    buffer_init(&link);
    buffer_init(&jws);
    if (!job_from(request, &job, &link, reply)) {
        return;
    }
    run(request->call, &job, &report);
    if (write_answer(request, &job, &report, link.at, &jws, reply)) {
        if (link.at != NULL) {
            attach_link(request, &link, reply);
        }
        if (verdict != NULL) {
            *verdict = report.verdict;
        }
    }
    buffer_clear(&link);
    buffer_clear(&jws);
}

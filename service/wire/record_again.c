#include "wire/record_again.h"

#include "joint/joint.h"
#include "wire/job_read.h"
#include "wire/message.h"
#include "wire/report_write.h"

static json_t *
order_of(const json_t *record)
{
    return json_object_get(json_object_get(record, "results"), "order");
}

bool
record_is_one(const json_t *record)
{
    const json_t *order = order_of(record);
    return json_is_string(json_object_get(order, "release")) && json_is_object(json_object_get(order, "job"));
}

enum { WHY_SIZE = FAULT_POINTER_SIZE + FAULT_TEXT_SIZE + 8 };

/* False, and one sentence in `why`, if today's service refuses the job. */
static bool
read_job(const json_t *record, struct job *job, char why[WHY_SIZE])
{
    struct fault_list faults;
    struct text text;
    if (job_read(json_object_get(order_of(record), "job"), job, &faults)) {
        job_complete(job);
        job_validate(job, &faults);
        order_validate(job, &faults);
    }
    if (faults.count == 0) {
        return true;
    }
    text_init(&text, why, WHY_SIZE);
    text_format(&text, "%s: %s", faults.fault[0].pointer, faults.fault[0].detail);
    return false;
}

void
record_again_write(struct writer *writer, const json_t *record)
{
    struct job job;
    struct report report;
    char why[WHY_SIZE];
    if (!read_job(record, &job, why)) {
        writer_text(writer, "not_judged_now", why);
        return;
    }
    joint_run(&job, CALL_order, &report);
    if (report.defect != NULL || !report_is_finite(&report)) {
        writer_text(writer, "not_judged_now", "A figure came out as no finite number.");
        return;
    }
    writer_text(writer, "verdict_now", verdict_text(report.verdict));
    writer_text(writer, "release_now", report.order.released ? "release" : "hold");
    writer_list(writer, "reasons_now");
    for (size_t i = 0; i < report.order.reason_count; i++) {
        struct message_text reason;
        message_render(&reason, &report.order.reason[i].text, job.units);
        writer_text(writer, NULL, reason.at);
    }
    writer_list_end(writer);
}

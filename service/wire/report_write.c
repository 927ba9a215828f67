#include "wire/report_write.h"

#include "wire/check_write.h"
#include "wire/message.h"
#include "wire/result_write.h"
#include "wire/service_write.h"
#include "wire/writer.h"

static void
write_next_steps(struct writer *writer, const struct job *job, const struct report *report)
{
    writer_list(writer, "next_steps");
    for (size_t i = 0; i < report->next_step_count; i++) {
        const struct next_step *step = &report->next_step[i];
        struct message_text text;
        message_render(&text, &step->text, job->units);
        writer_object(writer, NULL);
        writer_text(writer, "text", text.at);
        writer_text_if(writer, "at", job_field_pointer(step->at));
        if (step->has_to && step->at < FIELD_COUNT) {
            writer_quantity(writer, "to", step->to, job_field_row(step->at)->dimension, job->units);
        }
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_assumptions(struct writer *writer, const struct job *job, const struct report *report)
{
    writer_list(writer, "assumptions");
    for (size_t i = 0; i < report->assumption_count; i++) {
        const struct assumption *assumption = &report->assumption[i];
        struct message_text because;
        message_render(&because, &assumption->because, job->units);
        writer_object(writer, NULL);
        writer_text_if(writer, "at", job_field_pointer(assumption->at));
        if (assumption->kind == ASSUMED_QUANTITY) {
            writer_quantity(writer, "value", assumption->si, assumption->dimension, job->units);
        } else if (assumption->kind == ASSUMED_LIMITS) {
            writer_limits(writer, "value", assumption->si, assumption->high, assumption->dimension, job->units);
        } else if (assumption->kind == ASSUMED_WORD) {
            writer_text_if(writer, "value", assumption->word);
        }
        writer_text(writer, "because", because.at);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_cautions(struct writer *writer, const struct report *report)
{
    writer_list(writer, "cautions");
    for (size_t i = 0; i < report->caution_count; i++) {
        writer_text(writer, NULL, report->caution[i]);
    }
    writer_list_end(writer);
}

bool
report_write(struct buffer *out, const struct job *job, const struct report *report, const struct report_curves *curves)
{
    struct writer writer;
    struct message_text summary;
    writer_init(&writer, out);
    message_render(&summary, &report->summary, job->units);
    writer_object(&writer, NULL);
    service_write(&writer);
    writer_text_if(&writer, "label", job->label);
    writer_text(&writer, "verdict", verdict_text(report->verdict));
    writer_text(&writer, "summary", summary.at);
    write_next_steps(&writer, job, report);
    result_write(&writer, job, report, curves);
    check_write_judged(&writer, job, report);
    check_write_not_judged(&writer, job, report);
    write_assumptions(&writer, job, report);
    write_cautions(&writer, report);
    writer_object_end(&writer);
    buffer_add(out, "\n");
    return !writer.defect;
}

#include "wire/order_write.h"

#include "wire/job_write.h"
#include "wire/message.h"
#include "wire/part_write.h"

static void
write_reasons(struct writer *writer, const struct job *job, const struct order *order)
{
    writer_list(writer, "reasons");
    for (size_t i = 0; i < order->reason_count; i++) {
        const struct order_reason *reason = &order->reason[i];
        struct message_text text;
        message_render(&text, &reason->text, job->units);
        writer_object(writer, NULL);
        writer_text(writer, "code", order_reason_row(reason->code)->code);
        writer_text(writer, "text", text.at);
        writer_text_if(writer, "check", reason->check);
        writer_text_if(writer, "at", job_field_pointer(reason->at));
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

/* The buyer's own words, where there are any. */
static void
write_buyer(struct writer *writer, const struct job *job)
{
    if (job_known(job, FIELD_order_quantity)) {
        writer_number(writer, "quantity", job->order.quantity_count);
    }
    writer_text_if(writer, "reference", job->order.reference);
    writer_text_if(writer, "date", job->order.date);
}

void
order_write(struct writer *writer, const struct job *job, const struct order *order)
{
    size_t count = 0;
    writer_object(writer, "order");
    writer_text(writer, "release", order->released ? "release" : "hold");
    write_reasons(writer, job, order);
    writer_text(writer, "action", choice_table(CHOICE_SET_action, &count)[order->action].text);
    writer_text_if(writer, "supersedes", order->supersedes);
    write_buyer(writer, job);
    writer_text_if(writer, "part_id", order->part_id);
    part_write(writer, job, &order->part);
    job_write(writer, "job", job);
    writer_text_if(writer, "record_id", order->record_id);
    writer_text_if(writer, "jws", order->jws);
    writer_object_end(writer);
}

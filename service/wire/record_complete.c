#include "wire/record_complete.h"

#include "wire/part_text.h"
#include "wire/report_write.h"

static enum record_outcome
name_part(const struct notary *notary, const struct job *job, struct report *report)
{
    struct buffer text;
    if (!report->order.part.known) {
        return RECORD_COMPLETE;
    }
    buffer_init(&text);
    part_text_write(&text, job, report);
    enum record_outcome outcome = RECORD_NO_MEMORY;
    if (!text.failed && text.at != NULL) {
        outcome = notary->digest(text.at, text.length, report->order.part_id) ? RECORD_COMPLETE : RECORD_NO_CRYPTO;
    }
    buffer_clear(&text);
    return outcome;
}

static enum record_outcome
seal(const struct notary *notary, const char *payload, size_t length, struct order *order, struct buffer *jws)
{
    if (!notary->digest(payload, length, order->record_id)) {
        return RECORD_NO_CRYPTO;
    }
    if (notary->sign == NULL) {
        return RECORD_COMPLETE;
    }
    const bool made = notary->sign(notary->context, payload, length, jws);
    if (jws->failed) {
        return RECORD_NO_MEMORY;
    }
    order->jws = jws->at;
    order->key_id = notary->key_id;
    return made ? RECORD_COMPLETE : RECORD_NO_CRYPTO;
}

enum record_outcome
record_complete(const struct notary *notary, const struct job *job, struct report *report, struct buffer *jws)
{
    const struct report_curves none = {NULL, 0};
    enum record_outcome outcome = name_part(notary, job, report);
    if (outcome != RECORD_COMPLETE) {
        return outcome;
    }
    struct buffer payload;
    buffer_init(&payload);
    if (!report_write(&payload, job, report, &none)) {
        outcome = RECORD_NOT_FINITE;
    } else if (payload.failed || payload.length < 2) {
        outcome = RECORD_NO_MEMORY;
    } else {
        outcome = seal(notary, payload.at, payload.length - 1, &report->order, jws); /* without the line break */
    }
    buffer_clear(&payload);
    return outcome;
}

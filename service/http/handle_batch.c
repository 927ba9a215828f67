#include "http/handle.h"

#include <stdatomic.h>
#include <stdlib.h>

#include <civetweb.h>

#include "http/accept.h"
#include "http/deadline.h"
#include "http/exchange_stream.h"
#include "http/server.h"
#include "wire/batch.h"

static void
count_entry(const struct exchange *exchange, const struct batch_outcome *entry)
{
    struct metrics *metrics = &exchange->server->metrics;
    if (entry->status == 200) {
        metrics_count_verdict(metrics, entry->call, entry->verdict);
    } else {
        metrics_count_problem(metrics, entry->problem);
    }
}

/* Answer entry by entry into the stream. What counts against the limit is the
 * calculation, not the wait for a client that reads slowly, which has its own. */
static void
answer_entries(struct exchange *exchange, struct batch *batch, struct buffer *out)
{
    const int64_t limit_us = (int64_t)exchange->settings->batch_limit_ms * 1000;
    struct exchange_stream stream;
    int64_t spent_us = 0;
    bool more = true, taken = true;
    if (!exchange_stream_begin(&stream, exchange, "application/json")) {
        return;
    }
    while (more && taken && !out->failed) {
        const int64_t start_us = deadline_now_us();
        more = batch_next(batch);
        spent_us += deadline_now_us() - start_us;
        if (more) {
            count_entry(exchange, &batch->last);
        }
        if (!more) {
            batch_end(batch);
            exchange->calculation_us = spent_us;
        } else if (spent_us > limit_us) {
            batch_put_off(batch, exchange->settings->batch_limit_ms);
        }
        taken = out->failed || exchange_stream_write(&stream, out->at, out->length);
        buffer_empty(out);
    }
    exchange_stream_end(&stream, !out->failed);
}

static void
answer_batch(struct exchange *exchange)
{
    struct batch batch;
    struct buffer out;
    struct reply reply;
    char *body = NULL;
    size_t length = 0;
    if (!exchange_read_body(exchange, exchange->settings->max_batch, &body, &length)) {
        return;
    }
    buffer_init(&out);
    if (batch_begin(&batch, body, length, exchange->request->local_uri_raw, &out, &reply)) {
        answer_entries(exchange, &batch, &out);
    } else {
        exchange_send(exchange, &reply, CACHE_NOTHING);
        reply_clear(&reply);
    }
    buffer_clear(&out);
    free(body);
}

/* A batch takes more memory than anything else and holds its thread for longer,
 * so only so many are let in. */
void
handle_batch(struct exchange *exchange, const struct route_match *match)
{
    atomic_int *batches = &exchange->server->batches;
    (void)match;
    if (!exchange_negotiate(exchange, ACCEPT_BIT(ANSWER_JSON), false)) {
        return;
    }
    if (atomic_fetch_add(batches, 1) < exchange->settings->max_batches) {
        answer_batch(exchange);
    } else {
        exchange_refuse(exchange, PROBLEM_unavailable, "Enough other batches are being answered at the moment.");
    }
    atomic_fetch_sub(batches, 1);
}

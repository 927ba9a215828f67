#ifndef SMALLEND_WIRE_BATCH_H
#define SMALLEND_WIRE_BATCH_H

/*
 * Many jobs in one document, answered one after the other so that no more than
 * one of them, and its answer, is in memory besides the text:
 *
 *     {"jobs": [{"call": "check", "job": {...}, "id": "A-17"}, ...]}
 *
 *     {"service": {...}, "answers": [
 *     {"call": "check", "id": "A-17", "status": 200, "answer": {...}},
 *     {"call": "fit", "status": 422, "problem": {...}}
 *     ], "cautions": [...]}
 *
 * Entries are answered in their order, each on a line of its own, with the very
 * bytes that the single call would give (its last line break left out). `id` is
 * the client's and comes back; an absent job is {}. What is wrong with one entry
 * is told in its place: of its job with pointers into that job, of the entry
 * itself with pointers into the batch ("/jobs/3/call"). Only where it is not
 * certain what the entries are is the whole refused: the text is no JSON in its
 * outline (see json_outline.h), "jobs" is missing, no list, too long or there
 * twice, or something stands beside it.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/answer.h"
#include "wire/json_outline.h"
#include "wire/writer.h"

enum { BATCH_JOBS_MAX = 1000 };

/* How one entry was answered, for whoever counts. */
struct batch_outcome {
    int status;
    enum call call; /* these two are meaningful where the status is 200, */
    enum verdict verdict;
    enum problem problem; /* and this where it is another */
};

struct batch {
    struct json_walk walk; /* over "jobs"; borrows the text */
    size_t count;          /* entries in all */
    size_t answered;
    int worst;                 /* highest status of an entry so far; 200 if there is none */
    struct batch_outcome last; /* of the entry that batch_next has just answered */
    long put_off_ms;           /* see batch_put_off; 0 = not put off */
    const char *path;          /* borrowed; NULL = none */
    struct writer writer;      /* borrows the buffer */
};

/*
 * Look through `length` bytes of `text`. False: the whole is refused, and
 * *reply filled. Otherwise the beginning of the answer is written to `out`, which
 * stays the caller's. `path` is the one asked for, NULL without HTTP; it, the
 * text and the buffer must outlive the batch.
 */
bool batch_begin(struct batch *batch, const char *text, size_t length, const char *path, struct buffer *out,
                 struct reply *reply);

/* Append the answer to the next entry; false, and nothing, where none is left.
 * Between calls the buffer may be emptied. */
bool batch_next(struct batch *batch);

/* From here on answer 503 instead: the batch took longer than `limit_ms`. */
void batch_put_off(struct batch *batch, long limit_ms);

/* Append the end of the answer. */
void batch_end(struct batch *batch);

#endif

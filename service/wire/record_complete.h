#ifndef SMALLEND_WIRE_RECORD_COMPLETE_H
#define SMALLEND_WIRE_RECORD_COMPLETE_H

/*
 * What the core cannot give a release record: the id of the part, the id of the
 * record, the signature.
 *
 * The record proper, the payload that is hashed and signed, is the JSON answer
 * without record_id and jws and without the line break at its end; both are made
 * from it and stand last in results.order.
 */

#include "joint/report.h"
#include "wire/notary.h"

enum record_outcome {
    RECORD_COMPLETE,
    RECORD_NOT_FINITE, /* a number of ours is not: nothing may be answered */
    RECORD_NO_MEMORY,
    RECORD_NO_CRYPTO /* the notary could not hash or sign */
};

/*
 * Fill report->order.part_id, record_id, key_id and, where there is a key, jws,
 * which then borrows from *jws, the caller's.
 */
enum record_outcome record_complete(const struct notary *notary, const struct job *job, struct report *report,
                                    struct buffer *jws);

#endif

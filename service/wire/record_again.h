#ifndef SMALLEND_WIRE_RECORD_AGAIN_H
#define SMALLEND_WIRE_RECORD_AGAIN_H

/*
 * A release record of any age, under the rules of today: its job is read,
 * computed and judged as if it were sent now.
 */

#include <stdbool.h>

#include <jansson.h>

#include "wire/writer.h"

/* Is it a release record: a JSON object with results.order, its release and its
 * job? */
bool record_is_one(const json_t *record);

/*
 * Write the members verdict_now, release_now and reasons_now, or, where today's
 * service no longer reads the job, not_judged_now with one sentence why. The
 * record is one.
 */
void record_again_write(struct writer *writer, const json_t *record);

#endif

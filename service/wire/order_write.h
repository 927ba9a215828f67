#ifndef SMALLEND_WIRE_ORDER_WRITE_H
#define SMALLEND_WIRE_ORDER_WRITE_H

/* The member "order" of the results: the release record. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/writer.h"

/*
 * record_id and jws, which are made from the record without them, stand last,
 * where they are known.
 */
void order_write(struct writer *writer, const struct job *job, const struct order *order);

#endif

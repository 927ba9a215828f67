#ifndef SMALLEND_WIRE_TEXT_ORDER_H
#define SMALLEND_WIRE_TEXT_ORDER_H

/* A release record in words: release or hold and why, what to buy, what to
 * make, what to inspect, and by what ids the record and the part are known. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

enum text_dress { TEXT_PLAIN, TEXT_MARKDOWN };

/* Nothing where the report is of no order. */
void text_order_add(struct buffer *out, const struct job *job, const struct report *report, enum text_dress dress);

#endif

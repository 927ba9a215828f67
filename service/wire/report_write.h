#ifndef SMALLEND_WIRE_REPORT_WRITE_H
#define SMALLEND_WIRE_REPORT_WRITE_H

/* A report as the JSON document of the contract. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* Points of the curves over the cycle, evenly spaced; count 0 = none. */
struct report_curves {
    struct trace_point *point; /* not the writer's */
    size_t count;
};

/*
 * Write the answer into `out`. False where a number is not finite: the text
 * must then not be sent. (Want of memory shows in out->failed.)
 */
bool report_write(struct buffer *out, const struct job *job, const struct report *report,
                  const struct report_curves *curves);

/* Does any number that a reader would see lack a finite value? Gate for every
 * form of answer. */
bool report_is_finite(const struct report *report);

#endif

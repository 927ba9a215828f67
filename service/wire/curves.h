#ifndef SMALLEND_WIRE_CURVES_H
#define SMALLEND_WIRE_CURVES_H

/* The curves over the cycle, point by point. */

#include "wire/report_write.h"

/* Has the call's answer curves? */
bool curves_of(enum call call);

/*
 * Compute `count` points over the whole cycle of a completed job into *curves,
 * which owns them; none where the loads are not known. False if memory ran out.
 */
bool curves_compute(struct report_curves *curves, const struct job *job, size_t count);

void curves_clear(struct report_curves *curves);

#endif

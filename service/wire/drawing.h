#ifndef SMALLEND_WIRE_DRAWING_H
#define SMALLEND_WIRE_DRAWING_H

/* The picture that goes with an answer. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* Has the call one? */
bool drawing_of(enum call call);

/*
 * Write it as SVG: the joint for check, slot and fit; for load the curves over
 * the cycle, of `points` points, 0 for as many as the width of the picture shows.
 */
void drawing_write(struct buffer *out, const struct job *job, const struct report *report, unsigned points);

#endif

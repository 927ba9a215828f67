#ifndef SMALLEND_WIRE_SKETCH_H
#define SMALLEND_WIRE_SKETCH_H

/* An answer as a picture: the joint drawn to scale, with its dimensions, and the
 * load and bending moment along the pin. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/*
 * Write the picture of a completed, valid job and its report into `out` (want of
 * memory shows in out->failed). Meant for the calls check, slot and fit; of any
 * other it draws the joint all the same. What the job does not say is left out or
 * dashed; where it says nothing of the joint, the picture says what to give.
 */
void sketch_write(struct buffer *out, const struct job *job, const struct report *report);

#endif

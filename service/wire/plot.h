#ifndef SMALLEND_WIRE_PLOT_H
#define SMALLEND_WIRE_PLOT_H

/* The loads over the cycle as a picture. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"
#include "wire/report_write.h"

/*
 * Write the picture of a completed, valid job and its report of the call load:
 * cylinder pressure, and below it the forces on the pin, against the angle of the
 * crank. Curves of more points than can be told apart are thinned; with none, the
 * picture says what to give. (Want of memory shows in out->failed.)
 */
void plot_write(struct buffer *out, const struct job *job, const struct report *report,
                const struct report_curves *curves);

#endif

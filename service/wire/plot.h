#ifndef SMALLEND_WIRE_PLOT_H
#define SMALLEND_WIRE_PLOT_H

/*
 * The cycle as a picture: cylinder pressure, and the forces on the pin, over
 * the crank angle. Where there are no curves it says what they need.
 */

#include "wire/report_write.h"

void plot_write(struct buffer *out, const struct job *job, const struct report *report,
                const struct report_curves *curves);

#endif

#ifndef SMALLEND_WIRE_PART_TEXT_H
#define SMALLEND_WIRE_PART_TEXT_H

/*
 * The members that define the pin alone, in one text whose hash names the
 * part: two jobs that ask for the same pin give the same text, whatever engine
 * it is for and in whatever units and words it was asked for. One line for each
 * member, in a fixed order, sizes in whole tenths of a nanometer, strengths in
 * whole pascals, hardness in thousandths. Defaults count as if they had been
 * given. Left out is what follows from the joint rather than from the pin:
 * blank, bolt, screws, tolerances of slot and length.
 */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* The report is that of an order whose part is known. */
void part_text_write(struct buffer *out, const struct job *job, const struct report *report);

#endif

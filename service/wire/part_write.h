#ifndef SMALLEND_WIRE_PART_WRITE_H
#define SMALLEND_WIRE_PART_WRITE_H

/* The member "part" of a release record: what to buy, make and inspect. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/writer.h"

/* Nothing where the part is not known. */
void part_write(struct writer *writer, const struct job *job, const struct order_part *part);

#endif

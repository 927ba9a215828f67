#ifndef SMALLEND_WIRE_SIZE_WRITE_H
#define SMALLEND_WIRE_SIZE_WRITE_H

/* The member "size" of the results: what a search for one unknown found. */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/writer.h"

void size_write(struct writer *writer, const struct job *job, const struct size *size);

#endif

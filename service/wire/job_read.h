#ifndef SMALLEND_WIRE_JOB_READ_H
#define SMALLEND_WIRE_JOB_READ_H

/*
 * From a job document to struct job. Nothing here knows a member by name but
 * "units" and "label": the descriptors of joint/job.h say what there is, so a
 * new row of job.def is read without a change here.
 */

#include <stdbool.h>

#include <jansson.h>

#include "base/fault.h"
#include "joint/job.h"

/* The longest label, in characters. */
enum { JOB_LABEL_CHARACTERS = 120 };

/*
 * Read the document `root` into *job, which is overwritten whole, and every
 * fault found into *faults, likewise. True if there was none. The job borrows
 * nothing from the document. Defaults are not filled: see job_complete.
 */
bool job_read(json_t *root, struct job *job, struct fault_list *faults);

#endif

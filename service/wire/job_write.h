#ifndef SMALLEND_WIRE_JOB_WRITE_H
#define SMALLEND_WIRE_JOB_WRITE_H

/*
 * A job as a document again, in one spelling: what the client gave, in the
 * order of job.def, each quantity as a number in the document's unit where
 * such a number reads back unchanged, else as text with a unit that does.
 * Defaults that stand in for a member are not written, so that they are still
 * defaults, and assumptions, when the document is read again.
 *
 * job_read makes of it a job that equals the first in every value and state:
 * the same call then gives the same answer, byte for byte, but for the texts
 * of faults. Two documents that differ only in how they spell their values
 * (1 3/8 in, 1.375, 34.925 mm) give the same text if their unit systems are the
 * same.
 */

#include "joint/job.h"
#include "wire/writer.h"

/* The job may be completed or not. */
void job_write(struct writer *writer, const char *key, const struct job *job);

#endif

#ifndef SMALLEND_JOINT_JOINT_H
#define SMALLEND_JOINT_JOINT_H

/* The engineering core's public calls. No heap, no globals, no I/O. */

#include "joint/job.h"
#include "joint/report.h"

/*
 * Compute and judge. `job` is completed (job_complete) and valid
 * (job_validate found nothing). The report is overwritten whole. Check
 * report->defect afterwards: non-NULL means a fault of ours.
 */
void joint_run(const struct job *job, enum call call, struct report *report);

/* Points of the curves over the cycle: each comes with its crank angle from the
 * firing dead center and gets the rest; false where the loads are not known. */
bool joint_trace(const struct job *job, struct trace_point *point, size_t count);

#endif

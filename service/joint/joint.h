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

/* One point of the curves over the cycle, `crank_angle_rad` from the firing
 * dead centre; false where the loads are not known. */
bool joint_trace(const struct job *job, double crank_angle_rad, struct trace_point *point);

#endif

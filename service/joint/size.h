#ifndef SMALLEND_JOINT_SIZE_H
#define SMALLEND_JOINT_SIZE_H

/*
 * Solving for one unknown: the smallest or largest value of a member that
 * keeps every check of the joint, or the steels that do.
 *
 * Nothing is taken for monotone. The range is scanned, each gap between a
 * passing and a failing value is narrowed by bisection, and where no value of
 * the scan passes the best spots between are searched, so that a narrow window
 * is found too. Values that contradict the rest of the document do not pass.
 */

#include "joint/job.h"
#include "joint/report.h"

/*
 * Check find.what, find.from, find.to and find.among before searching; adds
 * faults (missing, out_of_range, wrong_type ...) and returns false if there
 * are any. `job` is as read, not completed.
 */
bool size_accepts(const struct job *job, struct fault_list *faults);

/*
 * Search, and fill the report: report->size, and everything else as
 * joint_run gives it for the joint with the value found (or, where none
 * passes, with the value that comes nearest). `job` is as read, not completed;
 * *solved is the completed job of that answer. size_accepts must have held.
 */
void size_run(const struct job *job, struct job *solved, struct report *report);

/*
 * The next size that can be bought or set, at or beyond `si` in the direction
 * of `up`: sixteenths of an inch or bright bar for diameters and lengths,
 * cutters, bolts, whole units of torque, pressure and speed, by the member.
 * False where the member has no such ladder.
 */
bool size_practical(enum job_field field, enum unit_system units, double si, bool up, double *practical_si);

#endif

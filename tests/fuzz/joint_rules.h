#ifndef SMALLEND_TESTS_FUZZ_JOINT_RULES_H
#define SMALLEND_TESTS_FUZZ_JOINT_RULES_H

/* What holds for the report of any valid job. */

#include "joint/report.h"

void hold_faults(const struct fault_list *faults);

/* `job` is the completed job that the report answers. */
void hold_report(const struct job *job, const struct report *report);

/* Points of the load curve, against the report that gives its extremes. */
void hold_trace(const struct job *job, const struct report *report);

#endif

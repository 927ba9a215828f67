#ifndef SMALLEND_JOINT_RUN_H
#define SMALLEND_JOINT_RUN_H

/* Steps of joint_run that sizing repeats for each value it tries. */

#include "joint/check.h"
#include "joint/derived.h"
#include "joint/report.h"

/* Judge a check, if it is one of these sections, into a finding that is zeroed:
 * trials need no report. */
void run_judge_one(const struct job *job, const struct derived *derived, section_set sections,
                   const struct check *check, struct finding *finding);

/* A finding whose numbers are not all finite is a fault of ours. */
bool run_finding_is_finite(const struct finding *finding);

#endif

#ifndef SMALLEND_JOINT_RUN_H
#define SMALLEND_JOINT_RUN_H

/* Steps of joint_run that sizing repeats for each value it tries. */

#include "joint/check.h"
#include "joint/derived.h"
#include "joint/report.h"

/* Judge the checks of these sections into report->finding, which must be
 * zeroed. */
void run_judge(const struct job *job, const struct derived *derived, section_set sections, struct report *report);

/* The same of one check, into a finding that is zeroed: for trials, which need
 * no report. */
void run_judge_one(const struct job *job, const struct derived *derived, section_set sections,
                   const struct check *check, struct finding *finding);

/* A finding whose numbers are not all finite is a fault of ours. */
bool run_finding_is_finite(const struct finding *finding);

#endif

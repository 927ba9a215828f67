#ifndef SMALLEND_JOINT_RUN_H
#define SMALLEND_JOINT_RUN_H

/* Steps of joint_run that sizing repeats for each value it tries. */

#include "joint/derived.h"
#include "joint/report.h"

/* Judge the checks of these sections into report->finding, which must be
 * zeroed. */
void run_judge(const struct job *job, const struct derived *derived, section_set sections, struct report *report);

#endif

#ifndef SMALLEND_JOINT_CONCLUDE_H
#define SMALLEND_JOINT_CONCLUDE_H

/* From the findings to the answer: verdict, summary, next steps, assumptions
 * used, cautions. */

#include "joint/check.h"

/* Upper end of the band of peak over compression pressure. */
#define PRESSURE_RISE_HIGH 5.0

/* conclude.c: the whole of it. */
void conclude(const struct job *job, const struct derived *derived, struct report *report);

/* Judged, and it applies to this joint. */
bool finding_counts(const struct finding *finding);

/* How many checks of these sections were judged. */
size_t report_judged_in(const struct report *report, section_set sections);

/* Index of the check that uses most of its limit, FINDING_MAX if none. */
size_t report_nearest_limit(const struct report *report);

/* conclude_size.c: what report->size says, as summary and first step. */
void conclude_size(struct report *report);

/* conclude_inspection.c: the decision in plain words, and where to take off how
 * much. */
void conclude_inspection(const struct job *job, const struct derived *derived, struct report *report);

/* conclude_turning.c: what to do at the lathe. */
void conclude_turning(const struct job *job, const struct derived *derived, struct report *report);

/* order.c: the release record: part, release or hold with reasons, and what
 * that means for verdict, summary and next steps. */
void order_conclude(const struct job *job, const struct derived *derived, struct report *report);

/* assume.c: list the assumptions that the answer rests on. */
void assume(const struct job *job, const struct derived *derived, struct report *report);

/*
 * The peak pressure is an estimate: say in the assumption about
 * pressure_rise_ratio where the worst check would stand at the upper end of
 * the band, as judged in `higher`.
 */
void assume_estimate(const struct report *higher, struct report *report);

#endif

#ifndef SMALLEND_JOINT_INSPECTION_H
#define SMALLEND_JOINT_INSPECTION_H

/* What the checks and the conclusion of an inspection share. */

#include "joint/clearance_rule.h"
#include "joint/derived.h"

/* The words of struct inspection's `decision`. */
extern const char inspection_accept[];
extern const char inspection_rework[];
extern const char inspection_reject[];
extern const char inspection_undecided[];

/* Expansion of the part measured: of the pin's steel, else plain steel; of the
 * metal that the hole grows with. */
double inspection_expansion_per_K(const struct job *job);

/*
 * Expanded uncertainty (k = 2) of a reading with a plain outside micrometer at
 * this resolution, in the unit system of the job: limit of error 0.0001 in or
 * 4 um, part and instrument within 2 K of each other. Needs readings and
 * resolution.
 */
double inspection_uncertainty_m(const struct job *job);

/* The clearance wanted between the part measured and its mate: as given, else
 * the trade's rule. */
struct clearance_rule inspection_wanted(const struct job *job, const struct inspection *inspection);

/*
 * How to take so much metal off the diameter of a pin, or out of a hole
 * (common practice, no source).
 */
const char *inspection_method(bool hole, double amount_m);

#endif

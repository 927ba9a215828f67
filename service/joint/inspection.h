#ifndef SMALLEND_JOINT_INSPECTION_H
#define SMALLEND_JOINT_INSPECTION_H

/* What the checks and the conclusion of an inspection share. */

#include "joint/clearance_rule.h"
#include "joint/derived.h"
#include "joint/measure.h"

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
 * Does the inspection rest on this member, pin.steel or running_fit.hole_metal?
 * Only on that of the part measured, and only where its growth enters: it was
 * not measured at 20 degC, or the uncertainty is worked out.
 */
bool inspection_rests_on(const struct job *job, enum job_field metal);

/* ---- inspection_removal.c ---- */

/* A pin's size as it is, a hole's with the sign turned: larger is more metal. */
double inspection_metal_m(bool hole, double size_m);

/* Is so much out-of-round beyond what is accepted? */
bool inspection_round_is_beyond(const struct inspection *inspection, double out_of_round_m);

/*
 * What to take off each station so that the part is straight and every reading
 * passes, at the least loss of metal. `window` is seen from the metal, `step_m`
 * what the instrument shows. Where the decision is to rework: the least metal
 * then lies inside the window, or the instrument is coarse.
 */
void inspection_plan_removal(struct inspection *inspection, const struct measure_window *window, double step_m,
                             bool hole);

/*
 * How to take so much metal off the diameter of a pin, or out of a hole
 * (common practice, no source).
 */
const char *inspection_method(bool hole, double amount_m);

/* How to make round what is not (common practice, no source). */
const char *inspection_method_to_true_up(bool hole);

#endif

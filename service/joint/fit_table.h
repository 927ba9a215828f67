#ifndef SMALLEND_JOINT_FIT_TABLE_H
#define SMALLEND_JOINT_FIT_TABLE_H

/*
 * Behind fit.h: the two systems of fits, each answering for its own classes.
 * A class is known by its place in the .def file; its steps are numbered from
 * zero, small sizes first.
 */

#include "joint/fit.h"

enum fit_iso286_class {
#define ISO_TOLERANCE(over, to, ...)
#define ISO_SHAFT(over, to, ...)
#define ISO_HOLE(over, to, ...)
#define ISO_CLASS(class, side, limit, column, grade, key, description) FIT_ISO286_##class,
#include "joint/iso286.def"
    FIT_ISO286_COUNT
};

enum {
#define B41_CLASS(class, how, key, description) +1
#define B41(class, over, to, hole_upper, shaft_upper, shaft_lower, least, greatest)
    FIT_B41_COUNT = 0
#include "joint/b41.def"
};

/* Deviations of a class at one of its steps; false past the last step. */
bool fit_iso286_step(size_t which, size_t index, struct fit_step *step);
bool fit_b41_step(size_t which, size_t index, struct fit_step *step);

/* The same at the step that a size falls into; false if it falls into none. */
bool fit_iso286_at(size_t which, double nominal_m, struct fit_step *step);
bool fit_b41_at(size_t which, double nominal_m, struct fit_step *step);

/* Which step of ISO 286 that is: the same one in all its classes. */
bool fit_iso286_index(double nominal_m, size_t *index);
/* Class after class of B4.1 that has a step for a size, begun with *row zero;
 * false past the last. */
bool fit_b41_next(size_t *row, double nominal_m, size_t *which, struct fit_step *step);

/* Does a size fall into a step: over, up to and including? */
bool fit_step_takes(double over_m, double to_m, double nominal_m);

#endif

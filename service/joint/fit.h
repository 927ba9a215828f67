#ifndef SMALLEND_JOINT_FIT_H
#define SMALLEND_JOINT_FIT_H

/*
 * Standard limits and fits: ISO 286 (iso286.def, over 0 up to 180 mm) and
 * ANSI B4.1 (b41.def, over 0.40 up to 4.73 in), as tables, not formulas.
 * A size on the boundary of two steps belongs to the lower.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"

enum { FIT_CLASS_SIZE = 12 };

/* Limits of size, as read from {min, max}, {nominal, upper, lower}, a class or
 * a bare size. */
struct limits {
    double min_m, max_m;
    double nominal_m;                /* 0 = none was named */
    char class_name[FIT_CLASS_SIZE]; /* "" = none was named */
};

enum fit_side { FIT_SIDE_NONE, FIT_SIDE_SHAFT, FIT_SIDE_HOLE };

enum fit_status {
    FIT_OK,
    FIT_UNKNOWN_CLASS,  /* no such class in the tables */
    FIT_WRONG_SIDE,     /* a hole class for a shaft or the reverse */
    FIT_OUT_OF_RANGE    /* the tables do not reach this size */
};

/*
 * Limits of a nominal size in a class: ISO 286 ("g6" for a shaft, "H7" for a
 * hole: the case of the letter counts) or B4.1 ("RC4", side says which column;
 * FN classes likewise). *limits is untouched unless FIT_OK.
 */
enum fit_status fit_limits(double nominal_m, const char *class_name, enum fit_side side, struct limits *limits)
    __attribute__((warn_unused_result));

/* A standard fit at a diameter: hole and shaft together. */
struct fit_match {
    char designation[24];     /* "H7/g6", "RC4" */
    double clearance_min_m;   /* negative is interference */
    double clearance_max_m;
    double distance_m;        /* how far its window is from the one sought */
};

/*
 * The standard fits whose clearance window is nearest to the window given, at
 * this diameter: hole-basis ISO fits (H6 to H9 with f to s shafts) and B4.1
 * classes, nearest first (sum of the distances of both ends). Writes at most
 * `capacity` and returns how many.
 */
size_t fit_nearest(double diameter_m, double clearance_min_m, double clearance_max_m, struct fit_match *match,
                   size_t capacity);

/* Rows for the served table: one per class. */
struct fit_class {
    const char *id;          /* "RC4", "g6", "H7" */
    const char *system;      /* "ISO 286" or "ANSI B4.1" */
    enum fit_side side;      /* NONE for a B4.1 class: it names both */
    const char *description; /* "" = none */
    const char *source;      /* key in source.def */
};
const struct fit_class *fit_class_table(size_t *count);

/* Step of the tables that a class covers, for the served table. Returns false
 * past the last; sizes in m, deviations in m. shaft or hole columns that the
 * class does not have are NaN-free zeros with the has_ flags false. */
struct fit_step {
    double over_m, to_m;
    bool has_hole, has_shaft;
    double hole_lower_m, hole_upper_m, shaft_lower_m, shaft_upper_m;
    const char *provenance;
};
bool fit_class_step(const struct fit_class *row, size_t index, struct fit_step *step);

#endif

#include "joint/thread.h"

#include <string.h>

#include "joint/printed.h"

/* clang-format off */
static const struct screw_hold holds[] = {
#define SCREW_HOLD(size, inch, torque_lbf_in, axial_lbf, key, note)                                                    \
    {size, SI_PER_INCH * (inch), SI_PER_LBF_IN * (torque_lbf_in), SI_PER_LBF * (axial_lbf), key, note},
#define SCREW_POINT(point, factor, key)
#include "joint/screw_hold.def"
};

static const struct screw_point points[] = {
#define SCREW_HOLD(size, inch, torque_lbf_in, axial_lbf, key, note)
#define SCREW_POINT(point, factor, key) {point, factor, key},
#include "joint/screw_hold.def"
};
/* clang-format on */

enum { HOLD_COUNT = sizeof holds / sizeof holds[0], POINT_COUNT = sizeof points / sizeof points[0] };

/* A diameter in m is off by rounding where it was typed in inches. */
static const double SAME_DIAMETER_m = 1e-9;

const struct screw_hold *
screw_hold_table(size_t *count)
{
    *count = HOLD_COUNT;
    return holds;
}

const struct screw_hold *
screw_hold_find(double diameter_m)
{
    const struct screw_hold *found = NULL;

    for (size_t i = 0; i < HOLD_COUNT && holds[i].diameter_m <= diameter_m + SAME_DIAMETER_m; i++) {
        found = &holds[i];
    }
    return found;
}

const struct screw_point *
screw_point_table(size_t *count)
{
    *count = POINT_COUNT;
    return points;
}

double
screw_point_factor(const char *point)
{
    for (size_t i = 0; i < POINT_COUNT; i++) {
        if (strcmp(points[i].point, point) == 0) {
            return points[i].factor;
        }
    }
    return 0.0;
}

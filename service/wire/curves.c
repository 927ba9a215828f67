#include "wire/curves.h"

#include <stdlib.h>

#include "joint/joint.h"

bool
curves_of(enum call call)
{
    return call == CALL_load;
}

bool
curves_compute(struct report_curves *curves, const struct job *job, size_t count)
{
    const double turns = job->engine.cycle == CHOICE_cycle_FOUR_STROKE ? 2.0 : 1.0;
    const double period_rad = turns * 2.0 * 3.14159265358979323846;
    struct trace_point *point = calloc(count, sizeof *point);
    *curves = (struct report_curves){.point = point};
    if (point == NULL) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        point[i].crank_angle_rad = period_rad * (double)i / (double)count;
    }
    curves->count = joint_trace(job, point, count) ? count : 0;
    return true;
}

void
curves_clear(struct report_curves *curves)
{
    free(curves->point);
    *curves = (struct report_curves){.count = 0};
}

#ifndef SMALLEND_WIRE_SKETCH_AXIS_H
#define SMALLEND_WIRE_SKETCH_AXIS_H

/*
 * Where a place on the joint lies on the paper. One scale along and across the
 * pin, as long as both can be read; else
 *  - a short thick joint is drawn longer by a whole factor;
 *  - one that is then too long, or was, is shortened: its longest plain stretches
 *    are broken, a piece of each left out.
 * Both are said in the picture's notes. Clearances too fine to be seen are drawn
 * SKETCH_CLEARANCE wide; the pin, the eye and the bore keep their scale.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/sketch_joint.h"

enum { SKETCH_STRETCH_MAX = 10 };

/* Least width of a clearance on the paper. */
#define SKETCH_CLEARANCE 2.5

struct sketch_axis {
    double x, y;         /* middle of the pin on the paper */
    double scale;        /* pixels per m, across the pin */
    double lengthened;   /* scale along the pin over scale across; 1, or 2, 5, 10 ... */
    bool shortened;      /* some stretch is broken */
    bool widened;        /* some clearance is drawn wider than it is */
    size_t count;        /* places along half the pin, from its middle outward */
    double z_m[SKETCH_STRETCH_MAX + 1];
    double out[SKETCH_STRETCH_MAX + 1]; /* pixels from the middle */
    bool broken[SKETCH_STRETCH_MAX + 1]; /* the stretch that ends at this place */
};

/* Lay half the joint out over `half_width` pixels, and what stands up from the
 * pin's axis over `height`. */
void sketch_axis_fit(struct sketch_axis *axis, const struct sketch_joint *joint, double half_width, double height);

/* The place z_m on the paper, + to the right. */
double sketch_axis_x(const struct sketch_axis *axis, double z_m);

/* Distance from the axis on the paper. */
static inline double
sketch_axis_off(const struct sketch_axis *axis, double distance_m)
{
    return axis->scale * distance_m;
}

#endif

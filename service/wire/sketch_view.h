#ifndef SMALLEND_WIRE_SKETCH_VIEW_H
#define SMALLEND_WIRE_SKETCH_VIEW_H

/* The parts of the picture, each drawn where the layout of sketch.c puts it. */

#include "quantity/unit.h"
#include "wire/buffer.h"
#include "wire/sketch_axis.h"
#include "wire/sketch_joint.h"
#include "wire/svg_dimension.h"

struct sketch_view {
    const struct sketch_joint *joint;
    struct sketch_axis axis; /* places on the section along the pin */
    enum unit_system units;
};

/* The section along the pin, about axis.x and axis.y. */
void sketch_section_draw(struct buffer *out, const struct sketch_view *view);

/* Its lengths, stacked below; laid out, to be drawn by svg_stack_draw. */
void sketch_section_lengths(const struct sketch_view *view, double below, struct svg_stack *stack);

/* Its diameters, stacked at the left. */
void sketch_section_diameters(const struct sketch_view *view, struct svg_stack *stack);

/* The view along the pin, its middle at (x, y), with the scale of the section. */
void sketch_cross_draw(struct buffer *out, const struct sketch_view *view, double x, double y);

/* Load and bending moment along the pin, `SKETCH_DIAGRAM` high from `top` on;
 * only where the load is known. */
#define SKETCH_DIAGRAM 132.0
void sketch_moment_draw(struct buffer *out, const struct sketch_view *view, double top);

#endif

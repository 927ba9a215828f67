#include "wire/sketch_view.h"

#include <math.h>

/* What the cutter took, seen along the pin: all above the floor's height. */
static void
draw_slot(struct buffer *out, const struct sketch_view *view, double x, double y)
{
    enum { STEPS = 16 };
    const struct sketch_joint *joint = view->joint;
    struct svg_point point[STEPS + 1];
    const double radius_m = joint->diameter.m / 2.0, floor_m = radius_m - joint->slot_depth_m;
    const double half_angle = acos(fmax(-1.0, floor_m / radius_m));
    for (int i = 0; i <= STEPS; i++) {
        const double angle = half_angle * (2.0 * i / STEPS - 1.0);
        point[i].x = x + sketch_axis_off(&view->axis, radius_m * sin(angle));
        point[i].y = y - sketch_axis_off(&view->axis, radius_m * cos(angle));
    }
    svg_polyline(out, point, STEPS + 1, true, SVG_INK_NONE, SVG_FILL_PAPER);
    svg_line(out, point[0].x, point[0].y, point[STEPS].x, point[STEPS].y, SVG_INK_OUTLINE);
}

/* The clamp bolt across the split of the eye. */
static void
draw_bolt(struct buffer *out, const struct sketch_view *view, double x, double y)
{
    const struct sketch_joint *joint = view->joint;
    const double half = sketch_axis_off(&view->axis, joint->bolt_m / 2.0);
    const double at = y - sketch_axis_off(&view->axis, joint->bolt_offset_m);
    const double reach = sketch_axis_off(&view->axis, joint->eye_drawn_m / 2.0);
    svg_rect(out, x - 1.5, y - reach - 1.0, x + 1.5, y - sketch_axis_off(&view->axis, joint->diameter.m / 2.0),
             SVG_INK_THIN, SVG_FILL_PAPER);
    svg_rect(out, x - reach, at - half, x + reach, at + half, SVG_INK_OUTLINE, SVG_FILL_BOLT);
}

void
sketch_cross_draw(struct buffer *out, const struct sketch_view *view, double x, double y)
{
    const struct sketch_joint *joint = view->joint;
    const double eye = sketch_axis_off(&view->axis, joint->eye_drawn_m / 2.0);
    const double pin = sketch_axis_off(&view->axis, joint->diameter.m / 2.0);
    const double wall = sketch_axis_off(&view->axis, joint->eye_wall_m);
    svg_ellipse(out, x, y, eye, eye, joint->eye_outside.known == SKETCH_GIVEN ? SVG_INK_OUTLINE : SVG_INK_DASHED,
                SVG_FILL_EYE);
    if (joint->has_bolt) {
        draw_bolt(out, view, x, y);
    }
    if (wall > 0.0) {
        svg_ellipse(out, x, y, pin + wall, pin + wall, SVG_INK_THIN, SVG_FILL_BUSHING);
    }
    svg_ellipse(out, x, y, pin, pin, joint->diameter.known == SKETCH_GIVEN ? SVG_INK_OUTLINE : SVG_INK_DASHED,
                SVG_FILL_SHADE);
    if (joint->inside.m > 0.0) {
        const double inside = sketch_axis_off(&view->axis, joint->inside.m / 2.0);
        svg_ellipse(out, x, y, inside, inside, SVG_INK_THIN, SVG_FILL_PAPER);
    }
    if (joint->has_slot) {
        draw_slot(out, view, x, y);
    }
    svg_line(out, x - eye - 6.0, y, x + eye + 6.0, y, SVG_INK_CENTRE);
    svg_line(out, x, y - eye - 6.0, x, y + eye + 6.0, SVG_INK_CENTRE);
    if (joint->has_slot && joint->has_bolt) { /* the bolt lies in the slot */
        const double half = sketch_axis_off(&view->axis, joint->bolt_m / 2.0);
        const double at = y - sketch_axis_off(&view->axis, joint->bolt_offset_m);
        svg_line(out, x - pin, at + half, x + pin, at + half, SVG_INK_OUTLINE);
    }
}

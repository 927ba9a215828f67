#include "wire/sketch_part.h"

#include <math.h>

/* The pin with its slot, the clamp bolt over it, and the set screws, cut along
 * the pin. */

/* Half the slot's width along the pin, as far as there is pin. */
static double
slot_reach_m(const struct sketch_joint *joint)
{
    return fmin(sketch_slot_half_m(joint, joint->diameter.m / 2.0), joint->length.m / 2.0);
}

/* Height of the slot's floor over the pin's axis at z: the cutter's circle. */
static double
floor_m(const struct sketch_joint *joint, double z_m)
{
    const double rc = joint->cutter_m / 2.0, under = rc * rc - z_m * z_m;
    const double height_m = joint->diameter.m / 2.0 - joint->slot_depth_m + rc - (under > 0.0 ? sqrt(under) : 0.0);

    return fmin(height_m, joint->diameter.m / 2.0);
}

size_t
sketch_slot_edge(const struct sketch_joint *joint, struct svg_point point_m[SKETCH_SLOT_POINTS])
{
    enum { STEPS = SKETCH_SLOT_POINTS - 3 };
    const double reach_m = slot_reach_m(joint), skin_m = joint->diameter.m / 2.0;
    const bool whole = sketch_slot_half_m(joint, skin_m) <= reach_m;
    size_t count = 0;

    if (whole) { /* the walls over the round floor */
        point_m[count++] = (struct svg_point){-reach_m, skin_m};
    }
    for (size_t i = 0; i <= STEPS; i++) {
        /* Even steps of the angle: the walls are steep. */
        const double z_m = -reach_m * cos(3.14159265358979 * (double)i / STEPS);

        point_m[count++] = (struct svg_point){z_m, floor_m(joint, z_m)};
    }
    if (whole) {
        point_m[count++] = (struct svg_point){reach_m, skin_m};
    }
    return count;
}

/* The same on the paper. */
static size_t
slot_edge(const struct sketch *sketch, struct svg_point point[SKETCH_SLOT_POINTS])
{
    const struct sketch_axis *axis = &sketch->axis;
    const size_t count = sketch_slot_edge(&sketch->joint, point);

    for (size_t i = 0; i < count; i++) {
        point[i] = (struct svg_point){sketch_axis_x(axis, point[i].x), axis->y - axis->scale * point[i].y};
    }
    return count;
}

/* Outline of the pin, the slot taken out of its upper edge. */
static void
draw_body(struct buffer *out, const struct sketch *sketch, enum svg_ink ink, enum svg_fill fill)
{
    const struct sketch_axis *axis = &sketch->axis;
    const double radius = axis->scale * sketch->joint.diameter.m / 2.0;
    const double left = sketch_axis_x(axis, -sketch->joint.length.m / 2.0), right = 2.0 * axis->x - left;
    struct svg_point point[SKETCH_SLOT_POINTS + 4];
    size_t count = 0;

    point[count++] = (struct svg_point){left, axis->y + radius};
    if (!sketch->joint.has_slot || slot_reach_m(&sketch->joint) < sketch->joint.length.m / 2.0) {
        point[count++] = (struct svg_point){left, axis->y - radius};
    }
    if (sketch->joint.has_slot) {
        count += slot_edge(sketch, &point[count]);
    }
    if (point[count - 1].x < right) {
        point[count++] = (struct svg_point){right, axis->y - radius};
    }
    point[count++] = (struct svg_point){right, axis->y + radius};
    svg_polyline(out, point, count, true, ink, fill);
}

/* A solid pin is not hatched, as is the custom; a hollow one is cut open. */
void
sketch_pin_draw(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const double inside = axis->scale * joint->inside.m / 2.0;
    const double left = sketch_axis_x(axis, -joint->length.m / 2.0), right = 2.0 * axis->x - left;
    const bool dashed = sketch_is_stand_in(&joint->diameter) || sketch_is_stand_in(&joint->length);
    struct svg_point slot[SKETCH_SLOT_POINTS];

    draw_body(out, sketch, SVG_INK_NONE, inside > 0.0 ? SVG_FILL_PIN : SVG_FILL_PAPER);
    if (inside > 0.0) {
        svg_rect(out, left, axis->y - inside, right, axis->y + inside, SVG_INK_THIN, SVG_FILL_PAPER);
        if (joint->has_slot) { /* a slot through the wall opens the bore */
            const size_t count = slot_edge(sketch, slot);

            svg_polyline(out, slot, count, true, SVG_INK_NONE, SVG_FILL_PAPER);
        }
    }
    draw_body(out, sketch, dashed ? SVG_INK_DASHED : SVG_INK_OUTLINE, SVG_FILL_NONE);
}

void
sketch_bolt_draw(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const double radius_m = joint->bolt_m / 2.0;
    const double rx = sketch_axis_x(axis, radius_m) - axis->x, ry = axis->scale * radius_m;
    const double y = axis->y - axis->scale * joint->bolt_offset_m;

    if (joint->has_bolt) {
        svg_ellipse(out, axis->x, y, rx, ry, SVG_INK_OUTLINE, SVG_FILL_BOLT);
        svg_line(out, axis->x - rx - 4.0, y, axis->x + rx + 4.0, y, SVG_INK_CENTRE);
    }
}

/* ---- set screws ---- */

double
sketch_screw_z_m(const struct sketch_joint *joint)
{
    return joint->eye_width.m / 2.0 + joint->gap.m + joint->boss_length.m / 2.0;
}

/* The flat on the pin and the screw that bears on it, from above. */
static void
draw_screw(struct buffer *out, const struct sketch *sketch, double z_m)
{
    static const double thread_inset = 0.18;
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const double half_m = joint->screw_m / 2.0, x = sketch_axis_x(axis, z_m);
    const double half = sketch_axis_x(axis, z_m + half_m) - x, inset = thread_inset * 2.0 * half;
    const double flat_half = fmin(1.3 * half, sketch_axis_x(axis, z_m + joint->boss_length.m / 2.0) - x);
    const double skin = axis->y - axis->scale * joint->diameter.m / 2.0;
    const double flat = skin + axis->scale * joint->flat_depth_m, top = axis->y - sketch->above + 3.0;
    const struct svg_point body[] = {
        {x - half, top},          {x + half, top},          {x + half, flat - inset},
        {x + half - inset, flat}, {x - half + inset, flat}, {x - half, flat - inset},
    };

    svg_rect(out, x - flat_half, skin - 1.0, x + flat_half, flat, SVG_INK_NONE, SVG_FILL_PAPER);
    svg_line(out, x - flat_half, flat, x + flat_half, flat, SVG_INK_OUTLINE);
    svg_line(out, x - flat_half, skin, x - flat_half, flat, SVG_INK_OUTLINE);
    svg_line(out, x + flat_half, skin, x + flat_half, flat, SVG_INK_OUTLINE);
    svg_polyline(out, body, sizeof body / sizeof body[0], true, SVG_INK_OUTLINE, SVG_FILL_PAPER);
    svg_line(out, x - half + inset, top, x - half + inset, flat - inset, SVG_INK_FINE);
    svg_line(out, x + half - inset, top, x + half - inset, flat - inset, SVG_INK_FINE);
}

/* One screw stands in the left boss; more are shared out between both. */
void
sketch_screws_draw(struct buffer *out, const struct sketch *sketch)
{
    if (!sketch->joint.has_screws) {
        return;
    }
    draw_screw(out, sketch, -sketch_screw_z_m(&sketch->joint));
    if (sketch->job->set_screw.count_count >= 2.0) {
        draw_screw(out, sketch, sketch_screw_z_m(&sketch->joint));
    }
}

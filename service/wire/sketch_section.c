#include "wire/sketch_part.h"

#include <math.h>

/* Room of the view on the paper: half its width, and over the pin's axis. */
static const double center_x = 214.0, half_width = 150.0, height = 78.0;
/* The view reaches at least so far up and down, for the turned figures beside it. */
static const double least_reach = 64.0;
/* What is broken off stands out this far: the piston upward, the rod downward. */
static const double crown = 10.0, shank = 18.0;
static const double wall_hatch = 6.0;
/* A bushing thinner than this cannot be seen. */
static const double thinnest = 2.0;

void
sketch_section_fit(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    struct sketch_axis *axis = &sketch->axis;

    sketch_axis_fit(axis, joint, half_width, height);
    axis->x = center_x;
    sketch->clear_boss = joint->held_in != CHOICE_held_in_PISTON ? SKETCH_CLEARANCE : 0.0;
    sketch->clear_eye = joint->held_in != CHOICE_held_in_ROD ? SKETCH_CLEARANCE : 0.0;
    axis->widened = joint->gap.m > 0.0 && axis->scale * axis->lengthened * joint->gap.m < SKETCH_CLEARANCE;
    const double bolt_m = joint->has_bolt ? joint->bolt_offset_m + joint->bolt_m / 2.0 : 0.0;
    const double round_m = fmax(joint->eye_drawn_m, joint->boss_outside_m) / 2.0;

    sketch->above = fmax(axis->scale * fmax(round_m, bolt_m), least_reach) + crown;
    sketch->below = fmax(axis->scale * round_m, least_reach) + shank;
}

double
sketch_boss_x(const struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double inner_m = joint->eye_width.m / 2.0 + joint->gap.m;
    const double x = sketch_axis_x(&sketch->axis, inner_m);
    const double least = joint->gap.m > 0.0 ? SKETCH_CLEARANCE : 0.0;

    return fmax(x, sketch_axis_x(&sketch->axis, joint->eye_width.m / 2.0) + least);
}

/* ---- cut pieces ---- */

/* What is cut of a ring about the pin, hatched: from x1 to x2 along the axis, between two radii. */
struct ring {
    double x1, x2, inner, outer;
    enum svg_ink ink;
    enum svg_fill fill;
};

/* The piece over the axis, or the one below. */
static void
draw_ring_half(struct buffer *out, const struct sketch *sketch, const struct ring *ring, bool up)
{
    const double sign = up ? -1.0 : 1.0;

    svg_rect(out, ring->x1, sketch->axis.y + sign * ring->inner, ring->x2, sketch->axis.y + sign * ring->outer,
             ring->ink, ring->fill);
}

static void
draw_ring(struct buffer *out, const struct sketch *sketch, const struct ring *ring)
{
    draw_ring_half(out, sketch, ring, true);
    draw_ring_half(out, sketch, ring, false);
}

static void
draw_bushing(struct buffer *out, const struct sketch *sketch, double x1, double x2, double hole, double seat)
{
    if (seat > hole) {
        draw_ring(out, sketch, &(struct ring){x1, x2, hole, seat, SVG_INK_OUTLINE, SVG_FILL_BUSHING});
    }
}

/* A piece that goes on beyond the view: hatched, sides drawn, the end torn off. */
static void
draw_torn(struct buffer *out, double x1, double x2, double from_y, double to_y, enum svg_ink ink, enum svg_fill fill)
{
    svg_rect(out, x1, from_y, x2, to_y, SVG_INK_NONE, fill);
    svg_line(out, x1, from_y, x1, to_y, ink);
    svg_line(out, x2, from_y, x2, to_y, ink);
    svg_break_line(out, x1, to_y, x2, to_y);
}

static double
wall_pixels(const struct sketch *sketch, double wall_m)
{
    return wall_m > 0.0 ? fmax(sketch->axis.scale * wall_m, thinnest) : 0.0;
}

static void
draw_boss(struct buffer *out, const struct sketch *sketch, bool right)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double outer_m = joint->eye_width.m / 2.0 + joint->gap.m + joint->boss_length.m;
    const double mirror = 2.0 * sketch->axis.x, near = sketch_boss_x(sketch);
    const double far = sketch_axis_x(&sketch->axis, outer_m);
    const double x1 = right ? near : mirror - near, x2 = right ? fmax(far, near) : mirror - fmax(far, near);
    const double hole = sketch->axis.scale * joint->diameter.m / 2.0 + sketch->clear_boss;
    const double seat = hole + wall_pixels(sketch, joint->boss_wall_m);
    const double outside = fmax(sketch->axis.scale * joint->boss_outside_m / 2.0, seat + 3.0);
    const enum svg_ink ink = sketch_is_stand_in(&joint->boss_length) ? SVG_INK_DASHED : SVG_INK_OUTLINE;

    draw_torn(out, x1, x2, sketch->axis.y - seat, sketch->axis.y - sketch->above, ink, SVG_FILL_BOSS);
    svg_line(out, x1, sketch->axis.y - seat, x2, sketch->axis.y - seat, ink);
    draw_ring_half(out, sketch, &(struct ring){x1, x2, seat, outside, ink, SVG_FILL_BOSS}, false);
    draw_bushing(out, sketch, x1, x2, hole, seat);
}

/* Does the rod's shank lie in this plane, below the pin? */
static bool
shank_below(const struct sketch_joint *joint)
{
    return !joint->has_slot || joint->slot_angle_rad < 0.02;
}

static void
draw_eye(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double x2 = sketch_axis_x(&sketch->axis, joint->eye_width.m / 2.0), x1 = 2.0 * sketch->axis.x - x2;
    const double y = sketch->axis.y, hole = sketch->axis.scale * joint->diameter.m / 2.0 + sketch->clear_eye;
    const double seat = hole + wall_pixels(sketch, joint->eye_wall_m);
    const double outside = fmax(sketch->axis.scale * joint->eye_drawn_m / 2.0, seat + 2.0);
    const double waist = 0.3 * (x2 - x1);
    const enum svg_ink ink = sketch_is_stand_in(&joint->eye_width) ? SVG_INK_DASHED : SVG_INK_OUTLINE;

    if (joint->eye_drawn_m < joint->eye_outside.m) {
        draw_torn(out, x1, x2, y - seat, y - outside, ink, SVG_FILL_EYE);
        draw_torn(out, x1, x2, y + seat, y + outside, ink, SVG_FILL_EYE);
        svg_line(out, x1, y - seat, x2, y - seat, ink);
        svg_line(out, x1, y + seat, x2, y + seat, ink);
    } else {
        draw_ring(out, sketch, &(struct ring){x1, x2, seat, outside, ink, SVG_FILL_EYE});
        if (shank_below(joint)) {
            draw_torn(out, sketch->axis.x - waist, sketch->axis.x + waist, y + outside - 0.5, y + outside + shank - 4.0,
                      ink, SVG_FILL_EYE);
        }
    }
    draw_bushing(out, sketch, x1, x2, hole, seat);
}

/* ---- cylinder, breaks, axes ---- */

/* The walls stand at the bore, moved out where the clearance would not show. */
static void
draw_walls(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double end = sketch_axis_x(&sketch->axis, joint->length.m / 2.0);
    double x = sketch_axis_x(&sketch->axis, joint->bore.m / 2.0);

    if (joint->bore.known == SKETCH_ABSENT) {
        return;
    }
    x = fmax(x, end + SKETCH_CLEARANCE);
    for (int side = 0; side < 2; side++) {
        const double at = side == 0 ? x : 2.0 * sketch->axis.x - x;
        const double back = side == 0 ? at + wall_hatch : at - wall_hatch;

        svg_rect(out, at, sketch->axis.y - sketch->above, back, sketch->axis.y + sketch->below, SVG_INK_NONE,
                 SVG_FILL_EYE);
        svg_line(out, at, sketch->axis.y - sketch->above, at, sketch->axis.y + sketch->below, SVG_INK_OUTLINE);
    }
}

/* Upper and lower end of what is cut at a place: a boss, the eye, the pin. */
static bool
reach_at(const struct sketch *sketch, double z_m, double *up, double *down)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double inner_m = joint->eye_width.m / 2.0 + joint->gap.m, scale = sketch->axis.scale;

    if (z_m < joint->eye_width.m / 2.0) {
        *up = *down = scale * joint->eye_drawn_m / 2.0;
        return true;
    }
    if (z_m > inner_m && z_m < inner_m + joint->boss_length.m) {
        *up = sketch->above;
        *down = scale * joint->boss_outside_m / 2.0;
        return true;
    }
    *up = *down = scale * joint->diameter.m / 2.0;
    return z_m < joint->length.m / 2.0;
}

static void
draw_break(struct buffer *out, const struct sketch *sketch, double x, double up, double down)
{
    static const double half_gap = 2.5;
    const double top = sketch->axis.y - up - 2.0, bottom = sketch->axis.y + down + 2.0;

    svg_rect(out, x - half_gap, top, x + half_gap, bottom, SVG_INK_NONE, SVG_FILL_PAPER);
    svg_break_line(out, x - half_gap, top, x - half_gap, bottom);
    svg_break_line(out, x + half_gap, top, x + half_gap, bottom);
}

static void
draw_breaks(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_axis *axis = &sketch->axis;

    for (size_t i = 1; i < axis->count; i++) {
        double up, down;
        const double off = (axis->out[i - 1] + axis->out[i]) / 2.0;

        if (axis->broken[i] && reach_at(sketch, (axis->z_m[i - 1] + axis->z_m[i]) / 2.0, &up, &down)) {
            draw_break(out, sketch, axis->x + off, up, down);
            draw_break(out, sketch, axis->x - off, up, down);
        }
    }
}

static void
draw_center_lines(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_axis *axis = &sketch->axis;
    const double end = sketch_axis_x(axis, sketch->joint.length.m / 2.0) - axis->x + 7.0;

    svg_line(out, axis->x - end, axis->y, axis->x + end, axis->y, SVG_INK_CENTRE);
    svg_line(out, axis->x, axis->y - sketch->above, axis->x, axis->y + sketch->below, SVG_INK_CENTRE);
}

void
sketch_section_draw(struct buffer *out, const struct sketch *sketch)
{
    draw_walls(out, sketch);
    draw_boss(out, sketch, false);
    draw_boss(out, sketch, true);
    draw_eye(out, sketch);
    sketch_pin_draw(out, sketch);
    sketch_bolt_draw(out, sketch);
    sketch_screws_draw(out, sketch);
    draw_breaks(out, sketch);
    draw_center_lines(out, sketch);
}

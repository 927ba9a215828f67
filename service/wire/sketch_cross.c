#include "wire/sketch_part.h"

#include <math.h>

/*
 * The eye cut across the pin. The slot is drawn upward whatever its angle; the
 * rod points away from the side that peak load puts in tension, so it turns
 * with that angle.
 */

/* Room of the view on the paper: its middle, half its width, height. */
static const double center_x = 474.0, half_width = 78.0, height = 100.0;
static const double shank = 17.0, arrow = 14.0;
/* Smaller than this the view gets a scale of its own. */
static const double half_least = 44.0, pin_least = 30.0;
/* Head and nut, as shares of the bolt's diameter. */
static const double head_high = 0.65, head_half = 0.8;
/* Metal of the ears over the bolt. */
static const double ear = 0.9;

static double
largest_m(const struct sketch_joint *joint)
{
    return fmax(joint->eye_drawn_m / 2.0, joint->diameter.m / 2.0 + joint->eye_wall_m);
}

/* The bolt lies in ears of its own where the round of the eye does not hold it. */
static bool
has_ears(const struct sketch_joint *joint)
{
    return joint->has_bolt && joint->bolt_offset_m + head_half * joint->bolt_m > largest_m(joint);
}

static double
top_m(const struct sketch_joint *joint)
{
    return has_ears(joint) ? joint->bolt_offset_m + ear * joint->bolt_m : largest_m(joint);
}

/* Half the length of the bolt between head and nut: through the ears, or on
 * flats cut to the chord of the eye's round. */
static double
bolt_reach_m(const struct sketch_joint *joint)
{
    const double round_m = largest_m(joint), offset_m = joint->bolt_offset_m;

    return has_ears(joint) ? 0.8 * round_m : sqrt(round_m * round_m - offset_m * offset_m);
}

/* Is the rod drawn straight down, so that it needs no room at the sides? */
static bool
is_upright(const struct sketch_joint *joint)
{
    return !joint->has_slot || fabs(sin(joint->slot_angle_rad)) < 0.02;
}

void
sketch_cross_fit(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    struct sketch_cross *cross = &sketch->cross;
    const double round_m = largest_m(joint), room = half_width - (is_upright(joint) ? 0.0 : shank + arrow);
    double half_m = round_m;

    if (joint->has_bolt) {
        cross->bolt_reach_m = bolt_reach_m(joint);
        half_m = fmax(half_m, cross->bolt_reach_m + (head_high + 0.2) * joint->bolt_m);
    }
    cross->x = center_x;
    cross->scale = sketch->axis.scale;
    if (cross->scale * half_m > room || cross->scale * half_m < half_least ||
        cross->scale * joint->diameter.m < pin_least) {
        cross->scale = room / half_m;
    }
    cross->scale = fmin(cross->scale, height / top_m(joint));
    cross->half = cross->scale * half_m;
    cross->above = cross->scale * top_m(joint) + (is_upright(joint) ? 4.0 : shank + arrow);
    cross->below = cross->scale * round_m + shank + arrow;
    if (joint->has_slot && joint->slot_angle_rad > 3.0) { /* the rod points up */
        cross->above = fmax(cross->above, cross->scale * round_m + shank + arrow);
    }
}

/* ---- the parts ---- */

struct frame {
    double x, y, scale;
};

/* Eye and the root of the rod's shank, one outline. */
static void
draw_eye(struct buffer *out, const struct sketch *sketch, const struct frame *frame)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double radius = frame->scale * largest_m(joint), waist = 0.42 * radius, end = radius + shank;
    const double turn = joint->has_slot ? joint->slot_angle_rad : 0.0;
    const double ux = -sin(turn), uy = cos(turn), root = sqrt(radius * radius - waist * waist);
    const struct svg_point near = {frame->x + root * ux - waist * uy, frame->y + root * uy + waist * ux};
    const struct svg_point far = {frame->x + root * ux + waist * uy, frame->y + root * uy - waist * ux};
    const struct svg_point near_end = {near.x + (end - root) * ux, near.y + (end - root) * uy};
    const struct svg_point far_end = {far.x + (end - root) * ux, far.y + (end - root) * uy};
    const bool dashed = sketch_is_stand_in(&joint->eye_outside) || joint->eye_drawn_m < joint->eye_outside.m;

    for (int layer = 0; layer < 2; layer++) { /* the hatching, then the line round it */
        svg_path_begin(out,
                       layer == 0 ? SVG_INK_NONE
                       : dashed   ? SVG_INK_DASHED
                                  : SVG_INK_OUTLINE,
                       layer == 0 ? SVG_FILL_EYE : SVG_FILL_NONE);
        svg_path_move(out, near_end.x, near_end.y);
        svg_path_line(out, near.x, near.y);
        svg_path_arc(out, radius, true, true, far.x, far.y);
        svg_path_line(out, far_end.x, far_end.y);
        svg_path_end(out, false);
    }
    svg_break_line(out, near_end.x, near_end.y, far_end.x, far_end.y);
    svg_line(out, frame->x + (radius + 4.0) * ux, frame->y + (radius + 4.0) * uy, frame->x + (end + arrow) * ux,
             frame->y + (end + arrow) * uy, SVG_INK_OUTLINE);
    svg_arrow_head(out, frame->x + (end + arrow) * ux, frame->y + (end + arrow) * uy, ux, uy, SVG_FILL_INK);
}

/* The ears over the round, and the slit that the bolt closes. */
static void
draw_split(struct buffer *out, const struct sketch *sketch, const struct frame *frame, double hole)
{
    static const double half_slit = 1.6;
    const struct sketch_joint *joint = &sketch->joint;
    const double top = frame->y - frame->scale * top_m(joint), round = frame->scale * largest_m(joint);
    const double half = frame->scale * sketch->cross.bolt_reach_m;
    const double foot = frame->y - sqrt(fmax(round * round - half * half, 0.0));

    if (has_ears(joint)) {
        svg_rect(out, frame->x - half, top, frame->x + half, foot, SVG_INK_NONE, SVG_FILL_EYE);
        svg_line(out, frame->x - half, foot, frame->x - half, top, SVG_INK_OUTLINE);
        svg_line(out, frame->x + half, foot, frame->x + half, top, SVG_INK_OUTLINE);
        svg_line(out, frame->x - half, top, frame->x + half, top, SVG_INK_OUTLINE);
    }
    svg_rect(out, frame->x - half_slit, top - 1.0, frame->x + half_slit, frame->y - hole + 2.0, SVG_INK_NONE,
             SVG_FILL_PAPER);
    svg_line(out, frame->x - half_slit, top, frame->x - half_slit, frame->y - hole, SVG_INK_THIN);
    svg_line(out, frame->x + half_slit, top, frame->x + half_slit, frame->y - hole, SVG_INK_THIN);
}

/* A circle less what lies over the slot's floor. */
static void
draw_cut_circle(struct buffer *out, const struct frame *frame, double radius, double floor, enum svg_ink ink,
                enum svg_fill fill)
{
    if (floor >= radius) {
        svg_ellipse(out, frame->x, frame->y, radius, radius, ink, fill);
        return;
    }
    if (floor <= -radius) {
        return;
    }
    const double half = sqrt(radius * radius - floor * floor);

    svg_path_begin(out, ink, fill);
    svg_path_move(out, frame->x + half, frame->y - floor);
    svg_path_arc(out, radius, floor > 0.0, true, frame->x - half, frame->y - floor);
    svg_path_end(out, true);
}

static void
draw_pin(struct buffer *out, const struct sketch *sketch, const struct frame *frame)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double radius = frame->scale * joint->diameter.m / 2.0, inside = frame->scale * joint->inside.m / 2.0;
    const double floor = joint->has_slot ? radius - frame->scale * joint->slot_depth_m : radius;
    const enum svg_ink ink = sketch_is_stand_in(&joint->diameter) ? SVG_INK_DASHED : SVG_INK_OUTLINE;

    draw_cut_circle(out, frame, radius, floor, ink, SVG_FILL_PIN);
    if (inside > 0.0) {
        draw_cut_circle(out, frame, inside, floor, SVG_INK_THIN, SVG_FILL_PAPER);
    }
}

static void
draw_bolt(struct buffer *out, const struct sketch *sketch, const struct frame *frame)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double d = frame->scale * joint->bolt_m, y = frame->y - frame->scale * joint->bolt_offset_m;
    const double reach = frame->scale * sketch->cross.bolt_reach_m, head = head_high * d, tip = reach + head + 0.2 * d;

    svg_rect(out, frame->x - reach, y - d / 2.0, frame->x + tip, y + d / 2.0, SVG_INK_OUTLINE, SVG_FILL_PAPER);
    svg_rect(out, frame->x - reach - head, y - head_half * d, frame->x - reach, y + head_half * d, SVG_INK_OUTLINE,
             SVG_FILL_PAPER);
    svg_rect(out, frame->x + reach, y - head_half * d, frame->x + reach + head, y + head_half * d, SVG_INK_OUTLINE,
             SVG_FILL_PAPER);
    svg_line(out, frame->x - tip - 4.0, y, frame->x + tip + 4.0, y, SVG_INK_CENTRE);
}

/* The closed side of the eye, about which it closes: a small triangle. */
static void
draw_hinge(struct buffer *out, const struct sketch *sketch, const struct frame *frame)
{
    const double off = frame->scale * sketch->joint.hinge.m;
    const struct svg_point mark[] = {
        {frame->x, frame->y + off}, {frame->x - 4.5, frame->y + off + 7.0}, {frame->x + 4.5, frame->y + off + 7.0}};

    if (sketch->joint.hinge.known == SKETCH_GIVEN && off + 7.0 <= sketch->cross.below) {
        svg_polyline(out, mark, 3, true, SVG_INK_THIN, SVG_FILL_PAPER);
    }
}

void
sketch_cross_draw(struct buffer *out, const struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct frame frame = {sketch->cross.x, sketch->axis.y, sketch->cross.scale};
    const double hole = frame.scale * joint->diameter.m / 2.0 + sketch->clear_eye;
    const double seat = joint->eye_wall_m > 0.0 ? hole + fmax(frame.scale * joint->eye_wall_m, 2.0) : hole;

    draw_eye(out, sketch, &frame);
    if (joint->has_bolt) {
        draw_split(out, sketch, &frame, hole);
    }
    if (seat > hole) {
        svg_ellipse(out, frame.x, frame.y, seat, seat, SVG_INK_OUTLINE, SVG_FILL_BUSHING);
    }
    svg_ellipse(out, frame.x, frame.y, hole, hole, SVG_INK_THIN, SVG_FILL_PAPER);
    draw_pin(out, sketch, &frame);
    if (joint->has_bolt) {
        draw_bolt(out, sketch, &frame);
        draw_hinge(out, sketch, &frame);
    }
    svg_line(out, frame.x - sketch->cross.half, frame.y, frame.x + sketch->cross.half, frame.y, SVG_INK_CENTRE);
    svg_line(out, frame.x, frame.y - sketch->cross.above, frame.x, frame.y + frame.scale * largest_m(joint),
             SVG_INK_CENTRE);
}

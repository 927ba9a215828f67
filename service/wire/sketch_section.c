#include "wire/sketch_view.h"

#include <math.h>

#include "base/text.h"
#include "quantity/quantity.h"

static double
x_of(const struct sketch_view *view, double z_m)
{
    return sketch_axis_x(&view->axis, z_m);
}

/* Off the axis: up is +. */
static double
y_of(const struct sketch_view *view, double height_m)
{
    return view->axis.y - sketch_axis_off(&view->axis, height_m);
}

/* An outline whose sizes are not given is dashed. */
static enum svg_ink
ink_of(const struct sketch_size *a, const struct sketch_size *b)
{
    return a->known == SKETCH_GIVEN && b->known == SKETCH_GIVEN ? SVG_INK_OUTLINE : SVG_INK_DASHED;
}

/* Two rings cut along their axis: from z to z, between two heights, above and below. */
static void
draw_ring(struct buffer *out, const struct sketch_view *view, double z1_m, double z2_m, double low_m, double high_m,
          enum svg_ink ink, enum svg_fill fill)
{
    if (high_m <= low_m) {
        return;
    }
    for (double side = -1.0; side < 1.5; side += 2.0) {
        svg_rect(out, x_of(view, z1_m), y_of(view, side * low_m), x_of(view, z2_m), y_of(view, side * high_m), ink, fill);
    }
}

static double
boss_inner_m(const struct sketch_joint *joint)
{
    return joint->eye_width.m / 2.0 + joint->gap.m;
}

static void
draw_bosses(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_joint *joint = view->joint;
    const double inner = boss_inner_m(joint), outer = inner + joint->boss_length.m, radius = joint->diameter.m / 2.0;
    for (double side = -1.0; side < 1.5; side += 2.0) {
        draw_ring(out, view, side * inner, side * outer, radius + joint->boss_wall_m, joint->boss_outside_m / 2.0,
                  ink_of(&joint->boss_length, &joint->gap), SVG_FILL_BOSS);
        draw_ring(out, view, side * inner, side * outer, radius, radius + joint->boss_wall_m, SVG_INK_THIN,
                  SVG_FILL_BUSHING);
    }
}

static void
draw_eye(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_joint *joint = view->joint;
    const double half = joint->eye_width.m / 2.0, radius = joint->diameter.m / 2.0;
    draw_ring(out, view, -half, half, radius + joint->eye_wall_m, joint->eye_drawn_m / 2.0,
              ink_of(&joint->eye_width, &joint->eye_outside), SVG_FILL_EYE);
    draw_ring(out, view, -half, half, radius, radius + joint->eye_wall_m, SVG_INK_THIN, SVG_FILL_BUSHING);
}

static void
draw_pin(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_joint *joint = view->joint;
    const double half = joint->length.m / 2.0, radius = joint->diameter.m / 2.0;
    svg_rect(out, x_of(view, -half), y_of(view, radius), x_of(view, half), y_of(view, -radius),
             ink_of(&joint->diameter, &joint->length), SVG_FILL_SHADE);
    if (joint->inside.m > 0.0) {
        svg_rect(out, x_of(view, -half), y_of(view, joint->inside.m / 2.0), x_of(view, half),
                 y_of(view, -joint->inside.m / 2.0), SVG_INK_THIN, SVG_FILL_PAPER);
    }
}

/* The slot as its cutter leaves it: a round floor, straight walls above. */
static void
draw_slot(struct buffer *out, const struct sketch_view *view)
{
    enum { STEPS = 14 };
    const struct sketch_joint *joint = view->joint;
    struct svg_point point[2 * (STEPS + 1)];
    const double radius = joint->diameter.m / 2.0, floor_m = radius - joint->slot_depth_m;
    for (int i = 0; i <= STEPS; i++) {
        /* closer together near the floor, where the wall turns */
        const double share = (double)i / STEPS, height = floor_m + joint->slot_depth_m * share * share;
        const double half = sketch_slot_half_m(joint, height);
        point[STEPS - i] = (struct svg_point){x_of(view, -half), y_of(view, height)};
        point[STEPS + 1 + i] = (struct svg_point){x_of(view, half), y_of(view, height)};
    }
    svg_polyline(out, point, sizeof point / sizeof point[0], true, SVG_INK_NONE, SVG_FILL_PAPER);
    svg_polyline(out, point, sizeof point / sizeof point[0], false,
                 joint->cutter_known ? SVG_INK_OUTLINE : SVG_INK_DASHED, SVG_FILL_NONE);
}

static void
draw_bolt(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_joint *joint = view->joint;
    const double y = y_of(view, joint->bolt_offset_m), half_m = joint->bolt_m / 2.0;
    svg_ellipse(out, view->axis.x, y, x_of(view, half_m) - view->axis.x, sketch_axis_off(&view->axis, half_m),
                SVG_INK_OUTLINE, SVG_FILL_BOLT);
}

/* A screw through each boss onto its flat. */
static void
draw_screws(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_joint *joint = view->joint;
    const double middle = boss_inner_m(joint) + joint->boss_length.m / 2.0, half = joint->screw_m / 2.0;
    const double seat = joint->diameter.m / 2.0 - joint->flat_depth_m;
    for (double side = -1.0; side < 1.5; side += 2.0) {
        svg_rect(out, x_of(view, side * (middle - half)), y_of(view, seat), x_of(view, side * (middle + half)),
                 y_of(view, joint->boss_outside_m / 2.0), SVG_INK_OUTLINE, SVG_FILL_BOLT);
    }
}

/* The cylinder's wall beside both ends. */
static void
draw_walls(struct buffer *out, const struct sketch_view *view)
{
    const double reach = view->joint->boss_outside_m / 2.0;
    for (double side = -1.0; side < 1.5; side += 2.0) {
        const double x = x_of(view, side * view->joint->bore.m / 2.0);
        svg_rect(out, x, y_of(view, reach), x + side * 6.0, y_of(view, -reach), SVG_INK_NONE, SVG_FILL_BUSHING);
        svg_line(out, x, y_of(view, reach), x, y_of(view, -reach), SVG_INK_OUTLINE);
    }
}

/* Where a piece is left out, two break lines and paper between them. */
static void
draw_breaks(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_axis *axis = &view->axis;
    const double reach = fmax(view->joint->boss_outside_m, view->joint->eye_drawn_m) / 2.0;
    const double top = y_of(view, reach) - 3.0, bottom = y_of(view, -reach) + 3.0;
    for (size_t i = 1; i < axis->count; i++) {
        for (double side = -1.0; axis->broken[i] && side < 1.5; side += 2.0) {
            const double x = axis->x + side * (axis->out[i - 1] + axis->out[i]) / 2.0;
            svg_rect(out, x - 2.5, top, x + 2.5, bottom, SVG_INK_NONE, SVG_FILL_PAPER);
            svg_break_line(out, x - 2.5, top, x - 2.5, bottom);
            svg_break_line(out, x + 2.5, top, x + 2.5, bottom);
        }
    }
}

void
sketch_section_draw(struct buffer *out, const struct sketch_view *view)
{
    const struct sketch_joint *joint = view->joint;
    const double end = view->axis.out[view->axis.count - 1] + 8.0;
    draw_bosses(out, view);
    draw_eye(out, view);
    draw_pin(out, view);
    if (joint->has_screws) {
        draw_screws(out, view);
    }
    if (joint->has_slot) {
        draw_slot(out, view);
    }
    if (joint->has_bolt) {
        draw_bolt(out, view);
    }
    if (joint->bore.known != SKETCH_ABSENT) {
        draw_walls(out, view);
    }
    svg_line(out, view->axis.x - end, view->axis.y, view->axis.x + end, view->axis.y, SVG_INK_CENTRE);
    if (view->axis.shortened) {
        draw_breaks(out, view);
    }
}

/* ---- dimensions ---- */

/* A figure, with a star where it is assumed; nothing for a stand-in. */
static void
figure(char text[SVG_DIMENSION_TEXT], const char *what, const struct sketch_size *size, enum unit_system units)
{
    char number[QUANTITY_TEXT_SIZE];
    struct text line;
    text_init(&line, text, SVG_DIMENSION_TEXT);
    if (size->known != SKETCH_GIVEN && size->known != SKETCH_ASSUMED) {
        return;
    }
    quantity_write(number, sizeof number, size->m, DIMENSION_LENGTH, units);
    text_format(&line, "%s%s%s", what, number, size->known == SKETCH_ASSUMED ? "*" : "");
}

static void
add_length(const struct sketch_view *view, struct svg_stack *stack, const char *what, const struct sketch_size *size,
           double from_m, double to_m, double edge_m)
{
    char text[SVG_DIMENSION_TEXT];
    const double edge = y_of(view, -edge_m);
    figure(text, what, size, view->units);
    svg_stack_add(stack, x_of(view, from_m), edge, x_of(view, to_m), edge, size->known == SKETCH_ASSUMED, text);
}

void
sketch_section_lengths(const struct sketch_view *view, double below, struct svg_stack *stack)
{
    const struct sketch_joint *joint = view->joint;
    const double eye = joint->eye_width.m / 2.0, inner = boss_inner_m(joint), pin = joint->length.m / 2.0;
    const double reach = view->axis.out[view->axis.count - 1];
    svg_stack_init(stack, SVG_BELOW, below, fmax(4.0, view->axis.x - reach - 40.0),
                   fmin(SVG_WIDTH - 4.0, view->axis.x + reach + 40.0));
    add_length(view, stack, "eye ", &joint->eye_width, -eye, eye, joint->eye_drawn_m / 2.0);
    add_length(view, stack, "boss ", &joint->boss_length, inner, inner + joint->boss_length.m,
               joint->boss_outside_m / 2.0);
    if (joint->gap.m > 0.0) {
        add_length(view, stack, "gap ", &joint->gap, -inner, -eye, joint->eye_drawn_m / 2.0);
    }
    add_length(view, stack, "pin ", &joint->length, -pin, pin, joint->diameter.m / 2.0);
    add_length(view, stack, "bore ", &joint->bore, -joint->bore.m / 2.0, joint->bore.m / 2.0,
               joint->boss_outside_m / 2.0);
    svg_stack_layout(stack);
}

void
sketch_section_diameters(const struct sketch_view *view, struct svg_stack *stack)
{
    const struct sketch_joint *joint = view->joint;
    const double half = joint->diameter.m / 2.0, pin_end = x_of(view, -joint->length.m / 2.0);
    const double edge = view->axis.x - view->axis.out[view->axis.count - 1];
    const double reach = sketch_axis_off(&view->axis, fmax(joint->eye_drawn_m, joint->boss_outside_m) / 2.0) + 30.0;
    char text[SVG_DIMENSION_TEXT];
    svg_stack_init(stack, SVG_LEFT, fmin(edge, pin_end) - 14.0, view->axis.y - reach, view->axis.y + reach);
    figure(text, "\xC3\x98 ", &joint->diameter, view->units); /* the diameter sign */
    svg_stack_add(stack, y_of(view, half), pin_end, y_of(view, -half), pin_end, joint->diameter.known == SKETCH_ASSUMED,
                  text);
    svg_stack_layout(stack);
}

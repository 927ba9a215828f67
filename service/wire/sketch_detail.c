#include "wire/sketch_part.h"

#include <math.h>
#include <stdio.h>

#include "base/text.h"
#include "quantity/quantity.h"

/* Slot and clamp bolt in the plane of the section, drawn larger: what clears
 * what is too fine to be seen beside the whole joint. */

enum { NUMBER_SIZE = 64, SENTENCE_SIZE = 240 };

static const double center_x = 476.0, half_width = 74.0, height = 84.0, depth_row = 572.0;
/* The turned figure of the depth needs so much; other words keep clear of it. */
static const double depth_high = 70.0, words_right = 552.0;
/* Metal shown under the floor of the slot, and over the bolt. */
static const double under = 16.0, over = 5.0;
/* Drawn only where that makes it so much larger. */
static const double worth_it = 1.5;

/* The detail on the paper. */
struct view {
    double scale;
    double floor_m;           /* height of the slot's floor over the pin's axis */
    double top, skin, bottom; /* y of the upper end, the pin's surface, the lower end */
    double floor;
};

static double
top_m(const struct sketch_joint *joint)
{
    const double skin_m = joint->diameter.m / 2.0;

    return joint->has_bolt ? fmax(joint->bolt_offset_m + joint->bolt_m / 2.0, skin_m)
                           : skin_m + 0.5 * joint->slot_depth_m;
}

static double
y_of(const struct view *view, double height_m)
{
    return view->floor - view->scale * (height_m - view->floor_m);
}

/* False where the section itself is large enough, or there is no slot. */
static bool
fit(const struct sketch *sketch, double top, struct view *view)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double skin_m = joint->diameter.m / 2.0;
    const double wide_m = fmax(sketch_slot_half_m(joint, skin_m), joint->has_bolt ? joint->bolt_m / 2.0 : 0.0);

    view->floor_m = skin_m - joint->slot_depth_m;
    if (joint->has_bolt) { /* a bolt that reaches below the floor */
        view->floor_m = fmin(view->floor_m, joint->bolt_offset_m - joint->bolt_m / 2.0);
    }
    if (!joint->has_slot || !joint->cutter_known || !(wide_m < joint->length.m / 2.0)) {
        return false;
    }
    view->scale = fmin(half_width / (1.5 * wide_m), height / (top_m(joint) - view->floor_m));
    view->top = top;
    view->floor = top + over + view->scale * (top_m(joint) - view->floor_m);
    view->skin = y_of(view, skin_m);
    view->bottom = view->floor + under;
    return view->scale >= worth_it * sketch->axis.scale;
}

static void
draw_metal(struct buffer *out, const struct sketch *sketch, const struct view *view)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double left = center_x - half_width, right = center_x + half_width;
    struct svg_point edge[SKETCH_SLOT_POINTS], body[SKETCH_SLOT_POINTS + 4];
    const size_t count = sketch_slot_edge(joint, edge);
    size_t points = 0;

    body[points++] = (struct svg_point){left, view->bottom};
    body[points++] = (struct svg_point){left, view->skin};
    for (size_t i = 0; i < count; i++) {
        body[points++] = (struct svg_point){center_x + view->scale * edge[i].x, y_of(view, edge[i].y)};
    }
    body[points++] = (struct svg_point){right, view->skin};
    body[points++] = (struct svg_point){right, view->bottom};
    if (view->skin - view->top > 2.0) {
        svg_rect(out, left, view->top, right, view->skin, SVG_INK_NONE, SVG_FILL_EYE);
        svg_line(out, left, view->skin, right, view->skin, SVG_INK_OUTLINE);
        svg_break_line(out, left, view->top, right, view->top);
    }
    svg_polyline(out, body, points, true, SVG_INK_NONE, joint->inside.m > 0.0 ? SVG_FILL_PIN : SVG_FILL_PAPER);
    const double bore = y_of(view, joint->inside.m / 2.0);

    if (joint->inside.m > 0.0 && bore < view->bottom) {
        svg_rect(out, left, bore, right, view->bottom, SVG_INK_NONE, SVG_FILL_PAPER);
        svg_line(out, left, bore, right, bore, SVG_INK_THIN);
        svg_polyline(out, body + 2, count, true, SVG_INK_NONE, SVG_FILL_PAPER);
    }
    svg_polyline(out, body + 1, points - 2, false, SVG_INK_OUTLINE, SVG_FILL_NONE);
    svg_break_line(out, left, view->bottom, right, view->bottom);
    svg_break_line(out, left, view->top, left, view->bottom);
    svg_break_line(out, right, view->top, right, view->bottom);
}

static void
draw_bolt(struct buffer *out, const struct sketch *sketch, const struct view *view)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double radius = view->scale * joint->bolt_m / 2.0, y = y_of(view, joint->bolt_offset_m);

    svg_ellipse(out, center_x, y, radius, radius, SVG_INK_OUTLINE, SVG_FILL_BOLT);
    svg_line(out, center_x - radius - 4.0, y, center_x + radius + 4.0, y, SVG_INK_CENTRE);
}

static void
draw_depth(struct buffer *out, const struct sketch *sketch, const struct view *view)
{
    const struct sketch_joint *joint = &sketch->joint;
    const double edge = center_x + half_width;
    struct svg_stack stack;
    char text[NUMBER_SIZE];

    quantity_write(text, sizeof text, joint->slot_depth_m, DIMENSION_LENGTH, sketch->job->units);
    svg_stack_init(&stack, SVG_RIGHT, depth_row, view->top, fmax(view->bottom, view->top + depth_high));
    svg_stack_add(&stack, view->skin, edge, y_of(view, joint->diameter.m / 2.0 - joint->slot_depth_m), center_x + 3.0,
                  false, text);
    svg_stack_layout(&stack);
    svg_stack_draw(out, &stack);
}

/* What clears what, in figures. */
static double
write_figures(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct result_value *under_bolt = &sketch->report->result[RESULT_slot_bottom_clearance];
    const struct result_value *play = &sketch->report->result[RESULT_slot_axial_play];
    char number[NUMBER_SIZE], sentence[SENTENCE_SIZE];
    double y = top;

    if (under_bolt->known && sketch->joint.has_bolt) {
        quantity_write(number, sizeof number, under_bolt->si, DIMENSION_LENGTH, sketch->job->units);
        snprintf(sentence, sizeof sentence, "under the bolt: %s", number);
        y = picture_paragraph(out, SKETCH_LIST_LEFT, words_right, y, &svg_plain, sentence);
    }
    if (play->known) {
        quantity_write(number, sizeof number, play->si, DIMENSION_LENGTH, sketch->job->units);
        snprintf(sentence, sizeof sentence, "play each way: %s", number);
        y = picture_paragraph(out, SKETCH_LIST_LEFT, words_right, y, &svg_plain, sentence);
    }
    return y + 6.0;
}

double
sketch_detail_write(struct buffer *out, const struct sketch *sketch, double top)
{
    char caption[SENTENCE_SIZE];
    struct view view;

    if (!fit(sketch, top + PICTURE_LINE + 4.0, &view)) {
        return write_figures(out, sketch, top);
    }
    snprintf(caption, sizeof caption, "Slot, drawn %.2g times larger", view.scale / sketch->axis.scale);
    picture_paragraph(out, SKETCH_LIST_LEFT, PICTURE_RIGHT, top, &svg_bold, caption);
    if (out != NULL) {
        draw_metal(out, sketch, &view);
        if (sketch->joint.has_bolt) {
            draw_bolt(out, sketch, &view);
        }
        draw_depth(out, sketch, &view);
    }
    return fmax(write_figures(out, sketch, view.bottom + 6.0), view.top + depth_high + 6.0);
}

#include "wire/sketch_part.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/size_text.h"
#include "wire/svg_measure.h"

/* Figures of both views. Heights count from the pin's axis until the views
 * have their place on the paper. */

static const char diameter_sign[] = "\xC3\x98 ";
static const double left_row = 38.0, right_row = 388.0, offset_row = 580.0, below_view = 16.0;

/* A larger difference is written as a size. */
static const double difference_most_m = 0.002;

/* ---- sizes in words ---- */

void
sketch_size_text(char *buffer, size_t capacity, const char *before, const struct sketch_size *size,
                 enum unit_system system)
{
    char number[SVG_DIMENSION_TEXT];
    struct text text;

    text_init(&text, buffer, capacity);
    if (size->known != SKETCH_ASSUMED && size->known != SKETCH_GIVEN) {
        return;
    }
    quantity_write(number, sizeof number, size->m, DIMENSION_LENGTH, system);
    text_join(&text, before, number, size->known == SKETCH_ASSUMED ? "*" : "");
}

void
sketch_range_text(char *buffer, size_t capacity, double low_m, double high_m, enum unit_system system)
{
    char low[SIZE_TEXT_MAX], high[SIZE_TEXT_MAX];

    if (fmax(fabs(low_m), fabs(high_m)) < difference_most_m) {
        size_text_difference(low, sizeof low, low_m, system);
        size_text_difference(high, sizeof high, high_m, system);
    } else {
        size_text_write(low, sizeof low, low_m, system);
        size_text_write(high, sizeof high, high_m, system);
    }
    snprintf(buffer, capacity, "%.*s to %s", (int)strcspn(low, " "), low, high);
}

void
sketch_pin_text(char *buffer, size_t capacity, const struct sketch *sketch)
{
    const struct limits *pin = &sketch->joint.pin;
    struct text text;

    text_init(&text, buffer, capacity);
    if (sketch_is_stand_in(&sketch->joint.diameter)) {
        return;
    }
    if (pin->max_m - pin->min_m < size_text_step_m(sketch->job->units) / 2.0) {
        sketch_size_text(buffer, capacity, diameter_sign, &sketch->joint.diameter, sketch->job->units);
        return;
    }
    char low[SIZE_TEXT_MAX], high[SIZE_TEXT_MAX];

    size_text_write(low, sizeof low, pin->min_m, sketch->job->units);
    size_text_write(high, sizeof high, pin->max_m, sketch->job->units);
    text_format(&text, "%s%.*s to %s", diameter_sign, (int)strcspn(low, " "), low, high);
}

/* ---- dimensions ---- */

/* "eye 2 in" where the name has room between the arrows, else the figure alone. */
static void
add_length(struct sketch *sketch, const char *name, const struct sketch_size *size, double from, double from_edge,
           double to, double to_edge)
{
    char text[SVG_DIMENSION_TEXT];
    const bool assumed = size->known == SKETCH_ASSUMED;

    sketch_size_text(text, sizeof text, name, size, sketch->job->units);
    if (svg_text_width(&svg_plain, text) + 6.0 > fabs(to - from) && fabs(to - from) > 30.0) {
        sketch_size_text(text, sizeof text, "", size, sketch->job->units);
    }
    sketch->starred |= assumed;
    svg_stack_add(&sketch->lengths, from, from_edge, to, to_edge, assumed, text);
}

/* Lengths along the pin, below its section. */
static void
add_lengths(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const double eye = sketch_axis_x(axis, joint->eye_width.m / 2.0), boss = sketch_boss_x(sketch);
    const double far = sketch_axis_x(axis, joint->eye_width.m / 2.0 + joint->gap.m + joint->boss_length.m);
    const double end = sketch_axis_x(axis, joint->length.m / 2.0), mirror = 2.0 * axis->x;
    const double wall = fmax(sketch_axis_x(axis, joint->bore.m / 2.0), end + SKETCH_CLEARANCE);
    const double radius = axis->scale * joint->diameter.m / 2.0, boss_edge = axis->scale * joint->boss_outside_m / 2.0;
    const double eye_edge = axis->scale * joint->eye_drawn_m / 2.0;

    svg_stack_init(&sketch->lengths, SVG_BELOW, sketch->below + below_view, PICTURE_LEFT, SKETCH_SECTION_RIGHT + 4.0);
    add_length(sketch, "boss ", &joint->boss_length, mirror - far, boss_edge, mirror - boss, boss_edge);
    add_length(sketch, "eye ", &joint->eye_width, mirror - eye, eye_edge, eye, eye_edge);
    if (joint->gap.m > 0.0) {
        add_length(sketch, "gap ", &joint->gap, eye, eye_edge, boss, boss_edge);
    }
    add_length(sketch, "pin ", &joint->length, mirror - end, radius, end, radius);
    add_length(sketch, "bore ", &joint->bore, mirror - wall, sketch->below, wall, sketch->below);
}

/* Diameters, beside the section. */
static void
add_diameters(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const double radius = axis->scale * joint->diameter.m / 2.0, inside = axis->scale * joint->inside.m / 2.0;
    const double end = sketch_axis_x(axis, joint->length.m / 2.0);
    char text[SVG_DIMENSION_TEXT];

    svg_stack_init(&sketch->outside, SVG_LEFT, left_row, -sketch->above, sketch->below);
    sketch_pin_text(text, sizeof text, sketch);
    svg_stack_add(&sketch->outside, -radius, 2.0 * axis->x - end, radius, 2.0 * axis->x - end, false, text);
    svg_stack_init(&sketch->inside, SVG_RIGHT, right_row, -sketch->above, sketch->below);
    sketch_size_text(text, sizeof text, diameter_sign, &joint->inside, sketch->job->units);
    svg_stack_add(&sketch->inside, -inside, end, inside, end, joint->inside.known == SKETCH_ASSUMED, text);
}

/* Outside of the eye below the cross-section; bolt and hinge beside it. */
static void
add_cross(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_cross *cross = &sketch->cross;
    const double round = cross->scale * joint->eye_drawn_m / 2.0, pin = cross->scale * joint->diameter.m / 2.0;
    const double hinge = cross->scale * joint->hinge.m, bolt = cross->scale * joint->bolt_offset_m;
    char text[SVG_DIMENSION_TEXT];

    svg_stack_init(&sketch->widths, SVG_BELOW, cross->below + below_view, SKETCH_LIST_LEFT, PICTURE_RIGHT);
    if (joint->eye_drawn_m >= joint->eye_outside.m) {
        sketch_size_text(text, sizeof text, diameter_sign, &joint->eye_outside, sketch->job->units);
        sketch->starred |= joint->eye_outside.known == SKETCH_ASSUMED;
        svg_stack_add(&sketch->widths, cross->x - round, 0.0, cross->x + round, 0.0,
                      joint->eye_outside.known == SKETCH_ASSUMED, text);
    }
    /* Figures may reach up beside the callouts, which leave room for them. */
    svg_stack_init(&sketch->offsets, SVG_RIGHT, offset_row, -fmax(sketch->above, cross->above) - SKETCH_CALLOUT_ROW,
                   cross->below);
    if (!joint->has_bolt) {
        return;
    }
    const struct sketch_size offset = {joint->bolt_offset_m, SKETCH_GIVEN};

    sketch_size_text(text, sizeof text, "", &offset, sketch->job->units);
    svg_stack_add(&sketch->offsets, -bolt, cross->x + cross->half, 0.0, cross->x + pin, false, text);
    if (hinge + 7.0 <= cross->below && joint->hinge.known == SKETCH_GIVEN) {
        sketch_size_text(text, sizeof text, "", &joint->hinge, sketch->job->units);
        svg_stack_add(&sketch->offsets, 0.0, cross->x + pin, hinge, cross->x + 6.0, false, text);
    }
}

void
sketch_lengths_add(struct sketch *sketch)
{
    add_lengths(sketch);
    add_diameters(sketch);
    add_cross(sketch);
    svg_stack_layout(&sketch->lengths);
    svg_stack_layout(&sketch->outside);
    svg_stack_layout(&sketch->inside);
    svg_stack_layout(&sketch->widths);
    svg_stack_layout(&sketch->offsets);
    if (sketch->offsets.rows > 1) { /* the last row stands at the margin */
        sketch->offsets.first -= SVG_ROW * (double)(sketch->offsets.rows - 1);
    }
}

void
sketch_figures_place(struct sketch *sketch)
{
    svg_stack_move(&sketch->lengths, sketch->axis.y);
    svg_stack_move(&sketch->outside, sketch->axis.y);
    svg_stack_move(&sketch->inside, sketch->axis.y);
    svg_stack_move(&sketch->widths, sketch->axis.y);
    svg_stack_move(&sketch->offsets, sketch->axis.y);
}

/* ---- callouts ---- */

static void
call_out_slot(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_axis *axis = &sketch->axis;
    const enum unit_system system = sketch->job->units;
    char depth[SVG_DIMENSION_TEXT], cutter[SVG_DIMENSION_TEXT], text[SKETCH_CALLOUT_TEXT];

    if (!joint->has_slot) {
        return;
    }
    quantity_write(depth, sizeof depth, joint->slot_depth_m, DIMENSION_LENGTH, system);
    quantity_write(cutter, sizeof cutter, joint->cutter_m, DIMENSION_LENGTH, system);
    snprintf(text, sizeof text, "slot %s deep%s%s%s", depth, joint->cutter_known ? ", cutter " : "",
             joint->cutter_known ? diameter_sign : "", joint->cutter_known ? cutter : "");
    /* The leader ends on the floor beside its middle, which the mark may need. */
    const double radius_m = joint->diameter.m / 2.0;
    const double half_m = fmin(sketch_slot_half_m(joint, radius_m), joint->length.m / 2.0) / 2.0;
    const double rise_m = joint->cutter_m / 2.0 - sqrt(fmax(pow(joint->cutter_m / 2.0, 2.0) - half_m * half_m, 0.0));

    sketch_band_add(&sketch->band, sketch_axis_x(axis, -half_m),
                    -axis->scale * (radius_m - joint->slot_depth_m + rise_m), &svg_plain, text);
}

/* Clearance of the surface that runs, as the fit's results give it. */
static void
call_out_clearance(struct sketch *sketch)
{
    const struct result_value *least = &sketch->report->result[RESULT_fit_clearance_min];
    const struct result_value *most = &sketch->report->result[RESULT_fit_clearance_max];
    const struct result_value *hot_least = &sketch->report->result[RESULT_fit_hot_clearance_min];
    const struct result_value *hot_most = &sketch->report->result[RESULT_fit_hot_clearance_max];
    const struct sketch_axis *axis = &sketch->axis;
    const double radius = axis->scale * sketch->joint.diameter.m / 2.0;
    const bool in_eye = sketch->job->running_fit.at == CHOICE_surface_EYE;
    char range[SVG_DIMENSION_TEXT], hot[SVG_DIMENSION_TEXT], text[SKETCH_CALLOUT_TEXT];

    if (!least->known || !most->known) {
        return;
    }
    sketch_range_text(range, sizeof range, least->si, most->si, sketch->job->units);
    sketch_range_text(hot, sizeof hot, hot_least->si, hot_most->si, sketch->job->units);
    snprintf(text, sizeof text, "clearance %s%s%s", range, hot_most->known ? ", hot " : "", hot_most->known ? hot : "");
    if (in_eye) {
        sketch_band_add(&sketch->band, sketch_axis_x(axis, -0.36 * sketch->joint.eye_width.m),
                        -radius - sketch->clear_eye / 2.0, &svg_plain, text);
    } else {
        sketch_band_add(&sketch->band, sketch_axis_x(axis, -sketch_screw_z_m(&sketch->joint)),
                        -radius - sketch->clear_boss / 2.0, &svg_plain, text);
    }
}

/* What is left beside the pin's ends: as computed, else by the chord on which
 * the pin's round end would meet the wall. */
static void
call_out_wall(struct sketch *sketch)
{
    const struct sketch_joint *joint = &sketch->joint;
    const struct result_value *clearance = &sketch->report->result[RESULT_slot_wall_clearance];
    const double bore = joint->bore.m, d = joint->diameter.m, end = sketch_axis_x(&sketch->axis, joint->length.m / 2.0);
    const double wall = fmax(sketch_axis_x(&sketch->axis, bore / 2.0), end + SKETCH_CLEARANCE);
    char number[SVG_DIMENSION_TEXT], text[SKETCH_CALLOUT_TEXT];
    double left_m = clearance->si;

    if (!clearance->known) {
        if (joint->bore.known == SKETCH_ABSENT || sketch_is_stand_in(&joint->length) ||
            sketch_is_stand_in(&joint->diameter) || !(bore > d)) {
            return;
        }
        left_m = (sqrt(bore * bore - d * d) - joint->length.m) / 2.0;
    }
    quantity_write(number, sizeof number, fabs(left_m), DIMENSION_LENGTH, sketch->job->units);
    const bool assumed =
        joint->length.known == SKETCH_ASSUMED || (clearance->known && joint->gap.known == SKETCH_ASSUMED);

    sketch->starred |= assumed;
    snprintf(text, sizeof text, "%s %s%s%s", left_m < 0.0 ? "into the wall" : "to wall", number, assumed ? "*" : "",
             clearance->known ? ", play taken up" : "");
    sketch_band_add(&sketch->band, (end + wall) / 2.0, -0.3 * sketch->axis.scale * d, &svg_plain, text);
}

static void
call_out_screws(struct sketch *sketch)
{
    const struct job_set_screw *screw = &sketch->job->set_screw;
    const struct sketch_axis *axis = &sketch->axis;
    char flat[SVG_DIMENSION_TEXT], text[SKETCH_CALLOUT_TEXT];
    struct text words;

    if (!sketch->joint.has_screws) {
        return;
    }
    text_init(&words, text, sizeof text);
    text_format(&words, "%.0f set screw%s", screw->count_count, screw->count_count > 1.0 ? "s" : "");
    if (job_known(sketch->job, FIELD_set_screw_thread)) {
        text_format(&words, " %s", screw->thread.designation);
    }
    if (sketch->joint.flat_depth_m > 0.0) {
        quantity_write(flat, sizeof flat, sketch->joint.flat_depth_m, DIMENSION_LENGTH, sketch->job->units);
        text_format(&words, ", flat %s deep", flat);
    }
    sketch_band_add(&sketch->band, sketch_axis_x(axis, -sketch_screw_z_m(&sketch->joint)), -sketch->above + 8.0,
                    &svg_plain, text);
}

void
sketch_callouts_add(struct sketch *sketch)
{
    char text[SKETCH_CALLOUT_TEXT], bolt[SVG_DIMENSION_TEXT];
    const struct sketch_joint *joint = &sketch->joint;
    const struct sketch_cross *cross = &sketch->cross;

    sketch->band = (struct sketch_band){.left = PICTURE_LEFT, .right = SKETCH_SECTION_RIGHT + 4.0};
    sketch->cross_band = (struct sketch_band){.left = SKETCH_LIST_LEFT, .right = offset_row - 2.0 * SVG_ROW};
    if (sketch->worst != FINDING_MAX) {
        const struct svg_point at = sketch_place_of(sketch, check_row(sketch->worst));

        sketch_worst_text(text, sizeof text, sketch);
        sketch->starred |= sketch->report->finding[sketch->worst].assumed_geometry;
        sketch_band_add(&sketch->band, at.x, at.y - 6.5, &svg_marked, text);
    }
    call_out_slot(sketch);
    call_out_screws(sketch);
    call_out_clearance(sketch);
    call_out_wall(sketch);
    if (joint->has_bolt) {
        quantity_write(bolt, sizeof bolt, joint->bolt_m, DIMENSION_LENGTH, sketch->job->units);
        snprintf(text, sizeof text, "clamp bolt %s%s", diameter_sign, bolt);
        sketch_band_add(&sketch->cross_band, cross->x - 0.6 * cross->scale * cross->bolt_reach_m,
                        -cross->scale * (joint->bolt_offset_m + joint->bolt_m / 2.0), &svg_plain, text);
    }
    sketch_band_layout(&sketch->band);
    sketch_band_layout(&sketch->cross_band);
}

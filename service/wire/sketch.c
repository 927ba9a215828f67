#include "wire/sketch.h"

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "joint/check.h"
#include "quantity/quantity.h"
#include "wire/message.h"
#include "wire/sketch_view.h"
#include "wire/svg_measure.h"
#include "wire/text_part.h"

/*
 * The layout, from top to bottom: title; section along the pin with its
 * diameters at the left and the view along the pin at the right; the lengths
 * below; load and moment, where they are known; notes; cautions. Heights follow
 * from what there is.
 */
static const double margin = 12.0, line_high = 14.0, title_base = 20.0;
static const double section_x = 222.0, section_half = 160.0, section_high = 82.0, cross_x = 500.0;

enum { NOTES_MAX = 8, NOTE_SIZE = 320, LINE_SIZE = 256 };

struct notes {
    size_t count;
    char text[NOTES_MAX][NOTE_SIZE];
};

struct picture {
    struct sketch_view view;
    struct svg_stack lengths, diameters;
    struct notes notes;
    const struct check *worst; /* NULL = nothing was judged */
    const struct finding *finding;
    double diagram_top, notes_top, cautions_top, height;
};

/* ---- words ---- */

static struct text
note(struct notes *notes)
{
    struct text text;
    const size_t at = notes->count < NOTES_MAX ? notes->count++ : NOTES_MAX - 1;
    text_init(&text, notes->text[at], NOTE_SIZE);
    return text;
}

static void
add_quantity(struct text *text, const char *before, double m, enum unit_system units)
{
    char number[QUANTITY_TEXT_SIZE];
    quantity_write(number, sizeof number, m, DIMENSION_LENGTH, units);
    text_format(text, "%s%s", before, number);
}

static void
note_worst(struct picture *picture)
{
    if (picture->worst == NULL) {
        return;
    }
    char share[TEXT_PART_SIZE];
    struct text text = note(&picture->notes);
    text_part_share(share, sizeof share, picture->finding);
    text_format(&text, "Worst: %s%s%s%s (%s)", picture->worst->name, share[0] != '\0' ? ", at " : "", share,
                share[0] != '\0' ? " of its limit" : "", verdict_text(picture->finding->verdict));
}

static void
note_lock(struct picture *picture, const struct job *job)
{
    const struct sketch_joint *joint = picture->view.joint;
    if (joint->has_slot) {
        struct text text = note(&picture->notes);
        add_quantity(&text, "Slot ", joint->slot_depth_m, job->units);
        text_add(&text, " deep");
        if (joint->cutter_known) {
            add_quantity(&text, ", cutter ", joint->cutter_m, job->units);
        }
        if (joint->has_bolt) {
            add_quantity(&text, "; bolt ", joint->bolt_m, job->units);
            add_quantity(&text, ", its center ", joint->bolt_offset_m, job->units);
            text_add(&text, " from the pin's");
        }
    }
    if (joint->bolt_too_far) {
        struct text text = note(&picture->notes);
        text_add(&text, "The clamp bolt is too far from the pin to be drawn.");
    }
}

static bool
any_assumed(const struct sketch_joint *joint)
{
    const struct sketch_size *sizes[] = {&joint->diameter, &joint->length, &joint->eye_width,
                                         &joint->eye_outside, &joint->boss_length, &joint->gap};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        if (sizes[i]->known != SKETCH_GIVEN) {
            return true;
        }
    }
    return false;
}

static void
note_drawing(struct picture *picture, const struct job *job, const struct report *report)
{
    const struct sketch_joint *joint = picture->view.joint;
    const struct result_value *low = &report->result[RESULT_fit_clearance_min];
    const struct result_value *high = &report->result[RESULT_fit_clearance_max];
    struct text text = note(&picture->notes);
    text_add(&text, "Drawn to scale");
    if (picture->view.axis.lengthened > 1.0) {
        text_format(&text, ", but %g times as long as it is", picture->view.axis.lengthened);
    }
    text_add(&text, picture->view.axis.shortened ? ", pieces left out at the break lines" : "");
    text_add(&text, joint->boss_wall_m + joint->eye_wall_m > 0.0 && !joint->wall_known
                        ? "; outsides of the bosses and walls of bushings indicated only."
                        : "; outsides of the bosses indicated only.");
    text_add(&text, any_assumed(joint) ? " Dashed or *: not given, assumed." : "");
    if (low->known && high->known) {
        char range[2 * QUANTITY_TEXT_SIZE];
        quantity_write_range(range, sizeof range, low->si, high->si, DIMENSION_LENGTH, job->units);
        text = note(&picture->notes);
        text_format(&text, "Running clearance %s on the diameter: too fine to be drawn.", range);
    }
}

/* ---- layout ---- */

static double
lines_high(const char *words)
{
    char line[LINE_SIZE];
    double high = 0.0;
    for (const char *at = words; svg_text_wrap(&at, line, sizeof line, &svg_plain, SVG_WIDTH - 2.0 * margin);) {
        high += line_high;
    }
    return high;
}

static double
draw_lines(struct buffer *out, double top, const struct svg_letter *letter, const char *words)
{
    char line[LINE_SIZE];
    for (const char *at = words; svg_text_wrap(&at, line, sizeof line, &svg_plain, SVG_WIDTH - 2.0 * margin);) {
        top += line_high;
        svg_text(out, margin, top - 3.0, SVG_START, letter, line);
    }
    return top;
}

static double
cautions_high(const struct report *report)
{
    double high = 0.0;
    for (size_t i = 0; i < report->caution_count; i++) {
        high += lines_high(report->caution[i]) + 2.0;
    }
    return high;
}

static void
find_worst(struct picture *picture, const struct report *report)
{
    size_t index = 0;
    if (text_part_worst(report, &index, 1) == 1) {
        picture->worst = check_row(index);
        picture->finding = &report->finding[index];
    }
}

static void
lay_out(struct picture *picture, const struct sketch_joint *joint, const struct job *job, const struct report *report)
{
    struct sketch_view *view = &picture->view;
    *picture = (struct picture){.view = {.joint = joint, .units = job->units}};
    sketch_axis_fit(&view->axis, joint, section_half, section_high);
    const double reach = sketch_axis_off(&view->axis, fmax(joint->eye_drawn_m, joint->boss_outside_m) / 2.0);
    const double bolt = joint->has_bolt ? sketch_axis_off(&view->axis, joint->bolt_offset_m + joint->bolt_m / 2.0) : 0.0;
    view->axis.x = section_x;
    view->axis.y = title_base + 24.0 + fmax(fmax(reach, bolt), 30.0);
    sketch_section_diameters(view, &picture->diameters);
    sketch_section_lengths(view, view->axis.y + fmax(reach, 30.0) + 18.0, &picture->lengths);
    picture->diagram_top = picture->lengths.first + SVG_ROW * (double)picture->lengths.rows;
    picture->notes_top = picture->diagram_top + (joint->load_known ? SKETCH_DIAGRAM : 0.0) + 4.0;
    find_worst(picture, report);
    note_worst(picture);
    note_lock(picture, job);
    note_drawing(picture, job, report);
    picture->cautions_top = picture->notes_top + 8.0;
    for (size_t i = 0; i < picture->notes.count; i++) {
        picture->cautions_top += lines_high(picture->notes.text[i]);
    }
    picture->height = ceil(picture->cautions_top + cautions_high(report) + margin);
}

/* ---- the worst place ---- */

/* Where along the pin, and at what height, a check looks. */
static bool
place_of(const struct check *check, const struct sketch_joint *joint, double *z_m, double *height_m)
{
    const double radius = joint->diameter.m / 2.0, half = joint->eye_width.m / 2.0, inner = half + joint->gap.m;
    const double boss = inner + joint->boss_length.m / 2.0;
    const struct {
        const char *id;
        double z_m, height_m;
    } places[] = {
        {"boss_pressure", boss, -radius},   {"boss_pv", boss, -radius},
        {"eye_pressure", 0.0, -radius},     {"eye_pv", 0.0, -radius},
        {"bending", 0.0, -radius},          {"yield", 0.0, -radius},
        {"fatigue", 0.0, -radius},          {"ovalization", 0.0, 0.0},
        {"shear", inner, 0.0},              {"edge_slope", inner, -radius},
        {"slot_bending", 0.0, radius - joint->slot_depth_m}, {"slot_fatigue", 0.0, radius - joint->slot_depth_m},
        {"slot_clears_bolt", 0.0, radius - joint->slot_depth_m}, {"cutter_clears_bolt", 0.0, radius},
        {"hold_axial", 0.0, radius},        {"hold_torque", 0.0, radius},
        {"bolt_shear", 0.0, joint->bolt_offset_m}, {"flank_pressure", 0.0, radius},
        {"grip_axial", 0.0, -radius},       {"grip_torque", 0.0, -radius},
        {"wall_clearance", joint->length.m / 2.0, 0.0}, {"screw_axial", boss, radius},
        {"screw_torque", boss, radius},     {"clearance_cold", boss, -radius},
        {"clearance_hot", boss, -radius},   {"held_clearance", 0.0, -radius},
        {"steel_strength", 0.0, -radius},
    };
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        if (strcmp(places[i].id, check->id) == 0) {
            *z_m = places[i].z_m;
            *height_m = places[i].height_m;
            return true;
        }
    }
    return false;
}

static void
mark_worst(struct buffer *out, const struct picture *picture)
{
    double z_m = 0.0, height_m = 0.0;
    const struct sketch_view *view = &picture->view;
    if (picture->worst == NULL || !place_of(picture->worst, view->joint, &z_m, &height_m)) {
        return;
    }
    const double x = sketch_axis_x(&view->axis, z_m), y = view->axis.y - sketch_axis_off(&view->axis, height_m);
    svg_ellipse(out, x, y, 8.0, 8.0, SVG_INK_MARK, SVG_FILL_NONE);
    if (view->joint->load_known) {
        svg_line(out, x, picture->diagram_top + 16.0, x, picture->diagram_top + SKETCH_DIAGRAM, SVG_INK_MARK);
    }
}

/* ---- the picture ---- */

static void
title_of(char title[LINE_SIZE], const struct job *job, const struct report *report)
{
    struct text text;
    text_init(&text, title, LINE_SIZE);
    text_add(&text, text_part_verdict(report->verdict));
    text_add(&text, job->label[0] != '\0' ? ": " : "");
    text_add(&text, job->label);
}

static void
open_picture(struct buffer *out, double height, const struct job *job, const struct report *report)
{
    char title[LINE_SIZE], shown[LINE_SIZE];
    struct message_text summary;
    title_of(title, job, report);
    message_render(&summary, &report->summary, job->units);
    svg_open(out, "sketch", height, title, summary.at);
    svg_text_cut(shown, sizeof shown, &svg_title, title, SVG_WIDTH - 2.0 * margin);
    svg_text(out, margin, title_base, SVG_START, &svg_title, shown);
}

static void
draw_cautions(struct buffer *out, double top, const struct report *report)
{
    for (size_t i = 0; i < report->caution_count; i++) {
        top = draw_lines(out, top, &svg_plain, report->caution[i]) + 2.0;
    }
}

/* Nothing to draw: say what would help. */
static void
write_nothing(struct buffer *out, const struct job *job, const struct report *report)
{
    static const char words[] = "Nothing is known yet of the joint's sizes. Give the diameter and length of the pin, "
                                "the width of the eye and the bore of the cylinder, and it can be drawn.";
    const double top = title_base + 10.0, below = top + lines_high(words) + 10.0;
    open_picture(out, ceil(below + cautions_high(report) + margin), job, report);
    draw_lines(out, top, &svg_bold, words);
    draw_cautions(out, below, report);
    svg_close(out);
}

void
sketch_write(struct buffer *out, const struct job *job, const struct report *report)
{
    struct sketch_joint joint;
    struct picture picture;
    if (!sketch_joint_of(job, report, &joint)) {
        write_nothing(out, job, report);
        return;
    }
    lay_out(&picture, &joint, job, report);
    open_picture(out, picture.height, job, report);
    sketch_section_draw(out, &picture.view);
    sketch_cross_draw(out, &picture.view, cross_x, picture.view.axis.y);
    svg_stack_draw(out, &picture.lengths);
    svg_stack_draw(out, &picture.diameters);
    if (joint.load_known) {
        sketch_moment_draw(out, &picture.view, picture.diagram_top);
    }
    mark_worst(out, &picture);
    double top = picture.notes_top;
    for (size_t i = 0; i < picture.notes.count; i++) {
        top = draw_lines(out, top, i == 0 && picture.worst != NULL ? &svg_marked : &svg_bold, picture.notes.text[i]);
    }
    draw_cautions(out, picture.cautions_top, report);
    svg_close(out);
}

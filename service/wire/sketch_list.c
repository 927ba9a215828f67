#include "wire/sketch_part.h"

#include <math.h>
#include <stdio.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/text_part.h"

enum { ENTRY_SIZE = 240, NUMBER_SIZE = 64 };

static const double swatch_wide = 20.0, swatch_high = 9.0, indent = 27.0;

/* ---- list of parts ---- */

/* One part: a piece of its hatching and its words. */
static double
add_entry(struct buffer *out, double top, enum svg_fill fill, const char *words)
{
    if (out != NULL) {
        svg_rect(out, SKETCH_LIST_LEFT, top + 2.0, SKETCH_LIST_LEFT + swatch_wide, top + 2.0 + swatch_high,
                 SVG_INK_THIN, fill);
    }
    return picture_paragraph(out, SKETCH_LIST_LEFT + indent, PICTURE_RIGHT, top, &svg_plain, words) + 2.0;
}

/* The word of a choice, for people; with an asterisk where it is assumed. */
static void
add_choice(struct text *text, const struct sketch *sketch, enum job_field field, int word)
{
    size_t count = 0;
    const struct choice_row *rows = choice_table(job_field_row(field)->choices, &count);
    char name[NUMBER_SIZE];

    if (!job_known(sketch->job, field) || word < 0 || (size_t)word >= count) {
        return;
    }
    text_part_name(name, sizeof name, rows[word].text);
    text_join(text, name, job_given(sketch->job, field) ? "" : "*");
}

static double
add_metal(struct buffer *out, const struct sketch *sketch, double top, const char *what, enum job_field field,
          double wall_m)
{
    char words[ENTRY_SIZE];
    const struct metal *metal = job_metal(sketch->job, field);

    if (!(wall_m > 0.0)) {
        return top;
    }
    snprintf(words, sizeof words, "%s%s%s", what, metal != NULL ? ": " : "", metal != NULL ? metal->id : "");
    return add_entry(out, top, SVG_FILL_BUSHING, words);
}

static double
add_pin(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct steel *steel = job_steel(sketch->job);
    const bool hollow = sketch->joint.inside.m > 0.0;
    char words[ENTRY_SIZE];
    struct text text;

    text_init(&text, words, sizeof words);
    text_format(&text, "pin: %s", steel != NULL ? steel->id : "steel not given");
    if (job_given(sketch->job, FIELD_pin_finish)) {
        text_add(&text, ", ");
        add_choice(&text, sketch, FIELD_pin_finish, sketch->job->pin.finish);
    }
    text_add(&text, hollow ? ", hollow" : "");
    return add_entry(out, top, hollow ? SVG_FILL_PIN : SVG_FILL_PAPER, words);
}

static double
add_lock(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct job *job = sketch->job;
    char words[ENTRY_SIZE];
    struct text text;
    double y = top;

    text_init(&text, words, sizeof words);
    if (sketch->joint.bolt_too_far) {
        return add_entry(out, y, SVG_FILL_BOLT, "bolt: far off the pin or far thicker, not drawn");
    }
    if (sketch->joint.has_bolt) {
        text_add(&text, "bolt");
        if (job_given(job, FIELD_clamp_bolt_thread)) {
            text_format(&text, " %s", job->clamp_bolt.thread.designation);
        }
        if (job_known(job, FIELD_clamp_bolt_grade)) {
            text_add(&text, ", ");
            add_choice(&text, sketch, FIELD_clamp_bolt_grade, job->clamp_bolt.grade);
        }
        y = add_entry(out, y, SVG_FILL_BOLT, words);
    }
    return y;
}

static double
add_arrow(struct buffer *out, double top)
{
    if (out != NULL) {
        svg_line(out, SKETCH_LIST_LEFT, top + 7.0, SKETCH_LIST_LEFT + swatch_wide, top + 7.0, SVG_INK_OUTLINE);
        svg_arrow_head(out, SKETCH_LIST_LEFT + swatch_wide, top + 7.0, 1.0, 0.0, SVG_FILL_INK);
    }
    return picture_paragraph(out, SKETCH_LIST_LEFT + indent, PICTURE_RIGHT, top, &svg_plain, "toward the crank") + 2.0;
}

double
sketch_list_write(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct sketch_joint *joint = &sketch->joint;
    char words[ENTRY_SIZE];
    struct text text;
    double y = top;

    y = add_pin(out, sketch, y);
    text_init(&text, words, sizeof words);
    text_add(&text, "rod's eye: ");
    add_choice(&text, sketch, FIELD_eye_metal, sketch->job->eye.metal);
    y = add_entry(out, y, SVG_FILL_EYE, words);
    y = add_metal(out, sketch, y, "eye bushing", FIELD_eye_bushing, joint->eye_wall_m);
    text_init(&text, words, sizeof words);
    text_add(&text, "piston boss: ");
    add_choice(&text, sketch, FIELD_boss_metal, sketch->job->boss.metal);
    y = add_entry(out, y, SVG_FILL_BOSS, words);
    y = add_metal(out, sketch, y, "boss bushing", FIELD_boss_bushing, joint->boss_wall_m);
    y = add_lock(out, sketch, y);
    return add_arrow(out, y);
}

/* ---- notes ---- */

/* What of the drawing is not to scale. */
static void
add_scale(struct text *text, const struct sketch *sketch)
{
    const struct sketch_axis *axis = &sketch->axis;
    const double share = sketch->cross.scale / axis->scale;

    text_add(text, "Drawn to scale; clearances and thin bushings are shown wider than they are.");
    if (axis->shortened) {
        text_add(text, " Long stretches are shortened at the break lines.");
    }
    if (axis->lengthened > 1.0) {
        text_format(text, " Lengths along the pin are drawn %.0f times larger than the rest.", axis->lengthened);
    }
    if (fabs(share - 1.0) > 0.005) {
        text_format(text, " The view through the eye is drawn %.2g times the size of the section.", share);
    }
    if (sketch->joint.eye_drawn_m < sketch->joint.eye_outside.m) {
        text_add(text, " The eye is too large beside the pin to be drawn whole.");
    }
    text_add(text, " Outsides of bosses, rod, bolt head and nut are only indicated");
    text_add(text, (sketch->joint.eye_wall_m > 0.0 || sketch->joint.boss_wall_m > 0.0) && !sketch->joint.wall_known
                       ? ", and so are the walls of bushings."
                       : ".");
}

static void
add_slot_angle(struct text *text, const struct sketch *sketch)
{
    char angle[NUMBER_SIZE];

    if (sketch->joint.has_slot && sketch->joint.slot_angle_rad > 0.0) {
        quantity_write(angle, sizeof angle, sketch->joint.slot_angle_rad, DIMENSION_ANGLE, sketch->job->units);
        text_format(text, " The slot is drawn upward; it stands %s from the side that peak load puts in tension.",
                    angle);
    }
}

double
sketch_notes_write(struct buffer *out, const struct sketch *sketch, double top)
{
    char words[1024];
    struct text text;
    const bool wants_load = (call_row(sketch->report->call)->sections & SECTION_BIT(load)) != 0;

    text_init(&text, words, sizeof words);
    add_scale(&text, sketch);
    add_slot_angle(&text, sketch);
    text_add(&text, sketch->joint.gap.known == SKETCH_GIVEN && !(sketch->joint.gap.m > 0.0)
                        ? " There is no gap between eye and bosses."
                        : "");
    text_add(&text,
             sketch->starred || !job_given(sketch->job, FIELD_eye_metal) || !job_given(sketch->job, FIELD_boss_metal)
                 ? " * Assumed, not given: measure it, or find out."
                 : "");
    text_add(&text, sketch->dashed ? " Dashed outlines stand for sizes that were not given." : "");
    if (wants_load && !sketch->joint.load_known) {
        text_add(&text, " For the load and bending moment along the pin, give bore, stroke and a pressure of the "
                        "engine.");
    }
    return picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT, top, &svg_plain, words);
}

#include "wire/sketch.h"

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/message.h"
#include "wire/sketch_part.h"

static const char what[] = "Wrist pin joint";

/* Free space between blocks. */
static const double apart = 10.0;
/* Height of the line that names the views. */
static const double caption = 16.0;

enum { DESCRIPTION_SIZE = 2 * MESSAGE_SIZE };

/* Where the blocks stand on the paper; the views' axis is in struct sketch. */
struct blocks {
    double verdict, views, diagrams, detail, list, notes, cautions, end;
};

/* ---- in words, for those who hear the picture ---- */

static void
add_size(struct text *text, const char *before, const char *size)
{
    if (size[0] != '\0') {
        text_join(text, " ", before, " ", size, ".");
    }
}

static void
describe(struct text *text, const struct sketch *sketch)
{
    const struct job *job = sketch->job;
    char words[SKETCH_CALLOUT_TEXT];
    struct message_text summary;

    message_render(&summary, &sketch->report->summary, job->units);
    text_add(text, summary.at);
    if (sketch->worst != FINDING_MAX) {
        sketch_worst_text(words, sizeof words, sketch);
        add_size(text, "Marked on the drawing:", words);
    }
    sketch_pin_text(words, sizeof words, sketch);
    add_size(text, "Pin:", words);
    sketch_size_text(words, sizeof words, "", &sketch->joint.length, job->units);
    add_size(text, "Length of the pin:", words);
    sketch_size_text(words, sizeof words, "", &sketch->joint.eye_width, job->units);
    add_size(text, "Eye:", words);
    sketch_size_text(words, sizeof words, "", &sketch->joint.boss_length, job->units);
    add_size(text, "Each boss:", words);
    sketch_size_text(words, sizeof words, "", &sketch->joint.bore, job->units);
    add_size(text, "Bore of the cylinder:", words);
    if (sketch->joint.load_known) {
        quantity_write(words, sizeof words, sketch->joint.beam.force_N, DIMENSION_FORCE, job->units);
        add_size(text, "Load:", words);
        quantity_write(words, sizeof words, sketch_beam_moment_Nm(&sketch->joint.beam, 0.0), DIMENSION_TORQUE,
                       job->units);
        add_size(text, "Greatest bending moment, at mid-length:", words);
    }
}

static void
open_picture(struct buffer *out, const struct job *job, const struct report *report, const char *description,
             double height)
{
    char title[PICTURE_TITLE_SIZE];

    picture_title(title, sizeof title, what, job, report);
    svg_open(out, "sketch", ceil(height), title, description);
}

/* ---- blocks ---- */

static double
largest(double a, double b)
{
    return a > b ? a : b;
}

/* Lay everything out; the axis of the views and the places of the blocks. */
static void
lay_out(struct sketch *sketch, struct blocks *blocks)
{
    double y = picture_label(NULL, sketch->job, what, apart);

    blocks->verdict = y;
    y = picture_verdict(NULL, sketch->job, sketch->report, y) + apart;
    blocks->views = y;
    const size_t rows = sketch->band.rows > sketch->cross_band.rows ? sketch->band.rows : sketch->cross_band.rows;

    y += caption + SKETCH_CALLOUT_ROW * (double)rows + 6.0;
    sketch->axis.y = y + largest(sketch->above, sketch->cross.above);
    sketch_figures_place(sketch);
    blocks->diagrams = sketch->lengths.first + SVG_ROW * (double)sketch->lengths.rows;
    blocks->detail = sketch->widths.first + SVG_ROW * (double)sketch->widths.rows;
    blocks->list = sketch_detail_write(NULL, sketch, blocks->detail);
    y = largest(sketch_moment_write(NULL, sketch, blocks->diagrams), sketch_list_write(NULL, sketch, blocks->list));
    blocks->notes = y + apart;
    blocks->cautions = sketch_notes_write(NULL, sketch, blocks->notes) + apart;
    blocks->end = picture_cautions(NULL, sketch->report, blocks->cautions) + apart;
}

static void
draw_all(struct buffer *out, const struct sketch *sketch, const struct blocks *blocks)
{
    const double section_top = sketch->axis.y - largest(sketch->above, sketch->cross.above) - 4.0;

    picture_label(out, sketch->job, what, apart);
    picture_verdict(out, sketch->job, sketch->report, blocks->verdict);
    svg_text(out, PICTURE_LEFT, blocks->views + 11.0, SVG_START, &svg_bold, "Section along the pin");
    svg_text(out, SKETCH_LIST_LEFT, blocks->views + 11.0, SVG_START, &svg_bold, "Section through the eye");
    sketch_section_draw(out, sketch);
    sketch_cross_draw(out, sketch);
    svg_stack_draw(out, &sketch->lengths);
    svg_stack_draw(out, &sketch->outside);
    svg_stack_draw(out, &sketch->inside);
    svg_stack_draw(out, &sketch->widths);
    svg_stack_draw(out, &sketch->offsets);
    sketch_band_draw(out, &sketch->band, section_top, sketch->axis.y);
    sketch_band_draw(out, &sketch->cross_band, section_top, sketch->axis.y);
    sketch_mark_draw(out, sketch);
    sketch_moment_write(out, sketch, blocks->diagrams);
    sketch_detail_write(out, sketch, blocks->detail);
    sketch_list_write(out, sketch, blocks->list);
    sketch_notes_write(out, sketch, blocks->notes);
    picture_cautions(out, sketch->report, blocks->cautions);
}

/* ---- nothing to draw ---- */

static double
write_hint(struct buffer *out, const struct job *job, const struct report *report)
{
    static const char hint[] =
        "There is nothing to draw yet. Give the bore of the cylinder (engine.bore) or the diameter of the pin "
        "(pin.diameter); then the width of the eye (eye.width), length and side gap of the bosses (boss.length, "
        "boss.gap) and the length of the pin (pin.length). With engine.stroke and engine.peak_pressure the picture "
        "shows the load and the bending moment too.";
    double y = picture_label(out, job, what, apart);

    y = picture_verdict(out, job, report, y) + apart;
    y = picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT, y, &svg_plain, hint) + apart;
    return picture_cautions(out, report, y) + apart;
}

static void
write_nothing(struct buffer *out, const struct job *job, const struct report *report)
{
    struct message_text summary;

    message_render(&summary, &report->summary, job->units);
    open_picture(out, job, report, summary.at, write_hint(NULL, job, report));
    write_hint(out, job, report);
    svg_close(out);
}

void
sketch_write(struct buffer *out, const struct job *job, const struct report *report)
{
    struct sketch sketch;
    struct blocks blocks;
    char description[DESCRIPTION_SIZE];
    struct text text;

    memset(&sketch, 0, sizeof sketch);
    sketch.job = job;
    sketch.report = report;
    if (!sketch_joint_of(job, report, &sketch.joint)) {
        write_nothing(out, job, report);
        return;
    }
    sketch.worst = sketch_worst(report);
    sketch.dashed = sketch_is_stand_in(&sketch.joint.diameter) || sketch_is_stand_in(&sketch.joint.length) ||
                    sketch_is_stand_in(&sketch.joint.eye_width) || sketch_is_stand_in(&sketch.joint.eye_outside) ||
                    sketch_is_stand_in(&sketch.joint.boss_length);
    sketch_section_fit(&sketch);
    sketch_cross_fit(&sketch);
    sketch_lengths_add(&sketch);
    sketch_callouts_add(&sketch);
    lay_out(&sketch, &blocks);
    text_init(&text, description, sizeof description);
    describe(&text, &sketch);
    open_picture(out, job, report, description, blocks.end);
    draw_all(out, &sketch, &blocks);
    svg_close(out);
}

#include "wire/sketch_part.h"

#include <math.h>
#include <stdio.h>

#include "quantity/quantity.h"
#include "wire/svg_measure.h"

/* The pin as a beam: its load, and the bending moment on the side in tension. */

enum { NUMBER_SIZE = 64, SENTENCE_SIZE = 320, ARROWS_MAX = 20 };

static const double load_half = 30.0, block_high = 22.0, moment_high = 46.0, half_width = 150.0, arrow_apart = 11.0;

/* The beam on the paper. Where the section keeps its scale the diagrams stand
 * straight under it; else they have a scale of their own. */
struct plot {
    struct buffer *out;
    const struct sketch_beam *beam;
    double x, scale;
    double up; /* direction on the paper of a force that pushes the pin up: -1; 1 where the load pulls */
};

static double
inner_m(const struct sketch_beam *beam)
{
    return beam->eye_m / 2.0 + beam->gap_m;
}

static double
outer_m(const struct sketch_beam *beam)
{
    return inner_m(beam) + beam->bearing_m;
}

static double
at(const struct plot *plot, double z_m)
{
    return plot->x + plot->scale * z_m;
}

/* Where eye and bosses end, through a diagram. */
static void
draw_edges(const struct plot *plot, double top, double bottom)
{
    const double z_m[] = {plot->beam->eye_m / 2.0, inner_m(plot->beam), outer_m(plot->beam)};

    for (size_t i = 0; i < 3; i++) {
        svg_line(plot->out, at(plot, z_m[i]), top, at(plot, z_m[i]), bottom, SVG_INK_FINE);
        svg_line(plot->out, at(plot, -z_m[i]), top, at(plot, -z_m[i]), bottom, SVG_INK_FINE);
    }
}

/* A uniform load from z1 to z2 that pushes the pin toward `toward` (+1 down
 * the paper): a block with arrows that end on the pin. */
static void
draw_block(const struct plot *plot, double z1_m, double z2_m, double zero, double high, double toward)
{
    const double x1 = at(plot, z1_m), x2 = at(plot, z2_m), far = zero - toward * high;
    const double wanted = fmin(floor((x2 - x1) / arrow_apart), ARROWS_MAX);
    const int count = wanted < 1.0 ? 1 : (int)wanted;

    svg_rect(plot->out, x1, far, x2, zero, SVG_INK_THIN, SVG_FILL_SHADE);
    for (int i = 0; i < count; i++) {
        const double x = x1 + (x2 - x1) * (i + 0.5) / count;

        svg_line(plot->out, x, far, x, zero, SVG_INK_THIN);
        svg_arrow_head(plot->out, x, zero, 0.0, toward, SVG_FILL_INK);
    }
}

/* A pressure beside its block, if there is room for it. */
static void
write_pressure(const struct plot *plot, const struct result_value *pressure, double x, double room, double y,
               enum unit_system system)
{
    char number[NUMBER_SIZE];

    if (pressure->known) {
        quantity_write(number, sizeof number, pressure->si, DIMENSION_PRESSURE, system);
        if (svg_text_width(&svg_plain, number) <= room) {
            svg_text(plot->out, x, y, SVG_MIDDLE, &svg_plain, number);
        }
    }
}

static void
draw_load(const struct plot *plot, const struct sketch *sketch, double zero)
{
    const struct sketch_beam *beam = plot->beam;
    const struct result_value *result = sketch->report->result;
    const double boss_N_m = beam->force_N / 2.0 / beam->bearing_m, eye_N_m = beam->force_N / beam->eye_m;
    const double most_N_m = fmax(boss_N_m, eye_N_m), inner = inner_m(beam), outer = outer_m(beam);
    const double boss_high = block_high * boss_N_m / most_N_m, eye_high = block_high * eye_N_m / most_N_m;
    const double boss_text = zero + (plot->up < 0.0 ? 12.0 : -5.0), eye_text = zero + (plot->up < 0.0 ? -5.0 : 12.0);
    const double free_m = outer - beam->eye_m / 2.0; /* beside the eye's block */

    draw_edges(plot, zero - load_half, zero + load_half);
    draw_block(plot, -outer, -inner, zero, boss_high, -plot->up);
    draw_block(plot, inner, outer, zero, boss_high, -plot->up);
    draw_block(plot, -beam->eye_m / 2.0, beam->eye_m / 2.0, zero, eye_high, plot->up);
    svg_line(plot->out, plot->x - half_width, zero, plot->x + half_width, zero, SVG_INK_OUTLINE);
    write_pressure(plot, &result[RESULT_strength_boss_pressure], at(plot, -(inner + outer) / 2.0), plot->scale * free_m,
                   boss_text, sketch->job->units);
    write_pressure(plot, &result[RESULT_strength_boss_pressure], at(plot, (inner + outer) / 2.0), plot->scale * free_m,
                   boss_text, sketch->job->units);
    write_pressure(plot, &result[RESULT_strength_eye_pressure], plot->x, plot->scale * 2.0 * inner - 4.0, eye_text,
                   sketch->job->units);
}

/*
 * The curve is made of two parabolas, two straight lines and a parabola: each
 * parabola is drawn exactly, by its ends and where its end tangents meet. Those
 * of a boss meet on the zero line under its middle, those of the eye over the
 * middle of the pin, at the moment of concentrated loads.
 */
static void
draw_moment(const struct plot *plot, double zero)
{
    const struct sketch_beam *beam = plot->beam;
    const double most_Nm = sketch_beam_moment_Nm(beam, 0.0), inner = inner_m(beam), outer = outer_m(beam);
    const double scale = plot->up * moment_high / most_Nm, half = beam->eye_m / 2.0;
    const double boss = scale * sketch_beam_moment_Nm(beam, inner), eye = scale * sketch_beam_moment_Nm(beam, half);
    const double tip = eye + scale * beam->force_N / 2.0 * half, middle = (inner + outer) / 2.0;

    draw_edges(plot, zero, zero + plot->up * moment_high);
    svg_path_begin(plot->out, SVG_INK_OUTLINE, SVG_FILL_SHADE);
    svg_path_move(plot->out, at(plot, -outer), zero);
    svg_path_parabola(plot->out, at(plot, -middle), zero, at(plot, -inner), zero + boss);
    svg_path_line(plot->out, at(plot, -half), zero + eye);
    svg_path_parabola(plot->out, plot->x, zero + tip, at(plot, half), zero + eye);
    svg_path_line(plot->out, at(plot, inner), zero + boss);
    svg_path_parabola(plot->out, at(plot, middle), zero, at(plot, outer), zero);
    svg_path_end(plot->out, true);
    svg_line(plot->out, plot->x - half_width, zero, plot->x + half_width, zero, SVG_INK_OUTLINE);
    svg_text(plot->out, plot->x - half_width - 4.0, zero + 4.0, SVG_END, &svg_plain, "0");
    svg_ellipse(plot->out, plot->x, zero + scale * most_Nm, 2.4, 2.4, SVG_INK_NONE, SVG_FILL_INK);
}

static double
write_load_words(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct sketch_beam *beam = &sketch->joint.beam;
    char force[NUMBER_SIZE], sentence[SENTENCE_SIZE];

    quantity_write(force, sizeof force, beam->force_N, DIMENSION_FORCE, sketch->job->units);
    snprintf(sentence, sizeof sentence, "Load on the pin: %s, half in each boss%s", force,
             sketch->axis.shortened ? " (scale of its own)" : "");
    return picture_paragraph(out, PICTURE_LEFT, SKETCH_SECTION_RIGHT, top, &svg_bold, sentence);
}

static double
write_moment_words(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct result_value *low = &sketch->report->result[RESULT_strength_bending_moment_low];
    const struct result_value *high = &sketch->report->result[RESULT_strength_bending_moment_high];
    const enum unit_system system = sketch->job->units;
    char most[NUMBER_SIZE], sentence[SENTENCE_SIZE], a[NUMBER_SIZE], b[NUMBER_SIZE];
    double y;

    quantity_write(most, sizeof most, sketch_beam_moment_Nm(&sketch->joint.beam, 0.0), DIMENSION_TORQUE, system);
    snprintf(sentence, sizeof sentence, "Bending moment: greatest at mid-length, %s", most);
    y = picture_paragraph(out, PICTURE_LEFT, SKETCH_SECTION_RIGHT, top, &svg_bold, sentence);
    if (low->known && high->known) {
        quantity_write(a, sizeof a, low->si, DIMENSION_TORQUE, system);
        quantity_write(b, sizeof b, high->si, DIMENSION_TORQUE, system);
        snprintf(sentence, sizeof sentence, "(%s if the load crowds the edges, %s if it stands on points)", a, b);
        y = picture_paragraph(out, PICTURE_LEFT, SKETCH_SECTION_RIGHT, y, &svg_plain, sentence);
    }
    return y;
}

double
sketch_moment_write(struct buffer *out, const struct sketch *sketch, double top)
{
    const struct sketch_beam *beam = &sketch->joint.beam;
    const bool own_scale = sketch->axis.shortened;
    double y = top;

    if (!sketch->joint.load_known) {
        return top;
    }
    const struct plot plot = {
        .out = out,
        .beam = beam,
        .x = sketch->axis.x,
        .scale = own_scale ? half_width / outer_m(beam) : sketch->axis.scale * sketch->axis.lengthened,
        .up = beam->pulls ? 1.0 : -1.0,
    };

    y = write_load_words(out, sketch, y) + 4.0;
    if (out != NULL) {
        draw_load(&plot, sketch, y + load_half);
    }
    y += 2.0 * load_half + 8.0;
    y = write_moment_words(out, sketch, y) + 6.0;
    if (out != NULL) {
        draw_moment(&plot, beam->pulls ? y : y + moment_high);
    }
    return y + moment_high + 8.0;
}

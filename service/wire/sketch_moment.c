#include "wire/sketch_view.h"

#include <math.h>

#include "base/text.h"
#include "quantity/quantity.h"

/* Heights of the two diagrams, the letters over each included. */
static const double load_high = 24.0, moment_high = 40.0, head = 18.0;

static double
outer_m(const struct sketch_beam *beam)
{
    return beam->eye_m / 2.0 + beam->gap_m + beam->bearing_m;
}

/* A load spread evenly from z to z, drawn with arrows that press on the pin:
 * from above + , from below -. */
static void
draw_load(struct buffer *out, const struct sketch_view *view, double z1_m, double z2_m, double zero, double high)
{
    enum { ARROWS = 5 };
    const double x1 = sketch_axis_x(&view->axis, z1_m), x2 = sketch_axis_x(&view->axis, z2_m);
    svg_rect(out, x1, zero, x2, zero - high, SVG_INK_THIN, SVG_FILL_NONE);
    for (int i = 0; i < ARROWS; i++) {
        const double x = x1 + (x2 - x1) * (i + 0.5) / ARROWS;
        svg_line(out, x, zero - high, x, zero, SVG_INK_FINE);
        svg_arrow_head(out, x, zero, 0.0, high, SVG_FILL_INK);
    }
}

static void
draw_loads(struct buffer *out, const struct sketch_view *view, double zero)
{
    const struct sketch_beam *beam = &view->joint->beam;
    const double eye = beam->force_N / beam->eye_m, boss = beam->force_N / 2.0 / beam->bearing_m;
    const double scale = load_high / fmax(eye, boss), half = beam->eye_m / 2.0, inner = half + beam->gap_m;
    draw_load(out, view, -half, half, zero, -fmax(9.0, scale * eye));
    draw_load(out, view, -inner - beam->bearing_m, -inner, zero, fmax(9.0, scale * boss));
    draw_load(out, view, inner, inner + beam->bearing_m, zero, fmax(9.0, scale * boss));
    svg_line(out, sketch_axis_x(&view->axis, -outer_m(beam)), zero, sketch_axis_x(&view->axis, outer_m(beam)), zero,
             SVG_INK_OUTLINE);
}

static void
draw_moment(struct buffer *out, const struct sketch_view *view, double zero)
{
    enum { STEPS = 80 };
    const struct sketch_beam *beam = &view->joint->beam;
    const double most = sketch_beam_moment_Nm(beam, 0.0), outer = outer_m(beam);
    struct svg_point point[STEPS + 1];
    for (int i = 0; i <= STEPS; i++) {
        const double z_m = outer * (2.0 * i / STEPS - 1.0);
        point[i].x = sketch_axis_x(&view->axis, z_m);
        point[i].y = zero + moment_high * (most > 0.0 ? sketch_beam_moment_Nm(beam, z_m) / most : 0.0);
    }
    svg_polyline(out, point, STEPS + 1, true, SVG_INK_OUTLINE, SVG_FILL_SHADE);
}

void
sketch_moment_draw(struct buffer *out, const struct sketch_view *view, double top)
{
    const struct sketch_beam *beam = &view->joint->beam;
    char number[QUANTITY_TEXT_SIZE], line[2 * QUANTITY_TEXT_SIZE];
    struct text text;
    quantity_write(number, sizeof number, beam->force_N, DIMENSION_FORCE, view->units);
    text_init(&text, line, sizeof line);
    text_format(&text, "load on the pin: %s", number);
    svg_text(out, view->axis.x, top + 12.0, SVG_MIDDLE, &svg_plain, line);
    draw_loads(out, view, top + head + load_high);
    const double zero = top + head + 2.0 * load_high + head;
    quantity_write(number, sizeof number, sketch_beam_moment_Nm(beam, 0.0), DIMENSION_TORQUE, view->units);
    text_init(&text, line, sizeof line);
    text_format(&text, "bending moment: at most %s", number);
    svg_text(out, view->axis.x, zero - 5.0, SVG_MIDDLE, &svg_plain, line);
    draw_moment(out, view, zero);
}

#include "wire/plot.h"

#include <math.h>
#include <stdio.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/message.h"
#include "wire/picture.h"
#include "wire/plot_panel.h"

#define DEGREES_PER_RAD 57.295779513082320877

/* Points of a curve that can be told apart on this paper. */
enum { POINTS_MAX = 361, WORDS_SIZE = 160, NUMBER_SIZE = 64, DESCRIPTION_SIZE = 2 * MESSAGE_SIZE };

static const char what[] = "Loads on the wrist pin over the cycle";

static const double apart = 10.0, left_edge = 76.0, pressure_high = 110.0, force_high = 220.0;

/* ---- the curves ---- */

enum curve { CURVE_PRESSURE, CURVE_GAS, CURVE_INERTIA, CURVE_PIN, CURVE_THRUST, CURVE_COUNT };

/* The forces: how each is drawn and called. */
static const struct {
    enum curve curve;
    enum svg_ink ink;
    const char *name;
} forces[] = {
    {CURVE_GAS, SVG_INK_LONG, "gas"},
    {CURVE_INERTIA, SVG_INK_DOTTED, "inertia"},
    {CURVE_THRUST, SVG_INK_DASH_DOT, "side thrust"},
    {CURVE_PIN, SVG_INK_HEAVY, "load on the pin"},
};
enum { FORCES = sizeof forces / sizeof forces[0] };

struct plot {
    const struct job *job;
    const struct report *report;
    const struct report_curves *curves;
    bool inertia_known;
    size_t least[CURVE_COUNT], greatest[CURVE_COUNT]; /* where each curve is so */
    struct plot_panel pressure, force;
};

static double
value_of(const struct trace_point *point, enum curve curve)
{
    switch (curve) {
    case CURVE_PRESSURE:
        return point->cylinder_pressure_Pa;
    case CURVE_GAS:
        return point->gas_force_N;
    case CURVE_INERTIA:
        return point->inertia_force_N;
    case CURVE_PIN:
        return point->pin_load_N;
    case CURVE_THRUST:
    case CURVE_COUNT:
        break;
    }
    return point->side_thrust_N;
}

static const struct unit *
unit_for(const struct plot *plot, enum curve curve)
{
    return unit_of(curve == CURVE_PRESSURE ? DIMENSION_PRESSURE : DIMENSION_FORCE, plot->job->units);
}

static double
shown(const struct plot *plot, size_t index, enum curve curve)
{
    return unit_from_si(unit_for(plot, curve), value_of(&plot->curves->point[index], curve));
}

static double
angle_deg(const struct plot *plot, size_t index)
{
    return plot->curves->point[index].crank_angle_rad * DEGREES_PER_RAD;
}

static void
find_extremes(struct plot *plot, enum curve curve)
{
    const struct unit *const unit = unit_for(plot, curve);
    double least = shown(plot, 0, curve), greatest = least;

    plot->least[curve] = plot->greatest[curve] = 0;
    for (size_t i = 1; i < plot->curves->count; i++) {
        const double value = unit_from_si(unit, value_of(&plot->curves->point[i], curve));

        if (value < least) {
            least = value;
            plot->least[curve] = i;
        }
        if (value > greatest) {
            greatest = value;
            plot->greatest[curve] = i;
        }
    }
}

static double
shown_extreme(const struct plot *plot, enum curve curve, bool greatest)
{
    return shown(plot, greatest ? plot->greatest[curve] : plot->least[curve], curve);
}

/* Without a speed the gas alone loads the pin: one curve says it. */
static bool
is_drawn(const struct plot *plot, enum curve curve)
{
    return plot->inertia_known || (curve != CURVE_GAS && curve != CURVE_INERTIA);
}

static void
fit(struct plot *plot)
{
    const bool two_stroke = plot->job->engine.cycle == CHOICE_cycle_TWO_STROKE;
    double least = 0.0, most = 0.0;

    plot->pressure.left = plot->force.left = left_edge;
    plot->pressure.right = plot->force.right = PICTURE_RIGHT - 6.0;
    plot->pressure.angle_end = plot->force.angle_end = two_stroke ? 360.0 : 720.0;
    for (int curve = 0; curve < CURVE_COUNT; curve++) {
        find_extremes(plot, (enum curve)curve);
    }
    plot_panel_fit(&plot->pressure, shown_extreme(plot, CURVE_PRESSURE, false),
                   shown_extreme(plot, CURVE_PRESSURE, true));
    for (size_t i = 0; i < FORCES; i++) {
        if (is_drawn(plot, forces[i].curve)) {
            least = fmin(least, shown_extreme(plot, forces[i].curve, false));
            most = fmax(most, shown_extreme(plot, forces[i].curve, true));
        }
    }
    plot_panel_fit(&plot->force, least, most);
}

/* The curve once round, closed by its beginning at the end of the cycle. */
static void
draw_curve(struct buffer *out, const struct plot *plot, const struct plot_panel *panel, enum curve curve,
           enum svg_ink ink)
{
    const size_t count = plot->curves->count, stride = (count + POINTS_MAX - 1) / POINTS_MAX;
    const struct unit *const unit = unit_for(plot, curve);

    svg_path_begin(out, ink, SVG_FILL_NONE);
    for (size_t i = 0; i < count; i += stride) {
        const double value = unit_from_si(unit, value_of(&plot->curves->point[i], curve));
        const double x = plot_panel_x(panel, angle_deg(plot, i)), y = plot_panel_y(panel, value);

        if (i == 0) {
            svg_path_move(out, x, y);
        } else {
            svg_path_line(out, x, y);
        }
    }
    svg_path_line(out, panel->right, plot_panel_y(panel, shown(plot, 0, curve)));
    svg_path_end(out, false);
}

/* ---- words ---- */

/* "greatest 5752 lbf at 21 deg": as computed exactly, else off the curve. */
static void
extreme_words(char *buffer, size_t capacity, const struct plot *plot, enum curve curve, bool greatest,
              enum result exact)
{
    const size_t index = greatest ? plot->greatest[curve] : plot->least[curve];
    const struct result_value *result = &plot->report->result[exact];
    char number[NUMBER_SIZE];

    quantity_write(number, sizeof number, result->known ? result->si : value_of(&plot->curves->point[index], curve),
                   curve == CURVE_PRESSURE ? DIMENSION_PRESSURE : DIMENSION_FORCE, plot->job->units);
    snprintf(buffer, capacity, "%s %s at %.0f deg", greatest ? "greatest" : "least", number, angle_deg(plot, index));
}

static void
label_extreme(struct buffer *out, const struct plot *plot, const struct plot_panel *panel, enum curve curve,
              bool greatest, enum result exact)
{
    const size_t index = greatest ? plot->greatest[curve] : plot->least[curve];
    char words[WORDS_SIZE];

    extreme_words(words, sizeof words, plot, curve, greatest, exact);
    plot_panel_label(out, panel, angle_deg(plot, index), shown(plot, index, curve), greatest, words);
}

/* Names of the strokes over the panel. */
static void
draw_strokes(struct buffer *out, const struct plot *plot, double base)
{
    static const char *const four[] = {"expansion", "exhaust", "suction", "compression"};
    static const char *const two[] = {"expansion", "compression"};
    const size_t count = plot->force.angle_end > 360.0 ? 4 : 2;

    for (size_t i = 0; i < count; i++) {
        svg_text(out, plot_panel_x(&plot->pressure, 180.0 * ((double)i + 0.5)), base, SVG_MIDDLE, &svg_plain,
                 count == 4 ? four[i] : two[i]);
    }
}

static void
draw_legend(struct buffer *out, const struct plot *plot, double base)
{
    static const double sample = 34.0, pitch = 126.0;
    double x = left_edge;

    for (size_t i = 0; i < FORCES; i++) {
        if (is_drawn(plot, forces[i].curve)) {
            svg_line(out, x, base - 4.0, x + sample, base - 4.0, forces[i].ink);
            svg_text(out, x + sample + 5.0, base, SVG_START, &svg_plain, forces[i].name);
            x += pitch;
        }
    }
}

static void
panel_title(struct buffer *out, const struct plot *plot, enum curve curve, double base)
{
    char words[WORDS_SIZE];

    snprintf(words, sizeof words, "%s, %s%s", curve == CURVE_PRESSURE ? "Cylinder pressure, gauge" : "Forces",
             unit_for(plot, curve)->symbol, curve == CURVE_PRESSURE ? "" : "; + toward the crank");
    svg_text(out, PICTURE_LEFT, base, SVG_START, &svg_bold, words);
}

/* ---- the picture ---- */

/* Both panels from `top` downward; returns where they end. */
static double
write_panels(struct buffer *out, struct plot *plot, double top)
{
    double y = top + 12.0;

    if (out != NULL) {
        panel_title(out, plot, CURVE_PRESSURE, y);
        draw_strokes(out, plot, y + 16.0);
    }
    plot->pressure.top = y + 22.0;
    plot->pressure.bottom = plot->pressure.top + pressure_high;
    y = plot->pressure.bottom + 26.0;
    if (out != NULL) {
        plot_panel_draw(out, &plot->pressure, false);
        draw_curve(out, plot, &plot->pressure, CURVE_PRESSURE, SVG_INK_HEAVY);
        label_extreme(out, plot, &plot->pressure, CURVE_PRESSURE, true, RESULT_load_peak_pressure);
        panel_title(out, plot, CURVE_PIN, y);
        draw_legend(out, plot, y + 17.0);
    }
    plot->force.top = y + 26.0;
    plot->force.bottom = plot->force.top + force_high;
    if (out != NULL) {
        plot_panel_draw(out, &plot->force, true);
        for (size_t i = 0; i < FORCES; i++) {
            if (is_drawn(plot, forces[i].curve)) {
                draw_curve(out, plot, &plot->force, forces[i].curve, forces[i].ink);
            }
        }
        label_extreme(out, plot, &plot->force, CURVE_PIN, true, RESULT_load_pin_load_max);
        if (plot->inertia_known) {
            label_extreme(out, plot, &plot->force, CURVE_PIN, false, RESULT_load_pin_load_min);
        }
        svg_text(out, (plot->force.left + plot->force.right) / 2.0, plot->force.bottom + 30.0, SVG_MIDDLE, &svg_plain,
                 "angle of the crank from the firing dead center, deg");
    }
    return plot->force.bottom + 36.0;
}

static double
write_missing(struct buffer *out, double top)
{
    static const char hint[] = "There are no curves to draw yet. Give the cylinder's bore (engine.bore), the stroke "
                               "(engine.stroke) and one of engine.peak_pressure, engine.compression_pressure and "
                               "engine.compression_ratio; with engine.speed the inertia comes in.";

    return picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT, top, &svg_plain, hint);
}

static double
write_all(struct buffer *out, struct plot *plot)
{
    double y = picture_label(out, plot->job, what, apart);

    y = picture_verdict(out, plot->job, plot->report, y) + apart;
    if (plot->curves->count < 2) {
        y = write_missing(out, y) + apart;
    } else {
        y = write_panels(out, plot, y) + apart;
        if (!plot->inertia_known) {
            y = picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT, y, &svg_plain,
                                  "No speed is given, so the gas alone loads the pin.") +
                apart;
        }
    }
    return picture_cautions(out, plot->report, y) + apart;
}

static void
describe(struct text *text, const struct plot *plot)
{
    struct message_text summary;
    char words[WORDS_SIZE];

    message_render(&summary, &plot->report->summary, plot->job->units);
    text_add(text, summary.at);
    if (plot->curves->count >= 2) {
        extreme_words(words, sizeof words, plot, CURVE_PRESSURE, true, RESULT_load_peak_pressure);
        text_format(text, " Cylinder pressure: %s.", words);
        extreme_words(words, sizeof words, plot, CURVE_PIN, true, RESULT_load_pin_load_max);
        text_format(text, " Load on the pin: %s;", words);
        extreme_words(words, sizeof words, plot, CURVE_PIN, false, RESULT_load_pin_load_min);
        text_format(text, " %s.", words);
    }
}

void
plot_write(struct buffer *out, const struct job *job, const struct report *report, const struct report_curves *curves)
{
    struct plot plot = {.job = job,
                        .report = report,
                        .curves = curves,
                        .inertia_known = report->result[RESULT_load_inertia_force_tdc].known};
    char title[PICTURE_TITLE_SIZE], description[DESCRIPTION_SIZE];
    struct text text;

    if (curves->count >= 2) {
        fit(&plot);
    }
    text_init(&text, description, sizeof description);
    describe(&text, &plot);
    picture_title(title, sizeof title, what, job, report);
    svg_open(out, "plot", ceil(write_all(NULL, &plot)), title, description);
    write_all(out, &plot);
    svg_close(out);
}

#include "wire/plot.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/message.h"
#include "wire/svg.h"
#include "wire/svg_measure.h"
#include "wire/text_part.h"

/* Two panels under each other, one axis of crank angle. */
static const double left = 74.0, right = 588.0, first_top = 52.0, first_high = 110.0;
static const double second_top = 218.0, second_high = 180.0, margin = 12.0, line_high = 14.0;

enum { LINE_SIZE = 256, TICKS_MAX = 12, CURVES = 4 };

/* One curve: how to read it off a point, and how it is drawn. */
struct curve {
    const char *name;
    size_t offset; /* of its double within struct trace_point */
    enum svg_ink ink;
};

static const struct curve pressure_curve = {"cylinder pressure", offsetof(struct trace_point, cylinder_pressure_Pa),
                                            SVG_INK_HEAVY};
static const struct curve force_curves[CURVES] = {
    {"pin load", offsetof(struct trace_point, pin_load_N), SVG_INK_HEAVY},
    {"gas force", offsetof(struct trace_point, gas_force_N), SVG_INK_LONG},
    {"inertia force", offsetof(struct trace_point, inertia_force_N), SVG_INK_DASH_DOT},
    {"side thrust", offsetof(struct trace_point, side_thrust_N), SVG_INK_DOTTED},
};

/* A panel: the scale of its values, in the document's unit. */
struct panel {
    double top, high;
    const struct unit *unit;
    double low, step; /* value at the foot; from tick to tick */
    size_t ticks;
};

static double
value_of(const struct curve *curve, const struct trace_point *point)
{
    double value = 0.0;
    memcpy(&value, (const char *)point + curve->offset, sizeof value);
    return value;
}

/* 1, 2 or 5 times a power of ten: the least that parts `span` into `most`. */
static double
round_step(double span, int most)
{
    const double least = span / most;
    const double power = pow(10.0, floor(log10(least)));
    const double share = least / power;
    return power * (share <= 1.0 ? 1.0 : share <= 2.0 ? 2.0 : share <= 5.0 ? 5.0 : 10.0);
}

static void
scale_panel(struct panel *panel, const struct curve *curve, size_t curves, const struct report_curves *data)
{
    double low = 0.0, high = 0.0; /* the zero line is always shown */
    for (size_t c = 0; c < curves; c++) {
        for (size_t i = 0; i < data->count; i++) {
            const double value = unit_from_si(panel->unit, value_of(&curve[c], &data->point[i]));
            low = fmin(low, value);
            high = fmax(high, value);
        }
    }
    if (high - low <= 0.0) {
        high = low + 1.0;
    }
    panel->step = round_step(high - low, 6);
    panel->low = panel->step * floor(low / panel->step);
    panel->ticks = (size_t)ceil((high - panel->low) / panel->step - 1e-9);
    panel->ticks = panel->ticks < 1 ? 1 : panel->ticks > TICKS_MAX ? TICKS_MAX : panel->ticks;
}

static double
y_of(const struct panel *panel, double value)
{
    return panel->top + panel->high * (1.0 - (value - panel->low) / (panel->step * (double)panel->ticks));
}

static double
period_deg(const struct job *job)
{
    return job->engine.cycle == CHOICE_cycle_FOUR_STROKE ? 720.0 : 360.0;
}

static double
x_of(double share)
{
    return left + (right - left) * share;
}

/* ---- axes ---- */

static void
draw_values(struct buffer *out, const struct panel *panel, const char *what)
{
    char label[LINE_SIZE];
    struct text text;
    for (size_t i = 0; i <= panel->ticks; i++) {
        const double value = panel->low + panel->step * (double)i, y = y_of(panel, value);
        svg_line(out, left, y, right, y, fabs(value) < panel->step * 1e-6 ? SVG_INK_THIN : SVG_INK_FINE);
        snprintf(label, sizeof label, "%.6g", fabs(value) < panel->step * 1e-6 ? 0.0 : value);
        svg_text(out, left - 5.0, y + 4.0, SVG_END, &svg_plain, label);
    }
    text_init(&text, label, sizeof label);
    text_format(&text, "%s, %s", what, panel->unit->symbol);
    svg_text(out, left, panel->top - 7.0, SVG_START, &svg_bold, label);
}

static void
draw_angles(struct buffer *out, const struct panel *panel, double period, bool named)
{
    for (double angle = 0.0; angle <= period; angle += 90.0) {
        const double x = x_of(angle / period);
        char label[16];
        svg_line(out, x, panel->top, x, panel->top + panel->high, SVG_INK_FINE);
        snprintf(label, sizeof label, "%.0f", angle);
        if (named) {
            svg_text(out, x, panel->top + panel->high + 14.0, angle < period ? SVG_MIDDLE : SVG_END, &svg_plain, label);
        }
    }
}

static void
draw_curve(struct buffer *out, const struct panel *panel, const struct curve *curve, const struct report_curves *data)
{
    svg_path_begin(out, curve->ink, SVG_FILL_NONE);
    for (size_t i = 0; i <= data->count; i++) { /* the end is the beginning again */
        const double value = unit_from_si(panel->unit, value_of(curve, &data->point[i % data->count]));
        const double x = x_of((double)i / (double)data->count), y = y_of(panel, value);
        if (i == 0) {
            svg_path_move(out, x, y);
        } else {
            svg_path_line(out, x, y);
        }
    }
    svg_path_end(out, false);
}

static void
draw_legend(struct buffer *out, double y)
{
    double x = left;
    for (size_t i = 0; i < CURVES; i++) {
        svg_line(out, x, y - 4.0, x + 34.0, y - 4.0, force_curves[i].ink);
        svg_text(out, x + 40.0, y, SVG_START, &svg_plain, force_curves[i].name);
        x += 40.0 + svg_text_width(&svg_plain, force_curves[i].name) + 22.0;
    }
}

/* A dot at the greatest and at the least of a curve, with its value. */
static void
mark_ends(struct buffer *out, const struct panel *panel, const struct curve *curve, const struct report_curves *data,
          enum dimension dimension, enum unit_system system)
{
    size_t most = 0, least = 0;
    for (size_t i = 1; i < data->count; i++) {
        most = value_of(curve, &data->point[i]) > value_of(curve, &data->point[most]) ? i : most;
        least = value_of(curve, &data->point[i]) < value_of(curve, &data->point[least]) ? i : least;
    }
    for (int end = 0; end < 2; end++) {
        const size_t at = end == 0 ? most : least;
        const double si = value_of(curve, &data->point[at]), x = x_of((double)at / (double)data->count);
        const double y = y_of(panel, unit_from_si(panel->unit, si));
        char number[QUANTITY_TEXT_SIZE];
        quantity_write(number, sizeof number, si, dimension, system);
        svg_ellipse(out, x, y, 3.5, 3.5, SVG_INK_NONE, SVG_FILL_MARK);
        const bool to_left = x > (left + right) / 2.0;
        const double base = end == 1 || y < panel->top + 12.0 ? y + 14.0 : y - 6.0;
        svg_text(out, to_left ? x - 7.0 : x + 7.0, base, to_left ? SVG_END : SVG_START, &svg_marked, number);
    }
}

/* ---- the picture ---- */

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

static void
open_picture(struct buffer *out, double top, const struct job *job, const struct report *report)
{
    char title[LINE_SIZE], shown[LINE_SIZE];
    struct message_text summary;
    struct text text;
    double height = top + margin;
    for (size_t i = 0; i < report->caution_count; i++) {
        height += lines_high(report->caution[i]) + 2.0;
    }
    text_init(&text, title, sizeof title);
    text_format(&text, "Load on the pin over the cycle%s", job->label[0] != '\0' ? ": " : "");
    text_add(&text, job->label);
    message_render(&summary, &report->summary, job->units);
    svg_open(out, "cycle", ceil(height), title, summary.at);
    svg_text_cut(shown, sizeof shown, &svg_title, title, SVG_WIDTH - 2.0 * margin);
    svg_text(out, margin, 20.0, SVG_START, &svg_title, shown);
}

static void
close_picture(struct buffer *out, double top, const struct report *report)
{
    for (size_t i = 0; i < report->caution_count; i++) {
        top = draw_lines(out, top, &svg_plain, report->caution[i]) + 2.0;
    }
    svg_close(out);
}

static void
draw_panels(struct buffer *out, const struct job *job, const struct report_curves *curves)
{
    struct panel pressure = {.top = first_top, .high = first_high, .unit = unit_of(DIMENSION_PRESSURE, job->units)};
    struct panel force = {.top = second_top, .high = second_high, .unit = unit_of(DIMENSION_FORCE, job->units)};
    scale_panel(&pressure, &pressure_curve, 1, curves);
    scale_panel(&force, force_curves, CURVES, curves);
    draw_angles(out, &pressure, period_deg(job), false);
    draw_angles(out, &force, period_deg(job), true);
    draw_values(out, &pressure, "Cylinder pressure, gauge");
    draw_values(out, &force, "Forces, + toward the crank");
    draw_curve(out, &pressure, &pressure_curve, curves);
    for (size_t i = CURVES; i-- > 0;) {
        draw_curve(out, &force, &force_curves[i], curves);
    }
    mark_ends(out, &force, &force_curves[0], curves, DIMENSION_FORCE, job->units);
    svg_text(out, (left + right) / 2.0, second_top + second_high + 30.0, SVG_MIDDLE, &svg_plain,
             "crank angle from the firing dead center, deg");
    draw_legend(out, second_top + second_high + 50.0);
}

void
plot_write(struct buffer *out, const struct job *job, const struct report *report, const struct report_curves *curves)
{
    if (curves->count == 0) {
        static const char words[] = "There are no curves yet: they need the bore and stroke of the engine and its peak "
                                    "pressure, or the compression pressure or ratio from which it can be estimated.";
        const double top = 30.0 + lines_high(words) + 10.0;
        open_picture(out, top, job, report);
        draw_lines(out, 30.0, &svg_bold, words);
        close_picture(out, top, report);
        return;
    }
    const double below = second_top + second_high + 62.0;
    open_picture(out, below, job, report);
    draw_panels(out, job, curves);
    close_picture(out, below, report);
}

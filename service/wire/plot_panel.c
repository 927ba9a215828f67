#include "wire/plot_panel.h"

#include <math.h>
#include <stdio.h>

#include "wire/svg_measure.h"

/* Degrees between the figures on the angle's axis. */
enum { ANGLE_STEP = 90 };

/* Ticks wanted at most, and the room left for labels as a share of the range. */
static const double ticks_wanted = 6.0, room_share = 0.1;

/* The least of 1, 2, 5 times a power of ten that is at least `wanted` > 0. */
static double
round_step(double wanted)
{
    const double power = pow(10.0, floor(log10(wanted))), share = wanted / power;

    return power * (share <= 1.0 ? 1.0 : share <= 2.0 ? 2.0 : share <= 5.0 ? 5.0 : 10.0);
}

void
plot_panel_fit(struct plot_panel *panel, double least, double most)
{
    const double low = fmin(least, 0.0), high = fmax(most, 0.0);
    const double range = high > low ? high - low : 1.0;

    panel->step = round_step((1.0 + 2.0 * room_share) * range / ticks_wanted);
    panel->low = panel->step * floor((low < 0.0 ? low - room_share * range : 0.0) / panel->step);
    panel->high = panel->step * ceil((high > 0.0 ? high + room_share * range : 0.0) / panel->step);
    if (!(panel->high > panel->low)) {
        panel->high = panel->low + panel->step;
    }
    panel->decimals = panel->step < 1.0 ? (int)ceil(-log10(panel->step) - 1e-9) : 0;
}

double
plot_panel_x(const struct plot_panel *panel, double angle_deg)
{
    return panel->left + (panel->right - panel->left) * angle_deg / panel->angle_end;
}

double
plot_panel_y(const struct plot_panel *panel, double value)
{
    return panel->bottom - (panel->bottom - panel->top) * (value - panel->low) / (panel->high - panel->low);
}

static void
draw_values(struct buffer *out, const struct plot_panel *panel)
{
    const long first = lround(panel->low / panel->step), last = lround(panel->high / panel->step);
    char figure[64];

    for (long i = first; i <= last && i <= first + 40; i++) {
        const double y = plot_panel_y(panel, (double)i * panel->step);

        svg_line(out, panel->left, y, panel->right, y, i == 0 ? SVG_INK_OUTLINE : SVG_INK_FINE);
        snprintf(figure, sizeof figure, "%.*f", panel->decimals, (double)i * panel->step);
        svg_text(out, panel->left - 5.0, y + 4.0, SVG_END, &svg_plain, figure);
    }
}

void
plot_panel_draw(struct buffer *out, const struct plot_panel *panel, bool angles)
{
    char figure[32];

    draw_values(out, panel);
    for (int angle = 0; angle <= (int)panel->angle_end; angle += ANGLE_STEP) {
        const double x = plot_panel_x(panel, angle);

        svg_line(out, x, panel->top, x, panel->bottom, SVG_INK_FINE);
        if (angles) {
            snprintf(figure, sizeof figure, "%d", angle);
            svg_text(out, x, panel->bottom + 14.0, SVG_MIDDLE, &svg_plain, figure);
        }
    }
    svg_line(out, panel->left, panel->top, panel->left, panel->bottom, SVG_INK_THIN);
}

void
plot_panel_label(struct buffer *out, const struct plot_panel *panel, double angle_deg, double value, bool above,
                 const char *words)
{
    const double x = plot_panel_x(panel, angle_deg), y = plot_panel_y(panel, value);
    const double width = svg_text_width(&svg_bold, words);
    const double left = fmax(panel->left + 4.0, fmin(x + 16.0, panel->right - width - 2.0));
    const double base = above ? fmax(y - 6.0, panel->top + 10.0) : fmin(y + 14.0, panel->bottom - 3.0);

    svg_rect(out, left - 2.0, base - 10.0, left + width, base + 3.0, SVG_INK_NONE, SVG_FILL_PAPER);
    svg_text(out, left, base, SVG_START, &svg_bold, words);
    svg_ellipse(out, x, y, 3.0, 3.0, SVG_INK_NONE, SVG_FILL_INK);
}
